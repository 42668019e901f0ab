//! The plan: seen from above, north up.
use super::around::round;
use super::dimension::{FIRST_MM, Measure, dimension};
use super::geo::{Quad, V2, clipped, v2};
use super::labels::{Label, place_label};
use super::place::What;
use super::scene::{Mark, Pen, Scene};
use super::subject::RacewayPicture;
use super::symbols::{riser, unit};
use super::view::{About, Attempt, Kind, View, projected, search};
use super::words::leg_words;
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

/// Job to paper: east to the right, north up.
fn seen(point: DVec3) -> V2 {
    v2(point.x, -point.y)
}

/// One try.
fn draw<'a>(p: &'a RacewayPicture<'a>, attempt: &Attempt) -> View<'a> {
    let placed = projected(p, attempt, seen, MARGIN_MM);
    let (scale, shift) = (placed.scale, placed.shift);
    let mut view = View::new(p, Kind::Plan, placed.drawn, scale, attempt);
    let depths: Vec<(f64, f64)> = p.route.legs.iter().map(|leg| (leg.from.z, leg.to.z)).collect();
    view.find_under(&depths);
    let at = move |point: DVec3| seen(point) * scale.mm_per_m() + shift;
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

/// Trunk and onward path in light line, as far as the frame shows them; answers names to write.
pub fn surroundings(view: &mut View, at: impl Fn(DVec3) -> V2) -> Vec<(String, V2)> {
    let Some(around) = &view.p.surroundings else {
        return Vec::new();
    };
    let frame = view.board.frame.grown(-1.0, -1.0);
    let mut names = Vec::new();
    let onward = (String::new(), around.onward.clone());
    for (name, points) in around.trunks.iter().chain([&onward]) {
        let seen: Vec<(V2, V2)> =
            points.windows(2).filter_map(|pair| clipped(at(pair[0]), at(pair[1]), &frame)).collect();
        if let (Some((a, b)), false) = (seen.first(), name.is_empty()) {
            names.push((name.clone(), (*a + *b) / 2.0));
        }
        let title = if name.is_empty() { "onward from the stop".into() } else { format!("trunk {name}") };
        let mut mark = Mark::new("trunk", title);
        mark.lines(&seen, if name.is_empty() { Pen::Dashed } else { Pen::Thin });
        seen.iter().for_each(|(a, b)| view.board.take_line(*a, *b, 0.15, What::Object));
        if !seen.is_empty() {
            view.marks.push(mark);
        }
    }
    names
}

/// The unit, when it lies in the frame and clear of the line; answers its name to write.
pub fn power_unit(view: &mut View, at: impl Fn(DVec3) -> V2) -> Option<(String, V2)> {
    let point = view.p.surroundings.as_ref()?.unit.map(at)?;
    let place = Quad::about(point, v2(5.0, 5.0));
    if !place.inside(&view.board.frame.grown(-1.0, -1.0)) || !view.board.is_free(&place.grown(-1.0, -1.0)) {
        return None;
    }
    let mut mark = Mark::new("unit", "power unit");
    unit(&mut mark, point);
    view.board.take(place, What::Object);
    view.marks.push(mark);
    Some(("unit".into(), point))
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

/// Dimensions of the legs that are seen; a leg that is not level says how it goes, for it is longer
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
