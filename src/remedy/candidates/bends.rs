//! Fewer degrees: a leg laid on the diagonal, the stop set before the last bends, the firm's own sweeps.
use super::Case;
use super::room::same;
use crate::company::Run;
use crate::measure::FOOT_M;
use crate::remedy::change::{Change, OTHER_FITTING, OTHER_HOSE};
use crate::route::Bend;

/// Rolls and angles nearer than this are equal, degrees.
const SAME_DEG: f64 = 1e-6;

/// For every offset of the raceway (a turn, a leg, and the same turn back): the leg laid on the diagonal at each
/// lesser stocked angle, the legs before and after giving up what the slope runs along, so that the end stays.
/// Bends beyond the stop cost the hose nothing.
pub fn skew_legs(case: &Case) -> Vec<Change> {
    offsets(case, |first, stocked| case.line.in_raceway(first.n + 1) && stocked < first.angle_deg - SAME_DEG)
}

/// The same for an offset of an angle that is not stocked, wherever on the line, at every angle that is.
pub fn stocked_offsets(case: &Case) -> Vec<Change> {
    offsets(case, |first, stocked| (first.angle_deg - stocked).abs() > SAME_DEG)
}

fn offsets(case: &Case, want: impl Fn(&Bend, f64) -> bool) -> Vec<Change> {
    let mut changes = Vec::new();
    for pair in case.line.bends.windows(2) {
        let [first, second] = pair else { continue };
        let back = second.roll_deg.is_some_and(|roll| (roll.abs() - 180.0).abs() < 1e-4);
        if !back
            || (first.angle_deg - second.angle_deg).abs() > SAME_DEG
            || !same(first.heading_in, second.heading_out)
        {
            continue;
        }
        for angle_deg in stocked_angles(case).into_iter().filter(|angle| want(first, *angle)) {
            changes.extend(reshaped(case, first, angle_deg));
        }
    }
    changes
}

/// The offset at a bend and the next one made at another angle. `None` where the stop stands between them.
fn reshaped(case: &Case, first: &Bend, angle_deg: f64) -> Option<Change> {
    let shape = &case.shape;
    let k = shape.bend(first.n)?;
    if shape.bend(first.n + 1)? != k + 1
        || shape.straights[k + 1].iter().any(|run: &Run| !run.crossings.is_empty())
    {
        return None;
    }
    let leg_m = shape.length_m(k + 1);
    let (sin_old, cos_old) = first.angle_deg.to_radians().sin_cos();
    let (sin, cos) = angle_deg.to_radians().sin_cos();
    let across_m = leg_m * sin_old;
    let travel_m = across_m / sin;
    // What the slope covers along the line more than before is given up by the legs on both sides.
    let along_m = travel_m * cos - leg_m * cos_old;
    let (before_m, after_m) = (shape.length_m(k), shape.length_m(k + 2));
    let from_before = if before_m + after_m > 0.0 { along_m * before_m / (before_m + after_m) } else { 0.0 };
    let mut changed = shape
        .stretch(k, -from_before)?
        .stretch(k + 2, from_before - along_m)?
        .stretch(k + 1, travel_m - leg_m)?;
    for joint in [k, k + 1] {
        let turn = changed.turn_mut(joint)?;
        turn.angle_deg = angle_deg;
        turn.with = None;
    }
    let words = format!(
        "turn B{} and B{} by {} in place of {}: {} on the diagonal; make {} = {}; {} = {}; {} = {}; the end stays where it is",
        first.n,
        first.n + 1,
        case.say.angle(angle_deg),
        case.say.angle(first.angle_deg),
        case.called(k + 1),
        case.called(k + 1),
        case.say.length(travel_m),
        case.called(k),
        case.say.length(changed.length_m(k)),
        case.called(k + 2),
        case.say.length(changed.length_m(k + 2)),
    );
    Some(case.change(&changed, words, along_m.abs()))
}

/// The stop set before the last bend of the raceway, the last two, or the last three: what follows the stop does
/// not count. Each also with every shorter hose, for the raceway gets shorter too.
pub fn earlier_stops(case: &Case) -> Vec<Change> {
    let (Some(part), Some(stop), Some(own)) = (&case.line.raceway, case.shape.stop(), case.hose) else {
        return Vec::new();
    };
    if case.spec.into.is_none() {
        return Vec::new();
    }
    let size = case.shape.length_m(stop);
    let mut changes = Vec::new();
    for n in (1..=part.bends).rev().take(3) {
        let earlier = case.shape.bend(n).and_then(|joint| case.shape.stop_before(joint, STOP_BEFORE_M));
        let Some(shape) = earlier else { continue };
        let words = format!(
            "end the raceway before B{n}: set the stop {} before its work point, for bends after the stop do not count",
            case.say.length(STOP_BEFORE_M)
        );
        for hose in case.catalog.hoses.iter().filter(|hose| hose.length_m < own.length_m) {
            let words = format!("{words}; and use a {} hose ({})", case.say.length(hose.length_m), hose.id);
            let size = size + OTHER_HOSE + own.length_m - hose.length_m;
            changes.push(Change { hose: Some(hose.clone()), ..case.change(&shape, words, size) });
        }
        changes.push(case.change(&shape, words, size));
    }
    changes
}

/// The stop and the next bend's socket must both have room: a foot between stop and work point.
const STOP_BEFORE_M: f64 = FOOT_M;

/// The catalog's own raceway bends in place of fittings that the job names.
pub fn own_sweeps(case: &Case) -> Vec<Change> {
    let mut shape = case.shape.clone();
    let mut named = Vec::new();
    for n in &case.finding.bends {
        let Some(turn) = shape.bend(*n).and_then(|joint| shape.turn_mut(joint)) else {
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
    vec![case.change(&shape, words, OTHER_FITTING)]
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
