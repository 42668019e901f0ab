//! Waivers and papers of a job that change no verdict: errors of its file, for whoever wrote them meant
//! something by them.
use super::finding::Findings;
use super::inspect::answers;
use super::verdict::Verdict;
use crate::company::{Cleared, Job, Waiver};
use crate::text::{Diagnostic, Place};

/// Every waiver of a clause that is not broken, and every paper for a hold that does not stand.
pub fn idle(job: &Job, findings: &Findings) -> Vec<Diagnostic> {
    let mut idle = Vec::new();
    for (spec, found) in job.inlets.iter().zip(&findings.inlets) {
        let taken = |waiver: &&Waiver| !found.iter().any(|finding| finding.waiver.as_ref() == Some(waiver));
        idle.extend(spec.waivers.iter().filter(taken).map(|waiver| {
            let message = format!("the clause `{}` is not broken by {}", waiver.clause, spec.name);
            told(&waiver.place, message, "leave the waiver out; it would set aside what holds")
        }));
    }
    let stands = |paper: &&Cleared| !findings.all().any(|(_, f)| f.cleared.as_ref() == Some(paper));
    idle.extend(job.cleared.iter().filter(stands).map(|paper| of_no_use(paper, findings)));
    idle
}

/// A paper for what waits for a figure, or for nothing at all.
fn of_no_use(paper: &Cleared, findings: &Findings) -> Diagnostic {
    let clause = &paper.clause;
    let at = paper.at.as_ref().map(|at| format!(" at {at}")).unwrap_or_default();
    let waits = findings.all().find(|(of, finding)| {
        finding.verdict == Verdict::Hold && answers(paper, &finding.clause, finding.mark.as_deref(), *of)
    });
    match waits {
        Some((_, finding)) => told(
            &paper.place,
            format!("the hold of the clause `{clause}`{at} waits for a figure, which no paper stands for"),
            finding.remedy.as_deref().unwrap_or("fill in what is missing"),
        ),
        None => told(
            &paper.place,
            format!("no hold of the clause `{clause}`{at} stands that this paper could clear"),
            "look up the hold's mark with `longsweep inspect`, or leave the paper out",
        ),
    }
}

fn told(place: &Place, message: String, help: &str) -> Diagnostic {
    let whole = Diagnostic::of_file(&place.file, message, Some(help));
    Diagnostic { line: place.line, column: place.column, len: 1, ..whole }
}
