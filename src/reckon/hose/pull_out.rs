//! A hand that pulls the hose out of its raceway.

use super::HoseError;
use super::balance::{Along, drawn_out, gained_out, most_drawn_out};
use super::bound::WALKED;
use super::draw_in::Setting;
use std::cell::OnceCell;

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
    let along = pulled(setting);
    most(setting, |most, places| {
        // Where the hose beyond a place drags, the pull from beyond is the greater one: the greater of two tensions
        // at a place is the greater one all the way to the valve.
        let beyond = |here: f64, next: f64| gained_out(setting.path(), here, next, &along) >= 0.0;
        let open = |i: usize| places.get(i + 1).is_none_or(|next| !beyond(places[i], *next));
        (0..places.len()).filter(|i| open(*i)).map(|i| places[i]).fold(most, |most, inserted_m| {
            let here = Pull { force_n: at_valve(setting, inserted_m, [0.0; 3]), inserted_m };
            if here.force_n > most.force_n { here } else { most }
        })
    })
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
    // A place that cannot be told is told by none. The most leaks past a hose that is hardly in, whose error comes first.
    let refused = OnceCell::new();
    let forces_n = |inserted_m: f64| match steady.spent(inserted_m) {
        Ok(spent) => Some(steady.pulls_n(&spent, 1.0)),
        Err(error) => {
            refused.get_or_init(|| error);
            None
        }
    };
    let pull = most(&steady, |most, places| greater(&steady, &forces_n, most, places));
    refused.into_inner().map_or(Ok(pull), Err)
}

/// So many places in a row are bounded together.
const TOGETHER: usize = 8;

/// The greatest force at some places, ascending, where one is greater than `most`; that, else. The last places mostly ask
/// the most, and those before them that [surely ask less](most_drawn_out) are not walked one by one.
///
/// `forces_n` tells those at valve, hose and tail with so much of the hose in; they are no more with more of it in.
fn greater(
    setting: &Setting,
    forces_n: &impl Fn(f64) -> Option<[f64; 3]>,
    most: Pull,
    places: &[f64],
) -> Pull {
    let at = |inserted_m: f64| {
        let force_n = at_valve(setting, inserted_m, forces_n(inserted_m)?);
        Some(Pull { force_n, inserted_m })
    };
    let mut greatest = places.first().and_then(|first| at(*first)).unwrap_or(most);
    for together in places.rchunks(TOGETHER) {
        let (first, last) = (together[0], together[together.len() - 1]);
        let is_less = |[valve_n, along_n, tail_n]: [f64; 3]| {
            let along = Along { air_n_per_m: along_n / first, ..pulled(setting) };
            let most_n = most_drawn_out(setting.path(), (first, last), tail_n, &along) + valve_n;
            WALKED * most_n < greatest.force_n.max(most.force_n)
        };
        if last < places[places.len() - 1] && forces_n(first).is_none_or(is_less) {
            continue;
        }
        for here in together.iter().rev().filter_map(|inserted_m| at(*inserted_m)) {
            greatest = if here.force_n >= greatest.force_n { here } else { greatest };
        }
    }
    if greatest.force_n > most.force_n { greatest } else { most }
}

/// The same at one place, the hose wholly in, where the force is mostly the greatest, N. Errors: [`HoseError`].
pub fn pull_wholly_in(setting: &Setting, suction_pa: f64) -> Result<f64, HoseError> {
    let steady = setting.under(suction_pa)?;
    let inserted_m = steady.travel_m();
    Ok(at_valve(&steady, inserted_m, steady.pulls_n(&steady.spent(inserted_m)?, 1.0)))
}

/// What acts along a hose pulled out where no air takes from it.
fn pulled(setting: &Setting) -> Along {
    let hose = setting.hose();
    Along { weight_n_per_m: hose.weight_n_per_m, mu: hose.mu_out, air_n_per_m: 0.0 }
}

fn at_valve(setting: &Setting, inserted_m: f64, [valve_n, along_n, tail_n]: [f64; 3]) -> f64 {
    let along = Along { air_n_per_m: along_n / inserted_m, ..pulled(setting) };
    drawn_out(setting.path(), inserted_m, tail_n, &along) + valve_n
}

/// The greatest force of the travel: at the end of every piece and at 48 even places, then more closely
/// between the neighbours of the greatest.
///
/// The force grows with the length inside but where a slope feeds itself, and where the ring along the hose turns
/// from turbulent to laminar and leaves more of the suction to the tail.
///
/// `greater` answers the greatest at some places, ascending, or what it is given where none is greater.
fn most(setting: &Setting, greater: impl Fn(Pull, &[f64]) -> Pull) -> Pull {
    let travel_m = setting.travel_m();
    let ends = setting.path().ends_m().filter(|end| *end > 0.0 && *end < travel_m);
    let mut places: Vec<f64> = (1..=48).map(|i| travel_m * f64::from(i) / 48.0).chain(ends).collect();
    places.sort_by(f64::total_cmp);
    let most = greater(Pull { force_n: 0.0, inserted_m: 0.0 }, &places);
    let at = places.iter().position(|x| *x == most.inserted_m).unwrap_or(0);
    let (from, to) = (places[at.saturating_sub(1)], places[(at + 1).min(places.len() - 1)]);
    let between: Vec<f64> = (1..=16).map(|i| from + (to - from) * f64::from(i) / 16.0).collect();
    greater(most, &between)
}
