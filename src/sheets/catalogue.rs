//! Catalogue entries as a list to read, or as JSON.

use serde::Serialize;

use super::number::{Number, base};
use crate::catalogue::kind_word;
use crate::plan::{Electric, Spec};
use crate::shown::Shown;
use crate::units::{Figure, Mass, Quantity, amount};

/// The entries under the words of their groups, as they come: key, name, mass, current, mounts.
pub fn catalogue_text(entries: &[&Spec]) -> String {
    let keys = entries.iter().map(|spec| spec.key.as_str().len()).max().unwrap_or(0);
    let names = entries.iter().map(|spec| spec.name.as_str().chars().count()).max().unwrap_or(0);
    let mut text = String::new();
    let mut group = "";
    for spec in entries {
        if kind_word(spec.kind) != group {
            let blank = if group.is_empty() { "" } else { "\n" };
            group = kind_word(spec.kind);
            text.push_str(&format!("{blank}{group}\n"));
        }
        let (key, name) = (spec.key.as_str(), Shown(spec.name.as_str()).to_string());
        let current = peak(spec).map_or(String::new(), |figure| amount(figure.value, 1));
        let mass = mass_words(spec.mass);
        let mounts: Vec<&str> = spec.mounts.iter().map(|mounting| mounting.how.word()).collect();
        text.push_str(&format!("  {key:keys$}  {name:names$}  {mass:>8}  {current:>7}  {}\n", mounts.join(", ")));
    }
    text
}

fn mass_words(mass: Figure<Mass>) -> String {
    if mass.value.base() < 10.0 { amount(mass.value, 2) } else { amount(mass.value, 1) }
}

/// The greatest current an entry draws.
fn peak(spec: &Spec) -> Option<Figure<crate::units::Current>> {
    match &spec.electric {
        Some(Electric::Load { peak, .. }) => Some(*peak),
        Some(Electric::Motor { settings, .. }) => settings.last().map(|setting| setting.current),
        _ => None,
    }
}

/// The entries as one JSON document, schema `gunnel.catalogue/1`.
pub fn catalogue_json(entries: &[&Spec]) -> String {
    let entry = |spec: &&Spec| {
        let (x, y, z) = spec.size();
        let (typical, standby) = match &spec.electric {
            Some(Electric::Load { typical, standby, .. }) => (Some(base(typical.value)), Some(base(standby.value))),
            _ => (None, None),
        };
        EntrySheet {
            key: spec.key.as_str().to_string(),
            name: spec.name.as_str().to_string(),
            group: kind_word(spec.kind),
            mass_kg: base(spec.mass.value),
            length_mm: x.into(),
            width_mm: y.into(),
            height_mm: z.into(),
            typical_a: typical,
            peak_a: peak(spec).map(|figure| base(figure.value)),
            standby_a: standby,
            capacity_ah: match &spec.electric {
                Some(Electric::Battery { capacity, .. }) => Some(base(capacity.value)),
                _ => None,
            },
            mounts: spec
                .mounts
                .iter()
                .map(|mounting| MountSheet { how: mounting.how.word(), holes: mounting.holes.len() })
                .collect(),
        }
    };
    super::json(&CatalogueSheet { schema: "gunnel.catalogue/1", entries: entries.iter().map(entry).collect() })
}

#[derive(Serialize)]
struct CatalogueSheet {
    schema: &'static str,
    entries: Vec<EntrySheet>,
}

#[derive(Serialize)]
struct EntrySheet {
    key: String,
    name: String,
    group: &'static str,
    mass_kg: Number,
    length_mm: Number,
    width_mm: Number,
    height_mm: Number,
    typical_a: Option<Number>,
    peak_a: Option<Number>,
    standby_a: Option<Number>,
    capacity_ah: Option<Number>,
    mounts: Vec<MountSheet>,
}

#[derive(Serialize)]
struct MountSheet {
    how: &'static str,
    holes: usize,
}
