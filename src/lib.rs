//! Longsweep: from a firm's plain files to a set of sheets.
//!
//! The crate is a chain of plain data, one type per stage, each arrow one pure function:
//!
//! ```text
//! text ──company──▶ Job ──route──▶ JobLines ──figures──▶ Figures ──takeoff──▶ Cuts ──standard──▶ Findings
//!      ──remedy──▶ Offers ──draw──▶ SVG ──packet──▶ sheets ──site──▶ site/
//! ```
//!
//! A module knows only the modules above it in the list below. Only [`company::load`] reads the disk and
//! only [`site`] writes it; [`cli`] is the shell around them.
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
pub mod remedy;
pub mod work;
pub mod draw;
pub mod lesson;
pub mod packet;
pub mod site;
pub mod cli;
