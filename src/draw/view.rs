//! One view of a raceway while it is being drawn, and the search for scale and room.
use super::font::{self, SIZE_MM, line_height, middle_to_baseline};
use super::geo::{Quad, V2, v2};
use super::line::Drawn;
use super::place::Board;
use super::scale::Scale;
use super::scene::{Anchor, Mark, Scene, Shape, Step, Text};
use super::subject::RacewayPicture;
use super::words::route_in_words;

/// Height kept under a view for its scale bar, mm.
const BAR_MM: f64 = 9.0;
/// From side to side, words keep so far from the edge, mm.
const EDGE_MM: f64 = 0.5;

/// Which way the raceway is looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    Elevation,
    Plan,
    Isometric,
}

/// A try at drawing a view.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Attempt {
    /// How many preferred scales below the largest that fits.
    pub smaller: usize,
    /// How short flags are kept, 0 for full.
    pub terse: usize,
    /// Height beyond the area, mm.
    pub taller_mm: f64,
}

/// The tries, in the order of liking: a smaller scale is worse than a terser flag, a taller sheet worse
/// than both, and what then finds no room becomes a note.
pub const ATTEMPTS: [Attempt; 6] = [
    Attempt {
        smaller: 0,
        terse: 0,
        taller_mm: 0.0,
    },
    Attempt {
        smaller: 0,
        terse: 1,
        taller_mm: 0.0,
    },
    Attempt {
        smaller: 1,
        terse: 1,
        taller_mm: 0.0,
    },
    Attempt {
        smaller: 0,
        terse: 1,
        taller_mm: 25.0,
    },
    Attempt {
        smaller: 1,
        terse: 2,
        taller_mm: 25.0,
    },
    Attempt {
        smaller: 1,
        terse: 2,
        taller_mm: 60.0,
    },
];

/// A view in the making.
pub struct View<'a> {
    pub p: &'a RacewayPicture<'a>,
    pub kind: Kind,
    pub drawn: Drawn,
    pub scale: Scale,
    pub board: Board,
    pub marks: Vec<Mark>,
    /// What found no room: the mark without words, and its words.
    pub notes: Vec<(Mark, String)>,
    /// What is written by number on the drawing, told in full under it.
    pub keys: Vec<(Mark, String)>,
    /// Diameter of the tube on paper, mm.
    pub tube_mm: f64,
    pub terse: usize,
    /// Stretches of the hose path where the line passes under another part of itself.
    pub under: Vec<(f64, f64)>,
}

impl<'a> View<'a> {
    /// An empty view with its line settled.
    pub fn new(p: &'a RacewayPicture<'a>, kind: Kind, drawn: Drawn, scale: Scale, attempt: &Attempt) -> Self {
        // On isometric paper, where lengths along the axes are kept, a round thing shows 1.22 times its size.
        let swell = if kind == Kind::Isometric {
            1.5_f64.sqrt()
        } else {
            1.0
        };
        View {
            p,
            kind,
            drawn,
            scale,
            board: Board::new(frame(p, attempt)),
            marks: Vec::new(),
            notes: Vec::new(),
            keys: Vec::new(),
            tube_mm: p.tube_outside_m * scale.mm_per_m() * swell,
            terse: attempt.terse,
            under: Vec::new(),
        }
    }

    /// Half the width of what is drawn as tube, mm.
    pub fn tube_half(&self) -> f64 {
        if self.two_lines() {
            self.tube_mm / 2.0
        } else {
            0.25
        }
    }

    /// Whether the tube is wide enough to be drawn as two lines.
    pub fn two_lines(&self) -> bool {
        self.tube_mm > 1.0
    }

    /// Half the width of tube and hose band, mm.
    pub fn band_half(&self) -> f64 {
        if self.p.hose.is_some() {
            (self.tube_half() + 0.5).max(1.0)
        } else {
            self.tube_half()
        }
    }

    /// Keeps a mark whose words found no room as a note.
    pub fn note(&mut self, mark: Mark, words: impl Into<String>) {
        self.notes.push((mark, words.into()));
    }

    /// The scene: trimmed to what is drawn, scale bar and notes under it.
    pub fn finish(self) -> Scene {
        let p = self.p;
        let mut scene = Scene {
            prefix: p.prefix.clone(),
            title: p.title.clone(),
            desc: route_in_words(p.route, &p.say),
            size_mm: p.area_mm,
            scale: Some(self.scale.words().to_string()),
            marks: self.marks,
        };
        let (top, bottom) = heights(&scene);
        scene.shift(1.0 - top);
        let bar_at = v2(EDGE_MM + 1.0, bottom - top + 9.0);
        let (bar, place) = self.scale.bar(&p.say, bar_at, p.area_mm.0 - 2.0);
        scene.marks.push(bar);
        let notes = self.keys.into_iter().chain(self.notes).collect();
        let end = under_notes(&mut scene, notes, place.max.y);
        scene.size_mm = (p.area_mm.0, end + 1.0);
        scene
    }
}

/// The frame within which an attempt places words.
pub fn frame(p: &RacewayPicture, attempt: &Attempt) -> Quad {
    let (w, h) = p.area_mm;
    Quad::rect(
        v2(EDGE_MM, 0.0),
        v2(w - EDGE_MM, (h - BAR_MM + attempt.taller_mm).max(40.0)),
    )
}

/// Tries until nothing is left over; else the try that left least.
pub fn search<'a>(draw: impl Fn(&Attempt) -> View<'a>) -> Scene {
    let mut best: Option<View<'a>> = None;
    for attempt in &ATTEMPTS {
        let view = draw(attempt);
        if view.notes.is_empty() {
            return view.finish();
        }
        if best.as_ref().is_none_or(|b| view.notes.len() < b.notes.len()) {
            best = Some(view);
        }
    }
    best.unwrap_or_else(|| draw(&ATTEMPTS[0])).finish()
}

/// Writes notes in rows from `y` down, and answers where they end.
pub fn under_notes(scene: &mut Scene, notes: Vec<(Mark, String)>, y: f64) -> f64 {
    let mut y = y + if notes.is_empty() { 0.0 } else { 1.5 };
    for (mut mark, words) in notes {
        for line in font::wrapped(&words, SIZE_MM, scene.size_mm.0 - 3.0) {
            let base = y + line_height(SIZE_MM) / 2.0 + middle_to_baseline(SIZE_MM);
            mark.text(Text::plain(v2(EDGE_MM + 1.0, base), line, Anchor::Start));
            y += line_height(SIZE_MM) + 0.2;
        }
        scene.marks.push(mark);
    }
    y
}

/// Top and bottom of everything drawn.
pub fn heights(scene: &Scene) -> (f64, f64) {
    let mut reach = (f64::MAX, f64::MIN);
    let mut add = |p: &V2| reach = (reach.0.min(p.y), reach.1.max(p.y));
    for shape in scene.marks.iter().flat_map(|mark| &mark.shapes) {
        match shape {
            Shape::Text(text) => font::text_box(text).corners.iter().for_each(&mut add),
            Shape::Path { steps, .. } => steps.iter().for_each(|step| match step {
                Step::Move(p) | Step::Line(p) => add(p),
                Step::Cubic(a, b, c) => [a, b, c].into_iter().for_each(&mut add),
                Step::Close => {}
            }),
        }
    }
    if reach.0 > reach.1 { (0.0, 0.0) } else { reach }
}
