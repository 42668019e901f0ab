//! The layout: the job from above, with the lines on site that a tape starts from and every place that is set
//! out from them. Marks are those of the schedules; a place that has room carries its distances as well.
use super::key::{clashes, drawn, fit, north};
use super::projection::from_above;
use super::{Shown, View};
use crate::company::DatumRuns;
use crate::draw::hand::geo::{Quad, V2, v2};
use crate::draw::hand::scale::Scale;
use crate::draw::hand::scene::{Fill, Mark, Pen, Scene, Segment};
use crate::draw::hand::symbols::unit;
use crate::draw::placer::around::{beside, round_below};
use crate::draw::placer::candidate::Upright;
use crate::draw::placer::labels::{Border, Label, place_label};
use crate::draw::placer::paper::Paper;
use crate::draw::placer::what::What;
use crate::draw::subject::{DatumLine, KeyPicture, SetOut};
use crate::route::Line;
use glam::DVec3;

/// Places nearer than this in plan stand over one another and share a label, metres.
const ONE_PLACE_M: f64 = 0.03;
/// Half of the cross that marks a place, mm.
const CROSS_MM: f64 = 1.1;
/// A label with distances may cost so much; a dearer one gives way to the bare mark.
const DEAREST: f64 = 34.0;

/// The entry of the list of views.
pub static VIEW: View = View {
    name: "layout",
    title: "Layout",
    about: "All lines of the job from above, set out from the datums",
    shown: Shown::Job(layout),
};

/// Draws the layout.
pub fn layout(picture: &KeyPicture) -> Scene {
    let mut paper = Paper::new(&picture.prefix, &picture.title, in_words(picture), picture.area_mm);
    let (scale, shift) = fitted(picture, &paper.board.frame);
    let at = |point: DVec3| from_above(point) * scale.mm_per_m() + shift;
    let datums: Vec<(V2, V2)> =
        picture.datums.iter().map(|datum| datum_ends(datum.runs, &paper.board.frame, at)).collect();
    datums.iter().for_each(|(a, b)| paper.board.take_line(*a, *b, 0.15, What::Level));
    for line in &picture.lines {
        line_light(&mut paper, line, at);
    }
    if let Some((name, place)) = &picture.unit {
        let mut mark = Mark::new("unit", name.clone());
        unit(&mut mark, at(*place));
        paper.board.take(Quad::about(at(*place), v2(5.0, 5.0)), What::Object);
        paper.add(mark);
    }
    let places = places(&picture.points);
    for place in &places {
        paper.add(cross(place, at(place.at)));
    }
    for (datum, (a, b)) in picture.datums.iter().zip(&datums) {
        datum_name(&mut paper, datum, (*a, *b), picture.listed);
    }
    if let Some((name, place)) = &picture.unit {
        paper.label(name, at(*place) + v2(0.0, 2.6), v2(0.5, 0.7));
    }
    clashes(&mut paper, picture, at);
    for place in &places {
        label(&mut paper, place, at(place.at), picture.listed);
    }
    north(&mut paper, from_above(DVec3::Y));
    draw_datums(&mut paper, &picture.datums, &datums);
    paper.finish_to_scale(&scale, &picture.say)
}

/// The scale at which a layout is drawn on so much paper: one to so much.
pub fn layout_ratio(picture: &KeyPicture, area_mm: (f64, f64)) -> u32 {
    fitted(picture, &Paper::frame(area_mm)).0.ratio
}

/// The scale at which the job fits, with the datums beside it, and the shift to the middle.
fn fitted(p: &KeyPicture, frame: &Quad) -> (Scale, V2) {
    let beside: Vec<DVec3> = p.datums.iter().map(|datum| datum_point(p, datum.runs)).collect();
    fit(p, &beside, frame, from_above)
}

/// A point of a datum beside the job, so that the drawing reaches it; the middle of the job where a datum is
/// so far off that the job would shrink for it.
fn datum_point(p: &KeyPicture, runs: DatumRuns) -> DVec3 {
    let points: Vec<DVec3> = p.lines.iter().flat_map(|line| line.points()).collect();
    let fold = |f: fn(DVec3, DVec3) -> DVec3| points.iter().copied().reduce(f).unwrap_or(DVec3::ZERO);
    let (lo, hi) = (fold(DVec3::min), fold(DVec3::max));
    let (middle, reach) = ((lo + hi) / 2.0, (hi - lo).truncate().max_element().max(2.0));
    let near = |x: f64, middle: f64| (x - middle).abs() < reach;
    match runs {
        DatumRuns::North { east_m } if near(east_m, middle.x) => middle.with_x(east_m),
        DatumRuns::East { north_m } if near(north_m, middle.y) => middle.with_y(north_m),
        DatumRuns::North { .. } | DatumRuns::East { .. } => middle,
    }
}

/// The ends of a datum's line, across the frame.
fn datum_ends(runs: DatumRuns, frame: &Quad, at: impl Fn(DVec3) -> V2) -> (V2, V2) {
    let (min, max) = (frame.min + v2(1.0, 1.0), frame.max - v2(1.0, 12.0));
    match runs {
        DatumRuns::North { east_m } => {
            let x = at(DVec3::new(east_m, 0.0, 0.0)).x;
            (v2(x, min.y), v2(x, max.y))
        }
        DatumRuns::East { north_m } => {
            let y = at(DVec3::new(0.0, north_m, 0.0)).y;
            (v2(min.x, y), v2(max.x, y))
        }
    }
}

/// Whether a datum's line lies on the paper.
fn seen(frame: &Quad, a: V2, b: V2) -> bool {
    let frame = frame.grown(-0.5, 0.0);
    [a, b].iter().all(|p| p.x > frame.min.x && p.x < frame.max.x && p.y > frame.min.y && p.y < frame.max.y)
}

/// The name of a datum along its line, near an end.
fn datum_name(paper: &mut Paper, datum: &DatumLine, (a, b): (V2, V2), listed: bool) {
    let frame = paper.board.frame;
    if !seen(&frame, a, b) {
        return paper.left_out(format!("{} lies off this drawing", datum.name));
    }
    let label =
        Label { head: Some(datum.mark.clone()), lines: vec![datum.name.clone()], border: Border::Flag };
    let bare = Label { head: Some(datum.mark.clone()), lines: Vec::new(), border: Border::Flag };
    let mut mark =
        Mark::new("datum-name", format!("{} {}", datum.mark, datum.name)).with("mark", &datum.mark);
    let along = |label: &Label| {
        let size = label.size();
        let (from, to) = (a + (b - a).normalize_or_zero() * 1.0, b);
        (0..=24).map(move |k| {
            let middle = from.lerp(to, f64::from(k) / 24.0);
            let middle =
                middle.clamp(frame.min + size / 2.0 + v2(1.6, 1.0), frame.max - size / 2.0 - v2(1.6, 1.0));
            Upright::about(middle, size, f64::from(k.min(24 - k)) * 0.8 + f64::from(k) * 0.05)
        })
    };
    if !place_label(&mut paper.board, &mut mark, &label, (along(&label), []), 30.0)
        && !place_label(&mut paper.board, &mut mark, &bare, (along(&bare), []), f64::MAX)
    {
        return paper.left_out(format!("{} {}", datum.mark, datum.name));
    }
    if !listed && !mark.texts().any(|text| text.words == datum.name) {
        paper.left_out(format!("{} {}", datum.mark, datum.name));
    }
    paper.scene.marks.push(mark);
}

/// Datum lines, interrupted where words lie on them.
fn draw_datums(paper: &mut Paper, datums: &[DatumLine], ends: &[(V2, V2)]) {
    let frame = paper.board.frame;
    let shown = datums.iter().zip(ends).filter(|(_, (a, b))| seen(&frame, *a, *b));
    let marks = shown.map(|(datum, (a, b))| {
        let mut mark = Mark::new("datum", datum.name.clone()).with("mark", &datum.mark);
        mark.lines(&paper.board.clear_of_words(*a, *b), Pen::Chain);
        mark
    });
    let marks: Vec<Mark> = marks.collect();
    paper.scene.marks.splice(0..0, marks);
}

/// A line, thin: the layout is about places.
fn line_light(paper: &mut Paper, line: &Line, at: impl Fn(DVec3) -> V2) {
    let mut mark = Mark::new("line", line.name.clone()).with("mark", &line.letters);
    let drawn = drawn(line, at);
    let mut steps = Vec::new();
    for piece in drawn.stretch(0.0, f64::MAX) {
        let [p, a, b, q] = piece.curve;
        if steps.is_empty() {
            steps.push(Segment::Move(p));
        }
        steps.push(if piece.bend.is_some() { Segment::Cubic(a, b, q) } else { Segment::Line(q) });
    }
    if !steps.is_empty() {
        mark.path(steps, Pen::Thin, Fill::None);
    }
    paper.add(mark);
}

/// What stands over one another in plan, as one place.
struct PlanPlace<'p> {
    at: DVec3,
    marks: Vec<&'p str>,
    words: &'p [String],
}

/// The places in plan, in the order of their first.
fn places(points: &[SetOut]) -> Vec<PlanPlace<'_>> {
    let mut all: Vec<PlanPlace> = Vec::new();
    for point in points {
        let same = |place: &&mut PlanPlace| (place.at - point.at).truncate().length() < ONE_PLACE_M;
        match all.iter_mut().find(same) {
            Some(place) => place.marks.push(&point.mark),
            None => all.push(PlanPlace { at: point.at, marks: vec![&point.mark], words: &point.words }),
        }
    }
    all
}

/// The cross at a place.
fn cross(place: &PlanPlace, at: V2) -> Mark {
    let mut mark =
        Mark::new("place", place.marks.join(", ")).figure("east-m", place.at.x).figure("north-m", place.at.y);
    mark.lines(
        &[
            (at - v2(CROSS_MM, CROSS_MM), at + v2(CROSS_MM, CROSS_MM)),
            (at + v2(-CROSS_MM, CROSS_MM), at + v2(CROSS_MM, -CROSS_MM)),
        ],
        Pen::Thick,
    );
    mark
}

/// Marks with distances where there is room, else marks alone with a note under the drawing.
fn label(paper: &mut Paper, place: &PlanPlace, at: V2, listed: bool) {
    let marks = place.marks.join(" ");
    let whole = format!("{marks}: {}", place.words.join(", "));
    let mut mark = Mark::new("place-words", whole.clone());
    let mut lines = vec![marks.clone()];
    lines.extend(place.words.iter().cloned());
    let (full, bare) = (Label::lines(lines), Label::words(marks));
    let places = |label: &Label, limit: f64| {
        let size = label.size();
        let led = round_below(at, size, v2(0.3, -0.3), limit).dearer(2.0);
        (beside(at, size, 1.6, v2(0.4, -0.4)), [led])
    };
    if !listed && place_label(&mut paper.board, &mut mark, &full, places(&full, DEAREST), DEAREST) {
        paper.scene.marks.push(mark);
    } else if place_label(&mut paper.board, &mut mark, &bare, places(&bare, f64::MAX), f64::MAX) {
        paper.scene.marks.push(mark);
        if !listed {
            paper.left_out(whole);
        }
    } else if !listed {
        paper.left_out(whole);
    }
}

/// Every place in words.
fn in_words(p: &KeyPicture) -> String {
    let told = |point: &SetOut| format!("{}: {}.", point.mark, point.words.join(", "));
    p.points.iter().map(told).collect::<Vec<_>>().join(" ")
}
