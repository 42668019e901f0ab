//! The letters that begin every mark of a line: `H` in tube `H1`, bend `HB1`, joint `HJ1`, crossing `HX1`.

/// Letters that would be misread: I and O are digits to a hurried eye; B, J, R and X already say bend,
/// joint, run and crossing.
const NEVER: [char; 6] = ['I', 'O', 'B', 'J', 'R', 'X'];

/// Why letters cannot mark a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unfit {
    /// Not one or two letters of the plain alphabet.
    NotLetters,
    /// Holds a letter that means something else in a mark.
    Taken(char),
}

/// What keeps a mark, in capitals, from being used; `None` for one that is fit.
///
/// ```
/// use longsweep::company::{Unfit, unfit};
/// assert_eq!(unfit("H"), None);
/// assert_eq!(unfit("HB"), Some(Unfit::Taken('B'))); // HB1 is bend 1 of line H
/// assert_eq!(unfit("HALL"), Some(Unfit::NotLetters));
/// ```
pub fn unfit(mark: &str) -> Option<Unfit> {
    if !(1..=2).contains(&mark.len()) || !mark.chars().all(|c| c.is_ascii_uppercase()) {
        return Some(Unfit::NotLetters);
    }
    mark.chars().find(|c| NEVER.contains(c)).map(Unfit::Taken)
}

/// Letters for every line: those given, and for the rest the first of its id that are free.
///
/// Takes for each line its id and the mark that the job gives it, which is fit and given once. A line
/// without one takes the first fit letter of its id, else its first two that are free, else any that are.
pub fn given_letters(lines: &[(&str, Option<&str>)]) -> Vec<String> {
    let mut taken: Vec<String> = lines.iter().filter_map(|(_, mark)| mark.map(str::to_owned)).collect();
    let letters = |(id, mark): &(&str, Option<&str>)| match mark {
        Some(mark) => (*mark).to_owned(),
        None => {
            let found = free(id, &taken);
            taken.push(found.clone());
            found
        }
    };
    lines.iter().map(letters).collect()
}

fn free(id: &str, taken: &[String]) -> String {
    let fit = |c: &char| c.is_ascii_uppercase() && !NEVER.contains(c);
    let own: Vec<char> = id.chars().map(|c| c.to_ascii_uppercase()).filter(fit).collect();
    let all: Vec<char> = ('A'..='Z').filter(fit).collect();
    let pairs = |a: char| move |b: &char| format!("{a}{b}");
    let single = own.iter().take(1).map(char::to_string);
    // Made as they are asked for: nearly always the first is free.
    let mut ladder = single
        .chain(own.iter().take(1).flat_map(|a| own[1..].iter().map(pairs(*a))))
        .chain(all.iter().map(char::to_string))
        .chain(all.iter().flat_map(|a| all.iter().map(pairs(*a))));
    // Four hundred lines would have to be marked before the last is reached.
    ladder.find(|mark| !taken.contains(mark)).unwrap_or_else(|| format!("A{}", taken.len()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_come_from_the_id_and_are_told_apart() {
        let lines = [("hall", None), ("hobby", None), ("bath", None), ("main", None), ("hh", Some("H"))];
        assert_eq!(given_letters(&lines), ["HA", "HY", "A", "M", "H"]);
    }

    #[test]
    fn ids_without_a_fit_letter_take_any_that_is_free() {
        assert_eq!(given_letters(&[("42", None), ("büro-7", None), ("7", None)]), ["A", "C", "D"]);
        let many: Vec<String> = (0..60).map(|n| format!("{n}")).collect();
        let asked: Vec<(&str, Option<&str>)> = many.iter().map(|id| (id.as_str(), None)).collect();
        let mut found = given_letters(&asked);
        assert!(found.iter().all(|mark| unfit(mark).is_none()));
        found.sort();
        found.dedup();
        assert_eq!(found.len(), 60);
    }
}
