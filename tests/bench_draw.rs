//! How long a view takes; figures only, for a quiet machine: `cargo test --release --test bench_draw -- --ignored --nocapture`.
mod drawings_support;
use drawings_support::*;

#[test]
#[ignore = "prints times, checks nothing"]
fn one_view() {
    let mut cases = dozen();
    cases.extend((0..100).map(random));
    for view in VIEWS {
        let area = if view == "elevation" { (190.0, 95.0) } else { (93.0, 90.0) };
        let mut times: Vec<(f64, &str)> = cases
            .iter()
            .map(|case| {
                let start = spent_ms();
                let scene = case.draw(view, area);
                std::hint::black_box(scene.to_svg());
                (spent_ms() - start, case.name.as_str())
            })
            .collect();
        times.sort_by(|a, b| a.0.total_cmp(&b.0));
        let at = |part: f64| times[(part * (times.len() - 1) as f64) as usize];
        println!(
            "{view}: median {:.2} ms, 90 % {:.2} ms, most {:.2} ms ({})",
            at(0.5).0,
            at(0.9).0,
            at(1.0).0,
            at(1.0).1
        );
    }
}

/// Processor time of this thread, ms: the machine may be busy with other things.
fn spent_ms() -> f64 {
    let spent = std::fs::read_to_string("/proc/thread-self/schedstat").unwrap_or_default();
    spent.split(' ').next().and_then(|ns| ns.parse::<f64>().ok()).unwrap_or(0.0) / 1e6
}
