//! Comments, suggestions, stops, sign-offs: what stands of them, whoever wrote when and whatever the clocks said.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use std::collections::{BTreeMap, BTreeSet};

use gunnel::compare::{Comparison, Side};
use gunnel::edit::{Edit, apply};
use gunnel::geometry::Spot;
use gunnel::plan::{Anchor, GearId, HoleId, Key, Note, ThreadState};
use gunnel::review::entries::signed;
use gunnel::review::whereabouts::pin;
use gunnel::review::{
    Deed, Entry, NextNumbers, Outlook, STOPS, Suggested, Talk, ThreadRef, Verdict, Whereabouts, taken_over, talk,
    whereabouts,
};
use gunnel::study::Study;
use gunnel::units::{Length, Measure};
use proptest::prelude::*;

use crate::boats::{name, rich};

fn key(text: &str) -> Key {
    Key::new(text).unwrap()
}

fn note(text: &str) -> Note {
    Note::new(text).unwrap()
}

fn thread(by: &str, id: u32) -> ThreadRef {
    ThreadRef { by: key(by), id }
}

fn comment(text: &str) -> Deed {
    Deed::Comment { on: pin(&rich(), &Anchor::Gear(GearId(4))).unwrap(), text: note(text) }
}

fn answer(to: ThreadRef, text: &str) -> Deed {
    Deed::Answer { thread: to, text: note(text) }
}

/// Files in which each author did these things at these seconds.
fn files(authors: &[(&str, Vec<(u64, Deed)>)]) -> BTreeMap<Key, Vec<Entry>> {
    let entries = |deeds: &[(u64, Deed)]| {
        let entry = |(index, (at_s, does)): (usize, &(u64, Deed))| Entry {
            v: 1,
            id: index as u32 + 1,
            at_s: *at_s,
            does: does.clone(),
        };
        deeds.iter().enumerate().map(entry).collect()
    };
    authors.iter().map(|(author, deeds)| (key(author), entries(deeds))).collect()
}

fn told(authors: &[(&str, Vec<(u64, Deed)>)]) -> Talk {
    talk(&rich(), &files(authors))
}

#[test]
fn a_thread_goes_from_open_to_answered_to_resolved_and_back() {
    let asked = || vec![(1, comment("why here?"))];
    let one = thread("partner", 1);
    let state = |authors: &[(&str, Vec<(u64, Deed)>)]| told(authors).threads[0].state;
    assert_eq!(state(&[("partner", asked())]), ThreadState::Open);
    let answered = vec![(5, answer(one.clone(), "the lid"))];
    assert_eq!(state(&[("partner", asked()), ("owner", answered.clone())]), ThreadState::Answered);
    let asked_again = [asked(), vec![(9, answer(one.clone(), "which?"))]].concat();
    assert_eq!(state(&[("partner", asked_again), ("owner", answered.clone())]), ThreadState::Open);
    let settled = [answered.clone(), vec![(10, Deed::Resolve { thread: one.clone() })]].concat();
    assert_eq!(state(&[("partner", asked()), ("owner", settled.clone())]), ThreadState::Resolved);
    let reopened = [settled, vec![(11, Deed::Reopen { thread: one })]].concat();
    assert_eq!(state(&[("partner", asked()), ("owner", reopened)]), ThreadState::Open);
}

#[test]
fn a_suggestion_is_taken_over_or_declined_once() {
    let plan = rich();
    let edits = vec![Edit::Move { gear: GearId(4), x: Length::mm(600.0), y: Length::mm(0.0) }];
    let on = pin(&plan, &Anchor::Gear(GearId(4))).unwrap();
    let suggested = vec![(1, Deed::Suggest { on, text: note("clear of the lid"), edits: edits.clone(), next: None })];
    let one = thread("partner", 1);
    let no = Deed::Decline { thread: one.clone(), reason: note("the cart needs it") };
    let talk = told(&[("partner", suggested), ("owner", vec![(4, no), (5, Deed::Accept { thread: one })])]);
    let suggestion = talk.threads[0].suggestion.as_ref().unwrap();
    assert_eq!(suggestion.became, Suggested::Declined(key("owner"), note("the cart needs it")));
    assert_eq!(talk.threads[0].state, ThreadState::Resolved);
    assert!(apply(&plan, &suggestion.edits[0]).is_ok());
}

#[test]
fn a_suggestion_that_adds_is_not_taken_over_once_its_numbers_mean_something_else() {
    let plan = rich();
    let copied = plan.next_gear_id();
    let edits = vec![Edit::Duplicate { gear: GearId(4) }, Edit::Rename { gear: copied, label: name("second crate") }];
    let on = pin(&plan, &Anchor::Gear(GearId(4))).unwrap();
    let suggest = Deed::Suggest { on, text: note("two"), edits, next: Some(NextNumbers::of(&plan)) };
    let talk = told(&[("partner", vec![(1, suggest)])]);
    let suggestion = talk.threads[0].suggestion.as_ref().unwrap();
    let as_tried = apply(&plan, &taken_over(&plan, suggestion, &key("partner")).unwrap()).unwrap();
    assert_eq!(as_tried.gear(copied).unwrap().label.as_str(), "second crate");
    // The owner's own copy has that number now: it must not be the one that is renamed.
    let went_on = apply(&plan, &Edit::Duplicate { gear: plan.gear[0].id }).unwrap();
    let why = taken_over(&went_on, suggestion, &key("partner")).unwrap_err();
    assert!(why.contains("ask for it once more"), "{why}");
    let study = Study::of(&went_on);
    let side = Side { plan: &went_on, study: &study, findings: &[] };
    assert_eq!(Outlook::of(side, suggestion, Measure::default()).refused, Some(why));
}

#[test]
fn a_pin_follows_its_gear_and_stays_as_a_mark_when_it_is_gone() {
    let plan = rich();
    let crate_pin = pin(&plan, &Anchor::Gear(GearId(4))).unwrap();
    assert_eq!(crate_pin.called.as_str(), "crate with trays and rod tubes");
    let at = Spot::new(650.0, 0.0);
    assert_eq!(whereabouts(&plan, &crate_pin), Whereabouts::At(at));
    let moved = apply(&plan, &Edit::Move { gear: GearId(4), x: Length::mm(700.0), y: Length::mm(10.0) }).unwrap();
    assert_eq!(whereabouts(&moved, &crate_pin), Whereabouts::At(Spot::new(700.0, 10.0)));
    let ashore = apply(&plan, &Edit::PutAshore { gear: GearId(4) }).unwrap();
    assert_eq!(whereabouts(&ashore, &crate_pin), Whereabouts::Nowhere);
    let struck = apply(&plan, &Edit::Strike { gear: GearId(4) }).unwrap();
    assert_eq!(whereabouts(&struck, &crate_pin), Whereabouts::Gone(Some(at)));
    assert_eq!(pin(&plan, &Anchor::Gear(GearId(99))), None);
    assert!(pin(&plan, &Anchor::Hole(HoleId(1))).unwrap().spot.is_some());
}

#[test]
fn any_edit_voids_a_sign_off_and_says_which() {
    let plan = rich();
    let sign = Deed::SignOff { plan: signed(&plan), text: note("go ahead") };
    let talk = told(&[("partner", vec![(1, sign)])]);
    let sign_off = &talk.sign_offs[0];
    assert!(sign_off.void_by(&plan).is_empty());
    // A revision kept by name is about the plan, not of it.
    let kept = apply(&plan, &Edit::NameRevision { name: name("signed"), date: None }).unwrap();
    assert!(sign_off.void_by(&kept).is_empty());
    let moved = apply(&plan, &Edit::Move { gear: GearId(4), x: Length::mm(700.0), y: Length::mm(0.0) }).unwrap();
    let void_by: Vec<_> = sign_off.void_by(&moved).iter().map(gunnel::plan::parts::Part::key).collect();
    assert_eq!(void_by, vec![gunnel::plan::parts::PartKey::Gear(GearId(4))]);
    let back = apply(&moved, &Edit::Move { gear: GearId(4), x: Length::mm(650.0), y: Length::mm(0.0) }).unwrap();
    assert!(sign_off.void_by(&back).is_empty(), "what is as it was is signed");
}

#[test]
fn the_last_word_on_a_stop_stands_and_a_sign_off_can_be_taken_back() {
    let stop = |verdict, text: &str| Deed::Stop { stop: key("trim"), verdict, text: note(text) };
    let sign = |text: &str| Deed::SignOff { plan: signed(&rich()), text: note(text) };
    let talk = told(&[
        ("partner", vec![(1, stop(Verdict::Doubt, "bow down?")), (2, stop(Verdict::Good, "")), (3, sign("yes"))]),
        ("other", vec![(1, sign("yes")), (2, sign("still yes")), (3, Deed::Withdraw)]),
    ]);
    assert_eq!(talk.stops[&(key("partner"), key("trim"))], (Verdict::Good, note("")));
    let signed: Vec<_> = talk.sign_offs.iter().map(|sign_off| sign_off.by.as_str()).collect();
    assert_eq!(signed, ["partner"]);
}

#[test]
fn an_answer_from_a_clock_that_is_behind_is_not_lost() {
    let talk = told(&[
        ("partner", vec![(1_000, comment("why here?"))]),
        ("owner", vec![(20, answer(thread("partner", 1), "the lid"))]),
    ]);
    assert_eq!(talk.threads[0].said.len(), 2);
    let astray = told(&[("owner", vec![(20, answer(thread("nobody", 1), "hello?"))])]);
    assert_eq!((astray.threads.len(), astray.astray), (0, 1));
}

#[test]
fn stops_have_names_and_known_numbers() {
    let plan = rich();
    let study = gunnel::study::Study::of(&plan);
    let side = gunnel::compare::Side { plan: &plan, study: &study, findings: &[] };
    let numbers: BTreeSet<&str> = Comparison::of(side, side).numbers.iter().map(|number| number.key).collect();
    let mut seen = BTreeSet::new();
    for stop in STOPS {
        assert!(seen.insert(stop.key), "{} twice", stop.key);
        assert!(Key::new(stop.key).is_ok());
        assert!(stop.asks.ends_with('?'), "{}", stop.asks);
        for number in stop.numbers {
            assert!(numbers.contains(number), "{}: no number is called {number}", stop.key);
        }
    }
}

/// What an author may do, about the first threads of two authors.
fn deed() -> impl Strategy<Value = Deed> {
    let refs = || (prop_oneof![Just("ana"), Just("ben")], 1_u32..4).prop_map(|(by, id)| thread(by, id));
    prop_oneof![
        "[a-z]{1,5}".prop_map(|text| comment(&text)),
        (refs(), "[a-z]{1,5}").prop_map(|(to, text)| answer(to, &text)),
        refs().prop_map(|thread| Deed::Resolve { thread }),
        refs().prop_map(|thread| Deed::Reopen { thread }),
    ]
}

fn deeds() -> impl Strategy<Value = Vec<(u64, Deed)>> {
    proptest::collection::vec((0_u64..50, deed()), 0..8)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn no_comment_is_lost_and_no_word_of_it(ana in deeds(), ben in deeds()) {
        let talk = told(&[("ana", ana.clone()), ("ben", ben.clone())]);
        let opened = |deeds: &[(u64, Deed)]| deeds.iter().filter(|(_, does)| matches!(does, Deed::Comment { .. })).count();
        prop_assert_eq!(talk.threads.len(), opened(&ana) + opened(&ben));
        let about_threads = |deeds: &[(u64, Deed)]| deeds.len() - opened(deeds);
        let answers = |deeds: &[(u64, Deed)]| deeds.iter().filter(|(_, does)| matches!(does, Deed::Answer { .. })).count();
        let said: usize = talk.threads.iter().map(|thread| thread.said.len() - 1).sum();
        prop_assert!(said + talk.astray >= answers(&ana) + answers(&ben));
        prop_assert!(talk.astray <= about_threads(&ana) + about_threads(&ben));
        // Each author's own answers stay in their order.
        for thread in &talk.threads {
            let own = |said: &&gunnel::review::Said| said.by == thread.id.by;
            let own: Vec<u64> = thread.said.iter().skip(1).filter(own).map(|said| said.at_s).collect();
            prop_assert!(own.is_sorted());
        }
    }
}
