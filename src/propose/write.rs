//! A proposed route put into a job's file: the inlet's own keys are written anew, and not a byte beside them.
use super::Proposal;
use crate::company::{Crossing, Member, Run, Step, Turn};
use crate::measure::Say;
use std::ops::Range;

/// The text of a job with the route of one inlet written into it; an error says in one sentence why not.
///
/// `line` is where the inlet is written, counted from 1. The keys `raceway` and `onward` are replaced, `at` only
/// when the valve was moved. An inlet written in one line between braces is left alone.
pub fn write_route(text: &str, line: usize, proposal: &Proposal, say: &Say) -> Result<String, String> {
    let lines: Vec<&str> = text.split_inclusive('\n').collect();
    let first = line.checked_sub(1).filter(|i| *i < lines.len()).ok_or("the inlet is not in the file")?;
    let start = (0..=first).rev().find(|i| lines[*i].trim_start().starts_with('-'));
    let start = start.ok_or("the inlet is not an item of a list")?;
    let dash = indent(lines[start]);
    let body = lines[start][dash + 1..].trim_start();
    if body.starts_with('{') {
        return Err("the inlet is written in one line between braces; give each key a line of its own".into());
    }
    let keys = lines[start].len() - body.len();
    let end = (start + 1..lines.len()).find(|i| ends(lines[*i], keys)).unwrap_or(lines.len());
    let mut out: Vec<String> = lines.iter().map(|l| (*l).to_owned()).collect();
    if let Some(last) = out.last_mut()
        && !last.ends_with('\n')
    {
        last.push('\n');
    }
    let pad = " ".repeat(keys);
    let place = |key: &str| key_lines(&lines, start..end, keys, key);
    let mut changes: Vec<(Range<usize>, String)> = Vec::new();
    let tail = trimmed(&lines, start..end);
    for (key, words) in [("raceway", raceway(proposal, say, &pad)), ("onward", onward(proposal, say, &pad))] {
        changes.push((place(key).unwrap_or(tail..tail), words));
    }
    if let (true, Some(at), Some(range)) = (proposal.moved.length() > 1e-6, proposal.spec.start, place("at"))
    {
        let say = |m: f64| say.length(m);
        let words = format!("{pad}at: {{east: {}, north: {}, up: {}}}\n", say(at.x), say(at.y), say(at.z));
        changes.push((range, words));
    }
    changes.sort_by_key(|(range, _)| std::cmp::Reverse(range.start));
    for (range, words) in changes {
        let keep_dash = range.start == start && !range.is_empty();
        let words = if keep_dash { format!("{}- {}", " ".repeat(dash), words.trim_start()) } else { words };
        out.splice(range, [words]);
    }
    Ok(out.concat())
}

fn indent(line: &str) -> usize {
    line.len() - line.trim_start_matches(' ').len()
}

/// Whether a line is no part of an item whose keys stand at a column.
fn ends(line: &str, keys: usize) -> bool {
    let bare = line.trim();
    !bare.is_empty() && !bare.starts_with('#') && indent(line) < keys
}

/// The end of an item without the blank lines and comments after it.
fn trimmed(lines: &[&str], item: Range<usize>) -> usize {
    let kept = |i: &usize| !lines[*i].trim().is_empty() && !lines[*i].trim().starts_with('#');
    item.rev().find(kept).map_or(0, |i| i + 1)
}

/// The lines of a key and its value.
fn key_lines(lines: &[&str], item: Range<usize>, keys: usize, key: &str) -> Option<Range<usize>> {
    let is = |i: usize| {
        let line = lines[i];
        let text = if i == item.start { line.get(keys..)? } else { line.get(indent(line)..)? };
        let at = if i == item.start { keys } else { indent(line) };
        (at == keys && text.strip_prefix(key)?.trim_start().starts_with(':')).then_some(i)
    };
    let from = item.clone().find_map(is)?;
    let mut to = from + 1;
    while to < item.end && (indent(lines[to]) > keys || lines[to].trim().is_empty()) {
        to += 1;
    }
    Some(from..trimmed(lines, from..to).max(from + 1))
}

fn raceway(p: &Proposal, say: &Say, pad: &str) -> String {
    let (before, _) = p.spec.at_stop();
    let mut out = format!("{pad}raceway:\n{pad}  leaves: {}\n{pad}  path:\n", p.spec.leaves.words);
    steps(before, say, pad, &mut out);
    out
}

fn onward(p: &Proposal, say: &Say, pad: &str) -> String {
    let (_, after) = p.spec.at_stop();
    let mut out = format!("{pad}onward:\n{pad}  path:\n");
    steps(after, say, pad, &mut out);
    out.push_str(&format!("{pad}  into: unit\n"));
    out
}

fn steps(steps: &[Step], say: &Say, pad: &str, out: &mut String) {
    for step in steps {
        match step {
            Step::Run(r) => run(r, say, pad, out),
            Step::Turn(t) => turn(t, pad, out),
            Step::Stop => {}
        }
    }
}

fn run(run: &Run, say: &Say, pad: &str, out: &mut String) {
    out.push_str(&format!("{pad}    - run: {}\n", say.length(run.length_m)));
    if run.crossings.is_empty() {
        if run.looked_at {
            out.push_str(&format!("{pad}      crosses: none\n"));
        }
        return;
    }
    out.push_str(&format!("{pad}      crosses:\n"));
    for crossing in &run.crossings {
        out.push_str(&format!("{pad}        - {{{}}}\n", crossing_words(crossing, say)));
    }
}

/// A crossing as one types it, between braces.
pub fn crossing_words(c: &Crossing, say: &Say) -> String {
    let mut words = vec![format!("at: {}", say.length(c.at_m)), format!("member: {}", member(c.member))];
    words.extend(c.size.iter().map(|size| format!("size: {size}")));
    if c.bearing {
        words.push("bearing: true".into());
    }
    words.extend(c.hole_m.map(|m| format!("hole: {}", say.length(m))));
    if c.floor_line {
        words.push("floor-line: true".into());
    }
    words.join(", ")
}

fn member(member: Member) -> &'static str {
    match member {
        Member::Stud => "stud",
        Member::Joist => "joist",
        Member::Rafter => "rafter",
        Member::TopPlate => "top-plate",
        Member::BottomPlate => "bottom-plate",
        Member::Engineered => "engineered",
        Member::Truss => "truss",
        Member::Steel => "steel",
        Member::Masonry => "masonry",
    }
}

fn turn(turn: &Turn, pad: &str, out: &mut String) {
    out.push_str(&format!("{pad}    - turn: {} {}\n", plain(turn.angle_deg), turn.toward.words));
    if let Some(fitting) = &turn.with {
        out.push_str(&format!("{pad}      with: {}\n", fitting.id));
    }
}

/// An angle without a needless point.
fn plain(angle_deg: f64) -> String {
    format!("{}", (angle_deg * 1e4).round() / 1e4)
}
