//! The letters that mark the tubes of a line: given in the job, or chosen.
use super::super::job::LineSpec;
use super::super::letters::{Unfit, given_letters, unfit};
use super::kit::Reader;
use crate::text::{Node, Value};
use std::ops::Range;

/// One or two capital letters.
pub fn letters(r: &mut Reader, node: &Node) -> Option<String> {
    let text = r.text(node, "a mark, like H")?;
    let mark = text.to_ascii_uppercase();
    let message = match unfit(&mark) {
        None => return Some(mark),
        Some(Unfit::Taken(taken)) => format!("the mark `{mark}` holds `{taken}`"),
        Some(Unfit::NotLetters) => format!("`{}` is no mark of a line", crate::text::clip(text)),
    };
    r.fail(node.bytes.clone(), message, "expected one or two letters").help =
        Some("use any letters but I and O, which look like figures, and B, J, R, X, which mark bends, joints, runs and crossings".into());
    None
}

/// Gives every line without letters the first of its id that are free.
pub fn settle(lines: &mut [LineSpec]) {
    let asked: Vec<(&str, Option<&str>)> = lines
        .iter()
        .map(|line| (line.id.as_str(), Some(line.letters.as_str()).filter(|mark| !mark.is_empty())))
        .collect();
    let letters = given_letters(&asked);
    for (line, letters) in lines.iter_mut().zip(letters) {
        line.letters = letters;
    }
}

/// No two lines of a job have the same mark.
pub fn check_marks(r: &mut Reader, root: &Node) {
    let mut seen: Vec<(String, Range<usize>)> = Vec::new();
    for node in ["trunks", "inlets"].into_iter().flat_map(|key| marks_under(root, key)) {
        let Value::Text(text) = &node.value else { continue };
        let mark = text.trim().to_ascii_uppercase();
        match seen.iter().find(|(known, _)| *known == mark) {
            Some((_, first)) => {
                let message = format!("the mark `{mark}` is given twice");
                r.fail_twice(node.bytes.clone(), first.clone(), message, "give each line its own letters");
            }
            None => seen.push((mark, node.bytes.clone())),
        }
    }
}

/// The values of `mark` in the items of that list.
fn marks_under<'n>(root: &'n Node, key: &str) -> Vec<&'n Node> {
    let items = match root.get(key).map(|node| &node.value) {
        Some(Value::List(items)) => items.as_slice(),
        _ => &[],
    };
    items.iter().filter_map(|item| item.get("mark")).collect()
}
