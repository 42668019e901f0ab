//! Effective tension along a hose that creeps: what each straight and each arc adds to it.
//!
//! The *effective tension* `N = T - p_in A_in + p_out A_out` fixes how hard the hose bears on the tube in a
//! bend; the wall's own tension `T` does not. It may be negative: such a hose is pushed.
//!
//! Sources: C. P. Sparks, "The influence of tension, pressure and weight on pipe and riser deformations and
//! stresses", 1984 (from memory), for the effective tension; C. A. Johancsik, D. B. Friesen and R. Dawson,
//! "Torque and drag in directional wells", J. Petroleum Technology, June 1984 (from memory), for the soft
//! string, here with vectors so that every plane and both signs of N come out.

use super::path::{Path, Piece};
use glam::DVec3;
use std::f64::consts::FRAC_PI_2;

/// What acts on every metre of a hose in the tube, the same all along it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Along {
    /// Weight, N/m.
    pub weight_n_per_m: f64,
    /// Friction on the tube.
    pub mu: f64,
    /// What the air along the hose takes off the tension on the way to the tail, `A dp2 / x`, N/m.
    pub air_n_per_m: f64,
}

/// Steps in a quarter turn: with fourth order the result is good to 1e-4 of the force, the corner in
/// `|N + W R cos|` of an upright bend included, and to 1e-6 in a level one.
const STEPS_IN_A_QUARTER: f64 = 6.0;

/// Effective tension at the tail, `inserted_m` from the valve, of a hose that creeps in.
///
/// `dN/ds = mu |N k n + w g| + w t_z - A dp2 / x`, from the tension just behind the valve, `start_n`; `k n` is
/// the curvature vector, `g` the part of the unit vector down that is square to the tangent `t`. Exact on a
/// straight, where nothing bends: `N + L (mu w |g| + w t_z - A dp2 / x)`.
///
/// Arguments: the path; `inserted_m` (m, 0 to the path's length); `start_n` (N, either sign); [`Along`].
/// Result in N. The callers have checked the ranges.
///
/// Assumptions: no stiffness, no set, slow motion, the hose on the tube's wall all along.
pub fn drawn_in(path: &Path, inserted_m: f64, start_n: f64, along: &Along) -> f64 {
    let onward = Way { along, sign: 1.0 };
    path.filled(inserted_m).fold(start_n, |n, (piece, length_m)| onward.through(piece, length_m, n))
}

/// Effective tension just behind the valve of the same hose, from that at its tail: [`drawn_in`] walked back.
pub fn drawn_in_from_tail(path: &Path, inserted_m: f64, tail_n: f64, along: &Along) -> f64 {
    let back = Along { mu: -along.mu, ..*along };
    Way { along: &back, sign: -1.0 }.back_from(path, inserted_m, tail_n)
}

/// Effective tension just behind the valve of a hose that creeps out, from that at its tail.
///
/// The same balance with the motion turned round: walking from the tail to the valve, friction adds.
pub fn drawn_out(path: &Path, inserted_m: f64, tail_n: f64, along: &Along) -> f64 {
    Way { along, sign: -1.0 }.back_from(path, inserted_m, tail_n)
}

/// What a stretch of hose without tension at its end has gained at its beginning, drawn out as by
/// [`drawn_out`]; below 0 where it slides out by itself.
pub(super) fn gained_out(path: &Path, from_m: f64, to_m: f64, along: &Along) -> f64 {
    let way = Way { along, sign: -1.0 };
    let pieces = path.between(from_m, to_m).rev();
    pieces.fold(0.0, |n, (piece, from_m, to_m)| way.back_through(piece, (from_m, to_m), n))
}

/// The greatest tension of [`drawn_in`] at a tail anywhere between two stations, or a little more.
pub(super) fn most_drawn_in(path: &Path, (from_m, to_m): (f64, f64), start_n: f64, along: &Along) -> f64 {
    let onward = Way { along, sign: 1.0 };
    let (mut at_m, mut n) = (0.0, start_n);
    let mut most = if from_m > 0.0 { f64::NEG_INFINITY } else { start_n };
    for (piece, length_m) in path.filled(to_m) {
        let (start_m, before) = (at_m, n);
        n = onward.through(piece, length_m, n);
        at_m += length_m;
        if at_m >= from_m {
            let first =
                if start_m < from_m { onward.through(piece, from_m - start_m, before) } else { before };
            most = most.max(first.max(n) + swell_n(piece, along));
        }
    }
    most
}

/// The greatest tension behind the valve of [`drawn_out`] with a tail anywhere between two stations, or a little more.
///
/// The greater of two tensions at a place is the greater one all the way to the valve. So one walk serves: at the end
/// of each piece it goes on with the tail's tension where that is more, as if the hose ended there. A tail inside a
/// bend may start above the walk by what the walk has [fallen](fall_n) to there, and ends above it by no more than
/// `e^(mu angle)` times that.
pub(super) fn most_drawn_out(path: &Path, (from_m, to_m): (f64, f64), tail_n: f64, along: &Along) -> f64 {
    let way = Way { along, sign: -1.0 };
    let beyond = path.between(from_m, to_m).rev().fold(tail_n, |n, (piece, from_m, to_m)| {
        let more_n = match piece {
            Piece::Arc { angle_rad, .. } => fall_n(piece, along) * (along.mu * angle_rad).exp(),
            Piece::Straight { .. } => 0.0,
        };
        way.back_through(piece, (from_m, to_m), n).max(tail_n) + more_n
    });
    way.back_from(path, from_m, beyond)
}

/// By how much the tension surely falls no more inside a bend on the way to the valve: there only the hose's weight
/// takes from it, where the bend climbs toward the tail.
fn fall_n(piece: &Piece, along: &Along) -> f64 {
    match piece {
        Piece::Arc { radius_m, angle_rad, along: tangent, toward } => {
            // The tangent is somewhere between these two, square to each other, and no steeper than both together.
            let steepest = tangent.z.hypot(toward.z).min(1.0);
            radius_m * angle_rad * (along.weight_n_per_m * steepest - along.air_n_per_m).max(0.0)
        }
        Piece::Straight { .. } => 0.0,
    }
}

/// By how much the tension inside a bend may be more than at both its ends: nothing in a level one, where it grows
/// faster and faster; in an upright one its growth changes by no more than `W R` a radian.
fn swell_n(piece: &Piece, along: &Along) -> f64 {
    match piece {
        Piece::Arc { radius_m, angle_rad, along: tangent, toward }
            if tangent.cross(*toward).z.abs() < 0.999 =>
        {
            radius_m * along.weight_n_per_m * (angle_rad * angle_rad / 4.0).min(1.0)
        }
        Piece::Straight { .. } | Piece::Arc { .. } => 0.0,
    }
}

/// A walk along the hose: toward the tail (`sign` 1) or toward the valve (-1).
struct Way<'a> {
    along: &'a Along,
    sign: f64,
}

impl Way<'_> {
    fn back_from(&self, path: &Path, inserted_m: f64, tail_n: f64) -> f64 {
        let filled = path.filled(inserted_m).rev();
        filled.fold(tail_n, |n, (piece, length_m)| self.through(piece, length_m, n))
    }

    /// Tension, going back, at the beginning of a part of a piece, told by how far into it that begins and ends.
    fn back_through(&self, piece: &Piece, (from_m, to_m): (f64, f64), n: f64) -> f64 {
        match *piece {
            Piece::Straight { along, .. } => n + (to_m - from_m) * self.on_a_straight(along),
            Piece::Arc { radius_m, along, toward, .. } => {
                let bend = Bend::new(along, toward, radius_m);
                let start = bend.start.turned((from_m / radius_m).sin_cos());
                self.round_an_arc(&Bend { start, ..bend }, (to_m - from_m) / radius_m, n)
            }
        }
    }

    /// Tension after the first `length_m` of a piece, or, going back, before them.
    fn through(&self, piece: &Piece, length_m: f64, n: f64) -> f64 {
        match *piece {
            Piece::Straight { along, .. } => n + length_m * self.on_a_straight(along),
            Piece::Arc { radius_m, along, toward, .. } => {
                self.round_an_arc(&Bend::new(along, toward, radius_m), length_m / radius_m, n)
            }
        }
    }

    fn on_a_straight(&self, tangent: DVec3) -> f64 {
        let Along { weight_n_per_m: w, mu, air_n_per_m } = *self.along;
        let flat = (1.0 - tangent.z * tangent.z).max(0.0).sqrt();
        mu * w * flat + self.sign * (w * tangent.z - air_n_per_m)
    }

    /// Fourth-order Runge–Kutta over the angle. No step is longer than `1/mu`: a longer one would go over a corner of
    /// `|N|` from a push to a pull.
    fn round_an_arc(&self, bend: &Bend, angle_rad: f64, n: f64) -> f64 {
        let steep = STEPS_IN_A_QUARTER.max(self.along.mu.abs() * FRAC_PI_2);
        let steps = (angle_rad / FRAC_PI_2 * steep).ceil().max(1.0);
        let h = angle_rad / steps;
        // In a level bend nothing turns to the plumb line.
        let sin_cos = |angle_rad: f64| if bend.is_level() { (0.0, 1.0) } else { angle_rad.sin_cos() };
        let half_turn = sin_cos(0.5 * self.sign * h);
        let mut here = if self.sign > 0.0 { bend.start } else { bend.start.turned(sin_cos(angle_rad)) };
        let mut n = n;
        for _ in 0..steps as usize {
            let middle = here.turned(half_turn);
            let end = middle.turned(half_turn);
            let k1 = self.in_an_arc(bend, &here, n);
            let k2 = self.in_an_arc(bend, &middle, n + 0.5 * h * k1);
            let k3 = self.in_an_arc(bend, &middle, n + 0.5 * h * k2);
            let k4 = self.in_an_arc(bend, &end, n + h * k3);
            n += h / 6.0 * (k1 + 2.0 * k2 + 2.0 * k3 + k4);
            here = end;
        }
        n
    }

    /// Growth for each radian: `mu |N n + W R g| + R (w t_z - A dp2 / x)`.
    fn in_an_arc(&self, bend: &Bend, here: &Here, n: f64) -> f64 {
        let Along { weight_n_per_m: w, mu, air_n_per_m } = *self.along;
        let wr = w * bend.radius_m;
        let (inward, across) = (n - wr * here.inward_rise, wr * bend.down_across);
        let press = (inward * inward + across * across).sqrt();
        mu * press + self.sign * bend.radius_m * (w * here.rise - air_n_per_m)
    }
}

/// How a bend lies to the plumb line.
struct Bend {
    radius_m: f64,
    start: Here,
    /// How much of the unit vector down is square to the bend's plane.
    down_across: f64,
}

/// Rise of the tangent, and of the pointer to the centre, at an angle into a bend.
#[derive(Clone, Copy)]
struct Here {
    rise: f64,
    inward_rise: f64,
}

impl Here {
    /// Farther on by an angle, given as its sine and cosine.
    fn turned(self, (sin, cos): (f64, f64)) -> Here {
        let Here { rise, inward_rise } = self;
        Here { rise: cos * rise + sin * inward_rise, inward_rise: cos * inward_rise - sin * rise }
    }
}

impl Bend {
    fn new(along: DVec3, toward: DVec3, radius_m: f64) -> Bend {
        let start = Here { rise: along.z, inward_rise: toward.z };
        Bend { radius_m, start, down_across: -along.cross(toward).z }
    }

    fn is_level(&self) -> bool {
        (self.start.rise, self.start.inward_rise) == (0.0, 0.0)
    }
}
