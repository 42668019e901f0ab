//! What follows from what a valve does for each of its duties, in the crew's and the owner's words.
use crate::company::{ByEye, Duty, Phase, RoughIn, Valve};

/// What of a valve a line follows from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Trait {
    RoughIn,
    Seal,
    Grip,
    Switch,
}

/// A line to tick.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ValveLine {
    /// `None` for what holds of every valve.
    pub of: Option<Trait>,
    pub when: Phase,
    pub words: &'static str,
}

/// What one trait brings: lines to tick at their phases, and how the owner uses it.
struct Brings {
    lines: &'static [(Phase, &'static str)],
    owner: &'static str,
}

/// Lines to tick for a valve, in the order of its life.
pub fn lines(valve: &Valve) -> Vec<ValveLine> {
    let of = |(of, brings): (Trait, Brings)| {
        brings.lines.iter().map(move |(when, words)| ValveLine { of: Some(of), when: *when, words })
    };
    let always = ValveLine {
        of: None,
        when: Phase::Trim,
        words: "The system runs while the hose is drawn in, and does not stop before it is home",
    };
    traits(valve).into_iter().flat_map(of).chain([always]).collect()
}

/// How the owner uses a valve, in the order of use: start it, hold the hose, shut it.
pub fn owner(valve: &Valve) -> Vec<&'static str> {
    traits(valve)
        .into_iter()
        .rev()
        .map(|(_, brings)| brings.owner)
        .filter(|words| !words.is_empty())
        .collect()
}

/// A line that differs from valve to valve by one word alone, which stands beside its box.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct WordLine {
    pub line: ValveLine,
    pub beside: &'static str,
}

/// Those lines of a valve.
pub fn word_lines(valve: &Valve) -> [WordLine; 3] {
    let line = |of, when, words, beside| WordLine { line: ValveLine { of: Some(of), when, words }, beside };
    let wire = match valve.switch {
        Duty::Door => "hinge",
        Duty::Cuff => "seat",
        _ => "tab",
    };
    let seal = if valve.seal == Duty::Door { "door" } else { "seat" };
    let grip = if valve.grips == Duty::Anywhere { "collar" } else { "full" };
    [
        line(Trait::Switch, Phase::RoughIn, "Control wire comes out at", wire),
        line(Trait::Seal, Phase::Prove, "Hose home, system running: no hiss at", seal),
        line(Trait::Grip, Phase::Prove, "Airflow read with the collar set, or the hose full out", grip),
    ]
}

/// Whether a clause of the firm already speaks of that trait, so that nothing is ticked twice.
pub fn spoken_for(line: &ValveLine, clause: &ByEye) -> bool {
    match line.of {
        None => false,
        Some(Trait::RoughIn) => clause.rough_in.is_some(),
        Some(Trait::Seal) => clause.seal.is_some(),
        Some(Trait::Grip) => clause.grips.is_some(),
        Some(Trait::Switch) => clause.switch.is_some(),
    }
}

/// The reader lets only `door` or `cuff` seal, `anywhere` or `full-length` grip, and `door`, `cuff` or
/// `tab` switch, so the last arm of each match is the remaining one.
fn traits(valve: &Valve) -> [(Trait, Brings); 4] {
    [
        (Trait::RoughIn, rough_in(valve.rough_in)),
        (Trait::Seal, seal(valve.seal)),
        (Trait::Grip, grips(valve.grips)),
        (Trait::Switch, switch(valve.switch)),
    ]
}

/// What is set in the wall before the plaster.
fn rough_in(kind: RoughIn) -> Brings {
    let lines: &[(Phase, &str)] = match kind {
        RoughIn::Frame => &[
            (
                Phase::RoughIn,
                "Bare frame set plumb, flush with the back of the drywall; its valve body stays on the truck",
            ),
            (Phase::RoughIn, "Opening closed with its cover against plaster and dust"),
            (Phase::Trim, "Valve body set in the frame, screws even, nothing pinched behind it"),
        ],
        RoughIn::Box => &[
            (Phase::RoughIn, "Box set with the valve in it; valve tried by hand before the wall is closed"),
            (Phase::RoughIn, "Cover over the valve: the drywall crew's saw and mud must not reach it"),
            (Phase::Trim, "Valve cleaned of dust and tried again before the door goes on"),
        ],
    };
    Brings { lines, owner: "" }
}

/// What keeps the opening tight when idle.
fn seal(duty: Duty) -> Brings {
    match duty {
        Duty::Door => Brings {
            lines: &[
                (
                    Phase::RoughIn,
                    "Box airtight behind the door: every seam, screw hole and wire entry sealed, for the door seals only the front",
                ),
                (
                    Phase::Trim,
                    "Gasket whole and seated all round; a strip of paper shut in the door grips on every side",
                ),
            ],
            owner: "Close the door fully; its gasket keeps the suction for the other inlets. Wipe it now and then, and call us when it is torn or flat.",
        },
        _ => Brings {
            lines: &[
                (Phase::RoughIn, "Seat inside the valve kept capped: a scratch there leaks for good"),
                (
                    Phase::Trim,
                    "Seat clean and smooth; the hose end goes home by itself and cannot be turned on its seat by suction alone",
                ),
            ],
            owner: "Let the hose go all the way home: its own end closes the inlet. The door is only a cover.",
        },
    }
}

/// What grips the hose.
fn grips(duty: Duty) -> Brings {
    match duty {
        Duty::Anywhere => Brings {
            lines: &[(
                Phase::Trim,
                "Collar grips the hose at a short, a middle and the full length, and lets go freely",
            )],
            owner: "Draw out as much hose as you need and set the collar; it holds at any length.",
        },
        _ => Brings {
            lines: &[(
                Phase::Trim,
                "Cuff locks at full length; the part-way holder holds too, though it does not seal",
            )],
            owner: "Draw the hose out to its full length until its end locks. The holder for part-way keeps the hose from slipping but does not seal, so suction is less there.",
        },
    }
}

/// What switches the system.
fn switch(duty: Duty) -> Brings {
    match duty {
        Duty::Door => Brings {
            lines: &[(Phase::Trim, "Door opened: system starts; door shut: system stops")],
            owner: "The system starts when you open the door and stops when you shut it.",
        },
        Duty::Cuff => Brings {
            lines: &[(
                Phase::Trim,
                "Hose end lifted: system starts; hose home: its end pushes the switch and the system stops",
            )],
            owner: "The system starts when the hose end leaves its seat and stops by itself when the hose is home.",
        },
        _ => Brings {
            lines: &[(
                Phase::Trim,
                "Tab drawn out with the hose: system starts; door shut on the tab: system stops",
            )],
            owner: "The system starts when the tab comes out with the hose and stops when the door pushes it in.",
        },
    }
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;

    /// A valve of the given duties.
    pub(crate) fn valve(seal: Duty, grips: Duty, switch: Duty, rough_in: RoughIn) -> Valve {
        Valve {
            id: "v".into(),
            name: "Valve".into(),
            seal,
            grips,
            switch,
            rough_in,
            depth_m: 0.0889,
            socket_m: Some(0.0286),
            opening_m: None,
            leak_m3_s: None,
            leak_at_pa: 25_000.0,
            box_m: None,
        }
    }

    /// The words of a valve's lines at a phase.
    fn at(valve: &Valve, when: Phase) -> Vec<&'static str> {
        lines(valve).into_iter().filter(|line| line.when == when).map(|line| line.words).collect()
    }

    #[test]
    fn a_door_that_seals_wants_an_airtight_box() {
        let valve = valve(Duty::Door, Duty::Anywhere, Duty::Door, RoughIn::Frame);
        assert!(at(&valve, Phase::RoughIn).iter().any(|line| line.contains("airtight")));
        assert!(at(&valve, Phase::Trim).iter().any(|line| line.contains("Gasket")));
        assert!(owner(&valve).iter().any(|line| line.contains("any length")));
    }

    #[test]
    fn a_cuff_that_seals_has_no_gasket_and_a_door_that_only_covers() {
        let valve = valve(Duty::Cuff, Duty::FullLength, Duty::Cuff, RoughIn::Box);
        let ticks = lines(&valve).into_iter().map(|line| line.words);
        let all = ticks.chain(owner(&valve)).collect::<Vec<_>>().join(" ");
        assert!(!all.contains("asket"));
        assert!(all.contains("only a cover"));
        assert!(all.contains("does not seal"));
    }

    #[test]
    fn every_valve_says_that_the_system_runs_while_the_hose_is_drawn_in() {
        for switch in [Duty::Door, Duty::Cuff, Duty::Tab] {
            let valve = valve(Duty::Door, Duty::Anywhere, switch, RoughIn::Frame);
            assert!(at(&valve, Phase::Trim).iter().any(|line| line.contains("while the hose is drawn in")));
        }
    }
}
