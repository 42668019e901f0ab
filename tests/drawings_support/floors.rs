//! Random floors to draw, made once: reach takes longer to reckon than a line.
#[path = "../common/floors.rs"]
mod random;
#[path = "../common/generate.rs"]
mod generate;

use longsweep::company::FloorPlan;
use longsweep::draw::{ReachPicture, Scene};
use longsweep::measure::{Lengths, Say};
use longsweep::packet::reach::of_survey;
use longsweep::plan::{Survey, ValveAt, place, survey};
use std::sync::OnceLock;

const FLOORS: usize = 12;
const HOSE_M: f64 = 9.144;

/// The floors, made when the first of them is drawn.
///
/// A survey shares its work out over rayon's threads. Made by one of those threads, it could be handed another
/// route to draw while it waits for its own parts, which would ask here again and wait for itself for ever; so
/// the floors are made by a thread and a pool of their own.
fn made() -> &'static [(FloorPlan, Survey)] {
    static MADE: OnceLock<Vec<(FloorPlan, Survey)>> = OnceLock::new();
    MADE.get_or_init(|| {
        let apart = || {
            let pool = rayon::ThreadPoolBuilder::new().num_threads(1).build().expect("a thread");
            pool.install(floors)
        };
        std::thread::scope(|scope| scope.spawn(apart).join()).expect("floors are made")
    })
}

fn floors() -> Vec<(FloorPlan, Survey)> {
    let mut dice = generate::Dice::new(41);
    let one = |n: usize| {
        let plan = random::floor(&mut dice, 2 + n % 6);
        let placed = place(&plan).expect("it hangs together");
        let room = &placed.rooms[0];
        let at = room.wall(2).0.lerp(room.wall(2).1, 0.5);
        let survey = survey(&plan, &placed, &[ValveAt { at, up_m: 0.5, hose_m: HOSE_M }]);
        (FloorPlan { plan, placed, file: "random".into() }, survey)
    };
    (0..FLOORS).map(one).collect()
}

/// Draws one of the floors, chosen by a name.
pub fn draw(draw: fn(&ReachPicture) -> Scene, name: &str, area_mm: (f64, f64)) -> Scene {
    let number = name.bytes().fold(0_usize, |sum, b| sum.wrapping_mul(31).wrapping_add(usize::from(b)));
    let (plan, survey) = &made()[number % FLOORS];
    let say = Say { lengths: Lengths::FtIn };
    let named = [("Hall".to_owned(), HOSE_M)];
    let mut picture = of_survey(plan, survey, 0, &named, Vec::new(), "Reach", say);
    picture.prefix = format!("{name}-reach");
    picture.area_mm = area_mm;
    draw(&picture)
}
