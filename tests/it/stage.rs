//! The screen without a terminal or a file: scripts of keys in, pictures of cells out.
//!
//! A script is words between spaces: a key by the name the table of actions gives it (`a`, `ctrl-s`, `shift-left`),
//! `"text"` typed letter by letter, `paste:"text"`, `size:120x40`, `click:10:5`, `drag:10:5:20:6` and
//! `wheel-up:10:5` or `wheel-down:10:5` with columns and rows counted from zero. `*3` behind a word repeats it.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use std::sync::Arc;

use crossterm::event::{KeyCode, KeyEvent, KeyModifiers, MouseButton, MouseEvent, MouseEventKind};
use gunnel::catalogue::{Catalogue, hulls};
use gunnel::checks::Finding;
use gunnel::geometry::Spot;
use gunnel::plan::{Day, Gear, Plan};
use gunnel::scenarios::SCENARIOS;
use gunnel::session::Session;
use gunnel::terminal::input::TermEvent;
use gunnel::tui::app::{App, Editor, FileState, Look, Screen, Toast};
use gunnel::tui::areas::Areas;
use gunnel::tui::draw::draw;
use gunnel::tui::glyphs::Glyphs;
use gunnel::tui::theme::{Depth, Ground, Theme};
use gunnel::tui::update::{Effect, update};
use gunnel::tui::view::Window;
use gunnel::units::Measure;
use ratatui::buffer::Buffer;
use ratatui::layout::{Position, Rect};

use crate::picture::Picture;

/// The program's state, and the effects it has asked for.
pub struct Stage {
    pub app: App,
    pub effects: Vec<Effect>,
}

impl Stage {
    /// The start screen, with what the program ships.
    pub fn start() -> Self {
        let app = App {
            screen: Screen::Start { row: 0 },
            layers: Vec::new(),
            look: Look {
                theme: Theme::new(Ground::Dark, Depth::True),
                glyphs: Glyphs::Block,
                tape: Measure::default(),
            },
            toast: None,
            size: (80, 24),
            today: Day::from_text("2031-06-07").ok(),
            catalogue: Arc::new(Catalogue::shipped().clone()),
            hulls: hulls().to_vec(),
            demos: SCENARIOS,
            recent: Vec::new(),
            lost: Vec::new(),
        };
        Self { app, effects: Vec::new() }
    }

    /// A plan that is saved in a file, open to be changed.
    pub fn on(plan: Plan) -> Self {
        Self::with_file(plan, FileState { path: Some("/boats/rig.ron".into()), ..FileState::default() })
    }

    /// A plan that somebody else is changing.
    pub fn looking_at(plan: Plan) -> Self {
        let read_only = Some("it is open in another gunnel on this machine".into());
        Self::with_file(plan, FileState { path: Some("/boats/rig.ron".into()), read_only, journal_off: false })
    }

    /// A plan with any state of its file.
    pub fn with_file(plan: Plan, file: FileState) -> Self {
        let mut stage = Self::start();
        let session = Session::new(plan, stage.app.look.tape);
        stage.app.screen = Screen::Editor(Box::new(Editor::new(session, file)));
        stage.resize(80, 24);
        stage
    }

    /// The same at another size.
    pub fn sized(mut self, columns: u16, rows: u16) -> Self {
        self.resize(columns, rows);
        self
    }

    /// The same with other colours and symbols.
    pub fn looking(mut self, depth: Depth, glyphs: Glyphs) -> Self {
        self.app.look.theme = Theme::new(Ground::Dark, depth);
        self.app.look.glyphs = glyphs;
        self
    }

    pub fn resize(&mut self, columns: u16, rows: u16) {
        self.take(&TermEvent::Resize(columns, rows));
    }

    pub fn take(&mut self, event: &TermEvent) {
        self.effects.extend(update(&mut self.app, event));
    }

    /// Plays a script.
    pub fn play(&mut self, script: &str) -> &mut Self {
        for event in events(script) {
            self.take(&event);
        }
        self
    }

    /// Moves the cursor to a spot as a person would type it: along, and across to port.
    pub fn go(&mut self, x: f64, y: f64) -> &mut Self {
        self.app.editor_mut().unwrap().cursor = Spot::new(x, y);
        self.app.editor_mut().unwrap().chosen = None;
        // The next event takes note; this one is none of the person's.
        self.take(&TermEvent::Focus(true));
        self
    }

    pub fn editor(&self) -> &Editor {
        self.app.editor().unwrap()
    }

    pub fn plan(&self) -> &Plan {
        self.editor().session.plan()
    }

    pub fn findings(&self) -> &[Finding] {
        self.editor().session.findings()
    }

    /// The gear of this label; the last one where there are more.
    pub fn gear(&self, label: &str) -> &Gear {
        let found = self.plan().gear.iter().rfind(|gear| gear.label.as_str() == label);
        found.unwrap_or_else(|| panic!("no {label} aboard"))
    }

    /// What was said last; empty when nothing is.
    pub fn said(&self) -> &str {
        self.app.toast.as_ref().map_or("", |toast| &toast.text)
    }

    /// What was refused last; empty when nothing was.
    pub fn refused(&self) -> &str {
        self.app.toast.as_ref().filter(|toast: &&Toast| toast.refused).map_or("", |toast| &toast.text)
    }

    /// How the boat lies on the screen.
    pub fn window(&self) -> Window {
        self.editor().view.window(&self.plan().hull, Areas::of(&self.app).deck)
    }

    /// Where a spot of the boat is on the screen.
    pub fn cell(&self, x: f64, y: f64) -> Position {
        self.window().cell_of(Spot::new(x, y)).unwrap_or_else(|| panic!("{x}, {y} is not on the screen"))
    }

    /// The screen as it is drawn now.
    pub fn buffer(&self) -> Buffer {
        let (columns, rows) = self.app.size;
        let mut buffer = Buffer::empty(Rect::new(0, 0, columns, rows));
        draw(&self.app, &mut buffer);
        buffer
    }

    /// The same as text and styles.
    pub fn picture(&self) -> Picture {
        Picture::of(&self.buffer(), &self.app.look.theme)
    }

    /// The lines of the screen.
    pub fn lines(&self) -> Vec<String> {
        self.picture().lines
    }

    /// Whether the screen says `words` somewhere in a line.
    pub fn shows(&self, words: &str) -> bool {
        self.lines().iter().any(|line| line.contains(words))
    }
}

/// The events of a script.
pub fn events(script: &str) -> Vec<TermEvent> {
    words(script).into_iter().flat_map(|(word, times)| std::iter::repeat_n(event(&word), times).flatten()).collect()
}

/// Words and how often each is played. Blanks within quotes part nothing.
fn words(script: &str) -> Vec<(String, usize)> {
    let (mut words, mut quoted) = (vec![String::new()], false);
    for c in script.chars() {
        quoted ^= c == '"';
        if c.is_whitespace() && !quoted {
            words.push(String::new());
        } else if let Some(word) = words.last_mut() {
            word.push(c);
        }
    }
    assert!(!quoted, "an open quote in {script}");
    words.retain(|word| !word.is_empty());
    words.into_iter().map(|word| repeated(&word)).collect()
}

fn repeated(word: &str) -> (String, usize) {
    let split = word.rsplit_once('*').filter(|(before, _)| !before.is_empty());
    match split.and_then(|(before, times)| Some((before.to_string(), times.parse().ok()?))) {
        Some(split) => split,
        None => (word.to_string(), 1),
    }
}

fn event(word: &str) -> Vec<TermEvent> {
    let unquoted = |text: &str| text.trim_matches('"').to_string();
    if word.starts_with('"') && word.len() > 1 {
        return unquoted(word).chars().map(|c| TermEvent::Key(KeyEvent::from(KeyCode::Char(c)))).collect();
    }
    let Some((what, rest)) = word.split_once(':').filter(|(what, _)| !what.is_empty()) else {
        return vec![TermEvent::Key(key(word))];
    };
    if what == "paste" {
        return vec![TermEvent::Paste(unquoted(rest))];
    }
    let numbers: Vec<u16> = rest.split([':', 'x']).map(|number| number.parse().unwrap()).collect();
    let mouse = |kind, column, row| TermEvent::Mouse(MouseEvent { kind, column, row, modifiers: KeyModifiers::NONE });
    let (down, up) = (MouseEventKind::Down(MouseButton::Left), MouseEventKind::Up(MouseButton::Left));
    match (what, numbers.as_slice()) {
        ("size", &[columns, rows]) => vec![TermEvent::Resize(columns, rows)],
        ("click", &[x, y]) => vec![mouse(down, x, y), mouse(up, x, y)],
        ("drag", &[x, y, to_x, to_y]) => {
            let held = MouseEventKind::Drag(MouseButton::Left);
            let half = (x.midpoint(to_x), y.midpoint(to_y));
            vec![mouse(down, x, y), mouse(held, half.0, half.1), mouse(held, to_x, to_y), mouse(up, to_x, to_y)]
        }
        ("wheel-up", &[x, y]) => vec![mouse(MouseEventKind::ScrollUp, x, y)],
        ("wheel-down", &[x, y]) => vec![mouse(MouseEventKind::ScrollDown, x, y)],
        _ => panic!("\"{word}\" is not a word of a script"),
    }
}

/// A key by its name.
pub fn key(name: &str) -> KeyEvent {
    let (mut modifiers, mut rest) = (KeyModifiers::NONE, name);
    for (prefix, modifier) in
        [("ctrl-", KeyModifiers::CONTROL), ("alt-", KeyModifiers::ALT), ("shift-", KeyModifiers::SHIFT)]
    {
        if let Some(after) = rest.strip_prefix(prefix) {
            (modifiers, rest) = (modifiers | modifier, after);
        }
    }
    let code = match rest {
        "enter" => KeyCode::Enter,
        "esc" => KeyCode::Esc,
        "tab" if modifiers.contains(KeyModifiers::SHIFT) => KeyCode::BackTab,
        "tab" => KeyCode::Tab,
        "space" => KeyCode::Char(' '),
        "backspace" => KeyCode::Backspace,
        "delete" => KeyCode::Delete,
        "left" => KeyCode::Left,
        "right" => KeyCode::Right,
        "up" => KeyCode::Up,
        "down" => KeyCode::Down,
        "home" => KeyCode::Home,
        "end" => KeyCode::End,
        "pageup" => KeyCode::PageUp,
        "pagedown" => KeyCode::PageDown,
        one => {
            let mut letters = one.chars();
            let letter = letters.next().unwrap();
            assert!(letters.next().is_none(), "\"{name}\" is not a key");
            KeyCode::Char(letter)
        }
    };
    KeyEvent::new(code, modifiers)
}
