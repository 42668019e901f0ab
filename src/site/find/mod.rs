//! The index of the set, as a book has it: one term, its sheets after it. The page lists the terms of
//! standard, lessons, words and parts; what grows with the firm stands in shards, which the script asks for.
mod index;
mod stem;

use super::SiteFile;
use super::cover::{cover_cells, job_page};
use super::input::Set;
use super::met::{NAMED, rest};
use super::summary::{FindingSummary, JobSummary, LineSummary};
use super::ways::{FIND, GLOSSARY, PARTS, Placed, cover_nth, cover_series, lesson_page};
use crate::packet::here::Here;
use crate::packet::prose::words;
use crate::packet::sheet::{Link, Sheet, clause_page};
use index::{BODY, Entry, HEADING, NEAR, TITLE};
use serde::Serialize;
use std::cmp::Reverse;
use std::collections::HashMap;

/// The index.
#[derive(Debug, Clone, Serialize)]
pub struct Find {
    pub terms: Vec<Term>,
    /// The jobs that want attention first, then the latest.
    pub jobs: Vec<Term>,
    /// `and 52 more`; empty where all are named.
    pub jobs_rest: String,
    /// Beginnings of the shards of words, blanks between them.
    pub shards: String,
}

/// A term with its sheets.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Term {
    pub text: String,
    pub sheets: Vec<Link>,
}

/// The index sheet, and the shards it asks for.
pub fn sheet(set: &Set, here: &Here) -> (Sheet<super::Body>, Vec<SiteFile>) {
    let standing = merged(standing(set, here));
    let mut jobs: Vec<&JobSummary> = set.jobs.iter().collect();
    jobs.sort_by_key(|job| (Reverse(job.verdict), Reverse(&job.date)));
    let named = jobs.iter().take(NAMED).map(|job| term(&job_entry(job, here))).collect();
    let growing = merged(jobs_and_inlets(set, here));
    let terms: Vec<Term> = standing.iter().map(term).collect();
    let all: Vec<Entry> = standing.into_iter().chain(growing).collect();
    let groups: Vec<Vec<String>> = set
        .words
        .iter()
        .map(|word| [std::slice::from_ref(&word.word), word.also.as_slice()].concat())
        .collect();
    let index = index::index(&all, &groups);
    let body = super::Body::Find(Find {
        terms,
        jobs: named,
        jobs_rest: rest(jobs.len().saturating_sub(NAMED)),
        shards: index.shards.join(" "),
    });
    let placed = Placed { series: &cover_series(), nth: cover_nth(FIND), here };
    let sheet = placed.sheet(set, "Index".into(), cover_cells(set), body);
    let under_title = "Clauses, lessons, words, parts, jobs and inlets, each with its sheets.".into();
    (Sheet { under_title, ..sheet }, index.files)
}

fn term(entry: &Entry) -> Term {
    Term { text: entry.text.clone(), sheets: entry.sheets.clone() }
}

/// Entries of the same words as one with all their sheets, in the order of the alphabet.
fn merged(entries: impl Iterator<Item = Entry>) -> Vec<Entry> {
    let mut all: Vec<Entry> = Vec::new();
    let mut places: HashMap<String, usize> = HashMap::new();
    for entry in entries {
        let next = all.len();
        let nth = *places.entry(entry.text.to_lowercase()).or_insert(next);
        match all.get_mut(nth) {
            Some(known) => {
                known.sheets.extend(entry.sheets);
                known.words.extend(entry.words);
            }
            None => all.push(entry),
        }
    }
    all.sort_by_key(|entry| entry.text.to_lowercase());
    all
}

fn one(text: &str, sheet: Link, title: u32, near: &[(String, u32)]) -> Entry {
    let words = std::iter::once((text.to_owned(), title)).chain(near.iter().cloned()).collect();
    Entry { text: text.to_owned(), sheets: vec![sheet], words }
}

/// What stands in the standard, the lessons, the glossary and the catalog.
fn standing<'a>(set: &'a Set, here: &'a Here) -> impl Iterator<Item = Entry> + 'a {
    let clauses = set.in_force().into_iter().flat_map(move |standard| {
        standard.clauses().map(move |clause| {
            let href = here.to(&clause_page(&standard.revision, &clause.id), "");
            let sheet = Link { href, text: format!("Clause {}", clause.number) };
            let near =
                [(format!("{} {}", clause.id, words(&clause.text)), NEAR), (words(&clause.because), BODY)];
            one(&clause.title, sheet, TITLE, &near)
        })
    });
    let glossary = set.words.iter().map(move |word| {
        let href = here.to(GLOSSARY, &super::words::anchor(&word.word));
        one(
            &word.word,
            Link { href, text: "Words".into() },
            TITLE,
            &[(word.means.clone(), BODY), (word.also.join(" "), NEAR)],
        )
    });
    let catalog = set.catalog;
    let parts = catalog.fittings.iter().map(|part| &part.name);
    let parts = parts.chain(catalog.hoses.iter().map(|part| &part.name));
    let parts = parts.chain(catalog.valves.iter().map(|part| &part.name));
    let parts = parts
        .chain(catalog.units.iter().map(|part| &part.name))
        .map(move |name| one(name, Link { href: here.to(PARTS, ""), text: "Parts".into() }, TITLE, &[]));
    clauses.chain(lessons(set, here)).chain(glossary).chain(parts)
}

/// Lessons, their headings and their cards.
fn lessons<'a>(set: &'a Set, here: &'a Here) -> impl Iterator<Item = Entry> + 'a {
    set.lessons.iter().enumerate().flat_map(move |(place, lesson)| {
        let page = lesson_page(&lesson.id);
        let link =
            |anchor: &str| Link { href: here.to(&page, anchor), text: format!("Lesson {}", place + 1) };
        let near = [(lesson.summary.clone(), NEAR), (lesson.text.clone(), BODY)];
        let mut all = vec![one(&lesson.title, link(""), TITLE, &near)];
        let headings = lesson.headings.iter().filter(|(_, _, text)| text != "Questions");
        all.extend(headings.map(|(_, id, text)| one(text, link(id), HEADING, &[])));
        let card = |(nth, title): (usize, &String)| {
            one(title, link(&format!("card.{}", nth + 1)), HEADING, &[("practical card sign".into(), NEAR)])
        };
        all.extend(lesson.cards.iter().enumerate().map(card));
        all
    })
}

/// Jobs, read or not, their inlets and trunks.
fn jobs_and_inlets<'a>(set: &'a Set, here: &'a Here) -> impl Iterator<Item = Entry> + 'a {
    let read = set.jobs.iter().flat_map(move |job| {
        let lines = job.inlets.iter().chain(&job.trunks).map(move |line| line_entry(job, line, here));
        std::iter::once(job_entry(job, here)).chain(lines)
    });
    let unread = set.unread.iter().map(move |unread| {
        let link = Link { href: here.to(&job_page(&unread.key), ""), text: "packet, not read".into() };
        one(&unread.key, link, TITLE, &[("not read".into(), NEAR)])
    });
    read.chain(unread)
}

fn job_entry(job: &JobSummary, here: &Here) -> Entry {
    let text = format!("packet, {}", job.verdict.word());
    let cover = Link { href: here.to(&job_page(&job.key), ""), text };
    let near = [
        (format!("{} {} {} {}", job.key, job.address, job.date, job.verdict.word()), HEADING),
        (job.hazards.join(" "), NEAR),
        (notes(&job.findings), NEAR),
    ];
    one(&job.title, cover, TITLE, &near)
}

fn line_entry(job: &JobSummary, line: &LineSummary, here: &Here) -> Entry {
    let text = format!("{}, {}", job.title, line.verdict.word());
    let sheet = Link { href: line.sheet.from(here), text };
    let near = [(format!("{} {}", job.title, line.verdict.word()), HEADING), (notes(&line.findings), NEAR)];
    one(&line.name, sheet, TITLE, &near)
}

/// What was found and has to be seen to: by clause, verdict and words.
fn notes(findings: &[FindingSummary]) -> String {
    let calls = findings.iter().filter(|finding| finding.verdict.calls());
    let note =
        |finding: &FindingSummary| format!("{} {} {}", finding.clause, finding.verdict.word(), finding.note);
    calls.map(note).collect::<Vec<_>>().join(" ")
}
