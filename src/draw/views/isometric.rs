//! The isometric: axes at 30 degrees, seen from the south-east and above.
//!
//! East runs down to the right, north up to the right, up is up; lengths along the axes are to scale.
//! A leg along no axis is shown with the planes it is projected on, hatched thinly, so that a rolled
//! offset can be read.
use super::draft::{About, Attempt, Draft, Manner, projected, search};
use super::ends::Eye;
use super::projection::{nearness, on_axes};
use super::surroundings::{power_unit, surroundings};
use super::{Shown, View};
use crate::draw::hand::geo::{V2, hatch, v2};
use crate::draw::hand::scene::{Fill, Mark, Pen, Scene};
use crate::draw::hand::words::leg_words;
use crate::draw::placer::dimension::{FIRST_MM, Measure, dimension};
use crate::draw::placer::what::What;
use crate::draw::subject::LinePicture;
use glam::DVec3;

/// Kept free all round the line, mm.
const MARGIN_MM: f64 = 12.0;
/// A direction within this of an axis lies along it.
const ALONG: f64 = 0.999_9;

const MANNER: Manner = Manner { swell: 1.224_744_871_391_589, tells_all: false, unrolled: false };

/// The entry of the list of views.
pub static VIEW: View =
    View { name: "isometric", title: "Isometric", about: "On three axes", shown: Shown::Line(isometric) };

/// Draws the isometric.
pub fn isometric(picture: &LinePicture) -> Scene {
    search(|attempt| draw(picture, attempt))
}

/// One try.
fn draw<'a>(p: &'a LinePicture<'a>, attempt: &Attempt) -> Draft<'a> {
    let placed = projected(p, attempt, on_axes, MARGIN_MM);
    let (scale, shift) = (placed.scale, placed.shift);
    let at = move |point: DVec3| on_axes(point) * scale.mm_per_m() + shift;
    let mut draft = Draft::new(p, MANNER, placed.drawn, scale, attempt);
    let depths: Vec<(f64, f64)> =
        p.line.legs.iter().map(|leg| (nearness(leg.from), nearness(leg.to))).collect();
    draft.find_under(&depths);
    planes(&mut draft, at);
    let mut names = surroundings(&mut draft, at);
    draft.draw_line();
    let eye = Eye { project: &|way, _| on_axes(way), nearer: &|_| DVec3::new(1.0, -1.0, 1.0) };
    let named = draft.draw_fittings(&eye);
    names.extend(power_unit(&mut draft, at));
    dimensions(&mut draft);
    draft.name_ends(&named, v2(0.3, -0.8));
    draft.flags();
    draft.branch_flags(&named.branches);
    if draft.lost() {
        return draft;
    }
    draft.balloons();
    draft.member_marks();
    draft.hose_words_short();
    draft.light_names(names);
    draft.north_arrow(on_axes(DVec3::Y));
    draft
}

/// Whether a heading lies along an axis.
fn on_axis(heading: DVec3) -> bool {
    heading.abs().max_element() > ALONG
}

/// The planes a skew leg is projected on: its shadow on the level of its start, and the upright plane
/// over the shadow.
fn planes(draft: &mut Draft, at: impl Fn(DVec3) -> V2) {
    for (i, leg) in draft.p.line.legs.iter().enumerate() {
        if on_axis(leg.heading) {
            continue;
        }
        let (from, to) = (leg.from, leg.to);
        let foot = DVec3::new(to.x, to.y, from.z);
        let corner = DVec3::new(to.x, from.y, from.z);
        let flat_skew = (to.x - from.x).abs() > 1e-3 && (to.y - from.y).abs() > 1e-3;
        let upright = (to.z - from.z).abs() > 1e-3;
        let mut mark =
            Mark::new("plane", format!("planes of leg {}", i + 1)).with("mark", format!("leg {}", i + 1));
        if flat_skew {
            triangle(draft, &mut mark, [at(from), at(corner), at(foot)], true);
        }
        if upright {
            triangle(draft, &mut mark, [at(from), at(foot), at(to)], false);
        }
        draft.marks.push(mark);
    }
}

/// A thinly hatched triangle.
fn triangle(draft: &mut Draft, mark: &mut Mark, corners: [V2; 3], rising: bool) {
    mark.polygon(&corners, Pen::Thin, Fill::None);
    let pitch = 2.0;
    for (a, b) in hatch(&corners, pitch, rising) {
        mark.line(a, b, Pen::Dotted);
        draft.board.take_line(a, b, 0.1, What::Light);
    }
    for (i, a) in corners.iter().enumerate() {
        draft.board.take_line(*a, corners[(i + 1) % 3], 0.15, What::Object);
    }
}

/// Dimensions, their extension lines along the axes.
fn dimensions(draft: &mut Draft) {
    for i in 0..draft.drawn.legs.len() {
        let (leg, line) = (&draft.p.line.legs[i], draft.drawn.legs[i].clone());
        let words = draft.p.say.length(leg.length_m);
        let along = line.along();
        let axes = [DVec3::Z, DVec3::X, DVec3::Y].map(|axis| on_axes(axis).normalize());
        // Not along an axis that the leg itself nearly covers on paper.
        let sides: Vec<V2> = axes
            .into_iter()
            .filter(|axis| axis.perp_dot(along).abs() > 0.4)
            .flat_map(|axis| [-axis, axis])
            .collect();
        let mut mark = Mark::new("dimension", leg_words(leg, &draft.p.say))
            .with("mark", format!("leg {}", i + 1))
            .figure("station-m", leg.station_m)
            .figure("length-m", leg.length_m);
        let measure = Measure {
            from: line.from,
            to: line.to,
            words: &words,
            sides: &sides,
            first_mm: FIRST_MM - 4.0,
            row_mm: None,
        };
        match dimension(&mut draft.board, &mut mark, &measure) {
            Some(_) => draft.marks.push(mark),
            None => draft.note(About::Leg, mark, format!("leg {}: {words}", i + 1)),
        }
    }
}
