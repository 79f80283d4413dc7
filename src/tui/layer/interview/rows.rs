//! The rows of the interview, in the order one walks along the boat.

use crate::plan::{Bottom, FeaturePlace, Hull, Measurement, Tape};

/// One row.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Row {
    /// Something to measure.
    Gauge(Measurement),
    /// Where a station is.
    Place(usize),
    /// How round the chine is.
    Rounding,
    /// What the bottom looks like from below.
    Kind,
    /// The features, listed below it or not.
    Features,
    /// The end: use what was measured.
    Done,
}

impl Row {
    /// What it measures.
    pub fn measurement(self) -> Option<Measurement> {
        match self {
            Self::Gauge(what) => Some(what),
            Self::Place(station) => Some(Measurement::Width(station)),
            _ => None,
        }
    }

    /// The station it belongs to.
    pub fn station(self) -> Option<usize> {
        match self {
            Self::Place(station) => Some(station),
            Self::Gauge(what) => what.station(),
            _ => None,
        }
    }

    /// Whether numbers are typed there.
    pub fn takes_text(self) -> bool {
        matches!(self, Self::Gauge(_) | Self::Place(_) | Self::Rounding)
    }
}

/// All rows of a tape.
pub(super) fn rows(tape: &Tape, unfolded: bool) -> Vec<Row> {
    let mut rows = vec![Row::Gauge(Measurement::Length)];
    for station in 0..tape.stations.len() {
        rows.push(Row::Place(station));
        rows.extend(Measurement::of_station(station).map(Row::Gauge));
    }
    rows.extend([Row::Rounding, Row::Kind]);
    if !tape.bottom.is_flat() {
        rows.extend([Measurement::BottomPart, Measurement::BottomHeight].map(Row::Gauge));
    }
    rows.extend((0..tape.wells.len()).map(|well| Row::Gauge(Measurement::Well(well))));
    if !tape.features.is_empty() {
        rows.push(Row::Features);
    }
    if unfolded {
        let two = |feature| [Measurement::FeatureX(feature), Measurement::FeatureY(feature)];
        rows.extend((0..tape.features.len()).flat_map(two).map(Row::Gauge));
    }
    rows.push(Row::Done);
    rows
}

/// The heading that stands above a row.
pub fn heading(row: Row, tape: &Tape, hull: &Hull) -> Option<String> {
    match row {
        Row::Place(station) => Some(format!("station {} of {}", station + 1, tape.stations.len())),
        Row::Rounding => Some("bottom, all along".into()),
        Row::Gauge(Measurement::Well(0)) => Some("depth under the gunwale".into()),
        Row::Gauge(Measurement::FeatureX(place)) => Some(feature_name(tape.features.get(place)?, hull)),
        _ => None,
    }
}

/// What a row is called below its heading.
pub fn label(row: Row, tape: &Tape, hull: &Hull) -> String {
    match row {
        Row::Place(_) => "place".into(),
        Row::Rounding => "chine".into(),
        Row::Kind => "kind".into(),
        Row::Features => "fittings".into(),
        Row::Done => "use this hull".into(),
        Row::Gauge(what) => match what {
            Measurement::WidthHeight(_) => "its height".into(),
            Measurement::BottomWidth(_) => "flat bottom".into(),
            Measurement::Gunwale(_) => "gunwale".into(),
            Measurement::Keel(_) => "rise of keel".into(),
            Measurement::BottomPart => format!("{} width", part(tape)),
            Measurement::BottomHeight if part(tape) == "pontoon" => "skin between".into(),
            Measurement::BottomHeight => format!("{} height", part(tape)),
            Measurement::Well(well) => well_name(well, tape, hull),
            Measurement::FeatureX(_) => "from the stern".into(),
            Measurement::FeatureY(place) => format!("to {}", side_word(place, tape, hull)),
            other => other.label().into(),
        },
    }
}

/// The name of a row where it stands alone, and where that is: `height of widest`, `station 3`.
pub fn parts(row: Row, tape: &Tape, hull: &Hull) -> (String, String) {
    let station = |number: usize| format!("station {}", number + 1);
    let nowhere = String::new;
    match row {
        Row::Place(number) => (format!("place of {}", station(number)), nowhere()),
        Row::Rounding => ("roundness of the chine".into(), nowhere()),
        Row::Kind => ("kind of bottom".into(), nowhere()),
        Row::Features => ("fittings of the hull".into(), nowhere()),
        Row::Gauge(Measurement::WidthHeight(number)) => ("height of widest".into(), station(number)),
        Row::Gauge(Measurement::BottomWidth(number)) => ("flat bottom".into(), station(number)),
        Row::Gauge(Measurement::Gunwale(number)) => ("height of gunwale".into(), station(number)),
        Row::Gauge(Measurement::Well(well)) => ("depth".into(), well_name(well, tape, hull)),
        Row::Gauge(Measurement::FeatureX(place) | Measurement::FeatureY(place)) => {
            (label(row, tape, hull), tape.features.get(place).map(|f| feature_name(f, hull)).unwrap_or_default())
        }
        other => (label(other, tape, hull), other.station().map(station).unwrap_or_default()),
    }
}

/// The side a feature lies on: -1 to starboard.
pub(super) fn side(place: usize, tape: &Tape, hull: &Hull) -> f64 {
    let feature = tape.features.get(place).and_then(|place| hull.features.iter().find(|f| f.id == place.feature));
    if feature.is_some_and(|feature| feature.at_mm.y < 0.0) { -1.0 } else { 1.0 }
}

fn side_word(place: usize, tape: &Tape, hull: &Hull) -> &'static str {
    if side(place, tape, hull) < 0.0 { "starboard" } else { "port" }
}

fn part(tape: &Tape) -> &'static str {
    if matches!(tape.bottom, Bottom::Pontoons { .. }) { "pontoon" } else { "tunnel" }
}

fn well_name(well: usize, tape: &Tape, hull: &Hull) -> String {
    let zone = tape.wells.get(well).and_then(|well| hull.zones.iter().find(|zone| zone.id == well.zone));
    zone.map_or_else(|| "well".into(), |zone| zone.name.as_str().trim_end_matches(" floor").to_string())
}

fn feature_name(place: &FeaturePlace, hull: &Hull) -> String {
    let feature = hull.features.iter().find(|feature| feature.id == place.feature);
    feature.map_or_else(|| place.feature.to_string(), |feature| feature.name.to_string())
}
