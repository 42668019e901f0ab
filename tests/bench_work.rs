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
