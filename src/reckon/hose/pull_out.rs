//! A hand that pulls the hose out of its raceway.

use super::HoseError;
use super::balance::{Along, drawn_out, gained_out};
use super::draw_in::Setting;

/// The force at the valve that pulls a hose out, at its greatest.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pull {
    /// Never below 0: a hose that falls out by itself has to be held.
    pub force_n: f64,
    /// How much of the hose lies in the raceway then.
    pub inserted_m: f64,
}

/// Force that pulls the hose out with the unit at rest, the greatest of the travel.
///
/// From the free tail to the valve, `dN/ds' = mu |N k n + w g| - w t_z` with friction `out`. Argument: the
/// [`Setting`]; what draws in it plays no part. Assumptions: those of the [module](super); what lies outside is
/// in the hand and adds nothing.
///
/// Source: the balance of [`super::balance`].
pub fn pull_out(setting: &Setting) -> Pull {
    let hose = setting.hose();
    let along = Along { weight_n_per_m: hose.weight_n_per_m, mu: hose.mu_out, air_n_per_m: 0.0 };
    // Where the hose beyond a place drags, the pull from beyond is the greater one: the greater of two tensions
    // at a place is the greater one all the way to the valve.
    let beyond = |from_m: f64, to_m: f64| gained_out(setting.path(), from_m, to_m, &along) >= 0.0;
    most(setting, beyond, |inserted_m| at_valve(setting, inserted_m, [0.0; 3]))
}

/// The same with the unit running and the handle open.
///
/// The air inside the hose stands below the room by what its entry and the hose itself take, and that suction
/// works against the hand where the leak past the hose spends it: the tail is held back by `A_t dp3`, the hose by
/// `A dp2 / x` on every metre, the valve adds `A dp1`.
///
/// Arguments: the [`Setting`]; `suction_pa`, below the room behind the hose's tail (Pa, 1 to 100 000). Errors:
/// [`HoseError`]. Assumption: the suction stays what it is with the hose wholly in, its greatest.
pub fn pull_out_running(setting: &Setting, suction_pa: f64) -> Result<Pull, HoseError> {
    let steady = setting.under(suction_pa)?;
    // A place that cannot be told is told by none: the first such error is the answer.
    let mut refused = None;
    let pull = most(
        &steady,
        |_, _| false,
        |inserted_m| match steady.spent(inserted_m) {
            Ok(spent) => at_valve(&steady, inserted_m, steady.pulls_n(&spent, 1.0)),
            Err(error) => {
                refused.get_or_insert(error);
                0.0
            }
        },
    );
    refused.map_or(Ok(pull), Err)
}

/// The same at one place, the hose wholly in, where the force is mostly the greatest, N. Errors: [`HoseError`].
pub fn pull_wholly_in(setting: &Setting, suction_pa: f64) -> Result<f64, HoseError> {
    let steady = setting.under(suction_pa)?;
    let inserted_m = steady.travel_m();
    Ok(at_valve(&steady, inserted_m, steady.pulls_n(&steady.spent(inserted_m)?, 1.0)))
}

fn at_valve(setting: &Setting, inserted_m: f64, [valve_n, along_n, tail_n]: [f64; 3]) -> f64 {
    let along = Along {
        weight_n_per_m: setting.hose().weight_n_per_m,
        mu: setting.hose().mu_out,
        air_n_per_m: along_n / inserted_m,
    };
    drawn_out(setting.path(), inserted_m, tail_n, &along) + valve_n
}

/// The greatest force of the travel: at the end of every piece and at 48 even places, then more closely
/// between the neighbours of the greatest.
///
/// The force grows with the length inside but where a slope feeds itself, and where the ring along the hose turns
/// from turbulent to laminar and leaves more of the suction to the tail.
///
/// `beyond` tells of two places that the force at the second is no less than at the first, which then need not be
/// reckoned.
fn most(setting: &Setting, beyond: impl Fn(f64, f64) -> bool, mut force_n: impl FnMut(f64) -> f64) -> Pull {
    let travel_m = setting.travel_m();
    let ends = setting.path().ends_m().filter(|end| *end > 0.0 && *end < travel_m);
    let mut places: Vec<f64> = (1..=48).map(|i| travel_m * f64::from(i) / 48.0).chain(ends).collect();
    places.sort_by(f64::total_cmp);
    let mut greatest = |most: Pull, places: &[f64]| {
        let next = places.iter().skip(1);
        let open = |(here, next): (&f64, Option<&f64>)| next.is_none_or(|next| !beyond(*here, *next));
        let open = places.iter().zip(next.map(Some).chain([None])).filter(|pair| open(*pair));
        open.fold(most, |most, (inserted_m, _)| {
            let here = Pull { force_n: force_n(*inserted_m), inserted_m: *inserted_m };
            if here.force_n > most.force_n { here } else { most }
        })
    };
    let most = greatest(Pull { force_n: 0.0, inserted_m: 0.0 }, &places);
    let at = places.iter().position(|x| *x == most.inserted_m).unwrap_or(0);
    let (from, to) = (places[at.saturating_sub(1)], places[(at + 1).min(places.len() - 1)]);
    let between: Vec<f64> = (1..=16).map(|i| from + (to - from) * f64::from(i) / 16.0).collect();
    greatest(most, &between)
}
