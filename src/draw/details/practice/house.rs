//! Tube and wire where they meet the house.
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
        half.line("power cable", &[(2.0, 26.0), (68.0, 26.0)], Pen::Thick);
        half.line("power cable", &[(2.0, 28.0), (68.0, 28.0)], Pen::Thick);
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
