//! Folders: where settings, state and shared sockets live, and how a plan is named inside them.

use std::collections::BTreeMap;
use std::ffi::{OsStr, OsString};
use std::fs::{self, DirBuilder};
use std::io;
use std::os::unix::ffi::OsStrExt;
use std::os::unix::fs::DirBuilderExt;
use std::path::{Path, PathBuf};

/// The name of the program's folder under each base folder.
const OWN_FOLDER: &str = "gunnel";
/// The longest file name common file systems take, in bytes.
const LONGEST_NAME: usize = 255;
/// As many links in a row as the kernel itself follows.
const MOST_LINKS: usize = 40;

/// The environment the program was started with, captured once so that nothing else asks the process for it.
#[derive(Clone, Debug, Default)]
pub struct Env {
    variables: BTreeMap<OsString, OsString>,
}

impl Env {
    /// The variables of this process.
    pub fn of_process() -> Self {
        Self { variables: std::env::vars_os().collect() }
    }

    /// An environment of exactly these variables.
    pub fn of<K: Into<OsString>, V: Into<OsString>>(variables: impl IntoIterator<Item = (K, V)>) -> Self {
        Self { variables: variables.into_iter().map(|(name, value)| (name.into(), value.into())).collect() }
    }

    /// The value of `name`; an empty one counts as not set.
    pub fn get(&self, name: &str) -> Option<&OsStr> {
        self.variables.get(OsStr::new(name)).map(OsString::as_os_str).filter(|value| !value.is_empty())
    }

    /// The value of `name` as text, with bytes that are not text replaced.
    pub fn text(&self, name: &str) -> Option<String> {
        self.get(name).map(|value| value.to_string_lossy().into())
    }

    /// Whether the screen is at the other end of an ssh connection.
    pub fn over_ssh(&self) -> bool {
        self.get("SSH_CONNECTION").is_some() || self.get("SSH_TTY").is_some()
    }

    /// A folder variable; relative values are ignored, as the base folder specification asks.
    fn folder(&self, name: &str) -> Option<PathBuf> {
        self.get(name).map(PathBuf::from).filter(|path| path.is_absolute())
    }
}

/// The program's own folders. Each is `None` where the person has no such place: nothing here is ever fatal.
#[derive(Clone, Debug, Default)]
pub struct Folders {
    config: Option<PathBuf>,
    data: Option<PathBuf>,
    state: Option<PathBuf>,
    runtime: Option<PathBuf>,
}

impl Folders {
    /// The folders that `env` asks for. Source: XDG Base Directory Specification 0.8. Touches no file.
    pub fn of(env: &Env) -> Self {
        let home = env.folder("HOME");
        let base = |variable: &str, below_home: &str| {
            env.folder(variable)
                .or_else(|| home.as_ref().map(|home| home.join(below_home)))
                .map(|base| base.join(OWN_FOLDER))
        };
        Self {
            config: base("XDG_CONFIG_HOME", ".config"),
            data: base("XDG_DATA_HOME", ".local/share"),
            state: base("XDG_STATE_HOME", ".local/state"),
            runtime: env.folder("XDG_RUNTIME_DIR").map(|base| base.join(OWN_FOLDER)),
        }
    }

    /// Where settings are read from. Not created: nothing is written there unasked.
    pub fn config(&self) -> Option<&Path> {
        self.config.as_deref()
    }

    /// Where a person's own catalogue entries are read from. Not created.
    pub fn data(&self) -> Option<&Path> {
        self.data.as_deref()
    }

    /// Where journals, backups and recent plans are kept: created on first use, `None` when that fails.
    pub fn state(&self) -> Option<PathBuf> {
        self.state.as_deref().and_then(ready)
    }

    /// Where [`Folders::state`] is or would be; nothing is created.
    pub fn state_place(&self) -> Option<&Path> {
        self.state.as_deref()
    }

    /// Where sockets go: the runtime folder, else (over some ssh logins there is none) the state folder.
    pub fn runtime(&self) -> Option<PathBuf> {
        self.runtime.as_deref().and_then(ready).or_else(|| self.state())
    }
}

/// `folder`, created for its owner alone if it is missing, or `None` if it cannot be written to.
pub fn ready(folder: &Path) -> Option<PathBuf> {
    if !folder.is_dir() {
        DirBuilder::new().recursive(true).mode(0o700).create(folder).ok()?;
    }
    writable(folder).then(|| folder.to_path_buf())
}

/// Whether files can be made in `folder`.
pub fn writable(folder: &Path) -> bool {
    use rustix::fs::Access;
    rustix::fs::access(folder, Access::WRITE_OK | Access::EXEC_OK).is_ok()
}

/// The file that `path` stands for once every link is followed. The file itself need not exist yet: the end of
/// a dangling link is where a save will make it.
pub fn real_path(path: &Path) -> io::Result<PathBuf> {
    let mut place = path.to_path_buf();
    for _ in 0..MOST_LINKS {
        match fs::read_link(&place) {
            Ok(target) => place = folder_of(&place).join(target),
            Err(_) => {
                let name =
                    place.file_name().ok_or_else(|| io::Error::from(io::ErrorKind::InvalidFilename))?.to_os_string();
                return Ok(fs::canonicalize(folder_of(&place))?.join(name));
            }
        }
    }
    Err(rustix::io::Errno::LOOP.into())
}

/// The folder a file is in; the current one for a bare name.
pub fn folder_of(path: &Path) -> &Path {
    match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    }
}

/// `path` for the screen: a name can hold a line feed, an order to the terminal or one to turn the text round.
pub fn shown(path: &Path) -> String {
    let turns = |letter: char| matches!(letter, '\u{61c}' | '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}');
    path.to_string_lossy()
        .chars()
        .flat_map(|letter| {
            let hidden = letter.is_control() || turns(letter);
            let escaped = hidden.then(|| letter.escape_unicode());
            let plain = (!hidden).then_some(letter);
            escaped.into_iter().flatten().chain(plain)
        })
        .collect()
}

/// What a plan is called in the state folder: some readable letters of its name and a hash of its real path, so
/// that two plans of the same name in different folders stay apart.
pub fn key_of(real: &Path) -> String {
    let letters: String = real
        .file_stem()
        .unwrap_or_default()
        .to_string_lossy()
        .chars()
        .map(|letter| if letter.is_ascii_alphanumeric() { letter } else { '-' })
        .take(40)
        .collect();
    format!("{letters}-{:016x}", hash(real.as_os_str().as_bytes()))
}

/// `.NAME` + `ending` for a file beside `path`, with NAME cut (and a hash put in its place) where the whole would
/// be longer than a file name may be. `spare` bytes are left free for a random part.
pub fn beside(path: &Path, ending: &str, spare: usize) -> OsString {
    let name = path.file_name().unwrap_or_default().as_bytes();
    let room = LONGEST_NAME - 1 - ending.len() - spare;
    let mut out = OsString::from(".");
    if name.len() <= room {
        out.push(OsStr::from_bytes(name));
    } else {
        let hashed = format!("~{:016x}", hash(name));
        out.push(String::from_utf8_lossy(&name[..room / 2]).replace('\u{fffd}', ""));
        out.push(hashed);
    }
    out.push(ending);
    out
}

/// FNV-1a, 64 bits: the standard library's hasher may change between releases, and these names must not.
/// Source: IETF draft-eastlake-fnv, from memory; the test vectors below are its own.
fn hash(bytes: &[u8]) -> u64 {
    bytes.iter().fold(0xcbf2_9ce4_8422_2325, |hash, byte| (hash ^ u64::from(*byte)).wrapping_mul(0x0000_0100_0000_01b3))
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]
mod tests {
    use super::*;
    use std::os::unix::fs::{MetadataExt, symlink};

    #[test]
    fn folders_follow_the_variables_and_fall_back_to_home() {
        fn check(variables: &[(&str, &str)], config: Option<&str>) {
            let folders = Folders::of(&Env::of(variables.iter().copied()));
            assert_eq!(folders.config(), config.map(Path::new), "{variables:?}");
        }
        check(&[("HOME", "/h")], Some("/h/.config/gunnel"));
        check(&[("HOME", "/h"), ("XDG_CONFIG_HOME", "/c")], Some("/c/gunnel"));
        check(&[("HOME", "/h"), ("XDG_CONFIG_HOME", "rel")], Some("/h/.config/gunnel"));
        check(&[("HOME", "/h"), ("XDG_CONFIG_HOME", "")], Some("/h/.config/gunnel"));
        check(&[("HOME", "rel")], None);
        check(&[], None);
    }

    #[test]
    fn the_state_folder_is_made_for_its_owner_alone() {
        let scratch = tempfile::tempdir().unwrap();
        let base = scratch.path().join("not/yet");
        let folders = Folders::of(&Env::of([("XDG_STATE_HOME", base.clone())]));
        assert!(!base.exists(), "nothing is made before it is needed");
        let state = folders.state().unwrap();
        assert_eq!(state, base.join("gunnel"));
        assert_eq!(fs::metadata(&state).unwrap().mode() & 0o777, 0o700);
        assert_eq!(folders.runtime(), Some(state), "no runtime folder: state instead");
    }

    #[test]
    fn a_folder_that_cannot_be_made_is_none() {
        let scratch = tempfile::tempdir().unwrap();
        let file = scratch.path().join("file");
        fs::write(&file, "in the way").unwrap();
        let folders = Folders::of(&Env::of([("XDG_STATE_HOME", file)]));
        assert_eq!(folders.state(), None);
        assert_eq!(folders.runtime(), None);
    }

    #[test]
    fn links_lead_to_the_file_that_will_be_written() {
        let scratch = tempfile::tempdir().unwrap();
        let folder = fs::canonicalize(scratch.path()).unwrap();
        fs::create_dir(folder.join("deep")).unwrap();
        symlink("deep/second", folder.join("first")).unwrap();
        symlink("../plan", folder.join("deep/second")).unwrap();
        assert_eq!(real_path(&folder.join("first")).unwrap(), folder.join("plan"));
        symlink("round", folder.join("round")).unwrap();
        assert!(real_path(&folder.join("round")).is_err());
        assert!(real_path(&folder.join("no/such/plan")).is_err());
        assert!(real_path(Path::new("/")).is_err());
    }

    #[test]
    fn names_beside_a_plan_stay_short_enough_and_apart() {
        let long = "é".repeat(127) + "x";
        let other = "é".repeat(126) + "yyx";
        let name = beside(Path::new(&long), ".lock", 8);
        assert!(name.len() + 8 <= LONGEST_NAME && name.len() > 100);
        assert_ne!(name, beside(Path::new(&other), ".lock", 8));
        assert_eq!(beside(Path::new("/a/boat.ron"), ".lock", 0), ".boat.ron.lock");
    }

    #[test]
    fn a_path_on_the_screen_steers_nothing() {
        let bytes = b"/a/\xff\x1b[2J\n\xe2\x80\xaeb\xc3\xa9.ron";
        let says = shown(Path::new(OsStr::from_bytes(bytes)));
        assert_eq!(says, "/a/\u{fffd}\\u{1b}[2J\\u{a}\\u{202e}b\u{e9}.ron");
    }

    #[test]
    fn keys_differ_by_folder_and_never_change() {
        assert_eq!(hash(b""), 0xcbf2_9ce4_8422_2325);
        assert_eq!(hash(b"a"), 0xaf63_dc4c_8601_ec8c);
        assert_ne!(key_of(Path::new("/a/boat.ron")), key_of(Path::new("/b/boat.ron")));
        assert!(key_of(Path::new("/a/\u{1b}[2Jboat.ron")).starts_with("--2Jboat-"));
    }
}
