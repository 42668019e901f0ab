//! The fewest columns that cover every row: set cover, proved by branch and bound.
//!
//! Rows with a choice that holds another's are dropped, then the row with the fewest columns is taken and
//! each of them tried, those tried before it shut. Rows that share no column each want one of their own:
//! their number is the bound. The search ends by work done, never by the clock, and then says that it has
//! proved nothing.
use std::collections::BTreeSet;

/// An answer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Cover {
    /// Columns, in order.
    pub chosen: Vec<usize>,
    /// No cover has fewer.
    pub at_least: usize,
}

impl Cover {
    /// Whether no cover has fewer.
    pub fn proven(&self) -> bool {
        self.chosen.len() == self.at_least
    }
}

/// A set of small numbers.
type Bits = Vec<u64>;

fn has(bits: &[u64], i: usize) -> bool {
    bits[i / 64] >> (i % 64) & 1 == 1
}

fn ones(bits: &[u64]) -> impl Iterator<Item = usize> + '_ {
    bits.iter().enumerate().flat_map(|(w, word)| {
        let mut left = *word;
        std::iter::from_fn(move || {
            let at = (left != 0).then(|| left.trailing_zeros() as usize)?;
            left &= left - 1;
            Some(w * 64 + at)
        })
    })
}

/// The fewest columns so that every row holds one of them. Each row lists its columns, below `columns`;
/// `None` where a row has none. No more than `work` choices are tried.
pub fn fewest(rows: &[Vec<usize>], columns: usize, work: usize) -> Option<Cover> {
    if rows.iter().any(|row| row.is_empty()) {
        return None;
    }
    let words = columns.div_ceil(64).max(1);
    let bits = |row: &Vec<usize>| {
        let mut bits = vec![0_u64; words];
        row.iter().for_each(|c| bits[c / 64] |= 1 << (c % 64));
        bits
    };
    let rows = least_rows(rows.iter().map(bits).collect());
    let mut search = Search { best: greedy(&rows, columns), work, rows, columns };
    let at_least = bound(&search.rows.iter().collect::<Vec<_>>());
    let open: Vec<usize> = (0..search.rows.len()).collect();
    let mut full = vec![u64::MAX; words];
    if !columns.is_multiple_of(64) {
        full[words - 1] = (1 << (columns % 64)) - 1;
    }
    let done = search.branch(&open, &full, &mut Vec::new());
    let mut chosen = search.best;
    chosen.sort_unstable();
    let at_least = if done { chosen.len() } else { at_least };
    Some(Cover { chosen, at_least })
}

/// Rows of which none holds another: covering the smaller covers the larger.
fn least_rows(rows: Vec<Bits>) -> Vec<Bits> {
    let unlike: BTreeSet<Bits> = rows.into_iter().collect();
    let mut unlike: Vec<Bits> = unlike.into_iter().collect();
    unlike.sort_by_key(|row| ones(row).count());
    let mut kept: Vec<Bits> = Vec::new();
    for row in unlike {
        let holds = |less: &Bits| less.iter().zip(&row).all(|(a, b)| a & !b == 0);
        if !kept.iter().any(holds) {
            kept.push(row);
        }
    }
    kept
}

/// Always the column of the most open rows.
fn greedy(rows: &[Bits], columns: usize) -> Vec<usize> {
    let mut open: Vec<&Bits> = rows.iter().collect();
    let mut chosen = Vec::new();
    while !open.is_empty() {
        let best = (0..columns).max_by_key(|c| (open.iter().filter(|row| has(row, *c)).count(), columns - c));
        let Some(best) = best else { break };
        open.retain(|row| !has(row, best));
        chosen.push(best);
    }
    chosen
}

/// How many rows share no column, taken greedily from the shortest.
fn bound(rows: &[&Bits]) -> usize {
    let mut order: Vec<&&Bits> = rows.iter().collect();
    order.sort_by_key(|row| ones(row).count());
    let mut used: Bits = vec![0; rows.first().map_or(0, |row| row.len())];
    let mut apart = 0;
    for row in order {
        if row.iter().zip(&used).all(|(a, b)| a & b == 0) {
            used.iter_mut().zip(row.iter()).for_each(|(a, b)| *a |= b);
            apart += 1;
        }
    }
    apart
}

struct Search {
    rows: Vec<Bits>,
    columns: usize,
    best: Vec<usize>,
    work: usize,
}

impl Search {
    /// Tries every way to cover the open rows with the columns still allowed; tells whether it came to the
    /// end.
    fn branch(&mut self, open: &[usize], allowed: &Bits, chosen: &mut Vec<usize>) -> bool {
        if open.is_empty() {
            if chosen.len() < self.best.len() {
                self.best = chosen.clone();
            }
            return true;
        }
        if self.work == 0 {
            return false;
        }
        self.work -= 1;
        let narrowed: Vec<Bits> =
            open.iter().map(|r| self.rows[*r].iter().zip(allowed).map(|(a, b)| a & b).collect()).collect();
        let left: Vec<&Bits> = narrowed.iter().collect();
        if chosen.len() + bound(&left) >= self.best.len() {
            return true;
        }
        let Some(row) = narrowed.iter().min_by_key(|row| ones(row).count()) else { return true };
        let mut tries: Vec<usize> = ones(row).collect();
        let covers = |c: usize| narrowed.iter().filter(|row| has(row, c)).count();
        tries.sort_by_key(|c| (self.columns * open.len()).saturating_sub(covers(*c)));
        let mut allowed = allowed.clone();
        for column in tries {
            let rest: Vec<usize> = open.iter().copied().filter(|r| !has(&self.rows[*r], column)).collect();
            chosen.push(column);
            let done = self.branch(&rest, &allowed, chosen);
            chosen.pop();
            if !done {
                return false;
            }
            allowed[column / 64] &= !(1 << (column % 64));
        }
        true
    }
}
