//! What can be wrong with a measure that a person wrote, and how it is told.
use super::Kind;
use std::fmt;
use std::ops::Range;

/// A measure that could not be read: which bytes of the text are at fault, and why.
#[derive(Debug, Clone, PartialEq)]
pub struct MeasureError {
    /// Bytes of the text that was read.
    pub at: Range<usize>,
    /// What is wrong with them.
    pub fault: Fault,
}

/// What is wrong with a measure.
#[derive(Debug, Clone, PartialEq)]
pub enum Fault {
    /// Nothing is written.
    Empty(Kind),
    /// There is no number where one should begin.
    NoNumber { found: String, kind: Kind },
    /// `inf` or `nan`.
    NotFinite { found: String },
    /// A number stands without a unit; `meant` are whole measures of which one was probably meant.
    NoUnit { number: String, kind: Kind, meant: Vec<String> },
    /// A unit that nobody knows.
    UnknownUnit { unit: String, kind: Kind, nearest: Option<&'static str> },
    /// A unit of something else.
    OtherUnit { unit: String, is: Kind, wanted: Kind },
    /// A fraction over nought.
    ZeroDenominator { fraction: String },
    /// A fraction of one or more after a whole number, `6-5/2`.
    TopHeavy { fraction: String },
    /// A decimal point and a fraction in one number, `2.1/8`.
    PointAndFraction { number: String, whole: String },
    /// Twelve inches or more behind feet, `2 ft 14 in`.
    InchesOfAFoot { inches: String, meant: String },
    /// A percentage where a plain number stands; `number` is the same as one.
    Percent { number: String },
    /// Text that goes on after the measure is complete.
    Junk { junk: String },
    /// Parts in an order that no tape has: `6 in 12 ft`.
    Order { found: String },
    /// A comma inside a number.
    Comma { found: String },
    /// A minus where only nought and more make sense.
    Negative { number: String, kind: Kind },
    /// Larger than anything this program can mean.
    TooLarge { number: String, most: &'static str },
    /// A gauge or count with a fraction.
    NotWhole { number: String },
    /// Not of the form `2026-11-30`.
    NoDate { found: String },
    /// Of that form, but no day of the calendar.
    NoSuchDay { found: String, why: String },
    /// A day of the calendar in a year of no job.
    OddYear { found: String },
    /// A word that is no direction.
    UnknownDirection { word: String, nearest: Option<&'static str> },
    /// A turn without an angle or without a direction.
    HalfTurn { found: String },
    /// A mix of directions that cancel out.
    NoDirection,
}

impl fmt::Display for MeasureError {
    fn fmt(&self, f: &mut fmt::Formatter) -> fmt::Result {
        self.fault.fmt(f)
    }
}

impl std::error::Error for MeasureError {}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter) -> fmt::Result {
        match self {
            Fault::Empty(kind) => write!(f, "{} is empty", kind.a()),
            Fault::NoNumber { found, kind } => {
                write!(f, "`{found}` is not {}", kind.a())
            }
            Fault::NotFinite { found } => write!(f, "`{found}` is not a finite number"),
            Fault::NoUnit { number, kind, .. } => write!(f, "no unit after `{number}` in {}", kind.a()),
            Fault::UnknownUnit { unit, kind, .. } => {
                write!(f, "`{unit}` is not a known unit of {}", kind.word())
            }
            Fault::OtherUnit { unit, is, wanted } => {
                write!(f, "`{unit}` is a unit of {}, not of {}", is.word(), wanted.word())
            }
            Fault::ZeroDenominator { fraction } => write!(f, "the fraction `{fraction}` divides by zero"),
            Fault::TopHeavy { fraction } => {
                write!(f, "the fraction `{fraction}` after a whole number is 1 or more")
            }
            Fault::PointAndFraction { number, .. } => {
                write!(f, "`{number}` has both a decimal point and a fraction")
            }
            Fault::InchesOfAFoot { inches, .. } => write!(f, "`{inches}` after feet is a foot or more"),
            Fault::Percent { .. } => write!(f, "a percentage stands where a plain number should"),
            Fault::Junk { junk } => write!(f, "`{junk}` does not belong to the measure before it"),
            Fault::Order { found } => write!(f, "`{found}` is in the wrong place in a length"),
            Fault::Comma { found } => write!(f, "`{found}` has a comma in a number"),
            Fault::Negative { number, kind } => write!(f, "`{number}` is negative, and {} is not", kind.a()),
            Fault::TooLarge { number, most } => write!(f, "`{number}` is more than {most}"),
            Fault::NotWhole { number } => write!(f, "`{number}` is not a whole number"),
            Fault::NoDate { found } => write!(f, "`{found}` is not a date"),
            Fault::OddYear { found } => write!(f, "`{found}` is not in a year from 1900 to 2199"),
            Fault::NoSuchDay { found, .. } => write!(f, "`{found}` is not a day of the calendar"),
            Fault::UnknownDirection { word, .. } => write!(f, "`{word}` is not a direction"),
            Fault::HalfTurn { found } => {
                write!(f, "`{found}` is half a turn: it needs an angle and a direction")
            }
            Fault::NoDirection => write!(f, "these directions cancel each other out"),
        }
    }
}

impl Fault {
    /// What to write instead, one imperative; `None` where the message says it already.
    pub fn help(&self) -> Option<String> {
        Some(match self {
            Fault::Empty(kind) | Fault::NoNumber { kind, .. } => format!("write it like {}", kind.example()),
            Fault::NotFinite { .. } => "write a number that a tape or gauge can show".into(),
            Fault::NoUnit { kind, meant, .. } => {
                let meant: Vec<String> = meant.iter().map(|measure| format!("`{measure}`")).collect();
                let which = if meant.len() > 1 { ", whichever is meant" } else { "" };
                format!("write {}{which}; {}", meant.join(" or "), kind.units_list())
            }
            Fault::UnknownUnit { nearest: Some(near), .. } => format!("write `{near}`"),
            Fault::UnknownUnit { kind, .. } => kind.units_list(),
            Fault::OtherUnit { wanted, .. } => wanted.units_list(),
            Fault::ZeroDenominator { .. } => "write the fraction as the tape shows it, like 1/2".into(),
            Fault::TopHeavy { .. } => "put the wholes into the whole number, like 6-1/2".into(),
            Fault::PointAndFraction { whole, .. } => format!("write a fraction with a hyphen, like `{whole}`"),
            Fault::InchesOfAFoot { meant, .. } => format!("check the tape; `{meant}` is the same length"),
            // A help that drops figures would change the length.
            Fault::Junk { junk } if junk.contains(char::is_numeric) => {
                "write the whole measure anew, like 10-1/2 in".into()
            }
            Fault::Junk { .. } => "write the measure alone; a note goes after two spaces and a `#`".into(),
            Fault::Percent { number } => format!("write `{number}`"),
            Fault::Order { .. } => "write feet before inches, or one number with one unit".into(),
            Fault::Comma { .. } => "use a point for decimals and nothing between thousands".into(),
            Fault::Negative { .. } => "write how much it is; only east, north and up of a place may be negative".into(),
            Fault::TooLarge { .. } => "check the number and its unit".into(),
            Fault::NotWhole { .. } => "leave the fraction out".into(),
            Fault::NoDate { found } => match super::date::american(found).or_else(|| super::date::year_first(found)) {
                Some(date) => format!("write year-month-day, `{date}`"),
                None => "write year-month-day, like 2026-11-30".into(),
            },
            Fault::OddYear { .. } => "check the year; write it in four digits, like 2026-11-30".into(),
            Fault::NoSuchDay { why, .. } => why.clone(),
            Fault::UnknownDirection { nearest: Some(near), .. } => format!("write `{near}`"),
            Fault::UnknownDirection { word, .. } if is_handed(word) => {
                "say it by the compass, because left and right change with where you stand: east, west, north, south, up, down".into()
            }
            Fault::UnknownDirection { word, .. } => match between(word) {
                Some(mix) => format!(
                    "half way between two is a mix, `{mix}`; in a turn it has the angle beside it, `turn: {{by: …, toward: {mix}}}`"
                ),
                None => "use east, west, north, south, up, down, or a mix like {north: 3, up: 4}".into(),
            },
            Fault::HalfTurn { .. } => "write it like `90 west`".into(),
            Fault::NoDirection => "leave one of the opposites out".into(),
        })
    }
}

/// The mix that a word like `NW` or `north-west` means.
fn between(word: &str) -> Option<String> {
    let bare: String = word.to_lowercase().chars().filter(|c| c.is_alphabetic()).collect();
    let all = ["north", "south"].into_iter().flat_map(|one| ["east", "west"].map(|other| (one, other)));
    let mut meant = all.filter(|(one, other)| {
        bare == format!("{one}{other}") || bare == format!("{}{}", &one[..1], &other[..1])
    });
    meant.next().map(|(one, other)| format!("{{{one}: 1, {other}: 1}}"))
}

/// Words that say a side of whoever looks.
fn is_handed(word: &str) -> bool {
    let folded = word.to_lowercase();
    ["left", "right", "forward", "forwards", "back", "backward", "ahead", "straight"]
        .contains(&folded.as_str())
}
