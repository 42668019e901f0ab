//! Longsweep: from a firm's plain files to a set of sheets.
//!
//! The crate is a chain of plain data, one type per stage, each arrow one pure function. A module
//! knows only the modules above it in this list; only [`company`] (reading) and [`site`] (writing)
//! touch the disk, and [`cli`] the terminal.
pub mod cli;
pub mod company;
pub mod draw;
pub mod figures;
pub mod lesson;
pub mod material;
pub mod measure;
pub mod packet;
pub mod reckon;
pub mod remedy;
pub mod route;
pub mod site;
pub mod standard;
