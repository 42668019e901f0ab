//! Finding a root between two brackets.

/// The place where `f` changes sign between `low` and `high`, by halving the bracket until its width
/// falls under `share` of its greater end or the machine's last digit.
///
/// The caller has seen to it that `f(low)` and `f(high)` differ in sign; the sign at `low` decides
/// which half is kept. Halving is slow and certain, and the functions here cost nothing.
pub(super) fn bisect(mut low: f64, mut high: f64, share: f64, f: impl Fn(f64) -> f64) -> f64 {
    let low_is_positive = f(low) > 0.0;
    for _ in 0..200 {
        let middle = 0.5 * (low + high);
        if (high - low).abs() <= share * high.abs() || middle == low || middle == high {
            break;
        }
        if (f(middle) > 0.0) == low_is_positive {
            low = middle;
        } else {
            high = middle;
        }
    }
    0.5 * (low + high)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reckon::check::near;

    #[test]
    fn recovers_the_root_of_two_either_way_round() {
        near(bisect(0.0, 2.0, 1e-14, |x| x * x - 2.0), 2f64.sqrt(), 1e-13);
        near(bisect(0.0, 2.0, 1e-14, |x| 2.0 - x * x), 2f64.sqrt(), 1e-13);
    }
}
