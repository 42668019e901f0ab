//! Paths of a drawing as SVG writes them, in few bytes.
//!
//! Points stand to a hundredth of a millimetre, a twenty-fifth of the thinnest line, which no print and no
//! screen shows. Points that fall on the one before are left out, and so are those on a straight line between
//! their neighbours; level and plumb lines are written by their one number.
use super::geo::V2;
use super::scene::Segment;

/// A point in hundredths of a millimetre.
type Point = (i64, i64);

/// A step with its points in whole hundredths, so that what lies on a line is told exactly.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Step {
    Move(Point),
    Line(Point),
    Cubic(Point, Point, Point),
    Close,
}

/// The steps as the `d` of a path.
pub fn data(steps: &[Segment]) -> String {
    let mut out = String::with_capacity(steps.len() * 12);
    let mut at: Option<Point> = None;
    for step in lean(steps) {
        match (step, at) {
            (Step::Line(p), Some(at)) if p.1 == at.1 => command(&mut out, 'H', &[p.0]),
            (Step::Line(p), Some(at)) if p.0 == at.0 => command(&mut out, 'V', &[p.1]),
            (step, _) => write(&mut out, step),
        }
        at = step.end();
    }
    out
}

fn write(out: &mut String, step: Step) {
    match step {
        Step::Move(p) => command(out, 'M', &[p.0, p.1]),
        Step::Line(p) => command(out, 'L', &[p.0, p.1]),
        Step::Cubic(a, b, p) => command(out, 'C', &[a.0, a.1, b.0, b.1, p.0, p.1]),
        Step::Close => out.push('Z'),
    }
}
impl Step {
    /// Where the pen stands after it; after closing, where its line began, which nobody asks for.
    fn end(self) -> Option<Point> {
        match self {
            Step::Move(p) | Step::Line(p) | Step::Cubic(_, _, p) => Some(p),
            Step::Close => None,
        }
    }
}

/// The steps without points that show nothing.
fn lean(steps: &[Segment]) -> Vec<Step> {
    let mut out: Vec<Step> = Vec::with_capacity(steps.len());
    for step in steps.iter().map(whole) {
        let at = out.last().and_then(|last| last.end());
        let before = out.len().checked_sub(2).and_then(|i| out.get(i)).and_then(|step| step.end());
        match (step, out.last().copied(), before, at) {
            (Step::Line(p), _, _, Some(at)) if p == at => {}
            (Step::Line(p), Some(Step::Line(b)), Some(a), _) if goes_on(a, b, p) => {
                out.pop();
                out.push(step);
            }
            _ => out.push(step),
        }
    }
    out
}

/// Whether the way from `b` to `c` goes straight on from `a` to `b`.
fn goes_on(a: Point, b: Point, c: Point) -> bool {
    let (first, second) = ((b.0 - a.0, b.1 - a.1), (c.0 - b.0, c.1 - b.1));
    first.0 * second.1 == first.1 * second.0 && first.0 * second.0 + first.1 * second.1 >= 0
}

fn whole(step: &Segment) -> Step {
    match *step {
        Segment::Move(p) => Step::Move(point(p)),
        Segment::Line(p) => Step::Line(point(p)),
        Segment::Cubic(a, b, p) => Step::Cubic(point(a), point(b), point(p)),
        Segment::Close => Step::Close,
    }
}

fn point(p: V2) -> Point {
    (hundredths(p.x), hundredths(p.y))
}

/// A drawing is some metres wide at most, so that a whole number of hundredths always holds it.
fn hundredths(mm: f64) -> i64 {
    (mm * 100.0).round() as i64
}

/// A command with its numbers; a minus parts two numbers as a blank does.
fn command(out: &mut String, letter: char, numbers: &[i64]) {
    out.push(letter);
    for (nth, number) in numbers.iter().enumerate() {
        if nth > 0 && *number >= 0 {
            out.push(' ');
        }
        push(out, *number);
    }
}

/// A length to a hundredth of a millimetre in the fewest letters: `.5`, `-1.25`, `3`.
pub fn short(mm: f64) -> String {
    let mut out = String::new();
    push(&mut out, hundredths(mm));
    out
}

fn push(out: &mut String, hundredths: i64) {
    use std::fmt::Write;
    let (whole, part) = (hundredths.unsigned_abs() / 100, hundredths.unsigned_abs() % 100);
    let sign = if hundredths < 0 { "-" } else { "" };
    // Writing to a String cannot fail.
    let _ = match (whole, part) {
        (whole, 0) => write!(out, "{sign}{whole}"),
        (0, part) if part % 10 == 0 => write!(out, "{sign}.{}", part / 10),
        (0, part) => write!(out, "{sign}.{part:02}"),
        (whole, part) if part % 10 == 0 => write!(out, "{sign}{whole}.{}", part / 10),
        (whole, part) => write!(out, "{sign}{whole}.{part:02}"),
    };
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn writes_short_numbers() {
        let told = [0.0, -0.001, 0.05, -0.5, 12.0, 12.3, -12.345, 0.999].map(short);
        assert_eq!(told, ["0", "0", ".05", "-.5", "12", "12.3", "-12.35", "1"]);
    }

    #[test]
    fn agrees_with_the_shortest_digits_of_the_library() {
        for k in (-3000..3000).chain([12_345, -9_990, 19_000, 1_000_001]) {
            let x = f64::from(k) / 100.0;
            let wanted = format!("{}", x + 0.0);
            let wanted = match wanted.strip_prefix("-0.") {
                Some(part) => format!("-.{part}"),
                None => wanted.strip_prefix("0.").map_or(wanted.clone(), |part| format!(".{part}")),
            };
            assert_eq!(short(x), wanted);
        }
    }

    #[test]
    fn points_that_show_nothing_are_left_out() {
        let to = |x: f64, y: f64| Segment::Line(V2 { x, y });
        let steps = [
            Segment::Move(V2 { x: 0.5, y: 1.0 }),
            to(2.0, 1.0),
            to(3.0, 1.0),
            to(3.0, -1.25),
            to(3.001, -1.25),
        ];
        assert_eq!(data(&steps), "M.5 1H3V-1.25");
    }

    #[test]
    fn a_way_back_is_no_way_on() {
        let to = |x: f64, y: f64| Segment::Line(V2 { x, y });
        let steps =
            [Segment::Move(V2 { x: 0.0, y: 0.0 }), to(5.0, 0.0), to(2.0, 0.0), Segment::Close, to(1.0, 1.0)];
        assert_eq!(data(&steps), "M0 0H5H2ZL1 1");
        let slant = [Segment::Move(V2 { x: 0.0, y: 0.0 }), to(1.0, 2.0), to(2.0, 4.0), to(3.0, 4.0)];
        assert_eq!(data(&slant), "M0 0L2 4H3");
    }

    #[test]
    fn a_curve_keeps_all_its_points() {
        let p = |x: f64, y: f64| V2 { x, y };
        let steps = [Segment::Move(p(0.0, 0.0)), Segment::Cubic(p(0.0, -1.0), p(1.0, -2.0), p(2.0, -2.0))];
        assert_eq!(data(&steps), "M0 0C0-1 1-2 2-2");
    }
}
