//! The guest's end: a partner who looks on while the owner works.

use std::io;
use std::net::Shutdown;
use std::os::unix::net::UnixStream;
use std::path::Path;
use std::sync::Arc;

use super::outbox::Outbox;
use super::{Arrival, place, read_words};
use crate::plan::Key;
use crate::review::company::{VERSION, Word};

/// More than any plan, in bytes: as much as a file of one may hold.
const LONGEST_LINE: u64 = 64 * 1024 * 1024;

/// A guest's end of the link, until dropped.
#[derive(Debug)]
pub struct Guest {
    stream: UnixStream,
    outbox: Arc<Outbox>,
}

impl Guest {
    /// Joins whoever has the plan at `path` open. What they tell goes to `tell`, from a thread of its own; after the
    /// last word that is [`Arrival::Gone`]. An error means that nobody is there, or that this person may not.
    pub fn join(path: &Path, name: &Key, tell: impl Fn(Arrival) + Send + 'static) -> io::Result<Self> {
        let stream = UnixStream::connect(place(path)?)?;
        let (reading, writing) = (stream.try_clone()?, stream.try_clone()?);
        let outbox = Arc::new(Outbox::default());
        outbox.put(Word::Hello { v: VERSION, name: name.clone() });
        let sent = Arc::clone(&outbox);
        std::thread::spawn(move || sent.send(&writing));
        std::thread::spawn(move || {
            read_words(&reading, LONGEST_LINE, |word| {
                tell(Arrival::Word(word));
                true
            });
            tell(Arrival::Gone);
        });
        Ok(Self { stream, outbox })
    }

    /// Tells the others something.
    pub fn say(&self, word: Word) {
        self.outbox.put(word);
    }
}

impl Drop for Guest {
    fn drop(&mut self) {
        self.outbox.close();
        // Wakes the thread that reads.
        let _ = self.stream.shutdown(Shutdown::Both);
    }
}
