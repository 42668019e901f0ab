//! A valve's box or frame in the wall: from the front between the studs, and from the side through the wall.
use crate::draw::hand::font::{SIZE_MM, line_height};
use crate::draw::hand::geo::{Quad, V2, hatch, v2};
use crate::draw::hand::scale::Scale;
use crate::draw::hand::scene::{Fill, Mark, Pen, Scene};
use crate::draw::placer::labels::centred;
use crate::draw::placer::paper::Paper;
use crate::draw::subject::{TubeLeaves, ValveBoxPicture};

/// Width of a stud's face, metres: a dressed 2x is 1-1/2 in (PS 20).
const STUD_FACE_M: f64 = 0.0381;
/// Kept free at the sides and between the two views, mm.
const SIDE_MM: f64 = 16.0;
const BETWEEN_MM: f64 = 24.0;

/// Words, what they speak of, and where they had best lie.
type Words = (String, V2, V2);

/// Draws both views to one preferred scale.
pub fn valve_box(p: &ValveBoxPicture) -> Scene {
    let mut paper = Paper::new(&p.prefix, &p.title, in_words(p), p.area_mm);
    let shown_m = p.box_m.1 * 2.4;
    let wide_m = p.bay_m + 2.0 * STUD_FACE_M + p.stud_m + p.drywall_m;
    let room = v2((p.area_mm.0 - 2.0 * SIDE_MM - BETWEEN_MM).max(20.0), (p.area_mm.1 - 26.0).max(20.0));
    let scale = Scale::preferred(&p.say)[Scale::fitting(&p.say, v2(wide_m, shown_m), room)];
    let mm = scale.mm_per_m();
    let (high, used) = (shown_m * mm, wide_m * mm + BETWEEN_MM);
    let left = v2((p.area_mm.0 - used) / 2.0, 10.0);
    // Words come after all shapes, so that none of one view land on the other.
    let mut words = front(&mut paper, p, left, mm, high);
    let side_left = left + v2((p.bay_m + 2.0 * STUD_FACE_M) * mm + BETWEEN_MM, 0.0);
    words.extend(side(&mut paper, p, side_left, mm, high));
    for (words, at, favoured) in words {
        paper.label(&words, at, favoured);
    }
    let mut scene = paper.finish();
    scene.scale = Some(scale.words().to_string());
    let bottom = scene.heights().1;
    let (bar, place) = scale.bar(&p.say, v2(1.5, bottom + 8.0), p.area_mm.0 - 2.0);
    scene.marks.push(bar);
    scene.size_mm.1 = place.max.y + 1.0;
    scene
}

/// From the room: studs, box, tube.
fn front(paper: &mut Paper, p: &ValveBoxPicture, at: V2, mm: f64, high: f64) -> Vec<Words> {
    let (stud, bay) = (STUD_FACE_M * mm, p.bay_m * mm);
    for x in [at.x, at.x + stud + bay] {
        upright(paper, "stud", v2(x, at.y), v2(x + stud, at.y + high));
    }
    let size = v2(p.box_m.0, p.box_m.1) * mm;
    let corner = v2(at.x + stud, at.y + (high - size.y) / 2.0);
    let place = Quad::rect(corner, corner + size);
    tube(paper, p, place.middle().x, &place, (at.y, at.y + high), mm);
    let mut mark =
        Mark::new("valve", p.name.clone()).figure("width-m", p.box_m.0).figure("height-m", p.box_m.1);
    mark.polygon(&place.corners, Pen::Thick, Fill::White);
    mark.line(place.corners[0], place.corners[2], Pen::Thin);
    paper.add(mark);
    heading(paper, "front", v2(at.x + stud + bay / 2.0, at.y - 4.0));
    let mut words = vec![
        (p.say.length(p.box_m.0), v2(place.middle().x, place.min.y), v2(0.6, -1.0)),
        (p.say.length(p.box_m.1), v2(place.max.x, place.middle().y), v2(1.0, 0.0)),
        (
            format!("{} bay {}", if p.bay_known { "stud" } else { "typical" }, p.say.length(p.bay_m)),
            v2(at.x + stud + bay * 0.7, at.y + high),
            v2(0.0, 1.0),
        ),
    ];
    if let Some(heights) = &p.heights {
        let seat = v2(place.middle().x, place.max.y - (heights.seat_m - heights.bottom_m) * mm);
        seat_mark(paper, seat, p.tube_outside_m / 2.0 * mm);
        let told = |what: &str, m: f64| format!("{what} {} over {}", p.say.length(m), heights.over);
        words.push((told("tube seat", heights.seat_m), seat, v2(-0.6, 0.9)));
        words.push((told("box bottom", heights.bottom_m), place.max, v2(0.7, 0.8)));
        words.push((told("box middle", heights.bottom_m + p.box_m.1 / 2.0), place.middle(), v2(0.8, 0.3)));
    }
    words
}

/// Through the wall, the room on the right.
fn side(paper: &mut Paper, p: &ValveBoxPicture, at: V2, mm: f64, high: f64) -> Vec<Words> {
    let (stud, wall) = (p.stud_m * mm, (p.drywall_m * mm).max(0.8));
    let mut outline = Mark::new("stud", "stud, seen from the side");
    outline.polygon(&Quad::rect(at, at + v2(stud, high)).corners, Pen::Thin, Fill::None);
    paper.add_light(outline);
    let (deep, tall) = (p.depth_m * mm, p.box_m.1 * mm);
    // A box deeper than its wall stands out at the back, where the other board is cut open.
    let corner = v2(at.x + stud - deep, at.y + (high - tall) / 2.0);
    if p.wall_m.is_some() {
        upright(paper, "drywall", at - v2(wall, 0.0), v2(at.x, at.y + high));
    }
    let place = Quad::rect(corner, corner + v2(deep, tall));
    tube(paper, p, place.middle().x, &place, (at.y, at.y + high), mm);
    let mut valve = Mark::new("valve", p.name.clone()).figure("depth-m", p.depth_m);
    valve.polygon(&place.corners, Pen::Thick, Fill::White);
    valve.line(place.corners[0], place.corners[2], Pen::Thin);
    paper.add(valve);
    upright(paper, "drywall", at + v2(stud, 0.0), v2(at.x + stud + wall, place.min.y));
    upright(paper, "drywall", v2(at.x + stud, place.max.y), at + v2(stud + wall, high));
    heading(paper, "side", v2(at.x + stud / 2.0, at.y - 4.0));
    let mut words = vec![
        (format!("depth {}", p.say.length(p.depth_m)), v2(place.middle().x, place.max.y), v2(-0.8, 0.8)),
        ("drywall".into(), v2(at.x + stud + wall, at.y + high * 0.85), v2(1.0, 0.0)),
    ];
    if let Some(wall_m) = p.wall_m {
        let told = format!("wall {}", p.say.length(wall_m));
        words.push((told, at + v2(0.0, high * 0.15), v2(-1.0, 0.0)));
    }
    words
}

/// Where the tube's end rests, a short line across it.
fn seat_mark(paper: &mut Paper, at: V2, half: f64) {
    let mut mark = Mark::new("seat", "tube seat");
    mark.line(at - v2(half, 0.0), at + v2(half, 0.0), Pen::Thick);
    paper.add(mark);
}

/// The tube from the box to the edge of the view, and its centreline; one that leaves level is told in words.
fn tube(paper: &mut Paper, p: &ValveBoxPicture, x: f64, place: &Quad, ends: (f64, f64), mm: f64) {
    let half = p.tube_outside_m / 2.0 * mm;
    let (near, far) = match p.leaves {
        TubeLeaves::Up => (place.min.y, ends.0),
        TubeLeaves::Down => (place.max.y, ends.1),
        TubeLeaves::Level => return,
    };
    let mut mark = Mark::new("tube", way(p.leaves));
    for dx in [-half, half] {
        mark.line(v2(x + dx, near), v2(x + dx, far), Pen::Thin);
    }
    mark.line(v2(x, near), v2(x, far), Pen::Chain);
    paper.add(mark);
}

/// How the tube leaves, in words.
fn way(leaves: TubeLeaves) -> &'static str {
    match leaves {
        TubeLeaves::Up => "tube leaves up",
        TubeLeaves::Down => "tube leaves down",
        TubeLeaves::Level => "tube leaves level",
    }
}

/// An upright cut open: stud or drywall.
fn upright(paper: &mut Paper, kind: &'static str, min: V2, max: V2) {
    let place = Quad::rect(min, max);
    let mut mark = Mark::new(kind, kind);
    mark.lines(&hatch(&place.corners, 1.6, kind == "stud"), Pen::Thin);
    mark.polygon(&place.corners, Pen::Thin, Fill::None);
    paper.add(mark);
}

/// The name of a view, over it.
fn heading(paper: &mut Paper, words: &str, at: V2) {
    let mut mark = Mark::new("heading", words);
    mark.text(centred(at - v2(0.0, line_height(SIZE_MM) / 2.0), words, 0.0).bold());
    paper.add(mark);
}

/// The box in words.
fn in_words(p: &ValveBoxPicture) -> String {
    let size = format!(
        "{} wide, {} high, {} deep",
        p.say.length(p.box_m.0),
        p.say.length(p.box_m.1),
        p.say.length(p.depth_m)
    );
    let heights = p.heights.as_ref().map_or_else(String::new, |heights| {
        format!(
            " Over {}: tube seat {}, box bottom {}, box middle {}.",
            heights.over,
            p.say.length(heights.seat_m),
            p.say.length(heights.bottom_m),
            p.say.length(heights.bottom_m + p.box_m.1 / 2.0)
        )
    });
    format!("{}: {size}, fixed to the left stud; {}.{heights}", p.name, way(p.leaves))
}
