//! Water aboard that runs as the boat heels: in livewells and in the bilge.

use super::liquid::Liquid;
use crate::geometry::{Body, Form, Outline, Section};
use crate::plan::Plan;
use crate::study::rig::Rig;
use crate::study::weights::{livewell_in_use, livewell_tank, livewell_water};

/// Water aboard is counted as one kilogram a litre, kg per m³.
pub const WATER_ABOARD_KG_PER_M3: f64 = 1000.0;

/// What runs in a load case.
#[derive(Clone, Debug, Default)]
pub(super) struct Loose {
    /// Water in the bilge and in the livewells that the day uses.
    used: Vec<Liquid>,
    /// The same with all livewells full, where that is more.
    full: Option<Vec<Liquid>>,
}

impl Loose {
    pub(super) fn of(plan: &Plan, rig: &Rig) -> Self {
        let (mut used, mut spare) = (Vec::from_iter(bilge(plan)), Vec::new());
        for item in &rig.items {
            let Some(gear) = plan.gear.get(item.index) else { continue };
            let Some((tank, water)) = livewell_tank(gear, item).zip(livewell_water(gear, item)) else { continue };
            let body = Body::prism(&round(tank.outline).polygon(), tank.low, tank.high).ok();
            let liquid = body.and_then(|body| Liquid::new(body, water.0.to_kg(), WATER_ABOARD_KG_PER_M3));
            if livewell_in_use(plan, gear) { used.extend(liquid) } else { spare.extend(liquid) }
        }
        let full = (!spare.is_empty()).then(|| used.iter().cloned().chain(spare).collect());
        Self { used, full }
    }

    /// What runs in the load case of this name, as the masses are counted there.
    pub(super) fn aboard(&self, case: &str) -> &[Liquid] {
        match case {
            "empty hull" | "angler only" | "transport" => &[],
            "livewell full" => self.full.as_ref().unwrap_or(&self.used),
            _ => &self.used,
        }
    }
}

/// A circle drawn so large that the polygon that stands for it holds as much as the circle itself.
fn round(outline: Outline) -> Outline {
    match outline {
        Outline::Circle { middle, radius } => {
            let held = Outline::Circle { middle, radius: 1.0 }.polygon().area();
            Outline::Circle { middle, radius: radius * (std::f64::consts::PI / held).sqrt() }
        }
        rect @ Outline::Rect { .. } => rect,
    }
}

/// The outing's water in the bilge, lying in the hull's own form; `None` where there is none or the form is no body.
pub(in crate::study) fn bilge(plan: &Plan) -> Option<Liquid> {
    let kg = plan.outing.bilge?.to_kg();
    Liquid::new(Body::of(&hold(&plan.hull.form)).ok()?, kg, WATER_ABOARD_KG_PER_M3)
}

/// Thickness of the skin around the bilge, mm. Assumption: the wall that rigging takes where none is stated.
const SKIN_MM: f64 = 6.0;
/// So many sections and no more: the surface of the bilge is found anew at every attitude that is tried.
const SECTIONS: usize = 9;

/// The inside of the hull, coarse: some of its sections, moved in by the skin. Foam, wells and tubes are not taken
/// off; they stand higher than a little water reaches.
fn hold(form: &Form) -> Form {
    let last = form.sections.len().saturating_sub(1);
    let every = last.div_ceil(SECTIONS - 1).max(1);
    let inner = |(i, section): (usize, &Section)| {
        let inward = f64::from(i8::from(i == 0) - i8::from(i == last)) * SKIN_MM;
        let points = section.points_mm.iter().map(|(y, z)| ((y - SKIN_MM).max(0.0), z + SKIN_MM));
        Section { x_mm: section.x_mm + inward, points_mm: points.collect() }
    };
    let kept = form.sections.iter().enumerate().filter(|(i, _)| i % every == 0 || *i == last);
    Form { sections: kept.map(inner).collect() }
}
