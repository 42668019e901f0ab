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

use serde::Deserialize;
use serde_yaml::Spanned;

use super::place::{Problem, from_yaml};

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

/// Reads a block that begins on line `line` of the lesson's body. All that is wrong with it is told.
pub(super) fn read(text: &str, line: usize) -> Result<Vec<Asked>, Vec<Problem>> {
    let above = line.saturating_sub(1);
    if text.trim().is_empty() {
        return Err(vec![nothing_asked(line)]);
    }
    let written: Vec<Spanned<Written>> =
        serde_yaml::from_str(text).map_err(|error| vec![from_yaml(&error, text, above)])?;
    if written.is_empty() {
        return Err(vec![nothing_asked(line)]);
    }
    let (mut asked, mut problems) = (Vec::new(), Vec::new());
    for question in written {
        match judge(question, above) {
            Ok(one) => asked.push(one),
            Err(problem) => problems.push(problem),
        }
    }
    if problems.is_empty() { Ok(asked) } else { Err(problems) }
}

/// The questions as HTML, through `set` for their words.
pub(super) fn set(asked: &[Asked], set: &mut Setter) -> String {
    let items: String = asked.iter().map(|one| item(one, set)).collect();
    format!(
        "<section class=\"ask\" aria-label=\"Questions\"><ol class=\"ask-list\">\n{items}</ol></section>\n"
    )
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Written {
    ask: Spanned<String>,
    #[serde(default)]
    options: Option<Spanned<Vec<Spanned<String>>>>,
    #[serde(default)]
    right: Option<Spanned<Right>>,
    #[serde(default)]
    answer: Option<Spanned<String>>,
    because: Spanned<String>,
}

#[derive(Debug, Deserialize)]
#[serde(untagged)]
enum Right {
    One(usize),
    Several(Vec<usize>),
}

fn judge(question: Spanned<Written>, above: usize) -> Result<Asked, Problem> {
    let place = (question.referenced.line() as usize + above, question.referenced.column() as usize);
    let written = question.value;
    let answer = match (written.options, written.right, written.answer) {
        (None, None, Some(answer)) => Answer::Plain(words(answer, above)),
        (Some(options), Some(right), None) => choice(options, right, above)?,
        (Some(_), None, None) => {
            return Err(at(place, "this question has options, and none is said to be right")
                .with_help("add `right:` with the number of the right option, from 1"));
        }
        (None, Some(_), _) => {
            return Err(at(place, "this question says which option is right, and has none")
                .with_help("add `options:`, or give `answer:` in place of `right:`"));
        }
        (Some(_), _, Some(_)) => {
            return Err(at(place, "this question has both options and an answer")
                .with_help("give `options:` with `right:`, or `answer:` alone"));
        }
        (None, None, None) => {
            return Err(at(place, "this question has no answer")
                .with_help("add `answer:`, or `options:` and `right:`"));
        }
    };
    Ok(Asked { ask: words(written.ask, above), answer, because: words(written.because, above) })
}

fn choice(
    options: Spanned<Vec<Spanned<String>>>,
    right: Spanned<Right>,
    above: usize,
) -> Result<Answer, Problem> {
    let count = options.value.len();
    if count < 2 {
        let place = (options.referenced.line() as usize + above, options.referenced.column() as usize);
        return Err(
            at(place, "a choice needs two options or more").with_help("add an option, or give `answer:`")
        );
    }
    let place = (right.referenced.line() as usize + above, right.referenced.column() as usize);
    let numbers = match right.value {
        Right::One(number) => vec![number],
        Right::Several(numbers) => numbers,
    };
    if numbers.is_empty() {
        return Err(at(place, "no option is said to be right").with_help("give a number from 1"));
    }
    for (index, &number) in numbers.iter().enumerate() {
        if number == 0 || number > count {
            let message = format!("option {number} is said to be right, and there are {count} options");
            return Err(at(place, message).with_help(format!("give a number from 1 to {count}")));
        }
        if numbers[..index].contains(&number) {
            return Err(at(place, format!("option {number} is named twice")).with_help("name it once"));
        }
    }
    let options = options.value.into_iter().map(|option| words(option, above)).collect();
    Ok(Answer::Choice { options, right: numbers })
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

fn words(spanned: Spanned<String>, above: usize) -> Words {
    Words {
        line: spanned.referenced.line() as usize + above,
        col: spanned.referenced.column() as usize,
        text: spanned.value,
    }
}

fn nothing_asked(line: usize) -> Problem {
    at((line, 1), "the block asks nothing").with_help("add a question: `- ask:`, `answer:`, `because:`")
}

fn at((line, col): (usize, usize), message: impl Into<String>) -> Problem {
    Problem { line, col: col.max(1), len: 1, message: message.into(), help: None }
}
