//! Lights: who sees them from where, by what they are hidden, and what the rule that was chosen asks for.
//!
//! Every lantern of the placed gear is held against the arc of its role; bodies of other gear and of the person, as
//! seated or standing in the dark, hide sectors of it. Rods count where they are placed; the hull does not, nor does
//! anything inside it or under it. All of it is an estimate that defers to the law of the place.

pub mod glare;
pub mod higher;
pub mod people;
pub mod range;
pub mod rules;
pub mod sector;
pub mod shadow;

use super::body::Seated;
use super::chosen;
use super::float::Float;
use super::rig::{Rig, RigItem};
use crate::geometry::{Point, Solid, Spot, WaterPlane, turned};
use crate::plan::{Colour, Craft, GearId, Kind, Lantern, Level, Light, LightArc, Plan};
use crate::units::{Duration, Quantity};
use glare::Glare;
use higher::Way;
use people::{Person, Stance};
use rules::{Ask, NotOpen, Role};
use sector::{Sector, sum};
use shadow::{Lamp, shadow};

/// Hidden sectors of an all-round light that are borne, degrees together. COLREG Annex I 9(b)(i).
pub const HIDDEN_DEG: f64 = 6.0;

/// An all-round light over the head with a cap, mm. Common practice, no source.
pub const OVER_HEAD_MM: f64 = 100.0;

/// For so many lanterns a place is looked for where they would pass: each look tries many places, and no boat has more
/// lights than this that are worth moving one by one.
pub const MOST_WAYS: usize = 6;

/// Everything about the lights.
#[derive(Clone, Debug, PartialEq)]
pub struct Lights {
    /// What the boat counts as, as chosen.
    pub craft: Option<Craft>,
    /// How long it is dark.
    pub dark: Duration,
    /// How the person is in the dark, and how high the head then is, mm over the baseline.
    pub stances: Vec<(Stance, f64)>,
    /// How far the deck is off level at rest, degrees: what trim and heel take of the 5 up and down.
    pub off_level_deg: f64,
    /// Every lantern that is placed and shows outward.
    pub lanterns: Vec<Shown>,
    /// What the chosen rule asks for.
    pub asked: Vec<Asked>,
    /// Why the chosen rule is not open to this boat.
    pub not_open: Option<NotOpen>,
    /// Lights that shine into the eyes.
    pub glare: Vec<Glare>,
    /// A white light aboard that needs neither wiring nor battery of the boat, besides those the rule asks for.
    pub spare: Option<GearId>,
}

/// One lantern of a light: one colour and one arc.
#[derive(Clone, Debug, PartialEq)]
pub struct Shown {
    /// Which gear.
    pub gear: GearId,
    /// Its colour.
    pub colour: Colour,
    /// What it is for.
    pub role: Role,
    /// The sector it shines in, turned with its mount.
    pub given: Sector,
    /// How far it is seen across the bow before it is cut off, degrees, if known; for side lights.
    pub across_bow_deg: Option<f64>,
    /// Parts of the arc of its role in which it does not shine.
    pub missing: Vec<Sector>,
    /// Light centre, mm in the boat frame.
    pub at: Point,
    /// Its height over the gunwale there, mm.
    pub over_gunwale_mm: Option<f64>,
    /// Its height over the higher side light, mm; for white ones.
    pub over_sides_mm: Option<f64>,
    /// Its range, nautical miles: by its intensity where that is known, else as stated.
    pub range_nm: Option<f64>,
    /// What each body hides of its arc.
    pub shadows: Vec<Shadow>,
    /// What is hidden of its arc in each stance, overlaps counted once, in the order of [`Lights::stances`].
    pub hidden: Vec<(Stance, Vec<Sector>)>,
    /// Where it would pass, if it does not where it is.
    pub way: Option<Way>,
}

/// What one body hides of a light's arc.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shadow {
    /// Whose body.
    pub by: Blocker,
    /// The hidden sector.
    pub sector: Sector,
}

/// What stands in a light's way.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Blocker {
    /// Other gear.
    Gear(GearId),
    /// The person.
    Person(Stance),
}

/// A light that the rule asks for, and what of it is there.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Asked {
    /// What is asked for.
    pub ask: Ask,
    /// What is there.
    pub met: Met,
}

/// Whether a light that is asked for is there.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Met {
    /// It is.
    By(GearId),
    /// It is, and is not seen as far as it must be, nautical miles.
    Short(GearId, f64),
    /// It is not.
    Not,
}

impl Lights {
    /// Looks at the lights of the placed gear.
    pub fn of(plan: &Plan, rig: &Rig, body: &Seated, float: &Float) -> Self {
        let outing = &plan.outing;
        let dark: Vec<usize> = (0..outing.phases.len()).filter(|phase| outing.is_dark(*phase)).collect();
        let stances = stances(plan, &dark);
        let people: Vec<(Stance, Person)> =
            stances.into_iter().map(|stance| (stance, Person::of(plan, body, stance))).collect();
        let water = float.levels.rest;
        let scene = Scene::of(plan, rig, &people, &water);
        let mut lanterns: Vec<Shown> = lit(plan, rig).flat_map(|(item, light)| scene.shown(item, light)).collect();
        scene.find_ways(&mut lanterns);
        let highest = lanterns.iter().filter(|shown| shown.role.is_side()).map(|shown| shown.at.z);
        if let Some(highest) = highest.reduce(f64::max) {
            for shown in lanterns.iter_mut().filter(|shown| shown.colour == Colour::White) {
                shown.over_sides_mm = Some(shown.at.z - highest);
            }
        }
        let asked = asked(plan, &lanterns, torch(plan, None));
        let slow =
            (chosen(plan, "light-missing.length", rules::SLOW.0), chosen(plan, "light-missing.speed", rules::SLOW.1));
        let length = plan.hull.length.value.to_m();
        Self {
            craft: outing.craft,
            dark: dark.iter().map(|phase| outing.phases[*phase].hours).sum(),
            stances: people.iter().map(|(stance, person)| (*stance, person.crown.z)).collect(),
            off_level_deg: scene.off_level_deg(),
            spare: torch(plan, Some(&asked)),
            not_open: outing.craft.and_then(|craft| rules::not_open(craft, length, rules::fastest_knots(plan), slow)),
            glare: glare::of(plan, rig, body),
            asked,
            lanterns,
        }
    }

    /// Whether lights matter: a part of the day is dark, or a craft state was chosen.
    pub fn matter(&self) -> bool {
        self.craft.is_some() || self.dark.to_hours() > 0.0
    }
}

impl Shown {
    /// The stance in which most of its arc is hidden, and how much, degrees.
    pub fn worst(&self) -> Option<(Stance, f64, &[Sector])> {
        let each = self.hidden.iter().map(|(stance, parts)| (*stance, sum(parts), parts.as_slice()));
        each.reduce(|a, b| if b.1 > a.1 + 1.0e-9 { b } else { a })
    }

    /// How much of its arc is hidden in a stance, degrees.
    pub fn hidden_deg(&self, stance: Stance) -> f64 {
        self.hidden.iter().find(|(of, _)| *of == stance).map_or(0.0, |(_, parts)| sum(parts))
    }

    /// Who hides something of it in a stance, the widest shadow first, each once.
    pub fn blockers(&self, stance: Stance) -> Vec<Blocker> {
        let mut widths: Vec<(Blocker, f64)> = Vec::new();
        for shadow in self.shadows.iter().filter(|shadow| shadow.by.counts_in(stance)) {
            match widths.iter_mut().find(|(by, _)| *by == shadow.by) {
                Some((_, width)) => *width = width.max(shadow.sector.sweep_deg),
                None => widths.push((shadow.by, shadow.sector.sweep_deg)),
            }
        }
        widths.sort_by(|a, b| b.1.total_cmp(&a.1).then(a.0.cmp(&b.0)));
        widths.into_iter().map(|(by, _)| by).collect()
    }
}

impl Blocker {
    /// As a person knows it: `crate`, `the seated angler`.
    pub fn named(self, plan: &Plan) -> String {
        match self {
            Self::Gear(id) => plan.gear(id).map_or_else(|| id.to_string(), |gear| gear.label.to_string()),
            Self::Person(stance) => stance.angler().into(),
        }
    }

    /// Whether it is there in a stance: gear always is.
    pub fn counts_in(self, stance: Stance) -> bool {
        match self {
            Self::Gear(_) => true,
            Self::Person(of) => of == stance,
        }
    }
}

/// How the person is in the dark phases, each stance once; as the seat is set where no phase is dark.
fn stances(plan: &Plan, dark: &[usize]) -> Vec<Stance> {
    let mut found: Vec<Stance> = dark.iter().map(|phase| Stance::of(plan.outing.phases[*phase].posture)).collect();
    found.sort_unstable();
    found.dedup();
    if found.is_empty() { vec![Stance::Seated] } else { found }
}

/// Placed gear that shows a light, on deck.
fn lit<'a>(plan: &'a Plan, rig: &'a Rig) -> impl Iterator<Item = (&'a RigItem, &'a Light)> {
    rig.items.iter().filter(|item| item.level == Level::Deck).filter_map(|item| {
        let light = plan.gear.get(item.index)?.spec.light.as_ref()?;
        Some((item, light))
    })
}

/// A light's centre in the boat frame.
fn centre(item: &RigItem, light: &Light) -> Point {
    let flat = turned(light.centre_mm.spot(), item.turn);
    item.at + flat.at(light.centre_mm.z)
}

/// A white light aboard with cells of its own; not one that the rule asks for, where these are named.
fn torch(plan: &Plan, asked: Option<&[Asked]>) -> Option<GearId> {
    let fixed = |gear: GearId| {
        let shown = |asked: &&Asked| asked.ask.role != Role::Torch && asked.met == Met::By(gear);
        asked.is_some_and(|asked| asked.iter().any(|asked| shown(&asked)))
    };
    let own = |light: &Light| light.own_cells && light.colour == Colour::White;
    let aboard = plan.gear.iter().filter(|gear| gear.is_placed() && gear.spec.light.as_ref().is_some_and(own));
    // A torch is the better spare: nothing else is asked of it.
    let found = aboard.filter(|gear| !fixed(gear.id)).min_by_key(|gear| gear.spec.kind == Kind::Light);
    found.map(|gear| gear.id)
}

/// What the rule asks for, each with the best light there is for it.
fn asked(plan: &Plan, lanterns: &[Shown], torch: Option<GearId>) -> Vec<Asked> {
    let met = |role: Role| {
        if role == Role::Torch {
            return torch.map_or(Met::Not, Met::By);
        }
        let fits = lanterns.iter().filter(|shown| shown.role == role);
        // One of unknown range counts as long as no figure speaks against it.
        let range = |shown: &Shown| shown.range_nm.unwrap_or(f64::INFINITY);
        let best = fits.reduce(|a, b| if range(b) > range(a) { b } else { a });
        best.map_or(Met::Not, |shown| match shown.range_nm {
            Some(nm) if nm < role.range_nm() => Met::Short(shown.gear, nm),
            _ => Met::By(shown.gear),
        })
    };
    let asks = plan.outing.craft.map(rules::asks).unwrap_or_default();
    asks.into_iter().map(|ask| Asked { ask, met: met(ask.role) }).collect()
}

/// What may stand in the way of a light.
pub(super) struct Scene<'a> {
    plan: &'a Plan,
    people: &'a [(Stance, Person)],
    water: &'a WaterPlane,
    bodies: Vec<(Blocker, Solid)>,
}

impl<'a> Scene<'a> {
    fn of(plan: &'a Plan, rig: &Rig, people: &'a [(Stance, Person)], water: &'a WaterPlane) -> Self {
        let on_deck = rig.items.iter().filter(|item| item.level == Level::Deck);
        let gear = on_deck.flat_map(|item| item.solids.iter().map(|solid| (Blocker::Gear(item.gear), *solid)));
        let persons = people
            .iter()
            .flat_map(|(stance, person)| person.solids.iter().map(|solid| (Blocker::Person(*stance), *solid)));
        Self { plan, people, water, bodies: gear.chain(persons).collect() }
    }

    /// The lanterns of one light, as others see them.
    fn shown(&self, item: &RigItem, light: &Light) -> Vec<Shown> {
        light.lanterns().filter_map(|lantern| self.lantern(item, light, lantern)).collect()
    }

    fn lantern(&self, item: &RigItem, light: &Light, lantern: Lantern) -> Option<Shown> {
        let role = Role::of(lantern)?;
        let given = match lantern.arc {
            LightArc::Sector(from, to) => Sector::between(from, to).turned(item.turn),
            LightArc::AllRound | LightArc::Deck => Sector::WHOLE,
        };
        let (at, required) = (centre(item, light), role.sector());
        let shadows = self.shadows(at, item.gear, &required);
        let hidden = self.hidden(&shadows, &required);
        Some(Shown {
            gear: item.gear,
            colour: lantern.colour,
            role,
            given,
            across_bow_deg: across_bow(role, &given, light.cut_off_deg),
            missing: required.without(&[given]),
            at,
            over_gunwale_mm: self.plan.hull.form.gunwale(at.x).map(|(_, rim)| at.z - rim),
            over_sides_mm: None,
            range_nm: light.intensity.map(|cd| range::range_nm(cd.value.base())).or(light.range_nm),
            shadows,
            hidden,
            way: None,
        })
    }

    /// Looks where the lanterns that are hidden too much would pass, for the first [`MOST_WAYS`] of them.
    fn find_ways(&self, lanterns: &mut [Shown]) {
        let mut found = 0;
        for shown in lanterns {
            shown.way = Way::of(self, shown);
            found += usize::from(shown.way.is_some());
            if found == MOST_WAYS {
                return;
            }
        }
    }

    /// What the bodies hide of an arc, of a light at a point; its own gear does not count.
    fn shadows(&self, at: Point, own: GearId, required: &Sector) -> Vec<Shadow> {
        let lamp = Lamp::new(at, self.water);
        let others = self.bodies.iter().filter(|(by, _)| *by != Blocker::Gear(own));
        let cast = others.flat_map(|(by, solid)| shadow(&lamp, solid).into_iter().map(|sector| (*by, sector)));
        let cut = cast.flat_map(|(by, sector)| required.covered_by(&[sector]).into_iter().map(move |part| (by, part)));
        cut.map(|(by, sector)| Shadow { by, sector }).collect()
    }

    fn hidden(&self, shadows: &[Shadow], required: &Sector) -> Vec<(Stance, Vec<Sector>)> {
        let in_stance = |stance: Stance| {
            let sectors: Vec<Sector> =
                shadows.iter().filter(|shadow| shadow.by.counts_in(stance)).map(|shadow| shadow.sector).collect();
            (stance, required.covered_by(&sectors))
        };
        self.people.iter().map(|(stance, _)| in_stance(*stance)).collect()
    }

    fn off_level_deg(&self) -> f64 {
        let lamp = Lamp::new(Point::default(), self.water);
        lamp.slope.distance(Spot::default()).atan().to_degrees()
    }
}

/// How far a side light is seen across the bow: what its turn takes it over, and what it fades in.
fn across_bow(role: Role, given: &Sector, cut_off_deg: Option<f64>) -> Option<f64> {
    let edge = match role {
        // Degrees from ahead to its forward limit, positive on the wrong side.
        Role::PortSide => given.to_deg(),
        Role::StarboardSide => -given.from_deg,
        _ => return None,
    };
    let over = (edge + 180.0).rem_euclid(360.0) - 180.0;
    cut_off_deg.map(|deg| over + deg).or((over > 0.0).then_some(over))
}
