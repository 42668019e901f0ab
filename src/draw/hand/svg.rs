//! The one writer of SVG.
use super::font::FAMILY;
use super::geo::V2;
use super::scene::{Fill, Mark, Pen, Scene, Segment, Shape, THICK_MM, THIN_MM};
use super::text::{Align, Text};
use crate::text::escape;
use std::fmt::{self, Write};

/// The grey of bands, the only one; prints as a light tint on any printer.
const GREY: &str = "#ccc";

impl Scene {
    /// The drawing as SVG, sized in mm of paper; ids begin with the scene's prefix.
    pub fn to_svg(&self) -> String {
        let (w, h) = (number(self.size_mm.0), number(self.size_mm.1));
        let id = escape(&self.prefix);
        let mut out = String::with_capacity(16 * 1024);
        // Writing to a String cannot fail, so the results are let go.
        let _ = write!(
            out,
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{w}mm\" height=\"{h}mm\" \
             viewBox=\"0 0 {w} {h}\" role=\"img\" aria-labelledby=\"{id}-title {id}-desc\" \
             font-family=\"{FAMILY}\" style=\"font-kerning:none\" fill=\"none\" stroke=\"none\" \
             stroke-linecap=\"butt\" stroke-linejoin=\"round\">\n\
             <title id=\"{id}-title\">{}</title>\n<desc id=\"{id}-desc\">{}</desc>\n",
            escape(&self.title),
            escape(&self.desc),
        );
        let mut texts = 0;
        for mark in &self.marks {
            write_mark(&mut out, mark, &id, &mut texts);
        }
        out.push_str("</svg>\n");
        out
    }
}

/// One mark as a group with its figures.
fn write_mark(out: &mut String, mark: &Mark, id: &str, texts: &mut usize) {
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
            Shape::Path { steps, pen, fill } => write_path(out, steps, *pen, *fill),
            Shape::Text(text) => {
                write_text(out, text, id, *texts);
                *texts += 1;
            }
        }
    }
    out.push_str("</g>\n");
}

/// A path with its pen and fill.
fn write_path(out: &mut String, steps: &[Segment], pen: Pen, fill: Fill) {
    out.push_str("<path d=\"");
    for step in steps {
        match step {
            Segment::Move(p) => point(out, 'M', *p),
            Segment::Line(p) => point(out, 'L', *p),
            Segment::Cubic(a, b, c) => {
                point(out, 'C', *a);
                point(out, ' ', *b);
                point(out, ' ', *c);
            }
            Segment::Close => out.push('Z'),
        }
    }
    out.push('"');
    match fill {
        Fill::None => {}
        Fill::White => out.push_str(" fill=\"#fff\""),
        Fill::Black => out.push_str(" fill=\"#000\""),
        Fill::Grey => {
            let _ = write!(out, " fill=\"{GREY}\"");
        }
    }
    write_pen(out, pen);
    out.push_str("/>");
}

/// Stroke attributes of a pen.
fn write_pen(out: &mut String, pen: Pen) {
    let (width, dashes): (f64, &[f64]) = match pen {
        Pen::None => return,
        Pen::Thin => (THIN_MM, &[]),
        Pen::Thick => (THICK_MM, &[]),
        Pen::Dashed => (THIN_MM, &[2.0, 1.0]),
        Pen::ThickDashed => (THICK_MM, &[2.0, 1.0]),
        Pen::Chain => (THIN_MM, &[6.0, 1.0, 0.6, 1.0]),
        Pen::Dotted => (THIN_MM, &[0.4, 0.8]),
        Pen::Pattern(dashes) => (THICK_MM, dashes),
        Pen::Blank(width) => {
            let _ = write!(out, " stroke=\"#fff\" stroke-width=\"{}\"", number(width));
            return;
        }
    };
    let _ = write!(out, " stroke=\"#000\" stroke-width=\"{width}\"");
    if !dashes.is_empty() {
        let list: Vec<String> = dashes.iter().map(|d| number(*d).to_string()).collect();
        let _ = write!(out, " stroke-dasharray=\"{}\"", list.join(" "));
    }
}

/// A line of text with an id, so that a reader of the drawing can find its box.
fn write_text(out: &mut String, text: &Text, id: &str, n: usize) {
    let (x, y) = (number(text.at.x), number(text.at.y));
    let colour = if text.reversed { "#fff" } else { "#000" };
    let _ = write!(out, "<text id=\"{id}-t{n}\" font-size=\"{}\" fill=\"{colour}\"", number(text.size_mm));
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

/// A command with a point, to a thousandth of a millimetre.
fn point(out: &mut String, command: char, p: V2) {
    let _ = write!(out, "{command}{} {}", number(p.x), number(p.y));
}

/// A number to a thousandth, without needless noughts.
fn number(x: f64) -> Number {
    Number(x)
}

struct Number(f64);

impl fmt::Display for Number {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let thousandths = (self.0 * 1000.0).round();
        // Beyond all paper the digits are left to the library.
        if !(thousandths.abs() < 1e15) {
            return write!(f, "{}", thousandths / 1000.0);
        }
        let whole = thousandths.abs() as u64;
        let sign = if thousandths < 0.0 { "-" } else { "" };
        match (whole / 1000, whole % 1000) {
            (units, 0) => write!(f, "{sign}{units}"),
            (units, part) if part % 100 == 0 => write!(f, "{sign}{units}.{}", part / 100),
            (units, part) if part % 10 == 0 => write!(f, "{sign}{units}.{:02}", part / 10),
            (units, part) => write!(f, "{sign}{units}.{part:03}"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn writes_short_numbers() {
        let short = |x: f64| number(x).to_string();
        assert_eq!((short(1.0), short(0.12345), short(-0.00001)), ("1".into(), "0.123".into(), "0".into()));
    }

    #[test]
    fn agrees_with_the_shortest_digits_of_the_library() {
        for k in (-3000..3000).chain([123_450, -99_990, 190_000, 1_000_001]) {
            let x = f64::from(k) / 1000.0;
            assert_eq!(number(x).to_string(), format!("{}", x + 0.0));
        }
        assert_eq!(number(f64::NAN).to_string(), "NaN");
    }
}
