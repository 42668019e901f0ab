//! Routes for tests, written on one line: `1 run; 90 west; 4 run` (metres, sweeps of 7 in).
use super::{Line, lay};
use crate::company::{
    Bend, Catalog, Direction, Fitting, FittingKind, LineSpec, Owner, Purpose, Run, Step, Tube, Turn,
};
use crate::text::Place;
use glam::DVec3;

/// A catalog with sweeps of 90, 45 and 22-1/2 degrees of 7 in radius and 8 in laying length.
pub fn catalog() -> Catalog {
    let bend = |angle_deg: f64| Fitting {
        id: format!("sweep-{}", angle_deg as i64),
        name: format!("sweep {}", angle_deg as i64),
        kind: FittingKind::Bend(Bend { angle_deg, radius_m: 0.1778, laying_length_m: 0.2032 }),
        socket_m: Some(0.028575),
        purpose: Purpose::Raceway,
    };
    Catalog {
        tube: Tube {
            id: "tube".into(),
            outside_m: 0.0508,
            bore_m: 0.047498,
            stick_m: 2.4384,
            kerf_m: 0.003175,
            shortest_m: 0.1016,
            roughness_m: 1.5e-6,
            clearance_m: None,
        },
        fittings: vec![bend(90.0), bend(45.0), bend(22.5)],
        hoses: vec![],
        valves: vec![],
        units: vec![],
        wire: None,
        faulty: vec![],
    }
}

/// A direction by its word.
pub fn direction(word: &str) -> Direction {
    let vector = match word {
        "east" => DVec3::X,
        "west" => -DVec3::X,
        "north" => DVec3::Y,
        "south" => -DVec3::Y,
        "up" => DVec3::Z,
        "down" => -DVec3::Z,
        other => panic!("no direction {other}"),
    };
    Direction { vector, words: word.into() }
}

/// Such a line, which ends in the stop.
pub fn spec(leaves: &str, steps: &str) -> LineSpec {
    let step = |text: &str| {
        let (number, word) = text.trim().split_once(' ').expect("a number and a word");
        let number: f64 = number.parse().expect("a number");
        match word {
            "run" => Step::Run(Run::plain(number)),
            word => Step::Turn(Turn {
                angle_deg: number,
                toward: direction(word),
                with: None,
                place: Place::default(),
            }),
        }
    };
    line(direction(leaves), steps.split(';').map(step).collect())
}

/// The line of an inlet that ends in the stop.
pub fn line(leaves: Direction, steps: Vec<Step>) -> LineSpec {
    LineSpec {
        owner: Owner::Inlet(0),
        id: "hall".into(),
        name: "Hall".into(),
        letters: "H".into(),
        start: None,
        leaves,
        steps: steps.into_iter().chain([Step::Stop]).collect(),
        into: None,
        place: Place::default(),
        into_place: Place::default(),
    }
}

/// The route of such a line, from nought.
pub fn route(leaves: &str, steps: &str) -> Line {
    lay(&spec(leaves, steps), DVec3::ZERO, &catalog())
}
