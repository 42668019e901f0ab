//! The clauses: one file each, an ordered list of them, and what they find.
//!
//! A clause measures; the firm's standard (data) says the limit, the words and whether it is a *must*.
mod by_eye;
mod clause;
mod clauses;
mod finding;
mod inspect;

pub use by_eye::{lines, lines_per_joint};
pub use clause::{Ask, Check, Clause, Measured, Outcome, Parameter};
pub use clauses::{CLAUSES, clause, kinds};
pub use finding::{Finding, Findings, Quantity, Spot, Verdict};
pub use inspect::{inspect, inspect_inlet};
