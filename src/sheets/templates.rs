//! Templates: the hole patterns and bases of gear still to be drilled, at their true size, to tape on the deck.
//!
//! Up on the paper is forward. A part under the hull is drawn as it is seen from below, its starboard side left.

use super::drawing::{Drawing, Frame, Group, Mark, Page, Paper, Pen, outline};
use crate::geometry::{Spot, turned};
use crate::plan::{Gear, GearId, Level, Plan};
use crate::study::Study;
use crate::study::drilling::{Stop, Walk};
use crate::study::fastening::drills::trimmed;
use crate::study::rig::HoleRef;

/// White round the page, mm: what printers leave out.
const MARGIN: f64 = 10.0;

/// Height of the strip with the bars to check the print by, mm.
const STRIP: f64 = 22.0;

/// White round a template, mm.
const ROOM: f64 = 6.0;

/// Height of the lines of words over a template, mm.
const HEAD: f64 = 12.0;

/// How much of a template two pages have in common, mm.
const OVERLAP: f64 = 15.0;

/// Letters, mm.
const LETTERS: f64 = 3.0;

/// The templates of a plan: several small ones on a page, large ones over several.
pub fn templates(plan: &Plan, study: &Study, paper: Paper) -> Drawing {
    let walk = Walk::of(plan, study);
    let mut drawn: Vec<Template> = Vec::new();
    let mut seen: Vec<GearId> = Vec::new();
    for stop in &walk.stops {
        let HoleRef::Gear(id, _) = stop.hole.id else { continue };
        if !seen.contains(&id) {
            seen.push(id);
            let stops: Vec<&Stop<'_>> = walk.stops.iter().filter(|stop| stop.hole.owner == Some(id)).collect();
            drawn.extend(plan.gear(id).and_then(|gear| Template::of(gear, &stops)));
        }
    }
    let mut pages = place(&drawn, paper);
    let count = pages.len();
    for (number, page) in pages.iter_mut().enumerate() {
        page.groups.push(strip(plan, paper, number + 1, count));
    }
    Drawing { title: format!("Templates of {}", plan.name), paper, landscape: false, pages }
}

/// One template: its marks from its own upper left corner, and its size, mm.
struct Template {
    marks: Vec<Mark>,
    width: f64,
    height: f64,
}

impl Template {
    fn of(gear: &Gear, stops: &[&Stop<'_>]) -> Option<Self> {
        let (place, mounting) = (gear.place?, gear.spec.mounting(gear.mount)?);
        let below = place.level == Level::Under;
        // To the right is starboard; seen from below, port.
        let right = if below { 1.0 } else { -1.0 };
        let onto = |spot: Spot| (right * spot.y, -spot.x);
        let (half_length, half_width) = (mounting.base_mm.0 / 2.0, mounting.base_mm.1 / 2.0);
        let turn = place.turn.to_deg();
        let base: Vec<(f64, f64)> = [(1.0, 1.0), (1.0, -1.0), (-1.0, -1.0), (-1.0, 1.0)]
            .map(|(x, y)| onto(turned(Spot::new(x * half_length, y * half_width), turn)))
            .into();
        let holes: Vec<((f64, f64), f64)> =
            stops.iter().map(|stop| (onto(stop.hole.at.spot() - place.spot()), stop.final_mm / 2.0)).collect();
        let reach = base.iter().map(|at| (*at, 0.0)).chain(holes.iter().copied());
        let (mut left, mut top, mut far, mut low) = (0.0_f64, 0.0_f64, 0.0_f64, 0.0_f64);
        for ((x, y), radius) in reach {
            (left, far) = (left.min(x - radius), far.max(x + radius));
            (top, low) = (top.min(y - radius), low.max(y + radius));
        }
        let title = format!("{}, {}{}", gear.label, gear.mount.word(), if below { ", seen from below" } else { "" });
        let wide = (far - left + 2.0 * ROOM).max(title.chars().count() as f64 * LETTERS * 0.6 + ROOM);
        let shift = |(x, y): (f64, f64)| (x - left + ROOM, y - top + ROOM + HEAD);
        let base: Vec<(f64, f64)> = base.into_iter().map(shift).collect();
        let mut marks: Vec<Mark> = outline(&base, Pen::Fine).collect();
        marks.extend(centre_lines(shift((0.0, 0.0)), (left, far, top, low)));
        for (middle, radius) in holes {
            marks.extend(hole(shift(middle), radius));
        }
        marks.push(Mark::Words { at: (1.0, LETTERS + 1.0), size: LETTERS, words: title });
        marks.extend(bow_arrow(shift((0.0, 0.0)).0));
        Some(Self { marks, width: wide, height: low - top + 2.0 * ROOM + HEAD })
    }
}

fn centre_lines((x, y): (f64, f64), (left, far, top, low): (f64, f64, f64, f64)) -> [Mark; 2] {
    let line = |from, to| Mark::Line { from, to, pen: Pen::Chain };
    [line((x + left - 4.0, y), (x + far + 4.0, y)), line((x, y + top - 4.0), (x, y + low + 4.0))]
}

/// A hole with its cross, and its drill beside it.
fn hole((x, y): (f64, f64), radius: f64) -> [Mark; 4] {
    let arm = radius + 2.0;
    let line = |from, to| Mark::Line { from, to, pen: Pen::Fine };
    [
        Mark::Circle { middle: (x, y), radius, pen: Pen::Fine },
        line((x - arm, y), (x + arm, y)),
        line((x, y - arm), (x, y + arm)),
        Mark::Words { at: (x + 0.8, y - radius - 0.8), size: 2.0, words: format!("{} mm", trimmed(2.0 * radius)) },
    ]
}

/// An arrow to the bow over the middle.
fn bow_arrow(x: f64) -> [Mark; 4] {
    let (tip, tail) = (LETTERS + 3.0, HEAD + 1.0);
    let line = |from, to| Mark::Line { from, to, pen: Pen::Fine };
    [
        line((x, tail), (x, tip)),
        line((x, tip), (x - 1.2, tip + 2.2)),
        line((x, tip), (x + 1.2, tip + 2.2)),
        Mark::Words { at: (x + 2.0, tip + 3.0), size: 2.0, words: "bow".into() },
    ]
}

/// Lays the templates out, row by row; one that is larger than a page is laid over several.
fn place(drawn: &[Template], paper: Paper) -> Vec<Page> {
    let (width, height) = paper.size_mm();
    let area = Frame { x: MARGIN, y: MARGIN, width: width - 2.0 * MARGIN, height: height - 2.0 * MARGIN - STRIP };
    let mut pages: Vec<Page> = Vec::new();
    let mut open = Page::default();
    // Where the next one goes, and how tall the row is so far.
    let (mut x, mut y, mut row) = (0.0, 0.0, 0.0_f64);
    for template in drawn {
        if template.width > area.width || template.height > area.height {
            pages.extend(tiles(template, area));
            continue;
        }
        if x + template.width > area.width {
            (x, y, row) = (0.0, y + row, 0.0);
        }
        if y + template.height > area.height {
            pages.push(std::mem::take(&mut open));
            (x, y, row) = (0.0, 0.0, 0.0);
        }
        let frame = Frame { x: area.x + x, y: area.y + y, width: template.width, height: template.height };
        open.groups.push(Group { frame: Some(frame), marks: moved(&template.marks, frame.x, frame.y) });
        (x, row) = (x + template.width, row.max(template.height));
    }
    if !open.groups.is_empty() || pages.is_empty() {
        pages.push(open);
    }
    pages
}

/// The pages of a large template, each with a strip in common with the next and the joins drawn on both.
fn tiles(template: &Template, area: Frame) -> Vec<Page> {
    let starts = |whole: f64, part: f64| -> Vec<f64> {
        let step = part - OVERLAP;
        let count = (((whole - OVERLAP) / step).ceil().max(1.0)) as usize;
        (0..count).map(|n| n as f64 * step).collect()
    };
    let (columns, rows) = (starts(template.width, area.width), starts(template.height, area.height));
    let mut pages = Vec::new();
    for down in &rows {
        for along in &columns {
            let mut marks = template.marks.clone();
            let line = |from, to| Mark::Line { from, to, pen: Pen::Dashed };
            for x in columns.iter().skip(1).flat_map(|x| [*x, x + OVERLAP]) {
                marks.push(line((x, 0.0), (x, template.height)));
            }
            for y in rows.iter().skip(1).flat_map(|y| [*y, y + OVERLAP]) {
                marks.push(line((0.0, y), (template.width, y)));
            }
            let marks = moved(&marks, area.x - along, area.y - down);
            pages.push(Page { groups: vec![Group { frame: Some(area), marks }] });
        }
    }
    pages
}

fn moved(marks: &[Mark], dx: f64, dy: f64) -> Vec<Mark> {
    let shift = |(x, y): (f64, f64)| (x + dx, y + dy);
    let one = |mark: &Mark| match mark.clone() {
        Mark::Line { from, to, pen } => Mark::Line { from: shift(from), to: shift(to), pen },
        Mark::Circle { middle, radius, pen } => Mark::Circle { middle: shift(middle), radius, pen },
        Mark::Blank(frame) => Mark::Blank(Frame { x: frame.x + dx, y: frame.y + dy, ..frame }),
        Mark::Words { at, size, words } => Mark::Words { at: shift(at), size, words },
    };
    marks.iter().map(one).collect()
}

/// The foot of a page: two bars to lay a rule on, and what to mind.
fn strip(plan: &Plan, paper: Paper, page: usize, pages: usize) -> Group {
    let (_, height) = paper.size_mm();
    let top = height - MARGIN - STRIP;
    let words = |y: f64, words: String| Mark::Words { at: (MARGIN, top + y), size: LETTERS, words };
    let mut marks = vec![
        words(
            3.0,
            format!(
                "{}: page {page} of {pages}, true size. Print at 100 percent, then lay a rule on both bars.",
                plan.name
            ),
        ),
        words(7.0, "Dry fit first. Ask the hull's maker before you drill, and look behind the skin.".into()),
    ];
    for (y, long, says) in [(12.0, 100.0, "100 mm"), (19.0, 4.0 * 25.4, "4 in")] {
        let (left, y) = (MARGIN, top + y);
        let line = |from, to| Mark::Line { from, to, pen: Pen::Bold };
        marks.push(line((left, y), (left + long, y)));
        marks.push(line((left, y - 1.5), (left, y + 1.5)));
        marks.push(line((left + long, y - 1.5), (left + long, y + 1.5)));
        marks.push(Mark::Words { at: (left + long + 3.0, y + 1.0), size: LETTERS, words: says.into() });
    }
    Group { frame: None, marks }
}
