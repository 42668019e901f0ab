//! The known name that a word probably meant, and words short enough to be repeated.

/// Words of the trade that mean another name than the one they look like; a word of the left column is
/// never answered with anything but its right column. Spelt folded: small letters, `-` between words.
///
/// Wood glued or pressed together is bored by its maker's chart alone, so that none of its names may be
/// answered with `joist`. All from common practice.
const MEANT: [(&str, &str); 54] = [
    ("i-joist", "engineered"),
    ("ijoist", "engineered"),
    ("wood-i-joist", "engineered"),
    ("i-beam", "engineered"),
    ("wood-i-beam", "engineered"),
    ("lvl", "engineered"),
    ("psl", "engineered"),
    ("lsl", "engineered"),
    ("osl", "engineered"),
    ("glulam", "engineered"),
    ("glu-lam", "engineered"),
    ("glue-lam", "engineered"),
    ("glued-laminated", "engineered"),
    ("laminated", "engineered"),
    ("laminated-veneer", "engineered"),
    ("laminated-veneer-lumber", "engineered"),
    ("truss-joist", "engineered"),
    ("engineered-joist", "engineered"),
    ("engineered-wood", "engineered"),
    ("engineered-lumber", "engineered"),
    ("composite-joist", "engineered"),
    ("web-joist", "engineered"),
    ("open-web-joist", "truss"),
    ("floor-truss", "truss"),
    ("roof-truss", "truss"),
    ("sole-plate", "bottom-plate"),
    ("soleplate", "bottom-plate"),
    ("sole", "bottom-plate"),
    ("floor-plate", "bottom-plate"),
    ("head-plate", "top-plate"),
    ("floor-joist", "joist"),
    ("ceiling-joist", "joist"),
    ("wall-stud", "stud"),
    ("brick", "masonry"),
    ("block", "masonry"),
    ("concrete", "masonry"),
    ("steel-beam", "steel"),
    ("steel-stud", "steel"),
    ("metal-stud", "steel"),
    ("elbow", "bend"),
    ("ell", "bend"),
    ("sweep", "bend"),
    ("wye", "junction"),
    ("tee", "junction"),
    ("sleeve", "coupling"),
    ("plug", "cap"),
    ("n", "north"),
    ("s", "south"),
    ("e", "east"),
    ("w", "west"),
    ("u", "up"),
    ("d", "down"),
    ("upward", "up"),
    ("downward", "down"),
];

/// Longer words than this are prose; nobody meant a name by them.
const LONGEST: usize = 60;

/// The known name that a word meant, when one is near enough.
///
/// First the same word in other case or spacing, then a word of the trade (`MEANT`), then the least
/// number of slips (letters changed, left out, put in or swapped): one, or a third of the letters, behind
/// the same first letter. A single letter is near nothing.
pub fn nearest<'a>(word: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let folded = fold(word);
    if folded.len() > LONGEST {
        return None;
    }
    let known: Vec<&str> = known.into_iter().collect();
    let same = |name: &str| known.iter().copied().find(|known| fold(known) == name);
    if let Some(found) = same(&folded) {
        return Some(found);
    }
    let single = folded.strip_suffix('s').filter(|rest| !rest.is_empty()).unwrap_or(&folded);
    if let Some((_, meant)) = MEANT.iter().find(|(said, _)| *said == folded || *said == single) {
        return same(meant);
    }
    let near = known.iter().copied().filter_map(|name| Some((slips(&folded, &fold(name))?, name)));
    near.min_by_key(|(slips, name)| (*slips, std::cmp::Reverse(common_start(&folded, &fold(name)))))
        .map(|(_, name)| name)
}

/// How many slips lie between two folded words; `None` when they are too many to be slips.
fn slips(word: &str, name: &str) -> Option<usize> {
    let (letters, most) = (word.chars().count(), name.chars().count());
    if letters < 2 || most < 2 {
        return None;
    }
    let slips = strsim::osa_distance(word, name);
    // People seldom miss the first letter, and a maker's name before `joist` must not come out as one.
    // A figure is no slip: a 60 ft hose is no 50 ft hose, and revision 2026-2 is not 2026-1.
    if !figures(&noughts(word)).eq(figures(&noughts(name))) {
        return None;
    }
    let reach = if word.chars().next() == name.chars().next() { (letters.max(most) / 3).max(1) } else { 0 };
    (slips <= reach).then_some(slips)
}

/// A word with a nought for each letter O that follows a figure: `inH20` is `inH2O`.
fn noughts(word: &str) -> String {
    let mut before = ' ';
    let mut nought = |c: char| {
        let c = if c == 'o' && before.is_ascii_digit() { '0' } else { c };
        before = c;
        c
    };
    word.chars().map(&mut nought).collect()
}

/// The whole numbers in a word, without noughts before them.
fn figures(word: &str) -> impl Iterator<Item = &str> {
    let numbers = word.split(|c: char| !c.is_ascii_digit()).filter(|number| !number.is_empty());
    numbers.map(|number| number.trim_start_matches('0'))
}

/// Small letters, and one `-` for whatever stands between words.
fn fold(word: &str) -> String {
    let dashed: String = word
        .trim()
        .chars()
        .flat_map(char::to_lowercase)
        .map(|c| if c.is_whitespace() || matches!(c, '_' | '‐' | '–') { '-' } else { c })
        .collect();
    dashed.split('-').filter(|part| !part.is_empty()).collect::<Vec<_>>().join("-")
}

/// How many letters two words begin with in common; tells equally near ones apart.
fn common_start(a: &str, b: &str) -> usize {
    a.chars().zip(b.chars()).take_while(|(a, b)| a == b).count()
}

/// A word short enough for a sentence, without what would move a terminal's cursor.
pub fn clip(word: &str) -> String {
    const MOST: usize = 40;
    let line: String = word.chars().map(|c| if super::source::is_odd(c) { ' ' } else { c }).collect();
    match line.char_indices().nth(MOST) {
        Some((cut, _)) => format!("{}…", &line[..cut]),
        None => line,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const MEMBERS: [&str; 9] =
        ["stud", "joist", "rafter", "top-plate", "bottom-plate", "engineered", "truss", "steel", "masonry"];

    #[test]
    fn finds_what_was_meant() {
        let ids = ["sweep-90", "sweep-45", "short-90", "2025-2", "2026-1"];
        for (word, meant) in [
            ("sweep90", Some("sweep-90")),
            ("Short-90", Some("short-90")),
            ("sweep 90", Some("sweep-90")),
            ("2026-2", None),
            ("2026-01", Some("2026-1")),
            ("sweep-60", None),
            ("swep-90", Some("sweep-90")),
            ("tee", None),
            ("", None),
        ] {
            assert_eq!(nearest(word, ids), meant, "{word}");
        }
        assert_eq!(nearest("bend-totl", ["hose-room", "bend-total"]), Some("bend-total"));
        assert_eq!(nearest("gasket", ["hose-room", "bend-total"]), None);
    }

    /// A joist of sawn wood may be bored by the code's figures; glued and pressed wood may not.
    #[test]
    fn engineered_wood_is_never_taken_for_a_joist() {
        for word in [
            "I-joist",
            "i joist",
            "I-joists",
            "ijoist",
            "LVL",
            "lvl",
            "glulam",
            "GluLam",
            "glu-lam",
            "truss joist",
            "truss-joists",
            "PSL",
            "LSL",
            "engineered joist",
            "wood I-joist",
        ] {
            assert_eq!(nearest(word, MEMBERS), Some("engineered"), "{word}");
        }
        for word in ["x-joist", "web-joist", "tjoist", "xljoist", "cl joist", "box joist", "rim-joist"] {
            assert_ne!(nearest(word, MEMBERS), Some("joist"), "{word}");
        }
        assert_eq!(nearest("joits", MEMBERS), Some("joist"));
        assert_eq!(nearest("floor joist", MEMBERS), Some("joist"));
        assert_eq!(nearest("sole-plate", MEMBERS), Some("bottom-plate"));
        assert_eq!(nearest("Sole plate", MEMBERS), Some("bottom-plate"));
        // A word of the trade whose meaning is not among the known names leads nowhere else.
        assert_eq!(nearest("LVL", ["level", "lv"]), None);
    }

    #[test]
    fn a_far_word_is_near_nothing() {
        for word in ["left", "right", "x", "forward"] {
            assert_eq!(nearest(word, ["east", "west", "north", "south", "up", "down"]), None, "{word}");
        }
        assert_eq!(nearest("nroth", ["east", "west", "north"]), Some("north"));
    }

    #[test]
    fn clips_long_words() {
        assert_eq!(clip("a\nb\u{1b}[31m"), "a b [31m");
        assert_eq!(clip(&"é".repeat(50)).chars().count(), 41);
    }
}
