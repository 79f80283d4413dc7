//! What the hull has already, and who sits in it.

use crate::checks::Subject;
use crate::geometry::{Outline, Polygon, Spot};
use crate::plan::{Feature, FeatureKind, Hinge, Opening};
use crate::tui::canvas::Canvas;
use crate::tui::glyphs::{Glyph, Glyphs};
use crate::tui::scene::Scene;
use crate::tui::theme::Role;

/// Paints features, seat and person.
pub(super) fn paint(canvas: &mut Canvas, scene: &Scene<'_>, glyphs: Glyphs) {
    for feature in &scene.plan.hull.features {
        if scene.overlays.inside || !matches!(feature.kind, FeatureKind::Foam { .. }) {
            paint_feature(canvas, feature, scene, glyphs);
        }
    }
    seat(canvas, scene);
    person(canvas, scene);
}

fn paint_feature(canvas: &mut Canvas, feature: &Feature, scene: &Scene<'_>, glyphs: Glyphs) {
    let at = feature.at_mm.spot();
    let selected = scene.selected == Some(Subject::Feature(feature.id));
    let own = |role: Role| if selected { Role::Selected } else { role };
    let symbol = |canvas: &mut Canvas, spot: Spot, glyph: Glyph, role: Role| {
        canvas.mark(spot, glyphs.of(glyph), own(role), selected);
    };
    match &feature.kind {
        FeatureKind::Track { length, .. } => {
            let mask = canvas.polygon(&rect(at, length.to_mm(), 24.0));
            canvas.fill(&mask, own(Role::Fitting));
            if canvas.window().mm_per_column < 14.0 {
                canvas.line(shift(at, -length.to_mm() / 2.0, 0.0), shift(at, length.to_mm() / 2.0, 0.0), Role::Deep);
            }
        }
        FeatureKind::Inserts { offsets_mm, .. } => {
            for offset in offsets_mm {
                symbol(canvas, at + *offset, Glyph::Insert, Role::Fitting);
            }
        }
        FeatureKind::Scupper { top, .. } => {
            let wet = scene.lets_water_in(feature.id);
            if top.to_mm() >= 5.0 * canvas.window().mm_per_column {
                let mask = canvas.outline(&Outline::Circle { middle: at, radius: top.to_mm() / 2.0 });
                canvas.fill(&mask, if wet { Role::Wet } else { Role::Water });
                canvas.rim(&mask, own(if wet { Role::Waterline } else { Role::Rim }));
            } else {
                let (glyph, role) = scene.scupper_look(feature.id);
                symbol(canvas, at, glyph, role);
            }
        }
        FeatureKind::Hatch { opening, rim, hinge, .. } => {
            hatch(canvas, at, *opening, rim.to_mm(), *hinge, own(Role::Rim));
        }
        FeatureKind::WirePort { .. } => symbol(canvas, at, Glyph::WirePort, Role::Rim),
        FeatureKind::Handle { bolts_mm, .. } => {
            let (low, high) = Polygon::new(bolts_mm.clone()).bounds();
            let grip = Polygon::rect(shift(at + low, -14.0, -14.0), shift(at + high, 14.0, 14.0));
            let mask = canvas.polygon(&grip);
            canvas.fill(&mask, own(Role::Fitting));
        }
        FeatureKind::Foam { length, width, .. } => {
            let mask = canvas.polygon(&rect(at, length.to_mm(), width.to_mm()));
            canvas.hatch(&mask, own(Role::Foam), 3);
            canvas.rim(&mask, own(Role::Foam));
        }
        FeatureKind::SeatRail { length, width } => {
            let mask = canvas.polygon(&rect(at, length.to_mm(), width.to_mm()));
            canvas.fill(&mask, own(Role::Seam));
        }
        FeatureKind::DriveWell { length, width } => {
            let mask = canvas.polygon(&rect(at, length.to_mm(), width.to_mm()));
            canvas.fill(&mask, Role::Water);
            canvas.rim(&mask, own(Role::Rim));
        }
        FeatureKind::TransducerRecess { length, width, .. } => {
            let mask = canvas.polygon(&rect(at, length.to_mm(), width.to_mm()));
            canvas.rim(&mask, own(Role::Seam));
        }
        FeatureKind::DrainPlug { .. } => symbol(canvas, at, Glyph::DrainPlug, Role::Fitting),
        FeatureKind::RodTube { bore } => {
            if bore.to_mm() >= 5.0 * canvas.window().mm_per_column {
                let mask = canvas.outline(&Outline::Circle { middle: at, radius: bore.to_mm() / 2.0 });
                canvas.fill(&mask, Role::Deep);
                canvas.rim(&mask, own(Role::Fitting));
            } else {
                symbol(canvas, at, Glyph::Ring, Role::Fitting);
            }
        }
        FeatureKind::Seam { length } => {
            let mask = canvas.polygon(&rect(at, length.to_mm(), canvas.window().mm_per_row / 2.0));
            // Where it runs along the gunwale the hull's line says enough.
            canvas.fill_where(&mask, own(Role::Seam), |role| role != Role::Water && role <= Role::Seam);
        }
    }
}

/// A lid with its rim; the hinge is the thicker side.
fn hatch(canvas: &mut Canvas, at: Spot, opening: Opening, rim_mm: f64, hinge: Hinge, rim: Role) {
    let (length, width) = opening.size();
    let (length, width) = (length + 2.0 * rim_mm, width + 2.0 * rim_mm);
    let mask = match opening {
        Opening::Round(_) => canvas.outline(&Outline::Circle { middle: at, radius: length / 2.0 }),
        Opening::Rect(..) => canvas.polygon(&rounded(at, length, width)),
    };
    canvas.fill(&mask, Role::Lid);
    canvas.rim(&mask, rim);
    let (l, w) = (length / 2.0, width / 2.0);
    let thick = canvas.window().mm_per_column.max(15.0);
    let bar = match hinge {
        Hinge::None => return,
        Hinge::Aft => Polygon::rect(shift(at, -l, -w * 0.6), shift(at, -l + thick, w * 0.6)),
        Hinge::Fore => Polygon::rect(shift(at, l - thick, -w * 0.6), shift(at, l, w * 0.6)),
        Hinge::Port => Polygon::rect(shift(at, -l * 0.6, w - thick), shift(at, l * 0.6, w)),
        Hinge::Starboard => Polygon::rect(shift(at, -l * 0.6, -w), shift(at, l * 0.6, -w + thick)),
    };
    let mask = canvas.polygon(&bar);
    canvas.fill(&mask, rim);
}

fn seat(canvas: &mut Canvas, scene: &Scene<'_>) {
    let rails = &scene.plan.hull.seat;
    let back = scene.plan.angler.seat.back.to_mm();
    let (depth, width) = (rails.depth.to_mm(), rails.width.to_mm());
    let pan = canvas.polygon(&rounded(Spot::new(back + depth / 2.0, 0.0), depth, width));
    canvas.fill(&pan, Role::Seat);
    let lean = rails.back_height.to_mm() * scene.plan.angler.seat.recline.to_deg().to_radians().sin();
    let rest =
        canvas.polygon(&Polygon::rect(Spot::new(back - lean.max(40.0), -width / 2.0), Spot::new(back, width / 2.0)));
    canvas.fill(&rest, Role::Rim);
}

/// Shoulders, head, thighs and feet, no more: who sits there, not a portrait.
fn person(canvas: &mut Canvas, scene: &Scene<'_>) {
    let body = &scene.study.reach.body;
    if body.grip <= 0.0 {
        return;
    }
    let (port, starboard) = (body.shoulders[0].spot(), body.shoulders[1].spot());
    for side in [1.0, -1.0] {
        let hip = shift(body.hip.spot(), 60.0, side * 85.0);
        let knee = shift(body.knee.spot(), 0.0, side * 135.0);
        let foot = shift(body.foot.spot(), 0.0, side * 120.0);
        for (a, b, wide) in [(hip, knee, 120.0), (knee, foot, 85.0)] {
            let mask = canvas.polygon(&strip(a, b, wide));
            canvas.fill(&mask, Role::Person);
        }
        let mask = canvas.polygon(&rounded(foot, 110.0, 95.0));
        canvas.fill(&mask, Role::Rim);
    }
    let middle = Spot::new(f64::midpoint(port.x, starboard.x), f64::midpoint(port.y, starboard.y));
    let half = port.distance(starboard) / 2.0 + 55.0;
    let torso = canvas.shape(shift(middle, -125.0, -half), shift(middle, 125.0, half), |spot| {
        let own = spot - middle;
        (own.x / 125.0).powi(2) + (own.y / half).powi(2) <= 1.0
    });
    canvas.fill(&torso, Role::Person);
    let head = canvas.outline(&Outline::Circle { middle: body.head_top.spot(), radius: 95.0 });
    canvas.fill(&head, Role::Rim);
}

pub(super) fn shift(spot: Spot, x: f64, y: f64) -> Spot {
    Spot::new(spot.x + x, spot.y + y)
}

fn rect(middle: Spot, length: f64, width: f64) -> Polygon {
    Polygon::rect(shift(middle, -length / 2.0, -width / 2.0), shift(middle, length / 2.0, width / 2.0))
}

/// A rectangle with its corners cut by a fifth of its lesser side.
fn rounded(middle: Spot, length: f64, width: f64) -> Polygon {
    let (l, w) = (length / 2.0, width / 2.0);
    let cut = l.min(w) * 0.4;
    let corners = [
        (l, w - cut),
        (l - cut, w),
        (cut - l, w),
        (-l, w - cut),
        (-l, cut - w),
        (cut - l, -w),
        (l - cut, -w),
        (l, cut - w),
    ];
    Polygon::new(corners.into_iter().map(|(x, y)| shift(middle, x, y)).collect())
}

/// A straight strip from one spot to another.
pub(super) fn strip(a: Spot, b: Spot, wide: f64) -> Polygon {
    let length = a.distance(b).max(1.0);
    let across = Spot::new(-(b.y - a.y) / length * wide / 2.0, (b.x - a.x) / length * wide / 2.0);
    Polygon::new(vec![a + across, b + across, b - across, a - across])
}
