//! The trunk's sheet: its drawings, where it goes, what joins it, and its own cut list.
use super::Source;
use super::cuts::{self, Cuts};
use super::inline::inlined;
use super::outline::Kind;
use super::paper;
use super::sheet::FindingRow;
use serde::Serialize;

/// A sheet of a trunk.
#[derive(Debug, Clone, Serialize)]
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

/// The sheets of one trunk: its drawings stand over the first part of its cut list.
fn one(source: &Source, trunk: usize) -> Vec<Trunk> {
    let work = source.worked.work;
    let index = work.lines.inlets + trunk;
    let Some(line) = work.lines.lines.get(index) else { return Vec::new() };
    let drawn = source.pictures.trunks.get(trunk).cloned().unwrap_or_default();
    let words = super::route::line_words(source.worked, index);
    let found = super::worked::slice_at(&work.findings.trunks, trunk);
    let offers = super::worked::slice_at(&work.offers, index);
    let rows = super::sheet::finding_rows(found, offers, &work.job.standard, &source.here(Kind::Trunk));
    let findings: Vec<FindingRow> = rows.into_iter().filter_map(super::route::open).collect();
    let told_mm = paper::words_mm(&words, 10.0, 184.0)
        + 9.0
        + findings.iter().map(super::route::finding_mm).sum::<f64>();
    let high = |svg: &str| if svg.is_empty() { 0.0 } else { paper::svg_mm(svg).1 + 6.0 };
    let side_mm = drawn.isometric.as_deref().map_or(0.0, high).max(high(&drawn.plan));
    let elevation_mm = high(&drawn.elevation);
    // Plan and isometric stand here where they cost no sheet; the key on the layout has them too.
    let bare = cuts::sheets(source, index, Kind::Trunk, told_mm + elevation_mm);
    let full = cuts::sheets(source, index, Kind::Trunk, told_mm + elevation_mm + side_mm);
    let all = full.len() == bare.len();
    let lists = if all { full } else { bare };
    let prefix = |view: &str| format!("t{}{view}-", trunk + 1);
    let sheet = |(nth, cuts): (usize, Cuts)| Trunk {
        name: line.name.clone(),
        elevation_svg: if nth == 0 { inlined(Some(&drawn.elevation), &prefix("e")) } else { String::new() },
        plan_svg: if nth == 0 && all { inlined(Some(&drawn.plan), &prefix("p")) } else { String::new() },
        isometric_svg: if nth == 0 && all {
            inlined(drawn.isometric.as_deref(), &prefix("x"))
        } else {
            String::new()
        },
        words: if nth == 0 { words.clone() } else { String::new() },
        findings: if nth == 0 { findings.clone() } else { Vec::new() },
        cuts,
    };
    lists.into_iter().enumerate().map(sheet).collect()
}
