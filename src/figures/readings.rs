//! What each reading taken at the end should show, and within which limits, so that a crew can say pass or call.
use super::air::{leakage, sealed_with, unit_curve};
use super::{HoseFigures, InletFigures, Missing};
use crate::company::Job;
use crate::measure::{Bound, FOOT_M, Kind, Say, Units};
use crate::reckon::hose::{pull_out, pull_out_running};

/// Which reading.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ReadingKind {
    /// Suction at the valve with nothing flowing, Pa.
    SealedSuction,
    /// Flow through the hose, drawn out, m³/s.
    Flow,
    /// A spring scale at the handle with the last foot creeping in, N.
    DrawIn,
    /// A spring scale at the handle, pulling out, N.
    PullOut,
}

/// What is expected of a reading, what passes, and what was read.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading {
    pub kind: ReadingKind,
    /// In SI.
    pub expected: f64,
    /// Below this the crew calls, to the step that a sheet prints; `None` where less is no harm.
    pub least: Option<f64>,
    /// Above this the crew calls, to the step that a sheet prints; `None` where more is no harm.
    pub most: Option<f64>,
    /// What was read and typed in.
    pub taken: Option<f64>,
}

impl ReadingKind {
    fn kind(self) -> Kind {
        match self {
            ReadingKind::SealedSuction => Kind::Pressure,
            ReadingKind::Flow => Kind::Flow,
            ReadingKind::DrawIn | ReadingKind::PullOut => Kind::Force,
        }
    }

    /// What was read, as it was written: a limit is missed by less than the usual words show.
    pub fn taken_words(self, say: &Say, taken: f64) -> String {
        let unit = match self {
            ReadingKind::SealedSuction => "Pa",
            ReadingKind::Flow => "m3/s",
            ReadingKind::DrawIn | ReadingKind::PullOut => "N",
        };
        say.figure(taken, unit)
    }
}

/// How a reading came out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Call {
    Pass,
    /// Outside its limits: the crew lead is called.
    Call,
}

/// What the firm's standard asks; `None` where it has no such clause.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Required {
    /// Least reserve of draw-in.
    pub reserve: Option<f64>,
    /// Most force of pull-out, N.
    pub pull_n: Option<f64>,
}

/// How much of the hose is left out while the scale is read.
pub const LEFT_OUT_M: f64 = FOOT_M;
/// A gauge and the spread of units of one kind take so much together (common practice, no source).
const GAUGE: f64 = 0.05;
/// A flow meter and the friction of a hose that is not quite the catalog's (common practice, no source).
const METER: f64 = 0.10;

impl Reading {
    /// Its limits are set to what the firm's sheets print, on the side that lets less pass: a crew goes by the
    /// printed figure, and what it calls at and what the record calls at are one.
    fn with_printed_limits(self, say: &Say) -> Reading {
        let rounded =
            |bound, limit: Option<f64>| limit.map(|limit| say.rounded(self.kind.kind(), bound, limit));
        Reading {
            least: rounded(Bound::AtLeast, self.least),
            most: rounded(Bound::AtMost, self.most),
            ..self
        }
    }

    /// Whether what was read passes; `None` where nothing was read.
    pub fn call(&self) -> Option<Call> {
        let taken = self.taken?;
        let in_limits = self.least.is_none_or(|least| Bound::AtLeast.keeps(taken, least))
            && self.most.is_none_or(|most| Bound::AtMost.keeps(taken, most));
        Some(if in_limits { Call::Pass } else { Call::Call })
    }

    /// `about 124 inH2O; call under 117 inH2O`; limits to the side that keeps them, so that what passes by the words passes
    /// by the figures.
    pub fn words(&self, say: &Say) -> String {
        let said = |figure: f64| match self.kind {
            ReadingKind::SealedSuction => say.pressure(figure),
            ReadingKind::Flow => say.flow(figure),
            ReadingKind::DrawIn | ReadingKind::PullOut => say.force(figure),
        };
        let expected = match self.kind {
            ReadingKind::DrawIn => format!("{} or more", said(self.expected.max(0.0))),
            ReadingKind::PullOut => format!("up to {}", said(self.expected)),
            ReadingKind::SealedSuction | ReadingKind::Flow => format!("about {}", said(self.expected)),
        };
        let limit = |bound, limit| say.limit(self.kind.kind(), bound, limit);
        let under = self.least.map(|least| format!("; call under {}", limit(Bound::AtLeast, least.max(0.0))));
        let over = self.most.map(|most| format!("; call over {}", limit(Bound::AtMost, most)));
        format!("{expected}{}{}", under.unwrap_or_default(), over.unwrap_or_default())
    }
}

/// The four readings of an inlet, each with the reason where it cannot be told.
pub fn readings(
    job: &Job,
    inlet: usize,
    figures: &InletFigures,
    required: Required,
    say: &Say,
) -> [Result<Reading, Missing>; 4] {
    let taken = &job.inlets[inlet].readings;
    let hose = || figures.hose.as_ref().map_err(Clone::clone);
    let grown = figures.hose.as_ref().ok().zip(required.reserve);
    let grown = grown.and_then(|(hose, reserve)| hose.friction_for(reserve));
    let all = [
        sealed(job, inlet, taken.sealed_suction_pa),
        figures.air.as_ref().map_err(Clone::clone).map(|air| {
            let expected = air.hose_out.flow_m3_s;
            let least = Some((1.0 - METER) * expected);
            Reading { kind: ReadingKind::Flow, expected, least, most: None, taken: taken.flow_m3_s }
        }),
        hose().and_then(|hose| draw_in(hose, grown, taken.draw_in_n)),
        hose().and_then(|hose| pulled_out(hose, figures, (grown, required.pull_n), taken.pull_out_n)),
    ];
    all.map(|reading| reading.map(|reading| reading.with_printed_limits(say)))
}

/// It may fall by every valve, this one too, leaking twice what the catalog says, and by what a gauge tells; more is
/// a leak in the line.
fn sealed(job: &Job, inlet: usize, taken: Option<f64>) -> Result<Reading, Missing> {
    let (curve, others) = (unit_curve(job)?, leakage(job, inlet));
    let expected = sealed_with(&curve, others.as_ref(), 1.0);
    // No inlet has this number, so that all valves count.
    let all = leakage(job, usize::MAX);
    let fallen = sealed_with(&curve, all.as_ref(), 2.0);
    let least = Some((1.0 - GAUGE) * fallen.min(expected));
    Ok(Reading { kind: ReadingKind::SealedSuction, expected, least, most: None, taken })
}

/// At least what is left where friction has grown so many times, until the reserve is just the one required.
fn draw_in(hose: &HoseFigures, grown: Option<f64>, taken: Option<f64>) -> Result<Reading, Missing> {
    if !hose.wanted.is_empty() {
        return Err(format!("the catalog gives no {}", hose.wanted.join(" and no ")).into());
    }
    let setting = &hose.draw().setting;
    let scale = |friction| setting.scale_n(LEFT_OUT_M, friction).map_err(Missing::from);
    let expected = scale(1.0)?;
    let least = grown.filter(|grown| grown.is_finite()).map(scale).transpose()?;
    Ok(Reading { kind: ReadingKind::DrawIn, expected, least, most: None, taken })
}

/// At most what the same grown friction gives, and never more than the standard's limit.
fn pulled_out(
    hose: &HoseFigures,
    figures: &InletFigures,
    (grown, limit_n): (Option<f64>, Option<f64>),
    taken: Option<f64>,
) -> Result<Reading, Missing> {
    hose.pull_running.as_ref().map_err(Clone::clone)?;
    let expected = hose.pulls_n().1;
    let grown_n = grown.and_then(|grown| pulled_when_grown(hose, figures, grown));
    let most = match (grown_n, limit_n) {
        (Some(grown), Some(limit)) => Some(grown.min(limit)),
        (grown, limit) => grown.or(limit),
    };
    Ok(Reading { kind: ReadingKind::PullOut, expected, least: None, most, taken })
}

/// The greatest force with all frictions grown, wherever the suction is spent, as what is expected is the greatest.
fn pulled_when_grown(hose: &HoseFigures, figures: &InletFigures, grown: f64) -> Option<f64> {
    let grown = Some(grown).filter(|grown| grown.is_finite() && *grown >= 1.0)?;
    let running = hose.pull_running.as_ref().is_ok_and(|pulls| !pulls.is_empty());
    let air = figures.air.as_ref().ok().filter(|_| running);
    let mut pulled = hose.draws.iter().map(|draw| {
        let aged = draw.setting.aged(grown).ok()?;
        let at_rest_n = pull_out(&aged).force_n;
        let pulled = air.map(|air| pull_out_running(&aged, air.hose_in.suction_at_valve_pa));
        Some(pulled.transpose().ok()?.map_or(at_rest_n, |pull| pull.force_n.max(at_rest_n)))
    });
    pulled.try_fold(0.0, |most: f64, pulled: Option<f64>| pulled.map(|pulled| most.max(pulled)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::{INCH_WATER_PA, LBF_N, Lengths};

    fn reading(taken: Option<f64>) -> Reading {
        Reading {
            kind: ReadingKind::SealedSuction,
            expected: 31_000.0,
            least: Some(29_000.0),
            most: None,
            taken,
        }
    }

    #[test]
    fn judges_what_was_read_by_its_limits() {
        assert_eq!(reading(None).call(), None);
        assert_eq!(reading(Some(29_000.0)).call(), Some(Call::Pass));
        assert_eq!(reading(Some(28_999.0)).call(), Some(Call::Call));
        let pull =
            Reading { kind: ReadingKind::PullOut, least: None, most: Some(60.0), ..reading(Some(61.0)) };
        assert_eq!(pull.call(), Some(Call::Call));
    }

    #[test]
    fn what_passes_by_the_words_passes_by_the_figures() {
        // 117.4 in of water, 75.3 cfm: one whole unit more is asked for than the nearest.
        let say = Say { lengths: Lengths::FtIn };
        let suction = Reading { least: Some(117.4 * INCH_WATER_PA), ..reading(None) };
        assert!(suction.words(&say).ends_with("call under 118 inH2O"), "{}", suction.words(&say));
        let pull = Reading { kind: ReadingKind::PullOut, most: Some(19.98 * LBF_N), ..reading(None) };
        let pull = Reading { least: None, ..pull };
        assert!(pull.words(&say).ends_with("call over 19.9 lbf"), "{}", pull.words(&say));
        let whole = Reading { most: Some(20.0 * LBF_N), ..pull };
        assert!(whole.words(&say).ends_with("call over 20.0 lbf"), "{}", whole.words(&say));
        let still = Reading { taken: Some(118.0 * INCH_WATER_PA), ..suction };
        assert_eq!(still.call(), Some(Call::Pass));
    }

    #[test]
    fn says_what_passes() {
        let say = Say { lengths: Lengths::Metric };
        assert_eq!(reading(None).words(&say), "about 31.0 kPa; call under 29.0 kPa");
        let scale = Reading { kind: ReadingKind::DrawIn, expected: 20.0, least: Some(8.0), ..reading(None) };
        assert_eq!(scale.words(&say), "20 N or more; call under 8 N");
    }
}
