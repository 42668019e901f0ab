//! A page: one or several sheets, and the rules by which they are printed.
use crate::company::{Firm, Paper};
use crate::packet::place::Place;
use crate::packet::prose::css_string;
use crate::packet::sheet::Sheet;
use serde::Serialize;

/// A page with all decided.
#[derive(Debug, Clone, Serialize)]
pub struct Page<B> {
    pub title: String,
    /// Way to the top folder, `../../`; empty at the top.
    pub root: String,
    /// `letter` or `a4`.
    pub paper: &'static str,
    pub print_rules_html: String,
    pub scripts: Vec<String>,
    pub sheets: Vec<Sheet<B>>,
}

impl<B> Page<B> {
    /// A page of sheets.
    pub fn new(firm: &Firm, here: &Place, title: String, sheets: Vec<Sheet<B>>) -> Page<B> {
        Page {
            title,
            root: "../".repeat(here.path().matches('/').count()),
            paper: paper_name(firm.paper),
            print_rules_html: print_rules(firm, &sheets),
            scripts: Vec::new(),
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

/// Paper, margins, and for every sheet what stands over and under it on each printed page.
///
/// A drawing is 190 mm wide at most, so the side margins leave a little more than that on either paper.
fn print_rules<B>(firm: &Firm, sheets: &[Sheet<B>]) -> String {
    let (size, side_mm, height_mm) = match firm.paper {
        Paper::Letter => ("letter", 9, 279.4),
        Paper::A4 => ("A4", 6, 297.0),
    };
    let (top_mm, foot_mm) = (11.0, 10.0);
    let mut rules = format!(
        "@page{{size:{size};margin:{top_mm}mm {side_mm}mm {foot_mm}mm}}:root{{--page-height:{:.1}mm}}",
        height_mm - top_mm - foot_mm
    );
    for (nth, sheet) in sheets.iter().enumerate() {
        rules.push_str(&sheet_rules(firm, nth + 1, sheet));
    }
    rules
}

/// Header and foot of one sheet.
fn sheet_rules<B>(firm: &Firm, nth: usize, sheet: &Sheet<B>) -> String {
    let wanted = ["Job", "Inlet"];
    let names = sheet.block.cells.iter().filter(|cell| wanted.contains(&cell.label.as_str()));
    let mut head: Vec<&str> = names.map(|cell| cell.value.as_str()).collect();
    if head.is_empty() {
        head.push(&sheet.title);
    }
    format!(
        "@page s{nth}{{@top-left{{content:{};font:bold 8pt sans-serif}}@top-right{{content:{};font:bold 8pt sans-serif}}\
         @bottom-left{{content:{};font:7.5pt sans-serif}}\
         @bottom-right{{content:\"page \" counter(page) \" of \" counter(pages);font:7.5pt sans-serif}}}}\
         main>.sheet:nth-of-type({nth}){{page:s{nth}}}",
        css_string(&head.join(" · ")),
        css_string(&sheet.number),
        css_string(&firm.name),
    )
}
