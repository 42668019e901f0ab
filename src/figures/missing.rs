//! Why a figure could not be had.
use crate::measure::{Say, Units};
use crate::reckon::OutOfRange;
use crate::reckon::air::{AirError, CurveError};
use crate::reckon::hose::HoseError;

/// Why a figure could not be had; [`Missing::words`] says it. A formula's own refusal keeps its numbers, so that a
/// firm reads them in its units.
#[derive(Debug, Clone, PartialEq)]
pub enum Missing {
    /// Something that was not given, a sentence without a figure.
    NotGiven(String),
    Range(OutOfRange),
    Hose(HoseError),
    Air(AirError),
    Curve(CurveError),
    /// The same of the place or part named.
    At(String, Box<Missing>),
}

impl Missing {
    /// A sentence for the packet, in the firm's units.
    pub fn words(&self, say: &Say) -> String {
        let units: &dyn Units = say;
        match self {
            Missing::NotGiven(words) => words.clone(),
            Missing::Range(error) => error.said(units),
            Missing::Hose(error) => error.said(units),
            Missing::Air(error) => error.said(units),
            Missing::Curve(error) => error.said(units),
            Missing::At(place, why) => format!("{place}: {}", why.words(say)),
        }
    }

    /// The same of a place or part.
    pub fn at(self, place: &str) -> Missing {
        Missing::At(place.to_owned(), Box::new(self))
    }
}

impl From<&str> for Missing {
    fn from(words: &str) -> Self {
        Missing::NotGiven(words.to_owned())
    }
}

impl From<String> for Missing {
    fn from(words: String) -> Self {
        Missing::NotGiven(words)
    }
}

impl From<OutOfRange> for Missing {
    fn from(error: OutOfRange) -> Self {
        Missing::Range(error)
    }
}

impl From<HoseError> for Missing {
    fn from(error: HoseError) -> Self {
        Missing::Hose(error)
    }
}

impl From<AirError> for Missing {
    fn from(error: AirError) -> Self {
        Missing::Air(error)
    }
}

impl From<CurveError> for Missing {
    fn from(error: CurveError) -> Self {
        Missing::Curve(error)
    }
}
