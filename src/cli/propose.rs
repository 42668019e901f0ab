//! `propose`: routes over the house plan, each inspected before it is shown; and writing one into the job.
use super::read::company_with;
use super::terminal::{out, say, show};
use super::{FINE, UNREAD};
use crate::company::{Into, Job};
use crate::measure::Say;
use crate::propose::write::write_route;
use crate::propose::{Proposal, Proposals, Proposer, bound_words, route_words};
use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};
use serde_json::{Value, json};
use std::fmt::Write;
use std::fs;
use std::io::Write as _;
use std::path::Path;

/// What is wanted.
pub struct Wanted<'a> {
    pub inlet: Option<&'a str>,
    pub write: bool,
    pub json: bool,
}

/// Proposes routes for a job's inlets.
pub fn propose(root: &Path, name: &str, wanted: &Wanted) -> u8 {
    let Some(company) = company_with(root, &[name]) else {
        return UNREAD;
    };
    let Some(job) = company.job(name) else {
        return UNREAD;
    };
    let job = match job {
        Ok(job) => job,
        Err(unread) => {
            show(&unread.diagnostics);
            return UNREAD;
        }
    };
    let Some(standard) = company.standard(job) else {
        return UNREAD;
    };
    let proposer = Proposer { job, standard, catalog: &company.catalog, say: company.firm.say() };
    match may_write(job, wanted).and_then(|()| search(&proposer, wanted)) {
        Ok(found) => finish(root, &proposer, &found, wanted),
        Err(why) => {
            say(&format!("longsweep: {why}"));
            UNREAD
        }
    }
}

/// Whether what is asked for may be written: a proposed route runs to the unit by itself, and would take an
/// inlet off the trunk that it joins.
fn may_write(job: &Job, wanted: &Wanted) -> Result<(), String> {
    let on_trunk = |i: &usize| {
        let asked = wanted.inlet.is_none_or(|id| id == job.inlets[*i].id);
        asked
            && matches!(
                job.of_inlet(*i).and_then(|line| line.into.as_ref()),
                Some(Into::Trunk { .. } | Into::Start { .. })
            )
    };
    match (0..job.inlets.len()).find(on_trunk).filter(|_| wanted.write) {
        Some(i) => Err(format!(
            "{} joins a trunk, and a proposed route runs to the unit by itself; nothing was written",
            job.inlets[i].name
        )),
        None => Ok(()),
    }
}

/// Puts a job file in its place whole, or not at all.
fn replace(file: &Path, text: &str) -> std::io::Result<()> {
    let mut whole = tempfile::NamedTempFile::new_in(file.parent().unwrap_or(Path::new(".")))?;
    whole.write_all(text.as_bytes())?;
    whole.as_file().set_permissions(fs::metadata(file)?.permissions())?;
    whole.as_file().sync_data()?;
    whole.persist(file).map_err(|error| error.error)?;
    Ok(())
}

fn search(proposer: &Proposer, wanted: &Wanted) -> Result<Vec<Proposals>, String> {
    let job = proposer.job;
    let inlets: Vec<usize> = match wanted.inlet {
        None => (0..job.inlets.len()).collect(),
        Some(id) => {
            let found = job.inlets.iter().position(|inlet| inlet.id == id);
            let ids: Vec<&str> = job.inlets.iter().map(|inlet| inlet.id.as_str()).collect();
            vec![found.ok_or_else(|| format!("there is no inlet `{id}`; the job has {}", ids.join(", ")))?]
        }
    };
    let bar = ProgressBar::with_draw_target(None, ProgressDrawTarget::stderr());
    if let Ok(style) = ProgressStyle::with_template("{spinner} {msg}") {
        bar.set_style(style);
    }
    let mut all = Vec::new();
    for inlet in inlets {
        let name = job.inlets[inlet].name.clone();
        let mut told = |stands: usize, tried: usize| {
            bar.set_message(format!("{name}: {stands} places of the valve, {tried} routes inspected"));
            bar.tick();
        };
        all.push(
            proposer.inlet(inlet, &mut told).map_err(|why| format!("{}: {why}", job.inlets[inlet].name))?,
        );
    }
    bar.finish_and_clear();
    Ok(all)
}

fn finish(root: &Path, proposer: &Proposer, found: &[Proposals], wanted: &Wanted) -> u8 {
    let text = if wanted.json {
        let all: Vec<Value> = found.iter().map(|found| record(proposer.job, found)).collect();
        format!("{:#}\n", Value::Array(all))
    } else {
        found.iter().map(|found| words(proposer.job, found, &proposer.say)).collect()
    };
    if !out(&text) {
        return UNREAD;
    }
    if !wanted.write {
        return FINE;
    }
    match write(root, proposer, found) {
        Ok(done) => {
            say(&done);
            FINE
        }
        Err(why) => {
            say(&format!("longsweep: {why}"));
            UNREAD
        }
    }
}

/// Writes the best route of every inlet, the last inlet of the file first, so that places stay true.
fn write(root: &Path, proposer: &Proposer, found: &[Proposals]) -> Result<String, String> {
    let job = proposer.job;
    let file = root.join(&*job.inlets[0].place.file);
    let mut text =
        fs::read_to_string(&file).map_err(|e| format!("{} cannot be read: {e}", file.display()))?;
    let mut best: Vec<(usize, &Proposal)> =
        found.iter().filter_map(|found| Some((found.inlet, found.offers.first()?))).collect();
    best.sort_by_key(|(inlet, _)| std::cmp::Reverse(job.inlets[*inlet].place.line));
    for (inlet, proposal) in &best {
        text = write_route(&text, job.inlets[*inlet].place.line, proposal, &proposer.say)?;
    }
    replace(&file, &text).map_err(|e| format!("{} cannot be written: {e}", file.display()))?;
    let names: Vec<&str> = best.iter().rev().map(|(inlet, _)| job.inlets[*inlet].id.as_str()).collect();
    Ok(format!("wrote the best route of {} into {}", names.join(", "), file.display()))
}

fn words(job: &Job, found: &Proposals, say: &Say) -> String {
    let mut text = format!("{}: {} routes inspected\n", job.inlets[found.inlet].name, found.tried);
    for bound in bound_words(found, say) {
        let _ = writeln!(text, "  on this grid of lanes, {bound}");
    }
    if found.offers.is_empty() {
        text.push_str("  none passes the standard\n");
        for (title, count) in &found.against {
            let _ = writeln!(text, "  {title}: broken or on hold in {count}");
        }
    }
    for (number, proposal) in found.offers.iter().enumerate() {
        let bores = if proposal.bores == 1 { "1 joist".into() } else { format!("{} joists", proposal.bores) };
        let onward = say.length(proposal.onward_m);
        let _ = writeln!(
            text,
            "  {}. {}: {:.0} degrees, {bores} bored, {onward} on from the stop{}",
            number + 1,
            proposal.verdict.word(),
            proposal.degrees,
            moved(proposal, say)
        );
        let _ = writeln!(text, "     {}", route_words(proposal, say));
    }
    text
}

fn moved(proposal: &Proposal, say: &Say) -> String {
    let (by, way) = (proposal.moved.length(), proposal.moved.extend(0.0));
    if by < 1e-6 {
        return String::new();
    }
    format!("; valve moved {} {} within its bay", say.length(by), crate::measure::heading_words(way))
}

fn record(job: &Job, found: &Proposals) -> Value {
    let offers = found.offers.iter().map(|p| {
        let points = std::iter::once(p.line.start).chain(p.line.legs.iter().map(|leg| leg.to));
        json!({
            "verdict": p.verdict.key(),
            "bend_total_deg": p.degrees,
            "bores": p.bores,
            "onward_m": p.onward_m,
            "moved": [p.moved.x, p.moved.y],
            "points": points.map(|q| json!([q.x, q.y, q.z])).collect::<Vec<Value>>(),
        })
    });
    json!({
        "id": job.inlets[found.inlet].id,
        "needed_m": found.need_m,
        "bounds": found.bounds.iter().map(|(d, m)| json!({"bend_total_deg": d, "at_most_m": m})).collect::<Vec<Value>>(),
        "tried": found.tried,
        "offers": offers.collect::<Vec<Value>>(),
    })
}
