//! What one straight or one bend does to the tension of a heavy line pulled through it.
//!
//! Any consistent units do; the names say SI. Slopes count in the direction of the pull.

use super::Element;

/// Tension after a straight.
///
/// `T + W L (mu cos a + sin a)`, never below 0, with the slope `a` positive when the pull goes up; a
/// pull going down has a negative slope, which makes it `T + W L (mu cos a - sin |a|)`.
///
/// Arguments: tension before `t_n` (N, 0 or more), friction `mu`, weight `w_n_per_m` (N/m), length
/// `l_m` (m), slope `rise_rad` (rad, within ±π/2). Result in N. The callers have checked the ranges.
///
/// Assumption: a line that would push itself down a slope holds no tension, so the result is cut at 0.
///
/// ```
/// use longsweep::reckon::effort::tension::straight;
/// // A telecom conduit manual's first leg: 100 ft of 0.144 lb/ft at 0.5 gives 7.2 lb.
/// assert!((straight(0.0, 0.5, 0.144, 100.0, 0.0) - 7.2).abs() < 1e-12);
/// ```
///
/// Source: segment forms as given in a utility's design appendix, weight correction 1 for a single line.
pub fn straight(t_n: f64, mu: f64, w_n_per_m: f64, l_m: f64, rise_rad: f64) -> f64 {
    (t_n + w_n_per_m * l_m * (mu * rise_rad.cos() + rise_rad.sin())).max(0.0)
}

/// Tension after a level bend, exact for a line without stiffness.
///
/// `T cosh(mu th) + sinh(mu th) sqrt(T² + (W R)²)`: at each point the line presses with T/R toward the
/// centre and W downward.
///
/// Arguments: tension before `t_n` (N), friction `mu`, weight `w_n_per_m` (N/m), radius `r_m` (m, 0 or
/// more), angle `th_rad` (rad). Result in N. With no weight it is the [`capstan`] form.
///
/// For bends in other planes it is used as it stands; [`super::vertical`] bounds the gap.
///
/// ```
/// use longsweep::reckon::effort::tension::level_bend;
/// let out = level_bend(50.0, 0.3, 0.5, 0.75, 90f64.to_radians());
/// assert!((out - 80.099570).abs() < 1e-6);
/// ```
///
/// Source: a pulling-lubricant maker's engineering note; agrees with integration to 1e-9.
pub fn level_bend(t_n: f64, mu: f64, w_n_per_m: f64, r_m: f64, th_rad: f64) -> f64 {
    let wr = w_n_per_m * r_m;
    t_n * (mu * th_rad).cosh() + (mu * th_rad).sinh() * t_n.hypot(wr)
}

/// Tension after a bend by the capstan formula, `T e^(mu th)`, for a line without weight.
///
/// It gives nothing for a slack line and so must not judge a hose; it is here for the lessons.
///
/// ```
/// use longsweep::reckon::effort::tension::capstan;
/// // Published multiplier for 90 degrees at 0.5: 2.19.
/// assert!((capstan(1.0, 0.5, 90f64.to_radians()) - 2.19).abs() < 0.005);
/// ```
pub fn capstan(t_n: f64, mu: f64, th_rad: f64) -> f64 {
    t_n * (mu * th_rad).exp()
}

/// Side load of a line on the inside of a bend, `T / R`, in N/m.
///
/// ```
/// use longsweep::reckon::effort::tension::sidewall;
/// assert_eq!(sidewall(35.0, 10.0), 3.5);
/// ```
pub fn sidewall(t_n: f64, r_m: f64) -> f64 {
    t_n / r_m
}

/// Tension at the end of every element, in the order in which the pull meets them.
///
/// The elements are given in that order, their slopes counted in the direction of the pull.
pub fn steps(elements: &[Element], start_n: f64, w_n_per_m: f64, mu: f64) -> Vec<f64> {
    let through = |t: &mut f64, element: &Element| {
        *t = after(*t, element, element.length_m(), w_n_per_m, mu);
        Some(*t)
    };
    elements.iter().scan(start_n, through).collect()
}

/// The same raceway met from the other end: the order reversed, every slope turned round.
pub fn reversed(elements: &[Element]) -> Vec<Element> {
    elements.iter().rev().map(turned_round).collect()
}

/// Tension after the first `length_m` of an element.
pub(super) fn after(t_n: f64, element: &Element, length_m: f64, w_n_per_m: f64, mu: f64) -> f64 {
    match *element {
        Element::Straight { rise_angle_rad, .. } => straight(t_n, mu, w_n_per_m, length_m, rise_angle_rad),
        Element::Bend { radius_m, .. } => level_bend(t_n, mu, w_n_per_m, radius_m, length_m / radius_m),
    }
}

pub(super) fn turned_round(element: &Element) -> Element {
    match *element {
        Element::Straight { length_m, rise_angle_rad } => {
            Element::Straight { length_m, rise_angle_rad: -rise_angle_rad }
        }
        bend @ Element::Bend { .. } => bend,
    }
}
