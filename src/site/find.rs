//! The index of the set, as a book has it: one term, its sheets after it. Without the script it stands
//! as it is; the script only hides terms that lack the words typed.
use super::cover::{cover_cells, job_page};
use super::input::Set;
use super::ways::{PARTS, Placed, cover_series, lesson_page};
use crate::packet::outline::Outline;
use crate::packet::place::Place;
use crate::packet::prose::words;
use crate::packet::sheet::{Link, Sheet, clause_page};
use serde::Serialize;

/// The index.
#[derive(Debug, Clone, Serialize)]
pub struct Find {
    pub terms: Vec<Term>,
}

/// A term with its sheets.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Term {
    pub text: String,
    pub sheets: Vec<Link>,
    /// More words by which it is found.
    pub words: String,
}

/// The index sheet.
pub fn sheet(set: &Set, here: &Place) -> Sheet<super::Body> {
    let body = super::Body::Find(Find { terms: terms(set, here) });
    let placed = Placed { series: &cover_series(), nth: 1, here };
    let sheet = placed.sheet(set, "Index".into(), cover_cells(set), body);
    Sheet { under_title: "Clauses, lessons, parts, jobs and inlets, each with its sheets.".into(), ..sheet }
}

/// Everything that can be found, in the order of the alphabet; a term stands once, with all its sheets.
fn terms(set: &Set, here: &Place) -> Vec<Term> {
    let mut terms: Vec<Term> = Vec::new();
    let found = clause_terms(set, here).into_iter().chain(lesson_terms(set, here));
    for (text, sheet, words) in found.chain(job_terms(set, here)).chain(part_terms(set, here)) {
        let key = text.to_lowercase();
        match terms.iter_mut().find(|term| term.text.to_lowercase() == key) {
            Some(term) => {
                term.sheets.push(sheet);
                term.words.push_str(&format!(" {words}"));
            }
            None => terms.push(Term { text, sheets: vec![sheet], words }),
        }
    }
    terms.sort_by_key(|term| term.text.to_lowercase());
    terms
}

/// A term, the sheet it stands on, and more words by which it is found.
type Found = (String, Link, String);

/// Clauses of the standard in force.
fn clause_terms(set: &Set, here: &Place) -> Vec<Found> {
    let Some(standard) = set.in_force() else { return Vec::new() };
    let term = |clause: &crate::company::ClauseText| {
        let href = here.to(&clause_page(&standard.revision, &clause.id), "");
        let more = format!("{} {} {}", clause.id, words(&clause.text), words(&clause.because));
        (clause.title.clone(), Link { href, text: format!("Clause {}", clause.number) }, more)
    };
    standard.clauses().map(term).collect()
}

/// Lessons and their headings.
fn lesson_terms(set: &Set, here: &Place) -> Vec<Found> {
    let mut terms = Vec::new();
    for (place, lesson) in set.lessons.iter().enumerate() {
        let page = lesson_page(&lesson.id);
        let link =
            |anchor: &str| Link { href: here.to(&page, anchor), text: format!("Lesson {}", place + 1) };
        terms.push((lesson.title.clone(), link(""), format!("{} {}", lesson.summary, lesson.text)));
        terms.extend(lesson.headings.iter().map(|(_, id, text)| (text.clone(), link(id), String::new())));
    }
    terms
}

/// The parts of the catalog.
fn part_terms(set: &Set, here: &Place) -> Vec<Found> {
    let catalog = set.catalog;
    let names = catalog.fittings.iter().map(|fitting| &fitting.name);
    let names = names.chain(catalog.hoses.iter().map(|hose| &hose.name));
    let names = names.chain(catalog.valves.iter().map(|valve| &valve.name));
    let names = names.chain(catalog.units.iter().map(|unit| &unit.name));
    let link = || Link { href: here.to(PARTS, ""), text: "Parts".into() };
    names.map(|name| (name.clone(), link(), "parts catalog figures measured typical".to_string())).collect()
}

/// Jobs, read or not, and their inlets.
fn job_terms(set: &Set, here: &Place) -> Vec<Found> {
    let mut terms = Vec::new();
    for entry in set.jobs {
        let (worked, out) = (&entry.worked, Outline::of(entry.worked.work.job));
        let job = worked.work.job;
        let cover = Link {
            href: here.to(&job_page(&job.key), ""),
            text: format!("packet, {}", worked.work.findings.verdict().word()),
        };
        terms.push((job.title.clone(), cover, format!("{} {} {}", job.key, job.address, job.date)));
        for part in worked.inlets() {
            let verdict = worked.work.findings.inlet_verdict(part.index).word();
            let link =
                Link { href: out.inlet_link(here, part.index), text: format!("{}, {verdict}", job.title) };
            let notes: Vec<&str> = part.findings.iter().map(|f| f.note.as_str()).collect();
            terms.push((part.inlet.name.clone(), link, notes.join(" ")));
        }
    }
    let unread = set.unread.iter().map(|unread| {
        let link = Link { href: here.to(&job_page(&unread.key), ""), text: "packet, not read".into() };
        (unread.key.clone(), link, String::new())
    });
    terms.extend(unread);
    terms
}
