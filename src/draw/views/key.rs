//! The key plan: every line of a job from above and on three axes, each raceway with a line pattern and its
//! name, its stop, and where it joins.
use super::centreline::Drawn;
use super::projection::{from_above, on_axes};
use super::{Shown, View};
use crate::draw::hand::geo::{Quad, V2, hatch, v2};
use crate::draw::hand::scale::Scale;
use crate::draw::hand::scene::{Fill, Mark, Pen, Scene, Segment};
use crate::draw::hand::symbols::unit;
use crate::draw::hand::words::route_in_words;
use crate::draw::placer::paper::Paper;
use crate::draw::placer::what::What;
use crate::draw::subject::KeyPicture;
use crate::route::{End, Line};
use glam::DVec3;

/// Kept free all round, mm, and under the plan for the scale bar.
const MARGIN_MM: f64 = 14.0;
const BAR_MM: f64 = 10.0;
/// Line patterns of raceways, taken in turn: told apart in black and white.
const PATTERNS: [&[f64]; 6] = [
    &[],
    &[4.0, 1.2],
    &[1.4, 1.0],
    &[6.0, 1.0, 1.0, 1.0],
    &[6.0, 1.0, 1.0, 1.0, 1.0, 1.0],
    &[2.5, 1.0, 0.6, 1.0],
];

/// The entries of the list of views.
pub static PLAN: View = View {
    name: "key",
    title: "Key plan",
    about: "All lines of the job, from above",
    shown: Shown::Job(key_plan),
};
pub static ISOMETRIC: View = View {
    name: "key-isometric",
    title: "Key isometric",
    about: "All lines of the job, on three axes",
    shown: Shown::Job(key_isometric),
};

/// Draws the key plan, seen from above.
pub fn key_plan(picture: &KeyPicture) -> Scene {
    draw(picture, from_above)
}

/// Draws all lines on three axes.
pub fn key_isometric(picture: &KeyPicture) -> Scene {
    draw(picture, on_axes)
}

/// Draws all lines as `seen` projects them.
fn draw(picture: &KeyPicture, seen: fn(DVec3) -> V2) -> Scene {
    let mut paper = Paper::new(&picture.prefix, &picture.title, in_words(picture), picture.area_mm);
    let (scale, shift) = fit(picture, &[], &paper.board.frame, seen);
    let at = |point: DVec3| seen(point) * scale.mm_per_m() + shift;
    let mut names: Vec<(String, V2)> = Vec::new();
    let mut patterns = PATTERNS.into_iter().cycle();
    for line in &picture.lines {
        let drawn = drawn(line, at);
        let pattern = line.raceway.as_ref().and_then(|_| patterns.next());
        paper.add(line_mark(line, &drawn, pattern));
        let start = drawn.legs.first().map_or(V2::ZERO, |leg| leg.from);
        match line.head {
            End::Valve => {
                paper.add(square("valve", &line.name, start, 3.2, Pen::Thick));
                names.push((format!("{} {}", line.letters, line.name), start));
            }
            _ => {
                names.push((format!("{} {}", line.letters, line.name), drawn.at_path(drawn.path_m / 2.0).at))
            }
        }
        if let Some(raceway) = &line.raceway {
            paper.add(square("stop", &format!("stop of {}", line.name), at(raceway.end), 2.0, Pen::Thin));
        }
        if line.tail == End::Branch {
            let mut mark = Mark::new("junction", format!("{} joins", line.name));
            mark.circle(at(line.end), 0.9, Pen::Thin, Fill::Black);
            paper.add(mark);
        }
    }
    if let Some((name, place)) = &picture.unit {
        let mut mark = Mark::new("unit", name.clone());
        unit(&mut mark, at(*place));
        paper.board.take(Quad::about(at(*place), v2(5.0, 5.0)), What::Object);
        paper.add(mark);
        names.push((name.clone(), at(*place) + v2(0.0, 2.6)));
    }
    clashes(&mut paper, picture, at);
    for (name, place) in names {
        paper.label(&name, place, v2(0.5, -0.7));
    }
    north(&mut paper, seen(DVec3::Y));
    paper.finish_to_scale(&scale, &picture.say)
}

/// The scale at which a key isometric is drawn on so much paper: one to so much.
pub fn key_isometric_ratio(picture: &KeyPicture, area_mm: (f64, f64)) -> u32 {
    fit(picture, &[], &Paper::frame(area_mm), on_axes).0.ratio
}

/// The scale at which all lines fit, with what stands beside them, and the shift to the middle.
pub fn fit(p: &KeyPicture, beside: &[DVec3], frame: &Quad, seen: fn(DVec3) -> V2) -> (Scale, V2) {
    let points = p.lines.iter().flat_map(|line| line.points());
    let points = points.chain(p.unit.iter().map(|(_, place)| *place)).chain(beside.iter().copied()).map(seen);
    let (lo, hi) = points.fold((V2::MAX, V2::MIN), |(lo, hi), at| (lo.min(at), hi.max(at)));
    let (lo, hi) = if lo.x > hi.x { (V2::ZERO, V2::ZERO) } else { (lo, hi) };
    let room = (frame.max - frame.min - v2(2.0 * MARGIN_MM, 2.0 * MARGIN_MM + BAR_MM)).max(v2(20.0, 20.0));
    let scale = Scale::preferred(&p.say)[Scale::fitting(&p.say, hi - lo, room)];
    (scale, frame.middle() - v2(0.0, BAR_MM / 2.0) - (lo + hi) / 2.0 * scale.mm_per_m())
}

/// A line in its place.
pub fn drawn(line: &Line, at: impl Fn(DVec3) -> V2) -> Drawn {
    let work: Vec<V2> = line.points().into_iter().map(at).collect();
    let angles: Vec<f64> = line.bends.iter().map(|bend| bend.angle_deg.to_radians()).collect();
    Drawn::new(line, &work, &angles, &[])
}

/// A line with its pattern as far as the hose lies, dashed beyond; thin where no hose lies in it.
fn line_mark(line: &Line, drawn: &Drawn, pattern: Option<&'static [f64]>) -> Mark {
    let hose_m = line.raceway.as_ref().map_or(0.0, |raceway| raceway.hose_path_m);
    let kind = if line.raceway.is_some() { "raceway" } else { "trunk" };
    let mut mark =
        Mark::new(kind, line.name.clone()).with("mark", &line.letters).figure("length-m", line.centre_m);
    match pattern {
        Some(dashes) => {
            let pen = if dashes.is_empty() { Pen::Thick } else { Pen::Pattern(dashes) };
            stroke(&mut mark, drawn, (0.0, hose_m), pen);
            stroke(&mut mark, drawn, (hose_m, f64::MAX), Pen::Dashed);
        }
        None => stroke(&mut mark, drawn, (0.0, f64::MAX), Pen::Thin),
    }
    mark
}

/// A stretch of a line as one path.
fn stroke(mark: &mut Mark, drawn: &Drawn, (from_m, to_m): (f64, f64), pen: Pen) {
    let mut steps = Vec::new();
    for piece in drawn.stretch(from_m, to_m) {
        let [p, a, b, q] = piece.curve;
        if steps.is_empty() {
            steps.push(Segment::Move(p));
        }
        steps.push(if piece.bend.is_some() { Segment::Cubic(a, b, q) } else { Segment::Line(q) });
    }
    if !steps.is_empty() {
        mark.path(steps, pen, Fill::None);
    }
}

/// A valve or a stop: an open square on the line.
fn square(kind: &'static str, title: &str, at: V2, side_mm: f64, pen: Pen) -> Mark {
    let mut mark = Mark::new(kind, title);
    mark.polygon(&Quad::about(at, v2(side_mm, side_mm)).corners, pen, Fill::White);
    mark
}

/// A hatched ring with its words at every place where two lines come too near.
pub fn clashes(paper: &mut Paper, p: &KeyPicture, at: impl Fn(DVec3) -> V2) {
    for clash in &p.clashes {
        let middle = at(clash.at);
        let ring: Vec<V2> = (0..12)
            .map(|k| middle + V2::from_angle(f64::from(k) * std::f64::consts::FRAC_PI_6) * 2.4)
            .collect();
        let mut mark = Mark::new("clash", clash.words.clone());
        mark.lines(&hatch(&ring, 0.9, true), Pen::Thin);
        paper.board.take(Quad::about(middle, v2(4.4, 4.4)), What::Hatch);
        paper.scene.marks.push(mark);
    }
    for clash in &p.clashes {
        paper.label(&clash.words, at(clash.at), v2(0.3, 0.8));
    }
}

/// The north arrow in a free corner; `way` is north's way on paper.
pub fn north(paper: &mut Paper, way: V2) {
    let frame = paper.board.frame;
    let places =
        crate::draw::placer::labels::anywhere(&frame, v2(9.0, 13.0), v2(frame.max.x, frame.min.y + 10.0));
    if let Some(chosen) = paper.board.place(places, [], f64::MAX) {
        let turned = format!("{:.0}", way.x.atan2(-way.y).to_degrees());
        let mut mark = Mark::new("north", "north").with("angle", turned);
        crate::draw::hand::symbols::north_arrow(&mut mark, &chosen.words, way);
        paper.scene.marks.push(mark);
    }
}

/// Every line in words.
fn in_words(p: &KeyPicture) -> String {
    let told = |line: &&Line| format!("{}: {}", line.name, route_in_words(line, &p.say));
    p.lines.iter().map(told).collect::<Vec<_>>().join(" ")
}
