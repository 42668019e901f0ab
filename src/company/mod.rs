//! What a company folder holds, read and settled: the company, its catalog, its standard, its jobs.
//!
//! Types here are *resolved*: units are SI, parts are found, defaults settled. They cannot hold an
//! unknown part, a length without a unit, or a turn that has no plane.
mod catalog;

mod firm;
mod job;
mod load;
mod read;
mod rules;

pub use catalog::{
    Bend, Branch, Catalog, Coupling, Duty, Fitting, FittingKind, Friction, Hose, Purpose, Reducer, RoughIn,
    StopFitting, Tube, UnitPart, Valve, Wire,
};

pub use firm::{Firm, Paper, Spare, SpareOf, SparePer};
pub use job::{
    Along, Cleared, Crossing, Date, Datum, DatumRuns, Direction, Inlet, Into, Job, Level, Member, Onward,
    Owner, Path, Readings, Run, Step, Trunk, Turn, UnitPlace, Waiver,
};
pub use load::{Loaded, UnreadJob, load};
pub use read::{ClauseKind, LessonPath, Shown, read_catalog, read_firm, read_job, read_path, read_standard};
pub use rules::{ByEye, ClauseText, Computed, Forced, On, Per, Phase, Rule, Standard, StandardPart};
