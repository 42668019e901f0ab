//! `content/words.yaml`: a list of words, each once, with what it means.
use super::super::words::FirmWord;
use super::keys;
use super::kit::Reader;
use crate::text::{Diagnostic, Node, clip, nearest};
use std::collections::HashSet;

/// Reads the words; all that is wrong is told.
pub fn read_words(file: &str, text: &str) -> Result<Vec<FirmWord>, Vec<Diagnostic>> {
    let (mut r, root) = Reader::open(file, text, "a list of words: `- word:`, `means:`")?;
    let words = words(&mut r, &root);
    r.finish(words)
}

fn words(r: &mut Reader, root: &Node) -> Option<Vec<FirmWord>> {
    let items = r.list(root, "a list of words")?;
    let read: Vec<Option<FirmWord>> = items.iter().map(|item| word(r, item)).collect();
    let words: Vec<FirmWord> = read.into_iter().collect::<Option<_>>()?;
    let mut before = HashSet::new();
    for (nth, (word, item)) in words.iter().zip(items).enumerate() {
        unlike_before(r, &mut before, word, item);
        known_others(r, &words, nth, item);
    }
    Some(words)
}

fn word(r: &mut Reader, item: &Node) -> Option<FirmWord> {
    let f = r.thing(item, &keys::WORD)?;
    let word = r.need(&f, "word").and_then(|n| r.name(n, "a word")).map(str::to_owned);
    let means = r.need(&f, "means").and_then(|n| {
        let place = r.place_of(n);
        r.text(n, "what the word means").map(|text| (text.to_owned(), (place.line, place.column)))
    });
    let mut listed = |key: &str| -> Option<Vec<String>> {
        let Some(node) = f.get(key) else { return Some(Vec::new()) };
        let items = r.list(node, "a list of words")?;
        items.iter().map(|item| r.name(item, "a word").map(str::to_owned)).collect()
    };
    let (also, see) = (listed("also"), listed("see"));
    let (means, means_at) = means?;
    Some(FirmWord { word: word?, also: also?, means, means_at, see: see? })
}

/// A word, and another word for it, stands once in the whole list.
fn unlike_before(r: &mut Reader, before: &mut HashSet<String>, word: &FirmWord, item: &Node) {
    if let Some(again) = word.also.iter().find(|also| also.to_lowercase() == word.word.to_lowercase()) {
        let message = format!("`{}` stands twice in this word", clip(&again.to_lowercase()));
        r.fail(r.mark_of(item), message, "its own word").help = Some("leave it out of `also:`".into());
    }
    let all: Vec<String> =
        std::iter::once(&word.word).chain(&word.also).map(|name| name.to_lowercase()).collect();
    let again = all.iter().find(|name| before.contains(*name)).cloned();
    before.extend(all);
    if let Some(again) = again {
        let message = format!("`{}` stands in this list before", clip(&again));
        r.fail(r.mark_of(item), message, "given again here").help =
            Some("keep one of them, and name the other under its `also:`".into());
    }
}

/// `see` leads to other words of the list. Two words may see each other: each has its own meaning.
fn known_others(r: &mut Reader, words: &[FirmWord], nth: usize, item: &Node) {
    let Some(Node { value: crate::text::Value::List(see), .. }) = item.get("see") else { return };
    for node in see {
        let Some(name) = r.text(node, "a word").map(str::to_owned) else { continue };
        let (message, label, help) = match words.iter().position(|word| word.names(&name)) {
            Some(there) if there == nth => {
                (format!("`{}` leads to itself", clip(&name)), "its own word", "leave it out".to_owned())
            }
            Some(there) if words[there].word == name => continue,
            Some(there) => {
                let word = &words[there].word;
                (
                    format!("`{}` is another word for `{}`", clip(&name), clip(word)),
                    "not the firm's word",
                    format!("write `{word}`"),
                )
            }
            None => {
                let near = nearest(&name, words.iter().map(|word| word.word.as_str()));
                let help =
                    near.map_or("name a word of this list".to_owned(), |near| format!("write `{near}`"));
                (format!("this list has no word `{}`", clip(&name)), "unknown word", help)
            }
        };
        r.fail(node.bytes.clone(), message, label).help = Some(help);
    }
}

#[cfg(test)]
mod tests {
    use super::read_words;

    #[test]
    fn two_words_may_see_each_other() {
        let text =
            "- {word: leg, means: A straight., see: [run]}\n- {word: run, means: As written., see: [leg]}\n";
        assert_eq!(read_words("words.yaml", text).unwrap().len(), 2);
    }
}
