//! The whole hull as it is so far: its stations one behind the other, from above, and from the side.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::section;
use crate::geometry::{Form, Spot};
use crate::plan::{Measurement, Tape};
use crate::tui::app::Look;
use crate::tui::canvas::Canvas;
use crate::tui::cells::Brush;
use crate::tui::layer::Interview;
use crate::tui::theme::Role;
use crate::tui::view::Window;

/// Free columns at both ends.
const MARGIN: f64 = 2.0;
/// How much heights may be drawn larger than lengths from the side.
const STRETCH: f64 = 3.0;

/// How much breadths are drawn larger than lengths from above, in the small picture: a step of a reading shows.
const BROADER: f64 = 1.5;

/// How much of a station was measured.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Known {
    Guessed,
    Measured,
    Here,
}

impl Known {
    fn of(interview: &Interview, number: usize) -> Self {
        let tape = &interview.trial().tape;
        let measured = Measurement::of_station(number)
            .into_iter()
            .any(|what| tape.gauge(what).is_some_and(|gauge| gauge.is_measured()));
        match interview.row().station() {
            Some(here) if here == number => Self::Here,
            _ if measured => Self::Measured,
            _ => Self::Guessed,
        }
    }

    fn role(self) -> Role {
        match self {
            Self::Guessed => Role::Seam,
            Self::Measured => Role::Rim,
            Self::Here => Role::Selected,
        }
    }
}

/// The stations one behind the other: the aft half at the left, the fore half at the right.
pub(super) fn sections(look: &Look, interview: &Interview, area: Rect, buffer: &mut Buffer) {
    let (form, tape) = (&interview.trial().hull.form, &interview.trial().tape);
    if area.is_empty() || form.sections.is_empty() {
        return;
    }
    let wide = form.sections.iter().map(section::half).fold(1.0, f64::max);
    let high = form.sections.iter().map(|section| section.gunwale().1).fold(1.0, f64::max);
    let (columns, rows) = (f64::from(area.width) - 2.0 * MARGIN, f64::from(area.height));
    let mm = (2.0 * wide / columns.max(1.0)).max(high / rows.max(1.0) / 2.0);
    let middle = Spot::new(0.0, rows * mm);
    let mut canvas = Canvas::new(Window { area, middle, mm_per_column: mm, mm_per_row: 2.0 * mm });
    canvas.line(Spot::new(0.0, 0.0), Spot::new(0.0, high), Role::Seam);
    let length = form.length();
    let mut order: Vec<(usize, Known)> =
        (0..tape.stations.len()).map(|number| (number, Known::of(interview, number))).collect();
    order.sort_by_key(|(_, known)| *known as u8);
    for (number, known) in order {
        let x = tape.stations[number].x.to_mm();
        let Some(section) = section::at(form, x) else { continue };
        let sides: &[f64] = if (x - length / 2.0).abs() < length / 100.0 {
            &[-1.0, 1.0]
        } else if x < length / 2.0 {
            &[-1.0]
        } else {
            &[1.0]
        };
        for side in sides {
            section::half_skin(&mut canvas, section, known.role(), *side);
        }
    }
    canvas.render(&Brush { theme: &look.theme, glyphs: look.glyphs }, buffer);
}

/// The boat from above with its stations.
pub(super) fn from_above(look: &Look, interview: &Interview, area: Rect, buffer: &mut Buffer) {
    let (form, tape) = (&interview.trial().hull.form, &interview.trial().tape);
    let Some(flat) = window_above(area, form) else { return };
    let least = 2.0 * form.half_beam() / (f64::from(area.height) - 1.0).max(1.0);
    let window = Window { mm_per_row: (flat.mm_per_row / BROADER).max(least), ..flat };
    let mut canvas = Canvas::new(window);
    paint_above(&mut canvas, form);
    bottom_edge(&mut canvas, tape);
    for (number, station) in tape.stations.iter().enumerate() {
        let x = station.x.to_mm();
        let Some((half, _)) = form.gunwale(x) else { continue };
        let half = (half - window.mm_per_row / 3.0).max(0.0);
        canvas.line(Spot::new(x, -half), Spot::new(x, half), Known::of(interview, number).role());
    }
    outline(&mut canvas, form);
    canvas.render(&Brush { theme: &look.theme, glyphs: look.glyphs }, buffer);
}

/// A window on the boat from above.
pub(super) fn window_above(area: Rect, form: &Form) -> Option<Window> {
    if area.is_empty() || form.sections.len() < 2 {
        return None;
    }
    let columns = (f64::from(area.width) - 2.0 * MARGIN).max(1.0);
    let rows = (f64::from(area.height) - 1.0).max(1.0);
    let mm = (form.length() / columns).max(form.half_beam() / rows).max(0.1);
    let (first, last) = (form.sections.first()?.x_mm, form.sections.last()?.x_mm);
    let middle = Spot::new(f64::midpoint(first, last), 0.0);
    Some(Window { area, middle, mm_per_column: mm, mm_per_row: 2.0 * mm })
}

/// The deck from above and its edge.
pub(super) fn paint_above(canvas: &mut Canvas, form: &Form) {
    let mask = canvas.polygon(&form.deck_outline());
    canvas.fill(&mask, Role::Shallow);
    canvas.rim(&mask, Role::Hull);
}

fn outline(canvas: &mut Canvas, form: &Form) {
    let mask = canvas.polygon(&form.deck_outline());
    canvas.rim(&mask, Role::Hull);
}

/// The edge of the flat bottom.
fn bottom_edge(canvas: &mut Canvas, tape: &Tape) {
    let spots: Vec<Spot> = tape
        .stations
        .iter()
        .filter_map(|station| Some(Spot::new(station.x.to_mm(), station.bottom_width.mm()? / 2.0)))
        .collect();
    for pair in spots.windows(2) {
        for side in [1.0, -1.0] {
            canvas.line(Spot::new(pair[0].x, pair[0].y * side), Spot::new(pair[1].x, pair[1].y * side), Role::Deck);
        }
    }
}

/// A window on the boat from the side: a row above for numbers, one below for a dimension.
pub(super) fn side_window(area: Rect, form: &Form) -> Option<Window> {
    let high = form.sections.iter().map(|section| section.gunwale().1).fold(1.0, f64::max);
    let flat = window_above(area, form)?;
    let mm_per_column = form.length() / (f64::from(area.width) - 2.0 * MARGIN).max(1.0);
    let rows = (f64::from(area.height) - 3.0).max(1.0);
    let mm_per_row = (high / rows).clamp(2.0 * mm_per_column / STRETCH, (2.0 * mm_per_column).max(high / rows));
    // The ground lies one and a half rows above the lower edge.
    let middle = Spot::new(flat.middle.x, (f64::from(area.height) / 2.0 - 1.5) * mm_per_row);
    Some(Window { area, middle, mm_per_column, mm_per_row })
}

/// The hull from the side on level ground, with its stations and their numbers.
pub(super) fn paint_side(canvas: &mut Canvas, form: &Form, interview: &Interview) {
    let rim = form.sections.iter().map(|section| Spot::new(section.x_mm, section.gunwale().1));
    let keel = form.sections.iter().rev().map(|section| Spot::new(section.x_mm, section.keel()));
    let mask = canvas.polygon(&crate::geometry::Polygon::new(rim.chain(keel).collect()));
    canvas.fill(&mask, Role::Shallow);
    let tape = &interview.trial().tape;
    let mut free = 0;
    for (number, station) in tape.stations.iter().enumerate() {
        let x = station.x.to_mm();
        let (Some((_, rim)), Some(keel)) = (form.gunwale(x), form.keel(x)) else { continue };
        let known = Known::of(interview, number);
        canvas.line(Spot::new(x, keel), Spot::new(x, rim), known.role());
        let column = canvas.window().place(Spot::new(x, 0.0)).0.floor() as i64;
        if column >= free {
            let role = if known == Known::Here { Role::Selected } else { Role::Dim };
            canvas.text(column, 0, &(number + 1).to_string(), role, known == Known::Here);
            free = column + 2;
        }
    }
    canvas.rim(&mask, Role::Hull);
    let (from, to) =
        (canvas.window().spot_at(0.0, 0.0).x, canvas.window().spot_at(f64::from(canvas.area().width), 0.0).x);
    section::ground(canvas, (from, to));
}
