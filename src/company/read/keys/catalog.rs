//! Keys of the catalog.
use super::super::fitting::PURPOSES;
use super::super::part::{GRIPS, ROUGH_INS, SEALS, SWITCHES};
use super::{Key, Takes, Thing, may, must, words};
use crate::measure::Kind;

pub static CATALOG: Thing = Thing {
    what: "a catalog",
    keys: &[
        may(
            "tube",
            Takes::Thing(&TUBE),
            "in another file of the catalog",
            "see a tube",
            "the tube that the firm lays; one in the catalog",
        ),
        may(
            "fittings",
            Takes::List(&Takes::Things(|| FITTINGS.iter().collect())),
            "none in this file",
            "see a bend, a coupling, a stop, a junction",
            "fittings",
        ),
        may("hoses", Takes::List(&Takes::Thing(&HOSE)), "none in this file", "see a hose", "hoses"),
        may("valves", Takes::List(&Takes::Thing(&VALVE)), "none in this file", "see a valve", "valves"),
        may("units", Takes::List(&Takes::Thing(&UNIT)), "none in this file", "see a unit", "power units"),
        may(
            "wire",
            Takes::Thing(&WIRE),
            "wire is not checked",
            "see a wire",
            "the control wire; one in the catalog",
        ),
    ],
};

pub static TUBE: Thing = Thing {
    what: "a tube",
    keys: &[
        must("id", Takes::Id, "tube-2in", "its id"),
        must("outside", Takes::Measure(Kind::Breadth), "2 in", "outside diameter"),
        must("bore", Takes::Measure(Kind::Breadth), "1.87 in", "inside diameter"),
        must("stick", Takes::Measure(Kind::Length), "8 ft", "length as bought"),
        must("kerf", Takes::Measure(Kind::Breadth), "1/8 in", "what a cut takes"),
        must("shortest", Takes::Measure(Kind::Breadth), "4 in", "shortest piece that can be cemented"),
        must("roughness", Takes::Measure(Kind::Breadth), "0.0015 mm", "roughness of its wall"),
        may(
            "clearance",
            Takes::Measure(Kind::Breadth),
            "by the standard's clause",
            "1/8 in",
            "room round it in a bore",
        ),
    ],
};

const ID: Key = must("id", Takes::Id, "sweep-90", "its id");
const NAME: Key = may("name", Takes::Name, "its id", "Long sweep, 90", "its name on the sheets");
const SOCKET: Key =
    may("socket", Takes::Measure(Kind::Breadth), "insertion is not known", "1-1/8 in", "depth of its socket");
const FOR: Key = may("for", Takes::OneOf(|| words(&PURPOSES)), "either", "raceway", "where it may be used");
const LAYING: &str = "from the work point to the socket bottom";

/// One for each kind, in the order of the reader's kinds.
pub static FITTINGS: [Thing; 6] = [
    Thing {
        what: "a bend",
        keys: &[
            ID,
            NAME,
            must("kind", Takes::OneOf(|| vec!["bend"]), "bend", "that it is a bend"),
            SOCKET,
            FOR,
            must("angle", Takes::Measure(Kind::Angle), "90", "by how much it turns"),
            must("radius", Takes::Measure(Kind::Breadth), "7 in", "radius of its centerline"),
            must("laying-length", Takes::Measure(Kind::Breadth), "8 in", LAYING),
        ],
    },
    Thing {
        what: "a coupling",
        keys: &[
            ID,
            NAME,
            must("kind", Takes::OneOf(|| vec!["coupling"]), "coupling", "that it is a coupling"),
            SOCKET,
            FOR,
            must("gap", Takes::Measure(Kind::Breadth), "1/8 in", "between the two tubes inside"),
        ],
    },
    Thing {
        what: "a stop",
        keys: &[
            ID,
            NAME,
            must("kind", Takes::OneOf(|| vec!["stop"]), "stop", "that it is a stop fitting"),
            SOCKET,
            FOR,
            must("passes", Takes::Measure(Kind::Breadth), "1.5 in", "widest thing that gets through"),
            may(
                "inside-gap",
                Takes::Measure(Kind::Breadth),
                "the tube beyond is not cut to length",
                "1/4 in",
                "between the two tubes inside",
            ),
        ],
    },
    Thing {
        what: "a junction",
        keys: &[
            ID,
            NAME,
            must("kind", Takes::OneOf(|| vec!["junction"]), "junction", "that it is a junction"),
            SOCKET,
            FOR,
            must("branch", Takes::Measure(Kind::Angle), "45", "angle between branch and run"),
            may("radius", Takes::Measure(Kind::Breadth), "not known", "4 in", "radius of the branch"),
            may(
                "branch-laying-length",
                Takes::Measure(Kind::Breadth),
                "tubes there are not cut to length",
                "4 in",
                LAYING,
            ),
            may(
                "run-laying-length",
                Takes::Measure(Kind::Breadth),
                "tubes there are not cut to length",
                "2 in",
                LAYING,
            ),
        ],
    },
    Thing {
        what: "a cap",
        keys: &[ID, NAME, must("kind", Takes::OneOf(|| vec!["cap"]), "cap", "that it is a cap"), SOCKET, FOR],
    },
    Thing {
        what: "a reducer",
        keys: &[
            ID,
            NAME,
            must("kind", Takes::OneOf(|| vec!["reducer"]), "reducer", "that it is a reducer"),
            SOCKET,
            FOR,
            may(
                "passes",
                Takes::Measure(Kind::Breadth),
                "not known",
                "1.5 in",
                "widest thing that gets through",
            ),
            may(
                "inside-gap",
                Takes::Measure(Kind::Breadth),
                "not known",
                "1/4 in",
                "between the two tubes inside",
            ),
        ],
    },
];

/// The keys of fittings of every kind, each once.
pub fn any_fitting() -> Vec<&'static str> {
    let mut names: Vec<&str> = Vec::new();
    for key in FITTINGS.iter().flat_map(|thing| thing.keys) {
        if !names.contains(&key.name) {
            names.push(key.name);
        }
    }
    names
}

pub static HOSE: Thing = Thing {
    what: "a hose",
    keys: &[
        must("id", Takes::Id, "socked-40", "its id"),
        may("name", Takes::Name, "its id", "Hose, 40 ft, socked", "its name on the sheets"),
        must("length", Takes::Measure(Kind::Length), "40 ft", "its length"),
        must("outside", Takes::Measure(Kind::Breadth), "1.75 in", "outside diameter, sock and all"),
        must("bore", Takes::Measure(Kind::Breadth), "1.4 in", "inside diameter"),
        must("weight", Takes::Measure(Kind::Weight), "0.25 lb/ft", "weight per length"),
        must("sock", Takes::Truth, "yes", "whether it wears a sock"),
        may(
            "friction",
            Takes::Thing(&FRICTION),
            "effort is on hold",
            "{in: 0.32, out: 0.28, floor: 0.30}",
            "friction, as measured",
        ),
        may(
            "air-friction",
            Takes::Measure(Kind::Plain),
            "air is not reckoned",
            "0.045",
            "friction factor of the air in it",
        ),
        may(
            "throat",
            Takes::Measure(Kind::Breadth),
            "not checked",
            "1.25 in",
            "narrowest place of its handle",
        ),
        may(
            "handle-passes",
            Takes::Measure(Kind::Breadth),
            "not checked",
            "5 in",
            "longest rigid thing that its handle passes",
        ),
        may("tail", Takes::Measure(Kind::Breadth), "its outside", "1.8 in", "outside diameter of its end"),
        may(
            "stiffness",
            Takes::Measure(Kind::Stiffness),
            "bending is not reckoned",
            "170 lbf in2",
            "resistance to bending",
        ),
    ],
};

pub static FRICTION: Thing = Thing {
    what: "a friction",
    keys: &[
        must("in", Takes::Measure(Kind::Plain), "0.32", "drawn in"),
        must("out", Takes::Measure(Kind::Plain), "0.28", "drawn out"),
        must("floor", Takes::Measure(Kind::Plain), "0.30", "over the floor"),
    ],
};

pub static VALVE: Thing = Thing {
    what: "a valve",
    keys: &[
        must("id", Takes::Id, "door-sealed", "its id"),
        may("name", Takes::Name, "its id", "Door-sealed valve", "its name on the sheets"),
        must("seal", Takes::OneOf(|| words(&SEALS)), "door", "what seals it"),
        must("grips", Takes::OneOf(|| words(&GRIPS)), "anywhere", "where it grips the hose"),
        must("switch", Takes::OneOf(|| words(&SWITCHES)), "door", "what switches the unit"),
        must("rough-in", Takes::OneOf(|| words(&ROUGH_INS)), "frame", "what is set at rough-in"),
        must("depth", Takes::Measure(Kind::Breadth), "3-1/2 in", "depth in the wall"),
        may(
            "socket",
            Takes::Measure(Kind::Breadth),
            "insertion is not known",
            "1-1/8 in",
            "depth of its socket",
        ),
        may(
            "opening",
            Takes::Measure(Kind::Breadth),
            "not checked",
            "1.9 in",
            "passage that the hose slides through",
        ),
        may(
            "leak",
            Takes::Measure(Kind::Flow),
            "leakage is not known",
            "1.5 cfm",
            "what it lets in when closed",
        ),
        may(
            "leak-at",
            Takes::Measure(Kind::Pressure),
            "needed with `leak`",
            "100 inH2O",
            "suction at which that was measured",
        ),
        may("box", Takes::Thing(&BOX), "not drawn", "{wide: 5 in, high: 8 in}", "its box or frame"),
    ],
};

pub static BOX: Thing = Thing {
    what: "a box",
    keys: &[
        must("wide", Takes::Measure(Kind::Breadth), "5 in", "its width"),
        must("high", Takes::Measure(Kind::Breadth), "8 in", "its height"),
    ],
};

pub static UNIT: Thing = Thing {
    what: "a unit",
    keys: &[
        must("id", Takes::Id, "basement-600", "its id"),
        may("name", Takes::Name, "its id", "Basement unit", "its name on the sheets"),
        must(
            "curve",
            Takes::List(&Takes::Thing(&POINT)),
            "[{flow: 0 cfm, suction: 130 inH2O}, {flow: 110 cfm, suction: 0 inH2O}]",
            "flow and suction, from sealed to open",
        ),
        may(
            "socket",
            Takes::Measure(Kind::Breadth),
            "insertion is not known",
            "1-1/8 in",
            "depth of its socket",
        ),
        may("volts", Takes::Measure(Kind::Volts), "the circuit is on hold", "120 V", "line voltage"),
        may("amps", Takes::Measure(Kind::Amps), "the circuit is on hold", "14 A", "current that it draws"),
        may("breaker", Takes::Measure(Kind::Amps), "the circuit is on hold", "20 A", "rating of its breaker"),
        may("fastened", Takes::Truth, "yes", "no", "whether it is fastened in place"),
    ],
};

pub static POINT: Thing = Thing {
    what: "a point",
    keys: &[
        must("flow", Takes::Measure(Kind::Flow), "60 cfm", "flow"),
        must("suction", Takes::Measure(Kind::Pressure), "95 inH2O", "suction at that flow"),
    ],
};

pub static WIRE: Thing = Thing {
    what: "a wire",
    keys: &[
        must("id", Takes::Id, "bell-18", "its id"),
        must("gauge", Takes::Measure(Kind::Gauge), "18 AWG", "its gauge"),
        must("stranded", Takes::Truth, "no", "whether it is stranded"),
        must("volts", Takes::Measure(Kind::Volts), "24 V", "control voltage"),
        must("amps", Takes::Measure(Kind::Amps), "0.3 A", "control current"),
    ],
};
