//! A bare hull afloat under one mass: a page to read, or one JSON document.

use serde::Serialize;

use super::check::ADVICE;
use super::number::{At, Number, plain, with_unit};
use super::study::AfloatSheet;
use crate::geometry::Point;
use crate::shown::Shown;
use crate::study::float::{Bare, Freeboard, RightingArm};
use crate::units::Measure;

/// How a bare hull floats as one JSON document, schema `gunnel.float/1`.
pub fn float_json(hull: &str, bare: &Bare) -> String {
    super::json(&FloatSheet {
        schema: "gunnel.float/1",
        hull,
        mass_kg: bare.load.mass_kg.into(),
        at: bare.load.centre.into(),
        water_kg_per_m3: bare.load.water_kg_per_m3.into(),
        afloat: AfloatSheet::of_bare(bare),
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
    let place = |at: Point| format!("{}, {}", along(at.x, tape), tape.across(at.y));
    let mut lines = vec![
        format!(
            "{}: {} at {}, {}, in water of {} kg/m3",
            Shown(hull),
            with_unit(load.mass_kg, "kg"),
            place(load.centre),
            up(load.centre.z, tape),
            plain(load.water_kg_per_m3)
        ),
        String::new(),
        "Afloat".into(),
        format!(
            "  water over the baseline: {}, {}, {} in the mean",
            draft(rest.draft_fore_mm, "fore", tape),
            draft(rest.draft_aft_mm, "aft", tape),
            tape.length(rest.draft_mean_mm)
        ),
        format!("  trim: {}", trim_words(rest.trim_deg)),
        format!("  list: {}", list_words(rest.heel_deg)),
    ];
    lines.extend(bare.least_freeboard().map(|least| freeboard(least, &place(least.at), tape)));
    lines.extend([
        format!("  stiffness (GM): {}", stiffness(rest.gm_mm, tape)),
        format!(
            "  centre of buoyancy: {}, {}; from there {} to the metacentre",
            place(rest.buoyancy),
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

/// `0.4 deg bow down`, `0.4 deg bow up`, `level`.
pub fn trim_words(deg: f64) -> String {
    turned(deg, "bow down", "bow up", "level")
}

/// `1.2 deg to starboard`, `1.2 deg to port`, `upright`.
pub fn list_words(deg: f64) -> String {
    turned(deg, "to starboard", "to port", "upright")
}

fn turned(deg: f64, over: &str, under: &str, not: &str) -> String {
    match plain(deg.abs()).as_str() {
        "0" => not.into(),
        unknown if deg.is_nan() => unknown.into(),
        size => format!("{size} deg {}", if deg > 0.0 { over } else { under }),
    }
}

fn along(x: f64, tape: Measure) -> String {
    if x < -0.5 { format!("{} behind the stern", tape.length(x)) } else { format!("{} from stern", tape.length(x)) }
}

fn up(z: f64, tape: Measure) -> String {
    if z < -0.5 { format!("{} below the baseline", tape.length(z)) } else { format!("{} up", tape.length(z)) }
}

/// An end that is lifted out of the water has it under its baseline.
fn draft(mm: f64, end: &str, tape: Measure) -> String {
    let under = if mm < -0.5 { " below it" } else { "" };
    format!("{}{under} {end}", tape.length(mm))
}

fn freeboard(least: Freeboard, place: &str, tape: Measure) -> String {
    if least.height_mm < 0.0 {
        format!("  freeboard: none; the gunwale is {} under water {place}", tape.length(least.height_mm))
    } else {
        format!("  freeboard: {} at the least, {place}", tape.length(least.height_mm))
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
    use super::*;

    #[test]
    fn turns_are_told_in_words() {
        assert_eq!([0.42, -0.42, 0.04].map(trim_words), ["0.4 deg bow down", "0.4 deg bow up", "level"]);
        assert_eq!([3.0, -3.0, -0.04].map(list_words), ["3 deg to starboard", "3 deg to port", "upright"]);
        assert_eq!(trim_words(f64::NAN), "unknown");
    }
}
