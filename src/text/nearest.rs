//! Words that were meant, and words short enough to be repeated.

/// The nearest of some words, when one is near enough to be meant.
pub fn nearest<'a>(word: &str, words: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    let folded = word.to_lowercase();
    if folded.len() > 60 {
        return None;
    }
    words
        .map(|known| (strsim::osa_distance(&folded, &known.to_lowercase()), known))
        .filter(|(steps, known)| *steps <= (known.len().max(folded.len()) / 3).max(1))
        .min_by_key(|(steps, known)| (*steps, std::cmp::Reverse(common_start(&folded, known))))
        .map(|(_, known)| known)
}

/// How many letters two words begin with in common; tells equally near ones apart.
fn common_start(a: &str, b: &str) -> usize {
    a.chars().zip(b.chars()).take_while(|(a, b)| a.eq_ignore_ascii_case(b)).count()
}

/// A word short enough for a sentence.
pub fn clip(word: &str) -> String {
    let line: String = word.chars().map(|c| if c.is_control() { ' ' } else { c }).collect();
    match line.char_indices().nth(40) {
        Some((cut, _)) => format!("{}…", &line[..cut]),
        None => line,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn finds_what_was_meant() {
        let ids = ["sweep-90", "sweep-45", "short-90", "2025-2", "2026-1"];
        for (word, meant) in [
            ("sweep90", Some("sweep-90")),
            ("Short-90", Some("short-90")),
            ("2026-2", Some("2026-1")),
            ("tee", None),
            ("", None),
        ] {
            assert_eq!(nearest(word, ids.into_iter()), meant, "{word}");
        }
    }

    #[test]
    fn clips_long_words() {
        assert_eq!(clip("a\nb"), "a b");
        assert_eq!(clip(&"é".repeat(50)).chars().count(), 41);
    }
}
