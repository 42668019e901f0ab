//! Holds a job against every clause of a standard.
use super::clause::{Ask, Check, Measured, Outcome};
use super::clauses::clause;
use super::finding::{Finding, Findings, Quantity, Verdict};
use crate::company::{Catalog, ClauseText, Forced, Job, Rule, Standard, Waiver};
use crate::figures::{InletFigures, JobFigures};
use crate::measure::Say;
use crate::route::JobRoutes;

/// Inspects every inlet of a job, and the job as a whole, by the standard.
pub fn inspect(
    job: &Job,
    routes: &JobRoutes,
    figures: &JobFigures,
    standard: &Standard,
    catalog: &Catalog,
    say: Say,
) -> Findings {
    let inlets = figures
        .inlets
        .iter()
        .enumerate()
        .map(|(i, figures)| inspect_inlet(job, i, routes, figures, standard, catalog, say))
        .collect();
    let first = figures.inlets.first().and_then(|figures| ask(job, 0, routes, figures, catalog, say));
    let job_findings = first.map(|mut ask| {
        findings(&mut ask, standard, &[], |check| match check {
            Check::Job(check) => Some(*check),
            Check::Inlet(_) => None,
        })
    });
    Findings { inlets, job: job_findings.unwrap_or_default() }
}

/// Inspects one inlet; an index beyond the job's inlets finds nothing.
pub fn inspect_inlet(
    job: &Job,
    inlet: usize,
    routes: &JobRoutes,
    figures: &InletFigures,
    standard: &Standard,
    catalog: &Catalog,
    say: Say,
) -> Vec<Finding> {
    let Some(mut ask) = ask(job, inlet, routes, figures, catalog, say) else {
        return Vec::new();
    };
    let waivers = &ask.inlet.waivers;
    findings(&mut ask, standard, waivers, |check| match check {
        Check::Inlet(check) => Some(*check),
        Check::Job(_) => None,
    })
}

fn ask<'a>(
    job: &'a Job,
    inlet: usize,
    routes: &'a JobRoutes,
    figures: &'a InletFigures,
    catalog: &'a Catalog,
    say: Say,
) -> Option<Ask<'a>> {
    Some(Ask {
        say,
        catalog,
        job,
        inlet: job.inlets.get(inlet)?,
        index: inlet,
        route: routes.raceways.get(inlet)?,
        closure: routes.onward.get(inlet)?.as_ref().and_then(|onward| onward.closure.as_ref()),
        trunks: &routes.trunks,
        routes,
        figures,
        limit: None,
    })
}

fn findings(
    ask: &mut Ask,
    standard: &Standard,
    waivers: &[Waiver],
    pick: impl Fn(&Check) -> Option<fn(&Ask) -> Vec<Outcome>>,
) -> Vec<Finding> {
    let mut found = Vec::new();
    for text in standard.clauses() {
        let Rule::Computed { value } = text.rule else {
            continue;
        };
        let Some(clause) = clause(&text.id) else { continue };
        let Some(check) = pick(&clause.check) else {
            continue;
        };
        ask.limit = value.or(clause.parameter.and_then(|parameter| parameter.default));
        for outcome in check(ask) {
            let mut finding = finding(text, clause.quantity, outcome);
            waive(&mut finding, waivers);
            found.push(finding);
        }
    }
    found
}

fn finding(text: &ClauseText, quantity: Quantity, outcome: Outcome) -> Finding {
    let (verdict, measured) = match outcome {
        Outcome::NotChecked(note) => (
            Verdict::NotChecked,
            Measured {
                broken: false,
                measured: None,
                limit: None,
                bends: vec![],
                spots: vec![],
                note,
                remedy: None,
            },
        ),
        Outcome::Judged(measured) if !measured.broken => (Verdict::Pass, measured),
        Outcome::Judged(measured) if text.level == Forced::Must => (Verdict::Fail, measured),
        Outcome::Judged(measured) => (Verdict::Caution, measured),
    };
    Finding {
        clause: text.id.clone(),
        number: text.number.clone(),
        title: text.title.clone(),
        level: text.level,
        verdict,
        measured: measured.measured,
        limit: measured.limit,
        quantity,
        bends: measured.bends,
        spots: measured.spots,
        note: measured.note,
        remedy: measured.remedy,
        waiver: None,
    }
}

/// A broken clause that the inlet has a waiver for is waived; a waiver of a clause that holds changes nothing.
fn waive(finding: &mut Finding, waivers: &[Waiver]) {
    if !matches!(finding.verdict, Verdict::Fail | Verdict::Caution) {
        return;
    }
    if let Some(waiver) = waivers.iter().find(|waiver| waiver.clause == finding.clause) {
        finding.verdict = Verdict::Waived;
        finding.waiver = Some(waiver.clone());
    }
}
