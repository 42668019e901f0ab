//! Holds a job against every clause of a standard.
use super::clause::{Ask, AskFigures, AskInlet, AskLine, Check, Clause, Judged, Limit, Outcome};
use super::clauses::clause;
use super::finding::{Finding, Findings, Of, Spot};
use super::idle::idle;
use super::verdict::Verdict;
use crate::company::{
    Catalog, ClauseText, Cleared, Computed, Forced, Inlet, Job, Owner, Rule, Standard, Waiver,
};
use crate::figures::JobFigures;
use crate::measure::Say;
use crate::route::JobLines;
use crate::takeoff::LineCuts;
use crate::text::Place;

/// All that a job is judged from.
#[derive(Clone, Copy)]
pub struct Given<'a> {
    pub job: &'a Job,
    pub lines: &'a JobLines,
    pub figures: &'a JobFigures,
    /// The tubes of each line in pieces, in the order of the lines.
    pub cuts: &'a [LineCuts],
    pub standard: &'a Standard,
    pub catalog: &'a Catalog,
    pub say: Say,
}

/// Inspects every line of a job with its inlet, and the job as a whole, by its standard.
pub fn inspect(given: &Given) -> Findings {
    let mut lines = given.lines.lines.iter().enumerate().map(|(i, _)| inspect_line(given, i));
    let inlets = lines.by_ref().take(given.job.inlets.len()).collect();
    let trunks = lines.collect();
    let mut findings = Findings { inlets, trunks, job: inspect_whole(given), idle: vec![] };
    findings.idle = idle(given.job, &findings);
    findings
}

/// Inspects one line, and the inlet whose it is; an index beyond the job's lines finds nothing.
pub fn inspect_line(given: &Given, index: usize) -> Vec<Finding> {
    by_clauses(given, index, |_| true)
}

/// The same by those clauses alone that look at no figures of the inlet: the figures may be old ones.
pub fn inspect_laid(given: &Given, index: usize) -> Vec<Finding> {
    by_clauses(given, index, |clause| !matches!(clause.check, Check::Figures(_)))
}

fn by_clauses(given: &Given, index: usize, wanted: impl Fn(&Clause) -> bool) -> Vec<Finding> {
    let (Some(line), Some(spec), Some(figures)) =
        (given.lines.lines.get(index), given.job.lines.get(index), given.figures.lines.get(index))
    else {
        return Vec::new();
    };
    let inlet = given.job.inlets.get(index);
    let waivers = inlet.map_or(&[][..], |inlet| &inlet.waivers);
    let route = &line.to_stop();
    let at_inlet = |of| {
        let (inlet, raceway) = inlet.zip(line.raceway.as_ref())?;
        Some(AskInlet { of, inlet, index, line, route, raceway })
    };
    findings(given, Some(line.owner), waivers, |clause, of| match clause.check {
        _ if !wanted(clause) => None,
        Check::Line(check) => {
            let ask = AskLine { of, index, line, spec, inlet, figures };
            Some(answered(clause, &of, inlet, || check(&ask)))
        }
        Check::Inlet(check) => {
            let ask = at_inlet(of)?;
            Some(answered(clause, &of, inlet, || check(&ask)))
        }
        Check::Figures(check) => {
            let ask = AskFigures { at: at_inlet(of)?, figures: given.figures.inlets.get(index)? };
            Some(answered(clause, &of, inlet, || check(&ask)))
        }
        Check::Job(_) => None,
    })
}

fn inspect_whole(given: &Given) -> Vec<Finding> {
    findings(given, None, &[], |clause, of| match clause.check {
        Check::Inlet(_) | Check::Figures(_) | Check::Line(_) => None,
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
    whose: Of,
    waivers: &[Waiver],
    judge: impl Fn(&Clause, Ask<'a>) -> Option<Vec<Outcome>>,
) -> Vec<Finding> {
    let mut found = Vec::new();
    for text in given.standard.clauses() {
        let Rule::Computed(rule) = text.rule else { continue };
        let Some(clause) = clause(&text.id) else { continue };
        let outcomes = judge(clause, ask(given, clause, rule)).unwrap_or_default();
        for outcome in outcomes {
            let place = place(given, whose, &outcome);
            let mut finding = Finding { place, ..finding(clause, text, rule, outcome) };
            waive(&mut finding, text, waivers);
            clear(&mut finding, whose, &given.job.cleared);
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
        lines: given.lines,
        clashes: &given.figures.clashes,
        cuts: given.cuts,
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
        place: None,
        note: outcome.note,
        remedy: outcome.remedy,
        waiver: None,
        cleared: None,
    }
}

/// Where it is written what a check speaks of: the bend, run or joint of its first spot, else the line, else
/// the unit.
fn place(given: &Given, whose: Of, outcome: &Outcome) -> Option<Place> {
    let line = match whose {
        Some(Owner::Inlet(i)) => given.lines.of_inlet(i),
        Some(Owner::Trunk(i)) => given.lines.of_trunk(i),
        None => return Some(given.job.unit.place.clone()).filter(Place::is_known),
    }?;
    let run = |leg: usize| line.legs.get(leg)?.runs.first().map(|(_, place)| place.clone());
    let marked = outcome.mark.as_ref().and_then(|mark| line.crossings.iter().find(|c| c.mark == *mark));
    let spot = match (marked, outcome.spots.first()) {
        (Some(crossed), _) => Some(crossed.crossing.place.clone()),
        (None, Some(Spot::Bend(n))) => line.bend(*n).map(|bend| bend.place.clone()),
        (None, Some(Spot::Leg(leg))) => run(*leg),
        (None, Some(Spot::Station(station_m))) => run(line.leg_at(*station_m)),
        (None, Some(Spot::Stop)) => {
            line.raceway.as_ref().and_then(|raceway| run(raceway.legs.saturating_sub(1)))
        }
        (None, Some(Spot::End)) => Some(line.into_place.clone()),
        (None, Some(Spot::Whole) | None) => None,
    };
    spot.filter(Place::is_known).or(Some(line.place.clone())).filter(Place::is_known)
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

/// A hold that a paper answers is cleared; the finding keeps its words, for nothing was computed.
fn clear(finding: &mut Finding, whose: Of, cleared: &[Cleared]) {
    if finding.verdict != Verdict::Hold {
        return;
    }
    if let Some(paper) = cleared.iter().find(|paper| answers(paper, finding, whose)) {
        finding.verdict = Verdict::Cleared;
        finding.cleared = Some(paper.clone());
    }
}

/// Whether a paper is about this finding: its clause, its line, and its mark where the paper names one.
fn answers(paper: &Cleared, finding: &Finding, whose: Of) -> bool {
    let at = paper.at.as_ref().is_none_or(|at| finding.mark.as_ref().is_some_and(|mark| same_mark(mark, at)));
    paper.of == whose && paper.clause == finding.clause && at
}

/// Whether `at` is a mark, with the letters of its line or, since the line is named beside it, without.
fn same_mark(mark: &str, at: &str) -> bool {
    let bare = mark.find('X').map_or(mark, |x| &mark[x..]);
    mark.eq_ignore_ascii_case(at) || bare.eq_ignore_ascii_case(at)
}
