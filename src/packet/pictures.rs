//! A worked-up job as the subjects of its drawings.
use crate::draw::{
    Balloon, BalloonKind, CrossingMark, HoseBand, JointMark, Piece, RacewayPicture, Spot, Surroundings,
    TubePieces,
};
use crate::figures::CrossingFigure;
use crate::reckon::bores::Outcome;
use crate::route::{Anchor, End, Route, Tube};
use crate::standard::{Finding, Verdict};
use crate::takeoff::LineCuts;
use crate::work::Work;
use glam::DVec3;

/// The raceway of an inlet as its three views draw it.
pub fn raceway<'a>(work: &'a Work, inlet: usize, view: &str, area_mm: (f64, f64)) -> RacewayPicture<'a> {
    let (spec, route) = (&work.job.inlets[inlet], &work.routes.raceways[inlet]);
    let figures = &work.figures.inlets[inlet];
    let gap_m = gap_m(work);
    RacewayPicture {
        prefix: format!("{}-{view}", spec.id),
        title: format!("{}, {view}", spec.name),
        valve: format!("{} valve", spec.name),
        route,
        levels: if spec.at.is_some() { &work.job.levels } else { &[] },
        anchored: spec.at.is_some(),
        tube_outside_m: work.catalog.tube.outside_m,
        hose: Some(HoseBand {
            new_m: spec.hose.length_m,
            grown_m: spec.hose.length_m * (1.0 + allowance(work)),
        }),
        tubes: tubes(route, &work.cuts.raceways[inlet], gap_m),
        joints: joints(route, &work.cuts.raceways[inlet], gap_m),
        crossings: figures
            .crossings
            .iter()
            .map(|figure| crossing(work, figure))
            .collect(),
        balloons: balloons(&work.findings.inlets[inlet]),
        surroundings: surroundings(work, inlet),
        say: work.say,
        area_mm,
    }
}

/// By how much the standard lets the hose grow; nothing where it has no such clause.
fn allowance(work: &Work) -> f64 {
    match work.standard.clause("hose-room").map(|clause| &clause.rule) {
        Some(crate::company::Rule::Computed { value: Some(share) }) => *share,
        _ => 0.0,
    }
}

fn gap_m(work: &Work) -> f64 {
    let couplings = work
        .catalog
        .fittings
        .iter()
        .filter_map(|fitting| match &fitting.kind {
            crate::company::FittingKind::Coupling(coupling) => Some(coupling.gap_m),
            _ => None,
        });
    couplings.into_iter().next().unwrap_or(0.0)
}

/// The pieces of every leg's tube.
pub fn tubes(route: &Route, cuts: &LineCuts, gap_m: f64) -> Vec<TubePieces> {
    let of = |(tube, cut): (&Tube, &crate::takeoff::TubeCut)| TubePieces {
        leg: tube.leg,
        pieces: cut
            .pieces
            .iter()
            .map(|p| Piece {
                mark: p.mark.clone(),
                length_m: p.length_m,
            })
            .collect(),
        gap_m,
    };
    route
        .tubes
        .iter()
        .zip(cuts)
        .filter(|(_, cut)| !cut.pieces.is_empty())
        .map(of)
        .collect()
}

/// Every joint from the valve to the stop, numbered as the joint table numbers them.
pub fn joints(route: &Route, cuts: &LineCuts, gap_m: f64) -> Vec<JointMark> {
    let mut stations = Vec::new();
    for (tube, cut) in route.tubes.iter().zip(cuts) {
        let leg = &route.legs[tube.leg];
        let start_m = leg.station_m + taken_m(route, tube.from);
        stations.push(start_m);
        let mut at_m = start_m;
        for pair in cut.pieces.windows(2) {
            at_m += pair[0].length_m;
            stations.push(at_m);
            at_m += gap_m;
            stations.push(at_m);
        }
        stations.push(leg.station_m + leg.length_m - taken_m(route, tube.to));
    }
    let mark = |(i, station_m): (usize, f64)| JointMark {
        mark: format!("J{}", i + 1),
        station_m,
    };
    stations.into_iter().enumerate().map(mark).collect()
}

fn taken_m(route: &Route, end: End) -> f64 {
    match end {
        End::Bend(n) => route
            .bends
            .iter()
            .find(|bend| bend.n == n)
            .map_or(0.0, |bend| bend.centre_to_stop_m),
        _ => 0.0,
    }
}

fn crossing(work: &Work, figure: &CrossingFigure) -> CrossingMark {
    let bore = figure
        .crossing
        .hole_m
        .map(|m| format!(", bore {}", work.say.length(m)))
        .unwrap_or_default();
    let verdict = match figure.outcome() {
        None | Some(Outcome::MakersWord) => "not checked",
        Some(Outcome::Broken | Outcome::NeedsDoubling) => "fail",
        Some(Outcome::Ok) => "pass",
        Some(Outcome::NeedsShield | Outcome::NeedsTie) => "pass, with steel",
    };
    CrossingMark {
        leg: figure.leg,
        at_m: figure.at_m,
        thickness_m: figure.crossing.thickness_m,
        words: format!("{}{bore}", figure.member_words()),
        verdict: verdict.into(),
    }
}

/// A balloon for each fail and caution, numbered in the order of the findings, as the packet's rows are.
pub fn balloons(findings: &[Finding]) -> Vec<Balloon> {
    let broken = findings
        .iter()
        .filter(|f| matches!(f.verdict, Verdict::Fail | Verdict::Caution));
    broken
        .enumerate()
        .map(|(i, finding)| Balloon {
            number: i + 1,
            kind: if finding.verdict == Verdict::Fail {
                BalloonKind::Fail
            } else {
                BalloonKind::Caution
            },
            spot: finding.spots.first().map_or(Spot::Whole, |spot| place(*spot)),
            text: format!("{}: {}", finding.title, finding.note),
        })
        .collect()
}

fn place(spot: crate::standard::Spot) -> Spot {
    match spot {
        crate::standard::Spot::Whole => Spot::Whole,
        crate::standard::Spot::Bend(n) => Spot::Bend(n),
        crate::standard::Spot::Leg(i) => Spot::Leg(i),
        crate::standard::Spot::Station(m) => Spot::Station(m),
        crate::standard::Spot::End => Spot::End,
    }
}

/// What lies around, where the inlet has a place in the job's frame; its own onward path in any case.
fn surroundings(work: &Work, inlet: usize) -> Option<Surroundings> {
    let onward = work
        .routes
        .onward
        .get(inlet)?
        .as_ref()
        .map(|onward| points(&onward.route))
        .unwrap_or_default();
    if work.job.inlets[inlet].at.is_none() {
        return Some(Surroundings {
            unit: None,
            trunks: Vec::new(),
            onward,
        });
    }
    let placed = work
        .routes
        .trunks
        .iter()
        .filter(|trunk| trunk.anchor != Anchor::None);
    let trunks = placed
        .map(|trunk| (trunk.id.clone(), points(&trunk.route)))
        .collect();
    Some(Surroundings {
        unit: work.job.unit.at,
        trunks,
        onward,
    })
}

fn points(route: &Route) -> Vec<DVec3> {
    std::iter::once(route.start)
        .chain(route.legs.iter().map(|leg| leg.to))
        .collect()
}
