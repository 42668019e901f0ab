//! Numbers of clauses: given once in the firm's history and kept for ever.
//!
//! A number is a part and a place in it, `2.1`. A clause has the same number in every revision; what a dropped
//! clause leaves is a gap; a new clause takes the next free number of its part.
use super::super::kit::Reader;
use crate::measure::read_date;
use crate::text::{Node, Value, clip};
use std::fmt;
use std::ops::Range;

/// A clause's number.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(super) struct Number {
    pub part: u32,
    pub place: u32,
}

impl Number {
    /// `2.1`, without noughts before and without anything after.
    fn read(text: &str) -> Option<Number> {
        let (part, place) = text.split_once('.')?;
        let whole = |digits: &str| {
            let plain = digits.bytes().all(|b| b.is_ascii_digit()) && !digits.starts_with('0');
            digits.parse::<u32>().ok().filter(|_| plain && digits.len() <= 4)
        };
        Some(Number { part: whole(part)?, place: whole(place)? })
    }
}

impl fmt::Display for Number {
    fn fmt(&self, f: &mut fmt::Formatter) -> fmt::Result {
        write!(f, "{}.{}", self.part, self.place)
    }
}

/// A number as a revision gives it.
#[derive(Debug, Clone)]
struct Given {
    number: Number,
    clause: String,
    revision: String,
    /// Day and revision, by which the revisions follow each other.
    order: (jiff::civil::Date, String),
    /// `content/standard/2025-2.yaml:14:13`
    place: String,
}

/// Every number that the firm has given, in all its revisions.
#[derive(Debug, Clone, Default)]
pub(super) struct Numbers {
    given: Vec<Given>,
}

impl Numbers {
    /// Gathers the numbers of all revisions, the oldest first. What a file has wrong is not told here:
    /// reading the file tells it.
    pub fn of(files: &[(&str, &str)]) -> Numbers {
        let mut given: Vec<Given> = files.iter().flat_map(|(file, text)| given(file, text)).collect();
        given.sort_by(|a, b| a.order.cmp(&b.order));
        Numbers { given }
    }

    /// Every clause that has a number, by its id.
    pub fn ids(&self) -> impl Iterator<Item = &str> {
        self.given.iter().map(|given| given.clause.as_str())
    }

    /// Those of the revisions before one.
    fn before<'a>(&'a self, order: &'a (jiff::civil::Date, String)) -> impl Iterator<Item = &'a Given> {
        self.given.iter().filter(move |given| given.order < *order)
    }

    /// The highest place given in a part, 0 where none is.
    fn last_place(&self, part: u32) -> u32 {
        let places = self.given.iter().filter(|given| given.number.part == part);
        places.map(|given| given.number.place).max().unwrap_or(0)
    }

    /// The next part that no number names yet.
    fn next_part(&self) -> u32 {
        self.given.iter().map(|given| given.number.part).max().unwrap_or(0) + 1
    }
}

/// The numbers of one file, as far as it can be read.
fn given(file: &str, text: &str) -> Vec<Given> {
    let Ok((r, root)) = Reader::open(file, text, "a standard") else { return Vec::new() };
    let (Some(revision), Some(day)) =
        (word(&root, "revision"), word(&root, "effective").and_then(|day| read_date(day).ok()))
    else {
        return Vec::new();
    };
    let mut list = Vec::new();
    for clause in items(&root, "parts").iter().flat_map(|part| items(part, "clauses")) {
        let id = word(clause, "clause").filter(|id| *id != "by-eye").or(word(clause, "id"));
        let node = value(clause, "no");
        let number = node.and_then(text_of).and_then(Number::read);
        if let (Some(id), Some(node), Some(number)) = (id, node, number) {
            list.push(Given {
                number,
                clause: id.to_owned(),
                revision: revision.to_owned(),
                order: (day, revision.to_owned()),
                place: r.place_of(node).to_string(),
            });
        }
    }
    list
}

fn value<'n>(node: &'n Node, key: &str) -> Option<&'n Node> {
    let Value::Map(map) = &node.value else { return None };
    map.iter().find(|(name, _)| text_of(name) == Some(key)).map(|(_, value)| value)
}

fn text_of(node: &Node) -> Option<&str> {
    if let Value::Text(text) = &node.value { Some(text.trim()) } else { None }
}

fn word<'n>(node: &'n Node, key: &str) -> Option<&'n str> {
    value(node, key).and_then(text_of)
}

fn items<'n>(node: &'n Node, key: &str) -> &'n [Node] {
    match value(node, key).map(|node| &node.value) {
        Some(Value::List(list)) => list,
        _ => &[],
    }
}

/// The numbers of the revision that is being read, held against those before it.
pub(super) struct Numbering<'a> {
    numbers: &'a Numbers,
    order: Option<(jiff::civil::Date, String)>,
    /// Part of the clauses that are being read.
    part: u32,
    /// Numbers named in messages as free, so that two clauses are not offered the same.
    offered: Vec<Number>,
    seen: Vec<(Number, Range<usize>)>,
}

impl<'a> Numbering<'a> {
    /// For a revision of that day; without one nothing is held against earlier revisions.
    pub fn new(numbers: &'a Numbers, order: Option<(jiff::civil::Date, String)>) -> Numbering<'a> {
        Numbering { numbers, order, part: 0, offered: Vec::new(), seen: Vec::new() }
    }

    /// Begins a part: its number is the one that most of its clauses have, else the next that no part has.
    pub fn open(&mut self, clauses: &[Node]) -> u32 {
        let parts: Vec<u32> =
            clauses.iter().filter_map(|clause| Some(Number::read(word(clause, "no")?)?.part)).collect();
        let most = parts.iter().max_by_key(|part| {
            (parts.iter().filter(|other| other == part).count(), std::cmp::Reverse(**part))
        });
        self.part = most.copied().unwrap_or_else(|| self.numbers.next_part());
        self.part
    }

    /// The number of a clause; a missing, bad, moved or second-hand one is told.
    pub fn number(&mut self, r: &mut Reader, item: &Node, named: &Node, id: Option<&str>) -> Option<Number> {
        let kept = id.and_then(|id| self.kept(id));
        let Some(node) = value(item, "no") else {
            let help = match &kept {
                Some(kept) => {
                    format!("write `no: \"{}\"`, its number since revision {}", kept.number, kept.revision)
                }
                None => format!("write `no: \"{}\"`, the next free number", self.free()),
            };
            r.fail(named.bytes.clone(), "this clause has no `no`", "expected its number").help = Some(help);
            return None;
        };
        let text = r.text(node, "a clause's number, like 2.1")?;
        let Some(number) = Number::read(text) else {
            let free = self.free();
            let message = format!("`{}` is not a clause's number", clip(text));
            r.fail(node.bytes.clone(), message, "expected a part and a place in it, like 2.1").help =
                Some(format!("the next free number here is `no: \"{free}\"`"));
            return None;
        };
        if let Some(kept) = kept.filter(|kept| kept.number != number) {
            let message = format!(
                "`{}` is clause {} since revision {} ({}), and a clause keeps its number",
                kept.clause, kept.number, kept.revision, kept.place
            );
            r.fail(node.bytes.clone(), message, "expected the number it has").help =
                Some(format!("write `no: \"{}\"`", kept.number));
            return None;
        }
        self.first(r, node, number, id)
    }

    /// Tells a number that another clause has, in this revision or in one before.
    fn first(&mut self, r: &mut Reader, node: &Node, number: Number, id: Option<&str>) -> Option<Number> {
        if let Some((_, first)) = self.seen.iter().find(|(seen, _)| *seen == number).cloned() {
            let help = format!("write `no: \"{}\"`, the next free number", self.free());
            let message = format!("the number {number} is given twice");
            r.fail_twice(node.bytes.clone(), first, message, &help);
            return None;
        }
        self.seen.push((number, node.bytes.clone()));
        let order = self.order.as_ref();
        let owner = order.and_then(|order| {
            self.numbers
                .before(order)
                .find(|given| given.number == number && Some(given.clause.as_str()) != id)
        });
        if let Some(owner) = owner {
            let message = format!(
                "{number} is the number of `{}` since revision {} ({}), and is never given again",
                owner.clause, owner.revision, owner.place
            );
            let help = format!("write `no: \"{}\"`, the next free number", self.free());
            r.fail(node.bytes.clone(), message, "expected a number of its own").help = Some(help);
            return None;
        }
        Some(number)
    }

    /// The number that an earlier revision gave a clause.
    fn kept(&self, id: &str) -> Option<Given> {
        self.numbers.before(self.order.as_ref()?).find(|given| given.clause == id).cloned()
    }

    /// The next number of the part that no revision has given.
    fn free(&mut self) -> Number {
        let offered = self.offered.iter().filter(|number| number.part == self.part);
        let place = offered.map(|number| number.place).max().unwrap_or(0);
        let place = place.max(self.numbers.last_place(self.part)) + 1;
        let number = Number { part: self.part, place };
        self.offered.push(number);
        number
    }
}

#[cfg(test)]
mod tests {
    use super::super::{ClauseKind, read_standards};
    use super::*;
    use crate::text::Diagnostic;

    const KINDS: [ClauseKind; 0] = [];

    fn revision(name: &str, clauses: &[(&str, &str)]) -> String {
        let rows: String = clauses
            .iter()
            .map(|(id, no)| {
                let no = if no.is_empty() { String::new() } else { format!("no: \"{no}\", ") };
                format!(
                    "      - {{clause: by-eye, id: {id}, {no}per: job, when: load, level: must, tick: T, because: B}}\n"
                )
            })
            .collect();
        format!(
            "revision: \"{name}\"\neffective: {name}-01\ntitle: T\nparts:\n  - title: P\n    clauses:\n{rows}"
        )
    }

    fn faults(old: &[(&str, &str)], new: &[(&str, &str)]) -> Vec<Diagnostic> {
        let (old, new) = (revision("2025-02", old), revision("2026-01", new));
        // The newer file is handed over first: the order is that of the days.
        read_standards(&[("b.yaml", &new), ("a.yaml", &old)], &KINDS).1
    }

    #[test]
    fn shared_clauses_agree_and_new_ones_follow() {
        assert_eq!(faults(&[("cut", "1.1"), ("glue", "1.2")], &[("glue", "1.2"), ("new", "1.3")]), []);
    }

    #[test]
    fn a_missing_number_is_told_with_the_next_free_one_gaps_kept() {
        let found = faults(&[("cut", "1.1"), ("gone", "1.7")], &[("cut", "1.1"), ("new", ""), ("newer", "")]);
        let help: Vec<_> = found.iter().filter_map(|fault| fault.help.as_deref()).collect();
        assert_eq!(
            help,
            ["write `no: \"1.8\"`, the next free number", "write `no: \"1.9\"`, the next free number"]
        );
        assert_eq!((found[0].file.as_str(), found[0].line), ("b.yaml", 8));
    }

    #[test]
    fn a_missing_number_of_an_old_clause_is_the_one_it_has() {
        let found = faults(&[("cut", "1.4")], &[("cut", "")]);
        assert_eq!(found[0].help.as_deref(), Some("write `no: \"1.4\"`, its number since revision 2025-02"));
    }

    #[test]
    fn a_moved_and_a_reused_number_name_the_earlier_revision_and_its_line() {
        let found = faults(&[("cut", "1.1"), ("gone", "1.2")], &[("cut", "1.3"), ("new", "1.2")]);
        let said: Vec<_> = found.iter().map(|fault| fault.message.as_str()).collect();
        assert_eq!(said.len(), 2, "{said:?}");
        assert!(said[0].contains("`cut` is clause 1.1 since revision 2025-02 (a.yaml:7:"), "{}", said[0]);
        assert!(
            said[1].contains("1.2 is the number of `gone` since revision 2025-02 (a.yaml:8:"),
            "{}",
            said[1]
        );
        assert_eq!(found[1].help.as_deref(), Some("write `no: \"1.4\"`, the next free number"));
    }

    #[test]
    fn numbers_have_one_form() {
        for good in ["1.1", "2.10", "12.34"] {
            assert_eq!(Number::read(good).unwrap().to_string(), good);
        }
        for bad in ["", "1", "1.", ".1", "01.1", "1.01", "1.0", "1.1.1", "a.b", "1.-1", "1.99999", "+1.1"] {
            assert_eq!(Number::read(bad), None, "{bad}");
        }
    }
}
