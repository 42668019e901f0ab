//! The sheet of sources: what the figures and clauses rest on, and what of it was read.
use super::input::Set;
use super::ways::{Placed, SOURCES, cover_nth, cover_series};
use crate::packet::here::Here;
use crate::packet::sheet::{Cell, Sheet};
use crate::standard::sources::{Known, Source, sources};
use serde::Serialize;

/// The sources, all words decided.
#[derive(Debug, Clone, Serialize)]
pub struct Sources {
    pub standing: Vec<String>,
    pub rows: Vec<SourceRow>,
}

/// A source.
#[derive(Debug, Clone, Serialize)]
pub struct SourceRow {
    pub name: &'static str,
    pub edition: &'static str,
    /// Sections read, and those from memory; either may be empty.
    pub read: String,
    pub memory: String,
    pub rests: &'static str,
}

/// The sheet.
pub fn sheet(set: &Set, here: &Here) -> Sheet<super::Body> {
    let cells = vec![Cell::new("Sources of", set.firm.name.clone())];
    let body = super::Body::Sources(Sources { standing: standing(), rows: sources().map(row).collect() });
    let sheet = Placed { series: &cover_series(), nth: cover_nth(SOURCES), here }.sheet(
        set,
        "Sources".into(),
        cells,
        body,
    );
    Sheet { under_title: "What was read, and what is from memory.".into(), ..sheet }
}

/// What the list is worth, in plain words.
fn standing() -> Vec<String> {
    let memory = sources().filter(|source| source.from_memory()).count();
    vec![
        "Read means read in a copy, a quotation or a page that tells of it; the publishers' own pages were not at hand. \
         Codes differ by edition and place: the local code and the authority having jurisdiction decide."
            .into(),
        format!(
            "From memory means that nobody has held it against paper yet. {memory} of the {} sources below are so in whole or in part. \
             Get the paper before you build on one of them.",
            sources().count()
        ),
        "Common practice means that installers do it so and that no source was found for it. Two standards exist that a firm \
         should hold such clauses against: ASTM F2647, a guide to installing this kind of system, and ASTM F2158, for its tube and \
         fittings. Buy both before you change a limit."
            .into(),
    ]
}

fn row(source: &'static Source) -> SourceRow {
    let those = |known| {
        let cited =
            source.sections.iter().filter(|section| section.known == known).map(|section| section.cited);
        cited.collect::<Vec<_>>().join(", ")
    };
    SourceRow {
        name: source.name,
        edition: source.edition,
        read: those(Known::Read),
        memory: those(Known::Memory),
        rests: source.rests,
    }
}
