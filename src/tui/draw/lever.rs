//! The curve of righting levers: heel along, lever up.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::curve::{Plot, Words, axis};
use super::text;
use crate::geometry::Spot;
use crate::study::float::Afloat;
use crate::tui::app::App;
use crate::tui::theme::Role;

/// Heel at the right end, degrees.
const LAST_DEG: f64 = 60.0;
/// Figures under the plot, degrees.
const TICKS: [(f64, &str); 4] = [(0.0, "0"), (15.0, "15"), (30.0, "30"), (45.0, "45")];

/// Draws the curve of a case: its greatest lever, the heel at which it floods, the heel of leaning out.
pub(super) fn draw(app: &App, case: &Afloat, leaning_deg: Option<f64>, area: Rect, buffer: &mut Buffer) {
    let dim = app.look.theme.style(Role::Dim);
    let title = if area.width >= 14 { "righting lever" } else { "lever" };
    text::put(buffer, area, title, dim);
    let Some(greatest) = case.greatest_lever().filter(|_| area.height >= 4 && area.width >= 12) else { return };
    let field = Rect { y: area.y + 1, height: area.height - 2, ..area };
    let most = greatest.gz_mm.max(1.0);
    // What capsizes is shown as far down as what rights it goes up; above there is air for a figure.
    let least = case.gz.iter().map(|arm| arm.gz_mm).fold(0.0, f64::min).max(-most);
    let span = most - least;
    let mut plot = Plot::new(field, (0.0, LAST_DEG), (least - 0.08 * span, most + 0.4 * span));
    plot.level(0.0, Role::Seam);
    let floods = case.flooding.map(|first| first.heel_deg.abs());
    for (heel, role) in [(leaning_deg, Role::Rim), (floods, Role::Waterline)] {
        if let Some(heel) = heel.filter(|heel| *heel < LAST_DEG) {
            plot.upright(heel, role);
        }
    }
    plot.through(case.gz.iter().map(|arm| Spot::new(arm.heel_deg, arm.gz_mm)), Role::Hull);
    if greatest.gz_mm > 0.0 {
        let lever = app.look.tape.length(greatest.gz_mm);
        let words = format!("{lever} at {:.0} deg", greatest.heel_deg);
        let words = if text::width(&words) <= field.width { words } else { lever };
        let row = plot.above(Spot::new(greatest.heel_deg, greatest.gz_mm));
        plot.say(greatest.heel_deg, row, &words, Role::Text, Words::Over);
    }
    for (heel, word, role) in [(floods, "floods", Role::Waterline), (leaning_deg, "leaning", Role::Dim)] {
        if let Some(heel) = heel.filter(|heel| *heel < LAST_DEG) {
            plot.say_first((0..=plot.bottom()).rev(), heel, [word], role);
        }
    }
    plot.render(&app.look, buffer);
    let line = Rect { y: area.bottom() - 1, height: 1, ..area };
    axis(&app.look, line, TICKS.map(|(deg, words)| (deg / LAST_DEG, words)), "60 deg", buffer);
}
