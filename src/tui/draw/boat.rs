//! The boat on the screen: deck and profile from the same scene, and the cursor in words.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::panels::{mark, role};
use super::text;
use crate::checks::{Severity, Subject};
use crate::tui::app::{App, Editor, Hand, Held, Overlay, Thing};
use crate::tui::areas::Areas;
use crate::tui::cells::Brush;
use crate::tui::deck::Deck;
use crate::tui::glyphs::Glyphs;
use crate::tui::profile::Profile;
use crate::tui::scene::{Ghost, Overlays, Scene};
use crate::tui::theme::Role;
use crate::tui::words;

/// Draws deck, profile and words.
pub fn draw(app: &App, editor: &Editor, areas: &Areas, buffer: &mut Buffer) {
    let plan = editor.session.plan();
    let window = editor.view.window(&plan.hull, areas.deck);
    let scene = scene(editor);
    let brush = Brush { theme: &app.look.theme, glyphs: app.look.glyphs };
    Deck { scene: &scene, window, brush }.draw(buffer);
    if !areas.profile.is_empty() {
        Profile { scene: &scene, deck: window, area: areas.profile, brush }.draw(buffer);
    }
    words_lines(app, editor, areas.words, buffer);
}

/// What the pictures show.
fn scene(editor: &Editor) -> Scene<'_> {
    let ghost = editor.hand.as_ref().and_then(|hand| hand.preview.as_ref()).and_then(|preview| {
        let (gear, item) = preview.ghost.as_ref()?;
        let against =
            if preview.refused.is_some() { Some(Severity::Stop) } else { preview.worst.as_ref().map(|f| f.severity) };
        Some(Ghost { gear, item, against })
    });
    Scene {
        plan: editor.session.plan(),
        study: editor.session.study(),
        findings: editor.session.findings(),
        cursor: Some(editor.cursor),
        selected: editor.thing().and_then(subject),
        changed: &editor.changed,
        ghost,
        overlays: Overlays {
            inside: editor.overlay == Some(Overlay::Inside),
            bands: editor.bands.as_ref().filter(|_| editor.overlay == Some(Overlay::Reach)),
            envelopes: editor.overlay == Some(Overlay::Envelopes),
            holes: editor.overlay == Some(Overlay::Holes),
            water: false,
        },
    }
}

/// A thing as the pictures know it. Zones are too large to be lit.
fn subject(thing: Thing) -> Option<Subject> {
    match thing {
        Thing::Gear(id) => Some(Subject::Gear(id)),
        Thing::Hole(id) => Some(Subject::Hole(id)),
        Thing::Feature(id) => Some(Subject::Feature(id)),
        Thing::Zone(_) | Thing::Hull | Thing::Person => None,
    }
}

/// The cursor in words; then what is in hand, or what is under it.
fn words_lines(app: &App, editor: &Editor, area: Rect, buffer: &mut Buffer) {
    let theme = &app.look.theme;
    let ascii = app.look.glyphs == Glyphs::Ascii;
    let plan = editor.session.plan();
    let place = words::place(plan, editor.cursor, app.look.tape);
    let mut lines = text::rows(area).map(|line| Rect { x: line.x + 1, width: line.width.saturating_sub(2), ..line });
    let Some(first) = lines.next() else { return };
    let second = lines.next();
    let layed = overlay_words(editor.overlay);
    if let Some(hand) = &editor.hand {
        if second.is_some() {
            text::put(buffer, first, &text::fit(&place, first.width, ascii), theme.style(Role::Text));
        }
        hand_line(app, editor, hand, second.unwrap_or(first), buffer);
        return;
    }
    let thing = words::thing(plan, editor.session.study(), editor.cursor);
    match (second, thing) {
        (Some(second), Some(thing)) => {
            text::put(buffer, first, &text::fit(&place, first.width, ascii), theme.style(Role::Text));
            thing_line(app, editor, &thing, second, buffer);
        }
        (None, Some(thing)) => {
            let taken = text::put(buffer, first, &text::fit(&place, first.width, ascii), theme.style(Role::Text));
            let rest = Rect { x: first.x + taken + 2, width: first.width.saturating_sub(taken + 2), ..first };
            text::put(buffer, rest, &text::fit(&thing, rest.width, ascii), theme.style(Role::Selected));
        }
        (_, None) => {
            text::put(buffer, first, &text::fit(&place, first.width, ascii), theme.style(Role::Text));
        }
    }
    if !layed.is_empty() {
        text::put_right(buffer, first, layed, theme.style(Role::Accent));
    }
}

/// Gear under the cursor: name, how it is held, mass and current with their origin.
fn thing_line(app: &App, editor: &Editor, thing: &str, area: Rect, buffer: &mut Buffer) {
    let theme = &app.look.theme;
    let ascii = app.look.glyphs == Glyphs::Ascii;
    let shown = text::fit(thing, area.width, ascii);
    let taken = text::put(buffer, area, &shown, theme.style(Role::Selected));
    let rest = Rect { x: area.x + taken + 3, width: area.width.saturating_sub(taken + 3), ..area };
    if let Some(gear) = editor.gear().and_then(|id| editor.session.plan().gear(id)) {
        let mass = gear.spec.mass;
        let mut figures = format!("{} {}", crate::units::amount(mass.value, 1), mass.origin.word());
        if let Some(crate::plan::Electric::Load { typical, .. }) = &gear.spec.electric {
            figures.push_str(&format!(", {} {}", crate::units::amount(typical.value, 2), typical.origin.word()));
        }
        text::put(buffer, rest, &text::fit(&figures, rest.width, ascii), theme.style(Role::Dim));
    }
}

/// What is in hand: whether it is held here, what speaks against it, what would change.
fn hand_line(app: &App, editor: &Editor, hand: &Hand, area: Rect, buffer: &mut Buffer) {
    let theme = &app.look.theme;
    let ascii = app.look.glyphs == Glyphs::Ascii;
    let name = match &hand.held {
        Held::New(spec) => spec.name.to_string(),
        Held::Gear(id) => editor.session.plan().gear(*id).map_or_else(|| id.to_string(), |g| g.label.to_string()),
    };
    let head = format!("{name}, {}, {}", hand.mount.word(), hand.place.level.word());
    let Some(preview) = &hand.preview else {
        text::put(buffer, area, &text::fit(&head, area.width, ascii), theme.style(Role::Ghost));
        return;
    };
    let (weight, says) = match (&preview.refused, &preview.worst) {
        (Some(why), _) => (Some(Severity::Stop), why.clone()),
        (None, Some(worst)) => (Some(worst.severity), worst.says.clone()),
        (None, None) => (None, "fits".into()),
    };
    let changes = preview.changes.join("  ");
    let right = text::width(&changes).min(area.width / 3);
    let left = Rect { width: area.width.saturating_sub(right + 2), ..area };
    let marked = weight.map_or(String::new(), |w| format!("{} ", mark(w, app.look.glyphs)));
    let head_room = left.width.saturating_sub(text::width(&marked) + 12).min(left.width / 2);
    let head = text::fit(&head, head_room, ascii);
    let room = left.width.saturating_sub(text::width(&head) + 2 + text::width(&marked));
    let says = text::fit(&says, room, ascii);
    let weight_style = theme.style(weight.map_or(Role::Ghost, role));
    let says_style = theme.style(if weight.is_none() { Role::Ghost } else { Role::Text });
    text::put_all(
        buffer,
        left,
        [
            (head.as_str(), theme.style(Role::Ghost)),
            ("  ", theme.style(Role::Text)),
            (marked.as_str(), weight_style),
            (says.as_str(), says_style),
        ],
    );
    text::put_right(buffer, area, &text::fit(&changes, right, ascii), theme.style(Role::Changed));
}

fn overlay_words(overlay: Option<Overlay>) -> &'static str {
    match overlay {
        None => "",
        Some(Overlay::Inside) => "inside of the hull",
        Some(Overlay::Reach) => "reach at deck height",
        Some(Overlay::Envelopes) => "envelopes of motions",
        Some(Overlay::Holes) => "holes alone",
    }
}
