//! Dimension lines: parallel to what they measure, with ticks, the words over the line.
use super::board::{Board, dimension_stroke};
use super::candidate::Candidate;
use super::labels::{centred, reading_angle, turned_box};
use crate::draw::hand::font::{self, SIZE_MM, line_height};
use crate::draw::hand::geo::V2;
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
    for (cost, side, offset_mm) in rows(measure) {
        let limit = best.as_ref().map_or(f64::MAX, |(cost, _)| *cost);
        if cost >= limit {
            break;
        }
        // What the lines cost they cost with any place of the words; a row without room is not looked into.
        let lines = row_lines(measure, side, offset_mm);
        let Some(prices) = row_prices(board, &lines, cost, limit) else { continue };
        for trial in on_row(measure, wide, side, offset_mm, cost) {
            let limit = best.as_ref().map_or(f64::MAX, |(cost, _)| *cost);
            let Some(words) = board.cost(&trial.candidate, limit) else { continue };
            let Some(with_lines) = lines_cost(board, &trial, &lines, &prices, limit - words) else {
                continue;
            };
            if words + with_lines < limit {
                best = Some((words + with_lines, Chosen { trial, lines, offset_mm }));
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

/// What each line of a row costs; `None` where one breaks a rule or all of them pass `limit` over what the row costs.
fn row_prices(board: &Board, lines: &[(V2, V2); 5], cost: f64, limit: f64) -> Option<[f64; 5]> {
    let (mut prices, mut sum) = ([0.0; 5], 0.0);
    for (line, price) in lines.iter().zip(&mut prices) {
        *price = board.dimension_price(*line, limit - cost - sum)?;
        sum += *price;
    }
    (cost + sum < limit).then_some(prices)
}

/// What the lines of a place cost; `None` where one breaks a rule or meets the words, or they cost more than `limit`.
fn lines_cost(
    board: &Board,
    trial: &Trial,
    lines: &[(V2, V2); 5],
    prices: &[f64; 5],
    limit: f64,
) -> Option<f64> {
    let words = &trial.candidate.words;
    if lines.iter().chain(&trial.extra).any(|line| dimension_stroke(*line).meets(words)) {
        return None;
    }
    let (thin, thick) = prices.split_at(3);
    let mut sum: f64 = thin.iter().sum();
    if let Some(extra) = trial.extra {
        sum += board.dimension_price(extra, limit - sum)?;
    }
    Some(thick.iter().fold(sum, |sum, price| sum + price))
}

/// All rows on every side, the best first: cost, side, offset.
fn rows(measure: &Measure) -> Vec<(f64, V2, f64)> {
    let mut all = Vec::new();
    for (s, side) in measure.sides.iter().enumerate() {
        let rows = (0..ROWS).map(|k| measure.first_mm + ROW_MM * k as f64);
        let kept = measure.row_mm.filter(|_| s == 0);
        for offset_mm in rows.chain(kept) {
            let bonus = if kept == Some(offset_mm) { 8.0 } else { 0.0 };
            let cost = (offset_mm - measure.first_mm).abs() * 0.45 + s as f64 * 2.5 - bonus + 8.0;
            all.push((cost, *side, offset_mm));
        }
    }
    all.sort_by(|a, b| a.0.total_cmp(&b.0));
    all
}

/// The lines of a row: extension lines, the measure, ticks.
fn row_lines(measure: &Measure, side: V2, offset_mm: f64) -> [(V2, V2); 5] {
    let (from, to) = (measure.from + side * offset_mm, measure.to + side * offset_mm);
    let over = side * OVER_MM;
    let [first, last] = ticks(from, to);
    let ends = [measure.from + side * GAP_MM, measure.to + side * GAP_MM];
    [(ends[0], from + over), (ends[1], to + over), (from, to), first, last]
}

/// Places on one row: words, so `wide`, over the line when they fit between the ticks, else past an end or led off.
fn on_row(measure: &Measure, wide: f64, side: V2, offset_mm: f64, cost: f64) -> Vec<Trial> {
    let (from, to) = (measure.from + side * offset_mm, measure.to + side * offset_mm);
    let way = (to - from).try_normalize().unwrap_or_else(|| side.perp());
    let angle_deg = reading_angle(way);
    let reading = V2::from_angle(angle_deg.to_radians());
    let up = -reading.perp() * (line_height(SIZE_MM) / 2.0 + 0.55);
    let (long, middle) = (from.distance(to), (from + to) / 2.0);
    let along = |words_at: V2, extra: Option<(V2, V2)>, more: f64| Trial {
        candidate: Candidate::bare(turned_box(words_at, wide, reading), cost + more),
        extra,
        words_at,
        angle_deg,
    };
    if wide + 1.5 <= long {
        let slack = (long - wide - 1.5) / 2.0;
        let shift = |t: f64| along(middle + up + way * slack * t, None, t.abs() * 2.0);
        return [0.0, -0.5, 0.5, -1.0, 1.0].map(shift).into();
    }
    let past = |sign: f64| {
        let end = middle + way * sign * long / 2.0;
        let far = end + way * sign * (wide + 2.0);
        along((end + far) / 2.0 + up, Some((end, far)), 3.0)
    };
    let mut all = vec![past(1.0), past(-1.0)];
    for k in 0..6 {
        for across in [0.0, 0.5, -0.5] {
            let at = middle + side * (5.0 + 4.5 * f64::from(k)) + way * across * wide;
            let cost = cost + (5.0 + 0.8 * f64::from(k) + across.abs());
            let words = turned_box(at, wide, V2::X);
            all.push(Trial {
                candidate: Candidate::led(words, middle, cost),
                extra: None,
                words_at: at,
                angle_deg: 0.0,
            });
        }
    }
    all
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
