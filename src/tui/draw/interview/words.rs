//! The words of the interview: what is asked, how it is taken, what the line does.

use crate::plan::{Bottom, Measurement};
use crate::tui::layer::{Interview, Row, parts};
use crate::units::Measure;

/// The name of what is asked, and where.
pub(super) fn asked(interview: &Interview, measure: Measure) -> (String, String) {
    let tape = &interview.trial().tape;
    let (name, mut place) = parts(interview.row(), tape, interview.hull());
    let station = interview.row().station().filter(|_| !place.is_empty());
    if let Some(station) = station.and_then(|number| tape.stations.get(number)) {
        place.push_str(&format!(", {}", measure.length(station.x.to_mm())));
    }
    (name, place)
}

/// One sentence: how it is taken.
pub(super) fn how(interview: &Interview) -> String {
    let pontoons = matches!(interview.trial().tape.bottom, Bottom::Pontoons { .. });
    let words = match interview.row() {
        Row::Place(_) => "From under the stern along the ground to the plumb line at this station.",
        Row::Rounding => "Left is harder, right is rounder: until the drawing looks like the boat.",
        Row::Kind => "Look from below: left and right choose flat, one tunnel, two pontoons.",
        Row::Features => "Where the fittings of this class are on your boat: space lists them.",
        Row::Done => "Enter takes the hull as it is now. It can be measured further at any time.",
        Row::Gauge(what) => match what {
            Measurement::Length => "Plumb down from both ends and measure between the marks on the ground.",
            Measurement::Width(_) => "Stand a straight edge against each side and measure between the two.",
            Measurement::WidthHeight(_) => "From the ground up to where the side is widest, or first stands upright.",
            Measurement::BottomWidth(_) => {
                "Hold a straight edge under the bottom: how much of it touches? 0 for a vee."
            }
            Measurement::Gunwale(_) => "Lay a straight edge across the gunwales and measure down to the ground.",
            Measurement::Keel(_) => "From the ground up to the lowest line of the hull; 0 where it touches.",
            Measurement::BottomPart if pontoons => "Across the flat bottom of one pontoon, where it is widest.",
            Measurement::BottomPart => "Across the channel under the hull, where it is widest.",
            Measurement::BottomHeight => "From a straight edge under the bottom up to the skin above it.",
            Measurement::Well(_) => "Lay a straight edge across both gunwales and measure down to the floor.",
            Measurement::FeatureX(_) => "From over the stern along the boat to the middle of it.",
            Measurement::FeatureY(_) => "From the middle line of the boat across to the middle of it.",
        },
    };
    words.into()
}

/// What the line does now.
pub(super) fn line(interview: &Interview) -> String {
    let typed = !interview.input.value().trim().is_empty();
    let taken = match interview.row() {
        Row::Gauge(what) => interview.trial().tape.gauge(what).map_or(0, |gauge| gauge.taken.len()),
        _ => 0,
    };
    match (interview.row(), typed, taken) {
        (Row::Gauge(_), true, 0) => "enter takes it as measured and goes on, esc clears the line".into(),
        (Row::Gauge(_), true, n) => {
            format!("enter adds it as reading {} of this row: their mean counts; esc clears the line", n + 1)
        }
        (Row::Gauge(_), false, 0) => "type what the tape says; enter alone leaves it to the guess".into(),
        (Row::Gauge(_), false, 1) => "type it again for a second reading, backspace strikes the first".into(),
        (Row::Gauge(_), false, _) => "type it again for one more reading, backspace strikes the last".into(),
        (_, true, _) => "enter takes it and goes on, esc clears the line".into(),
        (Row::Place(_), ..) => "type where this station is, or enter to measure it where it is".into(),
        (Row::Rounding, ..) => "left and right by 0.1, or type 0 to 2; backspace leaves it to the guess".into(),
        (Row::Kind, ..) => "left and right choose".into(),
        (Row::Features, ..) => {
            let verb = if interview.unfolded() { "closes" } else { "opens" };
            format!("space {verb} the list; enter goes on")
        }
        (Row::Done, ..) => "enter uses this hull; a new tape can be laid on it later".into(),
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]
    use std::sync::Arc;

    use ratatui::layout::Rect;

    use super::*;
    use crate::catalogue::new_plan;
    use crate::tui::areas::InterviewAreas;
    use crate::tui::draw::text;
    use crate::tui::layer::Aim;
    use crate::units::Tape;

    /// At the least complete size everything that is asked is said in full.
    #[test]
    fn what_is_asked_fits_beside_the_list() {
        let area = InterviewAreas::at(Rect::new(0, 0, 80, 24)).asked;
        let mut interview = Interview::new(Arc::new(new_plan("pedal-13").unwrap()), Aim::Plan, Tape::Metric);
        for row in 0..interview.rows().len() {
            interview.go(row);
            let lines = text::wrap(&how(&interview), area.width);
            assert!(lines.len() < usize::from(area.height), "{lines:?}");
            let (name, place) = asked(&interview, Measure(Tape::Metric));
            assert!(text::width(&name) + 2 + text::width(&place) <= area.width, "{name}  {place}");
            assert!(text::width(&line(&interview)) <= 78, "{}", line(&interview));
        }
    }
}
