//! The point that wants the most hose. It need not be a corner, so the floor is searched by pieces: a view
//! that shows a whole convex piece bounds what its points want, and pieces are halved until the bound and
//! the worst point found are one sixteenth of an inch apart.
use super::house::{Home, House};
use super::pieces::{Piece, halved, middle, pieces};
use super::sight::Fan;
use super::types::P2;
use super::ways::Lie;
use std::collections::BinaryHeap;

/// Bound and point found lie no further apart, 1/16 in.
pub const CLOSE_M: f64 = 0.0254 / 16.0;
/// No more pieces are looked at; a house of nine rooms takes some hundreds.
const MOST_PIECES: usize = 40_000;
/// Pieces smaller than this are taken as a point, m.
const SMALL_M: f64 = 1e-4;

/// The point that wants the most hose.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Farthest {
    pub home: Home,
    /// What it wants, and the most that any point may want.
    pub hose_m: f64,
    pub bound_m: f64,
}

/// A piece waiting for its turn, the one with the greatest bound first.
struct Open {
    bound_m: f64,
    sheet: usize,
    piece: Piece,
}

impl PartialEq for Open {
    fn eq(&self, other: &Open) -> bool {
        self.cmp(other).is_eq()
    }
}
impl Eq for Open {}
impl PartialOrd for Open {
    fn partial_cmp(&self, other: &Open) -> Option<std::cmp::Ordering> {
        Some(self.cmp(other))
    }
}
impl Ord for Open {
    fn cmp(&self, other: &Open) -> std::cmp::Ordering {
        self.bound_m.total_cmp(&other.bound_m)
    }
}

/// The farthest point of the floor that a hose can come to at all; `None` where it can come to none.
pub fn farthest(house: &House, lie: &Lie, wand_m: f64) -> Option<Farthest> {
    let mut best: Option<(f64, Home)> = None;
    let mut open = BinaryHeap::new();
    for (sheet, floor) in house.sheets.iter().enumerate() {
        for piece in pieces(floor) {
            let inside = middle(&piece);
            if lie.distance_m(sheet, inside).is_finite() {
                piece.iter().for_each(|p| better(&mut best, lie, wand_m, Home { sheet, at: *p }));
                open.push(Open { bound_m: f64::INFINITY, sheet, piece });
            }
        }
    }
    let mut left = MOST_PIECES;
    let mut bound_m = 0.0_f64;
    while let Some(next) = open.pop() {
        let found_m = best.map_or(0.0, |b| b.0);
        if next.bound_m <= found_m + CLOSE_M || left == 0 {
            bound_m = next.bound_m.max(found_m);
            break;
        }
        left -= 1;
        for piece in halved(&next.piece).into_iter().filter(|p| p.len() > 2) {
            better(&mut best, lie, wand_m, Home { sheet: next.sheet, at: middle(&piece) });
            let bound_m = bound(lie, next.sheet, &piece, wand_m).min(next.bound_m);
            if bound_m.is_finite() || size_m(&piece) > SMALL_M {
                open.push(Open { bound_m, sheet: next.sheet, piece });
            }
        }
    }
    best.map(|(hose_m, home)| Farthest { home, hose_m, bound_m: bound_m.max(hose_m) })
}

fn better(best: &mut Option<(f64, Home)>, lie: &Lie, wand_m: f64, home: Home) {
    let hose_m = lie.hose_m(home.sheet, home.at, wand_m);
    if hose_m.is_finite() && best.is_none_or(|(most, _)| hose_m > most) {
        *best = Some((hose_m, home));
    }
}

/// The most that any point of a convex piece wants, from views that show all of it; infinite where none
/// does.
pub fn bound(lie: &Lie, sheet: usize, piece: &[P2], wand_m: f64) -> f64 {
    let mut least = f64::INFINITY;
    for (m, view) in lie.views() {
        if m >= least {
            break;
        }
        // What is farther off wants more.
        if let Some(most_m) = shows_all(view, sheet, piece, least - m + wand_m) {
            least = least.min(m.max(m + most_m - wand_m));
        }
    }
    least
}

/// The distance to the farthest point of a convex piece of floor that a view shows whole, where that is nearer than
/// this. No corner of the floor lies in the piece, so that only a shadow line can part it.
pub fn shows_all(view: &Fan, sheet: usize, piece: &[P2], within_m: f64) -> Option<f64> {
    let mut most_m = 0.0_f64;
    for corner in piece {
        most_m = most_m.max(view.sees_within(sheet, *corner, within_m)?);
    }
    view.sees(sheet, middle(piece))?;
    (!view.parts(sheet, piece)).then_some(most_m)
}

fn size_m(piece: &[P2]) -> f64 {
    let fold = |f: fn(P2, P2) -> P2| piece.iter().copied().reduce(f).unwrap_or_default();
    (fold(P2::max) - fold(P2::min)).length()
}
