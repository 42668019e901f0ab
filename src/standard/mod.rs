//! The clauses: one file each, an ordered list of them, and what they find.
//!
//! A clause measures; the firm's standard (data) says the limit, the words and whether it is a *must*.
mod finding;

pub use finding::{Finding, Findings, Quantity, Spot, Verdict};
