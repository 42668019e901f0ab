//! A job with all that was worked out, as its sheets show it.
//!
//! Every sheet is a struct with all words decided; templates only lay them out. Fields that hold ready
//! markup end in `_html`, `_svg` or `_mathml`, and only those may a template pass through unescaped.
pub mod cautions;
pub mod checking;
pub mod cover;
pub mod cutting;
pub mod drawing;
pub mod figures;
pub mod inline;
pub mod joints;
pub mod lines;
pub mod outline;
pub mod owner;
pub mod pictures;
pub mod place;
pub mod prose;
pub mod sheet;
pub mod tables;
pub mod takeoff;
pub mod valve;
pub mod worked;
pub mod workings;

use outline::{Entry, Kind, Outline, title_block};
use place::Place;
use serde::Serialize;
use sheet::Sheet;
use worked::{InletPart, JobPictures, Pictures, Worked};

/// What stands on a sheet of a packet; the tag picks the template.
#[derive(Debug, Clone, Serialize)]
#[serde(tag = "kind", content = "body", rename_all = "kebab-case")]
pub enum Body {
    JobCover(cover::JobCover),
    Takeoff(takeoff::Takeoff),
    Lines(lines::Lines),
    Owner(owner::Owner),
    InletDrawing(drawing::InletDrawing),
    InletCut(cutting::InletCut),
    InletCheck(checking::InletCheck),
    InletFigures(figures::InletFigures),
}

/// The sheets of a packet that stand on one page: those of one file, or all on the packet's own page.
pub fn sheets(worked: &Worked, pictures: &JobPictures, out: &Outline, here: &Place) -> Vec<Sheet<Body>> {
    let wanted = |entry: &&Entry| here.whole_packet || out.page(entry) == here.path();
    out.entries.iter().filter(wanted).filter_map(|entry| sheet(worked, pictures, out, entry, here)).collect()
}

/// One sheet; `None` only for an inlet without a route.
fn sheet(
    worked: &Worked,
    pictures: &JobPictures,
    out: &Outline,
    entry: &Entry,
    here: &Place,
) -> Option<Sheet<Body>> {
    Some(Sheet {
        number: entry.number.clone(),
        title: if entry.kind == Kind::Cover { worked.work.job.title.clone() } else { entry.title.clone() },
        lead: lead(entry.kind).into(),
        block: title_block(worked, out, entry, here),
        body: body(worked, pictures, out, entry.kind, here)?,
    })
}

/// The body of a sheet.
fn body(worked: &Worked, pictures: &JobPictures, out: &Outline, kind: Kind, here: &Place) -> Option<Body> {
    let part = |index: usize| worked.inlets().nth(index);
    let drawn = |part: &InletPart| pictures.inlets.get(part.index).cloned().unwrap_or_default();
    Some(match kind {
        Kind::Cover => Body::JobCover(cover::sheet(worked, out, here)),
        Kind::Takeoff => Body::Takeoff(takeoff::sheet(worked, pictures)),
        Kind::Lines => Body::Lines(lines::sheet(worked, pictures)),
        Kind::Owner => Body::Owner(owner::sheet(worked)),
        Kind::Drawing(index) => {
            let part = part(index)?;
            let pictures: Pictures = drawn(&part);
            Body::InletDrawing(drawing::sheet(worked, &part, &pictures, out, here))
        }
        Kind::Cut(index) => {
            let part = part(index)?;
            Body::InletCut(cutting::sheet(worked, &part, &drawn(&part)))
        }
        Kind::Check(index) => {
            let part = part(index)?;
            Body::InletCheck(checking::sheet(worked, &part, &drawn(&part), here))
        }
        Kind::Figures(index) => {
            let part = part(index)?;
            Body::InletFigures(figures::sheet(worked, &part, &drawn(&part), here))
        }
    })
}

/// The line under a sheet's title.
fn lead(kind: Kind) -> &'static str {
    match kind {
        Kind::Takeoff => "Tick part by part onto the truck, then cut stick by stick.",
        Kind::Owner => "Your hose lives inside the wall. Keep this sheet near the power unit.",
        Kind::Cut(_) => "Measure first. Nothing is cut until every run below has been taped and agrees.",
        Kind::Check(_) => "Tick as it is done, by the one who did it.",
        Kind::Figures(_) => {
            "Worked out from the catalog's figures (sheet C-3), typical until measured; a reading on site is better than any of them."
        }
        Kind::Cover | Kind::Lines | Kind::Drawing(_) => "",
    }
}

#[cfg(test)]
pub(crate) mod fixture;
#[cfg(test)]
mod tests;
