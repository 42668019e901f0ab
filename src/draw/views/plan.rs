//! The plan: from_above from above, north up.
use super::draft::{About, Attempt, Draft, Manner, projected, search};
use super::ends::Eye;
use super::projection::from_above;
use super::surroundings::{power_unit, surroundings};
use super::{Shown, View};
use crate::draw::hand::geo::{Quad, V2, v2};
use crate::draw::hand::scene::{Mark, Scene};
use crate::draw::hand::symbols::riser;
use crate::draw::hand::words::leg_words;
use crate::draw::placer::around::round;
use crate::draw::placer::dimension::{FIRST_MM, Measure, dimension};
use crate::draw::placer::labels::{Label, place_label};
use crate::draw::placer::what::What;
use crate::draw::subject::LinePicture;
use crate::measure::heading_words;
use glam::DVec3;

/// Kept free all round the line, mm.
const MARGIN_MM: f64 = 12.0;
/// A leg shorter than this on paper is a point, mm.
const POINT_MM: f64 = 0.8;

const MANNER: Manner = Manner { swell: 1.0, tells_all: false, unrolled: false };

/// The entry of the list of views.
pub static VIEW: View =
    View { name: "plan", title: "Plan", about: "From above, north up", shown: Shown::Line(plan) };

/// Draws the plan.
pub fn plan(picture: &LinePicture) -> Scene {
    search(|attempt| draw(picture, attempt))
}

/// One try.
fn draw<'a>(p: &'a LinePicture<'a>, attempt: &Attempt) -> Draft<'a> {
    let placed = projected(p, attempt, from_above, MARGIN_MM);
    let (scale, shift) = (placed.scale, placed.shift);
    let mut draft = Draft::new(p, MANNER, placed.drawn, scale, attempt);
    let depths: Vec<(f64, f64)> = p.line.legs.iter().map(|leg| (leg.from.z, leg.to.z)).collect();
    draft.find_under(&depths);
    let at = move |point: DVec3| from_above(point) * scale.mm_per_m() + shift;
    let mut names = surroundings(&mut draft, at);
    draft.draw_line();
    let eye = Eye { project: &|way, _| from_above(way), nearer: &|_| DVec3::Z };
    let named = draft.draw_fittings(&eye);
    let risers = risers(&mut draft);
    names.extend(power_unit(&mut draft, at));
    dimensions(&mut draft);
    riser_words(&mut draft, risers);
    draft.name_ends(&named, v2(0.6, -0.6));
    draft.flags();
    draft.branch_flags(&named.branches);
    if draft.lost() {
        return draft;
    }
    draft.balloons();
    draft.member_marks();
    draft.hose_words_short();
    draft.light_names(names);
    draft.north_arrow(v2(0.0, -1.0));
    draft
}

/// A circle for every run of legs that is a point from above; answers them with their legs.
fn risers(draft: &mut Draft) -> Vec<(V2, Vec<usize>)> {
    let mut found: Vec<(V2, Vec<usize>)> = Vec::new();
    for (i, line) in draft.drawn.legs.iter().enumerate() {
        if line.drawn_mm() > POINT_MM {
            continue;
        }
        match found.last_mut() {
            Some((at, legs)) if at.distance(line.from) < POINT_MM => legs.push(i),
            _ => found.push((line.from, vec![i])),
        }
    }
    for (at, legs) in &found {
        let leg = &draft.p.line.legs[legs[0]];
        let mut mark = Mark::new("riser", leg_words(leg, &draft.p.say))
            .figure("station-m", leg.station_m)
            .figure("height-m", leg.from.z)
            .figure("length-m", leg.length_m);
        riser(&mut mark, *at, leg.heading.z > 0.0);
        draft.board.take(Quad::about(*at, v2(3.8, 3.8)), What::Object);
        draft.marks.push(mark);
    }
    found
}

/// Dimensions of the legs that are from_above; a leg that is not level says how it goes, for it is longer
/// than it looks.
fn dimensions(draft: &mut Draft) {
    let middle = (draft.drawn.bounds().0 + draft.drawn.bounds().1) / 2.0;
    for i in 0..draft.drawn.legs.len() {
        let (leg, line) = (&draft.p.line.legs[i], draft.drawn.legs[i].clone());
        if line.drawn_mm() <= POINT_MM {
            continue;
        }
        let words = length_words(draft, i);
        let normal = line.along().perp();
        let outward = ((line.from + line.to) / 2.0 - middle).dot(normal) >= 0.0;
        let sides = if outward { [normal, -normal] } else { [-normal, normal] };
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

/// A length, with the slope where there is one.
fn length_words(draft: &Draft, index: usize) -> String {
    let leg = &draft.p.line.legs[index];
    let words = draft.p.say.length(leg.length_m);
    let pitch_deg = leg.heading.z.atan2(leg.heading.truncate().length()).to_degrees();
    if pitch_deg.abs() < 0.5 {
        return words;
    }
    let way = if pitch_deg > 0.0 { "up" } else { "down" };
    format!("{words}, {way} {}", draft.p.say.angle((pitch_deg.abs() * 10.0).round() / 10.0))
}

/// Length and way of the legs that are points.
fn riser_words(draft: &mut Draft, risers: Vec<(V2, Vec<usize>)>) {
    for (at, legs) in risers {
        for i in legs {
            let leg = &draft.p.line.legs[i];
            let words = format!("{} {}", heading_words(leg.heading), draft.p.say.length(leg.length_m));
            let mut mark = Mark::new("dimension", leg_words(leg, &draft.p.say))
                .with("mark", format!("leg {}", i + 1))
                .figure("station-m", leg.station_m)
                .figure("length-m", leg.length_m);
            let label = Label::words(words.clone());
            let places = ([], [round(at, label.size(), v2(-0.3, 0.3))]);
            if place_label(&mut draft.board, &mut mark, &label, places, f64::MAX) {
                draft.marks.push(mark);
            } else {
                draft.note(About::Leg, mark, format!("leg {}: {words}", i + 1));
            }
        }
    }
}
