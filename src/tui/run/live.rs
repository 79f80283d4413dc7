//! The live link to other programs that have the plan open: opened, heard, told.

use std::path::Path;
use std::time::{Duration, SystemTime};

use time::OffsetDateTime;

use super::rim::Rim;
use super::{Message, lock};
use crate::review::company::{Stand, Word};
use crate::storage::document::Document;
use crate::storage::live::{Arrival, Guest, Host};
use crate::tui::app::App;
use crate::tui::update::company;

/// How long a mark stays.
const MARK_STAYS: Duration = Duration::from_secs(5);

/// The link, and what was told by it last.
#[derive(Debug, Default)]
pub(super) struct Link {
    end: End,
    /// Whether the owner's plan arrived: before that nothing is known of it but that somebody is there.
    shown: bool,
    /// Whether a mark's time is running.
    fading: bool,
    told: Option<Stand>,
    /// Revision of the plan, and how many of its edits were not saved.
    plan: Option<(u64, Option<usize>)>,
}

/// Which end this is.
#[derive(Debug, Default)]
enum End {
    #[default]
    None,
    Host(Host),
    Guest(Guest),
}

impl Rim {
    /// Opens the link of the plan at `path`, if this program edits it. Without one, others see what is saved.
    pub(super) fn host(&mut self, path: &Path) {
        self.link = Link::default();
        let edits = lock(&self.document).as_ref().is_some_and(Document::holds_lock);
        if edits && self.reviewer.is_none() && !self.read_only {
            self.link.end = Host::open(path, self.telling()).map_or(End::None, End::Host);
        }
    }

    /// Joins whoever edits the plan, if a partner looks on and somebody does.
    pub(super) fn join(&mut self, app: &mut App) {
        let path = app.editor().and_then(|editor| editor.file.path.clone());
        let (Some(path), Some(name), End::None) = (path, self.reviewer.clone(), &self.link.end) else { return };
        self.link.end = Guest::join(&path, &name, self.telling()).map_or(End::None, End::Guest);
        self.link.told = None;
    }

    /// What a new link calls with what arrives. The last words of an older one are told from its own by its number.
    fn telling(&mut self) -> impl Fn(Arrival) + Clone + Send + use<> {
        self.links += 1;
        let (link, sender) = (self.links, self.sender.clone());
        move |arrival| drop(sender.send(Message::Live(link, arrival)))
    }

    /// Whether the plan is shown as its owner has it, so that the file is no news.
    pub(super) fn is_live(&self) -> bool {
        self.link.shown && matches!(self.link.end, End::Guest(_))
    }

    /// Takes what arrived.
    pub(super) fn met(&mut self, app: &mut App, link: u64, arrival: Arrival) {
        if link != self.links || matches!(self.link.end, End::None) {
            return;
        }
        match arrival {
            Arrival::Joined(name) => {
                company::joined(app, name);
                self.introduce(app);
            }
            Arrival::Word(Word::Plan { plan, unsaved }) => {
                self.link.shown = true;
                company::shown(app, *plan, unsaved);
            }
            Arrival::Word(Word::Bye) => {
                self.link = Link::default();
                // What the owner did not save is gone, whether the file changed or not.
                self.reload(app);
                company::closed(app);
            }
            Arrival::Gone if self.is_live() => {
                self.link = Link::default();
                company::gone(app, now());
            }
            // Not let in: another version, or too many. Saved states are seen as without a link.
            Arrival::Gone => {
                self.link = Link::default();
                self.look_again(app);
            }
            Arrival::Word(word) => {
                let points = matches!(word, Word::Point { .. });
                company::told(app, word);
                if points {
                    self.fade(app);
                }
            }
        }
    }

    /// Tells the others something that was done here.
    pub(super) fn tell(&mut self, app: &App, word: Word) {
        let points = matches!(word, Word::Point { .. });
        self.send(word);
        if points {
            self.fade(app);
        }
    }

    /// Tells where this screen is and, if it is the owner's, how the plan is: whatever of it is new.
    pub(super) fn keep_told(&mut self, app: &App) {
        let Some(editor) = app.editor().filter(|editor| editor.company.is_together()) else { return };
        let stand = company::stand(editor);
        if self.link.told.as_ref() != Some(&stand)
            && let Some(who) = editor.voice.author()
        {
            self.link.told = Some(stand.clone());
            self.send(Word::Here { who, stand });
        }
        if let End::Host(host) = &self.link.end {
            let plan = (editor.session.revision(), editor.session.history().unsaved_edits());
            if self.link.plan != Some(plan) {
                self.link.plan = Some(plan);
                host.say_plan(&editor.session.shared_plan(), plan.1);
            }
        }
    }

    /// Tells a newcomer how everything is.
    fn introduce(&mut self, app: &App) {
        (self.link.told, self.link.plan) = (None, None);
        self.keep_told(app);
        let people = app.editor().map(|editor| &editor.company.people);
        for (who, stand) in people.into_iter().flatten() {
            if let Some(stand) = stand {
                self.send(Word::Here { who: who.clone(), stand: stand.clone() });
            }
        }
    }

    fn send(&self, word: Word) {
        match &self.link.end {
            End::None => {}
            End::Host(host) => host.say(&word),
            End::Guest(guest) => guest.say(word),
        }
    }

    /// Takes a mark away whose time is over, and lets the next one's run.
    pub(super) fn faded(&mut self, app: &mut App, nth: u64) {
        company::faded(app, nth);
        self.link.fading = false;
        self.fade(app);
    }

    /// Lets the oldest mark go in a while: one at a time, however many there are.
    fn fade(&mut self, app: &App) {
        let oldest = app.editor().and_then(|editor| editor.company.points.iter().map(|point| point.nth).min());
        let Some(nth) = oldest.filter(|_| !self.link.fading) else { return };
        self.link.fading = true;
        let sender = self.sender.clone();
        std::thread::spawn(move || {
            std::thread::sleep(MARK_STAYS);
            let _ = sender.send(Message::Faded(nth));
        });
    }
}

/// The time of day for people in different places.
fn now() -> String {
    let now = OffsetDateTime::from(SystemTime::now());
    format!("{:02}:{:02}:{:02} UTC", now.hour(), now.minute(), now.second())
}
