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

    /// By how much, in its own measure, the value there is short of another, above 0: more than 0 just where it is
    /// less. Much quicker than the value.
    fn short(&self, inserted_m: f64, spent: &Spent, value: f64) -> f64;

    fn place(&self, (inserted_m, spent): (f64, Spent)) -> Place {
        Place { inserted_m, spent, value: self.value(inserted_m, &spent) }
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
/// Arguments: `places` (m, ascending, at least one), and a place that is likely the least. Errors: as
/// [`Asked::spent`].
pub(super) fn least(
    asked: &impl Asked,
    places: &[(f64, Spent)],
    likely: (f64, Spent),
) -> Result<Place, HoseError> {
    let found = least_of(asked, places, asked.place(likely));
    if !(found.value > 0.0 && found.value < f64::INFINITY) {
        return Ok(found);
    }
    let near = |(x, spent): &(f64, Spent)| asked.short(*x, spent, NEAR * found.value) > 0.0;
    let near: Vec<bool> = places.iter().map(near).collect();
    let stretches = places.windows(2).zip(near.windows(2)).filter(|(_, near)| near[0] || near[1]);
    let part = |i: usize, ends: &[(f64, Spent)]| {
        let x = ends[0].0 + (ends[1].0 - ends[0].0) * i as f64 / PARTS as f64;
        Ok((x, asked.spent(x)?))
    };
    let parts = stretches.flat_map(|(ends, _)| (1..PARTS).map(move |i| part(i, ends)));
    let parts: Vec<(f64, Spent)> = parts.collect::<Result<_, HoseError>>()?;
    let found = least_of(asked, &parts, found);
    let all = || places.iter().chain(&parts).map(|(x, _)| *x);
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
        if quick && asked.short(*x, spent, least.value) <= 0.0 {
            return least;
        }
        let here = asked.place((*x, *spent));
        let sooner = here.inserted_m < least.inserted_m && here.value == least.value;
        if here.value < least.value || sooner { here } else { least }
    })
}

/// The least between a place and its neighbour, to a fiftieth of the gap; the place itself where the value rises
/// from it.
///
/// It is sought where the value is most short of that of `from`, which is where it is least but for what does not
/// count: so near to the least the one grows as the other falls.
fn least_between(asked: &impl Asked, from: &Place, to_m: f64) -> Result<Place, HoseError> {
    const GOLDEN: f64 = 0.618_033_988_749_894_8;
    let gap_m = to_m - from.inserted_m;
    let look = |share: f64| {
        let x = from.inserted_m + share * gap_m;
        let spent = asked.spent(x)?;
        Ok::<_, HoseError>((asked.short(x, &spent, from.value), (x, spent)))
    };
    if look(0.02)?.0 <= 0.0 {
        return Ok(*from);
    }
    let (mut low, mut high) = (0.0, 1.0);
    let (mut a, mut b) = (look(1.0 - GOLDEN)?, look(GOLDEN)?);
    while high - low > 0.02 {
        if a.0 >= b.0 {
            high = low + GOLDEN * (high - low);
            b = a;
            a = look(high - GOLDEN * (high - low))?;
        } else {
            low = high - GOLDEN * (high - low);
            a = b;
            b = look(low + GOLDEN * (high - low))?;
        }
    }
    Ok(asked.place(if a.0 > b.0 { a.1 } else { b.1 }))
}
