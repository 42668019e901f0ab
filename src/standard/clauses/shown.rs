//! Jobs by which several clauses are drawn, without title and date; a clause writes what makes it right or wrong.

/// One inlet with a raceway of one bend, and a line about its wall, as `wall: 3-1/2 in`.
macro_rules! in_a_wall {
    ($wall:literal) => {
        concat!(
            "unit: {model: UNIT}\n",
            "inlets:\n",
            "  - id: hall\n",
            "    valve: VALVE\n",
            "    hose: HOSE\n",
            "    ",
            $wall,
            "\n",
            "    raceway: {leaves: down, path: [{run: 3 ft}, {turn: 90 west}, {run: 44 ft}]}\n",
            "    onward: {path: [{run: 3 ft}], into: unit}\n",
        )
    };
}

/// One inlet that joins a trunk, of which nothing is placed; the `path` from its stop on, and the junction it joins `with`.
macro_rules! joining_a_trunk {
    ($path:literal, $with:literal) => {
        concat!(
            "unit: {model: UNIT}\n",
            "trunks: [{id: main, leaves: west, path: [{run: 8 ft}], into: unit}]\n",
            "inlets:\n",
            "  - id: hall\n",
            "    valve: VALVE\n",
            "    hose: HOSE\n",
            "    raceway: {leaves: down, path: [{run: 3 ft}, {turn: 90 north}, {run: 44 ft}]}\n",
            "    onward: {path: [",
            $path,
            "], into: {trunk: main, at: 4 ft, with: ",
            $with,
            "}}\n",
        )
    };
}

/// One inlet beside a trunk, both placed: where its valve is, and the rest of its lines.
macro_rules! beside_a_trunk {
    ($at:literal, $($rest:literal),+) => {
        concat!(
            "unit: {model: UNIT}\n",
            "trunks: [{id: main, starts: {east: 12 ft, north: 0 ft, up: -2 ft}, leaves: west, ",
            "path: [{run: 12 ft}], into: unit}]\n",
            "inlets:\n",
            "  - id: hall\n",
            "    valve: VALVE\n",
            "    hose: HOSE\n",
            "    at: {",
            $at,
            "}\n",
            $("    ", $rest, "\n",)+
        )
    };
}
