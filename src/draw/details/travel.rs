//! The hose drawn in: suction needed and had against the length that is in, and below it where it is spent.
use crate::draw::hand::font::{SIZE_MM, line_height, width};
use crate::draw::hand::geo::{Quad, V2, hatch, v2};
use crate::draw::hand::scene::{Fill, Mark, Pen, Scene, Segment};
use crate::draw::hand::text::{Align, Text};
use crate::draw::placer::paper::Paper;
use crate::draw::placer::what::What;
use crate::draw::subject::{TravelPanel, TravelPicture, TravelPlace};
use crate::measure::{FOOT_M, INCH_WATER_PA, Lengths, Say};

/// Room left of a panel for the figures of its axis, right of it, and between panels, mm.
const LEFT_MM: f64 = 11.0;
const RIGHT_MM: f64 = 4.0;
/// Height of the picture of where the suction is spent, and the room between it and the curves, mm.
const SPENT_MM: f64 = 18.0;
const BETWEEN_MM: f64 = 17.0;
/// Height of one of several panels, and the room from one to the next, mm. They stand one under the other: side
/// by side a phone would show them too small to tell apart.
const CASE_MM: f64 = 32.0;
const UNDER_MM: f64 = 22.0;
/// Height of the strip that marks the riser, mm.
const RISER_MM: f64 = 2.0;
/// What is needed is drawn up to so many times what is had.
const MOST: f64 = 1.6;

/// Where the suction is spent, from the bottom up, with how each is told.
const SPENT: [(&str, Tint); 3] =
    [("in the valve", Tint::Rising), ("along the hose", Tint::Plain), ("round the tail", Tint::Crossed)];

/// A way to fill an area that a copier keeps.
#[derive(Clone, Copy)]
enum Tint {
    Rising,
    Plain,
    Crossed,
}

/// Draws the picture: one panel with all marks, or several with the curves alone.
pub fn travel(p: &TravelPicture) -> Scene {
    let units = Units::of(&p.say);
    let alone = p.panels.len() == 1;
    let width_mm = p.area_mm.0.max(60.0);
    let high_mm = if alone { p.area_mm.1.max(78.0) - SPENT_MM - BETWEEN_MM - 22.0 } else { CASE_MM };
    let whole_mm = if alone { p.area_mm.1.max(78.0) } else { p.panels.len() as f64 * (CASE_MM + UNDER_MM) };
    let mut paper = Paper::new(&p.prefix, &p.title, in_words(p, &units), (p.area_mm.0, whole_mm));
    // All axes first, so that no panel's words lie on its neighbour's.
    let framed = |(i, panel): (usize, &TravelPanel)| {
        let top = 9.0 + i as f64 * (CASE_MM + UNDER_MM);
        let low = v2(width_mm - RIGHT_MM, top + high_mm);
        let axes = Axes::new(p, &units, Quad::rect(v2(LEFT_MM, top), low));
        paper.add(axes.drawn(&p.along, units.suction, &panel.title, &units));
        axes
    };
    let framed: Vec<Axes> = p.panels.iter().enumerate().map(framed).collect();
    let shares: Vec<Axes> = framed.iter().filter(|_| alone).map(Axes::of_shares).collect();
    for axes in &shares {
        paper.add(axes.drawn("", "where it is spent, %", "", &units));
    }
    for (axes, panel) in framed.iter().zip(&p.panels) {
        curves(&mut paper, axes, p, panel, &units, alone);
    }
    for (axes, panel) in shares.iter().zip(&p.panels) {
        spent(&mut paper, axes, panel, &units);
    }
    paper.finish()
}

/// The firm's units of length and suction.
struct Units {
    length_m: f64,
    length: &'static str,
    suction_pa: f64,
    suction: &'static str,
}

impl Units {
    fn of(say: &Say) -> Units {
        match say.lengths {
            Lengths::FtIn => {
                Units { length_m: FOOT_M, length: "ft", suction_pa: INCH_WATER_PA, suction: "suction, inH2O" }
            }
            Lengths::Metric => {
                Units { length_m: 1.0, length: "m", suction_pa: 1000.0, suction: "suction, kPa" }
            }
        }
    }

    fn at(&self, inserted_m: f64, suction_pa: f64) -> V2 {
        v2(inserted_m / self.length_m, suction_pa / self.suction_pa)
    }
}

/// The axes: their frame on paper, what they reach, and the step of their figures.
struct Axes {
    frame: Quad,
    most: V2,
    step: V2,
}

impl Axes {
    fn new(p: &TravelPicture, units: &Units, frame: Quad) -> Axes {
        let all = || p.panels.iter().flat_map(|panel| &panel.places);
        let had_pa = all().map(|place| place.had_pa()).fold(1.0, f64::max);
        let points = all()
            .map(|place| units.at(place.inserted_m, place.needed_pa.min(MOST * had_pa).max(place.had_pa())));
        let most = points.filter(|at| at.is_finite()).fold(v2(1e-3, 1e-3), V2::max);
        let size = frame.max - frame.min;
        // No more figures than their words have room for: some 12 mm each along, 8 mm upright.
        let step = v2(round_step(most.x * 12.0 / size.x), round_step(most.y * 8.0 / size.y));
        let most = (most / step - 1e-9).ceil() * step;
        Axes { frame, most, step }
    }

    /// Those of where the suction is spent, below.
    fn of_shares(&self) -> Axes {
        let low = self.frame.max;
        let top = low.y + BETWEEN_MM;
        let frame = Quad::rect(v2(self.frame.min.x, top), v2(low.x, top + SPENT_MM));
        Axes { frame, most: v2(self.most.x, 100.0), step: v2(self.step.x, 50.0) }
    }

    /// Paper of a place on the axes.
    fn at(&self, at: V2) -> V2 {
        let size = self.frame.max - self.frame.min;
        v2(self.frame.min.x + at.x / self.most.x * size.x, self.frame.max.y - at.y / self.most.y * size.y)
    }

    /// Frame, figures and names of the axes.
    fn drawn(&self, along: &str, up: &str, title: &str, units: &Units) -> Mark {
        let mut mark = Mark::new("axes", "");
        let (origin, right, top) =
            (self.at(V2::ZERO), self.at(v2(self.most.x, 0.0)), self.at(v2(0.0, self.most.y)));
        mark.lines(&[(origin, right), (origin, top)], Pen::Thin);
        for k in 0..=(self.most.x / self.step.x).round() as usize {
            let at = self.at(v2(k as f64 * self.step.x, 0.0));
            mark.line(at, at + v2(0.0, 1.0), Pen::Thin);
            mark.text(Text::plain(at + v2(0.0, 4.6), figure(k as f64 * self.step.x), Align::Middle));
        }
        for k in 0..=(self.most.y / self.step.y).round() as usize {
            let at = self.at(v2(0.0, k as f64 * self.step.y));
            mark.line(at, at - v2(1.0, 0.0), Pen::Thin);
            mark.text(Text::plain(at + v2(-1.6, 1.2), figure(k as f64 * self.step.y), Align::End));
        }
        if !along.is_empty() {
            let words = format!("{along}, {}", units.length);
            mark.text(Text::plain(v2(right.x, right.y + 5.0 + line_height(SIZE_MM)), words, Align::End));
        }
        let words = if title.is_empty() { up.to_owned() } else { format!("{title}; {up}") };
        mark.text(Text::plain(v2(self.frame.min.x - LEFT_MM + 1.0, top.y - 3.4), words, Align::Start));
        mark
    }
}

/// Needed and had, riser and bends, and the worst place.
fn curves(
    paper: &mut Paper,
    axes: &Axes,
    p: &TravelPicture,
    panel: &TravelPanel,
    units: &Units,
    named: bool,
) {
    let places: Vec<&TravelPlace> =
        panel.places.iter().filter(|place| place.inserted_m.is_finite()).collect();
    let line = |of: &dyn Fn(&TravelPlace) -> f64| -> Vec<V2> {
        let most_pa = axes.most.y * units.suction_pa;
        places
            .iter()
            .map(|place| axes.at(units.at(place.inserted_m, of(place).clamp(0.0, most_pa))))
            .collect()
    };
    let (needed, had) = (line(&|place| place.needed_pa), line(&|place| place.had_pa()));
    curve(paper, "needed", "suction needed", &needed, Pen::Thick);
    curve(paper, "had", "suction had", &had, Pen::ThickDashed);
    // Names of the bends after the curves, so that none lies on one.
    if named {
        for (mark, at_m) in &p.bends {
            let (foot, top) = bend(axes, at_m / units.length_m);
            paper.board.take_line(foot, top, 0.13, What::Level);
            paper.label(mark, top, v2(0.2, -1.0));
        }
    }
    let strip_top = riser(paper, axes, p.riser_m / units.length_m);
    worst(paper, axes, panel, units);
    if let Some(at) = strip_top.filter(|_| named) {
        paper.label("riser", at, v2(0.2, -1.0));
    }
    // Words stand where the two curves lie apart: one over each, a third of the way along.
    for (words, line, side) in [("needed", &needed, 0.7), ("had", &had, 0.6)] {
        if let Some(at) = line.get((line.len() as f64 * side) as usize) {
            paper.label(words, *at, v2(0.2, -1.0));
        }
    }
    for (name, at_m) in &p.bends {
        let (foot, top) = bend(axes, at_m / units.length_m);
        let mut mark = Mark::new("bend", name).with("mark", name);
        mark.lines(&paper.board.clear_of_words(foot, top), Pen::Dashed);
        paper.scene.marks.push(mark);
    }
}

fn bend(axes: &Axes, x: f64) -> (V2, V2) {
    (axes.at(v2(x, 0.0)), axes.at(v2(x, axes.most.y)))
}

fn curve(paper: &mut Paper, kind: &'static str, title: &str, points: &[V2], pen: Pen) {
    let mut mark = Mark::new("curve", title).with("of", kind);
    mark.path(line(points), pen, Fill::None);
    paper.add(mark);
}

/// A line through points.
fn line(points: &[V2]) -> Vec<Segment> {
    let step = |(nth, at): (usize, &V2)| if nth == 0 { Segment::Move(*at) } else { Segment::Line(*at) };
    points.iter().enumerate().map(step).collect()
}

/// A hatched strip on the axis, as far as the riser goes; answers where its name points.
fn riser(paper: &mut Paper, axes: &Axes, x: f64) -> Option<V2> {
    if x <= 0.0 {
        return None;
    }
    let (foot, end) = (axes.at(V2::ZERO), axes.at(v2(x.min(axes.most.x), 0.0)));
    let corners = [foot, end, end - v2(0.0, RISER_MM), foot - v2(0.0, RISER_MM)];
    let mut mark = Mark::new("riser", "riser");
    mark.polygon(&corners, Pen::Thin, Fill::None);
    mark.lines(&hatch(&corners, 1.2, true), Pen::Thin);
    paper.add(mark);
    Some(foot.lerp(end, 0.6) - v2(0.0, RISER_MM))
}

/// A ring on the curve where the reserve is least, with the reserve.
fn worst(paper: &mut Paper, axes: &Axes, panel: &TravelPanel, units: &Units) {
    let Some(place) = panel.places.iter().min_by(|a, b| a.reserve().total_cmp(&b.reserve())) else { return };
    if !place.reserve().is_finite() {
        return;
    }
    let needed_pa = place.needed_pa.min(axes.most.y * units.suction_pa);
    let at = axes.at(units.at(place.inserted_m, needed_pa));
    let words = format!("worst: {:.2} x", place.reserve());
    let mut mark = Mark::new("worst", words.clone()).figure("inserted-m", place.inserted_m);
    mark.circle(at, 1.0, Pen::Thick, Fill::White);
    paper.add(mark);
    paper.label(&words, at, v2(0.7, -0.8));
}

/// Shares of the suction, stacked, in percent; the last that is drawn.
fn spent(paper: &mut Paper, axes: &Axes, panel: &TravelPanel, units: &Units) {
    let share = |place: &TravelPlace, upto: usize| -> V2 {
        let sum: f64 = place.spent_pa.iter().take(upto).sum();
        let all = place.had_pa().max(1e-9);
        axes.at(v2(place.inserted_m / units.length_m, 100.0 * sum / all))
    };
    for (layer, (name, tint)) in SPENT.iter().enumerate() {
        let mut mark = Mark::new("spent", *name);
        let edge = |upto: usize| -> Vec<V2> { panel.places.iter().map(|place| share(place, upto)).collect() };
        let (low, high) = (edge(layer), edge(layer + 1));
        let around: Vec<V2> = low.iter().chain(high.iter().rev()).copied().collect();
        mark.lines(&tint.lines(&around), Pen::Thin);
        mark.path(line(&high), Pen::Thin, Fill::None);
        paper.add_last(mark);
    }
    key(paper, axes);
}

impl Tint {
    fn lines(self, corners: &[V2]) -> Vec<(V2, V2)> {
        match self {
            Tint::Plain => Vec::new(),
            Tint::Rising => hatch(corners, 1.6, true),
            Tint::Crossed => [hatch(corners, 1.6, true), hatch(corners, 1.6, false)].concat(),
        }
    }
}

/// What the three hatchings say, in a row under the picture, or one under the other where it is narrow.
fn key(paper: &mut Paper, axes: &Axes) {
    let (start, right) = (axes.frame.min.x, axes.frame.max.x);
    let mut at = v2(start, axes.frame.max.y + 7.5);
    for (name, tint) in SPENT {
        let wide = 7.0 + width(name, SIZE_MM, false) + 5.0;
        if at.x > start && at.x + wide > right + 3.0 {
            at = v2(start, at.y + line_height(SIZE_MM) + 1.0);
        }
        let box_ = [at, at + v2(5.5, 0.0), at + v2(5.5, 3.2), at + v2(0.0, 3.2)];
        let mut mark = Mark::new("key", name);
        mark.polygon(&box_, Pen::Thin, Fill::None);
        mark.lines(&tint.lines(&box_), Pen::Thin);
        mark.text(Text::plain(at + v2(7.0, 2.6), name, Align::Start));
        paper.add_last(mark);
        at.x += wide;
    }
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

/// The picture in words.
fn in_words(p: &TravelPicture, units: &Units) -> String {
    let panel = |panel: &TravelPanel| {
        let least = panel.places.iter().min_by(|a, b| a.reserve().total_cmp(&b.reserve()))?;
        let title = if panel.title.is_empty() { String::new() } else { format!("{}: ", panel.title) };
        if !least.reserve().is_finite() {
            return Some(format!("{title}no suction is needed"));
        }
        let unit = units.suction.trim_start_matches("suction, ");
        Some(format!(
            "{title}at the worst, {:.1} {} drawn in, {:.0} {unit} needed and {:.0} {unit} had, {:.2} times the need",
            least.inserted_m / units.length_m,
            units.length,
            least.needed_pa / units.suction_pa,
            least.had_pa() / units.suction_pa,
            least.reserve(),
        ))
    };
    format!("{}.", p.panels.iter().filter_map(panel).collect::<Vec<_>>().join("; "))
}
