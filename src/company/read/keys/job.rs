//! Keys of a job file.
use super::super::crossing::MEMBERS;
use super::plan::{PLAN, VALVE_PLACE};
use super::{Known, Takes, Thing, may, must, words};
use crate::measure::Kind;

pub static JOB: Thing = Thing {
    what: "a job",
    keys: &[
        must("title", Takes::Name, "Gull Cottage", "name of the job, on every sheet"),
        may(
            "address",
            Takes::Name,
            "no address on the sheets",
            "7 Heron Lane, Port Ellery",
            "where the house stands",
        ),
        must("date", Takes::Date, "2026-11-30", "day on which the job was laid out"),
        may(
            "built",
            Takes::Form("^[0-9]{4}$"),
            "taken as old until someone knows",
            "1962",
            "year of the house; it brings its hazards",
        ),
        may(
            "standard",
            Takes::Known(Known::Revision),
            "the revision in force",
            "\"2026-1\"",
            "revision that judges it",
        ),
        may(
            "levels",
            Takes::List(&Takes::Thing(&LEVEL)),
            "none drawn",
            "[{name: First floor, up: 0 ft}]",
            "floors and ceilings, to draw and to measure heights from",
        ),
        may(
            "datums",
            Takes::List(&Takes::Thing(&DATUM)),
            "set out from the valve",
            "[{name: stair wall, line: north, east: 12 ft}]",
            "lines in the house that a tape can start from",
        ),
        must("unit", Takes::Thing(&UNIT_PLACE), "{model: basement-600}", "the power unit"),
        may("trunks", Takes::List(&Takes::Thing(&TRUNK)), "none", "see a trunk", "shared lines of tube"),
        must(
            "inlets",
            Takes::List(&Takes::Thing(&INLET)),
            "see an inlet",
            "every valve with its line of tube; at most 50 inlets, and 600 runs and turns on all its paths",
        ),
        may(
            "cleared",
            Takes::List(&Takes::Thing(&CLEARED)),
            "no hold is answered",
            "see a cleared hold",
            "holds that a paper has answered",
        ),
        may(
            "plan",
            Takes::Either(&[Takes::Form("\\.plan\\.yaml$"), Takes::Thing(&PLAN)]),
            "no sheet Reach",
            "house.plan.yaml",
            "the house plan, or the name of its file beside the job",
        ),
        may(
            "valve-places",
            Takes::List(&Takes::Thing(&VALVE_PLACE)),
            "any wall",
            "[{room: Hall, wall: 2}]",
            "walls where a valve may go; stands with the plan",
        ),
        may(
            "wand",
            Takes::Measure(Kind::Length),
            "needed with a plan",
            "6 ft",
            "how far a person reaches past the hose; stands with the plan",
        ),
    ],
};

pub static PLACE: Thing = Thing {
    what: "a place",
    keys: &[
        must("east", Takes::Measure(Kind::Coordinate), "22 ft", "east of the job's origin"),
        must("north", Takes::Measure(Kind::Coordinate), "14 ft", "north of it"),
        must("up", Takes::Measure(Kind::Coordinate), "1 ft 6 in", "above it"),
    ],
};

pub static LEVEL: Thing = Thing {
    what: "a level",
    keys: &[
        must("name", Takes::Name, "First floor", "its name on the drawings"),
        must("up", Takes::Measure(Kind::Coordinate), "-1 ft", "its height"),
    ],
};

pub static DATUM: Thing = Thing {
    what: "a datum",
    keys: &[
        must("name", Takes::Name, "stair wall", "its name on the sheets"),
        must("line", Takes::OneOf(|| vec!["north", "south", "east", "west"]), "north", "the way it runs"),
        may(
            "east",
            Takes::Measure(Kind::Coordinate),
            "needed where it runs north or south",
            "12 ft",
            "where it stands",
        ),
        may(
            "north",
            Takes::Measure(Kind::Coordinate),
            "needed where it runs east or west",
            "0 ft",
            "where it stands",
        ),
    ],
};

pub static UNIT_PLACE: Thing = Thing {
    what: "a unit",
    keys: &[
        must("model", Takes::Known(Known::Unit), "basement-600", "the unit's id in the catalog"),
        may(
            "at",
            Takes::Thing(&PLACE),
            "lines are not closed on it",
            "{east: 2 ft, north: 3 ft, up: -5 ft}",
            "where its tube seats",
        ),
        may(
            "own-circuit",
            Takes::Truth,
            "the clause of the circuit is on hold",
            "yes",
            "whether it has a circuit of its own",
        ),
    ],
};

pub static TRUNK: Thing = Thing {
    what: "a trunk",
    keys: &[
        must("id", Takes::Id, "main", "by which inlets join it"),
        may(
            "mark",
            Takes::Form("^[A-Z]{1,2}$"),
            "the first letters of its id that are free",
            "M",
            "letters of its tubes",
        ),
        may(
            "starts",
            Takes::Thing(&PLACE),
            "not placed in the house",
            "{east: 40 ft, north: 3 ft, up: -1 ft 4 in}",
            "where it starts",
        ),
        must("leaves", DIRECTION_OR_WORD, "west", "the way its first run goes"),
        must(
            "path",
            Takes::List(&STEP),
            "[{run: 38 ft}, {turn: 90 down}, {run: rest}]",
            "where it goes; at most 120 runs and turns",
        ),
        must("into", INTO, "unit", "where it ends"),
    ],
};

pub static INLET: Thing = Thing {
    what: "an inlet",
    keys: &[
        must("id", Takes::Id, "hall", "its short name, in file names too"),
        may("name", Takes::Name, "its id", "Hall", "its name on the sheets"),
        may(
            "mark",
            Takes::Form("^[A-Z]{1,2}$"),
            "the first letters of its id that are free",
            "H",
            "letters of its tubes",
        ),
        must("valve", Takes::Known(Known::Valve), "door-sealed", "the valve's id in the catalog"),
        must("hose", Takes::Known(Known::Hose), "socked-40", "the hose's id in the catalog"),
        may(
            "at",
            Takes::Thing(&PLACE),
            "the line is not placed in the house",
            "{east: 22 ft, north: 14 ft, up: 1 ft 6 in}",
            "where the tube seats in the valve",
        ),
        may(
            "wall",
            Takes::Either(&[Takes::Form("^[0-9]+ *[xX×] *[0-9]+$"), Takes::Measure(Kind::Breadth)]),
            "wall depth is not checked",
            "2x4",
            "studs of the wall, or its clear depth",
        ),
        may(
            "bay",
            Takes::Measure(Kind::Breadth),
            "bay width is not checked",
            "14-1/2 in",
            "clear width between the studs",
        ),
        must("raceway", Takes::Thing(&RACEWAY), "see a raceway", "from the valve to the stop fitting"),
        may(
            "onward",
            Takes::Thing(&ONWARD),
            "not drawn or judged past the stop",
            "see an onward path",
            "from the stop fitting to where it joins",
        ),
        may(
            "waivers",
            Takes::List(&Takes::Thing(&WAIVER)),
            "nothing is set aside",
            "see a waiver",
            "clauses set aside, each with its reason",
        ),
        may(
            "readings",
            Takes::Blank(&Takes::Thing(&READINGS)),
            "none taken",
            "{flow: 100 cfm}",
            "what the gauges read at the end",
        ),
    ],
};

pub static RACEWAY: Thing = Thing {
    what: "a raceway",
    keys: &[
        must("leaves", DIRECTION_OR_WORD, "down", "the way tube leaves the valve"),
        must(
            "path",
            Takes::List(&STEP),
            "[{run: 3 ft}, {turn: 90 west}, {run: 16 ft}]",
            "up to the stop fitting; at most 120 runs and turns",
        ),
    ],
};

pub static ONWARD: Thing = Thing {
    what: "an onward path",
    keys: &[
        must(
            "path",
            Takes::List(&STEP),
            "[{run: 3 ft}, {turn: 45 south, with: short-45}, {run: rest}]",
            "past the stop fitting; at most 120 runs and turns",
        ),
        must("into", INTO, "{trunk: main, at: 20 ft, with: wye-45}", "where it joins"),
    ],
};

const INTO: Takes = Takes::Either(&[Takes::OneOf(|| vec!["unit"]), Takes::Thing(&JOINT)]);

pub static JOINT: Thing = Thing {
    what: "a joint",
    keys: &[
        must("trunk", Takes::Id, "main", "the trunk that it joins"),
        may(
            "at",
            Takes::Either(&[Takes::OneOf(|| vec!["start"]), Takes::Measure(Kind::Length)]),
            "worked out, where both lines are placed",
            "20 ft",
            "where along the trunk, from its start; or `start`",
        ),
        may(
            "with",
            Takes::Known(Known::Junction),
            "needed, but not at the trunk's start",
            "wye-45",
            "the junction's id in the catalog",
        ),
    ],
};

/// A step of a path: a run or a turn.
pub(super) const STEP: Takes = Takes::Things(|| vec![&RUN, &TURN]);

const RUN_LENGTH: Takes = Takes::Either(&[Takes::OneOf(|| vec!["rest"]), Takes::Measure(Kind::Length)]);
const CROSSES: Takes = Takes::Either(&[Takes::OneOf(|| vec!["none"]), Takes::List(&Takes::Thing(&CROSSING))]);
const TURN_WORDS: Takes = Takes::Either(&[Takes::Form("^ *[0-9.]+.*[a-z]"), Takes::Thing(&LONG_TURN)]);

pub static RUN: Thing = Thing {
    what: "a run",
    keys: &[
        must("run", RUN_LENGTH, "16 ft", "straight on, between work points; `rest` as the last"),
        may(
            "crosses",
            CROSSES,
            "nobody looked: bores are on hold where there may be some",
            "none",
            "what it is bored through",
        ),
    ],
};

pub static TURN: Thing = Thing {
    what: "a turn",
    keys: &[
        must("turn", TURN_WORDS, "90 west", "by so many degrees, toward there"),
        may(
            "with",
            Takes::Known(Known::Bend),
            "the line's bend of that angle",
            "short-90",
            "the bend's id in the catalog",
        ),
    ],
};

pub static LONG_TURN: Thing = Thing {
    what: "a turn",
    keys: &[
        must("by", Takes::Measure(Kind::Angle), "45", "degrees"),
        must("toward", DIRECTION_OR_WORD, "{north: 3, up: 4}", "the way it turns to"),
    ],
};

/// A direction in a word, or a mix.
pub(super) const DIRECTION_OR_WORD: Takes =
    Takes::Either(&[Takes::OneOf(|| words(&crate::measure::DIRECTIONS)), Takes::Thing(&DIRECTION)]);

pub static DIRECTION: Thing = Thing {
    what: "a direction",
    keys: &[
        may("east", Takes::Measure(Kind::Plain), "0", "1", "its part toward east"),
        may("west", Takes::Measure(Kind::Plain), "0", "1", "its part toward west"),
        may("north", Takes::Measure(Kind::Plain), "0", "3", "its part toward north"),
        may("south", Takes::Measure(Kind::Plain), "0", "3", "its part toward south"),
        may("up", Takes::Measure(Kind::Plain), "0", "4", "its part upward"),
        may("down", Takes::Measure(Kind::Plain), "0", "4", "its part downward"),
    ],
};

pub static CROSSING: Thing = Thing {
    what: "a crossing",
    keys: &[
        must("at", Takes::Measure(Kind::Length), "1 ft 5 in", "how far along the run"),
        must("member", Takes::OneOf(|| words(&MEMBERS)), "joist", "what is bored"),
        may(
            "size",
            Takes::Form("^[0-9]+ *[xX×] *[0-9]+$"),
            "`depth` says it, or the bore is on hold",
            "2x8",
            "its nominal size",
        ),
        may("depth", Takes::Measure(Kind::Breadth), "by its size", "9-1/2 in", "its depth as measured"),
        may("bearing", Takes::Truth, "no", "yes", "whether it carries load"),
        may("doubled", Takes::Truth, "no", "yes", "whether two stand side by side"),
        may(
            "hole",
            Takes::Measure(Kind::Breadth),
            "the tube and its clearance",
            "2-1/8 in",
            "diameter of the bore",
        ),
        may(
            "from-edge",
            Takes::Measure(Kind::Breadth),
            "centered",
            "2 in",
            "from the edge of the bore to the nearest edge of the member",
        ),
        may(
            "from-end",
            Takes::Measure(Kind::Breadth),
            "not checked",
            "1 ft",
            "from the bore to the member's end",
        ),
        may("garage-wall", Takes::Truth, "no", "yes", "whether it parts a garage from the house"),
        may(
            "floor-line",
            Takes::Truth,
            "no",
            "yes",
            "whether it is a floor or ceiling line, to be fireblocked",
        ),
    ],
};

pub static WAIVER: Thing = Thing {
    what: "a waiver",
    keys: &[
        must("clause", Takes::Known(Known::Clause), "one-level", "the clause that is set aside"),
        must("because", Takes::Text, "Finished soffit; builder's drawing A-4", "why"),
        must("by", Takes::Text, "crew lead", "who answers for it"),
    ],
};

pub static READINGS: Thing = Thing {
    what: "a set of readings",
    keys: &[
        may(
            "sealed-suction",
            Takes::Blank(&Takes::Measure(Kind::Pressure)),
            "not taken",
            "110 inH2O",
            "suction at the closed valve",
        ),
        may(
            "flow",
            Takes::Blank(&Takes::Measure(Kind::Flow)),
            "not taken",
            "100 cfm",
            "flow at the hose's end",
        ),
        may(
            "draw-in",
            Takes::Blank(&Takes::Measure(Kind::Force)),
            "not taken",
            "9 lbf",
            "force that held the hose back",
        ),
        may(
            "pull-out",
            Takes::Blank(&Takes::Measure(Kind::Force)),
            "not taken",
            "12 lbf",
            "force that pulled it out",
        ),
    ],
};

pub static CLEARED: Thing = Thing {
    what: "a cleared hold",
    keys: &[
        must("clause", Takes::Known(Known::Clause), "bores", "the clause on hold"),
        may("inlet", Takes::Id, "the whole job, or a trunk", "kitchen", "the inlet that it holds up"),
        may("trunk", Takes::Id, "the whole job, or an inlet", "main", "the trunk that it holds up"),
        may("at", Takes::Text, "all of the line", "X2", "the mark of the crossing"),
        must("paper", Takes::Text, "Joist maker's hole chart, sheet 12", "the paper that answers it"),
        must("by", Takes::Text, "builder's engineer", "who signed it"),
        must("on", Takes::Date, "2026-11-28", "when"),
    ],
};
