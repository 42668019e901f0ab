//! The third sheet of an inlet: what is ticked at each phase, and the readings with what to expect.
use super::inline::inlined;
use super::place::Place;
use super::sheet::clause_page;
use super::valve::{self, ValveLine};
use super::worked::{InletPart, Pictures, Worked};
use crate::company::{Per, Phase, Standard, Valve};
use crate::standard::lines;
use serde::Serialize;

/// Checklists of an inlet.
#[derive(Debug, Clone, Serialize)]
pub struct InletCheck {
    pub valve_svg: String,
    pub phases: Vec<PhaseList>,
    pub readings: Vec<Reading>,
}

/// The lines of a phase.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PhaseList {
    pub name: &'static str,
    pub lines: Vec<CheckLine>,
}

/// A line to tick.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CheckLine {
    pub text: String,
    /// Number of its clause; empty for what follows from the valve.
    pub number: String,
    pub href: String,
    /// `must`, `should`, or where it comes from.
    pub level: String,
}

/// A reading to take, with what it should be about.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Reading {
    pub name: &'static str,
    pub how: &'static str,
    pub expected: String,
    /// What was read, when it was typed in.
    pub taken: String,
}

/// All phases in order.
pub const PHASES: [Phase; 5] = [Phase::Load, Phase::RoughIn, Phase::Trim, Phase::Prove, Phase::HandOver];

/// A phase in words.
pub fn phase_name(phase: Phase) -> &'static str {
    match phase {
        Phase::Load => "Load the truck",
        Phase::RoughIn => "Rough-in",
        Phase::Trim => "Trim",
        Phase::Prove => "Prove",
        Phase::HandOver => "Hand over",
    }
}

/// Lays the sheet out.
pub fn sheet(worked: &Worked, part: &InletPart, pictures: &Pictures, here: &Place) -> InletCheck {
    let valve = &part.inlet.valve;
    let phases = PHASES.map(|phase| {
        let mut lines = clause_lines(worked.work.standard, Per::Inlet, phase, Some(valve), here);
        lines.extend(valve_lines(worked.work.standard, valve, phase));
        PhaseList { name: phase_name(phase), lines }
    });
    InletCheck {
        valve_svg: inlined(pictures.valve_box.as_deref(), &format!("i{}v-", part.index + 1)),
        phases: phases.into_iter().filter(|phase| !phase.lines.is_empty()).collect(),
        readings: readings(worked, part),
    }
}

/// The standard's by-eye lines of a phase, for a valve or for the job.
pub fn clause_lines(
    standard: &Standard,
    per: Per,
    when: Phase,
    valve: Option<&Valve>,
    here: &Place,
) -> Vec<CheckLine> {
    lines(standard, per, when, valve)
        .into_iter()
        .map(|(clause, line)| CheckLine {
            text: line.tick.clone(),
            number: clause.number.clone(),
            href: here.to(&clause_page(&standard.revision, &clause.id), ""),
            level: super::cover::level_word(clause.level).into(),
        })
        .collect()
}

/// What follows from the valve itself, as far as no clause of the firm speaks of it at that phase.
fn valve_lines(standard: &Standard, valve: &Valve, phase: Phase) -> Vec<CheckLine> {
    let clauses = lines(standard, Per::Inlet, phase, Some(valve));
    let unsaid = |line: &ValveLine| !clauses.iter().any(|(_, clause)| valve::spoken_for(line, clause));
    let own = valve::lines(valve).into_iter().filter(|line| line.when == phase).filter(unsaid);
    own.map(|line| CheckLine {
        text: line.words.into(),
        number: String::new(),
        href: String::new(),
        level: "this valve".into(),
    })
    .collect()
}

/// The four readings.
fn readings(worked: &Worked, part: &InletPart) -> Vec<Reading> {
    let say = worked.work.say;
    let effort = part.figures.effort.as_ref().ok();
    let air = part.figures.air.as_ref().ok();
    let sealed = part.figures.sealed_pa.as_ref().ok();
    let taken = &part.inlet.readings;
    let about =
        |words: Option<String>| words.map_or("not worked out".into(), |words| format!("about {words}"));
    let up_to =
        |words: Option<String>| words.map_or("not worked out".into(), |words| format!("up to {words}"));
    let some = |words: Option<String>| words.unwrap_or_default();
    vec![
        Reading {
            name: "Sealed suction",
            how: "gauge on the valve, nothing flowing, all other valves shut",
            expected: about(sealed.map(|pa| say.pressure(*pa))),
            taken: some(taken.sealed_suction_pa.map(|pa| say.pressure(pa))),
        },
        Reading {
            name: "Airflow",
            how: "flow meter on the hose's end, hose drawn out",
            expected: about(air.map(|air| say.flow(air.hose_out.flow_m3_s))),
            taken: some(taken.flow_m3_s.map(|q| say.flow(q))),
        },
        Reading {
            name: "Draw-in",
            how: "spring scale held at the hose's end while suction draws it in",
            expected: up_to(effort.map(|effort| say.force(effort.draw_in.worst_n))),
            taken: some(taken.draw_in_n.map(|n| say.force(n))),
        },
        Reading {
            name: "Pull-out",
            how: "spring scale on the handle, system off, to full length",
            expected: up_to(effort.map(|effort| say.force(effort.pull_out.worst_n))),
            taken: some(taken.pull_out_n.map(|n| say.force(n))),
        },
    ]
}
