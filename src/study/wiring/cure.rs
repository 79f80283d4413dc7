//! What would cure a run of wire: another size, another fuse.

use super::run::Run;
use crate::study::wire::{ampacity, fuse};

/// What has to change so that a wire's size and fuse do; what may stay is `None`.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Cure {
    /// The wire size to take, American wire gauge.
    pub gauge_awg: Option<u8>,
    /// The fuse to take, A.
    pub fuse_a: Option<f64>,
}

impl Run {
    /// The thinnest size that does where the present one does not, and the next standard fuse where the present one
    /// does not fit what the wire then is. `None` where nothing draws, nothing has to change, or no size would do.
    pub fn cure(&self) -> Option<Cure> {
        let smallest = self.smallest_awg.filter(|_| self.amps.peak > 0.0)?;
        // A smaller number is a thicker wire.
        let does = self.gauge_awg.is_some_and(|awg| awg <= smallest);
        let gauge_awg = (!does).then_some(smallest);
        let greatest_a = match gauge_awg {
            Some(awg) => ampacity::permitted_a(awg, self.insulation)?,
            None => self.greatest_fuse_a?,
        };
        let fits = self.fuse_a.is_some_and(|fuse_a| (self.least_fuse_a..=greatest_a).contains(&fuse_a));
        let standard_a = fuse::next_size(self.least_fuse_a).filter(|fuse_a| *fuse_a <= greatest_a);
        let cure = Cure { gauge_awg, fuse_a: standard_a.filter(|_| !fits) };
        (cure != Cure::default()).then_some(cure)
    }
}
