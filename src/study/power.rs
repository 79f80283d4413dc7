//! What the day takes out of the batteries: bookkeeping of ampere-hours.
//!
//! `Q = sum(I h)` over the loads and the phases of the outing, and `I_in = V_out I / (efficiency V_in)`
//! through a step-down converter. Valid for planning a day; it knows no sag and no Peukert loss.
//! Source: common practice (series meter readings, hours, share of time).

mod books;
mod feed;

pub use feed::USUAL_EFFICIENCY;

use self::books::Books;
use self::feed::Feeds;
use super::metered::Metered;
use crate::plan::{Chemistry, CircuitId, GearId, Phase, Plan, Runs};
use crate::units::{Charge, Current, Duration, Energy, Origin, Power as Watts, Quantity, Voltage};

/// What the day takes out of the batteries.
#[derive(Clone, Debug, Default)]
pub struct Power {
    /// Everything placed that draws, in the plan's order: loads, motors, and what converters and switch
    /// units take for themselves. Their charges add up to the total.
    pub loads: Vec<LoadUse>,
    /// Every phase of the outing.
    pub phases: Vec<PhaseUse>,
    /// Every circuit.
    pub circuits: Vec<CircuitUse>,
    /// Every placed battery.
    pub batteries: Vec<BatteryUse>,
    /// Every placed converter.
    pub converters: Vec<ConverterUse>,
    /// Charge taken over the whole day.
    pub total: Charge,
    /// Energy taken over the whole day.
    pub energy: Energy,
    /// Everything on, ordinary use.
    pub typical: Current,
    /// Everything at its peak.
    pub peak: Current,
    /// Length of the whole day.
    pub hours: Duration,
    /// What the readings of a meter say of the loads.
    pub metered: Metered,
    /// Mean amperes of the battery by load, then phase: a row of phases for each of `loads`.
    means: Vec<f64>,
}

/// Why something draws.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Draws {
    /// It is a load.
    Load,
    /// It is a motor.
    Motor,
    /// It is a converter, for itself; what goes through it is booked to the loads behind it.
    Converter,
    /// It is a switch unit, for itself.
    SwitchUnit,
}

/// What one load takes. Currents as seen by the battery, converter losses included.
#[derive(Clone, Debug, PartialEq)]
pub struct LoadUse {
    /// The load.
    pub gear: GearId,
    /// Why it draws.
    pub draws: Draws,
    /// The circuit that carries it, if any; behind a converter the converter's.
    pub circuit: Option<CircuitId>,
    /// The battery that feeds it; `None` when nothing aboard does.
    pub battery: Option<GearId>,
    /// Through this converter, if any.
    pub converter: Option<GearId>,
    /// Whether it needs a converter and none is placed; [`USUAL_EFFICIENCY`] is counted then.
    pub lacks_converter: bool,
    /// Current in ordinary use; for a motor the mean while it runs.
    pub typical: Current,
    /// Greatest current; for a motor that of its greatest setting.
    pub peak: Current,
    /// Hours it runs over the day.
    pub hours: Duration,
    /// Charge over the day, standby included.
    pub charge: Charge,
    /// Energy over the day.
    pub energy: Energy,
    /// Where the current comes from.
    pub origin: Origin,
    /// The current in ordinary use by the plan's own figure, whatever a meter says.
    pub catalogue: Current,
    /// One standard deviation of the current in ordinary use.
    pub spread: Current,
}

/// What one phase of the outing takes.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct PhaseUse {
    /// Index in the outing.
    pub phase: usize,
    /// Charge over the phase.
    pub charge: Charge,
    /// Energy over the phase.
    pub energy: Energy,
    /// Mean current.
    pub mean: Current,
    /// Whether it names a motor setting that no motor aboard has: counted as off.
    pub motor_unknown: bool,
}

/// What one circuit carries.
#[derive(Clone, Debug, PartialEq)]
pub struct CircuitUse {
    /// The circuit.
    pub circuit: CircuitId,
    /// All its loads in ordinary use.
    pub typical: Current,
    /// All its loads at their peak.
    pub peak: Current,
    /// Charge over the day.
    pub charge: Charge,
}

/// What one battery has to give.
#[derive(Clone, Debug, PartialEq)]
pub struct BatteryUse {
    /// The battery.
    pub gear: GearId,
    /// What it is made of.
    pub chemistry: Chemistry,
    /// Its nominal voltage.
    pub volts: Voltage,
    /// Capacity on the label.
    pub nominal: Charge,
    /// What age left of it, percent.
    pub health_percent: f64,
    /// What of it may be used: age, depth of discharge and cold.
    pub usable: Charge,
    /// What the day takes.
    pub drawn: Charge,
    /// What is left of the usable charge, percent of it; negative when the day takes more.
    pub reserve_percent: f64,
    /// How long the usable charge lasts with the day's mean current; `None` without a load.
    pub lasts: Option<Duration>,
    /// Hours into the outing when the usable charge is gone; `None` when it sees the day out.
    pub empty_after: Option<Duration>,
    /// The label, new, that would just do on this day with this chemistry, no reserve.
    pub smallest: Charge,
    /// Greatest current asked of it.
    pub peak: Current,
    /// Greatest current it gives, if known.
    pub limit: Option<Current>,
}

/// What one converter has to pass on.
#[derive(Clone, Debug, PartialEq)]
pub struct ConverterUse {
    /// The converter.
    pub gear: GearId,
    /// Output asked of it with all its loads at their peak.
    pub peak: Watts,
    /// Greatest output it gives.
    pub rating: Watts,
}

impl Power {
    /// Keeps the books for the plan's outing.
    pub fn of(plan: &Plan) -> Self {
        let feeds = Feeds::of(plan);
        let mut books = Books::open(plan);
        for gear in plan.gear.iter().filter(|gear| gear.is_placed()) {
            books.enter_gear(gear, &feeds);
        }
        books.close()
    }

    /// What this battery has to give, if it is placed.
    pub fn battery(&self, gear: GearId) -> Option<&BatteryUse> {
        self.batteries.iter().find(|battery| battery.gear == gear)
    }

    /// What this load takes, if it is placed.
    pub fn load(&self, gear: GearId) -> Option<&LoadUse> {
        self.loads.iter().find(|load| load.gear == gear)
    }

    /// The mean current of a load, by its place in `loads`, in each phase, A of the battery.
    pub(super) fn means(&self, load: usize) -> &[f64] {
        let phases = self.phases.len();
        self.means.get(load * phases..(load + 1) * phases).unwrap_or_default()
    }

    /// The battery with the least reserve among those that something draws on.
    pub fn weakest(&self) -> Option<&BatteryUse> {
        self.batteries
            .iter()
            .filter(|battery| battery.drawn.base() > 0.0)
            .min_by(|a, b| a.reserve_percent.total_cmp(&b.reserve_percent))
    }
}

/// The share of a phase that gear runs, 0 to 1: what the phase says of it, else what it usually does by
/// day or in the dark, else all of it. Whether it is dark, the outing says.
pub fn share(phase: &Phase, dark: bool, gear: GearId, usually: Option<Runs>) -> f64 {
    let said = phase.duties.iter().find(|duty| duty.gear == gear).map(|duty| duty.share);
    said.unwrap_or_else(|| usually.map_or(1.0, |runs| if dark { runs.dark } else { runs.day }))
}
