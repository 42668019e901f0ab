//! Preferred scales, and the bar that shows them.
use super::geo::{Quad, V2, v2};
use super::scene::{Fill, Mark, Pen};
use super::text::{Align, Text};
use crate::measure::{FOOT_M, Lengths, Say};

/// A preferred scale.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Scale {
    /// One to so much.
    pub ratio: u32,
    /// As written on the drawing.
    words: &'static str,
}

/// ISO 5455 reductions.
const METRIC: [Scale; 10] = [
    Scale { ratio: 5, words: "1:5" },
    Scale { ratio: 10, words: "1:10" },
    Scale { ratio: 20, words: "1:20" },
    Scale { ratio: 50, words: "1:50" },
    Scale { ratio: 100, words: "1:100" },
    Scale { ratio: 200, words: "1:200" },
    Scale { ratio: 500, words: "1:500" },
    Scale { ratio: 1000, words: "1:1000" },
    Scale { ratio: 2000, words: "1:2000" },
    Scale { ratio: 5000, words: "1:5000" },
];

/// Architects' scales, and engineers' (1 in to whole feet) where theirs leave too wide a step.
const FEET: [Scale; 16] = [
    Scale { ratio: 8, words: "1-1/2 in = 1 ft (1:8)" },
    Scale { ratio: 12, words: "1 in = 1 ft (1:12)" },
    Scale { ratio: 16, words: "3/4 in = 1 ft (1:16)" },
    Scale { ratio: 24, words: "1/2 in = 1 ft (1:24)" },
    Scale { ratio: 32, words: "3/8 in = 1 ft (1:32)" },
    Scale { ratio: 48, words: "1/4 in = 1 ft (1:48)" },
    Scale { ratio: 64, words: "3/16 in = 1 ft (1:64)" },
    Scale { ratio: 96, words: "1/8 in = 1 ft (1:96)" },
    Scale { ratio: 128, words: "3/32 in = 1 ft (1:128)" },
    Scale { ratio: 192, words: "1/16 in = 1 ft (1:192)" },
    Scale { ratio: 240, words: "1 in = 20 ft (1:240)" },
    Scale { ratio: 384, words: "1/32 in = 1 ft (1:384)" },
    Scale { ratio: 480, words: "1 in = 40 ft (1:480)" },
    Scale { ratio: 600, words: "1 in = 50 ft (1:600)" },
    Scale { ratio: 1200, words: "1 in = 100 ft (1:1200)" },
    Scale { ratio: 4800, words: "1 in = 400 ft (1:4800)" },
];

impl Scale {
    /// The preferred scales of the firm, largest first.
    pub fn preferred(say: &Say) -> &'static [Scale] {
        match say.lengths {
            Lengths::FtIn => &FEET,
            Lengths::Metric => &METRIC,
        }
    }

    /// The first preferred scale at which `size_m` fits in `room_mm`; the smallest when none does.
    pub fn fitting(say: &Say, size_m: V2, room_mm: V2) -> usize {
        let all = Scale::preferred(say);
        let fits = |s: &Scale| size_m.x * s.mm_per_m() <= room_mm.x && size_m.y * s.mm_per_m() <= room_mm.y;
        all.iter().position(fits).unwrap_or(all.len() - 1)
    }

    /// Millimetres of paper for a metre.
    pub fn mm_per_m(&self) -> f64 {
        1000.0 / f64::from(self.ratio)
    }

    /// As written on the drawing: `Scale 1/8 in = 1 ft (1:96)`.
    pub fn words(&self) -> &'static str {
        self.words
    }

    /// A bar of four parts with its lower left corner at `at`, the scale written after it, and its box.
    pub fn bar(&self, say: &Say, at: V2, room_mm: f64) -> (Mark, Quad) {
        let (unit_m, unit) = match say.lengths {
            Lengths::FtIn => (FOOT_M, "ft"),
            Lengths::Metric => (1.0, "m"),
        };
        let part = self.part(unit_m);
        let part_mm = part * unit_m * self.mm_per_m();
        let mut mark = Mark::new("scale-bar", format!("Scale {}", self.words))
            .with("scale", self.ratio)
            .figure("part-m", part * unit_m);
        let part_at = |k: f64, parts: f64| {
            let left = at + v2(part_mm * k, -1.2);
            let wide = part_mm * parts;
            [left, left + v2(wide, 0.0), left + v2(wide, 1.2), left + v2(0.0, 1.2)]
        };
        mark.polygon(&part_at(0.0, 4.0), Pen::Thin, Fill::White);
        mark.polygons(&[part_at(0.0, 1.0), part_at(2.0, 1.0)], Pen::Thin, Fill::Black);
        let over = |k: f64| at + v2(part_mm * k, -2.4);
        mark.text(Text::plain(over(0.0), "0", Align::Start));
        mark.text(Text::plain(over(4.0), format!("{} {unit}", tidy(part * 4.0)), Align::Middle));
        let words = format!("Scale {}", self.words);
        let wide = super::font::width(&words, super::font::SIZE_MM, false);
        let beside = part_mm * 4.0 + 3.0;
        let below = beside + 3.0 + wide + at.x > room_mm;
        let place = if below { at + v2(0.0, 4.2) } else { at + v2(beside + 3.0, 0.2) };
        mark.text(Text::plain(place, words, Align::Start));
        let right = if below { beside.max(wide) } else { beside + 3.0 + wide };
        let quad = Quad::rect(at + v2(0.0, -6.0), at + v2(right, if below { 5.2 } else { 1.0 }));
        (mark, quad)
    }

    /// How many units a part of the bar shows: 1, 2 or 5 times a power of ten, about 7 mm long.
    fn part(&self, unit_m: f64) -> f64 {
        let per_unit = unit_m * self.mm_per_m();
        let wanted = 5.0 / per_unit;
        let power = 10_f64.powf(wanted.log10().floor());
        [1.0, 2.0, 5.0, 10.0].into_iter().map(|k| k * power).find(|k| *k >= wanted).unwrap_or(power * 10.0)
    }
}

/// A number of units: whole where it is, else to two places.
fn tidy(x: f64) -> String {
    let rounded = (x * 100.0).round() / 100.0;
    format!("{rounded}")
}

#[cfg(test)]
mod tests {
    use super::*;
    const FT: Say = Say { lengths: Lengths::FtIn };
    const MM: Say = Say { lengths: Lengths::Metric };

    #[test]
    fn takes_the_largest_that_fits() {
        let at = |say, x| Scale::preferred(say)[Scale::fitting(say, v2(x, 1.0), v2(100.0, 1000.0))].ratio;
        assert_eq!(at(&MM, 10.0), 100);
        assert_eq!(at(&MM, 10.001), 200);
        assert_eq!(at(&FT, 9.6), 96);
        assert_eq!(at(&FT, 9.601), 128);
    }

    #[test]
    fn bar_parts_are_round_numbers() {
        let ft = Scale { ratio: 96, words: "" };
        assert!((ft.part(FOOT_M) - 2.0).abs() < 1e-9);
        assert!((Scale { ratio: 50, words: "" }.part(1.0) - 0.5).abs() < 1e-9);
    }
}
