//! What follows from what a valve does for each of its duties, in the crew's and the owner's words.
use crate::company::{Duty, RoughIn, Valve};

/// Lines for each stage of a valve's life.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct ValveWords {
    pub rough_in: Vec<&'static str>,
    pub trim: Vec<&'static str>,
    pub prove: Vec<&'static str>,
    /// How the owner uses it.
    pub owner: Vec<&'static str>,
}

/// The lines for a valve. The reader lets only `door` or `cuff` seal, `anywhere` or `full-length`
/// hold, and `door`, `cuff` or `tab` switch, so the last arm of each match is the remaining one.
pub fn words(valve: &Valve) -> ValveWords {
    let mut words = ValveWords::default();
    rough_in(valve.rough_in, &mut words);
    seal(valve.seal, &mut words);
    hold(valve.hold, &mut words);
    switch(valve.switch, &mut words);
    words.trim.push("The system keeps running while the hose is drawn in, and stops only when it is home");
    words
}

/// What is set in the wall before the plaster.
fn rough_in(kind: RoughIn, words: &mut ValveWords) {
    match kind {
        RoughIn::Frame => {
            words
                .rough_in
                .push("Bare frame set plumb, flush to the finished wall; its works stay on the truck");
            words.rough_in.push("Opening closed with its cover against plaster and dust");
            words.trim.push("Works fitted to the frame, screws even, nothing pinched behind them");
        }
        RoughIn::Box => {
            words
                .rough_in
                .push("Box set with its works inside; works tried by hand before the wall is closed");
            words.rough_in.push("Cover over the works: a drywaller's saw or compound must not reach them");
            words.trim.push("Works cleaned of dust and tried again before the door goes on");
        }
    }
}

/// What keeps the opening tight when idle.
fn seal(duty: Duty, words: &mut ValveWords) {
    match duty {
        Duty::Door => {
            words.rough_in.push(
                "Box airtight behind the door: every seam, screw hole and wire entry sealed, for the door seals only the front",
            );
            words.trim.push(
                "Gasket whole and seated all round; a strip of paper shut in the door grips on every side",
            );
            words.prove.push("Door shut, system running: no hiss and no draught round the door");
            words.owner.push("Close the door fully; its gasket keeps the suction for the other inlets. Wipe it now and then, and call us when it is torn or flat.");
        }
        _ => {
            words.rough_in.push("Seat inside the valve kept capped: a scratch there leaks for good");
            words.trim.push("Seat clean and smooth; the hose end goes home by itself and cannot be turned on its seat by suction alone");
            words
                .prove
                .push("Hose home, system running, door open: no hiss at the seat (the door is only a cover)");
            words.owner.push(
                "Let the hose go all the way home: its own end closes the inlet. The door is only a cover.",
            );
        }
    }
}

/// What holds the hose.
fn hold(duty: Duty, words: &mut ValveWords) {
    match duty {
        Duty::Anywhere => {
            words
                .trim
                .push("Collar grips the hose at a short, a middle and the full length, and lets go freely");
            words.prove.push("Airflow read with the collar gripping; a little leaks along the hose's spiral");
            words.owner.push("Draw out as much hose as you need and set the collar; it holds at any length.");
        }
        _ => {
            words
                .trim
                .push("Cuff locks at full length; the part-way holder holds too, though it does not seal");
            words.prove.push("Airflow read at full length, where the cuff seals");
            words.owner.push("Draw the hose out to its full length until its end locks. The holder for part-way keeps the hose from slipping but does not seal, so suction is less there.");
        }
    }
}

/// What switches the system.
fn switch(duty: Duty, words: &mut ValveWords) {
    match duty {
        Duty::Door => {
            words.rough_in.push("Control wire left at the door's hinge side, 8 in free, end marked");
            words.trim.push("Door opened: system starts; door shut: system stops");
            words.owner.push("The system starts when you open the door and stops when you shut it.");
        }
        Duty::Cuff => {
            words.rough_in.push("Control wire left at the seat of the hose end, 8 in free, end marked");
            words.trim.push(
                "Hose end lifted: system starts; hose home: its end pushes the switch and the system stops",
            );
            words.owner.push("The system starts when the hose end leaves its seat and stops by itself when the hose is home.");
        }
        _ => {
            words.rough_in.push("Control wire left beside the tab, 8 in free, end marked");
            words.trim.push("Tab drawn out with the hose: system starts; door shut on the tab: system stops");
            words.owner.push("The system starts when the tab comes out with the hose and stops when the door pushes it in.");
        }
    }
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;

    /// A valve of the given duties.
    pub(crate) fn valve(seal: Duty, hold: Duty, switch: Duty, rough_in: RoughIn) -> Valve {
        Valve {
            id: "v".into(),
            name: "Valve".into(),
            seal,
            hold,
            switch,
            rough_in,
            depth_m: 0.0889,
            socket_m: Some(0.0286),
            leak_m3_s: None,
            leak_at_pa: 25_000.0,
            box_m: None,
        }
    }

    #[test]
    fn a_door_that_seals_wants_an_airtight_box() {
        let words = words(&valve(Duty::Door, Duty::Anywhere, Duty::Door, RoughIn::Frame));
        assert!(words.rough_in.iter().any(|line| line.contains("airtight")));
        assert!(words.trim.iter().any(|line| line.contains("Gasket")));
        assert!(words.owner.iter().any(|line| line.contains("any length")));
    }

    #[test]
    fn a_cuff_that_seals_has_no_gasket_and_a_door_that_only_covers() {
        let words = words(&valve(Duty::Cuff, Duty::FullLength, Duty::Cuff, RoughIn::Box));
        let all = [words.rough_in, words.trim, words.prove, words.owner].concat().join(" ");
        assert!(!all.contains("asket"));
        assert!(all.contains("only a cover"));
        assert!(all.contains("does not seal"));
    }

    #[test]
    fn every_valve_says_that_the_system_runs_while_the_hose_is_drawn_in() {
        for switch in [Duty::Door, Duty::Cuff, Duty::Tab] {
            let words = words(&valve(Duty::Door, Duty::Anywhere, switch, RoughIn::Frame));
            assert!(words.trim.iter().any(|line| line.contains("while the hose is drawn in")));
        }
    }
}
