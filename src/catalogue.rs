//! The catalogue: generic gear and hull classes that a plan starts from.
//!
//! The entries are data in `assets/`, compiled in and parsed once. Putting an entry aboard copies
//! it into the plan, so a plan never points back here. A person's own entries are handed in as
//! parsed values and win over shipped ones of the same key.

mod hulls;
mod interview;
mod kinds;
mod shipped;

use nucleo_matcher::pattern::{AtomKind, CaseMatching, Normalization, Pattern};
use nucleo_matcher::{Config, Matcher, Utf32Str};

pub use hulls::{HullClass, hull, hulls, new_plan, plan_on};
pub use interview::Interview;
pub use kinds::kind_word;

use crate::plan::Spec;

/// Gear to choose from, in the order it is listed.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Catalogue {
    entries: Vec<Spec>,
}

impl Catalogue {
    /// The entries that come with the program.
    pub fn shipped() -> &'static Self {
        shipped::catalogue()
    }

    /// The same catalogue with a person's own entries: one with a known key takes that entry's
    /// place, the others follow at the end. Of two own entries with one key the later wins.
    #[must_use]
    pub fn with_own(mut self, own: Vec<Spec>) -> Self {
        for spec in own {
            match self.entries.iter_mut().find(|entry| entry.key == spec.key) {
                Some(entry) => *entry = spec,
                None => self.entries.push(spec),
            }
        }
        self
    }

    /// All entries, in the order they are listed.
    pub fn entries(&self) -> &[Spec] {
        &self.entries
    }

    /// The entry with this key.
    pub fn get(&self, key: &str) -> Option<&Spec> {
        self.entries.iter().find(|entry| entry.key.as_str() == key)
    }

    /// The entries that match all of the words, best first; all of them for no words.
    ///
    /// Matching is fuzzy (`disp 9`, `lfp50`) over name, group word and key; capitals do not matter.
    /// The key typed in full comes first, entries less than half as good as the best are left out,
    /// and entries that match equally well stay in the catalogue's order.
    pub fn search(&self, words: &str) -> Vec<&Spec> {
        let pattern = Pattern::new(words, CaseMatching::Ignore, Normalization::Smart, AtomKind::Fuzzy);
        let mut matcher = Matcher::new(Config::DEFAULT);
        let mut score = |text: &str| pattern.score(Utf32Str::new(text, &mut Vec::new()), &mut matcher);
        let mut found: Vec<(u32, &Spec)> = Vec::new();
        for entry in &self.entries {
            let everything = format!("{} {} {}", entry.name, kind_word(entry.kind), entry.key);
            // A word found in the name or key itself says more than one pieced together over all three.
            let name_or_key = score(entry.name.as_str()).max(score(entry.key.as_str()));
            if let Some(points) = score(&everything) {
                let in_full = if entry.key.as_str() == words.trim() { points } else { 0 };
                found.push((points + name_or_key.unwrap_or(0) + in_full, entry));
            }
        }
        let best = found.iter().map(|(points, _)| *points).max().unwrap_or(0);
        found.retain(|(points, _)| 2 * points >= best);
        found.sort_by_key(|(points, _)| std::cmp::Reverse(*points));
        found.into_iter().map(|(_, entry)| entry).collect()
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]
    use super::*;
    use crate::plan::{Key, Name};

    fn first(words: &str, key: &str) {
        let found = Catalogue::shipped().search(words);
        assert_eq!(found.first().map(|spec| spec.key.as_str()), Some(key), "searching \"{words}\"");
    }

    #[test]
    fn a_few_letters_find_the_entry_meant() {
        first("9-inch", "display-9");
        first("disp 12", "display-12");
        first("lfp-50", "battery-lfp-50");
        first("Crate", "crate");
        first("camera boom", "camera-boom");
        first("lfp50", "battery-lfp-50");
        first("net", "net");
    }

    #[test]
    fn a_group_word_finds_its_group_first() {
        let of_kind = |spec: &&Spec| kind_word(spec.kind) == "batteries";
        let batteries = Catalogue::shipped().entries().iter().filter(of_kind).count();
        let found = Catalogue::shipped().search("batteries");
        assert!(batteries >= 10 && found.iter().take(batteries).all(of_kind));
    }

    #[test]
    fn no_words_find_everything_in_order_and_nonsense_nothing() {
        let all = Catalogue::shipped();
        assert!(all.search(" ").into_iter().eq(all.entries()));
        assert!(all.search("zzqqxx").is_empty());
    }

    #[test]
    fn far_fetched_matches_are_left_out() {
        assert!(Catalogue::shipped().search("camera").iter().all(|spec| !spec.key.as_str().starts_with("gland")));
    }

    #[test]
    fn own_entries_win_and_new_ones_follow() {
        let shipped = Catalogue::shipped();
        let mut mine = shipped.get("crate").unwrap().clone();
        mine.name = Name::new("my crate").unwrap();
        let mut extra = mine.clone();
        extra.key = Key::new("bucket").unwrap();
        let both = shipped.clone().with_own(vec![mine.clone(), extra.clone()]);
        assert_eq!(both.get("crate"), Some(&mine));
        assert_eq!(both.entries().last(), Some(&extra));
        assert_eq!(both.entries().len(), shipped.entries().len() + 1);
        assert_ne!(shipped.get("crate"), Some(&mine));
    }
}
