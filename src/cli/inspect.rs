//! `inspect`: findings on the terminal, or every figure as JSON.
use super::read::{Company, company, company_with, show_all_unread};
use super::terminal::{count, out, show};
use super::{BROKEN, FINE, UNREAD};
use crate::company::{Job, UnreadJob};
use crate::standard::{Finding, Verdict};
use crate::work::{Work, record};
use std::fmt::Write;
use std::path::Path;

/// Inspects the jobs named, or all.
pub fn inspect(root: &Path, names: &[String], json: bool) -> u8 {
    let keys: Vec<&str> = names.iter().map(String::as_str).collect();
    let read = if keys.is_empty() { company(root) } else { company_with(root, &keys) };
    let Some(company) = read else {
        return UNREAD;
    };
    let Some(jobs) = wanted(&company, names) else {
        return UNREAD;
    };
    let mut unread = !company.whole();
    let mut broken = false;
    let mut unread_jobs = Vec::new();
    let mut text = String::new();
    for job in company.work_up(&jobs) {
        match job {
            Ok(work) => {
                show(&work.job.warnings);
                broken |= !work.findings.may_be_built();
                text.push_str(&if json { line(&work) } else { report(&work) });
            }
            Err(failed) => {
                unread = true;
                unread_jobs.push(failed);
            }
        }
    }
    show_all_unread(&unread_jobs.iter().map(AsRef::as_ref).collect::<Vec<_>>());
    if !out(&text) || unread {
        return UNREAD;
    }
    if broken { BROKEN } else { FINE }
}

fn wanted<'a>(company: &'a Company, names: &[String]) -> Option<Vec<&'a Result<Job, UnreadJob>>> {
    if names.is_empty() {
        return Some(company.loaded.jobs.iter().collect());
    }
    names.iter().map(|name| company.job(name)).collect()
}

/// The record on one line.
fn line(work: &Work) -> String {
    // Plain keys, lists and numbers always serialise.
    serde_json::to_string(&record(work)).unwrap_or_default() + "\n"
}

fn report(work: &Work) -> String {
    let mut text =
        format!("{} — {} ({})\n", work.job.title, work.verdict().word().to_uppercase(), work.job.key);
    for (i, inlet) in work.job.inlets.iter().enumerate() {
        let verdict = work.findings.inlet_verdict(i).word();
        let _ = writeln!(text, "\n  {} — {verdict}", inlet.name);
        for finding in &work.findings.inlets[i] {
            text.push_str(&told(finding));
            text.push_str(&proven(work, i, finding));
        }
    }
    for (index, line) in work.lines.lines.iter().enumerate().skip(work.lines.inlets) {
        let _ = writeln!(text, "\n  Trunk {}", line.name);
        for finding in work.findings.of(line.owner) {
            text.push_str(&told(finding));
            text.push_str(&proven(work, index, finding));
        }
    }
    if !work.findings.job.is_empty() {
        text.push_str("\n  The job as a whole\n");
        work.findings.job.iter().for_each(|finding| text.push_str(&told(finding)));
    }
    text.push_str(&standing(work));
    text.push('\n');
    text
}

/// Whether the job may be built, and what it waits for.
fn standing(work: &Work) -> String {
    let findings = &work.findings;
    let mut text = match findings.verdict() {
        Verdict::Fail => "\n  Not to be built: a must of the standard is broken.\n".to_owned(),
        verdict if verdict.stops() => String::new(),
        _ => return "\n  It may be built.\n".to_owned(),
    };
    for (n, (of, finding)) in findings.holds().enumerate() {
        if n == 0 {
            text.push_str("\n  Not to be built before:\n");
        }
        let whose = work.whose(of);
        let what = finding.remedy.as_ref().unwrap_or(&finding.note);
        let _ = writeln!(text, "    {whose}, {}: {what}", finding.named());
    }
    text
}

fn told(finding: &Finding) -> String {
    let word = finding.verdict.word().to_uppercase();
    let mut text = format!("    {word:<12}{:<5} {}: {}\n", finding.number, finding.title, finding.note);
    if let Some(place) = finding.place.as_ref().filter(|_| finding.verdict.calls()) {
        let _ = writeln!(text, "{:22}{place}", "");
    }
    if let Some(paper) = &finding.cleared {
        let _ = writeln!(text, "{:22}{}", "", paper.words());
    }
    if finding.verdict == Verdict::Hold
        && let Some(clears) = &finding.remedy
    {
        let _ = writeln!(text, "{:22}to clear the hold: {clears}", "");
    }
    if let Some(waiver) = &finding.waiver {
        let _ = writeln!(text, "{:22}waived by {}: {}", "", waiver.by, waiver.because);
    }
    text
}

/// Proven remedies, or that there is none.
fn proven(work: &Work, line: usize, finding: &Finding) -> String {
    if !finding.verdict.broken() && finding.verdict != Verdict::Waived {
        return String::new();
    }
    let Some(offers) = work.offers_for(line, finding) else {
        return String::new();
    };
    let mut text = String::new();
    for offer in &offers.offers {
        let _ = writeln!(text, "{:22}remedy, tried: {}; then {}", "", offer.words, offer.then);
    }
    if offers.offers.is_empty() {
        if offers.tried > 0 {
            let tried = count(offers.tried, "change");
            let _ = writeln!(
                text,
                "{:22}no change, and no two small ones, was found that mends this and breaks nothing else ({tried} tried)",
                ""
            );
        }
        if let Some(remedy) = &finding.remedy {
            let _ = writeln!(text, "{:22}to be done: {remedy}", "");
        }
    }
    text
}
