//! What a cut list says: sums with their deducts, cuts, the limits of the tape, the way a branch points.
use crate::measure::{INCH_M, Lengths, Say};
use crate::packet::tape::{Limits, Span};
use glam::DVec3;

/// How far the branch of a junction is turned from straight up, on an upright run from north, for there nothing round
/// it is up.
pub(super) fn branch_roll(say: Say, roll_deg: f64, run: DVec3) -> String {
    let upright = run.x.hypot(run.y) < 1e-9;
    let (from, onto, away) = match upright {
        true => ("north", "north", "south"),
        false => ("up", "straight up", "straight down"),
    };
    match roll_deg {
        roll if roll.abs() < 0.5 => format!("it points {onto}"),
        roll if roll.abs() > 179.5 => format!("it points {away}"),
        roll if roll > 0.0 => format!("{} clockwise from {from}", say.angle(roll)),
        roll => format!("{} counter-clockwise from {from}", say.angle(-roll)),
    }
}

/// The span of a tube as it is printed: the plan and the cut, `clear_m`, each to the nearest that a tape shows, and the deducts so that
/// what is printed adds up, for it is worked again with pencil. Each deduct is within one step of its own.
pub(super) fn printed(say: Say, span: Span, clear_m: f64) -> Span {
    let plan_m = say.step_near(span.plan_m);
    let total_m: f64 = span.deducts_m.iter().sum();
    // A length that is missing is said as such, and rounded so.
    let cut_m = clear_m.signum() * say.step_near(clear_m.abs());
    let off_m = plan_m - cut_m;
    let first_m = match span.deducts_m[0] < say.step_m() / 2.0 {
        true => 0.0,
        false if span.deducts_m[1] < say.step_m() / 2.0 => off_m,
        false => say.step_near(span.deducts_m[0] + (off_m - total_m) / 2.0),
    };
    Span { plan_m, deducts_m: [first_m, say.step_near(off_m - first_m)] }
}

/// `25 ft 0 in − 8 in − 8 in =`, of a span as printed.
pub(super) fn sum_words(say: Say, span: Span) -> String {
    let parts = span.deducts_m.iter().filter(|m| **m > INCH_M / 64.0);
    let minus: String = parts.map(|m| format!(" − {}", short(say, *m))).collect();
    format!("{}{minus} =", say.length(span.plan_m))
}

/// A cut, or by how much the fittings collide.
pub(super) fn cut_words(say: Say, clear_m: f64) -> String {
    if clear_m > 0.0 { say.length(clear_m) } else { format!("{} too short", say.length(-clear_m)) }
}

/// A deduct in inches alone, however many they are: it is taken off with pencil.
pub(super) fn short(say: Say, length_m: f64) -> String {
    match say.lengths {
        Lengths::Metric => say.length(length_m),
        Lengths::FtIn => {
            let sixteenths = (length_m / INCH_M * 16.0).round() as i64;
            let (whole, mut top, mut low) = (sixteenths / 16, sixteenths % 16, 16);
            while top > 0 && top % 2 == 0 {
                (top, low) = (top / 2, low / 2);
            }
            match (whole, top) {
                (_, 0) => format!("{whole} in"),
                (0, _) => format!("{top}/{low} in"),
                _ => format!("{whole}-{top}/{low} in"),
            }
        }
    }
}

/// Between what the tape may lie without anybody being asked.
pub(super) fn limits_words(say: Say, limits: Option<&Limits>) -> String {
    match limits {
        Some(limits) if limits.most_m - limits.least_m > say.step_m() => {
            format!("ok {} to {}", say.length_up(limits.least_m), say.length_down(limits.most_m))
        }
        Some(_) => "must agree; else call the crew lead".into(),
        None => "cannot be cut as drawn; call the crew lead".into(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// What a printed sum comes to, in steps of the ruler: plan, deducts, cut.
    fn in_steps(say: Say, plan_m: f64, deducts_m: [f64; 2]) -> (i64, [i64; 2], i64) {
        let clear_m = plan_m - deducts_m.iter().sum::<f64>();
        let span = printed(say, Span { plan_m, deducts_m }, clear_m);
        let steps = |m: f64| (m / say.step_m()).round() as i64;
        let cut = clear_m.signum() as i64 * steps(say.step_near(clear_m.abs()));
        (steps(span.plan_m), span.deducts_m.map(steps), cut)
    }

    #[test]
    fn a_printed_sum_adds_up_whatever_its_terms_are_rounded_from() {
        let feet = Say { lengths: Lengths::FtIn };
        // 52.15625 - 2.25 - 2 = 47.90625 in: to the nearest they read 52-3/16 - 2-1/4 - 2 = 47-7/8.
        let told = in_steps(feet, 52.156_25 * INCH_M, [2.25 * INCH_M, 2.0 * INCH_M]);
        assert_eq!(told.0 - told.1[0] - told.1[1], told.2, "{told:?}");
        for lengths in [Lengths::FtIn, Lengths::Metric] {
            let say = Say { lengths };
            for n in 0..4000_u32 {
                // Steps of the golden ratio fall evenly and never on the ruler.
                let part = |k: u32| f64::from(n * k) * 0.618_033_988_749_895 % 1.0;
                let second_m = if n % 3 == 0 { 0.0 } else { 0.22 * part(3) };
                let (plan_m, deducts_m) = (0.2 + 6.0 * part(1), [0.22 * part(2), second_m]);
                let (plan, deducts, cut) = in_steps(say, plan_m, deducts_m);
                assert_eq!(plan - deducts[0] - deducts[1], cut, "{plan_m} - {deducts_m:?}");
                for (deduct, m) in deducts.into_iter().zip(deducts_m) {
                    assert!((deduct as f64 - m / say.step_m()).abs() < 1.5, "{deduct} for {m}");
                    assert!(deduct >= 0);
                }
            }
        }
    }
}
