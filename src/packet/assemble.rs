//! From a job worked up to what its sheets are made from.
use super::worked::{
    Air, Cuts, Effort, InletFigures, Item, JobFigures, Passage, Piece, StickCut, StickPiece, TubeCut, Worked,
};
use super::workings::workings;
use crate::company::Firm;
use crate::standard::{Finding, Findings, Verdict};
use crate::takeoff::LineCuts;
use crate::work::Work;

/// A worked-up job with its figures and cuts as the sheets want them; [`Assembled::worked`] lends it out.
pub struct Assembled<'a> {
    firm: &'a Firm,
    work: &'a Work<'a>,
    findings: Findings,
    cuts: Cuts,
    figures: JobFigures,
}

impl<'a> Assembled<'a> {
    /// Assembles a job.
    pub fn of(firm: &'a Firm, work: &'a Work<'a>) -> Assembled<'a> {
        Assembled {
            firm,
            work,
            findings: findings(work),
            cuts: cuts(work),
            figures: figures(work),
        }
    }

    /// What the sheets are made from.
    pub fn worked(&self) -> Worked<'_> {
        Worked {
            firm: self.firm,
            catalog: self.work.catalog,
            standard: self.work.standard,
            job: self.work.job,
            routes: &self.work.routes,
            findings: &self.findings,
            cuts: &self.cuts,
            figures: &self.figures,
        }
    }
}

/// The findings, their remedies with what the trial of them gave.
fn findings(work: &Work) -> Findings {
    let mut findings = work.findings.clone();
    for (i, found) in findings.inlets.iter_mut().enumerate() {
        for finding in found
            .iter_mut()
            .filter(|f| matches!(f.verdict, Verdict::Fail | Verdict::Caution))
        {
            finding.remedy = remedy(work, i, finding).or(finding.remedy.take());
        }
    }
    findings
}

/// Every proven way out, the smallest first; where there is none, that there is none, and what is missing.
fn remedy(work: &Work, inlet: usize, finding: &Finding) -> Option<String> {
    let offers = work.offers_for(inlet, &finding.clause)?;
    if offers.offers.is_empty() {
        let missing = finding
            .remedy
            .as_deref()
            .map(|words| format!("; to be done: {words}"))
            .unwrap_or_default();
        let tried = offers.tried;
        return Some(format!(
            "no single change was found that mends this and breaks nothing else ({tried} tried){missing}"
        ));
    }
    let told = offers
        .offers
        .iter()
        .map(|offer| format!("{} (tried; then {})", offer.words, offer.then));
    Some(told.collect::<Vec<_>>().join("; or "))
}

fn cuts(work: &Work) -> Cuts {
    let lines = |lines: &[LineCuts]| lines.iter().map(line).collect();
    let plan = work.cuts.plan.as_ref().ok();
    let sticks = plan.map(|plan| {
        let stick = |stick: &crate::material::CutStick| StickCut {
            pieces: stick
                .pieces
                .iter()
                .map(|p| StickPiece {
                    mark: p.mark.clone(),
                    owner: p.owner.clone(),
                    length_m: p.length_m,
                })
                .collect(),
            offcut_m: stick.offcut_m,
        };
        plan.sticks.iter().map(stick).collect()
    });
    let items = work.items.iter().map(|item| Item {
        part: item.part.clone(),
        kind: item.kind.clone(),
        count: item.count,
        unit: item.unit.clone(),
        note: item.note.clone(),
    });
    Cuts {
        inlets: lines(&work.cuts.raceways),
        onward: lines(&work.cuts.onward),
        trunks: lines(&work.cuts.trunks),
        sticks: sticks.unwrap_or_default(),
        lower_bound: plan.map_or(0, |plan| plan.lower_bound),
        proven: plan.is_some_and(|plan| plan.proven),
        items: items.collect(),
    }
}

fn line(cuts: &LineCuts) -> Vec<TubeCut> {
    cuts.iter()
        .map(|cut| TubeCut {
            mark: cut.mark.clone(),
            clear_m: cut.clear_m,
            pieces: cut
                .pieces
                .iter()
                .map(|p| Piece {
                    mark: p.mark.clone(),
                    length_m: p.length_m,
                })
                .collect(),
            problem: cut.problem.clone(),
        })
        .collect()
}

fn figures(work: &Work) -> JobFigures {
    let inlet = |(i, figures): (usize, &crate::figures::InletFigures)| InletFigures {
        effort: figures.effort.as_ref().ok().map(|effort| Effort {
            draw_in_n: effort.draw_in.worst_n,
            available_n: figures.available_n.as_ref().ok().copied(),
            pull_out_n: effort.pull_out.worst_n,
            curve: effort.draw_in.curve.clone(),
        }),
        air: figures.air.as_ref().ok().map(|air| Air {
            flow_m3_s: air.hose_out.flow_m3_s,
            velocity_m_s: air.slowest_tube_m_s().unwrap_or_default(),
            suction_at_valve_pa: air.hose_out.suction_at_valve_pa,
            suction_at_unit_pa: air.hose_out.suction_at_unit_pa,
            air_power_w: air.hose_out.air_power_w,
        }),
        passage: figures
            .passage
            .as_deref()
            .unwrap_or_default()
            .iter()
            .map(|place| Passage {
                place: place.words.clone(),
                longest_m: place.longest_m,
            })
            .collect(),
        workings: workings(work, i),
        sealed_suction_pa: figures.sealed_pa.as_ref().ok().copied(),
    };
    JobFigures {
        inlets: work.figures.inlets.iter().enumerate().map(inlet).collect(),
    }
}
