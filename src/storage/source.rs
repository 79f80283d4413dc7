//! Reading: the whole text of an ordinary file, or a plain reason; never a wait, never half a file.

use std::fmt;
use std::fs::{File, Metadata, OpenOptions};
use std::io::{self, Read};
use std::os::unix::fs::{FileTypeExt, MetadataExt, OpenOptionsExt};
use std::path::{Path, PathBuf};

use super::paths;

/// The largest file that is read, in bytes: some hundred times a plan with everything in it.
pub const LARGEST_BYTES: u64 = 16 * 1024 * 1024;
/// A mark some editors put at the start of a text.
const BYTE_ORDER_MARK: &[u8] = b"\xef\xbb\xbf";

/// Reads the text at `path`, following links, without a byte order mark.
pub fn read(path: &Path) -> Result<Source, ReadError> {
    let (bytes, generation) = read_bytes(path)?;
    Ok(Source { text: text_of(path, &bytes)?, generation })
}

/// The text that `bytes` are, without a byte order mark; `path` names them in an error.
pub fn text_of(path: &Path, bytes: &[u8]) -> Result<String, ReadError> {
    let skipped = if bytes.starts_with(BYTE_ORDER_MARK) { BYTE_ORDER_MARK.len() } else { 0 };
    if let Some(offset) = bytes.iter().position(|byte| *byte == 0) {
        return Err(ReadError::new(path, Trouble::Nul { offset }));
    }
    match std::str::from_utf8(&bytes[skipped..]) {
        Ok(text) => Ok(text.to_owned()),
        Err(error) => {
            let offset = skipped + error.valid_up_to();
            Err(ReadError::new(path, Trouble::NotText { offset }))
        }
    }
}

/// The text of a stream that is no file (standard input), under the same limits; `name` names it in an error.
pub fn read_stream(name: &Path, stream: impl Read) -> Result<String, ReadError> {
    let mut bytes = Vec::new();
    stream
        .take(LARGEST_BYTES + 1)
        .read_to_end(&mut bytes)
        .map_err(|error| ReadError::new(name, Trouble::System(error)))?;
    if bytes.len() as u64 > LARGEST_BYTES {
        return Err(ReadError::new(name, Trouble::TooLarge { bytes: bytes.len() as u64 }));
    }
    text_of(name, &bytes)
}

/// What was read, and which version of the file it was.
#[derive(Clone, Debug)]
pub struct Source {
    /// The text, without a byte order mark; line ends are as they stood.
    pub text: String,
    /// The version, to be given back when saving.
    pub generation: Generation,
}

/// One version of a file: what the system says of it, and a checksum of its bytes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Generation {
    /// Device.
    pub dev: u64,
    /// Inode.
    pub ino: u64,
    /// Size in bytes.
    pub size: u64,
    /// Last change of the bytes, nanoseconds since 1970.
    pub mtime_ns: i128,
    /// Last change of bytes, mode, owner or name, nanoseconds since 1970.
    pub ctime_ns: i128,
    /// CRC-32 of the bytes: time stamps have a grain, and two writes can fall into one.
    pub crc: u32,
}

impl Generation {
    /// The version at `path` now. Reads the whole file.
    pub fn at(path: &Path) -> Result<Self, ReadError> {
        read_bytes(path).map(|(_, generation)| generation)
    }

    /// The version that `about` and the bytes of the file make.
    pub(super) fn of(about: &Metadata, bytes: &[u8]) -> Self {
        let nanoseconds = |s: i64, ns: i64| i128::from(s) * 1_000_000_000 + i128::from(ns);
        Self {
            dev: about.dev(),
            ino: about.ino(),
            size: bytes.len() as u64,
            mtime_ns: nanoseconds(about.mtime(), about.mtime_nsec()),
            ctime_ns: nanoseconds(about.ctime(), about.ctime_nsec()),
            crc: crc32fast::hash(bytes),
        }
    }

    /// Whether the bytes are the same, whoever wrote them and when: a `touch`, a `chmod` or a checkout there and
    /// back changes the stamps and loses nobody's work.
    pub fn same_bytes(&self, other: &Self) -> bool {
        self.size == other.size && self.crc == other.crc
    }
}

/// The bytes at `path`, exactly as they stand, and their version.
pub(super) fn read_bytes(path: &Path) -> Result<(Vec<u8>, Generation), ReadError> {
    let fail = |trouble| ReadError::new(path, trouble);
    // Without O_NONBLOCK the opening of a named pipe waits for somebody to write into it.
    let flags = rustix::fs::OFlags::NONBLOCK | rustix::fs::OFlags::NOCTTY;
    let mut file = OpenOptions::new()
        .read(true)
        .custom_flags(flags.bits().cast_signed())
        .open(path)
        .map_err(|error| fail(Trouble::of(error)))?;
    let about = file.metadata().map_err(|error| fail(Trouble::System(error)))?;
    if let Some(kind) = not_a_file(&about) {
        return Err(fail(Trouble::NotAFile { kind }));
    }
    if about.len() > LARGEST_BYTES {
        return Err(fail(Trouble::TooLarge { bytes: about.len() }));
    }
    let bytes = read_up_to(&mut file, LARGEST_BYTES + 1).map_err(|error| fail(Trouble::System(error)))?;
    // A file that grows while it is read, and those under /proc that claim to be empty.
    if bytes.len() as u64 > LARGEST_BYTES {
        return Err(fail(Trouble::TooLarge { bytes: bytes.len() as u64 }));
    }
    let generation = Generation::of(&about, &bytes);
    Ok((bytes, generation))
}

/// At most `most` bytes from where `file` stands.
pub(super) fn read_up_to(file: &mut File, most: u64) -> io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    file.take(most).read_to_end(&mut bytes)?;
    Ok(bytes)
}

/// What `about` is, if it is not an ordinary file.
pub(super) fn not_a_file(about: &Metadata) -> Option<&'static str> {
    let kind = about.file_type();
    if kind.is_file() {
        None
    } else if kind.is_dir() {
        Some("a folder")
    } else if kind.is_fifo() {
        Some("a named pipe")
    } else if kind.is_socket() {
        Some("a socket")
    } else {
        Some("a device")
    }
}

/// Why a file could not be read.
#[derive(Debug)]
pub struct ReadError {
    /// The file, as it was asked for.
    pub path: PathBuf,
    /// What stood in the way.
    pub trouble: Trouble,
}

/// What stood in the way of reading.
#[derive(Debug)]
pub enum Trouble {
    /// Nothing is there.
    Missing,
    /// Not allowed.
    Denied,
    /// A folder, pipe, socket or device.
    NotAFile {
        /// In words, with its article.
        kind: &'static str,
    },
    /// More than [`LARGEST_BYTES`].
    TooLarge {
        /// How large, in bytes.
        bytes: u64,
    },
    /// Bytes that are not UTF-8.
    NotText {
        /// How many bytes before them are good.
        offset: usize,
    },
    /// A zero byte, as a crash of the machine leaves them.
    Nul {
        /// How many bytes stand before it.
        offset: usize,
    },
    /// The system's own reason.
    System(io::Error),
}

impl ReadError {
    fn new(path: &Path, trouble: Trouble) -> Self {
        Self { path: path.to_path_buf(), trouble }
    }

    /// Whether there is no such file (so that a save would make it).
    pub fn is_missing(&self) -> bool {
        matches!(self.trouble, Trouble::Missing)
    }
}

impl Trouble {
    fn of(error: io::Error) -> Self {
        match error.kind() {
            io::ErrorKind::NotFound => Self::Missing,
            io::ErrorKind::PermissionDenied => Self::Denied,
            // What opening a socket answers.
            _ if error.raw_os_error() == Some(rustix::io::Errno::NXIO.raw_os_error()) => {
                Self::NotAFile { kind: "a socket" }
            }
            _ => Self::System(error),
        }
    }
}

impl fmt::Display for ReadError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: ", paths::shown(&self.path))?;
        match &self.trouble {
            Trouble::Missing => write!(f, "no such file; check the name"),
            Trouble::Denied => write!(f, "not allowed to read it; check its permissions"),
            Trouble::NotAFile { kind } => write!(f, "{kind}, not a file; name the plan itself"),
            Trouble::TooLarge { bytes } => write!(
                f,
                "{} MB, more than the {} MB that are read; is this a plan?",
                bytes / (1024 * 1024),
                LARGEST_BYTES / (1024 * 1024)
            ),
            Trouble::NotText { offset } => {
                write!(f, "not text from byte {offset} on; save it as UTF-8")
            }
            Trouble::Nul { offset } => {
                write!(f, "a zero byte at byte {offset}; the file is damaged, look for a backup")
            }
            Trouble::System(error) => write!(f, "cannot be read ({error})"),
        }
    }
}

impl std::error::Error for ReadError {}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]
mod tests {
    use super::*;
    use crate::storage::scratch::Scratch;

    #[test]
    fn text_is_checked_and_the_place_of_damage_named() {
        fn check(bytes: &[u8], expected: Result<&str, &str>) {
            let scratch = Scratch::new();
            let path = scratch.file("boat.ron", bytes);
            match (read(&path), expected) {
                (Ok(source), Ok(text)) => assert_eq!(source.text, text),
                (Err(error), Err(words)) => {
                    let says = error.to_string();
                    assert!(says.contains(words) && says.contains("boat.ron"), "{says}");
                }
                (got, expected) => panic!("{got:?} instead of {expected:?}"),
            }
        }
        check(b"(a: 1)\r\n", Ok("(a: 1)\r\n"));
        check(b"", Ok(""));
        check(b"\xef\xbb\xbf(a: 1)", Ok("(a: 1)"));
        check(b"\xef\xbb\xbfab\xff", Err("not text from byte 5 on"));
        check(b"ab\xc3", Err("not text from byte 2 on"));
        check(b"ab\0\0", Err("a zero byte at byte 2"));
    }

    #[test]
    fn a_version_is_the_same_by_its_bytes() {
        let scratch = Scratch::new();
        let path = scratch.file("boat.ron", "one");
        let first = Generation::at(&path).unwrap();
        scratch.file("boat.ron", "one");
        assert!(first.same_bytes(&Generation::at(&path).unwrap()));
        scratch.file("boat.ron", "two");
        assert!(!first.same_bytes(&Generation::at(&path).unwrap()));
    }

    #[test]
    fn a_hole_larger_than_the_limit_is_refused_before_it_is_read() {
        let scratch = Scratch::new();
        let path = scratch.file("boat.ron", "");
        File::options().write(true).open(&path).unwrap().set_len(1 << 40).unwrap();
        assert!(matches!(read(&path).unwrap_err().trouble, Trouble::TooLarge { .. }));
    }
}
