//! What was done since the last save: records appended one by one, each with its length and checksum.
//!
//! A file is the line [`FIRST_LINE`], then records of length (four bytes, little end first, of the payload alone),
//! CRC-32 (the same, of length and payload) and payload. The first payload is the [`Header`]; the rest are the
//! caller's. Reading keeps everything before the first damage and says where that is.

use std::fs::{self, File, OpenOptions};
use std::io::{self, Write};
use std::os::unix::fs::OpenOptionsExt;
use std::path::{Path, PathBuf};
use std::time::{Duration, SystemTime, UNIX_EPOCH};

use rustix::fs::OFlags;
use serde::{Deserialize, Serialize};

use super::holder::Holder;
use super::{backup, paths, source};

/// How every journal begins; the number is the version of this layout.
const FIRST_LINE: &[u8] = b"gunnel journal 1\n";
/// Length and checksum of a record, in bytes.
const PREFIX: usize = 8;
/// The largest journal, in bytes, for writing and for reading.
pub const LARGEST_BYTES: u64 = 32 * 1024 * 1024;
/// Journals that were set aside and are kept, for each plan.
const KEPT: usize = 10;
/// How long they are kept.
const KEPT_FOR: Duration = Duration::from_hours(30 * 24);

/// The journal of an open plan.
#[derive(Debug)]
pub struct Journal {
    path: PathBuf,
    file: File,
    /// Bytes that are whole records.
    length: u64,
}

/// What a journal says of itself.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Header {
    /// The plan's path, for people.
    pub plan: String,
    /// CRC-32 of the plan the records start from; `None` for a plan that was never saved.
    pub plan_crc: Option<u32>,
    /// Who wrote it.
    pub holder: Holder,
}

/// What was read from a journal.
#[derive(Clone, Debug)]
pub struct Contents {
    /// `None` if the damage begins in the header itself.
    pub header: Option<Header>,
    /// The payloads, oldest first.
    pub records: Vec<Vec<u8>>,
    /// Bytes up to the end of the last whole record.
    pub good_bytes: u64,
    /// Where the file stops making sense, if it does so before its end.
    pub damage: Option<Damage>,
}

/// The first thing wrong in a journal.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Damage {
    /// Bytes from the start of the file.
    pub offset: u64,
    /// What is wrong there, in words.
    pub what: &'static str,
}

impl Journal {
    /// Where the journal of the plan at `path` is kept.
    pub fn path_for(state: &Path, path: &Path) -> io::Result<PathBuf> {
        Ok(state.join(format!("{}.journal", paths::key_of(&paths::real_path(path)?))))
    }

    /// A new journal. One that is there already is an error: it holds somebody's work, see [`read`], [`set_aside`].
    pub fn create(path: &Path, header: &Header) -> io::Result<Self> {
        let bytes = beginning(header)?;
        let file = options().create_new(true).mode(0o600).open(path)?;
        let mut journal = Self { path: path.to_path_buf(), file, length: 0 };
        match journal.write(&bytes) {
            Ok(()) => Ok(journal),
            Err(error) => {
                let _ = fs::remove_file(path);
                Err(error)
            }
        }
    }

    /// Goes on with a journal that was read: damage at its end is cut off.
    pub fn resume(path: &Path, contents: &Contents) -> io::Result<Self> {
        if contents.header.is_none() {
            return Err(io::Error::new(io::ErrorKind::InvalidData, "a journal without its header"));
        }
        let file = options().open(path)?;
        file.set_len(contents.good_bytes)?;
        Ok(Self { path: path.to_path_buf(), file, length: contents.good_bytes })
    }

    /// Adds a record in one write. On an error the journal is as before, and adding may be tried again.
    /// [`io::ErrorKind::FileTooLarge`] asks for [`Journal::rewrite`] with fewer records.
    pub fn append(&mut self, payload: &[u8]) -> io::Result<()> {
        self.write(&record(payload)?)
    }

    /// Makes what was appended outlast a power failure.
    pub fn sync(&self) -> io::Result<()> {
        self.file.sync_data()
    }

    /// Replaces the whole journal at once: a checkpoint.
    pub fn rewrite<'a>(&mut self, header: &Header, payloads: impl IntoIterator<Item = &'a [u8]>) -> io::Result<()> {
        let mut bytes = beginning(header)?;
        for payload in payloads {
            bytes.extend(record(payload)?);
        }
        if bytes.len() as u64 > LARGEST_BYTES {
            return Err(io::ErrorKind::FileTooLarge.into());
        }
        backup::write_synced(&self.path, &bytes)?;
        self.file = options().open(&self.path)?;
        self.length = bytes.len() as u64;
        Ok(())
    }

    /// Bytes in the journal.
    pub fn length(&self) -> u64 {
        self.length
    }

    /// Where it is.
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Ends it: the plan is saved and closed, nothing is left to recover.
    pub fn remove(self) -> io::Result<()> {
        fs::remove_file(&self.path)
    }

    fn write(&mut self, bytes: &[u8]) -> io::Result<()> {
        let after = self.length + bytes.len() as u64;
        if after > LARGEST_BYTES {
            return Err(io::ErrorKind::FileTooLarge.into());
        }
        if let Err(error) = self.file.write_all(bytes) {
            // Half a record would hide all that come after it.
            self.file.set_len(self.length)?;
            return Err(error);
        }
        self.length = after;
        Ok(())
    }
}

/// Reads the journal at `path`, as far as it is whole.
pub fn read(path: &Path) -> io::Result<Contents> {
    let flags = OFlags::NOFOLLOW | OFlags::NONBLOCK;
    let mut file = OpenOptions::new().read(true).custom_flags(flags.bits().cast_signed()).open(path)?;
    if let Some(kind) = source::not_a_file(&file.metadata()?) {
        let says = format!("{kind}, not a journal");
        return Err(io::Error::new(io::ErrorKind::InvalidInput, says));
    }
    Ok(parse(&source::read_up_to(&mut file, LARGEST_BYTES)?))
}

fn parse(bytes: &[u8]) -> Contents {
    let mut contents = Contents { header: None, records: Vec::new(), good_bytes: 0, damage: None };
    let Some(mut rest) = bytes.strip_prefix(FIRST_LINE) else {
        contents.damage = Some(Damage { offset: 0, what: "not a journal this program can read" });
        return contents;
    };
    while !rest.is_empty() {
        let offset = (bytes.len() - rest.len()) as u64;
        let (payload, after) = match split(rest) {
            Ok(parts) => parts,
            Err(what) => {
                contents.damage = Some(Damage { offset, what });
                return contents;
            }
        };
        if contents.header.is_some() {
            contents.records.push(payload.to_vec());
        } else if let Ok(header) = serde_json::from_slice(payload) {
            contents.header = Some(header);
        } else {
            contents.damage = Some(Damage { offset, what: "a header this program cannot read" });
            return contents;
        }
        rest = after;
        contents.good_bytes = (bytes.len() - rest.len()) as u64;
    }
    if contents.header.is_none() {
        contents.damage = Some(Damage { offset: bytes.len() as u64, what: "the header is missing" });
    }
    contents
}

/// The payload of the first record of `bytes`, and what follows it.
fn split(bytes: &[u8]) -> Result<(&[u8], &[u8]), &'static str> {
    const CUT: &str = "the last record is cut short";
    let (length, rest) = bytes.split_first_chunk::<4>().ok_or(CUT)?;
    let (crc, rest) = rest.split_first_chunk::<4>().ok_or(CUT)?;
    let (payload, after) = rest.split_at_checked(u32::from_le_bytes(*length) as usize).ok_or(CUT)?;
    if checksum(*length, payload) == u32::from_le_bytes(*crc) {
        Ok((payload, after))
    } else {
        Err("a record does not match its checksum")
    }
}

fn beginning(header: &Header) -> io::Result<Vec<u8>> {
    let mut bytes = FIRST_LINE.to_vec();
    bytes.extend(record(&serde_json::to_vec(header)?)?);
    Ok(bytes)
}

fn record(payload: &[u8]) -> io::Result<Vec<u8>> {
    let length = u32::try_from(payload.len()).map_err(|_| io::ErrorKind::FileTooLarge)?.to_le_bytes();
    let mut bytes = Vec::with_capacity(PREFIX + payload.len());
    bytes.extend(length);
    bytes.extend(checksum(length, payload).to_le_bytes());
    bytes.extend(payload);
    Ok(bytes)
}

/// The length is summed too, so that a run of zero bytes is not a run of empty records.
fn checksum(length: [u8; 4], payload: &[u8]) -> u32 {
    let mut sum = crc32fast::Hasher::new();
    sum.update(&length);
    sum.update(payload);
    sum.finalize()
}

fn options() -> OpenOptions {
    let mut options = OpenOptions::new();
    let flags = OFlags::NOFOLLOW | OFlags::NONBLOCK;
    options.append(true).custom_flags(flags.bits().cast_signed());
    options
}

/// Takes a journal out of the way without losing it (the person chose not to recover it now), and returns where it
/// is. Of each plan the newest 10 are kept, for 30 days.
pub fn set_aside(path: &Path, now: SystemTime) -> io::Result<PathBuf> {
    let mut second = now.duration_since(UNIX_EPOCH).unwrap_or_default().as_secs();
    while kept_name(path, second).try_exists()? {
        second += 1;
    }
    let aside = kept_name(path, second);
    fs::rename(path, &aside)?;
    let mut others = kept(path);
    others.retain(|other| *other != second);
    for old in surplus(&others, now) {
        let _ = fs::remove_file(kept_name(path, *old));
    }
    Ok(aside)
}

fn kept_name(path: &Path, second: u64) -> PathBuf {
    path.with_extension(format!("journal.{second}"))
}

/// The seconds in the names of the kept journals of the same plan, oldest first.
fn kept(path: &Path) -> Vec<u64> {
    let start = path.with_extension("journal.");
    let start = start.file_name().unwrap_or_default().to_string_lossy();
    let Ok(entries) = paths::folder_of(path).read_dir() else {
        return Vec::new();
    };
    let mut seconds: Vec<u64> =
        entries.flatten().filter_map(|entry| entry.file_name().to_str()?.strip_prefix(&*start)?.parse().ok()).collect();
    seconds.sort_unstable();
    seconds
}

/// Those of `others` to be removed beside the one that was just kept, whatever its date: clocks jump.
fn surplus(others: &[u64], now: SystemTime) -> &[u64] {
    let age = now.duration_since(UNIX_EPOCH).unwrap_or_default();
    let oldest = age.saturating_sub(KEPT_FOR).as_secs();
    let too_many = (others.len() + 1).saturating_sub(KEPT);
    let too_old = others.partition_point(|second| *second < oldest);
    &others[..too_many.max(too_old)]
}

#[cfg(test)]
#[path = "journal_tests.rs"]
mod tests;
