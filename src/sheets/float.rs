//! How a hull floats: a bare one under one mass as a page or one JSON document, a plan's in a few lines.

use serde::Serialize;

use super::check::ADVICE;
use super::number::{At, Number, plain, with_unit};
use super::place::along;
use super::study::AfloatSheet;
use crate::geometry::Point;
use crate::shown::Shown;
use crate::study::float::{Bare, Equilibrium, Float, Freeboard, RightingArm, heel_way, trim_way};
use crate::units::Measure;

/// How a bare hull floats as one JSON document, schema `gunnel.float/1`.
pub fn float_json(hull: &str, bare: &Bare) -> String {
    super::json(&FloatSheet {
        schema: "gunnel.float/1",
        hull,
        mass_kg: bare.load.mass_kg.into(),
        at: bare.load.centre.into(),
        water_kg_per_m3: bare.load.water_kg_per_m3.into(),
        afloat: AfloatSheet::from(bare),
    })
}

#[derive(Serialize)]
struct FloatSheet<'a> {
    schema: &'static str,
    hull: &'a str,
    mass_kg: Number,
    at: At,
    water_kg_per_m3: Number,
    #[serde(flatten)]
    afloat: AfloatSheet,
}

/// How a bare hull floats, to read: no signs but words.
pub fn float_text(hull: &str, bare: &Bare, tape: Measure) -> String {
    let (rest, load) = (&bare.rest, &bare.load);
    let mut lines = vec![
        format!(
            "{}: {} at {}, {}, in water of {} kg/m3",
            Shown(hull),
            with_unit(load.mass_kg, "kg"),
            place(load.centre, tape),
            up(load.centre.z, tape),
            plain(load.water_kg_per_m3)
        ),
        String::new(),
        "Afloat".into(),
        format!("  {}", drafts(rest, tape)),
        format!("  trim: {}", trim_words(rest.trim_deg)),
        format!("  list: {}", list_words(rest.heel_deg)),
    ];
    lines.extend(bare.least_freeboard().map(|least| format!("  {}", freeboard(least, tape))));
    lines.extend([
        format!("  stiffness (GM): {}", stiffness(rest.gm_mm, tape)),
        format!(
            "  centre of buoyancy: {}, {}; from there {} to the metacentre",
            place(rest.buoyancy, tape),
            up(rest.kb_mm, tape),
            tape.length(rest.bm_mm)
        ),
        format!(
            "  waterplane: {:.2} m2; {} kg sink it 1 cm, {} kg m trim it 1 cm",
            rest.waterplane_m2,
            plain(rest.kg_per_cm),
            plain(rest.moment_to_trim_1cm_kgm)
        ),
        String::new(),
        "Held at a heel to starboard, free to sink and trim, it rights itself with a lever of".into(),
    ]);
    lines.extend(bare.gz.iter().map(|arm| format!("  {:>2} deg  {}", plain(arm.heel_deg), lever(arm, tape))));
    lines.push(match bare.downflood_deg {
        Some(heel) => format!("  its gunwale goes under at {} deg", plain(heel)),
        None => "  its gunwale stays out of the water up to 60 deg".into(),
    });
    lines.extend([String::new(), ADVICE.into(), String::new()]);
    lines.join("\n")
}

/// The boat as planned in a few lines.
pub(super) fn float_lines(float: &Float, tape: Measure) -> Vec<String> {
    let planned = match (&float.cases, float.planned()) {
        (Err(no_body), _) => return vec![no_body.to_string()],
        (_, Some(planned)) => planned,
        (_, None) => return vec!["nothing to float".into()],
    };
    let rest = match &planned.rest {
        Ok(rest) => rest,
        Err(why) => return vec![why.to_string()],
    };
    let mut lines = vec![
        format!("{} in water of {} kg/m3", with_unit(planned.load.mass_kg, "kg"), plain(float.water_kg_per_m3)),
        drafts(rest, tape),
        format!("trim: {}; list: {}", trim_words(rest.trim_deg), list_words(rest.heel_deg)),
    ];
    lines.extend(planned.least_freeboard().map(|least| freeboard(least, tape)));
    lines.extend(planned.gm_mm().map(|gm| format!("stiffness (GM): {}", stiffness(gm, tape))));
    lines.extend(planned.greatest_lever().map(|arm| {
        format!("greatest righting lever: {} at {} deg to starboard", lever(&arm, tape), plain(arm.heel_deg))
    }));
    lines
}

/// `0.4 deg bow down`, `0.4 deg by the stern`, `level`.
pub fn trim_words(deg: f64) -> String {
    turned(deg, trim_way(deg), "level")
}

/// `1.2 deg to starboard`, `1.2 deg to port`, `upright`.
pub fn list_words(deg: f64) -> String {
    turned(deg, heel_way(deg), "upright")
}

fn turned(deg: f64, way: &str, not: &str) -> String {
    match plain(deg.abs()).as_str() {
        "0" => not.into(),
        unknown if deg.is_nan() => unknown.into(),
        size => format!("{size} deg {way}"),
    }
}

fn place(at: Point, tape: Measure) -> String {
    format!("{}, {}", along(at.x, tape), tape.across(at.y))
}

fn up(z: f64, tape: Measure) -> String {
    if z < -0.5 { format!("{} below the baseline", tape.length(z)) } else { format!("{} up", tape.length(z)) }
}

/// `water over the baseline: 59 mm fore, 61 mm aft, 60 mm in the mean`.
fn drafts(rest: &Equilibrium, tape: Measure) -> String {
    // An end that is lifted out of the water has it below its baseline.
    let draft = |mm: f64| format!("{}{}", tape.length(mm), if mm < -0.5 { " below it" } else { "" });
    format!(
        "water over the baseline: {} fore, {} aft, {} in the mean",
        draft(rest.draft_fore_mm),
        draft(rest.draft_aft_mm),
        draft(rest.draft_mean_mm)
    )
}

fn freeboard(least: Freeboard, tape: Measure) -> String {
    let (height, place) = (tape.length(least.height_mm), place(least.at, tape));
    if least.height_mm < 0.0 {
        format!("freeboard: none; the gunwale is {height} under water {place}")
    } else {
        format!("freeboard: {height} at the least, {place}")
    }
}

fn stiffness(gm_mm: f64, tape: Measure) -> String {
    if gm_mm < 0.0 {
        format!("none, the metacentre lies {} below the mass; it does not stay like this", tape.length(gm_mm))
    } else {
        format!("{}, from the mass up to the metacentre", tape.length(gm_mm))
    }
}

fn lever(arm: &RightingArm, tape: Measure) -> String {
    let length = tape.length(arm.gz_mm);
    if arm.gz_mm < -0.5 { format!("{length}, further over") } else { length }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]
    use super::*;
    use crate::catalogue::new_plan;
    use crate::plan::Plan;
    use crate::study::Study;
    use crate::units::Mass;

    /// 29 kg of hull and 85 kg of angler in fresh water of 15 degrees; the rest is what the study has.
    #[test]
    fn a_plan_afloat_is_told_in_lines() {
        let mut plan = new_plan("angler-10").unwrap();
        let lines = |plan: &Plan| float_lines(&Study::of(plan).float, Measure::default());
        let float = Study::of(&plan).float;
        let rest = float.rest().unwrap();
        let told = lines(&plan);
        assert_eq!(told[0], "114 kg in water of 999 kg/m3");
        assert!(told[1].contains(&format!("{:.0} mm fore, {:.0} mm aft", rest.draft_fore_mm, rest.draft_aft_mm)));
        assert_eq!(told[2], format!("trim: {}; list: upright", trim_words(rest.trim_deg)));
        assert!(told[3].starts_with("freeboard: ") && told[3].ends_with("to port"), "{}", told[3]);
        assert!(!told.join(" ").contains('-'), "no signs: {told:?}");
        plan.angler.mass.value = Mass::kg(9000.0);
        assert!(lines(&plan)[0].starts_with("does not float: it carries "));
        let only = vec![plan.hull.form.sections[0].clone()];
        std::sync::Arc::make_mut(&mut plan.hull).form = crate::geometry::Form { sections: only }.into();
        assert_eq!(lines(&plan), ["a hull needs at least two sections; add one at the other end"]);
    }

    #[test]
    fn turns_are_told_in_words() {
        assert_eq!([0.42, -0.42, 0.04].map(trim_words), ["0.4 deg bow down", "0.4 deg by the stern", "level"]);
        assert_eq!([3.0, -3.0, -0.04].map(list_words), ["3 deg to starboard", "3 deg to port", "upright"]);
        assert_eq!(trim_words(f64::NAN), "unknown");
    }
}
