//! The cells of the floor that some views show only with more than so much hose. Cells are looked at together, box in
//! box: where no shadow of a view comes near a box, all floor in it is shown or none of it, and one point tells which.
//! A box that is shown with no more hose is left at once; only the others are opened.
use super::boxes::Boxes;
use super::cells::Cell;
use super::pieces::runs_through;
use super::sight::Fan;
use super::types::P2;
use std::ops::Range;

/// Which of two lengths of hose is meant: enough for all of a cell, or for some of it, perhaps.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Measure {
    Cautious,
    Optimistic,
}

/// A view, and the hose at which it begins.
#[derive(Clone, Copy)]
pub struct View<'v> {
    pub from_m: f64,
    pub fan: &'v Fan,
}

/// The hose for what lies so far off from where a view begins, in a straight line.
pub fn hose_m(from_m: f64, straight_m: f64, wand_m: f64) -> f64 {
    from_m.max(from_m + straight_m - wand_m)
}

impl Measure {
    /// How far off a cell is that a view shows; `None` where it does not. Cautious: its farthest point, all of it
    /// being shown; else no more than its nearest point that is shown. Round it are its middle and so far to its
    /// corners; `parted` tells whether a shadow of the view runs through it.
    pub fn told(
        self,
        view: &Fan,
        cell: &Cell,
        (centre, radius_m): (P2, f64),
        parted: impl Fn() -> bool,
    ) -> Option<f64> {
        let sees = |p: &P2| view.sees(cell.sheet, *p);
        let middle_m = sees(&centre);
        match self {
            Measure::Cautious => {
                middle_m?;
                let all_m = cell.piece.iter().try_fold(0.0, |most_m: f64, p| Some(most_m.max(sees(p)?)))?;
                (!parted()).then_some(all_m)
            }
            Measure::Optimistic => {
                // Over several ways the nearest counts; a cell seen through a crack alone is told by its line.
                let near = || view.chains_to(cell.sheet).map(|way| view.straight_m(way, centre) - radius_m);
                let crack = || parted().then(|| near().fold(f64::MAX, f64::min));
                let corner = || cell.piece.iter().find_map(sees).map(|m| m - 2.0 * radius_m);
                let told = middle_m.map(|m| m - radius_m).or_else(corner).or_else(crack);
                told.map(|m| m.max(0.0))
            }
        }
    }
}

/// What views show of a box.
#[derive(Default, Clone)]
pub struct Sights {
    /// Views that show all of it, each with a way there.
    eyes: Vec<(usize, usize)>,
    /// Shadows that come into it, view by view: number of the view, and of the shadow among its own.
    lines: Vec<(usize, usize)>,
}

impl Sights {
    /// Looks at a box that lies in no other.
    pub fn look(&mut self, boxes: &Boxes, at: usize, v: usize, fan: &Fan) {
        let (sheet, before) = (boxes.sheet(at), self.lines.len());
        for (s, (on, a, b)) in fan.shadows.iter().enumerate() {
            if *on == sheet && boxes.meets(at, (*a, *b)) {
                self.lines.push((v, s));
            }
        }
        self.settle(boxes, at, v, fan, before);
    }

    /// A view of which none but the last lines come into a box. Where there is none of them, one point tells of all.
    fn settle(&mut self, boxes: &Boxes, at: usize, v: usize, fan: &Fan, before: usize) {
        if self.lines.len() == before {
            let (centre, _) = boxes.round(boxes.cell(at));
            let ways = fan.chains_to(boxes.sheet(at)).filter(|way| fan.sees_well(*way, centre));
            self.eyes.extend(ways.map(|way| (v, way)));
        }
    }
}

/// A search through the boxes of a floor, and what is known of the box that it stands in and of those around it.
pub struct Search<'s> {
    pub boxes: &'s Boxes<'s>,
    /// Views of every corner, and others after them.
    pub views: &'s [View<'s>],
    pub wand_m: f64,
    pub measure: Measure,
    /// Cells that want no more are passed over.
    pub more_than_m: f64,
    known: Sights,
}

impl<'s> Search<'s> {
    /// A search for cells that want more hose than so much over some views.
    pub fn new(boxes: &'s Boxes<'s>, views: &'s [View<'s>], wand_m: f64, more_than_m: f64) -> Search<'s> {
        Search { boxes, views, wand_m, measure: Measure::Cautious, more_than_m, known: Sights::default() }
    }

    /// Tells of every such cell, and what it wants; the answer is the hose to be searched for from then on. Of the
    /// outermost boxes it is known what the first so many views show.
    pub fn each(&mut self, outermost: &[Sights], first: usize, found: &mut impl FnMut(usize, f64) -> f64) {
        for (at, sights) in self.boxes.outermost().zip(outermost) {
            self.known.clone_from(sights);
            for (v, view) in self.views.iter().enumerate().skip(first) {
                if self.enough_m(at) <= self.more_than_m {
                    break;
                }
                self.known.look(self.boxes, at, v, view.fan);
            }
            let enough_m = self.enough_m(at);
            self.open(at, 0..self.known.lines.len(), enough_m, found);
        }
    }

    /// Opens a box, of which is known what is enough for all of it.
    fn open(
        &mut self,
        at: usize,
        lines: Range<usize>,
        enough_m: f64,
        found: &mut impl FnMut(usize, f64) -> f64,
    ) {
        if enough_m <= self.more_than_m {
            return;
        }
        let Some(halves) = self.boxes.halves(at) else {
            let cell = self.boxes.cell(at);
            let wants_m = self.wants_m(cell, &self.known.lines[lines]);
            if wants_m > self.more_than_m {
                self.more_than_m = found(cell, wants_m);
            }
            return;
        };
        let eyes = self.known.eyes.len();
        for half in halves {
            let enough_m = self.look_in(half, lines.clone());
            self.open(half, lines.end..self.known.lines.len(), enough_m, found);
            self.known.eyes.truncate(eyes);
            self.known.lines.truncate(lines.end);
        }
    }

    /// Looks at a box in another one, into which these shadows come; gives what is enough for all of it.
    fn look_in(&mut self, at: usize, lines: Range<usize>) -> f64 {
        let mut enough_m = self.enough_m(at);
        let mut next = lines.start;
        while next < lines.end && enough_m > self.more_than_m {
            let (before, v, eyes) = (self.known.lines.len(), self.known.lines[next].0, self.known.eyes.len());
            let worth = self.worth(at, v, enough_m);
            while next < lines.end && self.known.lines[next].0 == v {
                let (_, a, b) = self.views[v].fan.shadows[self.known.lines[next].1];
                if worth && self.boxes.meets(at, (a, b)) {
                    self.known.lines.push(self.known.lines[next]);
                }
                next += 1;
            }
            if worth {
                self.known.settle(self.boxes, at, v, self.views[v].fan, before);
                let new = self.known.eyes[eyes..].iter().map(|eye| self.over_m(at, *eye));
                enough_m = new.fold(enough_m, f64::min);
            }
        }
        enough_m
    }

    /// Whether a view could do with less for some cell of a box than what is enough for all of it.
    fn worth(&self, at: usize, v: usize, enough_m: f64) -> bool {
        let View { from_m, fan } = self.views[v];
        from_m < enough_m && hose_m(from_m, self.boxes.near_m(at, fan), self.wand_m) < enough_m
    }

    /// What is enough for all of a box, as far as views are known to show it whole.
    fn enough_m(&self, at: usize) -> f64 {
        self.known.eyes.iter().map(|eye| self.over_m(at, *eye)).fold(f64::INFINITY, f64::min)
    }

    /// What is enough for a box that a view shows whole over some way.
    fn over_m(&self, at: usize, (v, way): (usize, usize)) -> f64 {
        let View { from_m, fan } = self.views[v];
        hose_m(from_m, self.boxes.most_m(at, fan.eye_of(way)), self.wand_m)
    }

    /// What a cell wants, into which these shadows come.
    fn wants_m(&self, cell: usize, lines: &[(usize, usize)]) -> f64 {
        let (at, round) = (&self.boxes.cells()[cell], self.boxes.round(cell));
        let wants_m = |v: usize, lines: &[(usize, usize)]| {
            let view = self.views[v];
            let parted = || {
                let mut ends = lines.iter().map(|(_, s)| view.fan.shadows[*s]);
                ends.any(|(_, a, b)| runs_through(&at.piece, a, b))
            };
            let told = self.measure.told(view.fan, at, round, parted);
            told.map_or(f64::INFINITY, |straight_m| hose_m(view.from_m, straight_m, self.wand_m))
        };
        let whole = self.known.eyes.iter().map(|(v, _)| wants_m(*v, &[]));
        let in_part = lines.chunk_by(|a, b| a.0 == b.0).map(|lines| wants_m(lines[0].0, lines));
        whole.chain(in_part).fold(f64::INFINITY, f64::min)
    }
}
