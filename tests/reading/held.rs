//! Houses with nothing wrong but what a test puts into them, and what is found in them.
use super::{firm, shared};
use longsweep::company::{Job, Standard, read_job};
use longsweep::standard::{Finding, Verdict};
use longsweep::work::Work;

/// A house with nothing wrong: one inlet, straight into the unit. `more` is added to the job, `run` to its riser,
/// `inlet` to its inlet.
pub fn house(more: &str, run: &str, inlet: &str) -> String {
    format!(
        "title: Gull Cottage
date: 2026-11-30
unit: {{model: basement-600, own-circuit: yes}}
{more}
inlets:
  - id: hall
    valve: door-sealed
    hose: socked-40
    wall: 5-1/2 in
    {inlet}
    raceway:
      leaves: down
      path:
        - {{run: 3 ft, {run}}}
        - {{turn: 90 west}}
        - {{run: 44 ft, crosses: none}}
    onward:
      path: [{{run: 3 ft}}]
      into: unit
"
    )
}

pub const PLATE: &str = "crosses: [{at: 1 ft 6 in, member: bottom-plate, size: 2x6, hole: 2-1/8 in}]";
pub const TRUSS: &str = "crosses: [{at: 1 ft 6 in, member: truss, depth: 12 in}]";

pub fn job(text: &str) -> Job {
    let (catalog, standards) = shared();
    match read_job("jobs/gull.yaml", text, catalog, &firm(), standards, &[]) {
        Ok(job) => job,
        Err(faults) => panic!("{}", faults[0].render_plain()),
    }
}

pub fn worked(job: &Job) -> Work<'_> {
    let (catalog, standards) = shared();
    let standard = standards.iter().find(|standard| standard.revision == job.standard).unwrap();
    Work::up(job, standard, catalog, firm().say())
}

pub fn verdict(text: &str) -> Verdict {
    worked(&job(text)).verdict()
}

pub fn of_clause(work: &Work, clause: &str) -> Finding {
    let found = work.findings.all().map(|(_, finding)| finding).filter(|finding| finding.clause == clause);
    found.max_by_key(|finding| finding.verdict).unwrap().clone()
}

/// A house whose trunk runs from 40 ft east to the unit, 2 ft under the valve's floor; `line` is the raceway's first run
/// and turn, `onward` its way on, `trunk` goes into the trunk's path.
pub fn trunk_house(line: &str, onward: &str, trunk: &str) -> String {
    format!(
        "title: Gull Cottage
date: 2026-11-30
unit: {{model: basement-600, own-circuit: yes}}
trunks:
  - {{id: main, starts: {{east: 40 ft, north: 0 ft, up: -2 ft}}, leaves: west, path: [{{run: 38 ft{trunk}}}], into: unit}}
inlets:
  - id: hall
    valve: door-sealed
    hose: socked-40
    wall: 5-1/2 in
    at: {{east: 20 ft, north: 50 ft, up: 1 ft}}
    raceway:
      leaves: down
      path: [{line}, {{run: 44 ft}}]
    onward: {onward}
"
    )
}

pub const DOWN: &str = "{run: 3 ft, crosses: none}, {turn: 90 south}";
pub const JOINS: &str = "{path: [{run: 4 ft}, {turn: 45 west, with: short-45}, {run: 2 ft 9-15/16 in}], into: {trunk: main, with: wye-45}}";

/// The revision in force with none of those clauses that no job is stamped without.
pub fn bare_standard() -> Standard {
    let (_, standards) = shared();
    let mut standard = standards.last().unwrap().clone();
    let dropped = ["hose-room", "fitting-room", "cut-tubes", "clash", "open-ends", "bores", "bore-size"];
    for part in &mut standard.parts {
        part.clauses.retain(|clause| !dropped.contains(&clause.id.as_str()));
    }
    standard
}
