//! What each rule asks a boat under 12 m to show, with its number.
//!
//! Source: Convention on the International Regulations for Preventing Collisions at Sea, rules 21 to 25 and 30 and
//! its Annex I; rule 23(a) and 30(b) for this size from memory. The law of the place decides, and can differ.

use super::sector::Sector;
use crate::plan::{Colour, Craft, Electric, Lantern, LightArc, Plan};

/// The limits of 23(d)(ii): length in m, speed in knots.
pub const SLOW: (f64, f64) = (7.0, 7.0);

/// Kilometres in a nautical mile.
const KM_PER_NM: f64 = 1.852;

/// A light by what it is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Role {
    /// White, all round the horizon.
    AllRound,
    /// White, ahead and to both sides.
    Masthead,
    /// Red.
    PortSide,
    /// Green.
    StarboardSide,
    /// White, astern.
    Stern,
    /// A white torch or lantern, ready to be shown.
    Torch,
}

impl Role {
    /// What a lantern is for, by its colour and where it shines: `None` for one that no rule knows.
    pub fn of(lantern: Lantern) -> Option<Self> {
        match (lantern.colour, lantern.arc) {
            (Colour::Amber, _) | (_, LightArc::Deck) => None,
            (Colour::Red, _) => Some(Self::PortSide),
            (Colour::Green, _) => Some(Self::StarboardSide),
            (Colour::White, LightArc::AllRound) => Some(Self::AllRound),
            (Colour::White, LightArc::Sector(from, to)) => {
                let given = Sector::between(from, to);
                match (given.contains(0.0), given.contains(180.0)) {
                    (true, false) => Some(Self::Masthead),
                    (false, true) => Some(Self::Stern),
                    _ => Some(Self::AllRound),
                }
            }
        }
    }

    /// Its arc, Rule 21.
    pub fn sector(self) -> Sector {
        match self {
            Self::AllRound | Self::Torch => Sector::WHOLE,
            Self::Masthead => Sector::between(247.5, 112.5),
            Self::PortSide => Sector::between(247.5, 360.0),
            Self::StarboardSide => Sector::between(0.0, 112.5),
            Self::Stern => Sector::between(112.5, 247.5),
        }
    }

    /// The least range on a boat under 12 m, nautical miles, Rule 22(c); none for a torch.
    pub fn range_nm(self) -> f64 {
        match self {
            Self::AllRound | Self::Masthead | Self::Stern => 2.0,
            Self::PortSide | Self::StarboardSide => 1.0,
            Self::Torch => 0.0,
        }
    }

    /// Whether it is one of the two side lights.
    pub fn is_side(self) -> bool {
        matches!(self, Self::PortSide | Self::StarboardSide)
    }

    /// The words on the screen.
    pub fn word(self) -> &'static str {
        match self {
            Self::AllRound => "all-round white light",
            Self::Masthead => "masthead light",
            Self::PortSide => "red side light to port",
            Self::StarboardSide => "green side light to starboard",
            Self::Stern => "white stern light",
            Self::Torch => "white torch, ready to be shown",
        }
    }
}

/// A light that a rule asks for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Ask {
    /// Which.
    pub role: Role,
    /// By which rule.
    pub rule: &'static str,
    /// Whether it is left out where it is not practicable.
    pub if_practicable: bool,
}

/// What a rule asks for.
pub fn asks(craft: Craft) -> Vec<Ask> {
    let all = |rule: &'static str, roles: &[Role]| {
        roles.iter().map(|role| Ask { role: *role, rule, if_practicable: false }).collect::<Vec<Ask>>()
    };
    match craft {
        Craft::OarsTorch => all("Rule 25(d)(ii)", &[Role::Torch]),
        Craft::OarsLit => all("Rule 25(d)(ii) with 25(a)", &[Role::PortSide, Role::StarboardSide, Role::Stern]),
        Craft::PowerSlow => {
            let mut asked = all("Rule 23(d)(ii)", &[Role::AllRound, Role::PortSide, Role::StarboardSide]);
            for ask in &mut asked {
                ask.if_practicable = ask.role.is_side();
            }
            asked
        }
        Craft::PowerShort => all("Rule 23(d)(i)", &[Role::AllRound, Role::PortSide, Role::StarboardSide]),
        Craft::PowerFull => all("Rule 23(a)", &[Role::Masthead, Role::PortSide, Role::StarboardSide, Role::Stern]),
        Craft::Anchored => all("Rule 30(b)", &[Role::AllRound]),
    }
}

/// The rule by which a craft shows its lights.
pub fn rule(craft: Craft) -> &'static str {
    asks(craft).first().map_or("", |ask| ask.rule)
}

/// Why a choice is not open to this boat.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum NotOpen {
    /// It is as long, m.
    TooLong(f64),
    /// It is as fast, knots.
    TooFast(f64),
}

/// Whether the choice is open to a boat of this length and greatest speed, if that is known.
pub fn not_open(craft: Craft, length_m: f64, fastest_knots: Option<f64>, (long, fast): (f64, f64)) -> Option<NotOpen> {
    if craft != Craft::PowerSlow {
        return None;
    }
    if length_m >= long {
        return Some(NotOpen::TooLong(length_m));
    }
    fastest_knots.filter(|knots| *knots > fast).map(NotOpen::TooFast)
}

/// The fastest setting of any motor aboard, knots, where one states a speed.
pub fn fastest_knots(plan: &Plan) -> Option<f64> {
    let aboard = plan.gear.iter().filter(|gear| gear.is_placed()).filter_map(|gear| gear.spec.electric.as_ref());
    let speeds = aboard.flat_map(|electric| match electric {
        Electric::Motor { settings, .. } => settings.as_slice(),
        _ => &[],
    });
    speeds.filter_map(|setting| setting.speed_kmh).map(|kmh| kmh / KM_PER_NM).reduce(f64::max)
}
