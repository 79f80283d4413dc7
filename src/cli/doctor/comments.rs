//! The folder of what is said about a plan: whether it can be read and written, and each author's file in it.

use std::path::Path;

use super::entry::{Entry, Found, Kind, Owners, size};
use super::line::Line;
use super::shell::{chgrp, command};
use crate::storage::comments::{self, LARGEST_BYTES, MOST_AUTHORS};
use crate::storage::paths;

/// Mode of a folder of comments that a group shares: what is written in it is the group's, and nobody removes what is
/// another's.
const SHARED_MODE: u32 = 0o3770;
const SETGID: u32 = 0o2000;
const STICKY: u32 = 0o1000;

/// What is known of the comments beside a plan.
#[derive(Clone, Debug)]
pub struct Comments {
    /// The folder.
    pub folder: Found,
    /// The files of authors in it.
    pub authors: Vec<Entry>,
    /// What is wrong with what is in them, by the reading of it.
    pub troubles: Vec<String>,
}

impl Comments {
    /// Looks at the folder beside the plan at `plan`.
    pub fn gather(plan: &Path, owners: &Owners) -> Self {
        let comments = comments::Comments::beside(plan);
        let files = comments.files().unwrap_or_default();
        let found = files.iter().take(MOST_AUTHORS).map(|file| Found::at(file, owners));
        Self {
            folder: Found::at(comments.folder(), owners),
            authors: found.filter_map(|found| found.entry().cloned()).collect(),
            troubles: comments.read().troubles,
        }
    }

    /// The folder, if it is one and a group may write in it.
    pub fn shared(&self) -> Option<&Entry> {
        self.folder.entry().filter(|folder| folder.kind == Kind::Folder && folder.has(0o020))
    }

    /// One line for each thing looked at. Where a partner is to speak (of this group), one that cannot is a stop.
    pub fn lines(&self, partner_of: Option<&str>) -> Vec<Line> {
        let mut lines = vec![self.folder(partner_of)];
        lines.extend(self.shared().map(sharing));
        lines.extend(self.authors.iter().map(author));
        let told = |trouble: &&String| {
            !self.authors.iter().any(|file| !file.may.read && trouble.starts_with(&paths::shown(&file.path)))
        };
        let troubles = self.troubles.iter().filter(told);
        lines.extend(troubles.map(|trouble| {
            Line::caution("comments.trouble", trouble.as_str(), "it is passed over; ask its author what it was")
        }));
        lines
    }

    fn folder(&self, partner_of: Option<&str>) -> Line {
        let id = "comments.folder";
        let wrong = |found: String, remedy: &str| match partner_of {
            Some(_) => Line::stop(id, found, remedy),
            None => Line::caution(id, found, remedy),
        };
        match &self.folder {
            Found::Missing(path) => match partner_of {
                None => Line::good(id, format!("nothing was said yet: {} is not there", paths::shown(path))),
                Some(group) => Line::stop(id, format!("{} is not there", paths::shown(path)), "as the owner, make it")
                    .by([command("mkdir", path)].into_iter().chain(opened(path, group))),
            },
            Found::Refused(path, why) => wrong(format!("{}: {why}", paths::shown(path)), "as the owner, open it"),
            Found::There(folder) if folder.kind != Kind::Folder => {
                let found = format!("{} is no folder", paths::shown(&folder.path));
                Line::stop(id, found, "nothing can be said; move it away, and see what it is")
            }
            Found::There(folder) => {
                let found = format!("comments: {} ({})", paths::shown(&folder.path), folder.rights());
                let cannot = match (folder.may.read && folder.may.pass, folder.may.write && folder.may.pass) {
                    (true, true) => return Line::good(id, found),
                    (true, false) => "cannot be written to",
                    (false, true) => "cannot be read",
                    (false, false) => "can be neither read nor written to",
                };
                let group = partner_of.unwrap_or(&folder.group);
                wrong(format!("{found}: {cannot}"), "as its owner, open it to the group")
                    .by(opened(&folder.path, group))
            }
        }
    }
}

/// What makes a folder one that a group shares.
fn opened(folder: &Path, group: &str) -> [String; 2] {
    [chgrp(group, folder), command(&format!("chmod {SHARED_MODE:o}"), folder)]
}

/// A folder in which more than one account writes.
fn sharing(folder: &Entry) -> Line {
    let id = "comments.sharing";
    if folder.has(0o002) {
        let found = "anybody on this machine can write into the folder of comments";
        return Line::caution(id, found, "leave it to the group").by([command("chmod o-rwx", &folder.path)]);
    }
    if !folder.has(SETGID) {
        let found = format!("what others write there does not belong to {}, and may be closed to you", folder.group);
        return Line::caution(id, found, "set the group for all that is made there")
            .by([command("chmod g+s", &folder.path)]);
    }
    if !folder.has(STICKY) {
        let found = "who writes into the folder of comments can remove what another wrote";
        return Line::note(id, found, "leave removing to each file's owner").by([command("chmod +t", &folder.path)]);
    }
    Line::good(id, format!("shared with {}: each writes, none removes what is another's", folder.group))
}

/// An author's file.
fn author(file: &Entry) -> Line {
    let id = "comments.author";
    let (name, path) = (file.path.file_stem().unwrap_or_default().to_string_lossy(), paths::shown(&file.path));
    let found = format!("{name}: {} of {} ({})", size(file.bytes), size(LARGEST_BYTES), file.rights());
    if file.kind != Kind::File {
        return Line::caution(id, format!("{path} is no ordinary file"), "it is passed over; move it away");
    }
    if !file.may.read {
        return Line::caution(id, format!("{found}: cannot be read"), "as its owner, let the group read it")
            .by([command("chmod g+r", &file.path)]);
    }
    if file.has(0o022) {
        return Line::caution(id, format!("{found}: others can write in {name}'s name"), "as its owner, close it")
            .by([command("chmod 640", &file.path)]);
    }
    if file.bytes >= LARGEST_BYTES / 10 * 9 {
        return Line::caution(id, format!("{found}: nearly full"), "print it with gunnel notes and put it away");
    }
    Line::good(id, found)
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a review has a plan")]
mod tests {
    use super::super::test_facts::{folder, review};
    use super::*;

    /// The lines of a shared folder after a change to it, as a partner of the group `rigs` meets them.
    fn said(change: fn(&mut Comments)) -> Vec<(&'static str, &'static str)> {
        let mut comments = review().plan.unwrap().comments;
        change(&mut comments);
        comments.lines(Some("rigs")).iter().map(|line| (line.id, line.word())).collect()
    }

    fn mode(comments: &mut Comments, mode: u32) {
        let mut entry = folder("/srv/rigs/boat.ron.comments");
        entry.mode = mode;
        comments.folder = Found::There(entry);
    }

    #[test]
    fn a_shared_folder_is_good_only_with_its_group_and_its_sticky_bit() {
        const SHARED: &str = "comments.sharing";
        assert!(said(|_| {}).iter().all(|(_, word)| *word == "good"));
        assert!(said(|comments| mode(comments, 0o2770)).contains(&(SHARED, "note")));
        assert!(said(|comments| mode(comments, 0o1770)).contains(&(SHARED, "caution")));
        assert!(said(|comments| mode(comments, 0o3777)).contains(&(SHARED, "caution")));
        assert!(said(|comments| mode(comments, 0o700)).iter().all(|(id, _)| *id != SHARED), "nobody shares it");
    }

    #[test]
    fn without_a_folder_to_write_in_a_partner_is_stopped_and_an_owner_is_not() {
        let mut comments = review().plan.unwrap().comments;
        comments.folder = Found::Missing("/srv/my rigs/boat.ron.comments".into());
        let line = comments.folder(Some("rigs"));
        assert_eq!(line.word(), "stop");
        assert_eq!(
            line.commands,
            [
                "mkdir '/srv/my rigs/boat.ron.comments'",
                "chgrp rigs '/srv/my rigs/boat.ron.comments'",
                "chmod 3770 '/srv/my rigs/boat.ron.comments'",
            ]
        );
        assert_eq!(comments.folder(None).word(), "good");
        let mut closed = folder("/srv/rigs/boat.ron.comments");
        closed.may.write = false;
        comments.folder = Found::There(closed);
        assert_eq!((comments.folder(Some("rigs")).word(), comments.folder(None).word()), ("stop", "caution"));
    }

    #[test]
    fn a_file_that_others_can_write_or_that_is_full_is_a_caution() {
        fn check(mode: u32, bytes: u64, word: &str) {
            let file = Entry { kind: Kind::File, mode, bytes, ..folder("/c/partner.lines") };
            assert_eq!(author(&file).word(), word, "{mode:o} {bytes}");
        }
        check(0o640, 1200, "good");
        check(0o660, 1200, "caution");
        check(0o642, 1200, "caution");
        // Nine tenths of 8 MiB.
        check(0o640, 7_549_746, "caution");
        check(0o640, 7_500_000, "good");
    }
}
