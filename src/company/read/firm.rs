//! `content/company.yaml`.
use super::super::firm::{Firm, Paper, Spare, SpareOf, SparePer};
use super::keys;
use super::kit::Reader;
use crate::measure::{Kind, Lengths};
use crate::text::{Diagnostic, Severity};
use crate::text::{Node, Place, Value};

/// The words for kinds of parts of which spares are taken.
pub const SPARE_KINDS: [(&str, &str); 7] = [
    ("bend", "bend"),
    ("coupling", "coupling"),
    ("stop", "stop"),
    ("junction", "junction"),
    ("cap", "cap"),
    ("reducer", "reducer"),
    ("stick", "stick"),
];
/// The words for how spares are counted.
pub const SPARE_PER: [(&str, SparePer); 4] =
    [("job", SparePer::Job), ("inlet", SparePer::Inlet), ("trunk", SparePer::Trunk), ("ten", SparePer::Ten)];
/// More of one part than any truck takes along as a spare.
const MOST_SPARES: f64 = 1000.0;

/// The name in a company's file that nobody has filled in yet.
const UNNAMED: &str = "NAME OF YOUR COMPANY";

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
    let f = r.whole(root, &keys::FIRM)?;
    let name = r.need(&f, "name").and_then(|n| r.name(n, "a name"));
    if let Some(node) = f.get("name").filter(|_| name == Some(UNNAMED)) {
        let fault = r.fail(node.bytes.clone(), "the company has no name yet", "stands on every sheet");
        fault.severity = Severity::Warning;
        fault.help = Some("write your company's name here".into());
    }
    let contact = f.get("contact").map_or(Vec::new(), |n| contact(r, n));
    let telephone = f.get("telephone").and_then(|n| r.name(n, "a telephone number"));
    let crew_leads = f.get("crew-leads").map_or(Vec::new(), |n| names(r, n));
    let spares = f.get("spares").map_or(Vec::new(), |n| spares(r, n));
    let papers = [("letter", Paper::Letter), ("a4", Paper::A4)];
    let paper = f.get("paper").and_then(|n| r.one_of(n, "a paper", &papers));
    let words = [("ft-in", Lengths::FtIn), ("metric", Lengths::Metric)];
    let lengths = f.get("lengths").and_then(|n| r.one_of(n, "a way to write lengths", &words));
    let pictures = f.get("pictures").and_then(|n| r.truth(n));
    let theme = f.get("theme").and_then(|n| r.id(n, "a theme"));
    let standard = r.need(&f, "standard").and_then(|n| {
        let before = r.told();
        let known = r.known(n, "revision", "the standard", revisions).is_some();
        // One that does not exist is told already, whatever it holds.
        if known || r.told() == before { r.id(n, "a revision") } else { plain_id(n) }
    });
    Some(Firm {
        name: name?.to_owned(),
        contact,
        paper: paper.unwrap_or(Paper::Letter),
        lengths: lengths.unwrap_or(Lengths::FtIn),
        theme: theme.unwrap_or("drafting").to_owned(),
        theme_at: f.get("theme").map_or(Place::default(), |n| r.place_of(n)),
        standard: standard?.to_owned(),
        crew_leads,
        telephone: telephone.map(str::to_owned),
        spares,
        pictures: pictures.unwrap_or(false),
    })
}

/// An id that nothing is wrong with, without a word.
fn plain_id(node: &Node) -> Option<&str> {
    let Value::Text(id) = &node.value else { return None };
    let plain = |c: char| c.is_ascii_alphanumeric() || matches!(c, '-' | '_');
    Some(id.trim()).filter(|id| !id.is_empty() && id.chars().all(plain))
}

/// Lines of text, as a list or as one block.
fn contact(r: &mut Reader, node: &Node) -> Vec<String> {
    if let Value::List(lines) = &node.value {
        return lines.iter().filter_map(|line| Some(r.text(line, "a line of text")?.to_owned())).collect();
    }
    let text = r.text(node, "lines of text").unwrap_or("");
    text.lines().map(|line| line.trim().to_owned()).filter(|line| !line.is_empty()).collect()
}

/// Names, as a list.
fn names(r: &mut Reader, node: &Node) -> Vec<String> {
    let items = r.list(node, "a list of names").unwrap_or(&[]);
    items.iter().filter_map(|item| Some(r.name(item, "a name")?.to_owned())).collect()
}

fn spares(r: &mut Reader, node: &Node) -> Vec<Spare> {
    let items = r.list(node, "a list of spares").unwrap_or(&[]);
    items.iter().filter_map(|item| spare(r, item)).collect()
}

/// `{kind: bend, per: job, count: 1}`, or with `part:` and an id of the catalog.
fn spare(r: &mut Reader, item: &Node) -> Option<Spare> {
    let f = r.thing(item, &keys::SPARE)?;
    let of = match (f.get("part"), f.get("kind")) {
        (Some(part), None) => r.id(part, "the id of a part").map(|id| SpareOf::Part(id.to_owned())),
        (None, Some(kind)) => r.one_of(kind, "a kind of part", &SPARE_KINDS).map(SpareOf::Kind),
        _ => {
            let help =
                "write `part:` with an id of the catalog, or `kind:` with bend, coupling, stop, junction";
            r.fail(r.mark_of(item), "a spare has one of `part` and `kind`", "expected one of them").help =
                Some(help.into());
            None
        }
    };
    let per = r.need(&f, "per").and_then(|n| r.one_of(n, "how spares are counted", &SPARE_PER));
    let count = r.need(&f, "count").and_then(|n| count(r, n));
    Some(Spare { of: of?, per: per?, count: count? })
}

/// A whole number from 1 on.
fn count(r: &mut Reader, node: &Node) -> Option<u32> {
    let count = r.quantity(node, Kind::Plain)?;
    if count.fract() == 0.0 && (1.0..=MOST_SPARES).contains(&count) {
        return Some(count as u32);
    }
    let message = format!("{count} is no count of spares");
    r.fail(node.bytes.clone(), message, "expected a whole number from 1 to 1000");
    None
}
