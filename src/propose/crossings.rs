//! Joists that the plan has in the way of a job's lines and that no crossing lists, written into the job's file.
use super::write::crossing_words;
use crate::company::{Crossing, FloorPlan, Job, Member, Run, Step};
use crate::figures::{legs_on_level, unlisted_m};
use crate::measure::Say;
use crate::plan::{Hang, Joists};
use crate::route::{Anchor, JobLines};
use crate::text::Place;

/// Crossings that one run lacks.
#[derive(Debug, Clone, PartialEq)]
pub struct Lacking {
    /// Name of the line.
    pub line: String,
    /// Where the run is written, and the crossings that it lists already.
    pub run: Place,
    pub listed: Vec<(f64, Place)>,
    /// Whether it says `crosses: none`.
    pub says_none: bool,
    /// As the plan has them: where, which member, of what size. Whether it bears, and what hole it gets, no plan
    /// tells.
    pub crossings: Vec<Crossing>,
}

/// What the runs of a job lack, in the job's order; nothing where the plan's joists may not be bored.
pub fn lacking(job: &Job, lines: &JobLines) -> Vec<Lacking> {
    let Some((level_m, joists)) = job.plan.as_deref().and_then(bored) else { return Vec::new() };
    let mut found = Vec::new();
    for (spec, line) in job.lines.iter().zip(&lines.lines).filter(|(_, line)| line.anchor != Anchor::None) {
        let runs: Vec<&Run> = spec.steps.iter().filter_map(run_of).collect();
        for (number, leg) in legs_on_level(line, level_m) {
            let missing = unlisted_m(joists, line, number, leg);
            let mut from_m = 0.0;
            for (length_m, place) in &leg.runs {
                let to_m = from_m + length_m;
                let here = missing.iter().filter(|at_m| (from_m..to_m).contains(*at_m));
                let crossings: Vec<Crossing> = here.map(|at_m| crossing(joists, at_m - from_m)).collect();
                from_m = to_m;
                let run = runs.iter().find(|run| run.place == *place);
                let Some(run) = run.filter(|_| !crossings.is_empty() && place.is_known()) else { continue };
                found.push(Lacking {
                    line: line.called(),
                    run: place.clone(),
                    listed: run.crossings.iter().map(|c| (c.at_m, c.place.clone())).collect(),
                    says_none: run.looked_at && run.crossings.is_empty(),
                    crossings,
                });
            }
        }
    }
    found
}

fn run_of(step: &Step) -> Option<&Run> {
    if let Step::Run(run) = step { Some(run) } else { None }
}

/// The level and its joists, where they may be bored.
fn bored(plan: &FloorPlan) -> Option<(f64, &Joists)> {
    let level = plan.plan.level.as_ref()?;
    match &level.hang {
        Hang::Between(joists) if joists.bore => Some((level.up_m, joists)),
        _ => None,
    }
}

fn crossing(joists: &Joists, at_m: f64) -> Crossing {
    Crossing {
        size: Some(joists.size.clone()),
        thickness_m: Some(joists.thick_m),
        depth_m: Some(joists.deep_m),
        ..Crossing::plain(at_m, Member::Joist)
    }
}

/// The text of a job with the crossings written into their runs; and, one sentence each, the runs that were left
/// alone and why.
pub fn write_crossings(text: &str, lacking: &[Lacking], say: &Say) -> (String, Vec<String>) {
    let mut lines: Vec<String> = text.split_inclusive('\n').map(str::to_owned).collect();
    if let Some(last) = lines.last_mut().filter(|last| !last.ends_with('\n')) {
        last.push('\n');
    }
    let mut left = Vec::new();
    // From the end of the file, so that places before it stay true.
    let mut order: Vec<&Lacking> = lacking.iter().collect();
    order.sort_by_key(|one| std::cmp::Reverse((one.run.line, one.run.column)));
    for one in order {
        let done = if one.says_none {
            Err("it says `crosses: none`, and the plan has joists there; take out whichever is wrong"
                .to_owned())
        } else if one.listed.is_empty() {
            first(&mut lines, one, say)
        } else {
            among(&mut lines, one, say)
        };
        if let Err(why) = done {
            left.push(format!("{}: {why}", one.run));
        }
    }
    left.reverse();
    (lines.concat(), left)
}

/// What stands on a line from a column on, with the bytes before it; columns count characters from 1.
fn split_at<'l>(lines: &'l [String], place: &Place) -> Result<(&'l str, &'l str), String> {
    let line = place.line.checked_sub(1).and_then(|i| lines.get(i)).ok_or("it is not in the file")?;
    let at = line.char_indices().nth(place.column.saturating_sub(1)).map_or(line.len(), |(at, _)| at);
    Ok(line.split_at(at))
}

/// The bytes of a mapping in braces that a text begins with, the braces included.
fn braced(text: &str) -> Option<usize> {
    let mut depth = 0;
    for (at, c) in text.char_indices() {
        match c {
            '{' => depth += 1,
            '}' => depth -= 1,
            _ => {}
        }
        if depth == 0 {
            return (c == '}').then_some(at + 1);
        }
    }
    None
}

/// Into a run that lists no crossing yet.
fn first(lines: &mut Vec<String>, one: &Lacking, say: &Say) -> Result<(), String> {
    let (before, rest) = split_at(lines, &one.run)?;
    let words: Vec<String> =
        one.crossings.iter().map(|c| format!("{{{}}}", crossing_words(c, say))).collect();
    let row = one.run.line - 1;
    if rest.starts_with('{') {
        let end = braced(rest).ok_or("it is written over several lines between braces")?;
        let (inside, after) = rest.split_at(end - 1);
        lines[row] = format!("{before}{}, crosses: [{}]{after}", inside.trim_end(), words.join(", "));
        return Ok(());
    }
    if !before.trim().trim_start_matches('-').trim().is_empty() {
        return Err("it does not begin a line; give it one of its own".into());
    }
    let pad = " ".repeat(before.chars().count());
    // After the line of the length itself, wherever among the run's keys that stands.
    let own = |line: &str| line.get(before.len()..).is_some_and(|text| text.starts_with("run"));
    let length = (row..lines.len()).find(|i| own(&lines[*i])).unwrap_or(row);
    let mut more = format!("{pad}crosses:\n");
    words.iter().for_each(|word| more.push_str(&format!("{pad}  - {word}\n")));
    lines.insert(length + 1, more);
    Ok(())
}

/// Into a run that lists some: each before the first that lies farther on, else after the last.
fn among(lines: &mut Vec<String>, one: &Lacking, say: &Say) -> Result<(), String> {
    let mut listed = one.listed.clone();
    listed.sort_by_key(|(_, place)| (place.line, place.column));
    let mut added: Vec<&Crossing> = one.crossings.iter().collect();
    added.sort_by(|a, b| b.at_m.total_cmp(&a.at_m));
    for crossing in added {
        let words = format!("{{{}}}", crossing_words(crossing, say));
        let next = listed.iter().find(|(at_m, _)| *at_m > crossing.at_m);
        let Some((_, place)) = next.or(listed.last()) else { return Ok(()) };
        let (before, rest) = split_at(lines, place)?;
        let row = place.line - 1;
        let block = before.trim_end().ends_with('-') && before.trim().trim_start_matches('-').is_empty();
        let line = format!("{before}{words}\n");
        match (next.is_some(), block) {
            (true, true) => lines.insert(row, line),
            (true, false) => lines[row] = format!("{before}{words}, {rest}"),
            (false, true) => {
                let inside = before.len();
                let ends =
                    |line: &String| line.len() - line.trim_start().len() < inside && !line.trim().is_empty();
                let after = (row + 1..lines.len()).find(|i| ends(&lines[*i])).unwrap_or(lines.len());
                lines.insert(after, line);
            }
            (false, false) => {
                let end =
                    braced(rest).ok_or("its crossings are written over several lines between braces")?;
                lines[row] = format!("{before}{}, {words}{}", &rest[..end], &rest[end..]);
            }
        }
    }
    Ok(())
}
