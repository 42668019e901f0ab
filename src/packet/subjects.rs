//! A line of a job worked up, as the subject that its views draw.
use super::bored;
use crate::company::Owner;
use crate::draw::{
    Balloon, BalloonKind, BranchMark, CrossingMark, HoseBand, JointMark, LinePicture, Piece, SPARE_MM,
    Surroundings, TubePieces,
};
use crate::figures::CrossingFigure;
use crate::material::TubePiece;
use crate::route::{Anchor, End, Entry, Inline, Joining, Line, Spot, Tube};
use crate::standard::{Finding, Verdict, hose_allowance};
use crate::takeoff::{LineCuts, TubeCut};
use crate::work::Work;
use glam::DVec3;
use std::borrow::Cow;

/// A line of the job, by its place in the laid lines, as the views of a line draw it.
pub fn line<'a>(work: &'a Work, index: usize, view: &str, area_mm: (f64, f64)) -> Option<LinePicture<'a>> {
    let (line, cuts) = (work.lines.lines.get(index)?, work.cuts.lines.get(index)?);
    let inlet = match line.owner {
        Owner::Inlet(i) => work.job.inlets.get(i),
        Owner::Trunk(_) => None,
    };
    let figures = work.figures.lines.get(index)?;
    Some(LinePicture {
        prefix: format!("{}-{view}", line_id(work, index)),
        title: format!("{}, {view}", line.name),
        begins: begins(line),
        ends: ends(work, line),
        levels: if line.anchor != Anchor::None { &work.job.levels } else { &[] },
        tube_outside_m: work.catalog.tube.outside_m,
        hose: inlet.map(|inlet| HoseBand {
            new_m: inlet.hose.length_m,
            grown_m: inlet.hose.length_m * (1.0 + hose_allowance(work.standard)),
        }),
        tubes: tubes(line, cuts),
        joints: joints(line, cuts),
        branches: branches(work, line),
        crossings: figures.crossings.iter().map(|figure| crossing(work, index, figure)).collect(),
        balloons: balloons(work.findings.of(line.owner), line),
        surroundings: surroundings(work, index),
        line: Cow::Borrowed(line),
        say: work.say,
        listed: false,
        area_mm,
        spare_mm: SPARE_MM,
    })
}

/// The id by which files of a line are named.
pub fn line_id<'a>(work: &'a Work, index: usize) -> &'a str {
    work.job.lines.get(index).map_or("line", |spec| spec.id.as_str())
}

/// What stands at a line's start.
fn begins(line: &Line) -> String {
    match line.head {
        End::Valve => format!("{} valve", line.name),
        End::Cap => "cap".into(),
        End::From => String::new(),
        _ => "OPEN END".into(),
    }
}

/// What a line ends in: `unit`, `trunk main at 20 ft`.
fn ends(work: &Work, line: &Line) -> String {
    if line.tail == End::Unit {
        return "unit".into();
    }
    let Some(joins) = &line.joins else { return String::new() };
    let Some(other) = work.lines.lines.get(joins.line) else { return String::new() };
    match (joins.station_m, &joins.with) {
        (Some(station_m), Some(with)) => {
            format!("{} at {}, {}", other.called(), work.say.length(station_m), with.name)
        }
        (None, Some(with)) => format!("{}, {}", other.called(), with.name),
        (_, None) => format!("goes on as {}", other.called()),
    }
}

/// Every line that comes in by a junction of this one.
fn branches(work: &Work, line: &Line) -> Vec<BranchMark> {
    let mark = |(_, inline, joining): (usize, &Inline, &Joining)| {
        let other = work.lines.lines.get(joining.line);
        let run = line.legs.get(inline.leg).map_or(DVec3::ZERO, |leg| leg.heading);
        let toward = -other.map_or(run, |other| other.end_heading);
        BranchMark {
            letters: other.map_or_else(|| joining.by.clone(), |other| other.letters.clone()),
            station_m: inline.station_m,
            toward,
            roll_deg: joining.entry.roll_deg,
            words: vec![
                format!("at {}", work.say.length(inline.station_m)),
                entry_words(&joining.entry, run),
                format!("{} · roll {}", joining.fitting.name, work.say.angle(joining.entry.roll_deg.round())),
            ],
        }
    };
    line.junctions().map(mark).collect()
}

/// How a branch faces: `from above, with the flow`.
pub fn entry_words(entry: &Entry, run: DVec3) -> String {
    // Nearer to plumb than 45 degrees is above or below; a crew sees the rest as a side.
    let upright = run.z.abs() > 0.9;
    let side = match entry.rise_deg {
        _ if upright => "from the side",
        rise if rise > 45.0 => "from above",
        rise if rise < -45.0 => "from below",
        _ if entry.roll_deg > 0.0 => "from the right",
        _ => "from the left",
    };
    let flow = match entry.turn_deg {
        turn if turn < 80.0 => "with the flow",
        turn if turn > 100.0 => "against the flow",
        _ => "square to the flow",
    };
    format!("{side}, {flow}")
}

/// The pieces of every tube of a line and the couplings between; `cuts` run from its first tube on.
fn tubes(line: &Line, cuts: &LineCuts) -> Vec<TubePieces> {
    let piece = |p: &TubePiece| Piece { mark: p.mark.clone(), length_m: p.length_m, from_m: p.from_m };
    let of = |(tube, cut): (&Tube, &TubeCut)| TubePieces {
        tube: tube.mark.clone(),
        pieces: cut.pieces.iter().map(piece).collect(),
        couplings: cut.couplings.clone(),
    };
    line.tubes.iter().zip(cuts).map(of).collect()
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
    let mark = |(i, station_m): (usize, f64)| JointMark { mark: line.joint_mark(i + 1), station_m };
    stations.into_iter().enumerate().map(mark).collect()
}

fn crossing(work: &Work, index: usize, figure: &CrossingFigure) -> CrossingMark {
    let bore = figure.crossing.hole_m.map(|m| format!(", bore {}", work.say.length(m))).unwrap_or_default();
    CrossingMark {
        mark: figure.mark.clone(),
        leg: figure.leg,
        at_m: figure.at_m,
        thickness_m: figure.crossing.thickness_m,
        words: format!("{}{bore}", figure.member_words()),
        verdict: bored::words(bored::verdict(work, index, figure), figure).into(),
    }
}

/// A balloon for each fail, hold and caution, numbered in the order of the findings, as the packet's rows are.
pub fn balloons(findings: &[Finding], line: &Line) -> Vec<Balloon> {
    let broken = findings.iter().filter(|f| f.verdict.calls());
    broken
        .enumerate()
        .map(|(i, finding)| Balloon {
            number: i + 1,
            kind: balloon_kind(finding.verdict),
            spot: finding.spots.first().map_or(Spot::Whole, |spot| on_line(*spot, line)),
            also: finding.spots.iter().skip(1).map(|spot| on_line(*spot, line)).collect(),
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
        Verdict::Cleared => BalloonKind::Cleared,
        Verdict::Caution | Verdict::Pass => BalloonKind::Caution,
    }
}

/// A spot that lies on the line, or its end.
fn on_line(spot: Spot, line: &Line) -> Spot {
    match spot {
        Spot::Bend(n) if line.bend(n).is_none() => Spot::End,
        Spot::Leg(i) if i >= line.legs.len() => Spot::End,
        Spot::Station(m) if m > line.centre_m => Spot::End,
        spot => spot,
    }
}

/// Other lines and the unit, where the line has a place in the job's frame: trunks whole, of a line that
/// joins this one the last leg; and a line that comes too near to it.
fn surroundings(work: &Work, index: usize) -> Option<Surroundings> {
    let own = work.lines.lines.get(index).filter(|line| line.anchor != Anchor::None)?;
    let placed = work.lines.lines.iter().enumerate();
    let placed = placed.filter(|(i, line)| *i != index && line.anchor != Anchor::None);
    let others = placed.filter_map(|(i, line)| {
        let points = line.points();
        if own.junctions().any(|(_, _, joining)| joining.line == i) {
            let last = points.len().saturating_sub(2);
            return Some((String::new(), points.get(last..)?.to_vec()));
        }
        // A line that comes too near is shown, so that the balloon is seen to speak of two.
        let near = work
            .figures
            .clashes
            .iter()
            .any(|clash| clash.lines == (index.min(i), index.max(i)) && index != i);
        (line.raceway.is_none() || near).then(|| (line.called(), points))
    });
    Some(Surroundings { unit: work.job.unit.at, others: others.collect() })
}
