//! Words of a reach: sizes, names, valves, contours. Each lies on a white bed, for the floor is hatched.
use super::shapes::along_walls;
use crate::draw::hand::geo::{Quad, V2, v2};
use crate::draw::hand::scene::{Fill, Mark, Pen};
use crate::draw::placer::around::{Round, beside, round};
use crate::draw::placer::candidate::Upright;
use crate::draw::placer::dimension::{FIRST_MM, Measure, dimension};
use crate::draw::placer::labels::{Label, leader};
use crate::draw::placer::paper::Paper;
use crate::draw::placer::what::What;
use crate::draw::subject::ReachPicture;
use crate::plan::{P2, PlacedRoom, Rings, middle_of};

/// A label costs no more than this before it is written under the drawing.
const LIMIT: f64 = 60.0;

/// A stretch of contour as long as this has its hose written on it, mm.
const FOLLOWED_MM: f64 = 24.0;

/// Width and height of the whole floor.
pub fn dimensions(paper: &mut Paper, p: &ReachPicture, outline: &Rings, at: &impl Fn(P2) -> V2) {
    let fold = |f: fn(P2, P2) -> P2| outline.iter().flatten().copied().reduce(f).unwrap_or_default();
    let (low, high) = (fold(P2::min), fold(P2::max));
    let sides = [
        (low, P2::new(high.x, low.y), high.x - low.x, v2(0.0, 1.0), "width"),
        (low, P2::new(low.x, high.y), high.y - low.y, v2(-1.0, 0.0), "depth"),
    ];
    for (from, to, length_m, side, what) in sides {
        let words = p.say.length(length_m);
        let mut mark = Mark::new("dimension", format!("{what} of the floor, {words}"))
            .with("mark", what)
            .figure("length-m", length_m);
        let measure = Measure {
            from: at(from),
            to: at(to),
            words: &words,
            sides: &[side],
            first_mm: FIRST_MM - 4.0,
            row_mm: None,
        };
        if dimension(&mut paper.board, &mut mark, &measure).is_some() {
            paper.scene.marks.push(mark);
        }
    }
}

/// A square on the wall for each valve, with its name and hose.
pub fn valves(paper: &mut Paper, p: &ReachPicture, at: &impl Fn(P2) -> V2) {
    for valve in &p.valves {
        let place = at(valve.at);
        let mut mark = Mark::new("valve", valve.name.clone()).figure("hose-m", valve.hose_m);
        mark.polygon(&Quad::about(place, v2(2.8, 2.8)).corners, Pen::Thick, Fill::White);
        mark.circle(place, 0.6, Pen::None, Fill::Black);
        paper.board.take(Quad::about(place, v2(2.8, 2.8)), What::Object);
        paper.scene.marks.push(mark);
        let lines = vec![valve.name.to_uppercase(), format!("{} hose", p.say.length(valve.hose_m))];
        bedded(paper, "valve-name", lines, place, v2(0.5, -0.5), true);
    }
    if let Some((point, hose_m)) = p.farthest {
        let place = at(point);
        let mut mark = Mark::new("farthest", "the point that wants the most hose").figure("hose-m", hose_m);
        mark.lines(
            &[(place - v2(1.3, 1.3), place + v2(1.3, 1.3)), (place + v2(-1.3, 1.3), place + v2(1.3, -1.3))],
            Pen::Thick,
        );
        paper.board.take(Quad::about(place, v2(2.6, 2.6)), What::Object);
        paper.scene.marks.push(mark);
        let words = vec![format!("farthest: {}", p.say.length(hose_m))];
        bedded(paper, "farthest-name", words, place, v2(0.4, -0.7), true);
    }
}

/// Name and size of every room, what of it is left out, and the names of things.
pub fn rooms(paper: &mut Paper, p: &ReachPicture, at: &impl Fn(P2) -> V2) {
    for (number, room) in p.plan.rooms.iter().enumerate() {
        let set = &p.placed.rooms[number];
        if set.floor != p.floor {
            continue;
        }
        let mut lines = vec![room.name.clone()];
        lines.extend(size_words(p, set));
        lines.extend(p.left.iter().filter(|(r, _)| *r == number).map(|(_, words)| words.clone()));
        let mut ring = set.corners.clone();
        if !set.left {
            ring.reverse();
        }
        let (middle, bounds) = (at(middle_of(&vec![ring])), bounds(set.corners.iter().map(|c| at(*c))));
        let size = Label::lines(lines.clone()).size();
        // In its own room where there is any place for it; else led to it.
        let places = (inside(&bounds, size, middle), [round(middle, size, V2::ZERO).dearer(30.0)]);
        put(paper, "room-name", lines, places, f64::MAX, true);
    }
    for thing in p.plan.things.iter().filter(|thing| p.placed.rooms[thing.room].floor == p.floor) {
        let middle = thing.place.from + thing.place.size / 2.0 + p.placed.rooms[thing.room].corners[0];
        bedded(paper, "thing-name", vec![thing.what.clone()], at(middle), V2::ZERO, false);
    }
}

fn bounds(points: impl Iterator<Item = V2>) -> Quad {
    let (low, high) = points.fold((V2::MAX, V2::MIN), |(low, high), p| (low.min(p), high.max(p)));
    Quad::rect(low, high)
}

/// Places all over a room, the nearer to its middle the better.
fn inside(room: &Quad, size: V2, middle: V2) -> Vec<Upright> {
    let spare = room.max - room.min - size;
    if spare.x < 0.0 || spare.y < 0.0 {
        return Vec::new();
    }
    let steps = |mm: f64| (mm / 2.0).ceil().max(1.0) as usize;
    let (nx, ny) = (steps(spare.x), steps(spare.y));
    let mut all = vec![Upright::about(middle, size, 0.0)];
    for i in 0..=nx {
        for j in 0..=ny {
            let corner = room.min + spare * v2(i as f64 / nx as f64, j as f64 / ny as f64);
            let (min, max) = (corner, corner + size);
            let cost = ((min + max) / 2.0).distance(middle) * 0.1;
            all.push(Upright { min, max, toward: None, cost });
        }
    }
    all.retain(|place| room.holds(place.min, place.max));
    all
}

/// `12 ft x 14 ft`, for a room of four square walls.
fn size_words(p: &ReachPicture, set: &PlacedRoom) -> Option<String> {
    let square = set.corners.len() == 4
        && (0..4).all(|w| set.sides(w).0.x.abs() < 1e-9 || set.sides(w).0.y.abs() < 1e-9);
    let (low, high) =
        (set.corners[0].min(set.corners[2 % set.corners.len()]), set.corners[0].max(set.corners[2]));
    let size = high - low;
    square.then(|| format!("{} x {}", p.say.length(size.x), p.say.length(size.y)))
}

/// The hose of each contour, on every stretch of it that is long enough to be followed by eye; on the longest where
/// none is.
pub fn contours(paper: &mut Paper, p: &ReachPicture, at: &impl Fn(P2) -> V2) {
    for band in p.bands {
        let words = p.say.length(band.hose_m);
        let size = Label::words(words.clone()).size();
        let edges = along_walls(&p.house.sheets[p.floor], &band.sheets[p.floor]);
        let edges: Vec<(V2, V2)> = edges.into_iter().map(|(a, b)| (at(a), at(b))).collect();
        let mut runs: Vec<&[(V2, V2)]> = edges.chunk_by(|one, next| one.1.distance(next.0) < 1e-6).collect();
        let length = |run: &[(V2, V2)]| run.iter().map(|(a, b)| a.distance(*b)).sum::<f64>();
        runs.sort_by(|a, b| length(b).total_cmp(&length(a)));
        let long = runs.iter().filter(|run| length(run) >= FOLLOWED_MM).count().max(1);
        for run in runs.into_iter().take(long) {
            // One in every few chords is tried; the placer takes the freest.
            let step = (run.len() / 24).max(1);
            let middles = run.iter().step_by(step).map(|(a, b)| (*a + *b) / 2.0);
            let places = middles.map(|middle| Upright::about(middle, size, 1.0)).collect();
            put(paper, "contour-name", vec![words.clone()], (places, []), LIMIT, false);
        }
    }
}

/// Words at a point on a white bed; `led` when a leader may take them away from it.
fn bedded(paper: &mut Paper, kind: &'static str, lines: Vec<String>, at: V2, favoured: V2, led: bool) {
    let size = Label::lines(lines.clone()).size();
    let near = if led { beside(at, size, 1.8, favoured).collect() } else { over(at, size) };
    put(paper, kind, lines, (near, [round(at, size, favoured).dearer(4.0)]), f64::MAX, true);
}

/// Places over a point and near it, without leader.
fn over(at: V2, size: V2) -> Vec<Upright> {
    let steps = [0.0, -0.6, 0.6, -1.2, 1.2, -2.0, 2.0];
    let mut all = Vec::new();
    for x in steps {
        for y in steps {
            let off = v2(x * size.x * 0.5, y * size.y);
            all.push(Upright::about(at + off, size, off.length() * 0.15));
        }
    }
    all
}

fn put<const N: usize>(
    paper: &mut Paper,
    kind: &'static str,
    lines: Vec<String>,
    (near, rounds): (Vec<Upright>, [Round; N]),
    limit: f64,
    must: bool,
) {
    let label = Label::lines(lines.clone());
    match paper.board.place(near, rounds, limit) {
        Some(chosen) => {
            let mut mark = Mark::new(kind, lines.join(", "));
            mark.polygon(&chosen.words.corners, Pen::None, Fill::White);
            leader(&mut mark, &chosen);
            label.draw(&mut mark, &chosen.words);
            paper.scene.marks.push(mark);
        }
        None if must => paper.left_out(lines.join(", ")),
        None => {}
    }
}
