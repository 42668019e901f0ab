//! Words as the index knows them. `find.js` does the same to what is typed; a test holds the two together.

/// Words that stand everywhere and tell nothing.
const IDLE: [&str; 38] = [
    "a", "an", "and", "are", "as", "at", "be", "but", "by", "can", "for", "from", "has", "have", "how", "if",
    "in", "is", "it", "its", "may", "not", "of", "on", "or", "so", "that", "the", "then", "this", "to",
    "was", "what", "when", "where", "which", "with", "you",
];

/// The stems of a text's words, in their order, those that tell nothing left out.
pub fn stems(text: &str) -> Vec<String> {
    let folded = folded(text);
    let words = folded.split(|c: char| !c.is_ascii_alphanumeric()).filter(|word| !word.is_empty());
    words.filter(|word| !IDLE.contains(word)).map(stem).filter(|stem| !stem.is_empty()).collect()
}

/// Small ASCII letters, accents folded.
fn folded(text: &str) -> String {
    text.to_lowercase().chars().filter(|c| !matches!(c, '\'' | '’')).fold(
        String::with_capacity(text.len()),
        |mut out, c| {
            match c.is_ascii() {
                true => out.push(c),
                false => out.push_str(unaccented(c)),
            }
            out
        },
    )
}

/// A letter without its accent; a blank for what is no Latin letter.
fn unaccented(c: char) -> &'static str {
    const PLAIN: [(&str, &str); 10] = [
        ("àáâãäå", "a"),
        ("ç", "c"),
        ("èéêë", "e"),
        ("ìíîï", "i"),
        ("ñ", "n"),
        ("òóôõö", "o"),
        ("ùúûü", "u"),
        ("ýÿ", "y"),
        ("ß", "ss"),
        ("œ", "oe"),
    ];
    PLAIN.iter().find(|(letters, _)| letters.contains(c)).map_or(" ", |(_, plain)| plain)
}

/// A word without its plural and its `-ing` and `-ed`: a light stemmer after the S stemmer of D. Harman (1991),
/// from memory. A word of three letters or fewer, or with a figure in it, stays as it is.
pub fn stem(word: &str) -> String {
    if word.len() <= 3 || word.bytes().any(|b| b.is_ascii_digit()) {
        return word.to_owned();
    }
    let one = singular(word);
    let bare = ["ing", "ed"]
        .into_iter()
        .find_map(|end| one.strip_suffix(end))
        .filter(|bare| bare.len() >= 3 && bare.bytes().any(|b| b"aeiouy".contains(&b)));
    let bare = match bare {
        Some(bare) => undoubled(bare).to_owned(),
        None => one,
    };
    match bare.strip_suffix('e') {
        Some(short) if short.len() >= 3 => short.to_owned(),
        _ => bare,
    }
}

fn singular(word: &str) -> String {
    if let Some(bare) = word.strip_suffix("ies").filter(|bare| bare.len() >= 2) {
        return format!("{bare}y");
    }
    let hisses = ["sses", "xes", "ches", "shes", "zes"];
    if hisses.iter().any(|end| word.ends_with(end)) {
        return word[..word.len() - 2].to_owned();
    }
    match word.strip_suffix('s') {
        Some(bare) if !["s", "u", "i"].iter().any(|end| bare.ends_with(end)) => bare.to_owned(),
        _ => word.to_owned(),
    }
}

/// `fitt` to `fit`; `fill` and `pass` stay.
fn undoubled(word: &str) -> &str {
    let bytes = word.as_bytes();
    match bytes {
        [.., a, b] if a == b && !b"lsz".contains(b) && word.len() > 3 => &word[..word.len() - 1],
        _ => word,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_stem_for_all_forms_of_a_word() {
        for (forms, wanted) in [
            (vec!["bend", "bends", "bending", "bended"], "bend"),
            (vec!["fitting", "fittings", "fits", "fitted", "fit"], "fit"),
            (vec!["bushes", "bush"], "bush"),
            (vec!["assemblies", "assembly"], "assembly"),
            (vec!["drives", "driving", "drive", "drived"], "driv"),
            (vec!["passes", "passing", "pass"], "pass"),
            (vec!["falls", "falling", "fall"], "fall"),
            (vec!["inlets", "inlet"], "inlet"),
        ] {
            for form in forms {
                assert_eq!(stem(form), wanted, "{form}");
            }
        }
        assert_eq!(stems("The hose's Façade, 2x4 of B2"), ["hos", "facad", "2x4", "b2"]);
    }
}
