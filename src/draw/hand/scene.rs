//! A drawing as plain data: marks with the figures they stand for, in millimetres of paper.
//!
//! A scene holds no transform and no clause; what stands in it is drawn as it stands.
use super::decimal;
use super::geo::{V2, v2};
use super::text::Text;

/// Thin line, mm (ISO 128, group 0.5/0.25).
pub const THIN_MM: f64 = 0.25;
/// Thick line, mm.
pub const THICK_MM: f64 = 0.5;

/// A finished drawing.
#[derive(Debug, Clone)]
pub struct Scene {
    /// Put before every id.
    pub prefix: String,
    /// Its name, for `<title>`.
    pub title: String,
    /// What it shows, in words, for `<desc>`.
    pub desc: String,
    pub size_mm: (f64, f64),
    /// The scale, as `1/8 in = 1 ft (1:96)`; `None` for a drawing not to scale.
    pub scale: Option<String>,
    /// In the order of drawing.
    pub marks: Vec<Mark>,
}

/// Something drawn that stands for something.
#[derive(Debug, Clone)]
pub struct Mark {
    /// `tube`, `bend-flag`, `dimension`, ...; `data-kind` in the SVG.
    pub kind: &'static str,
    /// Said when it is pointed at or read aloud.
    pub title: String,
    /// Figures, by attribute name without `data-`.
    pub data: Vec<(&'static str, String)>,
    pub shapes: Vec<Shape>,
}

/// A piece of drawing.
#[derive(Debug, Clone)]
pub enum Shape {
    Path { steps: Vec<Segment>, pen: Pen, fill: Fill },
    Text(Text),
}

/// A step of a path.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Segment {
    Move(V2),
    Line(V2),
    Cubic(V2, V2, V2),
    Close,
}

/// How a line is drawn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Pen {
    None,
    Thin,
    Thick,
    /// Hidden or future work.
    Dashed,
    ThickDashed,
    /// Centrelines and levels.
    Chain,
    Dotted,
    /// A dash pattern of its own, mm, thick.
    Pattern(&'static [f64]),
    /// White, of this width: hides what lies under a nearer line.
    Blank(f64),
}

/// How an area is filled.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fill {
    None,
    White,
    Black,
    Grey,
}

impl Shape {
    /// The points that a path goes through; none of a text.
    pub fn corners(&self) -> Vec<V2> {
        let Shape::Path { steps, .. } = self else { return Vec::new() };
        let point = |step: &Segment| match *step {
            Segment::Move(p) | Segment::Line(p) | Segment::Cubic(_, _, p) => Some(p),
            Segment::Close => None,
        };
        steps.iter().filter_map(point).collect()
    }
}

impl Mark {
    /// A mark without figures or shapes yet.
    pub fn new(kind: &'static str, title: impl Into<String>) -> Mark {
        Mark { kind, title: title.into(), data: Vec::new(), shapes: Vec::new() }
    }

    /// Adds a figure, as words.
    pub fn with(mut self, name: &'static str, figure: impl ToString) -> Mark {
        self.data.push((name, figure.to_string()));
        self
    }

    /// Adds a figure in metres or degrees, to a tenth of a millimetre.
    pub fn figure(mut self, name: &'static str, figure: f64) -> Mark {
        self.data.push((name, decimal::fine(figure)));
        self
    }

    /// The figure of that name.
    pub fn datum(&self, name: &str) -> Option<&str> {
        self.data.iter().find(|(n, _)| *n == name).map(|(_, value)| value.as_str())
    }

    /// Adds a straight line.
    pub fn line(&mut self, a: V2, b: V2, pen: Pen) {
        self.path(vec![Segment::Move(a), Segment::Line(b)], pen, Fill::None);
    }

    /// Adds many straight lines as one path. One that begins where the last ended goes on from it, so that dashes run
    /// on round a curve of short pieces.
    pub fn lines(&mut self, lines: &[(V2, V2)], pen: Pen) {
        let mut steps = Vec::with_capacity(2 * lines.len());
        let mut last = None;
        for (from, to) in lines {
            if last != Some(*from) {
                steps.push(Segment::Move(*from));
            }
            steps.push(Segment::Line(*to));
            last = Some(*to);
        }
        if !steps.is_empty() {
            self.path(steps, pen, Fill::None);
        }
    }

    /// Adds a path.
    pub fn path(&mut self, steps: Vec<Segment>, pen: Pen, fill: Fill) {
        self.shapes.push(Shape::Path { steps, pen, fill });
    }

    /// Adds a closed polygon.
    pub fn polygon(&mut self, corners: &[V2], pen: Pen, fill: Fill) {
        self.polygons(&[corners], pen, fill);
    }

    /// Adds closed polygons as one path.
    pub fn polygons(&mut self, all: &[impl AsRef<[V2]>], pen: Pen, fill: Fill) {
        let mut steps = Vec::new();
        for corners in all.iter().map(AsRef::as_ref) {
            let Some((first, rest)) = corners.split_first() else { continue };
            steps.push(Segment::Move(*first));
            steps.extend(rest.iter().map(|p| Segment::Line(*p)));
            steps.push(Segment::Close);
        }
        if !steps.is_empty() {
            self.path(steps, pen, fill);
        }
    }

    /// Adds a circle.
    pub fn circle(&mut self, middle: V2, radius: f64, pen: Pen, fill: Fill) {
        // Four cubic arcs are within 0.03 % of the radius of a true circle.
        let k = 0.552_284_75 * radius;
        let (e, s, w, n) = (v2(radius, 0.0), v2(0.0, radius), v2(-radius, 0.0), v2(0.0, -radius));
        let arc = |from: V2, to: V2| {
            let (t0, t1) = (from.perp() / radius * k, to.perp() / radius * k);
            Segment::Cubic(middle + from + t0, middle + to - t1, middle + to)
        };
        let steps =
            vec![Segment::Move(middle + e), arc(e, s), arc(s, w), arc(w, n), arc(n, e), Segment::Close];
        self.path(steps, pen, fill);
    }

    /// Adds a text.
    pub fn text(&mut self, text: Text) {
        self.shapes.push(Shape::Text(text));
    }

    /// The texts of the mark.
    pub fn texts(&self) -> impl Iterator<Item = &Text> {
        self.shapes.iter().filter_map(|shape| match shape {
            Shape::Text(text) => Some(text),
            Shape::Path { .. } => None,
        })
    }
}

impl Mark {
    /// What of it no viewer could read.
    fn fault(&self) -> Option<String> {
        let twice = |nth: usize, name: &str| self.data[..nth].iter().any(|(other, _)| *other == name);
        let bad = |(nth, (name, _)): (usize, &(&'static str, String))| {
            !is_name(name) || *name == "kind" || twice(nth, name)
        };
        if !is_name(self.kind) || self.data.iter().enumerate().any(bad) {
            return Some(format!("{} {} has no name that is one", self.kind, self.title));
        }
        let lost = self.shapes.iter().any(Shape::is_lost);
        lost.then(|| format!("{} {} has no place", self.kind, self.title))
    }
}

/// Whether it may be part of an attribute's name.
fn is_name(name: &str) -> bool {
    !name.is_empty() && name.bytes().all(|b| b.is_ascii_alphanumeric() || b == b'-')
}

impl Shape {
    /// Whether some point of it is no number.
    fn is_lost(&self) -> bool {
        let lost = |p: &V2| !p.is_finite();
        match self {
            Shape::Text(text) => lost(&text.at) || !text.angle_deg.is_finite() || !text.size_mm.is_finite(),
            Shape::Path { steps, .. } => steps.iter().any(|step| match step {
                Segment::Move(p) | Segment::Line(p) => lost(p),
                Segment::Cubic(a, b, c) => lost(a) || lost(b) || lost(c),
                Segment::Close => false,
            }),
        }
    }
}

impl Scene {
    /// Moves everything drawn down by `dy` mm.
    pub fn shift(&mut self, dy: f64) {
        let by = v2(0.0, dy);
        for shape in self.marks.iter_mut().flat_map(|mark| &mut mark.shapes) {
            match shape {
                Shape::Text(text) => text.at += by,
                Shape::Path { steps, .. } => steps.iter_mut().for_each(|step| step.shift(by)),
            }
        }
    }

    /// What of it no viewer could read, in words; there is nothing of the kind in a drawing that may be shown.
    ///
    /// All words go through [`escape`](crate::text::escape) and every element that is begun is ended, so that the
    /// text is well formed once names are names, each told once in its mark, and every number is one.
    pub fn fault(&self) -> Option<String> {
        let finite = self.size_mm.0.is_finite() && self.size_mm.1.is_finite();
        let whole = (!finite).then(|| String::from("the sheet has no size"));
        whole.or_else(|| self.marks.iter().find_map(Mark::fault))
    }

    /// Top and bottom of everything drawn.
    pub fn heights(&self) -> (f64, f64) {
        let mut reach = (f64::MAX, f64::MIN);
        let mut add = |p: &V2| reach = (reach.0.min(p.y), reach.1.max(p.y));
        for shape in self.marks.iter().flat_map(|mark| &mark.shapes) {
            match shape {
                Shape::Text(text) => text.line_box().corners.iter().for_each(&mut add),
                Shape::Path { steps, .. } => steps.iter().for_each(|step| match step {
                    Segment::Move(p) | Segment::Line(p) => add(p),
                    Segment::Cubic(a, b, c) => [a, b, c].into_iter().for_each(&mut add),
                    Segment::Close => {}
                }),
            }
        }
        if reach.0 > reach.1 { (0.0, 0.0) } else { reach }
    }

    /// The marks of one kind.
    pub fn of_kind<'a>(&'a self, kind: &'a str) -> impl Iterator<Item = &'a Mark> {
        self.marks.iter().filter(move |mark| mark.kind == kind)
    }
}

impl Segment {
    fn shift(&mut self, by: V2) {
        match self {
            Segment::Move(p) | Segment::Line(p) => *p += by,
            Segment::Cubic(a, b, c) => {
                *a += by;
                *b += by;
                *c += by;
            }
            Segment::Close => {}
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_that_meet_go_on_in_one_stroke() {
        let at = |x: f64| v2(x, 0.0);
        let mut mark = Mark::new("edge", "edge");
        mark.lines(&[(at(0.0), at(1.0)), (at(1.0), at(2.0)), (at(3.0), at(4.0))], Pen::ThickDashed);
        let [Shape::Path { steps, .. }] = mark.shapes.as_slice() else { panic!("one path") };
        let moves = steps.iter().filter(|step| matches!(step, Segment::Move(_))).count();
        assert_eq!((moves, steps.len()), (2, 5));
    }
}
