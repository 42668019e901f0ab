//! Labels: words with or without a frame, measured before they are placed.
use super::around::Round;
use super::board::Board;
use super::candidate::{Candidate, Upright};
use crate::draw::hand::font::{self, SIZE_MM, line_height, middle_to_baseline};
use crate::draw::hand::geo::{Quad, V2, v2};
use crate::draw::hand::scene::{Fill, Mark, Pen, Segment};
use crate::draw::hand::text::{Align, Text};
use crate::draw::subject::BalloonKind;

/// Space between words and the frame round them, mm.
const INSET_MM: f64 = 0.9;

/// Words to place.
#[derive(Debug, Clone, Default)]
pub struct Label {
    /// Set in bold in a cell of its own before the lines.
    pub head: Option<String>,
    pub lines: Vec<String>,
    pub border: Border,
}

/// What stands round the words.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Border {
    #[default]
    None,
    /// A bend's flag.
    Flag,
    /// A finding's balloon.
    Balloon(BalloonKind),
}

impl Label {
    /// One line of bare words.
    pub fn words(words: impl Into<String>) -> Label {
        Label { head: None, lines: vec![words.into()], border: Border::None }
    }

    /// Several lines of bare words.
    pub fn lines(lines: Vec<String>) -> Label {
        Label { head: None, lines, border: Border::None }
    }

    /// Its size with the frame.
    pub fn size(&self) -> V2 {
        let bold = self.bold();
        let widest = self.lines.iter().map(|l| font::width(l, SIZE_MM, bold)).fold(0.0, f64::max);
        let inset = if self.border == Border::None { 0.0 } else { INSET_MM };
        let ends = if matches!(self.border, Border::Balloon(_)) { 1.6 } else { 0.0 };
        let lines = self.lines.len().max(1) as f64;
        let body = if self.lines.is_empty() { 0.0 } else { widest + 2.0 * inset + ends };
        v2(self.head_width() + body, lines * line_height(SIZE_MM) + inset.min(0.4) * 2.0)
    }

    /// Width of the head's cell.
    fn head_width(&self) -> f64 {
        self.head.as_ref().map_or(0.0, |head| font::width(head, SIZE_MM, true) + 2.0 * INSET_MM)
    }

    fn bold(&self) -> bool {
        matches!(self.border, Border::Balloon(_))
    }

    /// Draws it in its box.
    pub fn draw(&self, mark: &mut Mark, place: &Quad) {
        self.draw_border(mark, place);
        let head = self.head_width();
        if let Some(words) = &self.head {
            let middle = v2(place.min.x + head / 2.0, (place.min.y + place.max.y) / 2.0);
            mark.text(centred(middle, words, 0.0).bold());
        }
        let inset = if self.border == Border::None { 0.0 } else { INSET_MM };
        let top = place.min.y + inset.min(0.4);
        for (i, words) in self.lines.iter().enumerate() {
            let y = top + (i as f64 + 0.5) * line_height(SIZE_MM) + middle_to_baseline(SIZE_MM);
            let mut text = if self.bold() {
                Text::plain(v2(place.middle().x, y), words, Align::Middle).bold()
            } else {
                Text::plain(v2(place.min.x + head + inset, y), words, Align::Start)
            };
            text.reversed = self.border == Border::Balloon(BalloonKind::Fail);
            mark.text(text);
        }
    }

    /// The frame: a flag has a head cell; each kind of finding has a shape of its own.
    fn draw_border(&self, mark: &mut Mark, place: &Quad) {
        let (min, max) = (place.min, place.max);
        match self.border {
            Border::None => {}
            Border::Flag => {
                mark.polygon(&place.corners, Pen::Thick, Fill::White);
                let x = min.x + self.head_width();
                if !self.lines.is_empty() {
                    mark.line(v2(x, min.y), v2(x, max.y), Pen::Thin);
                }
            }
            Border::Balloon(BalloonKind::Fail) => mark.polygon(&place.corners, Pen::Thick, Fill::Black),
            // A barred gate: it may not be passed yet. Open again once a paper has cleared it.
            Border::Balloon(BalloonKind::Hold) => {
                mark.polygon(&place.corners, Pen::Thick, Fill::White);
                for x in [min.x + 0.75, max.x - 0.75] {
                    mark.line(v2(x, min.y), v2(x, max.y), Pen::Thick);
                }
            }
            Border::Balloon(BalloonKind::Cleared) => {
                let sides = [(min, v2(min.x, max.y)), (v2(max.x, min.y), max)];
                mark.lines(&sides, Pen::Thick);
            }
            Border::Balloon(BalloonKind::Caution) => {
                mark.polygon(&place.corners, Pen::ThickDashed, Fill::White);
            }
            Border::Balloon(BalloonKind::Waived) => mark.path(pill(min, max), Pen::Thin, Fill::White),
            Border::Balloon(BalloonKind::NotChecked) => {
                let (y, c) = (place.middle().y, 1.2);
                let six = [
                    v2(min.x, y),
                    v2(min.x + c, min.y),
                    v2(max.x - c, min.y),
                    v2(max.x, y),
                    v2(max.x - c, max.y),
                    v2(min.x + c, max.y),
                ];
                mark.polygon(&six, Pen::Thin, Fill::White);
            }
        }
    }
}

/// A box with round ends.
fn pill(min: V2, max: V2) -> Vec<Segment> {
    let (r, k) = ((max.y - min.y) / 2.0, 0.552_284_75 * (max.y - min.y) / 2.0);
    let (left, right, mid) = (min.x + r, max.x - r, min.y + r);
    vec![
        Segment::Move(v2(left, min.y)),
        Segment::Line(v2(right, min.y)),
        Segment::Cubic(v2(right + k, min.y), v2(max.x, mid - k), v2(max.x, mid)),
        Segment::Cubic(v2(max.x, mid + k), v2(right + k, max.y), v2(right, max.y)),
        Segment::Line(v2(left, max.y)),
        Segment::Cubic(v2(left - k, max.y), v2(min.x, mid + k), v2(min.x, mid)),
        Segment::Cubic(v2(min.x, mid - k), v2(left - k, min.y), v2(left, min.y)),
        Segment::Close,
    ]
}

/// A text about its middle, turned by an angle.
pub fn centred(middle: V2, words: &str, angle_deg: f64) -> Text {
    let down = V2::from_angle(angle_deg.to_radians()).rotate(v2(0.0, middle_to_baseline(SIZE_MM)));
    Text { angle_deg, ..Text::plain(middle + down, words, Align::Middle) }
}

/// The angle of text along a direction, degrees clockwise, so that it reads from below or from the right.
pub fn reading_angle(along: V2) -> f64 {
    let deg = along.y.atan2(along.x).to_degrees();
    let folded = if deg > 89.9 {
        deg - 180.0
    } else if deg <= -90.1 {
        deg + 180.0
    } else {
        deg
    };
    if folded.abs() < 0.01 { 0.0 } else { folded }
}

/// The box of one line of words about its middle, turned.
///
/// `wide` is their width, `turn` the unit vector along which they run.
pub fn turned_box(middle: V2, wide: f64, turn: V2) -> Quad {
    let half = v2(wide, line_height(SIZE_MM)) / 2.0;
    let corner = |x: f64, y: f64| middle + turn.rotate(v2(x * half.x, y * half.y));
    Quad::new([corner(-1.0, -1.0), corner(1.0, -1.0), corner(1.0, 1.0), corner(-1.0, 1.0)])
}

/// Draws the leader of a chosen place, with a dot where it ends.
pub fn leader(mark: &mut Mark, chosen: &Candidate) {
    if let Some((from, to)) = chosen.leader {
        mark.line(from, to, Pen::Thin);
        mark.circle(to, 0.45, Pen::None, Fill::Black);
    }
}

/// Places a label close by or round some points for less than `limit`, draws it into the mark with its leader, and
/// tells whether there was room.
pub fn place_label<const N: usize>(
    board: &mut Board,
    mark: &mut Mark,
    label: &Label,
    (near, rounds): (impl IntoIterator<Item = Upright>, [Round; N]),
    limit: f64,
) -> bool {
    let Some(chosen) = board.place(near, rounds, limit) else {
        return false;
    };
    leader(mark, &chosen);
    label.draw(mark, &chosen.words);
    true
}

/// Free places all over the frame, without leader, the nearer to `wish` the better.
pub fn anywhere(frame: &Quad, size: V2, wish: V2) -> Vec<Upright> {
    let room = frame.max - frame.min - size - v2(0.8, 0.8);
    if room.x < 0.0 || room.y < 0.0 {
        return Vec::new();
    }
    let (nx, ny) = ((room.x / 5.0).ceil().max(1.0), (room.y / 4.0).ceil().max(1.0));
    let mut all = Vec::new();
    for i in 0..=nx as usize {
        for j in 0..=ny as usize {
            let corner = frame.min + v2(0.4, 0.4) + v2(room.x * i as f64 / nx, room.y * j as f64 / ny);
            let (min, max) = (corner, corner + size);
            let cost = ((min + max) / 2.0).distance(wish) * 0.2;
            all.push(Upright { min, max, toward: None, cost });
        }
    }
    all
}
