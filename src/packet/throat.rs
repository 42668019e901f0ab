//! Which way a fitting looks, as a person on the floor would say it.
use crate::route::Bend;
use glam::DVec3;

/// A direction within this of level or of plumb is called so: less than a crew can see on a torpedo level.
const SQUARE_DEG: f64 = 1.0;

/// The way the throat of a bend looks where the line comes in: square to the tube, toward the inside of the
/// curve. `None` for a bend that does not turn.
///
/// Axes as in the job: x east, y north, z up. The result is a unit vector.
pub fn throat(bend: &Bend) -> Option<DVec3> {
    let along = bend.heading_in;
    (bend.heading_out - along * bend.heading_out.dot(along)).try_normalize()
}

/// A direction in plain words: `south, level`, `up`, `south-west, 30° above level`.
///
/// The compass has sixteen points, named to the nearest; the angle over level is in whole degrees.
///
/// ```
/// use glam::dvec3;
/// use longsweep::packet::throat::looks;
/// assert_eq!(looks(dvec3(0.0, -1.0, 0.0)), "south, level");
/// assert_eq!(looks(dvec3(0.0, 0.0, -2.0)), "straight down");
/// assert_eq!(looks(dvec3(-1.0, -1.0, 0.0)), "south-west, level");
/// // 3 east and 4 up: atan(4/3) = 53.13 degrees.
/// assert_eq!(looks(dvec3(3.0, 0.0, 4.0)), "east, 53° above level");
/// ```
pub fn looks(way: DVec3) -> String {
    let Some(way) = way.try_normalize() else { return String::new() };
    let rise_deg = way.z.clamp(-1.0, 1.0).asin().to_degrees();
    if rise_deg.abs() > 90.0 - SQUARE_DEG {
        return if rise_deg > 0.0 { "straight up" } else { "straight down" }.into();
    }
    let compass = compass(way);
    match rise_deg {
        rise if rise.abs() < SQUARE_DEG => format!("{compass}, level"),
        rise if rise > 0.0 => format!("{compass}, {rise:.0}° above level"),
        rise => format!("{compass}, {:.0}° below level", -rise),
    }
}

/// The nearest of sixteen points of the compass.
fn compass(way: DVec3) -> &'static str {
    const POINTS: [&str; 16] = [
        "north",
        "north-north-east",
        "north-east",
        "east-north-east",
        "east",
        "east-south-east",
        "south-east",
        "south-south-east",
        "south",
        "south-south-west",
        "south-west",
        "west-south-west",
        "west",
        "west-north-west",
        "north-west",
        "north-north-west",
    ];
    let from_north_deg = way.x.atan2(way.y).to_degrees().rem_euclid(360.0);
    POINTS[(from_north_deg / 22.5).round() as usize % POINTS.len()]
}

/// The arc round the outside of a tube that a roll takes, `roll/360 · π · outside`.
///
/// Arguments: `roll_deg` any sign, degrees; `outside_m` the tube's outside, metres. Result in metres,
/// never negative.
///
/// ```
/// // A quarter turn round a 2 in tube: π·2/4 = 1.5708 in.
/// let arc = longsweep::packet::throat::arc_round_tube_m(-90.0, 2.0);
/// assert!((arc - 1.5707963).abs() < 1e-6);
/// ```
pub fn arc_round_tube_m(roll_deg: f64, outside_m: f64) -> f64 {
    roll_deg.abs() / 360.0 * std::f64::consts::PI * outside_m
}
