//! One arm an action: what each of them does.

use super::{
    Effect, build, checklist, company, compared, cursor, gear, hand, holes, interview, level, lights, lists, orders,
    outing, readings, revisions, seat, seat_test, suggest, talk, wiring,
};
use crate::tui::action::Action;
use crate::tui::app::{App, FINDINGS_ROW, Focus, Overlay, Screen, SideView};
use crate::tui::areas::Room;
use crate::tui::glyphs::Glyphs;
use crate::tui::layer::{Answer, Layer, Page, Question};
use crate::tui::panels::PanelKind;
use crate::units::{Measure, Tape};

pub(super) fn perform(app: &mut App, action: Action) -> Vec<Effect> {
    use Action as A;
    match action {
        A::CursorAft => cursor::step(app, -1.0, 0.0),
        A::CursorFore => cursor::step(app, 1.0, 0.0),
        A::CursorPort => cursor::step(app, 0.0, 1.0),
        A::CursorStarboard => cursor::step(app, 0.0, -1.0),
        A::LeapAft => cursor::step(app, -cursor::LEAP, 0.0),
        A::LeapFore => cursor::step(app, cursor::LEAP, 0.0),
        A::LeapPort => cursor::step(app, 0.0, cursor::LEAP),
        A::LeapStarboard => cursor::step(app, 0.0, -cursor::LEAP),
        A::ToStern => cursor::to_end(app, false),
        A::ToBow => cursor::to_end(app, true),
        A::ToCentreline => cursor::to_centreline(app),
        A::ZoomIn => cursor::zoom(app, true),
        A::ZoomOut => cursor::zoom(app, false),
        A::WholeBoat => cursor::whole(app),
        A::PanAft => cursor::pan(app, -8.0, 0.0),
        A::PanFore => cursor::pan(app, 8.0, 0.0),
        A::PanPort => cursor::pan(app, 0.0, 3.0),
        A::PanStarboard => cursor::pan(app, 0.0, -3.0),
        A::NextFinding => cursor::finding(app, 1),
        A::PreviousFinding => cursor::finding(app, -1),
        A::Jump => lists::jump(app),
        A::TakeGear => lists::take(app),
        A::TakeAshore => lists::take_ashore(app),
        A::PickUp => hand::pick_up(app),
        A::SetDown => hand::set_down(app),
        A::LetGo => hand::let_go(app),
        A::TurnLeft => gear::turn(app, 45.0),
        A::TurnRight => gear::turn(app, -45.0),
        A::Mirror => gear::mirror(app),
        A::NearestHold => hand::to_nearest_hold(app),
        A::NextMount => gear::next_mount(app),
        A::NextLevel => gear::next_level(app),
        A::Raise => orders::ask_raise(app),
        A::MoveTo => orders::ask_move_to(app),
        A::Swap => lists::swap(app),
        A::Duplicate => gear::duplicate(app),
        A::PutAshore => gear::put_ashore(app),
        A::Strike => gear::strike(app),
        A::Rename => orders::ask_rename(app),
        A::Seal => lists::seal(app),
        A::Work => lists::work(app),
        A::Circuit => wiring::choose(app),
        A::Inspect => lists::inspect(app),
        A::AddHole => orders::ask_hole(app),
        A::PlugHole => holes::plug(app),
        A::ReuseHole => holes::reuse(app),
        A::ReopenHole => holes::reopen(app),
        A::StrikeHole => holes::strike(app),
        A::Seat => orders::ask_seat(app),
        A::SeatAft => gear::nudge_seat(app, -1.0),
        A::SeatFore => gear::nudge_seat(app, 1.0),
        A::LevelIt => level::list(app),
        A::Person => orders::ask_person(app),
        A::Outing => outing::open(app),
        A::MeasureHull => interview::measure(app),
        A::PlanName => orders::ask_plan_name(app),
        A::Undo => undo(app, false),
        A::Redo => undo(app, true),
        A::History => lists::history(app),
        A::Readings => readings::list(app),
        A::SeatTest => seat_test::open(app),
        A::Talk => talk::list(app),
        A::Comment => talk::comment(app),
        A::NextThread => talk::next(app),
        A::Checklist => checklist::walk(app),
        A::Suggest => suggest::suggest(app),
        A::People => company::list(app),
        A::Follow => company::follow(app),
        A::Lead => return company::lead(app),
        A::Point => return company::point(app),
        A::Build => build::list(app),
        A::Revisions => revisions::list(app),
        A::Explain => explain(app),
        A::Lights => lights::open(app),
        A::NextSideView => next_side_view(app),
        A::NextFocus => cycle_focus(app, 1),
        A::PreviousFocus => cycle_focus(app, -1),
        A::FocusPower => focus(app, Focus::Panel(PanelKind::Power)),
        A::FocusHoles => focus(app, Focus::Panel(PanelKind::Penetrations)),
        A::FocusReach => focus(app, Focus::Panel(PanelKind::Reach)),
        A::FocusClearance => focus(app, Focus::Panel(PanelKind::Clearances)),
        A::FocusFindings => focus(app, Focus::Findings),
        A::SeatView => seat::open(app),
        A::FocusFloat => focus(app, Focus::Panel(PanelKind::Float)),
        A::ShowInside | A::ShowReach | A::ShowEnvelopes | A::ShowHoles | A::ShowWater | A::ShowCables => {
            overlay(app, action);
        }
        A::ShowCompared => compared::switch(app),
        A::WalkCable => wiring::cables::walk(app),
        A::FocusWiring => focus(app, Focus::Panel(PanelKind::Wiring)),
        A::CarryLoad => wiring::carry(app),
        A::CureWire => wiring::cure(app),
        A::AddCircuit => wiring::add_circuit(app),
        A::StrikeWire => wiring::strike(app),
        A::Back => back(app),
        A::RowUp => cursor::row(app, -1),
        A::RowDown => cursor::row(app, 1),
        A::PageUp => cursor::row(app, -8),
        A::PageDown => cursor::row(app, 8),
        A::Accept => return accept(app),
        A::SwitchTape => switch_tape(app),
        A::SwitchTheme => app.look.theme = app.look.theme.switched(),
        A::SwitchGlyphs => {
            app.look.glyphs = if app.look.glyphs == Glyphs::Block { Glyphs::Ascii } else { Glyphs::Block };
        }
        A::Actions => lists::actions(app),
        A::Save => return save(app),
        A::SaveAs => orders::ask_save_as(app),
        A::OpenStart => lists::open(app),
        A::Suspend => return vec![Effect::Suspend],
        A::Repaint => return vec![Effect::Repaint],
        A::Quit => return quit(app),
    }
    Vec::new()
}

pub(super) fn undo(app: &mut App, forward: bool) {
    let Some(editor) = app.editor_mut() else { return };
    editor.hand = None;
    editor.carried = None;
    editor.chosen = None;
    let label = if forward { editor.session.redo() } else { editor.session.undo() };
    if let Some(label) = label {
        app.say(format!("{}: {label}", if forward { "redone" } else { "undone" }));
    }
}

/// The page of the finding in question: the one the findings row is on, else the first about what is
/// under the cursor, else the heaviest.
fn explain(app: &mut App) {
    let Some(editor) = app.editor() else { return };
    let findings = editor.session.findings();
    let row = (editor.focus == Focus::Findings).then(|| editor.rows[FINDINGS_ROW]);
    let here = editor.gear().and_then(|id| findings.iter().position(|f| f.subject.gear() == Some(id)));
    let Some(finding) = findings.get(row.or(here).or(editor.finding).unwrap_or(0)) else { return };
    let Some(check) = crate::checks::by_id(finding.check) else { return };
    let text = format!(
        "{}\n\n{}\n\nTo do: {}\n\nFound {:.1} {unit}, limit {:.1} {unit}: {:.1} {unit} {side} it.\n\nSource: {}\n\n{}",
        check.title,
        finding.says,
        finding.remedy,
        finding.value,
        finding.limit,
        finding.margin.abs(),
        finding.source,
        check.doc,
        unit = finding.unit,
        side = if finding.margin < 0.0 { "beyond" } else { "within" },
    );
    app.layers.push(Layer::Page(Page::new(check.id, &text)));
}

fn overlay(app: &mut App, action: Action) {
    let wanted = Overlay::of(action);
    if let Some(editor) = app.editor_mut() {
        editor.overlay = if editor.overlay == wanted { None } else { wanted };
    }
}

/// Profile and section in turn; where neither has a place of its own, also what stands there else.
fn next_side_view(app: &mut App) {
    let compact = Room::of(app.size) == Room::Compact;
    if let Some(editor) = app.editor_mut() {
        editor.side = match editor.side {
            SideView::Usual if compact => SideView::Profile,
            SideView::Usual | SideView::Profile => SideView::Section,
            SideView::Section => SideView::Usual,
        };
        if compact {
            editor.focus = Focus::Deck;
        }
    }
}

fn focus(app: &mut App, focus: Focus) {
    if let Some(editor) = app.editor_mut() {
        editor.hand = None;
        editor.carried = None;
        editor.focus = if editor.focus == focus { Focus::Deck } else { focus };
    }
}

fn cycle_focus(app: &mut App, by: isize) {
    const ROUND: [Focus; 8] = [
        Focus::Deck,
        Focus::Findings,
        Focus::Panel(PanelKind::Power),
        Focus::Panel(PanelKind::Penetrations),
        Focus::Panel(PanelKind::Reach),
        Focus::Panel(PanelKind::Clearances),
        Focus::Panel(PanelKind::Float),
        Focus::Panel(PanelKind::Wiring),
    ];
    if let Some(editor) = app.editor_mut() {
        editor.hand = None;
        editor.carried = None;
        let at = ROUND.iter().position(|f| *f == editor.focus).unwrap_or(0) as isize;
        editor.focus = ROUND[(at + by).rem_euclid(ROUND.len() as isize) as usize];
    }
}

/// Lets go of what was picked up in the diagram of the wires, else goes back to the deck.
fn back(app: &mut App) {
    match app.editor_mut() {
        Some(editor) if editor.carried.is_some() => editor.carried = None,
        _ => focus(app, Focus::Deck),
    }
}

fn accept(app: &mut App) -> Vec<Effect> {
    match &app.screen {
        Screen::Start { row } => lists::start_row(app, *row),
        Screen::Editor(editor) if editor.focus == Focus::Panel(PanelKind::Wiring) => {
            wiring::accept(app);
            Vec::new()
        }
        Screen::Editor(_) => {
            cursor::row(app, 0);
            if let Some(editor) = app.editor_mut() {
                editor.focus = Focus::Deck;
            }
            Vec::new()
        }
    }
}

fn switch_tape(app: &mut App) {
    let tape = match app.look.tape.0 {
        Tape::Metric => Tape::Inches,
        Tape::Inches => Tape::Metric,
    };
    app.look.tape = Measure(tape);
    if let Some(editor) = app.editor_mut() {
        editor.session.set_tape(Measure(tape));
    }
    app.say(if tape == Tape::Metric { "lengths in millimetres" } else { "lengths in inches" });
}

fn save(app: &mut App) -> Vec<Effect> {
    let Some(editor) = app.editor() else { return Vec::new() };
    if let Some(why) = editor.file.read_only.clone() {
        app.refuse(format!("cannot save here: {why}; save under another name with W"));
        return Vec::new();
    }
    if editor.file.path.is_none() {
        orders::ask_save_as(app);
        return Vec::new();
    }
    vec![Effect::Save]
}

fn quit(app: &mut App) -> Vec<Effect> {
    if app.editor().is_some_and(|editor| editor.draft.is_some() && !editor.session.edits().is_empty()) {
        app.layers.push(Layer::Question(suggest::ask(app)));
        return Vec::new();
    }
    let Some(editor) = app.editor().filter(|e| e.session.history().is_dirty() && e.may_write()) else {
        return vec![Effect::Quit];
    };
    let edits = editor.session.history().unsaved_edits();
    let again = if editor.file.path.is_some() { "when the plan is opened" } else { "on the start screen" };
    let question = Question {
        title: match edits {
            Some(1) => "1 edit is not saved".into(),
            Some(n) => format!("{n} edits are not saved"),
            None => "this plan is not saved".into(),
        },
        text: vec![format!("What is not saved stays in the journal and is offered again {again}.")],
        answers: vec![
            ('s', "save and quit", Answer::SaveAndQuit),
            ('l', "leave without saving", Answer::QuitKeeping),
            ('c', "go on working", Answer::Nothing),
        ],
    };
    app.layers.push(Layer::Question(question));
    Vec::new()
}
