//! The fewest valves for a hose, and what one valve more or less would change.
use super::cells::{Candidate, Cell};
use super::cover::{Cover, fewest_of};
use super::house::House;
use super::needs::{Asked, Measure, Sets, lies};
use super::ways::Ways;

/// Choices tried by one search for a cover.
const WORK: usize = 200_000;
/// Hoses are compared in whole feet, as they are sold.
const FOOT_M: f64 = 0.3048;
/// No hose is longer.
const LONGEST_FT: usize = 100;

/// The fewest valves for a hose.
#[derive(Debug, Clone, PartialEq)]
pub struct Fewest {
    pub hose_m: f64,
    /// Indices into the places.
    pub chosen: Vec<usize>,
    /// No choice of these places with fewer can reach all of that floor.
    pub at_least: usize,
    /// Whether that was proved, the optimistic and the cautious cells agreeing.
    pub proven: bool,
    /// The shortest hose with which as many valves still do; the places chosen are those for it.
    pub spread: Spread,
    /// The same for one valve less and one more; `None` where it cannot be, or does not help.
    pub less: Option<Spread>,
    pub more: Option<Spread>,
    /// Cells that no place reaches with this hose, and whether some of them are in doubt.
    pub out: Vec<usize>,
    pub in_doubt: usize,
}

/// So many valves, and the shortest hose that then reaches all.
#[derive(Debug, Clone, PartialEq)]
pub struct Spread {
    pub valves: usize,
    pub hose_m: f64,
    pub chosen: Vec<usize>,
}

/// The fewest valves for each of these hoses. Cells that no place reaches with a hose are left out of account
/// for it and told.
pub fn fewest_valves(
    house: &House,
    ways: &Ways,
    places: &[Candidate],
    cells: &[Cell],
    wand_m: f64,
    hoses_m: &[f64],
) -> Vec<Fewest> {
    let lies = lies(house, ways, places);
    let mut asked = Asked::of(&lies, cells, wand_m);
    // Hoses that leave out the same cells share what is found of the others.
    let mut floors: Vec<Floor> = Vec::new();
    let mut found = Vec::new();
    for hose_m in hoses_m {
        // A cell at the rim of the reach of all places: a part of it may be reached.
        let (out, in_doubt) = asked.out_of_reach(*hose_m);
        if out.len() == cells.len() {
            continue;
        }
        let known = floors.iter().position(|floor| floor.out == out);
        let floor = known.unwrap_or_else(|| {
            floors.push(Floor { out, known: Vec::new() });
            floors.len() - 1
        });
        found.extend(floors[floor].fewest(&mut asked, *hose_m, in_doubt));
    }
    found
}

/// Cells to be covered, and what was found of them.
struct Floor {
    /// Cells that are left out of account.
    out: Vec<usize>,
    known: Vec<Known>,
}

/// What is known for one length of hose.
struct Known {
    hose_m: f64,
    /// So many valves do at least.
    at_least: usize,
    cover: Option<Cover>,
}

impl Floor {
    fn fewest(&mut self, asked: &mut Asked, hose_m: f64, in_doubt: usize) -> Option<Fewest> {
        let cautious = self.cover(asked, hose_m, usize::MAX)?;
        let valves = cautious.chosen.len();
        let at_least = self.at_least(asked, hose_m, valves);
        let as_it_is = Spread { valves, hose_m, chosen: cautious.chosen };
        let spread = self.spread(asked, valves, hose_m).unwrap_or(as_it_is);
        let less =
            valves.checked_sub(1).filter(|n| *n > 0).and_then(|n| self.spread(asked, n, f64::INFINITY));
        let more = self.spread(asked, valves + 1, spread.hose_m - FOOT_M / 2.0);
        let chosen = spread.chosen.clone();
        let out = self.out.clone();
        let proven = at_least == valves && out.is_empty();
        Some(Fewest { hose_m, chosen, at_least, proven, spread, less, more, out, in_doubt })
    }

    /// A cover by the cautious hose lengths; `None` where the hose is too short for some cell, or it is seen
    /// before the search that more than `most` valves are wanted.
    fn cover(&mut self, asked: &mut Asked, hose_m: f64, most: usize) -> Option<Cover> {
        let known = self.known.iter().find(|known| known.hose_m == hose_m && known.cover.is_some());
        if let Some(known) = known {
            return known.cover.clone();
        }
        let Sets { rows, apart, whole } = asked.least_sets(hose_m, &self.out, Measure::Cautious, most);
        let cover = whole.then(|| fewest_of(rows, asked.places(), WORK));
        let at_least = cover.as_ref().map_or(apart, |cover| cover.at_least);
        self.known.push(Known { hose_m, at_least, cover: cover.clone() });
        cover
    }

    /// What no cover by the optimistic hose lengths can do without.
    fn at_least(&self, asked: &mut Asked, hose_m: f64, valves: usize) -> usize {
        if valves == 1 {
            return 1;
        }
        let sets = asked.least_sets(hose_m, &self.out, Measure::Optimistic, usize::MAX);
        fewest_of(sets.rows, asked.places(), WORK).at_least
    }

    /// The shortest hose in whole feet, up to `most_m`, with which so many valves reach all.
    fn spread(&mut self, asked: &mut Asked, valves: usize, most_m: f64) -> Option<Spread> {
        let most_ft = (most_m / FOOT_M + 1e-9).floor().min(LONGEST_FT as f64).max(0.0) as usize;
        if !self.does(asked, most_ft, valves) {
            return None;
        }
        let (mut low, mut best) = (0, most_ft);
        while best - low > 1 {
            let feet = usize::midpoint(low, best);
            if self.does(asked, feet, valves) {
                best = feet;
            } else {
                low = feet;
            }
        }
        let hose_m = best as f64 * FOOT_M;
        let chosen = self.cover(asked, hose_m, usize::MAX)?.chosen;
        Some(Spread { valves, hose_m, chosen })
    }

    /// Whether so many valves reach all with a hose: with a longer one no fewer do, with a shorter no more.
    fn does(&mut self, asked: &mut Asked, feet: usize, valves: usize) -> bool {
        let hose_m = feet as f64 * FOOT_M;
        let do_with = |known: &Known| known.cover.as_ref().is_some_and(|cover| cover.chosen.len() <= valves);
        if self.known.iter().any(|known| known.hose_m <= hose_m && do_with(known)) {
            return true;
        }
        if self.known.iter().any(|known| known.hose_m >= hose_m && known.at_least > valves) {
            return false;
        }
        self.cover(asked, hose_m, valves).is_some_and(|cover| cover.chosen.len() <= valves)
    }
}
