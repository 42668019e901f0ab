//! A job with all that was worked out, as its sheets show it.
//!
//! Every sheet is a struct with all words decided; templates only lay them out. Fields that hold ready
//! markup end in `_html`, `_svg` or `_mathml`, and only those may a template pass through unescaped.
//! A sheet is one piece of paper: what a list has too much for one is split here, by `paper`, so that
//! every piece has its own title block, stamp and number.
pub(crate) mod cautions;
mod bored;
mod cement;
mod check;
pub(crate) mod cover;
mod cuts;
mod figures;
mod inline;
mod seat;
mod layout;
pub(crate) mod load;
pub(crate) mod office;
pub(crate) mod outline;
mod owner;
pub(crate) mod paper;
pub mod pictures;
mod set_out;
pub mod subjects;
pub mod here;
pub mod prose;
pub mod reach;
pub(crate) mod route;
pub(crate) mod sheet;
mod spares;
pub(crate) mod spill;
pub mod tape;
pub mod throat;
mod trunk;
mod valve;
mod views;
pub(crate) mod worked;
pub(crate) mod workings;

use crate::standard::Verdict;
use here::Here;
use outline::{Kind, Outline, inlet_of};
use serde::Serialize;
use sheet::{Cell, Link, Sheet, Stamp, TitleBlock};
use worked::{JobPictures, Worked};

/// Here on the page of what saves ticks and readings, which is in the template of the page.
const NOTES: &str = "notes";

/// What stands on a sheet of a packet; the tag picks the template.
#[derive(Debug, Clone, Serialize)]
#[serde(tag = "kind", content = "body", rename_all = "kebab-case")]
pub enum Body {
    JobCover(cover::JobCover),
    CoverMore(spill::CoverMore),
    Load(load::Load),
    Layout(layout::Layout),
    Trunk(trunk::Trunk),
    Route(route::Route),
    Cuts(cuts::Cuts),
    Reach(reach::ReachSheet),
    Check(check::Check),
    Owner(owner::Owner),
    Office(office::Office),
}

/// A sheet of a packet with the page it stands on.
#[derive(Debug, Clone)]
pub struct Laid {
    pub kind: Kind,
    pub sheet: Sheet<Body>,
}

/// What the sheets of a packet are laid out from.
#[derive(Clone, Copy)]
pub struct Source<'a> {
    pub worked: &'a Worked<'a>,
    pub pictures: &'a JobPictures,
    pub out: &'a Outline,
}

impl Source<'_> {
    /// Where a sheet of a kind stands.
    pub fn here(&self, kind: Kind) -> Here {
        Here::page(self.out.page(kind))
    }
}

/// All sheets of a packet in order, numbered through; what is for the office alone is not among them.
pub fn lay(source: &Source) -> Vec<Laid> {
    let kinds = kinds(source.worked);
    let mut bodies: Vec<(Kind, Body)> = Vec::new();
    for kind in &kinds {
        bodies.extend(bodies_of(source, *kind, &kinds).into_iter().map(|body| (*kind, body)));
    }
    let order: Vec<Kind> = bodies.iter().map(|(kind, _)| *kind).collect();
    let lay = |(place, (kind, body)): (usize, (Kind, Body))| Laid {
        kind,
        sheet: sheet(source, (&order, place), body),
    };
    bodies.into_iter().enumerate().map(lay).collect()
}

/// The sheet that stays in the office.
pub fn office(source: &Source) -> Laid {
    let body = Body::Office(office::sheet(source));
    let mut sheet = sheet(source, (&[Kind::Office], 0), body);
    sheet.block.number = "Office annex".into();
    Laid { kind: Kind::Office, sheet }
}

/// The kinds of sheets of a job, in order.
fn kinds(worked: &Worked) -> Vec<Kind> {
    let mut kinds = vec![Kind::Cover, Kind::Load, Kind::Layout];
    kinds.extend(worked.work.job.plan.is_some().then_some(Kind::Reach));
    if !worked.work.lines.of_trunks().is_empty() {
        kinds.push(Kind::Trunk);
    }
    kinds.extend((0..worked.work.job.inlets.len()).flat_map(|i| [Kind::Route(i), Kind::Cuts(i)]));
    kinds.extend([Kind::Check, Kind::Owner]);
    kinds
}

/// The bodies of a kind, one for each piece of paper it takes.
fn bodies_of(source: &Source, kind: Kind, kinds: &[Kind]) -> Vec<Body> {
    let worked = source.worked;
    let part = |index: usize| worked.inlets().nth(index);
    match kind {
        Kind::Cover => {
            let (cover, more) = cover::sheets(source, kinds);
            std::iter::once(Body::JobCover(cover)).chain(more.into_iter().map(Body::CoverMore)).collect()
        }
        Kind::Load => load::sheets(source).into_iter().map(Body::Load).collect(),
        Kind::Layout => layout::sheets(source).into_iter().map(Body::Layout).collect(),
        Kind::Trunk => trunk::sheets(source).into_iter().map(Body::Trunk).collect(),
        Kind::Route(i) => {
            part(i).map(|part| route::sheets(source, &part)).into_iter().flatten().map(Body::Route).collect()
        }
        Kind::Cuts(i) => cuts::sheets(source, i, kind, 0.0).into_iter().map(Body::Cuts).collect(),
        Kind::Reach => {
            let whole = source.pictures.reach.as_ref();
            whole.map(reach::by_paper).unwrap_or_default().into_iter().map(Body::Reach).collect()
        }
        Kind::Check => check::sheets(source).into_iter().map(Body::Check).collect(),
        Kind::Owner => vec![Body::Owner(owner::sheet(source))],
        Kind::Office => Vec::new(),
    }
}

/// One sheet in its frame; `order` is the kind of every sheet, and this one's place among them.
fn sheet(source: &Source, (order, place): (&[Kind], usize), body: Body) -> Sheet<Body> {
    let kind = order[place];
    let nth = nth_of_its_kind(order, place);
    let more = if nth > 0 { ", continued" } else { "" };
    Sheet {
        anchor: anchor(source, order, place),
        title: format!("{}{more}", title(source.worked, kind)),
        under_title: if nth > 0 { String::new() } else { under_title(kind).into() },
        bar: bar(source.worked, kind),
        jumps: jumps(source, kind),
        block: title_block(source, order, place),
        body,
    }
}

/// How many sheets of its kind stand before it.
fn nth_of_its_kind(order: &[Kind], place: usize) -> usize {
    order[..place].iter().filter(|other| **other == order[place]).count()
}

/// Here of a sheet: where a kind takes several, each of them has a place of its own.
fn anchor(source: &Source, order: &[Kind], place: usize) -> String {
    let first = source.out.anchor(order[place]);
    match nth_of_its_kind(order, place) {
        0 => first,
        nth => format!("{first}-{}", nth + 1),
    }
}

/// What a sheet is called.
fn title(worked: &Worked, kind: Kind) -> String {
    let name = |i: usize| worked.work.job.inlets.get(i).map_or("", |inlet| inlet.name.as_str());
    match kind {
        Kind::Cover => worked.work.job.title.clone(),
        Kind::Load => "Load the truck".into(),
        Kind::Layout => "Layout: set out and drill".into(),
        Kind::Reach => "Reach: what the hoses come to".into(),
        Kind::Trunk => "Trunk".into(),
        Kind::Route(i) => format!("{}: the route", name(i)),
        Kind::Cuts(i) => format!("{}: cut and cement", name(i)),
        Kind::Check => "Check and prove".into(),
        Kind::Owner => "For the homeowner".into(),
        Kind::Office => "Office annex: how it was worked out".into(),
    }
}

/// The line under a sheet's title.
fn under_title(kind: Kind) -> &'static str {
    match kind {
        Kind::Cover | Kind::Trunk | Kind::Route(_) | Kind::Check => "",
        Kind::Load => "Tick each line when it is on the truck.",
        Kind::Reach => {
            "Hose lies round corners, the wand reaches straight on. The closer the hatch, the less hose it takes."
        }
        Kind::Layout => "Drill no hole marked FAIL, HOLD or NOT CHECKED.",
        Kind::Cuts(_) => {
            "Tape every run first. Inside the limits cut by your tape; outside, call the crew lead."
        }
        Kind::Owner => "Your hose lives inside the wall. Keep this sheet near the power unit.",
        Kind::Office => {
            "Not for the truck. Figures are typical until your own parts are measured (see Parts)."
        }
    }
}

/// What stands over every sheet of a job that may not be built, so that no loose sheet of it can be taken for
/// buildable: an inlet that passes says that its job does not.
fn bar(worked: &Worked, kind: Kind) -> String {
    let findings = &worked.work.findings;
    let job = findings.verdict();
    let own = inlet_of(kind).map(|inlet| findings.inlet_verdict(inlet));
    let stops = |verdict: Verdict| matches!(verdict, Verdict::Hold | Verdict::Fail);
    if !stops(job) {
        return String::new();
    }
    let told = |verdict: Verdict, what: &str| match verdict {
        Verdict::Fail => format!("FAIL: this {what} breaks the standard. Build nothing by this sheet."),
        _ => format!("HOLD: build nothing of this {what} before sheet 1 says so."),
    };
    match (kind, own) {
        (Kind::Owner, _) => {
            format!("{}: not built yet. Do not hand this sheet over.", job.word().to_uppercase())
        }
        (_, Some(own)) if stops(own) => told(own, "inlet"),
        (_, Some(_)) if job == Verdict::Fail => {
            "JOB FAILS: this inlet is clear, the job is not. Build nothing by this sheet.".into()
        }
        (_, Some(_)) => {
            "JOB ON HOLD: this inlet is clear, the job is not. Build nothing before sheet 1 says so.".into()
        }
        (_, None) => told(job, "job"),
    }
}

/// Height that a sheet of a kind has for its body, mm.
pub fn room_mm(worked: &Worked, kind: Kind) -> f64 {
    let (barred, told) = (!bar(worked, kind).is_empty(), !under_title(kind).is_empty());
    paper::body_mm(worked.firm.paper, barred, told)
}

/// Short ways from the head of a sheet: back to the cover, and on an inlet's to its drawing, cuts and checks; from
/// the cover to what is read first, and to where ticks are saved.
fn jumps(source: &Source, kind: Kind) -> Vec<Link> {
    let here = source.here(kind);
    let link = |kind, text: &str| Link { href: source.out.link(&here, kind), text: text.into() };
    let mut jumps = Vec::new();
    if let Some(inlet) = inlet_of(kind) {
        jumps.push(link(Kind::Route(inlet), "Drawing"));
        jumps.push(link(Kind::Cuts(inlet), "Cuts"));
        jumps.push(link(Kind::Check, "Checks"));
    }
    if kind == Kind::Cover {
        jumps.extend([link(Kind::Load, "Load"), link(Kind::Layout, "Layout"), link(Kind::Check, "Checks")]);
        jumps.push(Link { href: format!("#{NOTES}"), text: "Save ticks".into() });
    } else {
        jumps.push(link(Kind::Cover, "Cover"));
    }
    jumps
}

/// The title block.
fn title_block(source: &Source, order: &[Kind], place: usize) -> TitleBlock {
    let kind = order[place];
    let here = source.here(kind);
    let link = |place: usize| {
        let page = source.out.page(*order.get(place)?);
        let href = here.to(&page, &anchor(source, order, place));
        Some(Link { href, text: format!("{} of {}", place + 1, order.len()) })
    };
    TitleBlock {
        cells: cells(source.worked, kind),
        number: format!("{} of {}", place + 1, order.len()),
        stamp: stamp(source.worked, kind),
        beside_stamp: beside_stamp(source.worked, kind),
        previous: place.checked_sub(1).and_then(link),
        next: link(place + 1),
        index: Some(Link { href: source.out.link(&here, Kind::Cover), text: "Cover".into() }),
    }
}

/// The named fields: whose, where, and of what the sheet is.
fn cells(worked: &Worked, kind: Kind) -> Vec<Cell> {
    let job = worked.work.job;
    let mut cells = vec![
        Cell::new("Firm", worked.firm.name.clone()).with_fine(format!("standard {}", job.standard)),
        Cell::new("Job", job.title.clone()).with_fine(job.address.clone()),
    ];
    let date = job.date.to_string();
    cells.push(match inlet_of(kind).and_then(|i| job.inlets.get(i)) {
        Some(inlet) => Cell::new("Inlet", inlet.name.clone()).with_fine(date),
        None => Cell::new("Date", date),
    });
    cells
}

/// What stands beside the stamp of an inlet whose job stands worse.
fn beside_stamp(worked: &Worked, kind: Kind) -> String {
    let findings = &worked.work.findings;
    let Some(inlet) = inlet_of(kind) else { return String::new() };
    match (findings.verdict(), findings.inlet_verdict(inlet)) {
        (Verdict::Hold, own) if own < Verdict::Hold => "job on hold".into(),
        (Verdict::Fail, own) if own < Verdict::Fail => "job fails".into(),
        _ => String::new(),
    }
}

/// The stamp: the inlet's verdict on its sheets, the job's on all others, the owner's among them.
fn stamp(worked: &Worked, kind: Kind) -> Option<Stamp> {
    let findings = &worked.work.findings;
    Some(match inlet_of(kind) {
        Some(inlet) => findings.inlet_verdict(inlet).into(),
        None => findings.verdict().into(),
    })
}

#[cfg(test)]
pub(crate) mod fixture;
#[cfg(test)]
mod tests;
