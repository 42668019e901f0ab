//! The cells of the floor, box in box: what holds for a box holds for every cell in it.
use super::cells::Cell;
use super::pieces::middle;
use super::sheet::SAME_M;
use super::sight::Fan;
use super::types::P2;
use std::ops::Range;

/// A line that comes no farther into a box runs beside it: shadows along the walls lie on the borders of many boxes.
const BESIDE_M: f64 = 2.0 * SAME_M;

/// The cells of a floor, box in box.
pub struct Boxes<'c> {
    cells: &'c [Cell],
    /// The middle of each, and how far from it its corners lie.
    round: Vec<(P2, f64)>,
    /// The greatest of those distances.
    widest_m: f64,
    /// A box before those that lie in it.
    nest: Vec<Nested>,
}

/// Some cells of one part of a sheet, upright.
struct Nested {
    cells: Range<usize>,
    middle: P2,
    half: P2,
    /// The next box that does not lie in this one.
    next: usize,
}

impl<'c> Boxes<'c> {
    /// Puts cells into boxes. Those of one part of a sheet follow on each other.
    pub fn of(cells: &'c [Cell]) -> Boxes<'c> {
        let round = cells.iter().map(|cell| {
            let centre = middle(&cell.piece);
            (centre, cell.piece.iter().map(|p| p.distance(centre)).fold(0.0, f64::max))
        });
        let round: Vec<(P2, f64)> = round.collect();
        let widest_m = round.iter().map(|(_, radius_m)| *radius_m).fold(0.0, f64::max);
        let mut boxes = Boxes { cells, round, widest_m, nest: Vec::with_capacity(2 * cells.len()) };
        let mut first = 0;
        for part in cells.chunk_by(|a, b| (a.sheet, a.part) == (b.sheet, b.part)) {
            boxes.put(first..first + part.len());
            first += part.len();
        }
        boxes
    }

    /// Puts away a box with those in it; gives its corners.
    fn put(&mut self, cells: Range<usize>) -> (P2, P2) {
        let at = self.nest.len();
        self.nest.push(Nested { cells: cells.clone(), middle: P2::ZERO, half: P2::ZERO, next: at });
        let (low, high) = if cells.len() > 1 {
            let split = cells.start + cells.len() / 2;
            let (a, b) = (self.put(cells.start..split), self.put(split..cells.end));
            (a.0.min(b.0), a.1.max(b.1))
        } else {
            let corners = || self.cells[cells.start].piece.iter().copied();
            let fold = |f: fn(P2, P2) -> P2| corners().reduce(f).unwrap_or_default();
            (fold(P2::min), fold(P2::max))
        };
        let next = self.nest.len();
        let nested = &mut self.nest[at];
        (nested.middle, nested.half) = ((low + high) / 2.0, (high - low) / 2.0);
        nested.next = next;
        (low, high)
    }

    /// The cells, as they were given.
    pub fn cells(&self) -> &'c [Cell] {
        self.cells
    }

    /// The middle of a cell, and how far from it its corners lie.
    pub fn round(&self, cell: usize) -> (P2, f64) {
        self.round[cell]
    }

    /// Boxes that lie in no other.
    pub fn outermost(&self) -> impl Iterator<Item = usize> {
        let first = (!self.nest.is_empty()).then_some(0);
        let next = |at: &usize| Some(self.nest[*at].next).filter(|next| *next < self.nest.len());
        std::iter::successors(first, next)
    }

    /// The two boxes in a box; `None` for one of a single cell.
    pub fn halves(&self, at: usize) -> Option<[usize; 2]> {
        (self.nest[at].cells.len() > 1).then(|| [at + 1, self.nest[at + 1].next])
    }

    /// The first cell of a box.
    pub fn cell(&self, at: usize) -> usize {
        self.nest[at].cells.start
    }

    /// The sheet on which a box lies.
    pub fn sheet(&self, at: usize) -> usize {
        self.cells[self.cell(at)].sheet
    }

    /// Whether a line comes into a box: whether no upright and no line along it parts them.
    pub fn meets(&self, at: usize, (a, b): (P2, P2)) -> bool {
        let Nested { middle, half, .. } = self.nest[at];
        let (a, b, half) = (a - middle, b - middle, (half - P2::splat(BESIDE_M)).max(P2::ZERO));
        let along = b - a;
        let beside = a.min(b).cmpgt(half).any() || a.max(b).cmplt(-half).any();
        !beside && a.perp_dot(along).abs() <= half.x * along.y.abs() + half.y * along.x.abs()
    }

    /// No point of a box is farther from a point of its sheet than this.
    pub fn most_m(&self, at: usize, from: P2) -> f64 {
        let nested = &self.nest[at];
        ((nested.middle - from).abs() + nested.half).length()
    }

    /// No cell of a box is told to be nearer to a view than this.
    pub fn near_m(&self, at: usize, view: &Fan) -> f64 {
        let nested = &self.nest[at];
        let off = |way: usize| (nested.middle - view.eye_of(way)).abs() - nested.half;
        let each = view.chains_to(self.sheet(at)).map(|way| off(way).max(P2::ZERO).length());
        each.fold(f64::INFINITY, f64::min) - 2.0 * self.widest_m
    }
}
