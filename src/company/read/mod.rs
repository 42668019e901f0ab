//! From trees to resolved types: one file for each kind of file a company keeps.
mod bounds;
mod catalog;
mod crossing;
mod firm;
mod fitting;
mod frame;
mod job;
mod join;
pub mod keys;
mod kit;
mod lesson;
mod mark;
mod part;
mod path;
mod plan;
mod standard;
mod waiver;
mod words;

pub use bounds::DRAWINGS;
pub use catalog::read_catalog;
pub use firm::read_firm;
pub use job::{JOB_ENDINGS, job_key, read_job};
pub use kit::{Fields, Reader, cut_words};
pub use lesson::{LessonFork, LessonPath, LessonTree, Shown, read_path, read_practice, read_tree};
pub use plan::{ENDING as PLAN_ENDING, LessonPlan, read_plan};
pub use standard::{ClauseKind, FAILS_AT, read_standards, settle_terms};
pub use words::read_words;
