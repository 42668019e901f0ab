//! Longsweep: from a firm's plain files to a set of sheets.
//!
//! The crate is a chain of plain data, one type per stage, each arrow one pure function:
//!
//! ```text
//! text ──company──▶ Job ──route──▶ JobLines ──figures──▶ Figures ──takeoff──▶ Cuts ──standard──▶ Findings
//!      ──remedy──▶ Offers ──draw──▶ SVG ──packet──▶ sheets ──site──▶ site/
//! ```
//!
//! A module knows only the modules above it in the list below. All between `company` and `site` is pure: what a
//! firm wrote is read by `company::{disk, listing, pictures}`, the set is read back and written by
//! `site::write`, and [`cli`], the shell around them, reads the theme, takes fingerprints of the sources, and
//! reads and writes the single files that a command names.
pub mod text;
pub mod measure;
pub mod plan;
pub mod reckon;
pub mod company;
pub mod route;
pub mod figures;
pub mod material;
pub mod takeoff;
pub mod standard;
pub(crate) mod remedy;
pub mod work;
pub mod propose;
pub mod draw;
pub mod lesson;
pub mod schema;
pub mod packet;
pub(crate) mod site;
pub mod cli;
