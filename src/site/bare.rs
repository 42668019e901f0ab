//! A raceway without a house round it, as a job: what lessons and the printed standard draw.
use crate::company::{Job, LessonPath, LineSpec, Readings, Standard, UnitPart, UnitPlace};

/// The path as a job of one inlet of that id, on a unit of the catalog.
pub fn bare_job(path: LessonPath, unit: &UnitPart, standard: &Standard, id: &str) -> Job {
    let mut inlet = path.inlet;
    inlet.id = id.to_owned();
    inlet.readings = Readings::default();
    Job {
        key: "lesson".into(),
        title: inlet.name.clone(),
        address: String::new(),
        date: standard.effective,
        built: None,
        standard: standard.revision.clone(),
        levels: Vec::new(),
        datums: Vec::new(),
        unit: UnitPlace {
            model: unit.clone(),
            at: None,
            own_circuit: None,
            place: crate::text::Place::default(),
        },
        lines: vec![LineSpec { id: inlet.id.clone(), ..path.line }],
        inlets: vec![inlet],
        cleared: Vec::new(),
        warnings: Vec::new(),
        plan: None,
    }
}
