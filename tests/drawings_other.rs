//! Key plan, cutting picture, joint, valve box, the hose's travel: legible at every width that is promised.
mod drawings_support;
use drawings_support::read::words_wrong;
use drawings_support::*;
use longsweep::draw::*;
use longsweep::measure::{FOOT_M, INCH_M, Lengths, Say};

/// Widths to draw in, mm.
const AREAS: [(f64, f64); 3] = [(190.0, 110.0), (93.0, 90.0), (80.0, 70.0)];
const SAYS: [Say; 2] = [Say { lengths: Lengths::FtIn }, Say { lengths: Lengths::Metric }];

/// All of them, in one unit and one size.
fn pictures(say: Say, area_mm: (f64, f64)) -> Vec<(&'static str, Scene)> {
    let cases = dozen();
    vec![
        ("key", key_plan(&key(&cases, say, area_mm))),
        ("cutting", cutting(&sticks(&cases[0], say, area_mm))),
        ("joint", joint(&a_joint(say, area_mm))),
        ("valve-box", valve_box(&a_box(say, area_mm))),
        ("travel", travel(&a_travel(say, area_mm, 1))),
        ("cases", travel(&a_travel(say, area_mm, 3))),
    ]
}

fn key(cases: &[Case], say: Say, area_mm: (f64, f64)) -> KeyPicture<'_> {
    let lines = cases.iter().take(4).map(|case| &case.line).collect();
    let unit = Some((String::from("unit"), glam::DVec3::new(2.0, 3.0, -5.0) * FOOT_M));
    KeyPicture {
        prefix: "key".into(),
        title: "Key plan".into(),
        lines,
        unit,
        clashes: vec![],
        datums: vec![],
        points: vec![],
        say,
        listed: false,
        area_mm,
    }
}

fn sticks(case: &Case, say: Say, area_mm: (f64, f64)) -> CuttingPicture {
    let pieces: Vec<Piece> = case.tubes.iter().flat_map(|tube| tube.pieces.clone()).collect();
    let (mut sticks, mut left_m) = (vec![Vec::new()], 8.0 * FOOT_M);
    for piece in pieces {
        if piece.length_m > left_m {
            sticks.push(Vec::new());
            left_m = 8.0 * FOOT_M;
        }
        left_m -= piece.length_m + 0.003;
        sticks.last_mut().expect("one at least").push(piece);
    }
    sticks
        .push((1..9).map(|n| Piece { mark: format!("C{n}"), length_m: 8.0 * INCH_M, from_m: 0.0 }).collect());
    CuttingPicture {
        prefix: "cut".into(),
        title: "Cutting plan".into(),
        stick_m: 8.0 * FOOT_M,
        kerf_m: INCH_M / 8.0,
        sticks,
        say,
        area_mm,
    }
}

fn a_joint(say: Say, area_mm: (f64, f64)) -> JointPicture {
    JointPicture {
        prefix: "joint".into(),
        title: "Joint J3".into(),
        tube: "A2".into(),
        fitting: "sweep 90".into(),
        tube_outside_m: 2.0 * INCH_M,
        tube_bore_m: 1.87 * INCH_M,
        socket_m: 1.125 * INCH_M,
        say,
        area_mm,
    }
}

fn a_box(say: Say, area_mm: (f64, f64)) -> ValveBoxPicture {
    ValveBoxPicture {
        prefix: "box".into(),
        title: "Valve box".into(),
        name: "door-sealed".into(),
        box_m: (8.0 * INCH_M, 10.0 * INCH_M),
        depth_m: 3.5 * INCH_M,
        bay_m: 14.5 * INCH_M,
        bay_known: true,
        wall_m: Some(3.5 * INCH_M),
        stud_m: 3.5 * INCH_M,
        drywall_m: 0.5 * INCH_M,
        tube_outside_m: 2.0 * INCH_M,
        leaves: TubeLeaves::Down,
        heights: Some(BoxHeights {
            over: "First floor".into(),
            seat_m: 18.0 * INCH_M,
            bottom_m: 16.875 * INCH_M,
        }),
        say,
        area_mm,
    }
}

/// A travel whose need grows with the bends and whose suction is lost from the valve to the tail.
fn a_travel(say: Say, area_mm: (f64, f64), panels: usize) -> TravelPicture {
    let place = |k: usize| {
        let x = k as f64 * 0.5;
        let along = 22_000.0 * (1.0 - (-x).exp());
        TravelPlace {
            inserted_m: x,
            needed_pa: 6_000.0 * (0.12 * x).exp(),
            spent_pa: [30_000.0 - along - 4_000.0, along, 4_000.0],
        }
    };
    let panel = |n: usize| TravelPanel {
        title: if panels == 1 { String::new() } else { format!("Case {n}") },
        places: (0..=24).map(place).collect(),
    };
    TravelPicture {
        prefix: format!("travel-{panels}"),
        title: "Travel".into(),
        panels: (0..panels).map(panel).collect(),
        bends: vec![("B1".into(), 1.1), ("B2".into(), 6.8), ("B3".into(), 11.2)],
        riser_m: 1.1,
        along: "hose drawn in".into(),
        say,
        area_mm,
    }
}

/// The tube's seat and the box's middle are two heights, half a box less the socket apart.
#[test]
fn a_valve_box_tells_seat_and_middle_apart() {
    let scene = valve_box(&a_box(SAYS[0], AREAS[0]));
    let words: Vec<&str> =
        scene.marks.iter().flat_map(|mark| mark.texts()).map(|text| text.words.as_str()).collect();
    for told in ["tube seat 1 ft 6 in", "box middle 1 ft 9-7/8 in", "box bottom 1 ft 4-7/8 in"] {
        assert!(words.iter().any(|words| words.starts_with(told)), "{told} is not among {words:?}");
    }
}

#[test]
fn other_pictures_are_legible() {
    for say in SAYS {
        for area in AREAS {
            for (name, scene) in pictures(say, area) {
                let wrong = words_wrong(&scene, area.0);
                assert!(wrong.is_empty(), "{name} at {area:?}: {wrong:#?}");
                assert!(!scene.desc.is_empty(), "{name} says nothing in words");
            }
        }
    }
}

/// Pictures of one page have no id in common.
#[test]
fn ids_are_unique_on_a_page() {
    let mut seen = std::collections::BTreeSet::new();
    for (_, scene) in pictures(SAYS[0], AREAS[0]) {
        let svg = scene.to_svg();
        for id in svg.split(" id=\"").skip(1).filter_map(|rest| rest.split('"').next()) {
            assert!(seen.insert(id.to_string()), "{id} stands twice");
        }
    }
}

/// Writes pictures to look at under tests/.work/look.
#[test]
#[ignore = "for eyes, not for checks"]
fn look_other() {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/.work/look");
    std::fs::create_dir_all(&folder).expect("a folder to write in");
    for (name, scene) in pictures(SAYS[0], AREAS[1]) {
        let png = png(&scene.to_svg(), 7.0).expect("a picture");
        std::fs::write(folder.join(format!("other-{name}.png")), png).expect("written");
    }
}
