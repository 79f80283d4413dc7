//! The host's end: the program that edits the plan.

use std::fs;
use std::io;
use std::net::Shutdown;
use std::os::unix::fs::{FileTypeExt, MetadataExt};
use std::os::unix::net::{UnixListener, UnixStream};
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::time::{Duration, Instant};

use super::outbox::Outbox;
use super::{Arrival, open_to_readers, place, read_words};
use crate::plan::{Key, Plan};
use crate::review::company::{VERSION, Word};

/// The most guests at a time.
const MOST_GUESTS: usize = 16;
/// More than any word of a guest, in bytes.
const LONGEST_LINE: u64 = 4096;
/// A guest is not heard more often than this: none can keep the owner's program busy.
const PAUSE: Duration = Duration::from_millis(50);
/// A guest that takes nothing for so long is let go.
const PATIENCE: Duration = Duration::from_secs(30);

/// Whoever connects and does not say hello for so long is let go.
const GREETING: Duration = Duration::from_secs(10);
/// The most that are connected at a time, guests or not yet.
const MOST_CONNECTED: usize = 4 * MOST_GUESTS;
/// The last words wait no longer than this for guests to take them.
const FAREWELL: Duration = Duration::from_millis(500);

/// The host's end of the link, until dropped.
#[derive(Debug)]
pub struct Host {
    socket: PathBuf,
    /// Device and number of the socket: only that one is removed.
    made: (u64, u64),
    guests: Guests,
    /// Nobody is let in any more.
    closed: Arc<AtomicBool>,
}

/// Who is connected.
type Guests = Arc<Mutex<Vec<Connected>>>;

/// One guest.
#[derive(Debug)]
struct Connected {
    name: Key,
    outbox: Arc<Outbox>,
    stream: UnixStream,
}

impl Host {
    /// Opens the link of the plan at `path`. The caller holds the plan's lock: a socket that is there already was left
    /// by a program that is gone. What guests tell goes to `tell`, from threads of their own. The one that lets guests
    /// in ends with the program.
    pub fn open(path: &Path, tell: impl Fn(Arrival) + Clone + Send + 'static) -> io::Result<Self> {
        let socket = place(path)?;
        match fs::symlink_metadata(&socket) {
            Ok(about) if about.file_type().is_socket() => fs::remove_file(&socket)?,
            Ok(_) => return Err(io::ErrorKind::AlreadyExists.into()),
            Err(error) if error.kind() == io::ErrorKind::NotFound => {}
            Err(error) => return Err(error),
        }
        let listener = UnixListener::bind(&socket)?;
        open_to_readers(&socket, path)?;
        let about = fs::symlink_metadata(&socket)?;
        let guests = Guests::default();
        let closed = Arc::new(AtomicBool::new(false));
        let (made, closes) = ((about.dev(), about.ino()), Arc::clone(&closed));
        let host = Self { socket, made, guests: Arc::clone(&guests), closed };
        std::thread::spawn(move || receive(&listener, &guests, &closes, tell));
        Ok(host)
    }

    /// Whether anybody is connected.
    pub fn has_guests(&self) -> bool {
        !lock(&self.guests).is_empty()
    }

    /// Tells all guests something; whoever it is about knows already.
    pub fn say(&self, word: &Word) {
        pass_on(&self.guests, word);
    }

    /// Tells all guests how the plan is now.
    pub fn say_plan(&self, plan: &Arc<Plan>, unsaved: Option<usize>) {
        lock(&self.guests).iter().for_each(|guest| guest.outbox.put_plan(Arc::clone(plan), unsaved));
    }
}

impl Drop for Host {
    fn drop(&mut self) {
        let ours = fs::symlink_metadata(&self.socket).is_ok_and(|about| (about.dev(), about.ino()) == self.made);
        if ours {
            let _ = fs::remove_file(&self.socket);
        }
        self.closed.store(true, Ordering::SeqCst);
        let leaving: Vec<Connected> = lock(&self.guests).drain(..).collect();
        for guest in &leaving {
            guest.outbox.put(Word::Bye);
            guest.outbox.close();
        }
        // Their own threads send the last word and hang up; the program may end right after this.
        let until = Instant::now() + FAREWELL;
        for guest in leaving {
            guest.outbox.wait(until.saturating_duration_since(Instant::now()));
            let _ = guest.stream.shutdown(Shutdown::Read);
        }
    }
}

/// Takes in whoever connects, each in a thread of their own, until the link is closed.
fn receive(
    listener: &UnixListener,
    guests: &Guests,
    closed: &Arc<AtomicBool>,
    tell: impl Fn(Arrival) + Clone + Send + 'static,
) {
    // Each thread holds one of these.
    let connected = Arc::new(());
    for stream in listener.incoming() {
        if closed.load(Ordering::SeqCst) {
            return;
        }
        let Ok(stream) = stream else {
            // Too many files are open, perhaps; that passes.
            std::thread::sleep(PAUSE);
            continue;
        };
        if Arc::strong_count(&connected) > MOST_CONNECTED {
            continue;
        }
        let (guests, closed, tell) = (Arc::clone(guests), Arc::clone(closed), tell.clone());
        let one = Arc::clone(&connected);
        std::thread::spawn(move || {
            serve(stream, &guests, &closed, tell);
            drop(one);
        });
    }
}

/// One guest from the first word to the last.
fn serve(stream: UnixStream, guests: &Guests, closed: &AtomicBool, tell: impl Fn(Arrival)) {
    let mut guest: Option<Key> = None;
    if stream.set_read_timeout(Some(GREETING)).is_err() {
        return;
    }
    read_words(&stream, LONGEST_LINE, |word| {
        let Some(name) = &guest else {
            guest = enter(&word, &stream, guests, closed).filter(|_| stream.set_read_timeout(None).is_ok());
            if let Some(name) = &guest {
                tell(Arrival::Joined(name.clone()));
            }
            return guest.is_some();
        };
        let Some(word) = word.by_guest(name) else { return false };
        pass_on(guests, &word);
        tell(Arrival::Word(word));
        std::thread::sleep(PAUSE);
        true
    });
    if let Some(name) = guest {
        leave(guests, &name);
        let left = Word::Left { who: name };
        pass_on(guests, &left);
        tell(Arrival::Word(left));
    }
}

/// Lets a guest in who says hello in this program's own words; under a name that nobody else here has.
fn enter(word: &Word, stream: &UnixStream, guests: &Guests, closed: &AtomicBool) -> Option<Key> {
    let Word::Hello { v: VERSION, name } = word else { return None };
    let writing = stream.try_clone().ok()?;
    writing.set_write_timeout(Some(PATIENCE)).ok()?;
    let outbox = Arc::new(Outbox::default());
    let mut here = lock(guests);
    // Asked while the list is held: whoever closes empties it after saying so.
    if closed.load(Ordering::SeqCst) || here.len() >= MOST_GUESTS {
        return None;
    }
    let taken = |name: &Key| name.as_str() == "owner" || here.iter().any(|other| other.name == *name);
    let numbered = (2..=MOST_GUESTS + 1).filter_map(|n| Key::new(format!("{name}-{n}")).ok());
    let name = std::iter::once(name.clone()).chain(numbered).find(|name| !taken(name))?;
    here.push(Connected { name: name.clone(), outbox: Arc::clone(&outbox), stream: stream.try_clone().ok()? });
    drop(here);
    std::thread::spawn(move || {
        outbox.send(&writing);
        let _ = writing.shutdown(Shutdown::Both);
    });
    Some(name)
}

fn leave(guests: &Guests, name: &Key) {
    let mut here = lock(guests);
    if let Some(at) = here.iter().position(|guest| guest.name == *name) {
        here.remove(at).outbox.close();
    }
}

/// Puts a word into the outbox of each guest but the one it is about.
fn pass_on(guests: &Guests, word: &Word) {
    let here = lock(guests);
    here.iter().filter(|guest| word.who() != Some(&guest.name)).for_each(|guest| guest.outbox.put(word.clone()));
}

/// A thread that panicked leaves a list that is whole.
fn lock(guests: &Guests) -> MutexGuard<'_, Vec<Connected>> {
    guests.lock().unwrap_or_else(PoisonError::into_inner)
}
