//! How often to draw: the first change at once, then at most so many frames a second, always the newest state.
//!
//! On a slow link the backlog hides in buffers that no program sees; only drawing less keeps a held key from lagging.

use std::time::Duration;

/// Frames a second on this machine's own screen.
const LOCAL: u32 = 60;
/// Frames a second through ssh.
const OVER_SSH: u32 = 5;

/// The most frames a second where nobody says otherwise.
pub const fn frames_a_second(over_ssh: bool) -> u32 {
    if over_ssh { OVER_SSH } else { LOCAL }
}

/// Decides when to draw. Times are those since any fixed moment; nothing here reads a clock.
#[derive(Clone, Debug)]
pub struct FrameCap {
    interval: Duration,
    dirty: bool,
    last: Option<Duration>,
}

impl FrameCap {
    /// At most `frames` a second; none given: 60 here, 5 over ssh. Zero counts as one.
    pub fn new(frames: Option<u32>, over_ssh: bool) -> Self {
        let frames = frames.unwrap_or(frames_a_second(over_ssh));
        Self { interval: Duration::from_secs(1) / frames.max(1), dirty: true, last: None }
    }

    /// Says that something on the screen changed.
    pub fn mark(&mut self) {
        self.dirty = true;
    }

    /// Whether to draw now.
    pub fn due(&self, now: Duration) -> bool {
        self.wait(now) == Some(Duration::ZERO)
    }

    /// Says that a frame was drawn.
    pub fn drawn(&mut self, now: Duration) {
        self.dirty = false;
        self.last = Some(now);
    }

    /// How long to wait for messages before drawing; `None` is for as long as none come.
    pub fn wait(&self, now: Duration) -> Option<Duration> {
        let next = self.last.map_or(Duration::ZERO, |last| last + self.interval);
        self.dirty.then(|| next.saturating_sub(now))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Which of the changes at `changes_ms` are drawn, and when, by a loop that waits as it is told.
    fn check(frames: u32, changes_ms: &[u64], expected_ms: &[u64]) {
        let mut cap = FrameCap::new(Some(frames), false);
        cap.drawn(Duration::ZERO);
        let mut cap = FrameCap { last: None, ..cap };
        let mut drawn = Vec::new();
        let mut changes = changes_ms.iter().copied().map(Duration::from_millis).peekable();
        let mut now = Duration::ZERO;
        loop {
            if cap.due(now) {
                cap.drawn(now);
                drawn.push(now.as_millis() as u64);
            }
            let deadline = cap.wait(now).map(|wait| now + wait);
            match (changes.peek().copied(), deadline) {
                (Some(change), deadline) if deadline.is_none_or(|deadline| change <= deadline) => {
                    changes.next();
                    now = change;
                    cap.mark();
                }
                (_, Some(deadline)) => now = deadline,
                (_, None) => break,
            }
        }
        assert_eq!(drawn, expected_ms, "{frames} a second, changes at {changes_ms:?}");
    }

    #[test]
    fn the_first_change_is_drawn_at_once_and_the_newest_always() {
        check(10, &[5], &[5]);
        check(10, &[5, 6, 7, 50], &[5, 105]);
        check(10, &[5, 105], &[5, 105]);
        check(10, &[5, 300], &[5, 300]);
        check(10, &[0, 33, 66, 99, 132, 165, 198, 231], &[0, 100, 200, 300]);
        check(1000, &[1, 2, 3], &[1, 2, 3]);
        check(0, &[1, 2], &[1, 1001]);
        check(10, &[], &[]);
    }

    #[test]
    fn nothing_to_draw_is_nothing_to_wait_for() {
        let mut cap = FrameCap::new(None, true);
        assert!(cap.due(Duration::ZERO), "the first frame");
        cap.drawn(Duration::ZERO);
        assert_eq!(cap.wait(Duration::from_secs(1)), None);
        cap.mark();
        assert_eq!(cap.wait(Duration::from_millis(40)), Some(Duration::from_millis(160)));
    }

    #[test]
    fn a_clock_that_steps_back_delays_but_never_panics() {
        let mut cap = FrameCap::new(None, false);
        cap.drawn(Duration::from_secs(9));
        cap.mark();
        assert!(!cap.due(Duration::from_secs(1)));
        assert!(cap.due(Duration::from_secs(10)));
    }
}
