//! A hull with another form: what lies on the old one carried over to the new.

use super::Tape;
use crate::plan::{Hull, HullForm};

impl Hull {
    /// This hull with the form of a tape. What the tape does not say is guessed from the present form.
    ///
    /// Zones, features, seat rails and the centre of mass go along: places by the length, across by the half-breadth
    /// there, heights by the gunwale there. Sizes of fittings stay. Measured wells set the height of their zone,
    /// measured features their place.
    #[must_use]
    pub fn taped(&self, tape: Tape) -> Self {
        let tape = tape.filled(self);
        Self { form: HullForm::taped(tape), ..self.clone() }
    }
}
