//! Where everything stands across the floor: valves, bores, bends, stops and junctions from the two nearest
//! datums that cross there, else from the start of their line.
use crate::company::DatumRuns;
use crate::draw::{DatumLine, SetOut};
use crate::route::{Anchor, InlineKind, Line};
use crate::work::Work;
use glam::DVec3;

/// The datums of the job, numbered as the schedules number them.
pub fn datums(work: &Work) -> Vec<DatumLine> {
    let named = work.job.datums.iter().enumerate();
    named
        .map(|(i, datum)| DatumLine { mark: datum_mark(i), name: datum.name.clone(), runs: datum.runs })
        .collect()
}

/// `D2`.
pub fn datum_mark(index: usize) -> String {
    format!("D{}", index + 1)
}

/// Every place that is set out, line by line in the order of stations.
pub fn set_out(work: &Work, lines: &[&Line]) -> Vec<SetOut> {
    lines.iter().flat_map(|line| of_line(work, line)).collect()
}

/// The places of one line and its bores.
fn of_line(work: &Work, line: &Line) -> Vec<SetOut> {
    let mut stations = stations(work, line);
    stations.extend(line.crossings.iter().map(|crossed| (crossed.station_m, crossed.mark.clone())));
    stations.sort_by(|a, b| a.0.total_cmp(&b.0));
    let point = |(station_m, mark): (f64, String)| {
        let at = line.point_at(station_m)?;
        // Bends and bores carry their line's letters already.
        let bare = matches!(mark.as_str(), "VALVE" | "START" | "STOP") || mark.starts_with("for ");
        let mark = if bare { format!("{} {mark}", line.letters) } else { mark };
        Some(SetOut { mark, at, words: across(work, line, at).to_vec() })
    };
    stations.into_iter().filter_map(point).collect()
}

/// Station and mark of every place of a line in order: its start, bends, stop and junctions.
pub fn stations(work: &Work, line: &Line) -> Vec<(f64, String)> {
    let start = if line.raceway.is_some() { "VALVE" } else { "START" };
    let mut places: Vec<(f64, String)> = vec![(0.0, start.to_string())];
    places.extend(line.bends.iter().map(|bend| (bend.at_centre_m, line.bend_mark(bend.n))));
    places.extend(line.raceway.as_ref().map(|raceway| (raceway.stop_m, "STOP".to_string())));
    places.extend(line.inlines.iter().filter_map(|inline| match &inline.kind {
        InlineKind::Stop => None,
        InlineKind::Junction(joining) => {
            let by = work.lines.lines.get(joining.line).map_or(joining.by.as_str(), |by| by.letters.as_str());
            Some((inline.station_m, format!("for {by}")))
        }
    }));
    places.sort_by(|a, b| a.0.total_cmp(&b.0));
    places
}

/// How far a point lies east or west, and north or south: from the nearest datum that runs each way, else
/// from the start of its line.
pub fn across(work: &Work, line: &Line, point: DVec3) -> [String; 2] {
    let from_datums = match line.anchor {
        Anchor::None => None,
        _ => from_datum(work, point, true).zip(from_datum(work, point, false)),
    };
    match from_datums {
        Some((east, north)) => [east, north],
        None => {
            let moved = point - line.start;
            let of = format!(" of {}", if line.raceway.is_some() { "valve" } else { "start" });
            [side(work, moved.x, true, &of), side(work, moved.y, false, &of)]
        }
    }
}

/// From the nearest datum that runs north and south, or east and west.
fn from_datum(work: &Work, point: DVec3, runs_north: bool) -> Option<String> {
    let apart = |runs: DatumRuns| match runs {
        DatumRuns::North { east_m } if runs_north => Some(point.x - east_m),
        DatumRuns::East { north_m } if !runs_north => Some(point.y - north_m),
        DatumRuns::North { .. } | DatumRuns::East { .. } => None,
    };
    let alike = work.job.datums.iter().enumerate().filter_map(|(i, datum)| Some((i, apart(datum.runs)?)));
    let (i, m) = alike.min_by(|a, b| a.1.abs().total_cmp(&b.1.abs()))?;
    Some(side(work, m, runs_north, &format!(" of {}", datum_mark(i))))
}

/// `12 ft 4 in E of D1`; `on D1` where the point lies on it.
fn side(work: &Work, m: f64, runs_north: bool, of: &str) -> String {
    if m.abs() < work.say.step_m() / 2.0 {
        return format!("on {}", of.trim_start_matches(" of "));
    }
    let letter = match (runs_north, m > 0.0) {
        (true, true) => "E",
        (true, false) => "W",
        (false, true) => "N",
        (false, false) => "S",
    };
    format!("{} {letter}{of}", work.say.length(m.abs()))
}
