//! A raceway judged for a question: what the standard finds in it, and which parts that is about.
use super::School;
use super::drawn::{Ways, bare, with_work};
use crate::company::LessonPath;
use crate::lesson::{DrawnPart, Judged, Refusal, Refused};
use crate::packet::prose::sentence;
use crate::route::{Line, Spot};
use crate::standard::{Finding, Verdict};
use crate::text::nearest;
use crate::work::Work;

fn asked(message: impl Into<String>, help: Option<&str>) -> Refusal {
    Refusal::Asked(Refused { message: message.into(), help: help.map(str::to_owned) })
}

/// What the standard finds in a raceway, held against what it was meant to break, with its drawing, whose ids begin
/// with `id`.
pub fn judge(school: &School, path: &LessonPath, breaks: &[String], id: &str) -> Result<Judged, Refusal> {
    let by = (id, Ways::Unasked);
    let worked = with_work(school, path, by, |work| judged(work, breaks, bare(work, path)));
    worked.unwrap_or_else(|| Err(asked("the catalog lists no unit, so that nothing can be judged", None)))
}

fn judged(work: &Work, breaks: &[String], html: String) -> Result<Judged, Refusal> {
    let line = work.lines.lines.first().ok_or_else(|| asked("this raceway has no line", None))?;
    let findings = work.findings.inlets.first().map(Vec::as_slice).unwrap_or_default();
    let wrong = |finding: &&Finding| matches!(finding.verdict, Verdict::Fail | Verdict::Caution);
    let found: Vec<&Finding> = findings.iter().filter(wrong).collect();
    if let Some(other) = found.iter().find(|finding| !breaks.contains(&finding.clause)) {
        let message = format!("this raceway breaks `{}` too: {}", other.clause, other.note);
        return Err(asked(message, Some("mend the raceway, or name the clause in `breaks:`")));
    }
    if let Some(kept) = breaks.iter().find(|id| !found.iter().any(|finding| finding.clause == **id)) {
        let known = findings.iter().map(|finding| finding.clause.as_str());
        let near = nearest(kept, known).filter(|near| near != kept);
        let help = near
            .map_or("plant the fault, or leave the clause out".to_owned(), |near| format!("write `{near}`"));
        return Err(asked(format!("this raceway does not break `{kept}`"), Some(&help)));
    }
    let told = found.iter().map(|finding| format!("{}: {}", finding.title, sentence(&finding.note)));
    Ok(Judged {
        html,
        parts: parts(work, line),
        wrong: found.iter().map(|finding| marks(line, finding)).collect(),
        told: told.collect(),
    })
}

/// Everything that can be tapped: legs with their holes and bends in turn, the stop, the route as a whole.
fn parts(work: &Work, line: &Line) -> Vec<DrawnPart> {
    let mut parts = Vec::new();
    for (i, leg) in line.legs.iter().enumerate() {
        let words = format!("Leg {}, {}", i + 1, work.say.length(leg.length_m));
        parts.push(DrawnPart { mark: leg_mark(i), words });
        for crossed in line.crossings.iter().filter(|crossed| crossed.leg == i) {
            let words =
                format!("{}, the hole {} along leg {}", crossed.mark, work.say.length(crossed.at_m), i + 1);
            parts.push(DrawnPart { mark: crossed.mark.clone(), words });
        }
        if let Some(bend) = line.bends.get(i) {
            let mark = line.bend_mark(bend.n);
            let words = format!("{mark}, {} {}", work.say.angle(bend.angle_deg), bend.heading_words);
            parts.push(DrawnPart { mark, words });
        }
    }
    parts.push(DrawnPart { mark: STOP.into(), words: "The stop".into() });
    parts.push(DrawnPart { mark: ROUTE.into(), words: "The route as a whole".into() });
    parts
}

/// Two stations nearer than this are one place.
const HERE_M: f64 = 1e-6;
const STOP: &str = "stop";
const ROUTE: &str = "route";

fn leg_mark(index: usize) -> String {
    format!("leg-{}", index + 1)
}

/// The parts that a finding is about; the whole route where it names no place.
fn marks(line: &Line, finding: &Finding) -> Vec<String> {
    let mut marks: Vec<String> = finding.spots.iter().flat_map(|spot| spot_marks(line, *spot)).collect();
    marks.extend(finding.bends.iter().map(|n| line.bend_mark(*n)));
    if marks.is_empty() {
        marks.push(ROUTE.into());
    }
    let mut once: Vec<String> = Vec::new();
    marks.into_iter().for_each(|mark| {
        if !once.contains(&mark) {
            once.push(mark);
        }
    });
    once
}

/// The part at a spot; of a hole both it and the leg that it is bored for.
fn spot_marks(line: &Line, spot: Spot) -> Vec<String> {
    match spot {
        Spot::Whole => vec![ROUTE.into()],
        Spot::Bend(n) => vec![line.bend_mark(n)],
        Spot::Leg(index) => vec![leg_mark(index)],
        Spot::Station(station_m) => {
            let here = line.crossings.iter().filter(|crossed| (crossed.station_m - station_m).abs() < HERE_M);
            here.map(|crossed| crossed.mark.clone()).chain([leg_mark(line.leg_at(station_m))]).collect()
        }
        Spot::Stop | Spot::End => vec![STOP.into()],
    }
}
