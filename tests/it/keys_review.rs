//! What is said about a plan, by keys: a comment, an answer, a suggestion taken over or not, the checklist, a sign-off.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use std::collections::BTreeMap;

use gunnel::edit::Edit;
use gunnel::plan::{Anchor, Key, Note};
use gunnel::review::entries::VERSION;
use gunnel::review::whereabouts::pin;
use gunnel::review::{Deed, Entry, STOPS, Verdict, talk};
use gunnel::tui::action::ACTIONS;
use gunnel::tui::update::{Effect, heard, perform};

use crate::boats::{demo, name, rich};
use crate::stage::Stage;

/// A screen and the files of those who speak, as the program would keep them.
struct Spoken {
    stage: Stage,
    files: BTreeMap<Key, Vec<Entry>>,
}

impl Spoken {
    fn owner() -> Self {
        Self { stage: Stage::on(rich()), files: BTreeMap::new() }
    }

    fn partner() -> Self {
        let mut stage = Stage::looking_at(rich());
        stage.app.editor_mut().unwrap().voice.reviewer = Some(key("partner"));
        Self { stage, files: BTreeMap::new() }
    }

    /// Plays keys; what is said by them is written and heard, as the rim does it.
    fn play(&mut self, script: &str) -> &mut Self {
        for word in script.split_inclusive(' ') {
            self.stage.play(word);
            for effect in std::mem::take(&mut self.stage.effects) {
                let Effect::Say(does) = effect else { panic!("{effect:?}") };
                let author = self.stage.editor().voice.author().unwrap();
                self.add(&author, *does.clone());
                heard(&mut self.stage.app, Some(&does));
            }
        }
        self
    }

    /// Somebody else says something.
    fn hear(&mut self, author: &str, does: Deed) {
        self.add(&key(author), does);
        heard(&mut self.stage.app, None);
    }

    fn add(&mut self, author: &Key, does: Deed) {
        let file = self.files.entry(author.clone()).or_default();
        let id = u32::try_from(file.len()).unwrap() + 1;
        file.push(Entry { v: VERSION, id, at_s: 1_900_000_000 + u64::from(id), does });
        let editor = self.stage.app.editor_mut().unwrap();
        editor.voice.talk = talk(editor.session.plan(), &self.files);
    }

    fn last(&self, author: &str) -> &Deed {
        &self.files[&key(author)].last().unwrap().does
    }

    fn shown(&self) -> String {
        self.stage.lines().join("\n")
    }
}

fn key(text: &str) -> Key {
    Key::new(text).unwrap()
}

fn note(text: &str) -> Note {
    Note::new(text).unwrap()
}

/// The partner's suggestion to call the first gear of the plan otherwise.
fn suggested(spoken: &mut Spoken) {
    let plan = spoken.stage.plan();
    let gear = plan.gear[0].id;
    let on = pin(plan, &Anchor::Gear(gear)).unwrap();
    let edits = vec![Edit::Rename { gear, label: name("better name") }];
    spoken.hear("partner", Deed::Suggest { on, text: note("clearer"), edits, next: None });
}

#[test]
fn a_comment_is_pinned_to_the_gear_under_the_cursor_or_to_the_spot() {
    let mut spoken = Spoken::partner();
    let gear = spoken.stage.plan().gear.iter().find(|gear| gear.is_placed()).unwrap().clone();
    let spot = gear.place.unwrap().spot();
    spoken.stage.go(spot.x, spot.y);
    let thing = spoken.stage.editor().gear().unwrap();
    spoken.play("; \"too-high\" enter ");
    let Deed::Comment { on, text } = spoken.last("partner") else { panic!() };
    assert_eq!((on.anchor.clone(), text.as_str()), (Anchor::Gear(thing), "too-high"));

    spoken.stage.go(-200.0, 0.0);
    spoken.play("; \"mind-this\" enter ");
    let Deed::Comment { on, .. } = spoken.last("partner") else { panic!() };
    assert!(matches!(on.anchor, Anchor::Spot(at) if at.x == -200.0 && at.y == 0.0), "{on:?}");
}

#[test]
fn a_comment_is_pinned_to_the_cable_of_the_chosen_line() {
    let mut stage = Stage::on(demo("seat-test.ron")).sized(120, 40);
    let cable = stage.plan().wiring.cables[0].id;
    stage.play("7");
    // Down to the line of that cable, the last lines of the diagram.
    let mut pinned = None;
    for _ in 0..60 {
        stage.play("; \"short\" enter");
        let on = stage.effects.drain(..).find_map(|effect| match effect {
            Effect::Say(does) => match *does {
                Deed::Comment { on, .. } => Some(on.anchor),
                _ => None,
            },
            _ => None,
        });
        if on == Some(Anchor::Cable(cable)) {
            pinned = on;
            break;
        }
        stage.play("down");
    }
    assert_eq!(pinned, Some(Anchor::Cable(cable)));
}

#[test]
fn an_empty_comment_is_none() {
    let mut spoken = Spoken::partner();
    spoken.play("; enter ");
    assert!(spoken.files.is_empty());
    assert!(spoken.shown().contains("there is nothing in it"), "{}", spoken.shown());
}

#[test]
fn a_suggestion_is_taken_over_as_one_step_with_credit() {
    let mut spoken = Spoken::owner();
    suggested(&mut spoken);
    let before = spoken.stage.plan().clone();
    spoken.play("Y enter enter ");
    assert_eq!(spoken.stage.plan().gear[0].label.as_str(), "better name");
    let history = spoken.stage.editor().session.history();
    assert!(history.next_undo().unwrap().contains("partner"), "{:?}", history.next_undo());
    assert!(matches!(spoken.last("owner"), Deed::Accept { .. }));
    assert!(spoken.shown().contains("taken over by owner"), "{}", spoken.shown());
    spoken.play("esc u ");
    assert_eq!(*spoken.stage.plan(), before);
}

#[test]
fn a_suggestion_is_declined_with_a_reason_and_opened_again() {
    let mut spoken = Spoken::owner();
    suggested(&mut spoken);
    spoken.play("Y enter x \"no-need\" enter ");
    assert!(matches!(spoken.last("owner"), Deed::Decline { reason, .. } if reason.as_str() == "no-need"));
    assert!(spoken.shown().contains("declined by owner, no-need"), "{}", spoken.shown());
    spoken.play("r ");
    assert!(matches!(spoken.last("owner"), Deed::Reopen { .. }));
    spoken.play("r ");
    assert!(matches!(spoken.last("owner"), Deed::Resolve { .. }));
}

#[test]
fn a_partner_is_offered_no_taking_over() {
    let mut spoken = Spoken::partner();
    suggested(&mut spoken);
    spoken.play("Y enter ");
    assert!(spoken.shown().contains("a answer"), "{}", spoken.shown());
    assert!(!spoken.shown().contains("take it over"), "{}", spoken.shown());
    spoken.play("enter x ");
    assert_eq!(spoken.files.len(), 1);
    assert_eq!(*spoken.stage.plan(), rich());
}

#[test]
fn threads_that_wait_are_marked_and_gone_to_one_after_the_other() {
    let mut spoken = Spoken::owner();
    for (x, text) in [(700.0, "first"), (1500.0, "second")] {
        let on = pin(spoken.stage.plan(), &Anchor::Spot(gunnel::geometry::Spot::new(x, 250.0))).unwrap();
        spoken.hear("partner", Deed::Comment { on, text: note(text) });
    }
    spoken.stage.resize(120, 40);
    assert_eq!(spoken.shown().matches('§').count(), 2, "{}", spoken.shown());
    spoken.play("Z ");
    assert_eq!(spoken.stage.editor().cursor.x, 700.0);
    assert!(spoken.shown().contains("first"), "{}", spoken.shown());
    spoken.play("r esc ");
    assert_eq!(spoken.shown().matches('§').count(), 1, "{}", spoken.shown());
    spoken.play("Z ");
    assert_eq!(spoken.stage.editor().cursor.x, 1500.0);
}

#[test]
fn the_checklist_goes_on_by_itself_and_ends_with_a_sign_off_that_any_edit_voids() {
    let mut spoken = Spoken::owner();
    spoken.stage.resize(160, 40);
    spoken.play("! ");
    assert!(spoken.shown().contains(&STOPS[0].asks[..60]), "{}", spoken.shown());
    spoken.play("g ");
    assert!(
        matches!(spoken.last("owner"), Deed::Stop { stop, verdict: Verdict::Good, .. } if stop.as_str() == STOPS[0].key)
    );
    assert!(spoken.shown().contains(STOPS[1].asks), "{}", spoken.shown());
    spoken.play("d \"weigh-it\" enter ");
    assert!(
        matches!(spoken.last("owner"), Deed::Stop { verdict: Verdict::Doubt, text, .. } if text.as_str() == "weigh-it")
    );
    spoken.play("n ");
    assert!(matches!(spoken.last("owner"), Deed::Stop { verdict: Verdict::Apart, .. }));
    spoken.play("left left ");
    assert!(spoken.shown().contains("owner: in doubt, weigh-it"), "{}", spoken.shown());
    for _ in 1..STOPS.len() {
        spoken.play("right ");
    }
    spoken.play("s enter esc ");
    assert!(spoken.stage.lines()[0].contains("signed by owner"), "{}", spoken.stage.lines()[0]);
    spoken.play("} ");
    assert!(spoken.stage.lines()[0].contains("sign-off void: 1 change"), "{}", spoken.stage.lines()[0]);
    spoken.play("u ");
    assert!(spoken.stage.lines()[0].contains("signed by owner"), "{}", spoken.stage.lines()[0]);
}

#[test]
fn no_action_of_a_review_leaves_the_plan_or_the_program() {
    for row in ACTIONS {
        let mut spoken = Spoken::partner();
        let stage = &mut spoken.stage;
        stage.effects.extend(perform(&mut stage.app, row.action));
        stage.play("enter \"1\" enter enter esc esc");
        // What is tried on a copy is no part of the plan.
        assert_eq!(*stage.editor().reviewed(), rich(), "{}", row.id);
        assert!(stage.effects.iter().all(Effect::in_review), "{}: {:?}", row.id, stage.effects);
    }
}

#[test]
fn what_was_said_stays_text_whatever_is_in_it() {
    let mut spoken = Spoken::owner();
    let on = pin(spoken.stage.plan(), &Anchor::Plan).unwrap();
    for hostile in ["\u{1b}[2J", "\u{202e}live", "a\rb", "\u{9b}31m"] {
        // What cannot be written by the program cannot be read by it either.
        let typed = Note::new(hostile);
        if let Ok(text) = typed {
            spoken.hear("partner", Deed::Comment { on: on.clone(), text });
        }
    }
    spoken.hear("partner", Deed::Comment { on, text: note("plain") });
    spoken.play("Y ");
    let shown = spoken.shown();
    assert!(shown.contains("plain"), "{shown}");
    assert!(!shown.contains(['\u{1b}', '\u{202e}', '\r', '\u{9b}']), "{shown}");
}
