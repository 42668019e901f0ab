//! Questions as HTML: fields on the page, and the answers as a list that stands apart.

use super::super::amount::Amount;
use super::super::render::{Judged, Part};
use super::super::words::SetWords;
use super::{Asked, Form, Raceway, Sum, SumOf, Words, mixed};
use crate::text::{escape, escape_whole};

/// What setting questions asks of the pass that meets them; each tells its own faults.
pub trait Setter {
    /// Words set as HTML.
    fn words(&mut self, words: &Words) -> SetWords;
    /// Words that have to be one paragraph.
    fn line(&mut self, words: &Words) -> SetWords;
    /// The drawing of a raceway written in place, nothing said about it.
    fn drawing(&mut self, text: &str, line: usize) -> String;
    /// A number worked out, and how near is near enough, both in the unit of the first.
    fn amount(&mut self, sum: &Sum) -> Option<(Amount, f64)>;
    /// A raceway judged.
    fn judged(&mut self, raceway: &Raceway, breaks: &[String], at: &Words) -> Option<Judged>;
}

/// Questions set: the block, and of each question its answer, an item of a list, and its id.
pub struct SetBlock {
    pub html: String,
    pub answers: Vec<String>,
    pub ids: Vec<String>,
}

/// The questions of a block, numbered on from `first`.
pub fn set(asked: &[Asked], first: usize, hand: &mut dyn Setter) -> SetBlock {
    let mut items = String::new();
    let mut answers = Vec::new();
    for (nth, one) in asked.iter().enumerate() {
        let (item, answer) = question(one, first + nth, hand);
        items.push_str(&item);
        answers.push(answer);
    }
    let html = format!("<div class=\"ask\"><ol class=\"ask-list\" start=\"{first}\">\n{items}</ol></div>\n");
    SetBlock { html, answers, ids: asked.iter().map(|one| mixed::id(&one.ask.text)).collect() }
}

/// What a form puts on the page: fields, and what the script compares with.
struct Fields {
    form: &'static str,
    html: String,
    /// The right answer as the script reads it.
    key: String,
    /// The right answer as a person reads it, HTML.
    answer: String,
}

fn question(asked: &Asked, number: usize, hand: &mut dyn Setter) -> (String, String) {
    let ask = hand.line(&asked.ask).html;
    let because = hand.words(&asked.because);
    let because = if because.is_inline() { format!("<p>{}</p>", because.html) } else { because.html };
    let drawing = match (&asked.form, &asked.raceway) {
        (Form::Judge { .. }, _) => String::new(),
        (_, Some(Raceway::Written { text, line })) => hand.drawing(text, *line),
        _ => String::new(),
    };
    let fields = match &asked.form {
        Form::One { right, wrong } => options(asked, number, std::slice::from_ref(right), wrong, false, hand),
        Form::Several { right, wrong } => options(asked, number, right, wrong, true, hand),
        Form::Order(steps) => ordered(asked, number, steps, hand),
        Form::Number(sum) => numbered(number, sum, hand),
        Form::Judge { breaks, at } => judged(asked, number, breaks, at, hand),
    };
    let Fields { form, html, key, answer } = fields;
    let item = format!(
        "<li class=\"ask-item\" id=\"ask.{number}\" data-form=\"{form}\" data-ask=\"{}\"><fieldset>\n\
         <legend class=\"ask-what\">{ask}</legend>\n{drawing}{html}\
         <p class=\"ask-act\" hidden><button type=\"button\" class=\"ask-check\">Check</button></p>\n\
         <div class=\"ask-told\" role=\"status\"></div>\n<p class=\"ask-write\">Why:</p>\n</fieldset></li>\n",
        mixed::id(&asked.ask.text)
    );
    let answer = format!(
        "<li class=\"answer\" id=\"answer.{number}\" value=\"{number}\" data-key=\"{}\"><p><strong>{answer}</strong></p>\n{because}</li>\n",
        escape(&key)
    );
    (item, answer)
}

/// One right option or several, in the order that their words give.
fn options(
    asked: &Asked,
    number: usize,
    right: &[Words],
    wrong: &[Words],
    several: bool,
    hand: &mut dyn Setter,
) -> Fields {
    let all: Vec<&Words> = right.iter().chain(wrong).collect();
    let texts: Vec<&str> = all.iter().map(|words| words.text.as_str()).collect();
    let (kind, hint) =
        if several { ("checkbox", "Tick all that are right.") } else { ("radio", "Pick one.") };
    let (mut rows, mut keys, mut answers) = (String::new(), Vec::new(), Vec::new());
    for (place, at) in mixed::order(&asked.ask.text, &texts).into_iter().enumerate() {
        let (words, letter) = (hand.line(all[at]).html, letter(place + 1));
        // Fields to pick one of share a name; those to tick have one each.
        let name = if several { format!("ask.{number}.{letter}") } else { format!("ask.{number}") };
        rows.push_str(&format!(
            "<label class=\"ask-option\"><input type=\"{kind}\" name=\"{name}\" value=\"{letter}\"> \
             <b class=\"ask-letter\">{letter}</b> <span>{words}</span></label>\n"
        ));
        if at < right.len() {
            answers.push(format!("{letter}: {words}"));
            keys.push(letter);
        }
    }
    Fields {
        form: if several { "several" } else { "one" },
        html: format!("<p class=\"ask-hint fine\">{hint}</p>\n<div class=\"ask-options\">\n{rows}</div>\n"),
        key: keys.join(" "),
        answer: answers.join("; "),
    }
}

/// Steps to be put in order: a box to number each on paper, buttons by the script on the page.
fn ordered(asked: &Asked, number: usize, steps: &[Words], hand: &mut dyn Setter) -> Fields {
    let texts: Vec<&str> = steps.iter().map(|words| words.text.as_str()).collect();
    let places = mixed::steps(&asked.ask.text, &texts);
    let mut rows = String::new();
    let mut letters = vec![String::new(); steps.len()];
    for (place, at) in places.into_iter().enumerate() {
        letters[at] = letter(place + 1);
        rows.push_str(&format!(
            "<li class=\"ask-step\" data-step=\"{}\"><span class=\"empty-box\"></span> <span class=\"ask-step-words\">{}</span></li>\n",
            letters[at],
            hand.line(&steps[at]).html
        ));
    }
    let answers: Vec<String> = steps.iter().map(|words| hand.line(words).html).collect();
    Fields {
        form: "order",
        html: format!(
            "<p class=\"ask-hint fine\">Put these in order, the first on top. On paper: number the boxes.</p>\n\
             <ul class=\"ask-steps\" id=\"steps.{number}\">\n{rows}</ul>\n"
        ),
        key: letters.join(" "),
        answer: answers.join(" → "),
    }
}

fn numbered(number: usize, sum: &Sum, hand: &mut dyn Setter) -> Fields {
    let Some((amount, within)) = hand.amount(sum) else {
        return Fields { form: "number", html: String::new(), key: String::new(), answer: "–".into() };
    };
    let source = match &sum.of {
        SumOf::Reckoned { .. } => String::new(),
        SumOf::Typed { source, .. } => format!(" <span class=\"fine\">({})</span>", hand.line(source).html),
    };
    let (unit, hint) = (escape(&amount.unit), amount.hint());
    let near = if within > 0.0 { format!(", {} either way", amount.near(within)) } else { String::new() };
    Fields {
        form: "number",
        html: format!(
            "<p class=\"ask-number\"><label>Your answer <input type=\"text\" class=\"blank\" autocomplete=\"off\" spellcheck=\"false\" \
             data-lengths=\"{}\" aria-describedby=\"hint.{number}\"></label> {unit} <span class=\"fine\" id=\"hint.{number}\">{hint}</span></p>\n",
            amount.lengths()
        ),
        key: format!("{} {}", amount.value, within),
        answer: format!("{}{}{source}", escape_whole(&amount.words), escape(&near)),
    }
}

fn judged(asked: &Asked, number: usize, breaks: &[String], at: &Words, hand: &mut dyn Setter) -> Fields {
    let judged = asked.raceway.as_ref().and_then(|raceway| hand.judged(raceway, breaks, at));
    let Some(Judged { html, parts, wrong, told }) = judged else {
        return Fields { form: "judge", html: String::new(), key: String::new(), answer: "–".into() };
    };
    let nothing = Part { mark: "nothing".into(), words: "Nothing is wrong".into() };
    let row = |part: &Part| {
        format!(
            "<label class=\"ask-part\"><input type=\"checkbox\" name=\"ask.{number}.{}\" value=\"{}\"> <span>{}</span></label>\n",
            escape(&part.mark),
            escape(&part.mark),
            escape_whole(&part.words)
        )
    };
    let rows: String = parts.iter().chain([&nothing]).map(row).collect();
    let key: Vec<String> = wrong.iter().map(|group| group.join(" ")).collect();
    let answer = if told.is_empty() { "Nothing is wrong".to_owned() } else { escape_whole(&told.join("; ")) };
    Fields {
        form: "judge",
        html: format!(
            "<div class=\"ask-drawing\">{html}</div>\n\
             <p class=\"ask-hint fine\">Tap what is wrong in the drawing, or pick it from the list. On paper: circle it.</p>\n\
             <div class=\"ask-parts\">\n{rows}</div>\n"
        ),
        key: if key.is_empty() { "nothing".into() } else { key.join("; ") },
        answer,
    }
}

/// The list counts its options A, B, C, ..., Z, AA, AB.
fn letter(number: usize) -> String {
    let mut rest = number;
    let mut letters = Vec::new();
    while rest > 0 {
        letters.push(char::from(b'A' + ((rest - 1) % 26) as u8));
        rest = (rest - 1) / 26;
    }
    letters.iter().rev().collect()
}
