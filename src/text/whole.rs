//! Figures that no line may end within.
use super::escape::escape;

/// Markup in which no line ends within a figure like `1-1/4`, which would read as two; `None` where none stands.
pub fn figures_whole(escaped: &str) -> Option<String> {
    let mixed = |word: &str| {
        word.split_once('-').is_some_and(|(inches, fraction)| {
            inches.ends_with(|last: char| last.is_ascii_digit())
                && fraction.split_once('/').is_some_and(|(above, below)| {
                    above.parse::<u32>().is_ok() && below.starts_with(|first: char| first.is_ascii_digit())
                })
        })
    };
    escaped.contains('/').then_some(())?;
    let set = |word: &str| match mixed(word) {
        true => {
            let figure = word.trim_end();
            format!("<span class=\"whole\">{figure}</span>{}", &word[figure.len()..])
        }
        false => word.to_owned(),
    };
    let words: Vec<&str> = escaped.split_inclusive(' ').collect();
    words.iter().any(|word| mixed(word)).then(|| words.iter().map(|word| set(word)).collect())
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
    fn words_and_plain_fractions_stand_as_they_are() {
        for words in ["1/4 in", "right-hand side/left", "2-3 in", "in-1/4", "call-back"] {
            assert_eq!(figures_whole(words), None, "{words}");
        }
    }
}
