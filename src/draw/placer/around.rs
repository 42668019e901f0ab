//! Places that a label might take round a point, for the placer to choose from.
use super::candidate::Upright;
use crate::draw::hand::geo::{Quad, V2, v2};
use std::sync::OnceLock;

/// Distances from an anchor at which a label is tried, mm.
const RINGS_MM: [f64; 9] = [3.0, 5.0, 8.0, 12.0, 17.0, 23.0, 30.0, 39.0, 50.0];
/// Directions in which a label is tried.
const DIRECTIONS: usize = 20;

/// Places for a box round an anchor, ring by ring, with a leader from the box to the anchor.
///
/// In each direction the cost grows from ring to ring, so that a search may go outward and end where nothing cheaper
/// can come.
#[derive(Debug, Clone, Copy)]
pub struct Round {
    anchor: V2,
    size: V2,
    favoured: V2,
    limit: f64,
    more: f64,
    /// The ring that is looked at, and a bit for each direction in which places farther out are still to be looked at.
    ring: usize,
    open: u32,
    /// What a place of this ring costs at least in each direction.
    floors: [f64; DIRECTIONS],
}

/// So much less than what a place costs is said to be the least, for rounding.
const LESS: f64 = 1e-9;

/// Places for a box round an anchor. `favoured` is the way it should lie, as a vector on paper (y down); its length
/// says how much that matters, 1 for much.
pub fn round(anchor: V2, size: V2, favoured: V2) -> Round {
    round_below(anchor, size, favoured, f64::MAX)
}

/// The same, as far as they cost less than `limit`.
pub fn round_below(anchor: V2, size: V2, favoured: V2, limit: f64) -> Round {
    let (open, floors) = ((1 << DIRECTIONS) - 1, [0.0; DIRECTIONS]);
    Round { anchor, size, favoured, limit, more: 0.0, ring: 0, open, floors }
}

impl Round {
    /// How many rings there are.
    pub const RINGS: usize = RINGS_MM.len();

    /// The same places for so much more.
    pub fn dearer(self, by: f64) -> Round {
        Round { more: self.more + by, ..self }
    }

    /// Only the places on that side of the anchor to which `out` points; all of them where it points nowhere.
    pub fn on_side(self, out: V2) -> Round {
        let beside = bits(self.open).filter(|nth| ways()[*nth].dot(out) > -LESS);
        Round { open: beside.fold(0, |set, nth| set | 1 << nth), ..self }
    }

    /// Size of the box.
    pub fn size(&self) -> V2 {
        self.size
    }

    /// Goes on to a ring, which lies outside of the one before; answers what any place costs at least that lies on it
    /// or farther out.
    pub fn go_to(&mut self, ring: usize) -> f64 {
        self.ring = ring;
        if self.open == 0 {
            return f64::MAX;
        }
        let (half, off_mm) = (self.size / 2.0, RINGS_MM[ring]);
        let (high, wide) = (half.y + off_mm, half.x + off_mm);
        for (way, floor) in ways().iter().zip(&mut self.floors) {
            // How far the box stays off its anchor, across and down.
            let x = (way.x.abs() * wide - half.x).max(0.0);
            let y = (way.y.abs() * high - half.y).max(0.0);
            let bias = (1.0 - way.dot(self.favoured)) * 6.0;
            // Off by no more than a twelfth, and no root is taken.
            let long = x.max(y).max((x + y) * std::f64::consts::FRAC_1_SQRT_2);
            *floor = long + (x * x + y * y) * 0.02 + bias + self.more - LESS;
        }
        bits(self.open).fold(f64::MAX, |least, nth| self.floors[nth].min(least))
    }

    /// Goes over the places of the ring that lie within a frame and cost less than `limit`, which does not grow from
    /// ring to ring, and whose middles are free, each with its number among all of this anchor, by directions and
    /// then by rings.
    pub fn each(
        &mut self,
        frame: &Quad,
        limit: f64,
        is_free: impl Fn(V2) -> bool,
        mut see: impl FnMut(usize, Upright),
    ) {
        let (half, off_mm) = (self.size / 2.0, RINGS_MM[self.ring]);
        let (limit, ways) = (limit.min(self.limit + self.more), ways());
        let (min, max) = (frame.min + half - TOUCH_MM, frame.max - half + TOUCH_MM);
        let (wide, high) = (half.x + off_mm, half.y + off_mm);
        for nth in bits(self.open) {
            if self.floors[nth] >= limit {
                self.open &= !(1 << nth);
                continue;
            }
            let way = ways[nth];
            // The middle lies where the box, not its middle, is a ring's distance away.
            let reach = v2(way.x * wide, way.y * high);
            let middle = self.anchor + reach;
            // What left the frame this way comes no more into it, and what lies farther out costs more.
            let inside =
                (middle.x >= min.x) & (middle.x <= max.x) & (middle.y >= min.y) & (middle.y <= max.y);
            if !inside {
                let gone = left(middle, way, min, max);
                self.open &= !(u32::from(gone) << nth);
            } else if is_free(middle) {
                let place = Upright::about(middle, self.size, 0.0);
                let long = self.anchor.clamp(place.min, place.max).distance(self.anchor);
                let cost = long + long * long * 0.02 + (1.0 - way.dot(self.favoured)) * 6.0;
                let full = cost + self.more;
                if cost < self.limit && full < limit {
                    let place = Upright { toward: Some(self.anchor), cost: full, ..place };
                    see(nth * Round::RINGS + self.ring, place);
                }
            }
        }
    }
}

/// How far a box may reach over the frame, for rounding, mm.
const TOUCH_MM: V2 = V2::splat(1e-9);

/// Whether a middle lies beyond that side of a frame toward which it goes.
fn left(middle: V2, way: V2, min: V2, max: V2) -> bool {
    (way.x >= 0.0 && middle.x > max.x)
        || (way.x <= 0.0 && middle.x < min.x)
        || (way.y >= 0.0 && middle.y > max.y)
        || (way.y <= 0.0 && middle.y < min.y)
}

/// The numbers of the bits that are set.
fn bits(mut set: u32) -> impl Iterator<Item = usize> {
    std::iter::from_fn(move || {
        let nth = (set != 0).then(|| set.trailing_zeros() as usize)?;
        set &= set - 1;
        Some(nth)
    })
}

/// The directions of a ring.
fn ways() -> &'static [V2; DIRECTIONS] {
    static WAYS: OnceLock<[V2; DIRECTIONS]> = OnceLock::new();
    WAYS.get_or_init(all_round)
}

/// Directions all round.
fn all_round<const N: usize>() -> [V2; N] {
    std::array::from_fn(|k| V2::from_angle(k as f64 * std::f64::consts::TAU / N as f64))
}

/// Places for a box close by a point, without a leader: `off` from the point, in sixteen directions.
pub fn beside(anchor: V2, size: V2, off: f64, favoured: V2) -> impl Iterator<Item = Upright> + use<> {
    static WAYS: OnceLock<[V2; 16]> = OnceLock::new();
    WAYS.get_or_init(all_round).iter().map(move |way| {
        let reach = v2(snap(way.x) * (size.x / 2.0 + off), snap(way.y) * (size.y / 2.0 + off));
        let cost = (1.0 - way.dot(favoured)) * 1.5 + off * 0.3;
        Upright::about(anchor + reach, size, cost)
    })
}

/// Sends slanted directions to the sides of the square, so that a box is wholly beside its point.
fn snap(x: f64) -> f64 {
    (x * std::f64::consts::SQRT_2).clamp(-1.0, 1.0)
}
