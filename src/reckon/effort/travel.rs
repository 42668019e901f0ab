//! Moving the tail along the raceway, and finding where the force is greatest.

use super::tension::{after, turned_round};
use super::{Effort, Element, SAMPLE_M, path_length_m};

/// Tension at the tail, `inserted_m` from the valve, when it is `start_n` at the valve.
pub(super) fn tension_at_tail(els: &[Element], inserted_m: f64, start_n: f64, w: f64, mu: f64) -> f64 {
    occupied(els, inserted_m).fold(start_n, |t, (element, length)| after(t, element, length, w, mu))
}

/// Tension at the valve when the tail, `inserted_m` from it, is free.
pub(super) fn tension_at_valve(els: &[Element], inserted_m: f64, w: f64, mu: f64) -> f64 {
    let inside: Vec<_> = occupied(els, inserted_m).collect();
    let back = |t: f64, (element, length): &(&Element, f64)| after(t, &turned_round(element), *length, w, mu);
    inside.iter().rev().fold(0.0, back)
}

/// The force over the travel of a hose, sampled and with its maximum refined.
///
/// The force is smooth between the ends of the elements, and those ends are among the samples, so the
/// maximum lies between the neighbours of the greatest sample.
pub(super) fn worst(els: &[Element], hose_m: f64, force_at: impl Fn(f64) -> f64) -> Effort {
    let path_m = path_length_m(els);
    let places = samples(els, hose_m.min(path_m));
    let curve: Vec<(f64, f64)> = places.iter().map(|&x| (x, force_at(x))).collect();
    let top = (0..curve.len()).fold(0, |best, i| if curve[i].1 > curve[best].1 { i } else { best });
    let (mut worst_inserted_m, mut worst_n) = curve[top];
    let sides = [(top.saturating_sub(1), top), (top, (top + 1).min(curve.len() - 1))];
    for (left, right) in sides {
        let x = highest_between(curve[left].0, curve[right].0, &force_at);
        if force_at(x) > worst_n {
            (worst_inserted_m, worst_n) = (x, force_at(x));
        }
    }
    Effort { worst_n, worst_inserted_m, curve, short_by_m: (hose_m - path_m).max(0.0) }
}

/// The elements that the hose fills, each with the length filled, from the valve on.
fn occupied(els: &[Element], inserted_m: f64) -> impl Iterator<Item = (&Element, f64)> {
    els.iter().scan(inserted_m, |left, element| {
        if *left <= 0.0 {
            return None;
        }
        let length = element.length_m().min(*left);
        *left -= length;
        Some((element, length))
    })
}

/// Where to reckon: from 0 to `travel_m` in even steps, and at the end of every element on the way.
fn samples(els: &[Element], travel_m: f64) -> Vec<f64> {
    let steps = (travel_m / SAMPLE_M).floor() as usize;
    let mut places: Vec<f64> = (0..=steps).map(|i| i as f64 * SAMPLE_M).collect();
    let ends = els.iter().scan(0.0, |at, element| {
        *at += element.length_m();
        Some(*at)
    });
    places.extend(ends.filter(|&end| end < travel_m));
    places.push(travel_m);
    places.retain(|&x| x <= travel_m);
    places.sort_by(f64::total_cmp);
    places.dedup();
    places
}

/// The place of the maximum of a single-peaked function, by golden section to a hundredth of a millimetre.
fn highest_between(mut low: f64, mut high: f64, force_at: &impl Fn(f64) -> f64) -> f64 {
    const GOLDEN: f64 = 0.618_033_988_749_894_8;
    while high - low > 1e-5 {
        let (a, b) = (high - GOLDEN * (high - low), low + GOLDEN * (high - low));
        if force_at(a) >= force_at(b) {
            high = b;
        } else {
            low = a;
        }
    }
    0.5 * (low + high)
}
