//! The boat on the screen: deck and profile from the same scene, and the cursor in words.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::panels::{mark, role};
use super::text;
use crate::checks::Severity;
use crate::tui::app::{App, Editor, Hand, Held, Overlay, Preview, SideView, Thing};
use crate::tui::areas::Areas;
use crate::tui::cells::Brush;
use crate::tui::deck::Deck;
use crate::tui::glyphs::Glyphs;
use crate::tui::profile::Profile;
use crate::tui::scene::{Ghost, Overlays, Scene};
use crate::tui::section::Section;
use crate::tui::theme::Role;
use crate::tui::words::{self, afloat};
use crate::units::Measure;

/// Draws deck, profile and words.
pub fn draw(app: &App, editor: &Editor, areas: &Areas, buffer: &mut Buffer) {
    let plan = editor.session.plan();
    let window = editor.view.window(&plan.hull, areas.deck);
    let scene = scene(editor, app.look.tape);
    let brush = Brush { theme: &app.look.theme, glyphs: app.look.glyphs };
    let deck = Deck { scene: &scene, window, brush };
    match &editor.still {
        Some((of, still)) if *of == editor.still_of(window, &app.look) => deck.finish(still.clone(), buffer),
        _ => deck.draw(buffer),
    }
    match editor.side {
        _ if areas.profile.is_empty() => {}
        SideView::Section => Section { scene: &scene, area: areas.profile, brush }.draw(buffer),
        SideView::Usual | SideView::Profile => {
            Profile { scene: &scene, deck: window, area: areas.profile, brush }.draw(buffer);
        }
    }
    words_lines(app, editor, areas.words, buffer);
}

/// What the pictures show.
pub(crate) fn scene(editor: &Editor, tape: Measure) -> Scene<'_> {
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
        selected: editor.thing().and_then(Thing::subject),
        changed: &editor.changed,
        pinned: &editor.pinned,
        others: &editor.others,
        points: &editor.company.points,
        ghost,
        cable: editor.cable(),
        overlays: Overlays {
            inside: editor.overlay == Some(Overlay::Inside),
            bands: editor.bands.as_ref().filter(|_| editor.overlay == Some(Overlay::Reach)),
            envelopes: editor.overlay == Some(Overlay::Envelopes),
            holes: editor.overlay == Some(Overlay::Holes),
            water: editor.overlay == Some(Overlay::Water),
            cables: editor.overlay == Some(Overlay::Cables),
            compared: editor.compared.as_ref().filter(|_| editor.overlay == Some(Overlay::Compared)),
        },
        tape,
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
    let compared = editor.compared.as_ref().filter(|_| editor.overlay == Some(Overlay::Compared));
    // What is different takes the place of the cursor's, in a line or in two.
    let whole = compared.map(|other| match other.came_of_it.as_str() {
        "" => other.words.clone(),
        came_of_it => format!("{}; {came_of_it}", other.words),
    });
    let fits = whole.as_ref().is_none_or(|whole| text::width(whole) <= first.width);
    let place = match compared {
        Some(other) if !fits => other.words.clone(),
        _ => whole.unwrap_or(place),
    };
    let all = first;
    if let Some(hand) = &editor.hand {
        if let Some(second) = second {
            let taken = changes(app, editor, hand, first, buffer);
            let room = first.width.saturating_sub(taken);
            text::put(buffer, first, &text::fit(&place, room, ascii), theme.style(Role::Text));
            hand_line(app, editor, hand, second, buffer);
        } else {
            let taken = changes(app, editor, hand, first, buffer);
            hand_line(app, editor, hand, Rect { width: first.width.saturating_sub(taken), ..first }, buffer);
        }
        return;
    }
    let first = Rect { width: all.width.saturating_sub(text::width(layed) + 2), ..all };
    // What was chosen in a list is what keys act on, though something else may lie over it there.
    let thing = editor.thing().and_then(Thing::subject);
    let thing = thing.map(|subject| words::thing(plan, editor.session.study(), subject));
    let told = compared.and_then(|other| other.told(editor.gear(), editor.cursor, app.look.tape));
    let rest = compared.filter(|other| !fits && !other.came_of_it.is_empty()).map(|other| other.came_of_it.clone());
    let thing = told.or(rest).or(thing);
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
        text::put_right(buffer, all, layed, theme.style(Role::Accent));
    }
}

/// Gear in question: name, how it is held, mass and current with their origin.
fn thing_line(app: &App, editor: &Editor, thing: &str, area: Rect, buffer: &mut Buffer) {
    let theme = &app.look.theme;
    let ascii = app.look.glyphs == Glyphs::Ascii;
    let shown = text::fit(thing, area.width, ascii);
    let taken = text::put(buffer, area, &shown, theme.style(Role::Selected));
    let rest = Rect { x: area.x + taken + 3, width: area.width.saturating_sub(taken + 3), ..area };
    if let Some(gear) = editor.gear().and_then(|id| editor.session.plan().gear(id)) {
        let mass = gear.spec.mass;
        let mut figures = format!("{} {}", crate::units::amount(mass.value, 1), mass.origin.word());
        if let Some(crate::study::metered::Drawn { typical, .. }) = editor.session.study().power.metered.drawn(gear) {
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
    let marked = weight.map_or(0, |w| text::width(mark(w, app.look.glyphs)) + 1);
    let head = text::fit(&head, area.width.saturating_sub(marked + 14).min(area.width / 2), ascii);
    let mut rest = area;
    let mut put = |words: &str, style| {
        let taken = text::put(buffer, rest, words, style);
        rest = Rect { x: rest.x + taken, width: rest.width - taken, ..rest };
        rest.width
    };
    put(&head, theme.style(Role::Ghost));
    put("  ", theme.style(Role::Text));
    let mut room = rest_width(area, &head);
    if let Some(weight) = weight {
        put(mark(weight, app.look.glyphs), theme.style(role(weight)));
        room = put(" ", theme.style(Role::Text));
    }
    let style = theme.style(if weight.is_none() { Role::Ghost } else { Role::Text });
    put(&text::fit(&says, room, ascii), style);
}

fn rest_width(area: Rect, head: &str) -> u16 {
    area.width.saturating_sub(text::width(head) + 2)
}

/// Columns that the changes leave to the place: as many as its distances along and across take.
const PLACE: u16 = 42;

/// The change each panel would see, at the right, as many of them as have room. Returns the columns it took.
fn changes(app: &App, editor: &Editor, hand: &Hand, area: Rect, buffer: &mut Buffer) -> u16 {
    let Some(preview) = &hand.preview else { return 0 };
    let mut all = preview.changes.clone();
    all.extend(afloat_changes(editor, preview, app.look.tape));
    let room = area.width.saturating_sub(PLACE).max(area.width / 2);
    let mut words = String::new();
    for change in all {
        let change = if app.look.glyphs == Glyphs::Ascii { change.replace('→', "->") } else { change };
        let gap = if words.is_empty() { 0 } else { 2 };
        if text::width(&words) + gap + text::width(&change) <= room {
            words.push_str(&" ".repeat(usize::from(gap)));
            words.push_str(&change);
        }
    }
    text::put_right(buffer, area, &words, app.look.theme.style(Role::Changed));
    if words.is_empty() { 0 } else { text::width(&words) + 2 }
}

/// How the boat would float otherwise: what is worth telling of trim and list, the greater change first, and of
/// draft.
fn afloat_changes(editor: &Editor, preview: &Preview, tape: Measure) -> Vec<String> {
    let (Some(now), Some(then)) = (editor.session.study().float.rest(), &preview.rest) else { return Vec::new() };
    let told = |name: &str, off: f64, least: f64, was: String, will: String| {
        (off.abs() >= least && was != will).then(|| format!("{name} {}", afloat::change(&was, &will)))
    };
    let (trim, list) = (then.trim_deg - now.trim_deg, then.heel_deg - now.heel_deg);
    let draft = then.draft_mean_mm - now.draft_mean_mm;
    let mut turned = [
        told("trim", trim, afloat::TELLING_DEG, afloat::trim(now.trim_deg), afloat::trim(then.trim_deg)),
        told("list", list, afloat::TELLING_DEG, afloat::list(now.heel_deg), afloat::list(then.heel_deg)),
    ];
    if list.abs() > trim.abs() {
        turned.reverse();
    }
    let draft = told("draft", draft, 1.0, tape.length(now.draft_mean_mm), tape.length(then.draft_mean_mm));
    turned.into_iter().flatten().chain(draft).collect()
}

fn overlay_words(overlay: Option<Overlay>) -> &'static str {
    match overlay {
        None => "",
        Some(Overlay::Inside) => "inside of the hull",
        Some(Overlay::Reach) => "reach at deck height",
        Some(Overlay::Envelopes) => "envelopes of motions",
        Some(Overlay::Holes) => "holes alone",
        Some(Overlay::Cables) => "cables, dashed where hidden",
        Some(Overlay::Compared) => "",
        Some(Overlay::Water) => "heights over the water at rest",
    }
}
