//! What is seen from the seat, for other programs. Angles to port and below level are positive.

use serde::Serialize;

use super::label;
use crate::plan::{Gear, GearId, Plan, Posture, Side};
use crate::sheets::number::{At, Number, Shift};
use crate::study::Study;
use crate::study::sight::{Band, Fault, Hider, Mirrored, Seen, View, Way, ways};

#[derive(Serialize)]
pub(super) struct SightSheet<'a> {
    eyes: Vec<EyeSheet>,
    items: Vec<SeenSheet<'a>>,
}

#[derive(Serialize)]
struct EyeSheet {
    posture: &'static str,
    eye: At,
}

#[derive(Serialize)]
struct SeenSheet<'a> {
    gear: GearId,
    label: &'a str,
    at: At,
    tilt_back_deg: Option<Number>,
    views: Vec<ViewSheet<'a>>,
    /// Where it would pass from every seated eye, by mount; only where it fails from one.
    passes: Vec<WaySheet>,
}

#[derive(Serialize)]
struct ViewSheet<'a> {
    posture: &'static str,
    distance_mm: Number,
    down_deg: Number,
    to_port_deg: Number,
    off_glass_deg: Option<Number>,
    text_arcmin: Option<Number>,
    hidden_percent: Number,
    hidden_by: Vec<HiddenSheet<'a>>,
    behind_brim: bool,
    mirrors: Option<MirrorSheet>,
    faults: Vec<&'static str>,
}

#[derive(Serialize)]
struct HiddenSheet<'a> {
    gear: Option<GearId>,
    label: &'a str,
    percent: Number,
}

#[derive(Serialize)]
struct MirrorSheet {
    up_deg: Number,
    to_port_deg: Number,
}

#[derive(Serialize)]
struct WaySheet {
    mount: &'static str,
    bands: Vec<BandSheet>,
    nearest: Option<Shift>,
}

#[derive(Serialize)]
struct BandSheet {
    from_mm: Number,
    to_mm: Number,
}

impl<'a> SightSheet<'a> {
    pub(super) fn of(plan: &'a Plan, study: &Study) -> Self {
        let sight = &study.sight;
        let eyes = sight.eyes.iter().map(|eye| EyeSheet { posture: posture_word(eye.posture), eye: eye.at.into() });
        let items = sight.items.iter().map(|seen| SeenSheet::of(plan, study, seen));
        Self { eyes: eyes.collect(), items: items.collect() }
    }
}

impl<'a> SeenSheet<'a> {
    fn of(plan: &'a Plan, study: &Study, seen: &Seen) -> Self {
        let fails = seen.views.iter().any(|view| view.is_seated() && !view.faults.is_empty());
        let from = study.rig.item(seen.gear).map(|item| item.at.spot());
        let gear: Option<&Gear> = plan.gear(seen.gear).filter(|_| fails);
        let found = gear.map_or_else(Vec::new, |gear| ways(plan, study, gear));
        let way = |way: Way| WaySheet {
            mount: way.mount.word(),
            bands: way.bands.iter().map(BandSheet::from).collect(),
            nearest: way.nearest.zip(from).map(|(to, from)| Shift::from(to - from)),
        };
        Self {
            gear: seen.gear,
            label: label(plan, seen.gear),
            at: seen.at.into(),
            tilt_back_deg: seen.glass.map(|glass| glass.tilt_deg.into()),
            views: seen.views.iter().map(|view| ViewSheet::of(plan, view)).collect(),
            passes: found.into_iter().map(way).collect(),
        }
    }
}

impl<'a> ViewSheet<'a> {
    fn of(plan: &'a Plan, view: &View) -> Self {
        let hidden = view.hidden.iter().map(|hidden| match hidden.by {
            Hider::Gear(id) => HiddenSheet { gear: Some(id), label: label(plan, id), percent: hidden.percent.into() },
            Hider::Knees => HiddenSheet { gear: None, label: "knees", percent: hidden.percent.into() },
        });
        Self {
            posture: posture_word(view.posture),
            distance_mm: view.look.distance_mm.into(),
            down_deg: view.look.down_deg.into(),
            to_port_deg: view.look.turn_deg.into(),
            off_glass_deg: view.glass_deg.map(Number::from),
            text_arcmin: view.text_arcmin.map(Number::from),
            hidden_percent: view.hidden_percent.into(),
            hidden_by: hidden.collect(),
            behind_brim: view.behind_brim,
            mirrors: view.mirrored.map(MirrorSheet::from),
            faults: view.faults.iter().map(|fault| fault.word()).collect(),
        }
    }
}

impl From<Mirrored> for MirrorSheet {
    fn from(mirrored: Mirrored) -> Self {
        Self { up_deg: mirrored.up_deg.into(), to_port_deg: mirrored.bearing_deg.into() }
    }
}

impl From<&Band> for BandSheet {
    fn from(band: &Band) -> Self {
        Self { from_mm: band.from_mm.into(), to_mm: band.to_mm.into() }
    }
}

/// The page's lines: one for how each thing is seen, one for where it would pass.
pub(in crate::sheets) fn sight_lines(plan: &Plan, study: &Study) -> Vec<String> {
    study.sight.items.iter().flat_map(|seen| seen_lines(plan, study, seen)).collect()
}

fn seen_lines(plan: &Plan, study: &Study, seen: &Seen) -> Vec<String> {
    let name = label(plan, seen.gear);
    let mut lines: Vec<String> =
        seen.views.iter().map(|view| format!("{name}, {}: {}", posture_word(view.posture), view_words(view))).collect();
    if seen.views.iter().any(|view| view.is_seated() && !view.faults.is_empty()) {
        let gear = plan.gear(seen.gear).into_iter().flat_map(|gear| ways(plan, study, gear));
        lines.extend(gear.map(|way| format!("{name}, by {}: {}", way.mount.word(), way_words(&way))));
    }
    lines
}

/// Where something would be seen well by one mount: `1450 to 1525 mm from stern; nearest 1500 mm from stern, 40 mm to
/// port`.
fn way_words(way: &Way) -> String {
    let Some(nearest) = way.nearest else { return "seen well nowhere that holds it".into() };
    let side = if nearest.y < 0.0 { Side::Starboard } else { Side::Port };
    let nearest = format!("nearest {:.0} mm from stern, {:.0} mm to {}", nearest.x, nearest.y.abs(), side.word());
    if way.bands.is_empty() {
        format!("seen well elsewhere only, {nearest}")
    } else {
        format!("seen well {} mm from stern as far aside; {nearest}", bands_words(&way.bands))
    }
}

/// A view in words: `712 mm, 38 deg down, 4 deg to port, 8 deg off the glass, letters 19 arcmin; hidden`.
fn view_words(view: &View) -> String {
    let look = &view.look;
    let side = match look.turn_deg {
        turn if turn.abs() < 0.5 => "straight ahead".to_string(),
        turn => format!("{:.0} deg to {}", turn.abs(), if turn > 0.0 { "port" } else { "starboard" }),
    };
    let up = if look.down_deg < 0.0 { "up" } else { "down" };
    let mut words = format!("{:.0} mm, {:.0} deg {up}, {side}", look.distance_mm, look.down_deg.abs());
    if let Some(off) = view.glass_deg {
        words.push_str(&format!(", {off:.0} deg off the glass"));
    }
    if let Some(text) = view.text_arcmin {
        words.push_str(&format!(", letters {text:.0} arcmin"));
    }
    if view.behind_brim {
        words.push_str(", behind the brim of a hat");
    }
    if let Some(mirrored) = view.mirrored.filter(|mirrored| mirrored.up_deg > 0.0) {
        words.push_str(&format!(", mirrors the sky {:.0} deg up", mirrored.up_deg));
    }
    let faults: Vec<&str> = view.faults.iter().map(|fault| fault.word()).collect();
    if !faults.is_empty() {
        words.push_str(&format!("; {}", faults.join(", ")));
    }
    words
}

/// Stretches in words: `1450 to 1525, 1600`.
pub fn bands_words(bands: &[Band]) -> String {
    let word = |band: &Band| match (band.from_mm, band.to_mm) {
        (from, to) if from == to => format!("{from:.0}"),
        (from, to) => format!("{from:.0} to {to:.0}"),
    };
    bands.iter().map(word).collect::<Vec<_>>().join(", ")
}

/// A posture in words.
pub fn posture_word(posture: Posture) -> &'static str {
    match posture {
        Posture::SeatedLow => "seated low",
        Posture::SeatedHigh => "seated high",
        Posture::Leaning => "leaning",
        Posture::Standing => "standing",
    }
}

/// What speaks against a view in the fewest words.
pub fn fault_words(faults: &[Fault]) -> String {
    faults.iter().map(|fault| fault.word()).collect::<Vec<_>>().join(", ")
}
