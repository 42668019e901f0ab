//! Dimension lines: parallel to what they measure, with ticks, the words over the line.
use super::board::{Board, dimension_stroke};
use super::candidate::Candidate;
use super::labels::{centred, reading_angle, turned_box};
use crate::draw::hand::font::{self, SIZE_MM, line_height};
use crate::draw::hand::geo::{Quad, V2};
use crate::draw::hand::scene::{Fill, Mark, Pen};

/// From the tube to the nearest dimension line: room for a row of words between.
pub const FIRST_MM: f64 = 11.5;
/// From line to line, mm.
const ROW_MM: f64 = 5.5;
/// Gap at the tube and overshoot of extension lines, mm.
const GAP_MM: f64 = 1.6;
const OVER_MM: f64 = 1.2;
/// How many rows away from the tube are tried.
const ROWS: usize = 6;

/// Something to dimension.
pub struct Measure<'a> {
    pub from: V2,
    pub to: V2,
    pub words: &'a str,
    /// Ways in which extension lines may go, the favoured first; unit vectors on paper.
    pub sides: &'a [V2],
    /// From the tube to the nearest row.
    pub first_mm: f64,
    /// A row to keep to: offset along the first side at which a neighbour has its line.
    pub row_mm: Option<f64>,
}

/// A row beside what is measured, at an offset to one of its sides.
struct Row {
    /// What it costs for lying where it lies.
    cost: f64,
    /// Which of the measure's sides.
    nth: usize,
    side: V2,
    offset_mm: f64,
}

/// A place for the words of a dimension on its row.
struct Trial {
    candidate: Candidate,
    /// More of the line, out to words past an end.
    extra: Option<(V2, V2)>,
    words_at: V2,
    angle_deg: f64,
}

/// The place that was chosen, and its row.
struct Chosen {
    trial: Trial,
    lines: [(V2, V2); 5],
    offset_mm: f64,
}

/// Draws the dimension into the mark; answers the row it took, or `None` when there is no room.
pub fn dimension(board: &mut Board, mark: &mut Mark, measure: &Measure) -> Option<f64> {
    let mut best: Option<(f64, Chosen)> = None;
    let wide = font::width(measure.words, SIZE_MM, false);
    let mut known = vec![Extensions { from_mm: f64::MAX, least: 0.0 }; measure.sides.len()];
    for row in rows(measure) {
        let limit = best.as_ref().map_or(f64::MAX, |(cost, _)| *cost);
        if row.cost >= limit {
            break;
        }
        let (room, known) = (limit - row.cost, &mut known[row.nth]);
        if known.at(row.offset_mm) >= room {
            continue;
        }
        // What the lines cost they cost with any place of the words; a row without room is not looked into.
        let lines = row_lines(measure, &row);
        let strokes = lines.map(dimension_stroke);
        let ends = extension_prices(board, &strokes, room);
        let least = ends.map_or(room, |[one, other]| one + other);
        *known = Extensions { from_mm: row.offset_mm, least };
        let Some(prices) = ends.and_then(|ends| row_prices(board, &strokes, ends, room)) else { continue };
        let words = RowWords::new(measure, &row, wide);
        for nth in 0..words.count() {
            let limit = best.as_ref().map_or(f64::MAX, |(cost, _)| *cost);
            // A little more, for rounding.
            let room = limit - prices.iter().sum::<f64>() + 1e-9;
            if words.cost(nth) >= room {
                continue;
            }
            let trial = words.trial(nth);
            let Some(words) = board.cost(&trial.candidate, room) else { continue };
            let Some(with_lines) = lines_cost(board, &trial, &strokes, &prices, limit - words) else {
                continue;
            };
            if words + with_lines < limit {
                best = Some((words + with_lines, Chosen { trial, lines, offset_mm: row.offset_mm }));
            }
        }
    }
    let (cost, chosen) = best?;
    board.put(&chosen.trial.candidate, cost);
    let (thin, thick) = chosen.lines.split_at(3);
    thin.iter().chain(&chosen.trial.extra).chain(thick).for_each(|line| board.take_dimension(*line));
    draw(mark, measure, &chosen);
    Some(chosen.offset_mm)
}

/// What the extension lines of a side cost: those of a row farther out begin with those of one nearer by, so that they
/// cost as much at least.
#[derive(Clone, Copy)]
struct Extensions {
    /// The row that they are known of, and what they cost there at least.
    from_mm: f64,
    least: f64,
}

impl Extensions {
    /// What those of a row cost at least, less a little for rounding.
    fn at(&self, offset_mm: f64) -> f64 {
        if offset_mm >= self.from_mm { self.least - 1e-9 } else { 0.0 }
    }
}

/// What the extension lines of a row cost; `None` where one breaks a rule or they cost more than `limit`.
fn extension_prices(board: &Board, strokes: &[Quad; 5], limit: f64) -> Option<[f64; 2]> {
    let one = board.dimension_price(&strokes[0], limit)?;
    Some([one, board.dimension_price(&strokes[1], limit - one)?])
}

/// What each line of a row costs, of which those of its extension lines are known; `None` where another breaks a rule
/// or all of them cost more than `limit`.
fn row_prices(board: &Board, strokes: &[Quad; 5], [one, other]: [f64; 2], limit: f64) -> Option<[f64; 5]> {
    let (mut prices, mut sum) = ([one, other, 0.0, 0.0, 0.0], one + other);
    for (stroke, price) in strokes.iter().zip(&mut prices).skip(2) {
        *price = board.dimension_price(stroke, limit - sum)?;
        sum += *price;
    }
    (sum < limit).then_some(prices)
}

/// What the lines of a place cost; `None` where one breaks a rule or meets the words, or they cost more than `limit`.
fn lines_cost(
    board: &Board,
    trial: &Trial,
    strokes: &[Quad; 5],
    prices: &[f64; 5],
    limit: f64,
) -> Option<f64> {
    let (words, extra) = (&trial.candidate.words, trial.extra.map(dimension_stroke));
    if strokes.iter().chain(&extra).any(|stroke| stroke.meets(words)) {
        return None;
    }
    let (thin, thick) = prices.split_at(3);
    let mut sum: f64 = thin.iter().sum();
    if let Some(extra) = extra {
        sum += board.dimension_price(&extra, limit - sum)?;
    }
    Some(thick.iter().fold(sum, |sum, price| sum + price))
}

/// All rows on every side, the best first.
fn rows(measure: &Measure) -> Vec<Row> {
    let mut all = Vec::with_capacity(measure.sides.len() * ROWS + 1);
    for (nth, side) in measure.sides.iter().enumerate() {
        let rows = (0..ROWS).map(|k| measure.first_mm + ROW_MM * k as f64);
        let kept = measure.row_mm.filter(|_| nth == 0);
        for offset_mm in rows.chain(kept) {
            let bonus = if kept == Some(offset_mm) { 8.0 } else { 0.0 };
            let cost = (offset_mm - measure.first_mm).abs() * 0.45 + nth as f64 * 2.5 - bonus + 8.0;
            all.push(Row { cost, nth, side: *side, offset_mm });
        }
    }
    all.sort_by(|a, b| a.cost.total_cmp(&b.cost));
    all
}

/// The lines of a row: extension lines, the measure, ticks.
fn row_lines(measure: &Measure, row: &Row) -> [(V2, V2); 5] {
    let side = row.side;
    let (from, to) = (measure.from + side * row.offset_mm, measure.to + side * row.offset_mm);
    let over = side * OVER_MM;
    let [first, last] = ticks(from, to);
    let ends = [measure.from + side * GAP_MM, measure.to + side * GAP_MM];
    [(ends[0], from + over), (ends[1], to + over), (from, to), first, last]
}

/// Where the words of a dimension may stand on its row.
struct RowWords {
    side: V2,
    cost: f64,
    wide: f64,
    /// Along the measure, up from how its words are read, and how they are read.
    way: V2,
    up: V2,
    reading: V2,
    angle_deg: f64,
    long: f64,
    middle: V2,
}

/// Over the line between its ends: how far from its middle, as a part of the room that is left.
const SHIFTS: [f64; 5] = [0.0, -0.5, 0.5, -1.0, 1.0];
/// Past its ends, first this way and then that.
const ENDS: [f64; 2] = [1.0, -1.0];
/// Led off: so many rows of words, and in each how far across, as a part of their width.
const LED_ROWS: usize = 6;
const ACROSS: [f64; 3] = [0.0, 0.5, -0.5];

impl RowWords {
    fn new(measure: &Measure, row: &Row, wide: f64) -> RowWords {
        let side = row.side;
        let (from, to) = (measure.from + side * row.offset_mm, measure.to + side * row.offset_mm);
        let way = (to - from).try_normalize().unwrap_or_else(|| side.perp());
        let angle_deg = reading_angle(way);
        let reading = V2::from_angle(angle_deg.to_radians());
        let up = -reading.perp() * (line_height(SIZE_MM) / 2.0 + 0.55);
        let (long, middle) = (from.distance(to), (from + to) / 2.0);
        RowWords { side, cost: row.cost, wide, way, up, reading, angle_deg, long, middle }
    }

    /// Whether the words fit over the line between the ticks; else they stand past an end or are led off.
    fn fit(&self) -> bool {
        self.wide + 1.5 <= self.long
    }

    /// How many places there are.
    fn count(&self) -> usize {
        if self.fit() { SHIFTS.len() } else { ENDS.len() + LED_ROWS * ACROSS.len() }
    }

    /// What a place costs for where it lies.
    fn cost(&self, nth: usize) -> f64 {
        if self.fit() {
            return self.cost + SHIFTS[nth].abs() * 2.0;
        }
        match nth.checked_sub(ENDS.len()) {
            None => self.cost + 3.0,
            Some(led) => {
                let (row, across) = (led / ACROSS.len(), ACROSS[led % ACROSS.len()]);
                self.cost + (5.0 + 0.8 * row as f64 + across.abs())
            }
        }
    }

    /// A place.
    fn trial(&self, nth: usize) -> Trial {
        if self.fit() {
            let slack = (self.long - self.wide - 1.5) / 2.0;
            return self.along(nth, self.middle + self.up + self.way * slack * SHIFTS[nth], None);
        }
        let Some(led) = nth.checked_sub(ENDS.len()) else {
            let end = self.middle + self.way * ENDS[nth] * self.long / 2.0;
            let far = end + self.way * ENDS[nth] * (self.wide + 2.0);
            return self.along(nth, (end + far) / 2.0 + self.up, Some((end, far)));
        };
        let (row, across) = (led / ACROSS.len(), ACROSS[led % ACROSS.len()]);
        let at = self.middle + self.side * (5.0 + 4.5 * row as f64) + self.way * across * self.wide;
        let words = turned_box(at, self.wide, V2::X);
        Trial {
            candidate: Candidate::led(words, self.middle, self.cost(nth)),
            extra: None,
            words_at: at,
            angle_deg: 0.0,
        }
    }

    /// Words that run along the line.
    fn along(&self, nth: usize, words_at: V2, extra: Option<(V2, V2)>) -> Trial {
        let words = turned_box(words_at, self.wide, self.reading);
        Trial {
            candidate: Candidate::bare(words, self.cost(nth)),
            extra,
            words_at,
            angle_deg: self.angle_deg,
        }
    }
}

/// Draws a place.
fn draw(mark: &mut Mark, measure: &Measure, chosen: &Chosen) {
    let (thin, thick) = chosen.lines.split_at(3);
    let thin: Vec<(V2, V2)> = thin.iter().copied().chain(chosen.trial.extra).collect();
    mark.lines(&thin, Pen::Thin);
    mark.lines(thick, Pen::Thick);
    if let Some((from, to)) = chosen.trial.candidate.leader {
        mark.line(from, to, Pen::Thin);
        mark.circle(to, 0.35, Pen::None, Fill::Black);
    }
    mark.text(centred(chosen.trial.words_at, measure.words, chosen.trial.angle_deg));
}

/// The ticks at both ends, at 45 degrees to the line; the last two of its lines.
fn ticks(from: V2, to: V2) -> [(V2, V2); 2] {
    let way = (to - from).normalize_or_zero();
    let tick = V2::from_angle(-std::f64::consts::FRAC_PI_4).rotate(way) * 1.3;
    [from, to].map(|end| (end - tick, end + tick))
}
