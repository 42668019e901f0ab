//! What a company folder holds, read and settled: the company, its catalog, its standard, its jobs.
//!
//! Types here are *resolved*: units are SI, parts are found, defaults settled. They cannot hold an
//! unknown part, a length without a unit, or a turn that has no plane.
mod catalog;
mod choose;
mod disk;
mod firm;
mod job;
mod letters;
mod listing;
mod load;
mod pictures;
mod read;
mod rests;
mod rules;
mod words;

pub use catalog::{
    Bend, Branch, Catalog, Coupling, Duty, Fitting, FittingKind, Friction, Hose, Purpose, Reducer, RoughIn,
    StopFitting, Tube, UnitPart, Valve, Wire,
};
pub use choose::{Reach, SAME_ANGLE_DEG};
pub use firm::{Firm, Paper, Spare, SpareOf, SparePer};
pub use job::{
    Cleared, Crossing, Date, Datum, DatumRuns, Direction, FloorPlan, Inlet, Into, Job, Level, LineSpec,
    Member, Owner, Readings, Run, Step, Turn, UnitPlace, Waiver,
};
pub use letters::{Unfit, given_letters, unfit};
pub use listing::JobFile;
pub use load::{Loaded, UnreadJob, load, load_company, load_job, load_named};
pub use pictures::{MOST_PICTURE_BYTES, PICTURE_KINDS, PictureFile, load_pictures};
pub use read::keys;
pub use read::{
    ClauseKind, FAILS_AT, LessonFork, LessonPath, LessonPlan, LessonTree, Shown, read_catalog, read_firm,
    read_job, read_path, read_plan, read_practice, read_standards, read_tree, read_words, settle_terms,
};
pub(crate) use read::{DRAWINGS, Fields, Reader, cut_words};
pub use rests::{FaultyPart, FaultyStandard, Rests};
pub use rules::{
    ByEye, ChangeReason, ClauseText, Computed, Definition, Forced, Meant, On, PRACTICES, Per, Phase,
    Practice, Rule, Standard, StandardPart, TermWritten,
};
pub use words::FirmWord;
