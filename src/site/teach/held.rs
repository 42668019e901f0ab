//! What the head of a lesson says, held against the lesson and against the standard in force.
use super::School;
use crate::lesson::{Front, Words};
use crate::text::{Diagnostic, nearest};

/// Words that are read in a minute, and what a question takes beside its words, minutes: common practice for
/// instructions, no source.
const WORDS_A_MINUTE: f64 = 200.0;
const QUESTION_MIN: f64 = 1.0;
/// A lesson may say so many minutes more or fewer.
const MINUTES_OFF: u32 = 2;

/// Minutes that so many words and questions take.
fn minutes(words: usize, questions: usize) -> u32 {
    (words as f64 / WORDS_A_MINUTE + questions as f64 * QUESTION_MIN).round() as u32
}

/// What is wrong with the head of a lesson: clauses that are not in force, minutes unlike its words.
pub fn head_faults(
    school: &School,
    (file, text): (&str, &str),
    front: &Front,
    (words, questions): (&str, usize),
) -> Vec<Diagnostic> {
    let unknown = front.clauses.iter().filter(|clause| school.standard.clause(&clause.text).is_none());
    let mut faults: Vec<Diagnostic> =
        unknown.map(|clause| not_in_force(school, file, text, clause)).collect();
    let takes = minutes(words.split_whitespace().count(), questions);
    let said = front.minutes.abs_diff(takes);
    if said > MINUTES_OFF {
        let at = Words { text: front.minutes.to_string(), line: front.minutes_at.0, col: front.minutes_at.1 };
        let message =
            format!("the lesson says {} minutes, and its words and questions take {takes}", front.minutes);
        faults.push(
            told((file, text), &at, message, format!("write `minutes: {takes}`, or cut the lesson"))
                .warning(),
        );
    }
    faults
}

fn not_in_force(school: &School, file: &str, text: &str, clause: &Words) -> Diagnostic {
    let revision = &school.standard.revision;
    let message = format!("revision {revision}, in force, has no clause `{}`", clause.text);
    let near = nearest(&clause.text, school.standard.clauses().map(|clause| clause.id.as_str()));
    let help = near.map_or("leave it out of `clauses`".to_owned(), |near| format!("write `{near}`"));
    told((file, text), clause, message, help)
}

fn told((file, text): (&str, &str), at: &Words, message: String, help: String) -> Diagnostic {
    let line = text.lines().nth(at.line.saturating_sub(1)).unwrap_or_default();
    Diagnostic {
        line: at.line,
        column: at.col,
        len: at.text.chars().count(),
        label: "here".into(),
        source_line: line.to_owned(),
        ..Diagnostic::of_file(file, message, Some(&help))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::packet::fixture::gull_cottage;
    use std::collections::BTreeMap;

    /// What is wrong with the head of a lesson of so many words.
    fn faults(minutes: u32, clause: &str, words: usize) -> Vec<Diagnostic> {
        let fixture = gull_cottage();
        let pictures = BTreeMap::new();
        let school = School {
            firm: &fixture.firm,
            catalog: &fixture.catalog,
            standard: &fixture.standards[1],
            lessons: Vec::new(),
            pictures: &pictures,
        };
        let text = format!(
            "---\ntitle: Bends\npart: Start\norder: 1\nminutes: {minutes}\nsummary: Few\nclauses: [{clause}]\nable: [Count]\n---\n\n{}\n",
            "word ".repeat(words)
        );
        school.teach(&[("content/lessons/bends.md".into(), text)], &[]).1
    }

    #[test]
    fn minutes_unlike_the_words_are_told_with_those_that_they_take() {
        assert_eq!(faults(10, "bend-total", 2000), []);
        assert_eq!(faults(12, "bend-total", 2000), []);
        let told = faults(13, "bend-total", 2000);
        assert_eq!((told.len(), told[0].line, told[0].column), (1, 5, 10), "{told:?}");
        assert!(told[0].message.contains("says 13 minutes, and its words and questions take 10"), "{told:?}");
        assert!(told[0].severity != crate::text::Severity::Error, "a warning stops nothing");
    }

    #[test]
    fn a_clause_that_is_not_in_force_is_told() {
        let told = faults(10, "bend-totl", 2000);
        assert_eq!((told.len(), told[0].line, told[0].column), (1, 7, 11), "{told:?}");
        assert!(told[0].message.contains("has no clause `bend-totl`"), "{told:?}");
        assert_eq!(told[0].help.as_deref(), Some("write `bend-total`"));
    }

    #[test]
    fn a_thousand_words_and_four_questions_take_nine_minutes() {
        assert_eq!((minutes(1000, 4), minutes(0, 0), minutes(100, 1)), (9, 0, 2));
    }
}
