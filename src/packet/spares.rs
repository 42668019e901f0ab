//! What goes on the truck beyond what the drawings ask for, by the firm's own rule.
use super::worked::Worked;
use crate::company::{FittingKind, Spare, SpareOf, SparePer};
use crate::material::list::Item;

/// The spares of a job.
pub struct Spares {
    /// Of parts that the job uses: name, kind and how many.
    used: Vec<(String, String, u32)>,
    /// Of parts that it does not use: name, kind and how many.
    pub unused: Vec<(String, &'static str, u32)>,
}

impl Spares {
    /// Every spare that the firm's file asks for.
    pub fn of(worked: &Worked) -> Spares {
        let (items, firm) = (&worked.work.items, worked.firm);
        let used = items.iter().map(|item| {
            let own = firm.spares.iter().filter(|spare| concerns(worked, spare, item));
            let count = own.map(|spare| taken(worked, spare, item.count)).sum();
            (item.part.clone(), item.kind.clone(), count)
        });
        let unused = firm.spares.iter().filter_map(|spare| {
            let (name, kind) = part(worked, spare)?;
            let count = taken(worked, spare, 0.0);
            let known = items.iter().any(|item| item.part == name);
            (!known && count > 0).then_some((name, kind, count))
        });
        Spares { used: used.collect(), unused: unused.collect() }
    }

    /// How many spares of an item go along.
    pub fn count(&self, item: &Item) -> u32 {
        let own = self.used.iter().find(|(part, kind, _)| *part == item.part && *kind == item.kind);
        own.map_or(0, |(.., count)| *count)
    }
}

/// Whether a rule speaks of an item.
fn concerns(worked: &Worked, spare: &Spare, item: &Item) -> bool {
    match &spare.of {
        SpareOf::Part(_) => part(worked, spare).is_some_and(|(name, _)| name == item.part),
        // A stick is listed as the tube that it is.
        SpareOf::Kind("stick") => item.kind == "tube",
        SpareOf::Kind(kind) => item.kind == *kind,
    }
}

/// Name and kind of the fitting that a rule names by its id; `None` for a rule of a whole kind.
fn part(worked: &Worked, spare: &Spare) -> Option<(String, &'static str)> {
    let SpareOf::Part(id) = &spare.of else { return None };
    let fitting = worked.work.catalog.fittings.iter().find(|fitting| fitting.id == *id)?;
    let kind = match fitting.kind {
        FittingKind::Bend(_) => "bend",
        FittingKind::Coupling(_) => "coupling",
        FittingKind::Stop(_) => "stop",
        FittingKind::Junction(_) => "junction",
        FittingKind::Cap => "cap",
        FittingKind::Reducer(_) => "reducer",
    };
    Some((fitting.name.clone(), kind))
}

/// How many a rule asks for where the job uses `used` of the part.
fn taken(worked: &Worked, spare: &Spare, used: f64) -> u32 {
    let lines = &worked.work.lines;
    spare.count
        * match spare.per {
            SparePer::Job => 1,
            SparePer::Inlet => worked.work.job.inlets.len() as u32,
            SparePer::Trunk => lines.of_trunks().len() as u32,
            SparePer::Ten => (used / 10.0).ceil() as u32,
        }
}

#[cfg(test)]
mod tests {
    use super::super::fixture::gull_cottage;
    use super::*;

    #[test]
    fn spares_are_counted_by_job_by_inlet_and_by_tens_begun() {
        let mut fixture = gull_cottage();
        let rule = |kind, per, count| Spare { of: SpareOf::Kind(kind), per, count };
        fixture.firm.spares = vec![
            rule("bend", SparePer::Job, 1),
            rule("coupling", SparePer::Ten, 2),
            rule("stick", SparePer::Inlet, 1),
        ];
        let work = fixture.work();
        let worked = fixture.worked(&work);
        let spares = Spares::of(&worked);
        let of = |kind: &str| -> Vec<(f64, u32)> {
            let items = work.items.iter().filter(|item| item.kind == kind);
            items.map(|item| (item.count, spares.count(item))).collect()
        };
        assert!(of("bend").iter().all(|(_, spare)| *spare == 1));
        assert!(of("coupling").iter().all(|(used, spare)| *spare == 2 * (used / 10.0).ceil() as u32));
        assert_eq!(of("tube").first().map(|(_, spare)| *spare), Some(2));
        assert!(of("valve").iter().all(|(_, spare)| *spare == 0));
    }
}
