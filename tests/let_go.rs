//! What a firm's standard lets go, a waiver sets aside or a paper answers, and no job passes without.
mod reading;

use longsweep::company::{ClauseText, Forced};
use longsweep::standard::Verdict;
use longsweep::work::Work;
use reading::held::{DOWN, PLATE, TRUSS, bare_standard, house, job, of_clause, trunk_house, worked};

#[test]
fn no_waiver_lets_a_job_pass_that_cannot_be_built() {
    let waiver = |clause: &str| format!("waivers: [{{clause: {clause}, because: Beam, by: crew lead}}]");
    let long = |run: &str| house("", PLATE, &waiver("hose-room")).replace("run: 44 ft", run);
    // 42 ft of path hold a hose of 40 ft, though not with 10 % on top; 13 ft do not hold it at all.
    for (run, wanted) in [("run: 40 ft", Verdict::Waived), ("run: 10 ft", Verdict::Fail)] {
        let job = job(&long(run));
        let work = worked(&job);
        assert_eq!((work.verdict(), work.findings.idle.len()), (wanted, 0), "{run}");
        assert_eq!(work.findings.may_be_built(), wanted == Verdict::Waived);
    }
    let short = job(&long("run: 10 ft"));
    let finding = of_clause(&worked(&short), "hose-room");
    assert!(finding.note.ends_with("(no waiver sets this aside)"), "{}", finding.note);
    // A firm may say that two pipes may lie in one place; they cannot.
    let mut standard = bare_standard();
    let (_, standards) = reading::shared();
    let clash = standards.last().unwrap().clause("clash").unwrap();
    standard.parts[0].clauses.push(ClauseText { waivable: true, ..clash.clone() });
    let text = trunk_house(DOWN, "{path: [{run: 20 ft}], into: unit}", "");
    let mut crossing = job(&text);
    crossing.inlets[0].waivers = job(&long("run: 40 ft")).inlets[0].waivers.clone();
    crossing.inlets[0].waivers[0].clause = "clash".into();
    let (catalog, _) = reading::shared();
    let work = Work::up(&crossing, &standard, catalog, reading::firm().say());
    let of_hall: Vec<Verdict> =
        work.findings.inlets[0].iter().filter(|f| f.clause == "clash").map(|f| f.verdict).collect();
    assert_eq!(of_hall, [Verdict::Waived, Verdict::Fail]);
}

#[test]
fn no_paper_stands_for_a_figure_that_is_missing() {
    let silent = house("", "crosses: none", "").replace(", crosses: none", "");
    let nowhere = silent.replace("    onward:\n      path: [{run: 3 ft}]\n      into: unit\n", "");
    for (text, clause, wanted) in [
        (silent, "bores", "list `crosses:` on its runs"),
        (nowhere, "open-ends", "fill in `onward:`"),
        (house("", "crosses: none", "").replace("    wall: 5-1/2 in\n", ""), "wall-depth", "fill in `wall:`"),
    ] {
        let paper =
            format!("cleared: [{{clause: {clause}, inlet: hall, paper: Letter, by: lead, on: 2026-11-28}}]");
        let job = job(&text.replace("\ninlets:", &format!("{paper}\ninlets:")));
        let work = worked(&job);
        assert_eq!(
            (work.verdict(), of_clause(&work, clause).verdict),
            (Verdict::Hold, Verdict::Hold),
            "{clause}"
        );
        let fault = &work.findings.idle[0];
        assert!(fault.message.contains("waits for a figure, which no paper stands for"), "{}", fault.message);
        assert!(fault.help.as_deref().is_some_and(|help| help.starts_with(wanted)), "{:?}", fault.help);
    }
}

#[test]
fn a_standard_that_only_says_should_lets_no_job_pass_that_cannot_be_built() {
    let (catalog, standards) = reading::shared();
    let mut standard = standards.last().unwrap().clone();
    for part in &mut standard.parts {
        part.clauses.iter_mut().for_each(|clause| clause.level = Forced::Should);
    }
    let good = house("", PLATE, "");
    for (clause, text, wanted) in [
        ("hose-room", good.clone(), Verdict::Pass),
        ("hose-room", good.replace("run: 44 ft", "run: 40 ft"), Verdict::Caution),
        ("hose-room", good.replace("run: 44 ft", "run: 10 ft"), Verdict::Fail),
        ("bores", house("", TRUSS, ""), Verdict::Hold),
        ("cut-tubes", good.replace("path: [{run: 3 ft}]", "path: [{run: 3 in}]"), Verdict::Fail),
    ] {
        let job = job(&text);
        let work = Work::up(&job, &standard, catalog, reading::firm().say());
        assert_eq!(of_clause(&work, clause).verdict, wanted, "{clause}");
        assert_eq!(work.findings.may_be_built(), !wanted.stops(), "{clause}");
    }
}
