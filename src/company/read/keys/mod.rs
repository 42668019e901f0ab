//! Every key of a company's files, with what it takes: the reader accepts these and no others, and the
//! schemas for editors and the sheet of keys are made from them.
mod catalog;
mod firm;
mod job;
mod lesson;
mod plan;
mod standard;

pub use catalog::{BOX, CATALOG, FITTINGS, FRICTION, HOSE, POINT, TUBE, UNIT, VALVE, WIRE, any_fitting};
pub use firm::{FIRM, SPARE, THEME, WORD};
pub use job::{
    CLEARED, CROSSING, DATUM, DIRECTION, INLET, JOB, JOINT, LEVEL, LONG_TURN, ONWARD, PLACE, RACEWAY,
    READINGS, RUN, TRUNK, TURN, UNIT_PLACE, WAIVER,
};
pub use lesson::{FORK, PLAN_BLOCK, PRACTICE_BLOCK, RACEWAY_BLOCK, TREE_BLOCK, VALVE_BLOCK, WAY};
pub use plan::{
    DOOR, JOISTS, NO_GO, PLAN, PLAN_FILE, PLAN_POINT, RACEWAY_LEVEL, ROOM, STAIR, THING, VALVE_PLACE,
};
pub use standard::{BY_EYE, CHANGE, COMPUTED, FOR, PART, STANDARD, TERM};

use crate::measure::Kind;
use crate::text::{Node, Value};

/// A mapping that the reader knows, such as an inlet.
#[derive(Debug)]
pub struct Thing {
    /// `an inlet`
    pub what: &'static str,
    pub keys: &'static [Key],
}

/// A key of a thing.
#[derive(Debug)]
pub struct Key {
    pub name: &'static str,
    pub takes: Takes,
    /// Whether it must be there.
    pub must: bool,
    /// What holds where it is left out; empty where it must be there.
    pub without: &'static str,
    /// A value as it is written.
    pub example: &'static str,
    /// What it says, in a few words.
    pub about: &'static str,
}

/// What a key takes.
#[derive(Debug)]
pub enum Takes {
    /// Words.
    Text,
    /// A name short enough for a title block.
    Name,
    /// An id that this thing is given.
    Id,
    Date,
    /// A whole number.
    Whole,
    Truth,
    /// Words of a form of their own, such as `90 west`: a pattern that finds them.
    Form(&'static str),
    /// A measure with its unit.
    Measure(Kind),
    /// One of these words.
    OneOf(fn() -> Vec<&'static str>),
    /// The id of something that stands elsewhere.
    Known(Known),
    Thing(&'static Thing),
    /// One of several things that the reader tells apart.
    Things(fn() -> Vec<&'static Thing>),
    List(&'static Takes),
    Either(&'static [Takes]),
    /// May be left blank.
    Blank(&'static Takes),
    /// A clause of a standard: a computed one, each with its own figure, or one by eye.
    Clause,
}

/// Of what an id is given.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Known {
    Hose,
    Valve,
    Unit,
    Bend,
    Junction,
    /// Any part of the catalog.
    Part,
    Revision,
    Clause,
}

impl Thing {
    /// The names of its keys, in order.
    pub fn names(&self) -> Vec<&'static str> {
        self.keys.iter().map(|key| key.name).collect()
    }
}

/// The values of a tree that take a person's words; the tree is as `takes` says, or has faults that are told
/// elsewhere.
pub fn words_in<'n>(node: &'n Node, takes: &Takes, found: &mut Vec<&'n Node>) {
    let mut of_thing = |thing: &Thing| {
        let Value::Map(map) = &node.value else { return };
        for (key, value) in map {
            let known = thing.keys.iter().find(|known| key.value == Value::Text(known.name.into()));
            if let Some(known) = known {
                words_in(value, &known.takes, found);
            }
        }
    };
    match takes {
        Takes::Thing(thing) => of_thing(thing),
        Takes::Things(things) => things().into_iter().for_each(of_thing),
        Takes::Clause => [&BY_EYE, &COMPUTED].into_iter().for_each(of_thing),
        // Several things may have the key.
        Takes::Text | Takes::Name if !found.iter().any(|known| std::ptr::eq(*known, node)) => {
            found.push(node)
        }
        Takes::List(item) => {
            let Value::List(items) = &node.value else { return };
            items.iter().for_each(|one| words_in(one, item, found));
        }
        Takes::Either(ways) => ways.iter().for_each(|way| words_in(node, way, found)),
        Takes::Blank(way) => words_in(node, way, found),
        _ => {}
    }
}

/// A key that must be there.
pub const fn must(name: &'static str, takes: Takes, example: &'static str, about: &'static str) -> Key {
    Key { name, takes, must: true, without: "", example, about }
}

/// A key that may be left out; `without` says what holds then.
pub const fn may(
    name: &'static str,
    takes: Takes,
    without: &'static str,
    example: &'static str,
    about: &'static str,
) -> Key {
    Key { name, takes, must: false, without, example, about }
}

/// The words of a list of words with their values.
fn words<T>(list: &[(&'static str, T)]) -> Vec<&'static str> {
    list.iter().map(|(word, _)| *word).collect()
}
