//! The assets compiled into the program, parsed once.

use std::sync::OnceLock;

use serde::de::DeserializeOwned;

use super::{Catalogue, HullClass};
use crate::plan::Spec;

macro_rules! assets {
    ($folder:literal: $($name:literal),+ $(,)?) => {
        &[$(($name, include_str!(concat!("../../assets/", $folder, "/", $name, ".ron")))),+]
    };
}

/// Groups of gear, in the order they are listed.
const GROUPS: &[(&str, &str)] = assets!("catalogue":
    "displays", "sonar", "batteries", "power", "lights", "propulsion", "fishing", "mounts", "fittings", "safety",
);

/// Hull classes, small to large.
const HULLS: &[(&str, &str)] = assets!("hulls":
    "compact-9", "angler-10", "angler-11", "standup-12", "sea-13", "pedal-13",
);

pub(super) fn catalogue() -> &'static Catalogue {
    static SHIPPED: OnceLock<Catalogue> = OnceLock::new();
    SHIPPED.get_or_init(|| Catalogue { entries: GROUPS.iter().flat_map(parsed::<Vec<Spec>>).collect() })
}

pub(super) fn hulls() -> &'static [HullClass] {
    static SHIPPED: OnceLock<Vec<HullClass>> = OnceLock::new();
    SHIPPED.get_or_init(|| HULLS.iter().map(parsed::<HullClass>).collect())
}

/// Parses one compiled-in asset.
fn parsed<T: DeserializeOwned>((name, text): &(&str, &str)) -> T {
    #[allow(clippy::panic, reason = "compiled-in text; a test parses every asset, so this cannot happen at run time")]
    ron::from_str(text).unwrap_or_else(|error| panic!("asset {name}.ron does not parse: {error}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_asset_parses() {
        assert_eq!(hulls().len(), HULLS.len());
        assert!(catalogue().entries.len() > GROUPS.len());
    }
}
