//! Proposed routes put into a job's file: the keys that change are written anew, and not a byte beside them.
//! Comments that stand on lines of their own inside what is replaced are kept, above it.
use crate::company::{Crossing, Direction, Into, LineSpec, Member, Run, Step, Turn};
use crate::measure::Say;
use glam::DVec3;
use std::ops::Range;

/// What a pen writes with: the firm's lengths, and the ids of the job's trunks in their order.
pub struct Pen<'a> {
    pub say: &'a Say,
    pub trunks: Vec<&'a str>,
}

/// The text of a job with the line of one inlet written into it; an error says in one sentence why not.
///
/// `line` is where the inlet is written, counted from 1. The keys `raceway` and `onward` are replaced, `at` only
/// when the valve was moved. An inlet written in one line between braces is left alone.
pub fn write_line(
    text: &str,
    line: usize,
    spec: &LineSpec,
    moved: bool,
    pen: &Pen,
) -> Result<String, String> {
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
    let pad = " ".repeat(keys);
    let place = |key: &str| key_lines(&lines, start..end, keys, key);
    let mut changes: Vec<(Range<usize>, String)> = Vec::new();
    let tail = trimmed(&lines, start..end);
    for (key, words) in [("raceway", raceway(spec, pen, &pad)), ("onward", onward(spec, pen, &pad))] {
        changes.push((place(key).unwrap_or(tail..tail), words));
    }
    if let (true, Some(at), Some(range)) = (moved, spec.start, place("at")) {
        changes.push((range, format!("{pad}at: {}\n", place_words(at, pen.say))));
    }
    let dashed = " ".repeat(dash);
    let changes = changes.into_iter().map(|(range, words)| {
        // The key that the item's dash stands before keeps it.
        let keep = range.start == start && !range.is_empty();
        let words = if keep { format!("{dashed}- {}", words.trim_start()) } else { words };
        (range, words)
    });
    Ok(spliced(&lines, changes.collect()))
}

/// The text of a job with these trunks for those that it had; without any the key goes.
pub fn write_trunks(text: &str, trunks: &[&LineSpec], pen: &Pen) -> Result<String, String> {
    let lines: Vec<&str> = text.split_inclusive('\n').collect();
    let mut words = String::new();
    if !trunks.is_empty() {
        words.push_str("trunks:\n");
        trunks.iter().for_each(|spec| trunk(spec, pen, &mut words));
    }
    let old = key_lines(&lines, 0..lines.len(), 0, "trunks");
    let range = match old {
        Some(range) => range,
        None => {
            let inlets =
                key_lines(&lines, 0..lines.len(), 0, "inlets").ok_or("the file has no key `inlets`")?;
            // Comments above the inlets belong to them.
            let above = (0..inlets.start).rev().find(|i| !lines[*i].trim_start().starts_with('#'));
            let at = above.map_or(0, |i| i + 1);
            if !words.is_empty() {
                words.push('\n');
            }
            at..at
        }
    };
    Ok(spliced(&lines, vec![(range, words)]))
}

/// Lines with some of them replaced. Comments inside go above what takes their place.
fn spliced(lines: &[&str], mut changes: Vec<(Range<usize>, String)>) -> String {
    let mut out: Vec<String> = lines.iter().map(|l| (*l).to_owned()).collect();
    if let Some(last) = out.last_mut()
        && !last.ends_with('\n')
    {
        last.push('\n');
    }
    changes.sort_by_key(|(range, _)| std::cmp::Reverse((range.start, range.end)));
    // Lines end as those of the file do.
    let ends = if lines.iter().any(|line| line.ends_with("\r\n")) { "\r\n" } else { "\n" };
    for (range, words) in changes {
        let words = words.replace('\n', ends);
        let pad = words.len() - words.trim_start().len();
        let said = out[range.clone()].iter().filter(|line| line.trim_start().starts_with('#'));
        let said: String = said.map(|line| format!("{}{}", " ".repeat(pad), line.trim_start())).collect();
        out.splice(range, [format!("{said}{words}")]);
    }
    out.concat()
}

fn trunk(spec: &LineSpec, pen: &Pen, out: &mut String) {
    let pad = "    ";
    out.push_str(&format!("  - id: {}\n", spec.id));
    if let Some(start) = spec.start {
        out.push_str(&format!("{pad}starts: {}\n", place_words(start, pen.say)));
    }
    out.push_str(&format!("{pad}leaves: {}\n{pad}path:\n", direction_words(&spec.leaves)));
    steps(&spec.steps, pen.say, "  ", out);
    out.push_str(&format!("{pad}into: {}\n", into_words(spec.into.as_ref(), pen)));
}

/// `west`, or `{south: 1, west: 1}` for a direction between two.
fn direction_words(direction: &Direction) -> String {
    let [x, y, z] = direction.vector.to_array();
    let word = |m: f64, plus: &'static str, minus: &'static str| {
        (m.abs() > 1e-9).then_some((if m > 0.0 { plus } else { minus }, m.abs()))
    };
    let parts = [word(y, "north", "south"), word(x, "east", "west"), word(z, "up", "down")];
    let parts: Vec<(&str, f64)> = parts.into_iter().flatten().collect();
    match parts.as_slice() {
        [(one, _)] => (*one).to_owned(),
        [(a, m), (b, n)] if (m - n).abs() < 1e-9 => format!("{{{a}: 1, {b}: 1}}"),
        mixed => {
            let words: Vec<String> = mixed.iter().map(|(word, m)| format!("{word}: {}", plain(*m))).collect();
            format!("{{{}}}", words.join(", "))
        }
    }
}

fn place_words(at: DVec3, say: &Say) -> String {
    format!("{{east: {}, north: {}, up: {}}}", say.length(at.x), say.length(at.y), say.length(at.z))
}

/// `unit`, or `{trunk: main, at: 20 ft, with: wye-45}`.
fn into_words(into: Option<&Into>, pen: &Pen) -> String {
    let name = |trunk: &usize| pen.trunks.get(*trunk).copied().unwrap_or("main").to_owned();
    match into {
        Some(Into::Trunk { trunk, at_m, with }) => {
            let at = at_m.map_or(String::new(), |m| format!("at: {}, ", pen.say.length(m)));
            format!("{{trunk: {}, {at}with: {}}}", name(trunk), with.id)
        }
        Some(Into::Start { trunk }) => format!("{{trunk: {}, at: start}}", name(trunk)),
        Some(Into::Unit) | None => "unit".into(),
    }
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

fn raceway(spec: &LineSpec, pen: &Pen, pad: &str) -> String {
    let (before, _) = spec.at_stop();
    let leaves = direction_words(&spec.leaves);
    let mut out = format!("{pad}raceway:\n{pad}  leaves: {leaves}\n{pad}  path:\n");
    steps(before, pen.say, pad, &mut out);
    out
}

fn onward(spec: &LineSpec, pen: &Pen, pad: &str) -> String {
    let (_, after) = spec.at_stop();
    let mut out = format!("{pad}onward:\n{pad}  path:\n");
    steps(after, pen.say, pad, &mut out);
    out.push_str(&format!("{pad}  into: {}\n", into_words(spec.into.as_ref(), pen)));
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
