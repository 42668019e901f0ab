//! What stands on the tube or round it: couplings, joints, members bored through.
use super::boxes::Reach;
use super::draft::Draft;
use crate::draw::hand::geo::{Quad, V2, hatch};
use crate::draw::hand::scene::{Fill, Mark, Pen};
use crate::draw::placer::what::What;

/// Half the length of a joint's cross stroke, mm.
const STROKE_MM: f64 = 1.3;
/// From the middle of the tube to the end of a member's symbol, mm.
pub const MEMBER_MM: f64 = 3.4;
/// Half of what a coupling and a member are drawn as along the line where there is room, mm.
const SLEEVE_MM: f64 = 0.5;
const THIN_MEMBER_MM: f64 = 0.5;
/// Thickness of a member of which nothing is known: a two-by, dressed (PS 20), metres.
const TWO_BY_M: f64 = 0.0381;

/// What one box of a leg stands for: an index into the picture's list.
enum Stands {
    Sleeve,
    Member(usize),
}

impl Draft<'_> {
    /// Couplings as sleeves, members as two hatched pieces, one on each side of the tube; none drawn so
    /// large that it seems to touch what it does not.
    pub fn draw_sleeves_and_members(&mut self) {
        for leg in 0..self.drawn.legs.len() {
            let (reaches, stands): (Vec<Reach>, Vec<Stands>) = self.boxes(leg).into_iter().unzip();
            let halves = self.drawn_halves(leg, &reaches);
            for ((reach, stands), half_mm) in reaches.iter().zip(stands).zip(halves) {
                match stands {
                    Stands::Sleeve => self.draw_sleeve(leg, reach.at_m, half_mm),
                    Stands::Member(index) => self.draw_member(leg, index, half_mm),
                }
            }
        }
    }

    /// Every box of a leg.
    fn boxes(&self, leg: usize) -> Vec<(Reach, Stands)> {
        let station_m = self.p.line.legs.get(leg).map_or(0.0, |leg| leg.station_m);
        let mut all = Vec::new();
        for tube in self.p.line.tubes.iter().filter(|tube| tube.leg == leg) {
            let cut = self.p.tubes.iter().find(|cut| cut.tube == tube.mark);
            all.extend(cut.iter().flat_map(|cut| &cut.couplings).map(|(from_m, to_m)| {
                let at_m = tube.start_m - station_m + (from_m + to_m) / 2.0;
                let half_m = (to_m - from_m) / 2.0;
                (Reach { at_m, half_m, usual_mm: SLEEVE_MM }, Stands::Sleeve)
            }));
        }
        let own = self.p.crossings.iter().enumerate().filter(|(_, crossing)| crossing.leg == leg);
        all.extend(own.map(|(i, crossing)| {
            let half_m = crossing.thickness_m.unwrap_or(TWO_BY_M) / 2.0;
            (Reach { at_m: crossing.at_m, half_m, usual_mm: THIN_MEMBER_MM }, Stands::Member(i))
        }));
        all
    }

    /// A coupling.
    fn draw_sleeve(&mut self, leg: usize, at_m: f64, half_mm: f64) {
        let line = &self.drawn.legs[leg];
        let (at, along) = (line.at(at_m), line.along());
        if along == V2::ZERO || line.hides(at_m) {
            return;
        }
        let side = along.perp() * (self.tube_half() + 0.95);
        let end = along * half_mm;
        let corners = [at - end - side, at + end - side, at + end + side, at - end + side];
        let mut mark = Mark::new("coupling", "coupling").figure("station-m", line.station_m + at_m);
        mark.polygon(&corners, Pen::Thin, Fill::White);
        self.board.take(Quad::new(corners), What::Object);
        self.marks.push(mark);
    }

    /// A member that is bored through.
    fn draw_member(&mut self, leg: usize, index: usize, half_mm: f64) {
        let (line, crossing) = (&self.drawn.legs[leg], &self.p.crossings[index]);
        let (at, along) = (line.at(crossing.at_m), line.along());
        let mut mark =
            Mark::new("crossing", format!("{} {}: {}", crossing.mark, crossing.words, crossing.verdict))
                .with("mark", &crossing.mark)
                .figure("station-m", line.station_m + crossing.at_m)
                .with("verdict", &crossing.verdict);
        if along != V2::ZERO {
            let gap = self.band_half().max(self.tube_half()) + 0.15;
            let end = along * half_mm;
            for side in [along.perp(), -along.perp()] {
                let (near, far) = (at + side * gap, at + side * MEMBER_MM.max(gap + 1.5));
                let corners = [near - end, near + end, far + end, far - end];
                mark.polygon(&corners, Pen::Thin, Fill::White);
                mark.lines(&hatch(&corners, 0.8, true), Pen::Thin);
                self.board.take(Quad::new(corners), What::Object);
            }
        }
        self.marks.push(mark);
    }

    /// Joints as cross strokes; those under a coupling are told by it.
    pub fn draw_joints(&mut self) {
        let sleeves: Vec<V2> =
            self.marks.iter().filter(|mark| mark.kind == "coupling").filter_map(middle).collect();
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
}

/// The middle of a mark's first shape.
fn middle(mark: &Mark) -> Option<V2> {
    let corners = mark.shapes.first()?.corners();
    (!corners.is_empty()).then(|| corners.iter().sum::<V2>() / corners.len() as f64)
}
