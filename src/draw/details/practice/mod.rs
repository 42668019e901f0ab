//! Work by hand, right on the left and wrong on the right: what a person looks at who ticks a line. These are
//! sketches, not to scale, and hold no figure: limits stand in the clause alone.
mod air;
mod house;
mod joint;
mod valve;

use crate::company::Practice;
use crate::draw::hand::font::{SIZE_MM, line_height};
use crate::draw::hand::geo::{Quad, V2, hatch, v2};
use crate::draw::hand::scene::{Fill, Mark, Pen, Scene};
use crate::draw::placer::labels::centred;
use crate::draw::placer::paper::Paper;

/// Width and height of one half, mm, and the room between the halves.
const HALF_MM: (f64, f64) = (70.0, 40.0);
const BETWEEN_MM: f64 = 8.0;
/// Where the halves begin: under their headings.
const TOP_MM: f64 = 8.0;

/// What a sketch shows: its title, and the right and the wrong of it in a sentence each.
struct Shown {
    title: &'static str,
    right: &'static str,
    wrong: &'static str,
    draw: fn(&mut Half, bool),
}

/// How the halves stand: right and wrong beside each other on paper, the one over the other on a phone.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Halves {
    Beside,
    Over,
}

impl Halves {
    /// From the first half to the second, mm.
    fn step(self) -> V2 {
        match self {
            Halves::Beside => v2(HALF_MM.0 + BETWEEN_MM, 0.0),
            Halves::Over => v2(0.0, HALF_MM.1 + TOP_MM + BETWEEN_MM),
        }
    }
}

/// Draws a sketch; `prefix` begins its ids.
pub fn practice(of: Practice, halves: Halves, prefix: &str) -> Scene {
    let shown = shown(of);
    let step = halves.step();
    let area_mm = (HALF_MM.0 + step.x, HALF_MM.1 + TOP_MM + step.y);
    let mut paper = Paper::new(prefix, shown.title, in_words(shown), area_mm);
    for (nth, name) in ["RIGHT", "WRONG"].into_iter().enumerate() {
        let at = v2(0.0, TOP_MM) + step * nth as f64;
        let mut heading = Mark::new("heading", name);
        let middle = at + v2(HALF_MM.0 / 2.0, -TOP_MM + line_height(SIZE_MM) / 2.0 + 0.5);
        heading.text(centred(middle, name, 0.0).bold());
        paper.add(heading);
    }
    let mut between = Mark::new("divide", "");
    match halves {
        Halves::Beside => {
            let x = step.x - BETWEEN_MM / 2.0;
            between.line(v2(x, 1.0), v2(x, area_mm.1 - 1.0), Pen::Thin);
        }
        Halves::Over => {
            let y = step.y - BETWEEN_MM / 2.0;
            between.line(v2(1.0, y), v2(area_mm.0 - 1.0, y), Pen::Thin);
        }
    }
    paper.add(between);
    // Words come after all shapes, so that none of one half land on the other.
    let mut words = Vec::new();
    for (nth, right) in [true, false].into_iter().enumerate() {
        let at = v2(0.0, TOP_MM) + step * nth as f64;
        let mut half = Half { paper: &mut paper, at, words: Vec::new() };
        (shown.draw)(&mut half, right);
        words.append(&mut half.words);
    }
    for (text, at, favoured) in words {
        paper.label(text, at, favoured);
    }
    paper.finish()
}

/// The title of a sketch, and its right and wrong in words: `Right: …. Wrong: ….`
pub fn practice_shown(of: Practice) -> (&'static str, String) {
    let shown = shown(of);
    (shown.title, in_words(shown))
}

fn in_words(shown: &Shown) -> String {
    format!("Right: {}. Wrong: {}.", shown.right, shown.wrong)
}

/// What is shown of a practice.
fn shown(of: Practice) -> &'static Shown {
    match of {
        Practice::SquareCut => &joint::SQUARE_CUT,
        Practice::Deburr => &joint::DEBURR,
        Practice::Cement => &joint::CEMENT,
        Practice::FullDepth => &joint::FULL_DEPTH,
        Practice::StopSet => &joint::STOP_SET,
        Practice::Fireblock => &house::FIREBLOCK,
        Practice::ShieldPlate => &house::SHIELD_PLATE,
        Practice::Strap => &house::STRAP,
        Practice::ControlWire => &house::CONTROL_WIRE,
        Practice::Gasket => &air::GASKET,
        Practice::LeakTest => &air::LEAK_TEST,
        Practice::Exhaust => &air::EXHAUST,
        Practice::RoundTube => &joint::ROUND_TUBE,
        Practice::Probe => &house::PROBE,
        Practice::GarageWall => &house::GARAGE_WALL,
        Practice::MasonryDust => &house::MASONRY_DUST,
        Practice::Plumb => &valve::PLUMB,
        Practice::Covered => &valve::COVERED,
        Practice::WireSlack => &valve::WIRE_SLACK,
        Practice::TightBox => &valve::TIGHT_BOX,
        Practice::CuffSeat => &valve::CUFF_SEAT,
        Practice::HoseHome => &valve::HOSE_HOME,
        Practice::OwnerSheet => &house::OWNER_SHEET,
    }
}

/// A place over the middle of a half, as far under it.
fn mirrored((x, y): (f64, f64)) -> (f64, f64) {
    (x, HALF_MM.1 - y)
}

/// One half of a sketch; places are in mm from its upper left corner.
struct Half<'p> {
    paper: &'p mut Paper,
    at: V2,
    words: Vec<(&'static str, V2, V2)>,
}

impl Half<'_> {
    fn place(&self, (x, y): (f64, f64)) -> V2 {
        self.at + v2(x, y)
    }

    /// Something cut open, from one corner to the other.
    fn cut(&mut self, name: &'static str, from: (f64, f64), to: (f64, f64)) {
        self.shape(name, &[from, (to.0, from.1), to, (from.0, to.1)]);
    }

    /// The same and its mirror image below the middle of the half: the two walls of a tube that lies.
    fn cut_both(&mut self, name: &'static str, from: (f64, f64), to: (f64, f64)) {
        self.cut(name, from, to);
        self.cut(name, mirrored(from), mirrored(to));
    }

    /// The same with any corners.
    fn shape(&mut self, name: &'static str, corners: &[(f64, f64)]) {
        let corners: Vec<V2> = corners.iter().map(|corner| self.place(*corner)).collect();
        let mut mark = Mark::new(name, name);
        mark.lines(&hatch(&corners, 1.2, true), Pen::Thin);
        mark.polygon(&corners, Pen::Thick, Fill::None);
        self.paper.add(mark);
    }

    /// Something filled: cement, steel, sealant.
    fn filled(&mut self, name: &'static str, corners: &[(f64, f64)], fill: Fill) {
        let corners: Vec<V2> = corners.iter().map(|corner| self.place(*corner)).collect();
        let mut mark = Mark::new(name, name);
        mark.polygon(&corners, Pen::Thin, fill);
        self.paper.add(mark);
    }

    /// The same in black, and its mirror image below the middle of the half.
    fn black_both(&mut self, name: &'static str, corners: &[(f64, f64)]) {
        let below: Vec<(f64, f64)> = corners.iter().copied().map(mirrored).collect();
        self.filled(name, corners, Fill::Black);
        self.filled(name, &below, Fill::Black);
    }

    /// A black bar of cement, steel or sealant, from one corner to the other.
    fn solid(&mut self, name: &'static str, from: (f64, f64), to: (f64, f64)) {
        self.filled(name, &[from, (to.0, from.1), to, (from.0, to.1)], Fill::Black);
    }

    /// An open box.
    fn open(&mut self, name: &'static str, from: (f64, f64), to: (f64, f64)) {
        let (a, b) = (self.place(from), self.place(to));
        let mut mark = Mark::new(name, name);
        mark.polygon(&Quad::rect(a, b).corners, Pen::Thick, Fill::White);
        self.paper.add(mark);
    }

    fn ring(&mut self, name: &'static str, middle: (f64, f64), radius: f64, fill: Fill) {
        let middle = self.place(middle);
        let mut mark = Mark::new(name, name);
        mark.circle(middle, radius, Pen::Thick, fill);
        self.paper.add(mark);
    }

    /// A row of lines from point to point.
    fn line(&mut self, name: &'static str, points: &[(f64, f64)], pen: Pen) {
        let points: Vec<V2> = points.iter().map(|point| self.place(*point)).collect();
        let mut mark = Mark::new(name, name);
        points.windows(2).for_each(|ends| mark.line(ends[0], ends[1], pen));
        self.paper.add(mark);
    }

    /// Two level lines from one x to the other: a tube or a cable from outside.
    fn level_pair(&mut self, name: &'static str, (from, to): (f64, f64), heights: [f64; 2]) {
        for y in heights {
            self.line(name, &[(from, y), (to, y)], Pen::Thick);
        }
    }

    /// A line with a head at its end.
    fn arrow(&mut self, name: &'static str, from: (f64, f64), to: (f64, f64)) {
        let (a, b) = (self.place(from), self.place(to));
        let along = (b - a).normalize_or_zero() * 2.2;
        let across = v2(-along.y, along.x) * 0.4;
        let mut mark = Mark::new(name, name);
        mark.line(a, b, Pen::Thick);
        mark.line(b, b - along + across, Pen::Thick);
        mark.line(b, b - along - across, Pen::Thick);
        self.paper.add(mark);
    }

    /// Words at a place, led to it from the side that is favoured.
    fn say(&mut self, words: &'static str, at: (f64, f64), favoured: (f64, f64)) {
        let at = self.place(at);
        self.words.push((words, at, v2(favoured.0, favoured.1)));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::company::PRACTICES;

    #[test]
    fn every_sketch_says_all_its_words_inside_its_frame() {
        let mut faults = Vec::new();
        for (of, halves) in PRACTICES.iter().flat_map(|(_, of)| [(*of, Halves::Beside), (*of, Halves::Over)])
        {
            let scene = practice(of, halves, "p");
            let words: Vec<&str> = scene.of_kind("label").map(|mark| mark.title.as_str()).collect();
            assert!(words.len() >= 3, "{of:?}: {words:?}");
            let roomless = scene.of_kind("key").flat_map(Mark::texts);
            faults.extend(roomless.map(|text| format!("{of:?}, {halves:?}: no room for {}", text.words)));
            let frame = Quad::rect(v2(0.0, -0.5), v2(scene.size_mm.0, scene.size_mm.1 + 0.5));
            for text in scene.marks.iter().flat_map(Mark::texts) {
                assert!(text.line_box().inside(&frame), "{of:?}: {text:?}");
            }
        }
        assert!(faults.is_empty(), "{}", faults.join("\n"));
    }

    #[test]
    fn right_and_wrong_are_not_the_same_shapes() {
        for (_, of) in PRACTICES {
            let scene = practice(of, Halves::Beside, "p");
            let divide = HALF_MM.0 + BETWEEN_MM / 2.0;
            let of_half = |right: bool| -> Vec<String> {
                let shapes =
                    scene.marks.iter().filter(|mark| !["label", "heading", "divide"].contains(&mark.kind));
                let corners = shapes.flat_map(|mark| &mark.shapes).flat_map(|shape| shape.corners());
                let of_it = corners.filter(|at| (at.x < divide) == right);
                let back = if right { 0.0 } else { HALF_MM.0 + BETWEEN_MM };
                of_it.map(|at| format!("{:.1} {:.1}", at.x - back, at.y)).collect()
            };
            assert_ne!(of_half(true), of_half(false), "{of:?}");
        }
    }
}
