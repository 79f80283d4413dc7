//! The state of the screen: everything the drawing reads and `update` changes.

mod hand;
mod shown;

use std::path::PathBuf;
use std::sync::Arc;

use ratatui::layout::Rect;

pub use self::hand::{Carried, Hand, Held, Preview};
pub use self::shown::{Focus, Overlay, SideView};

use super::action::Context;
use super::bands::Bands;
use super::canvas::Canvas;
use super::cells::Brush;
use super::company::Company;
use super::compared::Compared;
use super::deck::Deck;
use super::draft::Draft;
use super::glyphs::Glyphs;
use super::layer::Layer;
use super::panels::PanelKind;
use super::theme::Theme;
use super::view::{View, Window};
use super::voice::{Pinned, Voice};
use crate::catalogue::{Catalogue, HullClass};
use crate::checks::Subject;
use crate::compare::Side;
use crate::geometry::Spot;
use crate::plan::{CircuitId, Day, FeatureId, GearId, Plan, ZoneId};
use crate::session::Session;
use crate::study::cables::CableRef;
use crate::study::rig::HoleRef;
use crate::units::Measure;

/// The whole state of the screen.
pub struct App {
    /// What is shown under the layers.
    pub screen: Screen,
    /// Lists, forms and messages on top, the last one in front.
    pub layers: Vec<Layer>,
    /// How things are shown.
    pub look: Look,
    /// One line for the person, until the next key.
    pub toast: Option<Toast>,
    /// The day it is where the person is; `None` where nobody said.
    pub today: Option<Day>,
    /// Columns and rows of the terminal.
    pub size: (u16, u16),
    /// Shipped and own catalogue entries.
    pub catalogue: Arc<Catalogue>,
    /// Shipped and own hull classes.
    pub hulls: Vec<HullClass>,
    /// The demo plans: name, one line about it, text.
    pub demos: &'static [crate::scenarios::Scenario],
    /// Plans opened before, the latest first.
    pub recent: Vec<PathBuf>,
    /// Journals of plans that were never saved.
    pub lost: Vec<PathBuf>,
}

/// What is shown under the layers.
pub enum Screen {
    /// Choosing a plan.
    Start {
        /// The chosen row.
        row: usize,
    },
    /// Working on a plan.
    Editor(Box<Editor>),
}

/// How things are shown.
#[derive(Clone, Debug)]
pub struct Look {
    /// Colours by role.
    pub theme: Theme,
    /// Block or ASCII.
    pub glyphs: Glyphs,
    /// Metric or inches.
    pub tape: Measure,
}

/// One line for the person.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Toast {
    /// What it says.
    pub text: String,
    /// Whether something did not work.
    pub refused: bool,
}

/// Work on one plan.
pub struct Editor {
    /// Plan, history, study.
    pub session: Session,
    /// The file, as far as the screen needs to know it.
    pub file: FileState,
    /// What part of the boat is shown.
    pub view: View,
    /// The cursor on the deck.
    pub cursor: Spot,
    /// A thing chosen in a list, until the cursor moves.
    pub chosen: Option<Thing>,
    /// Gear in hand.
    pub hand: Option<Hand>,
    /// What lies over the deck.
    pub overlay: Option<Overlay>,
    /// The other state of the plan that lies over the deck while that overlay is on.
    pub compared: Option<Compared>,
    /// The plan as it was opened.
    pub opened: Arc<Plan>,
    /// What the lower picture shows.
    pub side: SideView,
    /// What has the keys.
    pub focus: Focus,
    /// The chosen row of each panel and of the findings.
    pub rows: [usize; 7],
    /// What was picked up in the diagram of the wires.
    pub carried: Option<Carried>,
    /// The cable that is walked.
    pub walked: Option<CableRef>,
    /// The finding last gone to.
    pub finding: Option<usize>,
    /// Who speaks here, and what was said.
    pub voice: Voice,
    /// Where threads wait.
    pub pinned: Vec<Pinned>,
    /// Who else has the plan open now.
    pub company: Company,
    /// Where they are.
    pub others: Vec<(char, Spot)>,
    /// What lies aside while a partner tries something.
    pub draft: Option<Draft>,
    /// Gear that the last edit touched.
    pub changed: Vec<GearId>,
    /// Reach at deck height, kept while that overlay is on; see [`Editor::refresh`].
    pub bands: Option<Bands>,
    /// What of the deck's picture stays as it is while only the cursor moves.
    pub still: Option<(StillOf, Canvas)>,
    /// The revision that `changed` and `bands` were made for.
    seen: u64,
}

/// What a still picture of the deck was made from; one made from something else is not used.
#[derive(Clone, Debug, PartialEq)]
pub struct StillOf {
    revision: u64,
    window: Window,
    selected: Option<Subject>,
    cable: Option<CableRef>,
    overlay: Option<Overlay>,
    compared: Option<String>,
    look: (Glyphs, Measure),
}

/// Where the findings' chosen row stands, behind those of the panels.
pub const FINDINGS_ROW: usize = 6;

/// The file, as far as the screen needs to know it.
#[derive(Clone, Debug, Default)]
pub struct FileState {
    /// Its path; `None` for a plan never saved.
    pub path: Option<PathBuf>,
    /// Why it can only be looked at.
    pub read_only: Option<String>,
    /// Whether the journal cannot be written.
    pub journal_off: bool,
}

/// How near the hip the cursor points at the person, mm.
const SEAT_MM: f64 = 60.0;

/// A thing on the boat.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Thing {
    /// A piece of gear.
    Gear(GearId),
    /// A hole.
    Hole(HoleRef),
    /// A feature of the hull.
    Feature(FeatureId),
    /// A zone of the deck.
    Zone(ZoneId),
    /// A circuit: all its loads.
    Circuit(CircuitId),
    /// A cable.
    Cable(CableRef),
    /// The hull as a whole.
    Hull,
    /// The person.
    Person,
}

impl Thing {
    /// The thing as findings and pictures know it. Hull, person and zones are too large to be lit.
    pub fn subject(self) -> Option<Subject> {
        match self {
            Self::Gear(id) => Some(Subject::Gear(id)),
            Self::Hole(id) => Some(Subject::Hole(id)),
            Self::Feature(id) => Some(Subject::Feature(id)),
            Self::Circuit(id) => Some(Subject::Circuit(id)),
            Self::Zone(_) | Self::Cable(_) | Self::Hull | Self::Person => None,
        }
    }
}

impl App {
    /// The context keys are looked up in.
    pub fn context(&self) -> Context {
        match &self.screen {
            Screen::Start { .. } => Context::Start,
            Screen::Editor(editor) if editor.hand.is_some() => Context::Hand,
            Screen::Editor(editor) if editor.focus == Focus::Panel(PanelKind::Wiring) => Context::Wiring,
            Screen::Editor(editor) if editor.focus != Focus::Deck => Context::Panel,
            Screen::Editor(_) => Context::Deck,
        }
    }

    /// The editor, if a plan is open.
    pub fn editor(&self) -> Option<&Editor> {
        match &self.screen {
            Screen::Editor(editor) => Some(editor),
            Screen::Start { .. } => None,
        }
    }

    /// The editor, to change.
    pub fn editor_mut(&mut self) -> Option<&mut Editor> {
        match &mut self.screen {
            Screen::Editor(editor) => Some(editor),
            Screen::Start { .. } => None,
        }
    }

    /// Says something.
    pub fn say(&mut self, text: impl Into<String>) {
        self.toast = Some(Toast { text: text.into(), refused: false });
    }

    /// Says that something did not work.
    pub fn refuse(&mut self, text: impl Into<String>) {
        self.toast = Some(Toast { text: text.into(), refused: true });
    }
}

impl Editor {
    /// Starts work on a plan: the whole boat shown, the cursor ahead of the seat.
    pub fn new(session: Session, file: FileState) -> Self {
        let seat = session.study().reach.body.hip;
        let cursor = Spot::new(((seat.x + 500.0) / 25.0).round() * 25.0, 0.0);
        let opened = session.shared_plan();
        Self {
            session,
            file,
            view: View::default(),
            cursor,
            chosen: None,
            hand: None,
            overlay: None,
            compared: None,
            opened,
            side: SideView::default(),
            focus: Focus::Deck,
            rows: [0; 7],
            carried: None,
            walked: None,
            finding: None,
            voice: Voice::default(),
            pinned: Vec::new(),
            company: Company::default(),
            others: Vec::new(),
            draft: None,
            changed: Vec::new(),
            bands: None,
            still: None,
            seen: 0,
        }
    }

    /// Brings up to date what is kept beside the session. Called after every event.
    pub fn refresh(&mut self, deck: Rect, look: &Look) {
        let revision = self.session.revision();
        let stale = revision != self.seen;
        if stale {
            self.seen = revision;
            self.changed = self.session.changed_gear();
        }
        self.pinned = self.voice.pinned(self.session.plan());
        self.others = self.company.stands();
        let window = self.view.window(&self.session.plan().hull, deck);
        if self.overlay != Some(Overlay::Reach) {
            self.bands = None;
        } else if stale || !self.bands.as_ref().is_some_and(|bands| bands.fit(&window)) {
            self.bands = Some(Bands::of(self.session.plan(), self.session.study(), window));
        }
        if self.overlay == Some(Overlay::Compared)
            && let Some(mut other) = self.compared.take()
        {
            other.with(self.side(), revision);
            self.compared = Some(other);
        }
        let made_of = self.still_of(window, look);
        if self.still.as_ref().is_none_or(|(of, _)| *of != made_of) {
            let brush = Brush { theme: &look.theme, glyphs: look.glyphs };
            let canvas = Deck { scene: &super::draw::boat::scene(self, look.tape), window, brush }.still();
            self.still = Some((made_of, canvas));
        }
    }

    /// What a still picture would be made from now.
    pub fn still_of(&self, window: Window, look: &Look) -> StillOf {
        let selected = self.thing().and_then(Thing::subject);
        let look = (look.glyphs, look.tape);
        let cable = self.cable();
        let overlay = self.overlay;
        let laid = self.compared.as_ref().filter(|_| overlay == Some(Overlay::Compared));
        // Its words name the state and count what is different.
        let compared = laid.map(|other| other.words.clone());
        StillOf { revision: self.session.revision(), window, selected, cable, overlay, compared, look }
    }

    /// The plan in use with what follows from it.
    pub fn side(&self) -> Side<'_> {
        let session = &self.session;
        Side { plan: session.plan(), study: session.study(), findings: session.findings() }
    }

    /// The thing in question: chosen in a list, or under the cursor.
    pub fn thing(&self) -> Option<Thing> {
        self.chosen.or_else(|| self.thing_at(self.cursor))
    }

    /// The uppermost thing at a spot: what the words name, else the zone.
    pub fn thing_at(&self, spot: Spot) -> Option<Thing> {
        let (plan, study) = (self.session.plan(), self.session.study());
        match super::words::under(plan, study, spot) {
            Some(Subject::Gear(id)) => Some(Thing::Gear(id)),
            Some(Subject::Hole(id)) => Some(Thing::Hole(id)),
            Some(Subject::Feature(id)) => Some(Thing::Feature(id)),
            _ if study.reach.body.hip.spot().distance(spot) <= SEAT_MM => Some(Thing::Person),
            _ => plan.hull.zone_at(spot).map(|zone| Thing::Zone(zone.id)),
        }
    }

    /// The gear in question: gear of the plan in hand, else the thing if it is gear or a hole of gear.
    pub fn gear(&self) -> Option<GearId> {
        match (self.hand.as_ref().map(|hand| &hand.held), self.thing()) {
            (Some(Held::Gear(id)), _) => Some(*id),
            // What lies under new gear is not what the person has in mind.
            (Some(Held::New(_)), _) => None,
            (None, Some(Thing::Gear(id) | Thing::Hole(HoleRef::Gear(id, _)))) => Some(id),
            (None, _) => None,
        }
    }

    /// The spot a thing is shown at.
    pub fn spot_of(&self, thing: Thing) -> Option<Spot> {
        let (plan, study) = (self.session.plan(), self.session.study());
        match thing {
            Thing::Gear(id) => study.rig.item(id).map(|item| item.at.spot()),
            Thing::Hole(id) => study.holes.holes.iter().find(|hole| hole.id == id).map(|hole| hole.at.spot()),
            Thing::Feature(id) => plan.feature(id).map(|feature| feature.at_mm.spot()),
            Thing::Zone(id) => plan.zone(id).map(|zone| zone.outline_mm.middle()),
            Thing::Circuit(id) => {
                let circuit = plan.wiring.circuit(id)?;
                circuit.loads.iter().chain([&circuit.battery]).find_map(|gear| self.spot_of(Thing::Gear(*gear)))
            }
            Thing::Cable(id) => study.cables.run(id).and_then(|run| self.spot_of(Thing::Gear(run.to))),
            Thing::Person => Some(study.reach.body.hip.spot()),
            Thing::Hull => None,
        }
    }

    /// The cable in question: walked, or chosen.
    pub fn cable(&self) -> Option<CableRef> {
        match self.chosen {
            Some(Thing::Cable(id)) => Some(id),
            _ => self.walked,
        }
    }

    /// Whether the plan may be changed.
    pub fn may_write(&self) -> bool {
        self.file.read_only.is_none()
    }
}
