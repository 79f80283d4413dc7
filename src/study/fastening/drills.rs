//! Which drill for which fastener: clearance, tap, rivet, expanding nut, gland, and the nearest
//! drill in inches.

use crate::plan::{Back, Carries, Thread};

/// The pilot that every hole starts with, mm. Source: common practice, no source.
pub const PILOT_MM: f64 = 3.0;

/// From this bore on a hole saw is the tool, mm. Source: common practice, no source.
pub const HOLE_SAW_FROM_MM: f64 = 25.0;

/// Drills for one thread, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ThreadDrills {
    /// The thread.
    pub thread: Thread,
    /// Nominal diameter.
    pub diameter_mm: f64,
    /// Clearance hole, close fit.
    pub close_mm: f64,
    /// Clearance hole, normal fit.
    pub normal_mm: f64,
    /// Clearance hole, loose fit.
    pub loose_mm: f64,
    /// Tap drill (for number 10 that of the coarse thread, 24 to the inch).
    pub tap_mm: f64,
}

/// Clearance and tap drills of the threads met on boats.
///
/// Source: ISO 273 (metric clearance, fine, medium and coarse series); ASME B18.2.8 (inch
/// clearance; read to 0.1 mm); metric tap drills by [`metric_tap_drill`]; number 25 and number 7
/// drills for the inch taps.
pub static THREAD_DRILLS: [ThreadDrills; 6] = [
    drills(Thread::M4, 4.0, [4.3, 4.5, 4.8], 3.3),
    drills(Thread::No10, 4.826, [5.2, 5.6, 6.0], 3.797),
    drills(Thread::M5, 5.0, [5.3, 5.5, 5.8], 4.2),
    drills(Thread::M6, 6.0, [6.4, 6.6, 7.0], 5.0),
    drills(Thread::Quarter20, 6.35, [6.7, 7.1, 7.5], 5.105),
    drills(Thread::M8, 8.0, [8.4, 9.0, 10.0], 6.8),
];

const fn drills(thread: Thread, diameter_mm: f64, clearance: [f64; 3], tap_mm: f64) -> ThreadDrills {
    let [close_mm, normal_mm, loose_mm] = clearance;
    ThreadDrills { thread, diameter_mm, close_mm, normal_mm, loose_mm, tap_mm }
}

impl ThreadDrills {
    /// The row of a thread.
    pub fn of(thread: Thread) -> Option<&'static Self> {
        THREAD_DRILLS.iter().find(|row| row.thread == thread)
    }

    /// The largest thread that passes a hole of this bore.
    pub fn passing(bore_mm: f64) -> Option<&'static Self> {
        THREAD_DRILLS.iter().rev().find(|row| row.diameter_mm <= bore_mm)
    }
}

/// Tap drill of a metric thread, mm: diameter less pitch.
///
/// Validity: coarse and fine metric threads to M8. Source: workshop rule, about 75 % of thread.
pub fn metric_tap_drill(diameter_mm: f64, pitch_mm: f64) -> f64 {
    diameter_mm - pitch_mm
}

/// Blind rivets: body diameter, drill, mm.
///
/// Source: maker's table for 3/16 in (number 11 drill, 0.1910 in); the two smaller from memory
/// (number 30, number 20).
pub static RIVET_DRILLS: [(f64, f64); 3] = [(3.175, 0.1285 * 25.4), (3.969, 0.161 * 25.4), (4.7625, 0.1910 * 25.4)];

/// Drill for a blind rivet of this body diameter, mm; `None` for sizes not used on boats.
pub fn rivet_drill(body_mm: f64) -> Option<f64> {
    RIVET_DRILLS.iter().find(|(body, _)| (body - body_mm).abs() < 0.1).map(|(_, drill)| *drill)
}

/// A cable gland.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gland {
    /// `M16`.
    pub name: &'static str,
    /// Hole in the skin, mm.
    pub hole_mm: f64,
    /// Thinnest cable it closes on, mm.
    pub thinnest_mm: f64,
    /// Thickest cable, mm.
    pub thickest_mm: f64,
}

/// Metric cable glands by size.
///
/// Source: hole of M12 and the metric steps from published gland tables; the other holes and the
/// cable ranges are usual values from memory (the standard does not fix them).
pub static GLANDS: [Gland; 3] = [
    Gland { name: "M12", hole_mm: 12.5, thinnest_mm: 3.0, thickest_mm: 6.0 },
    Gland { name: "M16", hole_mm: 16.5, thinnest_mm: 4.0, thickest_mm: 8.0 },
    Gland { name: "M20", hole_mm: 20.5, thinnest_mm: 6.0, thickest_mm: 12.0 },
];

/// The smallest gland that closes on a cable of this diameter.
pub fn gland_for(cable_mm: f64) -> Option<&'static Gland> {
    GLANDS.iter().find(|gland| cable_mm >= gland.thinnest_mm && cable_mm <= gland.thickest_mm)
}

/// A fastener for which nobody needs to get at the back, in place of a bolt through a hole of this
/// bore: what it is and the hole it wants, mm. `None` when nothing blind is strong enough.
///
/// Source: rubber expanding nuts as sold (common practice, no source).
pub fn blind_fastener(bore_mm: f64) -> Option<(&'static str, f64)> {
    match bore_mm {
        bore if bore <= 5.0 => Some(("M4 rubber expanding nut, long grip", 8.0)),
        bore if bore <= 6.0 => Some(("M5 rubber expanding nut, long grip", 10.0)),
        bore if bore <= 7.5 => Some(("M6 rubber expanding nut, long grip", 13.0)),
        _ => None,
    }
}

/// What goes in a hole, in words for the drill sheet.
pub fn fastening_words(carries: Carries, back: Back, bore_mm: f64) -> String {
    match (carries, back) {
        (Carries::Fastener, Back::Nut) => match ThreadDrills::passing(bore_mm) {
            Some(row) => format!("{} bolt, wide washer or backing plate, lock nut", row.thread.word()),
            None => "screw with washer and nut".into(),
        },
        (Carries::Fastener, Back::Blind) => "blind rivet, screw or expanding nut".into(),
        (Carries::Cable, _) => "gland or split cable fitting".into(),
        (Carries::Body, _) => "the part's own flange on its gasket".into(),
    }
}

/// How to drill a hole of this bore, in words: pilot, bore in millimetres, nearest drill in inches.
pub fn drill_words(bore_mm: f64) -> String {
    let tool = if bore_mm >= HOLE_SAW_FROM_MM { "hole saw" } else { "drill" };
    let last = format!("{} mm {tool} ({} in)", trimmed(bore_mm), nearest_inch_drill(bore_mm));
    if bore_mm <= PILOT_MM { last } else { format!("pilot {} mm, then {last}", trimmed(PILOT_MM)) }
}

/// The nearest drill sold in inches: 64ths to half an inch, 16ths above. `7/32`, `1 1/8`.
pub fn nearest_inch_drill(bore_mm: f64) -> String {
    let inches = bore_mm / 25.4;
    let mut bottom = if inches <= 0.5 { 64_u32 } else { 16 };
    let mut top = ((inches * f64::from(bottom)).round() as u32).max(1);
    while top.is_multiple_of(2) && bottom > 1 {
        top /= 2;
        bottom /= 2;
    }
    match (top / bottom, top % bottom) {
        (whole, 0) => whole.to_string(),
        (0, rest) => format!("{rest}/{bottom}"),
        (whole, rest) => format!("{whole} {rest}/{bottom}"),
    }
}

/// Hole saws as sold, mm. From memory: the sizes of metric sets.
const HOLE_SAWS_MM: [f64; 25] = [
    25.0, 27.0, 29.0, 30.0, 32.0, 35.0, 38.0, 40.0, 44.0, 48.0, 51.0, 54.0, 57.0, 60.0, 64.0, 68.0, 73.0, 76.0, 83.0,
    92.0, 102.0, 114.0, 127.0, 140.0, 152.0,
];

/// The next metric drill or hole saw that is no smaller, mm; `None` beyond the largest saw.
///
/// Source: jobber drills step by tenths to 14 mm and by halves above (ISO 235, from memory).
pub fn next_metric_drill(bore_mm: f64) -> Option<f64> {
    // What a hundredth misses is the same drill.
    let up = |step: f64| ((bore_mm - 0.01) / step).ceil() * step;
    match bore_mm {
        bore if !(0.0..=1000.0).contains(&bore) => None,
        bore if bore <= 14.0 => Some((up(0.1) * 10.0).round() / 10.0),
        bore if bore < HOLE_SAW_FROM_MM => Some(up(0.5)),
        bore => HOLE_SAWS_MM.into_iter().find(|saw| *saw >= bore - 0.01),
    }
}

/// Millimetres with a decimal only where there is one.
pub fn trimmed(mm: f64) -> String {
    let tenths = (mm * 10.0).round() / 10.0;
    if tenths.fract() == 0.0 { format!("{tenths:.0}") } else { format!("{tenths:.1}") }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn drills_in_inches_read_like_the_box_they_come_in() {
        for (mm, inch) in
            [(5.5, "7/32"), (4.85, "3/16"), (12.7, "1/2"), (20.5, "13/16"), (28.5, "1 1/8"), (0.2, "1/64")]
        {
            assert_eq!(nearest_inch_drill(mm), inch, "{mm} mm");
        }
    }

    /// By hand from the steps of a set: tenths, halves, the saws.
    #[test]
    fn the_next_drill_is_never_smaller() {
        for (bore, drill) in [(5.5, Some(5.5)), (4.85, Some(4.9)), (16.2, Some(16.5)), (29.0, Some(29.0))] {
            assert_eq!(next_metric_drill(bore), drill, "{bore} mm");
        }
        assert_eq!([next_metric_drill(28.5), next_metric_drill(152.5)], [Some(29.0), None]);
        assert_eq!([next_metric_drill(f64::NAN), next_metric_drill(-1.0)], [None, None]);
    }

    #[test]
    fn a_hole_is_piloted_unless_it_is_no_larger_than_the_pilot() {
        assert_eq!(drill_words(5.5), "pilot 3 mm, then 5.5 mm drill (7/32 in)");
        assert_eq!(drill_words(3.0), "3 mm drill (1/8 in)");
        assert_eq!(drill_words(28.5), "pilot 3 mm, then 28.5 mm hole saw (1 1/8 in)");
    }

    #[test]
    fn every_clearance_grows_with_its_fit_and_passes_its_own_thread() {
        for row in &THREAD_DRILLS {
            assert!(row.tap_mm < row.diameter_mm && row.diameter_mm < row.close_mm, "{row:?}");
            assert!(row.close_mm < row.normal_mm && row.normal_mm < row.loose_mm, "{row:?}");
            assert_eq!(ThreadDrills::passing(row.diameter_mm), Some(row));
        }
        assert_eq!(ThreadDrills::passing(2.0), None);
    }

    #[test]
    fn a_gland_closes_on_its_cable_and_a_rope_finds_none() {
        assert_eq!(gland_for(5.0).map(|g| g.name), Some("M12"));
        assert_eq!(gland_for(7.0).map(|g| g.name), Some("M16"));
        assert_eq!(gland_for(14.0), None);
    }
}
