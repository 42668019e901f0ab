//! What stays in the office: every finding in full, figures with their workings, clauses met, hazards
//! with their sources, and the picture of the cutting plan.
use super::Source;
use super::cautions::{Caution, cautions};
use super::figures::{self, FormulaAt, InletFigures};
use super::inline::inlined;
use super::outline::Kind;
use super::sheet::{FindingRow, finding_rows};
use super::worked::Pictures;
use crate::standard::Verdict;
use serde::Serialize;
use std::collections::HashMap;

/// The annex.
#[derive(Debug, Clone, Serialize)]
pub struct Office {
    pub inlets: Vec<OfficeInlet>,
    pub cautions: Vec<Caution>,
    pub cutting_svg: String,
}

/// An inlet in it.
#[derive(Debug, Clone, Serialize)]
pub struct OfficeInlet {
    pub name: String,
    /// What is not simply met, in full.
    pub findings: Vec<FindingRow>,
    pub figures: InletFigures,
}

/// Lays the annex out.
pub fn sheet(source: &Source) -> Office {
    let (worked, here) = (source.worked, source.here(Kind::Office));
    let inlet = |part: super::worked::InletPart| {
        let none = Pictures::default();
        let drawn = source.pictures.inlets.get(part.index).unwrap_or(&none);
        let by = (worked.work.job.standard.as_str(), &here);
        OfficeInlet {
            name: part.inlet.name.clone(),
            findings: finding_rows(part.findings, part.offers, by, |verdict| verdict != Verdict::Pass),
            figures: figures::sheet(worked, &part, drawn, &here),
        }
    };
    let mut inlets: Vec<OfficeInlet> = worked.inlets().map(inlet).collect();
    once(&mut inlets);
    Office {
        inlets,
        cautions: cautions(worked.work.job, &worked.work.lines),
        cutting_svg: inlined(source.pictures.cutting.as_deref(), "cut-"),
    }
}

/// Leaves each formula with the first inlet that is worked by it; the others have their numbers and a link there.
fn once(inlets: &mut [OfficeInlet]) {
    let mut first: HashMap<&str, FormulaAt> = HashMap::new();
    for inlet in inlets {
        for working in &mut inlet.figures.workings {
            if let Some(at) = first.get(working.formula_mathml) {
                working.formula_mathml = "";
                working.formula_at = Some(at.clone());
            } else {
                let at = FormulaAt {
                    name: format!("{}: {}", inlet.name, working.name),
                    anchor: working.anchor.clone(),
                };
                first.insert(working.formula_mathml, at);
            }
        }
    }
}
