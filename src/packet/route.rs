//! The route of an inlet: elevation, plan, isometric, what was found, and its figures in one row. One sheet,
//! however many findings: the drawings are made as high as the rest leaves, and what is long stands in full
//! in the office annex.
use super::Source;
use super::here::Here;
use super::inline::inlined;
use super::outline::{Kind, file_name};
use super::paper;
use super::sheet::{Cell, FindingRow, finding_rows};
use super::worked::{InletPart, Pictures, Worked};
use crate::company::Into;
use crate::draw::toward;
use crate::measure::{Bound, Say};
use crate::remedy::Offers;
use crate::route::Line;
use crate::standard::{Finding, Verdict, by_clause, hose_allowance};
use serde::Serialize;

/// The sheet.
#[derive(Debug, Clone, Serialize)]
pub struct Route {
    /// The two figures nearest to the drawing.
    pub near: String,
    pub elevation_svg: String,
    pub plan_svg: String,
    pub isometric_svg: String,
    pub words: String,
    pub facts: Vec<Cell>,
    pub findings: Vec<FindingRow>,
    /// What of them stands in the annex alone, and how many clauses are met.
    pub more: String,
}

/// Height of the row of figures, of the line on what is met, and between the parts, mm.
const REST_MM: f64 = 20.0;
/// A note longer than this is cut at a word, and stands in full in the annex.
const NOTE: usize = 150;

/// Lays the sheet out. Its drawings were made as high as the rest leaves; where even the lowest leave too
/// little, findings go to the annex from the mildest up. Only where the drawings alone are more than a sheet
/// do plan and isometric stand on one of their own, for nothing is split.
pub fn sheets(source: &Source, part: &InletPart) -> Vec<Route> {
    let worked = source.worked;
    let none = Pictures::default();
    let drawn = source.pictures.inlets.get(part.index).unwrap_or(&none);
    let all = findings(worked, part, &source.here(Kind::Route(part.index)));
    let high = |svg: &str| paper::svg_mm(svg).1;
    let views_mm = high(&drawn.plan).max(drawn.isometric.as_deref().map_or(0.0, high));
    let free_mm = super::room_mm(worked, Kind::Route(part.index)) - REST_MM - high(&drawn.elevation);
    let first_mm = all.first().map_or(0.0, finding_mm);
    let whole = free_mm - views_mm >= first_mm;
    let free_mm = if whole { free_mm - views_mm } else { free_mm };
    let route = sheet(source, part, &all, free_mm);
    if whole {
        return vec![route];
    }
    let views = Route {
        near: route.near.clone(),
        plan_svg: route.plan_svg.clone(),
        isometric_svg: route.isometric_svg.clone(),
        elevation_svg: String::new(),
        words: String::new(),
        facts: Vec::new(),
        findings: Vec::new(),
        more: String::new(),
    };
    vec![Route { plan_svg: String::new(), isometric_svg: String::new(), ..route }, views]
}

/// All of it, with as many findings as `free_mm` has room for, and the route in words where that is left.
fn sheet(source: &Source, part: &InletPart, all: &[FindingRow], free_mm: f64) -> Route {
    let worked = source.worked;
    let none = Pictures::default();
    let drawn = source.pictures.inlets.get(part.index).unwrap_or(&none);
    let mut findings = all.to_vec();
    let told_mm = |rows: &[FindingRow]| rows.iter().map(finding_mm).sum::<f64>();
    while findings.len() > 1 && told_mm(&findings) > free_mm {
        findings.pop();
    }
    let words = line_words(worked, part.index);
    let fits = told_mm(&findings) + words_mm(worked, part) <= free_mm;
    let prefix = |view: &str| format!("i{}{view}-", part.index + 1);
    let say = worked.work.say;
    Route {
        near: format!(
            "{} of hose path; {} in {}",
            say.length(part.raceway.hose_path_m),
            say.angle(part.raceway.bend_total_deg),
            bends(part.raceway.bends)
        ),
        elevation_svg: inlined(Some(&drawn.elevation), &prefix("e")),
        plan_svg: inlined(Some(&drawn.plan), &prefix("p")),
        isometric_svg: inlined(drawn.isometric.as_deref(), &prefix("x")),
        words: if fits { words } else { String::new() },
        facts: facts(worked, part),
        more: more(part, &findings, all.len() - findings.len()),
        findings,
    }
}

/// What the sheet leaves for the elevation and the views under it when all findings stand on it, mm; and
/// what the route in words takes of that.
pub fn views_mm(worked: &Worked, part: &InletPart) -> (f64, f64) {
    let findings = findings(worked, part, &Here::page("x"));
    let used_mm = REST_MM + findings.iter().map(finding_mm).sum::<f64>();
    (super::room_mm(worked, Kind::Route(part.index)) - used_mm, words_mm(worked, part))
}

/// Height of the route in words, mm.
fn words_mm(worked: &Worked, part: &InletPart) -> f64 {
    paper::words_mm(&line_words(worked, part.index), 10.0, 184.0) + 1.6
}

/// Height of a finding, mm.
pub fn finding_mm(row: &FindingRow) -> f64 {
    let words: usize = paper::lines(&words_of(row), 10.0, 147.0);
    (words as f64 * 4.45).max(5.0) + 1.9
}

/// All words of a finding's row.
fn words_of(row: &FindingRow) -> String {
    let remedies: Vec<String> = row.remedies.iter().map(|r| format!("{}: {}", r.lead, r.words)).collect();
    format!("{} {} {} {} {}", row.number, row.title, row.note, remedies.join(" "), row.settled)
}

/// What wants attention, the worst first.
fn findings(worked: &Worked, part: &InletPart, here: &Here) -> Vec<FindingRow> {
    open(part.findings, part.offers, &worked.work.job.standard, here)
}

/// Findings that want attention, as a sheet tells them; nothing of what is met or was not checked.
pub fn open(found: &[Finding], offers: &[Offers], revision: &str, here: &Here) -> Vec<FindingRow> {
    let wanted = |verdict| !matches!(verdict, Verdict::Pass | Verdict::NotChecked);
    finding_rows(found, offers, (revision, here), wanted).into_iter().map(shortened).collect()
}

/// A finding as the sheet tells it: the first remedy alone, and no word of how it was tried.
fn shortened(row: FindingRow) -> FindingRow {
    let mut remedies = row.remedies;
    remedies.truncate(1);
    for remedy in &mut remedies {
        remedy.then.clear();
        remedy.words = cut(&remedy.words);
    }
    FindingRow { note: cut(&row.note), remedies, ..row }
}

/// Words no longer than a note may be, ended at a word.
fn cut(words: &str) -> String {
    if words.chars().count() <= NOTE {
        return words.to_string();
    }
    let head: String = words.chars().take(NOTE).collect();
    let whole = head.rsplit_once(' ').map_or(head.as_str(), |(whole, _)| whole);
    format!("{} … (office annex)", whole.trim_end_matches([',', ';', ':']))
}

/// What stands elsewhere.
fn more(part: &InletPart, findings: &[FindingRow], left: usize) -> String {
    let words = by_clause(part.findings);
    let count = |verdict: Verdict| words.iter().filter(|(_, word)| *word == verdict).count();
    let (met, unchecked) = (count(Verdict::Pass), count(Verdict::NotChecked));
    let mut words = Vec::new();
    if left > 0 {
        words.push(format!("{left} more: office annex."));
    }
    if findings.is_empty() && left == 0 {
        words.push("No findings.".into());
    }
    let clauses = |n: usize| if n == 1 { "1 clause".to_string() } else { format!("{n} clauses") };
    words.push(format!("{} met", clauses(met)));
    let last = words.pop().unwrap_or_default();
    words.push(match unchecked {
        0 => format!("{last}."),
        n => format!("{last}, {n} not checked for want of data: office annex."),
    });
    words.join(" ")
}

/// Name of a drawing's file without ending, `hall-elevation`.
pub fn elevation_file(inlet_id: &str) -> String {
    format!("{}-elevation", file_name(inlet_id))
}

/// The route of a line as a person would say it on the telephone.
pub fn line_words(worked: &Worked, index: usize) -> String {
    let (Some(line), Some(spec)) = (worked.work.lines.lines.get(index), worked.work.job.lines.get(index))
    else {
        return String::new();
    };
    let start = if line.raceway.is_some() { "the valve" } else { "the start" };
    let end = match &spec.into {
        Some(Into::Unit) => "the unit".to_string(),
        Some(_) => line.joins.as_ref().map_or_else(String::new, |joins| joined(worked, joins)),
        None => "the stop".into(),
    };
    route_words(worked.work.say, line, &spec.leaves.words, start, &end)
}

/// `the Wye 45° on main, 48 ft from its start`
fn joined(worked: &Worked, joins: &crate::route::Joins) -> String {
    let onto = worked.work.lines.lines.get(joins.line).map_or("the trunk", |line| line.name.as_str());
    let at = joins.station_m.map(|m| format!(", {} from its start", worked.work.say.length(m)));
    match &joins.with {
        Some(fitting) => format!("the {} on {onto}{}", fitting.name, at.unwrap_or_default()),
        None => format!("the start of {onto}"),
    }
}

/// Runs and bends in order, the stop where it stands.
fn route_words(say: Say, line: &Line, leaves: &str, start: &str, end: &str) -> String {
    let mut words = format!("From {start} {leaves}");
    let stop_m = line.raceway.as_ref().map(|raceway| raceway.stop_m);
    for (place, leg) in line.legs.iter().enumerate() {
        let ends_m = leg.station_m + leg.length_m;
        match stop_m.filter(|m| *m > leg.station_m && *m < ends_m - 1e-9) {
            Some(stop_m) => words.push_str(&format!(
                " {} to the stop, {} on.",
                say.length(stop_m - leg.station_m),
                say.length(ends_m - stop_m)
            )),
            None => words.push_str(&format!(" {}.", say.length(leg.length_m))),
        }
        if let Some(bend) = line.bends.get(place) {
            let toward = toward(&bend.heading_words);
            words.push_str(&format!(" B{}, {} {toward}.", bend.n, say.angle(bend.angle_deg)));
        }
    }
    if end.is_empty() { words } else { format!("{words} Ends at {end}.") }
}

/// The figures of the route in one row.
fn facts(worked: &Worked, part: &InletPart) -> Vec<Cell> {
    let (say, raceway) = (worked.work.say, part.raceway);
    let figures = part.figures;
    let mut facts = vec![
        Cell::new("Hose path", say.length(raceway.hose_path_m)),
        Cell::new("Spare", spare(worked, part)),
        Cell::new("Bends", format!("{} in {}", say.angle(raceway.bend_total_deg), bends(raceway.bends))),
    ];
    let mut expected = Vec::new();
    expected.extend(figures.sealed_pa.iter().map(|pa| format!("{} sealed", say.pressure(*pa))));
    expected.extend(figures.air.iter().map(|air| say.flow(air.hose_out.flow_m3_s)));
    if !expected.is_empty() {
        facts.push(Cell::new("Expected", expected.join(", ")));
    }
    facts
}

/// What a raceway has beyond its hose, new or grown; a path that the clause on room lets pass is never short.
pub fn spare_words(say: Say, path_m: f64, hose_m: f64) -> String {
    match Bound::AtLeast.keeps(path_m, hose_m) {
        true => say.length((path_m - hose_m).max(0.0)),
        false => format!("{} short", say.length_up(hose_m - path_m)),
    }
}

/// What is left past the hose, new and grown, in one sentence.
fn spare(worked: &Worked, part: &InletPart) -> String {
    let say = worked.work.say;
    let (path_m, hose_m) = (part.raceway.hose_path_m, part.inlet.hose.length_m);
    let grown_m = hose_m * (1.0 + hose_allowance(worked.work.standard));
    format!("new {}, grown {}", spare_words(say, path_m, hose_m), spare_words(say, path_m, grown_m))
}

/// A part's name with its size, once: a name often says it already.
pub fn with_size(name: &str, size: &str) -> String {
    if name.contains(size) { name.to_string() } else { format!("{name}, {size}") }
}

/// `1 bend`, `3 bends`.
fn bends(count: usize) -> String {
    format!("{count} {}", if count == 1 { "bend" } else { "bends" })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::Lengths;

    #[test]
    fn a_path_that_just_holds_its_hose_is_not_short() {
        let feet = Say { lengths: Lengths::FtIn };
        // A tenth more than 50 ft is a last digit more than 55 ft.
        let grown_m = 50.0 * 0.3048 * (1.0 + 0.10);
        assert!(55.0 * 0.3048 < grown_m);
        assert_eq!(spare_words(feet, 55.0 * 0.3048, grown_m), "0 in");
        assert_eq!(spare_words(feet, 55.0 * 0.3048 - 0.000_3, grown_m), "1/16 in short");
    }
}
