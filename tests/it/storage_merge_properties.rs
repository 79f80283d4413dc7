//! Whatever two people did to a plan at the same time: each keeps what only one changed, and the rest is listed.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use std::fs;

use gunnel::compare::merge::{apart, merge};
use gunnel::edit::Edit;
use gunnel::plan::parts::{Part, PartKey};
use gunnel::plan::{Gear, Plan};
use gunnel::storage::document::Brought;
use proptest::prelude::*;

use crate::boats::{name, rich};
use crate::compare::grown;
use crate::storage_merge::{Desk, text};

/// What both made of the same plan, and what reading theirs made of it.
struct Met {
    base: Plan,
    /// What I changed, under the numbers it has beside theirs.
    mine: Vec<Part>,
    theirs: Vec<Part>,
    now: Plan,
    brought: Brought,
}

impl Met {
    /// What was made of a part, if it was changed.
    fn of<'a>(parts: &'a [Part], key: &PartKey) -> Option<&'a Part> {
        parts.iter().find(|part| part.key() == *key)
    }

    fn is_there(&self, part: &Part) -> bool {
        let mut with = self.now.clone();
        with.put(part);
        with == self.now
    }

    fn lists(&self, key: &PartKey) -> bool {
        self.brought.conflicts.iter().any(|conflict| conflict.part.key() == *key)
    }

    fn what_one_changed_is_there(&self) -> Result<(), TestCaseError> {
        for (parts, others) in [(&self.mine, &self.theirs), (&self.theirs, &self.mine)] {
            for part in parts.iter().filter(|part| Self::of(others, &part.key()).is_none()) {
                prop_assert!(self.is_there(part), "{:?} is lost", part.key());
            }
        }
        Ok(())
    }

    fn what_is_listed_was_changed_by_both_and_stays_mine(&self) -> Result<(), TestCaseError> {
        for conflict in &self.brought.conflicts {
            let key = conflict.part.key();
            let (my, their) = (Self::of(&self.mine, &key), Self::of(&self.theirs, &key));
            prop_assert!(my.is_some() && their.is_some() && my != their, "{:?} is no conflict", key);
            prop_assert!(self.is_there(my.unwrap()), "{:?} did not stay mine", key);
        }
        Ok(())
    }

    /// What both changed and is not listed is the same in both, or gear that has the changes of both.
    fn what_both_changed_is_listed_or_has_both(&self) -> Result<(), TestCaseError> {
        for part in self.mine.iter().filter(|part| !self.lists(&part.key())) {
            match (part, Self::of(&self.theirs, &part.key())) {
                (_, None) => {}
                (part, Some(their)) if part == their => {}
                (Part::Gear(id, Some(my)), Some(Part::Gear(_, Some(their)))) => {
                    let (was, is) = (self.base.gear(*id).unwrap(), self.now.gear(*id).unwrap());
                    let merged = [my, their].into_iter().fold(was.clone(), |gear, one| with_changes(gear, was, one));
                    prop_assert_eq!(is, &merged);
                }
                _ => {
                    return Err(TestCaseError::fail(format!("{:?} was changed by both and is not listed", part.key())));
                }
            }
        }
        Ok(())
    }
}

/// `gear` with what was changed from `was` to `one`, of what the deeds of these tests change.
fn with_changes(gear: Gear, was: &Gear, one: &Gear) -> Gear {
    Gear {
        place: if one.place == was.place { gear.place } else { one.place },
        label: if one.label == was.label { gear.label } else { one.label.clone() },
        pinned: if one.pinned == was.pinned { gear.pinned } else { one.pinned },
        ..gear
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn each_keeps_what_only_one_changed_and_the_rest_is_listed(mine in grown(), theirs in grown()) {
        let base = rich();
        let mut desk = Desk::new();
        let parts = base.differences(&mine);
        if !parts.is_empty() {
            desk.does(&[Edit::Put { purpose: name("all of mine"), parts, revisions: None }]);
        }
        fs::write(desk.path(), text(&theirs)).unwrap();
        let brought = desk.reload();
        let now = desk.session.plan().clone();
        prop_assert_eq!(now.validate(), Ok(()));
        if merge(&base, &mine, &theirs).plan.validate().is_ok() {
            prop_assert_eq!(&brought.lost, &Vec::<String>::new());
            let own = base.differences(&apart(&base, &mine, &theirs));
            let met = Met { mine: own, theirs: base.differences(&theirs), base, now, brought };
            met.what_one_changed_is_there()?;
            met.what_is_listed_was_changed_by_both_and_stays_mine()?;
            met.what_both_changed_is_listed_or_has_both()?;
        } else {
            prop_assert!(desk.session.history().is_dirty() || !brought.lost.is_empty(), "mine is lost and not told");
        }
        if desk.session.history().is_dirty() {
            desk.session.undo();
        }
        prop_assert_eq!(desk.session.plan(), &theirs);
        prop_assert!(!desk.session.history().is_dirty(), "more than one step");
    }
}
