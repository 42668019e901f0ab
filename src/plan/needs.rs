//! The hose that each place must have for each cell of the floor: enough for all of it (cautious) and enough for
//! some of it, perhaps (optimistic). Cells are taken together, box in box: what is enough for a whole box bounds
//! all that lies in it, so that only boxes that may decide are ever opened.
use super::cells::{Candidate, Cell};
use super::cover::Bits;
use super::house::House;
use super::shown::{Boxes, Sights};
use super::sight::Fan;
use super::wants::{Places, Wants};
use super::ways::{Lie, Ways};
use rayon::prelude::*;
use std::cmp::Reverse;
use std::collections::BinaryHeap;

/// Hose from every place to every cell, metres; infinite where none leads there.
#[derive(Debug, Clone, PartialEq)]
pub struct Needs {
    /// By place, then by cell: enough for all of the cell.
    pub cautious_m: Vec<Vec<f64>>,
    /// No more than what any of its points wants, but for those that are seen through a crack without width.
    pub optimistic_m: Vec<Vec<f64>>,
}

/// The hose from every place to every cell.
pub fn needs(house: &House, ways: &Ways, places: &[Candidate], cells: &[Cell], wand_m: f64) -> Needs {
    let lies = lies(house, ways, places);
    let mut asked = Asked::of(&lies, cells, wand_m);
    let mut cautious_m = vec![vec![f64::INFINITY; cells.len()]; places.len()];
    let mut optimistic_m = cautious_m.clone();
    let mut open = asked.outermost();
    while let Some(at) = open.pop() {
        if let Some(halves) = asked.halves(at) {
            open.extend(halves);
            continue;
        }
        let c = asked.cell(at);
        cautious_m.iter_mut().zip(&asked.known[at].enough_m).for_each(|(row, m)| row[c] = *m);
        optimistic_m.iter_mut().zip(asked.least_m(at)).for_each(|(row, m)| row[c] = *m);
    }
    Needs { cautious_m, optimistic_m }
}

/// Where the hose of each place lies.
pub fn lies<'w>(house: &House, ways: &'w Ways, places: &[Candidate]) -> Vec<Lie<'w>> {
    places.par_iter().map(|place| ways.from(house, place.home)).collect()
}

/// The cells of a floor, asked of as far as they decide.
pub struct Asked<'a> {
    boxes: Boxes<'a>,
    /// Views of all corners, and after them of the places.
    views: Vec<&'a Fan>,
    places: Places,
    /// Boxes that were opened; first those that lie in no other.
    known: Vec<Known>,
    outermost: usize,
    /// Ways by which views show boxes.
    ways: Vec<usize>,
}

/// What is known of an open box.
struct Known {
    /// Its number among [`Boxes`].
    number: usize,
    /// The open box that it lies in.
    outer: Option<usize>,
    /// Both boxes in it, where they are open.
    halves: Option<[usize; 2]>,
    sights: Sights,
    /// By place: enough for all that lies in it.
    enough_m: Vec<f64>,
    /// By place, of a single cell: enough for some of it, perhaps. Empty before somebody asked.
    least_m: Vec<f64>,
    /// Whether more is known of it than the box around it tells.
    news: bool,
}

/// What is known of an open box and of those that it lies in, the innermost first.
fn round(known: &[Known], at: usize) -> Vec<&Sights> {
    std::iter::successors(Some(at), |at| known[*at].outer).map(|at| &known[at].sights).collect()
}

/// Which of both lengths of hose is meant.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Measure {
    Cautious,
    Optimistic,
}

/// Sets of places, each of which reaches some cell.
pub struct Sets {
    pub rows: Vec<Bits>,
    /// So many of them share no place with each other, and want one each; no number does where a cell is
    /// out of reach of every place.
    pub apart: usize,
    /// Whether these are all that decide.
    pub whole: bool,
}

impl<'a> Asked<'a> {
    /// Asks nothing yet.
    pub fn of(lies: &'a [Lie], cells: &'a [Cell], wand_m: f64) -> Asked<'a> {
        let corners: &[Fan] = lies.first().map_or(&[], |lie| &lie.ways.corners);
        let views = corners.iter().chain(lies.iter().map(|lie| &lie.start)).collect();
        let mut asked = Asked {
            boxes: Boxes::of(cells),
            views,
            places: Places::of(lies, wand_m),
            known: Vec::new(),
            outermost: 0,
            ways: Vec::new(),
        };
        for number in asked.boxes.outermost() {
            let mut wants = asked.places.wants();
            let sights = asked.boxes.look(number, &asked.views, &mut asked.ways, &mut wants);
            let enough_m = asked.enough_m(number, &[&sights], wants);
            let (outer, halves, least_m) = (None, None, Vec::new());
            asked.known.push(Known { number, outer, halves, sights, enough_m, least_m, news: true });
        }
        asked.outermost = asked.known.len();
        asked
    }

    /// How many places there are.
    pub fn places(&self) -> usize {
        self.places.count()
    }

    fn outermost(&self) -> Vec<usize> {
        (0..self.outermost).collect()
    }

    /// The first cell of an open box.
    fn cell(&self, at: usize) -> usize {
        self.boxes.cell(self.known[at].number)
    }

    /// Opens the two boxes in an open one; `None` for a single cell.
    fn halves(&mut self, at: usize) -> Option<[usize; 2]> {
        if self.known[at].halves.is_none() {
            let numbers = self.boxes.halves(self.known[at].number)?;
            let halves = numbers.map(|number| {
                let (mut round, mut wants) = (round(&self.known, at), self.places.wants());
                let sights = self.boxes.look_in(number, &round, &self.views, &mut self.ways, &mut wants);
                round.insert(0, &sights);
                let enough_m = self.enough_m(number, &round, wants);
                let (outer, halves, least_m) = (Some(at), None, Vec::new());
                self.known.push(Known { number, outer, halves, sights, enough_m, least_m, news: true });
                self.known.len() - 1
            });
            self.known[at].halves = Some(halves);
        }
        self.known[at].halves
    }

    /// What is enough for a box, known as far as views show it whole: exactly so for a cell.
    fn enough_m(&self, number: usize, sights: &[&Sights], mut wants: Wants) -> Vec<f64> {
        if self.boxes.halves(number).is_none() {
            self.boxes.shown_whole(number, sights, &self.views, &self.ways, &mut wants);
        }
        wants.m
    }

    /// What is enough for both halves of a box is enough for it, and often less than was known.
    fn tighten(&mut self) {
        // A box stands before its halves.
        for at in (0..self.known.len()).rev() {
            let Some([a, b]) = self.known[at].halves else { continue };
            if !(self.known[a].news || self.known[b].news) {
                continue;
            }
            (self.known[a].news, self.known[b].news, self.known[at].news) = (false, false, true);
            let (outer, inner) = self.known.split_at_mut(a.min(b));
            let (a, b) = (&inner[0].enough_m, &inner[a.abs_diff(b)].enough_m);
            let row = outer[at].enough_m.iter_mut().zip(a.iter().zip(b));
            row.for_each(|(m, (a, b))| *m = if a < b { *b } else { *a });
        }
    }

    /// By place, of a single cell: enough for some of it, perhaps.
    fn least_m(&mut self, at: usize) -> &[f64] {
        if self.known[at].least_m.is_empty() {
            let (round, mut wants) = (round(&self.known, at), self.places.wants());
            let number = self.known[at].number;
            self.boxes.shown_in_part(number, &round, &self.views, &self.ways, &mut wants);
            self.known[at].least_m = wants.m;
        }
        &self.known[at].least_m
    }

    /// Cells that no place reaches with a hose, and how many of them are reached in part, perhaps.
    pub fn out_of_reach(&mut self, hose_m: f64) -> (Vec<usize>, usize) {
        let least = |row: &[f64]| row.iter().copied().fold(f64::INFINITY, f64::min);
        let (mut out, mut in_doubt) = (Vec::new(), 0);
        let mut open = self.outermost();
        while let Some(at) = open.pop() {
            if least(&self.known[at].enough_m) <= hose_m {
                continue;
            }
            if let Some(halves) = self.halves(at) {
                open.extend(halves);
            } else {
                out.push(self.cell(at));
                in_doubt += usize::from(least(self.least_m(at)) <= hose_m);
            }
        }
        self.tighten();
        out.sort_unstable();
        (out, in_doubt)
    }

    /// The sets of places that reach a cell with a hose, of which none holds another: who has one of each
    /// reaches every cell but those in `out`. The smallest first, alike ones in the order of their bits.
    ///
    /// It ends where more than `most` of them are found to share no place, or one is empty.
    pub fn least_sets(&mut self, hose_m: f64, out: &[usize], measure: Measure, most: usize) -> Sets {
        let mut found = Sets { rows: Vec::new(), apart: 0, whole: false };
        // Often what is open already shows that more are wanted.
        let open = if most == usize::MAX { 0 } else { self.cells_apart(hose_m, out, measure) };
        if open > most {
            return Sets { apart: open, ..found };
        }
        let mut used = vec![0_u64; self.places().div_ceil(64)];
        let key = |asked: &mut Asked, at: usize| {
            let bits = asked.reached(at, hose_m, measure);
            Reverse((bits.iter().map(|word| word.count_ones()).sum::<u32>(), bits, at))
        };
        let mut open: BinaryHeap<_> = self.outermost().into_iter().map(|at| key(self, at)).collect();
        // What lies in a box is reached from wherever the box is: no later set is smaller.
        while let Some(Reverse((count, bits, at))) = open.pop() {
            if found.rows.iter().any(|less| less.iter().zip(&bits).all(|(a, b)| a & !b == 0)) {
                continue;
            }
            if let Some(halves) = self.halves(at) {
                open.extend(halves.map(|half| key(self, half)));
                continue;
            }
            if out.binary_search(&self.cell(at)).is_ok() {
                continue;
            }
            if bits.iter().zip(&used).all(|(a, b)| a & b == 0) {
                used.iter_mut().zip(&bits).for_each(|(a, b)| *a |= b);
                found.apart = if count == 0 { usize::MAX } else { found.apart + 1 };
            }
            found.rows.push(bits);
            if found.apart > most || count == 0 {
                self.tighten();
                return found;
            }
        }
        self.tighten();
        found.whole = true;
        found
    }

    /// So many of the cells that are open already share no place with each other, taken from those with the fewest.
    fn cells_apart(&mut self, hose_m: f64, out: &[usize], measure: Measure) -> usize {
        let single = |at: &usize| {
            let number = self.known[*at].number;
            self.boxes.halves(number).is_none() && out.binary_search(&self.boxes.cell(number)).is_err()
        };
        let cells: Vec<usize> = (0..self.known.len()).filter(single).collect();
        let mut sets: Vec<Bits> = cells.into_iter().map(|at| self.reached(at, hose_m, measure)).collect();
        sets.sort_by_cached_key(|bits| bits.iter().map(|word| word.count_ones()).sum::<u32>());
        let mut used = vec![0_u64; self.places().div_ceil(64)];
        let mut apart = 0;
        for bits in sets {
            if bits.iter().all(|word| *word == 0) {
                return usize::MAX;
            }
            if bits.iter().zip(&used).all(|(a, b)| a & b == 0) {
                used.iter_mut().zip(&bits).for_each(|(a, b)| *a |= b);
                apart += 1;
            }
        }
        apart
    }

    /// The places from which so much hose is enough for a box.
    fn reached(&mut self, at: usize, hose_m: f64, measure: Measure) -> Bits {
        let single = self.boxes.halves(self.known[at].number).is_none();
        let row = match measure {
            Measure::Optimistic if single => self.least_m(at),
            _ => &self.known[at].enough_m,
        };
        let word = |some: &[f64]| {
            some.iter().enumerate().fold(0_u64, |word, (i, m)| word | u64::from(*m <= hose_m) << i)
        };
        row.chunks(64).map(word).collect()
    }
}
