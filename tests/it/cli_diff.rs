//! `gunnel diff` from outside: what it says, its document, its exit codes; and revisions by edits.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use gunnel::edit::{Edit, MOST_REVISIONS, apply};
use gunnel::plan::{GearId, HoleId, Plan, Plug};
use gunnel::storage::load::Format;
use gunnel::storage::write;
use gunnel::units::{Angle, Length};

use crate::boats::{name, rich};
use crate::home::{Home, code, errors, json, transcript};

fn edited(plan: &Plan, edits: &[Edit]) -> Plan {
    edits.iter().fold(plan.clone(), |plan, edit| apply(&plan, edit).unwrap())
}

fn keep(as_name: &str) -> Edit {
    Edit::NameRevision { name: name(as_name), date: None }
}

/// Before and after a rework; the later one remembers the earlier as a revision.
fn home() -> Home {
    let then = rich();
    let now = edited(
        &then,
        &[
            keep("first layout"),
            Edit::Move { gear: GearId(3), x: Length::mm(2600.0), y: Length::mm(0.0) },
            Edit::Turn { gear: GearId(3), to: Angle::deg(45.0) },
            Edit::PutAshore { gear: GearId(11) },
            Edit::PlugHole { hole: HoleId(3), with: Plug::BlankingPlate },
        ],
    );
    let home = Home::new();
    for (file, plan) in [("then.ron", &then), ("now.ron", &now)] {
        home.file(file, &write::plan(plan, Format::Ron).unwrap());
    }
    home
}

#[test]
fn it_says_what_was_done_and_what_that_changed() {
    let home = home();
    let said = [
        transcript(&home, &["diff", "then.ron", "now.ron"]),
        transcript(&home, &["diff", "now.ron", "--from", "first layout"]),
        transcript(&home, &["diff", "then.ron", "then.ron"]),
        transcript(&home, &["diff", "then.ron"]),
        transcript(&home, &["diff", "now.ron", "--from", "frist layout"]),
        transcript(&home, &["diff", "then.ron", "missing.ron"]),
    ];
    insta::assert_snapshot!(said.join("\n"));
}

#[test]
fn a_revision_is_the_plan_as_it_was() {
    let home = home();
    let by_files = json(&home.run(&["diff", "then.ron", "now.ron", "--json"]));
    let by_revision = json(&home.run(&["diff", "now.ron", "--from", "first layout", "--json"]));
    assert_eq!(by_files["changes"], by_revision["changes"]);
    assert_eq!(by_files["numbers"], by_revision["numbers"]);
    assert_eq!(by_files["schema"], "gunnel.diff/1");
    assert_eq!(by_files["same"], false);
    let moved = &by_files["changes"].as_array().unwrap().iter().find(|c| c["part"] == "gear 3").unwrap()["moved"];
    // By hand: from (2900, 150) to (2600, 0).
    assert_eq!((moved["forward_mm"].as_f64(), moved["to_port_mm"].as_f64()), (Some(-300.0), Some(-150.0)));
    let same = home.run(&["diff", "then.ron", "then.ron", "--json"]);
    assert_eq!((code(&same), json(&same)["same"].as_bool()), (0, Some(true)));
    assert_eq!(errors(&same), "");
}

#[test]
fn revisions_are_kept_brought_back_and_forgotten() {
    let first = rich();
    let kept = edited(&first, &[keep("first layout")]);
    assert_eq!(
        apply(&kept, &keep("first layout")).unwrap_err().to_string(),
        "there is a revision called first layout already"
    );
    let later = edited(&kept, &[Edit::Strike { gear: GearId(4) }, Edit::PutAshore { gear: GearId(2) }]);
    let parts = later.differences(&later.revisions[0].plan);
    let one = parts.iter().filter(|part| matches!(part, gunnel::plan::parts::Part::Gear(GearId(4), _)));
    let purpose = name("bring back the crate");
    let back =
        edited(&later, &[Edit::Put { purpose: purpose.clone(), parts: one.cloned().collect(), revisions: None }]);
    assert_eq!(back.gear(GearId(4)), first.gear(GearId(4)));
    assert_eq!(back.gear(GearId(2)), later.gear(GearId(2)), "the rest stays");
    let all = edited(&later, &[Edit::Put { purpose, parts, revisions: None }]);
    assert_eq!(all.differences(&first), vec![]);
    assert_eq!(all.gear, first.gear, "in its old place in the list, too");
    assert!(edited(&all, &[Edit::StrikeRevision { index: 0 }]).revisions.is_empty());
    assert!(apply(&first, &Edit::StrikeRevision { index: 0 }).is_err());
}

#[test]
fn a_part_that_hangs_on_what_is_gone_is_not_brought_back() {
    let first = rich();
    let bare_wires = edited(
        &first,
        &[keep("wired"), Edit::StrikeCircuit { circuit: gunnel::plan::CircuitId(1) }, Edit::Strike { gear: GearId(1) }],
    );
    let circuit = bare_wires.differences(&bare_wires.revisions[0].plan);
    let circuit: Vec<_> =
        circuit.into_iter().filter(|part| matches!(part, gunnel::plan::parts::Part::Circuit(..))).collect();
    assert_eq!(circuit.len(), 1);
    let refused = apply(&bare_wires, &Edit::Put { purpose: name("bring back"), parts: circuit, revisions: None });
    assert!(refused.unwrap_err().to_string().contains("gear 1"));
}

#[test]
fn a_plan_keeps_so_many_revisions_and_no_more() {
    let full = (0..MOST_REVISIONS).fold(rich(), |plan, n| edited(&plan, &[keep(&format!("state {n}"))]));
    assert_eq!(full.revisions.len(), MOST_REVISIONS);
    assert!(full.revisions.iter().all(|revision| revision.plan.revisions.is_empty()));
    assert!(apply(&full, &keep("one more")).is_err());
    assert_eq!(full.validate(), Ok(()));
}
