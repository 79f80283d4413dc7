//! The day where the person is.

use time::{OffsetDateTime, UtcOffset};

use crate::plan::Day;

/// How far the clock on the wall is from UTC. Asked once, before there are other threads: the library answers no
/// later, as another thread could be changing the zone. Where it does not answer the day is that of UTC.
pub(super) fn offset() -> UtcOffset {
    UtcOffset::current_local_offset().unwrap_or(UtcOffset::UTC)
}

/// The day now.
pub(super) fn today(offset: UtcOffset) -> Day {
    Day::from(OffsetDateTime::now_utc().to_offset(offset).date())
}
