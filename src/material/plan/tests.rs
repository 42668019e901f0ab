use proptest::prelude::*;

use super::*;
use crate::material::{STEPS, cut, cut_by_rule, split};

const EIGHT_FOOT: Stock = Stock {
    stick_m: 2.4384,
    kerf_m: 0.003175,
    shortest_m: 0.1016,
    coupling_gap_m: 0.003175,
    coupling_socket_m: 0.028575,
};

fn tube(owner: &str, mark: &str, clear_m: f64) -> NamedTube {
    NamedTube {
        mark: mark.into(),
        owner: owner.into(),
        clear_m,
        keep_clear: vec![],
    }
}

#[test]
fn experiment() {
    let mut x: u64 = 7;
    let mut rnd = || {
        x ^= x << 13;
        x ^= x >> 7;
        x ^= x << 17;
        (x >> 11) as f64 / (1u64 << 53) as f64
    };
    let (mut met, mut saved, mut open, mut unproven) = (0, 0, 0, 0);
    let mut worst = 0.0f64;
    for job in 0..150 {
        let n = 3 + (rnd() * 30.0) as usize;
        let tubes: Vec<NamedTube> = (0..n)
            .map(|i| tube("o", &format!("A{i}"), 0.2 + 6.5 * rnd() * rnd()))
            .collect();
        let t = std::time::Instant::now();
        let p = plan(&tubes, &EIGHT_FOOT, STEPS).unwrap();
        worst = worst.max(t.elapsed().as_secs_f64());
        let pieces: Vec<f64> = tubes
            .iter()
            .flat_map(|t| {
                split(
                    &TubeToSplit {
                        clear_m: t.clear_m,
                        keep_clear: vec![],
                    },
                    &EIGHT_FOOT,
                )
                .unwrap()
            })
            .collect();
        let d = cut(&pieces, &EIGHT_FOOT, STEPS).unwrap();
        unproven += usize::from(!p.proven);
        if p.sticks.len() == p.least_for_any_split {
            met += 1
        } else {
            open += 1;
            println!(
                "open {job}: n {n} sticks {} lb {} least {}",
                p.sticks.len(),
                p.lower_bound,
                p.least_for_any_split
            )
        }
        if p.sticks.len() < d.sticks.len() {
            saved += 1;
            println!("saved {job} n {n}: {} -> {}", d.sticks.len(), p.sticks.len())
        }
    }
    println!("met {met} saved {saved} open {open} unproven {unproven} worst {worst}");
}
