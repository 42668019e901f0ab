//! How much of a kind one file may hold: far past any house's, and so little that a job is inspected in a second.
use super::kit::Reader;
use crate::text::{Node, Value};

/// The most of a kind that is read, in the words of a message about more.
pub struct Bound {
    pub most: usize,
    /// `the path`
    whole: &'static str,
    /// `runs and turns`
    parts: &'static str,
    /// What helps.
    help: &'static str,
}

/// Six times the bends of the worst house, and few enough to be drawn on a sheet.
pub const STEPS: Bound = Bound {
    most: 120,
    whole: "the path",
    parts: "runs and turns",
    help: "look for lines that were pasted twice, or end the path at a trunk",
};

/// A school has thirty. Each is held against every other.
pub const INLETS: Bound = Bound {
    most: 50,
    whole: "the job",
    parts: "inlets",
    help: "look for lines that were pasted twice, or make two jobs of it",
};

/// Twelve for each of fifty inlets: their tubes are cut from one pile of sticks, and that plan is sought for all at once.
pub const STEPS_OF_JOB: Bound = Bound {
    most: 600,
    whole: "the job",
    parts: "runs and turns on all its paths",
    help: "look for lines that were pasted twice, or make two jobs of it",
};

/// A large hotel floor. Each is held against every other.
pub const ROOMS: Bound = Bound {
    most: 300,
    whole: "the plan",
    parts: "rooms",
    help: "look for lines that were pasted twice, or draw the building as two plans",
};

/// Ten times those of the default's fullest lesson. Each takes 12 kB of a page that a phone holds, and all lessons
/// stand in the course to print.
pub const DRAWINGS: Bound = Bound {
    most: 60,
    whole: "the lesson",
    parts: "drawings",
    help: "look for lines that were pasted twice, or make two lessons of it",
};

impl Bound {
    /// The message about more, and what help there is.
    pub fn past(&self, found: usize) -> (String, &'static str) {
        (self.told(found).0, self.help)
    }

    fn told(&self, found: usize) -> (String, String) {
        let Bound { most, whole, parts, .. } = self;
        (format!("{whole} has {found} {parts}; at most {most}"), format!("the {most} before this are read"))
    }
}

impl Reader<'_> {
    /// The items up to the most that are read; the first past it is told.
    pub fn at_most<'n>(&mut self, items: &'n [Node], bound: &Bound) -> &'n [Node] {
        let Some(past) = items.get(bound.most) else { return items };
        let (message, label) = bound.told(items.len());
        self.fail(self.mark_of(past), message, label).help = Some(bound.help.into());
        &items[..bound.most]
    }
}

/// Tells a job whose paths hold too many steps together, at the inlet or trunk with which it is too many.
pub fn steps_of_job(r: &mut Reader, root: &Node) {
    let list = |node: Option<&'_ Node>| match node.map(|node| &node.value) {
        Some(Value::List(items)) => items.len(),
        _ => 0,
    };
    let of_line = |line: &Node| -> usize {
        let parts = [Some(line), line.get("raceway"), line.get("onward")];
        parts.into_iter().flatten().map(|part| list(part.get("path")).min(STEPS.most)).sum()
    };
    let lines = |key: &str| match root.get(key).map(|node| &node.value) {
        Some(Value::List(lines)) => lines.iter().collect(),
        _ => Vec::new(),
    };
    let lines: Vec<&Node> = [lines("inlets"), lines("trunks")].concat();
    let total: usize = lines.iter().map(|line| of_line(line)).sum();
    let mut so_far = 0;
    let past = lines.into_iter().find(|line| {
        so_far += of_line(line);
        so_far > STEPS_OF_JOB.most
    });
    if let Some(line) = past {
        let (message, _) = STEPS_OF_JOB.told(total);
        r.fail(r.mark_of(line), message, "with this line it is too many").help =
            Some(STEPS_OF_JOB.help.into());
    }
}

#[cfg(test)]
mod tests {
    use super::super::keys::{INLET, JOB, PLAN, RACEWAY, TRUNK, Thing};
    use super::*;

    /// The sheet *Keys* and the schemas are made from the tables, which therefore say each bound.
    #[test]
    fn the_tables_of_keys_say_how_many() {
        let about = |thing: &Thing, name: &str| {
            thing.keys.iter().find(|key| key.name == name).map_or("", |key| key.about).to_owned()
        };
        for (thing, key, bound) in [
            (&JOB, "inlets", &INLETS),
            (&JOB, "inlets", &STEPS_OF_JOB),
            (&RACEWAY, "path", &STEPS),
            (&TRUNK, "path", &STEPS),
            (&PLAN, "rooms", &ROOMS),
        ] {
            let said = about(thing, key);
            assert!(said.contains(&format!("{} {}", bound.most, bound.parts)), "{key}: {said}");
        }
        assert!(INLET.names().contains(&"raceway") && INLET.names().contains(&"onward"));
    }
}
