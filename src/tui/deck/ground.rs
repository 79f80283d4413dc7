//! The hull from above and what its deck is like: zones by their height, bands, water.

use crate::checks::Subject;
use crate::geometry::Spot;
use crate::plan::{Hull, Zone};
use crate::study::reach::Band;
use crate::tui::canvas::Canvas;
use crate::tui::scene::Scene;
use crate::tui::theme::Role;

/// The hull's line is never thinner than a real gunwale's lip, mm.
const LIP_MM: f64 = 22.0;

/// Paints water, deck, zones and the hull's line.
pub(super) fn paint(canvas: &mut Canvas, scene: &Scene<'_>) {
    let hull = &scene.plan.hull;
    let edge = Edge::of(canvas, hull);
    for (column, half) in edge.halves() {
        // Up to the middle of the line that will follow: no deck shows outside it.
        let half = (half - edge.thickness / 2.0).max(0.0);
        canvas.upright(column, -half, half, Role::Deck);
    }
    for zone in &hull.zones {
        paint_zone(canvas, hull, zone, scene);
    }
    wet(canvas, scene);
    if let Some(bands) = scene.overlays.bands.filter(|b| b.fit(canvas.window())) {
        let area = canvas.area();
        for row in 0..area.height {
            for column in 0..area.width {
                let tint = match bands.at(column, row) {
                    Some(Band::InHand) => Role::InHand,
                    Some(Band::AtStretch) => Role::AtStretch,
                    Some(Band::OutOfReach) => Role::OutOfReach,
                    None => continue,
                };
                canvas.tint(column, row, tint, |role| (Role::Raised..=Role::OutOfReach).contains(&role));
            }
        }
    }
    edge.draw(canvas);
}

/// A zone's tint follows its height under the gunwale: wells are dark.
fn paint_zone(canvas: &mut Canvas, hull: &Hull, zone: &Zone, scene: &Scene<'_>) {
    let mask = canvas.polygon(&zone.outline_mm);
    let height = zone.height.value.to_mm();
    let rim = hull.form.gunwale(zone.outline_mm.middle().x).map_or(height, |(_, z)| z);
    let role = match rim - height {
        down if down < -10.0 => Role::Raised,
        down if down < 50.0 => Role::Deck,
        down if down < 120.0 => Role::Shallow,
        _ => Role::Deep,
    };
    let on_deck = |role: Role| role != Role::Water;
    canvas.fill_where(&mask, role, on_deck);
    if scene.selected == Some(Subject::Zone(zone.id)) {
        canvas.rim_where(&mask, Role::Selected, on_deck);
    } else if zone.edge {
        canvas.rim_where(&mask, Role::Seam, on_deck);
    }
}

/// Floors on which water stands, always; with the water laid over, all deck that lies below it.
fn wet(canvas: &mut Canvas, scene: &Scene<'_>) {
    let (hull, levels) = (&scene.plan.hull, &scene.study.float.levels);
    let stands = |zone: &Zone| levels.floors.iter().any(|floor| floor.zone == zone.id && floor.height_mm < 0.0);
    for zone in hull.zones.iter().filter(|zone| scene.overlays.water || stands(zone)) {
        let height = zone.height.value.to_mm();
        // A trimmed boat is wet at one end of a floor only; what lies over this zone is not wet by it.
        let below = |spot: Spot| {
            levels.height(spot.at(height)) < 0.0 && hull.zone_at(spot).is_some_and(|on_top| on_top.id == zone.id)
        };
        let mask = canvas.kept(canvas.polygon(&zone.outline_mm), below);
        canvas.fill_where(&mask, Role::Wet, |role| role != Role::Water);
    }
}

/// The hull's line: half-breadths a column of pixels, and how thick the line is.
struct Edge {
    columns: Vec<(usize, f64)>,
    thickness: f64,
    /// Pixel columns of the transom that are all line.
    cap: usize,
}

impl Edge {
    fn of(canvas: &Canvas, hull: &Hull) -> Self {
        let columns = (0..canvas.columns())
            .filter_map(|column| Some((column, hull.form.gunwale(canvas.x_of(column))?.0)))
            .collect();
        let window = canvas.window();
        let thickness = (window.mm_per_row / 2.0 * 1.25).max(LIP_MM);
        Self { columns, thickness, cap: (thickness / (window.mm_per_column / 2.0)).round() as usize }
    }

    fn halves(&self) -> impl Iterator<Item = (usize, f64)> + '_ {
        self.columns.iter().copied()
    }

    /// The line follows the slope: as thick across itself where it runs aslant as where it runs
    /// along the boat.
    fn draw(&self, canvas: &mut Canvas) {
        let step = canvas.window().mm_per_column / 2.0;
        for (index, &(column, half)) in self.columns.iter().enumerate() {
            let before = self.columns.get(index.saturating_sub(1)).map_or(half, |c| c.1);
            let after = self.columns.get(index + 1).map_or(half, |c| c.1);
            let slope = (after - before) / (2.0 * step);
            let thick = self.thickness * (1.0 + slope * slope).sqrt();
            // The transom is closed; so is the bow, where both sides meet.
            let first = canvas.x_of(column) - step * (self.cap as f64) < 0.0;
            let inner = if first { -half } else { (half - thick).max(0.0) };
            canvas.upright(column, inner, half, Role::Hull);
            canvas.upright(column, -half, -inner, Role::Hull);
        }
    }
}
