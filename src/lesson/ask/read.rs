//! From the block's YAML to questions; all that is wrong with it is told.

use super::{Asked, Form, Raceway, Sum, SumOf, Words};
use crate::company::{Fields, Reader};
use crate::lesson::keys::{JUDGEMENT, NUMBER, QUESTION};
use crate::text::{Diagnostic, Node, Source, Value};

const NOTHING: &str = "the block asks nothing";
/// Fewer steps can be put right by a toss.
const LEAST_STEPS: usize = 3;

/// Reads a block that begins on line `line` of the file.
pub fn read(file: &str, text: &str, line: usize) -> Result<Vec<Asked>, Vec<Diagnostic>> {
    if text.trim().is_empty() {
        let source = Source::new(file, text).below(line.saturating_sub(1));
        return Err(vec![source.diagnostic(0..0, NOTHING.into(), "expected a question".into())]);
    }
    let (mut r, root) = Reader::open_below(file, line.saturating_sub(1), text, "a list of questions")?;
    let asked = r.list(&root, "a list of questions").map(|items| {
        if items.is_empty() {
            r.fail(r.mark_of(&root), NOTHING, "expected a question").help =
                Some("add a question: `- ask:`, `right:`, `wrong:`, `because:`".into());
        }
        items.iter().filter_map(|item| question(&mut r, item)).collect()
    });
    r.finish(asked)
}

fn question(r: &mut Reader, item: &Node) -> Option<Asked> {
    let f = r.thing(item, &QUESTION)?;
    let ask = r.need(&f, "ask").and_then(|n| Words::read(r, n, "a question"));
    let because = r.need(&f, "because").and_then(|n| Words::read(r, n, "a reason"));
    let raceway = match f.get("raceway") {
        Some(node) => Some(raceway(r, node)?),
        None => None,
    };
    let form = form(r, item, &f, raceway.as_ref());
    Some(Asked { ask: ask?, raceway, form: form?, because: because? })
}

/// The form is told by its key; a question has one.
fn form(r: &mut Reader, item: &Node, f: &Fields, raceway: Option<&Raceway>) -> Option<Form> {
    let keys = ["right", "order", "number", "judge"];
    let given: Vec<&str> = keys.into_iter().filter(|key| f.get(key).is_some()).collect();
    let (message, help) = match given[..] {
        [_, other, ..] => (
            format!("this question has both `{}` and `{other}`", given[0]),
            "a question is answered in one way; make two questions of it".to_owned(),
        ),
        [] => (
            "this question has no answer".to_owned(),
            "add `right:` with `wrong:`, or `order:`, `number:` or `judge:`".to_owned(),
        ),
        [form] if form != "right" && f.get("wrong").is_some() => {
            (format!("`wrong` has no place in a question with `{form}`"), "leave `wrong:` out".to_owned())
        }
        ["judge"] if raceway.is_none() => (
            "this question has nothing to judge".to_owned(),
            "add `raceway:` with the drawing to be judged".to_owned(),
        ),
        ["right"] => return options(r, f),
        ["order"] => return steps(r, f),
        ["number"] => return f.get("number").and_then(|n| number(r, n)).map(Form::Number),
        _ => return f.get("judge").and_then(|n| judge(r, n)),
    };
    r.fail(r.mark_of(item), message, "expected one answer").help = Some(help);
    None
}

fn options(r: &mut Reader, f: &Fields) -> Option<Form> {
    let right = f.get("right")?;
    let wrong = r.need(f, "wrong")?;
    let wrong_ones = Words::list(r, wrong, "a list of wrong options", "an option");
    let form = if let Value::List(_) = right.value {
        let right_ones = Words::list(r, right, "the right options", "an option")?;
        if right_ones.is_empty() {
            r.fail(r.mark_of(right), "no option is right", "expected an option").help =
                Some("give at least one right option".into());
            return None;
        }
        Form::Several { right: right_ones, wrong: wrong_ones? }
    } else {
        Form::One { right: Words::read(r, right, "the right option")?, wrong: wrong_ones? }
    };
    let (right_ones, wrong_ones) = match &form {
        Form::One { right, wrong } => (std::slice::from_ref(right), wrong),
        Form::Several { right, wrong } => (right.as_slice(), wrong),
        _ => return None,
    };
    if wrong_ones.is_empty() {
        r.fail(r.mark_of(wrong), "no option is wrong", "expected an option").help =
            Some("give at least one wrong option, or there is nothing to choose".into());
        return None;
    }
    twice(r, right_ones.iter().chain(wrong_ones), wrong)?;
    Some(form)
}

/// The same words may not stand twice among the options or steps.
fn twice<'w>(r: &mut Reader, words: impl Iterator<Item = &'w Words>, node: &Node) -> Option<()> {
    let mut seen: Vec<&str> = Vec::new();
    for one in words {
        if seen.contains(&one.text.as_str()) {
            let message = format!("`{}` stands twice", crate::text::clip(&one.text));
            r.fail(r.mark_of(node), message, "expected different words").help =
                Some("say each in words of its own".into());
            return None;
        }
        seen.push(&one.text);
    }
    Some(())
}

fn steps(r: &mut Reader, f: &Fields) -> Option<Form> {
    let node = f.get("order")?;
    let steps = Words::list(r, node, "a list of steps", "a step")?;
    if steps.len() < LEAST_STEPS {
        let message = format!("{} steps are too few to be put in order", steps.len());
        r.fail(r.mark_of(node), message, format!("expected {LEAST_STEPS} or more")).help =
            Some("add a step, or ask with `right:` and `wrong:`".into());
        return None;
    }
    twice(r, steps.iter(), node)?;
    Some(Form::Order(steps))
}

fn number(r: &mut Reader, node: &Node) -> Option<Sum> {
    let f = r.thing(node, &NUMBER)?;
    sum(r, node, &f)
}

/// A sum for the engine, or a value with its source.
pub fn sum(r: &mut Reader, node: &Node, f: &Fields) -> Option<Sum> {
    let within = r.need(f, "within").and_then(|n| Words::read(r, n, "a tolerance"));
    let (message, help) = match (f.get("sum"), f.get("value"), f.get("source")) {
        (Some(sum), None, None) => {
            let sum = Words::read(r, sum, "a sum")?;
            let unit = f.get("unit").map(|n| r.text(n, "a unit").map(str::to_owned));
            let unit = unit.unwrap_or(Some(String::new()))?;
            return Some(Sum { of: SumOf::Reckoned { sum, unit }, within: within? });
        }
        (None, Some(value), Some(source)) => {
            let value = Words::read(r, value, "a number with its unit")?;
            let source = Words::read(r, source, "a source")?;
            return Some(Sum { of: SumOf::Typed { value, source }, within: within? });
        }
        (None, Some(_), None) => (
            "this number is typed and rests on nothing",
            "add `source:`, or let the engine work it out with `sum:`",
        ),
        (Some(_), _, _) => {
            ("this number is both worked out and typed", "give `sum:` alone, or `value:` with `source:`")
        }
        (None, None, _) => ("nothing says what the number is", "add `sum:`, or `value:` with `source:`"),
    };
    r.fail(r.mark_of(node), message, "expected a sum").help = Some(help.into());
    None
}

fn judge(r: &mut Reader, node: &Node) -> Option<Form> {
    let f = r.thing(node, &JUDGEMENT)?;
    let breaks = r.need(&f, "breaks")?;
    let place = r.place_of(breaks);
    let at = |text: &str| Words { text: text.to_owned(), line: place.line, col: place.column };
    if matches!(&breaks.value, Value::Text(text) if text == "nothing") {
        return Some(Form::Judge { breaks: Vec::new(), at: at("nothing") });
    }
    let wanted = "the clauses it breaks, like [fitting-room], or `nothing`";
    let ids = Words::list(r, breaks, wanted, "the id of a clause")?;
    if ids.is_empty() {
        r.fail(r.mark_of(breaks), "no clause is broken", "expected the id of a clause").help =
            Some("write `breaks: nothing` for a raceway that is sound".into());
        return None;
    }
    let at = at(&ids[0].text);
    Some(Form::Judge { breaks: ids.into_iter().map(|id| id.text).collect(), at })
}

/// A raceway written in place, or the name of a block above.
fn raceway(r: &mut Reader, node: &Node) -> Option<Raceway> {
    if let Value::Text(_) = node.value {
        return Words::read(r, node, "the name of a raceway").map(Raceway::Named);
    }
    let Value::Map(map) = &node.value else {
        r.mistyped(node, "a raceway, or the name of one above");
        return None;
    };
    let start = map.first().map(|(key, _)| key.bytes.start)?;
    let text = r.source.text;
    let (from, to) = match node.bytes.is_empty() {
        false => (node.bytes.start, braces_end(text, node)),
        true => (start, block_end(text, start)),
    };
    // Columns stay what they are in the file: what stands before on the line becomes blanks.
    let line_start = text[..from].rfind('\n').map_or(0, |at| at + 1);
    let before: String = text[line_start..from].chars().map(|_| ' ').collect();
    let inside = text.get(from..to)?;
    let line = r.source.mark(from..from).line;
    Some(Raceway::Written { text: format!("{before}{inside}\n"), line })
}

/// Where braces end whose node has the bytes of the opening one alone: behind what stands last in them come only
/// as many closing signs as are open there.
fn braces_end(text: &str, node: &Node) -> usize {
    let (from, open) = last_in(node);
    let rest = text.get(from..).unwrap_or("");
    let closing = |line: &str| line.find('#').unwrap_or(line.len());
    let mut at = from;
    let mut left = open;
    for line in rest.split_inclusive('\n') {
        for (nth, _) in line[..closing(line)].match_indices(['}', ']']) {
            left = left.saturating_sub(1);
            if left == 0 {
                return at + nth + 1;
            }
        }
        at += line.len();
    }
    text.len()
}

/// The end of what stands last in a node, and how many braces and brackets are open there.
fn last_in(node: &Node) -> (usize, usize) {
    let last = match &node.value {
        Value::Map(map) => map.last().map(|(key, value)| (key.bytes.end, value)),
        Value::List(items) => items.last().map(|item| (item.bytes.start, item)),
        _ => return (node.bytes.end, 0),
    };
    last.map_or((node.bytes.end, 1), |(least, inside)| {
        let (end, open) = last_in(inside);
        (end.max(least), open + 1)
    })
}

/// Where the block ends whose first key begins at `start`: before the next line that stands further left.
fn block_end(text: &str, start: usize) -> usize {
    let column = start - text[..start].rfind('\n').map_or(0, |at| at + 1);
    let mut at = start;
    for (nth, line) in text[start..].split_inclusive('\n').enumerate() {
        let indent = line.len() - line.trim_start_matches(' ').len();
        if nth > 0 && indent < column && !line.trim().is_empty() {
            break;
        }
        at += line.len();
    }
    at
}
