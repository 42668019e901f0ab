//! The cut list of a line: one row to a tube, from its start to where it joins, and between the rows what
//! stands between the tubes. Whoever has it and a tape can cut and cement every tube.
mod rows;
mod words;

use super::Source;
use super::check::TickCell;
use super::inline::inlined;
use super::outline::Kind;
use super::paper;
use super::prose::sentence;
use super::worked::Worked;
use crate::company::Owner;
use crate::measure::Lengths;
use crate::standard::lines_per_joint;
use rows::listed;
use serde::Serialize;

/// A cut list, as far as one sheet holds it.
#[derive(Debug, Clone, Default, Serialize)]
pub struct Cuts {
    /// What the boxes at each tube end stand for, in their order.
    pub boxes: Vec<String>,
    pub rows: Vec<Row>,
    /// How the page reads and says lengths: `ft-in` or `metric`.
    pub lengths: &'static str,
    /// On the last sheet: one joint cut open, and how each is made.
    pub joint_svg: String,
    pub joint_words: Vec<String>,
    /// A line that has no tube to cut.
    pub nothing: String,
}

/// A row of it.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case", tag = "is")]
pub enum Row {
    Tube(Box<TubeRow>),
    Between(BetweenRow),
}

/// A tube.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct TubeRow {
    pub mark: String,
    /// `west, level`; of a tube in pieces with its ends before it: `B1 to B2, west, level`.
    pub run: String,
    /// What it is bored through.
    pub through: Vec<String>,
    /// The two ends of a tube that is one piece.
    pub ends: Vec<EndRow>,
    /// `25 ft 0 in − 8 in − 8 in =`
    pub sum: String,
    pub cut: String,
    /// `− 16 in`
    pub deduct: String,
    /// `ok 24 ft 11 in to 25 ft 1 in`
    pub limits: String,
    /// The pieces of a tube that takes several.
    pub pieces: Vec<PieceRow>,
    /// Why it cannot be cut; empty where it can.
    pub problem: String,
    pub tape: TapeField,
}

/// The blank for what the tape says, and what the page's script needs to work out the cut.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct TapeField {
    /// Under which name it is kept.
    pub note: String,
    pub label: String,
    pub deduct_m: f64,
    pub plan_m: f64,
    pub least_m: f64,
    pub most_m: f64,
    /// By how much this and the other tapes before the stop may come up short together; empty where their own limits
    /// see to that.
    pub short_m: String,
    /// The piece that takes the difference up, and its length as planned; empty and nothing where none is.
    pub piece: String,
    pub piece_m: f64,
}

/// A piece with its two ends.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PieceRow {
    pub mark: String,
    pub length: String,
    /// Whether it takes up what the tape differs by.
    pub takes_up: bool,
    pub ends: Vec<EndRow>,
}

/// An end of a piece: what it goes into, how deep, and its boxes.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct EndRow {
    pub into: String,
    pub insertion: String,
    /// `H1a into the valve`, what its boxes are of.
    pub label: String,
    /// How the names begin under which its ticks are kept; each box has the rest.
    pub note: String,
    pub boxes: Vec<TickCell>,
}

/// What stands between two tubes: a bend, the stop, a junction.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BetweenRow {
    pub mark: String,
    pub head: String,
    pub words: String,
    pub tick: TickCell,
    /// What the box is for.
    pub tick_words: &'static str,
}

/// Height of a line's whole cut list, mm.
pub fn list_mm(worked: &Worked, index: usize) -> f64 {
    let rows = listed(worked, index).map(|(_, rows)| rows).unwrap_or_default();
    HEAD_MM + KEY_MM + rows.iter().map(row_mm).sum::<f64>()
}

/// The cut list of a line, on as many sheets as it takes; `index` is the line's among all lines.
pub fn sheets(source: &Source, index: usize, kind: Kind, above_mm: f64) -> Vec<Cuts> {
    let worked = source.worked;
    let Some((heads, rows)) = listed(worked, index) else { return Vec::new() };
    let heights: Vec<f64> = rows.iter().map(row_mm).collect();
    let room_mm = super::room_mm(worked, kind) - HEAD_MM - KEY_MM;
    let words = joint_words(worked);
    let (pages, joint) = placed(&heights, room_mm, above_mm, &words.join(" "));
    let count = pages.len();
    let sheet = |(nth, range): (usize, std::ops::Range<usize>)| {
        let told = if nth + 1 == count { joint } else { Joint::Left };
        Cuts {
            boxes: heads.clone(),
            rows: rows[range].to_vec(),
            lengths: match worked.work.say.lengths {
                Lengths::FtIn => "ft-in",
                Lengths::Metric => "metric",
            },
            joint_svg: if told == Joint::Drawn { joint_svg(source, index) } else { String::new() },
            joint_words: if told == Joint::Left { Vec::new() } else { words.clone() },
            nothing: String::new(),
        }
    };
    pages.into_iter().enumerate().map(sheet).collect()
}

/// Height of the head of the list, of the key under it, and of what tells how a joint is made, mm.
const HEAD_MM: f64 = 6.5;
const KEY_MM: f64 = 9.5;
/// Height of a joint cut open, and what stands over and under it, mm.
const JOINT_MM: f64 = 42.0;
/// Widths of the columns, mm: the run with its ends, the sum, the tape; a piece and each of its ends.
const RUN_MM: f64 = 51.0;
const SUM_MM: f64 = 52.0;
const TAPE_MM: f64 = 62.0;
/// What the boxes of an end leave for its words, in the run's column and in a piece's row, mm.
const END_MM: (f64, f64) = (32.0, 34.0);

/// What tells how a joint is made, after the last row: a picture with words, words alone, or nothing where
/// it would fill a sheet of its own; the load sheet has the times as well.
#[derive(Clone, Copy, PartialEq)]
enum Joint {
    Drawn,
    Told,
    Left,
}

/// Rows shared out over sheets, and what of the joint finds room after the last.
fn placed(heights: &[f64], room_mm: f64, above_mm: f64, words: &str) -> (Vec<std::ops::Range<usize>>, Joint) {
    let alone = paper::pages(heights, room_mm, above_mm);
    let told_mm = paper::words_mm(words, 10.0, 182.0) + 2.0;
    let beside_mm = paper::words_mm(words, 10.0, 118.0);
    for (joint, mm) in [(Joint::Drawn, JOINT_MM.max(beside_mm) + 2.0), (Joint::Told, told_mm)] {
        let mut with_joint = heights.to_vec();
        if let Some(last) = with_joint.last_mut() {
            *last += mm;
        }
        let together = paper::pages(&with_joint, room_mm, above_mm);
        if together.len() == alone.len() {
            return (together, joint);
        }
    }
    (alone, Joint::Left)
}

/// Height of a row, mm: its words at the width of their columns.
fn row_mm(row: &Row) -> f64 {
    let of = |words: &str, room_mm: f64| paper::words_mm(words, 10.0, room_mm) * TIGHT;
    match row {
        Row::Between(row) => {
            paper::words_mm(&format!("{} {} xx {}", row.head, row.words, row.tick_words), 10.0, 168.0) + 0.9
        }
        Row::Tube(row) => {
            let ends: f64 = row.ends.iter().map(|end| of(&end_words(end), END_MM.0).max(4.4)).sum();
            let through: f64 = row.through.iter().map(|line| of(line, RUN_MM)).sum();
            let run = of(&row.run, RUN_MM) + through + ends;
            let sum = of(&row.sum, SUM_MM) + 6.2;
            let tape = 5.7 + of(&row.limits, TAPE_MM);
            let pieces: f64 = row.pieces.iter().map(piece_mm).sum();
            let problem = match row.problem.is_empty() {
                true => 0.0,
                false => paper::words_mm(&row.problem, 10.5, 158.0) + PROBLEM_MM,
            };
            run.max(sum).max(tape) + pieces + problem + 0.9
        }
    }
}

/// What stands over and under the words that a tube cannot be cut, and is more in its tape's column, mm.
const PROBLEM_MM: f64 = 3.0;

/// A line of a tube's row as a part of one elsewhere: the style sets them closer.
const TIGHT: f64 = 1.15 / paper::LINE;

/// Height of a piece's line, mm.
fn piece_mm(piece: &PieceRow) -> f64 {
    let end = |end: &EndRow| paper::words_mm(&end_words(end), 10.0, END_MM.1) * TIGHT;
    piece.ends.iter().map(end).fold(5.7, f64::max)
}

/// What stands beside the boxes of an end.
fn end_words(end: &EndRow) -> String {
    format!("{}, {}", end.into, end.insertion)
}

/// A joint cut open.
fn joint_svg(source: &Source, index: usize) -> String {
    let line = source.worked.work.lines.lines.get(index);
    let Some(Owner::Inlet(i)) = line.map(|line| line.owner) else { return String::new() };
    let drawn = source.pictures.inlets.get(i).and_then(|pictures| pictures.joint.as_deref());
    inlined(drawn, &format!("i{}j-", i + 1))
}

/// How a joint is made: the firm's own lines, then what holds of any cement.
fn joint_words(worked: &Worked) -> Vec<String> {
    let told = lines_per_joint(worked.work.standard, None);
    let mut words: Vec<String> = told.into_iter().map(|(_, line)| sentence(&line.tick)).collect();
    words.extend(super::load::cure_lines(worked.work.say));
    words
}
