//! The valve in its wall, and the hose in the valve.
use super::{Half, Shown};
use crate::draw::hand::scene::{Fill, Pen};

/// Two studs with a bay between them, seen from the room.
fn bay(half: &mut Half) {
    half.cut("stud", (10.0, 2.0), (15.0, 38.0));
    half.cut("stud", (55.0, 2.0), (60.0, 38.0));
}

pub(super) static PLUMB: Shown = Shown {
    title: "A frame between its studs, seen from the room",
    right: "plumb within 1/8 in over its height, at the packet's height",
    wrong: "it leans: the door does not shut on its gasket",
    draw: |half, right| {
        bay(half);
        let lean = if right { 0.0 } else { 4.0 };
        half.shape(
            "frame",
            &[(20.0 + lean, 8.0), (42.0 + lean, 8.0 + lean), (42.0, 32.0 + lean), (20.0, 32.0)],
        );
        half.line("level", &[(46.0, 8.0), (46.0, 32.0), (49.0, 32.0), (49.0, 8.0), (46.0, 8.0)], Pen::Thick);
        half.ring("bubble", (47.5, 20.0), 1.0, Fill::Black);
        half.say("stud", (12.0, 34.0), (-1.0, 0.3));
        half.say("level", (47.5, 8.0), (0.3, -1.0));
        half.say(if right { "plumb" } else { "leans" }, (31.0, 8.0 + lean / 2.0), (-0.4, -1.0));
    },
};

pub(super) static COVERED: Shown = Shown {
    title: "A frame or a box until trim, the wall cut open",
    right: "the whole opening is covered, the tube's end with it",
    wrong: "drywall dust and screws fall into valve and tube",
    draw: |half, right| {
        half.line("box", &[(24.0, 10.0), (46.0, 10.0)], Pen::Thick);
        half.line("box", &[(24.0, 10.0), (24.0, 28.0), (31.0, 28.0)], Pen::Thick);
        half.line("box", &[(39.0, 28.0), (46.0, 28.0)], Pen::Thick);
        for x in [31.0, 39.0] {
            half.line("tube", &[(x, 28.0), (x, 38.0)], Pen::Thick);
        }
        half.cut("drywall", (46.0, 2.0), (48.0, 10.0));
        half.cut("drywall", (46.0, 28.0), (48.0, 38.0));
        half.say("tube", (31.0, 34.0), (-1.0, 0.0));
        half.say("drywall", (48.0, 34.0), (1.0, 0.2));
        if right {
            half.solid("cover", (48.0, 8.0), (49.4, 30.0));
            half.say("cover", (49.4, 18.0), (1.0, 0.0));
        } else {
            for (x, y) in [(42.0, 16.0), (38.0, 21.0), (35.0, 26.0), (35.5, 32.0)] {
                half.ring("dust", (x, y), 0.9, Fill::Black);
            }
            half.arrow("dust", (60.0, 12.0), (47.0, 14.0));
            half.say("dust goes in", (58.0, 12.3), (0.3, -1.0));
        }
    },
};

pub(super) static WIRE_SLACK: Shown = Shown {
    title: "Control wire at the box, before the wall closes",
    right: "8 in free at the valve, marked with the inlet's name",
    wrong: "cut short, and nobody knows whose it is",
    draw: |half, right| {
        bay(half);
        half.open("box", (22.0, 12.0), (38.0, 30.0));
        half.say("box", (30.0, 30.0), (0.2, 1.0));
        half.line("wire", &[(50.0, 2.0), (50.0, 20.0), (38.0, 20.0)], Pen::Dashed);
        if right {
            half.line(
                "wire",
                &[(38.0, 20.0), (30.0, 20.0), (30.0, 26.0), (35.0, 26.0), (35.0, 23.0), (26.0, 23.0)],
                Pen::Dashed,
            );
            half.open("tag", (42.0, 18.0), (49.0, 22.0));
            half.say("tag with the name", (45.5, 18.0), (0.2, -1.0));
            half.say("8 in free", (30.0, 24.0), (-0.6, -1.0));
        } else {
            half.line("wire", &[(38.0, 20.0), (36.0, 20.0)], Pen::Dashed);
            half.say("cut short", (36.0, 20.0), (-0.6, -1.0));
        }
    },
};

pub(super) static TIGHT_BOX: Shown = Shown {
    title: "A strip of tissue at the seams of a box, with suction on",
    right: "the strip hangs still at each seam, screw hole and wire",
    wrong: "the strip is drawn to the seam: air leaks in there",
    draw: |half, right| {
        half.open("box", (12.0, 8.0), (40.0, 32.0));
        half.line("seam", &[(40.0, 20.0), (34.0, 20.0)], Pen::Thick);
        half.ring("screw", (16.0, 12.0), 1.2, Fill::Black);
        half.ring("screw", (16.0, 28.0), 1.2, Fill::Black);
        half.say("seam", (36.0, 20.0), (-0.6, -1.0));
        half.say("box", (12.0, 24.0), (-1.0, 0.3));
        if right {
            half.line("tissue", &[(46.0, 12.0), (46.0, 30.0)], Pen::Thick);
            half.say("tissue hangs still", (46.0, 26.0), (0.6, 1.0));
        } else {
            half.line("tissue", &[(46.0, 12.0), (45.0, 16.0), (42.0, 19.0), (40.4, 20.0)], Pen::Thick);
            half.arrow("air", (56.0, 24.0), (42.0, 21.0));
            half.say("tissue drawn in: seal it", (54.0, 23.6), (0.2, 1.0));
        }
    },
};

pub(super) static CUFF_SEAT: Shown = Shown {
    title: "The hose's cuff in its seat, cut open",
    right: "it sits all the way round, in a clean seat",
    wrong: "grit holds it off on one side: it hisses and lets suction by",
    draw: |half, right| {
        half.cut_both("seat", (34.0, 6.0), (52.0, 11.6));
        half.cut_both("valve", (52.0, 6.0), (62.0, 14.0));
        let tip = if right { 0.0 } else { 2.4 };
        half.shape("cuff", &[(8.0, 12.0), (50.0, 12.0 + tip), (50.0, 15.0 + tip), (8.0, 15.0)]);
        half.shape("cuff", &[(8.0, 25.0), (50.0, 25.0 + tip), (50.0, 28.0 + tip / 4.0), (8.0, 28.0)]);
        half.say("cuff", (14.0, 12.0), (0.0, -1.0));
        half.say("seat", (40.0, 34.0), (-0.4, 1.0));
        if !right {
            half.ring("grit", (46.0, 12.8), 1.1, Fill::Black);
            half.say("grit", (46.0, 12.8), (-0.6, -1.6));
        }
    },
};

pub(super) static HOSE_HOME: Shown = Shown {
    title: "The hose on its last feet home",
    right: "one hand round it guides and slows it",
    wrong: "pushed: it kinks at the valve, and hides that the suction does not do it",
    draw: |half, right| {
        half.cut("wall", (58.0, 2.0), (64.0, 12.0));
        half.cut("wall", (58.0, 28.0), (64.0, 38.0));
        if right {
            half.level_pair("hose", (4.0, 64.0), [17.0, 23.0]);
            half.line(
                "hand",
                &[(24.0, 14.0), (30.0, 14.0), (30.0, 26.0), (24.0, 26.0), (24.0, 14.0)],
                Pen::Thick,
            );
            half.arrow("way", (36.0, 20.0), (52.0, 20.0));
            half.say("hand guides", (27.0, 26.0), (-0.2, 1.0));
        } else {
            for dy in [0.0, 6.0] {
                half.line(
                    "hose",
                    &[
                        (4.0, 17.0 + dy),
                        (34.0, 17.0 + dy),
                        (44.0, 9.0 + dy),
                        (52.0, 17.0 + dy),
                        (64.0, 17.0 + dy),
                    ],
                    Pen::Thick,
                );
            }
            half.arrow("push", (6.0, 20.0), (28.0, 20.0));
            half.say("pushed", (16.0, 23.0), (-0.2, 1.0));
            half.say("kink", (44.0, 9.0), (-0.3, -1.0));
        }
        half.say("valve in the wall", (61.0, 30.0), (-1.0, 0.6));
    },
};
