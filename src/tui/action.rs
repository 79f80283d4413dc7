//! The actions: what a person can do, in one table.
//!
//! A row holds the action, its stable id, what it is called, the keys that start it in which
//! context, and when it is possible. Dispatch, the footer, the list of all actions and the README's
//! key list are printed from this table; nothing else in the program matches on keys.

use crossterm::event::{KeyCode, KeyEvent, KeyModifiers};

/// Something a person can do.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[allow(missing_docs, reason = "each is described by its row in the table")]
pub enum Action {
    CursorAft,
    CursorFore,
    CursorPort,
    CursorStarboard,
    LeapAft,
    LeapFore,
    LeapPort,
    LeapStarboard,
    ToStern,
    ToBow,
    ToCentreline,
    ZoomIn,
    ZoomOut,
    WholeBoat,
    PanAft,
    PanFore,
    PanPort,
    PanStarboard,
    NextFinding,
    PreviousFinding,
    Jump,
    TakeGear,
    TakeAshore,
    PickUp,
    SetDown,
    LetGo,
    TurnLeft,
    TurnRight,
    Mirror,
    NearestHold,
    NextMount,
    NextLevel,
    Raise,
    MoveTo,
    Swap,
    Duplicate,
    PutAshore,
    Strike,
    Rename,
    Seal,
    Work,
    Circuit,
    Inspect,
    AddHole,
    PlugHole,
    ReuseHole,
    ReopenHole,
    StrikeHole,
    Seat,
    SeatAft,
    SeatFore,
    LevelIt,
    Person,
    Outing,
    MeasureHull,
    PlanName,
    Undo,
    Redo,
    History,
    Readings,
    Revisions,
    Build,
    SeatTest,
    Talk,
    Comment,
    NextThread,
    Checklist,
    Explain,
    Lights,
    ShowInside,
    ShowReach,
    ShowEnvelopes,
    ShowHoles,
    ShowWater,
    NextSideView,
    NextFocus,
    PreviousFocus,
    FocusPower,
    FocusHoles,
    FocusReach,
    FocusClearance,
    FocusFindings,
    FocusFloat,
    FocusWiring,
    ShowCables,
    WalkCable,
    CarryLoad,
    CureWire,
    AddCircuit,
    StrikeWire,
    SeatView,
    Back,
    RowUp,
    RowDown,
    PageUp,
    PageDown,
    Accept,
    SwitchTape,
    SwitchTheme,
    SwitchGlyphs,
    Actions,
    Save,
    SaveAs,
    OpenStart,
    Suspend,
    Repaint,
    Quit,
}

/// Where a key is looked up.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Context {
    /// The cursor is on the deck, hands free.
    Deck,
    /// Gear is in hand.
    Hand,
    /// A panel or the findings have the focus.
    Panel,
    /// The diagram of the wires has the focus: a panel with keys of its own.
    Wiring,
    /// The start screen: a list like a panel.
    Start,
    /// In all of them.
    Anywhere,
}

impl Context {
    /// Whether a row of context `self` counts while the program is in `now`.
    pub fn covers(self, now: Self) -> bool {
        match self {
            Self::Anywhere => true,
            Self::Panel => matches!(now, Self::Panel | Self::Wiring | Self::Start),
            other => other == now,
        }
    }
}

/// What an action needs to be possible.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Needs {
    /// Nothing.
    Nothing,
    /// The plan may be changed.
    Writing,
    /// A plan is open.
    Plan,
    /// Gear is selected (and the plan may be changed).
    Gear,
    /// Placed gear is selected (and the plan may be changed).
    PlacedGear,
    /// A hole no gear owns is selected (and the plan may be changed).
    Hole,
    /// The diagram of the wires is open (and the plan may be changed).
    Wires,
    /// Gear or such a hole is selected (and the plan may be changed).
    GearOrHole,
    /// A plan is open that is the person's own, not one under review.
    Own,
    /// The program is not under review: a partner gets no shell.
    Shell,
    /// There is something to undo.
    Undo,
    /// There is something to redo.
    Redo,
    /// There is a finding.
    Finding,
}

/// One row of the table.
#[derive(Debug)]
pub struct Row {
    /// The action.
    pub action: Action,
    /// Stable id, for the list of actions and bug reports.
    pub id: &'static str,
    /// What it is called in the list.
    pub title: &'static str,
    /// Two words at most for the footer; empty keeps it out of the footer.
    pub hint: &'static str,
    /// Where its keys count.
    pub context: Context,
    /// Its keys by name: `a`, `A`, `ctrl-s`, `shift-left`, `enter`.
    pub keys: &'static [&'static str],
    /// What it needs.
    pub needs: Needs,
}

const fn row(
    action: Action,
    id: &'static str,
    title: &'static str,
    hint: &'static str,
    context: Context,
    keys: &'static [&'static str],
    needs: Needs,
) -> Row {
    Row { action, id, title, hint, context, keys, needs }
}

use Action as A;
use Context::{Anywhere, Deck, Hand, Panel, Wiring};
use Needs as N;

/// All actions. The order is the order of the footer and of the list.
#[rustfmt::skip]
pub static ACTIONS: &[Row] = &[
    // Gear in hand first: what one can do with it is what matters then.
    row(A::SetDown, "set-down", "set down what is in hand", "set down", Hand, &["enter", "space"], N::Writing),
    row(A::LetGo, "let-go", "let go: back to where it was", "let go", Hand, &["esc"], N::Plan),
    row(A::TurnLeft, "turn-left", "turn 45 degrees to port", "turn", Anywhere, &["t"], N::PlacedGear),
    row(A::TurnRight, "turn-right", "turn 45 degrees to starboard", "", Anywhere, &["T"], N::PlacedGear),
    row(A::NearestHold, "nearest-hold", "go to the nearest place that holds what is in hand", "nearest", Hand, &["."], N::Writing),
    row(A::NextMount, "mount", "hold it another way", "mount", Anywhere, &["m"], N::Gear),
    row(A::NextLevel, "level", "mount on deck, inside or under the hull", "level", Anywhere, &["l"], N::PlacedGear),
    row(A::CarryLoad, "carry-load", "pick up a load or a circuit, set it down on a line", "pick up", Wiring, &["space"], N::Wires),
    row(A::CureWire, "cure-wire", "take the wire size and fuse that would do", "cure", Wiring, &["."], N::Wires),
    row(A::AddCircuit, "add-circuit", "add a circuit on this line, or a cable", "add circuit", Wiring, &["a"], N::Wires),
    row(A::StrikeWire, "strike-wire", "take a load off its circuit, strike a circuit, a main or a cable", "take off", Wiring, &["d"], N::Wires),
    row(A::TakeGear, "take-gear", "take gear from the catalogue", "take gear", Deck, &["a"], N::Writing),
    row(A::PickUp, "pick-up", "pick up to move", "pick up", Deck, &["space"], N::Gear),
    row(A::Inspect, "inspect", "inspect what is under the cursor", "inspect", Deck, &["enter"], N::Plan),
    row(A::Undo, "undo", "undo", "undo", Anywhere, &["u"], N::Undo),
    row(A::Redo, "redo", "redo", "", Anywhere, &["U", "ctrl-r"], N::Redo),
    row(A::NextFinding, "next-finding", "go to the next finding", "finding", Anywhere, &["n"], N::Finding),
    row(A::PreviousFinding, "previous-finding", "go to the previous finding", "", Anywhere, &["N"], N::Finding),
    row(A::Jump, "jump", "jump to gear, feature or finding by typing", "jump", Anywhere, &["/", "f"], N::Plan),
    row(A::NextFocus, "next-panel", "go to the next panel", "panels", Anywhere, &["tab"], N::Plan),
    row(A::PreviousFocus, "previous-panel", "go to the previous panel", "", Anywhere, &["shift-tab"], N::Plan),
    row(A::Accept, "accept", "go there, or change the figure", "go there", Panel, &["enter"], N::Nothing),
    row(A::Back, "back", "back to the deck", "deck", Panel, &["esc"], N::Plan),
    row(A::Explain, "explain", "explain the finding", "explain", Anywhere, &["x"], N::Finding),
    row(A::Save, "save", "save", "save", Anywhere, &["ctrl-s", "w"], N::Own),
    row(A::Actions, "actions", "all actions: type to find, enter to run", "all actions", Anywhere, &["?", ":"], N::Nothing),
    row(A::Quit, "quit", "quit", "quit", Anywhere, &["q", "ctrl-c", "ctrl-q"], N::Nothing),
    // More to do with gear.
    row(A::TakeAshore, "take-ashore", "take gear that is ashore", "", Deck, &["g"], N::Writing),
    row(A::Mirror, "mirror", "mirror across the centreline", "", Anywhere, &["M"], N::PlacedGear),
    row(A::Raise, "raise", "raise over its surface", "", Anywhere, &["^"], N::PlacedGear),
    row(A::MoveTo, "move-to", "move to typed distances", "", Anywhere, &["="], N::PlacedGear),
    row(A::Swap, "swap", "swap for another catalogue entry", "", Anywhere, &["S"], N::Gear),
    row(A::Duplicate, "duplicate", "duplicate, copy in hand", "", Deck, &["d"], N::Gear),
    row(A::PutAshore, "put-ashore", "put ashore", "", Anywhere, &["b", "backspace"], N::PlacedGear),
    row(A::Strike, "strike", "strike from the plan", "", Anywhere, &["D", "delete"], N::Gear),
    row(A::Rename, "rename", "rename", "", Anywhere, &["R"], N::Gear),
    row(A::Seal, "seal", "choose the seal of its holes", "", Anywhere, &["L"], N::Gear),
    row(A::Work, "work-done", "note how far the work on it is", "", Anywhere, &["F"], N::GearOrHole),
    row(A::Circuit, "circuit", "put on a circuit", "", Anywhere, &["C"], N::Gear),
    // Holes.
    row(A::AddHole, "add-hole", "add a cable hole at the cursor", "", Deck, &["h"], N::Writing),
    row(A::PlugHole, "plug-hole", "plug the hole", "", Anywhere, &["p"], N::Hole),
    row(A::ReuseHole, "reuse-hole", "reuse the hole for gear", "", Anywhere, &["P"], N::Hole),
    row(A::ReopenHole, "reopen-hole", "leave the hole open", "", Anywhere, &[], N::Hole),
    row(A::StrikeHole, "strike-hole", "strike a hole not drilled yet", "", Anywhere, &[], N::Hole),
    // Person, seat, day.
    row(A::Seat, "seat", "set the seat", "", Anywhere, &["s"], N::Writing),
    row(A::SeatAft, "seat-aft", "move the seat one notch aft", "", Anywhere, &["{"], N::Writing),
    row(A::SeatFore, "seat-forward", "move the seat one notch forward", "", Anywhere, &["}"], N::Writing),
    row(A::LevelIt, "level-it", "what moves it level", "", Anywhere, &["V"], N::Plan),
    row(A::Person, "person", "describe the person", "", Anywhere, &["y"], N::Writing),
    row(A::Outing, "outing", "plan the day", "", Anywhere, &["O"], N::Writing),
    row(A::MeasureHull, "measure-hull", "measure the hull with a tape", "", Anywhere, &["B"], N::Writing),
    row(A::PlanName, "plan-name", "name the plan", "", Anywhere, &[], N::Writing),
    row(A::History, "history", "list of edits, go back to one", "", Anywhere, &["H"], N::Plan),
    row(A::SeatTest, "seat-test", "seat test: sit and note", "", Deck, &["E"], N::Writing),
    row(A::Build, "build", "the work, evening by evening", "", Anywhere, &["9"], N::Plan),
    row(A::Revisions, "revisions", "kept states: compare, bring back", "", Anywhere, &["I"], N::Plan),
    row(A::Readings, "readings", "list of readings: on, off, one more", "", Anywhere, &["Q"], N::Plan),
    row(A::Lights, "lights", "lights around the boat", "", Anywhere, &["G"], N::Plan),
    // What is said about the plan.
    row(A::Talk, "talk", "what was said", "", Anywhere, &["Y"], N::Plan),
    row(A::Comment, "comment", "say something about this", "", Anywhere, &[";"], N::Plan),
    row(A::NextThread, "next-thread", "go to the next thread that waits", "", Anywhere, &["Z"], N::Plan),
    row(A::Checklist, "checklist", "walk the checklist", "", Anywhere, &["!"], N::Plan),
    // Overlays.
    row(A::ShowInside, "show-inside", "show the inside of the hull", "", Anywhere, &["i"], N::Plan),
    row(A::ShowReach, "show-reach", "show the reach bands", "", Anywhere, &["r"], N::Plan),
    row(A::ShowEnvelopes, "show-envelopes", "show the envelopes of motions", "", Anywhere, &["e"], N::Plan),
    row(A::ShowHoles, "show-holes", "show the holes alone", "", Anywhere, &["o"], N::Plan),
    row(A::ShowWater, "show-water", "show the water", "", Anywhere, &["~"], N::Plan),
    row(A::ShowCables, "show-cables", "show cables", "", Anywhere, &["K"], N::Plan),
    row(A::WalkCable, "walk-cable", "walk a cable step by step", "", Anywhere, &["J"], N::Plan),
    row(A::NextSideView, "next-side-view", "profile or section", "", Anywhere, &["v"], N::Plan),
    // Panels.
    row(A::FocusPower, "power-budget", "open Power budget", "", Anywhere, &["1"], N::Plan),
    row(A::FocusHoles, "penetrations", "open Penetrations", "", Anywhere, &["2"], N::Plan),
    row(A::FocusReach, "seat-reach", "open Seat reach", "", Anywhere, &["3"], N::Plan),
    row(A::FocusClearance, "clearances", "open Clearances", "", Anywhere, &["4"], N::Plan),
    row(A::FocusFindings, "findings", "open the findings", "", Anywhere, &["5"], N::Plan),
    row(A::FocusFloat, "float", "open Float", "", Anywhere, &["6"], N::Plan),
    row(A::FocusWiring, "wiring", "open Wiring", "", Anywhere, &["7"], N::Plan),
    row(A::SeatView, "seat-view", "what is seen from the seat", "", Anywhere, &["8"], N::Plan),
    row(A::RowUp, "row-up", "one row up", "", Panel, &["up", "k"], N::Nothing),
    row(A::RowDown, "row-down", "one row down", "", Panel, &["down", "j"], N::Nothing),
    row(A::PageUp, "page-up", "one page up", "", Panel, &["pageup"], N::Nothing),
    row(A::PageDown, "page-down", "one page down", "", Panel, &["pagedown"], N::Nothing),
    // The cursor.
    row(A::CursorAft, "cursor-aft", "cursor aft", "", Deck, &["left"], N::Plan),
    row(A::CursorFore, "cursor-forward", "cursor forward", "", Deck, &["right"], N::Plan),
    row(A::CursorPort, "cursor-port", "cursor to port", "", Deck, &["up"], N::Plan),
    row(A::CursorStarboard, "cursor-starboard", "cursor to starboard", "", Deck, &["down"], N::Plan),
    row(A::LeapAft, "leap-aft", "cursor a leap aft", "", Anywhere, &["shift-left"], N::Plan),
    row(A::LeapFore, "leap-forward", "cursor a leap forward", "", Anywhere, &["shift-right"], N::Plan),
    row(A::LeapPort, "leap-port", "cursor a leap to port", "", Anywhere, &["shift-up"], N::Plan),
    row(A::LeapStarboard, "leap-starboard", "cursor a leap to starboard", "", Anywhere, &["shift-down"], N::Plan),
    row(A::ToStern, "to-stern", "cursor to the stern", "", Deck, &["home"], N::Plan),
    row(A::ToBow, "to-bow", "cursor to the bow", "", Deck, &["end"], N::Plan),
    row(A::ToCentreline, "to-centreline", "cursor to the centreline", "", Deck, &["c"], N::Plan),
    // The view.
    row(A::ZoomIn, "zoom-in", "zoom in", "", Anywhere, &["+"], N::Plan),
    row(A::ZoomOut, "zoom-out", "zoom out", "", Anywhere, &["-"], N::Plan),
    row(A::WholeBoat, "whole-boat", "show the whole boat", "", Anywhere, &["z", "0"], N::Plan),
    row(A::PanAft, "pan-aft", "pan aft", "", Anywhere, &["ctrl-left"], N::Plan),
    row(A::PanFore, "pan-forward", "pan forward", "", Anywhere, &["ctrl-right"], N::Plan),
    row(A::PanPort, "pan-port", "pan to port", "", Anywhere, &["ctrl-up"], N::Plan),
    row(A::PanStarboard, "pan-starboard", "pan to starboard", "", Anywhere, &["ctrl-down"], N::Plan),
    // The program.
    row(A::SwitchTape, "tape", "metric or inches", "", Anywhere, &["'"], N::Nothing),
    row(A::SwitchTheme, "theme", "dark or light theme", "", Anywhere, &[], N::Nothing),
    row(A::SwitchGlyphs, "glyphs", "block or ASCII glyphs", "", Anywhere, &[], N::Nothing),
    row(A::SaveAs, "save-as", "save under another name", "", Anywhere, &["W"], N::Own),
    row(A::OpenStart, "start-screen", "open another plan", "", Anywhere, &["ctrl-o"], N::Own),
    row(A::Suspend, "suspend", "suspend to the shell", "", Anywhere, &["ctrl-z"], N::Shell),
    row(A::Repaint, "repaint", "repaint the screen", "", Anywhere, &["ctrl-l"], N::Nothing),
];

/// The row of an action.
pub fn row_of(action: Action) -> Option<&'static Row> {
    ACTIONS.iter().find(|row| row.action == action)
}

/// Which action a key starts in a context. In hand, the deck's movement keys count as well.
pub fn resolve(key: &str, now: Context) -> Option<Action> {
    let bound = |context: Context| {
        ACTIONS.iter().find(|row| row.context.covers(context) && row.keys.contains(&key)).map(|row| row.action)
    };
    let moving = |action: &Action| {
        matches!(
            action,
            A::CursorAft | A::CursorFore | A::CursorPort | A::CursorStarboard | A::ToStern | A::ToBow | A::ToCentreline
        )
    };
    bound(now).or_else(|| if now == Hand { bound(Deck).filter(moving) } else { None })
}

/// The name of a key as the table writes it; empty for keys that have none.
pub fn key_name(key: &KeyEvent) -> String {
    let base = match key.code {
        KeyCode::Char(' ') => "space".to_string(),
        KeyCode::Char(c) => c.to_string(),
        KeyCode::Enter => "enter".into(),
        KeyCode::Esc => "esc".into(),
        KeyCode::Tab => "tab".into(),
        KeyCode::BackTab => return "shift-tab".into(),
        KeyCode::Backspace => "backspace".into(),
        KeyCode::Delete => "delete".into(),
        KeyCode::Left => "left".into(),
        KeyCode::Right => "right".into(),
        KeyCode::Up => "up".into(),
        KeyCode::Down => "down".into(),
        KeyCode::Home => "home".into(),
        KeyCode::End => "end".into(),
        KeyCode::PageUp => "pageup".into(),
        KeyCode::PageDown => "pagedown".into(),
        KeyCode::F(n) => format!("f{n}"),
        _ => return String::new(),
    };
    let mut name = String::new();
    if key.modifiers.contains(KeyModifiers::CONTROL) {
        name.push_str("ctrl-");
    }
    if key.modifiers.contains(KeyModifiers::ALT) {
        name.push_str("alt-");
    }
    // A capital letter already says that shift is down.
    if key.modifiers.contains(KeyModifiers::SHIFT) && !matches!(key.code, KeyCode::Char(_)) {
        name.push_str("shift-");
    }
    name + &base
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ids_are_unique_and_hints_short() {
        for (i, row) in ACTIONS.iter().enumerate() {
            assert!(
                ACTIONS[..i].iter().all(|other| other.id != row.id && other.action != row.action),
                "{} twice",
                row.id
            );
            assert!(row.hint.len() <= 12, "{}: hint too long for the footer", row.id);
        }
    }

    #[test]
    fn no_key_means_two_things_in_one_context() {
        for now in [Deck, Hand, Panel, Wiring, Context::Start] {
            let mut seen = std::collections::BTreeMap::new();
            for row in ACTIONS.iter().filter(|row| row.context.covers(now)) {
                for key in row.keys {
                    if let Some(other) = seen.insert(*key, row.id) {
                        panic!("{key} is both {other} and {} in {now:?}", row.id);
                    }
                }
            }
        }
    }

    #[test]
    fn keys_have_names() {
        let name = |code, modifiers| key_name(&KeyEvent::new(code, modifiers));
        assert_eq!(name(KeyCode::Char('A'), KeyModifiers::SHIFT), "A");
        assert_eq!(name(KeyCode::Left, KeyModifiers::SHIFT), "shift-left");
        assert_eq!(name(KeyCode::Char('s'), KeyModifiers::CONTROL), "ctrl-s");
        assert_eq!(resolve("ctrl-s", Deck), Some(Action::Save));
        assert_eq!(resolve("left", Hand), Some(Action::CursorAft));
        assert_eq!(resolve("left", Panel), None);
    }
}
