//! The hull cut across at one place, standing on level ground.

use ratatui::layout::Rect;

use crate::geometry::{Form, Polygon, Section, Spot};
use crate::tui::canvas::Canvas;
use crate::tui::theme::Role;
use crate::tui::view::Window;

/// Columns kept at the right for upright dimensions and their figures, and at the left.
const RIGHT: f64 = 14.0;
const LEFT: f64 = 3.0;
/// Rows kept above, and from the ground to the lower edge.
const ABOVE: f64 = 0.5;
const BELOW: f64 = 0.5;
/// Narrower sections are not drawn larger, mm.
const LEAST_MM: f64 = 200.0;

/// The section nearest to a place.
pub(super) fn at(form: &Form, x: f64) -> Option<&Section> {
    form.sections.iter().min_by(|a, b| (a.x_mm - x).abs().total_cmp(&(b.x_mm - x).abs()))
}

/// Half the greatest width of a section, mm.
pub(super) fn half(section: &Section) -> f64 {
    section.points_mm.iter().map(|point| point.0).fold(0.0, f64::max)
}

/// A window on a section with room for dimensions around it, its middle at x = 0.
pub(super) fn window(area: Rect, section: &Section) -> Window {
    let (wide, high) = ((2.0 * half(section)).max(LEAST_MM), section.gunwale().1.max(LEAST_MM / 2.0));
    let columns = (f64::from(area.width) - RIGHT - LEFT).max(1.0);
    let rows = (f64::from(area.height) - ABOVE - BELOW).max(1.0);
    let mm = (wide / columns).max(high / rows / 2.0);
    // Spare rows are shared out above and below; the ground keeps to half a row.
    let spare = ((rows - high / mm / 2.0) / 2.0).floor();
    let middle = Spot::new((RIGHT - LEFT) / 2.0 * mm, (f64::from(area.height) / 2.0 - BELOW - spare) * 2.0 * mm);
    Window { area, middle, mm_per_column: mm, mm_per_row: 2.0 * mm }
}

/// Fills a section and draws its skin; the ground it stands on.
pub(super) fn paint(canvas: &mut Canvas, section: &Section) {
    let side = |sign: f64| section.points_mm.iter().map(move |point| Spot::new(point.0 * sign, point.1));
    let corners = side(1.0).chain(side(-1.0).rev()).collect();
    let mask = canvas.polygon(&Polygon::new(corners));
    canvas.fill(&mask, Role::Shallow);
    skin(canvas, section, Role::Hull);
    let reach = half(section).max(LEAST_MM / 2.0) + 3.0 * canvas.window().mm_per_column;
    ground(canvas, (-reach, reach));
}

/// Level ground, one pixel high: the hull stands on it, not in it.
pub(super) fn ground(canvas: &mut Canvas, (from, to): (f64, f64)) {
    let under = -canvas.window().mm_per_row / 2.0;
    let mask = canvas.polygon(&Polygon::rect(Spot::new(from, under), Spot::new(to, 0.0)));
    canvas.fill(&mask, Role::Rim);
}

/// The skin of a section, both sides.
pub(super) fn skin(canvas: &mut Canvas, section: &Section, role: Role) {
    half_skin(canvas, section, role, 1.0);
    half_skin(canvas, section, role, -1.0);
}

/// The skin of one side: 1 to the right, -1 to the left.
pub(super) fn half_skin(canvas: &mut Canvas, section: &Section, role: Role, sign: f64) {
    // Half a pixel up and inward: the line lies inside the hull.
    let (up, inward) = (canvas.window().mm_per_row / 8.0, canvas.window().mm_per_column / 8.0);
    let spot = |point: &(f64, f64)| Spot::new((point.0 - inward).max(0.0) * sign, point.1 + up);
    for pair in section.points_mm.windows(2) {
        canvas.line(spot(&pair[0]), spot(&pair[1]), role);
    }
}
