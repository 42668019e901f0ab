//! The effort plot: force against the length of hose in the tube, with the bends and the force at hand.
use crate::draw::hand::font::{SIZE_MM, line_height};
use crate::draw::hand::geo::{Quad, V2, v2};
use crate::draw::hand::scene::{Fill, Mark, Pen, Scene, Segment};
use crate::draw::hand::text::{Align, Text};
use crate::draw::placer::board::What;
use crate::draw::placer::paper::Paper;
use crate::draw::subject::Plot;
use crate::measure::{FOOT_M, LBF_N, Lengths, Say};

/// Line patterns of the curves, taken in turn.
const CURVES: [Pen; 3] = [Pen::Thick, Pen::ThickDashed, Pen::Pattern(&[1.0, 0.9])];

/// Draws the plot.
pub fn plot(p: &Plot) -> Scene {
    let units = Units::of(&p.say);
    let mut paper = Paper::new(&p.prefix, &p.title, in_words(p, &units), p.area_mm);
    let axes = Axes::new(p, &units);
    axes.draw(&mut paper, p, &units);
    for (mark, at_m) in &p.bends {
        bend(&mut paper, &axes, mark, at_m / units.length_m);
    }
    let curves: Vec<Vec<V2>> = p
        .curves
        .iter()
        .map(|(_, points)| {
            points.iter().map(|(x, y)| axes.at(x / units.length_m, y / units.force_n)).collect()
        })
        .collect();
    for (i, ((name, _), points)) in p.curves.iter().zip(&curves).enumerate() {
        let mut mark = Mark::new("curve", name.clone());
        let mut steps: Vec<Segment> = points.iter().map(|at| Segment::Line(*at)).collect();
        if let Some(first) = points.first() {
            steps[0] = Segment::Move(*first);
            mark.path(steps, CURVES[i % CURVES.len()], Fill::None);
        }
        paper.add(mark);
    }
    if let Some((name, force_n)) = &p.available {
        let (a, b) = (axes.at(0.0, force_n / units.force_n), axes.at(axes.most.x, force_n / units.force_n));
        let mut mark = Mark::new("available", name.clone()).figure("force-n", *force_n);
        mark.line(a, b, Pen::Chain);
        paper.add(mark);
        paper.label(&format!("{name} {}", units.force(*force_n)), a.lerp(b, 0.3), v2(0.0, -1.0));
    }
    for ((name, values), points) in p.curves.iter().zip(&curves) {
        if let (Some((_, y)), Some(at)) = (values.last(), points.last()) {
            paper.label(&format!("{name} {}", units.force(*y)), *at, v2(-0.9, -0.6));
        }
    }
    for (mark, at_m) in &p.bends {
        bend_line(&mut paper, &axes, mark, at_m / units.length_m);
    }
    paper.finish()
}

/// The firm's units of length and force.
struct Units {
    length_m: f64,
    length: &'static str,
    force_n: f64,
    force: &'static str,
}

impl Units {
    fn of(say: &Say) -> Units {
        match say.lengths {
            Lengths::FtIn => Units { length_m: FOOT_M, length: "ft", force_n: LBF_N, force: "lbf" },
            Lengths::Metric => Units { length_m: 1.0, length: "m", force_n: 1.0, force: "N" },
        }
    }

    /// A force in the firm's unit.
    fn force(&self, force_n: f64) -> String {
        let force = force_n / self.force_n;
        if force.abs() < 10.0 {
            format!("{force:.1} {}", self.force)
        } else {
            format!("{force:.0} {}", self.force)
        }
    }
}

/// The axes: their frame on paper, what they reach, and the step of their figures.
struct Axes {
    frame: Quad,
    most: V2,
    step: V2,
}

impl Axes {
    fn new(p: &Plot, units: &Units) -> Axes {
        let (w, h) = (p.area_mm.0.max(60.0), p.area_mm.1.max(45.0));
        let frame = Quad::rect(v2(13.0, 8.0), v2(w - 8.0, h - 13.0));
        let points = p.curves.iter().flat_map(|(_, points)| points.iter().map(|(x, y)| v2(*x, *y)));
        let bends = p.bends.iter().map(|(_, x)| v2(*x, 0.0));
        let force = p.available.iter().map(|(_, y)| v2(0.0, *y));
        let most = points.chain(bends).chain(force).filter(|at| at.is_finite()).fold(V2::ZERO, V2::max);
        let most = (most / v2(units.length_m, units.force_n)).max(v2(1e-3, 1e-3));
        let step = v2(round_step(most.x / 6.0), round_step(most.y / 5.0));
        let most = (most / step - 1e-9).ceil() * step;
        Axes { frame, most, step }
    }

    /// Paper of a place on the axes.
    fn at(&self, x: f64, y: f64) -> V2 {
        let size = self.frame.max - self.frame.min;
        v2(self.frame.min.x + x / self.most.x * size.x, self.frame.max.y - y / self.most.y * size.y)
    }

    /// Frame, figures and names of the axes.
    fn draw(&self, paper: &mut Paper, p: &Plot, units: &Units) {
        let mut mark = Mark::new("axes", "");
        let (origin, right, top) = (self.at(0.0, 0.0), self.at(self.most.x, 0.0), self.at(0.0, self.most.y));
        mark.lines(&[(origin, right), (origin, top)], Pen::Thin);
        for k in 0..=(self.most.x / self.step.x).round() as usize {
            let at = self.at(k as f64 * self.step.x, 0.0);
            mark.line(at, at + v2(0.0, 1.0), Pen::Thin);
            mark.text(Text::plain(at + v2(0.0, 4.6), figure(k as f64 * self.step.x), Align::Middle));
        }
        for k in 0..=(self.most.y / self.step.y).round() as usize {
            let at = self.at(0.0, k as f64 * self.step.y);
            mark.line(at, at - v2(1.0, 0.0), Pen::Thin);
            mark.text(Text::plain(at + v2(-1.6, 1.2), figure(k as f64 * self.step.y), Align::End));
        }
        let along = format!("{}, {}", p.along, units.length);
        mark.text(Text::plain(v2(right.x, right.y + 5.0 + line_height(SIZE_MM)), along, Align::End));
        mark.text(Text::plain(v2(1.0, top.y - 3.4), format!("force, {}", units.force), Align::Start));
        paper.add(mark);
    }
}

/// Room for a bend's upright line, and its mark on top; the line is drawn when all words have theirs.
fn bend(paper: &mut Paper, axes: &Axes, name: &str, x: f64) {
    let (foot, top) = (axes.at(x, 0.0), axes.at(x, axes.most.y));
    paper.board.take_line(foot, top, 0.13, What::Level);
    paper.label(name, top, v2(0.2, -1.0));
}

/// A bend's line, interrupted where words lie on it.
fn bend_line(paper: &mut Paper, axes: &Axes, name: &str, x: f64) {
    let (foot, top) = (axes.at(x, 0.0), axes.at(x, axes.most.y));
    let mut mark = Mark::new("bend", name).with("mark", name);
    mark.lines(&paper.board.clear_of_words(foot, top), Pen::Dashed);
    paper.scene.marks.push(mark);
}

/// 1, 2 or 5 times a power of ten, not less than `least`.
fn round_step(least: f64) -> f64 {
    let power = 10_f64.powf(least.log10().floor());
    [1.0, 2.0, 5.0].into_iter().map(|k| k * power).find(|step| *step >= least).unwrap_or(power * 10.0)
}

/// A figure of an axis, without needless noughts.
fn figure(x: f64) -> String {
    format!("{}", (x * 1000.0).round() / 1000.0)
}

/// The plot in words.
fn in_words(p: &Plot, units: &Units) -> String {
    let mut words: Vec<String> = Vec::new();
    for (name, points) in &p.curves {
        let most = points.iter().map(|(_, y)| *y).fold(0.0, f64::max);
        words.push(format!("{name}: at most {}", units.force(most)));
    }
    words.extend(p.available.iter().map(|(name, force_n)| format!("{name}: {}", units.force(*force_n))));
    format!("{}.", words.join("; "))
}
