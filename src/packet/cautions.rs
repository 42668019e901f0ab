//! Where people get hurt on this job: each caution with why it is here, who must do it, and its source.
use crate::company::{Crossing, Job, Member};
use crate::route::{FireHole, JobLines, Leg, fire_holes};
use serde::Serialize;

/// Houses built before this year may hold lead paint. Source: 40 CFR 745.
const LEAD_BEFORE: i16 = 1978;
/// Buildings built up to and with this year are presumed to hold asbestos. Source: 29 CFR 1910.1001(j) and
/// 1926.1101(k), no later than 1980.
const ASBESTOS_UP_TO: i16 = 1980;
/// The mine that supplied most vermiculite, with asbestos in it, ran to this year. Source: EPA and ATSDR guidance.
const VERMICULITE_UP_TO: i16 = 1990;
/// A leg that rises by more than this share of its length is a riser: steeper than 45 degrees.
const RISER: f64 = std::f64::consts::FRAC_1_SQRT_2;

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
    let holes = fire_holes(job, lines);
    let bores: Vec<&Crossing> =
        lines.lines.iter().flat_map(|line| &line.crossings).map(|crossed| &crossed.crossing).collect();
    let rising = lines.of_inlets().iter().filter(|line| line.legs.first().is_some_and(climbs)).count();
    let list = [
        lead(job.built),
        asbestos(job.built),
        vermiculite(job.built, rising),
        hidden_services(bores.len(), &holes, lines),
        engineered(&bores),
        silica(&bores),
        garage_wall(&bores),
        fireblock(&holes),
        attic(rising),
        ladder(lines),
        Some(cement()),
        Some(power(job)),
        Some(control_wire()),
        Some(exhaust()),
    ];
    list.into_iter().flatten().collect()
}

/// Lead paint, by the year the house was built.
fn lead(built: Option<i16>) -> Option<Caution> {
    Some(Caution {
        id: "lead",
        title: "Lead paint",
        because: old_enough(built, LEAD_BEFORE - 1)?,
        what: "Do not cut or sand painted wall until a test finds no lead; keep people and children out",
        who: "A certified renovation firm, where more than 6 sq ft of painted surface a room is disturbed for pay",
        source: "40 CFR 745 (housing built before 1978)",
    })
}

/// Asbestos, by the year the house was built.
fn asbestos(built: Option<i16>) -> Option<Caution> {
    Some(Caution {
        id: "asbestos",
        title: "Asbestos",
        because: old_enough(built, ASBESTOS_UP_TO)?,
        what: "Take sprayed surfaces, floor tile, pipe insulation and wallboard compound to hold asbestos until a test says otherwise: do not cut or disturb them, stop and ask",
        who: "Trained asbestos professionals test and remove it",
        source: "29 CFR 1910.1001(j) and 1926.1101(k): presumed in buildings built no later than 1980",
    })
}

/// Loose attic insulation, in a house that has an attic to work in.
fn vermiculite(built: Option<i16>, rising: usize) -> Option<Caution> {
    (rising > 0).then_some(())?;
    Some(Caution {
        id: "vermiculite",
        title: "Vermiculite in the attic",
        because: old_enough(built, VERMICULITE_UP_TO)?,
        what: "Take loose gray pebble insulation to hold asbestos: do not walk in it, move it or run tube through it; stop and ask",
        who: "Trained asbestos professionals, for any work in it",
        source: "EPA and ATSDR guidance: the mine that supplied most of it ran to 1990",
    })
}

/// `built 1962`; nothing where the house is younger than `last`.
fn old_enough(built: Option<i16>, last: i16) -> Option<String> {
    match built {
        Some(year) if year <= last => Some(format!("built {year}")),
        Some(_) => None,
        None => Some(format!("year not given: take it as built by {last} until someone knows")),
    }
}

/// Wires, pipes and gas behind whatever is bored, listed or not.
fn hidden_services(bores: usize, holes: &[FireHole], lines: &JobLines) -> Option<Caution> {
    let levels = holes.iter().filter(|hole| matches!(hole, FireHole::Level(_))).count();
    let risers = lines.lines.iter().any(|line| line.legs.iter().any(is_riser));
    let because = match (bores, levels) {
        (0, 0) if risers => "risers leave their walls where no bore is listed".to_owned(),
        (0, 0) => return None,
        (0, levels) => plural(levels, "floor or ceiling passed", "floors or ceilings passed"),
        (bores, 0) => plural(bores, "bore", "bores"),
        (bores, levels) => format!(
            "{} and {} without one listed",
            plural(bores, "bore", "bores"),
            plural(levels, "floor or ceiling passed", "floors or ceilings passed")
        ),
    };
    Some(Caution {
        id: "hidden-services",
        title: "Hidden wires, pipes and gas",
        because,
        what: "Ask, look, scan before drilling, from both sides, above and below; have the circuits in the way switched off",
        who: "The crew; a licensed electrician, plumber or gas fitter for anything that must be moved",
        source: "29 CFR 1926.416(a)(3): find concealed circuits by inquiry, observation or instruments first",
    })
}

/// Members that nobody may cut on a table's word.
fn engineered(bores: &[&Crossing]) -> Option<Caution> {
    let special = [Member::Engineered, Member::Truss, Member::Steel, Member::Masonry];
    let count = bores.iter().filter(|bore| special.contains(&bore.member)).count();
    (count > 0).then(|| Caution {
        id: "engineered",
        title: "Engineered lumber, trusses, steel, masonry",
        because: plural(count, "bore through such a member", "bores through such members"),
        what: "No cut, notch or hole but as its maker or an engineer says in writing; have the paper on site",
        who: "The member's maker or a registered design professional decides",
        source: "IRC R502.8.2 and R802.7.2; the local code decides",
    })
}

/// Dust of drilled brick, block and concrete.
fn silica(bores: &[&Crossing]) -> Option<Caution> {
    let count = bores.iter().filter(|bore| bore.member == Member::Masonry).count();
    (count > 0).then(|| Caution {
        id: "silica",
        title: "Silica dust from masonry",
        because: plural(count, "bore through masonry", "bores through masonry"),
        what: "Drill with a shroud and a dust collector that has a filter, or wet; no dry sweeping, no compressed air; mask as the employer's plan says",
        who: "Whoever is trained for it under the employer's written plan",
        source: "29 CFR 1926.1153",
    })
}

/// A hole through the garage separation.
fn garage_wall(bores: &[&Crossing]) -> Option<Caution> {
    let count = bores.iter().filter(|bore| bore.garage_wall).count();
    (count > 0).then(|| Caution {
        id: "garage-wall",
        title: "Hole through the garage wall",
        because: plural(count, "bore through the garage wall", "bores through the garage wall"),
        what: "The wall keeps a garage fire out of the house: No. 26 gage sheet steel or other approved material where the tube passes it, no openings into the garage, sealed round the tube",
        who: "The licensed trade, as the authority having jurisdiction approves",
        source: "IRC R302.5.2 and R302.5.3; editions differ, the local code decides",
    })
}

/// Floors, ceilings and plates.
fn fireblock(holes: &[FireHole]) -> Option<Caution> {
    (!holes.is_empty()).then(|| Caution {
        id: "fireblock",
        title: "Fireblocking",
        because: plural(
            holes.len(),
            "hole through a plate, a floor, a ceiling or the garage wall",
            "holes through plates, floors, ceilings or the garage wall",
        ),
        what: "Fill the gap round tube and wire with approved material before the wall is closed",
        who: "The crew; the inspector sees it before it is covered",
        source: "IRC R302.11, item 4; the local code decides",
    })
}

/// Heat and footing above a ceiling.
fn attic(rising: usize) -> Option<Caution> {
    (rising > 0).then(|| Caution {
        id: "attic",
        title: "Attic heat and footing",
        because: plural(rising, "raceway rises above a ceiling", "raceways rise above a ceiling"),
        what: "Step on framing or boards only; work early, drink water, never alone; light and mask",
        who: "The crew",
        source: "common practice, no source",
    })
}

/// Work off the floor.
fn ladder(lines: &JobLines) -> Option<Caution> {
    let count = lines.lines.iter().filter(|line| line.legs.iter().any(is_riser)).count();
    (count > 0).then(|| Caution {
        id: "ladder",
        title: "Ladders",
        because: plural(count, "line runs overhead or under a floor", "lines run overhead or under a floor"),
        what: "Foot of a leaning ladder out by a quarter of its working length, rails 3 ft past a landing; do not bore at arm's length",
        who: "The crew",
        source: "29 CFR 1926.1053(b), from memory",
    })
}

/// Fumes of the cement; every job has joints.
fn cement() -> Caution {
    Caution {
        id: "cement",
        title: "Solvent cement",
        because: "every joint is cemented".into(),
        what: "Air through the space, no flame, spark or pilot light near, lid back on, off the skin and out of the eyes; the can's own sheet goes first",
        who: "The crew; whoever may do so puts out a water heater or furnace and lights it again",
        source: "ASTM F402, its content from memory",
    }
}

/// Line voltage to the unit.
fn power(job: &Job) -> Caution {
    let rating = match (job.unit.model.volts, job.unit.model.amps) {
        (Some(volts), Some(amps)) => format!(", {volts:.0} V, {amps} A"),
        _ => String::new(),
    };
    Caution {
        id: "power",
        title: "Line voltage to the unit",
        because: format!("{}{rating}", job.unit.model.name),
        what: "Circuit, receptacle and disconnect are not this crew's work; in a garage or a basement the receptacle is to be ground-fault protected",
        who: "A licensed electrician",
        source: "NFPA 70, 210.23 and 422.15; 210.8(A) from memory; the local code decides",
    }
}

/// Control wire beside power wiring.
fn control_wire() -> Caution {
    Caution {
        id: "control-wire",
        title: "Control wire",
        because: "a wire runs from every valve to the unit".into(),
        what: "Keep it 2 in from power wiring and out of its boxes and raceways; the 2 in are not asked for where either lies in sheathed cable or in raceway",
        who: "The crew; a licensed electrician where the local code wants one",
        source: "NFPA 70, 725.136 and 725.136(I); the local code decides",
    }
}

/// Where the unit blows.
fn exhaust() -> Caution {
    Caution {
        id: "exhaust",
        title: "Exhaust",
        because: "whatever the filter misses is blown out".into(),
        what: "Never into an attic, a crawl space, a garage or a wall; outdoors, 3 ft from windows and doors, 10 ft from air intakes",
        who: "The crew, by the unit maker's sheet",
        source: "IRC M1504.3, for exhaust openings, from memory; the unit's maker and the local code decide",
    }
}

/// Whether a leg goes up or down rather than along.
fn is_riser(leg: &Leg) -> bool {
    leg.heading.z.abs() > RISER
}

/// Whether a leg rises.
fn climbs(leg: &Leg) -> bool {
    leg.heading.z > RISER
}

/// `1 bore`, `3 bores`.
fn plural(count: usize, one: &str, many: &str) -> String {
    format!("{count} {}", if count == 1 { one } else { many })
}

#[cfg(test)]
mod tests;
