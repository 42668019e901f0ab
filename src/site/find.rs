//! The find page: an index of terms by letter, and the same terms with their words for the script.
use super::cover::{cover_cells, job_page};
use super::input::Set;
use super::ways::{PARTS, cover_series, lesson_page, title_block};
use crate::packet::outline::Outline;
use crate::packet::place::Place;
use crate::packet::prose::words;
use crate::packet::sheet::{Sheet, clause_page};
use serde::Serialize;

/// The find sheet.
#[derive(Debug, Clone, Serialize)]
pub struct Find {
    pub letters: Vec<Letter>,
}

/// Terms under a letter.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Letter {
    pub letter: String,
    pub anchor: String,
    pub terms: Vec<TermLink>,
}

/// A term in the index by letter.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct TermLink {
    pub text: String,
    pub what: String,
    pub href: String,
}

/// Something that can be found.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Term {
    text: String,
    what: String,
    href: String,
    /// Its words, for the script.
    words: String,
}

/// A term as the script reads it; short names keep the file small.
#[derive(Serialize)]
struct Entry<'a> {
    t: &'a str,
    k: &'a str,
    u: &'a str,
    w: &'a str,
}

/// The find sheet.
pub fn sheet(set: &Set, here: &Place) -> Sheet<super::Body> {
    Sheet {
        number: "C-2".into(),
        title: "Find".into(),
        lead: "Every clause, lesson, job and inlet, by letter.".into(),
        block: title_block(set, &cover_series(), 1, here, cover_cells(set)),
        body: super::Body::Find(Find { letters: letters(&terms(set, here)) }),
    }
}

/// The index for the script, as a script of its own: a page opened from a folder may not fetch, but may
/// load a script that stands beside it.
pub fn index_script(set: &Set, here: &Place) -> String {
    let terms = terms(set, here);
    let entries: Vec<Entry> = terms
        .iter()
        .map(|term| Entry { t: &term.text, k: &term.what, u: &term.href, w: &term.words })
        .collect();
    let json = serde_json::to_string(&entries).unwrap_or_else(|_| "[]".into());
    format!("window.longsweepTerms = {};\n", json.replace('<', "\\u003c"))
}

/// Everything that can be found, in the order of the alphabet.
fn terms(set: &Set, here: &Place) -> Vec<Term> {
    let mut terms = Vec::new();
    clause_terms(set, here, &mut terms);
    lesson_terms(set, here, &mut terms);
    job_terms(set, here, &mut terms);
    part_terms(set, here, &mut terms);
    terms.sort_by_key(|term| (term.text.to_lowercase(), term.href.clone()));
    terms
}

/// Clauses of the standard in force.
fn clause_terms(set: &Set, here: &Place, terms: &mut Vec<Term>) {
    let Some(standard) = set.in_force() else { return };
    for clause in standard.clauses() {
        terms.push(Term {
            text: clause.title.clone(),
            what: format!("clause {}", clause.number),
            href: here.to(&clause_page(&standard.revision, &clause.id), ""),
            words: format!("{} {} {}", clause.id, words(&clause.text), words(&clause.because)),
        });
    }
}

/// Lessons and their headings.
fn lesson_terms(set: &Set, here: &Place, terms: &mut Vec<Term>) {
    for (place, lesson) in set.lessons.iter().enumerate() {
        let page = lesson_page(&lesson.id);
        terms.push(Term {
            text: lesson.title.clone(),
            what: format!("lesson L-{}", place + 1),
            href: here.to(&page, ""),
            words: format!("{} {}", lesson.summary, lesson.text),
        });
        terms.extend(lesson.headings.iter().map(|(_, id, text)| Term {
            text: text.clone(),
            what: format!("in lesson L-{}, {}", place + 1, lesson.title),
            href: here.to(&page, id),
            words: String::new(),
        }));
    }
}

/// The parts sheet and the parts on it.
fn part_terms(set: &Set, here: &Place, terms: &mut Vec<Term>) {
    let catalog = set.catalog;
    let names = catalog.fittings.iter().map(|fitting| &fitting.name);
    let names = names.chain(catalog.hoses.iter().map(|hose| &hose.name));
    let names = names.chain(catalog.valves.iter().map(|valve| &valve.name));
    let names = names.chain(catalog.units.iter().map(|unit| &unit.name));
    terms.extend(names.map(|name| Term {
        text: name.clone(),
        what: "part, sheet C-3".into(),
        href: here.to(PARTS, ""),
        words: "parts catalog figures measured typical".into(),
    }));
}

/// Jobs, read or not, and their inlets.
fn job_terms(set: &Set, here: &Place, terms: &mut Vec<Term>) {
    for entry in set.jobs {
        let (worked, out) = (&entry.worked, Outline::of(entry.worked.work.job));
        let job = worked.work.job;
        terms.push(Term {
            text: job.title.clone(),
            what: format!("job, {}", worked.work.findings.verdict().word()),
            href: here.to(&job_page(&job.key), ""),
            words: format!("{} {} {}", job.key, job.address, job.date),
        });
        terms.extend(worked.inlets().map(|part| Term {
            text: part.inlet.name.clone(),
            what: format!("inlet, {}, {}", job.title, worked.work.findings.inlet_verdict(part.index).word()),
            href: out.inlet_link(here, part.index),
            words: part.findings.iter().map(|f| f.note.as_str()).collect::<Vec<_>>().join(" "),
        }));
    }
    terms.extend(set.unread.iter().map(|unread| Term {
        text: unread.key.clone(),
        what: "job, unread".into(),
        href: here.to(&job_page(&unread.key), ""),
        words: String::new(),
    }));
}

/// Terms by their first letter; what begins with no letter stands under `#`.
fn letters(terms: &[Term]) -> Vec<Letter> {
    let mut letters: Vec<Letter> = Vec::new();
    for term in terms {
        let first = term.text.chars().next().filter(|c| c.is_alphabetic());
        let letter = first.map_or("#".to_string(), |c| c.to_uppercase().to_string());
        let link = TermLink { text: term.text.clone(), what: term.what.clone(), href: term.href.clone() };
        match letters.iter_mut().find(|group| group.letter == letter) {
            Some(group) => group.terms.push(link),
            None => {
                let anchor = if letter == "#" { "other".into() } else { letter.to_lowercase() };
                letters.push(Letter { letter, anchor, terms: vec![link] });
            }
        }
    }
    letters
}
