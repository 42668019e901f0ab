//! The letters that mark the tubes of a line.
use super::kit::Reader;
use crate::text::{Node, Value};
use std::ops::Range;

/// Letters that a mark never holds: `I` and `O` are read as figures, and the others mark bends, joints,
/// runs and crossings.
const TAKEN: [char; 6] = ['I', 'O', 'B', 'J', 'R', 'X'];

/// One or two capital letters.
pub fn letters(r: &mut Reader, node: &Node) -> Option<String> {
    let text = r.text(node, "a mark, like H")?;
    let fits = (1..=2).contains(&text.chars().count()) && text.chars().all(|c| c.is_ascii_alphabetic());
    let mark = text.to_ascii_uppercase();
    let taken = mark.chars().find(|c| TAKEN.contains(c));
    if fits && taken.is_none() {
        return Some(mark);
    }
    let message = match taken.filter(|_| fits) {
        Some(taken) => format!("the mark `{mark}` holds `{taken}`"),
        None => format!("`{}` is no mark of a line", crate::text::clip(text)),
    };
    r.fail(node.bytes.clone(), message, "expected one or two letters").help =
        Some("use any letters but I and O, which look like figures, and B, J, R, X, which mark bends, joints, runs and crossings".into());
    None
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
