//! Where a line leaves one concealed space for another: the gap round it there is fireblocked.
//!
//! One list serves the cautions and the takeoff, so that neither speaks of a hole that the other forgets.
use super::types::{Anchor, Crossed, JobLines, Leg, Line};
use crate::company::{Crossing, Job, Level, Member};

/// A bore within this height of a level is the hole through that level: no floor, with its plates and
/// joists, is thicker (common practice, no source).
const ONE_FLOOR_M: f64 = 0.5;

/// A hole that is fireblocked.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum FireHole<'a> {
    /// A bore that the job lists: of a plate, at a floor line, through the garage wall.
    Bore(&'a Crossing),
    /// A level that a line passes where the job lists no such bore.
    Level(&'a Level),
}

/// Every hole of a job that is fireblocked, line by line.
///
/// Levels count only for lines whose place in the job's frame is known. Source: IRC R302.11, item 4: at
/// ceiling and floor level, round pipes, ducts and wires; R302.5.3 for the garage wall (both from memory).
pub fn fire_holes<'a>(job: &'a Job, lines: &'a JobLines) -> Vec<FireHole<'a>> {
    let mut holes = Vec::new();
    for line in &lines.lines {
        let bores = line.crossings.iter().map(|crossed| &crossed.crossing).filter(|c| blocked(c));
        holes.extend(bores.map(FireHole::Bore));
        if line.anchor == Anchor::None {
            continue;
        }
        for (nth, leg) in line.legs.iter().enumerate() {
            let passed = job.levels.iter().filter(|level| passes(leg, level));
            holes.extend(passed.filter(|level| !bored_at(line, nth, level)).map(FireHole::Level));
        }
    }
    holes
}

/// Whether the gap round a bore is fireblocked.
fn blocked(crossing: &Crossing) -> bool {
    crossing.floor_line
        || crossing.garage_wall
        || matches!(crossing.member, Member::TopPlate | Member::BottomPlate)
}

/// Whether a leg goes from one side of a level to the other.
fn passes(leg: &Leg, level: &Level) -> bool {
    (leg.from.z < level.up_m) != (leg.to.z < level.up_m)
}

/// Whether a bore that is fireblocked stands where a leg passes a level.
fn bored_at(line: &Line, leg: usize, level: &Level) -> bool {
    let near = |crossed: &&Crossed| {
        let leg = &line.legs[leg];
        let up_m = leg.from.z + leg.heading.z * crossed.at_m;
        (up_m - level.up_m).abs() <= ONE_FLOOR_M
    };
    let on_leg = line.crossings.iter().filter(|crossed| crossed.leg == leg && blocked(&crossed.crossing));
    on_leg.filter(near).count() > 0
}
