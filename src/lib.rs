//! Longsweep: from a firm's plain files to a set of sheets.
//!
//! The crate is a chain of plain data, one type per stage, each arrow one pure function:
//!
//! ```text
//! text ──company──▶ Job ──route──▶ JobLines ──figures──▶ Figures ──takeoff──▶ Cuts ──standard──▶ Findings
//!      ──remedy──▶ Offers ──draw──▶ SVG ──packet──▶ sheets ──site──▶ site/
//! ```
//!
//! A module knows only the modules above it in the list below. Sources are read by [`company::load`] alone
//! and the site is written by `site::write` alone; [`cli`], the shell around them, reads the theme and
//! writes the drawings that are asked for.
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
