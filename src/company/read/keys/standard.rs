//! Keys of a standard.
use super::super::super::rules::PRACTICES;
use super::super::part::{GRIPS, ROUGH_INS, SEALS, SWITCHES};
use super::super::standard::{LEVELS, PER, PHASES};
use super::{Key, Known, Takes, Thing, may, must, words};

pub static STANDARD: Thing = Thing {
    what: "a standard",
    keys: &[
        must("revision", Takes::Id, "\"2026-1\"", "name of the revision"),
        must("effective", Takes::Date, "2026-01-15", "day from which it holds"),
        must("title", Takes::Name, "Raceway installation standard", "its title"),
        may("scope", Takes::Text, "none printed", "Every raceway that we lay.", "what it covers"),
        may(
            "terms",
            Takes::List(&Takes::Either(&[Takes::Name, Takes::Thing(&TERM)])),
            "none printed",
            "[riser, {term: bench raceway, means: The one in the shop.}]",
            "words that it defines: those of content/words.yaml by name, its own with their meaning",
        ),
        must("parts", Takes::List(&Takes::Thing(&PART)), "see a part", "its parts"),
        may(
            "changes",
            Takes::List(&Takes::Thing(&CHANGE)),
            "no reasons printed",
            "see a change",
            "why clauses changed since the revision before",
        ),
    ],
};

pub static TERM: Thing = Thing {
    what: "a term",
    keys: &[
        must("term", Takes::Name, "bench raceway", "the word"),
        must("means", Takes::Text, "The one in the shop.", "what it means"),
        may(
            "unlike",
            Takes::Text,
            "content/words.yaml has no such word",
            "The builder says it so.",
            "why it means something else here than in content/words.yaml; the glossary shows both",
        ),
    ],
};

pub static PART: Thing = Thing {
    what: "a part",
    keys: &[
        must("title", Takes::Name, "The raceway", "its title"),
        must("clauses", Takes::List(&Takes::Clause), "see a computed clause, a clause by eye", "its clauses"),
    ],
};

pub static CHANGE: Thing = Thing {
    what: "a change",
    keys: &[
        must("clause", Takes::Text, "bend-total", "id of the clause"),
        must("because", Takes::Text, "Two hoses hung up in May.", "why it changed"),
    ],
};

const NO: Key =
    must("no", Takes::Form("^[0-9]+\\.[0-9]+$"), "\"2.1\"", "its number, kept in every later revision");
const TITLE: Key = may("title", Takes::Name, "the program's own", "Bend total", "its heading");
const LEVEL: Key = must("level", Takes::OneOf(|| words(&LEVELS)), "must", "what a breach means");
const BECAUSE: Key = must("because", Takes::Text, "Each bend grips the hose anew.", "why");
const SOURCE: Key = may("source", Takes::Text, "the firm's own", "Common practice.", "where it comes from");

/// What every computed clause takes beside its own figure.
pub static COMPUTED: Thing = Thing {
    what: "a computed clause",
    keys: &[
        must("clause", Takes::Known(Known::Clause), "bend-total", "the clause that the program measures"),
        NO,
        TITLE,
        LEVEL,
        must("text", Takes::Text, "All bends together turn by no more than 360 degrees.", "the rule"),
        BECAUSE,
        SOURCE,
        may(
            "waivable",
            Takes::Truth,
            "as the program has it for this clause",
            "no",
            "whether a job may set it aside",
        ),
    ],
};

pub static BY_EYE: Thing = Thing {
    what: "a clause by eye",
    keys: &[
        must("clause", Takes::OneOf(|| vec!["by-eye"]), "by-eye", "that a person ticks it"),
        NO,
        must("id", Takes::Id, "deburr", "its id"),
        may("title", Takes::Name, "its id", "Deburr", "its heading"),
        LEVEL,
        may("text", Takes::Text, "the line to tick", "Every cut end is deburred inside and out.", "the rule"),
        BECAUSE,
        SOURCE,
        may("waivable", Takes::Truth, "yes", "no", "whether a job may set it aside"),
        must("tick", Takes::Text, "Deburred inside and out", "the line in the checklist"),
        must("per", Takes::OneOf(|| words(&PER)), "joint", "how often it is ticked"),
        must("when", Takes::OneOf(|| words(&PHASES)), "rough-in", "at which phase"),
        may("for", Takes::Thing(&FOR), "every valve", "{seal: door}", "valves that it concerns"),
        may(
            "picture",
            Takes::OneOf(|| words(&PRACTICES)),
            "none",
            "deburr",
            "the sketch of its right and wrong",
        ),
    ],
};

pub static FOR: Thing = Thing {
    what: "a choice of valves",
    keys: &[
        may("seal", Takes::OneOf(|| words(&SEALS)), "any", "door", "what seals them"),
        may("grips", Takes::OneOf(|| words(&GRIPS)), "any", "anywhere", "where they grip"),
        may("switch", Takes::OneOf(|| words(&SWITCHES)), "any", "door", "what switches the unit"),
        may("rough-in", Takes::OneOf(|| words(&ROUGH_INS)), "any", "frame", "what is set at rough-in"),
    ],
};
