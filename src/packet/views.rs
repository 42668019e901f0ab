//! The three views of a line on the sheet that they share: how high each is made.
use super::pictures::written;
use super::subjects::line;
use super::worked::Pictures;
use crate::draw::{self, LinePicture, SPARE_MM, Scene};
use crate::work::Work;

/// Width of an elevation, and of a plan or an isometric, two beside each other, mm.
const ELEVATION_MM: f64 = 186.0;
const VIEW_MM: f64 = 91.0;
/// The most height given to a view of an inlet and of a trunk, and the least, mm.
const INLET_MM: f64 = 94.0;
const TRUNK_MM: f64 = 66.0;
const LEAST_MM: f64 = 38.0;
/// With less than this left for them they have the room of the route in words as well, mm.
const LOW_MM: f64 = 60.0;
/// Height of a drawing's caption over a cut list and what is kept free round it, mm.
const CAPTION_MM: f64 = 7.0;
/// How often a view is drawn lower that came out too high for its words, and by how much at least, mm: the next
/// preferred scale is wanted.
const LOWERED: usize = 2;
const LOWER_MM: f64 = 12.0;

/// The three views of a line, not written out yet.
#[derive(Default)]
pub struct Views {
    elevation: Option<Scene>,
    plan: Option<Scene>,
    isometric: Option<Scene>,
}

/// Whose views are wanted, and how.
struct Wanted<'a> {
    work: &'a Work<'a>,
    /// The line, among all of the job.
    line: usize,
    /// Whether its cut list stands on the sheet too.
    listed: bool,
    /// The most height given to a view.
    most_mm: f64,
}

/// A view of a line that is still to be drawn.
struct Asked<'a> {
    picture: LinePicture<'a>,
    draw: fn(&LinePicture) -> Scene,
    most_mm: f64,
}

impl Views {
    /// The views of an inlet: in the first height where they need not be low for it, else in the second, which
    /// has the room of the route in words as well.
    pub fn of_inlet(work: &Work, line: usize, rooms_mm: (f64, f64)) -> Views {
        Wanted { work, line, listed: false, most_mm: INLET_MM }.fitted(rooms_mm)
    }

    /// The views of a trunk with their captions: all three where `room_mm` holds them, else the elevation alone,
    /// for the key on the layout shows the trunk from above and on three axes too.
    pub fn of_trunk(work: &Work, line: usize, room_mm: f64) -> Views {
        let wanted = Wanted { work, line, listed: true, most_mm: TRUNK_MM };
        let all_mm = room_mm - 2.0 * CAPTION_MM;
        if all_mm >= 2.0 * LEAST_MM {
            let views = wanted.fitted((all_mm, all_mm));
            if views.high_mm() <= all_mm {
                return views;
            }
        }
        let alone = wanted.view("elevation", draw::elevation, ELEVATION_MM);
        Views { elevation: alone.map(|mut view| view.within(room_mm - CAPTION_MM)), ..Views::default() }
    }

    /// Height of plan and isometric, which stand side by side, mm.
    fn below_mm(&self) -> f64 {
        high_mm(&self.isometric).max(high_mm(&self.plan))
    }

    /// Height of all of them, mm.
    fn high_mm(&self) -> f64 {
        high_mm(&self.elevation) + self.below_mm()
    }

    /// The views written out.
    pub fn written(&self, faults: &mut Vec<String>) -> Pictures {
        Pictures {
            elevation: written(&self.elevation, faults).unwrap_or_default(),
            plan: written(&self.plan, faults).unwrap_or_default(),
            isometric: written(&self.isometric, faults),
            ..Pictures::default()
        }
    }
}

fn high_mm(scene: &Option<Scene>) -> f64 {
    scene.as_ref().map_or(0.0, |scene| scene.size_mm.1)
}

impl<'a> Wanted<'a> {
    /// A view so wide; `None` of a line that the job does not have.
    fn view(&self, view: &str, draw: fn(&LinePicture) -> Scene, wide_mm: f64) -> Option<Asked<'a>> {
        let picture = line(self.work, self.line, view, (wide_mm, self.most_mm))?;
        let picture = LinePicture { listed: self.listed, ..picture };
        Some(Asked { picture, draw, most_mm: self.most_mm })
    }

    /// The elevation first, as if the others were as high as they may be; then plan and isometric, beside each
    /// other, in what it leaves; where they are too high for that, the elevation again, in what they leave.
    fn fitted(&self, (room_mm, all_mm): (f64, f64)) -> Views {
        let mut side = self.view("elevation", draw::elevation, ELEVATION_MM);
        let elevation = side.as_mut().map(|view| view.drawn(room_mm - self.most_mm));
        let left_mm = match room_mm - high_mm(&elevation) {
            low_mm if low_mm < LOW_MM => all_mm - high_mm(&elevation),
            left_mm => left_mm,
        };
        let below = |view: &str, draw| self.view(view, draw, VIEW_MM).map(|mut view| view.within(left_mm));
        let plan = below("plan", draw::plan);
        let views = Views { elevation, plan, isometric: below("isometric", draw::isometric) };
        if views.high_mm() <= all_mm {
            return views;
        }
        let left_mm = all_mm - views.below_mm();
        Views { elevation: side.map(|mut view| view.within(left_mm)), ..views }
    }
}

impl Asked<'_> {
    /// The view as high as what is left asks, and higher where its words want it and there is more.
    fn drawn(&mut self, left_mm: f64) -> Scene {
        let high_mm = left_mm.min(self.most_mm).max(LEAST_MM);
        self.picture.area_mm.1 = high_mm;
        self.picture.spare_mm = (left_mm - high_mm).clamp(0.0, SPARE_MM);
        (self.draw)(&self.picture)
    }

    /// The view no higher than `left_mm` where its words let it: one that comes out higher is drawn again by so
    /// much lower, and the lowest of them kept.
    fn within(&mut self, left_mm: f64) -> Scene {
        let mut lowest = self.drawn(left_mm);
        for _ in 0..LOWERED {
            let over_mm = lowest.size_mm.1 - left_mm;
            if over_mm <= 0.0 || self.picture.area_mm.1 <= LEAST_MM {
                break;
            }
            self.most_mm = self.picture.area_mm.1 - over_mm.max(LOWER_MM);
            let scene = self.drawn(self.most_mm);
            if scene.size_mm.1 < lowest.size_mm.1 {
                lowest = scene;
            }
        }
        lowest
    }
}
