//! `content/company.yaml`.
use super::super::diagnose::Diagnostic;
use super::super::firm::{Firm, Paper};
use super::super::tree::{Node, Value};
use super::kit::Reader;
use crate::measure::Lengths;

const KEYS: [&str; 6] = ["name", "contact", "paper", "lengths", "theme", "standard"];

/// Reads the firm, with what was wrong. `revisions` are those that exist.
///
/// A standard in force that does not exist is told, and kept: the firm's sheets can still be made,
/// and jobs that name another revision still be judged.
pub fn read_firm(file: &str, text: &str, revisions: &[&str]) -> (Option<Firm>, Vec<Diagnostic>) {
    let wanted = "a company: name, contact, paper, lengths, theme, standard";
    match Reader::open(file, text, wanted) {
        Ok((mut r, root)) => {
            let firm = firm(&mut r, &root, revisions);
            (firm, r.faults())
        }
        Err(faults) => (None, faults),
    }
}

fn firm(r: &mut Reader, root: &Node, revisions: &[&str]) -> Option<Firm> {
    let f = r.fields(root, "a company", &KEYS)?;
    let name = r.need(&f, "name").and_then(|n| r.text(n, "a name"));
    let contact = f.get("contact").map_or(Vec::new(), |n| contact(r, n));
    let papers = [("letter", Paper::Letter), ("a4", Paper::A4)];
    let paper = f.get("paper").and_then(|n| r.one_of(n, "a paper", &papers));
    let words = [("ft-in", Lengths::FtIn), ("metric", Lengths::Metric)];
    let lengths = f.get("lengths").and_then(|n| r.one_of(n, "a way to write lengths", &words));
    let theme = f.get("theme").and_then(|n| r.id(n, "a theme"));
    let standard = r.need(&f, "standard").and_then(|n| {
        r.known(n, "revision", "the standard", revisions);
        r.id(n, "a revision")
    });
    Some(Firm {
        name: name?.to_owned(),
        contact,
        paper: paper.unwrap_or(Paper::Letter),
        lengths: lengths.unwrap_or(Lengths::FtIn),
        theme: theme.unwrap_or("drafting").to_owned(),
        standard: standard?.to_owned(),
    })
}

/// Lines of text, as a list or as one block.
fn contact(r: &mut Reader, node: &Node) -> Vec<String> {
    if let Value::List(lines) = &node.value {
        return lines.iter().filter_map(|line| Some(r.text(line, "a line of text")?.to_owned())).collect();
    }
    let text = r.text(node, "lines of text").unwrap_or("");
    text.lines().map(|line| line.trim().to_owned()).filter(|line| !line.is_empty()).collect()
}
