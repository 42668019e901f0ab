//! The one writer of SVG.
//!
//! What most marks share stands once on the drawing: a thin black line, no fill, the size of most words.
use super::font::FAMILY;
use super::geo::V2;
use super::path;
use super::scene::{Fill, Mark, Pen, Scene, Segment, Shape, THICK_MM, THIN_MM};
use super::text::{Align, Text};
use crate::text::escape;
use std::fmt::Write;

/// The grey of bands, the only one; prints as a light tint on any printer.
const GREY: &str = "#ccc";

/// How words and dots are filled, told once; every drawing of a page says the same, and of a mark alone, so that no
/// other picture's change.
const BLACK: &str = "[data-kind]>text,[data-kind]>circle{fill:#000;stroke:none}";

impl Scene {
    /// The drawing as SVG, sized in mm of paper; ids begin with the scene's prefix.
    pub fn to_svg(&self) -> String {
        let (w, h) = (number(self.size_mm.0), number(self.size_mm.1));
        let id = escape(&self.prefix);
        let usual_mm = usual_size_mm(&self.marks);
        let mut out = String::with_capacity(16 * 1024);
        // Writing to a String cannot fail, so the results are let go.
        let _ = write!(
            out,
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{w}mm\" height=\"{h}mm\" \
             viewBox=\"0 0 {w} {h}\" role=\"img\" aria-labelledby=\"{id}-title {id}-desc\" \
             font-family=\"{FAMILY}\" font-size=\"{}\" style=\"font-kerning:none\" fill=\"none\" \
             stroke=\"#000\" stroke-width=\"{}\" stroke-linecap=\"butt\" stroke-linejoin=\"round\">\n\
             <title id=\"{id}-title\">{}</title>\n<desc id=\"{id}-desc\">{}</desc>\n\
             <style>{BLACK}</style>\n",
            number(usual_mm),
            path::short(THIN_MM),
            escape(&self.title),
            escape(&self.desc),
        );
        // A mark that shows nothing here is for those who read the scene alone.
        for mark in self.marks.iter().filter(|mark| !mark.shapes.is_empty()) {
            write_mark(&mut out, mark, usual_mm);
        }
        out.push_str("</svg>\n");
        out
    }
}

/// The size of most words, mm; of two that are as frequent, the smaller.
fn usual_size_mm(marks: &[Mark]) -> f64 {
    let mut sizes: Vec<(f64, usize)> = Vec::new();
    for shape in marks.iter().flat_map(|mark| &mark.shapes) {
        let Shape::Text(text) = shape else { continue };
        match sizes.iter_mut().find(|(size_mm, _)| *size_mm == text.size_mm) {
            Some((_, count)) => *count += 1,
            None => sizes.push((text.size_mm, 1)),
        }
    }
    let most = sizes.into_iter().max_by(|a, b| a.1.cmp(&b.1).then(b.0.total_cmp(&a.0)));
    most.map_or(1.0, |(size_mm, _)| size_mm)
}

/// One mark as a group with its figures; words of the usual size, mm, do not say it.
fn write_mark(out: &mut String, mark: &Mark, usual_mm: f64) {
    let _ = write!(out, "<g data-kind=\"{}\"", mark.kind);
    for (name, value) in &mark.data {
        let _ = write!(out, " data-{name}=\"{}\"", escape(value));
    }
    out.push('>');
    if !mark.title.is_empty() {
        let _ = write!(out, "<title>{}</title>", escape(&mark.title));
    }
    for shape in &mark.shapes {
        match shape {
            Shape::Path { steps, pen: Pen::None, fill: Fill::Black } if let Some((at, r)) = dot(steps) => {
                let [x, y, r] = [at.x, at.y, r].map(path::short);
                let _ = write!(out, "<circle cx=\"{x}\" cy=\"{y}\" r=\"{r}\"/>");
            }
            Shape::Path { steps, pen, fill } => {
                let _ = write!(out, "<path d=\"{}\"", path::data(steps));
                write_fill(out, *fill);
                write_pen(out, *pen);
                out.push_str("/>");
            }
            Shape::Text(text) => write_text(out, text, usual_mm),
        }
    }
    out.push_str("</g>\n");
}

/// Middle and radius of a path that is a whole circle, as [`Mark::circle`] makes it.
fn dot(steps: &[Segment]) -> Option<(V2, f64)> {
    let [Segment::Move(east), arcs @ .., Segment::Close] = steps else { return None };
    let [Segment::Cubic(.., south), Segment::Cubic(.., west), Segment::Cubic(..), Segment::Cubic(.., end)] =
        arcs
    else {
        return None;
    };
    let (middle, radius) = ((*east + *west) / 2.0, east.distance(*west) / 2.0);
    let round = (middle.distance(*south) - radius).abs() < 1e-9 && east == end;
    round.then_some((middle, radius))
}

/// The fill where there is one.
fn write_fill(out: &mut String, fill: Fill) {
    let colour = match fill {
        Fill::None => return,
        Fill::White => "#fff",
        Fill::Black => "#000",
        Fill::Grey => GREY,
    };
    let _ = write!(out, " fill=\"{colour}\"");
}

/// What of a pen differs from the thin black line of the drawing.
fn write_pen(out: &mut String, pen: Pen) {
    let (width, dashes): (f64, &[f64]) = match pen {
        Pen::None => {
            out.push_str(" stroke=\"none\"");
            return;
        }
        Pen::Thin => (THIN_MM, &[]),
        Pen::Thick => (THICK_MM, &[]),
        Pen::Dashed => (THIN_MM, &[2.0, 1.0]),
        Pen::ThickDashed => (THICK_MM, &[2.0, 1.0]),
        Pen::Chain => (THIN_MM, &[6.0, 1.0, 0.6, 1.0]),
        Pen::Dotted => (THIN_MM, &[0.4, 0.8]),
        Pen::Pattern(dashes) => (THICK_MM, dashes),
        Pen::Blank(width) => {
            let _ = write!(out, " stroke=\"#fff\" stroke-width=\"{}\"", path::short(width));
            return;
        }
    };
    if width != THIN_MM {
        let _ = write!(out, " stroke-width=\"{}\"", path::short(width));
    }
    if !dashes.is_empty() {
        let list: Vec<String> = dashes.iter().map(|d| number(*d)).collect();
        let _ = write!(out, " stroke-dasharray=\"{}\"", list.join(" "));
    }
}

/// A line of text.
fn write_text(out: &mut String, text: &Text, usual_mm: f64) {
    let (x, y) = (path::short(text.at.x), path::short(text.at.y));
    out.push_str("<text");
    if text.reversed {
        out.push_str(" style=\"fill:#fff\"");
    }
    if text.size_mm != usual_mm {
        let _ = write!(out, " font-size=\"{}\"", number(text.size_mm));
    }
    if text.angle_deg == 0.0 {
        let _ = write!(out, " x=\"{x}\" y=\"{y}\"");
    } else {
        let _ = write!(out, " transform=\"translate({x} {y}) rotate({})\"", number(text.angle_deg));
    }
    match text.anchor {
        Align::Start => {}
        Align::Middle => out.push_str(" text-anchor=\"middle\""),
        Align::End => out.push_str(" text-anchor=\"end\""),
    }
    if text.bold {
        out.push_str(" font-weight=\"bold\"");
    }
    let _ = write!(out, ">{}</text>", escape(&text.words));
}

/// A number to a thousandth, without needless noughts.
fn number(x: f64) -> String {
    let rounded = (x * 1000.0).round() / 1000.0 + 0.0;
    format!("{rounded}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn writes_short_numbers() {
        assert_eq!(
            (number(1.0), number(0.12345), number(-0.00001)),
            ("1".into(), "0.123".into(), "0".into())
        );
    }
}
