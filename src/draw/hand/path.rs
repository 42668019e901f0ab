//! Paths of a drawing as SVG writes them, in few bytes.
//!
//! Points stand to a hundredth of a millimetre, a twenty-fifth of the thinnest line, which no print and no
//! screen shows. Points that fall on the one before are left out, and so are those that lie on a straight line
//! between others, or by it as near as nobody sees; level and plumb lines are written by their one number, and each point from where it takes
//! the fewest letters.
use super::geo::{V2, simplified};
use super::scene::Segment;

/// How far a line may pass beside a point that is left out, in hundredths of a millimetre: a twelfth of the thinnest
/// line.
const OFF_HUNDREDTHS: f64 = 2.0;

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
///
/// A point is written from the top left corner or from where the pen stands, whichever takes fewer letters;
/// both are whole hundredths, so that no error adds up.
pub fn data(steps: &[Segment]) -> String {
    let mut out = String::with_capacity(steps.len() * 8);
    let (mut at, mut start): (Point, Point) = ((0, 0), (0, 0));
    for step in lean(steps) {
        match step {
            Step::Move(p) => command(&mut out, 'M', &[p.0, p.1], at),
            Step::Line(p) if p.1 == at.1 => shorter(&mut out, 'H', &[p.0], &[p.0 - at.0]),
            Step::Line(p) if p.0 == at.0 => shorter(&mut out, 'V', &[p.1], &[p.1 - at.1]),
            Step::Line(p) => command(&mut out, 'L', &[p.0, p.1], at),
            Step::Cubic(a, b, p) => command(&mut out, 'C', &[a.0, a.1, b.0, b.1, p.0, p.1], at),
            Step::Close => out.push('Z'),
        }
        // Closing brings the pen back to where its line began.
        at = step.end().unwrap_or(start);
        if let Step::Move(p) = step {
            start = p;
        }
    }
    out
}

/// A command with pairs of numbers, from the corner or from where the pen stands.
fn command(out: &mut String, letter: char, numbers: &[i64], at: Point) {
    let from_pen: Vec<i64> = numbers
        .iter()
        .enumerate()
        .map(|(nth, number)| number - if nth % 2 == 0 { at.0 } else { at.1 })
        .collect();
    shorter(out, letter, numbers, &from_pen);
}

/// The shorter of a command from the corner and the same from the pen, which has a small letter. The letter goes
/// where it is that of the command before and its numbers part themselves from the last; lines after a move need none.
fn shorter(out: &mut String, letter: char, from_corner: &[i64], from_pen: &[i64]) {
    let (corner, pen) = (listed(from_corner), listed(from_pen));
    let (letter, numbers) =
        if pen.len() < corner.len() { (letter.to_ascii_lowercase(), pen) } else { (letter, corner) };
    let before = out.rfind(|c: char| c.is_ascii_alphabetic()).and_then(|at| out[at..].chars().next());
    let goes_on = match before {
        Some('M') => letter == 'L',
        Some('m') => letter == 'l',
        other => other == Some(letter),
    };
    if !(goes_on && numbers.starts_with('-')) {
        out.push(letter);
    }
    out.push_str(&numbers);
}

/// Numbers with no more blanks than it takes: a minus parts two numbers, and so does a point after a part.
fn listed(numbers: &[i64]) -> String {
    let mut out = String::with_capacity(numbers.len() * 5);
    let mut parted = false;
    for (nth, number) in numbers.iter().enumerate() {
        let begun_by_point = (1..100).contains(number);
        if nth > 0 && *number >= 0 && !(begun_by_point && parted) {
            out.push(' ');
        }
        push(&mut out, *number);
        parted = number % 100 != 0;
    }
    out
}

impl Step {
    /// Where the pen stands after it; none after closing.
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
    // Points of straight lines that follow each other, after the one that they begin at.
    let mut run: Vec<Point> = Vec::new();
    for step in steps.iter().map(whole) {
        if let (Step::Line(p), false) = (step, run.is_empty()) {
            if run.last() != Some(&p) {
                run.push(p);
            }
            continue;
        }
        out.extend(fewer(&run));
        out.push(step);
        run.clear();
        run.extend(step.end());
    }
    out.extend(fewer(&run));
    out
}

/// The lines of a run, without the points that lie by the line as well as on it.
fn fewer(run: &[Point]) -> Vec<Step> {
    let points: Vec<V2> = run.iter().map(|p| V2::new(p.0 as f64, p.1 as f64)).collect();
    // Whole numbers come back as they went.
    let line = |p: V2| Step::Line((p.x as i64, p.y as i64));
    simplified(&points, OFF_HUNDREDTHS).into_iter().skip(1).map(line).collect()
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
    fn a_point_is_written_from_where_it_takes_fewer_letters() {
        let to = |x: f64, y: f64| Segment::Line(V2 { x, y });
        let steps = [
            Segment::Move(V2 { x: 12.25, y: 80.5 }),
            to(12.75, 80.75),
            to(12.75, 90.0),
            Segment::Close,
            // From where the closed line began.
            to(12.5, 81.25),
            to(1.0, 1.0),
        ];
        assert_eq!(data(&steps), "M12.25 80.5l.5.25V90Zl.25.75L1 1");
        // A letter that goes on is not written again.
        let steps = [Segment::Move(V2 { x: 5.0, y: 5.0 }), to(-1.0, 7.5), to(-2.5, 8.0), to(-2.5, 9.0)];
        assert_eq!(data(&steps), "M5 5-1 7.5-2.5 8V9");
    }

    #[test]
    fn a_curve_keeps_all_its_points() {
        let p = |x: f64, y: f64| V2 { x, y };
        let steps = [Segment::Move(p(0.0, 0.0)), Segment::Cubic(p(0.0, -1.0), p(1.0, -2.0), p(2.0, -2.0))];
        assert_eq!(data(&steps), "M0 0C0-1 1-2 2-2");
    }
}
