//! One page with a picture to a round scale: the picture, its dimensions, a bar, the bow, and what the tags are.

use super::picture::Picture;
use super::scale::{FOOT, HEAD, LETTERS, MARGIN, View, dimension, finite, hole, line, strip, words};
use super::tags::{Tags, list, list_height};
use crate::plan::{GearId, Plan};
use crate::sheets::drawing::{Frame, Group, Mark, Page, Pen};
use crate::sheets::number::plain;
use crate::units::Measure;

/// Room for dimensions left and below the picture, for the bow's arrow and the water's name to its right, mm.
const LEFT: f64 = 28.0;
const BELOW: f64 = 14.0;
const RIGHT: f64 = 24.0;
const ABOVE: f64 = 4.0;

/// The least scale: a boat larger on paper shows no more.
const LEAST_SCALE: f64 = 10.0;

pub(super) fn page(plan: &Plan, picture: &Picture, tape: Measure, width: f64, height: f64) -> Page {
    let inner = Frame { x: MARGIN, y: MARGIN, width: width - 2.0 * MARGIN, height: height - 2.0 * MARGIN };
    let tall = list_height(picture.tags.len());
    let area = Frame { y: inner.y + HEAD, height: inner.height - HEAD - FOOT - tall, ..inner };
    let below = Frame { y: area.y + area.height, height: tall, ..inner };
    let room = Frame {
        x: area.x + LEFT,
        y: area.y + ABOVE,
        width: area.width - LEFT - RIGHT,
        height: area.height - ABOVE - BELOW,
    };
    let view = View::of(picture.whole, room, LEAST_SCALE);
    let mut gear: Vec<GearId> = picture.tags.iter().map(|(_, id)| *id).collect();
    gear.sort_unstable();
    let mut groups = vec![Group { frame: Some(area), marks: marks(&view, picture, tape, area) }];
    groups.extend(list(plan, &gear, below));
    groups.push(Group { frame: None, marks: title(plan, picture, view.scale) });
    let first = if picture.tags.is_empty() { "No gear is placed. " } else { "" };
    groups.push(Group { frame: None, marks: strip(view.scale, inner.y + inner.height - FOOT, tape, first) });
    Page { groups: groups.into_iter().map(finite).collect() }
}

fn marks(view: &View, picture: &Picture, tape: Measure, area: Frame) -> Vec<Mark> {
    let mut marks: Vec<Mark> = view.strokes(&picture.lines).collect();
    marks.extend(picture.rounds.iter().map(|(middle, radius)| Mark::Circle {
        middle: view.onto(*middle),
        radius: radius / view.scale,
        pen: Pen::Fine,
    }));
    for (middle, radius) in &picture.holes {
        marks.extend(hole(view.onto(*middle), radius.map(|radius| radius / view.scale)));
    }
    let mut tags = Tags::off(picture.holes.iter().map(|(middle, _)| view.onto(*middle)), area);
    picture.bodies.iter().for_each(|(low, high)| tags.spare(view.onto(*low), view.onto(*high)));
    picture.tags.iter().for_each(|(at, gear)| tags.put(view.onto(*at), &gear.0.to_string()));
    picture.ends.iter().for_each(|(at, label)| tags.put(view.onto(*at), label));
    marks.extend(tags.marks());
    let beside = |(x, y): (f64, f64)| (x + 1.0, y + 1.0);
    marks.extend(picture.words.iter().map(|(at, says)| words(beside(view.onto(*at)), LETTERS, *says)));
    marks.extend(dimensions(view, picture, tape));
    marks.extend(bow(view, picture));
    marks
}

/// Length below the picture, beam or height to the left of it.
fn dimensions(view: &View, picture: &Picture, tape: Measure) -> Vec<Mark> {
    let (low, high) = picture.hull;
    let ((left, bottom), (right, top)) = (view.onto(low), view.onto(high));
    let (edge_x, edge_y) = (view.corner.0 - 6.0, view.corner.1 + 7.0);
    let mut marks = dimension((left, edge_y), (right, edge_y));
    marks.extend(dimension((edge_x, bottom), (edge_x, top)));
    let middle = (f64::midpoint(left, right) - 6.0, edge_y + LETTERS + 1.0);
    marks.push(words(middle, LETTERS, tape.length(high.x - low.x)));
    marks.push(words((edge_x - 20.0, f64::midpoint(bottom, top) + 1.0), LETTERS, tape.length(high.y - low.y)));
    marks
}

/// An arrow ahead of the bow.
fn bow(view: &View, picture: &Picture) -> [Mark; 4] {
    let (x, y) = view.onto(picture.hull.1);
    let (tail, tip) = (x + 3.0, x + 12.0);
    [
        line((tail, y), (tip, y), Pen::Fine),
        line((tip, y), (tip - 2.2, y - 1.2), Pen::Fine),
        line((tip, y), (tip - 2.2, y + 1.2), Pen::Fine),
        words((tip + 1.0, y + 1.0), LETTERS, "bow"),
    ]
}

fn title(plan: &Plan, picture: &Picture, scale: f64) -> Vec<Mark> {
    let head = format!("{}, {}, scale 1:{}", plan.name, picture.title.to_lowercase(), plain(scale));
    let legend = format!(
        "{} Cross: a hole, small ones not to scale. Numbers: gear, listed below. Print at 100 percent.",
        picture.legend
    );
    vec![words((MARGIN, MARGIN + 4.0), 4.0, head), words((MARGIN, MARGIN + 8.5), LETTERS, legend)]
}
