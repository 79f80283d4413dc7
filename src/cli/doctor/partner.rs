//! Two accounts and one plan: what the partner's account can do with it, and whether the owner has opened what the
//! partner needs and no more.

use super::entry::{Entry, Found, Kind};
use super::line::Line;
use super::plan::PlanFacts;
use super::shell::{chgrp, command};
use crate::plan::Key;
use crate::storage::comments::LARGEST_BYTES;

/// As the partner's account: the plan is read and not written, and what is said has a place.
pub fn partner(name: &Key, plan: &PlanFacts) -> Vec<Line> {
    let mut lines: Vec<Line> = plan.closed.iter().map(|folder| closed(folder, &plan.group)).collect();
    match plan.file.entry() {
        Some(file) if !file.may.read => lines.push(unread(file, &plan.group)),
        Some(file) => lines.push(changed(file)),
        None => {}
    }
    if plan.is_unreadable() {
        return lines;
    }
    lines.extend(plan.folder.entry().map(replaced));
    lines.extend(plan.own.as_ref().map(|own| speaks(name, own)));
    lines
}

fn closed(folder: &Entry, group: &str) -> Line {
    let found = format!("{} does not let this account through ({})", shown(folder), folder.rights());
    Line::stop("partner.way", found, "as its owner, let the group through, or put the plan elsewhere")
        .by([chgrp(group, &folder.path), command("chmod g+x", &folder.path)])
}

fn unread(file: &Entry, group: &str) -> Line {
    let found = format!("this account cannot read the plan ({})", file.rights());
    Line::stop("partner.read", found, "as its owner, let the group read it")
        .by([chgrp(group, &file.path), command("chmod 640", &file.path)])
}

/// Whether the partner's account could change the plan by other means than a review, which never does.
fn changed(file: &Entry) -> Line {
    let id = "partner.plan";
    if file.mine {
        return Line::caution(id, "this account can change the plan: it is its own", "review from another account");
    }
    if file.may.write {
        let found = format!("this account can change the plan ({})", file.rights());
        return Line::caution(id, found, "as its owner, let others read it only")
            .by([command("chmod g-w,o-w", &file.path)]);
    }
    Line::good(id, "this account can read the plan and not change it")
}

/// Whether it could put another file in the plan's place.
fn replaced(folder: &Entry) -> Line {
    let id = "partner.folder";
    if !folder.may.write {
        return Line::good(id, "this account can put nothing in the plan's place");
    }
    let found =
        format!("this account can put another file in the plan's place: {} ({})", shown(folder), folder.rights());
    let remedy = "as its owner, let others make nothing in it";
    Line::caution(id, found, remedy).by([command("chmod g-w,o-w", &folder.path)])
}

/// The file in which the partner speaks.
fn speaks(name: &Key, own: &Found) -> Line {
    let id = "partner.file";
    let file = match own {
        Found::Missing(_) => return Line::good(id, format!("{name} can say something, and has not yet")),
        Found::Refused(_, why) => {
            return Line::stop(id, format!("the file of {name}: {why}"), "open the folder of comments");
        }
        Found::There(file) => file,
    };
    if file.kind != Kind::File {
        return Line::stop(id, format!("{} is no ordinary file", shown(file)), "as the owner, move it away");
    }
    if !file.mine {
        let found = format!("{name} is {}'s name: {} ({})", file.owner, shown(file), file.rights());
        return Line::stop(id, found, "take another name with --as, one for each account");
    }
    if !(file.may.read && file.may.write) {
        return Line::stop(id, format!("{} cannot be written ({})", shown(file), file.rights()), "open it to yourself")
            .by([command("chmod 640", &file.path)]);
    }
    if file.bytes >= LARGEST_BYTES {
        return Line::stop(id, format!("{} is full", shown(file)), "ask the owner to put it away");
    }
    if !file.has(0o040) {
        let found = format!("the owner cannot read what {name} says ({})", file.rights());
        return Line::caution(id, found, "let the group read it").by([command("chmod g+r", &file.path)]);
    }
    Line::good(id, format!("{name} can say something"))
}

/// Whether it is the plan's owner who speaks as such: a review refuses that name, and a folder that is shared does not.
pub fn impostor(plan: &PlanFacts) -> Option<Line> {
    let named = |file: &&Entry| file.path.file_stem().is_some_and(|name| name == "owner");
    let speaks = plan.comments.authors.iter().find(named)?;
    let owner = &plan.file.entry()?.owner;
    (speaks.owner != *owner).then(|| {
        let found = format!("{} speaks as the owner, and the plan is {owner}'s", speaks.owner);
        let remedy = "find out who that is before you believe what is said there";
        Line::stop("comments.owner", found, remedy)
    })
}

/// As the owner of a plan whose comments are shared with a group: what that group can do with the plan.
pub fn owner(plan: &PlanFacts) -> Option<Line> {
    let id = "sharing.plan";
    let (folder, file) = (plan.comments.shared()?, plan.file.entry()?);
    let group = &folder.group;
    if file.has(0o022) {
        let found = format!("others can change the plan, not only comment on it ({})", file.rights());
        return Some(Line::caution(id, found, "let them read it only").by([command("chmod g-w,o-w", &file.path)]));
    }
    if file.has(0o004) || (file.has(0o040) && file.group == *group) {
        return Some(Line::good(id, format!("{group} can read the plan and not change it")));
    }
    let found = format!("{group} may comment on the plan and cannot read it ({})", file.rights());
    let commands = [chgrp(group, &file.path), command("chmod 640", &file.path)];
    Some(Line::caution(id, found, "let the group read it").by(commands))
}

fn shown(entry: &Entry) -> String {
    crate::storage::paths::shown(&entry.path)
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a review has a plan, the plan is there")]
mod tests {
    use super::super::test_facts::{file, folder, review};
    use super::*;

    fn said(change: fn(&mut PlanFacts)) -> Vec<(&'static str, &'static str)> {
        let mut plan = review().plan.unwrap();
        change(&mut plan);
        partner(&Key::new("partner").unwrap(), &plan).iter().map(|line| (line.id, line.word())).collect()
    }

    /// The plan's file after a change to it.
    fn with(plan: &mut PlanFacts, change: fn(&mut Entry)) {
        let mut entry = plan.file.entry().unwrap().clone();
        change(&mut entry);
        plan.file = Found::There(entry);
    }

    #[test]
    fn a_good_setup_is_good_throughout() {
        let good = ["partner.plan", "partner.folder", "partner.file"].map(|id| (id, "good"));
        assert_eq!(said(|_| {}), good);
    }

    #[test]
    fn more_than_a_partner_needs_is_a_caution_and_less_is_a_stop() {
        let check = |change: fn(&mut PlanFacts), id, word| {
            let said = said(change);
            assert!(said.contains(&(id, word)), "{id} {word}: {said:?}");
        };
        check(|plan| with(plan, |file| file.may.write = true), "partner.plan", "caution");
        check(|plan| with(plan, |file| file.mine = true), "partner.plan", "caution");
        check(|plan| with(plan, |file| file.may.read = false), "partner.read", "stop");
        check(|plan| plan.closed = Some(folder("/srv")), "partner.way", "stop");
        let open = |plan: &mut PlanFacts| {
            let mut entry = folder("/srv/rigs");
            entry.may.write = true;
            plan.folder = Found::There(entry);
        };
        check(open, "partner.folder", "caution");
        check(|plan| plan.own = Some(Found::Missing("/c/partner.lines".into())), "partner.file", "good");
        check(|plan| plan.own = Some(Found::There(file("/c/partner.lines"))), "partner.file", "stop");
        let own = |change: fn(&mut Entry)| {
            let mut entry = Entry { mine: true, ..file("/c/partner.lines") };
            entry.may.write = true;
            change(&mut entry);
            speaks(&Key::new("partner").unwrap(), &Found::There(entry)).word()
        };
        assert_eq!(own(|_| {}), "good");
        assert_eq!(own(|file| file.may.write = false), "stop");
        assert_eq!(own(|file| file.bytes = LARGEST_BYTES), "stop");
        assert_eq!(own(|file| file.mode = 0o600), "caution");
        assert_eq!(own(|file| file.kind = Kind::Link), "stop");
    }

    #[test]
    fn who_speaks_as_the_owner_must_be_the_owner() {
        let mut plan = review().plan.unwrap();
        assert_eq!(impostor(&plan), None);
        plan.comments.authors[0].owner = "review".into();
        assert_eq!(impostor(&plan).unwrap().word(), "stop");
    }

    #[test]
    fn an_owner_learns_what_the_group_can_do() {
        fn check(mode: u32, group: &str, word: &str) {
            let mut plan = review().plan.unwrap();
            let group = group.to_string();
            plan.file = Found::There(Entry { group, mode, ..file("/srv/rigs/boat.ron") });
            assert_eq!(owner(&plan).unwrap().word(), word, "{mode:o}");
        }
        check(0o640, "rigs", "good");
        check(0o644, "others", "good");
        check(0o660, "rigs", "caution");
        check(0o646, "rigs", "caution");
        check(0o640, "others", "caution");
        check(0o600, "rigs", "caution");
    }
}
