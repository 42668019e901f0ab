//! The place of a hose's travel where something is least: its reserve, or the friction it bears.
use super::HoseError;
use super::leak::Spent;

/// A place of the travel, where the suction is spent there, and what is asked of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Place {
    pub inserted_m: f64,
    pub spent: Spent,
    pub value: f64,
}

/// What is asked of the places of a travel.
pub(super) trait Asked {
    fn spent(&self, inserted_m: f64) -> Result<Spent, HoseError>;

    /// The value there, 0 to infinite.
    fn value(&self, inserted_m: f64, spent: &Spent) -> f64;

    /// Whether the value there is so much, above 0, or more. Quicker than the value itself.
    fn is_at_least(&self, inserted_m: f64, spent: &Spent, value: f64) -> bool;

    fn place(&self, inserted_m: f64) -> Result<Place, HoseError> {
        let spent = self.spent(inserted_m)?;
        Ok(Place { inserted_m, spent, value: self.value(inserted_m, &spent) })
    }
}

/// A place with up to so many times the least value may have less beside it, inside a bend.
const NEAR: f64 = 1.1;
/// A stretch beside such a place is looked at in so many parts.
const PARTS: usize = 4;

/// The first place with the least value, where the value is smooth from each of `places` to the next.
///
/// The value is looked at in all of them, then in parts of the stretches that end near the least, then by golden
/// section on either side of the least where it still falls.
///
/// Arguments: `places` (m, ascending, at least one). Errors: as [`Asked::spent`].
pub(super) fn least(asked: &impl Asked, places: &[f64]) -> Result<Place, HoseError> {
    let spent = |x: &f64| Ok((*x, asked.spent(*x)?));
    let coarse: Vec<(f64, Spent)> = places.iter().map(spent).collect::<Result<_, HoseError>>()?;
    // The last is mostly the least, and the rest is then quickly told.
    let (last_m, last) = coarse[coarse.len() - 1];
    let start = Place { inserted_m: last_m, spent: last, value: asked.value(last_m, &last) };
    let found = least_of(asked, &coarse, start);
    if !(found.value > 0.0 && found.value < f64::INFINITY) {
        return Ok(found);
    }
    let near: Vec<bool> =
        coarse.iter().map(|(x, spent)| !asked.is_at_least(*x, spent, NEAR * found.value)).collect();
    let stretches = places.windows(2).zip(near.windows(2)).filter(|(_, near)| near[0] || near[1]);
    let part = |i: usize, ends: &[f64]| ends[0] + (ends[1] - ends[0]) * i as f64 / PARTS as f64;
    let inner: Vec<f64> = stretches.flat_map(|(ends, _)| (1..PARTS).map(move |i| part(i, ends))).collect();
    let fine: Vec<(f64, Spent)> = inner.iter().map(spent).collect::<Result<_, HoseError>>()?;
    let found = least_of(asked, &fine, found);
    let beside = |x: &&f64| **x != found.inserted_m;
    let all = || places.iter().chain(&inner).filter(beside).copied();
    let before = all().filter(|x| *x < found.inserted_m).max_by(f64::total_cmp);
    let after = all().filter(|x| *x > found.inserted_m).min_by(f64::total_cmp);
    let mut least = found;
    for to_m in [before, after].into_iter().flatten() {
        let here = least_between(asked, &found, to_m)?;
        least = if here.value < least.value { here } else { least };
    }
    Ok(least)
}

/// The least of `least` and some places, the first of several. The value is told only where it is less.
fn least_of(asked: &impl Asked, places: &[(f64, Spent)], least: Place) -> Place {
    places.iter().fold(least, |least, (x, spent)| {
        let quick = (1e-6..1e6).contains(&least.value);
        if quick && asked.is_at_least(*x, spent, least.value) {
            return least;
        }
        let here = Place { inserted_m: *x, spent: *spent, value: asked.value(*x, spent) };
        let sooner = here.inserted_m < least.inserted_m && here.value == least.value;
        if here.value < least.value || sooner { here } else { least }
    })
}

/// The least between a place and its neighbour, to a fiftieth of the gap; the place itself where the value rises
/// from it.
fn least_between(asked: &impl Asked, from: &Place, to_m: f64) -> Result<Place, HoseError> {
    const GOLDEN: f64 = 0.618_033_988_749_894_8;
    let gap_m = to_m - from.inserted_m;
    let near_m = from.inserted_m + 0.02 * gap_m;
    if asked.is_at_least(near_m, &asked.spent(near_m)?, from.value) {
        return Ok(*from);
    }
    let place = |share: f64| asked.place(from.inserted_m + share * gap_m);
    let (mut low, mut high) = (0.0, 1.0);
    let (mut a, mut b) = (place(1.0 - GOLDEN)?, place(GOLDEN)?);
    while high - low > 0.02 {
        if a.value <= b.value {
            high = low + GOLDEN * (high - low);
            b = a;
            a = place(high - GOLDEN * (high - low))?;
        } else {
            low = high - GOLDEN * (high - low);
            a = b;
            b = place(low + GOLDEN * (high - low))?;
        }
    }
    Ok(if a.value < b.value { a } else { b })
}
