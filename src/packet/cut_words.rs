//! What a cut list says: sums with their deducts, cuts, the limits of the tape, the way a branch points.
use super::tape::Limits;
use crate::measure::{INCH_M, Lengths, Say};

/// How far the branch of a junction is turned from straight up.
pub(super) fn branch_roll(say: Say, roll_deg: f64) -> String {
    match roll_deg {
        roll if roll.abs() < 0.5 => "it points straight up".into(),
        roll if roll.abs() > 179.5 => "it points straight down".into(),
        roll if roll > 0.0 => format!("{} clockwise from up", say.angle(roll)),
        roll => format!("{} counter-clockwise from up", say.angle(-roll)),
    }
}

/// `25 ft 0 in − 8 in − 8 in =`
pub(super) fn sum_words(say: Say, plan_m: f64, deducts_m: [f64; 2]) -> String {
    let parts = deducts_m.iter().filter(|m| **m > INCH_M / 64.0);
    let minus: String = parts.map(|m| format!(" − {}", short(say, *m))).collect();
    format!("{}{minus} =", say.length(plan_m))
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
