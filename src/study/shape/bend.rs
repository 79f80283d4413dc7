//! A form bent by fullness and keel height, below the greatest width of each section.

use crate::geometry::{Form, Section};

/// By how much a form is bent.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Bend {
    /// Factor of the half-breadths at the keel.
    pub(super) fullness: f64,
    /// Rise of the keel, mm.
    pub(super) keel_mm: f64,
}

/// The form with each point `(y, z)` moved to `(y (1 + (f - 1) w), z + k w)`, where `f` is the fullness, `k` the rise of
/// the keel and `w` runs straight from 1 at the section's lowest point to 0 at the height of its greatest width. So
/// beam, gunwale and all above the greatest width stay as the tape found them; nothing gets wider than the beam, and
/// no keel rises more than half way to the greatest width.
pub(super) fn bent(form: &Form, bend: Bend) -> Form {
    Form { sections: form.sections.iter().map(|section| bent_section(section, bend)).collect() }
}

fn bent_section(section: &Section, bend: Bend) -> Section {
    let keel = section.points_mm.iter().map(|point| point.1).fold(f64::INFINITY, f64::min);
    let (beam, top) = greatest_width(section);
    let depth = top - keel;
    if depth.is_nan() || depth <= 0.0 {
        return section.clone();
    }
    let most = depth / 2.0;
    let rise = bend.keel_mm.clamp(-most, most);
    let moved = |&(y, z): &(f64, f64)| {
        let weight = ((top - z) / depth).clamp(0.0, 1.0);
        ((y * (1.0 + (bend.fullness - 1.0) * weight)).min(beam), z + rise * weight)
    };
    Section { x_mm: section.x_mm, points_mm: section.points_mm.iter().map(moved).collect() }
}

/// Greatest half-breadth and the greatest height at which the section has it, mm.
fn greatest_width(section: &Section) -> (f64, f64) {
    let wider = |best: (f64, f64), &(y, z): &(f64, f64)| if (y, z) > best { (y, z) } else { best };
    section.points_mm.iter().fold((f64::NEG_INFINITY, f64::NEG_INFINITY), wider)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(points: &[(f64, f64)], fullness: f64, keel_mm: f64, expected: &[(f64, f64)]) {
        let form = Form { sections: vec![Section { x_mm: 5.0, points_mm: points.to_vec() }] };
        let found = &bent(&form, Bend { fullness, keel_mm }).sections[0];
        assert_eq!((found.x_mm, found.points_mm.len()), (5.0, expected.len()));
        for (found, expected) in found.points_mm.iter().zip(expected) {
            assert!((found.0 - expected.0).abs() < 1.0e-9 && (found.1 - expected.1).abs() < 1.0e-9, "{found:?}");
        }
    }

    /// By hand: a keel at 0, greatest width 400 at 200, gunwale 380 at 300. The chine at 50 has weight 3/4.
    const TUMBLEHOME: [(f64, f64); 4] = [(0.0, 0.0), (300.0, 50.0), (400.0, 200.0), (380.0, 300.0)];

    #[test]
    fn what_lies_under_the_greatest_width_moves_by_its_weight() {
        check(&TUMBLEHOME, 0.9, 0.0, &[(0.0, 0.0), (277.5, 50.0), (400.0, 200.0), (380.0, 300.0)]);
        check(&TUMBLEHOME, 1.0, 8.0, &[(0.0, 8.0), (300.0, 56.0), (400.0, 200.0), (380.0, 300.0)]);
        check(&TUMBLEHOME, 1.1, -8.0, &[(0.0, -8.0), (322.5, 44.0), (400.0, 200.0), (380.0, 300.0)]);
        check(&TUMBLEHOME, 1.0, 0.0, &TUMBLEHOME);
    }

    #[test]
    fn nothing_gets_wider_than_the_beam_and_no_keel_leaves_its_section() {
        let walls = [(0.0, 0.0), (400.0, 0.0), (400.0, 300.0)];
        check(&walls, 1.1, 0.0, &walls);
        check(&walls, 0.9, 0.0, &[(0.0, 0.0), (360.0, 0.0), (400.0, 300.0)]);
        check(&[(0.0, 100.0), (9.0, 110.0)], 1.0, 50.0, &[(0.0, 105.0), (9.0, 110.0)]);
        check(&[(0.0, 100.0), (9.0, 100.0)], 1.0, 50.0, &[(0.0, 100.0), (9.0, 100.0)]);
    }

    /// The tunnel's roof is no keel: it keeps the share of its height.
    #[test]
    fn the_lowest_point_counts_as_keel() {
        let tunnel = [(0.0, 100.0), (100.0, 100.0), (200.0, 0.0), (400.0, 200.0)];
        check(&tunnel, 1.0, 10.0, &[(0.0, 105.0), (100.0, 105.0), (200.0, 10.0), (400.0, 200.0)]);
    }
}
