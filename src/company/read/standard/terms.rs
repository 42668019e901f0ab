//! The words that a standard defines: words of the firm's list, by name alone, or words of its own. A word that
//! the list has is not defined a second time, unless the standard says why it means it otherwise.
use super::super::super::rules::{Definition, Meant, Standard, TermWritten};
use super::super::super::words::FirmWord;
use super::super::{keys, kit::Reader};
use crate::text::{Diagnostic, Node, Value, nearest};

/// Reads the terms as they are written.
pub fn terms(r: &mut Reader, node: &Node) -> Vec<TermWritten> {
    let Some(items) = r.list(node, "a list of terms") else { return Vec::new() };
    let mut terms: Vec<TermWritten> = Vec::new();
    for item in items {
        let Some(term) = term(r, item) else { continue };
        if terms.iter().any(|known| known.term.eq_ignore_ascii_case(&term.term)) {
            let message = format!("the term `{}` stands in this list before", term.term);
            r.fail(r.mark_of(item), message, "given again here").help = Some("keep one of them".into());
            continue;
        }
        terms.push(term);
    }
    terms
}

fn term(r: &mut Reader, item: &Node) -> Option<TermWritten> {
    let at = r.told_at(item);
    if let Value::Text(_) = item.value {
        let term = r.name(item, "a term")?.to_owned();
        return Some(TermWritten { term, means: None, unlike: None, at });
    }
    let f = r.thing(item, &keys::TERM)?;
    let term = r.need(&f, "term").and_then(|n| r.name(n, "a term")).map(str::to_owned);
    let means = r.need(&f, "means").and_then(|n| r.text(n, "what the term means")).map(str::to_owned);
    let unlike = f.get("unlike").and_then(|n| r.text(n, "why it means that here")).map(str::to_owned);
    Some(TermWritten { term: term?, means: Some(means?), unlike, at })
}

/// Settles what the terms of a standard mean, by the firm's list of words; what contradicts it is told and left
/// out. `words` is `None` where the list itself has faults, which are told there.
pub fn settle_terms(standard: &mut Standard, words: Option<&[FirmWord]>) -> Vec<Diagnostic> {
    let mut faults = Vec::new();
    let settled = standard.terms_written.iter().filter_map(|term| match settled(term, words) {
        Ok(definition) => definition,
        Err(fault) => {
            faults.push(*fault);
            None
        }
    });
    standard.terms = settled.collect();
    faults
}

/// A term's definition; none where the list that has it cannot be read.
fn settled(term: &TermWritten, words: Option<&[FirmWord]>) -> Result<Option<Definition>, Box<Diagnostic>> {
    let define =
        |means: &str, meant| Ok(Some(Definition { term: term.term.clone(), means: means.to_owned(), meant }));
    let Some(words) = words else {
        return match &term.means {
            Some(means) => define(means, Meant::Own),
            None => Ok(None),
        };
    };
    let known = words.iter().find(|word| word.names(&term.term));
    match (&term.means, &term.unlike, known) {
        (None, _, Some(word)) if word.word == term.term => define(&word.means, Meant::Shared),
        (None, _, Some(word)) => {
            let message = format!("`{}` is another word for `{}`", term.term, word.word);
            Err(told(term, message, "not the firm's word", format!("write `{}`", word.word)))
        }
        (None, _, None) => {
            let near = nearest(&term.term, words.iter().map(|word| word.word.as_str()));
            let own = "give it a meaning here: `{term: …, means: …}`";
            let help = near.map_or(own.to_owned(), |near| format!("write `{near}`, or {own}"));
            Err(told(term, format!("content/words.yaml has no word `{}`", term.term), "unknown word", help))
        }
        (Some(means), None, None) => define(means, Meant::Own),
        (Some(means), Some(why), Some(_)) => define(means, Meant::Unlike(why.clone())),
        (Some(_), None, Some(word)) => {
            let help = format!(
                "write the word alone, `- {}`, or say why it means something else here: `unlike: …`",
                word.word
            );
            Err(told(
                term,
                format!("`{}` is defined in content/words.yaml too", term.term),
                "defined twice",
                help,
            ))
        }
        (Some(_), Some(_), None) => {
            let message = format!("content/words.yaml has no `{}` that this could be unlike", term.term);
            Err(told(
                term,
                message,
                "unlike nothing",
                "leave `unlike` out, or add the word to that list".into(),
            ))
        }
    }
}

fn told(term: &TermWritten, message: String, label: &str, help: String) -> Box<Diagnostic> {
    Box::new(Diagnostic { message, label: label.into(), help: Some(help), ..term.at.clone() })
}

#[cfg(test)]
mod tests {
    use super::super::super::read_words;
    use super::super::read_standards;
    use super::*;

    const WORDS: &str = "- {word: stop fitting, also: [tail stop], means: The reducer at the end.}\n- {word: riser, means: Steep legs.}\n";

    fn settle(terms: &str, words: Option<&str>) -> (Vec<Definition>, Vec<String>) {
        let text = format!("revision: a\neffective: 2026-01-15\ntitle: T\nterms:\n{terms}parts: []\n");
        let (mut read, found) = read_standards(&[("s.yaml", &text)], &[]);
        assert!(found.is_empty(), "{found:?}");
        let words = words.map(|words| read_words("w.yaml", words).unwrap());
        let faults = settle_terms(&mut read[0], words.as_deref());
        let line = |d: &Diagnostic| {
            format!("{}:{} {} | {}", d.line, d.column, d.message, d.help.clone().unwrap_or_default())
        };
        (read[0].terms.clone(), faults.iter().map(line).collect())
    }

    #[test]
    fn a_word_of_the_list_is_printed_as_it_stands_there() {
        let (terms, faults) = settle("  - stop fitting\n  - {term: bench, means: Ours.}\n", Some(WORDS));
        assert!(faults.is_empty(), "{faults:?}");
        assert_eq!((terms[0].means.as_str(), &terms[0].meant), ("The reducer at the end.", &Meant::Shared));
        assert_eq!((terms[1].means.as_str(), &terms[1].meant), ("Ours.", &Meant::Own));
    }

    #[test]
    fn a_word_that_means_something_else_here_says_why() {
        let terms = "  - {term: riser, means: Any upright tube., unlike: The builder's word.}\n";
        let (terms, faults) = settle(terms, Some(WORDS));
        assert!(faults.is_empty(), "{faults:?}");
        assert_eq!(terms[0].meant, Meant::Unlike("The builder's word.".into()));
    }

    #[test]
    fn what_contradicts_the_list_or_is_not_in_it_is_told() {
        let cases = [
            (
                "- {term: riser, means: Another.}",
                "5:5 `riser` is defined in content/words.yaml too | write the word alone, `- riser`",
            ),
            (
                "- {term: Tail stop, means: Another.}",
                "5:5 `Tail stop` is defined in content/words.yaml too | write the word alone, `- stop fitting`",
            ),
            ("- risr", "5:5 content/words.yaml has no word `risr` | write `riser`, or give it"),
            ("- tail stop", "5:5 `tail stop` is another word for `stop fitting` | write `stop fitting`"),
            (
                "- {term: bench, means: Ours., unlike: So.}",
                "5:5 content/words.yaml has no `bench` that this could be unlike | leave `unlike` out",
            ),
        ];
        for (written, wanted) in cases {
            let (terms, faults) = settle(&format!("  {written}\n"), Some(WORDS));
            assert!(terms.is_empty() && faults.len() == 1, "{written}: {faults:?}");
            assert!(faults[0].starts_with(wanted), "{written}: {}", faults[0]);
        }
    }

    #[test]
    fn a_list_of_words_with_faults_is_told_there_alone() {
        let (terms, faults) = settle("  - riser\n  - {term: bench, means: Ours.}\n", None);
        assert_eq!((terms.len(), faults.len()), (1, 0));
    }
}
