//! An owner and two reviewers on one plan and one folder, in any order: no saved edit and no word is lost, and who
//! looks again sees what the others see.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use std::collections::BTreeSet;

use gunnel::edit::Edit;
use gunnel::plan::{Anchor, Key, Note, Plan};
use gunnel::review::whereabouts::pin;
use gunnel::review::{Deed, Suggested, Talk, ThreadRef, taken_over, talk};
use gunnel::session::Session;
use gunnel::storage::comments::Comments;
use gunnel::storage::document::Document;
use gunnel::storage::load::Format;
use gunnel::storage::paths::Env;
use gunnel::storage::write;
use gunnel::units::Measure;
use proptest::prelude::*;

use crate::boats::{bare, name};

/// One program: the owner's or a reviewer's.
struct Program {
    author: Key,
    document: Document,
    session: Session,
    talk: Talk,
}

/// All programs, the folder they share, and what has to be in it at the end.
struct Table {
    folder: tempfile::TempDir,
    comments: Comments,
    programs: Vec<Program>,
    /// Seconds; each entry has its own.
    clock: u64,
    /// Every word that was said.
    words: BTreeSet<String>,
    /// The plan's file as the owner saved it last.
    saved: String,
}

/// What a program does next; the number makes a name of its own, or chooses a thread.
#[derive(Clone, Copy, Debug)]
enum Step {
    Name(u8),
    Undo,
    Save,
    Look,
    Comment,
    Suggest(u8),
    Answer(u8),
    Resolve(u8),
    Accept,
    Decline,
}

impl Table {
    fn new() -> Self {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("boat.ron");
        std::fs::write(&path, text(&bare())).unwrap();
        let env = Env::of([("XDG_STATE_HOME", folder.path().join("state"))]);
        let program = |author: &str| {
            let opened = match author {
                "owner" => Document::open(&path, &env, Measure::default()),
                _ => Document::look(&path, &env, Measure::default()),
            };
            let (document, session, _) = opened.unwrap();
            Program { author: Key::new(author).unwrap(), document, session, talk: Talk::default() }
        };
        let programs = ["owner", "ana", "ben"].map(program).into();
        let comments = Comments::beside(&path);
        Self { folder, comments, programs, clock: 1_900_000_000, words: BTreeSet::new(), saved: text(&bare()) }
    }

    /// What is in the plan's file.
    fn on_disk(&self) -> String {
        std::fs::read_to_string(self.folder.path().join("boat.ron")).unwrap()
    }

    fn step(&mut self, who: usize, step: Step) {
        let owner = who == 0;
        match step {
            Step::Name(to) if owner => drop(self.programs[0].session.edit(named(to))),
            Step::Undo if owner => drop(self.programs[0].session.undo()),
            Step::Save if owner => {
                let program = &mut self.programs[0];
                program.document.save(&mut program.session).unwrap();
                self.saved = text(program.session.plan());
            }
            Step::Accept if owner => self.accept(),
            // What a reviewer may not do at all.
            Step::Name(_) | Step::Undo | Step::Accept => {}
            Step::Save => {
                let program = &mut self.programs[who];
                assert!(program.document.save(&mut program.session).is_err(), "a reviewer saves nothing");
            }
            Step::Look => self.look(who),
            Step::Comment => {
                let text = self.word();
                self.say(who, Deed::Comment { on: on_the_plan(), text });
            }
            Step::Suggest(to) => {
                let text = self.word();
                self.say(who, Deed::Suggest { on: on_the_plan(), text, edits: vec![named(to)], next: None });
            }
            Step::Answer(which) => {
                if let Some(thread) = self.thread(who, which) {
                    let text = self.word();
                    self.say(who, Deed::Answer { thread, text });
                }
            }
            Step::Resolve(which) => {
                if let Some(thread) = self.thread(who, which) {
                    self.say(who, Deed::Resolve { thread });
                }
            }
            Step::Decline => {
                if let Some((thread, _)) = self.waiting(who) {
                    let reason = self.word();
                    self.say(who, Deed::Decline { thread, reason });
                }
            }
        }
        let program = &mut self.programs[who];
        program.document.note(&mut program.session);
    }

    /// Takes the first suggestion that waits over as one step.
    fn accept(&mut self) {
        let Some((thread, edit)) = self.waiting(0) else { return };
        if self.programs[0].session.edit(edit).is_ok() {
            self.say(0, Deed::Accept { thread });
        }
    }

    /// Reads plan and folder anew, as the program does when it is told that they changed.
    fn look(&mut self, who: usize) {
        let program = &mut self.programs[who];
        if program.document.changed_on_disk() {
            let brought = program.document.reload(&mut program.session).unwrap();
            assert!(brought.conflicts.is_empty() && brought.lost.is_empty());
        }
        let heard = self.comments.read();
        assert!(heard.troubles.is_empty(), "{:?}", heard.troubles);
        program.talk = talk(program.session.plan(), &heard.authors);
    }

    fn say(&mut self, who: usize, does: Deed) {
        self.clock += 1;
        self.comments.add(&self.programs[who].author, does, self.clock).unwrap();
        self.look(who);
    }

    /// A word nobody said before.
    fn word(&mut self) -> Note {
        let word = format!("word {}", self.words.len());
        self.words.insert(word.clone());
        Note::new(word).unwrap()
    }

    /// One of the threads that a program knows of.
    fn thread(&self, who: usize, which: u8) -> Option<ThreadRef> {
        let threads = &self.programs[who].talk.threads;
        threads.get(usize::from(which) % threads.len().max(1)).map(|thread| thread.id.clone())
    }

    /// The first suggestion that waits for all a program knows, and the edit it would be.
    fn waiting(&self, who: usize) -> Option<(ThreadRef, Edit)> {
        let program = &self.programs[who];
        program.talk.threads.iter().find_map(|thread| {
            let suggestion = thread.suggestion.as_ref().filter(|it| it.became == Suggested::Waiting)?;
            Some((thread.id.clone(), taken_over(program.session.plan(), suggestion, &thread.id.by).ok()?))
        })
    }

    /// Every word in the folder, each as often as it is there.
    fn in_the_folder(&self) -> Vec<String> {
        let authors = self.comments.read().authors;
        let word = |does: &Deed| match does {
            Deed::Comment { text, .. } | Deed::Suggest { text, .. } | Deed::Answer { text, .. } => {
                Some(text.to_string())
            }
            Deed::Decline { reason, .. } => Some(reason.to_string()),
            _ => None,
        };
        authors.values().flatten().filter_map(|entry| word(&entry.does)).collect()
    }
}

/// A plan as its file.
fn text(plan: &Plan) -> String {
    write::plan(plan, Format::Ron).unwrap()
}

fn named(number: u8) -> Edit {
    Edit::RenamePlan { name: name(&format!("boat {number}")) }
}

fn on_the_plan() -> gunnel::review::Pin {
    pin(&bare(), &Anchor::Plan).unwrap()
}

fn step() -> impl Strategy<Value = Step> {
    prop_oneof![
        any::<u8>().prop_map(Step::Name),
        Just(Step::Undo),
        Just(Step::Save),
        Just(Step::Look),
        Just(Step::Comment),
        any::<u8>().prop_map(Step::Suggest),
        any::<u8>().prop_map(Step::Answer),
        any::<u8>().prop_map(Step::Resolve),
        Just(Step::Accept),
        Just(Step::Decline),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 40, max_shrink_iters: 200, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn nothing_saved_and_nothing_said_is_lost(steps in proptest::collection::vec((0_usize..3, step()), 25)) {
        let mut table = Table::new();
        for (who, step) in steps {
            table.step(who, step);
            prop_assert_eq!(&table.on_disk(), &table.saved);
        }
        table.step(0, Step::Save);
        for who in 0..3 {
            table.look(who);
        }
        let mut found = table.in_the_folder();
        found.sort();
        let mut words: Vec<String> = table.words.iter().cloned().collect();
        words.sort();
        prop_assert_eq!(found, words);
        let owner = &table.programs[0];
        for program in &table.programs {
            prop_assert_eq!(text(program.session.plan()), table.on_disk());
            prop_assert_eq!(&program.talk, &owner.talk);
        }
        prop_assert_eq!(owner.talk.astray, 0);
    }
}
