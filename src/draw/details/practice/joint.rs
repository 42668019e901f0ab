//! Cuts, joints and the stop.
use super::{Half, Shown};
use crate::draw::hand::scene::{Fill, Pen};

/// Heights of a tube's walls in a half: outside and inside of each, the lower the mirror image of the upper.
const UPPER: (f64, f64) = (12.0, 14.0);
const LOWER: (f64, f64) = (26.0, 28.0);

pub(super) static SQUARE_CUT: Shown = Shown {
    title: "A cut, with a square held on it",
    right: "the square lies on the cut all the way across",
    wrong: "the cut slopes, and leaves a gap on one side of the socket",
    draw: |half, right| {
        let end = if right { 40.0 } else { 34.0 };
        let corners = [(6.0, UPPER.0), (end, UPPER.0), (40.0, LOWER.1), (6.0, LOWER.1)];
        let mut outline = corners.to_vec();
        outline.push(corners[0]);
        half.line("tube", &outline, Pen::Thick);
        half.line(
            "square",
            &[(20.0, 31.0), (40.0, 31.0), (40.0, 8.0), (43.0, 8.0), (43.0, 34.0), (20.0, 34.0), (20.0, 31.0)],
            Pen::Thick,
        );
        half.say("tube", (12.0, UPPER.0), (-0.2, -1.0));
        half.say("square", (43.0, 20.0), (1.0, 0.2));
        if right {
            half.say("no light", (40.0, 14.0), (1.0, -0.6));
        } else {
            half.say("light: cut again", (37.5, 13.0), (1.0, -0.8));
        }
    },
};

/// The end of a tube, cut open, its right end at `x`.
fn tube_end(half: &mut Half, x: f64) {
    half.cut_both("tube", (4.0, UPPER.0), (x, UPPER.1));
    half.line("centerline", &[(2.0, 20.0), (x + 6.0, 20.0)], Pen::Chain);
}

pub(super) static DEBURR: Shown = Shown {
    title: "The end of a tube, cut open",
    right: "no edge stands up, inside or out",
    wrong: "a curl inside cuts the hose, a crumb outside scrapes the cement off",
    draw: |half, right| {
        tube_end(half, 44.0);
        if right {
            half.say("inside edge smooth", (44.0, UPPER.1), (1.0, 0.5));
            half.say("outside edge broken", (44.0, LOWER.1), (0.2, 1.0));
            half.say("tube", (10.0, UPPER.0), (0.0, -1.0));
        } else {
            half.black_both("burr", &[(40.0, UPPER.1), (44.0, UPPER.1), (45.5, 17.5)]);
            half.filled("crumb", &[(41.0, UPPER.0), (44.5, UPPER.0), (44.5, 10.3)], Fill::Black);
            half.say("curl inside", (45.5, 17.5), (1.0, 0.0));
            half.say("crumb outside", (44.5, 10.3), (0.4, -1.0));
        }
    },
};

/// A socket from `mouth` to its bottom, and the fitting behind it.
fn socket(half: &mut Half, mouth: f64, bottom: f64) {
    half.cut_both("socket", (mouth, UPPER.0 - 2.4), (bottom, UPPER.0 - 0.4));
    half.cut_both("fitting", (bottom, UPPER.0 - 2.4), (64.0, UPPER.1));
}

pub(super) static CEMENT: Shown = Shown {
    title: "A cemented joint, cut open",
    right: "put on the tube, the surplus is wiped back to the outside",
    wrong: "put in the socket, it is pushed ahead and sets as a ridge in the bore",
    draw: |half, right| {
        socket(half, 26.0, 46.0);
        tube_end(half, 46.0);
        if right {
            half.black_both("bead", &[(22.5, UPPER.0), (26.0, UPPER.0), (26.0, 9.6)]);
            half.say("bead outside: wipe it off", (24.5, 10.5), (-0.3, -1.0));
            half.say("bore smooth", (50.0, LOWER.0), (0.3, -0.8));
        } else {
            half.black_both("ridge", &[(45.0, UPPER.1), (51.0, UPPER.1), (47.0, 17.5)]);
            half.say("ridge: the hose catches", (47.0, 22.5), (-0.4, 1.0));
            half.say("cement in the socket", (30.0, UPPER.0 - 2.4), (0.0, -1.0));
        }
    },
};

pub(super) static FULL_DEPTH: Shown = Shown {
    title: "How deep the tube goes in",
    right: "the ring stands at the mouth of the socket, and the tube on its bottom",
    wrong: "the ring stands clear, and inside there is a groove as wide",
    draw: |half, right| {
        let short = if right { 0.0 } else { 5.0 };
        socket(half, 26.0, 46.0);
        tube_end(half, 46.0 - short);
        let ring = 26.0 - short;
        half.line("ring", &[(ring, UPPER.0 - 1.5), (ring, UPPER.1)], Pen::Thick);
        half.line("ring", &[(ring, LOWER.0), (ring, LOWER.1 + 1.5)], Pen::Thick);
        if right {
            half.say("ring at the mouth", (ring, UPPER.0 - 1.5), (-0.5, -1.0));
            half.say("tube home", (46.0, LOWER.1), (0.4, 1.0));
        } else {
            half.say("ring stands clear", (ring, UPPER.0 - 1.5), (-0.5, -1.0));
            half.say("groove, all round", (43.5, LOWER.1), (0.4, 1.0));
        }
    },
};

pub(super) static STOP_SET: Shown = Shown {
    title: "The stop, cut open; the valve is to the left",
    right: "the shoulder faces the valve and holds the hose's tail",
    wrong: "turned round, the tail wedges in the cone and goes on",
    draw: |half, right| {
        half.cut_both("tube", (2.0, UPPER.0), (30.0, UPPER.1));
        if right {
            half.cut_both("stop", (30.0, UPPER.0), (46.0, 16.0));
            half.open("hose", (8.0, 15.0), (29.6, 25.0));
            half.say("hose's tail rests here", (30.0, 25.0), (-0.6, 1.0));
        } else {
            half.shape("stop", &[(30.0, UPPER.0), (46.0, UPPER.0), (46.0, 16.0), (30.0, UPPER.1)]);
            half.shape("stop", &[(30.0, LOWER.1), (46.0, LOWER.1), (46.0, 24.0), (30.0, LOWER.0)]);
            half.open("hose", (16.0, 15.0), (38.5, 25.0));
            half.say("tail wedged in the cone", (38.5, 25.0), (-0.6, 1.0));
        }
        half.cut_both("tube", (46.0, UPPER.0), (66.0, UPPER.1));
        half.arrow("air", (50.0, 20.0), (62.0, 20.0));
        half.say("shoulder", (30.5, UPPER.1), (0.2, -1.0));
        half.say("air, to the unit", (58.0, 20.0), (0.0, 0.8));
    },
};

pub(super) static ROUND_TUBE: Shown = Shown {
    title: "The end of a stick, measured two ways across",
    right: "both measures agree within 1/32 in",
    wrong: "the end is oval: it scrapes on one side of the socket and gapes on the other",
    draw: |half, right| {
        let (wide, high) = if right { (12.0, 12.0) } else { (16.0, 8.0) };
        let ring: Vec<(f64, f64)> = (0..=48)
            .map(|step| f64::from(step) * std::f64::consts::TAU / 48.0)
            .map(|angle| (30.0 + wide * angle.cos(), 20.0 + high * angle.sin()))
            .collect();
        half.line("tube", &ring, Pen::Thick);
        for way in [-1.0, 1.0] {
            half.arrow("across", (30.0, 20.0), (30.0 + way * wide, 20.0));
            half.arrow("across", (30.0, 20.0), (30.0, 20.0 + way * high));
        }
        half.say("tube", (30.0 - wide, 20.0), (-1.0, -0.2));
        half.say(
            if right { "the same both ways" } else { "oval: do not use it" },
            (30.0 + wide, 20.0),
            (1.0, -0.8),
        );
    },
};
