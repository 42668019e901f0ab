//! Tube and wire where they meet the house, and what is left in it.
use super::{Half, Shown};
use crate::draw::hand::scene::{Fill, Pen};

/// A tube that goes straight down, cut open: its two walls.
fn upright_tube(half: &mut Half, from: f64, to: f64) {
    for x in [29.0, 40.0] {
        half.cut("tube", (x, from), (x + 1.0, to));
    }
    half.line("centerline", &[(35.0, from), (35.0, to)], Pen::Chain);
}

pub(super) static FIREBLOCK: Shown = Shown {
    title: "A tube through a wall plate, cut open",
    right: "the gap round tube and wire is filled",
    wrong: "flame and hot gas go up through the gap",
    draw: |half, right| {
        half.cut("plate", (4.0, 16.0), (26.0, 24.0));
        half.cut("plate", (44.0, 16.0), (66.0, 24.0));
        upright_tube(half, 2.0, 38.0);
        half.say("wall plate", (10.0, 24.0), (-0.3, 1.0));
        half.say("tube", (29.0, 5.0), (-1.0, 0.0));
        if right {
            for x in [26.0, 41.0] {
                half.solid("sealant", (x, 16.0), (x + 3.0, 24.0));
            }
            half.say("gap filled", (42.5, 16.0), (0.6, -1.0));
        } else {
            half.arrow("flame", (27.5, 36.0), (27.5, 10.0));
            half.arrow("flame", (42.5, 36.0), (42.5, 10.0));
            half.say("open gap", (43.0, 20.0), (0.6, -1.0));
        }
    },
};

pub(super) static SHIELD_PLATE: Shown = Shown {
    title: "A bored wall plate, seen from above",
    right: "steel over the tube on each face with too little wood",
    wrong: "a drywall screw reaches the tube",
    draw: |half, right| {
        half.cut("plate", (6.0, 12.0), (64.0, 28.0));
        half.ring("hole", (35.0, 20.0), 6.6, Fill::White);
        half.ring("tube", (35.0, 20.0), 6.0, Fill::None);
        half.say("wall plate", (12.0, 28.0), (-0.2, 1.0));
        if right {
            for y in [10.6, 28.0] {
                half.solid("steel", (26.0, y), (44.0, y + 1.4));
            }
            half.say("steel", (30.0, 10.6), (-0.4, -1.0));
            half.say("steel", (42.0, 29.4), (0.6, 1.0));
        } else {
            half.filled(
                "screw",
                &[(33.6, 4.0), (36.4, 4.0), (35.3, 5.4), (35.0, 17.0), (34.7, 5.4)],
                Fill::Black,
            );
            half.say("screw in the tube", (35.0, 5.0), (1.0, -0.2));
        }
    },
};

pub(super) static STRAP: Shown = Shown {
    title: "A level tube in its straps",
    right: "straps near each bend and at the spacing lie on one line, and let the tube slide",
    wrong: "too far apart, the tube sags, and a sag is a dip",
    draw: |half, right| {
        half.cut("joist", (2.0, 3.0), (68.0, 8.0));
        let straps: &[f64] = if right { &[10.0, 26.0, 42.0, 58.0] } else { &[8.0, 62.0] };
        for x in straps {
            half.line("strap", &[(*x, 8.0), (*x, 24.0)], Pen::Thick);
        }
        let sag = if right { 0.0 } else { 7.0 };
        for y in [16.0, 24.0] {
            let middle = y + sag;
            half.line(
                "tube",
                &[
                    (2.0, y),
                    (8.0, y),
                    (22.0, y + sag * 0.75),
                    (35.0, middle),
                    (48.0, y + sag * 0.75),
                    (62.0, y),
                    (68.0, y),
                ],
                Pen::Thick,
            );
        }
        half.say("joist", (14.0, 8.0), (0.6, 0.6));
        if right {
            half.say("strap: guides, does not clamp", (26.0, 24.0), (0.2, 1.0));
        } else {
            half.say("sag: dust and hose stop here", (35.0, 31.0), (-0.3, 1.0));
        }
    },
};

pub(super) static CONTROL_WIRE: Shown = Shown {
    title: "Control wire beside a power cable",
    right: "the pair keeps its distance, and crosses a power cable square",
    wrong: "the pair shares the hole and the box of the power cable",
    draw: |half, right| {
        half.cut("stud", (30.0, 2.0), (40.0, 38.0));
        half.level_pair("power cable", (2.0, 68.0), [26.0, 28.0]);
        half.say("power cable", (10.0, 28.0), (0.0, 1.0));
        if right {
            half.line("control wire", &[(2.0, 10.0), (68.0, 10.0)], Pen::Dashed);
            half.say("control wire", (12.0, 10.0), (0.0, -1.0));
            half.arrow("distance", (54.0, 18.0), (54.0, 11.0));
            half.arrow("distance", (54.0, 18.0), (54.0, 25.0));
            half.say("distance kept", (54.0, 18.0), (1.0, 0.0));
        } else {
            half.line("control wire", &[(2.0, 24.6), (50.0, 24.6)], Pen::Dashed);
            half.open("box", (50.0, 20.0), (62.0, 34.0));
            half.say("control wire", (12.0, 24.6), (0.0, -1.0));
            half.say("same box", (56.0, 20.0), (0.2, -1.0));
        }
    },
};

pub(super) static PROBE: Shown = Shown {
    title: "A plate that is to be bored, cut open",
    right: "asked, looked and scanned first: the hole is moved off what runs there",
    wrong: "bored by the mark alone, into a live cable",
    draw: |half, right| {
        half.cut("plate", (4.0, 16.0), (66.0, 24.0));
        half.line("cable", &[(46.0, 24.0), (46.0, 38.0)], Pen::Thick);
        half.line("cable", &[(48.0, 24.0), (48.0, 38.0)], Pen::Thick);
        half.say("cable in the wall", (48.0, 34.0), (1.0, 0.2));
        half.say("plate", (8.0, 24.0), (0.0, 1.0));
        let at = if right { 22.0 } else { 47.0 };
        half.filled(
            "bit",
            &[(at - 4.0, 4.0), (at + 4.0, 4.0), (at + 4.0, 13.0), (at, 16.0), (at - 4.0, 13.0)],
            Fill::Grey,
        );
        if right {
            half.open("scanner", (42.0, 10.0), (52.0, 15.5));
            half.say("scanner finds it", (47.0, 10.0), (0.4, -1.0));
            half.say("hole moved", (18.0, 8.0), (-0.3, -1.0));
        } else {
            half.say("shock, fire", (43.0, 8.0), (-1.0, -0.4));
        }
    },
};

pub(super) static GARAGE_WALL: Shown = Shown {
    title: "A line through the wall of a garage, cut open",
    right: "of the material that the code asks for, sealed, with no opening on the garage side",
    wrong: "plain tube and an open gap: fire and fumes get into the house",
    draw: |half, right| {
        half.cut("wall", (30.0, 2.0), (40.0, 14.0));
        half.cut("wall", (30.0, 26.0), (40.0, 38.0));
        if right {
            half.solid("steel", (10.0, 15.0), (60.0, 16.2));
            half.solid("steel", (10.0, 23.8), (60.0, 25.0));
            half.solid("seal", (29.0, 14.0), (41.0, 15.0));
            half.solid("seal", (29.0, 25.0), (41.0, 26.0));
            half.say("sealed", (41.0, 14.5), (0.6, -1.0));
            half.say("material by code", (14.0, 15.0), (0.0, -1.0));
        } else {
            half.level_pair("tube", (10.0, 60.0), [17.0, 23.0]);
            half.arrow("fumes", (16.0, 15.4), (46.0, 15.4));
            half.say("gap", (30.0, 14.6), (-1.0, -0.6));
            half.say("plain tube", (56.0, 17.0), (0.3, -1.0));
        }
        half.say("garage side", (30.0, 33.0), (-1.0, 0.0));
        half.say("house side", (40.0, 33.0), (1.0, 0.0));
    },
};

pub(super) static MASONRY_DUST: Shown = Shown {
    title: "Drilling masonry",
    right: "a shroud round the bit, held to the wall, on a vacuum with a HEPA filter; or water at the tool",
    wrong: "dry and open: the dust that hurts lungs hangs in the room",
    draw: |half, right| {
        half.cut("masonry", (50.0, 2.0), (66.0, 38.0));
        half.filled("bit", &[(26.0, 19.0), (54.0, 19.0), (54.0, 21.0), (26.0, 21.0)], Fill::Black);
        half.open("drill", (6.0, 14.0), (26.0, 26.0));
        half.say("drill", (12.0, 14.0), (0.0, -1.0));
        half.say("masonry", (50.0, 35.0), (-1.0, 0.3));
        if right {
            half.open("shroud", (42.0, 12.0), (50.0, 28.0));
            half.level_pair("hose", (30.0, 42.0), [25.0, 27.6]);
            half.open("vacuum", (16.0, 29.0), (30.0, 38.0));
            half.line("hose", &[(30.0, 25.0), (30.0, 33.0)], Pen::Thick);
            half.say("shroud", (46.0, 12.0), (-0.3, -1.0));
            half.say("HEPA vacuum", (16.0, 34.0), (-1.0, 0.2));
        } else {
            for (x, y) in [(46.0, 10.0), (40.0, 12.0), (44.0, 28.0), (38.0, 30.0), (47.0, 32.0), (34.0, 9.0)]
            {
                half.ring("dust", (x, y), 1.2, Fill::Grey);
            }
            half.say("dust in the air", (40.0, 12.0), (-0.2, -1.0));
        }
    },
};

/// Rows of writing.
fn writing(half: &mut Half, x: (f64, f64), heights: &[f64]) {
    for y in heights {
        half.line("writing", &[(x.0, *y), (x.1, *y)], Pen::Thin);
    }
}

pub(super) static OWNER_SHEET: Shown = Shown {
    title: "The owner's sheet in its folder at the unit",
    right: "read out together, every line ticked, signed and dated, with our telephone number on it",
    wrong: "left blank on the kitchen table: nobody knows whom to call, or what was shown",
    draw: |half, right| {
        half.open("sheet", (26.0, 2.0), (44.0, 38.0));
        writing(half, (28.0, 34.0), &[7.0, 9.5, 12.0, 14.5, 17.0, 19.5]);
        writing(half, (36.0, 42.0), &[7.0, 9.5, 12.0, 17.0, 19.5]);
        for y in [26.0, 30.0] {
            half.line("box", &[(28.0, y), (30.0, y), (30.0, y + 2.0), (28.0, y + 2.0), (28.0, y)], Pen::Thin);
            writing(half, (32.0, 40.0), &[y + 1.0]);
        }
        writing(half, (28.0, 42.0), &[36.0]);
        half.say("how to use", (28.0, 9.5), (-1.0, -0.3));
        half.say("never feed", (42.0, 9.5), (1.0, -0.3));
        if right {
            half.solid("telephone", (36.0, 21.4), (42.0, 23.4));
            for y in [26.0, 30.0] {
                half.line("tick", &[(28.2, y + 1.0), (29.0, y + 1.8), (30.8, y - 0.6)], Pen::Thick);
            }
            half.line(
                "name",
                &[(29.0, 35.6), (31.0, 33.6), (33.0, 35.4), (35.0, 33.8), (39.0, 35.2)],
                Pen::Thick,
            );
        }
        half.say(if right { "call us" } else { "no number" }, (42.0, 22.4), (1.0, 0.1));
        half.say(if right { "shown" } else { "not ticked" }, (28.0, 28.0), (-1.0, 0.2));
        half.say(if right { "signed" } else { "not signed" }, (40.0, 35.0), (1.0, 0.2));
    },
};
