//! The one writer of SVG.
//!
//! What most marks share stands once on the drawing: a thin black line, no fill, the size of most words.
use super::decimal::{push_number, push_short};
use super::font::FAMILY;
use super::geo::V2;
use super::path;
use super::scene::{Fill, Mark, Pen, Scene, Segment, Shape, THICK_MM, THIN_MM};
use super::text::{Align, Text};
use crate::text::push_escaped;

/// The grey of bands, the only one; prints as a light tint on any printer.
const GREY: &str = "#ccc";

/// How words and dots are filled, told once; every drawing of a page says the same, and of a mark alone, so that no
/// other picture's change.
const BLACK: &str = "[data-kind]>text,[data-kind]>circle{fill:#000;stroke:none}";

impl Scene {
    /// The drawing as SVG, sized in mm of paper; ids begin with the scene's prefix.
    pub fn to_svg(&self) -> String {
        let usual_mm = usual_size_mm(&self.marks);
        let mut out = String::with_capacity(24 * 1024);
        self.push_head(&mut out, usual_mm);
        // A mark that shows nothing here is for those who read the scene alone.
        for mark in self.marks.iter().filter(|mark| !mark.shapes.is_empty()) {
            write_mark(&mut out, mark, usual_mm);
        }
        out.push_str("</svg>\n");
        out
    }

    /// What stands before the marks: size, what most marks share, and what the drawing shows, in words.
    fn push_head(&self, out: &mut String, usual_mm: f64) {
        let (w, h) = self.size_mm;
        let id = &self.prefix;
        out.push_str("<svg xmlns=\"http://www.w3.org/2000/svg\"");
        attribute(out, "width", |out| {
            push_number(out, w);
            out.push_str("mm");
        });
        attribute(out, "height", |out| {
            push_number(out, h);
            out.push_str("mm");
        });
        attribute(out, "viewBox", |out| {
            out.push_str("0 0 ");
            push_number(out, w);
            out.push(' ');
            push_number(out, h);
        });
        out.push_str(" role=\"img\"");
        attribute(out, "aria-labelledby", |out| {
            push_escaped(out, id);
            out.push_str("-title ");
            push_escaped(out, id);
            out.push_str("-desc");
        });
        attribute(out, "font-family", |out| out.push_str(FAMILY));
        attribute(out, "font-size", |out| push_number(out, usual_mm));
        out.push_str(" style=\"font-kerning:none\" fill=\"none\" stroke=\"#000\"");
        attribute(out, "stroke-width", |out| push_short(out, THIN_MM));
        out.push_str(" stroke-linecap=\"butt\" stroke-linejoin=\"round\">\n");
        for (name, words) in [("title", &self.title), ("desc", &self.desc)] {
            for part in ["<", name, " id=\""] {
                out.push_str(part);
            }
            push_escaped(out, id);
            for part in ["-", name, "\">"] {
                out.push_str(part);
            }
            push_escaped(out, words);
            for part in ["</", name, ">\n"] {
                out.push_str(part);
            }
        }
        for part in ["<style>", BLACK, "</style>\n"] {
            out.push_str(part);
        }
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

/// An attribute, its value written by a function.
fn attribute(out: &mut String, name: &str, value: impl FnOnce(&mut String)) {
    for part in [" ", name, "=\""] {
        out.push_str(part);
    }
    value(out);
    out.push('"');
}

/// One mark as a group with its figures; words of the usual size, mm, do not say it.
fn write_mark(out: &mut String, mark: &Mark, usual_mm: f64) {
    out.push_str("<g");
    attribute(out, "data-kind", |out| out.push_str(mark.kind));
    for (name, value) in &mark.data {
        out.push_str(" data-");
        out.push_str(name);
        out.push_str("=\"");
        push_escaped(out, value);
        out.push('"');
    }
    out.push('>');
    if !mark.title.is_empty() {
        out.push_str("<title>");
        push_escaped(out, &mark.title);
        out.push_str("</title>");
    }
    for shape in &mark.shapes {
        match shape {
            Shape::Path { steps, pen: Pen::None, fill: Fill::Black } if let Some((at, r)) = dot(steps) => {
                out.push_str("<circle");
                attribute(out, "cx", |out| push_short(out, at.x));
                attribute(out, "cy", |out| push_short(out, at.y));
                attribute(out, "r", |out| push_short(out, r));
                out.push_str("/>");
            }
            Shape::Path { steps, pen, fill } => {
                out.push_str("<path");
                attribute(out, "d", |out| path::push_data(out, steps));
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
    attribute(out, "fill", |out| out.push_str(colour));
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
            out.push_str(" stroke=\"#fff\"");
            attribute(out, "stroke-width", |out| push_short(out, width));
            return;
        }
    };
    if width != THIN_MM {
        attribute(out, "stroke-width", |out| push_short(out, width));
    }
    if !dashes.is_empty() {
        attribute(out, "stroke-dasharray", |out| {
            for (nth, mm) in dashes.iter().enumerate() {
                if nth > 0 {
                    out.push(' ');
                }
                push_number(out, *mm);
            }
        });
    }
}

/// A line of text.
fn write_text(out: &mut String, text: &Text, usual_mm: f64) {
    out.push_str("<text");
    if text.reversed {
        out.push_str(" style=\"fill:#fff\"");
    }
    if text.size_mm != usual_mm {
        attribute(out, "font-size", |out| push_number(out, text.size_mm));
    }
    if text.angle_deg == 0.0 {
        attribute(out, "x", |out| push_short(out, text.at.x));
        attribute(out, "y", |out| push_short(out, text.at.y));
    } else {
        attribute(out, "transform", |out| {
            out.push_str("translate(");
            push_short(out, text.at.x);
            out.push(' ');
            push_short(out, text.at.y);
            out.push_str(") rotate(");
            push_number(out, text.angle_deg);
            out.push(')');
        });
    }
    match text.anchor {
        Align::Start => {}
        Align::Middle => out.push_str(" text-anchor=\"middle\""),
        Align::End => out.push_str(" text-anchor=\"end\""),
    }
    if text.bold {
        out.push_str(" font-weight=\"bold\"");
    }
    out.push('>');
    push_escaped(out, &text.words);
    out.push_str("</text>");
}
