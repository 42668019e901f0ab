//! Everything on the paper that takes up room, found by a grid of cells.
use super::what::What;
use crate::draw::hand::geo::{Quad, Strip, V2};

/// Side of a cell of the grid by which what is taken is found, mm.
const CELL_MM: f64 = 8.0;

/// No entry.
const NONE: u32 = u32::MAX;

/// All that is taken, in the order in which it was.
#[derive(Debug, Clone)]
pub struct TakenUp {
    frame: Quad,
    all: Vec<Taken>,
    /// The first and the last entry of each cell, row by row; of what is taken, as often as it touches cells.
    cells: Vec<(u32, u32)>,
    entries: Vec<Entry>,
    /// Columns and rows of cells.
    grid: (usize, usize),
}

/// Something on the paper.
#[derive(Debug, Clone, Copy)]
pub struct Taken {
    pub quad: Quad,
    pub what: What,
    strips: [Strip; 2],
}

impl Taken {
    /// Whether a quadrilateral with these strips meets it, whose bounds meet its bounds.
    #[inline]
    fn is_met(&self, quad: &Quad, strips: &[Strip; 2]) -> bool {
        // The strips of what is upright are those of its bounds.
        (quad.is_upright() || !self.quad.is_beside(strips))
            && (self.quad.is_upright() || !quad.is_beside(&self.strips))
    }
}

/// Something in a cell: its bounds, where it stands in the list, the first cell that it touches, and the next
/// entry of the same cell.
#[derive(Debug, Clone, Copy)]
struct Entry {
    min: V2,
    max: V2,
    index: u32,
    first: (u16, u16),
    next: u32,
    what: What,
}

impl TakenUp {
    /// Nothing, on paper within a frame.
    pub fn new(frame: &Quad) -> TakenUp {
        let size = frame.max - frame.min;
        let count = |mm: f64| (mm / CELL_MM).ceil().max(1.0) as usize;
        let grid = (count(size.x), count(size.y));
        let cells = vec![(NONE, NONE); grid.0 * grid.1];
        TakenUp { frame: *frame, all: Vec::with_capacity(256), cells, entries: Vec::with_capacity(512), grid }
    }

    /// Everything.
    pub fn all(&self) -> &[Taken] {
        &self.all
    }

    /// Adds something.
    pub fn add(&mut self, quad: Quad, what: What) {
        let (from, to) = self.span(&quad);
        let first = (from.0 as u16, from.1 as u16);
        let entry =
            Entry { min: quad.min, max: quad.max, index: self.all.len() as u32, first, next: NONE, what };
        for row in from.1..=to.1 {
            for column in from.0..=to.0 {
                let (cell, number) = (row * self.grid.0 + column, self.entries.len() as u32);
                let (head, tail) = &mut self.cells[cell];
                match self.entries.get_mut(*tail as usize) {
                    Some(last) => last.next = number,
                    None => *head = number,
                }
                *tail = number;
                self.entries.push(entry);
            }
        }
        self.all.push(Taken { quad, what, strips: quad.strips() });
    }

    /// First and last column and row of the cells that a quadrilateral's bounds touch; what lies outside
    /// the frame counts to the cells of its edge.
    fn span(&self, quad: &Quad) -> ((usize, usize), (usize, usize)) {
        let cell = |at: V2| {
            let at = (at - self.frame.min) / CELL_MM;
            let clamp = |x: f64, count: usize| (x.max(0.0) as u32 as usize).min(count - 1);
            (clamp(at.x, self.grid.0), clamp(at.y, self.grid.1))
        };
        (cell(quad.min), cell(quad.max))
    }

    /// Goes over everything taken that a quadrilateral meets and that is asked for, once each, until told to stop.
    pub fn visit(&self, quad: &Quad, asked: impl Fn(What) -> bool, mut see: impl FnMut(&Taken, u32) -> bool) {
        let ((from, to), strips) = (self.span(quad), quad.strips());
        for row in from.1..=to.1 {
            for column in from.0..=to.0 {
                let mut next = self.cells[row * self.grid.0 + column].0;
                while let Some(entry) = self.entries.get(next as usize) {
                    next = entry.next;
                    // All four asked at once: which of them tells is as good as chance.
                    let apart = (quad.max.x <= entry.min.x)
                        | (entry.max.x <= quad.min.x)
                        | (quad.max.y <= entry.min.y)
                        | (entry.max.y <= quad.min.y);
                    // In several cells at once: seen only in the first that both share.
                    let first =
                        (usize::from(entry.first.0).max(from.0), usize::from(entry.first.1).max(from.1));
                    if apart || first != (column, row) || !asked(entry.what) {
                        continue;
                    }
                    let taken = &self.all[entry.index as usize];
                    if taken.is_met(quad, &strips) && !see(taken, entry.index) {
                        return;
                    }
                }
            }
        }
    }
}
