//! Tables that several sheets share: bends, tubes and joints of a line.
use super::drawing::with_size;
use super::joints::{Joint, seat};
use crate::company::{Standard, Valve};
use crate::measure::Say;
use crate::route::{Bend, Line};
use crate::standard::lines_per_joint;
use crate::takeoff::TubeCut;
use crate::work::Work;
use serde::Serialize;

/// Roll under which two bends are said to be in line, degrees: less than a crew can set.
const IN_LINE_DEG: f64 = 0.5;

/// Up to so many rows stand in one column.
const ONE_LIST: usize = 6;

/// A bend as a row.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BendRow {
    pub mark: String,
    /// Its name and angle.
    pub fitting: String,
    pub to: String,
    pub station: String,
    pub roll: String,
    pub so_far: String,
    /// Where to put its alignment mark.
    pub align: String,
}

/// A tube as a row.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct TubeRow {
    /// What to write on the tube.
    pub mark: String,
    /// Between which fittings.
    pub between: String,
    pub length: String,
    /// Its pieces where it is more than one: `A2a 8 ft`, `A2b 7 ft 10-3/4 in`.
    pub pieces: Vec<String>,
    pub problem: String,
}

/// Joints with a box to tick for each clause that is checked joint by joint.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct JointTable {
    pub columns: Vec<Column>,
    pub rows: Vec<JointRow>,
    /// Whether the rows run in one column or flow through two.
    pub columns_class: &'static str,
}

/// A column of boxes.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Column {
    /// Over the boxes, explained under the table.
    pub head: String,
    pub tick: String,
    pub number: String,
}

/// A joint as a row.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct JointRow {
    pub mark: String,
    pub from: String,
    pub to: String,
    pub insertion: String,
    pub amiss: bool,
}

/// The bends of a line; `outside_m` is the tube's outside, for the alignment marks.
pub fn bend_rows(say: Say, line: &Line, outside_m: f64) -> Vec<BendRow> {
    line.bends.iter().map(|bend| bend_row(say, bend, outside_m)).collect()
}

/// The tubes of a line in order of assembly.
pub fn tube_rows(work: &Work, line: &Line, cuts: &[TubeCut]) -> Vec<TubeRow> {
    let row = |(tube, cut): (&crate::route::Tube, &TubeCut)| {
        let between = format!("{} to {}", seat(work, line, tube.from).0, seat(work, line, tube.to).0);
        tube_row(work.say, cut, between)
    };
    line.tubes.iter().zip(cuts).map(row).collect()
}

/// The joints of a line with the standard's boxes.
pub fn joint_table(say: Say, joints: &[Joint], standard: &Standard, valve: Option<&Valve>) -> JointTable {
    JointTable {
        columns: joint_columns(standard, valve),
        rows: joints.iter().map(|joint| joint_row(say, joint)).collect(),
        columns_class: flow_class(joints.len()),
    }
}

/// How many rows flow: in one column, or through two where one would leave half the sheet empty.
pub fn flow_class(rows: usize) -> &'static str {
    if rows <= ONE_LIST { "flow one" } else { "flow two-columns" }
}

/// How far a bend is turned from the one before, in words.
pub fn roll_words(say: Say, roll_deg: Option<f64>) -> String {
    match roll_deg {
        None => "first bend".into(),
        Some(roll) if roll.abs() < IN_LINE_DEG => "in line, turns on the same way".into(),
        Some(roll) if roll.abs() > 180.0 - IN_LINE_DEG => "180°, turns back the other way".into(),
        Some(roll) if roll > 0.0 => format!("{} clockwise", say.angle(roll)),
        Some(roll) => format!("{} counter-clockwise", say.angle(-roll)),
    }
}

/// The arc round the outside of a tube that a roll takes, `roll/360 · π · outside`.
///
/// Arguments: `roll_deg` any sign, degrees; `outside_m` the tube's outside, metres. Result in metres,
/// never negative.
///
/// ```
/// // A quarter turn round a 2 in tube: π·2/4 = 1.5708 in.
/// let arc = longsweep::packet::tables::arc_round_tube_m(-90.0, 2.0);
/// assert!((arc - 1.5707963).abs() < 1e-6);
/// ```
pub fn arc_round_tube_m(roll_deg: f64, outside_m: f64) -> f64 {
    roll_deg.abs() / 360.0 * std::f64::consts::PI * outside_m
}

/// One bend.
fn bend_row(say: Say, bend: &Bend, outside_m: f64) -> BendRow {
    let name = bend.fitting.as_ref().map_or("none in the catalog", |fitting| &fitting.name);
    BendRow {
        mark: format!("B{}", bend.n),
        fitting: with_size(name, &say.angle(bend.angle_deg)),
        to: bend.heading_words.clone(),
        station: say.length(bend.at_centre_m),
        roll: roll_words(say, bend.roll_deg),
        so_far: say.angle(bend.so_far_deg),
        align: align_words(say, bend, outside_m),
    }
}

/// Where to put the alignment mark of a bend.
fn align_words(say: Say, bend: &Bend, outside_m: f64) -> String {
    let before = bend.n.saturating_sub(1);
    match bend.roll_deg {
        None => format!("throat toward {}", bend.heading_words),
        Some(roll) if roll.abs() < IN_LINE_DEG => format!("on the line from B{before}"),
        Some(roll) => {
            let arc = say.length(arc_round_tube_m(roll, outside_m));
            if roll.abs() > 180.0 - IN_LINE_DEG {
                return format!("{arc} round from the line of B{before}, right across");
            }
            let way = if roll > 0.0 { "clockwise" } else { "counter-clockwise" };
            format!("{arc} {way} round from the line of B{before}")
        }
    }
}

/// One tube.
fn tube_row(say: Say, cut: &TubeCut, between: String) -> TubeRow {
    let several = cut.pieces.len() > 1;
    let words = |piece: &crate::material::TubePiece| format!("{} {}", piece.mark, say.length(piece.length_m));
    TubeRow {
        mark: cut.mark.clone(),
        between,
        length: if cut.clear_m > 0.0 {
            say.length(cut.clear_m)
        } else {
            format!("{} short", say.length(-cut.clear_m))
        },
        pieces: if several { cut.pieces.iter().map(words).collect() } else { Vec::new() },
        problem: cut.problem.as_deref().map(super::prose::sentence).unwrap_or_default(),
    }
}

/// One joint.
fn joint_row(say: Say, joint: &Joint) -> JointRow {
    JointRow {
        mark: joint.mark.clone(),
        from: joint.from.clone(),
        to: joint.to.clone(),
        insertion: joint.insertion_m.map_or_else(|| "measure the socket".into(), |m| say.length(m)),
        amiss: joint.amiss,
    }
}

/// A column for each clause that is ticked joint by joint.
fn joint_columns(standard: &Standard, valve: Option<&Valve>) -> Vec<Column> {
    lines_per_joint(standard, valve)
        .into_iter()
        .map(|(clause, line)| Column {
            head: clause.title.clone(),
            tick: line.tick.clone(),
            number: clause.number.clone(),
        })
        .collect()
}
