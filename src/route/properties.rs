//! What must hold of every route, tried on random ones.
use super::testing::{catalog, direction, line};
use super::{Line, lay};
use crate::company::{Direction, LineSpec, Run, Step, Turn};
use glam::{DQuat, DVec3};
use proptest::prelude::*;

/// Sums of a dozen lengths of some metres are exact to far below this.
const CLOSE_M: f64 = 1e-9;

const WORDS: [&str; 6] = ["east", "west", "north", "south", "up", "down"];

/// A random path: a run, then turns with runs between; turns are aimed at compass words or mixes.
fn paths() -> impl Strategy<Value = LineSpec> {
    let turn = (prop_oneof![Just(90.0), Just(45.0), Just(22.5), Just(30.0)], 0..9usize, 0.3..5.0f64);
    (0..6usize, 0.3..5.0f64, prop::collection::vec(turn, 0..9)).prop_map(|(leaves, first_m, turns)| {
        let leaves = direction(WORDS[leaves]);
        let mut heading = leaves.vector;
        let mut steps = vec![run(first_m)];
        for (angle_deg, toward, length_m) in turns {
            let toward = square_to(heading, toward);
            heading = super::turned(heading, toward.vector, angle_deg).unwrap();
            steps.push(Step::Turn(Turn {
                angle_deg,
                toward,
                with: None,
                place: crate::text::Place::default(),
            }));
            steps.push(run(length_m));
        }
        line(leaves, steps)
    })
}

fn run(length_m: f64) -> Step {
    Step::Run(Run::plain(length_m))
}

/// The first direction, from a choice on, that has a plane with the heading.
fn square_to(heading: DVec3, choice: usize) -> Direction {
    let mixes = [DVec3::new(1.0, 2.0, 0.0), DVec3::new(0.0, 3.0, 4.0), DVec3::new(-1.0, 1.0, 1.0)];
    let all: Vec<Direction> = WORDS
        .iter()
        .map(|word| direction(word))
        .chain(mixes.iter().map(|mix| Direction { vector: mix.normalize(), words: "a mix".into() }))
        .collect();
    let from = (0..all.len()).map(|i| &all[(choice + i) % all.len()]);
    from.into_iter().find(|d| heading.cross(d.vector).length() > 1e-3).unwrap().clone()
}

/// What the hose has to do with.
fn part(line: &Line) -> &super::Raceway {
    line.raceway.as_ref().expect("a line with a stop")
}

fn laid(path: &LineSpec) -> Line {
    lay(path, DVec3::new(1.0, -2.0, 0.5), &catalog())
}

/// The path with every direction turned by the quaternion.
fn rotated(path: &LineSpec, by: DQuat) -> LineSpec {
    let turn = |d: &Direction| Direction { vector: by * d.vector, words: d.words.clone() };
    let steps = path.steps.iter().map(|step| match step {
        Step::Turn(t) => Step::Turn(Turn { toward: turn(&t.toward), ..t.clone() }),
        run => run.clone(),
    });
    LineSpec { leaves: turn(&path.leaves), steps: steps.collect(), ..path.clone() }
}

/// The same line followed from its end: each turn aims back the way the line came.
fn reversed(route: &Line) -> LineSpec {
    let leaves = Direction { vector: -route.end_heading, words: "back".into() };
    let mut steps = Vec::new();
    for (i, leg) in route.legs.iter().enumerate().rev() {
        steps.push(run(leg.length_m));
        if let Some(bend) = i.checked_sub(1).map(|b| &route.bends[b]) {
            let toward = Direction { vector: -bend.heading_in, words: "back".into() };
            steps.push(Step::Turn(Turn {
                angle_deg: bend.angle_deg,
                toward,
                with: None,
                place: crate::text::Place::default(),
            }));
        }
    }
    line(leaves, steps)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 256, ..ProptestConfig::default() })]

    #[test]
    fn length_is_the_sum_of_runs_and_arcs_replace_corners(path in paths()) {
        let route = laid(&path);
        let runs: f64 = path.steps.iter().map(|s| if let Step::Run(r) = s { r.length_m } else { 0.0 }).sum();
        prop_assert!((route.centre_m - runs).abs() < CLOSE_M);
        let straights: f64 = route.legs.iter().map(|leg| leg.length_m).sum::<f64>()
            - route.bends.iter().map(|b| 2.0 * b.tangent_m).sum::<f64>();
        let arcs: f64 = route.bends.iter().map(|b| b.arc_m).sum();
        prop_assert!((part(&route).hose_path_m - straights - arcs).abs() < CLOSE_M);
    }

    #[test]
    fn end_agrees_with_rotations_by_quaternion(path in paths()) {
        let route = laid(&path);
        let (mut at, mut heading) = (route.start, path.leaves.vector);
        for step in &path.steps {
            match step {
                Step::Run(run) => at += heading * run.length_m,
                Step::Turn(turn) => {
                    let axis = heading.cross(turn.toward.vector).normalize();
                    heading = DQuat::from_axis_angle(axis, turn.angle_deg.to_radians()) * heading;
                }
                Step::Stop => {}
            }
        }
        prop_assert!((at - route.end).length() < 1e-8);
        prop_assert!((heading - route.end_heading).length() < 1e-9);
    }

    #[test]
    fn turning_the_house_about_the_vertical_changes_nothing_measured(path in paths(), deg in -180.0..180.0f64) {
        let by = DQuat::from_rotation_z(deg.to_radians());
        let (one, other) = (laid(&path), laid(&rotated(&path, by)));
        prop_assert!((part(&one).hose_path_m - part(&other).hose_path_m).abs() < CLOSE_M);
        prop_assert!((part(&one).level_deviation_m - part(&other).level_deviation_m).abs() < 1e-8);
        prop_assert_eq!(part(&one).reversals, part(&other).reversals);
        prop_assert!((by * (one.end - one.start) - (other.end - other.start)).length() < 1e-8);
        for (a, b) in one.bends.iter().zip(&other.bends) {
            match (a.roll_deg, b.roll_deg) {
                (Some(a), Some(b)) => prop_assert!((a - b).rem_euclid(360.0).min((b - a).rem_euclid(360.0)) < 1e-6),
                (a, b) => prop_assert_eq!(a, b),
            }
        }
    }

    #[test]
    fn a_route_followed_backwards_comes_home(path in paths()) {
        let there = laid(&path);
        let back = lay(&reversed(&there), there.end, &catalog());
        prop_assert!((back.end - there.start).length() < 1e-8);
        prop_assert!((part(&back).hose_path_m - part(&there).hose_path_m).abs() < 1e-8);
        prop_assert_eq!(part(&back).reversals, part(&there).reversals);
        let clear = |route: &Line| route.tubes.iter().map(|t| t.clear_m).collect::<Vec<_>>();
        let mut tubes = clear(&back);
        tubes.reverse();
        for (a, b) in tubes.iter().zip(clear(&there)) {
            prop_assert!((a - b).abs() < 1e-8);
        }
    }
}

/// Offset multipliers of the pipe trades: travel = rise times cosecant of the bend. Published as 2.613 at
/// 22-1/2 and 1.414 at 45 degrees in pipefitters' tables.
#[test]
fn published_pipe_trades_offset_multipliers() {
    for (angle_deg, multiplier) in [(22.5, 2.613), (45.0, 1.414), (30.0, 2.0), (60.0, 1.1547)] {
        let rise = 0.5;
        let travel = rise / f64::to_radians(angle_deg).sin();
        let turn = |toward: &str| {
            Step::Turn(Turn {
                angle_deg,
                toward: direction(toward),
                with: None,
                place: crate::text::Place::default(),
            })
        };
        let steps = vec![run(1.0), turn("north"), run(travel), turn("east"), run(1.0)];
        let route = laid(&line(direction("east"), steps));
        let offset = route.end.y - route.start.y;
        assert!((offset - rise).abs() < 1e-12, "the route must be offset by the rise");
        // The tables give four figures.
        assert!((route.legs[1].length_m / offset - multiplier).abs() < 5e-4);
        assert_eq!(route.bends[1].roll_deg, Some(180.0));
    }
}

/// A pipefitter's rolling offset, as printed on a plumbing reference page: rise 8, offset 12, true offset
/// 14.42, 45 degree travel 20.39, run 14.42 (inches).
#[test]
fn published_rolling_offset_of_8_and_12() {
    let inch = 0.0254;
    let true_offset = (8.0f64 * 8.0 + 12.0 * 12.0).sqrt();
    assert!((true_offset - 14.42).abs() < 0.005);
    let toward = Direction { vector: DVec3::new(0.0, 12.0, 8.0).normalize(), words: "12 north, 8 up".into() };
    let turn = |toward: Direction| {
        Step::Turn(Turn { angle_deg: 45.0, toward, with: None, place: crate::text::Place::default() })
    };
    let travel_m = 20.396078 * inch;
    let steps = vec![run(1.0), turn(toward), run(travel_m), turn(direction("east")), run(1.0)];
    let route = laid(&line(direction("east"), steps));
    let moved = (route.end - route.start) / inch;
    assert!((moved.y - 12.0).abs() < 1e-5 && (moved.z - 8.0).abs() < 1e-5, "{moved}");
    let run_in = moved.x - 2.0 / inch;
    // The page truncates to two decimals.
    assert!((run_in - 14.42).abs() < 0.005 && (route.legs[1].length_m / inch - 20.39).abs() < 0.01);
}
