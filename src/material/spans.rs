//! Sets of stretches along a tube: sorted closed intervals `(from, to)` in metres, none touching the
//! next. What may hold a coupling is such a set.

use super::stock::SAME_M;

/// A sorted set of closed, disjoint intervals; an interval may be a single point.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Spans(Vec<(f64, f64)>);

impl Spans {
    /// The one stretch from `from` to `to`; empty when that runs backwards by more than [`SAME_M`].
    pub fn one(from: f64, to: f64) -> Self {
        Self::of(vec![(from, to)])
    }

    /// The union of any stretches.
    pub fn of(mut parts: Vec<(f64, f64)>) -> Self {
        parts.retain(|(a, b)| *b >= *a - SAME_M);
        parts.sort_by(|x, y| x.0.total_cmp(&y.0).then(x.1.total_cmp(&y.1)));
        let mut joined: Vec<(f64, f64)> = Vec::new();
        for (a, b) in parts {
            let b = b.max(a);
            match joined.last_mut() {
                Some(last) if a <= last.1 + SAME_M => last.1 = last.1.max(b),
                _ => joined.push((a, b)),
            }
        }
        Self(joined)
    }

    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    pub fn parts(&self) -> &[(f64, f64)] {
        &self.0
    }

    /// What lies in both sets.
    pub fn meet(&self, other: &Self) -> Self {
        let pairs = self.0.iter().flat_map(|x| other.0.iter().map(move |y| (x.0.max(y.0), x.1.min(y.1))));
        Self::of(pairs.collect())
    }

    /// What is left when the open interval between `from` and `to` is taken away.
    pub fn without(&self, from: f64, to: f64) -> Self {
        let cut = |&(a, b): &(f64, f64)| {
            if to <= a + SAME_M || from >= b - SAME_M {
                // A single point strictly inside the interval goes too.
                let inside = a > from + SAME_M && b < to - SAME_M;
                return if inside { vec![] } else { vec![(a, b)] };
            }
            // The point at which two cuts touch stays, though rounding may put one past the other.
            vec![(a, from.min(b)), (to.max(a), b)].into_iter().filter(|(p, q)| *p <= q + SAME_M).collect()
        };
        Self::of(self.0.iter().flat_map(cut).collect())
    }

    /// Every point that lies between `least` and `most` beyond a point of the set.
    pub fn shifted(&self, least: f64, most: f64) -> Self {
        Self::of(self.0.iter().map(|(a, b)| (a + least, b + most)).collect())
    }

    /// The furthest point of the set, if there is one.
    pub fn last(&self) -> Option<f64> {
        self.0.last().map(|part| part.1)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn union_joins_what_touches_and_drops_what_runs_backwards() {
        let set = Spans::of(vec![(3.0, 4.0), (0.0, 1.0), (1.0, 2.0), (6.0, 5.0)]);
        assert_eq!(set.parts(), [(0.0, 2.0), (3.0, 4.0)]);
    }

    #[test]
    fn taking_away_keeps_the_ends_of_the_gap() {
        let set = Spans::one(0.0, 10.0).without(4.0, 6.0);
        assert_eq!(set.parts(), [(0.0, 4.0), (6.0, 10.0)]);
        assert_eq!(set.without(-1.0, 4.0).parts(), [(4.0, 4.0), (6.0, 10.0)]);
        assert_eq!(Spans::one(5.0, 5.0).without(4.0, 6.0), Spans::default());
        assert_eq!(Spans::one(4.0, 4.0).without(4.0, 6.0).parts(), [(4.0, 4.0)]);
    }

    #[test]
    fn taking_away_keeps_the_point_where_two_gaps_touch() {
        let touching = 0.722 - 0.034;
        assert!(touching < 0.658 + 0.03, "the rounding that lost the point");
        let set = Spans::one(0.0, 1.0).without(0.432, 0.658 + 0.03).without(touching, 0.802);
        assert_eq!(set.parts(), [(0.0, 0.432), (0.658 + 0.03, 0.658 + 0.03), (0.802, 1.0)]);
    }

    #[test]
    fn meeting_and_shifting_agree_with_hand_reckoning() {
        let set = Spans::of(vec![(0.0, 2.0), (5.0, 6.0)]);
        assert_eq!(set.meet(&Spans::one(1.0, 5.0)).parts(), [(1.0, 2.0), (5.0, 5.0)]);
        assert_eq!(set.shifted(1.0, 2.0).parts(), [(1.0, 4.0), (6.0, 8.0)]);
        assert_eq!(set.last(), Some(6.0));
    }
}
