//! `takeoff`: what to load, and how the sticks are cut.
use super::read::{company_with, show_unread};
use super::terminal::{out, say};
use super::{FINE, UNREAD};
use crate::material::list::to_csv;
use crate::standard::Verdict;
use crate::text::counted;
use crate::work::Work;
use std::fmt::Write;
use std::path::Path;

/// Prints the list of a job.
pub fn takeoff(root: &Path, name: &str, csv: bool) -> u8 {
    let Some(company) = company_with(root, &[name]) else {
        return UNREAD;
    };
    let Some(job) = company.job(name) else {
        return UNREAD;
    };
    match company.work_up(&[job]).into_iter().next() {
        Some(Ok(work)) => {
            if let Some(why) = on_hold(&work).filter(|_| csv) {
                say(&format!("longsweep: {why}"));
            }
            let text = if csv { to_csv(&work.items) } else { list(&work) };
            if out(&text) { FINE } else { UNREAD }
        }
        Some(Err(unread)) => {
            show_unread(&unread);
            UNREAD
        }
        None => UNREAD,
    }
}

/// That the job may not be built yet, where that is so: who loads by this list reads it.
fn on_hold(work: &Work) -> Option<String> {
    let what = match work.verdict() {
        Verdict::Fail => "a must of the standard is broken",
        verdict if verdict.stops() => "the job is on hold",
        _ => return None,
    };
    Some(format!("Not to be built by yet: {what}; `longsweep inspect {}` tells why", work.job.key))
}

fn list(work: &Work) -> String {
    let mut text = format!("{}: to load\n", work.job.title);
    if let Some(why) = on_hold(work) {
        let _ = writeln!(text, "{why}\n");
    }
    for item in &work.items {
        let note = if item.note.is_empty() { String::new() } else { format!("  ({})", item.note) };
        let _ = writeln!(text, "{:>7} {:<6} {}{note}", item.count, item.unit, item.part);
    }
    match &work.cuts.plan {
        Ok(plan) => {
            let proven = if plan.proven { "proven to be the fewest" } else { "not proven to be the fewest" };
            let _ = writeln!(
                text,
                "\nCutting plan: {}, {proven} (no plan has fewer than {})",
                counted(plan.sticks.len(), "stick"),
                plan.lower_bound
            );
            for (n, stick) in plan.sticks.iter().enumerate() {
                let pieces: Vec<String> = stick
                    .pieces
                    .iter()
                    .map(|p| format!("{} {} {}", p.owner, p.mark, work.say.length(p.length_m)))
                    .collect();
                let _ = writeln!(
                    text,
                    "{:>3}  {}; offcut {}",
                    n + 1,
                    pieces.join(", "),
                    work.say.length(stick.offcut_m)
                );
            }
        }
        Err(why) => {
            let _ = writeln!(text, "\nNo cutting plan: {why}");
        }
    }
    text
}
