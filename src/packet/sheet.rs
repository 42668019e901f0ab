//! A sheet: the frame, the title block, and what every kind of sheet shares.
use super::here::Here;
use super::prose::sentence;
use crate::remedy::{Offer, Offers};
use crate::standard::{Finding, Verdict};
use serde::Serialize;

/// A sheet with all decided: a title, the title block, and the body its kind has. The body is an enum
/// tagged `kind`, which picks the template.
#[derive(Debug, Clone, Serialize)]
pub struct Sheet<B> {
    /// Here on its page, for links: `cuts`, `lesson-4`.
    pub anchor: String,
    pub title: String,
    /// A line under the title; empty for none.
    pub under_title: String,
    /// What stands over the sheet where nobody may build by it; empty for none.
    pub bar: String,
    /// Short ways from the head of the sheet to what belongs to it.
    pub jumps: Vec<Link>,
    pub block: TitleBlock,
    #[serde(flatten)]
    pub body: B,
}

/// The title block.
#[derive(Debug, Clone, Serialize)]
pub struct TitleBlock {
    pub cells: Vec<Cell>,
    /// What the sheet is called by: `Clause 2.1`, or in a packet `3 of 10`.
    pub number: String,
    pub stamp: Option<Stamp>,
    /// How the job stands where it stands worse than the stamp says; empty where it does not.
    pub beside_stamp: String,
    pub previous: Option<Link>,
    pub next: Option<Link>,
    /// To the sheet index; none on a sheet that is sent alone.
    pub index: Option<Link>,
}

/// A named field.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Cell {
    pub label: String,
    pub value: String,
    /// A second line under the value; empty for none.
    pub fine: String,
}

/// A link.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Link {
    pub href: String,
    pub text: String,
}

/// A stamp: a word, and a shape told by its name.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Stamp {
    pub word: String,
    /// A verdict's key, or `not-read`: one square frame, each with a line of its own.
    pub shape: &'static str,
}

/// A finding as a row.
#[derive(Debug, Clone, Serialize)]
pub struct FindingRow {
    pub stamp: Stamp,
    /// The number of the balloon on the drawing; empty where it has none.
    pub balloon: String,
    pub number: String,
    pub href: String,
    pub title: String,
    pub note: String,
    /// What to do about it, the smallest change first.
    pub remedies: Vec<RemedyRow>,
    /// Who set it aside and why, or which paper has cleared it; empty where nobody did.
    pub settled: String,
}

/// A way out of a broken clause.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct RemedyRow {
    /// `Remedy` or `Or`.
    pub lead: &'static str,
    pub words: String,
    /// What the inspection finds after it, or that no change was found that mends this alone; may be empty.
    pub then: String,
}

impl Cell {
    /// A field.
    pub fn new(label: &str, value: impl Into<String>) -> Cell {
        Cell { label: label.into(), value: value.into(), fine: String::new() }
    }

    /// The field with a line under its value.
    pub fn with_fine(self, fine: impl Into<String>) -> Cell {
        Cell { fine: fine.into(), ..self }
    }
}

impl From<Verdict> for Stamp {
    fn from(verdict: Verdict) -> Stamp {
        Stamp { word: verdict.word().into(), shape: verdict.key() }
    }
}

impl Stamp {
    /// The stamp of a job whose file could not be read.
    pub fn not_read() -> Stamp {
        Stamp { word: "not read".into(), shape: "not-read" }
    }
}

impl<B> Sheet<B> {
    /// The sheet without its ways to others, to be sent to somebody who has none of them.
    pub fn alone(self) -> Sheet<B> {
        let block = TitleBlock { previous: None, next: None, index: None, ..self.block };
        Sheet { jumps: Vec::new(), block, ..self }
    }
}

/// Findings whose verdict is `wanted` as rows, the worst first and otherwise in the standard's order; balloons are
/// numbered over fails, holds and cautions in the order given, as the drawing numbers them.
pub fn finding_rows(
    findings: &[Finding],
    offers: &[Offers],
    (revision, here): (&str, &Here),
    wanted: impl Fn(Verdict) -> bool,
) -> Vec<FindingRow> {
    let all = findings.iter().zip(balloons(findings));
    let mut shown: Vec<(&Finding, Option<usize>)> = all.filter(|(f, _)| wanted(f.verdict)).collect();
    shown.sort_by_key(|(finding, _)| std::cmp::Reverse(finding.verdict));
    let row = |(finding, balloon)| finding_row(finding, balloon, offers, (revision, here));
    shown.into_iter().map(row).collect()
}

/// The number of each finding's balloon: fails, holds and cautions are numbered in the order given, on the
/// drawing and in the notes alike.
pub fn balloons(findings: &[Finding]) -> Vec<Option<usize>> {
    let mut count = 0;
    findings
        .iter()
        .map(|finding| {
            finding.verdict.calls().then(|| {
                count += 1;
                count
            })
        })
        .collect()
}

/// The page of a clause, under `site/`.
pub fn clause_page(revision: &str, clause: &str) -> String {
    format!("standard/{}/{}.html", crate::text::slug(revision), crate::text::slug(clause))
}

/// One finding as a row.
fn finding_row(
    finding: &Finding,
    balloon: Option<usize>,
    offers: &[Offers],
    (revision, here): (&str, &Here),
) -> FindingRow {
    FindingRow {
        stamp: finding.verdict.into(),
        balloon: balloon.map(|n| n.to_string()).unwrap_or_default(),
        number: finding.number.clone(),
        href: match finding.number.is_empty() {
            true => String::new(),
            false => here.to(&clause_page(revision, &finding.clause), ""),
        },
        title: finding.title.clone(),
        note: sentence(&finding.note),
        remedies: match finding.verdict {
            // What somebody has settled is not to be done any more.
            Verdict::Waived | Verdict::Cleared => Vec::new(),
            _ => remedies(
                finding,
                offers.iter().find(|o| finding.verdict.broken() && o.clause == finding.clause),
            ),
        },
        settled: settled(finding),
    }
}

/// Who has settled a finding, and by what.
fn settled(finding: &Finding) -> String {
    match (&finding.waiver, &finding.cleared) {
        (Some(waiver), _) => waiver_words(waiver),
        (None, Some(paper)) => sentence(&paper.words()),
        (None, None) => String::new(),
    }
}

/// Every change that was tried and mends it; without one, what is missing, and that no single change does.
fn remedies(finding: &Finding, tried: Option<&Offers>) -> Vec<RemedyRow> {
    let offers = tried.map(|tried| tried.offers.as_slice()).unwrap_or_default();
    if !offers.is_empty() {
        let row = |(place, offer): (usize, &Offer)| RemedyRow {
            lead: if place == 0 { "Remedy" } else { "Or" },
            words: sentence(&offer.words),
            then: sentence(&format!("tried: then {}", offer.then)),
        };
        return offers.iter().enumerate().map(row).collect();
    }
    let then = tried.filter(|tried| tried.tried > 0).map_or_else(String::new, |tried| {
        format!("No change, and no two of the small ones, was found that mends this and breaks nothing else ({} tried).", tried.tried)
    });
    let words = finding.remedy.as_deref().map(sentence);
    words.into_iter().map(|words| RemedyRow { lead: "Remedy", words, then: then.clone() }).collect()
}

/// `Set aside by crew lead: finished soffit.`
fn waiver_words(waiver: &crate::company::Waiver) -> String {
    let because = sentence(&waiver.because);
    match waiver.by.trim() {
        "" => format!("Set aside: {because}"),
        by => format!("Set aside by {by}: {because}"),
    }
}
