//! Keys of a lesson's head and of its fenced blocks: what their readers take, and what the schema and the sheet
//! *Keys* tell of them.

use super::front::{Part, Signal};
use crate::company::keys::{
    Known, PLAN_BLOCK, PRACTICE_BLOCK, RACEWAY_BLOCK, TREE_BLOCK, Takes, Thing, may, must,
};

/// The keys of the front matter.
pub static LESSON: Thing = Thing {
    what: "the front matter",
    keys: &[
        must("title", Takes::Name, "Bends", "its title"),
        must("part", Takes::OneOf(|| Part::ALL.map(Part::word).to_vec()), "Lay out", "part of the course"),
        must("order", Takes::Whole, "3", "its place in the part"),
        must("minutes", Takes::Whole, "12", "reading time, questions included"),
        must("summary", Takes::Text, "Few bends, and wide ones.", "one or two sentences for the index"),
        may(
            "clauses",
            Takes::List(&Takes::Known(Known::Clause)),
            "none",
            "[bend-total]",
            "clauses that it rests on",
        ),
        must(
            "able",
            Takes::List(&Takes::Text),
            "[Count the bends of a route]",
            "what a reader can do after it",
        ),
        may("tools", Takes::List(&Takes::Text), "none", "[tape]", "what to bring"),
        may(
            "cautions",
            Takes::List(&Takes::Thing(&CAUTION)),
            "none",
            "[{warning: Solvent vapor burns.}]",
            "what can hurt someone",
        ),
        may(
            "task",
            Takes::Text,
            "none",
            "Lay the hall out with chalk.",
            "what is to be done on the bench or in the house",
        ),
    ],
};

const OTHER_SIGNAL: &str = "another signal word";

/// A caution is one of these, `- warning: words`.
pub static CAUTION: Thing = Thing {
    what: "a caution",
    keys: &[
        may(
            Signal::Danger.word(),
            Takes::Text,
            OTHER_SIGNAL,
            "Live wires behind this plate.",
            "kills, if it is not heeded",
        ),
        may(Signal::Warning.word(), Takes::Text, OTHER_SIGNAL, "Solvent vapor burns.", "may kill"),
        may(Signal::Caution.word(), Takes::Text, OTHER_SIGNAL, "Cut edges are sharp.", "may hurt"),
        may(Signal::Notice.word(), Takes::Text, OTHER_SIGNAL, "Primer stains.", "may spoil the work"),
    ],
};

/// The fenced blocks that the program reads itself, each by the word behind its fence.
pub static BLOCKS: Thing = Thing {
    what: "a lesson's blocks",
    keys: &[
        may(
            RACEWAY,
            Takes::Thing(&RACEWAY_BLOCK),
            NONE,
            "see a raceway to draw",
            "draws and inspects a route; at most 60 drawings in a lesson",
        ),
        may(
            PLAN,
            Takes::Thing(&PLAN_BLOCK),
            NONE,
            "see a plan to draw",
            "draws floors with what valves reach",
        ),
        may(
            PRACTICE,
            Takes::Thing(&PRACTICE_BLOCK),
            NONE,
            "see a sketch",
            "draws right and wrong of work by hand",
        ),
        may(
            TREE,
            Takes::Thing(&TREE_BLOCK),
            NONE,
            "see a tree",
            "draws questions and what their answers lead to",
        ),
        may(WORKED, Takes::Thing(&EXAMPLE), NONE, "see an example", "an example, its figures reckoned again"),
        may(
            QUESTIONS,
            Takes::List(&Takes::Thing(&QUESTION)),
            NONE,
            "see a question",
            "questions with their answers",
        ),
        may(SIGN_OFF, Takes::Thing(&CARD), NONE, "see a card", "practical work that a crew lead signs for"),
    ],
};

const NONE: &str = "none";
pub(super) const RACEWAY: &str = "raceway";
pub(super) const PLAN: &str = "plan";
pub(super) const PRACTICE: &str = "practice";
pub(super) const TREE: &str = "tree";
pub(super) const WORKED: &str = "worked";
pub(super) const QUESTIONS: &str = "questions";
pub(super) const SIGN_OFF: &str = "sign-off";

/// A `worked` block.
pub static EXAMPLE: Thing = Thing {
    what: "an example",
    keys: &[
        must("title", Takes::Text, "The tube between two sweeps", "what it works out"),
        must("steps", Takes::List(&Takes::Thing(&STEP)), "see a step", "one after the other"),
    ],
};

pub static STEP: Thing = Thing {
    what: "a step",
    keys: &[
        must("say", Takes::Text, "Each sweep takes off its laying length.", "what is done"),
        may(
            "sum",
            Takes::Text,
            "nothing is reckoned",
            "leg - 2 * laying(sweep-90)",
            "what the program reckons",
        ),
        may("is", Takes::Text, "nothing is reckoned", "4 ft 0 in", "what it comes to, held against the sum"),
        may("as", Takes::Id, "no later step can use it", "leg", "a name for the figure"),
    ],
};

/// An item of a `questions` block.
pub static QUESTION: Thing = Thing {
    what: "a question",
    keys: &[
        must("ask", Takes::Text, "May this route be built?", "the question"),
        may(
            "raceway",
            Takes::Either(&[Takes::Text, Takes::Thing(&RACEWAY_BLOCK)]),
            "nothing is drawn",
            "good",
            "what it speaks of, written in place or by the name of a block above",
        ),
        may(
            "right",
            Takes::Either(&[Takes::Text, Takes::List(&Takes::Text)]),
            OTHER_FORM,
            "\"Yes, it is at the limit\"",
            "the right option, or all right ones",
        ),
        may(
            "wrong",
            Takes::List(&Takes::Text),
            "must be there beside `right`",
            "[\"No, five bends are too many\"]",
            "the wrong options",
        ),
        may(
            "order",
            Takes::List(&Takes::Text),
            OTHER_FORM,
            "[Cut, Deburr, Clean, Prime]",
            "steps in their right order, three or more",
        ),
        may(
            "number",
            Takes::Thing(&NUMBER),
            OTHER_FORM,
            "{sum: path(good), within: 1 in}",
            "a figure to work out",
        ),
        may(
            "judge",
            Takes::Thing(&JUDGEMENT),
            OTHER_FORM,
            "{breaks: [bend-total]}",
            "a raceway to be judged",
        ),
        must("because", Takes::Text, "The angles add up to 360.", "why the answer is right"),
    ],
};

const OTHER_FORM: &str = "another form of question";

pub static NUMBER: Thing = Thing {
    what: "a number",
    keys: &[
        may("sum", Takes::Text, "`value` says it", "bends(good)", "what the program reckons"),
        may("unit", Takes::Text, "as the firm says it", "degrees", "the unit of the answer"),
        may("value", Takes::Text, "`sum` says it", "26-1/8 in", "a figure typed in place of a sum"),
        must("within", Takes::Text, "1/8 in", "how far off an answer may be"),
        may(
            "source",
            Takes::Text,
            "must be there beside `value`",
            "10 in x 2.613",
            "where a typed figure is from",
        ),
    ],
};

pub static JUDGEMENT: Thing = Thing {
    what: "a judgement",
    keys: &[must(
        "breaks",
        Takes::Either(&[Takes::OneOf(|| vec!["nothing"]), Takes::List(&Takes::Known(Known::Clause))]),
        "[bend-total]",
        "the clauses that the raceway breaks, or `nothing`",
    )],
};

/// A `sign-off` block.
pub static CARD: Thing = Thing {
    what: "a card",
    keys: &[
        must("title", Takes::Name, "One raceway, dry-fitted", "what is practised"),
        may("time", Takes::Text, "not said", "90 min", "how long it takes"),
        may("bring", Takes::List(&Takes::Text), "nothing", "[Saw, Deburrer, Tape]", "what to bring"),
        must("do", Takes::Text, "Cut and dry-fit the raceway.", "what is to be done"),
        must("seen", Takes::List(&Takes::Text), "[Every cut is square.]", "what the crew lead ticks"),
        may(
            "measured",
            Takes::List(&Takes::Thing(&MEASURED)),
            "nothing",
            "[{what: Hose path, sum: path(bench), within: 1/2 in}]",
            "what is measured, and what it should come to",
        ),
    ],
};

pub static MEASURED: Thing = Thing {
    what: "a measure",
    keys: &[
        must("what", Takes::Text, "Hose path", "what is measured"),
        may("sum", Takes::Text, "`value` says it", "path(bench)", "what the program reckons"),
        may("unit", Takes::Text, "as the firm says it", "degrees", "the unit of the figure"),
        may("value", Takes::Text, "`sum` says it", "26-1/8 in", "a figure typed in place of a sum"),
        must("within", Takes::Text, "1/2 in", "how far off it may be"),
        may(
            "source",
            Takes::Text,
            "must be there beside `value`",
            "the bench's drawing",
            "where a typed figure is from",
        ),
    ],
};

#[cfg(test)]
mod tests {
    use super::*;
    use crate::company::DRAWINGS;

    /// The sheet *Keys* is made from the tables, which therefore say the bound.
    #[test]
    fn the_table_of_blocks_says_how_many_drawings() {
        let raceway = BLOCKS.keys.iter().find(|key| key.name == RACEWAY).map_or("", |key| key.about);
        assert!(raceway.contains(&format!("at most {} drawings", DRAWINGS.most)), "{raceway}");
    }
}
