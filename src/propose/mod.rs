//! Routes proposed over the house plan, for one inlet or for all of a job on a trunk: searched on lanes, then laid,
//! figured and inspected by the same engine as a job; only those that the standard passes are offered.
//!
//! ```text
//! Lanes (where tube may run) ──bound──▶ longest hose path by degrees ──search──▶ Found ──build──▶ LineSpec
//!     ──judge──▶ Proposal        Lanes, Found of all ──net, steiner──▶ Tree ──grow──▶ lines ──judge──▶ Together
//! ```
mod bound;
mod build;
pub mod crossings;
mod field;
mod grow;
mod inlet;
mod judge;
mod lanes;
mod net;
mod onward;
mod parts;
mod search;
pub mod steiner;
#[cfg(test)]
mod testing;
mod together;
mod words;
pub mod write;

use crate::company::{Catalog, Job, LineSpec, Standard};
use crate::measure::{INCH_M, Say};
use crate::plan::P2;
use crate::route::Line;
use crate::standard::{Finding, Verdict};
use glam::DVec3;
pub use judge::Against;
pub use together::{Shared, Together};
pub use words::{against_words, bound_words, line_words, unchecked_words};

/// The most degrees on the level that are looked at: with the riser's bend what conduit may have between pull
/// points (NFPA 70, 358.26).
const MOST_DEG: f64 = 270.0;
/// How far from its place along the wall a valve is tried, within one bay of studs, in these steps.
const BAY_M: f64 = 8.0 * INCH_M;
const SHIFT_M: f64 = 2.0 * INCH_M;
/// Routes inspected for one inlet, and offered.
const MOST_TRIED: usize = 90;
pub const OFFERED: usize = 5;
/// Two routes that share so much of their tube are one.
const ALIKE: f64 = 0.7;

/// A route that was inspected.
#[derive(Debug, Clone)]
pub struct Proposal {
    pub spec: LineSpec,
    pub line: Line,
    pub findings: Vec<Finding>,
    /// The worst of its findings, as an inlet is stamped; never one that stops.
    pub verdict: Verdict,
    /// Of all bends before the stop, the riser's among them.
    pub degrees: f64,
    pub bores: usize,
    pub onward_m: f64,
    /// How far the valve is moved along its wall.
    pub moved: P2,
}

/// What came of the search for one inlet.
#[derive(Debug, Clone)]
pub struct Proposals {
    pub inlet: usize,
    /// The longest hose path for each bend total, in degrees, and what is needed; on the lanes only.
    pub bounds: Vec<(f64, f64)>,
    pub need_m: f64,
    /// The best first.
    pub offers: Vec<Proposal>,
    pub tried: usize,
    /// What stood in the way of those tried and not offered.
    pub against: Against,
}

/// What all searches of a job share.
pub struct Proposer<'a> {
    pub job: &'a Job,
    pub standard: &'a Standard,
    pub catalog: &'a Catalog,
    pub say: Say,
}

/// The best verdict first, then the fewest degrees, the fewest bores, the shortest way on, the least tube.
fn order(a: &Proposal, b: &Proposal) -> std::cmp::Ordering {
    let key = |p: &Proposal| (p.verdict, p.degrees as u32, p.bores);
    key(a)
        .cmp(&key(b))
        .then_with(|| a.onward_m.total_cmp(&b.onward_m))
        .then_with(|| a.line.centre_m.total_cmp(&b.line.centre_m))
}

/// Whether most of a line lies along another.
fn alike(a: &Line, b: &Line) -> bool {
    shared(std::slice::from_ref(a), std::slice::from_ref(b)) >= ALIKE
}

/// How much of the tube of some lines lies along that of others, from 0 to 1.
fn shared(a: &[Line], b: &[Line]) -> f64 {
    const EVERY_M: f64 = 0.15;
    const NEAR_M: f64 = 0.08;
    let near = |p: DVec3| {
        a.iter().flat_map(|line| &line.legs).any(|leg| {
            let t = (p - leg.from).dot(leg.heading).clamp(0.0, leg.length_m);
            p.distance(leg.from + leg.heading * t) < NEAR_M
        })
    };
    let points = b.iter().flat_map(|line| {
        let count = (line.centre_m / EVERY_M).ceil().max(1.0) as usize;
        (0..count).filter_map(|k| line.point_at(k as f64 * EVERY_M))
    });
    let (all, along) = points.fold((0_u32, 0_u32), |(all, along), p| (all + 1, along + u32::from(near(p))));
    if all == 0 { 0.0 } else { f64::from(along) / f64::from(all) }
}
