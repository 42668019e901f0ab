//! What a view shows of every cell of the floor. Cells are looked at together, box in box: where the line of no
//! shadow comes near a box, all floor in it is shown or none of it, and one point tells which. Only cells that
//! a shadow may touch are judged one by one.
use super::cells::Cell;
use super::pieces::{middle, runs_through};
use super::sight::Fan;
use super::types::P2;
use std::ops::Range;

/// A point is seen on the border of a view when it is this near, and boxes are held against shadows with that
/// much and more to spare.
const SPARE_M: f64 = 1e-5;

/// What one view shows of a cell.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shown {
    pub cell: usize,
    /// To the farthest of its points; infinite where it is not shown whole.
    pub all_m: f64,
    /// No longer than to the nearest of its points that is shown.
    pub least_m: f64,
}

/// The cells of a floor, box in box.
pub struct Boxes<'c> {
    cells: &'c [Cell],
    /// The middle of each, and how far from it its corners lie.
    round: Vec<(P2, f64)>,
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

/// The line of a shadow.
#[derive(Clone, Copy)]
struct Line {
    sheet: usize,
    a: P2,
    b: P2,
}

impl<'c> Boxes<'c> {
    /// Puts cells into boxes. Those of one part of a sheet follow on each other.
    pub fn of(cells: &'c [Cell]) -> Boxes<'c> {
        let round = cells.iter().map(|cell| {
            let centre = middle(&cell.piece);
            (centre, cell.piece.iter().map(|p| p.distance(centre)).fold(0.0, f64::max))
        });
        let mut boxes = Boxes { cells, round: round.collect(), nest: Vec::with_capacity(2 * cells.len()) };
        let mut first = 0;
        for part in cells.chunk_by(|a, b| (a.sheet, a.part) == (b.sheet, b.part)) {
            boxes.put(first..first + part.len());
            first += part.len();
        }
        boxes
    }

    fn put(&mut self, cells: Range<usize>) {
        let corners = || self.cells[cells.clone()].iter().flat_map(|cell| cell.piece.iter().copied());
        let low = corners().reduce(P2::min).unwrap_or_default();
        let high = corners().reduce(P2::max).unwrap_or_default();
        let (middle, half) = ((low + high) / 2.0, (high - low) / 2.0 + SPARE_M);
        let at = self.nest.len();
        self.nest.push(Nested { cells: cells.clone(), middle, half, next: at });
        if cells.len() > 1 {
            let split = cells.start + cells.len() / 2;
            self.put(cells.start..split);
            self.put(split..cells.end);
        }
        self.nest[at].next = self.nest.len();
    }

    /// What a view shows of the cells, in their order.
    pub fn shown(&self, view: &Fan) -> Vec<Shown> {
        let shadows = view.shadows.iter().map(|(sheet, a, b)| Line { sheet: *sheet, a: *a, b: *b });
        let mut looked = Looked { boxes: self, view, lines: shadows.collect(), found: Vec::new() };
        let mut at = 0;
        while at < self.nest.len() {
            looked.enter(at, 0);
            at = self.nest[at].next;
        }
        looked.found
    }
}

impl Nested {
    /// Whether a line comes into the box: whether no upright and no line along it parts them.
    fn meets(&self, line: &Line) -> bool {
        let (a, b) = (line.a - self.middle, line.b - self.middle);
        let along = b - a;
        let beside = a.min(b).cmpgt(self.half).any() || a.max(b).cmplt(-self.half).any();
        !beside && a.perp_dot(along).abs() <= self.half.x * along.y.abs() + self.half.y * along.x.abs()
    }
}

/// A view being looked at.
struct Looked<'b> {
    boxes: &'b Boxes<'b>,
    view: &'b Fan,
    /// All shadows, and after them those that come into the box in hand.
    lines: Vec<Line>,
    found: Vec<Shown>,
}

impl Looked<'_> {
    /// Looks into a box, which only lines from `from` on can come into.
    fn enter(&mut self, at: usize, from: usize) {
        let nested = &self.boxes.nest[at];
        let Some(sheet) = self.boxes.cells.get(nested.cells.start).map(|cell| cell.sheet) else { return };
        let to = self.lines.len();
        for i in from..to {
            let line = self.lines[i];
            if line.sheet == sheet && nested.meets(&line) {
                self.lines.push(line);
            }
        }
        if self.lines.len() == to {
            self.alike(nested.cells.clone());
        } else if nested.cells.len() == 1 {
            self.found.extend(self.alone(nested.cells.start, &self.lines[to..]));
        } else {
            let first = at + 1;
            self.enter(first, to);
            self.enter(self.boxes.nest[first].next, to);
        }
        self.lines.truncate(to);
    }

    /// Cells that are all shown alike by each way to their sheet.
    fn alike(&mut self, cells: Range<usize>) {
        let Some(first) = self.boxes.cells.get(cells.start) else { return };
        let (sheet, centre) = (first.sheet, self.boxes.round[cells.start].0);
        let ways: Vec<usize> =
            self.view.chains_to(sheet).filter(|c| self.view.sees_over(*c, centre)).collect();
        if ways.is_empty() {
            return;
        }
        let straight = |p: P2| ways.iter().map(|c| self.view.straight_m(*c, p)).fold(f64::INFINITY, f64::min);
        for c in cells {
            let (centre, radius_m) = self.boxes.round[c];
            let all_m = self.boxes.cells[c].piece.iter().map(|p| straight(*p)).fold(0.0, f64::max);
            self.found.push(Shown { cell: c, all_m, least_m: (straight(centre) - radius_m).max(0.0) });
        }
    }

    /// A cell that shadows come near.
    fn alone(&self, c: usize, lines: &[Line]) -> Option<Shown> {
        let (view, cell, (centre, radius_m)) = (self.view, &self.boxes.cells[c], self.boxes.round[c]);
        let parted = lines.iter().any(|line| runs_through(&cell.piece, line.a, line.b));
        let sees = |p: &P2| view.sees(cell.sheet, *p);
        let shown = |all_m, least_m: f64| Some(Shown { cell: c, all_m, least_m: least_m.max(0.0) });
        if let Some(m) = sees(&centre) {
            let corners = cell.piece.iter().map(|p| sees(p).unwrap_or(f64::INFINITY));
            let all_m = if parted { f64::INFINITY } else { corners.fold(0.0, f64::max) };
            return shown(all_m, m - radius_m);
        }
        if let Some(m) = cell.piece.iter().find_map(sees) {
            return shown(f64::INFINITY, m - 2.0 * radius_m);
        }
        // Over several ways the nearest counts; a cell seen through a crack alone is told by its line.
        let near = view.chains_to(cell.sheet).map(|chain| view.straight_m(chain, centre) - radius_m);
        if parted { shown(f64::INFINITY, near.fold(f64::MAX, f64::min)) } else { None }
    }
}
