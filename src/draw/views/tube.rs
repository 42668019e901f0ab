//! The line itself: hose band, tube, bends, couplings, joints, members bored through.
use super::centreline::OnLine;
use super::draft::Draft;
use crate::draw::hand::geo::{Quad, V2, hatch, v2};
use crate::draw::hand::scene::{Fill, Mark, Pen, Segment};
use crate::draw::placer::board::What;
use crate::draw::subject::{BalloonKind, Piece, Spot};

/// Half the length of a joint's cross stroke, mm.
const STROKE_MM: f64 = 1.3;
/// From the middle of the tube to the end of a member's symbol, mm.
pub const MEMBER_MM: f64 = 3.4;

/// A piece of tube with its place on the leg.
pub struct Placed<'p> {
    pub piece: std::borrow::Cow<'p, Piece>,
    pub leg: usize,
    /// Along the leg.
    pub from_m: f64,
    pub to_m: f64,
    /// Whether a coupling follows.
    pub coupled: bool,
}

/// The pieces of every leg, from the valve to the stop; a leg of which nothing is said is one piece.
pub fn pieces<'p>(draft: &Draft<'p>) -> Vec<Placed<'p>> {
    let route = &draft.p.route;
    let mut all = Vec::new();
    for tube in &route.tubes {
        let before = tube.leg.checked_sub(1).and_then(|b| route.bends.get(b));
        let mut at_m = before.map_or(0.0, |bend| bend.laying_length_m);
        let cut = draft.p.tubes.iter().find(|t| t.leg == tube.leg);
        let Some(cut) = cut else {
            if tube.clear_m > 0.0 {
                let piece = Piece { mark: tube.mark.clone(), length_m: tube.clear_m };
                let (from_m, to_m) = (at_m, at_m + tube.clear_m);
                let piece = std::borrow::Cow::Owned(piece);
                all.push(Placed { piece, leg: tube.leg, from_m, to_m, coupled: false });
            }
            continue;
        };
        for (i, piece) in cut.pieces.iter().enumerate() {
            let to_m = at_m + piece.length_m;
            let coupled = i + 1 < cut.pieces.len();
            let piece = std::borrow::Cow::Borrowed(piece);
            all.push(Placed { piece, leg: tube.leg, from_m: at_m, to_m, coupled });
            at_m = to_m + cut.gap_m;
        }
    }
    all
}

impl Draft<'_> {
    /// Everything of the line, drawn and its room taken.
    pub fn draw_line(&mut self) {
        self.draw_spots();
        self.draw_band();
        self.draw_tube();
        self.draw_joints();
        self.draw_members();
    }

    /// Hatch under the places of fails and cautions.
    fn draw_spots(&mut self) {
        for balloon in &self.p.balloons {
            if !matches!(balloon.kind, BalloonKind::Fail | BalloonKind::Caution) {
                continue;
            }
            let mut mark = Mark::new("hatch", balloon.kind.word()).with("number", balloon.number);
            let fail = balloon.kind == BalloonKind::Fail;
            match balloon.spot {
                Spot::Whole => continue,
                Spot::Leg(leg) => {
                    let Some(line) = self.drawn.legs.get(leg) else {
                        continue;
                    };
                    let (middle, along) = (line.at(line.length_m / 2.0), line.along());
                    let half = (line.drawn_mm() / 2.0 - 1.0).clamp(0.0, 6.0);
                    let strip =
                        Quad::stroke(middle - along * half, middle + along * half, self.band_half() + 0.9);
                    mark.lines(&hatch(&strip.corners, 1.0, fail), Pen::Thin);
                    self.board.take(strip, What::Hatch);
                }
                spot => {
                    let at = self.spot(spot).at;
                    let ring: Vec<V2> = (0..12)
                        .map(|k| at + V2::from_angle(f64::from(k) * std::f64::consts::FRAC_PI_6) * 2.8)
                        .collect();
                    mark.lines(&hatch(&ring, 0.9, fail), Pen::Thin);
                    self.board.take(Quad::about(at, v2(5.2, 5.2)), What::Hatch);
                }
            }
            self.marks.push(mark);
        }
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
            Spot::End | Spot::Bend(_) => drawn.at_station(f64::MAX),
            Spot::Whole => drawn.at_station(0.0),
        }
    }

    /// The stored hose: grey as far as a new one lies, hatched as far as a grown one will.
    fn draw_band(&mut self) {
        let Some(hose) = self.p.hose else { return };
        let half = self.band_half();
        let mut mark = Mark::new("hose-band", "stored hose").figure("new-m", hose.new_m);
        for line in self.drawn.polylines(0.0, hose.new_m) {
            mark.polygon(&ribbon(&line, half), Pen::None, Fill::Grey);
        }
        self.marks.push(mark);
        let mut grown = Mark::new("hose-grown", "stored hose, grown").figure("grown-m", hose.grown_m);
        for line in self.drawn.polylines(hose.new_m, hose.grown_m) {
            grown.polygon(&ribbon(&line, half), Pen::Dashed, Fill::None);
            for pair in line.windows(2) {
                // Hatched across the tube, never along it.
                let rising = pair[0].along.x * pair[0].along.y > -0.1;
                grown.lines(&hatch(&ribbon(pair, half), 1.1, rising), Pen::Thin);
            }
        }
        self.marks.push(grown);
        for line in self.drawn.polylines(0.0, hose.grown_m.max(hose.new_m)) {
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
        let line = &self.p.route.legs[leg];
        let tube = self.p.route.tubes.iter().find(|t| t.leg == leg).map_or(String::new(), |t| t.mark.clone());
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
        let bend = &self.p.route.bends[index];
        let mut mark = Mark::new("bend", format!("B{}, {}", bend.n, self.p.say.angle(bend.angle_deg)))
            .with("mark", format!("B{}", bend.n))
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

    /// Couplings as sleeves, joints as cross strokes.
    fn draw_joints(&mut self) {
        let mut sleeves: Vec<V2> = Vec::new();
        for placed in pieces(self).into_iter().filter(|placed| placed.coupled) {
            let line = &self.drawn.legs[placed.leg];
            let (at, along) = (line.at(placed.to_m), line.along());
            if along == V2::ZERO || line.hides(placed.to_m) {
                continue;
            }
            let half = self.tube_half() + 0.7;
            let sleeve = Quad::stroke(at - along * 0.3, at + along * 0.3, half);
            let mut mark =
                Mark::new("coupling", "coupling").figure("station-m", line.station_m + placed.to_m);
            mark.polygon(&sleeve.corners, Pen::Thin, Fill::White);
            self.board.take(sleeve, What::Object);
            self.marks.push(mark);
            sleeves.push(at);
        }
        for joint in &self.p.joints {
            if self.drawn.hides(joint.station_m) {
                continue;
            }
            let place = self.drawn.at_station(joint.station_m);
            let mut mark = Mark::new("joint", format!("joint {}", joint.mark))
                .with("mark", &joint.mark)
                .figure("station-m", joint.station_m);
            let across = place.along.perp() * (self.tube_half() + STROKE_MM - 0.25);
            if across != V2::ZERO && sleeves.iter().all(|s| s.distance(place.at) > 1.3) {
                mark.line(place.at - across, place.at + across, Pen::Thin);
                self.board.take_line(place.at - across, place.at + across, 0.15, What::Object);
            }
            self.marks.push(mark);
        }
    }

    /// Members as two hatched pieces, one on each side of the tube.
    fn draw_members(&mut self) {
        for crossing in &self.p.crossings {
            let Some(line) = self.drawn.legs.get(crossing.leg) else {
                continue;
            };
            let (at, along) = (line.at(crossing.at_m), line.along());
            let mut mark = Mark::new("crossing", format!("{}: {}", crossing.words, crossing.verdict))
                .figure("station-m", line.station_m + crossing.at_m)
                .with("verdict", &crossing.verdict);
            if along != V2::ZERO {
                let foreshortened = line.drawn_mm() / line.length_m.max(1e-9);
                let thick = (crossing.thickness_m.unwrap_or(0.04) * foreshortened / 2.0).max(0.5);
                let gap = self.band_half().max(self.tube_half()) + 0.15;
                for side in [along.perp(), -along.perp()] {
                    let (near, far) = (at + side * gap, at + side * MEMBER_MM.max(gap + 1.5));
                    let corners = [
                        near - along * thick,
                        near + along * thick,
                        far + along * thick,
                        far - along * thick,
                    ];
                    mark.polygon(&corners, Pen::Thin, Fill::White);
                    mark.lines(&hatch(&corners, 0.8, true), Pen::Thin);
                    self.board.take(Quad::new(corners), What::Object);
                }
            }
            self.marks.push(mark);
        }
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
