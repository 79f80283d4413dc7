//! The Wiring view: the diagram as lines with their figures in columns, and what is to be said of the chosen one.

use ratatui::buffer::Buffer;
use ratatui::layout::{Position, Rect};
use ratatui::style::{Modifier, Style};

use super::panels::{first_shown, mark, role};
use super::text;
use crate::tui::app::{App, Carried, Editor, Focus};
use crate::tui::glyphs::{Glyph, Glyphs};
use crate::tui::panels::PanelKind;
use crate::tui::panels::wiring::{HEADS, Item, Joint, Line, cure, cure_words, lines, named, room_words};
use crate::tui::theme::Role;
use crate::tui::update::sources;
use crate::units::Tape;

/// Columns of a line's mark.
const MARK: u16 = 2;
/// Columns of stem and name where findings stand beside the figures.
const NAME: u16 = 38;
/// Columns of a finding beside the figures; where there are fewer it is told below only.
const SAYS: u16 = 24;
/// Rows below the lines, about the chosen one.
const TOLD: u16 = 2;

/// Draws the view.
pub fn draw(app: &App, editor: &Editor, area: Rect, buffer: &mut Buffer) {
    let all = lines(sources(editor, app.look.tape));
    let places = Places::of(app, editor, all.len(), area);
    head(app, editor, &places, buffer);
    if all.is_empty() {
        let words = "no battery is aboard: take one from the catalogue";
        text::put(buffer, places.list, words, app.look.theme.style(Role::Dim));
        return;
    }
    for ((index, line), area) in all.iter().enumerate().skip(places.first).zip(text::rows(places.list)) {
        one(app, editor, &places, line, index == places.chosen, area, buffer);
    }
    let hidden = all.len().saturating_sub(places.first + usize::from(places.list.height));
    if hidden > 0 {
        let style = app.look.theme.style(Role::Dim);
        text::put_right(buffer, Rect { height: 1, ..places.told }, &format!("{hidden} more below"), style);
    }
    if let Some(line) = all.get(places.chosen) {
        told(app, editor, line, places.told, buffer);
    }
}

/// The line of the diagram under a cell.
pub fn row_at(app: &App, editor: &Editor, area: Rect, cell: Position) -> Option<usize> {
    let rows = lines(sources(editor, app.look.tape)).len();
    let places = Places::of(app, editor, rows, area);
    let row = places.first + usize::from(cell.y.checked_sub(places.list.y)?);
    (places.list.contains(cell) && row < rows).then_some(row)
}

/// Where everything stands.
struct Places {
    head: Rect,
    list: Rect,
    told: Rect,
    /// Columns of stem and name, the figures behind them.
    name: u16,
    widths: [u16; HEADS.len()],
    /// The first line shown, and the chosen one.
    first: usize,
    chosen: usize,
}

impl Places {
    fn of(app: &App, editor: &Editor, rows: usize, area: Rect) -> Self {
        let widths = match app.look.tape.0 {
            Tape::Metric => [6, 6, 5, 8, 5, 10, 8],
            Tape::Inches => [6, 6, 5, 8, 5, 14, 8],
        };
        let figures: u16 = widths.iter().sum();
        let name = area.width.saturating_sub(MARK + figures);
        let name = if name >= NAME + SAYS { NAME } else { name };
        let told = TOLD.min(area.height.saturating_sub(2));
        let list = Rect { y: area.y + 1, height: area.height.saturating_sub(1 + told), ..area };
        let chosen = editor.rows[PanelKind::Wiring.index()].min(rows.saturating_sub(1));
        Self {
            head: Rect { height: 1.min(area.height), ..area },
            list,
            told: Rect { y: list.bottom(), height: told, ..area },
            name,
            widths,
            first: first_shown(chosen, usize::from(list.height), rows),
            chosen,
        }
    }

    /// The columns of the figures in a line of the screen, and what is left behind them.
    fn columns(&self, line: Rect) -> (Vec<Rect>, Rect) {
        let mut x = line.x + MARK + self.name;
        let mut columns = Vec::new();
        for width in self.widths {
            columns.push(Rect { x, width, ..line }.intersection(line));
            x += width;
        }
        (columns, Rect { x: x + 2, width: line.right().saturating_sub(x + 2), ..line })
    }
}

fn head(app: &App, editor: &Editor, places: &Places, buffer: &mut Buffer) {
    let theme = &app.look.theme;
    let focused = editor.focus == Focus::Panel(PanelKind::Wiring);
    let title = theme.style(if focused { Role::Accent } else { Role::Text }).add_modifier(Modifier::BOLD);
    let title = if focused { title.add_modifier(Modifier::UNDERLINED) } else { title };
    text::put(buffer, places.head, PanelKind::Wiring.title(), title);
    for (area, head) in places.columns(places.head).0.into_iter().zip(HEADS) {
        text::put_right(buffer, area, head, theme.style(Role::Dim));
    }
}

fn one(app: &App, editor: &Editor, places: &Places, line: &Line, lit: bool, area: Rect, buffer: &mut Buffer) {
    let theme = &app.look.theme;
    let plain = theme.style(match line.item {
        _ if is_carried(editor, line.item) => Role::Ghost,
        _ if line.idle => Role::Dim,
        _ => Role::Text,
    });
    let base = if lit { theme.style(Role::Selected).add_modifier(Modifier::REVERSED) } else { plain };
    if lit {
        text::put(buffer, area, &" ".repeat(usize::from(area.width)), base);
    }
    if let Some(severity) = line.mark {
        text::put(buffer, area, mark(severity, app.look.glyphs), theme.style(role(severity)));
    }
    let (columns, rest) = places.columns(area);
    let name = Rect { x: area.x + MARK, width: places.name, ..area }.intersection(area);
    name_and_wire(app, line, lit, base, name, buffer);
    for (cell, column) in line.cells.iter().zip(columns) {
        let style = match (cell.bad, lit) {
            (Some(severity), _) => theme.style(role(severity)),
            (None, true) => base,
            (None, false) if cell.changed => theme.style(Role::Changed),
            (None, false) => plain,
        };
        text::put_right(buffer, column, &cell.text, style);
    }
    if let Some(finding) =
        line.finding.and_then(|index| editor.session.findings().get(index)).filter(|_| rest.width >= SAYS)
    {
        let style = if lit { base } else { theme.style(Role::Dim) };
        text::put(buffer, rest, &text::fit(&finding.says, rest.width, ascii(app)), style);
    }
}

/// What leads to the line, its name, and the wire on to its figures.
fn name_and_wire(app: &App, line: &Line, lit: bool, base: Style, area: Rect, buffer: &mut Buffer) {
    let theme = &app.look.theme;
    let wire = if lit { base } else { theme.style(Role::Wire) };
    let dim = if lit { base } else { theme.style(Role::Dim) };
    let glyphs = app.look.glyphs;
    let stem: String = line.stem.iter().map(|joint| stem_glyphs(*joint, glyphs)).collect();
    let mut rest = area;
    let mut put = |words: &str, style: Style| {
        let taken = text::put(buffer, rest, words, style);
        rest = Rect { x: rest.x + taken, width: rest.width - taken, ..rest };
        rest.width
    };
    let room = put(&stem, wire);
    let channel = line.channel.map_or(String::new(), |channel| format!("{channel} "));
    let room = room.min(put(&channel, dim));
    let mut room = put(&text::fit(&line.label, room, ascii(app)), base);
    if !line.about.is_empty() && room > 2 {
        room = put(&text::fit(&format!("  {}", line.about), room, ascii(app)), dim);
    }
    // Mains and circuits are wires: one leads the eye to its figures.
    if matches!(line.item, Item::Battery(_) | Item::Circuit(_)) && !line.cells.is_empty() && room > 2 {
        put(" ", wire);
        put(&glyphs.of(Glyph::DimensionAcross).repeat(usize::from(room - 1)), wire);
    }
}

fn stem_glyphs(joint: Joint, glyphs: Glyphs) -> String {
    let across = glyphs.of(Glyph::DimensionAcross);
    match joint {
        Joint::Gap => "  ".into(),
        Joint::Past => format!("{} ", glyphs.of(Glyph::DimensionUp)),
        Joint::Fork => format!("{}{across}", glyphs.of(Glyph::Fork)),
        Joint::End => format!("{}{across}", glyphs.of(Glyph::LastFork)),
    }
}

/// What speaks against the chosen line and what cures it; else what its wire bears. Something in hand comes first.
fn told(app: &App, editor: &Editor, line: &Line, area: Rect, buffer: &mut Buffer) {
    let theme = &app.look.theme;
    let plan = editor.session.plan();
    let mut rows = text::rows(area);
    let (Some(first), Some(second)) = (rows.next(), rows.next()) else { return };
    // How many lines are hidden stands at the right of the first.
    let first = Rect { width: first.width.saturating_sub(16), ..first };
    let put = |line: Rect, words: &str, style, buffer: &mut Buffer| {
        text::put(buffer, line, &text::fit(words, line.width, ascii(app)), style);
    };
    if let Some(carried) = editor.carried {
        let what = named(plan, carried_item(carried));
        let to = match line.item {
            Item::Load(_, Some(id)) => Item::Circuit(id),
            Item::Load(_, None) => Item::Free,
            item => item,
        };
        let words = format!("in hand: {what}; enter hangs it on {}, esc lets it go", named(plan, to));
        put(first, &words, theme.style(Role::Ghost), buffer);
        return;
    }
    let findings = editor.session.findings();
    let wiring = &editor.session.study().wiring;
    if let Some(finding) = line.finding.and_then(|index| findings.get(index)) {
        let taken =
            text::put(buffer, first, mark(finding.severity, app.look.glyphs), theme.style(role(finding.severity)));
        let says = Rect { x: first.x + taken + 1, width: first.width.saturating_sub(taken + 1), ..first };
        put(says, &finding.says, theme.style(Role::Text), buffer);
        let cured = cure(wiring, findings, line.item).map_or(String::new(), |cure| {
            let breaker =
                matches!(line.item, Item::Battery(id) if plan.wiring.main_of(id).is_some_and(|main| main.breaker));
            format!(". takes {}.  ", cure_words(cure, if breaker { "breaker" } else { "fuse" }))
        });
        put(second, &format!("{cured}{}", finding.remedy), theme.style(Role::Accent), buffer);
    } else if let Some(words) = room_words(wiring, line.item) {
        put(first, &words, theme.style(Role::Dim), buffer);
    }
}

fn carried_item(carried: Carried) -> Item {
    match carried {
        Carried::Load(gear) => Item::Load(gear, None),
        Carried::Circuit(id) => Item::Circuit(id),
    }
}

fn is_carried(editor: &Editor, item: Item) -> bool {
    match (editor.carried, item) {
        (Some(Carried::Load(carried)), Item::Load(gear, _)) => carried == gear,
        (Some(Carried::Circuit(carried)), Item::Circuit(id)) => carried == id,
        _ => false,
    }
}

fn ascii(app: &App) -> bool {
    app.look.glyphs == Glyphs::Ascii
}
