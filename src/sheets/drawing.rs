//! A drawing on paper, in millimetres: pages of strokes and words, and what turns them into a file.
//!
//! On a page x runs to the right and y down, from its upper left corner. Nothing is scaled on the way to the file.

mod pdf;
mod svg;

/// A sheet of paper.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Paper {
    /// 210 by 297 mm.
    A4,
    /// 8.5 by 11 in.
    Letter,
}

impl Paper {
    /// Width and height, mm. Source: ISO 216; ANSI Y14.1.
    pub fn size_mm(self) -> (f64, f64) {
        match self {
            Self::A4 => (210.0, 297.0),
            Self::Letter => (215.9, 279.4),
        }
    }
}

/// What kind of file a drawing becomes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DrawingForm {
    /// One picture, the pages below each other.
    Svg,
    /// A document to print.
    Pdf,
}

/// A drawing.
#[derive(Clone, Debug, PartialEq)]
pub struct Drawing {
    /// What it is a drawing of.
    pub title: String,
    /// What it is printed on.
    pub paper: Paper,
    /// Whether the paper lies on its long side.
    pub landscape: bool,
    /// Its pages, in order.
    pub pages: Vec<Page>,
}

/// One page: groups of marks.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Page {
    /// In the order in which they are drawn.
    pub groups: Vec<Group>,
}

/// Marks that are drawn within a frame.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Group {
    /// Nothing is drawn outside of it; `None` is the page.
    pub frame: Option<Frame>,
    /// What is drawn.
    pub marks: Vec<Mark>,
}

/// An upright rectangle, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Frame {
    /// Left edge.
    pub x: f64,
    /// Upper edge.
    pub y: f64,
    /// From left to right.
    pub width: f64,
    /// From top to bottom.
    pub height: f64,
}

/// One thing drawn, mm.
#[derive(Clone, Debug, PartialEq)]
pub enum Mark {
    /// A straight stroke.
    Line {
        /// One end.
        from: (f64, f64),
        /// The other end.
        to: (f64, f64),
        /// How it is drawn.
        pen: Pen,
    },
    /// A circle.
    Circle {
        /// Its middle.
        middle: (f64, f64),
        /// Its radius.
        radius: f64,
        /// How it is drawn.
        pen: Pen,
    },
    /// White, over what was drawn before: so that words on strokes can be read.
    Blank(Frame),
    /// Words, from the left end of their base line.
    Words {
        /// Where they begin.
        at: (f64, f64),
        /// Height of the letters.
        size: f64,
        /// What they say.
        words: String,
    },
}

/// How a stroke is drawn: black, so that grey print shows it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Pen {
    /// An edge or a hole.
    Fine,
    /// What is hidden, or a join.
    Dashed,
    /// A bar to check the print by, or the hull's own line.
    Bold,
    /// A chain of long and short strokes: a middle, a place of a cut.
    Chain,
    /// What stays behind the rest.
    Faint,
}

impl Pen {
    /// Width of the stroke, mm.
    fn width_mm(self) -> f64 {
        match self {
            Self::Fine => 0.25,
            Self::Dashed | Self::Chain => 0.15,
            Self::Bold => 0.6,
            Self::Faint => 0.1,
        }
    }

    /// Lengths of stroke and gap in turn, mm; nothing for a whole line. Source: ISO 128, as drawn by common practice.
    fn dashes_mm(self) -> &'static [f64] {
        match self {
            Self::Dashed => &[3.0, 1.5],
            Self::Chain => &[6.0, 1.2, 0.8, 1.2],
            Self::Fine | Self::Bold | Self::Faint => &[],
        }
    }
}

impl Drawing {
    /// Width and height of a page as it is looked at, mm.
    pub fn size_mm(&self) -> (f64, f64) {
        let (width, height) = self.paper.size_mm();
        if self.landscape { (height, width) } else { (width, height) }
    }

    /// Whether this kind of file has a letter for every letter of the words; a document prints the others as `?`.
    pub fn can_say_all(&self, form: DrawingForm) -> bool {
        let said = |mark: &Mark| match mark {
            Mark::Words { words, .. } => words.chars().all(|c| pdf::letter(c).is_some()),
            _ => true,
        };
        form == DrawingForm::Svg || self.pages.iter().flat_map(|page| &page.groups).flat_map(|g| &g.marks).all(said)
    }

    /// The drawing as a file.
    pub fn written(&self, form: DrawingForm) -> Vec<u8> {
        match form {
            DrawingForm::Svg => svg::written(self).into_bytes(),
            DrawingForm::Pdf => pdf::written(self),
        }
    }
}

/// The closed outline through these corners.
pub fn outline(corners: &[(f64, f64)], pen: Pen) -> impl Iterator<Item = Mark> + '_ {
    let next = corners.iter().cycle().skip(1);
    corners.iter().zip(next).map(move |(from, to)| Mark::Line { from: *from, to: *to, pen })
}
