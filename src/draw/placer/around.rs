//! Places that a label might take round a point, for the placer to choose from.
use super::candidate::Upright;
use crate::draw::hand::geo::{V2, v2};
use std::sync::OnceLock;

/// Distances from an anchor at which a label is tried, mm.
const RINGS_MM: [f64; 11] = [3.0, 5.0, 8.0, 12.0, 17.0, 23.0, 30.0, 39.0, 50.0, 64.0, 80.0];
/// Directions in which a label is tried.
const DIRECTIONS: usize = 20;

/// Places for a box round an anchor, with a leader from the box to the anchor. `favoured` is the way
/// it should lie, as a vector on paper (y down); its length says how much that matters, 1 for much.
pub fn round(anchor: V2, size: V2, favoured: V2) -> impl Iterator<Item = Upright> + use<> {
    round_below(anchor, size, favoured, f64::MAX)
}

/// The same, as far as they cost less than `limit`.
pub fn round_below(anchor: V2, size: V2, favoured: V2, limit: f64) -> impl Iterator<Item = Upright> + use<> {
    static WAYS: OnceLock<[V2; DIRECTIONS]> = OnceLock::new();
    let (ways, half) = (ways(&WAYS), size / 2.0);
    let (mut nth, mut ring) = (0, 0);
    std::iter::from_fn(move || {
        loop {
            let way = ways.get(nth)?;
            let bias = (1.0 - way.dot(favoured)) * 6.0;
            if let Some(off_mm) = RINGS_MM.get(ring) {
                ring += 1;
                // The middle lies where the box, not its middle, is a ring's distance away.
                let reach = v2(way.x * (half.x + off_mm), way.y * (half.y + off_mm));
                let place = Upright::about(anchor + reach, size, bias);
                let long = anchor.clamp(place.min, place.max).distance(anchor);
                let cost = long + long * long * 0.02 + bias;
                if cost < limit {
                    return Some(Upright { toward: Some(anchor), cost, ..place });
                }
            }
            // Those farther out cost more.
            (nth, ring) = (nth + 1, 0);
        }
    })
}

/// Directions all round, reckoned once.
fn ways<const N: usize>(known: &'static OnceLock<[V2; N]>) -> &'static [V2; N] {
    let turned = |k: usize| V2::from_angle(k as f64 * std::f64::consts::TAU / N as f64);
    known.get_or_init(|| std::array::from_fn(turned))
}

/// Places for a box close by a point, without a leader: `off` from the point, in sixteen directions.
pub fn beside(anchor: V2, size: V2, off: f64, favoured: V2) -> impl Iterator<Item = Upright> + use<> {
    static WAYS: OnceLock<[V2; 16]> = OnceLock::new();
    ways(&WAYS).iter().map(move |way| {
        let reach = v2(snap(way.x) * (size.x / 2.0 + off), snap(way.y) * (size.y / 2.0 + off));
        let cost = (1.0 - way.dot(favoured)) * 1.5 + off * 0.3;
        Upright::about(anchor + reach, size, cost)
    })
}

/// Sends slanted directions to the sides of the square, so that a box is wholly beside its point.
fn snap(x: f64) -> f64 {
    (x * std::f64::consts::SQRT_2).clamp(-1.0, 1.0)
}
