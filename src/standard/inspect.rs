//! Holds a job against every clause of a standard.
use super::clause::{Ask, AskFigures, AskInlet, AskKept, AskLine, Check, Clause, Judged, Limit, Outcome};
use super::clauses::{clause, held_to};
use super::finding::{Finding, Findings, Of, Spot};
use super::idle::idle;
use super::verdict::{Standing, Verdict};
use crate::company::{
    Catalog, ClauseText, Cleared, Computed, Forced, Inlet, Job, Owner, Rule, Standard, Waiver,
};
use crate::figures::{Changed, InletFigures, JobFigures};
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
    inspect_reckoned(given, index, given.figures.inlets.get(index))
}

/// The same by these figures of its inlet.
pub fn inspect_reckoned(given: &Given, index: usize, figures: Option<&InletFigures>) -> Vec<Finding> {
    by_clauses(given, index, figures, |_| true)
}

/// The same by those clauses alone that look at no figures of the inlet.
pub fn inspect_laid(given: &Given, index: usize) -> Vec<Finding> {
    by_clauses(given, index, None, |clause| !clause.reads_figures())
}

fn by_clauses(
    given: &Given,
    index: usize,
    figures: Option<&InletFigures>,
    wanted: impl Fn(&Clause) -> bool,
) -> Vec<Finding> {
    let owner = given.lines.lines.get(index).map(|line| line.owner);
    let mut found = Vec::new();
    judge_line(given, index, figures, wanted, |by, outcome| {
        found.push(by.finding(given, owner, outcome));
    });
    found
}

/// How a line stands by the clauses that look at no figures of its inlet; nothing is put in words.
pub fn stands_laid(given: &Given, index: usize) -> Standing {
    standing(given, index, None, |clause| !clause.reads_figures())
}

/// How a line stands by the clauses that look at figures of its inlet, which are these.
pub fn stands_reckoned(given: &Given, index: usize, figures: &InletFigures) -> Standing {
    standing(given, index, Some(figures), Clause::reads_figures)
}

fn standing(
    given: &Given,
    index: usize,
    figures: Option<&InletFigures>,
    wanted: impl Fn(&Clause) -> bool,
) -> Standing {
    let owner = given.lines.lines.get(index).map(|line| line.owner);
    let mut standing = Standing::default();
    judge_line(given, index, figures, wanted, |by, outcome| {
        standing.add(by.settled(given, owner, &outcome).0);
    });
    standing
}

/// What bounds tell of a changed job, by the clauses that look at figures of an inlet, without its figures.
#[derive(Debug, Clone, Copy)]
pub struct Told {
    /// Every clause is surely no worse than it was found before; where not, it is not known.
    pub no_worse: bool,
    /// So many are surely broken; of those that were found broken none is asked while all others are kept.
    pub broken: usize,
}

/// Asks the bounds of a changed job, where before it was `found` so; `count` where it is of use how many clauses are
/// broken, those too of which nothing worse can be said.
pub fn told(given: &Given, change: &Changed, found: &[Finding], count: bool) -> Told {
    let mut told = Told { no_worse: true, broken: 0 };
    for text in given.standard.clauses() {
        let Rule::Computed(rule) = text.rule else { continue };
        let Some(clause) = clause(&text.id) else { continue };
        let Check::Figures(_, kept) = clause.check else { continue };
        // Each of these clauses says one thing of an inlet, and of some nothing worse can be said.
        let worst = |finding: &Finding| match finding.verdict {
            Verdict::Fail | Verdict::Waived => true,
            Verdict::Caution => rule.fails_at.is_none(),
            _ => false,
        };
        let worst = found.iter().find(|finding| finding.clause == text.id).is_some_and(worst);
        if worst && !count {
            continue;
        }
        let of = ask(given, clause, rule);
        // What cannot be judged for want of data cannot be judged after the change either.
        let lacks = || clause.needs.iter().any(|need| need.lack(&of, Some(change.inlet)).is_some());
        let waived = || text.waivable && change.inlet.waivers.iter().any(|waiver| waiver.clause == text.id);
        let kept = kept(&AskKept { bound: of.bound, limit: of.limit, change });
        told.no_worse &= worst || kept == Some(true) || lacks();
        told.broken += usize::from(kept == Some(false) && !lacks() && !waived());
        if !told.no_worse && kept.is_none() {
            break;
        }
    }
    told
}

/// Asks every clause that is wanted of a line; `take` gets what each says, with what said it.
fn judge_line<'a>(
    given: &'a Given,
    index: usize,
    reckoned: Option<&'a InletFigures>,
    wanted: impl Fn(&Clause) -> bool,
    take: impl FnMut(&By<'a>, Outcome),
) {
    let (Some(line), Some(spec), Some(figures)) =
        (given.lines.lines.get(index), given.job.lines.get(index), given.figures.lines.get(index))
    else {
        return;
    };
    let inlet = given.job.inlets.get(index);
    let route = inlet.map(|_| line.to_stop());
    let at_inlet = |of| {
        let ((inlet, raceway), route) = inlet.zip(line.raceway.as_ref()).zip(route.as_ref())?;
        Some(AskInlet { of, inlet, index, line, route, raceway })
    };
    let judge = |clause: &Clause, of| match clause.check {
        _ if !wanted(clause) => None,
        Check::Line(check) => {
            let ask = AskLine { of, index, line, spec, inlet, figures };
            Some(answered(clause, &of, inlet, || check(&ask)))
        }
        Check::Inlet(check) => {
            let ask = at_inlet(of)?;
            Some(answered(clause, &of, inlet, || check(&ask)))
        }
        Check::Figures(check, _) => {
            let ask = AskFigures { at: at_inlet(of)?, figures: reckoned? };
            Some(answered(clause, &of, inlet, || check(&ask)))
        }
        Check::Job(_) => None,
    };
    judged(given, inlet.map_or(&[], |inlet| &inlet.waivers), judge, take);
}

fn inspect_whole(given: &Given) -> Vec<Finding> {
    let judge = |clause: &Clause, of| match clause.check {
        Check::Inlet(_) | Check::Figures(..) | Check::Line(_) => None,
        Check::Job(check) => Some(answered(clause, &of, None, || check(&of))),
    };
    let mut found = Vec::new();
    judged(given, &[], judge, |by, outcome| found.push(by.finding(given, None, outcome)));
    found
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

/// A clause, as the standard words it.
struct By<'a> {
    clause: &'static Clause,
    text: &'a ClauseText,
    rule: Computed,
}

/// One pass over the standard, then over what no job is stamped without, where the standard lets it go or `waivers` set
/// it aside: of that only what is amiss is told. `judge` answers for the clauses that concern the thing judged.
fn judged<'a>(
    given: &Given<'a>,
    waivers: &[Waiver],
    judge: impl Fn(&Clause, Ask<'a>) -> Option<Vec<Outcome>>,
    mut take: impl FnMut(&By<'a>, Outcome),
) {
    let mut each = |text: &'a ClauseText, told: fn(&Outcome) -> bool| {
        let Rule::Computed(rule) = text.rule else { return };
        let Some(clause) = clause(&text.id) else { return };
        let outcomes = judge(clause, ask(given, clause, rule)).unwrap_or_default();
        outcomes.into_iter().filter(told).for_each(|outcome| take(&By { clause, text, rule }, outcome));
    };
    given.standard.clauses().for_each(|text| each(text, |_| true));
    for (text, let_go) in held_to(given.standard, waivers) {
        each(text, if let_go { stands_alone } else { |outcome| outcome.judged == Judged::Broken });
    }
}

/// Whether an outcome is told though the standard has no clause of its own for it: what is broken, and what waits
/// for somebody's word of one thing or of the line's end. What the job is silent about at large is not asked for.
fn stands_alone(outcome: &Outcome) -> bool {
    match outcome.judged {
        Judged::Met | Judged::NoSubject => false,
        Judged::Broken => true,
        Judged::Open | Judged::Asked => {
            outcome.mark.is_some() || outcome.spots.iter().any(|spot| matches!(spot, Spot::End))
        }
    }
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

impl By<'_> {
    fn finding(&self, given: &Given, whose: Of, outcome: Outcome) -> Finding {
        let (verdict, waiver, cleared) = self.settled(given, whose, &outcome);
        Finding {
            clause: self.text.id.clone(),
            number: self.text.number.clone(),
            title: self.text.title.clone(),
            level: self.text.level,
            verdict,
            quantity: self.clause.quantity,
            bends: outcome.bends(),
            place: place(given, whose, &outcome),
            measured: outcome.measured,
            limit: outcome.limit,
            spots: outcome.spots,
            mark: outcome.mark,
            note: match self.text.number.is_empty() {
                true => format!("{} ({})", outcome.note, self.why_told(given.standard)),
                false => outcome.note,
            },
            remedy: outcome.remedy,
            waiver: waiver.cloned(),
            cleared: cleared.cloned(),
        }
    }

    /// Why a clause in the program's own words is told of.
    fn why_told(&self, standard: &Standard) -> String {
        match standard.clause(&self.text.id).map(|text| text.level) {
            Some(Forced::Must) => "no waiver sets this aside".into(),
            Some(Forced::Should) => format!("a must, whatever revision {} says", standard.revision),
            None => format!("revision {} has no clause on it", standard.revision),
        }
    }

    /// The verdict, with the waiver or the paper that settled it: a broken clause that the inlet has a waiver for is
    /// waived, where the standard allows it to be; a hold that waits for somebody's word is cleared by the paper that gives
    /// it. The finding keeps its words, for nothing was computed.
    fn settled<'b>(
        &self,
        given: &Given<'b>,
        whose: Of,
        outcome: &Outcome,
    ) -> (Verdict, Option<&'b Waiver>, Option<&'b Cleared>) {
        let verdict = verdict(self.clause, self.text.level, self.rule, outcome);
        let waivers = match whose {
            Some(Owner::Inlet(i)) if verdict.broken() && self.text.waivable => given.job.inlets.get(i),
            _ => None,
        };
        let waiver = waivers.and_then(|inlet| inlet.waivers.iter().find(|w| w.clause == self.text.id));
        let answers = |paper: &&Cleared| answers(paper, &self.text.id, outcome.mark.as_deref(), whose);
        // A figure that is missing is filled in; no paper stands for it.
        let asked = verdict == Verdict::Hold && outcome.judged == Judged::Asked;
        let paper = given.job.cleared.iter().find(|paper| asked && answers(paper));
        match (waiver, paper) {
            (Some(_), _) => (Verdict::Waived, waiver, None),
            (_, Some(_)) => (Verdict::Cleared, None, paper),
            _ => (verdict, None, None),
        }
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
        (Judged::NoSubject, _) | (Judged::Open | Judged::Asked, Forced::Should) => Verdict::NotChecked,
        (Judged::Open | Judged::Asked, Forced::Must) => Verdict::Hold,
        (Judged::Broken, Forced::Must) => Verdict::Fail,
        (Judged::Broken, Forced::Should) if rule.fails_at.is_some_and(past) => Verdict::Fail,
        (Judged::Broken, Forced::Should) => Verdict::Caution,
    }
}

/// Whether a paper is about this finding: its clause, its line, and its mark where the paper names one.
pub(super) fn answers(paper: &Cleared, clause: &str, mark: Option<&str>, whose: Of) -> bool {
    let at = paper.at.as_ref().is_none_or(|at| mark.is_some_and(|mark| same_mark(mark, at)));
    paper.of == whose && paper.clause == clause && at
}

/// Whether `at` is a mark, with the letters of its line or, since the line is named beside it, without.
fn same_mark(mark: &str, at: &str) -> bool {
    let bare = mark.find('X').map_or(mark, |x| &mark[x..]);
    mark.eq_ignore_ascii_case(at) || bare.eq_ignore_ascii_case(at)
}
