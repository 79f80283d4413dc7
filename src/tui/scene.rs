//! What the pictures of the boat are drawn from: everything borrowed, nothing decided here.

use super::bands::Bands;
use super::company::Pointed;
use super::compared::Compared;
use super::glyphs::Glyph;
use super::voice::Pinned;
use crate::checks::{Finding, Severity, Subject};
use crate::geometry::{Form, Spot};
use crate::plan::{FeatureId, Gear, GearId, Kind, Plan};
use crate::study::Study;
use crate::study::cables::CableRef;
use crate::study::rig::RigItem;
use crate::units::Measure;

use super::theme::Role;

/// What the deck and the profile show.
#[derive(Clone, Copy, Debug)]
pub struct Scene<'a> {
    /// What the person decided.
    pub plan: &'a Plan,
    /// What follows from it.
    pub study: &'a Study,
    /// The verdicts, heaviest first.
    pub findings: &'a [Finding],
    /// Where the cursor is, if it is shown.
    pub cursor: Option<Spot>,
    /// What is selected here or in a panel.
    pub selected: Option<Subject>,
    /// Gear that the last edit touched: bright until the next.
    pub changed: &'a [GearId],
    /// Where threads wait.
    pub pinned: &'a [Pinned],
    /// Where others are who have the plan open, by a letter.
    pub others: &'a [(char, Spot)],
    /// What somebody points at.
    pub points: &'a [Pointed],
    /// Gear in hand.
    pub ghost: Option<Ghost<'a>>,
    /// The cable that is lit.
    pub cable: Option<CableRef>,
    /// What is laid over the picture.
    pub overlays: Overlays<'a>,
    /// Metric or inches.
    pub tape: Measure,
}

/// Gear in hand, at the cursor.
#[derive(Clone, Copy, Debug)]
pub struct Ghost<'a> {
    /// The gear, with the placement it would get.
    pub gear: &'a Gear,
    /// The same in the boat frame.
    pub item: &'a RigItem,
    /// The heaviest thing that speaks against it; `Stop` when it is not held.
    pub against: Option<Severity>,
}

/// What is laid over the picture; any of them together.
#[derive(Clone, Copy, Debug, Default)]
pub struct Overlays<'a> {
    /// What is under the deck comes forward: foam and gear inside.
    pub inside: bool,
    /// How far the hands reach at deck height.
    pub bands: Option<&'a Bands>,
    /// The space that motions need.
    pub envelopes: bool,
    /// Holes bright, all else dim.
    pub holes: bool,
    /// Where the hull meets the water, deck below it, how high holes are over it.
    pub water: bool,
    /// The ways of cables, and what they go round inside.
    pub cables: bool,
    /// Another state of the plan.
    pub compared: Option<&'a Compared>,
}

impl<'a> Scene<'a> {
    /// A plan and its study with nothing selected and nothing laid over.
    pub fn plain(plan: &'a Plan, study: &'a Study, findings: &'a [Finding]) -> Self {
        Self {
            plan,
            study,
            findings,
            cursor: None,
            selected: None,
            changed: &[],
            pinned: &[],
            others: &[],
            points: &[],
            ghost: None,
            cable: None,
            overlays: Overlays::default(),
            tape: Measure::default(),
        }
    }

    /// The placed gear with its place in the boat frame, in the plan's order.
    pub(super) fn placed(&self) -> impl Iterator<Item = (&'a Gear, &'a RigItem)> + use<'a> {
        let (plan, study) = (self.plan, self.study);
        // A rig of another plan must not bring the picture down.
        study.rig.items.iter().filter_map(move |item| Some((plan.gear(item.gear)?, item)))
    }

    /// The role of a piece of gear's edge.
    pub(super) fn rim(&self, gear: GearId) -> Role {
        if self.lights(gear) {
            Role::Selected
        } else if self.changed.contains(&gear) {
            Role::Changed
        } else {
            Role::GearRim
        }
    }

    /// Whether a piece of gear is what is selected, or hangs on the circuit that is.
    fn lights(&self, gear: GearId) -> bool {
        match self.selected {
            Some(Subject::Circuit(id)) => {
                self.plan.wiring.circuit(id).is_some_and(|circuit| circuit.loads.contains(&gear))
            }
            selected => selected.and_then(Subject::gear) == Some(gear),
        }
    }

    /// The hull's form, as it floats.
    pub(super) fn form(&self) -> &'a Form {
        self.study.shape.form()
    }

    /// Whether a scupper lets water in.
    pub(super) fn lets_water_in(&self, scupper: FeatureId) -> bool {
        self.study.float.levels.scuppers.iter().any(|s| s.feature == scupper && s.height_mm < 0.0)
    }

    /// The look of a scupper, by whether it lets water in.
    pub(super) fn scupper_look(&self, scupper: FeatureId) -> (Glyph, Role) {
        match (self.lets_water_in(scupper), self.selected == Some(Subject::Feature(scupper))) {
            (true, false) => (Glyph::ScupperWet, Role::Waterline),
            (true, true) => (Glyph::ScupperWet, Role::Selected),
            (false, false) => (Glyph::Scupper, Role::Fitting),
            (false, true) => (Glyph::Scupper, Role::Selected),
        }
    }

    /// Whether a stop stands against a piece of gear.
    pub(super) fn stopped(&self, gear: GearId) -> bool {
        self.findings.iter().any(|f| f.severity == Severity::Stop && f.subject.gear() == Some(gear))
    }
}

impl Ghost<'_> {
    /// Its role: loud only when it cannot stay there.
    pub(super) fn role(&self) -> Role {
        match self.against {
            Some(Severity::Stop) => Role::GhostStop,
            Some(Severity::Caution) => Role::Caution,
            _ => Role::Ghost,
        }
    }
}

/// The family of a sort of gear.
pub fn family(kind: Kind) -> Role {
    match kind {
        Kind::Display | Kind::Transducer | Kind::BlackBox | Kind::Sensor | Kind::Radio | Kind::Phone | Kind::Camera => {
            Role::Screen
        }
        Kind::Battery | Kind::Converter | Kind::SwitchUnit | Kind::Protection => Role::Power,
        Kind::RodHolder | Kind::Rod | Kind::Landing | Kind::Anchor => Role::Tackle,
        Kind::Storage | Kind::Cooler | Kind::Livewell => Role::Stow,
        Kind::Motor | Kind::Paddle | Kind::Cart | Kind::Pump => Role::Drive,
        Kind::Boom
        | Kind::Light
        | Kind::Track
        | Kind::Base
        | Kind::Gland
        | Kind::PowerPort
        | Kind::InspectionPort
        | Kind::Hardware
        | Kind::Safety
        | Kind::Other => Role::Fixing,
    }
}
