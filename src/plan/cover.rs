//! The fewest columns that cover every row: set cover, proved by branch and bound.
//!
//! Rows with a choice that holds another's are dropped, then the row with the fewest columns is taken and
//! each of them tried, those tried before it shut, and those left out of which another one has all rows. Rows that
//! share no column each want one of their own: their number is the bound; and where no column is in every row, there
//! must be two. The search ends by work done, never by the clock, and then says that it has proved nothing.
use std::borrow::Borrow;
use std::cmp::Reverse;
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

/// A set of small numbers, 64 to a word.
pub type Bits = Vec<u64>;

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

/// Whether a set holds all of another.
fn within(less: &[u64], more: &[u64]) -> bool {
    less.iter().zip(more).all(|(a, b)| a & !b == 0)
}

fn count(bits: &[u64]) -> u32 {
    bits.iter().map(|word| word.count_ones()).sum()
}

/// How many rows hold each column.
fn counts<'a>(rows: impl Iterator<Item = &'a [u64]>, columns: usize) -> Vec<usize> {
    let mut counts = vec![0; columns];
    rows.for_each(|row| ones(row).for_each(|c| counts[c] += 1));
    counts
}

/// The fewest columns so that every row holds one of them. Each row tells its columns, below `columns`;
/// `None` where a row has none. No more than `work` choices are tried.
pub fn fewest<R>(rows: impl IntoIterator<Item = R>, columns: usize, work: usize) -> Option<Cover>
where
    R: IntoIterator<Item: Borrow<usize>>,
{
    let words = columns.div_ceil(64).max(1);
    let bits = |row: R| {
        let mut bits = vec![0_u64; words];
        for c in row {
            let c = *c.borrow();
            bits[c / 64] |= 1 << (c % 64);
        }
        bits
    };
    covered(rows.into_iter().map(bits).collect(), columns, work)
}

/// The same for rows that stand as sets.
pub fn covered(unlike: BTreeSet<Bits>, columns: usize, work: usize) -> Option<Cover> {
    if unlike.iter().any(|row| count(row) == 0) {
        return None;
    }
    let rows = least_rows(unlike);
    let mut search = Search { best: greedy(&rows, columns), work, rows };
    let at_least = bound(search.rows.iter().map(Vec::as_slice));
    let open: Vec<usize> = (0..search.rows.len()).collect();
    let mut full = vec![u64::MAX; columns.div_ceil(64).max(1)];
    if let (Some(last), 1..) = (full.last_mut(), columns % 64) {
        *last = (1 << (columns % 64)) - 1;
    }
    let done = search.branch(&open, &full, &mut Vec::new());
    let mut chosen = search.best;
    chosen.sort_unstable();
    let at_least = if done { chosen.len() } else { at_least };
    Some(Cover { chosen, at_least })
}

/// Rows of which none holds another: covering the smaller covers the larger.
fn least_rows(unlike: BTreeSet<Bits>) -> Vec<Bits> {
    let mut unlike: Vec<Bits> = unlike.into_iter().collect();
    unlike.sort_by_cached_key(|row| count(row));
    let mut kept: Vec<Bits> = Vec::new();
    for row in unlike {
        if !kept.iter().any(|less| within(less, &row)) {
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
        let counts = counts(open.iter().map(|row| row.as_slice()), columns);
        let best = (0..columns).max_by_key(|c| (counts[*c], columns - c));
        let Some(best) = best else { break };
        open.retain(|row| !has(row, best));
        chosen.push(best);
    }
    chosen
}

/// How many rows share no column, taken greedily from the shortest.
fn bound<'a>(rows: impl Iterator<Item = &'a [u64]>) -> usize {
    let mut order: Vec<&[u64]> = rows.collect();
    order.sort_by_cached_key(|row| count(row));
    let mut used: Bits = vec![0; order.first().map_or(0, |row| row.len())];
    let mut apart = 0;
    for row in order {
        if row.iter().zip(&used).all(|(a, b)| a & b == 0) {
            used.iter_mut().zip(row).for_each(|(a, b)| *a |= b);
            apart += 1;
        }
    }
    apart
}

/// Whether it is sure that rows, of which there are some, want so many columns.
fn want<'a>(rows: impl Iterator<Item = &'a [u64]> + Clone, columns: usize) -> bool {
    match columns {
        0 | 1 => true,
        // One column serves where all rows have it.
        2 => {
            let words = rows.clone().next().map_or(0, <[u64]>::len);
            (0..words).all(|w| rows.clone().fold(u64::MAX, |all, row| all & row[w]) == 0)
        }
        _ => bound(rows) >= columns,
    }
}

/// The columns of a row, those of most rows first. A column of which another one has all rows is not worth a try.
fn worth_trying<'a>(rows: impl Iterator<Item = &'a [u64]> + Clone, row: &[u64]) -> Vec<usize> {
    let holders = |c: usize| {
        let mut holders: Bits = vec![0; rows.clone().count().div_ceil(64)];
        let of_it = rows.clone().enumerate().filter(|(_, row)| has(row, c));
        of_it.for_each(|(r, _)| holders[r / 64] |= 1 << (r % 64));
        holders
    };
    let mut tries: Vec<(usize, Bits)> = ones(row).map(|c| (c, holders(c))).collect();
    tries.sort_by_cached_key(|(_, holders)| Reverse(count(holders)));
    let mut kept: Vec<(usize, Bits)> = Vec::new();
    for (c, holders) in tries {
        if !kept.iter().any(|(_, more)| within(&holders, more)) {
            kept.push((c, holders));
        }
    }
    kept.into_iter().map(|(c, _)| c).collect()
}

struct Search {
    rows: Vec<Bits>,
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
        let narrowed: Vec<u64> =
            open.iter().flat_map(|r| self.rows[*r].iter().zip(allowed).map(|(a, b)| a & b)).collect();
        let left = narrowed.chunks_exact(allowed.len());
        if want(left.clone(), self.best.len().saturating_sub(chosen.len())) {
            return true;
        }
        let Some(row) = left.clone().min_by_key(|row| count(row)) else { return true };
        let tries = worth_trying(left, row);
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
