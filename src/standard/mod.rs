//! The clauses: one file each, an ordered list of them, and what they find.
//!
//! A clause measures; the firm's standard (data) says the limit, the words and whether it is a *must*.
mod by_eye;
mod clause;
mod clauses;
mod finding;
mod idle;
mod inspect;
mod mend;
mod need;
pub mod sources;
mod verdict;

pub use by_eye::{lines, lines_of_job, lines_per_joint};
pub use clause::{
    Ask, AskFigures, AskInlet, AskKept, AskLine, Check, Clause, Judged, Limit, Outcome, Parameter, Pictured,
    Seen,
};
pub use clauses::{
    CLAUSES, clause, hose_allowance, kinds, least_between_bends, level_tolerance, misclosure_tolerance,
    never_let_go, required,
};
pub use finding::{Finding, Findings, Of, Quantity, Spot, by_clause, met};
pub use inspect::{
    Given, Told, inspect, inspect_laid, inspect_line, inspect_reckoned, stands_laid, stands_reckoned, told,
};
pub use mend::Mend;
pub use need::Need;
pub use verdict::{Standing, Verdict};
