//! `gunnel float`: a bare hull under one mass, to be compared with any other program.

use std::path::Path;

use super::answer::put;
use super::arguments::Float;
use super::verbs::{hull_classes, library, text_of};
use super::{Failure, Surroundings, exit};
use crate::sheets;
use crate::shown::Shown;
use crate::storage::load::{self, Boat};
use crate::storage::paths::{self, Folders};
use crate::storage::source::ReadError;
use crate::study::float::{Bare, Load, NoBare, NoFloat};
use crate::units::Measure;

pub(super) fn float(arguments: &Float, folders: &Folders, around: &mut Surroundings<'_>) -> Result<u8, Failure> {
    let load = load(arguments)?;
    let (name, boat) = boat(arguments, folders, around)?;
    let bare = match &boat {
        Boat::Hull(hull) => Bare::of_hull(hull, &load),
        Boat::Offsets(form) => Bare::of_form(form, &load),
    };
    let bare = bare.map_err(|why| no_float(&name, why))?;
    let answer = if arguments.json {
        sheets::float_json(&name, &bare)
    } else {
        sheets::float_text(&name, &bare, Measure::default())
    };
    put(around, answer.as_bytes())
}

/// No hull reaches farther from its zero, mm: a centre beyond is a slip of the pen.
const FARTHEST_MM: f64 = 100_000.0;
/// Lightest and heaviest water that is taken for a liquid a boat lies in, kg per m³.
const WATER: (f64, f64) = (500.0, 2000.0);

fn load(arguments: &Float) -> Result<Load, Failure> {
    let mass_kg = number("--mass", &arguments.mass)?;
    if mass_kg <= 0.0 {
        let hint = "everything that floats has a mass, and the hull's own is part of it";
        return Err(Failure::usage(&format!("--mass {mass_kg}: must be more than 0 kg"), hint));
    }
    let parts: Vec<&str> = arguments.at.split(',').collect();
    let [x, y, z] = parts.as_slice() else {
        let what = format!("--at \"{}\": {} numbers, not three", Shown(&arguments.at), parts.len());
        return Err(Failure::usage(&what, "forward, to port and up, in mm: --at 1450,0,250"));
    };
    let [x, y, z] = [number("--at", x)?, number("--at", y)?, number("--at", z)?];
    if [x, y, z].iter().any(|mm| mm.abs() > FARTHEST_MM) {
        let what = format!("--at \"{}\": farther than {FARTHEST_MM} mm from the hull's zero", Shown(&arguments.at));
        return Err(Failure::usage(&what, "distances are in mm"));
    }
    let water_kg_per_m3 = number("--water", &arguments.water)?;
    if !(WATER.0..=WATER.1).contains(&water_kg_per_m3) {
        let what = format!("--water {water_kg_per_m3}: outside {} to {} kg per m3", WATER.0, WATER.1);
        return Err(Failure::usage(&what, "fresh water has 1000, the sea 1025"));
    }
    Ok(Load { mass_kg, centre: (x, y, z).into(), water_kg_per_m3 })
}

fn number(option: &str, typed: &str) -> Result<f64, Failure> {
    let number = typed.trim().parse::<f64>().ok().filter(|number| number.is_finite());
    number.ok_or_else(|| Failure::usage(&format!("{option}: \"{}\" is not a number", Shown(typed)), "write it as 12.5"))
}

/// The hull that was named, and its name: a file, standard input, else a hull class.
fn boat(arguments: &Float, folders: &Folders, around: &mut Surroundings<'_>) -> Result<(String, Boat), Failure> {
    let path = arguments.hull.as_path();
    let (text, file, format) = match text_of(path, arguments.format, around) {
        Err(error) if error.is_missing() => return class(path, &error, folders, around),
        other => other.map_err(|error| Failure::reading(&error))?,
    };
    let boat = load::boat(&text, file, format).map_err(|error| Failure::loading(&error))?;
    let name = match &boat {
        Boat::Hull(hull) => hull.name.to_string(),
        Boat::Offsets(_) => paths::shown(file),
    };
    Ok((name, boat))
}

/// The hull class that a name without a file stands for.
fn class(
    name: &Path,
    missing: &ReadError,
    folders: &Folders,
    around: &mut Surroundings<'_>,
) -> Result<(String, Boat), Failure> {
    let library = library(folders, around);
    let key = name.to_string_lossy();
    if let Some(class) = library.hull(&key) {
        return Ok((class.hull.name.to_string(), Boat::Hull(class.hull.clone().into())));
    }
    let what = format!("{missing}; no hull class is called so either");
    Err(Failure::new(exit::INPUT_OUTPUT, &what, Some(&hull_classes(&library, &key))))
}

fn no_float(name: &str, why: NoBare) -> Failure {
    let name = Shown(name);
    match why {
        NoBare::Body(error) => Failure::new(exit::UNREADABLE, &format!("{name}: {error}"), None),
        NoBare::Float(NoFloat::Nonsense) => {
            let hint = "--mass is everything that floats, the hull's own mass included";
            Failure::usage(&format!("{name}: so small a mass cannot be told from none"), hint)
        }
        NoBare::Float(error) => Failure::new(exit::STOP, &format!("{name} {error}"), None),
    }
}
