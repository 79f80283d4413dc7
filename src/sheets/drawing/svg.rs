//! A drawing as a picture whose units are millimetres; its pages stand below each other.

use svg::Document;
use svg::node::element::{Circle, ClipPath, Definitions, Group as Set, Line, Rectangle, Text, Title};

use super::{Drawing, Frame, Group, Mark};
use crate::shown::Shown;

pub(super) fn written(drawing: &Drawing) -> String {
    let (width, height) = drawing.size_mm();
    let tall = height * drawing.pages.len().max(1) as f64;
    let mut picture = Document::new()
        .set("width", format!("{width}mm"))
        .set("height", format!("{tall}mm"))
        .set("viewBox", (0, 0, width, tall))
        .add(Title::new(Shown(&drawing.title).to_string()));
    for (number, page) in drawing.pages.iter().enumerate() {
        let down = height * number as f64;
        let mut sheet =
            Set::new().set("id", format!("page{}", number + 1)).set("transform", format!("translate(0 {down})"));
        for (n, group) in page.groups.iter().enumerate() {
            sheet = sheet.add(set(group, &format!("frame{}-{}", number + 1, n + 1)));
        }
        picture = picture.add(sheet);
    }
    format!("{picture}\n")
}

fn set(group: &Group, name: &str) -> Set {
    let mut set = Set::new();
    if let Some(frame) = group.frame {
        let clip = ClipPath::new().set("id", name).add(rectangle(frame));
        set = set.add(Definitions::new().add(clip)).set("clip-path", format!("url(#{name})"));
    }
    group.marks.iter().fold(set, |set, mark| match mark {
        Mark::Line { from, to, pen } => {
            let line = Line::new().set("x1", from.0).set("y1", from.1).set("x2", to.0).set("y2", to.1);
            let line = line.set("stroke", "black").set("stroke-width", pen.width_mm());
            let dashes: Vec<String> = pen.dashes_mm().iter().map(f64::to_string).collect();
            set.add(if dashes.is_empty() { line } else { line.set("stroke-dasharray", dashes.join(" ")) })
        }
        Mark::Circle { middle, radius, pen } => {
            let circle = Circle::new().set("cx", middle.0).set("cy", middle.1).set("r", *radius);
            set.add(circle.set("fill", "none").set("stroke", "black").set("stroke-width", pen.width_mm()))
        }
        Mark::Blank(frame) => set.add(rectangle(*frame).set("fill", "white")),
        Mark::Words { at, size, words } => {
            let text = Text::new(Shown(words).to_string()).set("x", at.0).set("y", at.1);
            set.add(text.set("font-family", "sans-serif").set("font-size", *size))
        }
    })
}

fn rectangle(frame: Frame) -> Rectangle {
    Rectangle::new().set("x", frame.x).set("y", frame.y).set("width", frame.width).set("height", frame.height)
}
