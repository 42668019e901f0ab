//! Raceways to draw: a dozen by hand and as many as wanted by chance, seeded.
#![allow(dead_code)]
pub mod floors;
pub mod read;
use glam::DVec3;
use longsweep::company::{
    Bend, Catalog, DatumRuns, Direction, Fitting, FittingKind, Level, LineSpec, Owner, Purpose, Run, Step,
    Tube, Turn,
};
use longsweep::draw::*;
use longsweep::measure::{FOOT_M, Lengths, Say};
use longsweep::route::{Line, Spot, lay};
use longsweep::text::Place;
use std::borrow::Cow;

/// Everything a picture borrows from.
pub struct Case {
    pub name: String,
    pub line: Line,
    pub ends: String,
    pub levels: Vec<Level>,
    pub say: Say,
    pub hose: Option<HoseBand>,
    pub tubes: Vec<TubePieces>,
    pub joints: Vec<JointMark>,
    pub branches: Vec<BranchMark>,
    pub crossings: Vec<CrossingMark>,
    pub balloons: Vec<Balloon>,
    pub surroundings: Option<Surroundings>,
}

impl Case {
    pub fn picture(&self, view: &View, area_mm: (f64, f64)) -> LinePicture<'_> {
        LinePicture {
            prefix: format!("{}-{}", self.name, view.name),
            title: format!("{}, {}", self.name, view.title),
            begins: "HALL valve".into(),
            ends: self.ends.clone(),
            line: Cow::Borrowed(&self.line),
            levels: &self.levels,
            tube_outside_m: 0.0508,
            hose: self.hose,
            tubes: self.tubes.clone(),
            joints: self.joints.clone(),
            branches: self.branches.clone(),
            crossings: self.crossings.clone(),
            balloons: self.balloons.clone(),
            surroundings: self.surroundings.clone(),
            say: self.say,
            listed: false,
            area_mm,
            spare_mm: longsweep::draw::SPARE_MM,
        }
    }

    /// The same line as a whole job of one.
    pub fn job(&self, view: &View, area_mm: (f64, f64)) -> KeyPicture<'_> {
        KeyPicture {
            prefix: format!("{}-{}", self.name, view.name),
            title: format!("{}, {}", self.name, view.title),
            lines: vec![&self.line],
            unit: self.surroundings.as_ref().and_then(|around| Some(("unit".into(), around.unit?))),
            clashes: self.clashes(),
            datums: self.datums(),
            points: self.set_out(),
            say: self.say,
            listed: false,
            area_mm,
        }
    }

    /// Of every third line a place halfway that another line wants as well.
    fn clashes(&self) -> Vec<ClashMark> {
        let half =
            self.line.point_at(self.line.centre_m / 2.0).filter(|_| self.line.legs.len().is_multiple_of(3));
        half.into_iter().map(|at| ClashMark { at, words: "A and K: 2-1/4 in too near".into() }).collect()
    }

    /// A wall on two sides of the line.
    fn datums(&self) -> Vec<DatumLine> {
        let start = self.line.start;
        let datum = |mark: &str, name: &str, runs| DatumLine { mark: mark.into(), name: name.into(), runs };
        vec![
            datum("D1", "south wall, inside", DatumRuns::East { north_m: start.y - 0.6 }),
            datum("D2", "stair wall", DatumRuns::North { east_m: start.x + 0.4 }),
        ]
    }

    /// Start, bends and crossings, as they lie from the walls.
    fn set_out(&self) -> Vec<SetOut> {
        let from = |at: DVec3| {
            let (north_m, east_m) = (at.y - self.line.start.y + 0.6, at.x - self.line.start.x - 0.4);
            let side = |m: f64, way: [&str; 2]| {
                format!("{} {}", self.say.length(m.abs()), if m > 0.0 { way[0] } else { way[1] })
            };
            vec![side(north_m, ["N of D1", "S of D1"]), side(east_m, ["E of D2", "W of D2"])]
        };
        let point = |mark: String, at: DVec3| SetOut { mark, at, words: from(at) };
        let mut all = vec![point("A VALVE".into(), self.line.start)];
        all.extend(self.line.bends.iter().map(|bend| point(self.line.bend_mark(bend.n), bend.point)));
        all.extend(self.crossings.iter().filter_map(|crossing| {
            let leg = self.line.legs.get(crossing.leg)?;
            Some(point(crossing.mark.clone(), leg.from + leg.heading * crossing.at_m))
        }));
        all
    }

    pub fn draw(&self, view: &View, area_mm: (f64, f64)) -> Scene {
        match view.shown {
            Shown::Line(draw) => draw(&self.picture(view, area_mm)),
            Shown::Job(draw) => draw(&self.job(view, area_mm)),
            Shown::Floor(draw) => floors::draw(draw, &self.name, area_mm),
        }
    }
}

/// Views that show one line, so that they flag its bends and dimension its legs.
pub fn line_views() -> impl Iterator<Item = &'static View> {
    VIEWS.iter().copied().filter(|view| matches!(view.shown, Shown::Line(_)))
}

/// A size to look at a view in: the first is as wide as a sheet, others half as wide.
pub fn usual_area(view: &View) -> (f64, f64) {
    if view.name == VIEWS[0].name { (190.0, 95.0) } else { (93.0, 90.0) }
}

pub fn catalog() -> Catalog {
    let bend = |angle_deg: f64, name: &str| Fitting {
        id: name.into(),
        name: name.into(),
        kind: FittingKind::Bend(Bend { angle_deg, radius_m: 0.1778, laying_length_m: 0.2032 }),
        socket_m: Some(0.028_575),
        purpose: Purpose::Raceway,
    };
    Catalog {
        tube: Tube {
            id: "tube".into(),
            outside_m: 0.0508,
            bore_m: 0.0475,
            stick_m: 8.0 * FOOT_M,
            kerf_m: 0.003_175,
            shortest_m: 0.1016,
            roughness_m: 1.5e-6,
            clearance_m: None,
        },
        fittings: vec![bend(90.0, "sweep 90"), bend(45.0, "sweep 45"), bend(22.5, "sweep 22-1/2")],
        hoses: vec![],
        valves: vec![],
        units: vec![],
        wire: None,
        faulty: vec![],
    }
}

pub fn direction(word: &str) -> Direction {
    let vector = match word {
        "east" => DVec3::X,
        "west" => -DVec3::X,
        "north" => DVec3::Y,
        "south" => -DVec3::Y,
        "up" => DVec3::Z,
        "down" => -DVec3::Z,
        _ => DVec3::new(1.0, 2.0, 1.0).normalize(),
    };
    Direction { vector, words: word.into() }
}

/// A route from a line such as `2.8 run; 90 west; 16 run`, in feet.
pub fn route(start_ft: [f64; 3], leaves: &str, steps: &str) -> Line {
    let step = |text: &str| {
        let (number, word) = text.trim().split_once(' ').expect("a number and a word");
        let number: f64 = number.parse().expect("a number");
        match word {
            "run" => Step::Run(Run::plain(number * FOOT_M)),
            word => Step::Turn(Turn {
                angle_deg: number,
                toward: direction(word),
                with: None,
                place: Place::default(),
            }),
        }
    };
    laid(DVec3::from(start_ft) * FOOT_M, direction(leaves), steps.split(';').map(step).collect())
}

/// A line of steps that ends in the stop.
fn laid(start: DVec3, leaves: Direction, mut steps: Vec<Step>) -> Line {
    steps.push(Step::Stop);
    let (id, name, letters) = ("hall".into(), "Hall".into(), "A".into());
    let owner = Owner::Inlet(0);
    let (place, into_place) = (Place::default(), Place::default());
    let spec = LineSpec {
        owner,
        id,
        name,
        letters,
        start: Some(start),
        leaves,
        steps,
        into: None,
        place,
        into_place,
    };
    lay(&spec, start, &catalog())
}

/// Cuts, joints, members and findings for a route, as a packet would bring them.
pub fn dressed(name: &str, line: Line, lengths: Lengths, hose_ft: f64) -> Case {
    let (tubes, joints) = cut(&line);
    let hose = HoseBand { new_m: hose_ft * FOOT_M, grown_m: hose_ft * 1.1 * FOOT_M };
    Case {
        name: name.into(),
        line,
        ends: String::new(),
        levels: vec![],
        say: Say { lengths },
        hose: Some(hose),
        tubes,
        joints,
        branches: vec![],
        crossings: vec![],
        balloons: vec![],
        surroundings: None,
    }
}

/// Whole sticks first, then the rest, with couplings between; joints numbered from the start.
fn cut(line: &Line) -> (Vec<TubePieces>, Vec<JointMark>) {
    let (stick_m, gap_m, socket_m) = (8.0 * FOOT_M, 0.003_175, 0.028_575);
    let (mut tubes, mut stations) = (Vec::new(), Vec::new());
    for tube in line.tubes.iter().filter(|tube| tube.clear_m > 0.0) {
        let (mut at_m, mut pieces, mut couplings) = (0.0, Vec::new(), Vec::new());
        while at_m < tube.clear_m {
            let length_m = stick_m.min(tube.clear_m - at_m);
            let letter = ["", "a", "b", "c", "d", "e", "f", "g", "h", "i", "j", "k"][pieces.len().min(11)];
            pieces.push(Piece { mark: format!("{}{letter}", tube.mark), length_m, from_m: at_m });
            stations.extend([tube.start_m + at_m, tube.start_m + at_m + length_m]);
            at_m += length_m;
            if at_m < tube.clear_m {
                couplings.push((at_m - socket_m, at_m + gap_m + socket_m));
            }
            at_m += gap_m;
        }
        tubes.push(TubePieces { tube: tube.mark.clone(), pieces, couplings });
    }
    let joint = |(i, station_m): (usize, f64)| JointMark { mark: line.joint_mark(i + 1), station_m };
    (tubes, stations.into_iter().enumerate().map(joint).collect())
}

pub fn crossing(leg: usize, at_ft: f64, words: &str, verdict: &str) -> CrossingMark {
    CrossingMark {
        mark: format!("AX{}", leg + 1),
        leg,
        at_m: at_ft * FOOT_M,
        thickness_m: Some(0.0381),
        words: words.into(),
        verdict: verdict.into(),
    }
}

pub fn balloon(number: usize, kind: BalloonKind, spot: Spot, text: &str) -> Balloon {
    Balloon { number, kind, spot, also: vec![], text: text.into() }
}

/// The dozen drawn by hand.
pub fn dozen() -> Vec<Case> {
    use BalloonKind::{Caution, Fail, NotChecked, Waived};
    use Lengths::{FtIn, Metric};
    let level =
        |name: &str, ft: f64| Level { name: name.into(), up_m: ft * FOOT_M, place: Default::default() };
    let mut all = Vec::new();

    let hall = "2.8333 run; 90 west; 16 run; 90 south; 11 run; 45 west; 14 run";
    let mut c = dressed("hall", route([22.0, 14.0, 1.5], "down", hall), FtIn, 36.0);
    c.levels = vec![level("First floor", 0.0), level("Basement ceiling", -1.0)];
    c.crossings = vec![
        crossing(0, 1.6, "bottom plate 2x4, bore 2-1/8 in", "pass"),
        crossing(1, 6.0, "joist 2x10, bore 2-1/8 in", "pass"),
        crossing(1, 7.33, "joist 2x10, bore 2-1/8 in", "fail"),
    ];
    c.balloons = vec![
        balloon(1, Caution, Spot::Bend(3), "9 in of tube between B2 and B3; 12 in wanted"),
        balloon(2, Fail, Spot::Leg(1), "bore too near the edge"),
    ];
    c.surroundings = Some(Surroundings {
        unit: Some(DVec3::new(2.0, 3.0, -5.0) * FOOT_M),
        others: vec![(
            "main".into(),
            vec![DVec3::new(40.0, 3.0, -1.33) * FOOT_M, DVec3::new(2.0, 3.0, -1.33) * FOOT_M],
        )],
    });
    all.push(c);

    let c = dressed(
        "attic",
        route([0.0, 0.0, 0.0], "up", "8 run; 90 north; 20 run; 90 east; 16 run"),
        FtIn,
        36.0,
    );
    all.push(c);

    let mut c = dressed(
        "metric",
        route([0.0, 0.0, 0.0], "down", "4 run; 90 east; 18 run; 45 north; 12 run; 45 east; 16 run"),
        Metric,
        40.0,
    );
    c.levels = vec![level("Erdgeschoss", -2.0)];
    all.push(c);

    let mut c = dressed(
        "dip",
        route(
            [0.0, 0.0, 0.0],
            "down",
            "3 run; 90 west; 14 run; 22.5 down; 2.5 run; 22.5 west; 4 run; 22.5 up; 2.5 run; 22.5 west; 18 run",
        ),
        FtIn,
        40.0,
    );
    c.balloons = vec![
        balloon(1, Waived, Spot::Leg(3), "not on one level"),
        balloon(2, Fail, Spot::Whole, "five bends"),
    ];
    all.push(c);

    let c = dressed(
        "rolled",
        route(
            [0.0, 0.0, 0.0],
            "down",
            "3 run; 90 north; 10 run; 45 mixed; 6 run; 45 east; 14 run; 90 south; 9 run",
        ),
        FtIn,
        38.0,
    );
    all.push(c);

    let c = dressed(
        "long",
        route([0.0, 0.0, 0.0], "down", "3 run; 90 north; 70 run; 90 east; 55 run"),
        FtIn,
        50.0,
    );
    all.push(c);

    let mut c = dressed("short", route([0.0, 0.0, 0.0], "up", "2 run; 90 east; 4 run"), FtIn, 5.0);
    c.balloons = vec![balloon(1, Fail, Spot::End, "hose too long")];
    all.push(c);

    let mut c = dressed(
        "collide",
        route([0.0, 0.0, 0.0], "down", "3 run; 90 east; 0.8 run; 90 north; 1 run; 45 east; 20 run"),
        FtIn,
        18.0,
    );
    c.balloons = vec![
        balloon(1, Fail, Spot::Bend(2), "fittings collide"),
        balloon(2, NotChecked, Spot::Station(2.0), "no figure"),
        balloon(3, Caution, Spot::Bend(3), "close"),
    ];
    all.push(c);

    let twelve = "2 run; 90 east; 5 run; 45 north; 3 run; 45 east; 4 run; 90 down; 3 run; 90 south; 5 run; 22.5 west; \
                  4 run; 22.5 south; 3 run; 90 up; 2 run; 90 west; 6 run; 45 north; 3 run; 45 west; 4 run; 90 north; 5 run";
    all.push(dressed("twelve", route([0.0, 0.0, 0.0], "down", twelve), FtIn, 35.0));
    all.push(dressed("twelve-metric", route([0.0, 0.0, 0.0], "down", twelve), Metric, 35.0));

    all.push(dressed(
        "loop",
        route(
            [0.0, 0.0, 0.0],
            "down",
            "3 run; 90 east; 14 run; 90 north; 8 run; 90 west; 6 run; 90 south; 14 run",
        ),
        FtIn,
        36.0,
    ));

    let mut c = dressed(
        "no-fitting",
        route([0.0, 0.0, 0.0], "west", "6 run; 30 north; 12 run; 60 up; 8 run; 60 west; 5 run"),
        Metric,
        28.0,
    );
    c.balloons = vec![balloon(1, Fail, Spot::Bend(1), "no fitting of 30°")];
    all.push(c);
    all
}

/// A small generator of numbers (SplitMix64), so that every run sees the same routes.
pub struct Chance(pub u64);

impl Chance {
    pub fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    pub fn below(&mut self, n: usize) -> usize {
        (self.next() % n as u64) as usize
    }

    pub fn between(&mut self, lo: f64, hi: f64) -> f64 {
        lo + (hi - lo) * (self.next() >> 11) as f64 / (1u64 << 53) as f64
    }
}

/// A raceway by chance: up to twelve bends, in three dimensions.
pub fn random(seed: u64) -> Case {
    let mut c = Chance(seed.wrapping_mul(7919) + 17);
    let words = ["east", "west", "north", "south", "up", "down"];
    let leaves = direction(words[[4, 5, 5, 4, 0, 2][c.below(6)]]);
    let mut heading = leaves.vector;
    let run = |c: &mut Chance| {
        let sixteenths = (c.between(0.8, 16.0) * 192.0).round();
        Step::Run(Run::plain(sixteenths / 192.0 * FOOT_M))
    };
    let mut steps = vec![run(&mut c)];
    for _ in 0..c.below(13) {
        let toward = loop {
            let k = if c.below(3) == 0 { c.below(6) } else { c.below(4) };
            let toward = if c.below(12) == 0 { direction("mixed") } else { direction(words[k]) };
            if heading.dot(toward.vector).abs() < 0.98 {
                break toward;
            }
        };
        let angle_deg = [90.0, 90.0, 45.0, 45.0, 22.5, 30.0][c.below(6)];
        let a = f64::to_radians(angle_deg);
        let side = (toward.vector - heading * heading.dot(toward.vector)).normalize();
        heading = (heading * a.cos() + side * a.sin()).normalize();
        steps.push(Step::Turn(Turn { angle_deg, toward, with: None, place: Place::default() }));
        steps.push(run(&mut c));
    }
    let start = DVec3::new(c.between(-30.0, 30.0), c.between(-30.0, 30.0), c.between(-2.0, 8.0));
    let line = laid(start * FOOT_M, leaves, steps);
    let lengths = if c.below(2) == 0 { Lengths::FtIn } else { Lengths::Metric };
    let hose_ft = line.raceway.as_ref().unwrap().hose_path_m / FOOT_M * c.between(0.6, 1.0);
    let mut case = dressed(&format!("r{seed}"), line, lengths, hose_ft);
    for _ in 0..c.below(5) {
        let leg = c.below(case.line.legs.len());
        let at_ft = case.line.legs[leg].length_m / FOOT_M * c.between(0.1, 0.9);
        case.crossings.push(crossing(leg, at_ft, "joist 2x10, bore 2-1/8 in", ["pass", "fail"][c.below(2)]));
    }
    for number in 1..=c.below(5) {
        let kinds = [BalloonKind::Fail, BalloonKind::Caution, BalloonKind::Waived, BalloonKind::NotChecked];
        let spot = match c.below(5) {
            0 => Spot::Whole,
            1 => Spot::Bend(1 + c.below(case.line.legs.len())),
            2 => Spot::Leg(c.below(case.line.legs.len())),
            3 => Spot::Station(c.between(0.0, case.line.centre_m)),
            _ => Spot::End,
        };
        case.balloons.push(balloon(number, kinds[c.below(4)], spot, "a finding"));
    }
    for k in 0..c.below(4) {
        let up_m = case.line.start.z + c.between(-3.0, 3.0);
        case.levels.push(Level { name: format!("Level {k}"), up_m, place: Default::default() });
    }
    case
}
