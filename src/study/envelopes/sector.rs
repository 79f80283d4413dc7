//! A quarter of a circle cut into blocks: how lids, rods and motors sweep.

use std::f64::consts::FRAC_PI_2;

/// A layer is about this thick at the foot of the quarter, mm.
const THICK_MM: f64 = 40.0;

/// More layers than this are not cut.
const MOST: f64 = 48.0;

/// One layer of a quarter circle, mm from its middle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Layer {
    /// Where the layer begins.
    pub foot: f64,
    /// Where it ends.
    pub top: f64,
    /// How far it reaches across.
    pub reach: f64,
}

/// Layers that hold a quarter circle: equal in angle, each as long as the circle is at the layer's foot, so none is
/// too small.
///
/// A corner sticks out by at most `r a / 2`, with `r` the radius and `a` the angle of a layer: 20 mm on a lid of 300,
/// 45 mm on a cast of 2700.
pub(super) fn quarter(radius: f64) -> impl Iterator<Item = Layer> {
    let count = (radius * FRAC_PI_2 / THICK_MM).ceil().clamp(4.0, MOST);
    let angle = move |i: f64| FRAC_PI_2 * i / count;
    (0..count as u32).map(f64::from).map(move |i| Layer {
        foot: radius * angle(i).sin(),
        top: radius * angle(i + 1.0).sin(),
        reach: radius * angle(i).cos(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn layers_hold_the_quarter_and_little_more() {
        for radius in [50.0, 300.0, 2700.0] {
            let layers: Vec<Layer> = quarter(radius).collect();
            let slack = radius * FRAC_PI_2 / layers.len() as f64 / 2.0;
            assert!(layers[0].foot == 0.0 && (layers[layers.len() - 1].top - radius).abs() < 1e-9);
            assert!(layers.windows(2).all(|pair| (pair[0].top - pair[1].foot).abs() < 1e-9), "no gaps");
            for layer in layers {
                assert!(layer.reach.hypot(layer.foot) >= radius - 1e-9, "{layer:?} is too short");
                let out = layer.reach.hypot(layer.top) - radius;
                assert!(out <= slack + 1e-9, "{layer:?} sticks out {out:.1} mm");
            }
        }
    }
}
