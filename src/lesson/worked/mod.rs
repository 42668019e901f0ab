//! The `worked` block: an example worked step by step, each stated figure reckoned again as it is published.
//!
//! ```yaml
//! title: The tube between two sweeps
//! steps:
//!   - say: The leg on the drawing, work point to work point.
//!     sum: leg(1, 2)
//!     is: 5 ft 4 in
//!     as: leg
//!   - say: Each sweep takes off its laying length.
//!     sum: leg - 2 * laying(sweep-90)
//!     is: 4 ft 0 in
//! ```
//!
//! A figure that does not agree is refused with its place and the one that was reckoned.

mod sum;
mod value;

pub use sum::Given;
pub use value::{Dimension, Figure};

use super::keys::{EXAMPLE, STEP};
use super::render::Blocks;
use super::words::Words;
use crate::company::{Fields, Reader};
use crate::measure::Say;
use crate::text::{Diagnostic, Node, escape_whole};
use std::ops::Range;
use sum::Known;
use value::Stated;
pub(super) use value::{stated, unit};

/// An example whose figures all agree.
#[derive(Debug)]
pub(super) struct Worked {
    pub title: Words,
    pub steps: Vec<Step>,
}

/// A step: what is done, and the figure it comes to where it comes to one.
#[derive(Debug)]
pub(super) struct Step {
    pub say: Words,
    /// The sum as it is shown, empty where the program alone knows it, and its figure as it is stated.
    pub comes_to: Option<(String, String)>,
}

/// Reads a block that begins on line `line` of the file, and reckons it. All that is wrong is told.
pub(super) fn read(
    file: &str,
    text: &str,
    line: usize,
    hand: &mut dyn Blocks,
) -> Result<Worked, Vec<Diagnostic>> {
    let (mut r, root) = Reader::open_below(file, line.saturating_sub(1), text, "an example: title, steps")?;
    let worked = example(&mut r, &root, hand);
    r.finish(worked)
}

/// The figure of one sum alone, as a question asks for it; else what is wrong and what to write.
pub(super) fn reckon(text: &str, hand: &mut dyn Blocks) -> Result<Figure, (String, Option<String>)> {
    let mut names = Names { hand, known: Vec::new() };
    let reckoned = sum::reckon(text, &mut names);
    let told = |fault: sum::Fault| (fault.message, fault.near.map(|near| format!("write `{near}`")));
    reckoned.map(|reckoned| reckoned.figure).map_err(told)
}

/// The example as HTML, through `set` for its words.
pub(super) fn set(worked: &Worked, set: &mut dyn FnMut(&Words) -> String) -> String {
    let title = set(&worked.title);
    let steps: String = worked.steps.iter().map(|step| item(step, set)).collect();
    format!(
        "<div class=\"worked\"><p class=\"worked-title\"><strong>Worked example.</strong> {title}</p>\n\
         <ol class=\"worked-steps\">\n{steps}</ol></div>\n"
    )
}

fn item(step: &Step, set: &mut dyn FnMut(&Words) -> String) -> String {
    let say = set(&step.say);
    let comes_to = step.comes_to.as_ref().map_or(String::new(), |(sum, is)| match sum.as_str() {
        "" => format!("\n<p class=\"worked-sum\"><strong>{}</strong>, by the program</p>", escape_whole(is)),
        sum => format!(
            "\n<p class=\"worked-sum\">{} = <strong>{}</strong></p>",
            escape_whole(sum),
            escape_whole(is)
        ),
    });
    format!("<li><p>{say}</p>{comes_to}</li>\n")
}

fn example(r: &mut Reader, root: &Node, hand: &mut dyn Blocks) -> Option<Worked> {
    let f = r.thing(root, &EXAMPLE)?;
    let title = r.need(&f, "title").and_then(|n| Words::read(r, n, "some words"));
    let node = r.need(&f, "steps")?;
    let items = r.list(node, "a list of steps")?;
    let mut names = Names { hand, known: Vec::new() };
    let steps: Vec<Option<Step>> = items.iter().map(|item| step(r, item, &mut names)).collect();
    if !steps.iter().flatten().any(|step| step.comes_to.is_some()) && !steps.iter().any(Option::is_none) {
        r.fail(r.mark_of(node), "the example works nothing out", "expected a step with `sum:` and `is:`");
    }
    Some(Worked { title: title?, steps: steps.into_iter().collect::<Option<_>>()? })
}

fn step(r: &mut Reader, item: &Node, names: &mut Names) -> Option<Step> {
    let f = r.thing(item, &STEP)?;
    let say = r.need(&f, "say").and_then(|n| Words::read(r, n, "some words"));
    let comes_to = match (f.get("sum"), f.get("is")) {
        (None, None) => None,
        _ => Some(comes_to(r, &f, names)?),
    };
    Some(Step { say: say?, comes_to })
}

/// Reckons a step's sum, holds it against its figure, and keeps it under its name.
fn comes_to(r: &mut Reader, f: &Fields, names: &mut Names) -> Option<(String, String)> {
    let (sum_node, is_node) = (r.need(f, "sum"), r.need(f, "is"));
    let (sum_node, is_node) = (sum_node?, is_node?);
    let (text, is) = (r.text(sum_node, "a sum")?, r.text(is_node, "a figure")?);
    let Some(said) = stated(is) else {
        r.fail(is_node.bytes.clone(), format!("`{is}` is no figure"), "expected a number with its unit");
        return None;
    };
    let reckoned = match sum::reckon(text, names) {
        Ok(reckoned) => reckoned,
        Err(fault) => {
            let at = r.inside(sum_node, fault.at);
            let told = r.fail(at, fault.message, "this cannot be reckoned");
            told.help = fault.near.map(|near| format!("write `{near}`"));
            return None;
        }
    };
    // Known even where it is stated wrong, so that one slip is told once.
    if let Some(node) = f.get("as") {
        let name = r.id(node, "a name")?.to_owned();
        names.known.push((name, reckoned.figure, is.to_owned()));
    }
    let say = names.hand.say();
    if !said.agrees(reckoned.figure) {
        let (message, help) = differs(is, said, reckoned.figure, say);
        r.fail(is_node.bytes.clone(), message, "the figure that is stated").help = Some(help);
        return None;
    }
    Some((shown(text, &reckoned.replaced), is.to_owned()))
}

fn differs(is: &str, said: Stated, reckoned: Figure, say: Say) -> (String, String) {
    if said.figure.of != reckoned.of {
        let message = format!("the sum comes to {}, and `{is}` is {}", reckoned.what(), said.figure.what());
        return (message, "give the figure in a unit of that kind, or mend the sum".into());
    }
    let message = format!("the sum comes to {}, not {is}", reckoned.said(say));
    (message, format!("write `{}`, or mend the sum", reckoned.said(say)))
}

/// The sum as a person writes it: names and calls by what they come to, signs of arithmetic as printed.
/// Empty where it is one call and nothing else.
fn shown(text: &str, replaced: &[(Range<usize>, String)]) -> String {
    if matches!(replaced, [(at, _)] if *at == (0..text.len())) {
        return String::new();
    }
    let mut out = String::new();
    let mut from = 0;
    for (at, figure) in replaced {
        out.push_str(&printed(&text[from..at.start]));
        // A power is of the whole figure: (3 ft 6 in)², never 3 ft 6 in².
        let powered = text[at.end..].trim_start().starts_with('^') && figure.contains(' ');
        out.push_str(&if powered { format!("({figure})") } else { figure.clone() });
        from = at.end;
    }
    out.push_str(&printed(&text[from..]));
    out
}

fn printed(text: &str) -> String {
    let signs = [(" * ", " × "), (" - ", " − "), (" deg", "°"), ("sqrt", "√"), (" / ", " ÷ ")];
    let text = signs.iter().fold(text.to_owned(), |text, (from, to)| text.replace(from, to));
    let powers = "⁰¹²³⁴⁵⁶⁷⁸⁹".chars().zip(0..);
    powers.fold(text, |text, (raised, digit)| text.replace(&format!("^{digit}"), &raised.to_string()))
}

/// What a sum may name: earlier steps of its example, and what the engine knows.
struct Names<'h> {
    hand: &'h mut dyn Blocks,
    /// Name, figure, and the figure as it is stated.
    known: Vec<(String, Figure, String)>,
}

impl Known for Names<'_> {
    fn name(&self, name: &str) -> Option<(Figure, String)> {
        let (_, figure, said) = self.known.iter().find(|(known, ..)| known == name)?;
        Some((*figure, said.clone()))
    }

    fn call(&mut self, name: &str, given: &[Given]) -> Option<Result<(Figure, String), String>> {
        let say = self.hand.say();
        let found = self.hand.figure(name, given)?;
        Some(found.map(|figure| (figure, figure.said(say))))
    }

    fn names(&self) -> Vec<String> {
        self.known.iter().map(|(name, ..)| name.clone()).chain(self.hand.figures()).collect()
    }
}
