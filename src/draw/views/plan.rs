//! The plan: from_above from above, north up.
use super::projection::from_above;
use super::surroundings::{power_unit, surroundings};
use super::view::{About, Attempt, Kind, View, projected, search};
use crate::draw::hand::geo::{Quad, V2, v2};
use crate::draw::hand::scene::{Mark, Scene};
use crate::draw::hand::symbols::riser;
use crate::draw::hand::words::leg_words;
use crate::draw::placer::around::round;
use crate::draw::placer::board::What;
use crate::draw::placer::dimension::{FIRST_MM, Measure, dimension};
use crate::draw::placer::labels::{Label, place_label};
use crate::draw::subject::RacewayPicture;
use crate::measure::heading_words;
use glam::DVec3;

/// Kept free all round the line, mm.
const MARGIN_MM: f64 = 12.0;
/// A leg shorter than this on paper is a point, mm.
const POINT_MM: f64 = 0.8;

/// Draws the plan.
pub fn plan(picture: &RacewayPicture) -> Scene {
    search(|attempt| draw(picture, attempt))
}

/// One try.
fn draw<'a>(p: &'a RacewayPicture<'a>, attempt: &Attempt) -> View<'a> {
    let placed = projected(p, attempt, from_above, MARGIN_MM);
    let (scale, shift) = (placed.scale, placed.shift);
    let mut view = View::new(p, Kind::Plan, placed.drawn, scale, attempt);
    let depths: Vec<(f64, f64)> = p.route.legs.iter().map(|leg| (leg.from.z, leg.to.z)).collect();
    view.find_under(&depths);
    let at = move |point: DVec3| from_above(point) * scale.mm_per_m() + shift;
    let mut names = surroundings(&mut view, at);
    view.draw_onward();
    view.draw_line();
    let valve = view.draw_valve();
    let stop = view.draw_stop();
    let risers = risers(&mut view);
    names.extend(power_unit(&mut view, at));
    dimensions(&mut view);
    riser_words(&mut view, risers);
    view.name("valve-name", &p.valve, valve, 3.2, v2(0.6, -0.6));
    view.name("stop-name", "STOP", stop, 2.6, v2(0.4, 1.0));
    view.flags();
    if view.lost() {
        return view;
    }
    view.balloons();
    view.member_marks();
    view.hose_words_short();
    view.light_names(names);
    view.north_arrow(v2(0.0, -1.0));
    view
}

/// A circle for every run of legs that is a point from above; answers them with their legs.
fn risers(view: &mut View) -> Vec<(V2, Vec<usize>)> {
    let mut found: Vec<(V2, Vec<usize>)> = Vec::new();
    for (i, line) in view.drawn.legs.iter().enumerate() {
        if line.drawn_mm() > POINT_MM {
            continue;
        }
        match found.last_mut() {
            Some((at, legs)) if at.distance(line.from) < POINT_MM => legs.push(i),
            _ => found.push((line.from, vec![i])),
        }
    }
    for (at, legs) in &found {
        let leg = &view.p.route.legs[legs[0]];
        let mut mark = Mark::new("riser", leg_words(leg, &view.p.say))
            .figure("station-m", leg.station_m)
            .figure("height-m", leg.from.z)
            .figure("length-m", leg.length_m);
        riser(&mut mark, *at, leg.heading.z > 0.0);
        view.board.take(Quad::about(*at, v2(3.8, 3.8)), What::Object);
        view.marks.push(mark);
    }
    found
}

/// Dimensions of the legs that are from_above; a leg that is not level says how it goes, for it is longer
/// than it looks.
fn dimensions(view: &mut View) {
    let middle = (view.drawn.bounds().0 + view.drawn.bounds().1) / 2.0;
    for i in 0..view.drawn.legs.len() {
        let (leg, line) = (&view.p.route.legs[i], view.drawn.legs[i].clone());
        if line.drawn_mm() <= POINT_MM {
            continue;
        }
        let words = length_words(view, i);
        let normal = line.along().perp();
        let outward = ((line.from + line.to) / 2.0 - middle).dot(normal) >= 0.0;
        let sides = if outward { [normal, -normal] } else { [-normal, normal] };
        let mut mark = Mark::new("dimension", leg_words(leg, &view.p.say))
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
        match dimension(&mut view.board, &mut mark, &measure) {
            Some(_) => view.marks.push(mark),
            None => view.note(About::Leg, mark, format!("leg {}: {words}", i + 1)),
        }
    }
}

/// A length, with the slope where there is one.
fn length_words(view: &View, index: usize) -> String {
    let leg = &view.p.route.legs[index];
    let words = view.p.say.length(leg.length_m);
    let pitch_deg = leg.heading.z.atan2(leg.heading.truncate().length()).to_degrees();
    if pitch_deg.abs() < 0.5 {
        return words;
    }
    let way = if pitch_deg > 0.0 { "up" } else { "down" };
    format!("{words}, {way} {}", view.p.say.angle((pitch_deg.abs() * 10.0).round() / 10.0))
}

/// Length and way of the legs that are points.
fn riser_words(view: &mut View, risers: Vec<(V2, Vec<usize>)>) {
    for (at, legs) in risers {
        for i in legs {
            let leg = &view.p.route.legs[i];
            let words = format!("{} {}", heading_words(leg.heading), view.p.say.length(leg.length_m));
            let mut mark = Mark::new("dimension", leg_words(leg, &view.p.say))
                .with("mark", format!("leg {}", i + 1))
                .figure("station-m", leg.station_m)
                .figure("length-m", leg.length_m);
            let label = Label::words(words.clone());
            let places = round(at, label.size(), v2(-0.3, 0.3));
            if place_label(&mut view.board, &mut mark, &label, places, f64::MAX) {
                view.marks.push(mark);
            } else {
                view.note(About::Leg, mark, format!("leg {}: {words}", i + 1));
            }
        }
    }
}
