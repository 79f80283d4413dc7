//! The day of a battery as a picture: charge and voltage over the hours, with the phases under them to scale.
//!
//! ```text
//! 100 %  charge, and when it is into its reserve, used up, flat
//!   0 %  sunrise and sunset
//! 13.5 V voltage
//!        phases: name, hours and ampere-hours, posture and motor
//!        the clock
//! ```

mod bands;
mod clock;

use ratatui::buffer::Buffer;
use ratatui::layout::{Constraint, Layout, Rect};

use super::curve::{Plot, Words};
use super::text;
use crate::geometry::Spot;
use crate::plan::{Clock, Outing};
use crate::study::day::{BatteryDay, Moment};
use crate::tui::app::Look;
use crate::tui::theme::Role;
use crate::units::Duration;

/// Columns of the figures at the left, a blank behind them.
const FIGURES: u16 = 7;

/// Rows from which a phase has three lines.
const THREE_LINES_FROM: u16 = 9;

/// Rows of plots from which the voltage has its own.
const BOTH_FROM: u16 = 5;

/// A day to be drawn.
pub(super) struct DayPicture<'a> {
    /// How things are shown.
    pub look: &'a Look,
    /// The day.
    pub outing: &'a Outing,
    /// The battery whose day it is, if there is one.
    pub battery: Option<&'a BatteryDay>,
    /// The phase that is lit.
    pub lit: Option<usize>,
}

/// Where the parts of a day's picture stand. Parts that are not shown are empty.
struct Parts {
    charge: Rect,
    volts: Rect,
    bands: Rect,
    clock: Rect,
}

impl Parts {
    fn at(area: Rect) -> Self {
        let field = Rect { x: area.x + FIGURES.min(area.width), width: area.width.saturating_sub(FIGURES), ..area };
        let lines = if area.height >= THREE_LINES_FROM { 3 } else { 1 };
        let [plots, bands, clock] =
            Layout::vertical([Constraint::Min(0), Constraint::Length(lines), Constraint::Length(1)]).areas(field);
        let volts_rows = if plots.height >= BOTH_FROM { plots.height * 2 / 5 } else { 0 };
        let [charge, volts] = Layout::vertical([Constraint::Min(0), Constraint::Length(volts_rows)]).areas(plots);
        Self { charge, volts, bands, clock }
    }
}

/// The phase that stands under a column of a day's picture.
pub(super) fn phase_at(outing: &Outing, area: Rect, column: u16) -> Option<usize> {
    bands::spans(outing, Parts::at(area).bands).position(|(from, to)| (from..to).contains(&column))
}

impl DayPicture<'_> {
    /// Draws it, as much as the area has room for.
    pub fn draw(&self, area: Rect, buffer: &mut Buffer) {
        let parts = Parts::at(area);
        let hours = self.hours();
        if parts.bands.width < 10 || !hours.is_finite() || hours <= 0.0 {
            return;
        }
        if let Some(battery) = self.battery.filter(|battery| !battery.series.is_empty()) {
            self.charge(battery, parts.charge, buffer);
            self.volts(battery, parts.volts, buffer);
        }
        bands::draw(self, parts.bands, buffer);
        clock::draw(self, parts.clock, buffer);
    }

    fn hours(&self) -> f64 {
        self.outing.hours().to_hours()
    }

    fn charge(&self, battery: &BatteryDay, area: Rect, buffer: &mut Buffer) {
        if area.height < 2 {
            return;
        }
        let mut plot = self.plot(area, (0.0, 100.0));
        plot.level(0.0, Role::Seam);
        self.uprights(battery, &mut plot);
        plot.through(given(battery).map(|moment| Spot::new(moment.hours, moment.charge_percent)), Role::Hull);
        let rows = 0..=plot.bottom();
        for (after, word, role) in ends(battery) {
            let full = format!("{word} {}", self.outing.moment(Duration::hours(after)));
            match role {
                // When it fails is told in any case.
                Role::Stop => plot.say(after, 0, &full, role, Words::Over),
                _ => plot.say_first(rows.clone(), after, [&full, word], role),
            }
        }
        for (after, word, clock) in self.sun() {
            plot.say_first(rows.clone().rev(), after, [&format!("{word} {clock}"), word], Role::Dim);
        }
        plot.render(self.look, buffer);
        self.figures(area, ("100 %", "0 %"), buffer);
    }

    fn volts(&self, battery: &BatteryDay, area: Rect, buffer: &mut Buffer) {
        let all = given(battery).map(|moment| moment.volts);
        let (least, most) = all.fold((f64::INFINITY, 0.0_f64), |(least, most), v| (least.min(v), most.max(v)));
        if area.height < 2 || !least.is_finite() {
            return;
        }
        // To half a volt, so that a flat line does not look like a fall.
        let (low, high) = ((least * 2.0 - 0.5).floor() / 2.0, (most * 2.0 + 0.5).ceil() / 2.0);
        let mut plot = self.plot(area, (low, high));
        self.uprights(battery, &mut plot);
        plot.through(given(battery).map(|moment| Spot::new(moment.hours, moment.volts)), Role::Wire);
        plot.render(self.look, buffer);
        self.figures(area, (&format!("{high:.1} V"), &format!("{low:.1} V")), buffer);
    }

    /// An empty plot over the hours of the day, the dark ones shaded.
    fn plot(&self, area: Rect, up: (f64, f64)) -> Plot {
        let mut plot = Plot::new(area, (0.0, self.hours()), up);
        for (index, phase) in self.outing.phases.iter().enumerate().filter(|(index, _)| self.outing.is_dark(*index)) {
            let from = self.outing.begins(index);
            plot.shade((from.to_hours(), (from + phase.hours).to_hours()), Role::Deep);
        }
        plot
    }

    fn uprights(&self, battery: &BatteryDay, plot: &mut Plot) {
        for (after, _, _) in self.sun() {
            plot.upright(after, Role::Envelope);
        }
        for (after, _, role) in ends(battery).into_iter().rev() {
            plot.upright(after, role);
        }
    }

    /// Sunrise and sunset within the day: hours from its start, word, clock.
    fn sun(&self) -> impl Iterator<Item = (f64, &'static str, Clock)> {
        let (starts, hours) = (self.outing.starts, self.hours());
        let both = [("sunrise", self.outing.sunrise), ("sunset", self.outing.sunset)];
        both.into_iter().filter_map(move |(word, clock)| {
            let (clock, from) = (clock?, starts?);
            let after = (f64::from(clock.minutes()) - f64::from(from.minutes())).rem_euclid(24.0 * 60.0) / 60.0;
            (after > 0.0 && after < hours).then_some((after, word, clock))
        })
    }

    /// The greatest and the least figure at the left of a plot.
    fn figures(&self, plot: Rect, (high, low): (&str, &str), buffer: &mut Buffer) {
        let dim = self.look.theme.style(Role::Dim);
        let left = Rect { x: plot.x - FIGURES, width: FIGURES - 1, height: 1, ..plot };
        text::put_right(buffer, left, high, dim);
        text::put_right(buffer, Rect { y: plot.bottom() - 1, ..left }, low, dim);
    }
}

/// The moments in which a battery gives anything.
fn given(battery: &BatteryDay) -> impl Iterator<Item = &Moment> {
    battery.series.iter().filter(|moment| moment.volts > 0.0)
}

/// How a battery ends, the worst first: hours from the start, what is so from then on, its weight.
fn ends(battery: &BatteryDay) -> Vec<(f64, &'static str, Role)> {
    let used_up = if battery.empty.is_some() { Role::Caution } else { Role::Stop };
    let all = [
        (battery.empty, "flat", Role::Stop),
        (battery.used_up, "used up", used_up),
        (battery.into_reserve, "into reserve", Role::Note),
    ];
    all.into_iter().filter_map(|(after, word, role)| Some((after?.to_hours(), word, role))).collect()
}
