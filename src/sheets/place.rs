//! A place on the boat in words: never a sign, always from the same three directions.

use crate::geometry::Spot;
use crate::plan::Plan;
use crate::units::Measure;

/// `1220 mm from stern, 310 mm to port, gunwale, 330 mm up`.
pub fn place(plan: &Plan, spot: Spot, measure: Measure) -> String {
    let up = |z: f64| {
        if z < -0.5 { format!("{} below the keel", measure.length(z)) } else { format!("{} up", measure.length(z)) }
    };
    let station = station(plan, spot, measure);
    match plan.hull.form.bottom(spot).and(plan.hull.surface(spot)) {
        Some(z) => format!("{station}, {}", up(z)),
        None => station,
    }
}

/// The same without the height: `1220 mm from stern, 310 mm to port, gunwale`.
pub fn station(plan: &Plan, spot: Spot, measure: Measure) -> String {
    let hull = &plan.hull;
    let on = match (hull.form.bottom(spot).and(hull.surface(spot)), hull.zone_at(spot)) {
        (Some(_), Some(zone)) => zone.name.as_str(),
        (Some(_), None) => "bare deck",
        (None, _) => "beside the boat",
    };
    format!("{}, {}, {on}", along(spot.x, measure), measure.across(spot.y))
}

/// `1220 mm from stern`.
pub(super) fn along(x: f64, measure: Measure) -> String {
    format!("{} {}", measure.length(x), if x < -0.5 { "behind the stern" } else { "from stern" })
}
