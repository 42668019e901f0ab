//! `propose --crossings`: joists of the plan that the job's runs meet and do not list, put into the file.
use super::rewrite::Held;
use super::terminal::{out, say};
use super::{FINE, UNREAD};
use crate::company::{Catalog, Job, Step};
use crate::measure::Say;
use crate::propose::crossings::{Lacking, lacking, write_crossings};
use crate::route::lay_job;
use std::fmt::Write;

/// Tells what the runs of a job lack, and writes it into the file where that is wanted.
pub fn crossings(held: &Held, job: &Job, catalog: &Catalog, lengths: &Say, write: bool) -> u8 {
    if job.plan.as_deref().is_none_or(|plan| plan.plan.level.is_none()) {
        say("longsweep: the job has no plan with a `raceway-level`");
        return UNREAD;
    }
    let found = lacking(job, &lay_job(job, catalog, lengths));
    if !out(&words(&found, lengths)) {
        return UNREAD;
    }
    if !write || found.is_empty() {
        return FINE;
    }
    let listed = |job: &Job| {
        let runs = job.lines.iter().flat_map(|line| &line.steps);
        let of = |step: &Step| if let Step::Run(run) = step { run.crossings.len() } else { 0 };
        runs.map(of).sum::<usize>()
    };
    let no_less = |again: &Job| listed(again) >= listed(job);
    match held.write(job, |text| Ok(write_crossings(text, &found, lengths)), no_less) {
        Ok(left) => {
            left.iter().for_each(|why| say(&format!("left alone: {why}")));
            let runs = found.len() - left.len();
            let runs = if runs == 1 { "1 run".to_owned() } else { format!("{runs} runs") };
            say(&format!("wrote the crossings of {runs} into {}; now give each its `hole:`", held.named()));
            FINE
        }
        Err(why) => {
            say(&format!("longsweep: {why}"));
            UNREAD
        }
    }
}

fn words(found: &[Lacking], say: &Say) -> String {
    if found.is_empty() {
        return "Every joist of the plan that a run meets is listed.\n".into();
    }
    let mut text = String::new();
    for one in found {
        let at: Vec<String> = one.crossings.iter().map(|c| say.length(c.at_m)).collect();
        let size = one.crossings.first().and_then(|c| c.size.as_deref()).unwrap_or_default();
        let _ = writeln!(text, "{}, {}: {size} joists at {}", one.run, one.line, at.join(", "));
    }
    text
}
