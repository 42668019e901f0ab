//! The fewest valves for a hose, and what one valve more or less would change.
use super::cells::{Candidate, Cell};
use super::cover::Cover;
use super::house::House;
use super::needs::{Asked, lies};
use super::search::Measure;
use super::ways::Ways;
use std::collections::BTreeMap;

/// Choices tried by one search for a cover.
const WORK: usize = 50_000;
/// Hoses are compared in whole feet, as they are sold.
const FOOT_M: f64 = 0.3048;
/// Hoses that differ by less are of one length, m.
const CLOSE_M: f64 = 1e-9;
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
        let (mut out, mut in_doubt) = (Vec::new(), 0);
        let mut cover = cover(&mut asked, *hose_m, &out, Measure::Cautious);
        if cover.is_none() {
            // A cell at the rim of the reach of all places: a part of it may be reached.
            (out, in_doubt) = asked.out_of_reach(*hose_m);
            if out.len() < cells.len() {
                cover = self::cover(&mut asked, *hose_m, &out, Measure::Cautious);
            }
        }
        let known = floors.iter().position(|floor| floor.out == out);
        let floor = known.unwrap_or_else(|| {
            floors.push(Floor { out, spreads: BTreeMap::new() });
            floors.len() - 1
        });
        found.extend(cover.map(|cover| floors[floor].fewest(&mut asked, *hose_m, cover, in_doubt)));
    }
    found
}

/// The fewest places that reach every cell with a hose, but for those in `out`; `None` where no place reaches one.
fn cover(asked: &mut Asked, hose_m: f64, out: &[usize], measure: Measure) -> Option<Cover> {
    loop {
        let cover = asked.cover_known(hose_m, out, measure, WORK)?;
        if asked.reach(&cover.chosen, hose_m, out, measure) {
            return Some(cover);
        }
    }
}

/// Cells to be covered, and what was found of them.
struct Floor {
    /// Cells that are left out of account.
    out: Vec<usize>,
    /// By number of valves, the shortest hose with which so many reach all others.
    spreads: BTreeMap<usize, Option<Spread>>,
}

impl Floor {
    fn fewest(&mut self, asked: &mut Asked, hose_m: f64, cautious: Cover, in_doubt: usize) -> Fewest {
        let valves = cautious.chosen.len();
        let at_least = self.at_least(asked, hose_m, valves);
        let as_it_is = Spread { valves, hose_m, chosen: cautious.chosen };
        let spread = self.spread(asked, valves).filter(|spread| spread.hose_m < hose_m + CLOSE_M);
        let spread = spread.unwrap_or(as_it_is);
        let less = valves.checked_sub(1).filter(|n| *n > 0).and_then(|n| self.spread(asked, n));
        let shorter = |more: &Spread| more.hose_m < spread.hose_m - FOOT_M / 2.0;
        let more = self.spread(asked, valves + 1).filter(shorter);
        let (chosen, out) = (spread.chosen.clone(), self.out.clone());
        let proven = at_least == valves && out.is_empty();
        Fewest { hose_m, chosen, at_least, proven, spread, less, more, out, in_doubt }
    }

    /// What no cover by the optimistic hose lengths can do without.
    fn at_least(&self, asked: &mut Asked, hose_m: f64, valves: usize) -> usize {
        if valves == 1 {
            return 1;
        }
        cover(asked, hose_m, &self.out, Measure::Optimistic).map_or(0, |cover| cover.at_least)
    }

    /// The shortest hose in whole feet with which so many valves reach all.
    fn spread(&mut self, asked: &mut Asked, valves: usize) -> Option<Spread> {
        if let Some(known) = self.spreads.get(&valves) {
            return known.clone();
        }
        let spread = self.shortest(asked, valves);
        self.spreads.insert(valves, spread.clone());
        spread
    }

    /// With a longer hose no more valves are wanted. So no hose does that is too short for the cells asked of, and the
    /// first that does for them is held against all.
    fn shortest(&self, asked: &mut Asked, valves: usize) -> Option<Spread> {
        let mut feet = 1;
        while feet <= LONGEST_FT {
            let hose_m = feet as f64 * FOOT_M;
            let cover = asked.cover_known(hose_m, &self.out, Measure::Cautious, WORK);
            let Some(Cover { chosen, .. }) = cover.filter(|cover| cover.chosen.len() <= valves) else {
                feet += 1;
                continue;
            };
            if asked.reach(&chosen, hose_m, &self.out, Measure::Cautious) {
                return Some(Spread { valves, hose_m, chosen });
            }
        }
        None
    }
}
