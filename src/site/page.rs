//! A page: one or several sheets, and the rules by which they are printed.
use crate::company::{Firm, Paper};
use crate::packet;
use crate::packet::here::Here;
use crate::packet::prose::css_string;
use crate::packet::sheet::Sheet;
use serde::Serialize;

/// Kinds of sheets that have a style of their own in the theme: `packet.css`, or `packet-larger.css` beside it,
/// stands only in pages with such a sheet; a style of any other name stands in every page.
const STYLES: [&str; 7] = ["packet", "owner", "drawings", "office", "lesson", "book", "set"];

/// The kind of sheets that a style is for; none where it is for all.
pub fn style_kind(file: &str) -> Option<&'static str> {
    let name = file.split(['-', '.']).next().unwrap_or_default();
    STYLES.iter().find(|kind| **kind == name).copied()
}

/// What a sheet wants of the theme's styles, beside those that stand in every page.
pub trait Styled {
    fn styles(&self) -> &'static [&'static str];
}

impl Styled for packet::Body {
    fn styles(&self) -> &'static [&'static str] {
        match self {
            packet::Body::Owner(_) => &["owner"],
            packet::Body::Office(_) => &["drawings", "office"],
            // Ticks and blanks stand with the owner's sheet, which has the fewest.
            _ => &["packet", "owner", "drawings"],
        }
    }
}

impl Styled for super::Body {
    fn styles(&self) -> &'static [&'static str] {
        match self {
            super::Body::Book(_) => &["book"],
            super::Body::Lesson(_) | super::Body::StudyRecord(_) | super::Body::CoursePiece(_) => {
                &["lesson", "set"]
            }
            _ => &["set"],
        }
    }
}

/// A page with all decided; the theme adds its style and the scripts that are wanted, so that the page
/// stands alone.
#[derive(Debug, Clone, Serialize)]
pub struct Page<B> {
    pub title: String,
    /// Way to the top folder, `../../`; empty at the top.
    pub up: String,
    /// `letter` or `a4`.
    pub paper: &'static str,
    pub print_rules_html: String,
    /// Names of the theme's scripts that this page runs.
    #[serde(skip)]
    pub scripts: Vec<&'static str>,
    /// Kinds of sheets whose styles it has.
    #[serde(skip)]
    pub styles: Vec<&'static str>,
    /// Whose ticks and blanks the page keeps; none where it has none.
    pub notes: Option<Notes>,
    pub sheets: Vec<Sheet<B>>,
}

/// Whose ticks and blanks a page keeps.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Notes {
    /// The job's file under `jobs/` without its ending.
    pub job: String,
    pub title: String,
}

/// How the sheets of a page come on paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Print {
    /// Each sheet is one piece of paper, its title block at the foot.
    OneEach,
    /// A sheet runs on over as many as it takes; head and foot stand on every one.
    RunOn,
}

impl<B: Styled> Page<B> {
    /// A page of sheets.
    pub fn new(firm: &Firm, here: &Here, title: String, print: Print, sheets: Vec<Sheet<B>>) -> Page<B> {
        let mut styles: Vec<&str> = sheets.iter().flat_map(|sheet| sheet.body.styles()).copied().collect();
        styles.sort_unstable();
        styles.dedup();
        Page {
            title,
            up: "../".repeat(here.path().matches('/').count()),
            paper: paper_name(firm.paper),
            print_rules_html: print_rules(firm, print, &sheets),
            scripts: Vec::new(),
            styles,
            notes: None,
            sheets,
        }
    }
}

/// Name of the paper in styles.
fn paper_name(paper: Paper) -> &'static str {
    match paper {
        Paper::Letter => "letter",
        Paper::A4 => "a4",
    }
}

/// Paper and margins; where sheets run on, what stands over and under each on every printed page.
fn print_rules<B>(firm: &Firm, print: Print, sheets: &[Sheet<B>]) -> String {
    let size = match firm.paper {
        Paper::Letter => "letter",
        Paper::A4 => "A4",
    };
    let (side_mm, edge_mm) = (crate::packet::paper::side_mm(firm.paper), crate::packet::paper::EDGE_MM);
    let mut height_mm = crate::packet::paper::height_mm(firm.paper);
    if print == Print::RunOn {
        // A short sheet fills one page under its running head, and does not leave its title block to a second.
        height_mm -= HEAD_MM + FOOT_MM - 2.0 * crate::packet::paper::EDGE_MM;
    }
    let mut rules =
        format!(":root{{--page-height:{height_mm:.1}mm}}@page{{size:{size};margin:{edge_mm}mm {side_mm}mm}}");
    if print == Print::RunOn {
        for (nth, sheet) in sheets.iter().enumerate() {
            rules.push_str(&running_rules(firm, nth + 1, sheet));
        }
    }
    rules
}

/// Margins of a sheet that runs on, in which its head and foot stand, mm.
const HEAD_MM: f64 = 13.0;
const FOOT_MM: f64 = 11.0;

/// Head and foot of a sheet that runs on.
fn running_rules<B>(firm: &Firm, nth: usize, sheet: &Sheet<B>) -> String {
    let stamp = match &sheet.block.stamp {
        Some(stamp) => format!(
            "@top-center{{content:{};font:bold 9pt sans-serif;border:1pt solid #000;padding:0 3mm;margin:2mm 0}}",
            css_string(&stamp.word.to_uppercase())
        ),
        None => String::new(),
    };
    let job = sheet.block.cells.iter().find(|cell| cell.label == "Job").map(|cell| cell.value.as_str());
    format!(
        "@page s{nth}{{margin-top:{HEAD_MM}mm;margin-bottom:{FOOT_MM}mm;@top-left{{content:{};font:bold 9pt sans-serif}}{stamp}\
         @top-right{{content:{};font:bold 9pt sans-serif}}@bottom-left{{content:{};font:8pt sans-serif}}\
         @bottom-right{{content:\"page \" counter(page) \" of \" counter(pages);font:8pt sans-serif}}}}\
         main>.sheet:nth-of-type({nth}){{page:s{nth}}}",
        css_string(job.unwrap_or(&sheet.title)),
        css_string(&sheet.block.number),
        css_string(&firm.name),
    )
}
