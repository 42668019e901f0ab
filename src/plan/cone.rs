//! Where a taut hose goes on from a corner that it lies round. What the corner sees beside that, towards where the
//! hose came from, other views reach with less hose, so that a union of all views may leave it out.
//!
//! Let a hose come to corner `c` from `q`, and let `c` see a point `p`, all between the directions of `q` and `p`
//! being floor close by `c`. Drawn tight between `q` and `p`, the hose leaves `c`: it lies straight, or round corners
//! within the triangle `q c p`, all of which `c` sees. So `p` is seen by one of them, or by `q`, with less hose than
//! over `c`; if that view's own corner is within the hose. Only the wand can reach `p` over `c` round a corner
//! that the hose does not come to, and such corners are told.
use super::sight::{Fan, WHOLE_TURN as WHOLE, turn_of};
use super::types::P2;

/// Where what is left out ends in open floor, it ends so much earlier, as [`turn_of`] counts: what one view shows and
/// what others show lie over each other then, and not merely beside each other.
const OVER: f64 = 1e-3;
/// Borders of wedges nearer than this are one.
const SAME: f64 = 1e-9;
/// Half a turn, as [`turn_of`] counts.
const HALF: f64 = WHOLE / 2.0;

/// What is left out of a view: so much to the left and to the right of the direction that the hose came from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shut {
    back: f64,
    left: f64,
    right: f64,
}

impl Shut {
    /// What is left out of a corner's view, which a hose comes to from the direction `back`, none of whose hidden
    /// corners is out of the hose's reach: up to the first wall on either side, or straight on.
    pub fn of(view: &Fan, back: P2) -> Shut {
        let mut shut = Shut { back: turn_of(back), left: HALF - OVER, right: HALF - OVER };
        for w in (0..view.wedges.len()).filter(|w| view.spans(*w).is_empty()) {
            let (from, to) = shut.borders(view, w);
            shut.left = shut.left.min(if to > WHOLE { 0.0 } else { from });
            shut.right = shut.right.min((WHOLE - to).max(0.0));
        }
        shut
    }

    /// The same with a corner in that direction round which only the wand reaches.
    pub fn but(self, toward: P2) -> Shut {
        let turn = (turn_of(toward) - self.back).rem_euclid(WHOLE);
        Shut { left: self.left.min(turn - OVER), right: self.right.min(WHOLE - turn - OVER), ..self }
    }

    /// Whether a wedge of the view is left out.
    pub fn leaves_out(&self, view: &Fan, w: usize) -> bool {
        let (from, to) = self.borders(view, w);
        let left = |turn: f64| turn <= self.left + SAME;
        let right = |turn: f64| turn >= WHOLE - self.right - SAME;
        if to > WHOLE { right(from) && left(to - WHOLE) } else { left(to) || right(from) }
    }

    /// Both borders of a wedge, counted to the left from the direction that the hose came from.
    fn borders(&self, view: &Fan, w: usize) -> (f64, f64) {
        let n = view.turns.len();
        let turn = |w: usize| view.turns[w % n];
        let from = (turn(w) - self.back).rem_euclid(WHOLE);
        let from = if from > WHOLE - SAME { 0.0 } else { from };
        let wide = if n == 1 { WHOLE } else { (turn(w + 1) - turn(w)).rem_euclid(WHOLE) };
        let to = from + wide;
        (from, if (to - WHOLE).abs() < SAME { WHOLE } else { to })
    }
}
