//! One job, resolved: SI units, catalog parts found, defaults settled.
use super::catalog::{Fitting, Hose, UnitPart, Valve};
use crate::plan::{Placed, Plan};
pub use crate::reckon::bores::Member;
use crate::text::{Diagnostic, Place};
use glam::DVec3;
use std::sync::Arc;

/// A calendar day; cannot hold an impossible one.
pub type Date = jiff::civil::Date;

/// A job.
#[derive(Debug, Clone)]
pub struct Job {
    /// The file's path under `jobs/` without its ending, `/` between folders.
    pub key: String,
    pub title: String,
    pub address: String,
    pub date: Date,
    /// Year the house was built.
    pub built: Option<i16>,
    /// Revision of the standard that judges it.
    pub standard: String,
    pub levels: Vec<Level>,
    pub datums: Vec<Datum>,
    pub unit: UnitPlace,
    /// Every line of tube: one for each inlet, in the order of `inlets`, then one for each trunk.
    pub lines: Vec<LineSpec>,
    pub inlets: Vec<Inlet>,
    /// The house plan, when there is one; shared, since jobs are copied to try changes on them.
    pub plan: Option<Arc<FloorPlan>>,
    /// Holds that a paper has answered.
    pub cleared: Vec<Cleared>,
    /// What was read and may not be what was meant.
    pub warnings: Vec<Diagnostic>,
}

impl Job {
    /// The line of an inlet; a job has one for each.
    pub fn of_inlet(&self, inlet: usize) -> Option<&LineSpec> {
        self.lines.get(inlet).filter(|line| line.owner == Owner::Inlet(inlet))
    }

    /// The file that it was read from, from the company folder.
    pub fn file(&self) -> &str {
        &self.unit.place.file
    }

    /// The trunks, in the order in which the job lists them.
    pub fn trunks(&self) -> &[LineSpec] {
        self.lines.get(self.inlets.len()..).unwrap_or_default()
    }
}

/// A house plan with its rooms set down.
#[derive(Debug, Clone, PartialEq)]
pub struct FloorPlan {
    pub plan: Plan,
    pub placed: Placed,
    /// The file that it stands in.
    pub file: String,
}

/// A datum line of the drawings.
#[derive(Debug, Clone, PartialEq)]
pub struct Level {
    pub name: String,
    pub up_m: f64,
    /// Where it is written.
    pub place: Place,
}

/// A line on site that a tape can start from.
#[derive(Debug, Clone, PartialEq)]
pub struct Datum {
    pub name: String,
    pub runs: DatumRuns,
    /// Where it is written.
    pub place: Place,
}

/// Which way a datum runs, and the coordinate that holds all along it, in metres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum DatumRuns {
    /// Runs north and south at this east.
    North { east_m: f64 },
    /// Runs east and west at this north.
    East { north_m: f64 },
}

/// Whose a line is, or whom a paper concerns: an index into the job's inlets or trunks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Owner {
    Inlet(usize),
    Trunk(usize),
}

/// A hold that a paper has answered.
#[derive(Debug, Clone, PartialEq)]
pub struct Cleared {
    /// Id of the clause.
    pub clause: String,
    /// `None` where the whole job is meant.
    pub of: Option<Owner>,
    /// The mark of what it concerns, `X2`; `None` where all of it is.
    pub at: Option<String>,
    pub paper: String,
    pub by: String,
    pub on: Date,
    /// Where it is written.
    pub place: Place,
}

impl Cleared {
    /// `hold cleared: Joist maker's hole chart, sheet 12; builder's engineer, 2026-11-28`.
    pub fn words(&self) -> String {
        format!("hold cleared: {}; {}, {}", self.paper, self.by, self.on)
    }
}

/// The power unit and where its inlet is.
#[derive(Debug, Clone)]
pub struct UnitPlace {
    pub model: UnitPart,
    pub at: Option<DVec3>,
    /// Whether a circuit of its own is said to feed it; `None` where the job is silent.
    pub own_circuit: Option<bool>,
    /// Where it is written.
    pub place: Place,
}

/// One line of tube as the job writes it: from a valve to where it joins, or a trunk.
///
/// The line of an inlet holds one [`Step::Stop`], which stands in it between two runs or ends it; a
/// trunk holds none.
#[derive(Debug, Clone, PartialEq)]
pub struct LineSpec {
    pub owner: Owner,
    /// Id of the inlet or trunk.
    pub id: String,
    /// Name for people.
    pub name: String,
    /// One or two capitals that begin every mark of the line, unique in the job.
    pub letters: String,
    /// Where its tube begins: seated in the valve, or at the trunk's start.
    pub start: Option<DVec3>,
    /// Direction in which the tube leaves.
    pub leaves: Direction,
    pub steps: Vec<Step>,
    /// `None` for an inlet whose way on is not given.
    pub into: Option<Into>,
    /// Where it is written.
    pub place: Place,
    /// Where it is written what it joins.
    pub into_place: Place,
}

impl LineSpec {
    /// The steps before the stop and those after it; a line without a stop is all after.
    pub fn at_stop(&self) -> (&[Step], &[Step]) {
        match self.steps.iter().position(|step| matches!(step, Step::Stop)) {
            Some(at) => (&self.steps[..at], &self.steps[at + 1..]),
            None => (&[], &self.steps),
        }
    }

    /// The same line of an inlet with other steps before and after its stop.
    pub fn with_steps(&self, before: Vec<Step>, after: Vec<Step>) -> LineSpec {
        let steps = before.into_iter().chain([Step::Stop]).chain(after).collect();
        LineSpec { steps, ..self.clone() }
    }
}

/// Where a line ends.
#[derive(Debug, Clone, PartialEq)]
pub enum Into {
    Unit,
    /// Joins trunk number `trunk` of the job by the branch of a junction.
    Trunk {
        trunk: usize,
        /// From the trunk's start along its runs; `None` where it is to be worked out from the places.
        at_m: Option<f64>,
        with: Fitting,
    },
    /// Goes on as trunk number `trunk`: the two meet in a coupling at the trunk's start.
    Start {
        trunk: usize,
    },
}

impl Into {
    /// The trunk that the line runs into.
    pub fn trunk(&self) -> Option<usize> {
        match self {
            Into::Unit => None,
            Into::Trunk { trunk, .. } | Into::Start { trunk } => Some(*trunk),
        }
    }
}

/// An inlet: the valve, its hose, and what was said and read there. Its tube is a [`LineSpec`].
#[derive(Debug, Clone)]
pub struct Inlet {
    pub id: String,
    pub name: String,
    /// Clear depth of the wall that the valve stands in; `None` where the job is silent.
    pub wall_m: Option<f64>,
    /// Clear width between the studs on either side of the valve; `None` where the job is silent.
    pub bay_m: Option<f64>,
    pub valve: Valve,
    pub hose: Hose,
    pub waivers: Vec<Waiver>,
    pub readings: Readings,
    /// Where it is written.
    pub place: Place,
}

/// A direction, a unit vector, with the words it was written in.
#[derive(Debug, Clone, PartialEq)]
pub struct Direction {
    pub vector: DVec3,
    /// `west`, or `3 north, 4 up`.
    pub words: String,
}

/// A step of a path.
#[derive(Debug, Clone, PartialEq)]
pub enum Step {
    Run(Run),
    Turn(Turn),
    /// The stop fitting, in which the hose's tail is held.
    Stop,
}

/// A straight between work points.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Run {
    /// 0 in a run written `rest`, until the line is laid.
    pub length_m: f64,
    /// Written `rest`: as long as it takes to arrive where the line ends.
    pub rest: bool,
    pub crossings: Vec<Crossing>,
    /// Whether the job says what it is bored through, `crosses: none` included.
    pub looked_at: bool,
    /// Where it is written.
    pub place: Place,
}

/// A turn.
#[derive(Debug, Clone, PartialEq)]
pub struct Turn {
    /// Above 0 and below 180.
    pub angle_deg: f64,
    pub toward: Direction,
    /// The fitting named by `with:`, which is a bend.
    pub with: Option<Fitting>,
    /// Where it is written.
    pub place: Place,
}

impl Run {
    /// A run of which nothing else is known.
    pub fn plain(length_m: f64) -> Run {
        Run { length_m, ..Run::default() }
    }
}

impl Turn {
    /// Sine of the least angle between heading and direction that still spans a plane; far above the
    /// rounding of a chain of turns, far below what anyone could mean (0.00006°).
    pub const LEAST_SINE: f64 = 1e-6;

    /// The heading after this turn: `cos a h + sin a unit(t - h (h . t))`, with `h` the unit heading
    /// before it, `t` the unit direction toward which it turns, and `a` its angle.
    ///
    /// `None` where `t` lies along `h` or straight back: such a turn has no plane. A [`Job`] holds none.
    pub fn heading_after(&self, heading: DVec3) -> Option<DVec3> {
        let toward = self.toward.vector;
        if heading.cross(toward).length() <= Self::LEAST_SINE {
            return None;
        }
        let side = (toward - heading * heading.dot(toward)).try_normalize()?;
        let (sin, cos) = self.angle_deg.to_radians().sin_cos();
        (heading * cos + side * sin).try_normalize()
    }
}

/// What a run is bored through.
#[derive(Debug, Clone, PartialEq)]
pub struct Crossing {
    /// From the start of its run.
    pub at_m: f64,
    pub member: Member,
    /// As written, `2x8`; `None` when `depth:` was given.
    pub size: Option<String>,
    /// Dressed thickness and depth (width of a stud or plate); `None` where the size is not known.
    pub thickness_m: Option<f64>,
    pub depth_m: Option<f64>,
    pub bearing: bool,
    pub doubled: bool,
    pub hole_m: Option<f64>,
    pub from_edge_m: Option<f64>,
    pub from_end_m: Option<f64>,
    pub garage_wall: bool,
    /// A floor or ceiling line, so that the gap is fireblocked.
    pub floor_line: bool,
    /// Where it is written.
    pub place: Place,
}

/// Thickness of a two-by, dressed dry (PS 20), for members of which no size is given.
const TWO_BY_M: f64 = 0.0381;

impl Crossing {
    /// A member of which nothing more is said: no size, no bore, neither bearing nor doubled.
    pub fn plain(at_m: f64, member: Member) -> Crossing {
        Crossing {
            at_m,
            member,
            size: None,
            thickness_m: None,
            depth_m: None,
            bearing: false,
            doubled: false,
            hole_m: None,
            from_edge_m: None,
            from_end_m: None,
            garage_wall: false,
            floor_line: false,
            place: Place::default(),
        }
    }

    /// How much of the tube lies inside the member, metres: its thickness, twice where it is doubled. A
    /// wall of masonry is as thick as its `depth` says. A two-by where nothing is said.
    pub fn along_tube_m(&self) -> f64 {
        let one_m = match self.member {
            Member::Masonry => self.depth_m.or(self.thickness_m),
            _ => self.thickness_m,
        };
        one_m.unwrap_or(TWO_BY_M) * if self.doubled { 2.0 } else { 1.0 }
    }
}

/// A clause set aside for this inlet, with the reason.
#[derive(Debug, Clone, PartialEq)]
pub struct Waiver {
    pub clause: String,
    pub because: String,
    pub by: String,
    /// Where it is written.
    pub place: Place,
}

/// Readings taken after the work; all in SI, `None` where not taken.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Readings {
    pub sealed_suction_pa: Option<f64>,
    pub flow_m3_s: Option<f64>,
    pub draw_in_n: Option<f64>,
    pub pull_out_n: Option<f64>,
}

#[cfg(test)]
mod tests {
    use super::*;

    fn turn(angle_deg: f64, vector: DVec3) -> Turn {
        Turn {
            angle_deg,
            toward: Direction { vector, words: String::new() },
            with: None,
            place: Place::default(),
        }
    }

    #[test]
    fn turns_twice_by_45_make_a_quarter() {
        let north = turn(45.0, DVec3::Y);
        let first = north.heading_after(DVec3::X).unwrap();
        let half = 0.5_f64.sqrt();
        assert!((first - DVec3::new(half, half, 0.0)).length() < 1e-15); // a few roundings of 1
        assert!((north.heading_after(first).unwrap() - DVec3::Y).length() < 1e-15);
    }

    #[test]
    fn zero_plane_is_no_turn() {
        assert_eq!(turn(90.0, DVec3::X).heading_after(DVec3::X), None);
        assert_eq!(turn(90.0, DVec3::NEG_X).heading_after(DVec3::X), None);
    }
}
