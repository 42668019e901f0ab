//! What the standard says of a bore, for drawings and for the schedule that a crew drills by.
use crate::figures::CrossingFigure;
use crate::reckon::bores::Outcome;
use crate::route::Spot;
use crate::standard::{Finding, Verdict};
use crate::work::Work;

/// Two stations nearer than this are one.
const SAME_M: f64 = 1e-6;

/// The hole to be bored: as the job gives it; else the tube's outside with the catalog's clearance, on the firm's
/// ruler. `None` where nobody knows.
pub fn hole_m(work: &Work, figure: &CrossingFigure) -> Option<f64> {
    let tube = &work.catalog.tube;
    let by_parts = || tube.clearance_m.map(|clearance_m| work.say.step_up(tube.outside_m + clearance_m));
    figure.crossing.hole_m.or_else(by_parts)
}

/// The worst that is found of a bore on a line (by its place among all lines): by findings that name it, by what
/// is amiss at its station, such as a hole that its tube does not go through; where no finding names it, by its
/// own rulings.
pub fn verdict(work: &Work, line: usize, figure: &CrossingFigure) -> Verdict {
    let own = work.lines.lines.get(line).map_or(&[][..], |line| work.findings.of(line.owner));
    let names = |finding: &&Finding| finding.mark.as_deref() == Some(figure.mark.as_str());
    let here = |spot: &Spot| matches!(spot, Spot::Station(at_m) if (at_m - figure.station_m).abs() < SAME_M);
    let amiss = |finding: &&Finding| {
        finding.mark.is_none() && finding.verdict.calls() && finding.spots.iter().any(here)
    };
    let all = || own.iter().chain(&work.findings.job);
    let named = all().filter(names).map(|finding| finding.verdict).max();
    let amiss = all().filter(amiss).map(|finding| finding.verdict).max();
    named.unwrap_or_else(|| ruled(figure)).max(amiss.unwrap_or(Verdict::Pass))
}

/// The verdict in the words of a drawing; steel that the rulings ask for is told with a pass.
pub fn words(verdict: Verdict, figure: &CrossingFigure) -> &'static str {
    match (verdict, figure.outcome()) {
        (Verdict::Pass, Some(Outcome::NeedsShield | Outcome::NeedsTie)) => "pass, with steel",
        (verdict, _) => verdict.word(),
    }
}

fn ruled(figure: &CrossingFigure) -> Verdict {
    match figure.outcome() {
        Some(Outcome::Ok | Outcome::NeedsShield | Outcome::NeedsTie) => Verdict::Pass,
        Some(Outcome::MakersWord) | None => Verdict::Hold,
        Some(Outcome::NeedsDoubling | Outcome::Broken) => Verdict::Fail,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::company::{Step, load};
    use crate::measure::INCH_M;
    use std::path::Path;

    #[test]
    fn a_hole_that_its_tube_does_not_go_through_is_no_pass_by_its_rulings_alone() {
        let company = load(Path::new(env!("CARGO_MANIFEST_DIR")), &crate::standard::kinds());
        let (catalog, firm) = (company.catalog.unwrap(), company.firm.unwrap());
        let standard = company.standards.last().unwrap();
        let of_demo = |job: &&crate::company::Job| job.key == "tern-house";
        let tern = company.jobs.iter().flatten().find(of_demo).unwrap();
        let with_hole = |hole_in: f64| {
            let mut job = tern.clone();
            for step in job.lines.iter_mut().flat_map(|line| &mut line.steps) {
                if let Step::Run(run) = step {
                    run.crossings.iter_mut().for_each(|crossing| crossing.hole_m = Some(hole_in * INCH_M));
                }
            }
            let work = Work::laid(&job, standard, &catalog, firm.say());
            let joist = work.figures.lines[0].crossings.last().unwrap();
            (verdict(&work, 0, joist), ruled(joist))
        };
        assert_eq!(with_hole(2.125), (Verdict::Pass, Verdict::Pass));
        assert_eq!(with_hole(1.875), (Verdict::Fail, Verdict::Pass));
    }
}
