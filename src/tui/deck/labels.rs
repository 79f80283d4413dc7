//! Letters on the picture: tags of gear where there is room, names of zones where nothing else is.

use unicode_width::UnicodeWidthStr;

use crate::geometry::Spot;
use crate::plan::{Gear, Level, Plan};
use crate::study::rig::RigItem;
use crate::tui::canvas::Canvas;
use crate::tui::theme::Role;

/// A tag waiting to be written.
#[derive(Clone, Debug)]
pub(super) struct Label {
    pub(super) text: String,
    /// Middle of the shape, and its corners.
    pub(super) middle: Spot,
    pub(super) low: Spot,
    pub(super) high: Spot,
    pub(super) role: Role,
    /// What the letters stand on where they cover an edge.
    pub(super) plate: Role,
    /// Whether it lies under other things.
    pub(super) inside: bool,
    pub(super) chosen: bool,
}

impl Label {
    /// The tag of a piece of gear.
    pub(super) fn of(gear: &Gear, item: &RigItem, chosen: bool, fill: Role) -> Self {
        let outline = item.solids.first().map_or(item.base, |s| s.outline);
        let (low, high) = outline.bounds();
        let inside = item.level != Level::Deck;
        let role = if inside && !chosen { Role::Dim } else { Role::Text };
        Self {
            text: gear.spec.tag.to_string(),
            middle: outline.middle(),
            low,
            high,
            role,
            plate: if inside { Role::Deck } else { fill },
            inside,
            chosen,
        }
    }
}

/// Writes tags: in the middle of the shape where they fit, else beside it, else not at all.
pub(super) fn write(canvas: &mut Canvas, labels: &mut [Label]) {
    // What is selected, then what is on deck, gets its place first.
    labels.sort_by_key(|label| (!label.chosen, label.inside));
    for label in labels {
        let wide = label.text.width();
        let (column, row) = canvas.window().place(label.middle);
        let (left, top) = canvas.window().place(Spot::new(label.low.x, label.high.y));
        let (right, bottom) = canvas.window().place(Spot::new(label.high.x, label.low.y));
        let row = row.floor() as i64;
        let centred = (column - wide as f64 / 2.0).round() as i64;
        let bold = label.chosen || !label.inside;
        let roomy = right - left >= wide as f64 + 0.9;
        if roomy && canvas.free(centred, row, wide, |role| role != Role::Face) {
            for cell in centred..centred + wide as i64 {
                canvas.tint(cell as u16, row as u16, label.plate, |role| role == Role::GearRim);
            }
            canvas.text(centred, row, &label.text, label.role, bold);
            continue;
        }
        let open = |role: Role| role <= Role::Lid || role == Role::Foam;
        let beside = [
            (right.ceil() as i64, row),
            (left.floor() as i64 - wide as i64, row),
            (centred, top.floor() as i64 - 1),
            (centred, bottom.ceil() as i64),
        ];
        if let Some((column, row)) = beside.into_iter().find(|&(c, r)| canvas.free(c, r, wide, open)) {
            canvas.text(column, row, &label.text, label.role, label.chosen);
        }
    }
}

/// Writes the name of each zone on a free run of its own ground.
pub(super) fn zone_names(canvas: &mut Canvas, plan: &Plan) {
    for zone in &plan.hull.zones {
        let name = zone.name.as_str();
        let wide = name.width() + 2;
        let (low, high) = zone.outline_mm.bounds();
        let (left, top) = canvas.window().place(Spot::new(low.x, high.y));
        let (right, bottom) = canvas.window().place(Spot::new(high.x, low.y));
        if right - left < wide as f64 || !(right.is_finite() && left.is_finite()) {
            continue;
        }
        let area = canvas.area();
        let within = |v: f64, most: u16| v.max(0.0).min(f64::from(most)) as i64;
        let (first, last) = (within(left, area.width), within(right, area.width) - wide as i64);
        let (middle_column, middle_row) =
            (i64::midpoint(first, last), i64::midpoint(within(top, area.height), within(bottom, area.height)));
        let mut places: Vec<_> = (within(top, area.height)..within(bottom, area.height))
            .flat_map(|row| (first..=last).map(move |column| (column, row)))
            .collect();
        places.sort_by_key(|&(c, r)| ((c - middle_column).abs() + 4 * (r - middle_row).abs(), c, r));
        let ground = |role: Role| (Role::Raised..=Role::OutOfReach).contains(&role);
        let on_zone = |canvas: &Canvas, column: i64, row: i64| {
            [0, wide as i64 - 1].iter().all(|&end| {
                let spot = canvas.window().spot_at((column + end) as f64 + 0.5, row as f64 + 0.5);
                plan.hull.zone_at(spot).is_some_and(|z| z.id == zone.id)
            })
        };
        let free = places.into_iter().find(|&(c, r)| canvas.free(c, r, wide, ground) && on_zone(canvas, c, r));
        if let Some((column, row)) = free {
            canvas.text(column + 1, row, name, Role::Dim, false);
        }
    }
}
