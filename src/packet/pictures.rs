//! A worked-up job as the subjects of its drawings, and its drawings.
use super::worked::{JobPictures, Pictures};
use crate::draw::{
    self, Balloon, BalloonKind, CrossingMark, CuttingPicture, HoseBand, JointMark, JointPicture, KeyKind,
    KeyLine, KeyPicture, Piece, Plot, RacewayPicture, Spot, Surroundings, TubePieces, ValveBoxPicture,
};
use crate::figures::CrossingFigure;
use crate::reckon::bores::Outcome;
use crate::route::{Anchor, End, Line, Tube};
use crate::standard::{Finding, Verdict, hose_allowance};
use crate::takeoff::LineCuts;
use crate::work::Work;
use std::borrow::Cow;

/// Width and height of an elevation on the sheet, mm.
const ELEVATION_MM: (f64, f64) = (186.0, 95.0);
/// Of a plan or an isometric, two beside each other.
const VIEW_MM: (f64, f64) = (91.0, 88.0);
/// Of the key plan and of all lines on three axes.
const KEY_MM: (f64, f64) = (186.0, 92.0);
/// Of a drawing as wide as the sheet.
const WIDE_MM: (f64, f64) = (186.0, 70.0);
/// Of a detail beside a table.
const JOINT_MM: (f64, f64) = (64.0, 55.0);
const VALVE_MM: (f64, f64) = (80.0, 55.0);

/// Every drawing of a job.
pub fn pictures(work: &Work) -> JobPictures {
    let key = |prefix: &str, title: &str| key(work, prefix, title, KEY_MM);
    JobPictures {
        inlets: (0..work.job.inlets.len()).map(|i| inlet_pictures(work, i)).collect(),
        key_plan: key("key", "Key plan").map(|key| draw::key_plan(&key).to_svg()),
        key_isometric: key("key-isometric", "Key isometric").map(|key| draw::key_isometric(&key).to_svg()),
        cutting: cutting(work).map(|picture| draw::cutting(&picture).to_svg()),
    }
}

fn inlet_pictures(work: &Work, i: usize) -> Pictures {
    Pictures {
        elevation: draw::elevation(&raceway(work, i, "elevation", ELEVATION_MM)).to_svg(),
        plan: draw::plan(&raceway(work, i, "plan", VIEW_MM)).to_svg(),
        isometric: Some(draw::isometric(&raceway(work, i, "isometric", VIEW_MM)).to_svg()),
        effort: effort(work, i).map(|plot| draw::plot(&plot).to_svg()),
        joint: joint(work, i).map(|picture| draw::joint(&picture).to_svg()),
        valve_box: valve_box(work, i).map(|picture| draw::valve_box(&picture).to_svg()),
    }
}

/// All lines that have a place in the job's frame; a single inlet without one alone, from its own valve.
pub fn key<'a>(work: &'a Work, prefix: &str, title: &str, area_mm: (f64, f64)) -> Option<KeyPicture<'a>> {
    let alone = work.job.inlets.len() == 1;
    let mut lines = Vec::new();
    let placed = work.lines.of_inlets().iter().any(|line| line.anchor != Anchor::None);
    for line in &work.lines.lines {
        let inlets = line.raceway.is_some();
        if line.anchor == Anchor::None && !(inlets && alone) || !(inlets || placed) {
            continue;
        }
        let part = |kind, route| KeyLine { name: line.name.clone(), kind, route };
        if inlets {
            lines.push(part(KeyKind::Raceway, Cow::Owned(line.to_stop())));
            lines.extend(line.beyond_stop().map(|beyond| part(KeyKind::Onward, Cow::Owned(beyond))));
        } else {
            lines.push(part(KeyKind::Trunk, Cow::Borrowed(line)));
        }
    }
    let unit = work.job.unit.at.filter(|_| placed).map(|at| ("unit".to_owned(), at));
    (!lines.is_empty()).then(|| KeyPicture {
        prefix: prefix.into(),
        title: title.into(),
        lines,
        unit,
        say: work.say,
        area_mm,
    })
}

/// The sticks in cutting order; `None` without a plan.
fn cutting(work: &Work) -> Option<CuttingPicture> {
    let plan = work.cuts.plan.as_ref().ok().filter(|plan| !plan.sticks.is_empty())?;
    let piece =
        |piece: &crate::material::CutPiece| Piece { mark: piece.mark.clone(), length_m: piece.length_m };
    Some(CuttingPicture {
        prefix: "cutting".into(),
        title: "Cutting plan".into(),
        stick_m: work.catalog.tube.stick_m,
        kerf_m: work.catalog.tube.kerf_m,
        sticks: plan.sticks.iter().map(|stick| stick.pieces.iter().map(piece).collect()).collect(),
        say: work.say,
        area_mm: WIDE_MM,
    })
}

/// What draws the hose in, needed and had, against the hose drawn in; `None` where it is not known.
pub fn effort(work: &Work, i: usize) -> Option<Plot> {
    let line = work.lines.of_inlet(i)?;
    let draw = work.figures.inlets[i].hose.as_ref().ok()?.draw();
    let area_m2 = draw.setting.hose().area_m2();
    let mut travel = draw.setting.travel(PLACES).ok()?;
    // The worst may lie between two samples; the plot must not say less than the table.
    travel.push(draw.worst);
    travel.sort_by(|a, b| a.inserted_m.total_cmp(&b.inserted_m));
    let curve = |of: fn(&crate::reckon::hose::At) -> f64| {
        travel.iter().map(|at| (at.inserted_m, of(at) * area_m2)).collect()
    };
    Some(Plot {
        prefix: format!("{}-effort", work.job.inlets[i].id),
        title: format!("{}, draw-in", work.job.inlets[i].name),
        curves: vec![("needs".into(), curve(|at| at.needed_pa)), ("has".into(), curve(|at| at.spent.had_pa))],
        available: None,
        bends: bend_middles(line),
        along: "hose drawn in".into(),
        say: work.say,
        area_mm: WIDE_MM,
    })
}

/// So many steps make a smooth curve.
const PLACES: usize = 80;

/// Where the middle of each bend lies along the hose path.
fn bend_middles(line: &Line) -> Vec<(String, f64)> {
    let mut given_back_m = 0.0;
    let middle = |bend: &crate::route::Bend| {
        let at_m = bend.at_centre_m - given_back_m - bend.tangent_m + bend.arc_m / 2.0;
        given_back_m += 2.0 * bend.tangent_m - bend.arc_m;
        (format!("B{}", bend.n), at_m)
    };
    line.bends_at_stop().0.iter().map(middle).collect()
}

/// The first joint at a bend, or at the stop, whose socket depth the catalog gives.
fn joint(work: &Work, i: usize) -> Option<JointPicture> {
    let route = work.lines.of_inlet(i)?;
    let (hose_bends, _) = route.bends_at_stop();
    let fitting = hose_bends.iter().find_map(|bend| bend.fitting.as_ref()).or(work.catalog.stop())?;
    Some(JointPicture {
        prefix: format!("{}-joint", work.job.inlets[i].id),
        title: format!("{}, a joint cut open", work.job.inlets[i].name),
        tube: route.tubes.first()?.mark.clone(),
        fitting: fitting.name.clone(),
        tube_outside_m: work.catalog.tube.outside_m,
        tube_bore_m: work.catalog.tube.bore_m,
        socket_m: fitting.socket_m?,
        say: work.say,
        area_mm: JOINT_MM,
    })
}

/// Clear width between studs at 16 in on centres, dressed 2x4s (PS 20), their depth, and half-inch drywall.
const BAY_M: f64 = 14.5 * 0.0254;
const STUD_M: f64 = 3.5 * 0.0254;
const DRYWALL_M: f64 = 0.5 * 0.0254;

/// The valve's box or frame in a common wall; `None` where the catalog gives no size.
fn valve_box(work: &Work, i: usize) -> Option<ValveBoxPicture> {
    let inlet = &work.job.inlets[i];
    let rough_in = match inlet.valve.rough_in {
        crate::company::RoughIn::Frame => "frame",
        crate::company::RoughIn::Box => "box",
    };
    let floor_m = work.job.levels.iter().map(|level| level.up_m);
    let spec = work.job.of_inlet(i)?;
    let over_floor_m = spec.start.and_then(|at| {
        let below = floor_m.filter(|up_m| *up_m <= at.z).max_by(f64::total_cmp)?;
        Some(at.z - below)
    });
    Some(ValveBoxPicture {
        prefix: format!("{}-valve", inlet.id),
        title: format!("{}, the valve in its wall", inlet.name),
        name: format!("{}, {rough_in}", inlet.valve.name),
        box_m: inlet.valve.box_m?,
        depth_m: inlet.valve.depth_m,
        bay_m: BAY_M,
        stud_m: STUD_M.max(inlet.valve.depth_m),
        drywall_m: DRYWALL_M,
        tube_outside_m: work.catalog.tube.outside_m,
        leaves_up: spec.leaves.vector.z > 0.0,
        over_floor_m,
        say: work.say,
        area_mm: VALVE_MM,
    })
}

/// The raceway of an inlet as its three views draw it.
pub fn raceway<'a>(work: &'a Work, inlet: usize, view: &str, area_mm: (f64, f64)) -> RacewayPicture<'a> {
    let (spec, line) = (&work.job.inlets[inlet], &work.lines.lines[inlet]);
    let (route, cuts) = (line.to_stop(), &work.cuts.lines[inlet]);
    let figures = &work.figures.lines[inlet].crossings;
    let to_m = line.raceway.as_ref().map_or(line.centre_m, |part| part.stop_m);
    RacewayPicture {
        prefix: format!("{}-{view}", spec.id),
        title: format!("{}, {view}", spec.name),
        valve: format!("{} valve", spec.name),
        levels: if line.anchor != Anchor::None { &work.job.levels } else { &[] },
        tube_outside_m: work.catalog.tube.outside_m,
        hose: Some(HoseBand {
            new_m: spec.hose.length_m,
            grown_m: spec.hose.length_m * (1.0 + allowance(work)),
        }),
        tubes: tubes(work, &route, cuts),
        joints: joints(&route, cuts),
        crossings: figures.iter().filter(|f| f.station_m <= to_m).map(|f| crossing(work, f)).collect(),
        balloons: balloons(&work.findings.inlets[inlet], &route),
        surroundings: surroundings(work, inlet),
        route: Cow::Owned(route),
        say: work.say,
        area_mm,
    }
}

/// By how much the standard lets the hose grow; nothing where it has no such clause.
fn allowance(work: &Work) -> f64 {
    hose_allowance(work.standard)
}

/// The pieces of every tube of a line; `cuts` run from its first tube on.
pub fn tubes(work: &Work, line: &Line, cuts: &LineCuts) -> Vec<TubePieces> {
    let of = |(tube, cut): (&Tube, &crate::takeoff::TubeCut)| TubePieces {
        leg: tube.leg,
        pieces: cut.pieces.iter().map(|p| Piece { mark: p.mark.clone(), length_m: p.length_m }).collect(),
        gap_m: work.catalog.coupling_gap_m(line.reach_of(tube)),
    };
    line.tubes.iter().zip(cuts).filter(|(_, cut)| !cut.pieces.is_empty()).map(of).collect()
}

/// Every joint of a line, numbered as the joint table numbers them; `cuts` run from its first tube on.
pub fn joints(line: &Line, cuts: &LineCuts) -> Vec<JointMark> {
    let mut stations = Vec::new();
    for (tube, cut) in line.tubes.iter().zip(cuts) {
        if tube.from != End::Open {
            stations.push(tube.start_m);
        }
        for pair in cut.pieces.windows(2) {
            stations.push(tube.start_m + pair[0].from_m + pair[0].length_m);
            stations.push(tube.start_m + pair[1].from_m);
        }
        stations.push(tube.start_m + tube.clear_m);
    }
    let mark = |(i, station_m): (usize, f64)| JointMark { mark: format!("J{}", i + 1), station_m };
    stations.into_iter().enumerate().map(mark).collect()
}

fn crossing(work: &Work, figure: &CrossingFigure) -> CrossingMark {
    let bore = figure.crossing.hole_m.map(|m| format!(", bore {}", work.say.length(m))).unwrap_or_default();
    let verdict = match figure.outcome() {
        None | Some(Outcome::MakersWord) => "hold",
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

/// A balloon for each fail, hold and caution, numbered in the order of the findings, as the packet's rows are.
/// What lies beyond the drawn line is marked at its end.
pub fn balloons(findings: &[Finding], line: &Line) -> Vec<Balloon> {
    let broken = findings.iter().filter(|f| f.verdict.calls());
    broken
        .enumerate()
        .map(|(i, finding)| Balloon {
            number: i + 1,
            kind: balloon_kind(finding.verdict),
            spot: finding.spots.first().map_or(Spot::Whole, |spot| place(*spot, line)),
            text: format!("{}: {}", finding.title, finding.note),
        })
        .collect()
}

fn balloon_kind(verdict: Verdict) -> BalloonKind {
    match verdict {
        Verdict::Fail => BalloonKind::Fail,
        Verdict::Hold => BalloonKind::Hold,
        Verdict::Waived => BalloonKind::Waived,
        Verdict::NotChecked => BalloonKind::NotChecked,
        Verdict::Caution | Verdict::Cleared | Verdict::Pass => BalloonKind::Caution,
    }
}

fn place(spot: crate::standard::Spot, line: &Line) -> Spot {
    match spot {
        crate::standard::Spot::Whole => Spot::Whole,
        crate::standard::Spot::Bend(n) if line.bend(n).is_some() => Spot::Bend(n),
        crate::standard::Spot::Leg(i) if i < line.legs.len() => Spot::Leg(i),
        crate::standard::Spot::Station(m) if m <= line.centre_m => Spot::Station(m),
        _ => Spot::End,
    }
}

/// What lies around, where the inlet has a place in the job's frame; its own way on in any case.
fn surroundings(work: &Work, inlet: usize) -> Option<Surroundings> {
    let line = work.lines.of_inlet(inlet)?;
    let onward = line.beyond_stop().map(|beyond| beyond.points()).unwrap_or_default();
    if line.anchor == Anchor::None {
        return Some(Surroundings { unit: None, trunks: Vec::new(), onward });
    }
    let placed = work.lines.of_trunks().iter().filter(|trunk| trunk.anchor != Anchor::None);
    let trunks = placed.map(|trunk| (trunk.name.clone(), trunk.points())).collect();
    Some(Surroundings { unit: work.job.unit.at, trunks, onward })
}
