//! What the system says of one file or folder: whose it is, its mode, and what this account may do with it.

use std::fs::{self, Metadata};
use std::io;
use std::os::unix::fs::{FileTypeExt, MetadataExt};
use std::path::{Path, PathBuf};

use rustix::fs::Access;

/// What stands at a place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Found {
    /// Nothing.
    Missing(PathBuf),
    /// This.
    There(Entry),
    /// The system does not let this account look, and says why.
    Refused(PathBuf, String),
}

/// A file, a folder or what else has a name.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Entry {
    /// Where it is.
    pub path: PathBuf,
    /// What it is.
    pub kind: Kind,
    /// Whose it is: a name, or a number that has none.
    pub owner: String,
    /// Which group's it is.
    pub group: String,
    /// Whether it is this account's.
    pub mine: bool,
    /// Permissions, with set-group-id and sticky.
    pub mode: u32,
    /// Size, bytes.
    pub bytes: u64,
    /// What this account may do with it.
    pub may: May,
}

/// What something is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// An ordinary file.
    File,
    /// A folder.
    Folder,
    /// A socket.
    Socket,
    /// A link to something else.
    Link,
    /// A pipe or a device.
    Other,
}

/// What this account may do, as `access(2)` says: mode, owner, groups, lists of access and read-only disks counted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct May {
    /// Read it, or list it.
    pub read: bool,
    /// Write it, or make and remove names in it.
    pub write: bool,
    /// Go through it, for a folder.
    pub pass: bool,
}

impl Found {
    /// What stands at `path`; a link is not followed.
    pub fn at(path: &Path, owners: &Owners) -> Self {
        match path.symlink_metadata() {
            Ok(about) => Self::There(Entry::of(path, &about, owners)),
            Err(error) if error.kind() == io::ErrorKind::NotFound => Self::Missing(path.to_path_buf()),
            Err(error) => Self::Refused(path.to_path_buf(), error.to_string()),
        }
    }

    /// The entry, if there is one.
    pub fn entry(&self) -> Option<&Entry> {
        match self {
            Self::There(entry) => Some(entry),
            _ => None,
        }
    }
}

impl Entry {
    fn of(path: &Path, about: &Metadata, owners: &Owners) -> Self {
        let kind = about.file_type();
        let may = |access| kind_allows(about) && rustix::fs::access(path, access).is_ok();
        Self {
            path: path.to_path_buf(),
            kind: match kind {
                _ if kind.is_file() => Kind::File,
                _ if kind.is_dir() => Kind::Folder,
                _ if kind.is_socket() => Kind::Socket,
                _ if kind.is_symlink() => Kind::Link,
                _ => Kind::Other,
            },
            owner: owners.user(about.uid()),
            group: owners.group(about.gid()),
            mine: about.uid() == rustix::process::getuid().as_raw(),
            mode: about.mode() & 0o7777,
            bytes: about.len(),
            may: May { read: may(Access::READ_OK), write: may(Access::WRITE_OK), pass: may(Access::EXEC_OK) },
        }
    }

    /// `kim:rigs, mode 2770`.
    pub fn rights(&self) -> String {
        format!("{}:{}, mode {:04o}", self.owner, self.group, self.mode)
    }

    /// Whether this mode bit is set.
    pub fn has(&self, bits: u32) -> bool {
        self.mode & bits != 0
    }
}

/// Of a link nothing is asked: the answer would be about what it leads to.
fn kind_allows(about: &Metadata) -> bool {
    !about.file_type().is_symlink()
}

/// The names of accounts and groups on this machine.
#[derive(Clone, Debug, Default)]
pub struct Owners {
    users: Vec<(u32, String)>,
    groups: Vec<(u32, String)>,
}

impl Owners {
    /// Those of the machine's own tables. Who is known only to a server of accounts stays a number.
    pub fn read() -> Self {
        let table = |path: &str| named(&fs::read_to_string(path).unwrap_or_default());
        Self { users: table("/etc/passwd"), groups: table("/etc/group") }
    }

    /// The name of an account, or its number.
    pub fn user(&self, id: u32) -> String {
        name_of(&self.users, id)
    }

    /// The name of a group, or its number.
    pub fn group(&self, id: u32) -> String {
        name_of(&self.groups, id)
    }
}

fn name_of(table: &[(u32, String)], id: u32) -> String {
    table.iter().find(|(number, _)| *number == id).map_or_else(|| id.to_string(), |(_, name)| name.clone())
}

/// Lines of `name:password:number:...`, as passwd(5) and group(5) have them.
fn named(table: &str) -> Vec<(u32, String)> {
    let row = |line: &str| {
        let mut fields = line.split(':');
        let (name, _, number) = (fields.next()?, fields.next()?, fields.next()?);
        Some((number.parse().ok()?, name.to_string()))
    };
    table.lines().filter_map(row).collect()
}

/// The group that this account shares with the owner, as far as can be seen: the first of `candidates` it is in, else
/// its own.
pub fn shared_group(candidates: &[&str], owners: &Owners) -> String {
    let own = rustix::process::getgid();
    let others = rustix::process::getgroups().unwrap_or_default();
    let mine: Vec<String> = std::iter::once(own).chain(others).map(|gid| owners.group(gid.as_raw())).collect();
    let shared = candidates.iter().find(|group| mine.iter().any(|own| own == *group));
    shared.map_or_else(|| owners.group(own.as_raw()), |group| (*group).to_string())
}

/// Bytes as a person says them: thousands, not 1024.
pub fn size(bytes: u64) -> String {
    match bytes {
        0..1_000 => format!("{bytes} bytes"),
        1_000..1_000_000 => format!("{:.1} kB", bytes as f64 / 1e3),
        1_000_000..1_000_000_000 => format!("{:.1} MB", bytes as f64 / 1e6),
        _ => format!("{:.1} GB", bytes as f64 / 1e9),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_come_from_the_tables_and_broken_lines_name_nobody() {
        let users = named("root:x:0:0::/root:/bin/sh\nbroken\nkim:x:1000:100:Kim:/h:/bin/sh\nx:y:z\n");
        assert_eq!(users, [(0, "root".to_string()), (1000, "kim".to_string())]);
        assert_eq!((name_of(&users, 1000).as_str(), name_of(&users, 7).as_str()), ("kim", "7"));
    }

    #[test]
    fn sizes_are_said_as_people_say_them() {
        let said = [0, 999, 1_000, 8_388_608, 2_500_000_000].map(size);
        assert_eq!(said, ["0 bytes", "999 bytes", "1.0 kB", "8.4 MB", "2.5 GB"]);
    }
}
