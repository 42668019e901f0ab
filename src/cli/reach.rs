//! `reach`: what the hoses of a job come to, and how few valves would do.
use super::read::{company_with, show_unread};
use super::terminal::{out, say};
use super::{FINE, UNREAD};
use crate::packet::reach::{ReachSheet, reach_sheet};
use crate::work::Work;
use std::fmt::Write;
use std::path::Path;

/// Prints the reach of a job.
pub fn reach(root: &Path, name: &str, json: bool) -> u8 {
    let Some(company) = company_with(root, &[name]) else {
        return UNREAD;
    };
    let Some(job) = company.job(name) else {
        return UNREAD;
    };
    match company.work_up(&[job]).into_iter().next() {
        Some(Ok(work)) => match reach_sheet(&work) {
            Some(sheet) if json => print_json(&sheet),
            Some(sheet) => put(&words(&work, &sheet)),
            None => {
                say(&format!("longsweep: the job `{name}` has no plan; add `plan:` to its file"));
                UNREAD
            }
        },
        Some(Err(unread)) => {
            show_unread(&unread);
            UNREAD
        }
        None => UNREAD,
    }
}

fn put(text: &str) -> u8 {
    if out(text) { FINE } else { UNREAD }
}

fn print_json(sheet: &ReachSheet) -> u8 {
    match serde_json::to_value(sheet) {
        Ok(mut value) => {
            if let Some(sheet) = value.as_object_mut() {
                sheet.remove("told");
            }
            // The drawings are files of their own; `draw` makes them.
            for floor in value["floors"].as_array_mut().into_iter().flatten() {
                if let Some(floor) = floor.as_object_mut() {
                    floor.remove("svg");
                }
            }
            put(&format!("{value:#}\n"))
        }
        Err(_) => UNREAD,
    }
}

fn words(work: &Work, sheet: &ReachSheet) -> String {
    let mut text = format!("{}: reach, with a wand of {}\n", work.job.title, sheet.wand);
    for valve in &sheet.valves {
        let _ = writeln!(text, "  {} ({} hose): {}", valve.name, valve.hose, valve.farthest);
    }
    if sheet.left.is_empty() {
        text.push_str("Left out: nothing\n");
    } else {
        text.push_str("Left out:\n");
        sheet.left.iter().for_each(|left| text.push_str(&format!("  {left}\n")));
    }
    text.push_str("Fewest valves:\n");
    for row in &sheet.fewest {
        let _ = writeln!(text, "  {} hose: {}, {}", row.hose, row.valves, row.proven);
        row.places.iter().for_each(|place| text.push_str(&format!("    {place}\n")));
        let less = if row.less.is_empty() { String::new() } else { format!("{}; ", row.less) };
        let _ = writeln!(text, "    {less}{}", row.more);
    }
    for closed in &sheet.loops {
        let _ = writeln!(text, "Plan: {closed}");
    }
    text
}
