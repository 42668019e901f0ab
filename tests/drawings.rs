//! Drawings read back: no label on a label or on a line, every bend flagged once, dimensions true.
mod drawings_support;
use drawings_support::read::*;
use drawings_support::*;
use longsweep::draw::{Scene, Segment, Shape, Shown, VIEWS, View};
use longsweep::measure::Say;
use longsweep::route::Line;
use rayon::prelude::*;

/// Routes drawn by chance, in each of the three views.
const ROUTES: u64 = 1000;
/// Widths to draw in, taken in turn, mm: half a sheet, a whole one, the narrowest that is promised.
const AREAS: [(f64, f64); 4] = [(190.0, 95.0), (93.0, 90.0), (80.0, 80.0), (190.0, 60.0)];

/// Every check over every random route; the seed in the message draws the same one again.
#[test]
fn random_routes_are_legible() {
    let of_seed = |seed: u64| {
        let (case, area) = (random(seed), AREAS[(seed as usize) % AREAS.len()]);
        let found = VIEWS.iter().flat_map(|view| {
            let scene = case.draw(view, area);
            let found = faults(&scene, view, &case, area.0);
            found.into_iter().map(move |fault| format!("{seed} {}: {fault}", view.name)).collect::<Vec<_>>()
        });
        found.collect::<Vec<String>>()
    };
    let wrong: Vec<String> = (0..ROUTES).into_par_iter().flat_map_iter(of_seed).collect();
    let few: Vec<&String> = wrong.iter().take(12).collect();
    assert!(wrong.is_empty(), "{} faults, the first: {few:#?}", wrong.len());
}

/// The same for the dozen drawn by hand, which carry everything a picture can carry.
#[test]
fn the_dozen_is_legible() {
    for case in dozen() {
        for view in VIEWS {
            for area in AREAS {
                let found = faults(&case.draw(view, area), view, &case, area.0);
                assert!(found.is_empty(), "{} {} at {area:?}: {found:#?}", case.name, view.name);
            }
        }
    }
}

/// The width of a text as measured is the width a renderer finds, to a hundredth of a millimetre.
#[test]
fn agrees_with_renderer_text_boxes() {
    let case = &dozen()[0];
    let scene = case.draw(VIEWS[0], (190.0, 95.0));
    for (ours, theirs) in text_boxes(&scene).iter().zip(rendered_boxes(&scene)) {
        for (a, b) in ours.corners.iter().zip(theirs.corners) {
            assert!(a.distance(b) < 0.02, "{ours:?} against {theirs:?}");
        }
    }
}

/// The same input gives the same drawing.
#[test]
fn drawings_repeat() {
    for view in VIEWS {
        let case = random(7);
        assert_eq!(case.draw(view, (190.0, 95.0)).to_svg(), random(7).draw(view, (190.0, 95.0)).to_svg());
    }
}

/// A drawing at 1:96 is at 1:96: the distance between two work points on paper is theirs in the house.
#[test]
fn recovers_lengths_from_paper() {
    let case = &dozen()[1];
    let scene = case.draw(VIEWS[0], (190.0, 95.0));
    let ratio: f64 = scene
        .of_kind("scale-bar")
        .next()
        .and_then(|m| m.datum("scale"))
        .expect("a scale")
        .parse()
        .expect("a number");
    for mark in scene.of_kind("dimension") {
        let length_m: f64 = mark.datum("length-m").expect("a length").parse().expect("a number");
        let Shape::Path { steps, .. } = &mark.shapes[0] else { panic!("a dimension begins with its lines") };
        let (Segment::Move(a), Segment::Line(b)) = (steps[4], steps[5]) else {
            panic!("its third line is the measure")
        };
        // Four decimals of a metre are kept in the attribute.
        assert!((a.distance(b) * ratio / 1000.0 - length_m).abs() < 2e-4, "{length_m} m");
    }
}

/// A line of a mile and more is drawn on no sheet; the refusal tells its size.
#[test]
fn a_drawing_larger_than_any_sheet_is_refused() {
    let line = route([0.0, 0.0, 0.0], "up", "59000 run; 90 east; 30 run");
    let mut case = dressed("tower", line, longsweep::measure::Lengths::FtIn, 40.0);
    (case.tubes, case.joints) = (vec![], vec![]);
    let svg = case.draw(VIEWS[0], (190.0, 95.0)).to_svg();
    let why = longsweep::draw::check(&svg).expect_err("it would be metres high").to_string();
    assert!(why.contains("larger than any sheet"), "{why}");
}

/// Everything wrong with a drawing.
fn faults(scene: &Scene, view: &View, case: &Case, width_mm: f64) -> Vec<String> {
    let mut wrong = words_wrong(scene, width_mm);
    match view.shown {
        Shown::Line(_) => {
            wrong.extend(flags_wrong(scene, &case.line));
            wrong.extend(dimensions_wrong(scene, &case.line, &case.say));
        }
        Shown::Job(_) | Shown::Floor(_) => {}
    }
    wrong
}

/// Every bend has one flag, with its number in words.
fn flags_wrong(scene: &Scene, line: &Line) -> Vec<String> {
    let mut wrong = Vec::new();
    for bend in &line.bends {
        let mark = line.bend_mark(bend.n);
        let flags: Vec<_> =
            scene.of_kind("bend-flag").filter(|flag| flag.datum("mark") == Some(&mark)).collect();
        if flags.len() != 1 || !flags[0].texts().any(|text| text.words.starts_with(&mark)) {
            wrong.push(format!("{mark} is flagged {} times", flags.len()));
        }
    }
    wrong
}

/// Every leg has one dimension, its words are its length, and all together are the whole.
fn dimensions_wrong(scene: &Scene, line: &Line, say: &Say) -> Vec<String> {
    let mut wrong = Vec::new();
    let all: Vec<_> = scene.of_kind("dimension").collect();
    let sum: f64 = all.iter().filter_map(|mark| mark.datum("length-m")?.parse::<f64>().ok()).sum();
    if all.len() != line.legs.len() || (sum - line.centre_m).abs() > 1e-4 * line.legs.len() as f64 {
        wrong.push(format!(
            "{} dimensions of {sum} m for {} legs of {} m",
            all.len(),
            line.legs.len(),
            line.centre_m
        ));
    }
    for (i, leg) in line.legs.iter().enumerate() {
        let (name, length) = (format!("leg {}", i + 1), say.length(leg.length_m));
        let told = all.iter().find(|mark| mark.datum("mark") == Some(&name));
        let words = |mark: &&longsweep::draw::Mark| {
            mark.texts().map(|text| text.words.as_str()).collect::<Vec<_>>().join(" ")
        };
        if !told.as_ref().is_some_and(|mark| words(mark).contains(&length)) {
            wrong.push(format!("{name} does not say {length}"));
        }
    }
    wrong
}

/// Writes pictures to look at under tests/.work/look.
#[test]
#[ignore = "for eyes, not for checks"]
fn look() {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/.work/look");
    std::fs::create_dir_all(&folder).expect("a folder to write in");
    let mut cases = dozen();
    cases.extend((0..40).map(random));
    for case in cases {
        for view in VIEWS {
            let svg = case.draw(view, usual_area(view)).to_svg();
            let png = longsweep::draw::png(&svg, 7.0).expect("a picture");
            std::fs::write(folder.join(format!("{}-{}.png", case.name, view.name)), png).expect("written");
        }
    }
}
