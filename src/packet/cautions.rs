//! Where people get hurt on this job: each caution with why it is here, who must do it, and its source.
use crate::company::{Crossing, Job, Member};
use crate::route::{JobLines, Leg};
use serde::Serialize;

/// Before this year 40 CFR 745 takes a house to hold lead paint.
const LEAD_BEFORE: i16 = 1978;
/// Before this year asbestos in walls and insulation is to be expected (common practice).
const ASBESTOS_BEFORE: i16 = 1980;
/// A leading leg that climbs more than this much of its length leads into a ceiling or an attic.
const CLIMBS: f64 = 0.7;

/// A caution.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Caution {
    /// Short name, which the tests and the sheets use.
    pub id: &'static str,
    pub title: &'static str,
    /// What in this job brings it.
    pub because: String,
    pub what: &'static str,
    /// Who must do it.
    pub who: &'static str,
    pub source: &'static str,
}

/// The cautions that a job brings, gravest first.
pub fn cautions(job: &Job, lines: &JobLines) -> Vec<Caution> {
    let mut list = Vec::new();
    list.extend(lead(job.built));
    list.extend(asbestos(job.built));
    let crossings = crossings(lines);
    list.extend(hidden_services(&crossings));
    list.extend(engineered(&crossings));
    list.extend(garage_wall(&crossings));
    list.extend(fire_stops(&crossings));
    list.extend(attic(lines));
    list.extend(ladder(lines));
    list.push(cement());
    list.push(mains(job));
    list.push(exhaust());
    list
}

/// Lead paint, by the year the house was built.
fn lead(built: Option<i16>) -> Option<Caution> {
    Some(Caution {
        id: "lead",
        title: "Lead paint",
        because: older(built, LEAD_BEFORE)?,
        what: "Do not sand or saw painted wall without lead-safe practice; keep people and children out, contain and clean up",
        who: "A certified renovation firm, where more than 6 sq ft of painted surface a room is disturbed for pay",
        source: "40 CFR 745 (housing built before 1978)",
    })
}

/// Asbestos, by the year the house was built.
fn asbestos(built: Option<i16>) -> Option<Caution> {
    Some(Caution {
        id: "asbestos",
        title: "Asbestos",
        because: older(built, ASBESTOS_BEFORE)?,
        what: "Take loose grey pebble insulation, old pipe lagging and old wallboard compound to hold asbestos: do not disturb them, stop and ask",
        who: "Trained asbestos professionals test and remove it",
        source: "EPA and ATSDR guidance on vermiculite insulation; the year 1980 is common practice",
    })
}

/// `built 1962, before 1978`; nothing where the house is young enough.
fn older(built: Option<i16>, before: i16) -> Option<String> {
    match built {
        Some(year) if year < before => Some(format!("built {year}, before {before}")),
        Some(_) => None,
        None => Some(format!("year not given: take it as built before {before} until someone knows")),
    }
}

/// Wires, pipes and gas behind whatever is bored.
fn hidden_services(crossings: &[&Crossing]) -> Option<Caution> {
    (!crossings.is_empty()).then(|| Caution {
        id: "hidden-services",
        title: "Hidden wires, pipes and gas",
        because: plural(crossings.len(), "bore", "bores"),
        what: "Find what is behind before the bit goes in: ask, look from both sides, use an instrument; switch circuits off",
        who: "The crew; a licensed electrician or plumber for anything that must be moved",
        source: "29 CFR 1926.416(a)(3): find concealed circuits by inquiry, observation or instruments first",
    })
}

/// Members that nobody may cut on a table's word.
fn engineered(crossings: &[&Crossing]) -> Option<Caution> {
    let special = |c: &&&Crossing| {
        matches!(c.member, Member::Engineered | Member::Truss | Member::Steel | Member::Masonry)
    };
    let count = crossings.iter().filter(special).count();
    (count > 0).then(|| Caution {
        id: "engineered",
        title: "Engineered lumber, trusses, steel, masonry",
        because: plural(count, "bore through such a member", "bores through such members"),
        what: "No cut, notch or hole but as its maker or an engineer says in writing; have the paper on site",
        who: "The member's maker or a registered design professional decides",
        source: "IRC R502.8.2 and R802.7.2",
    })
}

/// A hole through the garage separation.
fn garage_wall(crossings: &[&Crossing]) -> Option<Caution> {
    let count = crossings.iter().filter(|c| c.garage_wall).count();
    (count > 0).then(|| Caution {
        id: "garage-wall",
        title: "Hole through the garage separation",
        because: plural(count, "bore through the garage wall", "bores through the garage wall"),
        what: "The wall keeps a garage fire out of the house: fill round the tube as the local code says, and no inlet opens into the garage",
        who: "The crew, as the authority having jurisdiction approves",
        source: "IRC R302.5; wording differs by edition, the local code decides",
    })
}

/// Floor and ceiling lines.
fn fire_stops(crossings: &[&Crossing]) -> Option<Caution> {
    let count = crossings.iter().filter(|c| c.floor_line).count();
    (count > 0).then(|| Caution {
        id: "fireblock",
        title: "Fireblocking",
        because: plural(
            count,
            "bore through a floor or ceiling line",
            "bores through floor or ceiling lines",
        ),
        what: "Fill the ring round the tube with approved material before the wall is closed",
        who: "The crew; the inspector sees it before it is covered",
        source: "IRC R302.11; the local code decides",
    })
}

/// Heat and footing above a ceiling.
fn attic(lines: &JobLines) -> Option<Caution> {
    let count = lines.of_inlets().iter().filter(|r| r.legs.first().is_some_and(climbs)).count();
    (count > 0).then(|| Caution {
        id: "attic",
        title: "Attic heat and footing",
        because: plural(count, "raceway rises above a ceiling", "raceways rise above a ceiling"),
        what: "Step on framing or boards only; work early, drink, never alone; light and mask",
        who: "The crew",
        source: "common practice",
    })
}

/// Work off the floor.
fn ladder(lines: &JobLines) -> Option<Caution> {
    let riser = |leg: &Leg| leg.heading.z.abs() > CLIMBS;
    let count = lines.of_inlets().iter().filter(|r| r.legs.first().is_some_and(riser)).count();
    (count > 0).then(|| Caution {
        id: "ladder",
        title: "Ladders",
        because: plural(count, "line runs overhead or under a floor", "lines run overhead or under a floor"),
        what: "Foot of a leaning ladder out by a quarter of its working length, rails 3 ft past a landing; do not bore at arm's length",
        who: "The crew",
        source: "29 CFR 1926.1053(b)",
    })
}

/// Fumes of the cement; every job has joints.
fn cement() -> Caution {
    Caution {
        id: "cement",
        title: "Solvent cement",
        because: "every joint is cemented".into(),
        what: "Air through the space, no flame, spark or pilot light near, lid back on, off the skin and out of the eyes",
        who: "The crew",
        source: "ASTM F402 and D2855",
    }
}

/// Mains power to the unit.
fn mains(job: &Job) -> Caution {
    let rating = match (job.unit.model.volts, job.unit.model.amps) {
        (Some(volts), Some(amps)) => format!(", {volts:.0} V, {amps:.0} A"),
        _ => String::new(),
    };
    Caution {
        id: "mains",
        title: "Mains power to the unit",
        because: format!("{}{rating}", job.unit.model.name),
        what: "Circuit, receptacle and disconnect are not this crew's work; control wire is kept apart from mains",
        who: "A licensed electrician",
        source: "NFPA 70, 210.23; the local code decides",
    }
}

/// Where the unit blows.
fn exhaust() -> Caution {
    Caution {
        id: "exhaust",
        title: "Exhaust",
        because: "the unit blows out what its filter lets by".into(),
        what: "Never into an attic, a crawl space or a wall; away from windows and air intakes",
        who: "The crew",
        source: "common practice; the unit's maker and the local code decide",
    }
}

/// Everything any line of the job is bored through.
fn crossings(lines: &JobLines) -> Vec<&Crossing> {
    lines.lines.iter().flat_map(|line| &line.crossings).map(|crossed| &crossed.crossing).collect()
}

/// Whether a leg rises.
fn climbs(leg: &Leg) -> bool {
    leg.heading.z > CLIMBS
}

/// `1 bore`, `3 bores`.
fn plural(count: usize, one: &str, many: &str) -> String {
    format!("{count} {}", if count == 1 { one } else { many })
}
