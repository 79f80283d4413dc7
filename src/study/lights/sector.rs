//! Sectors of the horizon: relative bearings, clockwise from dead ahead, and sums of them.

use crate::geometry::Spot;

/// Bearings that differ by less are the same, degrees.
const SAME_DEG: f64 = 1.0e-7;

/// A part of the horizon, from one relative bearing clockwise to another.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sector {
    /// Where it begins, degrees clockwise from ahead, 0 up to 360.
    pub from_deg: f64,
    /// How far it goes on clockwise, degrees, 0 to 360.
    pub sweep_deg: f64,
}

impl Sector {
    /// The whole horizon.
    pub const WHOLE: Self = Self { from_deg: 0.0, sweep_deg: 360.0 };

    /// From a bearing, so far clockwise.
    pub fn new(from_deg: f64, sweep_deg: f64) -> Self {
        Self { from_deg: from_deg.rem_euclid(360.0), sweep_deg: sweep_deg.clamp(0.0, 360.0) }
    }

    /// From one bearing clockwise to another. `0` to `360` is all of it, `90` to `90` nothing.
    pub fn between(from_deg: f64, to_deg: f64) -> Self {
        let sweep = (to_deg - from_deg).rem_euclid(360.0);
        Self::new(from_deg, if sweep == 0.0 && to_deg != from_deg { 360.0 } else { sweep })
    }

    /// The bearing at which it ends, 0 up to 360.
    pub fn to_deg(&self) -> f64 {
        (self.from_deg + self.sweep_deg).rem_euclid(360.0)
    }

    /// The bearing in its middle.
    pub fn middle_deg(&self) -> f64 {
        (self.from_deg + self.sweep_deg / 2.0).rem_euclid(360.0)
    }

    /// Whether a bearing lies in it; its ends do.
    pub fn contains(&self, bearing_deg: f64) -> bool {
        (bearing_deg - self.from_deg).rem_euclid(360.0) <= self.sweep_deg
    }

    /// The same light turned counter-clockwise with what it is mounted on.
    #[must_use]
    pub fn turned(&self, deg: f64) -> Self {
        Self::new(self.from_deg - deg, self.sweep_deg)
    }

    /// The same on the other side of the boat.
    #[must_use]
    pub fn mirrored(&self) -> Self {
        Self::new(-self.from_deg - self.sweep_deg, self.sweep_deg)
    }

    /// The parts of it that any of the others covers, in order clockwise, none touching the next.
    pub fn covered_by(&self, others: &[Self]) -> Vec<Self> {
        let mut parts: Vec<(f64, f64)> = others.iter().flat_map(|other| self.shared(other)).collect();
        parts.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut merged: Vec<(f64, f64)> = Vec::new();
        for (from, to) in parts {
            match merged.last_mut() {
                Some(last) if from <= last.1 + SAME_DEG => last.1 = last.1.max(to),
                _ => merged.push((from, to)),
            }
        }
        self.joined(merged)
    }

    /// The parts of it that none of the others covers.
    pub fn without(&self, others: &[Self]) -> Vec<Self> {
        let mut free = Vec::new();
        let mut at = 0.0;
        let mut covered = self.covered_by(others);
        covered.sort_by(|a, b| self.along(a.from_deg).total_cmp(&self.along(b.from_deg)));
        for part in covered {
            let from = self.along(part.from_deg);
            if from - at > SAME_DEG {
                free.push((at, from));
            }
            at = from + part.sweep_deg;
        }
        if self.sweep_deg - at > SAME_DEG {
            free.push((at, self.sweep_deg));
        }
        self.joined(free)
    }

    /// How far a bearing lies clockwise of its beginning.
    fn along(&self, bearing_deg: f64) -> f64 {
        (bearing_deg - self.from_deg).rem_euclid(360.0)
    }

    /// What another has in common with it, as degrees along it: one part, or two at its both ends.
    fn shared(&self, other: &Self) -> impl Iterator<Item = (f64, f64)> + use<> {
        let (start, sweep, mine) = (self.along(other.from_deg), other.sweep_deg, self.sweep_deg);
        [start, start - 360.0].into_iter().filter_map(move |start| {
            let part = (start.max(0.0), (start + sweep).min(mine));
            (part.1 - part.0 > SAME_DEG).then_some(part)
        })
    }

    /// Parts counted along it as sectors; around the whole horizon the last one may go on in the first.
    fn joined(&self, mut parts: Vec<(f64, f64)>) -> Vec<Self> {
        let whole = self.sweep_deg >= 360.0 - SAME_DEG;
        if let (true, [first, .., last]) = (whole, parts.as_slice())
            && first.0 <= SAME_DEG
            && last.1 >= 360.0 - SAME_DEG
        {
            let joined = (last.0, 360.0 + first.1);
            parts.remove(0);
            parts.pop();
            parts.push(joined);
        }
        parts.into_iter().map(|(from, to)| Self::new(self.from_deg + from, to - from)).collect()
    }

    /// `from 172 to 189 deg, dead astern`.
    pub fn words(&self) -> String {
        if self.sweep_deg >= 360.0 - SAME_DEG {
            return "all round".into();
        }
        format!("from {} to {} deg, {}", whole(self.from_deg), whole(self.to_deg()), self.place())
    }

    /// Where on the horizon its middle is, in words; dead ahead and dead astern only if it covers them.
    pub fn place(&self) -> &'static str {
        match (self.middle_deg() / 45.0).round() as i64 % 8 {
            0 if self.contains(0.0) => "dead ahead",
            0 => "ahead",
            1 => "on the starboard bow",
            2 => "on the starboard beam",
            3 => "on the starboard quarter",
            4 if self.contains(180.0) => "dead astern",
            4 => "astern",
            5 => "on the port quarter",
            6 => "on the port beam",
            _ => "on the port bow",
        }
    }
}

/// A bearing as it is said: a whole number under 360, halves kept where they are the limit of a rule.
fn whole(deg: f64) -> String {
    if (deg.rem_euclid(1.0) - 0.5).abs() < 1.0e-6 { format!("{deg:.1}") } else { format!("{:.0}", deg.round() % 360.0) }
}

/// The degrees of sectors that do not overlap.
pub fn sum(sectors: &[Sector]) -> f64 {
    sectors.iter().map(|sector| sector.sweep_deg).sum()
}

/// The relative bearing from one spot to another, 0 up to 360.
pub fn bearing(from: Spot, to: Spot) -> f64 {
    let arrow = to - from;
    (-arrow.y.atan2(arrow.x)).to_degrees().rem_euclid(360.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn sector() -> impl Strategy<Value = Sector> {
        (0.0..360.0_f64, 0.0..360.0_f64).prop_map(|(from, sweep)| Sector::new(from, sweep))
    }

    #[test]
    fn sectors_run_clockwise_and_over_dead_ahead() {
        let ahead = Sector::between(350.0, 10.0);
        assert_eq!((ahead.sweep_deg, ahead.middle_deg(), ahead.to_deg()), (20.0, 0.0, 10.0));
        assert!(ahead.contains(0.0) && ahead.contains(350.0) && !ahead.contains(11.0));
        assert_eq!(Sector::between(0.0, 360.0), Sector::WHOLE);
        assert_eq!(Sector::between(90.0, 90.0).sweep_deg, 0.0);
        // A light for starboard, its mount turned a quarter to port, shines ahead and to port.
        assert_eq!(Sector::between(0.0, 112.5).turned(90.0), Sector::between(270.0, 22.5));
        assert_eq!(Sector::between(0.0, 112.5).mirrored(), Sector::between(247.5, 0.0));
    }

    #[test]
    fn what_overlaps_counts_once() {
        let parts = [Sector::between(350.0, 5.0), Sector::between(3.0, 10.0), Sector::between(100.0, 110.0)];
        let found = Sector::WHOLE.covered_by(&parts);
        assert_eq!(found, [Sector::between(100.0, 110.0), Sector::between(350.0, 10.0)]);
        assert_eq!(Sector::between(0.0, 105.0).covered_by(&parts), [Sector::new(0.0, 10.0), Sector::new(100.0, 5.0)]);
        assert_eq!(Sector::between(0.0, 105.0).without(&parts), [Sector::between(10.0, 100.0)]);
        assert_eq!(sum(&found), 30.0);
    }

    #[test]
    fn bearings_have_words() {
        assert_eq!(Sector::between(171.6, 188.8).words(), "from 172 to 189 deg, dead astern");
        assert_eq!(Sector::between(112.5, 130.0).words(), "from 112.5 to 130 deg, on the starboard quarter");
        assert_eq!(Sector::between(359.8, 4.0).words(), "from 0 to 4 deg, dead ahead");
        assert_eq!(Sector::between(182.0, 190.0).place(), "astern");
        assert_eq!(Sector::WHOLE.words(), "all round");
        let to = |x, y| bearing(Spot::default(), Spot::new(x, y));
        assert_eq!([to(1.0, 0.0), to(0.0, -1.0), to(-1.0, 0.0), to(0.0, 1.0)], [0.0, 90.0, 180.0, 270.0]);
    }

    proptest! {
        #[test]
        fn a_union_never_exceeds_the_circle(parts in proptest::collection::vec(sector(), 0..12)) {
            let union = Sector::WHOLE.covered_by(&parts);
            let longest = parts.iter().map(|part| part.sweep_deg).fold(0.0, f64::max);
            prop_assert!(sum(&union) <= 360.0 + 1e-9 && sum(&union) >= longest - 1e-5);
        }

        #[test]
        fn covered_and_free_make_the_whole(required in sector(), parts in proptest::collection::vec(sector(), 0..8)) {
            let (covered, free) = (required.covered_by(&parts), required.without(&parts));
            prop_assert!((sum(&covered) + sum(&free) - required.sweep_deg).abs() < 1e-5);
            for part in &free {
                prop_assert!(parts.iter().all(|other| !other.contains(part.middle_deg())), "{part:?}");
            }
        }
    }
}
