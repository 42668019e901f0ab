//! A line of text on the paper, measured with the font it is set in.
use super::font;
use super::geo::{Quad, V2, v2};

/// Where a text's point lies along it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Align {
    Start,
    Middle,
    End,
}

/// A line of text.
#[derive(Debug, Clone, PartialEq)]
pub struct Text {
    /// On the baseline.
    pub at: V2,
    pub words: String,
    pub size_mm: f64,
    pub bold: bool,
    /// White on black.
    pub reversed: bool,
    pub anchor: Align,
    /// Clockwise on paper, degrees, above -90.1 and up to 90.
    pub angle_deg: f64,
}

impl Text {
    /// Ordinary upright text.
    pub fn plain(at: V2, words: impl Into<String>, anchor: Align) -> Text {
        Text {
            at,
            words: words.into(),
            size_mm: font::SIZE_MM,
            bold: false,
            reversed: false,
            anchor,
            angle_deg: 0.0,
        }
    }

    /// The same in bold.
    pub fn bold(mut self) -> Text {
        self.bold = true;
        self
    }

    /// The line box of a text, turned as the text is.
    pub fn line_box(&self) -> Quad {
        let w = font::width(&self.words, self.size_mm, self.bold);
        let x0 = match self.anchor {
            Align::Start => 0.0,
            Align::Middle => -w / 2.0,
            Align::End => -w,
        };
        let (top, bottom) = (-font::ASCENT * self.size_mm, font::DESCENT * self.size_mm);
        let turn = V2::from_angle(self.angle_deg.to_radians());
        let corner = |x, y| self.at + turn.rotate(v2(x, y));
        Quad::new([corner(x0, top), corner(x0 + w, top), corner(x0 + w, bottom), corner(x0, bottom)])
    }
}
