//! Back-up: what is lost when one part fails, what then is missing to get home, and the spares to carry.
//!
//! One part fails at a time: a battery, a main fuse, a circuit's fuse, a switch unit, a converter, the cells of a remote
//! or the phone that switches. A circuit without a fuse has none to blow and a breaker is set again; neither is a part
//! here. A need is met by all gear that serves it, and is lost when the part takes every piece of it.

mod parts;
pub mod spares;

use std::collections::BTreeSet;

use self::parts::failures;
use self::spares::{Spare, spares};
use super::power::Power;
use super::wiring::Wiring;
use crate::plan::{CircuitId, Colour, Electric, Gear, GearId, Kind, LightArc, Plan};
use crate::units::{Current, Quantity, amount};

/// What is lost when one part fails, and the spares to carry.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Backup {
    /// Every part that takes something with it, batteries first.
    pub failures: Vec<Failure>,
    /// The needs that hang on the wiring.
    pub needs: Vec<Served>,
    /// Spare parts for what is aboard.
    pub spares: Vec<Spare>,
}

/// A need and what serves it.
#[derive(Clone, Debug, PartialEq)]
pub struct Served {
    /// The need.
    pub need: Need,
    /// Everything placed that serves it, with the boat's wiring or without.
    pub by: BTreeSet<GearId>,
}

/// One part and what fails with it.
#[derive(Clone, Debug, PartialEq)]
pub struct Failure {
    /// The part.
    pub part: Part,
    /// The loads and motors that stop, and the phone if it is the part. What goes on with cells of its own is not lost.
    pub lost: BTreeSet<GearId>,
    /// The needs that nothing aboard meets any more.
    pub needs: Vec<Need>,
    /// Another battery aboard that can be plugged in for one that fails. Then no need is lost.
    pub other_battery: Option<GearId>,
}

/// A part that can fail.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Part {
    /// A battery.
    Battery(GearId),
    /// The main fuse of this battery, A.
    MainFuse(GearId, Current),
    /// A switch unit.
    SwitchUnit(GearId),
    /// The cells of the remote of this gear.
    Remote(GearId),
    /// The phone that switches; its number where it is in the plan.
    Phone(Option<GearId>),
    /// The fuse of a circuit, A.
    Fuse(CircuitId, Current),
    /// A converter.
    Converter(GearId),
}

/// What a boat needs in the dark and to get home. Source: common practice, no source.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Need {
    /// To be seen in the dark.
    Lights,
    /// To move.
    Drive,
    /// To get water out.
    Pump,
    /// To call for help.
    Call,
}

impl Need {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::Lights, Self::Drive, Self::Pump, Self::Call];

    /// The word on paper and for programs.
    pub fn word(self) -> &'static str {
        match self {
            Self::Lights => "lights",
            Self::Drive => "drive",
            Self::Pump => "pump",
            Self::Call => "call",
        }
    }

    /// What serves this need. `None` when the day does not ask for it or nothing for it hangs on the wiring: then no
    /// part takes it.
    fn served(self, plan: &Plan, power: &Power) -> Option<Served> {
        let fed = |gear: &Gear| power.load(gear.id).is_some_and(|load| load.battery.is_some());
        let serves = |gear: &&Gear| gear.is_placed() && self.is_for(gear) && (runs_alone(gear) || fed(gear));
        let by: Vec<&Gear> = plan.gear.iter().filter(serves).collect();
        let hangs_on_wiring = by.iter().any(|gear| !runs_alone(gear));
        (hangs_on_wiring && self.is_asked(plan))
            .then(|| Served { need: self, by: by.iter().map(|gear| gear.id).collect() })
    }

    /// Light is asked for when part of the day is dark; a boat that is pedalled gets home without its motor.
    fn is_asked(self, plan: &Plan) -> bool {
        match self {
            Self::Lights => (0..plan.outing.phases.len()).any(|phase| plan.outing.is_dark(phase)),
            Self::Drive => plan.hull.pedals.is_none(),
            Self::Pump | Self::Call => true,
        }
    }

    fn is_for(self, gear: &Gear) -> bool {
        let kind = gear.spec.kind;
        match self {
            Self::Lights => is_navigation_light(gear) || is_torch(gear),
            Self::Drive => matches!(kind, Kind::Motor | Kind::Paddle),
            Self::Pump => kind == Kind::Pump,
            Self::Call => matches!(kind, Kind::Radio | Kind::Phone),
        }
    }
}

/// Whether it shows a light to others, not to the deck.
fn is_navigation_light(gear: &Gear) -> bool {
    gear.spec.light.is_some_and(|light| !matches!(light.arc, LightArc::Deck))
}

/// Whether it is a white light with cells of its own, whatever it shines on.
fn is_torch(gear: &Gear) -> bool {
    gear.spec.light.is_some_and(|light| light.own_cells && light.colour == Colour::White)
}

/// Whether gear works without the boat's wiring: it draws nothing, or has cells of its own as every phone has.
fn runs_alone(gear: &Gear) -> bool {
    let draws = matches!(gear.spec.electric, Some(Electric::Load { .. } | Electric::Motor { .. }));
    !draws || gear.spec.kind == Kind::Phone || gear.spec.light.is_some_and(|light| light.own_cells)
}

impl Backup {
    /// Lets each part of a plan fail in turn.
    pub fn of(plan: &Plan, power: &Power, wiring: &Wiring) -> Self {
        let needs: Vec<Served> = Need::ALL.into_iter().filter_map(|need| need.served(plan, power)).collect();
        let mut failures = failures(plan, power, wiring);
        for failure in failures.iter_mut().filter(|failure| failure.other_battery.is_none()) {
            let gone = needs.iter().filter(|served| served.by.is_subset(&failure.lost));
            failure.needs = gone.map(|served| served.need).collect();
        }
        Self { failures, needs, spares: spares(plan, wiring) }
    }

    /// The parts that each take this need away.
    pub fn taking(&self, need: Need) -> impl Iterator<Item = &Failure> {
        self.failures.iter().filter(move |failure| failure.needs.contains(&need))
    }
}

impl Part {
    /// The part in words: `the main fuse of battery (20 A)`.
    pub fn words(self, plan: &Plan) -> String {
        let label = |gear: GearId| plan.gear(gear).map_or_else(|| gear.to_string(), |gear| gear.label.to_string());
        match self {
            Self::Battery(gear) | Self::SwitchUnit(gear) | Self::Converter(gear) => label(gear),
            Self::MainFuse(battery, fuse) => format!("the main fuse of {} ({})", label(battery), fuse_words(fuse)),
            Self::Remote(gear) => format!("the cells of the remote of {}", label(gear)),
            Self::Phone(gear) => gear.map_or("the phone that switches".into(), label),
            Self::Fuse(circuit, fuse) => {
                let name = plan.wiring.circuit(circuit).map_or_else(|| circuit.to_string(), |c| c.name.to_string());
                format!("the fuse of \"{name}\" ({})", fuse_words(fuse))
            }
        }
    }
}

/// A fuse's size as it stands on the fuse: `3 A`, `7.5 A`.
pub fn fuse_words(fuse: Current) -> String {
    amount(fuse, u8::from(fuse.base().fract() != 0.0))
}
