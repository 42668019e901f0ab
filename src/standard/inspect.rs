//! Holds a job against every clause of a standard.
use super::clause::{Ask, AskInlet, Check, Clause, Judged, Limit, Outcome};
use super::clauses::clause;
use super::finding::{Finding, Findings};
use super::verdict::Verdict;
use crate::company::{Catalog, ClauseText, Computed, Forced, Inlet, Job, Rule, Standard, Waiver};
use crate::figures::JobFigures;
use crate::measure::Say;
use crate::route::JobRoutes;

/// All that a job is judged from.
#[derive(Clone, Copy)]
pub struct Given<'a> {
    pub job: &'a Job,
    pub routes: &'a JobRoutes,
    pub figures: &'a JobFigures,
    pub standard: &'a Standard,
    pub catalog: &'a Catalog,
    pub say: Say,
}

/// Inspects every inlet of a job, and the job as a whole, by its standard.
pub fn inspect(given: &Given) -> Findings {
    let inlets = (0..given.job.inlets.len()).map(|i| inspect_inlet(given, i)).collect();
    Findings { inlets, job: inspect_whole(given) }
}

/// Inspects one inlet; an index beyond the job's inlets finds nothing.
pub fn inspect_inlet(given: &Given, index: usize) -> Vec<Finding> {
    let (Some(inlet), Some(route), Some(figures)) =
        (given.job.inlets.get(index), given.routes.raceways.get(index), given.figures.inlets.get(index))
    else {
        return Vec::new();
    };
    let onward = given.routes.onward.get(index).and_then(Option::as_ref);
    let closure = onward.and_then(|onward| onward.closure.as_ref());
    findings(given, &inlet.waivers, |clause, of| match clause.check {
        Check::Inlet(check) => {
            let ask = AskInlet { of, inlet, index, route, closure, figures };
            Some(answered(clause, &of, Some(inlet), || check(&ask)))
        }
        Check::Job(_) => None,
    })
}

fn inspect_whole(given: &Given) -> Vec<Finding> {
    findings(given, &[], |clause, of| match clause.check {
        Check::Inlet(_) => None,
        Check::Job(check) => Some(answered(clause, &of, None, || check(&of))),
    })
}

/// What a check says, or what it lacks.
fn answered(
    clause: &Clause,
    ask: &Ask,
    inlet: Option<&Inlet>,
    check: impl Fn() -> Vec<Outcome>,
) -> Vec<Outcome> {
    let lack = clause.needs.iter().find_map(|need| need.lack(ask, inlet));
    lack.map_or_else(check, |lack| vec![lack])
}

/// One pass over the standard; `judge` answers for the clauses that concern the thing judged.
fn findings<'a>(
    given: &Given<'a>,
    waivers: &[Waiver],
    judge: impl Fn(&Clause, Ask<'a>) -> Option<Vec<Outcome>>,
) -> Vec<Finding> {
    let mut found = Vec::new();
    for text in given.standard.clauses() {
        let Rule::Computed(rule) = text.rule else { continue };
        let Some(clause) = clause(&text.id) else { continue };
        let outcomes = judge(clause, ask(given, clause, rule)).unwrap_or_default();
        for outcome in outcomes {
            let mut finding = finding(clause, text, rule, outcome);
            waive(&mut finding, text, waivers);
            found.push(finding);
        }
    }
    found
}

fn ask<'a>(given: &Given<'a>, clause: &Clause, rule: Computed) -> Ask<'a> {
    let limit = match clause.limit {
        // Reading a standard has seen to it that the firm's figure or a default is there; one made up
        // without it keeps nothing, for no measure keeps to what is not a number.
        Limit::Set(parameter) => rule.value.or(parameter.default).unwrap_or(f64::NAN),
        Limit::Is(limit) => limit,
        Limit::ByCase => f64::NAN,
    };
    Ask {
        say: given.say,
        catalog: given.catalog,
        job: given.job,
        routes: given.routes,
        all_figures: given.figures,
        bound: clause.bound,
        limit,
    }
}

fn finding(clause: &Clause, text: &ClauseText, rule: Computed, outcome: Outcome) -> Finding {
    Finding {
        clause: text.id.clone(),
        number: text.number.clone(),
        title: text.title.clone(),
        level: text.level,
        verdict: verdict(clause, text.level, rule, &outcome),
        quantity: clause.quantity,
        bends: outcome.bends(),
        measured: outcome.measured,
        limit: outcome.limit,
        spots: outcome.spots,
        mark: outcome.mark,
        note: outcome.note,
        remedy: outcome.remedy,
        waiver: None,
    }
}

/// What the standard's word makes of a check.
fn verdict(clause: &Clause, level: Forced, rule: Computed, outcome: &Outcome) -> Verdict {
    let past = |limit: f64| outcome.measured.is_none_or(|measured| !clause.bound.keeps(measured, limit));
    match (outcome.judged, level) {
        (Judged::Met, _) => Verdict::Pass,
        (Judged::NoSubject, _) | (Judged::Open, Forced::Should) => Verdict::NotChecked,
        (Judged::Open, Forced::Must) => Verdict::Hold,
        (Judged::Broken, Forced::Must) => Verdict::Fail,
        (Judged::Broken, Forced::Should) if rule.fails_at.is_some_and(past) => Verdict::Fail,
        (Judged::Broken, Forced::Should) => Verdict::Caution,
    }
}

/// A broken clause that the inlet has a waiver for is waived, where the standard allows it to be.
fn waive(finding: &mut Finding, text: &ClauseText, waivers: &[Waiver]) {
    if !finding.verdict.broken() || !text.waivable {
        return;
    }
    if let Some(waiver) = waivers.iter().find(|waiver| waiver.clause == finding.clause) {
        finding.verdict = Verdict::Waived;
        finding.waiver = Some(waiver.clone());
    }
}
