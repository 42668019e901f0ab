//! What a hose surely does in a raceway that differs a little from the one that was reckoned.
//!
//! Where the suction is spent hangs on the gaps and on how much of the hose is in, and next to nothing on the run of
//! the raceway. So it is told once, over cells of the travel, and a changed raceway is walked with what is the
//! worst of each cell: a few walks, and no root, tell of a limit that is far enough off. Nearer to it than the slack
//! here nothing is told.

use super::balance::{Along, most_drawn_in, most_drawn_out};
use super::draw_in::Setting;
use super::{Hose, HoseError, Path};

/// Cells of the travel, and parts of each, which are walked with the same forces.
const CELLS: usize = 10;
const PARTS: usize = 8;
/// Between two places what is spent in valve, ring and tail falls evenly, to within this share of it.
const SLACK: f64 = 0.01;

/// The forces that the suction puts on a hose over its travel.
#[derive(Debug, Clone)]
pub struct Bounds {
    hose: Hose,
    travel_m: f64,
    /// At both ends of each cell.
    at: Vec<Forces>,
}

/// The valve's and the tail's force, N, and the one on each metre, N/m, at one place of the travel.
#[derive(Debug, Clone, Copy)]
struct Forces {
    valve_n: f64,
    air_n_per_m: f64,
    tail_n: f64,
}

impl Forces {
    /// With the hose drawn in to `inserted_m`.
    fn of(setting: &Setting, inserted_m: f64) -> Result<Forces, HoseError> {
        // At the very start the ring along the hose has no length to be spent over.
        let inserted_m = inserted_m.max(1e-4 * setting.travel_m());
        let [valve_n, along_n, tail_n] = setting.pulls_n(&setting.spent(inserted_m)?, 1.0);
        Ok(Forces { valve_n, air_n_per_m: along_n / inserted_m, tail_n })
    }

    fn with(self, other: Forces, pick: fn(f64, f64) -> f64) -> Forces {
        Forces {
            valve_n: pick(self.valve_n, other.valve_n),
            air_n_per_m: pick(self.air_n_per_m, other.air_n_per_m),
            tail_n: pick(self.tail_n, other.tail_n),
        }
    }

    fn times(self, factor: f64) -> Forces {
        Forces {
            valve_n: factor * self.valve_n,
            air_n_per_m: factor * self.air_n_per_m,
            tail_n: factor * self.tail_n,
        }
    }
}

/// Where a cell of the travel ends, and the next begins: they are narrower near the valve, where what is spent in the
/// ring along the hose grows from nothing.
fn end_m(travel_m: f64, cells: usize) -> f64 {
    travel_m * (cells as f64 / CELLS as f64).powi(2)
}

impl Bounds {
    /// Of a setting's hose and suction. Errors: [`HoseError`], as [`Setting::spent`].
    pub fn of(setting: &Setting) -> Result<Bounds, HoseError> {
        let travel_m = setting.travel_m();
        let forces = |i| Forces::of(setting, end_m(travel_m, i));
        Ok(Bounds { hose: *setting.hose(), travel_m, at: (0..=CELLS).map(forces).collect::<Result<_, _>>()? })
    }

    /// Whether the hose, drawn in along a path, surely has this reserve all the way, where the suction does no less
    /// than `share` of what it did in the raceway that was reckoned.
    pub fn reserve_reaches(&self, path: &Path, reserve: f64, share: f64) -> bool {
        let Hose { weight_n_per_m, mu_in, mu_floor, length_m, .. } = self.hose;
        self.all_parts(path, &|first, last| {
            let least = self.least(first, last).times((1.0 - SLACK) * share / reserve);
            let along = Along { weight_n_per_m, mu: mu_in, air_n_per_m: least.air_n_per_m };
            let (from_m, to_m) = (self.place_m(first), self.place_m(last));
            let start_n = mu_floor * weight_n_per_m * (length_m - from_m) - least.valve_n;
            most_drawn_in(path, (from_m, to_m), start_n, &along) <= least.tail_n
        })
    }

    /// The least of each force between two places: all of them fall as the hose goes in.
    fn least(&self, first: usize, last: usize) -> Forces {
        let ends = &self.at[first / PARTS..=last.div_ceil(PARTS)];
        ends.iter().fold(self.at[last.div_ceil(PARTS)], |all, next| all.with(*next, f64::min))
    }

    fn place_m(&self, part: usize) -> f64 {
        let (cell, share) = (part / PARTS, (part % PARTS) as f64 / PARTS as f64);
        let from_m = end_m(self.travel_m, cell);
        from_m + share * (end_m(self.travel_m, cell + 1) - from_m)
    }

    /// Whether something holds over the whole travel: asked of all its parts at once, and of half of them where that
    /// is not enough, down to one. A path in which the hose goes in more or less far than it was reckoned is not told of.
    fn all_parts(&self, path: &Path, holds: &impl Fn(usize, usize) -> bool) -> bool {
        self.hose.length_m.min(path.length_m()) == self.travel_m && halves(0, CELLS * PARTS, holds)
    }
}

/// The forces that a steady suction puts on a hose that is pulled out, at a few places of the travel: from each to the
/// next they are no more. The more air flows past the hose, the more each narrow place takes; and the farther the hose
/// is in, the less flows, and the less is taken in the valve, on each metre and round the tail. On a jump of the ring's
/// friction the flow stays as it is.
#[derive(Debug, Clone)]
pub struct PullBounds {
    hose: Hose,
    /// Each place, m, with the forces there.
    from: Vec<(f64, Forces)>,
}

/// Places of the travel, as shares of it: nearer to each other where the pull is greatest.
const PLACES: [f64; 10] = [0.0, 0.07, 0.2, 0.4, 0.7, 0.85, 0.93, 0.97, 0.99, 1.0];
/// More than the last digits of a walk, in whose steps the tension inside a bend is told to 1e-4.
pub(super) const WALKED: f64 = 1.001;

impl PullBounds {
    /// Of a setting's hose under a suction behind its tail, Pa. Errors: [`HoseError`], as [`Setting::under`].
    pub fn of(setting: &Setting, suction_pa: f64) -> Result<PullBounds, HoseError> {
        let steady = setting.under(suction_pa)?;
        let travel_m = steady.travel_m();
        let at = |share: &f64| Ok((share * travel_m, Forces::of(&steady, share * travel_m)?));
        let from = PLACES.iter().map(at).collect::<Result<_, HoseError>>()?;
        Ok(PullBounds { hose: *setting.hose(), from })
    }

    /// The same with the unit at rest.
    pub fn at_rest(setting: &Setting) -> PullBounds {
        let none = Forces { valve_n: 0.0, air_n_per_m: 0.0, tail_n: 0.0 };
        PullBounds { hose: *setting.hose(), from: vec![(0.0, none)] }
    }

    /// Whether the hose surely comes out of a path with a force that is kept, under that suction or less.
    pub fn pull_keeps(&self, path: &Path, keeps: impl Fn(f64) -> bool) -> bool {
        let Hose { weight_n_per_m, mu_out, length_m, .. } = self.hose;
        let travel_m = length_m.min(path.length_m());
        let mut to_m = travel_m;
        for (from_m, forces) in self.from.iter().rev().filter(|(from_m, _)| *from_m < travel_m) {
            let Forces { valve_n, air_n_per_m, tail_n } = *forces;
            let along = Along { weight_n_per_m, mu: mu_out, air_n_per_m };
            let most_n = most_drawn_out(path, (*from_m, to_m), tail_n, &along) + valve_n;
            if !keeps(WALKED * most_n) {
                return false;
            }
            to_m = *from_m;
        }
        true
    }
}

fn halves(first: usize, last: usize, holds: &impl Fn(usize, usize) -> bool) -> bool {
    if holds(first, last) {
        return true;
    }
    let middle = (first + last) / 2;
    // The end of the travel mostly asks the most.
    last - first > 1 && halves(middle, last, holds) && halves(first, middle, holds)
}
