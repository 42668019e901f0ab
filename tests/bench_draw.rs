//! How long a view takes; figures only, for a quiet machine: `cargo test --release --test bench_draw -- --ignored --nocapture`.
mod drawings_support;
use drawings_support::*;
use longsweep::draw::VIEWS;

#[test]
#[ignore = "prints times, checks nothing"]
fn one_view() {
    let mut cases = dozen();
    cases.extend((0..100).map(random));
    for view in VIEWS {
        let mut times: Vec<(f64, &str)> = cases
            .iter()
            .map(|case| (least_ms(|| case.draw(view, usual_area(view)).to_svg()), case.name.as_str()))
            .collect();
        times.sort_by(|a, b| a.0.total_cmp(&b.0));
        let at = |part: f64| times[(part * (times.len() - 1) as f64) as usize];
        println!(
            "{}: median {:.2} ms, 90 % {:.2} ms, most {:.2} ms ({})",
            view.name,
            at(0.5).0,
            at(0.9).0,
            at(1.0).0,
            at(1.0).1
        );
    }
}

/// The least time of five, ms: the machine may be busy with other things, and the clock of a thread is coarse.
fn least_ms<T>(work: impl Fn() -> T) -> f64 {
    let once = || {
        let start = std::time::Instant::now();
        std::hint::black_box(work());
        start.elapsed().as_secs_f64() * 1e3
    };
    (0..5).map(|_| once()).fold(f64::MAX, f64::min)
}
