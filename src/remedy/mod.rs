//! Ways out of a broken clause, tried before they are offered.
//!
//! For each broken clause, candidate changes are made on the line that breaks it, an inlet's or a trunk's, and
//! the job is laid and inspected again by the whole standard. Only a change, or two where no single one serves,
//! that mends the clause and makes nothing else worse, on that line and on all whose air goes through it, is
//! offered, the smallest first. A crew may build by an offer; a guess is never one.
mod candidates;
mod change;
mod prove;
mod shape;
mod trial;

pub use prove::{Offer, Offers, offers};
