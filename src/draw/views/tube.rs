//! The line itself: hose band, tube, bends, and the hatch of what was found.
use super::centreline::OnLine;
use super::draft::Draft;
use crate::draw::hand::geo::{Quad, V2, hatch, v2};
use crate::draw::hand::scene::{Fill, Mark, Pen, Segment};
use crate::draw::placer::what::What;
use crate::draw::subject::{Balloon, BalloonKind, Piece};
use crate::measure::Say;
use crate::route::Spot;
use std::borrow::Cow;

/// A piece of tube with its place on the leg.
pub struct Placed<'p> {
    pub piece: Cow<'p, Piece>,
    pub leg: usize,
    /// Along the leg.
    pub from_m: f64,
    pub to_m: f64,
    /// Whether it is cut to its length; false for a tube that cannot be cut, or whose length nobody can tell.
    pub is_cut: bool,
}

impl Placed<'_> {
    /// Mark and cut length; no length where it is not to be cut.
    pub fn words(&self, say: &Say) -> String {
        match self.is_cut {
            true => format!("{} {}", self.piece.mark, say.length(self.piece.length_m)),
            false => format!("{} cannot be cut", self.piece.mark),
        }
    }
}

/// The pieces of every tube, in the order of the line; a tube of which nothing is said is one piece, and so is one that
/// cannot be cut.
pub fn pieces<'p>(draft: &Draft<'p>) -> Vec<Placed<'p>> {
    let (line, cuts) = (&draft.p.line, &draft.p.tubes);
    let mut all = Vec::new();
    for tube in &line.tubes {
        let start_m = tube.start_m - line.legs.get(tube.leg).map_or(0.0, |leg| leg.station_m);
        let whole = Piece { mark: tube.mark.clone(), length_m: tube.clear_m, from_m: 0.0 };
        let cut = cuts.iter().find(|cut| cut.tube == tube.mark);
        let is_cut = cut.is_none_or(|cut| !cut.pieces.is_empty());
        let own: Vec<Cow<Piece>> = match cut.filter(|_| is_cut) {
            Some(cut) => cut.pieces.iter().map(Cow::Borrowed).collect(),
            None if tube.clear_m > 0.0 => vec![Cow::Owned(whole)],
            None => Vec::new(),
        };
        all.extend(own.into_iter().map(|piece| {
            let from_m = start_m + piece.from_m;
            Placed { leg: tube.leg, from_m, to_m: from_m + piece.length_m, is_cut, piece }
        }));
    }
    all
}

impl Draft<'_> {
    /// Everything of the line, drawn and its room taken.
    pub fn draw_line(&mut self) {
        self.draw_spots();
        self.draw_band();
        self.draw_tube();
        self.draw_sleeves_and_members();
        self.draw_joints();
    }

    /// Hatch under the places of fails, holds and cautions.
    fn draw_spots(&mut self) {
        for balloon in self.p.balloons.iter().filter(|balloon| balloon.kind.calls()) {
            for spot in std::iter::once(balloon.spot).chain(balloon.also.iter().copied()) {
                self.draw_spot(balloon, spot);
            }
        }
    }

    /// One place of a finding, hatched.
    fn draw_spot(&mut self, balloon: &Balloon, spot: Spot) {
        let mut mark = Mark::new("hatch", balloon.kind.word()).with("number", balloon.number);
        let rising = balloon.kind == BalloonKind::Fail;
        match spot {
            Spot::Whole => return,
            Spot::Leg(leg) => {
                let Some(line) = self.drawn.legs.get(leg) else { return };
                let (middle, along) = (line.at(line.length_m / 2.0), line.along());
                let half = (line.drawn_mm() / 2.0 - 1.0).clamp(0.0, 6.0);
                let strip =
                    Quad::stroke(middle - along * half, middle + along * half, self.band_half() + 0.9);
                mark.lines(&hatch(&strip.corners, 1.0, rising), Pen::Thin);
                self.board.take(strip, What::Hatch);
            }
            Spot::Bend(_) | Spot::Station(_) | Spot::Stop | Spot::End => {
                let at = self.spot(spot).at;
                let ring: Vec<V2> = (0..12)
                    .map(|k| at + V2::from_angle(f64::from(k) * std::f64::consts::FRAC_PI_6) * 2.8)
                    .collect();
                mark.lines(&hatch(&ring, 0.9, rising), Pen::Thin);
                self.board.take(Quad::about(at, v2(5.2, 5.2)), What::Hatch);
            }
        }
        self.marks.push(mark);
    }

    /// The place of a spot.
    pub fn spot(&self, spot: Spot) -> OnLine {
        let drawn = &self.drawn;
        match spot {
            Spot::Bend(n) if (1..drawn.legs.len()).contains(&n) => {
                OnLine { at: drawn.bend(n - 1), along: drawn.legs[n - 1].along() }
            }
            Spot::Leg(leg) => drawn.legs.get(leg).map_or(drawn.at_station(f64::MAX), |line| OnLine {
                at: line.at(line.length_m / 2.0),
                along: line.along(),
            }),
            Spot::Station(station_m) => drawn.at_station(station_m),
            Spot::Stop => drawn.at_station(self.stop_m().unwrap_or(f64::MAX)),
            Spot::End | Spot::Bend(_) => drawn.at_station(f64::MAX),
            Spot::Whole => drawn.at_station(0.0),
        }
    }

    /// Station of the stop.
    pub fn stop_m(&self) -> Option<f64> {
        self.p.line.raceway.as_ref().map(|raceway| raceway.stop_m)
    }

    /// How far along the hose path the raceway reaches; all of it where the line is no raceway.
    pub fn raceway_path_m(&self) -> f64 {
        let path_m = self.p.line.raceway.as_ref().map(|raceway| raceway.hose_path_m);
        path_m.map_or(self.drawn.path_m, |path_m| path_m.min(self.drawn.path_m))
    }

    /// The stored hose: grey as far as a new one lies, hatched as far as a grown one will.
    fn draw_band(&mut self) {
        let Some(hose) = self.p.hose else { return };
        let (half, most_m) = (self.band_half(), self.raceway_path_m());
        let (new_m, grown_m) = (hose.new_m.min(most_m), hose.grown_m.min(most_m));
        let mut mark = Mark::new("hose-band", "stored hose").figure("new-m", hose.new_m);
        for line in self.drawn.polylines(0.0, new_m) {
            mark.polygon(&ribbon(&line, half), Pen::None, Fill::Grey);
        }
        self.marks.push(mark);
        let mut grown = Mark::new("hose-grown", "stored hose, grown").figure("grown-m", hose.grown_m);
        for line in self.drawn.polylines(new_m, grown_m) {
            grown.polygon(&ribbon(&line, half), Pen::Dashed, Fill::None);
            for pair in line.windows(2) {
                // Hatched across the tube, never along it.
                let rising = pair[0].along.x * pair[0].along.y > -0.1;
                grown.lines(&hatch(&ribbon(pair, half), 1.1, rising), Pen::Thin);
            }
        }
        self.marks.push(grown);
        for line in self.drawn.polylines(0.0, grown_m.max(new_m)) {
            for pair in line.windows(2) {
                self.board.take_line(pair[0].at, pair[1].at, half, What::Object);
            }
        }
    }

    /// Tube and bends: one thick line, or two thin ones with the centreline where there is room.
    fn draw_tube(&mut self) {
        for (a, b) in self.drawn.strokes() {
            self.board.take_line(a, b, self.tube_half(), What::Object);
        }
        for leg in 0..self.drawn.legs.len() {
            let mark = self.tube_mark(leg);
            self.marks.push(mark);
            if leg + 1 < self.drawn.legs.len() {
                let mark = self.bend_mark(leg);
                if let Some((a, b)) = self.bend_tick(leg) {
                    self.board.take_line(a, b, 0.25, What::Object);
                }
                self.marks.push(mark);
            }
        }
    }

    /// The straight of a leg.
    fn tube_mark(&self, leg: usize) -> Mark {
        let line = &self.p.line.legs[leg];
        let tubes = self.p.line.tubes.iter().filter(|tube| tube.leg == leg);
        let tube = tubes.map(|tube| tube.mark.as_str()).collect::<Vec<_>>().join(" ");
        let mut mark =
            Mark::new("tube", format!("{tube} {}", crate::draw::hand::words::leg_words(line, &self.p.say)))
                .with("mark", tube)
                .figure("station-m", line.station_m)
                .figure("height-m", line.from.z)
                .figure("length-m", line.length_m);
        self.strokes_of(&mut mark, leg, None);
        mark
    }

    /// The arc of a bend; a bend without a fitting shows the bare corner.
    fn bend_mark(&self, index: usize) -> Mark {
        let (bend, name) = (&self.p.line.bends[index], self.bend_name(index));
        let mut mark = Mark::new("bend", format!("{name}, {}", self.p.say.angle(bend.angle_deg)))
            .with("mark", name)
            .figure("station-m", bend.at_centre_m)
            .figure("height-m", bend.point.z)
            .figure("angle", bend.angle_deg);
        self.strokes_of(&mut mark, index, Some(index));
        if let Some((a, b)) = self.bend_tick(index) {
            mark.line(a, b, Pen::Thick);
        } else if bend.fitting.is_none() {
            mark.circle(self.drawn.legs[index].to, 0.8, Pen::Thin, Fill::White);
        }
        mark
    }

    /// `HB3`: the mark of a bend by its index.
    pub fn bend_name(&self, index: usize) -> String {
        self.p.line.bends.get(index).map_or_else(String::new, |bend| self.p.line.bend_mark(bend.n))
    }

    /// The tick of a bend that the elevation shows straight.
    fn bend_tick(&self, index: usize) -> Option<(V2, V2)> {
        let (before, after) = (&self.drawn.legs[index], &self.drawn.legs[index + 1]);
        let flat = before.along().dot(after.along()) > 0.9999;
        let across = before.along().perp() * 2.6;
        (self.manner.unrolled && flat).then(|| (before.to - across, before.to + across))
    }

    /// Strokes of the pieces of one leg or one bend, with gaps where they pass under.
    fn strokes_of(&self, mark: &mut Mark, leg: usize, bend: Option<usize>) {
        let own = self.drawn.pieces.iter().filter(|piece| piece.leg == leg && piece.bend == bend);
        let spans: Vec<(f64, f64)> = own.flat_map(|piece| self.seen(piece.from_m, piece.to_m)).collect();
        for (from_m, to_m) in spans {
            if self.two_lines() {
                for line in self.drawn.polylines(from_m, to_m) {
                    for side in [-1.0, 1.0] {
                        mark.path(offset(&line, side * self.tube_mm / 2.0), Pen::Thin, Fill::None);
                    }
                }
            }
            let pen = if self.two_lines() { Pen::Chain } else { Pen::Thick };
            for piece in self.drawn.stretch(from_m, to_m) {
                let [p, a, b, q] = piece.curve;
                let step = if piece.bend.is_some() { Segment::Cubic(a, b, q) } else { Segment::Line(q) };
                mark.path(vec![Segment::Move(p), step], pen, Fill::None);
            }
        }
    }

    /// A stretch less the parts that pass under.
    fn seen(&self, from_m: f64, to_m: f64) -> Vec<(f64, f64)> {
        let mut left = vec![(from_m, to_m)];
        for (a, b) in &self.under {
            left = left
                .into_iter()
                .flat_map(|(p, q)| [(p, q.min(*a)), (p.max(*b), q)])
                .filter(|(p, q)| q - p > 1e-9)
                .collect();
        }
        left
    }
}

/// A polyline moved sideways.
fn offset(line: &[OnLine], by: f64) -> Vec<Segment> {
    let mut steps: Vec<Segment> = line.iter().map(|p| Segment::Line(p.at + p.along.perp() * by)).collect();
    if let Some(Segment::Line(first)) = steps.first().copied() {
        steps[0] = Segment::Move(first);
    }
    steps
}

/// The outline of a polyline made wide.
fn ribbon(line: &[OnLine], half: f64) -> Vec<V2> {
    let left = line.iter().map(|p| p.at + p.along.perp() * half);
    let right = line.iter().rev().map(|p| p.at - p.along.perp() * half);
    left.chain(right).collect()
}
