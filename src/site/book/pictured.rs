//! Right and wrong of a clause, drawn by the engine and judged by the revision that is printed.
use crate::company::{ClauseText, Practice, Rule, Standard, read_path};
use crate::draw::{Halves, elevation, practice, practice_shown};
use crate::packet::subjects::line;
use crate::site::bare::bare_job;
use crate::site::input::Set;
use crate::standard::{Finding, Pictured, Verdict, clause};
use crate::work::Work;

/// Width and height of a drawing, mm.
const AREA_MM: (f64, f64) = (150.0, 52.0);

/// Caption and drawing of a raceway that keeps the clause, and of one that breaks it. None where the clause
/// shows on no line of tube, where the firm lacks a part of it, or where by the firm's own limit the one
/// does not keep it or the other does not break it: nothing is shown as right that is not. `halves` is how the sketch of a clause that a person ticks stands.
pub fn pictures(set: &Set, standard: &Standard, text: &ClauseText, halves: Halves) -> Vec<(String, String)> {
    let id = text.id.as_str();
    if let Rule::ByEye(line) = &text.rule {
        return line.picture.iter().map(|of| sketch(*of, halves, id)).collect();
    }
    let Some(Pictured { right, wrong }) = clause(id).and_then(|clause| clause.pictured) else {
        return Vec::new();
    };
    let drawn = |text: &str, name: &str| drawn(set, standard, (id, name), text);
    match (drawn(right, "right"), drawn(wrong, "wrong")) {
        (Some((kept, right)), Some((broken, wrong)))
            if kept.verdict == Verdict::Pass && broken.verdict.broken() =>
        {
            let told = |lead: &str, found: &Finding| format!("{lead}: {}.", found.note.trim_end_matches('.'));
            vec![(told("Right", &kept), right), (told("Wrong", &broken), wrong)]
        }
        _ => Vec::new(),
    }
}

/// The sketch of a clause that a person ticks, right and wrong side by side.
fn sketch(of: Practice, halves: Halves, id: &str) -> (String, String) {
    let (title, told) = practice_shown(of);
    (format!("{title}. {told}"), practice(of, halves, &format!("{id}-sketch")).to_svg())
}

/// A raceway drawn, with the worst that the clause finds in it.
fn drawn(set: &Set, standard: &Standard, (id, name): (&str, &str), text: &str) -> Option<(Finding, String)> {
    let path = read_path(id, text, 0, set.catalog).ok()?;
    let hose_named = path.hose_named;
    let job = bare_job(path, set.catalog.units.first()?, standard, &format!("{id}-{name}"));
    let mut work = Work::laid(&job, standard, set.catalog, set.firm.say());
    let found = work.findings.inlets.first_mut()?;
    found.retain(|finding| finding.clause == id);
    let worst = found.iter().max_by_key(|finding| finding.verdict)?.clone();
    let mut picture = line(&work, 0, "elevation", AREA_MM)?;
    if !hose_named {
        picture.hose = None;
    }
    picture.title = format!("{}, {name}", worst.title);
    Some((worst, elevation(&picture).to_svg()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::company::load_company;
    use std::path::Path;

    /// A picture is left out where it does not show what it should; the demo's clauses all show it.
    #[test]
    fn every_clause_of_the_demo_that_has_a_right_and_a_wrong_shows_both() {
        let company = load_company(Path::new(env!("CARGO_MANIFEST_DIR")), &crate::standard::kinds());
        let (catalog, firm) = (company.catalog.unwrap(), company.firm.unwrap());
        let set = Set {
            firm: &firm,
            catalog: &catalog,
            standards: &company.standards,
            jobs: &[],
            unread: &[],
            lessons: &[],
            words: &[],
            bar: "",
        };
        let standard = set.in_force().unwrap();
        let pictured = |text: &&ClauseText| clause(&text.id).is_some_and(|clause| clause.pictured.is_some());
        let mut shown = 0;
        for text in standard.clauses().filter(pictured) {
            let leads: Vec<String> =
                pictures(&set, standard, text, Halves::Beside).into_iter().map(|(told, _)| told).collect();
            assert_eq!(leads.len(), 2, "{} shows nothing", text.id);
            assert!(leads[0].starts_with("Right: ") && leads[1].starts_with("Wrong: "), "{leads:?}");
            shown += 1;
        }
        assert!(shown > 10, "only {shown} clauses have pictures");
    }
}
