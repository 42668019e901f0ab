//! Drawings that are not of one raceway: shapes first, then words through the same placer.
use super::around::{beside, round};
use super::board::Board;
use super::labels::{Label, place_label};
use super::what::What;
use crate::draw::hand::font::{SIZE_MM, line_height, width, wrapped};
use crate::draw::hand::geo::{Quad, V2, v2};
use crate::draw::hand::scale::Scale;
use crate::draw::hand::scene::{Mark, Pen, Scene, Segment, Shape};
use crate::draw::hand::text::{Align, Text};
use crate::measure::Say;

/// A drawing in the making.
pub struct Paper {
    pub scene: Scene,
    pub board: Board,
    /// Words without room, to stand under the drawing.
    left: Vec<String>,
}

impl Paper {
    /// An empty one.
    pub fn new(prefix: &str, title: &str, desc: String, area_mm: (f64, f64)) -> Paper {
        let scene = Scene {
            prefix: prefix.into(),
            title: title.into(),
            desc,
            size_mm: area_mm,
            scale: None,
            marks: Vec::new(),
        };
        Paper { scene, board: Board::new(Paper::frame(area_mm)), left: Vec::new() }
    }

    /// Where words and strokes of a drawing of so large an area may stand.
    pub fn frame(area_mm: (f64, f64)) -> Quad {
        Quad::rect(v2(0.5, 0.0), v2(area_mm.0 - 0.5, area_mm.1.max(30.0)))
    }

    /// Adds a mark, its strokes and words taking room.
    pub fn add(&mut self, mark: Mark) {
        self.take(&mark, What::Object);
        self.scene.marks.push(mark);
    }

    /// Adds a mark over whose strokes leaders may pass freely.
    pub fn add_light(&mut self, mark: Mark) {
        self.take(&mark, What::Hatch);
        self.scene.marks.push(mark);
    }

    /// Adds a mark after all words have their places, so that it need take no room.
    pub fn add_last(&mut self, mark: Mark) {
        self.scene.marks.push(mark);
    }

    fn take(&mut self, mark: &Mark, what: What) {
        for text in mark.texts() {
            self.board.take(text.line_box(), What::Words);
        }
        for shape in &mark.shapes {
            let Shape::Path { steps, pen, .. } = shape else {
                continue;
            };
            let half = if *pen == Pen::Thick { 0.25 } else { 0.13 };
            let (mut at, mut first) = (V2::ZERO, V2::ZERO);
            for step in steps {
                let to = match *step {
                    Segment::Move(p) => {
                        (at, first) = (p, p);
                        continue;
                    }
                    Segment::Line(p) | Segment::Cubic(_, _, p) => p,
                    Segment::Close => first,
                };
                self.board.take_line(at, to, half, what);
                at = to;
            }
        }
    }

    /// Words at a point, close by or with a leader; without room they go under the drawing.
    pub fn label(&mut self, words: &str, at: V2, favoured: V2) {
        let label = Label::words(words);
        let mut mark = Mark::new("label", words);
        let size = label.size();
        let places = (beside(at, size, 0.9, favoured), [round(at, size, favoured).dearer(2.0)]);
        if place_label(&mut self.board, &mut mark, &label, places, f64::MAX) {
            self.scene.marks.push(mark);
        } else {
            self.left.push(words.into());
        }
    }

    /// Words that go under the drawing.
    pub fn left_out(&mut self, words: String) {
        self.left.push(words);
    }

    /// The scene, trimmed to its height, with what found no room under it.
    pub fn finish(mut self) -> Scene {
        let (top, mut bottom) = self.scene.heights();
        for line in in_rows(std::mem::take(&mut self.left), self.scene.size_mm.0 - 2.0) {
            bottom += line_height(SIZE_MM) + 0.2;
            let mut mark = Mark::new("key", "");
            for (x, words) in line {
                mark.text(Text::plain(v2(1.0 + x, bottom - 0.9), words, Align::Start));
            }
            self.scene.marks.push(mark);
        }
        self.scene.shift(1.0 - top);
        self.scene.size_mm.1 = bottom - top + 2.0;
        self.scene
    }

    /// The same of a drawing to scale, with the scale bar under all.
    pub fn finish_to_scale(self, scale: &Scale, say: &Say) -> Scene {
        let wide_mm = self.scene.size_mm.0 - 2.0;
        let mut scene = self.finish();
        let bottom = scene.heights().1;
        let (bar, place) = scale.bar(say, v2(1.5, bottom + 8.0), wide_mm);
        scene.marks.push(bar);
        scene.scale = Some(scale.words().to_string());
        scene.size_mm.1 = place.max.y + 1.0;
        scene
    }
}

/// Words side by side in rows as wide as `room_mm`, each with where it begins; one that is wider is wrapped.
fn in_rows(all: Vec<String>, room_mm: f64) -> Vec<Vec<(f64, String)>> {
    let (mut rows, mut x): (Vec<Vec<(f64, String)>>, f64) = (Vec::new(), f64::MAX);
    for words in all {
        for line in wrapped(&words, SIZE_MM, room_mm) {
            let wide = width(&line, SIZE_MM, false);
            if x + wide > room_mm {
                rows.push(Vec::new());
                x = 0.0;
            }
            if let Some(row) = rows.last_mut() {
                row.push((x, line));
            }
            x += wide + 6.0;
        }
    }
    rows
}
