//! What the lesson `effort` prints of the limit of 360 degrees comes out of the demo's own figures.
use longsweep::company::{load, read_path};
use longsweep::figures::{Draw, HoseFigures};
use longsweep::standard::kinds;
use longsweep::work::Work;
use std::fmt::Write;
use std::path::Path;

/// Inches of runs past the first leg, 48 ft in all.
const REST_IN: [(&str, &str, f64); 2] = [("down", "2 ft 10 in", 542.0), ("up", "7 ft", 492.0)];

#[test]
fn the_lesson_prints_the_reserves_of_the_demo() {
    let lesson = lesson();
    let (mut wrong, mut least) = (Vec::new(), Vec::new());
    for (way, first, rest_in) in REST_IN {
        let all: Vec<HoseFigures> = (1..=5).map(|sweeps| reckoned(way, first, rest_in, sweeps)).collect();
        let cases: Vec<Vec<Draw>> = all.iter().map(|hose| hose.pure().unwrap()).collect();
        let of = |case: usize| cases.iter().map(|draws| draws[case].worst.reserve()).collect::<Vec<f64>>();
        let by_gaps = all.iter().map(|hose| hose.draw().worst.reserve()).collect();
        let rows = [
            ("in the valve", of(0)),
            ("along the hose", of(1)),
            ("round the tail", of(2)),
            ("by our gaps", by_gaps),
        ];
        for (name, reserves) in rows {
            let figures: Vec<String> = reserves.iter().map(|reserve| format!("{reserve:.2}")).collect();
            let row = format!("| {name}, {way} | {} |", figures.join(" | "));
            if !lesson.contains(&row) {
                wrong.push(row);
            }
            least.push((format!("{name}, {way}"), reserves));
        }
    }
    assert!(wrong.is_empty(), "the lesson does not print\n{}", wrong.join("\n"));
    // The three sentences under the table.
    let met = |name: &str| {
        let (_, reserves) = least.iter().find(|(known, _)| known == name).unwrap();
        reserves.iter().take_while(|reserve| **reserve >= 1.25).count()
    };
    assert_eq!(met("in the valve, down"), 4, "sealed at the valve and going down it ends at 360 degrees");
    assert_eq!(met("round the tail, up"), 1, "with a close tail an attic ends after the first bend");
    assert_eq!(
        (met("along the hose, down"), met("along the hose, up")),
        (5, 5),
        "leaking along it never ends"
    );
}

fn lesson() -> String {
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("content/lessons/effort.md");
    std::fs::read_to_string(file).unwrap()
}

/// A first leg, then the rest in equal level runs, a sweep of 90 before each.
fn reckoned(way: &str, first: &str, rest_in: f64, sweeps: u32) -> HoseFigures {
    let company = load(Path::new(env!("CARGO_MANIFEST_DIR")), &kinds());
    let (catalog, firm) = (company.catalog.unwrap(), company.firm.unwrap());
    let mut job = company.jobs.into_iter().flatten().find(|job| job.key == "curlew-lodge").unwrap();
    let standard = company.standards.iter().find(|standard| standard.revision == firm.standard).unwrap();
    let mut text = format!("leaves: {way}\nhose: socked-40\npath:\n  - run: {first}\n");
    for i in 0..sweeps {
        let toward = if i % 2 == 0 { "west" } else { "south" };
        writeln!(text, "  - turn: 90 {toward}\n  - run: {} in", rest_in / f64::from(sweeps)).unwrap();
    }
    let path = read_path("a lesson", &text, 0, &catalog).unwrap();
    (job.inlets[0], job.lines[0]) = (path.inlet, path.line);
    let work = Work::up(&job, standard, &catalog, firm.say());
    work.figures.inlets[0].hose.clone().unwrap()
}
