//! What the figures and the words rest on: one entry for each source, with what of it was read.
//!
//! Whatever a text of the program or of the demo cites has its entry here, and no entry stands that nothing
//! cites; `tests/sources.rs` holds the two against each other.
mod codes;
mod methods;
mod practice;

/// How a section of a source is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Known {
    /// Read, in a copy or a quotation; never in the publisher's own pages.
    Read,
    /// From memory: waits for a paper copy.
    Memory,
}

/// A section of a source, as texts cite it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Section {
    /// `R602.6`, `29 CFR 1926.416(a)(3)`, `ASTM F402`; of a book, its author's name.
    pub cited: &'static str,
    pub known: Known,
}

/// A source.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Source {
    pub id: &'static str,
    pub name: &'static str,
    /// Edition or year, and in what kind of copy it was seen.
    pub edition: &'static str,
    pub sections: &'static [Section],
    /// What of the program rests on it.
    pub rests: &'static str,
}

impl Source {
    /// Whether any of it is from memory: a section, or what the words beside say.
    pub fn from_memory(&self) -> bool {
        let told = [self.edition, self.rests].iter().any(|words| words.contains("from memory"));
        told || self.sections.iter().any(|section| section.known == Known::Memory)
    }
}

/// Every source: codes and rules first, then methods, then what a firm should hold its practice against.
pub fn sources() -> impl Iterator<Item = &'static Source> {
    codes::SOURCES.iter().chain(methods::SOURCES).chain(practice::SOURCES)
}

const fn read(cited: &'static str) -> Section {
    Section { cited, known: Known::Read }
}

const fn memory(cited: &'static str) -> Section {
    Section { cited, known: Known::Memory }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    #[test]
    fn a_source_whose_words_tell_of_memory_counts_as_such() {
        let told = |id| sources().find(|source| source.id == id).map(Source::from_memory);
        assert_eq!([told("acgih"), told("awg"), told("nec")], [Some(true), Some(false), Some(true)]);
    }

    #[test]
    fn every_entry_is_whole_and_stands_once() {
        let mut ids = BTreeSet::new();
        let mut cited = BTreeSet::new();
        for source in sources() {
            assert!(ids.insert(source.id), "{} stands twice", source.id);
            assert!(!source.sections.is_empty(), "{} has no section", source.id);
            for field in [source.name, source.edition, source.rests] {
                assert!(!field.trim().is_empty() && !field.ends_with('.'), "{}: {field:?}", source.id);
            }
            for section in source.sections {
                assert!(cited.insert(section.cited), "{} stands twice", section.cited);
            }
        }
    }
}
