//! Whole plans: by rule of thumb, and from the linear programme.

use super::columns::{Relaxed, relax};
use super::knapsack::most_valuable;
use super::packing::{Effort, Packing, Pattern};

/// Steps that filling one stick may take; far more than a stick of tube needs.
const FILL_STEPS: u64 = 2_000;

/// Puts each piece, the longest first, on the first stick that has room.
pub(super) fn first_fit(packing: &Packing) -> Vec<Pattern> {
    let mut sticks: Vec<(i64, Pattern)> = Vec::new();
    for t in 0..packing.types() {
        let mut from = 0;
        for _ in 0..packing.demand[t] {
            // Sticks before this one had no room for the last piece of the same size.
            let room = sticks[from..].iter().position(|(room, _)| *room >= packing.sizes[t]);
            from = room.map_or(sticks.len(), |offset| from + offset);
            if from == sticks.len() {
                sticks.push((packing.capacity, vec![0; packing.types()]));
            }
            sticks[from].0 -= packing.sizes[t];
            sticks[from].1[t] += 1;
        }
    }
    sticks.into_iter().map(|(_, pattern)| pattern).collect()
}

/// Fills one stick after another as full as can be, each around the longest piece left.
pub(super) fn fullest_first(packing: &Packing) -> Vec<Pattern> {
    let mut left = packing.demand.clone();
    let mut sticks = Vec::new();
    while let Some(longest) = left.iter().position(|d| *d > 0) {
        left[longest] -= 1;
        let mut rest = packing.with_demand(left.clone());
        rest.capacity -= packing.sizes[longest];
        let mut pattern = most_valuable(&rest, &packing.sizes, 0, &mut Effort::of(FILL_STEPS)).pattern;
        subtract(&mut left, &pattern, 1);
        pattern[longest] += 1;
        sticks.push(pattern);
    }
    sticks
}

/// Takes the whole part of the programme's solution, solves the programme again for what is left, and
/// so on; when no pattern is used as much as once, the most used is taken once. Whatever is left when
/// the effort runs out is fitted by rule.
pub(super) fn rounded(packing: &Packing, relaxed: Relaxed, effort: &mut Effort) -> Vec<Pattern> {
    let mut left = packing.demand.clone();
    let mut sticks: Vec<Pattern> = Vec::new();
    let mut best: Option<Vec<Pattern>> = None;
    let mut next = Some(relaxed.uses);
    while let Some(uses) = next {
        take(packing, &uses, &mut left, &mut sticks);
        let (rest, kinds) = narrowed(packing, &left);
        let finished: Vec<Pattern> =
            first_fit(&rest).into_iter().map(|p| widened(&p, &kinds, &left)).collect();
        if best.as_ref().is_none_or(|b| sticks.len() + finished.len() < b.len()) {
            best = Some(sticks.iter().cloned().chain(finished).collect());
        }
        let again = if kinds.is_empty() { None } else { relax(&rest, effort) };
        let widen = |(p, use_): (Pattern, f64)| (widened(&p, &kinds, &left), use_);
        next = again.map(|relaxed| relaxed.uses.into_iter().map(widen).collect());
    }
    best.unwrap_or_else(|| first_fit(packing))
}

/// Adds whole uses to the sticks, at least one stick.
fn take(packing: &Packing, uses: &[(Pattern, f64)], left: &mut [u32], sticks: &mut Vec<Pattern>) {
    let before = sticks.len();
    for (pattern, used) in uses {
        // An amount a hair under a whole number is that number.
        let most = pattern.iter().zip(&*left).filter(|(n, _)| **n > 0).map(|(n, l)| l / n).min().unwrap_or(0);
        let times = ((used + 1e-6).floor().max(0.0) as u32).min(most);
        subtract(left, pattern, times);
        sticks.extend(std::iter::repeat_n(pattern.clone(), times as usize));
    }
    if sticks.len() == before {
        let fullest = uses.iter().enumerate().max_by(|a, b| a.1.1.total_cmp(&b.1.1).then(b.0.cmp(&a.0)));
        let Some((_, (pattern, _))) = fullest else { return };
        let pattern = topped_up(packing, pattern, left);
        subtract(left, &pattern, 1);
        sticks.push(pattern);
    }
}

/// The pattern as far as pieces are left for it, with whatever else still fits, the longest first.
fn topped_up(packing: &Packing, pattern: &Pattern, left: &[u32]) -> Pattern {
    let mut pattern: Pattern = pattern.iter().zip(left).map(|(n, l)| *n.min(l)).collect();
    let used: i64 = pattern.iter().zip(&packing.sizes).map(|(n, s)| i64::from(*n) * s).sum();
    let mut room = packing.capacity - used;
    for t in 0..packing.types() {
        let more = (room / packing.sizes[t]).min(i64::from(left[t] - pattern[t]));
        pattern[t] += more as u32;
        room -= more * packing.sizes[t];
    }
    pattern
}

fn subtract(left: &mut [u32], pattern: &[u32], times: u32) {
    left.iter_mut().zip(pattern).for_each(|(l, n)| *l -= n * times);
}

/// The problem without the types of which none are left, and which types those that stay are.
fn narrowed(packing: &Packing, left: &[u32]) -> (Packing, Vec<usize>) {
    let kinds: Vec<usize> = (0..packing.types()).filter(|t| left[*t] > 0).collect();
    let sizes = kinds.iter().map(|t| packing.sizes[*t]).collect();
    let demand = kinds.iter().map(|t| left[*t]).collect();
    (Packing { capacity: packing.capacity, sizes, demand, members: Vec::new() }, kinds)
}

fn widened(pattern: &[u32], kinds: &[usize], left: &[u32]) -> Pattern {
    let mut wide = vec![0; left.len()];
    kinds.iter().zip(pattern).for_each(|(t, n)| wide[*t] = *n);
    wide
}
