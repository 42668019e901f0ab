//! The homeowner's sheet: one page in plain words.
use super::valve;
use super::worked::Worked;
use crate::company::Valve;
use serde::Serialize;

/// The sheet.
#[derive(Debug, Clone, Serialize)]
pub struct Owner {
    pub valves: Vec<ValveUse>,
    pub never: [&'static str; 6],
    pub care: Vec<String>,
    pub trouble: [Trouble; 3],
    pub contact: Vec<String>,
    /// Said of a job that may not be built; empty for one that may.
    pub unfinished: String,
    /// What is ticked when it is handed over.
    pub checks: Vec<super::check::CheckLine>,
}

/// How a kind of inlet is used.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct ValveUse {
    /// The inlets of this kind: `Hall and Landing`.
    pub inlets: String,
    pub lines: Vec<&'static str>,
}

/// When something is wrong.
#[derive(Debug, Clone, Serialize)]
pub struct Trouble {
    pub sign: &'static str,
    pub what: &'static str,
}

/// Lays the sheet out.
pub fn sheet(source: &super::Source) -> Owner {
    let worked = source.worked;
    Owner {
        valves: valve_uses(worked),
        never: NEVER,
        care: care(worked),
        trouble: TROUBLE.map(|(sign, what)| Trouble { sign, what }),
        contact: contact(worked),
        unfinished: unfinished(worked).into(),
        checks: super::check::of_phase(source, super::Kind::Owner, crate::company::Phase::HandOver),
    }
}

/// Where to reach the firm, its telephone first.
fn contact(worked: &Worked) -> Vec<String> {
    let telephone = worked.firm.telephone.as_ref().map(|number| format!("Telephone {number}"));
    telephone.into_iter().chain([worked.firm.name.clone()]).collect()
}

/// A job that fails or waits is never told to its owner as finished.
fn unfinished(worked: &Worked) -> &'static str {
    match worked.work.findings.may_be_built() {
        true => "",
        false => "This system is not finished. Do not sign for it yet; we will tell you what is left to do.",
    }
}

/// What the system must not be fed.
const NEVER: [&str; 6] = [
    "Anything long and stiff: pencils, skewers, hairpins, toothbrushes, drinking straws",
    "Anything wet, or damp enough to cake",
    "Anything hot or glowing: ash, embers, matches",
    "Fine building dust: plaster, cement, drywall",
    "Anything that catches fire or gives off fumes: fuel, solvent, powder",
    "Socks, cloths, bags, and nails, screws or broken glass",
];

/// Signs of trouble.
const TROUBLE: [(&str, &str); 3] = [
    (
        "The hose will not come in",
        "Hold the handle's opening shut with your palm: suction then pulls harder. If it stops at the same place twice, do not force it; call us.",
    ),
    ("Weak suction", "See that every other inlet is shut, then empty the unit and look at its filter."),
    (
        "Something is stuck",
        "Switch off. Push nothing down the hose. Tell us what it was and which inlet; we know the place where it lies.",
    ),
];

/// Inlets grouped by what their valve asks of the owner, in the job's order.
fn valve_uses(worked: &Worked) -> Vec<ValveUse> {
    let mut kinds: Vec<(&Valve, Vec<String>)> = Vec::new();
    for inlet in &worked.work.job.inlets {
        let same = |valve: &Valve| {
            (valve.seal, valve.grips, valve.switch)
                == (inlet.valve.seal, inlet.valve.grips, inlet.valve.switch)
        };
        match kinds.iter_mut().find(|(valve, _)| same(valve)) {
            Some((_, names)) => names.push(inlet.name.clone()),
            None => kinds.push((&inlet.valve, vec![inlet.name.clone()])),
        }
    }
    kinds
        .into_iter()
        .map(|(valve, names)| ValveUse { inlets: listed(&names), lines: valve::owner(valve) })
        .collect()
}

/// How to look after it.
fn care(worked: &Worked) -> Vec<String> {
    let mut care = vec![
        "Guide the hose in by hand for the last few feet; the system runs until it is home.".to_string(),
        "Empty the unit when it is two thirds full, and clean its filter then.".to_string(),
        "Before anyone drills or nails into a wall, look at the drawings in this packet: tube runs there."
            .to_string(),
    ];
    if worked.work.job.inlets.iter().any(|inlet| inlet.hose.sock) {
        care.insert(1, "Keep the hose's fabric sleeve dry and straight; smooth it toward the wall when it bunches at the handle.".into());
    }
    care
}

/// `Hall`, `Hall and Landing`, `Hall, Landing and Loft`.
fn listed(names: &[String]) -> String {
    match names {
        [] => String::new(),
        [only] => only.clone(),
        [most @ .., last] => format!("{} and {last}", most.join(", ")),
    }
}
