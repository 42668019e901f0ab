//! The trunk's sheet: its drawings, where it goes, what joins it, and its own cut list.
use super::Source;
use super::cuts::{self, Cuts};
use super::here::Here;
use super::inline::inlined;
use super::outline::Kind;
use super::paper;
use super::sheet::FindingRow;
use super::worked::Worked;
use serde::Serialize;

/// A sheet of a trunk.
#[derive(Debug, Clone, Default, Serialize)]
pub struct Trunk {
    pub name: String,
    pub elevation_svg: String,
    pub plan_svg: String,
    pub isometric_svg: String,
    pub words: String,
    pub findings: Vec<FindingRow>,
    pub cuts: Cuts,
}

/// The sheets of every trunk, in the job's order.
pub fn sheets(source: &Source) -> Vec<Trunk> {
    let lines = &source.worked.work.lines;
    (0..lines.of_trunks().len()).flat_map(|trunk| one(source, trunk)).collect()
}

/// What the sheet of a trunk leaves for its drawings, mm; `index` is the line's among all lines.
pub fn views_mm(worked: &Worked, index: usize) -> f64 {
    let findings = findings(worked, index, &Here::page("x"));
    super::room_mm(worked, Kind::Trunk) - told_mm(&findings) - cuts::list_mm(worked, index)
}

/// The sheets of one trunk: its drawings stand over the first part of its cut list.
fn one(source: &Source, trunk: usize) -> Vec<Trunk> {
    let worked = source.worked;
    let index = worked.work.lines.inlets + trunk;
    let Some(line) = worked.work.lines.lines.get(index) else { return Vec::new() };
    let drawn = source.pictures.trunks.get(trunk).cloned().unwrap_or_default();
    let words = super::route::line_words(worked, index);
    let findings = findings(worked, index, &source.here(Kind::Trunk));
    let high = |svg: &str| if svg.is_empty() { 0.0 } else { paper::svg_mm(svg).1 + 7.0 };
    let side_mm = drawn.isometric.as_deref().map_or(0.0, high).max(high(&drawn.plan));
    let above_mm = told_mm(&findings) + high(&drawn.elevation) + side_mm;
    let words_mm = paper::words_mm(&words, 10.0, 184.0) + 1.6;
    // The route in words stands here where it costs no sheet.
    let bare = cuts::sheets(source, index, Kind::Trunk, above_mm);
    let full = cuts::sheets(source, index, Kind::Trunk, above_mm + words_mm);
    let (lists, words) = if full.len() == bare.len() { (full, words) } else { (bare, String::new()) };
    let prefix = |view: &str| format!("t{}{view}-", trunk + 1);
    let sheet = |(nth, cuts): (usize, Cuts)| match nth {
        0 => Trunk {
            name: line.name.clone(),
            elevation_svg: inlined(Some(&drawn.elevation), &prefix("e")),
            plan_svg: inlined(Some(&drawn.plan), &prefix("p")),
            isometric_svg: inlined(drawn.isometric.as_deref(), &prefix("x")),
            words: words.clone(),
            findings: findings.clone(),
            cuts,
        },
        _ => Trunk { name: line.name.clone(), cuts, ..Trunk::default() },
    };
    lists.into_iter().enumerate().map(sheet).collect()
}

/// What wants attention at a trunk.
fn findings(worked: &Worked, index: usize, here: &Here) -> Vec<FindingRow> {
    let work = worked.work;
    let found = super::worked::slice_at(&work.findings.trunks, index.saturating_sub(work.lines.inlets));
    let offers = super::worked::slice_at(&work.offers, index);
    super::route::open(found, offers, &work.job.standard, here)
}

/// Height of the trunk's name and of what was found, mm.
fn told_mm(findings: &[FindingRow]) -> f64 {
    8.0 + findings.iter().map(super::route::finding_mm).sum::<f64>()
}
