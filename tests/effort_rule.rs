//! The trade's limit of 360 degrees comes out of the demo's own figures: the table of the lesson `effort`.
use longsweep::company::{load, read_path};
use longsweep::figures::reckon_job;
use longsweep::standard::kinds;
use longsweep::work::Work;
use std::fmt::Write;
use std::path::Path;

/// Pounds-force, and the reserve, for one to six sweeps: as printed in the lesson.
const PRINTED: [(f64, f64); 6] =
    [(3.0, 3.77), (3.8, 2.98), (5.2, 2.17), (7.3, 1.56), (10.2, 1.11), (13.8, 0.82)];

#[test]
fn the_reserve_runs_out_just_past_360_degrees() {
    let company = load(Path::new(env!("CARGO_MANIFEST_DIR")), &kinds());
    let (catalog, firm) = (company.catalog.unwrap(), company.firm.unwrap());
    let mut job = company.jobs.into_iter().flatten().find(|job| job.key == "curlew-lodge").unwrap();
    let standard = company.standards.iter().find(|standard| standard.revision == firm.standard).unwrap();
    let lesson =
        std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("content/lessons/effort.md"))
            .unwrap();
    for (n, (pounds, reserve)) in (1..=6).zip(PRINTED) {
        // A plumb drop of 6 ft, then 42 ft in equal level runs, a sweep before each.
        let mut text = "leaves: down\nhose: socked-40\npath:\n  - run: 6 ft\n".to_owned();
        for i in 0..n {
            let way = if i % 2 == 0 { "west" } else { "south" };
            writeln!(text, "  - turn: 90 {way}\n  - run: {} ft", 42.0 / f64::from(n)).unwrap();
        }
        let path = read_path("a lesson", &text, 0, &catalog).unwrap();
        (job.inlets[0], job.lines[0]) = (path.inlet, path.line);
        let work = Work::up(&job, standard, &catalog, firm.say());
        let figures = reckon_job(&job, &work.lines, &catalog);
        let need_n = figures.inlets[0].effort.as_ref().unwrap().draw_in.worst_n;
        let has_n = *figures.inlets[0].available_n.as_ref().unwrap();
        assert!(
            (need_n / 4.448_221_6 - pounds).abs() < 0.05,
            "{n} bends need {need_n} N, printed {pounds} lbf"
        );
        assert!(
            (has_n / need_n - reserve).abs() < 0.005,
            "{n} bends leave {}, printed {reserve}",
            has_n / need_n
        );
        let row = format!("| {n} | {} | {pounds:.1} lbf | {reserve:.2} |", 90 * n);
        assert!(lesson.contains(&row), "the lesson does not print `{row}`");
        let draw_in = work.findings.inlets[0].iter().find(|finding| finding.clause == "draw-in").unwrap();
        assert_eq!(draw_in.verdict.word(), if n <= 4 { "pass" } else { "fail" }, "{n} bends");
    }
}
