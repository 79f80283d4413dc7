//! The shipped assets are what they claim: sound, generic, within the ranges met in practice.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

mod gear;
mod hulls;

use std::collections::BTreeSet;

use gunnel::catalogue::{Catalogue, HullClass, hulls};
use gunnel::plan::Spec;
use gunnel::units::Origin;

fn entries() -> &'static [Spec] {
    Catalogue::shipped().entries()
}

#[test]
fn keys_and_tags_are_unique() {
    let keys: BTreeSet<_> = entries().iter().map(|spec| &spec.key).collect();
    let tags: BTreeSet<_> = entries().iter().map(|spec| &spec.tag).collect();
    assert_eq!((keys.len(), tags.len()), (entries().len(), entries().len()));
    let classes: BTreeSet<_> = hulls().iter().map(HullClass::key).collect();
    assert_eq!(classes.len(), 6);
}

/// A make is written with a capital; a generic name starts with a figure or a plain word.
#[test]
fn names_are_generic() {
    let plain = |text: &str| text.starts_with(|c: char| c.is_ascii_digit() || c.is_ascii_lowercase());
    for spec in entries() {
        let short_form = ["USB ", "GPS "].iter().any(|word| spec.name.as_str().starts_with(word));
        assert!(plain(spec.name.as_str()) || short_form, "{}", spec.name);
    }
    assert!(hulls().iter().all(|class| plain(class.hull.name.as_str()) && plain(class.about.as_str())));
}

#[test]
fn a_figure_that_nobody_vouches_for_says_so() {
    let flooded = Catalogue::shipped().get("battery-flooded-75").unwrap();
    assert_eq!(flooded.mass.origin, Origin::Guess);
    assert!(hulls().iter().all(|class| class.hull.zones.iter().all(|zone| zone.wall.origin == Origin::Guess)));
}
