//! `content/company.yaml`.
use super::super::diagnose::Diagnostic;
use super::super::firm::{Firm, Paper};
use super::super::tree::{Node, Value};
use super::kit::Reader;
use crate::measure::Lengths;

const KEYS: [&str; 6] = ["name", "contact", "paper", "lengths", "theme", "standard"];

/// Reads the firm. `revisions` are those that exist; the standard in force must be one of them.
pub fn read_firm(file: &str, text: &str, revisions: &[&str]) -> Result<Firm, Vec<Diagnostic>> {
    let (mut r, root) = Reader::open(
        file,
        text,
        "a company: name, contact, paper, lengths, theme, standard",
    )?;
    let firm = firm(&mut r, &root, revisions);
    r.finish(firm)
}

fn firm(r: &mut Reader, root: &Node, revisions: &[&str]) -> Option<Firm> {
    let f = r.fields(root, "a company", &KEYS)?;
    let name = r.need(&f, "name").and_then(|n| r.text(n, "a name"));
    let contact = f.get("contact").map_or(Vec::new(), |n| contact(r, n));
    let paper = f
        .get("paper")
        .and_then(|n| r.one_of(n, "a paper", &[("letter", Paper::Letter), ("a4", Paper::A4)]));
    let words = [("ft-in", Lengths::FtIn), ("metric", Lengths::Metric)];
    let lengths = f
        .get("lengths")
        .and_then(|n| r.one_of(n, "a way to write lengths", &words));
    let theme = f.get("theme").and_then(|n| r.id(n, "a theme"));
    let standard = r
        .need(&f, "standard")
        .and_then(|n| r.known(n, "revision", "the standard", revisions));
    Some(Firm {
        name: name?.to_owned(),
        contact,
        paper: paper.unwrap_or(Paper::Letter),
        lengths: lengths.unwrap_or(Lengths::FtIn),
        theme: theme.unwrap_or("drafting").to_owned(),
        standard: revisions[standard?].to_owned(),
    })
}

/// Lines of text, as a list or as one block.
fn contact(r: &mut Reader, node: &Node) -> Vec<String> {
    if let Value::List(lines) = &node.value {
        return lines
            .iter()
            .filter_map(|line| Some(r.text(line, "a line of text")?.to_owned()))
            .collect();
    }
    let text = r.text(node, "lines of text").unwrap_or("");
    text.lines()
        .map(|line| line.trim().to_owned())
        .filter(|line| !line.is_empty())
        .collect()
}
