//! Words that a ` #` may have cut: YAML reads the rest of the line as a note.
//!
//! `name: Hall # 2` may be the second hall or a hall with a note. A note is plainly one where two blanks or
//! more set it apart, unless a figure stands right after its `#`; where one blank does, both readings are
//! told, and the file is read as YAML reads it. Only words that a person wrote are looked at: after a length,
//! a day or the id of a part there is nothing that a note could belong to.
use super::diagnostic::Diagnostic;
use super::source::Source;
use super::tree::{Node, Value};

/// Whether a line of the text may hold such words; most files need no second look.
pub fn may_be_cut(text: &str) -> bool {
    text.lines().any(|line| line.match_indices('#').any(|(at, _)| cuts(&line[..at], &line[at + 1..])))
}

/// Whether what stands before and after a `#` may be one text.
fn cuts(before: &str, after: &str) -> bool {
    let words = before.trim_end();
    let blanks = before.len() - words.len();
    let figure = after.starts_with(|c: char| c.is_ascii_digit());
    !words.is_empty() && (blanks == 1 || blanks > 1 && figure) && !after.starts_with(['#', '!'])
}

/// The words among these that a ` #` may have cut, each with both readings.
pub fn cut_values(source: &Source, words: &[&Node]) -> Vec<Diagnostic> {
    words.iter().filter_map(|node| cut(source, node)).collect()
}

fn cut(source: &Source, node: &Node) -> Option<Diagnostic> {
    let Value::Text(kept) = &node.value else { return None };
    let text = source.text;
    // Words in quotes are whole, and a block of words holds no notes.
    let plain = !text.get(node.bytes.clone())?.starts_with(['"', '\'', '|', '>']);
    let rest = text.get(node.bytes.end..)?.split(['\n', '\r']).next()?;
    let (blanks, note) = rest.split_once('#').filter(|(blanks, _)| plain && blanks.trim().is_empty())?;
    if !cuts(&format!("x{blanks}"), note) {
        return None;
    }
    // Behind the words may stand a second `#`, which is set apart as a note.
    let note = note.split("  #").next().unwrap_or(note).trim_end();
    let start = node.bytes.end + blanks.len();
    let (kept, cut) = (super::clip(kept), super::clip(&format!("#{note}")));
    let message = format!("this reads `{kept}` alone; `{cut}` is taken for a note");
    let mut diagnostic =
        source.diagnostic(start..start + 1 + note.len(), message, "left out".into()).warning();
    let mark = if note.contains('"') || kept.contains('"') { '\'' } else { '"' };
    diagnostic.help = Some(format!(
        "if it belongs to the words, write `{mark}{kept} {cut}{mark}`; if it is a note, put two spaces before the `#`"
    ));
    Some(diagnostic)
}

#[cfg(test)]
mod tests {
    use super::super::tree::read_tree;
    use super::*;

    fn found(text: &str) -> Vec<Diagnostic> {
        let source = Source::new("a.yaml", text);
        let Ok(root) = read_tree(&source) else { return Vec::new() };
        let Value::Map(map) = &root.value else { return Vec::new() };
        let mut words = Vec::new();
        for (_, value) in map {
            match &value.value {
                Value::List(items) => words.extend(items.iter()),
                _ => words.push(value),
            }
        }
        let told = cut_values(&source, &words);
        assert!(told.is_empty() || may_be_cut(text), "{text}");
        told
    }

    #[test]
    fn words_that_a_note_may_have_cut_are_told_with_both_readings() {
        for (text, kept, cut, column) in [
            ("title: Lot #4\n", "Lot", "#4", 12),
            ("name: Hall # 2\n", "Hall", "# 2", 12),
            ("name: Hall #2   # the second\n", "Hall", "#2", 12),
            ("name: Hall    #2\n", "Hall", "#2", 15),
            ("a: [x,\n  Dock 3 # B\n  ]\n", "Dock 3", "# B", 10),
            ("a:\n  - Dock 3 #B, Port\n", "Dock 3", "#B, Port", 12),
        ] {
            let told = found(text);
            assert_eq!(told.len(), 1, "{text}");
            assert_eq!(told[0].message, format!("this reads `{kept}` alone; `{cut}` is taken for a note"));
            assert_eq!((told[0].column, told[0].len), (column, cut.chars().count()), "{text}");
            let help = told[0].help.as_deref().unwrap_or("");
            assert!(help.contains(&format!("`\"{kept} {cut}\"`")) && help.contains("two spaces"), "{help}");
            assert!(told[0].render_plain().starts_with("warning: "));
        }
    }

    #[test]
    fn notes_are_let_be() {
        for text in [
            "paper: letter        # letter or a4\n",
            "name: Hall  # the one by the stair\n",
            "#title: old\n",
            "a: b\n  # run: 3 ft\n",
            "title: \"Lot #4\"\n",
            "title: 'Lot' # fourth\n",
            "by: a#b\n",
            "list: #first\n  - x\n",
            "title: Gull ## or so\n",
            "text: |\n  Lot # 4\n",
        ] {
            assert!(found(text).is_empty(), "{text}");
        }
    }

    proptest::proptest! {
        #[test]
        fn never_panics(text in "[a-c:\\-\\[\\]{},\"'#@ \n\t1é]{0,60}") {
            let _ = found(&text);
        }
    }
}
