//! The ends of a line: the valve, the stop, and a short piece of what goes on.
use super::draft::Draft;
use crate::draw::hand::geo::{Quad, V2, v2};
use crate::draw::hand::scene::{Fill, Mark, Pen};
use crate::draw::placer::board::What;

/// Half a side of the valve's box, mm.
const VALVE_MM: f64 = 2.6;
/// Length of the stop's symbol, mm.
const STOP_MM: f64 = 4.2;
/// How much of the onward line is shown dashed, mm.
const ONWARD_MM: f64 = 9.0;

impl Draft<'_> {
    /// The valve: a box with a diagonal, from whose side the tube leaves.
    pub fn draw_valve(&mut self) -> V2 {
        let Some(first) = self.drawn.legs.first() else {
            return V2::ZERO;
        };
        let along = first.along();
        let middle = first.from - along * VALVE_MM;
        let side = along.perp();
        let at = |x: f64, y: f64| middle + (along * x + side * y) * VALVE_MM;
        let corners = if along == V2::ZERO {
            Quad::about(middle, v2(VALVE_MM, VALVE_MM) * 2.0).corners
        } else {
            [at(-1.0, -1.0), at(1.0, -1.0), at(1.0, 1.0), at(-1.0, 1.0)]
        };
        let mut mark = Mark::new("valve", self.p.valve.clone())
            .figure("station-m", 0.0)
            .figure("height-m", self.p.route.start.z);
        mark.polygon(&corners, Pen::Thick, Fill::White);
        mark.line(corners[0], corners[2], Pen::Thin);
        self.board.take(Quad::new(corners), What::Object);
        self.marks.push(mark);
        middle
    }

    /// The stop: a reducer, with the onward line dashed behind it.
    pub fn draw_stop(&mut self) -> V2 {
        let Some(last) = self.drawn.legs.last() else {
            return V2::ZERO;
        };
        let (end, along) = (last.to, last.along());
        let mut mark = Mark::new("stop", "stop fitting")
            .figure("station-m", self.p.route.centre_m)
            .figure("height-m", self.p.route.end.z);
        if along == V2::ZERO {
            let r = 1.7;
            mark.circle(end, r, Pen::Thick, Fill::None);
            mark.line(end - v2(r, 0.0), end + v2(r, 0.0), Pen::Thin);
            self.board.take(Quad::about(end, v2(r, r) * 2.0), What::Object);
            self.marks.push(mark);
            return end;
        }
        let wide = (self.tube_half() + 1.0).max(1.5);
        let narrow = wide * 0.5;
        let at = |x: f64, y: f64| end + along * x * STOP_MM + along.perp() * y;
        let corners = [
            at(0.0, -wide),
            at(0.45, -wide),
            at(1.0, -narrow),
            at(1.0, narrow),
            at(0.45, wide),
            at(0.0, wide),
        ];
        mark.polygon(&corners, Pen::Thick, Fill::White);
        self.board.take_line(at(0.2, 0.0), at(0.8, 0.0), wide, What::Object);
        self.marks.push(mark);
        end + along * STOP_MM / 2.0
    }

    /// A short dashed piece of the line beyond the stop.
    pub fn draw_onward(&mut self) {
        let Some(last) = self.drawn.legs.last() else {
            return;
        };
        let along = last.along();
        let (a, b) = (last.to + along * STOP_MM, last.to + along * (STOP_MM + ONWARD_MM));
        let Some((a, b)) = crate::draw::hand::geo::clipped(a, b, &self.board.frame) else {
            return;
        };
        let mut mark = Mark::new("onward", "onward to the trunk");
        mark.line(a, b, Pen::ThickDashed);
        self.board.take_line(a, b, 0.25, What::Object);
        self.marks.push(mark);
    }
}
