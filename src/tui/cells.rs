//! How four pixels and perhaps a symbol become one cell of the terminal.
//!
//! With colours enough a cell shows its pixels as a quadrant in two colours, or as two blended
//! halves. With sixteen, with none or in ASCII, textures and strokes by role take over, so that
//! zones, gear, holes and conflicts stay apart without colour.

use ratatui::buffer::{Buffer, Cell};
use ratatui::style::{Color, Modifier, Style};

use super::canvas::{Canvas, Mark, Pixel};
use super::glyphs::Glyphs;
use super::theme::{Depth, Role, Theme};

/// How things are drawn: which colours, which symbols.
#[derive(Clone, Copy, Debug)]
pub struct Brush<'a> {
    /// The colours.
    pub theme: &'a Theme,
    /// The symbols.
    pub glyphs: Glyphs,
}

impl Canvas {
    /// Draws the canvas into a buffer, clipped to it.
    pub fn render(&self, brush: &Brush<'_>, buffer: &mut Buffer) {
        let area = self.area();
        for row in 0..area.height {
            for column in 0..area.width {
                let Some(cell) = buffer.cell_mut((area.x.saturating_add(column), area.y.saturating_add(row))) else {
                    continue;
                };
                let pixels = self.pixels_of(column, row);
                match self.mark_of(column, row) {
                    Some(mark) => symbol(cell, mark, &pixels, brush),
                    None => ground(cell, &pixels, brush),
                }
            }
        }
    }
}

/// A symbol on the ground that fills most of its cell.
fn symbol(cell: &mut Cell, mark: &Mark, pixels: &[Pixel; 4], brush: &Brush<'_>) {
    let theme = brush.theme;
    let under = base(pixels);
    let mut style = theme.style(mark.role);
    if mark.bold {
        style = style.add_modifier(Modifier::BOLD);
    }
    match theme.depth() {
        Depth::Mono if solid(under) => style = style.add_modifier(Modifier::REVERSED),
        Depth::Mono => {}
        _ if style.bg.is_none() => style = style.bg(theme.colour(under)),
        _ => {}
    }
    put(cell, if mark.symbol.is_empty() { " " } else { &mark.symbol }, style);
}

fn ground(cell: &mut Cell, pixels: &[Pixel; 4], brush: &Brush<'_>) {
    match (brush.glyphs, brush.theme.depth()) {
        (Glyphs::Ascii, _) => strokes(cell, pixels, brush),
        (Glyphs::Block, Depth::Mono | Depth::Sixteen) => textures(cell, pixels, brush),
        (Glyphs::Block, Depth::True | Depth::TwoFiftySix) => blended(cell, pixels, brush),
    }
}

/// Two colours in a quadrant when that says it all, else two blended halves.
fn blended(cell: &mut Cell, pixels: &[Pixel; 4], brush: &Brush<'_>) {
    let theme = brush.theme;
    let colours = pixels.map(|p| theme.mixed(p.over, p.under, p.quarters));
    let first = colours[0];
    let other = colours.iter().copied().find(|c| *c != first);
    let Some(second) = other else {
        put(cell, " ", Style::new().bg(first));
        return;
    };
    if colours.iter().all(|c| *c == first || *c == second) {
        // The terminal's own background can only be a background.
        let front = if first == Color::Reset { second } else { first };
        let back = if front == first { second } else { first };
        let glyph = brush.glyphs.quarters(colours.map(|c| c == front));
        put(cell, glyph, Style::new().fg(front).bg(back));
        return;
    }
    let (top, bottom) = (theme.between(colours[0], colours[1]), theme.between(colours[2], colours[3]));
    match (top, bottom) {
        (Color::Reset, bottom) => put(cell, "▄", Style::new().fg(bottom).bg(top)),
        (top, bottom) if top == bottom => put(cell, " ", Style::new().bg(top)),
        (top, bottom) => put(cell, "▀", Style::new().fg(top).bg(bottom)),
    }
}

/// Lines as quadrants, fills as shades, one colour in front.
fn textures(cell: &mut Cell, pixels: &[Pixel; 4], brush: &Brush<'_>) {
    let theme = brush.theme;
    let roles = pixels.map(Pixel::role);
    let top = roles.iter().copied().max().unwrap_or(Role::Water);
    let shade = texture(top);
    let coloured = theme.depth() == Depth::Sixteen;
    let alone = roles.iter().all(|r| *r == top);
    match shade {
        Texture::Blank => {
            let style = if coloured { Style::new().bg(theme.colour(top)) } else { Style::new() };
            put(cell, " ", style);
        }
        // Where there are colours a fill is a colour; else a shade.
        Texture::Fill(block, _) if alone => {
            let own = theme.colour(top);
            if coloured && own != Color::Reset {
                put(cell, " ", Style::new().bg(own));
            } else {
                let style = if coloured { theme.style(Role::Seam) } else { theme.style(top) };
                put(cell, block, style);
            }
        }
        Texture::Line | Texture::Fill(..) => {
            let rest = roles.iter().copied().filter(|r| *r != top).max().unwrap_or(top);
            let style = front(theme, top);
            let style = if coloured { style.bg(theme.colour(rest)) } else { style };
            // Without colour an edge and its fill are one solid.
            let lit = |role: Role| role == top || (!coloured && top == Role::GearRim && solid(role));
            put(cell, brush.glyphs.quarters(roles.map(lit)), style);
        }
    }
}

/// One ASCII sign a cell: a stroke for a line, a letter for a fill; colours behind where there are.
fn strokes(cell: &mut Cell, pixels: &[Pixel; 4], brush: &Brush<'_>) {
    let theme = brush.theme;
    let roles = pixels.map(Pixel::role);
    let top = roles.iter().copied().max().unwrap_or(Role::Water);
    let under = most(pixels);
    let (sign, role) = match texture(top) {
        Texture::Blank => (" ", Role::Dim),
        Texture::Line => (line_sign(top, roles), top),
        Texture::Fill(_, sign) => (sign, if top <= Role::Seam { Role::Seam } else { Role::GearRim }),
    };
    let mut style = front(theme, role);
    if theme.depth() != Depth::Mono {
        style = style.bg(theme.colour(if texture(under) == Texture::Line { base(pixels) } else { under }));
    }
    put(cell, sign, style);
}

/// A line's or fill's own colour, or in mono its weight: never reversed, that is for symbols.
fn front(theme: &Theme, role: Role) -> Style {
    match theme.depth() {
        Depth::Mono => {
            let style = theme.style(role);
            Style { add_modifier: style.add_modifier.difference(Modifier::REVERSED), ..style }
        }
        _ => Style::new().fg(theme.colour(role)),
    }
}

fn line_sign(role: Role, roles: [Role; 4]) -> &'static str {
    let full = roles.iter().all(|r| *r == role);
    match role {
        Role::Hull if full => "*",
        Role::Rim if full => "o",
        Role::Seam if full => "-",
        Role::Stop => "!",
        Role::Fitting => "=",
        Role::GearRim => "#",
        Role::Selected | Role::Changed => "%",
        Role::Face => "]",
        Role::Ghost => "&",
        Role::GhostStop => "X",
        Role::Wire => "~",
        _ => Glyphs::Ascii.quarters(roles.map(|r| r == role)),
    }
}

/// What stands for a role where colour does not.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Texture {
    Blank,
    Line,
    /// A shade, and its ASCII twin.
    Fill(&'static str, &'static str),
}

fn texture(role: Role) -> Texture {
    match role {
        Role::Wet => Texture::Fill("~", "~"),
        Role::InHand => Texture::Fill("∙", "."),
        Role::AtStretch => Texture::Fill(":", ":"),
        Role::Lid => Texture::Fill(" ", " "),
        Role::Foam => Texture::Fill("░", "%"),
        Role::Seat => Texture::Fill("░", "."),
        Role::Person => Texture::Fill("▒", ":"),
        Role::Screen | Role::Power | Role::Tackle | Role::Stow | Role::Drive | Role::Fixing => Texture::Fill("█", "#"),
        Role::Ghost | Role::GhostStop | Role::Caution => Texture::Fill("▒", "&"),
        Role::Water | Role::Raised | Role::Deck | Role::Shallow | Role::Deep | Role::OutOfReach => Texture::Blank,
        _ => Texture::Line,
    }
}

fn solid(role: Role) -> bool {
    matches!(role, Role::Screen | Role::Power | Role::Tackle | Role::Stow | Role::Drive | Role::Fixing | Role::GearRim)
}

/// The role of most pixels; of two, the one that wins.
fn most(pixels: &[Pixel; 4]) -> Role {
    let roles = pixels.map(Pixel::role);
    let count = |role: Role| roles.iter().filter(|r| **r == role).count();
    roles.iter().copied().max_by_key(|r| (count(*r), *r)).unwrap_or(Role::Water)
}

/// The ground a symbol stands on: what fills most of the cell apart from lines.
fn base(pixels: &[Pixel; 4]) -> Role {
    let line = |role: Role| matches!(texture(role), Texture::Line);
    let fills = pixels.map(|p| if line(p.role()) { p.under } else { p.role() });
    fills
        .iter()
        .copied()
        .filter(|r| !line(*r))
        .max_by_key(|r| (fills.iter().filter(|f| *f == r).count(), *r))
        .unwrap_or(Role::Deck)
}

fn put(cell: &mut Cell, symbol: &str, style: Style) {
    cell.reset();
    cell.set_symbol(symbol).set_style(style);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::{Polygon, Spot};
    use crate::tui::theme::Ground;
    use crate::tui::view::Window;
    use ratatui::layout::Rect;

    /// Draws on six cells in a row, 10 mm a column, and gives the symbols.
    fn check(depth: Depth, glyphs: Glyphs, paint: impl Fn(&mut Canvas), symbols: &str) -> Buffer {
        let area = Rect::new(0, 0, 6, 1);
        let middle = Spot::new(30.0, 10.0);
        let mut canvas = Canvas::new(Window { area, middle, mm_per_column: 10.0, mm_per_row: 20.0 });
        paint(&mut canvas);
        let mut buffer = Buffer::empty(area);
        let theme = Theme::new(Ground::Dark, depth);
        canvas.render(&Brush { theme: &theme, glyphs }, &mut buffer);
        let drawn: String = buffer.content().iter().map(Cell::symbol).collect();
        assert_eq!(drawn, symbols);
        buffer
    }

    fn box_from(canvas: &mut Canvas, role: Role, low: (f64, f64), high: (f64, f64)) {
        let mask = canvas.polygon(&Polygon::rect(low.into(), high.into()));
        canvas.fill(&mask, role);
    }

    #[test]
    fn two_colours_are_a_quadrant_and_the_terminals_own_stays_behind() {
        let drawn = check(Depth::True, Glyphs::Block, |c| box_from(c, Role::Hull, (5.0, 0.0), (20.0, 10.0)), "▗▄    ");
        assert!(drawn.content().iter().all(|cell| cell.bg == Color::Reset));
    }

    #[test]
    fn without_colour_gear_is_solid_and_its_tag_reversed() {
        let paint = |c: &mut Canvas| {
            box_from(c, Role::Screen, (0.0, 0.0), (40.0, 20.0));
            c.text(1, 0, "D9", Role::Text, true);
        };
        let drawn = check(Depth::Mono, Glyphs::Block, paint, "█D9█  ");
        assert!(drawn.content()[1].modifier.contains(Modifier::REVERSED));
        check(Depth::Mono, Glyphs::Ascii, paint, "#D9#  ");
    }

    #[test]
    fn half_a_wide_letter_is_left_out() {
        check(Depth::True, Glyphs::Block, |c| c.text(3, 0, "a港b", Role::Text, false), "   a港 ");
        check(Depth::True, Glyphs::Block, |c| c.text(4, 0, "a港b", Role::Text, false), "    a ");
    }
}
