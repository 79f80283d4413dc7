//! Putting an answer out: all of it, or quietly nothing more once nobody reads.

use super::{Failure, Surroundings, exit};

/// Writes the answer; done.
pub(super) fn put(around: &mut Surroundings<'_>, answer: &[u8]) -> Result<u8, Failure> {
    around.output.write_all(answer).and_then(|()| around.output.flush()).map_err(Failure::output)?;
    Ok(exit::CLEAN)
}

/// Something worth knowing beside the answer.
pub(super) fn warn(around: &mut Surroundings<'_>, what: &str) {
    // A warning that cannot be written is no reason to fail.
    let _ = writeln!(around.errors, "warning: {what}");
}
