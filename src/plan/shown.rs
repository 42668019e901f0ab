//! What views show of the cells of the floor. Cells are looked at together, box in box: where the line of no
//! shadow comes near a box, all floor in it is shown or none of it, and one point tells which. Only cells that
//! a shadow may touch are judged one by one, and only boxes that somebody opens are looked at.
use super::cells::Cell;
use super::pieces::{middle, runs_through};
use super::sight::Fan;
use super::types::P2;
use super::wants::Wants;
use std::ops::Range;

/// A point is seen on the border of a view when it is this near, and boxes are held against shadows with that
/// much and more to spare.
const SPARE_M: f64 = 1e-5;

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

/// The line of a shadow.
#[derive(Clone, Copy)]
struct Line {
    view: usize,
    a: P2,
    b: P2,
}

/// What is known of one box; what is not named here is not shown of it.
#[derive(Default)]
pub struct Sights {
    /// Views that show all of it alike, but not all of the box that it lies in, each with its ways there: a range of
    /// [`Boxes::look`]'s list.
    alike: Vec<(usize, Range<usize>)>,
    /// Shadows that come into it, view by view.
    lines: Vec<Line>,
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
        (nested.middle, nested.half) = ((low + high) / 2.0, (high - low) / 2.0 + SPARE_M);
        nested.next = next;
        (low, high)
    }

    /// Boxes that lie in no other.
    pub fn outermost(&self) -> Vec<usize> {
        let first = (!self.nest.is_empty()).then_some(0);
        let next = |at: &usize| Some(self.nest[*at].next).filter(|next| *next < self.nest.len());
        std::iter::successors(first, next).collect()
    }

    /// The two boxes in a box; `None` for one of a single cell.
    pub fn halves(&self, at: usize) -> Option<[usize; 2]> {
        (self.nest[at].cells.len() > 1).then(|| [at + 1, self.nest[at + 1].next])
    }

    /// The first cell of a box.
    pub fn cell(&self, at: usize) -> usize {
        self.nest[at].cells.start
    }

    /// Looks at a box that lies in no other, and takes what is enough for all of it.
    pub fn look(&self, at: usize, views: &[&Fan], ways: &mut Vec<usize>, wants: &mut Wants) -> Sights {
        let mut found = Sights::default();
        let sheet = self.cells[self.cell(at)].sheet;
        for (v, view) in views.iter().enumerate() {
            let here = view.shadows.iter().filter(|(s, _, _)| *s == sheet);
            let lines = here.map(|(_, a, b)| Line { view: v, a: *a, b: *b });
            self.part(at, (v, view), lines, ways, &mut found, wants);
        }
        found
    }

    /// The same of a box in others, the innermost first. A view that could make no place want less is not looked at any more.
    pub fn look_in(
        &self,
        at: usize,
        outer: &[&Sights],
        views: &[&Fan],
        ways: &mut Vec<usize>,
        wants: &mut Wants,
    ) -> Sights {
        for (v, here) in outer.iter().flat_map(|sights| &sights.alike) {
            wants.take(*v, self.most_m(at, views[*v], &ways[here.clone()]));
        }
        let outer = outer.first().map_or(&[][..], |sights| &sights.lines);
        let mut found = Sights { alike: Vec::new(), lines: Vec::with_capacity(outer.len()) };
        for lines in outer.chunk_by(|a, b| a.view == b.view) {
            let v = lines[0].view;
            if wants.worth(v, self.near_m(at, views[v])) {
                self.part(at, (v, views[v]), lines.iter().copied(), ways, &mut found, wants);
            }
        }
        found
    }

    /// Keeps of a view's shadows those that come into a box. Where none does, one point tells of all.
    fn part(
        &self,
        at: usize,
        (v, view): (usize, &Fan),
        lines: impl Iterator<Item = Line>,
        ways: &mut Vec<usize>,
        found: &mut Sights,
        wants: &mut Wants,
    ) {
        let nested = &self.nest[at];
        let before = found.lines.len();
        found.lines.extend(lines.filter(|line| nested.meets(line)));
        if found.lines.len() == before {
            let (c, from) = (nested.cells.start, ways.len());
            let centre = self.round[c].0;
            ways.extend(view.chains_to(self.cells[c].sheet).filter(|way| view.sees_well(*way, centre)));
            if ways.len() > from {
                found.alike.push((v, from..ways.len()));
                wants.take(v, self.most_m(at, view, &ways[from..]));
            }
        }
    }

    /// No point of a box is farther from a view that shows all of it over these ways.
    fn most_m(&self, at: usize, view: &Fan, ways: &[usize]) -> f64 {
        let nested = &self.nest[at];
        let each = ways.iter().map(|way| ((nested.middle - view.eye_of(*way)).abs() + nested.half).length());
        each.fold(f64::INFINITY, f64::min)
    }

    /// No cell of a box is told to be nearer to a view than this.
    fn near_m(&self, at: usize, view: &Fan) -> f64 {
        let nested = &self.nest[at];
        let off = |way: usize| (nested.middle - view.eye_of(way)).abs() - nested.half;
        let each = view.chains_to(self.cells[self.cell(at)].sheet).map(|way| off(way).max(P2::ZERO).length());
        each.fold(f64::INFINITY, f64::min) - 2.0 * self.widest_m
    }

    /// Takes the views that show all of the only cell of a box, each with its farthest point; what is known of the
    /// box and of those that it lies in, the innermost first.
    pub fn shown_whole(
        &self,
        at: usize,
        sights: &[&Sights],
        views: &[&Fan],
        ways: &[usize],
        wants: &mut Wants,
    ) {
        let c = self.cell(at);
        let (cell, (centre, radius_m)) = (&self.cells[c], self.round[c]);
        for (v, here) in sights.iter().flat_map(|sights| &sights.alike) {
            let straight = |p: &P2| straight_m(views[*v], &ways[here.clone()], *p);
            wants.take(*v, cell.piece.iter().map(straight).fold(0.0, f64::max));
        }
        for lines in sights[0].lines.chunk_by(|a, b| a.view == b.view) {
            let view = views[lines[0].view];
            let near = view.chains_to(cell.sheet).map(|chain| view.straight_m(chain, centre) - radius_m);
            if !wants.worth(lines[0].view, near.fold(f64::INFINITY, f64::min)) || parted(cell, lines) {
                continue;
            }
            let sees = |p: &P2| view.sees(cell.sheet, *p);
            if sees(&centre).is_some()
                && let Some(all_m) =
                    cell.piece.iter().try_fold(0.0, |most_m: f64, p| Some(most_m.max(sees(p)?)))
            {
                wants.take(lines[0].view, all_m);
            }
        }
    }

    /// Takes the views that show some of the only cell of a box, each with no more than the distance of its
    /// nearest point that is shown.
    pub fn shown_in_part(
        &self,
        at: usize,
        sights: &[&Sights],
        views: &[&Fan],
        ways: &[usize],
        wants: &mut Wants,
    ) {
        let c = self.cell(at);
        let (centre, radius_m) = self.round[c];
        for (v, here) in sights.iter().flat_map(|sights| &sights.alike) {
            wants.take(*v, (straight_m(views[*v], &ways[here.clone()], centre) - radius_m).max(0.0));
        }
        for lines in sights[0].lines.chunk_by(|a, b| a.view == b.view) {
            if let Some(least_m) = self.alone(c, views[lines[0].view], lines) {
                wants.take(lines[0].view, least_m.max(0.0));
            }
        }
    }

    /// No more than how far the nearest point of a cell is that is shown, where shadows come near it.
    fn alone(&self, c: usize, view: &Fan, lines: &[Line]) -> Option<f64> {
        let (cell, (centre, radius_m)) = (&self.cells[c], self.round[c]);
        let sees = |p: &P2| view.sees(cell.sheet, *p);
        if let Some(m) = sees(&centre) {
            return Some(m - radius_m);
        }
        if let Some(m) = cell.piece.iter().find_map(sees) {
            return Some(m - 2.0 * radius_m);
        }
        // Over several ways the nearest counts; a cell seen through a crack alone is told by its line.
        let near = view.chains_to(cell.sheet).map(|chain| view.straight_m(chain, centre) - radius_m);
        parted(cell, lines).then(|| near.fold(f64::MAX, f64::min))
    }
}

/// From a view to a point, over the shortest of some ways.
fn straight_m(view: &Fan, ways: &[usize], point: P2) -> f64 {
    ways.iter().map(|way| view.straight_m(*way, point)).fold(f64::INFINITY, f64::min)
}

/// Whether a shadow runs through a cell.
fn parted(cell: &Cell, lines: &[Line]) -> bool {
    lines.iter().any(|line| runs_through(&cell.piece, line.a, line.b))
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
