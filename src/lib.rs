//! Longsweep: from a firm's plain files to a set of sheets.
//!
//! The crate is a chain of plain data, one type per stage, each arrow one pure function. A module
//! knows only the modules above it in this list; only [`company`] (reading) and [`site`] (writing)
//! touch the disk, and [`cli`] the terminal.
pub mod measure;
pub mod company;
pub mod route;
pub mod reckon;
pub mod standard;
pub mod remedy;
pub mod material;
pub mod draw;
pub mod lesson;
pub mod packet;
pub mod site;
pub mod cli;
