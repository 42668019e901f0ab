//! The firm's standard, all its revisions together: a later one answers for what an earlier one fixed.
mod clause;
mod numbers;
mod terms;

pub use clause::{ClauseKind, FAILS_AT, LEVELS, PER, PHASES};
pub use terms::settle_terms;

use super::super::keys;
use super::super::rules::{ChangeReason, Standard, StandardPart};
use super::kit::Reader;
use crate::text::{Diagnostic, Node, clip, nearest, slug};
use clause::Seen;
use numbers::{Numbering, Numbers};

/// Reads every revision: those without a fault, the oldest first, and what is wrong with the others.
///
/// Arguments: name and text of each file; `kinds` are the clauses that the program can measure.
pub fn read_standards(files: &[(&str, &str)], kinds: &[ClauseKind]) -> (Vec<Standard>, Vec<Diagnostic>) {
    let numbers = Numbers::of(files);
    let (mut read, mut faults): (Vec<(Standard, &str)>, Vec<Diagnostic>) = (Vec::new(), Vec::new());
    for (file, text) in files {
        match read_standard(file, text, kinds, &numbers) {
            Ok(standard) => match taken(&read, &standard) {
                Some(first) => faults.push(given_before(file, &standard, first)),
                None => read.push((standard, file)),
            },
            Err(found) => faults.extend(found),
        }
    }
    let mut standards: Vec<Standard> = read.into_iter().map(|(standard, _)| standard).collect();
    standards.sort_by(|a, b| (a.effective, &a.revision).cmp(&(b.effective, &b.revision)));
    (standards, faults)
}

/// The file that has this revision already; revisions become folders, so that case does not tell them apart.
fn taken<'a>(read: &[(Standard, &'a str)], standard: &Standard) -> Option<&'a str> {
    read.iter().find(|(known, _)| slug(&known.revision) == slug(&standard.revision)).map(|(_, file)| *file)
}

fn given_before(file: &str, standard: &Standard, first: &str) -> Diagnostic {
    let message = format!("the revision `{}` stands in {first} too", standard.revision);
    let help = Some("give each file its own revision; case and signs do not tell them apart");
    Diagnostic { line: 1, column: 1, ..Diagnostic::of_file(file, message, help) }
}

fn read_standard(
    file: &str,
    text: &str,
    kinds: &[ClauseKind],
    numbers: &Numbers,
) -> Result<Standard, Vec<Diagnostic>> {
    let (mut r, root) = Reader::open(file, text, "a standard: revision, effective, title, parts")?;
    let standard = standard(&mut r, &root, kinds, numbers);
    r.finish(standard)
}

fn standard(r: &mut Reader, root: &Node, kinds: &[ClauseKind], numbers: &Numbers) -> Option<Standard> {
    let f = r.whole(root, &keys::STANDARD)?;
    let revision = r.need(&f, "revision").and_then(|n| r.id(n, "a revision"));
    let effective = r.need(&f, "effective").and_then(|n| r.date(n));
    let title = r.need(&f, "title").and_then(|n| r.name(n, "a title"));
    let scope = f.get("scope").and_then(|n| r.text(n, "what the standard covers")).unwrap_or_default();
    let terms_written = f.get("terms").map(|n| terms::terms(r, n)).unwrap_or_default();
    let order = effective.zip(revision).map(|(day, revision)| (day, revision.to_owned()));
    let mut numbering = Numbering::new(numbers, order);
    let mut seen = Seen::new();
    let items = r.need(&f, "parts").and_then(|n| r.list(n, "a list of parts"));
    let parts: Vec<StandardPart> = items
        .unwrap_or_default()
        .iter()
        .filter_map(|item| part(r, item, kinds, &mut seen, &mut numbering))
        .collect();
    let known: Vec<&str> = seen.iter().map(|(id, _)| id.as_str()).chain(numbers.ids()).collect();
    let changes = f.get("changes").map(|n| changes(r, n, &known)).unwrap_or_default();
    items?;
    Some(Standard {
        revision: revision?.to_owned(),
        effective: effective?,
        title: title?.to_owned(),
        scope: scope.to_owned(),
        terms_written,
        terms: Vec::new(),
        parts,
        changes,
    })
}

fn part(
    r: &mut Reader,
    item: &Node,
    kinds: &[ClauseKind],
    seen: &mut Seen,
    numbering: &mut Numbering,
) -> Option<StandardPart> {
    let f = r.thing(item, &keys::PART)?;
    let title = r.need(&f, "title").and_then(|n| r.name(n, "a title"));
    let items = r.need(&f, "clauses").and_then(|n| r.list(n, "a list of clauses"))?;
    let number = numbering.open(items).to_string();
    let clauses = items.iter().filter_map(|item| clause::clause(r, item, kinds, seen, numbering)).collect();
    Some(StandardPart { number, clauses, title: title?.to_owned() })
}

/// Why clauses changed since the revision before; `known` are the clauses of this revision and of all others.
fn changes(r: &mut Reader, node: &Node, known: &[&str]) -> Vec<ChangeReason> {
    let Some(items) = r.list(node, "a list of changes") else { return Vec::new() };
    let mut reasons: Vec<ChangeReason> = Vec::new();
    let mut seen = Seen::new();
    for item in items {
        let Some(f) = r.thing(item, &keys::CHANGE) else { continue };
        let because = r.need(&f, "because").and_then(|n| r.text(n, "the reason of a change"));
        let Some(named) = r.need(&f, "clause") else { continue };
        let Some(id) = r.text(named, "a clause") else { continue };
        if !known.contains(&id) {
            let message = format!("no revision has a clause `{}`", clip(id));
            r.fail(named.bytes.clone(), message, "unknown clause").help =
                nearest(id, known.iter().copied()).map(|near| format!("write `{near}`"));
            continue;
        }
        let first = clause::first_of(r, named, id, &mut seen);
        if let (true, Some(because)) = (first, because) {
            reasons.push(ChangeReason { clause: id.to_owned(), because: because.to_owned() });
        }
    }
    reasons
}
