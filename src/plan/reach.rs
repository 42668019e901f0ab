//! What is within reach of a valve: for every corner that the hose comes to, what that corner sees, cut by a
//! disc of what is left of the hose and of the wand; all of them together.
use super::cone::Shut;
use super::farthest::Farthest;
use super::house::{Home, House};
use super::outline::within;
use super::place::Placed;
use super::shapes::{Rings, area, difference, intersection, signed_area_m2, union_with};
use super::sight::Fan;
use super::types::P2;
use super::ways::Lie;

/// Contours stand this far apart in hose, 5 ft.
pub const STEP_M: f64 = 5.0 * 0.3048;
/// A part of a room smaller than this is rounding of the union, m².
const CRUMB_M2: f64 = 2e-4;

/// The floor that a length of hose and the wand come to.
#[derive(Debug, Clone, PartialEq)]
pub struct Region {
    pub hose_m: f64,
    /// One shape for each sheet of the house.
    pub sheets: Vec<Rings>,
}

/// What one valve reaches.
#[derive(Debug, Clone, PartialEq)]
pub struct Reach {
    pub start: Home,
    pub hose_m: f64,
    pub wand_m: f64,
    /// What wants the most hose of the whole floor, beyond the reach too.
    pub farthest: Option<Farthest>,
}

/// A room, or a part of one, that is left out.
#[derive(Debug, Clone, PartialEq)]
pub struct Left {
    pub room: usize,
    pub area_m2: f64,
    /// Free floor of the whole room.
    pub of_m2: f64,
    /// On the room's floor.
    pub rings: Rings,
    pub spot: Spot,
}

/// Where in its room a part lies.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Spot {
    /// All of it, and no way leads there.
    Shut,
    /// All of it, for the hose is too short.
    All,
    /// A part, from the middle of the room in this direction.
    Toward(P2),
}

/// A hose that was laid from its valve, and its length.
#[derive(Debug, Clone, Copy)]
pub struct Laid<'l> {
    pub lie: &'l Lie<'l>,
    pub hose_m: f64,
}

/// What some hose comes to with each of these lengths drawn out, the least first, each hose up to its own. Every
/// region is the one before it and what the longer hose adds.
pub fn regions(house: &House, hoses: &[Laid], drawn_m: &[f64], wand_m: f64) -> Vec<Region> {
    let views: Vec<Shown> = hoses.iter().flat_map(shown).collect();
    let mut sheets: Vec<Rings> = vec![Vec::new(); house.sheets.len()];
    let mut before_m = None;
    let regions = drawn_m.iter().map(|drawn_m| {
        let mut outlines: Vec<Vec<Vec<P2>>> = vec![Vec::new(); sheets.len()];
        for (sheet, outline) in views.iter().flat_map(|view| view.adds(before_m, *drawn_m, wand_m)) {
            outlines[sheet].push(outline);
        }
        before_m = Some(*drawn_m);
        for (rings, added) in sheets.iter_mut().zip(&outlines).filter(|(_, added)| !added.is_empty()) {
            *rings = union_with(rings, added);
        }
        Region { hose_m: *drawn_m, sheets: sheets.clone() }
    });
    regions.collect()
}

/// A view that a hose comes to.
struct Shown<'l> {
    laid: Laid<'l>,
    view: &'l Fan,
    /// The hose to it.
    from_m: f64,
    /// Its corner, and what other views show of it with less hose, if no corner were hidden from the hose; `None`
    /// for the start.
    corner: Option<(usize, Option<Shut>)>,
}

/// The views of a hose.
fn shown<'l>(laid: &Laid<'l>) -> impl Iterator<Item = Shown<'l>> {
    let laid = *laid;
    let Laid { lie, .. } = laid;
    let start = Shown { laid, view: &lie.start, from_m: 0.0, corner: None };
    let corners = lie.corners().map(move |i| {
        let view = &lie.ways.corners[i];
        let shut = lie.back(i).map(|back| Shut::of(view, back));
        Shown { laid, view, from_m: lie.to_m[i], corner: Some((i, shut)) }
    });
    std::iter::once(start).chain(corners)
}

impl Shown<'_> {
    /// How far the view counts with so much hose drawn out; `None` where the hose does not come to it.
    fn radius_m(&self, drawn_m: f64, wand_m: f64) -> Option<f64> {
        let hose_m = drawn_m.min(self.laid.hose_m);
        (self.from_m <= hose_m).then_some(hose_m + wand_m - self.from_m)
    }

    /// Outlines of what the view shows with so much hose drawn out, with their sheets, but for what all views
    /// show together with what was drawn out before.
    fn adds(&self, before_m: Option<f64>, drawn_m: f64, wand_m: f64) -> Vec<(usize, Vec<P2>)> {
        let Some(radius_m) = self.radius_m(drawn_m, wand_m) else { return Vec::new() };
        let done_m = before_m.and_then(|before_m| self.radius_m(before_m, wand_m)).unwrap_or(0.0);
        if done_m >= radius_m {
            return Vec::new();
        }
        let shut = self.shut(drawn_m.min(self.laid.hose_m), radius_m);
        let open = |w: usize| !shut.is_some_and(|shut| shut.leaves_out(self.view, w));
        within(self.view, (done_m, radius_m), open)
    }

    /// What other views show with less hose: less is left out where the view shows a corner that is out of the
    /// hose's reach and within the wand's.
    fn shut(&self, hose_m: f64, radius_m: f64) -> Option<Shut> {
        let (at, shut) = self.corner?;
        let Lie { ways, to_m, .. } = self.laid.lie;
        let hidden = ways.straight[at].iter().filter(|(i, m)| to_m[*i] > hose_m && *m < radius_m);
        let toward = hidden.flat_map(|(i, _)| {
            let home = ways.corners[*i].home;
            self.view.chains_to(home.sheet).map(move |chain| home.at - self.view.eye_of(chain))
        });
        Some(toward.fold(shut?, Shut::but))
    }
}

/// Rooms and parts of rooms that a region leaves out, in the order of the plan; `comes` tells whether any
/// hose, long enough, comes to a point of a sheet.
pub fn left_out(
    house: &House,
    placed: &Placed,
    whole: &Region,
    comes: impl Fn(usize, P2) -> bool,
) -> Vec<Left> {
    let rooms = placed.rooms.iter().enumerate();
    let left = rooms.filter_map(|(number, room)| {
        let outline = vec![room.corners.clone()];
        let free = intersection(&house.sheets[room.floor].rings, &oriented(&outline));
        let rings = difference(&free, &whole.sheets[room.floor]);
        let (area_m2, of_m2) = (area(&rings), area(&free));
        if area_m2 < CRUMB_M2 {
            return None;
        }
        let spot = if of_m2 - area_m2 > CRUMB_M2 {
            Spot::Toward((middle_of(&rings) - middle_of(&free)).normalize_or_zero())
        } else if free.iter().flatten().any(|p| comes(room.floor, *p)) {
            Spot::All
        } else {
            Spot::Shut
        };
        Some(Left { room: number, area_m2, of_m2, rings, spot })
    });
    left.collect()
}

/// The outline of a room with its inside at the left.
fn oriented(outline: &Rings) -> Rings {
    let turned = outline.iter().map(|ring| {
        let mut ring = ring.clone();
        if signed_area_m2(&ring) < 0.0 {
            ring.reverse();
        }
        ring
    });
    turned.collect()
}

/// The centre of the area inside rings.
pub fn middle_of(rings: &Rings) -> P2 {
    let (mut sum, mut twice) = (P2::ZERO, 0.0);
    for ring in rings {
        for (i, a) in ring.iter().enumerate() {
            let b = ring[(i + 1) % ring.len()];
            let cross = a.perp_dot(b);
            sum += (*a + b) * cross / 3.0;
            twice += cross;
        }
    }
    if twice.abs() < 1e-12 { P2::ZERO } else { sum / twice }
}
