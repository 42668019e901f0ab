//! No hold and no hazard is lost between the cover and the sheets behind it.
use crate::packet::fixture::{Fixture, gull_cottage, pictures};
use crate::packet::outline::{Kind, Outline};
use crate::packet::{Body, Source, lay};
use crate::standard::{Finding, Verdict};

/// The job with so many more holds, half of them of its first inlet and half of its second, and one of the job.
fn held(fixture: &Fixture, count: usize) -> Vec<Body> {
    let mut work = fixture.work();
    let model = work.findings.inlets[0][0].clone();
    let hold = |n: usize| Finding {
        verdict: Verdict::Hold,
        note: format!("member {n} of the house waits for a paper that nobody has sent yet"),
        remedy: Some(format!("letter {n} by whoever made the member, with the hole drawn in it")),
        ..model.clone()
    };
    work.findings.job.retain(|finding| finding.verdict != Verdict::Hold);
    for found in &mut work.findings.inlets {
        found.retain(|finding| finding.verdict != Verdict::Hold);
    }
    for n in 0..count {
        work.findings.inlets[n % 2].push(hold(n));
    }
    work.findings.job.push(Finding { note: "nobody spoke of the circuit".into(), ..hold(count) });
    let worked = fixture.worked(&work);
    let out = Outline::of(&fixture.job);
    let laid = lay(&Source { worked: &worked, pictures: &pictures(), out: &out });
    laid.into_iter().filter(|laid| laid.kind == Kind::Cover).map(|laid| laid.sheet.body).collect()
}

#[test]
fn every_hold_stands_on_the_cover_or_on_a_sheet_that_it_names() {
    let fixture = gull_cottage();
    for count in [0, 1, 5, 10, 20, 30, 60, 120] {
        let bodies = held(&fixture, count);
        let Body::JobCover(cover) = &bodies[0] else { panic!("a cover") };
        assert!(cover.holds[0].what.contains("Nobody spoke of the circuit"), "{}", cover.holds[0].what);
        let mut clears: Vec<String> = cover.holds.iter().map(|hold| hold.clears.clone()).collect();
        let mut hazards = cover.hazards.len();
        for body in &bodies[1..] {
            let Body::CoverMore(more) = body else { panic!("a sheet behind the cover") };
            clears.extend(more.holds.iter().map(|hold| hold.clears.clone()));
            hazards += more.hazards.len();
        }
        assert_eq!(clears.len(), count + 1);
        for n in 0..=count {
            let told = format!("Letter {n} by");
            assert!(clears.iter().any(|words| words.contains(&told)), "hold {n} of {count} is lost");
        }
        assert_eq!(hazards, crate::packet::cautions::cautions(&fixture.job, &fixture.work().lines).len());
        let named = match bodies.len() {
            1 => String::new(),
            2 => "On sheet 2:".into(),
            3 => "On sheets 2 and 3:".into(),
            count => format!("On sheets 2 to {count}:"),
        };
        assert!(
            cover.more.starts_with(&named) && cover.more.is_empty() == named.is_empty(),
            "{}",
            cover.more
        );
        if bodies.len() > 1 && count > cover.holds.len() {
            assert!(
                cover.more.contains(&format!("{} more hold", count + 1 - cover.holds.len())),
                "{}",
                cover.more
            );
        }
    }
    assert!(held(&fixture, 30).len() > 1 && held(&fixture, 120).len() > 3);
}
