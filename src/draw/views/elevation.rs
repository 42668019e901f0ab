//! The elevation: the vertical section unrolled along the route.
//!
//! Across the paper runs the plan length along the route, so that no leg is foreshortened; up the
//! paper the height. Vertical bends show their arcs, plan bends a tick with a flag.
use super::centreline::Drawn;
use super::draft::{About, Attempt, Draft, Manner, frame, search};
use super::ends::{Eye, Named};
use super::tube::pieces;
use super::{Shown, View};
use crate::company::Level;
use crate::draw::hand::font;
use crate::draw::hand::geo::{V2, v2};
use crate::draw::hand::scale::Scale;
use crate::draw::hand::scene::{Mark, Pen, Scene};
use crate::draw::hand::words::leg_words;
use crate::draw::placer::candidate::Upright;
use crate::draw::placer::dimension::{FIRST_MM, Measure, dimension};
use crate::draw::placer::labels::{Label, place_label};
use crate::draw::placer::what::What;
use crate::draw::subject::LinePicture;
use crate::route::{Leg, Spot};
use glam::DVec3;

/// Kept free left and right of the line for dimensions and the stop, mm.
const LEFT_MM: f64 = 17.0;
const RIGHT_MM: f64 = 14.0;
/// Kept free over and under the line, mm.
const OVER_MM: f64 = 20.0;
const UNDER_MM: f64 = 18.0;
/// A tall line gets so much of height, even where the area is lower, before its scale is cut down, mm.
const LEAST_HIGH_MM: f64 = 32.0;
/// Below this scale nothing small can be told apart; long runs are broken before it is passed.
const COARSEST: u32 = 100;
/// The shortest a broken run is drawn, and the gap at the break, mm.
const BROKEN_MM: f64 = 38.0;
const BREAK_MM: f64 = 3.0;

/// A level's name costs less than this only near the ends of its line.
const AT_THE_ENDS: f64 = 4.6;

const MANNER: Manner = Manner { swell: 1.0, tells_all: true, unrolled: true };

/// The entry of the list of views.
pub static VIEW: View = View {
    name: "elevation",
    title: "Elevation",
    about: "Unrolled along the line, height over station",
    shown: Shown::Line(elevation),
};

/// Draws the elevation.
pub fn elevation(picture: &LinePicture) -> Scene {
    search(|attempt| draw(picture, attempt))
}

/// One try.
fn draw<'a>(p: &'a LinePicture<'a>, attempt: &Attempt) -> Draft<'a> {
    let frame = frame(p, attempt);
    let size = unrolled_size(p);
    let room = v2(
        (frame.max.x - frame.min.x - LEFT_MM - RIGHT_MM).max(20.0),
        (frame.max.y - frame.min.y - OVER_MM - UNDER_MM).max(LEAST_HIGH_MM),
    );
    let (scale, lengths, cuts) = fit(p, size, room, attempt.smaller);
    let drawn = unroll(p, &lengths, &cuts);
    let drawn = centred(drawn, p, &lengths, &cuts, (frame.min, frame.max));
    let mut draft = Draft::new(p, MANNER, drawn, scale, attempt);
    levels(&mut draft);
    draft.draw_line();
    breaks(&mut draft);
    let named = fittings(&mut draft);
    dimensions(&mut draft);
    draft.name_ends(&named, v2(1.0, -0.4));
    let unnamed = level_names(&mut draft, p.levels.iter().collect(), AT_THE_ENDS);
    let left = draft.cut_lengths_beside();
    // A crew saws and bores by these, so they come before all that is told in a table as well.
    draft.cut_lengths_led(left);
    draft.balloons();
    draft.members();
    draft.hose_words();
    if draft.lost() {
        return draft;
    }
    draft.flags();
    draft.branch_flags(&named.branches);
    if draft.lost() {
        return draft;
    }
    for level in level_names(&mut draft, unnamed, f64::MAX) {
        let words = level_words(&draft, level);
        draft.note(About::Level, Mark::new("level-name", words.clone()), format!("level {words}"));
    }
    draft.joint_words();
    draw_levels(&mut draft);
    draft
}

/// Fittings as the unrolled line shows them: sideways is toward the eye, which stands on the right of the way.
fn fittings(draft: &mut Draft) -> Named {
    let legs = &draft.p.line.legs;
    let flat =
        |leg: usize| legs.get(leg).map_or(DVec3::ZERO, |leg| leg.heading.with_z(0.0).normalize_or_zero());
    let project = |way: DVec3, leg: usize| v2(way.dot(flat(leg)), -way.z);
    let nearer = |leg: usize| flat(leg).cross(DVec3::Z);
    draft.draw_fittings(&Eye { project: &project, nearer: &nearer })
}

/// Plan length and rise of a leg.
fn legs_flat(leg: &Leg) -> V2 {
    v2(leg.heading.truncate().length() * leg.length_m, -leg.heading.z * leg.length_m)
}

/// Width and height of the unrolled line, metres.
fn unrolled_size(p: &LinePicture) -> V2 {
    let (mut at, mut lo, mut hi) = (V2::ZERO, V2::ZERO, V2::ZERO);
    for leg in &p.line.legs {
        at += legs_flat(leg);
        (lo, hi) = (lo.min(at), hi.max(at));
    }
    hi - lo
}

type Cuts = Vec<Option<(f64, f64, f64)>>;

/// The scale, the drawn length of each leg, and what is left out of it.
fn fit(p: &LinePicture, size: V2, room: V2, smaller: usize) -> (Scale, Vec<f64>, Cuts) {
    let all = Scale::preferred(&p.say);
    let whole = (Scale::fitting(&p.say, size, room) + smaller).min(all.len() - 1);
    let lengths =
        |scale: &Scale| p.line.legs.iter().map(|leg| leg.length_m * scale.mm_per_m()).collect::<Vec<f64>>();
    let scale = all[whole];
    if scale.ratio > COARSEST && smaller == 0 {
        let coarse = all.iter().rposition(|s| s.ratio <= COARSEST).unwrap_or(0);
        if let Some((lengths, cuts)) = broken(p, &all[coarse], size, room) {
            return (all[coarse], lengths, cuts);
        }
    }
    (scale, lengths(&scale), vec![None; p.line.legs.len()])
}

/// Breaks the longest level runs until the line fits; `None` when that does not do.
fn broken(p: &LinePicture, scale: &Scale, size: V2, room: V2) -> Option<(Vec<f64>, Cuts)> {
    let per_m = scale.mm_per_m();
    if size.y * per_m > room.y {
        return None;
    }
    let legs = &p.line.legs;
    let mut lengths: Vec<f64> = legs.iter().map(|leg| leg.length_m * per_m).collect();
    let mut cuts: Cuts = vec![None; legs.len()];
    let mut excess = size.x * per_m - room.x;
    let mut order: Vec<usize> = (0..legs.len()).filter(|i| legs[*i].heading.z.abs() < 1e-6).collect();
    order.sort_by(|a, b| legs[*b].length_m.total_cmp(&legs[*a].length_m));
    for i in order {
        if excess <= 0.0 {
            break;
        }
        let (a, b) = quiet(p, i)?;
        let spare = ((b - a) * per_m - BREAK_MM).min(lengths[i] - BROKEN_MM).min(excess);
        if spare < 4.0 {
            continue;
        }
        let left_out_m = (spare + BREAK_MM) / per_m;
        let from_m = (a + b - left_out_m) / 2.0;
        cuts[i] = Some((from_m, from_m + left_out_m, BREAK_MM));
        lengths[i] -= spare;
        excess -= spare;
    }
    (excess <= 0.0).then_some((lengths, cuts))
}

/// The longest stretch of a leg at which nothing is marked.
fn quiet(p: &LinePicture, index: usize) -> Option<(f64, f64)> {
    let leg = &p.line.legs[index];
    let clear =
        |n: Option<usize>| n.and_then(|n| p.line.bends.get(n)).map_or(0.1, |b| b.laying_length_m + 0.1);
    let mut marks = vec![clear(index.checked_sub(1)), leg.length_m - clear(Some(index))];
    marks.extend(p.crossings.iter().filter(|c| c.leg == index).map(|c| c.at_m));
    // Joints of a long run may go with it; the stop, branches, ends of the hose and findings may not.
    let on_leg = |station_m: f64| {
        let along = station_m - leg.station_m;
        (along > 0.0 && along < leg.length_m).then_some(along)
    };
    marks.extend(p.branches.iter().filter_map(|branch| on_leg(branch.station_m)));
    marks.extend(p.line.raceway.iter().filter_map(|raceway| on_leg(raceway.stop_m)));
    marks.extend(p.balloons.iter().filter_map(|balloon| match balloon.spot {
        Spot::Station(station_m) => on_leg(station_m),
        Spot::Leg(leg) if leg == index => Some(p.line.legs[index].length_m / 2.0),
        _ => None,
    }));
    let given: f64 = p.line.bends.iter().take(index).map(|b| 2.0 * b.tangent_m - b.arc_m).sum();
    marks
        .extend(p.hose.iter().flat_map(|h| [h.new_m, h.grown_m]).filter_map(|path_m| on_leg(path_m + given)));
    marks.sort_by(f64::total_cmp);
    let widest = marks.windows(2).max_by(|a, b| (a[1] - a[0]).total_cmp(&(b[1] - b[0])))?;
    // So much of the run stays drawn on each side of the break.
    let (a, b) = (widest[0] + 0.35, widest[1] - 0.35);
    (b > a).then_some((a, b))
}

/// The line unrolled from the origin.
fn unroll(p: &LinePicture, lengths: &[f64], cuts: &Cuts) -> Drawn {
    unrolled_from(p, lengths, cuts, V2::ZERO)
}

fn unrolled_from(p: &LinePicture, lengths: &[f64], cuts: &Cuts, start: V2) -> Drawn {
    let mut work = vec![start];
    for (leg, mm) in p.line.legs.iter().zip(lengths) {
        let way = legs_flat(leg).normalize_or_zero();
        work.push(work[work.len() - 1] + way * *mm);
    }
    let pitch = |leg: &Leg| leg.heading.z.atan2(leg.heading.truncate().length());
    let angles: Vec<f64> = p.line.legs.windows(2).map(|pair| pitch(&pair[1]) - pitch(&pair[0])).collect();
    Drawn::new(&p.line, &work, &angles, cuts)
}

/// The same line in the middle of the frame.
fn centred(drawn: Drawn, p: &LinePicture, lengths: &[f64], cuts: &Cuts, frame: (V2, V2)) -> Drawn {
    let (lo, hi) = drawn.bounds();
    let spare = frame.1 - frame.0 - (hi - lo);
    let over = ((spare.y - OVER_MM - UNDER_MM) / 2.0).max(0.0) + OVER_MM;
    let left = ((spare.x - LEFT_MM - RIGHT_MM) / 2.0).max(0.0) + LEFT_MM.min(spare.x * 0.55);
    unrolled_from(p, lengths, cuts, frame.0 + v2(left, over.min(spare.y.max(0.0))) - lo)
}

/// Height on paper of a height in the job.
fn paper_y(draft: &Draft, up_m: f64) -> Option<f64> {
    let y = draft.drawn.legs.first()?.from.y - (up_m - draft.p.line.start.z) * draft.scale.mm_per_m();
    let (lo, hi) = draft.drawn.bounds();
    // A level far from the line would stand in the way of its labels.
    let near = y > lo.y - 16.0 && y < hi.y + 9.0;
    (near && y > draft.board.frame.min.y + 6.0 && y < draft.board.frame.max.y - 1.0).then_some(y)
}

/// Room for levels, as chain lines across the paper.
fn levels(draft: &mut Draft) {
    for level in draft.p.levels {
        let Some((a, b)) = level_line(draft, level) else {
            continue;
        };
        draft.board.take_line(a, b, 0.15, What::Level);
    }
}

/// The ends of a level's line.
fn level_line(draft: &Draft, level: &Level) -> Option<(V2, V2)> {
    let y = paper_y(draft, level.up_m)?;
    Some((v2(draft.board.frame.min.x + 1.0, y), v2(draft.board.frame.max.x - 1.0, y)))
}

/// The level lines, when all words have their places: interrupted where words lie on them.
fn draw_levels(draft: &mut Draft) {
    let mut drawn = Vec::new();
    for level in draft.p.levels {
        let Some((a, b)) = level_line(draft, level) else {
            continue;
        };
        let mut mark = Mark::new("level", level.name.clone()).figure("height-m", level.up_m);
        mark.lines(&draft.board.clear_of_words(a, b), Pen::Chain);
        drawn.push(mark);
    }
    draft.marks.splice(0..0, drawn);
}

/// Their names, for less than `limit`; answers those that found no room.
fn level_names<'p>(draft: &mut Draft<'p>, levels: Vec<&'p Level>, limit: f64) -> Vec<&'p Level> {
    let mut left = Vec::new();
    for level in levels {
        let Some(y) = paper_y(draft, level.up_m) else {
            continue;
        };
        let whole = level_words(draft, level);
        let mut mark = Mark::new("level-name", whole.clone()).figure("height-m", level.up_m);
        let (full, bare) = (Label::words(whole.clone()), Label::words(level.name.clone()));
        let (far, near) = (level_places(draft, y, full.size()), level_places(draft, y, bare.size()));
        if place_label(&mut draft.board, &mut mark, &full, (far, []), limit) {
            draft.marks.push(mark);
        } else if place_label(&mut draft.board, &mut mark, &bare, (near, []), limit) {
            draft.marks.push(mark);
            draft.key(About::Level, whole);
        } else {
            left.push(level);
        }
    }
    left
}

/// `First floor 0`.
fn level_words(draft: &Draft, level: &Level) -> String {
    let height = if level.up_m.abs() < 1e-4 { "0".into() } else { draft.p.say.length(level.up_m) };
    format!("{} {height}", level.name)
}

/// Over the line or under it, from its right end to its left.
fn level_places(draft: &Draft, y: f64, size: V2) -> impl Iterator<Item = Upright> + use<> {
    let left = draft.board.frame.min.x + 1.4 + size.x / 2.0;
    let right = draft.board.frame.max.x - 1.4 - size.x / 2.0;
    (0..=40).flat_map(move |k| {
        let x = right + (left - right) * f64::from(k) / 40.0;
        [-1.0, 1.0].map(move |side| {
            let middle = v2(x, y + side * (size.y / 2.0 + 0.6));
            // Either end is better than the middle.
            let inward = f64::from(k.min(43 - k)) * 0.3;
            Upright::about(middle, size, inward + if side > 0.0 { 1.5 } else { 0.0 })
        })
    })
}

/// A zigzag at each break, so that nobody measures across it.
fn breaks(draft: &mut Draft) {
    for i in 0..draft.drawn.legs.len() {
        let line = &draft.drawn.legs[i];
        let Some((a, b, _)) = line.cut else { continue };
        let along = line.along();
        let (from, to) = (line.at(a), line.at(b));
        let mut mark = Mark::new("break", "part of this run is left out")
            .figure("left-out-m", b - a)
            .figure("station-m", line.station_m + a);
        let reach = along.perp() * (draft.band_half() + 1.6);
        for at in [from, to] {
            let bend = along * 0.8 + reach * 0.25;
            mark.lines(
                &[(at - reach, at - bend), (at - bend, at + bend), (at + bend, at + reach)],
                Pen::Thin,
            );
            draft.board.take_line(at - reach, at + reach, 0.9, What::Object);
        }
        draft.marks.push(mark);
    }
}

/// From tube to dimensions: one row of cut lengths, or two where a piece is shorter than its words.
fn rows_below(draft: &Draft) -> f64 {
    let short = pieces(draft).iter().any(|placed| {
        let words = placed.words(&draft.p.say);
        let line = &draft.drawn.legs[placed.leg];
        font::width(&words, font::SIZE_MM, false) > line.at(placed.from_m).distance(line.at(placed.to_m))
    });
    FIRST_MM + if short { 4.4 } else { 0.0 }
}

/// One dimension for each leg: level legs in a chain below, risers at their sides.
fn dimensions(draft: &mut Draft) {
    let first_mm = rows_below(draft);
    let mut row: Option<(f64, f64)> = None;
    for i in 0..draft.drawn.legs.len() {
        let leg = &draft.p.line.legs[i];
        let line = draft.drawn.legs[i].clone();
        let words = draft.p.say.length(leg.length_m);
        let along = line.along();
        let normal = if along.x.abs() < 1e-6 { v2(-1.0, 0.0) } else { v2(-along.y, along.x) };
        let level = along.y.abs() < 1e-6;
        let last = i + 1 == draft.drawn.legs.len();
        let sides = if level || !last { [normal, -normal] } else { [-normal, normal] };
        // A level leg keeps to the row of the level leg before it.
        let row_mm = row.filter(|_| level).map(|(y, _)| y - line.from.y).filter(|o| *o > 4.0);
        let mut mark = Mark::new("dimension", leg_words(leg, &draft.p.say))
            .with("mark", format!("leg {}", i + 1))
            .figure("station-m", leg.station_m)
            .figure("length-m", leg.length_m);
        let measure =
            Measure { from: line.from, to: line.to, words: &words, sides: &sides, first_mm, row_mm };
        match dimension(&mut draft.board, &mut mark, &measure) {
            Some(offset) => {
                if level && offset > 0.0 {
                    row = Some((line.from.y + offset, offset));
                }
                draft.marks.push(mark);
            }
            None => draft.note(About::Leg, mark, format!("leg {}: {words}", i + 1)),
        }
    }
}
