//! What a job rests on outside its own file, and which jobs a fault there stops.
//!
//! Nothing is half believed: a part, a revision or a firm's file with any fault in it stops every job that
//! rests on it, even where most of it could be read.
use super::firm::{Firm, SpareOf};
use super::job::{Job, Step};
use crate::text::{Diagnostic, Node, Value};

/// Angles closer than this are one angle of a fitting, in degrees.
const SAME_ANGLE_DEG: f64 = 1e-6;

/// A part of the catalog that has a fault, and which jobs rest on it.
#[derive(Debug, Clone, PartialEq)]
pub struct FaultyPart {
    pub rests: Rests,
    /// Never empty.
    pub faults: Vec<Diagnostic>,
}

/// Which jobs rest on a part.
#[derive(Debug, Clone, PartialEq)]
pub enum Rests {
    /// Those that name it.
    Named(String),
    /// A bend: those that name it, and those that turn by its angle, for which it may be taken.
    Turned { id: String, angle_deg: f64 },
    /// A cap: those that name it, and those with a trunk, whose open start may take it.
    Trunked(String),
    /// Every job, since every job may take it without naming it: tube and wire, the stop in which every raceway
    /// ends, and couplings. Which one a line takes is known only once it is laid, and a part that could not be read
    /// may be the one that would have been taken first. A finer answer would free next to no job: nearly every one
    /// has a tube longer than a stick.
    All,
}

/// A revision that has a fault.
#[derive(Debug, Clone, PartialEq)]
pub struct FaultyStandard {
    /// What it may be called: its revision as far as that can be told, and its file's name without ending.
    pub names: Vec<String>,
    /// Never empty.
    pub faults: Vec<Diagnostic>,
}

/// The faults of parts on which a job rests by what stands in its file: by the names in it.
pub fn named_faults(job: &Node, firm: &Firm, faulty: &[FaultyPart]) -> Vec<Diagnostic> {
    let of_a_spare =
        |id: &str| firm.spares.iter().any(|spare| matches!(&spare.of, SpareOf::Part(part) if part == id));
    let stops = |part: &&FaultyPart| match &part.rests {
        Rests::All => true,
        Rests::Named(id) | Rests::Turned { id, .. } => names(job, id) || of_a_spare(id),
        Rests::Trunked(id) => job.get("trunks").is_some() || names(job, id) || of_a_spare(id),
    };
    faulty.iter().filter(stops).flat_map(|part| part.faults.clone()).collect()
}

/// The faults of bends on which a job rests by its turns.
pub fn turned_faults(job: &Job, faulty: &[FaultyPart]) -> Vec<Diagnostic> {
    let turns = |angle: f64| {
        let steps = job.lines.iter().flat_map(|line| &line.steps);
        steps
            .into_iter()
            .any(|step| matches!(step, Step::Turn(turn) if (turn.angle_deg - angle).abs() < SAME_ANGLE_DEG))
    };
    let stops =
        |part: &&FaultyPart| matches!(part.rests, Rests::Turned { angle_deg, .. } if turns(angle_deg));
    faulty.iter().filter(stops).flat_map(|part| part.faults.clone()).collect()
}

/// The faults of the revision that judges a job, where it could not be read.
pub fn standard_faults(revision: &str, faulty: &[FaultyStandard]) -> Vec<Diagnostic> {
    let meant = |one: &&FaultyStandard| one.names.iter().any(|name| name.eq_ignore_ascii_case(revision));
    faulty.iter().filter(meant).flat_map(|one| one.faults.clone()).collect()
}

/// Whether a word stands anywhere among the values of a file.
fn names(node: &Node, word: &str) -> bool {
    match &node.value {
        Value::Text(text) => text.trim() == word,
        Value::List(items) => items.iter().any(|item| names(item, word)),
        Value::Map(map) => map.iter().any(|(_, value)| names(value, word)),
        Value::Null => false,
    }
}
