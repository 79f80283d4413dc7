//! An area seen from above, cut into strips with straight sides: what lies inside some outlines and outside
//! others, whatever their shape.

use super::{Polygon, Spot};

/// A piece of an area between two stations, straight on both sides. Millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Strip {
    /// Its aft and fore stations.
    pub x: [f64; 2],
    /// Its starboard side there.
    pub starboard: [f64; 2],
    /// Its port side there.
    pub port: [f64; 2],
}

impl Strip {
    /// Its area, mm².
    pub fn area(&self) -> f64 {
        let width = |end: usize| self.port[end] - self.starboard[end];
        (self.x[1] - self.x[0]) * f64::midpoint(width(0), width(1))
    }
}

/// The area inside all of one set of outlines and outside all of another, from aft to fore. No strip reaches
/// across one of the stations.
///
/// Exact for outlines of any shape, also where they cross themselves (even and odd windings as in
/// [`Polygon::contains`]); slivers under a micrometre are left out.
pub fn strips(inside: &[&Polygon], outside: &[&Polygon], stations: &[f64]) -> Vec<Strip> {
    let edges: Vec<Edge> =
        inside.iter().chain(outside).flat_map(|outline| outline.edges()).filter_map(Edge::of).collect();
    let cuts = cuts(&edges, stations);
    let within = |spot: Spot| inside.iter().all(|o| o.contains(spot)) && !outside.iter().any(|o| o.contains(spot));
    let mut found = Vec::new();
    let mut across: Vec<(f64, &Edge)> = Vec::new();
    for pair in cuts.windows(2) {
        let x = [pair[0], pair[1]];
        let middle = f64::midpoint(x[0], x[1]);
        across.clear();
        across.extend(edges.iter().filter(|e| e.from.x < middle && e.to.x > middle).map(|e| (e.at(middle), e)));
        across.sort_by(|a, b| a.0.total_cmp(&b.0));
        for sides in across.windows(2) {
            let ((low, starboard), (high, port)) = (sides[0], sides[1]);
            if high - low > SLIVER_MM && within(Spot::new(middle, f64::midpoint(low, high))) {
                let at = |edge: &Edge| x.map(|x| edge.at(x));
                found.push(Strip { x, starboard: at(starboard), port: at(port) });
            }
        }
    }
    found
}

/// Narrower than this it is rounding, mm.
const SLIVER_MM: f64 = 1.0e-6;

/// An edge that does not run straight across, from aft to fore.
struct Edge {
    from: Spot,
    to: Spot,
}

impl Edge {
    fn of((a, b): (Spot, Spot)) -> Option<Self> {
        if a.x < b.x { Some(Self { from: a, to: b }) } else { (b.x < a.x).then_some(Self { from: b, to: a }) }
    }

    /// Its y at a station; at its ends exactly that of the corner.
    fn at(&self, x: f64) -> f64 {
        if x == self.to.x {
            return self.to.y;
        }
        self.from.y + (self.to.y - self.from.y) * ((x - self.from.x) / (self.to.x - self.from.x))
    }

    /// The station at which two edges cross.
    fn crossing(&self, other: &Self) -> Option<f64> {
        let (aft, fore) = (self.from.x.max(other.from.x), self.to.x.min(other.to.x));
        let (before, after) = (self.at(aft) - other.at(aft), self.at(fore) - other.at(fore));
        (aft < fore && before * after < 0.0).then(|| aft + (fore - aft) * (before / (before - after)))
    }
}

/// Every station at which something begins, ends or crosses, in order.
fn cuts(edges: &[Edge], stations: &[f64]) -> Vec<f64> {
    let ends = edges.iter().flat_map(|edge| [edge.from.x, edge.to.x]);
    let (aft, fore) = ends.clone().fold((f64::MAX, f64::MIN), |(low, high), x| (low.min(x), high.max(x)));
    let mut cuts: Vec<f64> = ends.chain(stations.iter().copied().filter(|x| *x > aft && *x < fore)).collect();
    for (i, edge) in edges.iter().enumerate() {
        cuts.extend(edges[i + 1..].iter().filter_map(|other| edge.crossing(other)));
    }
    cuts.sort_by(f64::total_cmp);
    cuts.dedup_by(|next, kept| *next - *kept <= SLIVER_MM);
    cuts
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn area(inside: &[&Polygon], outside: &[&Polygon]) -> f64 {
        strips(inside, outside, &[]).iter().map(Strip::area).sum()
    }

    fn rect(low: (f64, f64), high: (f64, f64)) -> Polygon {
        Polygon::rect(low.into(), high.into())
    }

    #[test]
    fn a_rectangle_is_one_strip() {
        let found = strips(&[&rect((0.0, -50.0), (300.0, 50.0))], &[], &[]);
        assert_eq!(found, [Strip { x: [0.0, 300.0], starboard: [-50.0, -50.0], port: [50.0, 50.0] }]);
        let parted = strips(&[&rect((0.0, -50.0), (300.0, 50.0))], &[], &[-9.0, 100.0, 900.0]);
        assert_eq!(parted.iter().map(|strip| strip.x).collect::<Vec<_>>(), [[0.0, 100.0], [100.0, 300.0]]);
    }

    #[test]
    fn an_island_is_left_out() {
        let (lake, island) = (rect((0.0, 0.0), (100.0, 100.0)), rect((40.0, 40.0), (60.0, 70.0)));
        assert_eq!(area(&[&lake], &[&island]), 10_000.0 - 600.0);
        assert_eq!(area(&[&lake, &island], &[]), 600.0);
        assert_eq!(area(&[&island], &[&lake]), 0.0);
    }

    #[test]
    fn nothing_and_nonsense_have_no_area() {
        assert_eq!(area(&[&Polygon::default()], &[]), 0.0);
        let broken = Polygon::new(vec![Spot::new(0.0, f64::NAN), Spot::new(f64::NAN, 1.0), Spot::new(5.0, 5.0)]);
        assert_eq!(area(&[&broken], &[]), 0.0);
    }

    proptest! {
        /// Inside and outside of another outline together make the whole; a star round the origin does not
        /// cross itself, so its area is that of the shoelace formula.
        #[test]
        fn parts_make_the_whole(
            star in prop::collection::vec(50.0..300.0_f64, 3..12),
            low in (-300.0..300.0_f64, -300.0..300.0_f64),
            size in (1.0..400.0_f64, 1.0..400.0_f64),
        ) {
            let spoke = |(i, r): (usize, &f64)| {
                let angle = i as f64 / star.len() as f64 * std::f64::consts::TAU;
                Spot::new(r * angle.cos(), r * angle.sin())
            };
            let star = Polygon::new(star.iter().enumerate().map(spoke).collect());
            let other = rect(low, (low.0 + size.0, low.1 + size.1));
            let (whole, within, without) = (area(&[&star], &[]), area(&[&star, &other], &[]), area(&[&star], &[&other]));
            prop_assert!((whole - star.area()).abs() < 1e-6 * star.area(), "{whole} {}", star.area());
            prop_assert!((within + without - whole).abs() < 1e-6 * whole, "{within} {without} {whole}");
            prop_assert!(within <= size.0 * size.1 + 1e-6);
        }
    }
}
