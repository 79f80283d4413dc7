//! A drawing as a document to print at its true size.

use pdf_writer::{Content, Finish, Name, Pdf, Rect, Ref, Str, TextStr};

use super::{Drawing, Group, Mark, Pen};
use crate::shown::Shown;

/// Points in a millimetre: 72 to the inch.
const POINTS: f64 = 72.0 / 25.4;

/// How far the handles of a curve are out for a quarter of a circle of radius 1: `4/3 (sqrt 2 - 1)`. Off by less than
/// 0.03 percent of the radius. Source: the usual approximation by Bezier curves, from memory.
const QUARTER: f64 = 0.552_284_749_8;

/// The name of the one font.
const FONT: Name<'static> = Name(b"F1");

pub(super) fn written(drawing: &Drawing) -> Vec<u8> {
    let (width, height) = drawing.size_mm();
    let (catalog, tree, font, info) = (Ref::new(1), Ref::new(2), Ref::new(3), Ref::new(4));
    let numbers: Vec<(Ref, Ref)> =
        (0..drawing.pages.len() as i32).map(|page| (Ref::new(5 + 2 * page), Ref::new(6 + 2 * page))).collect();
    let mut pdf = Pdf::new();
    let mut root = pdf.catalog(catalog);
    root.pages(tree);
    // A reader's print dialogue then offers true size first.
    root.viewer_preferences().pair(Name(b"PrintScaling"), Name(b"None"));
    root.finish();
    pdf.pages(tree).kids(numbers.iter().map(|(page, _)| *page)).count(numbers.len() as i32);
    // One of the fonts that every reader brings along, in the encoding that has letters with accents.
    pdf.type1_font(font).base_font(Name(b"Helvetica")).encoding_predefined(Name(b"WinAnsiEncoding"));
    pdf.document_info(info).title(TextStr(&Shown(&drawing.title).to_string()));
    for ((id, content), page) in numbers.iter().zip(&drawing.pages) {
        let mut sheet = pdf.page(*id);
        sheet.media_box(Rect::new(0.0, 0.0, (width * POINTS) as f32, (height * POINTS) as f32));
        sheet.parent(tree).contents(*content);
        sheet.resources().fonts().pair(FONT, font);
        sheet.finish();
        let mut ink = Ink { content: Content::new(), height };
        page.groups.iter().for_each(|group| ink.group(group));
        pdf.stream(*content, &ink.content.finish());
    }
    pdf.finish()
}

/// The marks of a page on their way into the document, whose y runs up.
struct Ink {
    content: Content,
    height: f64,
}

impl Ink {
    fn at(&self, (x, y): (f64, f64)) -> (f32, f32) {
        ((x * POINTS) as f32, ((self.height - y) * POINTS) as f32)
    }

    fn group(&mut self, group: &Group) {
        self.content.save_state();
        if let Some(frame) = group.frame {
            let (x, y) = self.at((frame.x, frame.y + frame.height));
            self.content.rect(x, y, (frame.width * POINTS) as f32, (frame.height * POINTS) as f32);
            self.content.clip_nonzero().end_path();
        }
        group.marks.iter().for_each(|mark| self.mark(mark));
        self.content.restore_state();
    }

    fn mark(&mut self, mark: &Mark) {
        match mark {
            Mark::Line { from, to, pen } => {
                self.pen(*pen);
                let (from, to) = (self.at(*from), self.at(*to));
                self.content.move_to(from.0, from.1).line_to(to.0, to.1).stroke();
            }
            Mark::Circle { middle, radius, pen } => {
                self.pen(*pen);
                self.circle(*middle, *radius);
            }
            Mark::Blank(frame) => {
                let (x, y) = self.at((frame.x, frame.y + frame.height));
                let (width, height) = ((frame.width * POINTS) as f32, (frame.height * POINTS) as f32);
                self.content.set_fill_gray(1.0).rect(x, y, width, height).fill_nonzero().set_fill_gray(0.0);
            }
            Mark::Words { at, size, words } => {
                let (x, y) = self.at(*at);
                let words = letters(&Shown(words).to_string());
                self.content.begin_text().set_font(FONT, (size * POINTS) as f32).next_line(x, y);
                self.content.show(Str(&words)).end_text();
            }
        }
    }

    fn pen(&mut self, pen: Pen) {
        let dash = |mm: f64| (mm * POINTS) as f32;
        let pattern = pen.dashes_mm().iter().map(|mm| dash(*mm));
        self.content.set_line_width(dash(pen.width_mm())).set_dash_pattern(pattern, 0.0);
    }

    fn circle(&mut self, (x, y): (f64, f64), r: f64) {
        let h = QUARTER * r;
        let start = self.at((x + r, y));
        self.content.move_to(start.0, start.1);
        for [a, b, to] in [
            [(x + r, y + h), (x + h, y + r), (x, y + r)],
            [(x - h, y + r), (x - r, y + h), (x - r, y)],
            [(x - r, y - h), (x - h, y - r), (x, y - r)],
            [(x + h, y - r), (x + r, y - h), (x + r, y)],
        ] {
            let (a, b, to) = (self.at(a), self.at(b), self.at(to));
            self.content.cubic_to(a.0, a.1, b.0, b.1, to.0, to.1);
        }
        self.content.close_and_stroke();
    }
}

/// Text in the font's encoding; what it has no letter for becomes a question mark.
fn letters(text: &str) -> Vec<u8> {
    text.chars().map(|c| letter(c).unwrap_or(b'?')).collect()
}

/// From the space to the tilde, and the Latin letters with accents, the encoding agrees with Unicode.
pub(super) fn letter(c: char) -> Option<u8> {
    match c {
        ' '..='~' | '\u{a1}'..='\u{ff}' => u8::try_from(u32::from(c)).ok(),
        _ => None,
    }
}
