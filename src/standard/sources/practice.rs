//! Standards of the craft: what joints are made by, and what "common practice" should be held against.
use super::{Source, memory, read};

pub(super) static SOURCES: &[Source] = &[
    Source {
        id: "f2647",
        name: "ASTM F2647, guide to installing this kind of system",
        edition: "title only; its text was not at hand",
        sections: &[memory("ASTM F2647")],
        rests: "nothing yet. A firm should hold every clause marked as common practice against it",
    },
    Source {
        id: "f2158",
        name: "ASTM F2158, plastic tube and fittings for this kind of system",
        edition: "scope in standards-store previews; its table of sizes was not found on any open page",
        sections: &[read("ASTM F2158")],
        rests: "that tube and fittings are made to it. Sizes of tube come from the firm's catalog and are to be held against it",
    },
    Source {
        id: "d2855",
        name: "ASTM D2855 and ASTM F3328, solvent-cement joints in PVC pipe",
        edition: "2015 and 2020 in abstracts; 1996 from memory",
        sections: &[memory("ASTM D2855"), read("ASTM F3328")],
        rests: "that primer, where it is used, and cement match the tube. It has cement put on the pipe and, lightly, in the socket; the firm's rule, on the tube only, \
                is common practice and differs from it",
    },
    Source {
        id: "f402",
        name: "ASTM F402, safe handling of solvent cements, primers and cleaners",
        edition: "title read; its content from memory",
        sections: &[memory("ASTM F402")],
        rests: "the caution on solvent cement",
    },
    Source {
        id: "drawing",
        name: "ISO 128, ISO 3098, ISO 5455, ISO 5456 and ISO 6412, technical drawings: lines, lettering, scales, pipelines",
        edition: "school texts and reference pages; the standards themselves were not at hand",
        sections: &[
            read("ISO 128"),
            read("ISO 3098"),
            read("ISO 5455"),
            memory("ISO 5456"),
            read("ISO 6412"),
        ],
        rests: "widths of lines, heights of letters, scales, projections, how a pipe behind another is broken",
    },
    Source {
        id: "csv",
        name: "RFC 4180, comma-separated values",
        edition: "2005, the publisher's page",
        sections: &[read("RFC 4180")],
        rests: "the material list as a file",
    },
    Source {
        id: "markdown",
        name: "CommonMark",
        edition: "0.31.2, its published examples",
        sections: &[read("CommonMark")],
        rests: "how lessons are written",
    },
];
