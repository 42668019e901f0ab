//! Heights along a route: the riser, how far the rest strays from one level, and reversals.
use super::types::Leg;
use glam::DVec3;

/// Vertical moves under half an inch do not count as going up or down: the play of straps and eye.
pub const SLIGHT_MOVE_M: f64 = 0.0127;

/// Rounding must not make a riser of a leg at exactly 45 degrees.
const EDGE: f64 = 1e-9;

/// How many leading legs are steeper than 45 degrees.
pub fn riser_legs(legs: &[Leg]) -> usize {
    let steep = std::f64::consts::FRAC_1_SQRT_2 + EDGE;
    legs.iter().take_while(|leg| leg.heading.z.abs() > steep).count()
}

/// The greatest height, up or down, of a work point after the riser over the riser's end.
///
/// Without a riser the level is that of the start; a route that is all riser departs by nothing.
pub fn level_deviation_m(legs: &[Leg], riser_legs: usize, start: DVec3) -> f64 {
    let level = if riser_legs == 0 { start.z } else { legs[riser_legs - 1].to.z };
    legs[riser_legs..].iter().map(|leg| (leg.to.z - level).abs()).fold(0.0, f64::max)
}

/// How often the line, having risen, falls, or the other way round.
///
/// A move counts once it reaches [`SLIGHT_MOVE_M`] from the last high or low point, so that several
/// slight moves the same way add up, and a wobble does not.
pub fn reversals(legs: &[Leg]) -> usize {
    let Some(first) = legs.first() else { return 0 };
    let (mut high, mut low) = (first.from.z, first.from.z);
    let mut way = 0.0_f64;
    let mut count = 0;
    for z in legs.iter().map(|leg| leg.to.z) {
        let now = if z >= low + SLIGHT_MOVE_M - EDGE && way <= 0.0 {
            1.0
        } else if z <= high - SLIGHT_MOVE_M + EDGE && way >= 0.0 {
            -1.0
        } else {
            way
        };
        if now != way {
            count += usize::from(way != 0.0);
            (high, low, way) = (z, z, now);
        } else {
            (high, low) = extremes(way, high, low, z);
        }
    }
    count
}

/// The high and low point against which the next move is held, going on the same way.
fn extremes(way: f64, high: f64, low: f64, z: f64) -> (f64, f64) {
    if way > 0.0 {
        (high.max(z), high.max(z))
    } else if way < 0.0 {
        (low.min(z), low.min(z))
    } else {
        (high.max(z), low.min(z))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Legs through these heights, each with a plan length of one metre.
    fn through(heights: &[f64]) -> Vec<Leg> {
        heights
            .windows(2)
            .enumerate()
            .map(|(i, z)| {
                let (from, to) = (DVec3::new(i as f64, 0.0, z[0]), DVec3::new(i as f64 + 1.0, 0.0, z[1]));
                let way = to - from;
                let heading = way.normalize();
                Leg { from, to, heading, length_m: way.length(), station_m: 0.0, runs: vec![] }
            })
            .collect()
    }

    #[test]
    fn zero_level_route_has_no_reversal() {
        assert_eq!(reversals(&through(&[0.0, 0.0, 0.0])), 0);
        assert_eq!(reversals(&through(&[0.0, -2.0, -2.0])), 0);
    }

    #[test]
    fn a_dip_under_a_joist_is_two_reversals_after_a_rise_and_one_after_a_fall() {
        assert_eq!(reversals(&through(&[0.0, 2.0, 2.0, 1.8, 1.8, 2.0])), 2);
        assert_eq!(reversals(&through(&[0.0, -2.0, -2.0, -2.2, -2.2, -2.0])), 1);
    }

    #[test]
    fn slight_moves_do_not_count_until_they_add_up() {
        assert_eq!(reversals(&through(&[0.0, 1.0, 0.99])), 0);
        assert_eq!(reversals(&through(&[0.0, 1.0, 0.992, 0.984])), 1);
        assert_eq!(reversals(&through(&[0.0, 1.0, 1.0 - SLIGHT_MOVE_M])), 1);
    }

    #[test]
    fn a_leg_at_exactly_45_degrees_is_no_riser() {
        assert_eq!(riser_legs(&through(&[0.0, 1.0])), 0);
        assert_eq!(riser_legs(&through(&[0.0, 1.001])), 1);
    }
}
