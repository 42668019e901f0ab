//! Keys of what a lesson draws: a raceway, a plan.
use super::super::super::rules::PRACTICES;
use super::super::lesson::SHOWN;
use super::job::{DIRECTION_OR_WORD, STEP};
use super::plan::{HOUSE_PLAN, VALVE_PLACES, WAND};
use super::{Known, Takes, Thing, may, must, words};
use crate::measure::Kind;

pub static RACEWAY_BLOCK: Thing = Thing {
    what: "a raceway to draw",
    keys: &[
        may("name", Takes::Id, "no other block can speak of it", "good", "what other blocks call it"),
        may("title", Takes::Name, "A raceway", "A good route", "words under the drawing"),
        must("leaves", DIRECTION_OR_WORD, "down", "the way tube leaves the valve"),
        may("hose", Takes::Known(Known::Hose), "none is drawn or judged", "socked-40", "the hose in it"),
        may(
            "valve",
            Takes::Known(Known::Valve),
            "the first of the catalog",
            "door-sealed",
            "the valve it leaves",
        ),
        must(
            "path",
            Takes::List(&STEP),
            "[{run: 3 ft}, {turn: 90 west}, {run: 16 ft}]",
            "up to the stop fitting; at most 120 runs and turns",
        ),
        may("show", Takes::OneOf(|| words(&SHOWN)), "drawing", "both", "what is put on the page"),
    ],
};

pub static PLAN_BLOCK: Thing = Thing {
    what: "a plan to draw",
    keys: &[
        may("title", Takes::Text, "A plan", "The first floor", "words under the drawing"),
        HOUSE_PLAN,
        may(
            "valves",
            Takes::List(&Takes::Thing(&VALVE_BLOCK)),
            "none",
            "see a valve",
            "valves that stand on it",
        ),
        VALVE_PLACES,
        WAND,
    ],
};

pub static VALVE_BLOCK: Thing = Thing {
    what: "a valve to draw",
    keys: &[
        must("name", Takes::Text, "Hall", "what it is called"),
        must("room", Takes::Text, "Hall", "name of the room"),
        must("wall", Takes::Whole, "2", "wall of the room, counted along its walk"),
        must("at", Takes::Measure(Kind::Length), "4 ft", "along the wall from its first corner"),
        must("hose", Takes::Known(Known::Hose), "socked-40", "the hose in it"),
    ],
};

pub static PRACTICE_BLOCK: Thing = Thing {
    what: "a sketch",
    keys: &[must(
        "of",
        Takes::OneOf(|| words(&PRACTICES)),
        "deburr",
        "the work of which right and wrong is drawn",
    )],
};

pub static TREE_BLOCK: Thing = Thing {
    what: "a tree",
    keys: &[
        must("title", Takes::Name, "A stuck hose", "words under the drawing"),
        must("forks", Takes::List(&Takes::Thing(&FORK)), "see a fork", "its questions, from the top down"),
    ],
};

pub static FORK: Thing = Thing {
    what: "a fork",
    keys: &[
        must("ask", Takes::Text, "Does the unit start?", "the question"),
        must("ways", Takes::List(&Takes::Thing(&WAY)), "see an answer", "answers that end it"),
        may(
            "next",
            Takes::Text,
            "none leads to the fork below",
            "it starts",
            "the answer that leads to the fork below",
        ),
    ],
};

pub static WAY: Thing = Thing {
    what: "an answer",
    keys: &[
        must("if", Takes::Text, "at no valve", "the answer"),
        must("then", Takes::Text, "look at the plug", "what to do then"),
    ],
};
