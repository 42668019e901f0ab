//! Keys of the company's own file, of its words, and of a theme of its own.
use super::super::firm::{SPARE_KINDS, SPARE_PER};
use super::{Known, Takes, Thing, may, must, words};

pub static FIRM: Thing = Thing {
    what: "a company",
    keys: &[
        must("name", Takes::Name, "Saltmarsh Piping Co.", "the company, on every sheet"),
        may(
            "contact",
            Takes::Either(&[Takes::Text, Takes::List(&Takes::Text)]),
            "none",
            "[1 Quay Street, Port Ellery]",
            "lines under the name",
        ),
        may("telephone", Takes::Name, "a blank to fill in", "555-0142", "the number that an owner calls"),
        may(
            "crew-leads",
            Takes::List(&Takes::Name),
            "a blank to fill in",
            "[Wren Tolliver]",
            "who leads crews",
        ),
        may("paper", Takes::OneOf(|| vec!["letter", "a4"]), "letter", "a4", "what packets are printed on"),
        may(
            "lengths",
            Takes::OneOf(|| vec!["ft-in", "metric"]),
            "ft-in",
            "metric",
            "how lengths are written",
        ),
        may("theme", Takes::Id, "drafting", "drafting", "a folder under themes/"),
        must("standard", Takes::Known(Known::Revision), "\"2026-1\"", "the revision in force"),
        may(
            "spares",
            Takes::List(&Takes::Thing(&SPARE)),
            "none",
            "[{kind: bend, per: job, count: 1}]",
            "spare parts to load",
        ),
        may("pictures", Takes::Truth, "no", "yes", "whether each elevation is made as a PNG too"),
    ],
};

pub static SPARE: Thing = Thing {
    what: "a spare",
    keys: &[
        may("part", Takes::Known(Known::Part), "`kind` says it", "coupling", "id of a part in the catalog"),
        may(
            "kind",
            Takes::OneOf(|| words(&SPARE_KINDS)),
            "`part` says it",
            "bend",
            "every part of this kind",
        ),
        must("per", Takes::OneOf(|| words(&SPARE_PER)), "job", "for each of what"),
        must("count", Takes::Whole, "1", "how many"),
    ],
};

pub static WORD: Thing = Thing {
    what: "a word",
    keys: &[
        must("word", Takes::Name, "riser", "the word"),
        may("also", Takes::List(&Takes::Name), "none", "[drop]", "other words for it"),
        must("means", Takes::Text, "The steep first legs.", "what it means"),
        may("see", Takes::List(&Takes::Name), "none", "[leg]", "words of the list that belong to it"),
    ],
};

pub static THEME: Thing = Thing {
    what: "a theme",
    keys: &[must("on", Takes::Id, "drafting", "the theme that it stands on, a folder under themes/")],
};
