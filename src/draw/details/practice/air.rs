//! What is done to keep air in, to prove that it is, and to let it out of the house.
use super::{Half, Shown};
use crate::draw::hand::scene::{Fill, Pen};

pub(super) static GASKET: Shown = Shown {
    title: "A door shut on a strip of paper",
    right: "the gasket grips the paper on every side",
    wrong: "a twisted door lets the paper slip, and air in",
    draw: |half, right| {
        half.cut("body", (8.0, 26.0), (16.0, 36.0));
        half.cut("body", (54.0, 26.0), (62.0, 36.0));
        for x in [10.0, 56.0] {
            half.solid("gasket", (x, 23.0), (x + 4.0, 26.0));
        }
        let lift = if right { 0.0 } else { 5.0 };
        half.open("paper", (57.0, 22.4 - lift), (69.0, 23.0 - lift));
        half.shape("door", &[(6.0, 19.0), (64.0, 19.0 - lift), (64.0, 22.4 - lift), (6.0, 22.4)]);
        half.say("door", (20.0, 19.0), (0.0, -1.0));
        half.say("gasket", (14.0, 24.5), (1.0, 0.5));
        if right {
            half.say("paper gripped", (66.0, 22.4), (-0.3, -1.0));
        } else {
            half.say("paper slips out", (66.0, 17.4), (-0.3, -1.0));
            half.arrow("air", (68.0, 24.0), (46.0, 24.0));
        }
    },
};

/// A gauge on its stalk, its needle so many degrees of a half circle up.
fn gauge(half: &mut Half, x: f64, up: f64) {
    half.line("stalk", &[(x, 24.0), (x, 15.0)], Pen::Thick);
    half.ring("gauge", (x, 10.0), 5.0, Fill::White);
    let angle = (180.0 - up).to_radians();
    half.line("needle", &[(x, 10.0), (x + 4.0 * angle.cos(), 10.0 - 4.0 * angle.sin())], Pen::Thick);
}

pub(super) static LEAK_TEST: Shown = Shown {
    title: "A capped line under suction, a gauge at each end",
    right: "both gauges agree, and the source reads as the unit does alone",
    wrong: "both gauges agree, and both are low: the leak is near the source",
    draw: |half, right| {
        half.open("unit", (2.0, 20.0), (12.0, 34.0));
        half.level_pair("tube", (12.0, 62.0), [24.0, 30.0]);
        half.solid("cap", (62.0, 22.5), (64.0, 31.5));
        let up = if right { 150.0 } else { 80.0 };
        gauge(half, 20.0, up);
        gauge(half, 54.0, up);
        half.say("unit", (7.0, 34.0), (0.2, 1.0));
        half.say("cap", (63.0, 31.5), (0.0, 1.0));
        if right {
            half.say("as high as the unit alone", (36.0, 24.0), (0.0, -0.6));
        } else {
            half.arrow("leak", (30.0, 38.0), (30.0, 31.0));
            half.say("leak", (30.0, 36.0), (1.0, 0.0));
            half.say("both low", (25.0, 8.0), (1.0, 0.0));
        }
    },
};

pub(super) static EXHAUST: Shown = Shown {
    title: "Where the exhaust ends, seen from outside",
    right: "clear of windows, doors and air intakes, with a damper that shuts by itself",
    wrong: "under a window that opens, and with no damper",
    draw: |half, right| {
        half.line("ground", &[(2.0, 37.0), (68.0, 37.0)], Pen::Thick);
        half.open("window", (4.0, 6.0), (20.0, 24.0));
        half.line("window bar", &[(12.0, 6.0), (12.0, 24.0)], Pen::Thin);
        half.say("window that opens", (12.0, 6.0), (0.6, -1.0));
        if right {
            half.filled("hood", &[(56.0, 24.0), (62.0, 24.0), (64.0, 30.0), (54.0, 30.0)], Fill::Black);
            half.arrow("distance", (38.0, 27.0), (21.0, 27.0));
            half.arrow("distance", (38.0, 27.0), (53.0, 27.0));
            half.say("distance of the clause", (38.0, 27.0), (0.0, 1.0));
            half.say("hood with damper", (59.0, 24.0), (0.0, -1.0));
        } else {
            half.ring("open end", (12.0, 31.0), 3.0, Fill::White);
            half.arrow("dust", (15.0, 29.5), (25.0, 22.0));
            half.say("dust goes back in", (24.0, 23.0), (1.0, -0.2));
            half.say("open end, no damper", (15.0, 31.5), (1.0, 0.6));
        }
    },
};
