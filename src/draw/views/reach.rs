//! Reach: a floor from above, hatched by the hose that each part of it wants.
//!
//! Hatch steps tell the bands in black and white: the nearer, the closer the lines; neighbours lean the other
//! way. What no valve reaches stays bare, inside a thick dashed line.
mod labels;
mod shapes;

use super::{Shown, View};
use crate::draw::hand::geo::{V2, v2};
use crate::draw::hand::scale::Scale;
use crate::draw::hand::scene::{Fill, Mark, Pen, Scene, Segment};
use crate::draw::hand::symbols;
use crate::draw::placer::labels::anywhere;
use crate::draw::placer::paper::Paper;
use crate::draw::subject::ReachPicture;
use crate::plan::{P2, Rings};
use shapes::{along_walls, even_odd, on_stair};

/// Kept free all round for dimensions and names, mm; under the plan for the scale bar.
const MARGIN_MM: f64 = 13.0;
const BAR_MM: f64 = 9.0;
/// Hatch of the nearest band, and how much wider each further one is, mm.
const PITCH_MM: f64 = 1.1;
const WIDER_MM: f64 = 0.55;
/// Hatch of the stairs' steps, mm of floor.
const TREAD_M: f64 = 10.0 * 0.0254;

/// The entry of the list of views.
pub static VIEW: View = View {
    name: "reach",
    title: "Reach",
    about: "Each floor of the plan, with what its valves reach",
    shown: Shown::Floor(reach),
};

/// Draws one floor of a plan with its reach.
pub fn reach(picture: &ReachPicture) -> Scene {
    let mut paper = Paper::new(&picture.prefix, &picture.title, in_words(picture), picture.area_mm);
    let outline = crate::plan::outlines(picture.plan, picture.placed, picture.floor);
    let (scale, shift) = fit(picture, &outline, &paper);
    let at = move |p: P2| v2(p.x, -p.y) * scale.mm_per_m() + shift;
    bands(&mut paper, picture, &at);
    furniture(&mut paper, picture, &at);
    lines(&mut paper, picture, &at);
    let mut walls = Mark::new("walls", "inside faces of the walls");
    walls.path(closed(&outline, &at), Pen::Thick, Fill::None);
    paper.add_light(walls);
    labels::dimensions(&mut paper, picture, &outline, &at);
    labels::valves(&mut paper, picture, &at);
    labels::rooms(&mut paper, picture, &at);
    labels::contours(&mut paper, picture, &at);
    north(&mut paper);
    paper.finish_to_scale(&scale, &picture.say)
}

/// The scale at which the floor fits, and the shift to the middle.
fn fit(p: &ReachPicture, outline: &Rings, paper: &Paper) -> (Scale, V2) {
    let points = outline.iter().flatten().map(|p| v2(p.x, -p.y));
    let (lo, hi) = points.fold((V2::MAX, V2::MIN), |(lo, hi), at| (lo.min(at), hi.max(at)));
    let (lo, hi) = if lo.x > hi.x { (V2::ZERO, V2::ZERO) } else { (lo, hi) };
    let frame = paper.board.frame;
    let room = (frame.max - frame.min - v2(2.0 * MARGIN_MM, 2.0 * MARGIN_MM + BAR_MM)).max(v2(20.0, 20.0));
    let scale = Scale::preferred(&p.say)[Scale::fitting(&p.say, hi - lo, room)];
    (scale, frame.middle() - v2(0.0, BAR_MM / 2.0) - (lo + hi) / 2.0 * scale.mm_per_m())
}

/// Rings as one path.
fn closed(rings: &Rings, at: &impl Fn(P2) -> V2) -> Vec<Segment> {
    let mut steps = Vec::new();
    for ring in rings {
        for (i, p) in ring.iter().enumerate() {
            steps.push(if i == 0 { Segment::Move(at(*p)) } else { Segment::Line(at(*p)) });
        }
        steps.push(Segment::Close);
    }
    steps
}

/// Hatch and border of every band, on the floor and on the stairs that go up from it.
fn bands(paper: &mut Paper, p: &ReachPicture, at: &impl Fn(P2) -> V2) {
    for (k, band) in p.bands.iter().enumerate() {
        let say = p.say.length(band.hose_m);
        let mut mark = Mark::new("reach", format!("within {say} of hose")).figure("hose-m", band.hose_m);
        let pitch = PITCH_MM + WIDER_MM * k as f64;
        let last = k + 1 == p.bands.len();
        for (sheet, rings) in band.sheets.iter().enumerate() {
            let Some(place) = on_stair(p, sheet) else { continue };
            let ring = |ring: &Vec<P2>| ring.iter().map(|q| at(place(*q))).collect::<Vec<V2>>();
            // The band before lies within this one: what is in both is left bare here, and so are its borders.
            let before = k.checked_sub(1).map_or(&[][..], |before| &p.bands[before].sheets[sheet]);
            let step: Vec<Vec<V2>> = rings.iter().chain(before).map(ring).collect();
            mark.lines(&even_odd(&step, pitch, k % 2 == 0), Pen::Thin);
            let edges: Vec<(V2, V2)> = along_walls(&p.house.sheets[sheet], rings)
                .into_iter()
                .map(|(a, b)| (at(place(a)), at(place(b))))
                .collect();
            mark.lines(&edges, if last { Pen::ThickDashed } else { Pen::Thin });
        }
        // Words may lie over hatch, on a bed of their own.
        paper.scene.marks.push(mark);
    }
}

/// Things, stairs with their treads, and an arrow uphill.
fn furniture(paper: &mut Paper, p: &ReachPicture, at: &impl Fn(P2) -> V2) {
    for thing in p.plan.things.iter().filter(|thing| p.placed.rooms[thing.room].floor == p.floor) {
        let origin = p.placed.rooms[thing.room].corners[0];
        let corners = thing.place.corners().map(|q| at(q + origin));
        let mut mark = Mark::new("thing", thing.what.clone());
        mark.polygon(&corners, Pen::Thin, Fill::White);
        paper.add_light(mark);
    }
    for (stair, set) in p.plan.stairs.iter().zip(&p.placed.stairs) {
        if p.placed.rooms[stair.room].floor != p.floor {
            continue;
        }
        let mut mark = Mark::new("stair", format!("stair up to {}", p.plan.rooms[stair.into].name))
            .figure("rise-m", stair.rise_m)
            .figure("slope-m", stair.slope_m());
        let corners = [set.foot.0, set.foot.1, set.head.1, set.head.0].map(at);
        mark.polygon(&corners, Pen::Thin, Fill::None);
        let treads = (stair.run_m / TREAD_M).floor().max(1.0);
        let step = |k: f64| {
            let by = stair.toward * stair.run_m * k / treads;
            (at(set.foot.0 + by), at(set.foot.1 + by))
        };
        mark.lines(&(1..treads as usize).map(|k| step(k as f64)).collect::<Vec<_>>(), Pen::Thin);
        let up = |k: f64| (step(k).0 + step(k).1) / 2.0;
        let (tail, head) = (up(0.6), up(treads - 0.6));
        let way = (head - tail).normalize_or_zero() * 2.0;
        mark.line(tail, head, Pen::Thin);
        mark.lines(
            &[(head, head - way + way.perp() * 0.5), (head, head - way - way.perp() * 0.5)],
            Pen::Thin,
        );
        paper.add_light(mark);
    }
}

/// Lines of tube under or over the floor, in light line.
fn lines(paper: &mut Paper, p: &ReachPicture, at: &impl Fn(P2) -> V2) {
    for (name, points) in &p.lines {
        let seen: Vec<(V2, V2)> =
            points.windows(2).map(|pair| (at(pair[0].truncate()), at(pair[1].truncate()))).collect();
        let mut mark = Mark::new("tube", format!("line of {name}"));
        mark.lines(&seen, Pen::Dashed);
        paper.add_light(mark);
    }
    if let Some(level) = &p.plan.level
        && !p.lines.is_empty()
    {
        for no_go in &level.no_go {
            let c = no_go.place.corners().map(at);
            let mut mark = Mark::new("no-go", format!("no tube: {}", no_go.what));
            mark.polygon(&c, Pen::Dotted, Fill::None);
            mark.lines(&[(c[0], c[2]), (c[1], c[3])], Pen::Dotted);
            paper.add_light(mark);
        }
    }
}

/// The north arrow in a free corner.
fn north(paper: &mut Paper) {
    let frame = paper.board.frame;
    let places = anywhere(&frame, v2(9.0, 13.0), v2(frame.max.x, frame.min.y + 10.0));
    if let Some(chosen) = paper.board.place(places, [], f64::MAX) {
        let mut mark = Mark::new("north", "north").with("angle", "0");
        symbols::north_arrow(&mut mark, &chosen.words, v2(0.0, -1.0));
        paper.scene.marks.push(mark);
    }
}

/// The drawing in words.
fn in_words(p: &ReachPicture) -> String {
    let names: Vec<&str> = p.valves.iter().map(|valve| valve.name.as_str()).collect();
    let valves = match names.as_slice() {
        [] => "No valve stands on this floor.".into(),
        [one] => format!("The valve {one} stands on this floor."),
        many => format!("The valves {} stand on this floor.", many.join(", ")),
    };
    let left: Vec<&str> = p.left.iter().map(|(_, words)| words.as_str()).collect();
    let left = if left.is_empty() {
        "All of it is reached.".into()
    } else {
        format!("Left out: {}.", left.join("; "))
    };
    format!("{valves} {left}")
}
