//! What is drilled stays drilled: gear that leaves its holes leaves them in the hull, with their fate to choose.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use gunnel::edit::{Edit, apply};
use gunnel::plan::{BuildState, Fate, GearId, HoleId, Mount, Plan, Plug, Purpose};
use gunnel::study::Study;
use gunnel::units::{Angle, Length, Measure};

use crate::boats::rich;

/// A display on four bolts.
const BOLTED: GearId = GearId(3);
/// A display in a track.
const TRACKED: GearId = GearId(2);

fn edited(plan: &Plan, edit: &Edit) -> Plan {
    apply(plan, edit).unwrap()
}

fn note(gear: GearId, state: BuildState) -> Edit {
    Edit::SetState { gear, state }
}

fn drilled() -> Plan {
    edited(&rich(), &note(BOLTED, BuildState::Drilled))
}

fn moved(x: f64) -> Edit {
    Edit::Move { gear: BOLTED, x: Length::mm(x), y: Length::mm(150.0) }
}

fn refused(plan: &Plan, edit: &Edit) -> String {
    apply(plan, edit).unwrap_err().to_string()
}

#[test]
fn drilled_gear_that_moves_leaves_its_holes_open() {
    let before = drilled();
    let was: Vec<_> = Study::of(&before).rig.item(BOLTED).unwrap().holes.clone();
    assert_eq!(was.len(), 4, "four bolts");
    let edit = moved(2800.0);
    assert_eq!(edit.label(&before, Measure::default()), "move 12-inch display 100 mm aft, leaving 4 holes");
    let after = edited(&before, &edit);
    let left = &after.penetrations[before.penetrations.len()..];
    assert_eq!(left.len(), 4);
    for (hole, old) in left.iter().zip(&was) {
        assert_eq!((hole.fate, hole.purpose), (Fate::Open, Purpose::Fastener));
        assert_eq!((hole.x.to_mm(), hole.y.to_mm()), (old.at.x, old.at.y));
        assert_eq!(hole.bore.to_mm(), old.bore_mm);
        assert_eq!(hole.name.as_str(), "hole of 12-inch display");
    }
    assert_eq!(after.gear(BOLTED).unwrap().state, BuildState::Planned, "its new holes are still to be drilled");
    assert_eq!(after.validate(), Ok(()));
    let counts = |plan: &Plan| Study::of(plan).holes.counts;
    assert_eq!(counts(&after).open, counts(&before).open + 4);
    // The old holes can be plugged, one by one.
    let plug = Edit::PlugHole { hole: left[0].id, with: Plug::RubberPlug };
    assert_eq!(counts(&edited(&after, &plug)).plugged, 1);
}

#[test]
fn every_way_to_leave_the_holes_leaves_them() {
    let before = drilled();
    let swapped = before.gear(TRACKED).unwrap().spec.clone();
    for edit in [
        Edit::PutAshore { gear: BOLTED },
        Edit::Turn { gear: BOLTED, to: Angle::deg(45.0) },
        Edit::Mirror { gear: BOLTED },
        Edit::SetMount { gear: BOLTED, how: Mount::Track },
        Edit::Swap { gear: BOLTED, spec: Box::new((*swapped).clone()) },
    ] {
        let after = edited(&before, &edit);
        assert_eq!(after.penetrations.len(), before.penetrations.len() + 4, "{edit:?}");
    }
}

#[test]
fn what_stays_in_its_holes_leaves_none() {
    let before = drilled();
    for edit in [
        Edit::Rename { gear: BOLTED, label: crate::boats::name("big display") },
        moved(2900.0),
        Edit::Pin { gear: BOLTED, pinned: true },
    ] {
        assert_eq!(edited(&before, &edit).penetrations, before.penetrations, "{edit:?}");
    }
    // Turned half round, four bolts in a rectangle come out in the same four places.
    let half = edited(&before, &Edit::Turn { gear: BOLTED, to: Angle::deg(180.0) });
    assert_eq!(half.penetrations, before.penetrations);
    assert_eq!(half.gear(BOLTED).unwrap().state, BuildState::Drilled);
    // In a track nothing is drilled.
    let tracked = edited(&rich(), &note(TRACKED, BuildState::Installed));
    let gone = edited(&tracked, &Edit::PutAshore { gear: TRACKED });
    assert_eq!(gone.penetrations, tracked.penetrations);
    assert_eq!(edited(&rich(), &moved(2800.0)).penetrations, rich().penetrations, "on paper only");
}

#[test]
fn an_old_hole_that_served_is_not_left_twice() {
    let before = drilled();
    let moved_away = edited(&before, &moved(2800.0));
    let old = moved_away.penetrations[before.penetrations.len()].id;
    let back = edited(&moved_away, &moved(2900.0));
    let reused = edited(&back, &Edit::ReuseHole { hole: old, gear: BOLTED });
    let built = edited(&reused, &note(BOLTED, BuildState::Drilled));
    let again = edited(&built, &moved(2800.0));
    // Three of the four were drilled anew beside the old ones; the fourth was the old one.
    assert_eq!(again.penetrations.len(), built.penetrations.len() + 3);
}

#[test]
fn holes_cannot_be_undrilled_or_struck() {
    let plan = drilled();
    assert!(refused(&plan, &note(BOLTED, BuildState::Planned)).contains("its holes are in the hull"));
    assert!(refused(&plan, &Edit::Strike { gear: BOLTED }).contains("its holes are in the hull"));
    assert!(refused(&plan, &note(BOLTED, BuildState::Drilled)).contains("drilled already"));
    assert!(apply(&plan, &note(BOLTED, BuildState::Tested)).is_ok());
    let tracked = edited(&rich(), &note(TRACKED, BuildState::Tested));
    assert!(apply(&tracked, &note(TRACKED, BuildState::Planned)).is_ok(), "a clamp can be taken off again");
    let new = HoleId(1);
    assert_eq!(rich().penetration(new).unwrap().fate, Fate::New);
    let open = edited(&rich(), &Edit::DrillHole { hole: new });
    assert_eq!(open.penetration(new).unwrap().fate, Fate::Open);
    assert!(refused(&open, &Edit::DrillHole { hole: new }).contains("drilled already"));
    assert!(refused(&open, &Edit::StrikeHole { hole: new }).contains("exists in the hull"));
}
