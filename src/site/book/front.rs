//! What stands round the clauses: title page, the words the standard uses, what it refers to, approval.
use super::leaves::{Block, Piece};
use super::measured::Setter;
use crate::company::{Definition, Meant, Rule, Standard};
use crate::site::input::Set;
use crate::standard::clause as computed;
use crate::standard::sources::{Known, Source, sources};

/// The title page.
pub fn title(set: &Set, standard: &Standard) -> Piece {
    let clauses = standard.clauses().count();
    let force = if in_force(set, standard) { "In force" } else { "Not in force" };
    let mut lines = vec![
        format!("Revision {}", standard.revision),
        format!("Effective {}", standard.effective),
        force.to_owned(),
        format!("{clauses} clauses in {} parts", standard.parts.len()),
    ];
    if !in_force(set, standard) {
        lines.push(TODAY.into());
    }
    let block = Block::Title {
        title: standard.title.clone(),
        lines,
        firm: set.firm.name.clone(),
        contact: set.firm.contact.clone(),
    };
    Piece::new(block, 0.0)
}

/// What a revision that is not in force keeps of its own, and what is printed from the files of today.
const TODAY: &str = "Clauses, their limits, reasons and sources are those of this revision. How they are measured, what \
                     terms of the firm's list mean, editions and pictures are as of today.";

fn in_force(set: &Set, standard: &Standard) -> bool {
    set.in_force().is_some_and(|now| now.revision == standard.revision)
}

/// What the terms mean; those that the firm's list explains are as of today, which is said where the revision is
/// not in force.
pub fn terms(set: &Set, standard: &Standard, setter: &Setter) -> Vec<Piece> {
    let shared = standard.terms.iter().any(|term| matches!(term.meant, Meant::Shared));
    let intro = if shared && !in_force(set, standard) {
        setter.paragraphs("Words as of today, from the firm's list: it is kept once, and not by revision.")
    } else {
        Vec::new()
    };
    let entries = standard.terms.iter().flat_map(|term| setter.entries(&term.term, &meaning(term)));
    intro.into_iter().chain(entries).collect()
}

/// The words of a standard, each with what follows from it.
const WORDS: [(&str, &str); 14] = [
    (
        "must",
        "What the clause says is kept. Broken, it fails the inlet, the trunk or the job, and nothing is built by it.",
    ),
    (
        "should",
        "What the clause says is kept unless there is a reason. Broken, it is a caution: it is looked at, and the reason is known. A should with a second limit fails past that one.",
    ),
    ("limit", "The figure of a clause, typed once, here. A measure equal to it keeps it."),
    (
        "set aside",
        "Broken, and let stand all the same, with a reason and a name written into the job's file before the work is done. Also called waived. A clause marked *never set aside* is kept or the line is not built.",
    ),
    (
        "hold",
        "A must that nobody can judge yet, because something is not known or is for somebody else to say. Nothing is built by it until the hold is cleared.",
    ),
    (
        "cleared",
        "A hold that a paper has answered: which paper, whose, of what day. It shows on that finding only, and is never taken for a figure.",
    ),
    (
        "not checked",
        "A should that lacks what it needs, or a clause with nothing here to judge. Never a pass.",
    ),
    (
        "pass, caution, fail",
        "Measured and kept; a should broken; a must broken. An inlet, a trunk and a job are stamped by the worst of theirs: fail, hold, caution, waived, pass, in that order.",
    ),
    ("may be built", "Said of a job with nothing failed and nothing on hold, and of no other."),
    ("computed", "The program measures it from the job's file, by the rule under *How measured*."),
    ("by eye", "Only a person can tell. It is ticked in the packet, by whoever looked."),
    ("common practice", "Installers do it so, and no source was found for it."),
    ("from memory", "Nobody has held it against the paper yet."),
    (
        "local code",
        "The code and the licensing law of the place, and the authority having jurisdiction. They go before this standard wherever they ask for more.",
    ),
];

/// The words it uses.
pub fn words(setter: &Setter) -> Vec<Piece> {
    let intro = "These words mean what is said here, in small letters or capitals. They are this standard's own and do not \
                 stand for the words of any other document.";
    let entries = WORDS.iter().flat_map(|(word, means)| setter.entries(word, means));
    setter.paragraphs(intro).into_iter().chain(entries).collect()
}

/// What a term means, and that it means something else in the firm's list of words, where it does.
pub fn meaning(term: &Definition) -> String {
    match &term.meant {
        Meant::Unlike(why) => {
            let means = term.means.trim_end();
            format!("{means} Elsewhere we use the word in another sense: {why}")
        }
        Meant::Shared | Meant::Own => term.means.clone(),
    }
}

/// What it refers to, with the edition that was seen.
pub fn references(setter: &Setter, standard: &Standard) -> Vec<Piece> {
    let intro = "The clauses rest on what is listed here, in the edition named. *Read* means read in a copy or a quotation, \
                 since the publishers' own pages were not at hand; *from memory* means that nobody has held it against the \
                 paper yet. Codes differ by edition and place: the local code decides.";
    let told = told(standard);
    let cited = sources().filter_map(|source| reference(source, &told));
    let entries = cited.flat_map(|(name, words)| setter.paragraphs(&format!("**{name}.** {words}")));
    setter.paragraphs(intro).into_iter().chain(entries).collect()
}

/// All words of the clauses, in which sources are cited.
fn told(standard: &Standard) -> String {
    let mut told = String::new();
    for clause in standard.clauses() {
        let measures = match clause.rule {
            Rule::Computed(_) => computed(&clause.id).map_or("", |known| known.measures),
            Rule::ByEye(_) => "",
        };
        for words in [clause.text.as_str(), &clause.because, &clause.source, measures] {
            told.push_str(words);
            told.push('\n');
        }
    }
    told
}

/// A source with the sections of it that these words cite; `None` where they cite none.
fn reference(source: &Source, told: &str) -> Option<(&'static str, String)> {
    let those = |known: Known| {
        let cited = source.sections.iter().filter(|s| s.known == known && cites(told, s.cited));
        cited.map(|section| section.cited).collect::<Vec<_>>().join(", ")
    };
    let (read, memory) = (those(Known::Read), those(Known::Memory));
    let mut words = format!("Edition: {}.", source.edition);
    for (how, cited) in [("Read", &read), ("From memory", &memory)] {
        if !cited.is_empty() {
            words.push_str(&format!(" {how}: {cited}."));
        }
    }
    (!read.is_empty() || !memory.is_empty()).then_some((source.name, words))
}

/// Whether a section is cited, and not only a longer one that begins like it.
fn cites(told: &str, cited: &str) -> bool {
    told.match_indices(cited).any(|(at, _)| {
        let after = told[at + cited.len()..].chars().next();
        let deeper = told[at + cited.len()..].starts_with('.')
            && told[at + cited.len() + 1..].starts_with(|c: char| c.is_ascii_digit());
        !deeper && after.is_none_or(|c| !(c.is_alphanumeric() || c == '('))
    })
}

/// Who stands for it, names left blank.
pub fn approval(setter: &Setter, standard: &Standard) -> Vec<Piece> {
    let intro = format!(
        "By their names below they have read revision {}, of {} clauses, from the first page to this one, and stand for it \
         from {} on. Where the standard is part of a contract, the last row is for whom it was handed to.",
        standard.revision,
        standard.clauses().count(),
        standard.effective
    );
    let rows = [
        "Written by",
        "Checked by, crew lead",
        "Approved, for the firm",
        "Received by, builder or inspector",
    ];
    let mut pieces = setter.paragraphs(&intro);
    pieces.push(setter.signs(rows.map(str::to_owned).to_vec()));
    pieces
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_section_is_not_cited_by_a_longer_one() {
        assert!(cites("IRC R302.11, item 4", "R302.11"));
        assert!(!cites("IRC R502.8.1", "R502.8"));
        assert!(!cites("210.23(A)(1)", "210.23(A)"));
        assert!(cites("by R502.8. The", "R502.8"));
        assert!(!cites("ATSDRx", "ATSDR"));
    }
}
