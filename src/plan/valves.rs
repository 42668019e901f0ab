//! The fewest valves for a hose, and what one valve more or less would change.
use super::cells::{Candidate, Cell, Needs, needs};
use super::cover::{Cover, fewest};
use super::house::House;
use super::ways::Ways;
use std::cell::RefCell;
use std::cmp::Reverse;

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
    let needs = needs(house, ways, places, cells, wand_m);
    let cautious_m = least_by_cell(&needs.cautious_m, cells.len());
    let optimistic_m = least_by_cell(&needs.optimistic_m, cells.len());
    // Hoses that leave out the same cells share what is found of the others.
    let mut floors: Vec<Floor> = Vec::new();
    let mut found = Vec::new();
    for hose_m in hoses_m {
        let (wanted, out): (Vec<usize>, Vec<usize>) =
            (0..cells.len()).partition(|c| cautious_m[*c] <= *hose_m);
        // A cell at the rim of the reach of all places: a part of it may be reached.
        let in_doubt = out.iter().filter(|c| optimistic_m[**c] <= *hose_m).count();
        let known = floors.iter().position(|floor| floor.cells == wanted);
        let floor = known.unwrap_or_else(|| {
            floors.push(Floor::of(&needs, wanted, hoses_m, &cautious_m));
            floors.len() - 1
        });
        found.extend(floors[floor].fewest(*hose_m, out, in_doubt));
    }
    found
}

/// The least that any place wants for each cell.
fn least_by_cell(needs_m: &[Vec<f64>], cells: usize) -> Vec<f64> {
    let mut least = vec![f64::INFINITY; cells];
    for row in needs_m {
        least.iter_mut().zip(row).for_each(|(least, m)| *least = least.min(*m));
    }
    least
}

/// Cells to be covered, and what was found of them.
struct Floor<'a> {
    needs: &'a Needs,
    cells: Vec<usize>,
    /// Every length of hose that may be asked for, the shortest that reaches all first.
    steps_m: Vec<f64>,
    /// The step from which on every place reaches those of the cells that decide: whoever reaches these
    /// reaches all.
    hardest: Vec<Vec<u16>>,
    /// Covers by step.
    known: RefCell<Vec<Option<Cover>>>,
}

impl Floor<'_> {
    fn of<'a>(needs: &'a Needs, cells: Vec<usize>, hoses_m: &[f64], least_m: &[f64]) -> Floor<'a> {
        let low_m = cells.iter().map(|c| least_m[*c]).fold(0.0, f64::max);
        let feet = (0..=LONGEST_FT).map(|feet| feet as f64 * FOOT_M);
        let mut steps_m: Vec<f64> = feet.chain(hoses_m.iter().copied()).filter(|m| *m >= low_m).collect();
        steps_m.sort_by(f64::total_cmp);
        steps_m.dedup();
        let hardest = hardest(by_steps(&needs.cautious_m, &cells, &steps_m));
        let known = RefCell::new(vec![None; steps_m.len()]);
        Floor { needs, cells, steps_m, hardest, known }
    }

    /// `None` where there is no cell to be reached.
    fn fewest(&self, hose_m: f64, out: Vec<usize>, in_doubt: usize) -> Option<Fewest> {
        if self.cells.is_empty() {
            return None;
        }
        let cautious = self.cover(hose_m)?;
        let valves = cautious.chosen.len();
        let at_least = self.at_least(hose_m, valves)?;
        let as_it_is = Spread { valves, hose_m, chosen: cautious.chosen };
        let spread = self.spread(valves, hose_m).unwrap_or(as_it_is);
        let less = valves.checked_sub(1).filter(|n| *n > 0).and_then(|n| self.spread(n, f64::INFINITY));
        let more = self.spread(valves + 1, spread.hose_m - FOOT_M / 2.0);
        let chosen = spread.chosen.clone();
        let proven = at_least == valves && out.is_empty();
        Some(Fewest { hose_m, chosen, at_least, proven, spread, less, more, out, in_doubt })
    }

    /// A cover by the cautious hose lengths; `None` where the hose is too short for some cell.
    fn cover(&self, hose_m: f64) -> Option<Cover> {
        let step = self.steps_m.iter().position(|step_m| *step_m == hose_m)?;
        if let Some(cover) = &self.known.borrow()[step] {
            return Some(cover.clone());
        }
        let rows = self.hardest.iter().map(|from| (0..from.len()).filter(|p| usize::from(from[*p]) <= step));
        let cover = fewest(rows, self.needs.cautious_m.len(), WORK);
        self.known.borrow_mut()[step].clone_from(&cover);
        cover
    }

    /// What no cover by the optimistic hose lengths can do without.
    fn at_least(&self, hose_m: f64, valves: usize) -> Option<usize> {
        let needs_m = &self.needs.optimistic_m;
        let rows = self.cells.iter().map(|c| (0..needs_m.len()).filter(|p| needs_m[*p][*c] <= hose_m));
        if valves == 1 { Some(1) } else { fewest(rows, needs_m.len(), WORK).map(|cover| cover.at_least) }
    }

    /// The shortest hose in whole feet, up to `most_m`, with which so many valves reach all.
    fn spread(&self, valves: usize, most_m: f64) -> Option<Spread> {
        let try_ft = |feet: usize| {
            let cover = self.cover(feet as f64 * FOOT_M)?;
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

/// For each cell, by place, the first step that is enough; one past the last where none is.
fn by_steps(needs_m: &[Vec<f64>], cells: &[usize], steps_m: &[f64]) -> Vec<Vec<u16>> {
    let foot = |m: f64| (m / FOOT_M).min(LONGEST_FT as f64 + 1.0) as usize;
    let no_less = |feet: usize| steps_m.partition_point(|step_m| foot(*step_m) < feet);
    let first: Vec<usize> = (0..=LONGEST_FT + 1).map(no_less).collect();
    let mut found = vec![Vec::with_capacity(needs_m.len()); cells.len()];
    for row in needs_m {
        for (steps, c) in found.iter_mut().zip(cells) {
            let from = first[foot(row[*c])];
            let short = steps_m[from..].iter().take_while(|step_m| **step_m < row[*c]).count();
            steps.push((from + short) as u16);
        }
    }
    found
}

/// Rows that are below no other row at any place.
fn hardest(mut rows: Vec<Vec<u16>>) -> Vec<Vec<u16>> {
    // A row of a greater sum is below none of a lesser.
    rows.sort_by_cached_key(|row| Reverse(row.iter().map(|step| u32::from(*step)).sum::<u32>()));
    rows.dedup();
    let mut kept: Vec<Vec<u16>> = Vec::new();
    for row in rows {
        let below = |kept: &Vec<u16>| row.iter().zip(kept).all(|(step, most)| step <= most);
        if !kept.iter().any(below) {
            kept.push(row);
        }
    }
    kept
}
