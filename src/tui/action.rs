//! The actions: what a person can do, in one table.
//!
//! A row holds the action, its stable id, what it is called, the keys that start it in which
//! context, and when it is possible. Dispatch, the footer, the list of all actions and the README's
//! key list are printed from this table; nothing else in the program matches on keys.

mod table;

use crossterm::event::{KeyCode, KeyEvent, KeyModifiers};

pub use self::table::ACTIONS;

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
    Suggest,
    People,
    Follow,
    Lead,
    Point,
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
    ShowCompared,
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
    /// A partner reviews the plan.
    Partner,
    /// Somebody else has the plan open now.
    Company,
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
            Action::CursorAft
                | Action::CursorFore
                | Action::CursorPort
                | Action::CursorStarboard
                | Action::ToStern
                | Action::ToBow
                | Action::ToCentreline
        )
    };
    bound(now).or_else(|| if now == Context::Hand { bound(Context::Deck).filter(moving) } else { None })
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
    use Context::{Deck, Hand, Panel, Wiring};

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
