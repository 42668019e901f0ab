//! Names as addresses have them: of files, and of headings on a page.

use std::collections::HashSet;

/// A name usable as a file name and an anchor: letters, digits, dots and dashes, small.
pub fn slug(text: &str) -> String {
    let mut out = String::new();
    for c in text.to_lowercase().chars() {
        if c.is_alphanumeric() || c == '.' {
            out.push(c);
        } else if !out.ends_with('-') && !out.is_empty() {
            out.push('-');
        }
    }
    let out = out.trim_matches(['-', '.']).to_string();
    if out.is_empty() { "x".into() } else { out }
}

/// The heading ids given out so far in one lesson.
#[derive(Debug, Default)]
pub struct Slugs {
    taken: HashSet<String>,
}

impl Slugs {
    /// An id for a heading: small ASCII letters, figures and hyphens, unlike any id given before. It holds
    /// no full stop, so the ids of notes, which do, never meet it.
    pub fn give(&mut self, heading: &str) -> String {
        let base = heading_id(heading);
        let mut id = base.clone();
        let mut count = 1;
        while !self.taken.insert(id.clone()) {
            count += 1;
            id = format!("{base}-{count}");
        }
        id
    }
}

fn heading_id(heading: &str) -> String {
    let mut id = String::new();
    for letter in heading.chars().flat_map(char::to_lowercase) {
        match fold(letter) {
            Some(ascii) => id.push_str(ascii),
            None if letter.is_ascii_alphanumeric() => id.push(letter),
            None if letter == '\'' || letter == '’' => {}
            None if !id.is_empty() && !id.ends_with('-') => id.push('-'),
            None => {}
        }
    }
    let id = id.trim_end_matches('-');
    match id.chars().next() {
        None => "part".to_owned(),
        // An id that begins with a figure cannot be named in a style sheet without an escape.
        Some(first) if first.is_ascii_digit() => format!("part-{id}"),
        Some(_) => id.to_owned(),
    }
}

/// The ASCII spelling of the letters of western European languages, and of the trade's signs.
fn fold(letter: char) -> Option<&'static str> {
    Some(match letter {
        'à' | 'á' | 'â' | 'ã' | 'å' | 'ā' => "a",
        'ä' | 'æ' => "ae",
        'ç' | 'č' => "c",
        'è' | 'é' | 'ê' | 'ë' | 'ē' => "e",
        'ì' | 'í' | 'î' | 'ï' => "i",
        'ñ' => "n",
        'ò' | 'ó' | 'ô' | 'õ' => "o",
        'ö' | 'ø' | 'œ' => "oe",
        'ß' => "ss",
        'ù' | 'ú' | 'û' => "u",
        'ü' => "ue",
        'š' => "s",
        'ž' => "z",
        '½' => "1-2",
        '°' => "-degrees",
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ids_are_plain_ascii() {
        assert_eq!(heading_id("Why 360 degrees?"), "why-360-degrees");
        assert_eq!(heading_id("The crew's  count — once"), "the-crews-count-once");
        assert_eq!(heading_id("Größe über Æ"), "groesse-ueber-ae");
        assert_eq!(heading_id("90° sweeps"), "part-90-degrees-sweeps");
        assert_eq!(heading_id("接続"), "part");
    }

    #[test]
    fn ids_are_given_once() {
        let mut slugs = Slugs::default();
        let given = ["Why", "Why", "Why 2", "Why"].map(|heading| slugs.give(heading));
        assert_eq!(given, ["why", "why-2", "why-2-2", "why-3"]);
    }

    #[test]
    fn slugs_are_file_names() {
        assert_eq!(slug("../Étage 2 / hall"), "étage-2-hall");
        assert_eq!(slug("--"), "x");
    }
}
