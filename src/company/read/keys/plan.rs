//! Keys of a house plan.
use super::{Key, Takes, Thing, may, must};
use crate::measure::Kind;

pub const HOUSE_PLAN: Key = must("plan", Takes::Thing(&PLAN), "see a plan", "the house plan");
const A_VALVE_PLACE: Takes = Takes::Thing(&VALVE_PLACE);
pub const VALVE_PLACES: Key = may(
    "valve-places",
    Takes::List(&A_VALVE_PLACE),
    "any wall",
    "[{room: Hall, wall: 2}]",
    "walls where a valve may go",
);
pub const WAND: Key =
    must("wand", Takes::Measure(Kind::Length), "6 ft", "how far a person reaches past the hose");

pub static PLAN_FILE: Thing = Thing { what: "a plan's file", keys: &[HOUSE_PLAN, VALVE_PLACES, WAND] };

pub static PLAN: Thing = Thing {
    what: "a plan",
    keys: &[
        must("walls", Takes::Measure(Kind::Length), "4-1/2 in", "thickness of the walls"),
        may(
            "closes-within",
            Takes::Measure(Kind::Length),
            "2 in",
            "1 in",
            "by how much walks may fail to close",
        ),
        must("rooms", Takes::List(&Takes::Thing(&ROOM)), "see a room", "all of them; at most 300 rooms"),
        may("doors", Takes::List(&Takes::Thing(&DOOR)), "none", "see a door", "doors between rooms"),
        may("stairs", Takes::List(&Takes::Thing(&STAIR)), "none", "see a stair", "stairs between floors"),
        may(
            "things",
            Takes::List(&Takes::Thing(&THING)),
            "none",
            "see a thing",
            "what stands in the way of a hose",
        ),
        may(
            "raceway-level",
            Takes::Thing(&RACEWAY_LEVEL),
            "no routes are proposed",
            "see a raceway level",
            "the level that raceways run in",
        ),
    ],
};

pub static ROOM: Thing = Thing {
    what: "a room",
    keys: &[
        must("name", Takes::Text, "Hall", "its name"),
        must(
            "walk",
            Takes::List(&WALL),
            "[east 6 ft, north 18 ft, west 6 ft, south 18 ft]",
            "its inside faces, one after the other, back to the first corner",
        ),
        may(
            "at",
            Takes::Thing(&PLAN_POINT),
            "hung on its door",
            "{east: 0 ft, north: 0 ft}",
            "where its walk starts",
        ),
        may(
            "up",
            Takes::Measure(Kind::Coordinate),
            "that of the room it is hung on",
            "0 ft",
            "height of its floor",
        ),
    ],
};

const WALL: Takes = Takes::Either(&[Takes::Form("^ *[a-zA-Z]+ .*[0-9]"), Takes::Thing(&PLAN_POINT)]);

pub static PLAN_POINT: Thing = Thing {
    what: "a point of the plan",
    keys: &[
        must("east", Takes::Measure(Kind::Coordinate), "5 ft", "toward east"),
        must("north", Takes::Measure(Kind::Coordinate), "4 ft", "toward north"),
    ],
};

pub static DOOR: Thing = Thing {
    what: "a door",
    keys: &[
        must("room", Takes::Text, "Hall", "one of its rooms"),
        must("wall", Takes::Whole, "2", "that room's wall, counted along its walk"),
        must("at", Takes::Measure(Kind::Length), "3 ft", "from the wall's first corner to its near jamb"),
        must("wide", Takes::Measure(Kind::Length), "2 ft 8 in", "its clear width"),
        must("into", Takes::Text, "Kitchen", "the other room"),
        must("its-wall", Takes::Whole, "4", "that room's wall"),
        must("its-at", Takes::Measure(Kind::Length), "1 ft", "where it stands in it"),
    ],
};

pub static STAIR: Thing = Thing {
    what: "a stair",
    keys: &[
        must("room", Takes::Text, "Hall", "where it starts"),
        must(
            "from",
            Takes::Thing(&PLAN_POINT),
            "{east: 1 ft, north: 2 ft}",
            "its south-west corner in that room",
        ),
        must("wide", Takes::Measure(Kind::Length), "3 ft", "its width"),
        must("run", Takes::Measure(Kind::Length), "10 ft", "its length on the plan"),
        must("rise", Takes::Measure(Kind::Length), "9 ft", "its height"),
        must("toward", Takes::OneOf(|| vec!["east", "west", "north", "south"]), "north", "the way it climbs"),
        must("into", Takes::Text, "Landing", "where it ends"),
        may("its-wall", Takes::Whole, "the room is placed by `at`", "1", "the wall of that room at its head"),
        may("its-at", Takes::Measure(Kind::Length), "0 ft", "2 ft", "where it stands in it"),
    ],
};

pub static THING: Thing = Thing {
    what: "a thing",
    keys: &[
        must("room", Takes::Text, "Kitchen", "where it stands"),
        must(
            "from",
            Takes::Thing(&PLAN_POINT),
            "{east: 4 ft, north: 4 ft}",
            "its south-west corner in that room",
        ),
        must("size", Takes::Thing(&PLAN_POINT), "{east: 6 ft, north: 3 ft}", "its size"),
        must("what", Takes::Text, "table", "what it is"),
    ],
};

pub static RACEWAY_LEVEL: Thing = Thing {
    what: "a raceway level",
    keys: &[
        must("up", Takes::Measure(Kind::Coordinate), "-1 ft", "height of the tube's middle"),
        may(
            "joists",
            Takes::Thing(&JOISTS),
            "not known; routes are on hold",
            "see a set of joists",
            "the joists there",
        ),
        may("hang-below", Takes::Truth, "no", "yes", "whether tube hangs below the joists"),
        may(
            "no-go",
            Takes::List(&Takes::Thing(&NO_GO)),
            "none",
            "see a no-go place",
            "places that no tube may cross",
        ),
    ],
};

pub static JOISTS: Thing = Thing {
    what: "a set of joists",
    keys: &[
        may(
            "run",
            Takes::OneOf(|| vec!["north", "south", "east", "west"]),
            "needed, but where tube hangs below",
            "north",
            "the way they run",
        ),
        may(
            "spacing",
            Takes::Measure(Kind::Length),
            "needed, but where tube hangs below",
            "16 in",
            "from middle to middle",
        ),
        may(
            "first",
            Takes::Measure(Kind::Coordinate),
            "needed, but where tube hangs below",
            "8 in",
            "middle of the first",
        ),
        may(
            "size",
            Takes::Form("^[0-9]+ *[xX×] *[0-9]+$"),
            "needed, but where tube hangs below",
            "2x8",
            "their nominal size",
        ),
        may("bore", Takes::Truth, "needed, but where tube hangs below", "no", "whether they may be bored"),
        may("hang-below", Takes::Truth, "no", "yes", "whether tube hangs below them"),
    ],
};

pub static NO_GO: Thing = Thing {
    what: "a no-go place",
    keys: &[
        must("what", Takes::Text, "duct", "what is there"),
        must("from", Takes::Thing(&PLAN_POINT), "{east: 4 ft, north: 4 ft}", "its south-west corner"),
        must("size", Takes::Thing(&PLAN_POINT), "{east: 1 ft, north: 12 ft}", "its size"),
    ],
};

pub static VALVE_PLACE: Thing = Thing {
    what: "a valve place",
    keys: &[
        must("room", Takes::Text, "Hall", "the room"),
        must("wall", Takes::Whole, "2", "its wall, counted along its walk"),
    ],
};
