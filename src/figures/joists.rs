//! Joists of the house plan that a line's legs meet.
use crate::company::Member;
use crate::measure::INCH_M;
use crate::plan::Joists;
use crate::route::{Leg, Line};

/// A leg farther above or below belongs to another level.
const LEVEL_M: f64 = 6.0 * INCH_M;
/// A crossing this near to a joist's middle is that joist's.
const NEAR_M: f64 = 3.0 * INCH_M;
/// A leg that goes this little across the joists runs along them.
const ALONG_M: f64 = 0.5 * INCH_M;

/// Middles of the joists that a leg meets, along it from its start.
pub fn met_m(joists: &Joists, leg: &Leg) -> Vec<f64> {
    let across = |p: glam::DVec3| if joists.run_north { p.x } else { p.y };
    let (a, b) = (across(leg.from), across(leg.to));
    if (a - b).abs() < ALONG_M {
        return Vec::new();
    }
    let slope = leg.length_m / (b - a).abs();
    joists.between(a, b).into_iter().map(|m| (m - a).abs() * slope).collect()
}

/// Those of them of which no crossing of the line tells.
pub fn unlisted_m(joists: &Joists, line: &Line, number: usize, leg: &Leg) -> Vec<f64> {
    let joist = |member| matches!(member, Member::Joist | Member::Engineered | Member::Truss | Member::Steel);
    let listed = |at_m: &f64| {
        let mut own = line.crossings.iter().filter(|c| c.leg == number && joist(c.crossing.member));
        own.any(|c| (c.at_m - at_m).abs() <= NEAR_M)
    };
    met_m(joists, leg).into_iter().filter(|at_m| !listed(at_m)).collect()
}

/// The legs of a line that lie on the plan's raceway level, with their numbers.
pub fn legs_on_level(line: &Line, level_m: f64) -> impl Iterator<Item = (usize, &Leg)> {
    let legs = line.legs.iter().enumerate();
    legs.filter(move |(_, leg)| leg.heading.z.abs() < 0.1 && (leg.from.z - level_m).abs() <= LEVEL_M)
}
