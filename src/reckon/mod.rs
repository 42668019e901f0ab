//! The physics of the job: one formula, one function, with plain numbers in and out.
//!
//! Nothing here knows a job, a catalog or a clause, reads a file or prints. A length is a plain
//! `f64` with its unit in its name; only [`air`] takes its inputs as unit types, because its figures
//! reach it from tables in mixed units.
//!
//! | module | question it answers |
//! |---|---|
//! | [`hose`] | what suction draws the hose in with, where it is spent, what force pulls the hose out |
//! | [`air`] | how much air flows through hose, raceway and trunk, and with what suction |
//! | [`passage`] | how long a rigid object gets round a bend |
//! | [`bores`] | what a hole does to a stud, joist, rafter or plate by the residential code |
//! | [`cement`] | how long a cemented joint is left alone |
//! | [`tube`] | how far the tube grows with heat, and how often it is strapped |
//! | [`wire`] | wire sizes, resistance, voltage drop, share of a breaker |
//!
//! An input outside a formula's range is refused as [`OutOfRange`], never clamped.

pub mod air;
pub mod bores;
pub mod cement;
pub mod hose;
pub mod passage;
pub mod tube;
pub mod wire;

#[cfg(test)]
mod check;
mod range;
mod root;

pub use range::OutOfRange;
