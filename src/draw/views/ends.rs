//! What stands at the ends of a line and in it: valve, stop, cap, open end, unit, and the junctions by which
//! other lines come in.
use super::centreline::OnLine;
use super::draft::Draft;
use crate::draw::hand::geo::{Quad, V2, clipped, v2};
use crate::draw::hand::scene::{Fill, Mark, Pen};
use crate::draw::hand::symbols;
use crate::draw::placer::what::What;
use crate::draw::subject::BranchMark;
use crate::route::End;
use glam::DVec3;

/// Half a side of the valve's box, mm.
const VALVE_MM: f64 = 2.6;
/// Length of the stop's symbol, and the least to which it gives way to a neighbour, mm.
const STOP_MM: f64 = 4.2;
const LEAST_STOP_MM: f64 = 1.6;
/// How much of a branch is drawn, and the least beside its run at which its way on paper can be told, mm.
const BRANCH_MM: f64 = 6.5;
const TOLD_MM: f64 = 2.2;
/// How much of what goes on past the end is drawn, mm.
const ONWARD_MM: f64 = 7.0;

impl Draft<'_> {
    /// Start, stop, branches and end, each drawn and its room taken; answers where their names belong.
    pub fn draw_fittings(&mut self, eye: &Eye) -> Named {
        let begin = self.draw_start();
        let stop = self.draw_stop();
        let branches = self.p.branches.iter().map(|branch| self.draw_branch(branch, eye)).collect();
        let end = self.draw_end();
        Named { begin, stop, branches, end }
    }

    /// Names of start, stop and end; `favoured` is where the start's had best lie.
    pub fn name_ends(&mut self, named: &Named, favoured: V2) {
        let p = self.p;
        if !p.begins.is_empty() {
            self.name("begin-name", &p.begins, named.begin, 3.2, favoured);
        }
        if let (Some(stop), Some(station_m)) = (named.stop, self.stop_m()) {
            let told = self.manner.tells_all && self.p.line.tail != End::Stop;
            let words = if told { format!("STOP at {}", p.say.length(station_m)) } else { "STOP".into() };
            self.name("stop-name", &words, stop, 2.4, v2(0.4, 1.0));
        }
        if !p.ends.is_empty() && p.line.tail != End::Stop {
            self.name("end-name", &p.ends, named.end, 3.2, v2(0.6, 0.6));
        }
    }

    /// What the line begins at.
    fn draw_start(&mut self) -> V2 {
        let Some(first) = self.drawn.legs.first() else { return V2::ZERO };
        let place = OnLine { at: first.from, along: first.along() };
        match self.p.line.head {
            End::Valve => self.draw_valve(place),
            End::Cap => self.draw_cap(place),
            _ => self.draw_open(place, -1.0),
        }
    }

    /// The valve: a box with a diagonal, from whose side the tube leaves.
    fn draw_valve(&mut self, place: OnLine) -> V2 {
        let along = place.along;
        let middle = place.at - along * VALVE_MM;
        let at = |x: f64, y: f64| middle + (along * x + along.perp() * y) * VALVE_MM;
        let corners = if along == V2::ZERO {
            Quad::about(middle, v2(VALVE_MM, VALVE_MM) * 2.0).corners
        } else {
            [at(-1.0, -1.0), at(1.0, -1.0), at(1.0, 1.0), at(-1.0, 1.0)]
        };
        let mut mark = Mark::new("valve", self.p.begins.clone())
            .figure("station-m", 0.0)
            .figure("height-m", self.p.line.start.z);
        mark.polygon(&corners, Pen::Thick, Fill::White);
        mark.line(corners[0], corners[2], Pen::Thin);
        self.board.take(Quad::new(corners), What::Object);
        self.marks.push(mark);
        middle
    }

    /// A cap: a thick cup over the tube's end.
    fn draw_cap(&mut self, place: OnLine) -> V2 {
        let wide = self.tube_half() + 1.1;
        let along = if place.along == V2::ZERO { V2::X } else { place.along };
        let at = |x: f64, y: f64| place.at + along * x + along.perp() * y;
        let mut mark = Mark::new("cap", "cap").figure("station-m", 0.0);
        mark.polygon(
            &[at(-0.9, -wide), at(0.9, -wide), at(0.9, wide), at(-0.9, wide)],
            Pen::Thick,
            Fill::Black,
        );
        self.board.take_line(at(-0.4, 0.0), at(0.4, 0.0), wide, What::Object);
        self.marks.push(mark);
        place.at
    }

    /// An end with nothing on it that is drawn: a ring across the tube.
    fn draw_open(&mut self, place: OnLine, way: f64) -> V2 {
        let mut mark = Mark::new("open-end", "open end");
        mark.circle(place.at, (self.tube_half() + 0.6).max(1.0), Pen::Thin, Fill::White);
        self.board.take(Quad::about(place.at, v2(2.4, 2.4)), What::Object);
        self.marks.push(mark);
        place.at + place.along * way
    }

    /// The stop: a reducer that stands in the line, or ends it.
    fn draw_stop(&mut self) -> Option<V2> {
        let station_m = self.stop_m()?;
        let place = self.drawn.at_station(station_m);
        let (at, along) = (place.at, place.along);
        let mut mark = Mark::new("stop", "stop fitting").figure("station-m", station_m);
        if let Some(raceway) = &self.p.line.raceway {
            mark = mark.figure("height-m", raceway.end.z);
        }
        if along == V2::ZERO {
            let r = 1.7;
            mark.circle(at, r, Pen::Thick, Fill::None);
            mark.line(at - v2(r, 0.0), at + v2(r, 0.0), Pen::Thin);
            self.board.take(Quad::about(at, v2(r, r) * 2.0), What::Object);
            self.marks.push(mark);
            return Some(at);
        }
        let wide = (self.tube_half() + 1.0).max(1.5);
        let (narrow, long) = (wide * 0.5, self.stop_length(station_m));
        let corner = |x: f64, y: f64| at + along * x * long + along.perp() * y;
        let corners = [
            corner(0.0, -wide),
            corner(0.45, -wide),
            corner(1.0, -narrow),
            corner(1.0, narrow),
            corner(0.45, wide),
            corner(0.0, wide),
        ];
        mark.polygon(&corners, Pen::Thick, Fill::White);
        self.board.take_line(corner(0.2, 0.0), corner(0.8, 0.0), wide, What::Object);
        self.marks.push(mark);
        Some(at + along * long / 2.0)
    }

    /// How long the stop is drawn: shorter where a member or the next work point is near.
    fn stop_length(&self, station_m: f64) -> f64 {
        let index = self.p.line.leg_at(station_m - 1e-6);
        let Some(leg) = self.drawn.legs.get(index) else { return STOP_MM };
        let along_m = station_m - leg.station_m;
        let members = self.p.crossings.iter().filter(|crossing| crossing.leg == index);
        let edges = members.map(|crossing| crossing.at_m - crossing.thickness_m.unwrap_or(0.04) / 2.0);
        let bend = self.p.line.bends.get(index).map(|bend| leg.length_m - bend.tangent_m);
        let next = edges.chain(bend).filter(|edge_m| *edge_m > along_m).fold(f64::MAX, f64::min);
        ((next - along_m) * leg.mm_per_m() - 0.6).clamp(LEAST_STOP_MM, STOP_MM)
    }

    /// A branch: a short piece the way it comes in; where that runs toward the eye or away, a ring with a dot
    /// (toward) or a cross (away), as risers have (ISO 6412-1).
    /// Answers where its flag belongs.
    fn draw_branch(&mut self, branch: &BranchMark, eye: &Eye) -> V2 {
        let leg = self.p.line.leg_at(branch.station_m);
        let place = self.drawn.at_station(branch.station_m);
        let at = place.at;
        let way = (eye.project)(branch.toward, leg) * BRANCH_MM;
        let mut mark = Mark::new("branch", format!("{}: {}", branch.letters, branch.words.join(", ")))
            .with("mark", &branch.letters)
            .figure("station-m", branch.station_m)
            .figure("roll-deg", branch.roll_deg);
        if self.drawn.hides(branch.station_m) {
            self.marks.push(mark);
            return at;
        }
        let mut flagged = at;
        // A branch that on paper lies on its own run is seen end on.
        if way.perp_dot(place.along).abs() < TOLD_MM {
            symbols::riser(&mut mark, at, branch.toward.dot((eye.nearer)(leg)) > 0.0);
            self.board.take(Quad::about(at, v2(3.8, 3.8)), What::Object);
        } else {
            let unit = way.normalize();
            let (near, far) = (at + unit * self.tube_half(), at + unit * way.length().max(4.0));
            let half = if self.two_lines() { self.tube_mm / 2.0 } else { 0.0 };
            if half > 0.0 {
                mark.lines(
                    &[1.0, -1.0]
                        .map(|side| (near + unit.perp() * half * side, far + unit.perp() * half * side)),
                    Pen::Thin,
                );
            }
            mark.line(near, far, if half > 0.0 { Pen::Chain } else { Pen::Thick });
            // The socket of the branch, so that the line is seen to end in the junction's own neck.
            let neck = near.lerp(far, 0.6);
            let across = unit.perp() * (self.tube_half() + 0.8);
            mark.line(neck - across, neck + across, Pen::Thin);
            self.board.take_line(near, far, self.tube_half() + 0.3, What::Object);
            self.board.take_line(neck - across, neck + across, 0.15, What::Object);
            flagged = far;
        }
        self.marks.push(mark);
        flagged
    }

    /// What the line ends in: the unit, the branch of a junction, a coupling with the line that goes on.
    fn draw_end(&mut self) -> V2 {
        let Some(last) = self.drawn.legs.last() else { return V2::ZERO };
        let (end, along) = (last.to, last.along());
        match self.p.line.tail {
            End::Stop => end,
            End::Unit => {
                let middle = end + along * 2.5;
                let mut mark = Mark::new("unit", "power unit").figure("height-m", self.p.line.end.z);
                symbols::unit(&mut mark, middle);
                self.board.take(Quad::about(middle, v2(5.0, 5.0)), What::Object);
                self.marks.push(mark);
                middle
            }
            End::Branch => self.draw_joined(end, along),
            _ => {
                self.draw_onward(end, along);
                end + along * ONWARD_MM / 2.0
            }
        }
    }

    /// Where it joins: a dot (a permanent joint), and a piece of what it joins, dashed.
    fn draw_joined(&mut self, end: V2, along: V2) -> V2 {
        let mut mark = Mark::new("junction", format!("joins {}", self.p.ends));
        mark.circle(end, 1.0, Pen::Thin, Fill::Black);
        self.board.take(Quad::about(end, v2(2.4, 2.4)), What::Object);
        self.marks.push(mark);
        self.draw_onward(end + along, along);
        end
    }

    /// A short dashed piece of what goes on.
    fn draw_onward(&mut self, end: V2, along: V2) {
        let Some((a, b)) = clipped(end, end + along * ONWARD_MM, &self.board.frame) else { return };
        let mut mark = Mark::new("onward", format!("on to {}", self.p.ends));
        mark.line(a, b, Pen::ThickDashed);
        self.board.take_line(a, b, 0.25, What::Object);
        self.marks.push(mark);
    }
}

/// How a view sees directions: a unit vector at a leg on paper, and which way is toward the eye there.
pub struct Eye<'e> {
    pub project: &'e dyn Fn(DVec3, usize) -> V2,
    pub nearer: &'e dyn Fn(usize) -> DVec3,
}

/// Where the names of what stands on a line belong.
pub struct Named {
    pub begin: V2,
    /// `None` on a line without a stop.
    pub stop: Option<V2>,
    /// In the order of the picture's branches.
    pub branches: Vec<V2>,
    pub end: V2,
}
