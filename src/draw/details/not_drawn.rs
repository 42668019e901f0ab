//! What stands in place of a drawing that cannot be made, so that nobody takes its absence for nothing to see.
use crate::draw::hand::font::{self, SIZE_MM, line_height};
use crate::draw::hand::geo::{Quad, v2};
use crate::draw::hand::scene::{Fill, Mark, Pen, Scene};
use crate::draw::hand::text::{Align, Text};

/// A frame that says NOT DRAWN, and why.
pub fn not_drawn(prefix: &str, title: &str, why: &str, width_mm: f64) -> Scene {
    let lines = font::wrapped(why, SIZE_MM, width_mm - 8.0);
    let high = 10.0 + line_height(SIZE_MM) * lines.len() as f64;
    let mut mark = Mark::new("not-drawn", format!("not drawn: {why}"));
    mark.polygon(&Quad::rect(v2(0.5, 0.5), v2(width_mm - 0.5, high + 0.5)).corners, Pen::Thick, Fill::White);
    mark.text(Text::plain(v2(4.0, 6.0), "NOT DRAWN", Align::Start).bold());
    for (i, line) in lines.into_iter().enumerate() {
        mark.text(Text::plain(v2(4.0, 10.5 + line_height(SIZE_MM) * i as f64), line, Align::Start));
    }
    Scene {
        prefix: prefix.into(),
        title: title.into(),
        desc: format!("Not drawn: {why}."),
        size_mm: (width_mm, high + 1.0),
        scale: None,
        marks: vec![mark],
    }
}
