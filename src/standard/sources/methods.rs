//! Formulas, tables and constants.
use super::{Source, memory, read};

pub(super) static SOURCES: &[Source] = &[
    Source {
        id: "acgih",
        name: "ACGIH, Industrial Ventilation",
        edition: "2009, as quoted in handbooks",
        sections: &[read("ACGIH")],
        rests: "which speed of air carries which dust; the loss where a branch enters a trunk, that table from memory",
    },
    Source {
        id: "rennels",
        name: "Rennels and Hudson, Pipe Flow",
        edition: "1st ed., 2012, as coded in the library fluids 1.3.1",
        sections: &[read("Rennels")],
        rests: "the loss of every bend",
    },
    Source {
        id: "colebrook",
        name: "Colebrook's friction factor",
        edition: "as coded in the library fluids 1.3.1",
        sections: &[read("Colebrook")],
        rests: "friction of air in tube and hose",
    },
    Source {
        id: "churchill",
        name: "Churchill, friction factor for all regimes, Chemical Engineering",
        edition: "1977, as coded in the library fluids 1.3.1; the paper itself from memory",
        sections: &[memory("Churchill")],
        rests: "friction of slow air",
    },
    Source {
        id: "borda",
        name: "Borda and Carnot, loss at a sudden widening",
        edition: "handbook form; the entry into a throat from memory",
        sections: &[read("Borda")],
        rests: "the loss of the stop fitting and of the step from hose to tube",
    },
    Source {
        id: "idelchik",
        name: "Idelchik, Handbook of Hydraulic Resistance, diagram 3-1",
        edition: "as quoted in a handbook supplement",
        sections: &[read("Idelchik")],
        rests: "the loss at the nozzle",
    },
    Source {
        id: "air-power",
        name: "ASTM F558, air performance of vacuum cleaners, and ASTM F820, the same for central ones",
        edition: "scope and terms in previews; the constant from memory",
        sections: &[memory("ASTM F558"), memory("ASTM F820")],
        rests: "air power, and the standard air that flows are told in",
    },
    Source {
        id: "copper",
        name: "IEC 60028, resistance of copper",
        edition: "from memory; agrees with the electrical code's table to its rounding",
        sections: &[memory("IEC 60028")],
        rests: "resistance of wire that the electrical code's table does not list",
    },
    Source {
        id: "awg",
        name: "ASTM B258, American wire gauge",
        edition: "the rule in a reference page",
        sections: &[read("ASTM B258")],
        rests: "diameters of wire",
    },
    Source {
        id: "plastics-manual",
        name: "A plastics maker's manual, and a second copy of its table",
        edition: "undated copies; a newer family of tables from memory",
        sections: &[read("plastics maker's manual")],
        rests: "how long a cemented joint is left alone",
    },
];
