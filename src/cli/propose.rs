//! `propose`: routes over the house plan, each inspected before it is shown; and writing them into the job.
use super::crossings::crossings;
use super::read::{company_with, show_unread};
use super::rewrite::Held;
use super::terminal::{out, say};
use super::{FINE, UNREAD};
use crate::company::{Job, LineSpec, Owner, SAME_ANGLE_DEG, Step};
use crate::measure::Say;
use crate::plan::P2;
use crate::propose::write::{Pen, write_line, write_trunks};
use crate::propose::{
    Proposals, Proposer, Shared, Together, against_words, bound_words, line_words, unchecked_words,
};
use crate::route::Line;
use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};
use serde_json::{Value, json};
use std::fmt::Write;
use std::path::Path;

/// What is wanted.
pub struct Wanted<'a> {
    pub inlet: Option<&'a str>,
    /// Crossings of the runs that stand, and no routes.
    pub crossings: bool,
    pub write: bool,
    pub json: bool,
}

/// What was found.
enum Found {
    One(Proposals),
    All(Shared),
}

/// Proposes routes for one of a job's inlets, or for all of them on a trunk.
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
            show_unread(unread);
            return UNREAD;
        }
    };
    let held = Held::of(root, &company, job);
    if wanted.crossings {
        return crossings(&held, job, &company.catalog, &company.firm.say(), wanted.write);
    }
    let Some(standard) = company.standard(job) else {
        return UNREAD;
    };
    let proposer = Proposer { job, standard, catalog: &company.catalog, say: company.firm.say() };
    match search(&proposer, wanted) {
        Ok(found) => finish(&held, &proposer, &found, wanted),
        Err(why) => {
            say(&format!("longsweep: {why}"));
            UNREAD
        }
    }
}

fn search(proposer: &Proposer, wanted: &Wanted) -> Result<Found, String> {
    let job = proposer.job;
    let one = match wanted.inlet {
        None if job.inlets.len() == 1 => Some(0),
        None => None,
        Some(id) => {
            let found = job.inlets.iter().position(|inlet| inlet.id == id);
            let ids: Vec<&str> = job.inlets.iter().map(|inlet| inlet.id.as_str()).collect();
            Some(found.ok_or_else(|| format!("there is no inlet `{id}`; the job has {}", ids.join(", ")))?)
        }
    };
    let bar = ProgressBar::with_draw_target(None, ProgressDrawTarget::stderr());
    if let Ok(style) = ProgressStyle::with_template("{spinner} {msg}") {
        bar.set_style(style);
    }
    let mut tell = |words: String| {
        bar.set_message(words);
        bar.tick();
    };
    let found = match one {
        Some(inlet) => {
            let name = &job.inlets[inlet].name;
            let mut told = |stands: usize, tried: usize| {
                tell(format!("{name}: {stands} places of the valve, {tried} routes inspected"));
            };
            let found = proposer.inlet(inlet, &mut told).map_err(|why| format!("{name}: {why}"))?;
            Found::One(found)
        }
        None => Found::All(proposer.together(&mut tell)?),
    };
    bar.finish_and_clear();
    Ok(found)
}

fn finish(held: &Held, proposer: &Proposer, found: &Found, wanted: &Wanted) -> u8 {
    let (job, say_lengths) = (proposer.job, &proposer.say);
    let text = match (found, wanted.json) {
        (Found::One(one), false) => one_words(job, one, say_lengths),
        (Found::All(all), false) => all_words(job, all, say_lengths),
        (Found::One(one), true) => format!("{:#}\n", json!({"inlets": [record(job, one)]})),
        (Found::All(all), true) => format!("{:#}\n", all_record(job, all)),
    };
    if !out(&text) {
        return UNREAD;
    }
    if !wanted.write {
        return FINE;
    }
    match write(held, proposer, found) {
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

/// Writes the best that was found into the job's file.
fn write(held: &Held, proposer: &Proposer, found: &Found) -> Result<String, String> {
    let step_m = proposer.say.step_m();
    let reads = |again: &Job| match found {
        Found::One(one) => one.offers.first().is_some_and(|best| {
            again.lines.get(one.inlet).is_some_and(|line| alike(line, &best.spec, step_m))
        }),
        Found::All(all) => all.offers.first().is_some_and(|best| {
            let pairs = again.lines.iter().zip(&best.specs);
            again.lines.len() == best.specs.len()
                && pairs.into_iter().all(|(line, spec)| alike(line, spec, step_m))
        }),
    };
    let what = held.write(proposer.job, |text| written(text, proposer, found), reads)?;
    Ok(format!("wrote {what} into {}", held.named()))
}

/// Whether a line reads as it was meant, to a step of the ruler.
fn alike(line: &LineSpec, meant: &LineSpec, step_m: f64) -> bool {
    let same = |pair: (&Step, &Step)| match pair {
        (Step::Run(a), Step::Run(b)) => {
            (a.length_m - b.length_m).abs() < step_m && a.crossings.len() == b.crossings.len()
        }
        (Step::Turn(a), Step::Turn(b)) => (a.angle_deg - b.angle_deg).abs() < SAME_ANGLE_DEG,
        (a, b) => matches!((a, b), (Step::Stop, Step::Stop)),
    };
    line.steps.len() == meant.steps.len() && line.steps.iter().zip(&meant.steps).all(same)
}

/// The job's text with the best that was found, and what that is.
fn written(text: &str, proposer: &Proposer, found: &Found) -> Result<(String, String), String> {
    let job = proposer.job;
    let nothing = || "nothing passes the standard; nothing was written".to_owned();
    match found {
        Found::One(one) => {
            let best = one.offers.first().ok_or_else(nothing)?;
            let trunks = job.trunks().iter().map(|trunk| trunk.id.as_str()).collect();
            let pen = Pen { say: &proposer.say, trunks };
            let inlet = &job.inlets[one.inlet];
            let moved = best.moved.length() > 1e-6;
            let text = write_line(text, inlet.place.line, &best.spec, moved, &pen)?;
            Ok((text, format!("the best route of {}", inlet.id)))
        }
        Found::All(all) => {
            let best = all.offers.first().ok_or_else(nothing)?;
            let what = "the routes of all inlets and their trunk".to_owned();
            Ok((write_all(text, job, best, &proposer.say)?, what))
        }
    }
}

/// All inlets, the last of the file first so that places stay true, then the trunks.
fn write_all(text: &str, job: &Job, best: &Together, say: &Say) -> Result<String, String> {
    let trunks: Vec<&LineSpec> = best.specs.iter().skip(job.inlets.len()).collect();
    let pen = Pen { say, trunks: trunks.iter().map(|trunk| trunk.id.as_str()).collect() };
    let mut order: Vec<usize> = (0..job.inlets.len()).collect();
    order.sort_by_key(|i| std::cmp::Reverse(job.inlets[*i].place.line));
    let mut text = text.to_owned();
    for i in order {
        let moved = best.moved[i].length() > 1e-6;
        text = write_line(&text, job.inlets[i].place.line, &best.specs[i], moved, &pen)?;
    }
    write_trunks(&text, &trunks, &pen)
}

fn one_words(job: &Job, found: &Proposals, say: &Say) -> String {
    let mut text = format!("{}: {} routes inspected\n", job.inlets[found.inlet].name, found.tried);
    bounds(&mut text, found, say);
    if found.offers.is_empty() {
        text.push_str("  none passes the standard\n");
    }
    let trunks: Vec<&str> = job.trunks().iter().map(|trunk| trunk.id.as_str()).collect();
    for (number, proposal) in found.offers.iter().enumerate() {
        let bores = if proposal.bores == 1 { "1 joist".into() } else { format!("{} joists", proposal.bores) };
        let onward = say.length(proposal.onward_m);
        let _ = writeln!(
            text,
            "  {}. {}: {:.0} degrees, {bores} bored, {onward} on from the stop{}",
            number + 1,
            proposal.verdict.word(),
            proposal.degrees,
            moved(proposal.moved, say)
        );
        let _ = writeln!(text, "     {}", line_words(&proposal.spec, say, &trunks));
        not_checked(&mut text, proposal.findings.iter());
    }
    against_words(&found.against).iter().for_each(|words| {
        let _ = writeln!(text, "  {words}");
    });
    text
}

fn bounds(text: &mut String, found: &Proposals, say: &Say) {
    for bound in bound_words(found, say) {
        let _ = writeln!(text, "  on this grid of lanes, {bound}");
    }
}

fn not_checked<'f>(text: &mut String, findings: impl Iterator<Item = &'f crate::standard::Finding>) {
    let titles = unchecked_words(findings);
    if !titles.is_empty() {
        let _ = writeln!(text, "     not checked: {}", titles.join(", "));
    }
}

fn all_words(job: &Job, found: &Shared, say: &Say) -> String {
    let mut text = String::new();
    for alone in &found.alone {
        let (name, passed) = (&job.inlets[alone.inlet].name, alone.offers.len());
        let _ = writeln!(text, "{name}: {} raceways inspected, {passed} pass", alone.tried);
        bounds(&mut text, alone, say);
        if alone.offers.is_empty() {
            against_words(&alone.against).iter().for_each(|words| {
                let _ = writeln!(text, "  {words}");
            });
        }
    }
    let _ = writeln!(text, "All on a trunk: {} layouts inspected", found.tried);
    if found.offers.is_empty() {
        text.push_str("  none passes the standard\n");
        against_words(&found.against).iter().for_each(|words| {
            let _ = writeln!(text, "  {words}");
        });
    }
    for (number, together) in found.offers.iter().enumerate() {
        let (tube, apart) = (say.length(together.tube_m), say.length(found.separate_m));
        let by_m = found.separate_m - together.tube_m;
        let saves = if by_m >= 0.0 {
            format!("saves {}", say.length_down(by_m))
        } else {
            format!("{} more, for one line into the unit", say.length_up(-by_m))
        };
        let _ = writeln!(
            text,
            "  {}. {}: {tube} of tube past the stops; {apart} in separate lines; {saves}",
            number + 1,
            together.verdict.word(),
        );
        let trunks: Vec<&str> =
            together.specs.iter().skip(job.inlets.len()).map(|trunk| trunk.id.as_str()).collect();
        for (i, spec) in together.specs.iter().enumerate() {
            let what = match spec.owner {
                Owner::Inlet(i) => {
                    let (by, degrees) = (moved(together.moved[i], say), together.degrees[i]);
                    format!("{}, {degrees:.0} degrees{by}", spec.name)
                }
                Owner::Trunk(_) => format!("trunk {}", spec.id),
            };
            let _ = writeln!(text, "     {what}: {}", line_words(spec, say, &trunks));
            not_checked(&mut text, together.findings.get(i).into_iter().flatten());
        }
    }
    text
}

fn moved(by: P2, say: &Say) -> String {
    if by.length() < 1e-6 {
        return String::new();
    }
    let way = crate::measure::heading_words(by.extend(0.0));
    format!("; valve moved {} {way} within its bay", say.length(by.length()))
}

fn points(line: &Line) -> Vec<Value> {
    let points = std::iter::once(line.start).chain(line.legs.iter().map(|leg| leg.to));
    points.map(|q| json!([q.x, q.y, q.z])).collect()
}

fn record(job: &Job, found: &Proposals) -> Value {
    let offers = found.offers.iter().map(|p| {
        json!({
            "verdict": p.verdict.key(),
            "not_checked": unchecked_words(p.findings.iter()),
            "bend_total_deg": p.degrees,
            "bores": p.bores,
            "onward_m": p.onward_m,
            "moved": [p.moved.x, p.moved.y],
            "points": points(&p.line),
        })
    });
    json!({
        "id": job.inlets[found.inlet].id,
        "needed_m": found.need_m,
        "bounds": found.bounds.iter().map(|(d, m)| json!({"bend_total_deg": d, "at_most_m": m})).collect::<Vec<Value>>(),
        "tried": found.tried,
        "held": found.against.held,
        "offers": offers.collect::<Vec<Value>>(),
    })
}

fn all_record(job: &Job, found: &Shared) -> Value {
    let offers = found.offers.iter().map(|t| {
        let lines = t.lines.lines.iter().zip(&t.specs).zip(&t.findings).map(|((line, spec), findings)| {
            json!({
                "id": spec.id,
                "not_checked": unchecked_words(findings.iter()),
                "points": points(line),
            })
        });
        json!({
            "verdict": t.verdict.key(),
            "tube_m": t.tube_m,
            "bend_totals_deg": t.degrees,
            "moved": t.moved.iter().map(|by| json!([by.x, by.y])).collect::<Vec<Value>>(),
            "lines": lines.collect::<Vec<Value>>(),
        })
    });
    json!({
        "inlets": found.alone.iter().map(|alone| record(job, alone)).collect::<Vec<Value>>(),
        "together": {
            "separate_m": found.separate_m,
            "tried": found.tried,
            "offers": offers.collect::<Vec<Value>>(),
        },
    })
}
