//! A hull with another form: what lies on the old one carried over to the new.

use super::Tape;
use crate::geometry::{Form, Point, Spot};
use crate::plan::{Feature, Hull, HullForm, Pedals, SeatRails, Zone};
use crate::units::{Figure, Length, Origin, Quantity};

/// A length and beam that only guesses speak for keep what the hull said before when it is as near as this, mm: one
/// tape reading's spread.
const SAME_MM: f64 = super::MEASURED_SPREAD_MM;
/// A feature so near the surface of its zone lies on it, mm.
const ON_ZONE_MM: f64 = 60.0;

impl Hull {
    /// This hull with the form of a tape. What the tape does not say is guessed from the present form.
    ///
    /// Zones, features, seat rails and the centre of mass go along: places by the length, across by the half-breadth
    /// there, heights by the gunwale there. Sizes of fittings stay. Measured wells set the height of their zone,
    /// measured features their place. A hull without sections only takes the new form.
    #[must_use]
    pub fn taped(&self, tape: Tape) -> Self {
        let tape = tape.filled(self);
        let form = HullForm::taped(tape.clone());
        let Some(way) = Way::between(&self.form, &form) else { return Self { form, ..self.clone() } };
        let mut zones: Vec<Zone> = self.zones.iter().map(|zone| way.zone(zone)).collect();
        for well in &tape.wells {
            if let Some(zone) = zones.iter_mut().find(|zone| zone.id == well.zone) {
                set_depth(zone, well.depth.figure(), &form);
            }
        }
        let mut hull = Self {
            length: way_figure(self.length, tape.length.figure()),
            beam: way_figure(self.beam, widest(&tape)),
            centre_mm: way.point(self.centre_mm),
            pedals: self
                .pedals
                .as_ref()
                .map(|pedals| Pedals { crank_mm: way.point(pedals.crank_mm), ..pedals.clone() }),
            seat: self.seat.clone(),
            features: Vec::new(),
            zones,
            form: form.clone(),
            ..self.clone()
        };
        hull.features = self.features.iter().map(|feature| way.feature(feature, self, &hull, &tape)).collect();
        hull.seat = way.seat(self, &hull);
        hull
    }
}

/// The figure that the tape has: measured over what was there, or a guess where it differs.
fn way_figure(old: Figure<Length>, taken: Option<Figure<Length>>) -> Figure<Length> {
    match taken {
        Some(figure) if figure.origin == Origin::Measured => measured(old, figure),
        Some(figure) if (figure.value.to_mm() - old.value.to_mm()).abs() > SAME_MM => figure,
        _ => old,
    }
}

/// The tape's figure over the one before it.
fn measured(old: Figure<Length>, taken: Figure<Length>) -> Figure<Length> {
    let spread = taken.spread.map(|spread| Length::mm(rounded(spread.to_mm())));
    Figure { spread, ..old.measured_over(taken.value) }
}

/// The greatest width of the stations.
fn widest(tape: &Tape) -> Option<Figure<Length>> {
    let widths = tape.stations.iter().filter_map(|station| station.width.figure());
    widths.max_by(|a, b| a.value.to_mm().total_cmp(&b.value.to_mm()))
}

/// The floor of a well from its depth under the gunwale at its middle.
fn set_depth(zone: &mut Zone, depth: Option<Figure<Length>>, form: &Form) {
    let (Some(depth), Some((_, rim))) = (depth, form.gunwale(zone.outline_mm.middle().x)) else { return };
    if depth.origin != Origin::Measured {
        return;
    }
    let height = rounded((rim - depth.value.to_mm()).max(0.0));
    raise_inside(zone, height - zone.height.value.to_mm());
    zone.height = measured(zone.height, Figure { value: Length::mm(height), ..depth });
}

/// The clear depth behind a zone when its surface rises by so much over what is under it, mm.
fn raise_inside(zone: &mut Zone, by: f64) {
    if zone.inside.origin != Origin::Measured {
        zone.inside.value = Length::mm(rounded((zone.inside.value.to_mm() + by).max(0.0)));
    }
}

/// To a tenth of a millimetre: finer than any tape, and short in the file.
fn rounded(mm: f64) -> f64 {
    (mm * 10.0).round() / 10.0
}

/// The way from places on one form to the same places on another.
struct Way<'a> {
    old: &'a Form,
    new: &'a Form,
    stretch: f64,
}

impl<'a> Way<'a> {
    fn between(old: &'a Form, new: &'a Form) -> Option<Self> {
        let stretch = new.length() / old.length();
        (stretch.is_finite() && stretch > 0.0).then_some(Self { old, new, stretch })
    }

    fn x(&self, x: f64) -> f64 {
        let start = |form: &Form| form.sections.first().map_or(0.0, |section| section.x_mm);
        start(self.new) + (x - start(self.old)) * self.stretch
    }

    /// How much wider and how much higher the new form is where the old one is at `x`; ends count beyond them.
    fn scales(&self, x: f64) -> (f64, f64) {
        let on = |form: &Form, x: f64| {
            let (first, last) = (form.sections.first()?.x_mm, form.sections.last()?.x_mm);
            form.gunwale(x.clamp(first, last))
        };
        let (Some(old), Some(new)) = (on(self.old, x), on(self.new, self.x(x))) else { return (1.0, 1.0) };
        let ratio = |new: f64, old: f64| if old > 0.0 && new > 0.0 { new / old } else { 1.0 };
        (ratio(new.0, old.0), ratio(new.1, old.1))
    }

    fn spot(&self, spot: Spot) -> Spot {
        let (wider, _) = self.scales(spot.x);
        let x = if self.stretch == 1.0 { spot.x } else { rounded(self.x(spot.x)) };
        Spot::new(x, if wider == 1.0 { spot.y } else { rounded(spot.y * wider) })
    }

    fn height(&self, at: Point) -> f64 {
        let (_, higher) = self.scales(at.x);
        if higher == 1.0 { at.z } else { rounded(at.z * higher) }
    }

    fn point(&self, at: Point) -> Point {
        self.spot(at.spot()).at(self.height(at))
    }

    fn zone(&self, zone: &Zone) -> Zone {
        let mut carried = zone.clone();
        for corner in &mut carried.outline_mm.corners {
            *corner = self.spot(*corner);
        }
        let (old, middle) = (zone.height.value.to_mm(), zone.outline_mm.middle());
        // What was measured on the boat does not follow a guess about its form.
        let height = if zone.height.origin == Origin::Measured { old } else { self.height(middle.at(old)) };
        if height != old {
            carried.height = Figure { value: Length::mm(height), ..zone.height };
        }
        if let (Some(below), Some(now)) = (self.old.bottom(middle), self.new.bottom(self.spot(middle))) {
            raise_inside(&mut carried, rounded(height - old - (now - below)));
        }
        carried
    }

    /// A feature keeps its height over the zone it lies on; elsewhere it goes with the gunwale.
    fn feature(&self, feature: &Feature, old: &Hull, new: &Hull, tape: &Tape) -> Feature {
        let mut carried = feature.clone();
        carried.at_mm = self.point(feature.at_mm);
        if let Some(place) = tape.features.iter().find(|place| place.feature == feature.id) {
            let taken = |gauge: &super::Gauge| gauge.mm().filter(|_| gauge.is_measured());
            carried.at_mm.x = taken(&place.x).unwrap_or(carried.at_mm.x);
            carried.at_mm.y = taken(&place.y).unwrap_or(carried.at_mm.y);
        }
        let zone = old.zone_at(feature.at_mm.spot());
        let over = zone.map(|zone| feature.at_mm.z - zone.height.value.to_mm());
        let now = zone.and_then(|zone| new.zones.iter().find(|other| other.id == zone.id));
        if let (Some(over), Some(zone)) = (over.filter(|over| over.abs() <= ON_ZONE_MM), now) {
            carried.at_mm.z = rounded(zone.height.value.to_mm() + over);
        }
        carried
    }

    /// The seat keeps its size, its steps and its height over the floor under it.
    fn seat(&self, old: &Hull, new: &Hull) -> SeatRails {
        let rails = &old.seat;
        let along = |x: Length| if self.stretch == 1.0 { x } else { Length::mm(rounded(self.x(x.to_mm()))) };
        let under = |rails: &SeatRails| Spot::new(rails.back_aft.to_mm() + rails.depth.to_mm() / 2.0, 0.0);
        let moved = SeatRails { back_aft: along(rails.back_aft), back_fore: along(rails.back_fore), ..rails.clone() };
        let rise = new.surface(under(&moved)).zip(old.surface(under(rails))).map_or(0.0, |(new, old)| new - old);
        let raised = |figure: Figure<Length>| {
            let value = Length::mm(rounded(figure.value.base() + rise));
            if rise == 0.0 { figure } else { Figure { value, ..figure } }
        };
        SeatRails { low: raised(rails.low), high: rails.high.map(raised), ..moved }
    }
}

#[cfg(test)]
mod tests;
