//! Figures that no line may end within.
use super::escape::escape;

/// Markup in which no line ends within a figure like `1-1/4`, which would read as two, nor within a year's number like
/// `2026-1`; `None` where none stands.
pub fn figures_whole(escaped: &str) -> Option<String> {
    let mixed = |word: &str| {
        word.split_once('-').is_some_and(|(inches, fraction)| {
            inches.ends_with(|last: char| last.is_ascii_digit())
                && fraction.split_once('/').is_some_and(|(above, below)| {
                    above.parse::<u32>().is_ok() && below.starts_with(|first: char| first.is_ascii_digit())
                })
        })
    };
    let of_year = |word: &str| {
        word.split_once('-').is_some_and(|(year, rest)| {
            year.len() == 4
                && year.chars().all(|digit| digit.is_ascii_digit())
                && rest.starts_with(|first: char| first.is_ascii_digit())
        })
    };
    escaped.contains('-').then_some(())?;
    let kept = |word: &str| mixed(word) || of_year(word);
    let set = |word: &str| match kept(word) {
        true => {
            let figure = word.trim_end();
            format!("<span class=\"whole\">{figure}</span>{}", &word[figure.len()..])
        }
        false => word.to_owned(),
    };
    let words: Vec<&str> = escaped.split_inclusive(' ').collect();
    words.iter().any(|word| kept(word)).then(|| words.iter().map(|word| set(word)).collect())
}

/// Words as markup in which no line ends within a figure.
pub fn escape_whole(words: &str) -> String {
    let escaped = escape(words);
    figures_whole(&escaped).unwrap_or(escaped)
}

#[cfg(test)]
mod tests {
    use super::figures_whole;

    #[test]
    fn a_mixed_figure_is_kept_on_one_line() {
        let whole = figures_whole("between 3-1/16 and 4 in, right/wrong");
        assert_eq!(
            whole.as_deref(),
            Some("between <span class=\"whole\">3-1/16</span> and 4 in, right/wrong")
        );
    }

    #[test]
    fn a_revision_is_kept_on_one_line() {
        let whole = figures_whole("Installation standard, 2026-1 of 2026-01-15");
        let kept = ["2026-1", "2026-01-15"].map(|year| format!("<span class=\"whole\">{year}</span>"));
        assert_eq!(whole, Some(format!("Installation standard, {} of {}", kept[0], kept[1])));
    }

    #[test]
    fn words_and_plain_fractions_stand_as_they_are() {
        for words in ["1/4 in", "right-hand side/left", "2-3 in", "in-1/4", "call-back"] {
            assert_eq!(figures_whole(words), None, "{words}");
        }
    }
}
