//! What the day takes out of the batteries: bookkeeping of ampere-hours.

use crate::plan::{CircuitId, GearId, Plan};
use crate::units::{Charge, Current, Duration, Energy, Origin};

/// What the day takes out of the batteries.
#[derive(Clone, Debug, Default)]
pub struct Power {
    /// Every placed load.
    pub loads: Vec<LoadUse>,
    /// Every phase of the outing.
    pub phases: Vec<PhaseUse>,
    /// Every circuit.
    pub circuits: Vec<CircuitUse>,
    /// Every placed battery.
    pub batteries: Vec<BatteryUse>,
    /// Charge taken over the whole day.
    pub total: Charge,
    /// Energy taken over the whole day.
    pub energy: Energy,
    /// Everything on, ordinary use.
    pub typical: Current,
    /// Everything at its peak.
    pub peak: Current,
}

/// What one load takes. Currents as seen by the battery, converter losses included.
#[derive(Clone, Debug, PartialEq)]
pub struct LoadUse {
    /// The load.
    pub gear: GearId,
    /// Its circuit, if it is on one.
    pub circuit: Option<CircuitId>,
    /// The battery that feeds it.
    pub battery: Option<GearId>,
    /// Through this converter, if any.
    pub converter: Option<GearId>,
    /// Current in ordinary use.
    pub typical: Current,
    /// Greatest current.
    pub peak: Current,
    /// Hours it runs over the day.
    pub hours: Duration,
    /// Charge over the day, standby included.
    pub charge: Charge,
    /// Energy over the day.
    pub energy: Energy,
    /// Where the current comes from.
    pub origin: Origin,
}

/// What one phase of the outing takes.
#[derive(Clone, Debug, PartialEq)]
pub struct PhaseUse {
    /// Index in the outing.
    pub phase: usize,
    /// Charge over the phase.
    pub charge: Charge,
    /// Energy over the phase.
    pub energy: Energy,
    /// Mean current.
    pub mean: Current,
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
    /// Capacity on the label.
    pub nominal: Charge,
    /// What of it may be used: depth of discharge and cold.
    pub usable: Charge,
    /// What the day takes.
    pub drawn: Charge,
    /// What is left of the usable charge, percent of it; negative when the day takes more.
    pub reserve_percent: f64,
    /// How long the usable charge lasts with the day's mean current; `None` without a load.
    pub lasts: Option<Duration>,
    /// Greatest current asked of it.
    pub peak: Current,
}

impl Power {
    /// Keeps the books for the plan's outing.
    pub fn of(_plan: &Plan) -> Self {
        Self::default()
    }
}
