//! The shortest lie of a hose: straight from corner to corner, by a visibility graph and Dijkstra's
//! algorithm (E. W. Dijkstra, "A note on two problems in connexion with graphs", 1959).
use super::house::{Home, House};
use super::sheet::SAME_M;
use super::sight::{Fan, fan};
use super::types::P2;
use rayon::prelude::*;

/// What every corner of a house sees; made once, used for every valve.
#[derive(Debug, Clone, PartialEq)]
pub struct Ways {
    /// Corners that a hose can lie round, each with its view.
    pub corners: Vec<Fan>,
    /// From corner to corner in a straight line, where they see each other.
    pub straight: Vec<Vec<(usize, f64)>>,
}

/// Looks round from every corner.
pub fn ways(house: &House) -> Ways {
    let mut homes: Vec<Home> = Vec::new();
    for (sheet, floor) in house.sheets.iter().enumerate() {
        homes.extend(floor.turns.iter().map(|at| Home { sheet, at: *at }));
    }
    let corners: Vec<Fan> = homes.par_iter().map(|home| fan(house, *home)).collect();
    let straight = corners.par_iter().enumerate().map(|(i, from)| seen(from, &homes, i)).collect();
    Ways { corners, straight }
}

fn seen(from: &Fan, homes: &[Home], but: usize) -> Vec<(usize, f64)> {
    let others = homes.iter().enumerate().filter(|(i, _)| *i != but);
    others.filter_map(|(i, home)| from.sees(home.sheet, home.at).map(|m| (i, m))).collect()
}

/// The least hose from one point to every corner.
#[derive(Debug, Clone)]
pub struct Lie<'w> {
    pub ways: &'w Ways,
    pub start: Fan,
    /// Length to each corner of [`Ways`]; infinite where none leads there.
    pub to_m: Vec<f64>,
    /// The corner before each, `None` for those that the start sees.
    before: Vec<Option<usize>>,
    /// Corners by that length, the nearest first.
    order: Vec<usize>,
}

impl Ways {
    /// Lays the hose from a point to every corner.
    pub fn from(&self, house: &House, home: Home) -> Lie<'_> {
        let start = fan(house, home);
        let n = self.corners.len();
        let mut to_m = vec![f64::INFINITY; n];
        let mut before = vec![None; n];
        for (i, corner) in self.corners.iter().enumerate() {
            if let Some(m) = start.sees(corner.home.sheet, corner.home.at) {
                to_m[i] = m;
            }
        }
        let mut open: Vec<usize> = (0..n).filter(|i| to_m[*i].is_finite()).collect();
        let mut order = Vec::with_capacity(n);
        // Few corners, many of which see each other: the plain search of the nearest open one is quickest.
        while let Some(nearest) = (0..open.len()).min_by(|a, b| to_m[open[*a]].total_cmp(&to_m[open[*b]])) {
            let at = open.swap_remove(nearest);
            order.push(at);
            for (next, m) in &self.straight[at] {
                if to_m[at] + m < to_m[*next] {
                    if to_m[*next].is_infinite() {
                        open.push(*next);
                    }
                    to_m[*next] = to_m[at] + m;
                    before[*next] = Some(at);
                }
            }
        }
        Lie { ways: self, start, to_m, before, order }
    }
}

impl Lie<'_> {
    /// Views with the hose length at which each begins: the start first, then corners from the nearest.
    pub fn views(&self) -> impl Iterator<Item = (f64, &Fan)> {
        let corners = self.order.iter().map(|i| (self.to_m[*i], &self.ways.corners[*i]));
        std::iter::once((0.0, &self.start)).chain(corners)
    }

    /// Corners that the hose comes to, the nearest first, as they stand in [`Ways`].
    pub fn corners(&self) -> impl Iterator<Item = usize> {
        self.order.iter().copied()
    }

    /// The direction in which a hose comes to a corner, backwards: it is taut. `None` where the corner stands for
    /// another one on the next sheet.
    pub fn back(&self, corner: usize) -> Option<P2> {
        let view = &self.ways.corners[corner];
        let (from, from_m) = match self.before[corner] {
            Some(before) => (self.ways.corners[before].home, self.to_m[before]),
            None => (self.start.home, 0.0),
        };
        let straight_m = self.to_m[corner] - from_m;
        let taut = |chain: &usize| {
            (view.straight_m(*chain, from.at) - straight_m).abs() < SAME_M && view.sees_over(*chain, from.at)
        };
        let over = view.chains_to(from.sheet).find(taut)?;
        (straight_m > SAME_M).then(|| from.at - view.eye_of(over))
    }

    /// The least length from the start to a point; infinite where nothing leads there.
    pub fn distance_m(&self, sheet: usize, point: P2) -> f64 {
        self.hose_m(sheet, point, 0.0)
    }

    /// The hose that a point wants: along the shortest way, less the wand, which reaches straight on from
    /// the last corner. A corner that only a longer hose comes to helps nothing, near as the point may be.
    pub fn hose_m(&self, sheet: usize, point: P2, wand_m: f64) -> f64 {
        let mut least = f64::INFINITY;
        for (m, view) in self.views() {
            if m >= least {
                break;
            }
            // What is farther off wants more.
            if let Some(straight_m) = view.sees_within(sheet, point, least - m + wand_m) {
                least = least.min(m.max(m + straight_m - wand_m));
            }
        }
        least
    }

    /// The points that the hose lies round on its way to a point, both ends included.
    pub fn way(&self, sheet: usize, point: P2) -> Vec<Home> {
        let end = Home { sheet, at: point };
        let mut best = (f64::INFINITY, None);
        for (i, corner) in self.ways.corners.iter().enumerate() {
            if self.to_m[i] < best.0 {
                let through = corner.sees(sheet, point).map_or(f64::INFINITY, |m| self.to_m[i] + m);
                best = if through < best.0 { (through, Some(i)) } else { best };
            }
        }
        if self.start.sees(sheet, point).is_some_and(|m| m <= best.0 + SAME_M) {
            best.1 = None;
        }
        let mut back = vec![end];
        let mut at = best.1;
        while let Some(i) = at {
            back.push(self.ways.corners[i].home);
            at = self.before[i];
        }
        back.push(self.start.home);
        back.reverse();
        back
    }
}
