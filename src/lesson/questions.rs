//! The `questions` block: what a reader may ask themselves, and the answers.
//!
//! ```yaml
//! - ask: How many sticks for a 50 ft hose?
//!   options: [Six, Seven, Eight]
//!   right: 2
//!   because: 50 ft and a tenth are 55 ft, and seven sticks are 56 ft.
//! - ask: Where does the cement go?
//!   answer: On the tube.
//!   because: Cement in the socket is pushed into the bore as a ridge.
//! ```
//!
//! The page needs no script: the answer stands in a `<details>`, closed until it is wanted.

use crate::company::{Fields, Reader};
use crate::measure::Kind;
use crate::text::{Diagnostic, Node, Source, Value};

const NOTHING: &str = "the block asks nothing";

/// Questions that have been looked over: each has either a plain answer, or two or more options of which
/// at least one, and each named once, is right.
#[derive(Debug)]
pub(super) struct Asked {
    ask: Words,
    answer: Answer,
    because: Words,
}

#[derive(Debug)]
enum Answer {
    Plain(Words),
    Choice { options: Vec<Words>, right: Vec<usize> },
}

/// Markdown, and where it begins.
#[derive(Debug)]
struct Words {
    text: String,
    line: usize,
    col: usize,
}

/// Sets Markdown as HTML; told the line and column at which it begins.
pub(super) type Setter<'s> = dyn FnMut(&str, usize, usize) -> String + 's;

/// Reads a block that begins on line `line` of the file. All that is wrong with it is told.
pub(super) fn read(file: &str, text: &str, line: usize) -> Result<Vec<Asked>, Vec<Diagnostic>> {
    if text.trim().is_empty() {
        let source = Source::new(file, text).below(line.saturating_sub(1));
        return Err(vec![source.diagnostic(0..0, NOTHING.into(), "expected a question".into())]);
    }
    let (mut r, root) = Reader::open_below(file, line.saturating_sub(1), text, "a list of questions")?;
    let asked = r.list(&root, "a list of questions").map(|items| {
        if items.is_empty() {
            nothing_asked(&mut r, &root);
        }
        items.iter().filter_map(|item| question(&mut r, item)).collect()
    });
    r.finish(asked)
}

/// The questions as HTML, through `set` for their words.
pub(super) fn set(asked: &[Asked], set: &mut Setter) -> String {
    let items: String = asked.iter().map(|one| item(one, set)).collect();
    format!(
        "<section class=\"ask\" aria-label=\"Questions\"><ol class=\"ask-list\">\n{items}</ol></section>\n"
    )
}

const KEYS: [&str; 5] = ["ask", "options", "right", "answer", "because"];

fn question(r: &mut Reader, item: &Node) -> Option<Asked> {
    let f = r.fields(item, "a question", &KEYS)?;
    let ask = r.need(&f, "ask").and_then(|n| words(r, n));
    let because = r.need(&f, "because").and_then(|n| words(r, n));
    let answer = answer(r, item, &f);
    Some(Asked { ask: ask?, answer: answer?, because: because? })
}

/// An answer, or options of which one or more are right.
fn answer(r: &mut Reader, item: &Node, f: &Fields) -> Option<Answer> {
    let (message, help) = match (f.get("options"), f.get("right"), f.get("answer")) {
        (None, None, Some(answer)) => return words(r, answer).map(Answer::Plain),
        (Some(options), Some(right), None) => return choice(r, options, right),
        (Some(_), None, None) => (
            "this question has options, and none is said to be right",
            "add `right:` with the number of the right option, from 1",
        ),
        (None, Some(_), _) => (
            "this question says which option is right, and has none",
            "add `options:`, or give `answer:` in place of `right:`",
        ),
        (Some(_), _, Some(_)) => (
            "this question has both options and an answer",
            "give `options:` with `right:`, or `answer:` alone",
        ),
        (None, None, None) => ("this question has no answer", "add `answer:`, or `options:` and `right:`"),
    };
    r.fail(r.mark_of(item), message, "expected an answer").help = Some(help.into());
    None
}

fn choice(r: &mut Reader, options: &Node, right: &Node) -> Option<Answer> {
    let items = r.list(options, "a list of options")?;
    if items.len() < 2 {
        let message = "a choice needs two options or more";
        r.fail(r.mark_of(options), message, "expected another option").help =
            Some("add an option, or give `answer:`".into());
        return None;
    }
    let set: Vec<Option<Words>> = items.iter().map(|item| words(r, item)).collect();
    let right = right_ones(r, right, items.len());
    Some(Answer::Choice { options: set.into_iter().collect::<Option<_>>()?, right: right? })
}

/// The numbers of the right options: one, or a list of them, each once.
fn right_ones(r: &mut Reader, node: &Node, count: usize) -> Option<Vec<usize>> {
    let nodes = match &node.value {
        Value::List(items) => items.as_slice(),
        _ => std::slice::from_ref(node),
    };
    let mut numbers = Vec::new();
    for node in nodes {
        let number = r.quantity(node, Kind::Plain)?;
        let known = (1..=count).find(|known| *known as f64 == number);
        let (message, help) = match known {
            None => (
                format!("option {number} is said to be right, and there are {count} options"),
                format!("give a number from 1 to {count}"),
            ),
            Some(known) if numbers.contains(&known) => {
                (format!("option {known} is named twice"), "name it once".to_owned())
            }
            Some(known) => {
                numbers.push(known);
                continue;
            }
        };
        r.fail(r.mark_of(node), message, "expected the number of an option").help = Some(help);
        return None;
    }
    if numbers.is_empty() {
        let message = "no option is said to be right";
        r.fail(r.mark_of(node), message, "expected a number").help = Some("give a number from 1".into());
        return None;
    }
    Some(numbers)
}

fn item(asked: &Asked, set: &mut Setter) -> String {
    let ask = set_words(&asked.ask, set);
    let (options, answer) = match &asked.answer {
        Answer::Plain(words) => (String::new(), set_words(words, set)),
        Answer::Choice { options, right } => {
            let set_options: Vec<String> = options.iter().map(|option| set_words(option, set)).collect();
            (option_list(&set_options), chosen(&set_options, right))
        }
    };
    let because = set_words(&asked.because, set);
    format!(
        "<li class=\"ask-item\"><p class=\"ask-what\">{ask}</p>\n{options}\
         <details class=\"ask-answer\"><summary>Show the answer</summary>\n\
         <p><strong>{answer}</strong></p>\n<p>{because}</p>\n</details></li>\n"
    )
}

fn option_list(options: &[String]) -> String {
    let items: String = options.iter().map(|option| format!("<li>{option}</li>\n")).collect();
    format!("<ol class=\"ask-options\" type=\"A\">\n{items}</ol>\n")
}

fn chosen(options: &[String], right: &[usize]) -> String {
    let named: Vec<String> =
        right.iter().map(|&number| format!("{}: {}", letter(number), options[number - 1])).collect();
    named.join("; ")
}

/// The list counts its options A, B, C, ..., Z, AA, AB, as the browser does.
fn letter(number: usize) -> String {
    let mut rest = number;
    let mut letters = Vec::new();
    while rest > 0 {
        letters.push(char::from(b'A' + ((rest - 1) % 26) as u8));
        rest = (rest - 1) / 26;
    }
    letters.iter().rev().collect()
}

fn set_words(words: &Words, set: &mut Setter) -> String {
    set(&words.text, words.line, words.col)
}

fn words(r: &mut Reader, node: &Node) -> Option<Words> {
    let text = r.text(node, "some words")?.to_owned();
    let place = r.place_of(node);
    Some(Words { text, line: place.line, col: place.column })
}

fn nothing_asked(r: &mut Reader, root: &Node) {
    r.fail(r.mark_of(root), NOTHING, "expected a question").help =
        Some("add a question: `- ask:`, `answer:`, `because:`".into());
}
