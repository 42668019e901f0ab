//! What is within reach of a valve: for every corner that the hose comes to, what that corner sees, cut by a
//! disc of what is left of the hose and of the wand; all of them together.
//!
//! Nothing is called reached that is not: [`super::within`] draws discs inside themselves.
use super::farthest::{Farthest, farthest};
use super::house::{Home, House};
use super::place::Placed;
use super::shapes::{Joined, Rings, area, difference, intersection, signed_area_m2};
use super::types::P2;
use super::ways::Lie;
use super::within::New;

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
    /// Contours from the shortest hose; the last is the hose itself.
    pub bands: Vec<Region>,
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

/// Reckons the reach of a valve from where its hose lies.
pub fn reach(house: &House, lie: &Lie, hose_m: f64, wand_m: f64) -> Reach {
    let mut steps: Vec<f64> =
        (1..).map(|n| f64::from(n) * STEP_M).take_while(|m| *m < hose_m - 1e-6).collect();
    steps.push(hose_m);
    let bands = regions(house, lie, &steps, wand_m);
    Reach { start: lie.start.home, hose_m, wand_m, farthest: farthest(house, lie, wand_m), bands }
}

/// The regions of several lengths of hose, the shortest first.
pub fn regions(house: &House, lie: &Lie, hoses_m: &[f64], wand_m: f64) -> Vec<Region> {
    debug_assert!(hoses_m.is_sorted(), "what a longer hose shows whole is not for a shorter one");
    let news: Vec<New> = lie.turns().flat_map(New::of).collect();
    // What a hose shows whole, every longer one does too.
    let mut whole = vec![Joined::nothing(); house.sheets.len()];
    let mut shown = vec![false; news.len()];
    let regions = hoses_m.iter().map(|hose_m| {
        let mut fresh: Vec<Vec<Vec<P2>>> = vec![Vec::new(); house.sheets.len()];
        let mut cut = fresh.clone();
        let open = news.iter().zip(&mut shown).filter(|(new, shown)| new.at_m <= *hose_m && !**shown);
        for (new, shown) in open {
            let radius_m = hose_m + wand_m - new.at_m;
            *shown = new.most_m <= radius_m;
            let outlines = if *shown { &mut fresh } else { &mut cut };
            outlines[new.sheet()].extend(new.within(radius_m));
        }
        let sheets = whole.iter_mut().zip(fresh.iter().zip(&cut)).map(|(whole, (fresh, cut))| {
            *whole = whole.with(fresh);
            whole.with(cut).rings()
        });
        Region { hose_m: *hose_m, sheets: sheets.collect() }
    });
    regions.collect()
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
