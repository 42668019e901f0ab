//! How long a job takes to be worked up; run it with
//! `cargo test --release --test bench_work -- --ignored --nocapture`.
use longsweep::company::load;
use longsweep::standard::kinds;
use longsweep::work::Work;
use std::path::Path;
use std::time::Instant;

#[test]
#[ignore = "a timing, not a check"]
fn work_up_every_demo_job() {
    let company = load(Path::new(env!("CARGO_MANIFEST_DIR")), &kinds());
    let (catalog, firm) = (company.catalog.unwrap(), company.firm.unwrap());
    for job in company.jobs.iter().flatten() {
        let standard = company.standards.iter().find(|standard| standard.revision == job.standard).unwrap();
        let mut times: Vec<f64> = (0..50)
            .map(|_| {
                let start = Instant::now();
                let work = Work::up(job, standard, &catalog, firm.say());
                assert_eq!(work.findings.inlets.len(), job.inlets.len());
                start.elapsed().as_secs_f64() * 1000.0
            })
            .collect();
        times.sort_by(f64::total_cmp);
        let (least, median, most) = (times[0], times[25], times[49]);
        println!("{:<22} {} inlets: {least:.2} / {median:.2} / {most:.2} ms", job.key, job.inlets.len());
    }
}

#[test]
#[ignore = "a timing, not a check"]
fn draw_every_view_of_the_demo() {
    use longsweep::draw::{Shown, VIEWS};
    use longsweep::packet::subjects::line;
    let company = load(Path::new(env!("CARGO_MANIFEST_DIR")), &kinds());
    let (catalog, firm) = (company.catalog.unwrap(), company.firm.unwrap());
    for job in company.jobs.iter().flatten() {
        let standard = company.standards.iter().find(|standard| standard.revision == job.standard).unwrap();
        let work = Work::up(job, standard, &catalog, firm.say());
        for (i, inlet) in job.inlets.iter().enumerate() {
            let mut told = format!("{:<22} {:<8}", job.key, inlet.id);
            for view in VIEWS {
                let Shown::Line(draw) = view.shown else { continue };
                let mut times: Vec<f64> = (0..15)
                    .map(|_| {
                        let start = Instant::now();
                        let picture = line(&work, i, view.name, (186.0, 95.0)).unwrap();
                        std::hint::black_box(draw(&picture).to_svg());
                        start.elapsed().as_secs_f64() * 1000.0
                    })
                    .collect();
                times.sort_by(f64::total_cmp);
                told.push_str(&format!("  {} {:.2} ms", view.name, times[7]));
            }
            println!("{told}");
        }
    }
}

/// Jobs at the limits of what is read, and far past them: each is inspected, or refused, within a second.
#[test]
#[ignore = "a timing, not a check"]
fn work_up_jobs_at_the_limits() {
    use longsweep::company::read_job;
    let company = load(Path::new(env!("CARGO_MANIFEST_DIR")), &kinds());
    let (catalog, firm) = (company.catalog.unwrap(), company.firm.unwrap());
    let to_unit = |n: usize| -> String {
        let one = |i: usize| {
            format!(
                "  - id: r{i}\n    valve: door-sealed\n    hose: socked-40\n    raceway: {{leaves: down, path: [{{run: 3 ft}}, \
                 {{turn: 90 east}}, {{run: {} ft}}, {{turn: 90 north}}, {{run: 22 ft}}]}}\n    onward: {{path: [{{run: 2 ft}}, \
                 {{turn: 45 east, with: short-45}}], into: unit}}\n",
                9 + i
            )
        };
        (0..n).map(one).collect()
    };
    let bent = |inlets: usize, bends: usize, run: &str| -> String {
        let steps: String = (0..bends)
            .map(|nth| format!("        - turn: 90 {}\n        - run: {run}\n", ["west", "south"][nth % 2]))
            .collect();
        let one = |i: usize| {
            format!(
                "  - id: r{i}\n    valve: door-sealed\n    hose: socked-40\n    raceway:\n      leaves: down\n      path:\n        - run: {run}\n{steps}"
            )
        };
        (0..inlets).map(one).collect()
    };
    for (what, title, inlets) in [
        ("50 inlets to one unit", "Limits".to_owned(), to_unit(50)),
        ("100 inlets", "Limits".to_owned(), to_unit(100)),
        ("59 bends", "Limits".to_owned(), bent(1, 59, "2 ft")),
        ("5 inlets of 59 bends", "Limits".to_owned(), bent(5, 59, "2 ft")),
        ("12 inlets of 24 bends", "Limits".to_owned(), bent(12, 24, "2 ft")),
        ("500 bends", "Limits".to_owned(), bent(1, 500, "2 ft")),
        ("legs of 450 m", "Limits".to_owned(), bent(1, 1, "450 m")),
        ("legs of 9,000 m", "Limits".to_owned(), bent(1, 1, "9000 m")),
        ("100,000 letters", "x".repeat(100_000), bent(1, 1, "10 ft")),
    ] {
        let text = format!(
            "title: {title}\ndate: 2026-11-30\nunit: {{model: basement-600, at: {{east: 2 ft, north: 3 ft, up: -5 ft}}}}\ninlets:\n{inlets}"
        );
        let start = Instant::now();
        let read = read_job("jobs/limits.yaml", &text, &catalog, &firm, &company.standards, &[]);
        let said = match &read {
            Ok(job) => {
                let standard =
                    company.standards.iter().find(|standard| standard.revision == job.standard).unwrap();
                Work::up(job, standard, &catalog, firm.say()).verdict().word().to_owned()
            }
            Err(faults) => faults[0].message.clone(),
        };
        println!("{what:<22} {:>7.0} ms  {said}", start.elapsed().as_secs_f64() * 1000.0);
    }
}
