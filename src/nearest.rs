//! "Did you mean": the known name that a mistyped one most likely stands for.

/// More than any name a person mistypes, in bytes: the distance takes time in proportion to both lengths.
const LONGEST_WORD: usize = 64;

/// The known name nearest to `word` by single-letter slips (capitals do not count), if one is near enough: a third
/// of the letters may be wrong, and one always.
pub fn nearest<'a>(word: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    if word.is_empty() || word.len() > LONGEST_WORD {
        return None;
    }
    let word = word.to_lowercase();
    let most = (word.chars().count() / 3).max(1);
    known
        .into_iter()
        .map(|name| (strsim::osa_distance(&word, &name.to_lowercase()), name))
        .filter(|(distance, _)| *distance <= most)
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, name)| name)
}

#[cfg(test)]
mod tests {
    use super::nearest;

    fn check(word: &str, expected: Option<&str>) {
        let known = ["hole-edge", "hole-flat", "battery-short", "id", "Mm"];
        assert_eq!(nearest(word, known), expected, "{word}");
    }

    #[test]
    fn slips_are_mended_and_other_words_are_not() {
        check("hole-egde", Some("hole-edge"));
        check("hole_flat", Some("hole-flat"));
        check("batery-shrt", Some("battery-short"));
        check("mm", Some("Mm"));
        check("ld", Some("id"));
        check("anchor", None);
        check("", None);
        check(&"x".repeat(1_000_000), None);
    }
}
