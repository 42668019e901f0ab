//! Paths of a drawing as SVG writes them, in few bytes.
//!
//! Points stand to a hundredth of a millimetre, a twenty-fifth of the thinnest line, which no print and no
//! screen shows. Points that fall on the one before are left out, and so are those that lie on a straight line
//! between others, or by it as near as nobody sees; level and plumb lines are written by their one number, and each point from where it takes
//! the fewest letters.
use super::decimal;
use super::geo::{V2, simplified};
use super::scene::Segment;

/// How far a line may pass beside a point that is left out, in hundredths of a millimetre: a twelfth of the thinnest
/// line.
const OFF_HUNDREDTHS: f64 = 2.0;

/// A point in hundredths of a millimetre, so that what lies on a line is told exactly.
type Point = (i64, i64);

/// Writes the steps as the `d` of a path.
///
/// A point is written from the top left corner or from where the pen stands, whichever takes fewer letters;
/// both are whole hundredths, so that no error adds up.
pub fn push_data(out: &mut String, steps: &[Segment]) {
    let mut hand = Hand { out, letter: ' ', at: (0, 0), start: (0, 0) };
    // Whether the pen stands at a point that a run of lines may begin from; after closing it does not.
    let mut stands = false;
    let mut rest = steps;
    while let Some((step, after)) = rest.split_first() {
        rest = after;
        match *step {
            Segment::Move(p) => hand.go(point(p)),
            Segment::Line(p) if !stands => hand.line(point(p)),
            Segment::Line(p) => {
                let more = after.iter().take_while(|step| matches!(step, Segment::Line(_))).count();
                hand.lines(point(p), &after[..more]);
                rest = &after[more..];
            }
            Segment::Cubic(a, b, p) => hand.curve([a, b, p].map(point)),
            Segment::Close => hand.close(),
        }
        stands = *step != Segment::Close;
    }
}

/// A path while it is written.
struct Hand<'o> {
    out: &'o mut String,
    /// The letter of the command before.
    letter: char,
    /// Where the pen stands, and where its line began.
    at: Point,
    start: Point,
}

impl Hand<'_> {
    fn go(&mut self, p: Point) {
        self.command('M', [p.0, p.1], [p.0 - self.at.0, p.1 - self.at.1]);
        (self.at, self.start) = (p, p);
    }

    fn line(&mut self, p: Point) {
        let by = (p.0 - self.at.0, p.1 - self.at.1);
        match by {
            (x, 0) => self.command('H', [p.0], [x]),
            (0, y) => self.command('V', [p.1], [y]),
            (x, y) => self.command('L', [p.0, p.1], [x, y]),
        }
        self.at = p;
    }

    /// Lines that follow each other, without the points that show nothing.
    fn lines(&mut self, first: Point, others: &[Segment]) {
        if others.is_empty() {
            if first != self.at {
                self.line(first);
            }
            return;
        }
        let whole = |p: Point| V2::new(p.0 as f64, p.1 as f64);
        let mut run = Vec::with_capacity(others.len() + 2);
        run.extend([whole(self.at), whole(first)]);
        run.extend(others.iter().filter_map(|step| match *step {
            Segment::Line(p) => Some(whole(point(p))),
            _ => None,
        }));
        run.dedup();
        // Whole numbers come back as they went.
        simplified(&run, OFF_HUNDREDTHS).skip(1).for_each(|p| self.line((p.x as i64, p.y as i64)));
    }

    fn curve(&mut self, [a, b, p]: [Point; 3]) {
        let (x, y) = self.at;
        let from_corner = [a.0, a.1, b.0, b.1, p.0, p.1];
        self.command('C', from_corner, [a.0 - x, a.1 - y, b.0 - x, b.1 - y, p.0 - x, p.1 - y]);
        self.at = p;
    }

    /// Closing brings the pen back to where its line began.
    fn close(&mut self) {
        self.out.push('Z');
        (self.letter, self.at) = ('Z', self.start);
    }

    /// The shorter of a command from the corner and the same from the pen, which has a small letter. The letter goes
    /// where it is that of the command before and its numbers part themselves from the last; lines after a move need
    /// none.
    fn command<const N: usize>(&mut self, letter: char, from_corner: [i64; N], from_pen: [i64; N]) {
        let small = letters(&from_pen) < letters(&from_corner);
        let (letter, numbers) =
            if small { (letter.to_ascii_lowercase(), from_pen) } else { (letter, from_corner) };
        let goes_on = match self.letter {
            'M' => letter == 'L',
            'm' => letter == 'l',
            other => other == letter,
        };
        if !(goes_on && numbers[0] < 0) {
            self.out.push(letter);
            self.letter = letter;
        }
        for (nth, number) in numbers.iter().enumerate() {
            if nth > 0 && parted(numbers[nth - 1], *number) {
                self.out.push(' ');
            }
            decimal::push_hundredths(self.out, *number);
        }
    }
}

/// How many letters numbers take with the blanks between them.
fn letters(numbers: &[i64]) -> usize {
    let blanks = numbers.windows(2).filter(|pair| parted(pair[0], pair[1])).count();
    blanks + numbers.iter().map(|number| decimal::letters(*number)).sum::<usize>()
}

/// Whether a blank must part two numbers: a minus does it too, and so does a point after a part.
fn parted(before: i64, number: i64) -> bool {
    let begun_by_point = (1..100).contains(&number);
    number >= 0 && !(begun_by_point && before % 100 != 0)
}

fn point(p: V2) -> Point {
    (decimal::hundredths(p.x), decimal::hundredths(p.y))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn data(steps: &[Segment]) -> String {
        let mut out = String::new();
        push_data(&mut out, steps);
        out
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
