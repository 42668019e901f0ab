//! The fewest valves for a hose, and what one valve more or less would change.
use super::cells::{Candidate, Cell, Needs, needs};
use super::cover::{Cover, fewest};
use super::house::House;
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

/// Hose and cover of a floor, ready for any hose length.
pub struct Floor<'a> {
    needs: &'a Needs,
    /// Cells to be covered.
    cells: Vec<usize>,
}

/// The fewest valves for each of these hoses. Cells that no place reaches with the longest of hoses are left
/// out of account and told.
pub fn fewest_valves(
    house: &House,
    ways: &Ways,
    places: &[Candidate],
    cells: &[Cell],
    wand_m: f64,
    hoses_m: &[f64],
) -> Vec<Fewest> {
    let needs = needs(house, ways, places, cells, wand_m);
    hoses_m.iter().filter_map(|hose_m| for_hose(&needs, cells.len(), *hose_m)).collect()
}

/// The fewest valves for one hose, from hose lengths already reckoned; `None` where no place reaches any
/// floor.
pub fn for_hose(needs: &Needs, cells: usize, hose_m: f64) -> Option<Fewest> {
    let some = |list: &[Vec<f64>], c: usize| list.iter().any(|row| row[c] <= hose_m);
    let (mut wanted, mut out, mut in_doubt) = (Vec::new(), Vec::new(), 0);
    for c in 0..cells {
        if some(&needs.cautious_m, c) {
            wanted.push(c);
        } else {
            // A cell at the rim of the reach of all places: a part of it may be reached.
            in_doubt += usize::from(some(&needs.optimistic_m, c));
            out.push(c);
        }
    }
    if wanted.is_empty() {
        return None;
    }
    let floor = Floor { needs, cells: wanted };
    let cautious = floor.cover(&needs.cautious_m, hose_m)?;
    let optimistic = floor.cover(&floor.needs.optimistic_m, hose_m)?;
    let valves = cautious.chosen.len();
    let spread =
        floor.spread(valves, hose_m).unwrap_or(Spread { valves, hose_m, chosen: cautious.chosen.clone() });
    let less = valves.checked_sub(1).filter(|n| *n > 0).and_then(|n| floor.spread(n, f64::INFINITY));
    let more = floor.spread(valves + 1, spread.hose_m - FOOT_M / 2.0);
    Some(Fewest {
        hose_m,
        chosen: spread.chosen.clone(),
        at_least: optimistic.at_least,
        proven: optimistic.at_least == valves && out.is_empty(),
        spread,
        less,
        more,
        out,
        in_doubt,
    })
}

impl Floor<'_> {
    fn cover(&self, needs_m: &[Vec<f64>], hose_m: f64) -> Option<Cover> {
        let row = |c: &usize| (0..needs_m.len()).filter(|p| needs_m[*p][*c] <= hose_m).collect();
        let rows: Vec<Vec<usize>> = self.cells.iter().map(row).collect();
        fewest(&rows, needs_m.len(), WORK)
    }

    /// The shortest hose in whole feet, up to `most_m`, with which so many valves reach all.
    fn spread(&self, valves: usize, most_m: f64) -> Option<Spread> {
        let try_ft = |feet: usize| {
            let cover = self.cover(&self.needs.cautious_m, feet as f64 * FOOT_M)?;
            (cover.chosen.len() <= valves).then_some(cover.chosen)
        };
        let most_ft = (most_m / FOOT_M + 1e-9).floor().min(LONGEST_FT as f64).max(0.0) as usize;
        let mut best = (most_ft, try_ft(most_ft)?);
        let mut low = 0;
        while best.0 - low > 1 {
            let feet = (best.0 + low) / 2;
            match try_ft(feet) {
                Some(chosen) => best = (feet, chosen),
                None => low = feet,
            }
        }
        Some(Spread { valves, hose_m: best.0 as f64 * FOOT_M, chosen: best.1 })
    }
}
