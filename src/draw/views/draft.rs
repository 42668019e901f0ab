//! One view of a line while it is being drawn, and the search for scale and room.
use super::centreline::Drawn;
use crate::draw::hand::font::{self, SIZE_MM, line_height, middle_to_baseline};
use crate::draw::hand::geo::{Quad, V2, v2};
use crate::draw::hand::scale::Scale;
use crate::draw::hand::scene::{Mark, Scene};
use crate::draw::hand::text::{Align, Text};
use crate::draw::hand::words::route_in_words;
use crate::draw::placer::board::Board;
use crate::draw::subject::LinePicture;
use glam::DVec3;

/// Height kept under a view for its scale bar, mm.
const BAR_MM: f64 = 9.0;
/// The least height of a view, mm.
const LEAST_FRAME_MM: f64 = 36.0;
/// From side to side, words keep so far from the edge, mm.
const EDGE_MM: f64 = 0.5;

/// How a view differs from the others in what it says and shows.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Manner {
    /// A round thing shows so many times its size: on isometric paper, where lengths along the axes are
    /// kept, 1.22 times.
    pub swell: f64,
    /// Whether flags tell everything; other views say only what a flag there says.
    pub tells_all: bool,
    /// Whether a bend may show as a straight, so that it needs a tick.
    pub unrolled: bool,
}

/// A try at drawing a view.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Attempt {
    /// How many preferred scales below the largest that fits.
    pub smaller: usize,
    /// Height beyond the area, mm.
    pub taller_mm: f64,
    /// A view that falls as short as this is lost, and need not be finished.
    pub lost_at: f64,
}

/// How far short a view may fall before height is given up for it, and before scale is.
const BEARABLE: f64 = 6.0;
const POOR: f64 = 15.0;
/// How much better a try for height or scale has to be: it costs what it gains by.
const TRIFLE: f64 = 2.0;
/// With so much height left over and under the line, more of it finds room for no more words, mm.
const AMPLE_MM: f64 = 60.0;
/// Less height than this is not worth a try, mm.
const LITTLE_MM: f64 = 8.0;
/// A smaller scale is not tried where the next is less than this part of the largest that fits.
const STEP: f64 = 0.6;

/// Words under the drawing.
pub struct Note {
    /// The mark they belong to, without words yet.
    pub mark: Mark,
    pub words: String,
    /// Orders the notes by what they speak of.
    pub about: About,
    /// How much worse the drawing is for it.
    pub penalty: f64,
}

/// What a note speaks of, in the order of writing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum About {
    Leg,
    Bend,
    Branch,
    Cut,
    Member,
    Hose,
    Finding,
    Level,
    Name,
}

/// A view in the making.
pub struct Draft<'a> {
    pub p: &'a LinePicture<'a>,
    pub manner: Manner,
    pub drawn: Drawn,
    pub scale: Scale,
    pub board: Board,
    pub marks: Vec<Mark>,
    /// What found no room, in whole or in part.
    pub notes: Vec<Note>,
    /// Diameter of the tube on paper, mm.
    pub tube_mm: f64,
    /// Stretches of the hose path where the line passes under another part of itself.
    pub under: Vec<(f64, f64)>,
    lost_at: f64,
}

impl<'a> Draft<'a> {
    /// An empty view with its line settled.
    pub fn new(
        p: &'a LinePicture<'a>,
        manner: Manner,
        drawn: Drawn,
        scale: Scale,
        attempt: &Attempt,
    ) -> Self {
        Draft {
            p,
            manner,
            drawn,
            scale,
            board: Board::new(frame(p, attempt)),
            marks: Vec::new(),
            notes: Vec::new(),
            tube_mm: p.tube_outside_m * scale.mm_per_m() * manner.swell,
            under: Vec::new(),
            lost_at: attempt.lost_at,
        }
    }

    /// Half the width of what is drawn as tube, mm.
    pub fn tube_half(&self) -> f64 {
        if self.two_lines() { self.tube_mm / 2.0 } else { 0.25 }
    }

    /// Whether the tube is wide enough to be drawn as two lines.
    pub fn two_lines(&self) -> bool {
        self.tube_mm > 1.0
    }

    /// Half the width of tube and hose band, mm.
    pub fn band_half(&self) -> f64 {
        if self.p.hose.is_some() { (self.tube_half() + 0.5).max(1.0) } else { self.tube_half() }
    }

    /// Keeps a mark that found no room as a note.
    pub fn note(&mut self, about: About, mark: Mark, words: impl Into<String>) {
        self.leave(Note { mark, words: words.into(), about, penalty: 3.0 });
    }

    /// Tells under the drawing what stands on it in short.
    pub fn key(&mut self, about: About, words: impl Into<String>) {
        if self.p.listed && matches!(about, About::Bend | About::Branch | About::Cut) {
            return;
        }
        let mark = Mark::new("key", "");
        self.leave(Note { mark, words: words.into(), about, penalty: 1.0 });
    }

    /// Keeps a note; what falls short only grows, so a lost try is not laboured at further.
    fn leave(&mut self, note: Note) {
        self.notes.push(note);
        if self.lost() {
            self.board.close();
        }
    }

    /// Whether the view can no longer win, so that its later words need not be placed.
    pub fn lost(&self) -> bool {
        self.penalty() >= self.lost_at
    }

    /// How far the view falls short of one with all its words in place.
    fn penalty(&self) -> f64 {
        self.notes.iter().map(|note| note.penalty).sum::<f64>() + self.board.strain / 150.0
    }

    /// How much more height a try may take, where the line leaves too little over and under it for its words, mm.
    fn taller_mm(&self) -> f64 {
        let (lo, hi) = self.drawn.bounds();
        let left_mm = self.board.frame.max.y - self.board.frame.min.y - (hi.y - lo.y);
        if left_mm < AMPLE_MM { self.p.spare_mm } else { 0.0 }
    }

    /// How many scales smaller a try may be: one, where that is no great step. A run that is broken would be drawn
    /// whole at it, and so far smaller.
    fn smaller(&self) -> usize {
        let broken = self.drawn.legs.iter().any(|leg| leg.cut.is_some());
        let smaller = Scale::preferred(&self.p.say).iter().find(|scale| scale.ratio > self.scale.ratio);
        let near = smaller.is_some_and(|other| other.mm_per_m() >= STEP * self.scale.mm_per_m());
        usize::from(near && !broken)
    }

    /// The scene: trimmed to what is drawn, scale bar and notes under it.
    pub fn finish(self) -> Scene {
        let p = self.p;
        let mut scene = Scene {
            prefix: p.prefix.clone(),
            title: p.title.clone(),
            desc: route_in_words(&p.line, &p.say),
            size_mm: p.area_mm,
            scale: Some(self.scale.words().to_string()),
            marks: self.marks,
        };
        let (top, bottom) = scene.heights();
        scene.shift(1.0 - top);
        let bar_at = v2(EDGE_MM + 1.0, bottom - top + 9.0);
        let (bar, place) = self.scale.bar(&p.say, bar_at, p.area_mm.0 - 2.0);
        scene.marks.push(bar);
        let end = under_notes(&mut scene, self.notes, place.max.y);
        scene.size_mm = (p.area_mm.0, end + 1.0);
        scene
    }
}

/// A line seen along straight rays, each work point at its place on paper, in the middle of the frame.
///
/// `project` takes metres in the job to paper, in the same metres; `margin_mm` is kept
/// free all round.
pub fn projected(
    p: &LinePicture,
    attempt: &Attempt,
    project: impl Fn(DVec3) -> V2,
    margin_mm: f64,
) -> Projected {
    let frame = frame(p, attempt);
    let mut work = vec![project(p.line.start)];
    work.extend(p.line.legs.iter().map(|leg| project(leg.to)));
    let reach = work.iter().fold((V2::MAX, V2::MIN), |(lo, hi), at| (lo.min(*at), hi.max(*at)));
    let room = (frame.max - frame.min - v2(2.0, 2.0) * margin_mm).max(v2(25.0, 25.0));
    let all = Scale::preferred(&p.say);
    let index = Scale::fitting(&p.say, reach.1 - reach.0, room) + attempt.smaller;
    let scale = all[index.min(all.len() - 1)];
    let shift = frame.middle() - (reach.0 + reach.1) / 2.0 * scale.mm_per_m();
    let at = |point: V2| point * scale.mm_per_m() + shift;
    work.iter_mut().for_each(|point| *point = at(*point));
    let angles: Vec<f64> = p.line.bends.iter().map(|bend| bend.angle_deg.to_radians()).collect();
    Projected { drawn: Drawn::new(&p.line, &work, &angles, &[]), scale, shift }
}

/// A line in its place, and how to put other points beside it: paper metres times the scale, plus the shift.
pub struct Projected {
    pub drawn: Drawn,
    pub scale: Scale,
    pub shift: V2,
}

/// The frame within which an attempt places words.
pub fn frame(p: &LinePicture, attempt: &Attempt) -> Quad {
    let (w, h) = p.area_mm;
    Quad::rect(v2(EDGE_MM, 0.0), v2(w - EDGE_MM, (h - BAR_MM + attempt.taller_mm).max(LEAST_FRAME_MM)))
}

/// Draws, and where much finds no room draws again: taller where the line fills the height and the sheet has more
/// of it, then to a smaller scale. Of what was drawn, that which falls least short.
pub fn search<'a>(draw: impl Fn(&Attempt) -> Draft<'a>) -> Scene {
    let mut best = draw(&Attempt { smaller: 0, taller_mm: 0.0, lost_at: f64::MAX });
    let (taller_mm, steps) = (best.taller_mm(), best.smaller());
    for (smaller, taller_mm, bearable) in [(0, taller_mm, BEARABLE), (steps, 0.0, POOR)] {
        if (smaller > 0 || taller_mm > LITTLE_MM) && best.penalty() >= bearable {
            let lost_at = best.penalty() - TRIFLE;
            let other = draw(&Attempt { smaller, taller_mm, lost_at });
            if other.penalty() < lost_at {
                best = other;
            }
        }
    }
    best.finish()
}

/// Writes notes one after another in rows from `y` down, and answers where they end.
pub fn under_notes(scene: &mut Scene, mut notes: Vec<Note>, y: f64) -> f64 {
    notes.sort_by_key(|note| note.about);
    let (left, right) = (EDGE_MM + 1.0, scene.size_mm.0 - EDGE_MM - 1.0);
    let row = line_height(SIZE_MM) + 0.2;
    let any = !notes.is_empty();
    let (mut x, mut top) = (left, y + if any { 1.5 } else { 0.0 });
    for Note { mut mark, words, .. } in notes {
        let lines = font::wrapped(&words, SIZE_MM, right - left);
        let wide = lines.iter().map(|l| font::width(l, SIZE_MM, false)).fold(0.0, f64::max);
        if x > left && x + wide > right {
            (x, top) = (left, top + row);
        }
        for (i, line) in lines.iter().enumerate() {
            let base = top + row * i as f64 + line_height(SIZE_MM) / 2.0 + middle_to_baseline(SIZE_MM);
            mark.text(Text::plain(v2(x, base), line, Align::Start));
        }
        top += row * lines.len().saturating_sub(1) as f64;
        x = if lines.len() > 1 { right } else { x + wide + 6.0 };
        scene.marks.push(mark);
    }
    if any { top + row } else { top }
}
