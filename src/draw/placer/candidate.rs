//! Places that a label might take.
use crate::draw::hand::geo::{Quad, V2};

/// A place a label might take.
#[derive(Debug, Clone, Copy)]
pub struct Candidate {
    pub words: Quad,
    /// From the words to what they speak of.
    pub leader: Option<(V2, V2)>,
    pub cost: f64,
}

/// A place for an upright box, kept small: most are put away at a glance.
#[derive(Debug, Clone, Copy)]
pub struct Upright {
    pub min: V2,
    pub max: V2,
    /// What a leader is to point at.
    pub toward: Option<V2>,
    pub cost: f64,
}

/// A number that grows with a cost, quick to sort by: the order of `f64::total_cmp`.
pub fn rank(cost: f64) -> u64 {
    let bits = cost.to_bits();
    if cost.is_sign_negative() { !bits } else { bits | 1 << 63 }
}

impl Candidate {
    /// Words alone.
    pub fn bare(words: Quad, cost: f64) -> Candidate {
        Candidate { words, leader: None, cost }
    }

    /// Words with a leader from where they are nearest to what it points at.
    pub fn led(words: Quad, toward: V2, cost: f64) -> Candidate {
        let start = toward.clamp(words.min, words.max);
        Candidate { leader: Some((start, toward)), ..Candidate::bare(words, cost) }
    }
}

impl Upright {
    /// A box about its middle, without a leader.
    #[inline]
    pub fn about(middle: V2, size: V2, cost: f64) -> Upright {
        Upright { min: middle - size / 2.0, max: middle + size / 2.0, toward: None, cost }
    }

    /// With its words as a quadrilateral and its leader.
    pub fn candidate(&self) -> Candidate {
        let words = Quad::rect(self.min, self.max);
        match self.toward {
            Some(toward) => Candidate::led(words, toward, self.cost),
            None => Candidate::bare(words, self.cost),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn costs_are_ranked_in_their_order() {
        let mut costs = [3.5, -1.0, 0.0, 1e9, -0.0, 2.0, f64::MAX, -7.25];
        costs.sort_unstable_by_key(|cost| rank(*cost));
        assert!(costs.windows(2).all(|pair| pair[0].total_cmp(&pair[1]).is_le()), "{costs:?}");
    }
}
