//! Every figure a person can look up or change, by reference.
//!
//! The inspector lists references, the form edits one, the `SetFigure` edit carries one; none of
//! them knows the plan's structure. Adding a figure is a row here.

mod quantity;

use std::sync::Arc;

use serde::{Deserialize, Serialize};

pub use quantity::AnyQuantity;

use super::{Electric, FeatureId, Gear, GearId, Hull, Plan, Spec, ZoneId, feature_lengths, spec};
use crate::units::{Charge, Current, Figure, Length, Mass, Origin, Price, Quantity, Resistance};

/// Names one figure of a plan.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum FigureRef {
    /// Overall length of the hull.
    HullLength,
    /// Greatest width of the hull.
    HullBeam,
    /// Mass of the bare hull.
    HullMass,
    /// The maker's greatest load.
    HullRating,
    /// Stated or marked height of the loaded waterline.
    HullWaterline,
    /// Seat surface, low setting.
    SeatLow,
    /// Seat surface, high setting.
    SeatHigh,
    /// Height of a zone.
    ZoneHeight(ZoneId),
    /// Skin thickness of a zone.
    ZoneWall(ZoneId),
    /// Clear depth behind a zone.
    ZoneInside(ZoneId),
    /// Mass of the person as dressed.
    AnglerMass,
    /// Height of the person.
    AnglerStature,
    /// Eye over the seat.
    EyeHeight,
    /// Shoulder over the seat.
    ShoulderHeight,
    /// Shoulder to grip.
    ArmToGrip,
    /// Between the shoulder joints.
    ShoulderWidth,
    /// Seat back to knee.
    KneeForward,
    /// Knee over the seat.
    KneeHeight,
    /// Mass of a piece of gear.
    GearMass(GearId),
    /// Current in ordinary use.
    GearTypical(GearId),
    /// Greatest current.
    GearPeak(GearId),
    /// Current when switched off, or a module's own draw.
    GearIdle(GearId),
    /// Capacity of a battery.
    GearCapacity(GearId),
    /// Resistance inside a battery, full and at 25 C.
    GearResistance(GearId),
    /// What age has left of a battery's label.
    GearHealth(GearId),
    /// What a piece of gear costs.
    GearPrice(GearId),
    /// Extent of a body of the gear: body number, then 0 along x, 1 across, 2 up.
    GearBody(GearId, u8, u8),
    /// A length of a feature, by its place in [`super::FeatureKind::lengths`].
    FeatureLength(FeatureId, u8),
}

/// A figure of any kind.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SoftFigure {
    /// The value in use.
    pub value: AnyQuantity,
    /// Where it comes from.
    pub origin: Origin,
    /// The value a measurement replaced.
    pub was: Option<AnyQuantity>,
}

/// A borrowed figure of any kind: what [`FigureRef`] resolves to inside a plan.
/// Its type parameters are shared or exclusive borrows of the ten kinds of storage.
enum Slot<L, M, A, C, O, E, P, R, H, X> {
    Length(L),
    Mass(M),
    Current(A),
    Charge(C),
    Optional(O),
    Extent(E),
    Plain(P),
    Resistance(R),
    Health(H),
    Price(X),
}

/// Resolves a reference inside a plan, for reading (`[] iter as_ref ..`) or for writing
/// (`[mut] iter_mut as_mut ..`): one table for both, so they cannot disagree.
macro_rules! resolve {
    ($which:expr, $plan:expr, [$($m:tt)?], $iter:ident, $as:ident, $hull:ident, $gear:ident, $spec:ident, $extent:path, $length:path) => {{
        let plan = $plan;
        match $which {
            FigureRef::HullLength => Some(Slot::Length(&$($m)? $hull(plan).length)),
            FigureRef::HullBeam => Some(Slot::Length(&$($m)? $hull(plan).beam)),
            FigureRef::HullMass => Some(Slot::Mass(&$($m)? $hull(plan).mass)),
            FigureRef::HullRating => Some(Slot::Mass(&$($m)? $hull(plan).rating)),
            FigureRef::HullWaterline => Some(Slot::Length(&$($m)? $hull(plan).waterline)),
            FigureRef::SeatLow => Some(Slot::Length(&$($m)? $hull(plan).seat.low)),
            FigureRef::SeatHigh => $hull(plan).seat.high.$as().map(Slot::Length),
            FigureRef::ZoneHeight(id) => $hull(plan).zones.$iter().find(|z| z.id == id).map(|z| Slot::Length(&$($m)? z.height)),
            FigureRef::ZoneWall(id) => $hull(plan).zones.$iter().find(|z| z.id == id).map(|z| Slot::Length(&$($m)? z.wall)),
            FigureRef::ZoneInside(id) => $hull(plan).zones.$iter().find(|z| z.id == id).map(|z| Slot::Length(&$($m)? z.inside)),
            FigureRef::AnglerMass => Some(Slot::Mass(&$($m)? plan.angler.mass)),
            FigureRef::AnglerStature => Some(Slot::Length(&$($m)? plan.angler.stature)),
            FigureRef::EyeHeight => Some(Slot::Optional(&$($m)? plan.angler.measured.eye_height)),
            FigureRef::ShoulderHeight => Some(Slot::Optional(&$($m)? plan.angler.measured.shoulder_height)),
            FigureRef::ArmToGrip => Some(Slot::Optional(&$($m)? plan.angler.measured.arm_to_grip)),
            FigureRef::ShoulderWidth => Some(Slot::Optional(&$($m)? plan.angler.measured.shoulder_width)),
            FigureRef::KneeForward => Some(Slot::Optional(&$($m)? plan.angler.measured.knee_forward)),
            FigureRef::KneeHeight => Some(Slot::Optional(&$($m)? plan.angler.measured.knee_height)),
            FigureRef::GearMass(id) => plan.$gear(id).map(|g| Slot::Mass(&$($m)? $spec(g).mass)),
            FigureRef::GearTypical(id) => match plan.$gear(id).and_then(|g| $spec(g).electric.$as()) {
                Some(Electric::Load { typical, .. }) => Some(Slot::Current(typical)),
                _ => None,
            },
            FigureRef::GearPeak(id) => match plan.$gear(id).and_then(|g| $spec(g).electric.$as()) {
                Some(Electric::Load { peak, .. }) => Some(Slot::Current(peak)),
                _ => None,
            },
            FigureRef::GearIdle(id) => match plan.$gear(id).and_then(|g| $spec(g).electric.$as()) {
                Some(Electric::Load { standby: idle, .. } | Electric::Converter { idle, .. } | Electric::Switch { idle, .. }) => {
                    Some(Slot::Current(idle))
                }
                _ => None,
            },
            FigureRef::GearCapacity(id) => match plan.$gear(id).and_then(|g| $spec(g).electric.$as()) {
                Some(Electric::Battery { capacity, .. }) => Some(Slot::Charge(capacity)),
                _ => None,
            },
            FigureRef::GearResistance(id) => match plan.$gear(id).and_then(|g| $spec(g).electric.$as()) {
                Some(Electric::Battery { resistance, .. }) => Some(Slot::Resistance(resistance)),
                _ => None,
            },
            FigureRef::GearHealth(id) => match plan.$gear(id).and_then(|g| $spec(g).electric.$as()) {
                Some(Electric::Battery { health_percent, .. }) => Some(Slot::Health(health_percent)),
                _ => None,
            },
            FigureRef::GearPrice(id) => plan.$gear(id).map(|g| Slot::Price(&$($m)? $spec(g).price)),
            FigureRef::GearBody(id, number, axis) => plan
                .$gear(id)
                .and_then(|g| $spec(g).bodies.$iter().nth(usize::from(number)))
                .map(|body| Slot::Extent($extent(&$($m)? body.shape, axis))),
            FigureRef::FeatureLength(id, number) => {
                let feature = $hull(plan).features.$iter().find(|f| f.id == id);
                feature.and_then(|f| $length(&$($m)? f.kind, number)).map(Slot::Plain)
            }
        }
    }};
}

fn hull(plan: &Plan) -> &Hull {
    &plan.hull
}

fn hull_mut(plan: &mut Plan) -> &mut Hull {
    Arc::make_mut(&mut plan.hull)
}

fn spec_of(gear: &Gear) -> &Spec {
    &gear.spec
}

fn spec_of_mut(gear: &mut Gear) -> &mut Spec {
    Arc::make_mut(&mut gear.spec)
}

impl FigureRef {
    /// What the figure is called on screen.
    pub fn label(self) -> &'static str {
        match self {
            Self::HullLength => "length",
            Self::HullBeam => "beam",
            Self::HullMass | Self::GearMass(_) => "mass",
            Self::HullRating => "rated load",
            Self::HullWaterline => "loaded waterline",
            Self::SeatLow => "seat height, low",
            Self::SeatHigh => "seat height, high",
            Self::ZoneHeight(_) => "height",
            Self::ZoneWall(_) => "wall",
            Self::ZoneInside(_) => "clear depth inside",
            Self::AnglerMass => "mass as dressed",
            Self::AnglerStature => "stature",
            Self::EyeHeight => "eye over seat",
            Self::ShoulderHeight => "shoulder over seat",
            Self::ArmToGrip => "shoulder to grip",
            Self::ShoulderWidth => "shoulder width",
            Self::KneeForward => "seat back to knee",
            Self::KneeHeight => "knee over seat",
            Self::GearTypical(_) => "current, ordinary",
            Self::GearPeak(_) => "current, peak",
            Self::GearIdle(_) => "current, standby",
            Self::GearCapacity(_) => "capacity",
            Self::GearResistance(_) => "resistance inside",
            Self::GearHealth(_) => "left by age",
            Self::GearPrice(_) => "price",
            Self::GearBody(_, _, 0) => "extent along",
            Self::GearBody(_, _, 1) => "extent across",
            Self::GearBody(..) => "extent up",
            Self::FeatureLength(..) => "a length of the feature",
        }
    }

    /// Least and greatest value accepted, in the base unit.
    ///
    /// Source: common practice, no source: a wide frame around small boats and their gear.
    pub fn range(self) -> (f64, f64) {
        match self {
            Self::HullLength => (1500.0, 7000.0),
            Self::HullBeam => (400.0, 1500.0),
            Self::HullMass => (5.0, 200.0),
            Self::HullRating => (30.0, 600.0),
            Self::HullWaterline | Self::SeatLow | Self::SeatHigh => (0.0, 1500.0),
            Self::ZoneHeight(_) => (0.0, 1500.0),
            Self::ZoneWall(_) => (0.5, 60.0),
            Self::ZoneInside(_) => (0.0, 1000.0),
            Self::AnglerMass => (20.0, 250.0),
            Self::AnglerStature => (1000.0, 2300.0),
            Self::EyeHeight | Self::ShoulderHeight | Self::ArmToGrip => (200.0, 1200.0),
            Self::ShoulderWidth => (200.0, 700.0),
            Self::KneeForward | Self::KneeHeight => (0.0, 1000.0),
            Self::GearMass(_) => (0.0, 150.0),
            Self::GearTypical(_) | Self::GearPeak(_) | Self::GearIdle(_) => (0.0, 200.0),
            Self::GearCapacity(_) => (0.5, 500.0),
            Self::GearResistance(_) => (0.0, 2.0),
            Self::GearHealth(_) => (10.0, 100.0),
            Self::GearPrice(_) => (0.0, Price::MOST),
            Self::GearBody(..) => (1.0, 4000.0),
            Self::FeatureLength(..) => (0.0, 4000.0),
        }
    }

    /// The figures of a piece of gear, in the order they are listed.
    pub fn of_gear(plan: &Plan, id: GearId) -> Vec<Self> {
        let Some(gear) = plan.gear(id) else { return Vec::new() };
        let mut refs = vec![Self::GearMass(id)];
        match gear.spec.electric {
            Some(Electric::Load { .. }) => refs.extend([Self::GearTypical(id), Self::GearPeak(id), Self::GearIdle(id)]),
            Some(Electric::Battery { .. }) => {
                refs.extend([Self::GearCapacity(id), Self::GearResistance(id), Self::GearHealth(id)]);
            }
            Some(Electric::Converter { .. } | Electric::Switch { .. }) => refs.push(Self::GearIdle(id)),
            _ => {}
        }
        for body in 0..gear.spec.bodies.len().min(8) as u8 {
            refs.extend((0..3).map(|axis| Self::GearBody(id, body, axis)));
        }
        refs.push(Self::GearPrice(id));
        refs
    }

    /// The figures of the hull as a whole.
    pub fn of_hull(plan: &Plan) -> Vec<Self> {
        let mut refs = vec![
            Self::HullLength,
            Self::HullBeam,
            Self::HullMass,
            Self::HullRating,
            Self::HullWaterline,
            Self::SeatLow,
        ];
        if plan.hull.seat.high.is_some() {
            refs.push(Self::SeatHigh);
        }
        refs
    }

    /// The figures of a zone.
    pub fn of_zone(id: ZoneId) -> Vec<Self> {
        vec![Self::ZoneHeight(id), Self::ZoneWall(id), Self::ZoneInside(id)]
    }

    /// The lengths of a feature.
    pub fn of_feature(plan: &Plan, id: FeatureId) -> Vec<Self> {
        let count = plan.feature(id).map_or(0, |feature| feature.kind.lengths().len());
        (0..count as u8).map(|number| Self::FeatureLength(id, number)).collect()
    }

    /// The figures of the person.
    pub fn of_angler() -> Vec<Self> {
        vec![
            Self::AnglerMass,
            Self::AnglerStature,
            Self::EyeHeight,
            Self::ShoulderHeight,
            Self::ArmToGrip,
            Self::ShoulderWidth,
            Self::KneeForward,
            Self::KneeHeight,
        ]
    }

    /// The figure's present value. `None` when the plan has no such figure, or for one that may be left out and was
    /// not measured: a length of the body, a battery's resistance and age.
    pub fn get(self, plan: &Plan) -> Option<SoftFigure> {
        let soft = |value, origin, was| SoftFigure { value, origin, was };
        Some(
            match resolve!(self, plan, [], iter, as_ref, hull, gear, spec_of, spec::extent, feature_lengths::length)? {
                Slot::Length(f) => soft(AnyQuantity::Length(f.value), f.origin, f.was.map(AnyQuantity::Length)),
                Slot::Mass(f) => soft(AnyQuantity::Mass(f.value), f.origin, f.was.map(AnyQuantity::Mass)),
                Slot::Current(f) => soft(AnyQuantity::Current(f.value), f.origin, f.was.map(AnyQuantity::Current)),
                Slot::Charge(f) => soft(AnyQuantity::Charge(f.value), f.origin, f.was.map(AnyQuantity::Charge)),
                Slot::Optional(o) => soft(AnyQuantity::Length((*o)?), Origin::Measured, None),
                Slot::Extent(mm) => soft(AnyQuantity::Length(Length::mm(*mm)), Origin::Catalogue, None),
                Slot::Plain(l) => soft(AnyQuantity::Length(*l), Origin::Catalogue, None),
                Slot::Resistance(o) => {
                    let f = (*o)?;
                    soft(AnyQuantity::Resistance(f.value), f.origin, f.was.map(AnyQuantity::Resistance))
                }
                Slot::Health(o) => soft(AnyQuantity::Percent((*o)?), Origin::Measured, None),
                Slot::Price(o) => soft(AnyQuantity::Price((*o)?), Origin::Measured, None),
            },
        )
    }

    /// Sets the figure. False when the plan has no such figure or the quantity is of another kind.
    pub fn set(self, plan: &mut Plan, value: AnyQuantity, origin: Origin) -> bool {
        fn put<Q: Quantity>(figure: &mut Figure<Q>, value: Q, origin: Origin) {
            *figure = match origin {
                Origin::Measured => figure.measured_over(value),
                origin => Figure { value, origin, spread: None, was: None },
            };
        }
        let Some(slot) = resolve!(self, plan, [mut], iter_mut, as_mut, hull_mut, gear_mut, spec_of_mut, spec::extent_mut, feature_lengths::length_mut)
        else {
            return false;
        };
        match (slot, value) {
            (Slot::Length(f), AnyQuantity::Length(q)) => put(f, q, origin),
            (Slot::Mass(f), AnyQuantity::Mass(q)) => put(f, q, origin),
            (Slot::Current(f), AnyQuantity::Current(q)) => put(f, q, origin),
            (Slot::Charge(f), AnyQuantity::Charge(q)) => put(f, q, origin),
            (Slot::Optional(o), AnyQuantity::Length(q)) => *o = Some(q),
            (Slot::Extent(mm), AnyQuantity::Length(q)) => *mm = q.to_mm(),
            (Slot::Plain(l), AnyQuantity::Length(q)) => *l = q,
            (Slot::Resistance(Some(f)), AnyQuantity::Resistance(q)) => put(f, q, origin),
            (Slot::Resistance(o), AnyQuantity::Resistance(value)) => {
                *o = Some(Figure { value, origin, spread: None, was: None });
            }
            (Slot::Health(o), AnyQuantity::Percent(share)) => *o = Some(share),
            (Slot::Price(o), AnyQuantity::Price(price)) => *o = Some(price),
            _ => return false,
        }
        true
    }

    /// A quantity of the kind this figure takes: zero, for a form that starts empty.
    pub fn kind(self) -> AnyQuantity {
        match self {
            Self::HullMass | Self::HullRating | Self::AnglerMass | Self::GearMass(_) => {
                AnyQuantity::Mass(Mass::kg(0.0))
            }
            Self::GearTypical(_) | Self::GearPeak(_) | Self::GearIdle(_) => AnyQuantity::Current(Current::amps(0.0)),
            Self::GearCapacity(_) => AnyQuantity::Charge(Charge::amp_hours(0.0)),
            Self::GearResistance(_) => AnyQuantity::Resistance(Resistance::ohms(0.0)),
            Self::GearHealth(_) => AnyQuantity::Percent(0.0),
            Self::GearPrice(_) => AnyQuantity::Price(Price::default()),
            _ => AnyQuantity::Length(Length::mm(0.0)),
        }
    }
}
