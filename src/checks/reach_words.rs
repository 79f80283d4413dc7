//! Where a control would pass, in words: along the boat, or by notches of the seat.

use super::Case;
use crate::plan::Plan;
use crate::study::reach::along::{Span, notches, span};
use crate::study::reach::{Band, ReachItem};

/// `in hand from 1210 to 1490 mm from the stern, or the seat one notch forward`: where along the boat, at its distance
/// from the centreline and its height, it would be better than it is. `None` where it would nowhere.
pub(super) fn elsewhere(case: &Case<'_>, item: &ReachItem) -> Option<String> {
    let wanted = if item.touch.band == Band::OutOfReach { [Band::InHand, Band::AtStretch] } else { [Band::InHand; 2] };
    let spans = wanted.map(|band| span(case.plan, &case.study.reach.body, item.control, item.gripped, band));
    let seat = spans.into_iter().flatten().find_map(|span| notches(case.plan, span, item.control.x));
    let mut parts: Vec<String> = Vec::new();
    for (band, span) in wanted.into_iter().zip(spans) {
        let words = span.and_then(|span| stretch(case, item, band, span));
        parts.extend(words.filter(|words| !parts.contains(words)));
    }
    parts.extend(seat.map(|notches| format!("or the seat {}", notch_words(notches))));
    (!parts.is_empty()).then(|| parts.join(", ").trim_start_matches("or ").to_string())
}

/// Where its mount has to stand for it, rounded inward to 5 mm; not where it stands already.
fn stretch(case: &Case<'_>, item: &ReachItem, band: Band, span: Span) -> Option<String> {
    let mount = case.place(item.gear)?.x - item.control.x;
    let (aft, fore) = (((span.aft + mount) / 5.0).ceil() * 5.0, ((span.fore + mount) / 5.0).floor() * 5.0);
    (aft <= fore && !span.holds(item.control.x))
        .then(|| format!("{} from {aft:.0} to {fore:.0} mm from the stern", band.word()))
}

/// `one notch forward`.
fn notch_words(notches: i32) -> String {
    const COUNTS: [&str; 6] = ["no", "one", "two", "three", "four", "five"];
    let count = notches.unsigned_abs() as usize;
    let count = COUNTS.get(count).map_or_else(|| count.to_string(), ToString::to_string);
    let plural = if notches.abs() == 1 { "notch" } else { "notches" };
    format!("{count} {plural} {}", if notches > 0 { "forward" } else { "aft" })
}

/// Whether the seat stands over the hull, and on its rails.
pub(super) fn seat_stands(plan: &Plan) -> bool {
    let (rails, back) = (&plan.hull.seat, plan.angler.seat.back.to_mm());
    (rails.back_aft.to_mm() - 0.5..=rails.back_fore.to_mm() + 0.5).contains(&back)
}

#[cfg(test)]
mod tests {
    use super::notch_words;

    #[test]
    fn notches_are_counted_in_words() {
        assert_eq!(notch_words(1), "one notch forward");
        assert_eq!(notch_words(-2), "two notches aft");
        assert_eq!(notch_words(7), "7 notches forward");
    }
}
