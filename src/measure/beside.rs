//! A figure beside its limit, so that what is printed gives the same verdict as the figures themselves.
use super::say::{Lengths, Say};
use super::unit::{CFM_M3_S, FOOT_M, INCH_WATER_PA, LBF_N};
use super::{Bound, Kind, Units};

/// What a written limit may lie beside a printed step by, as a part of the step: what units leave over in the last digits.
const ROUNDING: f64 = 1e-6;

impl Say {
    /// A measure and its limit, as they are printed beside each other.
    ///
    /// Each is said as usual, the limit as [`Say::limit`] says it. Where that would read as another verdict than
    /// the figures give, because both are rounded, both are said with six figures.
    ///
    /// ```
    /// use longsweep::measure::{Bound, Kind, Lengths, Say};
    /// let say = Say { lengths: Lengths::Metric };
    /// let speed = |m_s| say.beside(Kind::Speed, Bound::AtLeast, m_s, 12.7).0;
    /// assert_eq!((speed(13.52), speed(12.68)), ("13.5 m/s".into(), "12.68 m/s".into()));
    /// ```
    pub fn beside(&self, kind: Kind, bound: Bound, measured: f64, limit: f64) -> (String, String) {
        let (keeps, printed) =
            (bound.keeps(measured, limit), (self.nearest(kind, measured), self.rounded(kind, bound, limit)));
        let usual = (self.usual(kind, printed.0), self.usual(kind, printed.1));
        if bound.keeps(printed.0, printed.1) == keeps && (keeps || usual.0 != usual.1) {
            return usual;
        }
        (self.fine(kind, measured), self.fine(kind, limit))
    }

    /// A limit as it is printed: rounded to the side that allows less.
    ///
    /// ```
    /// use longsweep::measure::{Bound, Kind, Lengths, Say};
    /// let say = Say { lengths: Lengths::Metric };
    /// // 20 lbf are 88.96 N, and 89 N would be too much.
    /// assert_eq!(say.limit(Kind::Force, Bound::AtMost, 20.0 * 4.4482216152605), "88 N");
    /// ```
    pub fn limit(&self, kind: Kind, bound: Bound, limit: f64) -> String {
        self.usual(kind, self.rounded(kind, bound, limit))
    }

    /// A limit as it is printed, in SI.
    pub fn rounded(&self, kind: Kind, bound: Bound, limit: f64) -> f64 {
        let Some(step) = self.step(kind) else { return limit };
        match bound {
            Bound::AtMost => (limit / step + ROUNDING).floor() * step,
            Bound::AtLeast => (limit / step - ROUNDING).ceil() * step,
        }
    }

    fn nearest(&self, kind: Kind, value: f64) -> f64 {
        self.step(kind).map_or(value, |step| (value / step).round() * step)
    }

    /// By what a figure of a kind is printed, in SI; `None` where it is printed whole.
    fn step(&self, kind: Kind) -> Option<f64> {
        let feet = self.lengths == Lengths::FtIn;
        Some(match kind {
            Kind::Length | Kind::Breadth | Kind::Coordinate => self.step_m(),
            Kind::Force if feet => LBF_N / 10.0,
            Kind::Force => 1.0,
            Kind::Pressure if feet => INCH_WATER_PA,
            Kind::Pressure => 100.0,
            Kind::Flow if feet => CFM_M3_S,
            Kind::Flow => 1.0 / 3600.0,
            Kind::Speed if feet => FOOT_M / 60.0,
            Kind::Speed => 0.1,
            Kind::Plain => 0.01,
            Kind::Ratio => 0.001,
            _ => return None,
        })
    }

    fn usual(&self, kind: Kind, value: f64) -> String {
        match kind {
            Kind::Length | Kind::Breadth | Kind::Coordinate => self.length(value),
            Kind::Force => self.force(value),
            Kind::Pressure => self.pressure(value),
            Kind::Flow => self.flow(value),
            Kind::Speed => self.speed(value),
            Kind::Plain => format!("{value:.2}"),
            Kind::Ratio => format!("{:.1} %", value * 100.0),
            Kind::Angle => self.angle(value),
            _ => self.fine(kind, value),
        }
    }

    /// With six figures.
    fn fine(&self, kind: Kind, value: f64) -> String {
        match kind {
            Kind::Length | Kind::Breadth | Kind::Coordinate => self.figure(value, "m"),
            Kind::Force => self.figure(value, "N"),
            Kind::Pressure => self.figure(value, "Pa"),
            Kind::Flow => self.figure(value, "m3/s"),
            Kind::Speed => self.figure(value, "m/s"),
            Kind::Ratio => self.figure(value * 100.0, "%"),
            Kind::Angle => format!("{}°", self.figure(value, "")),
            Kind::Volts => self.figure(value, "V"),
            Kind::Amps => self.figure(value, "A"),
            Kind::Weight => self.figure(value, "N/m"),
            Kind::Stiffness => self.figure(value, "N m²"),
            Kind::Plain | Kind::Gauge => self.figure(value, ""),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const KINDS: [Kind; 7] =
        [Kind::Length, Kind::Force, Kind::Pressure, Kind::Flow, Kind::Speed, Kind::Plain, Kind::Ratio];

    /// The number that words begin with; feet and inches are told apart by the words alone.
    fn number(words: &str) -> Option<f64> {
        words.split(' ').next()?.parse().ok()
    }

    #[test]
    fn what_is_printed_gives_the_verdict_of_the_figures() {
        for (lengths, kind) in
            [Lengths::FtIn, Lengths::Metric].into_iter().flat_map(|l| KINDS.map(|k| (l, k)))
        {
            let say = Say { lengths };
            let step = say.step(kind).unwrap();
            for bound in [Bound::AtMost, Bound::AtLeast] {
                for n in 0..600_u32 {
                    // Steps of the golden ratio fall evenly; the measure lies within three steps of its limit.
                    let limit = step * (7.0 + f64::from(n) * 0.618_033_988_749_895 % 5.0);
                    let measured = limit + step * (f64::from(n) * 0.414_213_562_373_095 % 6.0 - 3.0);
                    let (has, allows) = say.beside(kind, bound, measured, limit);
                    let keeps = bound.keeps(measured, limit);
                    if let (Some(has), Some(allows)) = (number(&has), number(&allows))
                        && !(kind == Kind::Length && lengths == Lengths::FtIn)
                    {
                        assert_eq!(bound.keeps(has, allows), keeps, "{has} {allows}: {measured} {limit}");
                    }
                    assert!(keeps || has != allows, "{has} for {measured} and {limit}");
                }
            }
        }
    }

    #[test]
    fn a_figure_just_past_its_limit_does_not_read_as_the_limit() {
        let feet = Say { lengths: Lengths::FtIn };
        let inch = 0.0254;
        let told = feet.beside(Kind::Length, Bound::AtMost, 1.02 * inch, inch);
        assert_eq!(told, ("1.02 in".into(), "1 in".into()));
        let told = feet.beside(Kind::Speed, Bound::AtLeast, 2499.7 * FOOT_M / 60.0, 2500.0 * FOOT_M / 60.0);
        assert_eq!(told, ("2499.7 ft/min".into(), "2500 ft/min".into()));
        let told = feet.beside(Kind::Plain, Bound::AtLeast, 1.2496, 1.25);
        assert_eq!(told, ("1.2496".into(), "1.25".into()));
        let told = feet.beside(Kind::Plain, Bound::AtLeast, 1.25, 1.25);
        assert_eq!(told, ("1.25".into(), "1.25".into()));
    }
}
