//! The hose as it moves: what suction draws it in with, what holds it back, what a hand pulls it out with.
//!
//! The raceway is a [`Path`] of straights and arcs in space, from the valve to the stop. The hose is a heavy
//! line without stiffness, drawn in to a length *inserted*, measured along the centreline from the valve; its
//! handle is covered. Air leaks in past it, and what suction there is is *spent* in the valve, along the hose
//! and round its tail ([`leak`]). Each part pulls at another place, so each has another effect:
//!
//! ```text
//! N(0-) = mu_floor w (L - x)                              what still lies on the floor drags behind
//! N(0+) = N(0-) - A dp1                                   the valve's share, on the outside area A
//! dN/ds = mu |N k n + w g| + w t_z - A dp2 / x            friction and weight against the share along the hose
//! N(x)  = A_t dp3                                         the tail's share, on the area of the hose's end
//! ```
//!
//! `N` is the effective tension of [`balance`]. The *suction needed* ([`Setting::at`]) is the one at which this
//! holds with the shares of the real leak; *reserve* is suction had over suction needed, the least of the
//! travel. It counts from the very start: the limit for a tail that has just come in.
//!
//! **Left out**, and which way it errs: the drag of the leaking air on the hose's skin (some 7 % of the share
//! along the hose: on the safe side); the hose's stiffness and set (unsafe, and what a reserve is for); lock-up
//! of a pushed hose, which `lock_up` tells where the stiffness is known; all but slow motion.
//!
//! Friction of a sock on tube is not published, so a result is as good as the measured coefficient.

pub mod balance;
mod bound;
mod draw_in;
mod least;
pub mod leak;
mod lock_up;
mod path;
mod pull_out;

#[cfg(test)]
mod balance_tests;
#[cfg(test)]
mod bound_tests;
#[cfg(test)]
mod tests;

pub use bound::{Bounds, PullBounds};
pub use draw_in::{At, Looks, Setting, Spending};
pub use leak::{EmptyLine, Gaps, Supply};
pub use lock_up::{LockUp, lock_up_n};
pub use path::{Path, Piece};
pub use pull_out::{Pull, pull_out, pull_out_running, pull_wholly_in};

use super::range::{OutOfRange, in_range};
use crate::measure::{Si, Units};
use std::f64::consts::PI;
use std::fmt;

/// What of a hose matters for its motion.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hose {
    /// Whole length, 0.1 to 100 m.
    pub length_m: f64,
    /// Outside diameter, 0.005 to 0.5 m.
    pub outside_m: f64,
    /// Weight for each metre, 0 to 100 N/m.
    pub weight_n_per_m: f64,
    /// Friction on the raceway while it is drawn in, 0 to 2.
    pub mu_in: f64,
    /// Friction on the raceway while it is pulled out, 0 to 2.
    pub mu_out: f64,
    /// Friction on the floor, 0 to 2.
    pub mu_floor: f64,
}

impl Hose {
    /// Area on which the shares in the valve and along the hose act, m².
    pub fn area_m2(&self) -> f64 {
        PI / 4.0 * self.outside_m * self.outside_m
    }

    /// Errors: [`OutOfRange`] for the first figure outside its range.
    pub fn check(&self) -> Result<(), OutOfRange> {
        in_range("length of the hose", self.length_m, (0.1, 100.0), "m")?;
        in_range("outside diameter of the hose", self.outside_m, (0.005, 0.5), "m")?;
        in_range("weight of the hose", self.weight_n_per_m, (0.0, 100.0), "N/m")?;
        in_range("friction of the hose drawn in", self.mu_in, (0.0, 2.0), "")?;
        in_range("friction of the hose pulled out", self.mu_out, (0.0, 2.0), "")?;
        in_range("friction of the hose on the floor", self.mu_floor, (0.0, 2.0), "")?;
        Ok(())
    }
}

/// Why nothing can be said of a hose's motion.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum HoseError {
    /// An input outside its range, a diameter that does not fit, or a choked ring.
    Range(OutOfRange),
    /// Valve and tail both closed: no air moves, and nothing tells where the suction stands.
    BothClosed,
    /// So much leaks past the hose that the unit's curve does not reach there.
    BeyondCurve { widest_m3_s: f64 },
}

impl From<OutOfRange> for HoseError {
    fn from(error: OutOfRange) -> Self {
        HoseError::Range(error)
    }
}

impl HoseError {
    /// The sentence in the units of its reader.
    pub fn said(&self, units: &dyn Units) -> String {
        match self {
            HoseError::Range(error) => error.said(units),
            HoseError::BothClosed => "the valve's opening closes on the hose and the hose's tail closes the tube, so that nothing tells where the suction stands".to_owned(),
            HoseError::BeyondCurve { widest_m3_s } => format!(
                "the leak past the hose lies beyond the last point of the unit's suction curve, {}",
                units.figure(*widest_m3_s, "m3/s")
            ),
        }
    }
}

impl fmt::Display for HoseError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.said(&Si))
    }
}

impl std::error::Error for HoseError {}
