//! Fewer degrees: a leg laid on the diagonal, the stop set before the last bends, the firm's own sweeps.
use super::Case;
use super::room::{same, with_raceway};
use crate::company::{Run, Step};
use crate::measure::FOOT_M;
use crate::remedy::change::{Change, OTHER_FITTING, OTHER_HOSE};
use crate::remedy::shape::Shape;

/// Rolls and angles nearer than this are equal, degrees.
const SAME_DEG: f64 = 1e-6;

/// For every offset (a turn, a leg, and the same turn back): the leg laid on the diagonal at each lesser stocked angle, the
/// legs before and after giving up what the slope runs along, so that the end stays.
pub fn skew_legs(case: &Case) -> Vec<Change> {
    offsets(case, |own, stocked| stocked < own - SAME_DEG)
}

/// The same for an offset of an angle that is not stocked, at every angle that is.
pub fn stocked_offsets(case: &Case) -> Vec<Change> {
    offsets(case, |own, stocked| (own - stocked).abs() > SAME_DEG)
}

fn offsets(case: &Case, want: impl Fn(f64, f64) -> bool) -> Vec<Change> {
    let bends = &case.raceway.bends;
    let mut changes = Vec::new();
    for pair in bends.windows(2) {
        let [first, second] = pair else { continue };
        let back = second.roll_deg.is_some_and(|roll| (roll.abs() - 180.0).abs() < 1e-4);
        if !back
            || (first.angle_deg - second.angle_deg).abs() > SAME_DEG
            || !same(first.heading_in, second.heading_out)
        {
            continue;
        }
        for angle_deg in stocked_angles(case).into_iter().filter(|angle| want(first.angle_deg, *angle)) {
            changes.extend(reshaped(case, first.n - 1, angle_deg));
        }
    }
    changes
}

/// The offset at bends `k` and `k + 1` (from 0) made at another angle.
fn reshaped(case: &Case, k: usize, angle_deg: f64) -> Option<Change> {
    let old = case.raceway.bends.get(k)?;
    let leg_m = case.raceway.legs.get(k + 1)?.length_m;
    let (sin_old, cos_old) = old.angle_deg.to_radians().sin_cos();
    let (sin, cos) = angle_deg.to_radians().sin_cos();
    let across_m = leg_m * sin_old;
    let travel_m = across_m / sin;
    // What the slope covers along the line more than before is given up by the legs on both sides.
    let along_m = travel_m * cos - leg_m * cos_old;
    let shape = case.before();
    if shape.legs[k + 1].iter().any(|run: &Run| !run.crossings.is_empty()) {
        return None;
    }
    let before_m = shape.length_m(k);
    let after_m = shape.length_m(k + 2);
    let from_before = if before_m + after_m > 0.0 { along_m * before_m / (before_m + after_m) } else { 0.0 };
    let mut changed = shape
        .stretch(k, -from_before)?
        .stretch(k + 2, from_before - along_m)?
        .stretch(k + 1, travel_m - leg_m)?;
    for turn in &mut changed.turns[k..k + 2] {
        turn.angle_deg = angle_deg;
        turn.with = None;
    }
    let words = format!(
        "turn B{} and B{} by {} in place of {}: R{} on the diagonal; make R{} = {}; R{} = {}; R{} = {}; the end stays where it is",
        k + 1,
        k + 2,
        case.say.angle(angle_deg),
        case.say.angle(old.angle_deg),
        k + 2,
        k + 2,
        case.say.length(travel_m),
        k + 1,
        case.say.length(changed.length_m(k)),
        k + 3,
        case.say.length(changed.length_m(k + 2)),
    );
    Some(with_raceway(case, &changed, words, along_m.abs()))
}

/// The stop set before the last bend, the last two, or the last three: what follows the stop does not count.
/// Each also with every shorter hose, for the raceway gets shorter too.
pub fn earlier_stops(case: &Case) -> Vec<Change> {
    if case.spec.into.is_none() {
        return Vec::new();
    }
    let shape = case.before();
    let mut changes = Vec::new();
    for back in 1..=shape.turns.len().min(3) {
        let Some((kept, rest)) = stop_before(&shape, shape.turns.len() - back) else {
            continue;
        };
        let after = rest.into_iter().chain(case.spec.at_stop().1.iter().cloned()).collect();
        let line = case.spec.with_steps(kept.steps(), after);
        let inlet = case.inlet.clone();
        let size = shape.length_m(shape.legs.len() - 1);
        let words = format!(
            "end the raceway before B{}: set the stop 1 ft before its work point, for bends after the stop do not count",
            shape.turns.len() - back + 1
        );
        let words = words.replace("1 ft", &case.say.length(STOP_BEFORE_M));
        for hose in case.catalog.hoses.iter().filter(|hose| hose.length_m < inlet.hose.length_m) {
            let mut shorter = inlet.clone();
            shorter.hose = hose.clone();
            let words = format!("{words}; and use a {} hose ({})", case.say.length(hose.length_m), hose.id);
            changes.push(Change {
                inlet: shorter,
                line: line.clone(),
                words,
                size: size + OTHER_HOSE + inlet.hose.length_m - hose.length_m,
            });
        }
        changes.push(Change { inlet, line, words, size });
    }
    changes
}

/// The stop and the next bend's socket must both have room: a foot between stop and work point.
const STOP_BEFORE_M: f64 = FOOT_M;

fn stop_before(shape: &Shape, turn: usize) -> Option<(Shape, Vec<Step>)> {
    let (kept, mut rest) = shape.cut_before(turn);
    let kept = kept.stretch(turn, -STOP_BEFORE_M)?;
    rest.insert(0, Step::Run(crate::remedy::shape::run(STOP_BEFORE_M, crate::text::Place::default())));
    Some((kept, rest))
}

/// The catalog's own raceway bends in place of fittings that the job names.
pub fn own_sweeps(case: &Case) -> Vec<Change> {
    let mut shape = case.before();
    let mut named = Vec::new();
    for n in &case.finding.bends {
        let Some(turn) = n.checked_sub(1).and_then(|i| shape.turns.get_mut(i)) else {
            continue;
        };
        if turn.with.is_some() && case.catalog.bend(turn.angle_deg).is_some() {
            turn.with = None;
            named.push(format!("B{n}"));
        }
    }
    if named.is_empty() {
        return Vec::new();
    }
    let words = format!("fit the raceway sweep at {}", named.join(", "));
    vec![with_raceway(case, &shape, words, OTHER_FITTING)]
}

fn stocked_angles(case: &Case) -> Vec<f64> {
    let bends = case.catalog.fittings.iter().filter(|fitting| fitting.purpose.suits_raceway());
    let mut angles: Vec<f64> = bends
        .filter_map(|fitting| Some(fitting.bend()?.angle_deg))
        .filter(|a| *a < 90.0 + SAME_DEG)
        .collect();
    angles.sort_by(f64::total_cmp);
    angles.dedup_by(|a, b| (*a - *b).abs() < SAME_DEG);
    angles
}
