//! The hose that each place must have for each cell of the floor: enough for all of it (cautious) and enough for
//! some of it, perhaps (optimistic). Only the cells that decide are asked of: those that wanted most of some choice
//! of places. What covers them is then held against the whole floor.
use super::boxes::Boxes;
use super::cells::{Candidate, Cell};
use super::cover::{Bits, Cover, covered};
use super::house::House;
use super::search::{Measure, Search, Sights, View, hose_m};
use super::sight::Fan;
use super::ways::{Lie, Ways};
use rayon::prelude::*;

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
    let asked = Asked::of(&lies, cells, wand_m);
    let by_place = |measure| {
        let rows: Vec<Vec<f64>> = (0..cells.len()).map(|cell| asked.row(cell, measure)).collect();
        (0..places.len()).map(|place| rows.iter().map(|row| row[place]).collect()).collect()
    };
    Needs { cautious_m: by_place(Measure::Cautious), optimistic_m: by_place(Measure::Optimistic) }
}

/// Where the hose of each place lies.
pub fn lies<'w>(house: &House, ways: &'w Ways, places: &[Candidate]) -> Vec<Lie<'w>> {
    places.par_iter().map(|place| ways.from(house, place.home)).collect()
}

/// The cells of a floor, asked of as far as they decide.
pub struct Asked<'a> {
    boxes: Boxes<'a>,
    lies: &'a [Lie<'a>],
    corners: &'a [Fan],
    /// What the corners show of each box that lies in no other.
    outermost: Vec<Sights>,
    wand_m: f64,
    known: Vec<Known>,
}

/// What is known of a cell, by place.
struct Known {
    cell: usize,
    cautious_m: Vec<f64>,
    optimistic_m: Vec<f64>,
}

impl Known {
    fn row(&self, measure: Measure) -> &[f64] {
        match measure {
            Measure::Cautious => &self.cautious_m,
            Measure::Optimistic => &self.optimistic_m,
        }
    }
}

impl<'a> Asked<'a> {
    /// Asks nothing yet.
    pub fn of(lies: &'a [Lie], cells: &'a [Cell], wand_m: f64) -> Asked<'a> {
        let (boxes, corners) = (Boxes::of(cells), lies.first().map_or(&[][..], |lie| &lie.ways.corners));
        let sights = boxes.outermost().map(|at| {
            let mut sights = Sights::default();
            corners.iter().enumerate().for_each(|(r, fan)| sights.look(&boxes, at, r, fan));
            sights
        });
        Asked { outermost: sights.collect(), boxes, lies, corners, wand_m, known: Vec::new() }
    }

    /// What each place wants for a cell.
    fn row(&self, cell: usize, measure: Measure) -> Vec<f64> {
        let (at, round) = (&self.boxes.cells()[cell], self.boxes.round(cell));
        let told = |fan: &Fan| measure.told(fan, at, round, || fan.parts(at.sheet, &at.piece));
        let own = |lie: &Lie| told(&lie.start).map_or(f64::INFINITY, |m| hose_m(0.0, m, self.wand_m));
        let mut row: Vec<f64> = self.lies.iter().map(own).collect();
        for (r, corner) in self.corners.iter().enumerate() {
            if let Some(straight_m) = told(corner) {
                let each = row.iter_mut().zip(self.lies);
                each.for_each(|(m, lie)| *m = m.min(hose_m(lie.to_m[r], straight_m, self.wand_m)));
            }
        }
        row
    }

    /// Views of every corner for the nearest of some places, and of those places.
    fn views(&self, places: &[usize]) -> Vec<View<'a>> {
        let lies: Vec<&'a Lie> = places.iter().map(|place| &self.lies[*place]).collect();
        let own = lies.iter().map(|lie| View { from_m: 0.0, fan: &lie.start });
        let least = |r: usize| lies.iter().map(|lie| lie.to_m[r]).fold(f64::INFINITY, f64::min);
        let corners = self.corners.iter().enumerate().map(|(r, fan)| View { from_m: least(r), fan });
        corners.chain(own).collect()
    }

    /// Cells that no place reaches with a hose, and how many of them are reached in part, perhaps.
    pub fn out_of_reach(&self, hose_m: f64) -> (Vec<usize>, usize) {
        let mut out = Vec::new();
        let all: Vec<usize> = (0..self.lies.len()).collect();
        let views = self.views(&all);
        Search::new(&self.boxes, &views, self.wand_m, hose_m).each(
            &self.outermost,
            self.corners.len(),
            &mut |cell, _| {
                out.push(cell);
                hose_m
            },
        );
        let in_part = |cell: &&usize| self.row(**cell, Measure::Optimistic).iter().any(|m| *m <= hose_m);
        let in_doubt = out.iter().filter(in_part).count();
        out.sort_unstable();
        (out, in_doubt)
    }

    /// The fewest places that reach every cell asked of so far with a hose, but for those in `out`; `None` where one of
    /// them is reached by no place. No more than `work` choices are tried.
    pub fn cover_known(&self, hose_m: f64, out: &[usize], measure: Measure, work: usize) -> Option<Cover> {
        let known = self.known.iter().filter(|known| out.binary_search(&known.cell).is_err());
        let word = |some: &[f64]| {
            some.iter().enumerate().fold(0_u64, |word, (i, m)| word | u64::from(*m <= hose_m) << i)
        };
        let bits = |known: &Known| known.row(measure).chunks(64).map(word).collect::<Bits>();
        covered(known.map(bits).collect(), self.lies.len(), work)
    }

    /// Whether some places reach every cell with a hose, but for those in `out`. Where they do not, the cell that
    /// wants most of them is asked of.
    pub fn reach(&mut self, places: &[usize], hose_m: f64, out: &[usize], measure: Measure) -> bool {
        let mut worst = None;
        let views = self.views(places);
        let mut search = Search::new(&self.boxes, &views, self.wand_m, hose_m);
        search.measure = measure;
        let mut more_than_m = hose_m;
        search.each(&self.outermost, self.corners.len(), &mut |cell, wants_m| {
            let known = || self.known.iter().find(|known| known.cell == cell);
            if out.binary_search(&cell).is_err() && known().is_none() {
                (worst, more_than_m) = (Some(cell), wants_m);
            }
            more_than_m
        });
        if let Some(cell) = worst {
            let row = |measure| self.row(cell, measure);
            let known =
                Known { cell, cautious_m: row(Measure::Cautious), optimistic_m: row(Measure::Optimistic) };
            self.known.push(known);
        }
        worst.is_none()
    }
}
