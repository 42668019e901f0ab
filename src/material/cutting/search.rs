//! The exact search: can the pieces be cut from so many sticks?
//!
//! Stick by stick, each around the longest piece left. Only patterns are tried that no other makes
//! needless: none to which a piece left over could be added, and none in which a piece could be
//! exchanged for a longer one left over, for in both cases a plan with the fuller pattern exists
//! whenever one with the emptier does. What is left after a choice must pass the bound of Martello and
//! Toth, and what was once found impossible is remembered.

use std::collections::HashMap;

use super::bounds;
use super::packing::{Effort, Packing, Pattern};

pub(super) enum Outcome {
    Found(Vec<Pattern>),
    Impossible,
    GaveUp,
}

/// The search goes as deep as there are pieces; a longer list is not searched.
const MOST_PIECES: usize = 1_000;

/// So many dead ends are remembered at most, to bound the memory.
const MOST_REMEMBERED: usize = 200_000;

pub(super) fn within(packing: &Packing, sticks: usize, effort: &mut Effort) -> Outcome {
    if packing.pieces() > MOST_PIECES {
        return Outcome::GaveUp;
    }
    let total = packing.counted().iter().map(|(size, count)| size * count).sum();
    let mut search = Search {
        packing,
        left: packing.demand.clone(),
        total,
        stick: vec![0; packing.types()],
        sticks: Vec::new(),
        dead: HashMap::new(),
        effort,
    };
    match search.open(sticks) {
        Step::Done => Outcome::Found(search.sticks),
        Step::No => Outcome::Impossible,
        Step::Stop => Outcome::GaveUp,
    }
}

#[derive(Clone, Copy, PartialEq)]
enum Step {
    Done,
    No,
    Stop,
}

struct Search<'a> {
    packing: &'a Packing,
    /// Pieces not yet on a stick, and their size together.
    left: Vec<u32>,
    total: i64,
    /// The stick being filled, less its longest piece.
    stick: Pattern,
    sticks: Vec<Pattern>,
    /// What was left at a dead end, with the most sticks for which it was one.
    dead: HashMap<Vec<u32>, usize>,
    effort: &'a mut Effort,
}

impl Search<'_> {
    /// Begins the next stick of `sticks`.
    fn open(&mut self, sticks: usize) -> Step {
        let Some(longest) = self.left.iter().position(|n| *n > 0) else {
            return Step::Done;
        };
        // The bounds look at every type for every type, which a step for each pays for.
        if !self.effort.steps(self.packing.types() as u64) {
            return Step::Stop;
        }
        if self.cannot_be(sticks) {
            return Step::No;
        }
        let outer = std::mem::replace(&mut self.stick, vec![0; self.packing.types()]);
        self.put(longest);
        let step = self.fill(longest, longest, self.packing.capacity - self.packing.sizes[longest], sticks);
        if step != Step::Done {
            self.back(longest);
        }
        self.stick = outer;
        if step == Step::No && self.dead.len() < MOST_REMEMBERED {
            let most = self.dead.entry(self.left.clone()).or_default();
            *most = sticks.max(*most);
        }
        step
    }

    fn cannot_be(&self, sticks: usize) -> bool {
        let counted: Vec<(i64, i64)> =
            self.packing.sizes.iter().copied().zip(self.left.iter().map(|n| i64::from(*n))).collect();
        self.total > sticks as i64 * self.packing.capacity
            || bounds::second(self.packing.capacity, &counted) > sticks
            || self.dead.get(&self.left).is_some_and(|most| sticks <= *most)
    }

    /// Adds pieces of type `from` and shorter to the stick whose longest piece is of type `longest`.
    fn fill(&mut self, longest: usize, from: usize, room: i64, sticks: usize) -> Step {
        if !self.effort.step() {
            return Step::Stop;
        }
        let mut any = false;
        for t in from..self.packing.types() {
            let size = self.packing.sizes[t];
            if self.left[t] == 0 || size > room {
                continue;
            }
            any = true;
            // `total` counts what is left without this stick, so the waste allowed shrinks with `room`.
            if self.must_waste(t, room) > self.may_waste(sticks, room) {
                return Step::No;
            }
            self.put(t);
            let step = self.fill(longest, t, room - size, sticks);
            if step != Step::Done {
                self.back(t);
            }
            if step != Step::No {
                return step;
            }
        }
        if any || self.may_waste(sticks, room) < room || self.is_needless(longest, room) {
            return Step::No;
        }
        self.sticks.push(self.stick.clone());
        let step = self.open(sticks - 1);
        if step != Step::Done {
            self.sticks.pop();
        }
        step
    }

    /// What the sticks that are left, this one included, can lose altogether.
    fn may_waste(&self, sticks: usize, room: i64) -> i64 {
        (sticks as i64 - 1) * self.packing.capacity + room - self.total
    }

    /// What this stick loses at least when only types from `t` on are added.
    fn must_waste(&self, t: usize, room: i64) -> i64 {
        let shorter = self.packing.sizes[t..].iter().zip(&self.left[t..]);
        room - shorter.map(|(size, n)| size * i64::from(*n)).sum::<i64>()
    }

    /// Whether a piece left over could be added, or take the place of a shorter one on the stick.
    fn is_needless(&self, longest: usize, room: i64) -> bool {
        let sizes = &self.packing.sizes;
        let others = |t: usize| self.stick[t] > u32::from(t == longest);
        let shortest_on = (0..sizes.len()).rev().filter(|t| others(*t));
        let left_over = |size: i64| {
            (0..sizes.len()).any(|t| self.left[t] > 0 && sizes[t] > size && sizes[t] <= size + room)
        };
        left_over(0) || shortest_on.map(|t| sizes[t]).any(left_over)
    }

    fn put(&mut self, t: usize) {
        self.left[t] -= 1;
        self.stick[t] += 1;
        self.total -= self.packing.sizes[t];
    }

    fn back(&mut self, t: usize) {
        self.left[t] += 1;
        self.stick[t] -= 1;
        self.total += self.packing.sizes[t];
    }
}
