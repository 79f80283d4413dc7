//! One run of wire: what it carries and loses, what it may carry, which fuse fits, which size would do.

use super::conductor;
use super::length::OneWay;
use crate::plan::{Plan, Wire};
use crate::study::chosen;
use crate::study::power::{Draws, LoadUse};
use crate::study::wire::copper::Lay;
use crate::study::wire::drop::{Task, loop_ohm, percent, thinnest_for};
use crate::study::wire::{ampacity, fuse, gauge};
use crate::units::{Quantity, Temperature};

/// Percent of the nominal voltage that lights, sonar, radio and pumps may lose.
pub const DROP_STRICT_PERCENT: f64 = 3.0;

/// Percent of the nominal voltage that the rest may lose.
pub const DROP_PERCENT: f64 = 10.0;

/// The greatest fuse, in percent of what the wire carries.
pub const FUSE_OVER_PERCENT: f64 = 100.0;

/// One run of wire with its fuse. Currents are those the battery gives.
#[derive(Clone, Debug, PartialEq)]
pub struct Run {
    /// What it carries, A.
    pub amps: Amps,
    /// Nominal voltage of the battery, V.
    pub nominal_v: f64,
    /// Length one way; `None` when an end of it is not aboard.
    pub one_way: Option<OneWay>,
    /// Wire size; `None` when not stated.
    pub gauge_awg: Option<u8>,
    /// What its insulation stands.
    pub insulation: Temperature,
    /// Whether it runs in a sheath or conduit.
    pub sheathed: bool,
    /// What it takes of the voltage itself; `None` without size or length.
    pub lost: Option<Lost>,
    /// What the battery's main wire takes before it, with all its circuits in the same state; `None` when none feeds
    /// it or its size or length is not known.
    pub before: Option<Volts>,
    /// What it may take at the greatest current, percent of the nominal voltage.
    pub allowed_percent: f64,
    /// What it may carry all day, A; `None` without a size.
    pub permitted_a: Option<f64>,
    /// The thinnest size that does for drop, current and a fuse that holds; `None` when none does.
    pub smallest_awg: Option<u8>,
    /// The fuse fitted, A.
    pub fuse_a: Option<f64>,
    /// Wire up to the fuse, mm.
    pub fuse_at_mm: Option<f64>,
    /// The least fuse that holds, A: the steady current with its margin, and no less than the greatest current.
    pub least_fuse_a: f64,
    /// The greatest fuse that protects the wire, A.
    pub greatest_fuse_a: Option<f64>,
    /// The most that 33 CFR 183.455(c) bears on this wire, A.
    pub rule_fuse_a: Option<f64>,
    /// The next standard size that holds and, when the wire's size is known, protects it, A.
    pub standard_fuse_a: Option<f64>,
}

/// The current through a wire, A.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Amps {
    /// Everything in ordinary use.
    pub typical: f64,
    /// Everything at its greatest.
    pub peak: f64,
    /// What it may have to carry for hours: ordinary use, motors at their greatest setting.
    pub steady: f64,
}

/// What a wire takes of the voltage, there and back.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lost {
    /// Resistance there and back, ohm.
    pub loop_ohm: f64,
    /// In ordinary use, V.
    pub typical_v: f64,
    /// In ordinary use, percent of the nominal voltage.
    pub typical_percent: f64,
    /// At the greatest current, V.
    pub peak_v: f64,
    /// At the greatest current, percent of the nominal voltage.
    pub peak_percent: f64,
}

/// Volts taken by wire.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Volts {
    /// In ordinary use.
    pub typical: f64,
    /// At the greatest current.
    pub peak: f64,
}

impl Lost {
    /// Its volts.
    pub fn volts(&self) -> Volts {
        Volts { typical: self.typical_v, peak: self.peak_v }
    }
}

/// What the plan's wires are judged by.
#[derive(Clone, Copy, Debug)]
pub(super) struct Rules {
    /// Temperature of the copper.
    pub conductor: Temperature,
    strict_percent: f64,
    other_percent: f64,
    over_percent: f64,
    under_percent: f64,
}

impl Rules {
    pub fn of(plan: &Plan) -> Self {
        Self {
            conductor: conductor(plan.outing.air),
            strict_percent: chosen(plan, "drop-over.strict", DROP_STRICT_PERCENT),
            other_percent: chosen(plan, "drop-over.other", DROP_PERCENT),
            over_percent: chosen(plan, "fuse-wrong.over", FUSE_OVER_PERCENT),
            under_percent: chosen(plan, "fuse-wrong.under", fuse::OVER_STEADY_PERCENT),
        }
    }
}

impl Amps {
    /// All these loads together.
    pub(super) fn of(uses: &[&LoadUse]) -> Self {
        uses.iter().fold(Self::default(), |sum, load| {
            let (typical, peak) = (load.typical.to_amps(), load.peak.to_amps());
            let steady = if load.draws == Draws::Motor { peak } else { typical };
            Self { typical: sum.typical + typical, peak: sum.peak + peak, steady: sum.steady + steady }
        })
    }
}

impl Run {
    /// What is lost between the battery and the load: this wire and the main before it, in series; `None` when this
    /// wire's part is not known.
    pub fn total(&self) -> Option<Volts> {
        let (own, before) = (self.lost?.volts(), self.before.unwrap_or_default());
        Some(Volts { typical: own.typical + before.typical, peak: own.peak + before.peak })
    }

    /// Volts in percent of the battery's nominal voltage.
    pub fn percent(&self, volts: f64) -> f64 {
        percent(volts, self.nominal_v)
    }

    /// Sums a wire up. `strict` takes the narrower class of drop; `before` is what the main before it takes.
    pub(super) fn of(
        wire: &Wire,
        amps: Amps,
        nominal_v: f64,
        one_way: Option<OneWay>,
        strict: bool,
        before: Option<Volts>,
        rules: &Rules,
    ) -> Self {
        let insulation = wire.insulation.unwrap_or(ampacity::USUAL_INSULATION);
        let allowed_percent = if strict { rules.strict_percent } else { rules.other_percent };
        let permitted_a = wire.gauge_awg.and_then(|awg| ampacity::permitted_a(awg, insulation));
        let least_fuse_a = (amps.steady * rules.under_percent / 100.0).max(amps.peak);
        let greatest_fuse_a = permitted_a.map(|amps| amps * rules.over_percent / 100.0);
        let next_fuse_a = fuse::next_size(least_fuse_a);
        let left_v = allowed_percent / 100.0 * nominal_v - before.unwrap_or_default().peak;
        let task = Task {
            amps: amps.peak,
            allowed_v: one_way.map_or(f64::INFINITY, |_| left_v),
            one_way_mm: one_way.map_or(0.0, |way| way.mm),
            at: rules.conductor,
            carries_a: next_fuse_a.unwrap_or(least_fuse_a),
            insulation,
            thinnest: gauge::thinnest_allowed(wire.sheathed),
        };
        let lost = wire.gauge_awg.zip(one_way).map(|(awg, way)| {
            let ohm = loop_ohm(way.mm, awg, rules.conductor, Lay::Stranded);
            let (typical_v, peak_v) = (amps.typical * ohm, amps.peak * ohm);
            Lost {
                loop_ohm: ohm,
                typical_v,
                typical_percent: percent(typical_v, nominal_v),
                peak_v,
                peak_percent: percent(peak_v, nominal_v),
            }
        });
        Self {
            amps,
            nominal_v,
            one_way,
            gauge_awg: wire.gauge_awg,
            insulation,
            sheathed: wire.sheathed,
            lost,
            before,
            allowed_percent,
            permitted_a,
            smallest_awg: thinnest_for(&task),
            fuse_a: wire.fuse.map(Quantity::base),
            fuse_at_mm: wire.fuse_at.map(Quantity::base),
            least_fuse_a,
            greatest_fuse_a,
            rule_fuse_a: wire.gauge_awg.and_then(|awg| fuse::rule_a(awg, insulation)),
            standard_fuse_a: next_fuse_a.filter(|fuse| greatest_fuse_a.is_none_or(|greatest| *fuse <= greatest)),
        }
    }
}
