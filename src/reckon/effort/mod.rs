//! The force that draws a hose into its raceway, and the force that pulls it out.
//!
//! The raceway is a list of [`Element`]s in order from the valve to the stop. The hose is a heavy
//! line without stiffness; its tail leads on the way in. *Inserted* means the length of hose that
//! lies inside the raceway, measured along the centreline from the valve.
//!
//! - [`draw_in`]: suction pulls at the tail; tension begins at the valve with the drag of what still
//!   lies on the floor, and builds toward the tail.
//! - [`pull_out`]: a hand pulls at the valve; tension begins with nothing at the tail, and builds
//!   toward the valve, so that the elements are met in reverse and their slopes turn round.
//!
//! The single steps stand in [`tension`], the exact forms for bends in a vertical plane in
//! [`vertical`].

pub mod tension;
mod travel;
pub mod vertical;

#[cfg(test)]
mod step_tests;
#[cfg(test)]
mod tests;

use std::f64::consts::{FRAC_PI_2, PI};

use super::range::{OutOfRange, in_range};

/// One piece of the raceway's centreline.
///
/// It cannot contain a bend without radius, and it does not say in which plane a bend lies: the
/// reckoning treats every bend as level, which [`vertical`] bounds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Element {
    /// Straight between two tangent points. The angle is the slope going from valve to stop:
    /// zero is level, positive rises, ±π/2 is plumb.
    Straight { length_m: f64, rise_angle_rad: f64 },
    /// An arc: the angle turned through, and the radius of the centreline.
    Bend { angle_rad: f64, radius_m: f64 },
}

/// What of a hose matters for its friction.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HoseLoad {
    /// Whole length, 0.1 to 100 m.
    pub length_m: f64,
    /// Weight for each metre, 0 to 100 N/m.
    pub weight_n_per_m: f64,
    /// Friction on the raceway while it is drawn in, 0 to 2.
    pub mu_in: f64,
    /// Friction on the raceway while it is pulled out, 0 to 2.
    pub mu_out: f64,
    /// Friction on the floor, 0 to 2.
    pub mu_floor: f64,
}

/// The force over the whole travel, and where it is worst.
#[derive(Debug, Clone, PartialEq)]
pub struct Effort {
    /// The greatest force, in newtons.
    pub worst_n: f64,
    /// The length inserted when the force is greatest.
    pub worst_inserted_m: f64,
    /// Force against inserted length, ascending, at most [`SAMPLE_M`] apart and with a point at the
    /// end of every element; it starts with the limit for the first touch of the tail.
    pub curve: Vec<(f64, f64)>,
    /// By how much the hose is longer than the raceway, zero when the raceway holds all of it. When
    /// it is not zero the travel ends at the raceway's end, and the rest of the hose stays outside.
    pub short_by_m: f64,
}

/// The widest gap between two points of [`Effort::curve`].
pub const SAMPLE_M: f64 = 0.05;

/// Force at the tail that draws the hose in, worst over the travel.
///
/// For each inserted length x: start at the valve with `T = mu_floor W (L - x)`, then add each
/// element from the valve up to x by [`tension::straight`] and [`tension::level_bend`] with `mu_in`.
///
/// Arguments: `elements`, valve to stop (slope within ±π/2, bend angle above 0 to π rad, radius above
/// 0 to 1000 m); `hose`, see [`HoseLoad`]. Result: forces in newtons, lengths in metres.
///
/// Errors: [`OutOfRange`] for an empty raceway or an input outside those ranges. A raceway shorter
/// than the hose is no error: the travel ends where the raceway ends and [`Effort::short_by_m`] says so.
///
/// Assumptions: no stiffness, no growth of the hose under suction, one friction coefficient along
/// the whole raceway, every bend reckoned as level (exact for level bends; see [`vertical`]). Friction
/// of a sock on PVC is not published, so the result is as good as the measured coefficient.
///
/// ```
/// use longsweep::reckon::effort::{draw_in, Element, HoseLoad};
/// let hose = HoseLoad { length_m: 10.0, weight_n_per_m: 4.0, mu_in: 0.3, mu_out: 0.3, mu_floor: 0.3 };
/// let level = [Element::Straight { length_m: 12.0, rise_angle_rad: 0.0 }];
/// let effort = draw_in(&level, &hose).unwrap();
/// // With the same friction on the floor and in the tube, the drag stays mu W L all the way.
/// assert!((effort.worst_n - 0.3 * 4.0 * 10.0).abs() < 1e-9);
/// ```
///
/// Source: the segment forms of a telecom conduit construction manual and a utility's design notes,
/// walked from the free end; see [`tension`].
pub fn draw_in(elements: &[Element], hose: &HoseLoad) -> Result<Effort, OutOfRange> {
    check(elements, hose)?;
    let force_at = |x: f64| {
        let start = hose.mu_floor * hose.weight_n_per_m * (hose.length_m - x);
        travel::tension_at_tail(elements, x, start, hose.weight_n_per_m, hose.mu_in)
    };
    Ok(travel::worst(elements, hose.length_m, force_at))
}

/// Force at the valve that pulls the hose out, worst over the travel.
///
/// For each inserted length x: start at the tail with `T = 0`, then add each element from x back to
/// the valve, slopes reversed, with `mu_out`. Arguments, result, errors and assumptions are those of
/// [`draw_in`]; what lies outside is in the user's hand and adds nothing.
///
/// ```
/// use longsweep::reckon::effort::{pull_out, Element, HoseLoad};
/// let hose = HoseLoad { length_m: 10.0, weight_n_per_m: 4.0, mu_in: 0.3, mu_out: 0.2, mu_floor: 0.3 };
/// let level = [Element::Straight { length_m: 12.0, rise_angle_rad: 0.0 }];
/// let effort = pull_out(&level, &hose).unwrap();
/// assert!((effort.worst_n - 0.2 * 4.0 * 10.0).abs() < 1e-9);
/// assert_eq!(effort.worst_inserted_m, 10.0);
/// ```
pub fn pull_out(elements: &[Element], hose: &HoseLoad) -> Result<Effort, OutOfRange> {
    check(elements, hose)?;
    let force_at = |x: f64| travel::tension_at_valve(elements, x, hose.weight_n_per_m, hose.mu_out);
    Ok(travel::worst(elements, hose.length_m, force_at))
}

/// Force with which suction draws at a hose whose end is covered.
///
/// `F = p π D² / 4`: suction `p` at the valve in Pa below the room (0 to 101 325, gauge), outside
/// diameter `D` of the hose in m (0.005 to 0.5). Result in newtons. Errors: [`OutOfRange`].
///
/// Assumptions: the tail seals on its whole outside diameter. Comparing this with [`draw_in`] is the
/// cautious side, because pressure acts along the hose while the reckoning pulls at its tail.
///
/// ```
/// use longsweep::reckon::effort::available_force;
/// // 110 inches of water on a hose of 1.75 in: about 9.5 lbf.
/// let newtons = available_force(110.0 * 249.08891, 1.75 * 0.0254).unwrap();
/// assert!((newtons / 4.4482216 - 9.5).abs() < 0.1);
/// ```
pub fn available_force(suction_pa: f64, outside_d_m: f64) -> Result<f64, OutOfRange> {
    in_range("suction", suction_pa, (0.0, 101_325.0), "Pa")?;
    in_range("outside diameter of the hose", outside_d_m, (0.005, 0.5), "m")?;
    Ok(suction_pa * PI * outside_d_m * outside_d_m / 4.0)
}

/// Length of the centreline through all elements, in metres.
pub fn path_length_m(elements: &[Element]) -> f64 {
    elements.iter().map(Element::length_m).sum()
}

impl Element {
    /// Length of the centreline through this element, in metres.
    pub fn length_m(&self) -> f64 {
        match *self {
            Element::Straight { length_m, .. } => length_m,
            Element::Bend { angle_rad, radius_m } => angle_rad * radius_m,
        }
    }

    fn check(&self) -> Result<(), OutOfRange> {
        match *self {
            Element::Straight { length_m, rise_angle_rad } => {
                in_range("length of a straight", length_m, (0.0, 1000.0), "m")?;
                // A plumb leg comes from arithmetic on coordinates, so a last digit over is let pass.
                let plumb = FRAC_PI_2 + 1e-9;
                in_range("slope of a straight", rise_angle_rad, (-plumb, plumb), "rad")?;
            }
            Element::Bend { angle_rad, radius_m } => {
                in_range("angle of a bend", angle_rad, (f64::MIN_POSITIVE, PI + 1e-9), "rad")?;
                in_range("radius of a bend", radius_m, (f64::MIN_POSITIVE, 1000.0), "m")?;
            }
        }
        Ok(())
    }
}

fn check(elements: &[Element], hose: &HoseLoad) -> Result<(), OutOfRange> {
    in_range("length of the hose", hose.length_m, (0.1, 100.0), "m")?;
    in_range("weight of the hose", hose.weight_n_per_m, (0.0, 100.0), "N/m")?;
    in_range("friction of the hose drawn in", hose.mu_in, (0.0, 2.0), "")?;
    in_range("friction of the hose pulled out", hose.mu_out, (0.0, 2.0), "")?;
    in_range("friction of the hose on the floor", hose.mu_floor, (0.0, 2.0), "")?;
    elements.iter().try_for_each(Element::check)?;
    in_range("length of the raceway", path_length_m(elements), (1e-6, 10_000.0), "m")?;
    Ok(())
}
