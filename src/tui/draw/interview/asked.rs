//! The drawing of what is asked: where the tape goes, on the hull as it is so far.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::dimension::{Dimensions, Figure};
use super::list::place_words;
use super::{hull, section};
use crate::geometry::{Form, LineStation, Lines, Section, Spot};
use crate::plan::{Bottom, Measurement, Tape};
use crate::tui::app::Look;
use crate::tui::canvas::Canvas;
use crate::tui::cells::Brush;
use crate::tui::glyphs::Glyph;
use crate::tui::layer::{Interview, Row, length_in_its_unit};
use crate::tui::theme::Role;
use crate::units::{Origin, Quantity};

/// Fewer rows than this hold no drawing.
const LEAST_ROWS: u16 = 4;

/// Draws it.
pub(super) fn draw(look: &Look, interview: &Interview, area: Rect, buffer: &mut Buffer) {
    if area.height < LEAST_ROWS || area.width < 20 {
        return;
    }
    let asked = Asked { look, interview, tape: &interview.trial().tape, form: &interview.trial().hull.form };
    let canvas = match interview.row() {
        Row::Gauge(Measurement::Length) | Row::Place(_) => asked.side_view(area),
        Row::Rounding => asked.chine(area),
        Row::Kind => asked.under(area, None),
        Row::Gauge(what @ (Measurement::BottomPart | Measurement::BottomHeight)) => asked.under(area, Some(what)),
        Row::Gauge(Measurement::Well(well)) => asked.well(area, well),
        Row::Gauge(what @ (Measurement::FeatureX(place) | Measurement::FeatureY(place))) => {
            asked.feature(area, place, what)
        }
        Row::Gauge(what) => what.station().and_then(|station| asked.across(area, station, what)),
        Row::Features | Row::Done => asked.all(area),
    };
    if let Some(canvas) = canvas {
        canvas.render(&Brush { theme: &look.theme, glyphs: look.glyphs }, buffer);
    }
}

struct Asked<'a> {
    look: &'a Look,
    interview: &'a Interview,
    tape: &'a Tape,
    form: &'a Form,
}

impl Asked<'_> {
    /// The value in use, and the colour of where it comes from.
    fn figure(&self, what: Measurement) -> Figure {
        match self.tape.gauge(what).and_then(|gauge| gauge.figure()) {
            Some(figure) if figure.origin == Origin::Measured => {
                let size = figure.value.scaled(figure.value.to_mm().signum());
                Figure { words: length_in_its_unit(size), role: Role::Measured }
            }
            Some(figure) => Figure { words: self.look.tape.length(figure.value.to_mm()), role: Role::Guess },
            None => Figure { words: "?".into(), role: Role::Dim },
        }
    }

    /// A station, cut across.
    fn across(&self, area: Rect, number: usize, what: Measurement) -> Option<Canvas> {
        let x = self.tape.stations.get(number)?.x.to_mm();
        let section = section::at(self.form, x)?;
        let station = self.tape.lines()?.at(x)?;
        let mut canvas = Canvas::new(section::window(area, section));
        section::paint(&mut canvas, section);
        let figure = self.figure(what);
        let mut dimensions = self.dimensions(&mut canvas);
        let LineStation { width, width_height, bottom_width, gunwale, keel, .. } = station;
        let (half, flat) = (width / 2.0, bottom_width / 2.0);
        let beside = dimensions.column(half) + 2;
        match what {
            Measurement::Width(_) => {
                let outside = half + dimensions.mm_per_column();
                for side in [-outside, outside] {
                    dimensions.plumb(Spot::new(side, 0.0), gunwale);
                }
                dimensions.across((-half, half), dimensions.row(width_height), &figure);
            }
            Measurement::BottomWidth(_) => {
                dimensions.across((-flat, flat), (dimensions.row(keel) - 1).max(0), &figure);
            }
            Measurement::WidthHeight(_) => {
                dimensions.leader(Spot::new(half, width_height), beside);
                dimensions.upright(beside, (0.0, width_height), &figure);
            }
            Measurement::Gunwale(_) => {
                dimensions.edge((-half, half + 2.0 * dimensions.mm_per_column()), gunwale);
                dimensions.upright(beside, (0.0, gunwale), &figure);
            }
            _ => dimensions.upright(dimensions.column(0.0), (0.0, keel), &figure),
        }
        Some(canvas)
    }

    /// The whole length, or the way to a station.
    fn side_view(&self, area: Rect) -> Option<Canvas> {
        let here = self.interview.row().station();
        let window = hull::side_window(area, self.form)?;
        let mut canvas = Canvas::new(window);
        hull::paint_side(&mut canvas, self.form, self.interview);
        let last = i64::from(area.height) - 1;
        let length = self.tape.length.mm()?;
        let station = here.and_then(|number| self.tape.stations.get(number));
        let mut dimensions = self.dimensions(&mut canvas);
        let bow = self.form.sections.last()?.keel();
        let stern = self.form.sections.first()?.keel();
        dimensions.plumb(Spot::new(0.0, stern), 0.0);
        match station {
            Some(station) => {
                let x = station.x.to_mm();
                dimensions.plumb(Spot::new(x, self.form.gunwale(x).map_or(0.0, |rim| rim.1)), 0.0);
                let guessed = self.interview.places_guessed();
                let words = place_words(self.look, station.x);
                let role = if guessed { Role::Guess } else { Role::Text };
                dimensions.across((0.0, x), last, &Figure { words, role });
            }
            None => {
                // The line of the bow hangs just outside it.
                dimensions.plumb(Spot::new(length, bow), 0.0);
                dimensions.across((0.0, length), last, &self.figure(Measurement::Length));
            }
        }
        Some(canvas)
    }

    /// The widest section with a straight side, a round chine and a square one behind it.
    fn chine(&self, area: Rect) -> Option<Canvas> {
        let x = self.widest()?;
        let lines = self.tape.lines()?;
        let with = |rounding: f64| Lines { rounding, ..lines.clone() }.form();
        let (hard, round, square) = (with(0.0), with(1.0), with(2.0));
        let mut canvas = Canvas::new(section::window(area, section::at(&square, x)?));
        section::paint(&mut canvas, section::at(self.form, x)?);
        section::skin(&mut canvas, section::at(&hard, x)?, Role::Seam);
        section::skin(&mut canvas, section::at(&round, x)?, Role::Seam);
        section::skin(&mut canvas, section::at(&square, x)?, Role::Seam);
        section::skin(&mut canvas, section::at(self.form, x)?, Role::Selected);
        let beside = self.dimensions(&mut canvas).column(section::half(section::at(self.form, x)?)) + 3;
        let middle = i64::from(area.height) / 2;
        for (row, words) in [(middle - 1, "0 straight"), (middle, "1 round"), (middle + 1, "2 square")] {
            canvas.text(beside, row, words, Role::Dim, false);
        }
        Some(canvas)
    }

    /// The bottom from ahead, with what is measured of its tunnel or pontoons.
    fn under(&self, area: Rect, what: Option<Measurement>) -> Option<Canvas> {
        let x = self.widest()?;
        let section = section::at(self.form, x)?;
        let mut canvas = Canvas::new(section::window(area, section));
        section::paint(&mut canvas, section);
        let Some(what) = what else { return Some(canvas) };
        let flat = self.tape.lines()?.at(x)?.bottom_width / 2.0;
        let figure = self.figure(what);
        let (width, height) =
            (self.tape.gauge(Measurement::BottomPart)?.mm()?, self.tape.gauge(Measurement::BottomHeight)?.mm()?);
        let mut dimensions = self.dimensions(&mut canvas);
        let span = if matches!(self.tape.bottom, Bottom::Pontoons { .. }) {
            ((flat - width).max(0.0), flat)
        } else {
            (-width / 2.0, width / 2.0)
        };
        match what {
            Measurement::BottomPart => dimensions.across(span, dimensions.row(height), &figure),
            _ => dimensions.upright(dimensions.column(0.0), (0.0, height), &figure),
        }
        Some(canvas)
    }

    /// The floor of a well under a straight edge.
    fn well(&self, area: Rect, number: usize) -> Option<Canvas> {
        let well = self.tape.wells.get(number)?;
        let hull = &self.interview.trial().hull;
        let zone = hull.zones.iter().find(|zone| zone.id == well.zone)?;
        let section = section::at(self.form, zone.outline_mm.middle().x)?;
        let (half, rim) = section.gunwale();
        let floor = rim - well.depth.mm()?;
        let (low, high) = zone.outline_mm.bounds();
        let side = ((high.y - low.y) / 2.0).min(half);
        let mut canvas = Canvas::new(section::window(area, section));
        section::paint(&mut canvas, section);
        hollow(&mut canvas, side, (floor, rim));
        let figure = self.figure(Measurement::Well(number));
        let mut dimensions = self.dimensions(&mut canvas);
        dimensions.edge((-half - 2.0 * dimensions.mm_per_column(), half + 2.0 * dimensions.mm_per_column()), rim);
        let under = rim - dimensions.mm_per_column() * 2.0;
        dimensions.upright(dimensions.column(0.0), (floor, under), &figure);
        Some(canvas)
    }

    /// A feature from above.
    fn feature(&self, area: Rect, number: usize, what: Measurement) -> Option<Canvas> {
        let place = self.tape.features.get(number)?;
        let (x, y) = (place.x.mm()?, place.y.mm()?);
        let mut canvas = Canvas::new(hull::window_above(area, self.form)?);
        hull::paint_above(&mut canvas, self.form);
        canvas.mark(Spot::new(x, y), self.look.glyphs.of(Glyph::Ring), Role::Selected, true);
        let figure = self.figure(what);
        let last = i64::from(area.height) - 1;
        let mut dimensions = self.dimensions(&mut canvas);
        match what {
            Measurement::FeatureX(_) => {
                dimensions.plumb(Spot::new(0.0, 0.0), dimensions.height(last));
                dimensions.plumb(Spot::new(x, y), dimensions.height(last));
                dimensions.across((0.0, x), last, &figure);
            }
            _ => dimensions.upright(dimensions.column(x) + 2, (y.min(0.0), y.max(0.0)), &figure),
        }
        Some(canvas)
    }

    /// The boat from above with its features.
    fn all(&self, area: Rect) -> Option<Canvas> {
        let mut canvas = Canvas::new(hull::window_above(area, self.form)?);
        hull::paint_above(&mut canvas, self.form);
        for place in &self.tape.features {
            let feature = self.interview.trial().hull.features.iter().find(|feature| feature.id == place.feature);
            let measured = place.x.is_measured() || place.y.is_measured();
            let role = if measured { Role::Measured } else { Role::Guess };
            if let Some(feature) = feature {
                canvas.mark(feature.at_mm.spot(), self.look.glyphs.of(Glyph::Insert), role, measured);
            }
        }
        Some(canvas)
    }

    /// Where the hull is widest.
    fn widest(&self) -> Option<f64> {
        let widest = |a: &&Section, b: &&Section| section::half(a).total_cmp(&section::half(b));
        self.form.sections.iter().max_by(widest).map(|section| section.x_mm)
    }

    fn dimensions<'c>(&self, canvas: &'c mut Canvas) -> Dimensions<'c> {
        Dimensions { canvas, glyphs: self.look.glyphs }
    }
}

/// A well in a section: what is cut out of it, and its skin.
fn hollow(canvas: &mut Canvas, side: f64, (floor, rim): (f64, f64)) {
    let corners = [(-side, rim), (side, rim), (side, floor), (-side, floor)].map(Spot::from);
    let mask = canvas.polygon(&crate::geometry::Polygon::new(corners.to_vec()));
    canvas.fill(&mask, Role::Water);
    for (from, to) in [((-side, rim), (-side, floor)), ((-side, floor), (side, floor)), ((side, floor), (side, rim))] {
        canvas.line(Spot::from(from), Spot::from(to), Role::Hull);
    }
}
