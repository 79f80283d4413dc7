//! One plan: its file, whether it can be read and saved, who edits it, and what lies beside it.

use std::path::{Path, PathBuf};

use rustix::io::Errno;

use super::comments::Comments;
use super::entry::{Entry, Found, Kind, Owners, shared_group};
use super::folders::{free, space};
use super::line::Line;
use crate::plan::{FORMAT, Key};
use crate::storage::load::{self, Format};
use crate::storage::lock::{self, Standing};
use crate::storage::source::{self, Trouble};
use crate::storage::{atomic, backup, comments, paths};

/// The longest path of a socket, bytes: `sun_path` has 108 and one ends it. Source: unix(7) of Linux.
const LONGEST_SOCKET_BYTES: usize = 107;

/// What is known of a plan.
#[derive(Debug)]
pub struct PlanFacts {
    /// As it was asked for, from the root.
    pub asked: PathBuf,
    /// The file itself, behind all links.
    pub file: Found,
    /// The folder it is in.
    pub folder: Found,
    /// The first folder on the way to it that this account cannot go through.
    pub closed: Option<Entry>,
    /// What reading it gave.
    pub reading: Reading,
    /// Why it can be looked at only.
    pub read_only: Option<String>,
    /// Who edits it.
    pub lock: Standing,
    /// The old bytes of a save in place that was cut short.
    pub image: Option<PathBuf>,
    /// Files of saves that did not end.
    pub leftovers: usize,
    /// Whether it is on another machine's disk, as far as the system says.
    pub network: bool,
    /// Bytes that are free where it is.
    pub free: Option<u64>,
    /// What was said about it.
    pub comments: Comments,
    /// The socket of a live link.
    pub live: Found,
    /// The file of the partner who was asked about.
    pub own: Option<Found>,
    /// A group that this account and the owner may share.
    pub group: String,
}

/// What reading a plan gave.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Reading {
    /// A sound plan, in a file of this format.
    Sound(u64),
    /// Something that is no plan: what, and where.
    NoPlan(String),
    /// Nothing.
    Unreadable(String),
}

impl PlanFacts {
    /// Looks at the plan at `path` and at what belongs to it; `state` is where journals would be.
    pub fn gather(path: &Path, partner: Option<&Key>, state: Option<&Path>, owners: &Owners) -> Self {
        let asked = std::path::absolute(path).unwrap_or_else(|_| path.to_path_buf());
        let real = paths::real_path(&asked).unwrap_or_else(|_| asked.clone());
        let folder = paths::folder_of(&real);
        let (file, around) = (Found::at(&real, owners), Found::at(folder, owners));
        let comments = Comments::gather(&asked, owners);
        let groups: Vec<&str> =
            [&file, &comments.folder].iter().filter_map(|found| Some(found.entry()?.group.as_str())).collect();
        Self {
            group: shared_group(&groups, owners),
            closed: closed(folder, owners),
            reading: read(&asked),
            read_only: atomic::read_only(&asked).map(|why| why.to_string()),
            lock: lock::standing(&asked, state),
            image: state.and_then(|state| backup::unfinished(state, &asked)),
            leftovers: atomic::leftovers(&asked).len(),
            network: on_network(folder),
            free: free(folder),
            live: Found::at(&folder.join(paths::beside(&real, ".live", 0)), owners),
            own: partner.map(|name| Found::at(&comments::Comments::beside(&asked).file_of(name), owners)),
            file,
            folder: around,
            comments,
            asked,
        }
    }

    /// Whether there is nothing to go on with.
    pub fn is_unreadable(&self) -> bool {
        matches!(self.reading, Reading::Unreadable(_))
    }

    /// One line for each thing looked at; whether this account can save is another question for a partner.
    pub fn lines(&self, partner: Option<&Key>) -> Vec<Line> {
        let mut lines = vec![self.file()];
        lines.extend(self.sound());
        if self.is_unreadable() {
            return lines;
        }
        if partner.is_none() {
            lines.push(self.saving());
        }
        lines.push(self.locked());
        lines.extend(self.cut_short());
        if self.network {
            let found = "the plan is on another machine's disk: locks may not reach across";
            lines.push(Line::note("plan.disk", found, "edit it on one machine at a time"));
        }
        lines.extend(self.free.map(|free| space("space.plan", "where the plan is", free, source::LARGEST_BYTES)));
        lines.extend(self.comments.lines(partner.map(|_| self.group.as_str())));
        lines.push(self.live());
        lines
    }

    fn file(&self) -> Line {
        let id = "plan.file";
        if let Reading::Unreadable(why) = &self.reading {
            return Line::stop(id, why.as_str(), "");
        }
        let rights = self.file.entry().map_or(String::new(), |file| format!(" ({})", file.rights()));
        let asked = paths::shown(&self.asked);
        match self.file.entry() {
            Some(file) if file.path != self.asked => {
                Line::good(id, format!("{asked} leads to {}{rights}", paths::shown(&file.path)))
            }
            _ => Line::good(id, format!("{asked}{rights}")),
        }
    }

    fn sound(&self) -> Option<Line> {
        let id = "plan.sound";
        match &self.reading {
            Reading::Unreadable(_) => None,
            Reading::NoPlan(what) => Some(Line::stop(id, what.as_str(), "gunnel check tells the place with its line")),
            Reading::Sound(format) if *format < u64::from(FORMAT) => {
                let found = format!("a sound plan of format {format}");
                Some(Line::note(id, found, &format!("the next save makes it format {FORMAT}")))
            }
            Reading::Sound(format) => Some(Line::good(id, format!("a sound plan of format {format}"))),
        }
    }

    fn saving(&self) -> Line {
        let id = "plan.save";
        if let Some(why) = &self.read_only {
            return Line::caution(
                id,
                format!("it can be looked at only: {why}"),
                "as its owner, let yourself write it",
            );
        }
        match self.folder.entry() {
            Some(folder) if !folder.may.write => {
                let found = "its folder cannot be written to: a save asks, and then writes into the file itself";
                Line::note(id, found, "let yourself make files in the folder")
            }
            _ => Line::good(id, "it can be saved"),
        }
    }

    fn locked(&self) -> Line {
        let id = "plan.lock";
        match &self.lock {
            Standing::Free => Line::good(id, "nobody is editing it"),
            Standing::Left(path) => {
                let found = format!("nobody is editing it; {} was left or put there", paths::shown(path));
                Line::note(id, found, "the next to open the plan takes it over")
            }
            Standing::Held { by } => {
                let who = by.as_ref().map_or_else(|| "somebody".into(), ToString::to_string);
                Line::note(id, format!("{who} is editing it"), "others look, and see each save")
            }
            Standing::Barred(path) => {
                let found = format!("{} is no ordinary file: nobody can lock the plan", paths::shown(path));
                Line::caution(id, found, "see what it is, and move it away")
            }
            Standing::Unknown(path, error) => {
                Line::note(id, format!("who is editing it is not told: {}: {error}", paths::shown(path)), "")
            }
        }
    }

    fn cut_short(&self) -> Option<Line> {
        let id = "plan.cut-short";
        if let Some(image) = &self.image {
            let found = format!("a save was cut short; the version before it is {}", paths::shown(image));
            return Some(Line::caution(id, found, "compare the two with gunnel diff before you go on"));
        }
        let files = if self.leftovers == 1 { "1 file".into() } else { format!("{} files", self.leftovers) };
        (self.leftovers > 0).then(|| {
            Line::note(
                id,
                format!("{files} of a save that did not end"),
                "the next to open the plan removes what is left",
            )
        })
    }

    fn live(&self) -> Line {
        let id = "plan.live";
        let (path, found) = match &self.live {
            Found::Missing(path) => (path, Line::good(id, "no live link now")),
            Found::Refused(path, why) => (path, Line::note(id, format!("{}: {why}", paths::shown(path)), "")),
            Found::There(socket) if socket.kind == Kind::Socket => {
                let found = format!("a live link: {} ({})", paths::shown(&socket.path), socket.rights());
                (&socket.path, Line::good(id, found))
            }
            Found::There(other) => {
                let found = format!("{} is no live link", paths::shown(&other.path));
                (&other.path, Line::caution(id, found, "see what it is, and move it away"))
            }
        };
        let bytes = path.as_os_str().len();
        if bytes <= LONGEST_SOCKET_BYTES {
            return found;
        }
        let found = format!("the path of a live link has {bytes} bytes, and may have {LONGEST_SOCKET_BYTES}");
        Line::note(id, found, "a partner sees saves all the same; a shorter path has a live link too")
    }
}

fn read(path: &Path) -> Reading {
    let source = match source::read(path) {
        Ok(source) => source,
        Err(error)
            if matches!(error.trouble, Trouble::Nul { .. } | Trouble::NotText { .. } | Trouble::TooLarge { .. }) =>
        {
            return Reading::NoPlan(error.to_string());
        }
        Err(error) => return Reading::Unreadable(error.to_string()),
    };
    let format = Format::of_path(path);
    match load::plan(&source.text, path, format) {
        Ok(plan) => Reading::Sound(load::format_number(&source.text, format).unwrap_or(plan.format.into())),
        // The quote of the line and its mark are for `gunnel check`.
        Err(error) => Reading::NoPlan(error.to_string().lines().next().unwrap_or_default().to_string()),
    }
}

/// The outermost of the folders on the way to `folder`, itself counted, that this account may not go through.
fn closed(folder: &Path, owners: &Owners) -> Option<Entry> {
    let mut way: Vec<&Path> = folder.ancestors().collect();
    way.reverse();
    let refuses = |path: &&&Path| rustix::fs::access(**path, rustix::fs::Access::EXEC_OK) == Err(Errno::ACCESS);
    Found::at(way.iter().find(refuses)?, owners).entry().cloned()
}

/// Whether `path` is on a disk of another machine. Source of the numbers: linux/magic.h, `NFS_SUPER_MAGIC`,
/// `CIFS_SUPER_MAGIC`, `SMB2_SUPER_MAGIC`.
fn on_network(path: &Path) -> bool {
    const KINDS: [u64; 3] = [0x6969, 0xff53_4d42, 0xfe53_4d42];
    rustix::fs::statfs(path)
        .is_ok_and(|about| KINDS.contains(&(u64::try_from(about.f_type).unwrap_or(0) & 0xffff_ffff)))
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a review has a plan")]
mod tests {
    use super::super::test_facts::{folder, review};
    use super::*;

    fn said(id: &str, change: fn(&mut PlanFacts)) -> (&'static str, String) {
        let mut plan = review().plan.unwrap();
        change(&mut plan);
        let line = plan.lines(None).into_iter().find(|line| line.id == id);
        line.map_or(("", String::new()), |line| (line.word(), line.found))
    }

    #[test]
    fn a_plan_that_cannot_be_read_is_a_stop_and_the_end() {
        let unread = |plan: &mut PlanFacts| plan.reading = Reading::Unreadable("/x: not there".into());
        assert_eq!(said("plan.file", unread), ("stop", "/x: not there".into()));
        assert_eq!(said("plan.lock", unread).0, "");
        let broken = |plan: &mut PlanFacts| plan.reading = Reading::NoPlan("/x:3:7: no".into());
        assert_eq!(said("plan.sound", broken), ("stop", "/x:3:7: no".into()));
    }

    #[test]
    fn format_lock_and_saves_are_told() {
        fn check(id: &str, change: fn(&mut PlanFacts), word: &str) {
            assert_eq!(said(id, change).0, word, "{id}");
        }
        check("plan.sound", |_| {}, "good");
        check("plan.sound", |plan| plan.reading = Reading::Sound(1), "note");
        check("plan.lock", |_| {}, "good");
        check("plan.lock", |plan| plan.lock = Standing::Held { by: None }, "note");
        check("plan.lock", |plan| plan.lock = Standing::Left("/x".into()), "note");
        check("plan.lock", |plan| plan.lock = Standing::Barred("/x".into()), "caution");
        check("plan.cut-short", |_| {}, "");
        check("plan.cut-short", |plan| plan.leftovers = 2, "note");
        check("plan.cut-short", |plan| plan.image = Some("/x".into()), "caution");
        check("plan.disk", |_| {}, "");
        check("plan.disk", |plan| plan.network = true, "note");
        check("space.plan", |plan| plan.free = Some(16 * 1024 * 1024), "good");
        check("space.plan", |plan| plan.free = Some(16 * 1024 * 1024 - 1), "caution");
        check("space.plan", |plan| plan.free = Some(0), "stop");
        check("plan.save", |plan| plan.read_only = Some("so".into()), "caution");
    }

    #[test]
    fn a_live_link_is_a_socket_on_a_path_that_is_not_too_long() {
        assert_eq!(said("plan.live", |_| {}), ("good", "no live link now".into()));
        let other = |plan: &mut PlanFacts| plan.live = Found::There(folder("/srv/rigs/.boat.ron.live"));
        assert_eq!(said("plan.live", other).0, "caution");
        let long = |plan: &mut PlanFacts| plan.live = Found::Missing(format!("/{}", "x".repeat(107)).into());
        assert_eq!(said("plan.live", long).0, "note");
        let fits = |plan: &mut PlanFacts| plan.live = Found::Missing(format!("/{}", "x".repeat(106)).into());
        assert_eq!(said("plan.live", fits).0, "good");
    }
}
