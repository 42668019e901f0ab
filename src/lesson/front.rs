//! The front matter of a lesson, and its parting from the body.

use super::keys::{CAUTION, LESSON};
use super::words::Words;
use crate::company::keys::Takes;
use crate::company::{Fields, Reader, cut_words};
use crate::text::{Diagnostic, Node, Source, Value, clip, turns};

const FENCE: &str = "---";

/// A lesson's text parted at its fences. `front` and `body` are pieces of that text, unchanged; neither
/// holds a fence.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Split<'a> {
    pub front: &'a str,
    /// How many lines stand above the front text.
    pub front_lines_above: usize,
    pub body: &'a str,
    /// How many lines stand above the body.
    pub body_lines_above: usize,
}

/// What a lesson says of itself.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Front {
    pub title: String,
    pub part: Part,
    /// The place among the lessons of its part, from 1.
    pub order: u32,
    /// Reading time with the questions, in minutes.
    pub minutes: u32,
    /// Line and column at which they stand.
    pub minutes_at: (usize, usize),
    /// One or two sentences for the sheet index.
    pub summary: Words,
    /// The ids of the clauses that the lesson teaches.
    pub clauses: Vec<Words>,
    /// What a reader can do after it.
    pub able: Vec<Words>,
    pub tools: Vec<Words>,
    pub cautions: Vec<Caution>,
    /// What is to be done on the bench or in the house.
    pub task: Option<Words>,
}

/// The parts of the course, in their order.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Part {
    Start,
    LayOut,
    RoughIn,
    Prove,
    Afterwards,
}

impl Part {
    pub const ALL: [Part; 5] = [Part::Start, Part::LayOut, Part::RoughIn, Part::Prove, Part::Afterwards];

    /// `Rough-in`, as it is written and read.
    pub fn word(self) -> &'static str {
        match self {
            Part::Start => "Start",
            Part::LayOut => "Lay out",
            Part::RoughIn => "Rough-in",
            Part::Prove => "Trim and prove",
            Part::Afterwards => "Afterwards",
        }
    }
}

/// A hazard of the work that the lesson is about.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Caution {
    pub signal: Signal,
    pub words: Words,
}

/// The signal words of ANSI Z535.6: danger will kill or maim, warning could, caution could hurt slightly,
/// a notice is about things alone.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Signal {
    Danger,
    Warning,
    Caution,
    Notice,
}

impl Signal {
    const ALL: [(&str, Signal); 4] = [
        ("danger", Signal::Danger),
        ("warning", Signal::Warning),
        ("caution", Signal::Caution),
        ("notice", Signal::Notice),
    ];

    /// `danger`
    pub const fn word(self) -> &'static str {
        match self {
            Signal::Danger => "danger",
            Signal::Warning => "warning",
            Signal::Caution => "caution",
            Signal::Notice => "notice",
        }
    }
}

/// Parts a lesson at its `---` fences. The first must be the first line; a byte-order mark is let pass.
///
/// ```
/// let parts = longsweep::lesson::front::split("bends.md", "---\ntitle: Bends\n---\nFew and wide.\n").unwrap();
/// assert_eq!(parts.front, "title: Bends\n");
/// assert_eq!((parts.body, parts.body_lines_above), ("Few and wide.\n", 3));
/// ```
pub fn split<'a>(file: &str, text: &'a str) -> Result<Split<'a>, Box<Diagnostic>> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let mut at = 0;
    let mut front_start = None;
    for (number, line) in text.split_inclusive('\n').enumerate() {
        let is_fence = line.trim_end() == FENCE;
        let end = at + line.len();
        match front_start {
            None if is_fence => front_start = Some(end),
            None => return Err(Box::new(no_front(file, text))),
            Some(start) if is_fence => {
                return Ok(Split {
                    front: &text[start..at],
                    front_lines_above: 1,
                    body: &text[end..],
                    body_lines_above: number + 1,
                });
            }
            Some(_) => {}
        }
        at = end;
    }
    Err(Box::new(if front_start.is_some() { never_closed(file, text) } else { no_front(file, text) }))
}

/// Reads the front text of a lesson; everything that is wrong with it is told. `clauses` are the ids of those
/// that it may name.
pub fn parse(file: &str, split: &Split, clauses: &[&str]) -> Result<Front, Vec<Diagnostic>> {
    let wanted = "front matter: title, part, order, minutes, summary, able";
    let (mut r, root) = Reader::open_below(file, split.front_lines_above, split.front, wanted)?;
    let front = front(&mut r, &root, clauses);
    r.finish(front)
}

/// Words of the front text that a ` #` may have cut.
pub fn cut(file: &str, split: &Split) -> Vec<Diagnostic> {
    cut_words(file, split.front_lines_above, split.front, &Takes::Thing(&LESSON))
}

/// The first character of a lesson that cannot be seen, and makes what follows it read otherwise than it is
/// written.
pub fn unseen(file: &str, text: &str) -> Option<Diagnostic> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let (at, c) = text.char_indices().find(|(_, c)| turns(*c) && !matches!(c, '\n' | '\r' | '\t'))?;
    let message = "a character stands here that cannot be seen or printed";
    let source = Source::new(file, text);
    let mut fault = source.diagnostic(at..at + c.len_utf8(), message.into(), "mend this".into());
    fault.help = Some("type the line again in plain letters".into());
    Some(fault)
}

fn front(r: &mut Reader, root: &Node, known: &[&str]) -> Option<Front> {
    let f = r.thing(root, &LESSON)?;
    let title = r.need(&f, "title").and_then(|n| r.name(n, "a title"));
    let parts = Part::ALL.map(|part| (part.word(), part));
    let part = r.need(&f, "part").and_then(|n| r.one_of(n, "a part of the course", &parts));
    let order = whole(r, &f, "order", "the place of the lesson");
    let minutes = whole(r, &f, "minutes", "the reading time");
    let minutes_at = f.get("minutes").map(|n| r.place_of(n)).map(|place| (place.line, place.column));
    let summary = r.need(&f, "summary").and_then(|n| Words::read(r, n, "a summary"));
    let clauses = f.get("clauses").map_or(Some(Vec::new()), |n| {
        let items = r.list(n, "a list of clauses, like [bend-total, no-dip]")?;
        let ids = items.iter().map(|item| {
            r.known(item, "clause", "the standard", known)?;
            Words::read(r, item, "the id of a clause")
        });
        ids.collect()
    });
    let able = r.need(&f, "able").and_then(|n| {
        let able = Words::list(r, n, "what a reader can do after it", "a thing to be able to do")?;
        if able.is_empty() {
            r.fail(r.mark_of(n), "`able` names nothing", "expected a thing to be able to do").help =
                Some("say what a reader can do after this lesson".into());
        }
        Some(able)
    });
    let tools = f.get("tools").map(|n| Words::list(r, n, "a list of tools", "a tool"));
    let cautions = f.get("cautions").map(|n| cautions(r, n));
    let task = f.get("task").map(|n| Words::read(r, n, "a task"));
    Some(Front {
        title: title?.to_owned(),
        part: part?,
        able: able?,
        tools: tools.unwrap_or(Some(Vec::new()))?,
        cautions: cautions.unwrap_or(Some(Vec::new()))?,
        task: task.map_or(Some(None), |task| task.map(Some))?,
        order: order?,
        minutes: minutes?,
        minutes_at: minutes_at?,
        summary: summary?,
        clauses: clauses?,
    })
}

/// Each is `- warning: words`.
fn cautions(r: &mut Reader, node: &Node) -> Option<Vec<Caution>> {
    let items = r.list(node, "a list of cautions, like `- warning: Solvent vapor burns.`")?;
    let read: Vec<Option<Caution>> = items.iter().map(|item| caution(r, item)).collect();
    read.into_iter().collect()
}

fn caution(r: &mut Reader, item: &Node) -> Option<Caution> {
    let f = r.thing(item, &CAUTION)?;
    let mut given = Signal::ALL.into_iter().filter_map(|(word, signal)| Some((signal, f.get(word)?)));
    let (first, second) = (given.next(), given.next());
    if let (Some((signal, node)), None) = (first, second) {
        return Some(Caution { signal, words: Words::read(r, node, "a caution")? });
    }
    if !matches!(&item.value, Value::Map(map) if first.is_none() && !map.is_empty()) {
        r.fail(r.mark_of(item), "a caution has one signal word", "expected one of the four").help =
            Some("write each on a line of its own: `- warning: Solvent vapor burns.`".into());
    }
    None
}

/// A whole number of nought or more that must be given.
fn whole(r: &mut Reader, f: &Fields, key: &str, what: &str) -> Option<u32> {
    const MOST: u32 = 10_000;
    let node = r.need(f, key)?;
    let text = r.text(node, what)?;
    if let Some(number) = text.parse().ok().filter(|number| *number <= MOST) {
        return Some(number);
    }
    let message = format!("{what} is `{}`, which is not a whole number from 0 up", clip(text));
    r.fail(r.mark_of(node), message, "expected a whole number").help =
        Some(match text.split(' ').next().filter(|first| first.parse::<u32>().is_ok()) {
            Some(number) if text.trim() != number => format!("write `{number}` alone"),
            _ => "write a whole number, like 8".into(),
        });
    None
}

fn no_front(file: &str, text: &str) -> Diagnostic {
    let first = text.lines().next().unwrap_or("").trim_end().len();
    let message = "the lesson does not begin with front matter";
    let mut fault = Source::new(file, text).diagnostic(0..first, message.into(), "expected `---`".into());
    let help = "begin the file with a line `---`, the lesson's title and the rest, and a second line `---`";
    fault.help = Some(help.into());
    fault
}

fn never_closed(file: &str, text: &str) -> Diagnostic {
    let message = "the front matter that begins here is never closed";
    let mut fault =
        Source::new(file, text).diagnostic(0..FENCE.len(), message.into(), "no second `---`".into());
    fault.help = Some("put a line `---` between the front matter and the lesson".into());
    fault
}

#[cfg(test)]
mod tests {
    use super::*;

    const GOOD: &str = "---\ntitle: Bends\npart: lay out\norder: 1\nminutes: 8\nsummary: Few and wide\nclauses: [bend-total]\nable: [Count]\n---\n\nText\n";

    fn parsed(front: &str) -> Result<Front, Vec<Diagnostic>> {
        let split = Split { front, front_lines_above: 1, body: "", body_lines_above: 9 };
        parse("a.md", &split, &["bend-total"])
    }

    fn fault(front: &str) -> Diagnostic {
        parsed(front).unwrap_err().remove(0)
    }

    #[test]
    fn parts_front_and_body_and_counts_the_lines_above_each() {
        let parts = split("a.md", GOOD).unwrap();
        assert_eq!(parts.body, "\nText\n");
        assert_eq!((parts.front_lines_above, parts.body_lines_above), (1, 9));
        let front = parse("a.md", &parts, &["bend-total"]).unwrap();
        assert_eq!(front.title, "Bends");
        assert_eq!((front.part, front.order, front.minutes), (Part::LayOut, 1, 8));
        assert_eq!(front.clauses[0].text, "bend-total");
    }

    #[test]
    fn reads_the_line_ends_of_every_system_and_a_byte_order_mark() {
        let text = format!("\u{feff}{}", GOOD.replace('\n', "\r\n"));
        let parts = split("a.md", &text).unwrap();
        assert_eq!(parse("a.md", &parts, &["bend-total"]).unwrap().summary.text, "Few and wide");
        assert_eq!(parts.body, "\r\nText\r\n");
    }

    #[test]
    fn a_lesson_may_be_all_front() {
        let parts = split("a.md", "---\ntitle: x\n---").unwrap();
        assert_eq!((parts.body, parts.body_lines_above), ("", 3));
    }

    #[test]
    fn a_rule_in_the_body_is_not_a_fence() {
        assert_eq!(split("a.md", "---\na: b\n---\nx\n\n---\n").unwrap().body, "x\n\n---\n");
    }

    #[test]
    fn missing_and_open_front_matter_are_problems_on_line_one() {
        assert!(split("a.md", "# Bends\n").unwrap_err().message.contains("does not begin"));
        assert!(split("a.md", "").unwrap_err().message.contains("does not begin"));
        let open = split("a.md", "---\ntitle: x\n").unwrap_err();
        assert_eq!((open.line, open.column, open.len), (1, 1, 3));
        assert!(open.message.contains("never closed"));
    }

    #[test]
    fn a_misspelt_key_is_told_with_its_place_and_the_key_meant() {
        let found = parsed("title: x\norder: 1\nminuts: 8\nsummary: y\n").unwrap_err();
        let problem = found.into_iter().find(|fault| fault.message.contains("minuts")).unwrap();
        assert_eq!((problem.line, problem.column, problem.len), (4, 1, 6));
        assert!(problem.help.unwrap().starts_with("write `minutes`"));
    }

    #[test]
    fn a_part_that_the_course_has_not_is_told_with_the_one_meant() {
        let text = "title: x\norder: 1\nminutes: 8\nsummary: y\nable: [z]\npart: Roughin\n";
        let problem = fault(text);
        assert_eq!((problem.line, problem.column, problem.len), (7, 7, 7));
        assert!(problem.message.contains("`Roughin`"), "{}", problem.message);
        assert!(problem.help.unwrap().contains("`Rough-in`"));
    }

    #[test]
    fn faults_are_told_in_words_of_this_house() {
        let cases = [
            ("title: x\norder: 1\nminutes: 8\n", (2, 1), "the front matter has no `summary`"),
            (
                "title: x\norder: first\nminutes: 8\nsummary: y\n",
                (3, 8),
                "the place of the lesson is `first`",
            ),
            ("title: x\norder: 1.5\nminutes: 8\nsummary: y\n", (3, 8), "the place of the lesson is `1.5`"),
            ("title: x\norder: 1\nminutes: 8\nsummary: z\ntitle: y\n", (6, 1), "`title` is given twice"),
            (
                "title:\norder: 1\nminutes: 8\nsummary: y\n",
                (2, 6),
                "nothing is written where a title should be",
            ),
            ("- title\n", (2, 1), "this is a list, not the front matter"),
            ("title: [x]\norder: 1\nminutes: 8\nsummary: y\n", (2, 8), "this is a list, not a title"),
            (
                "title: x\norder: 1\nminutes: 8\nsummary: y\nclauses: bend-total\n",
                (6, 10),
                "this is text, not a list of clauses",
            ),
            ("title: a: b\n", (2, 9), "a colon stands among the words of `title`"),
            ("\n", (2, 1), "nothing is written here"),
        ];
        for (text, place, message) in cases {
            let rest = if text.starts_with("title") { "part: Start\nable: [x]\n" } else { "" };
            let problem = fault(&format!("{text}{rest}"));
            assert!(problem.message.contains(message), "{text}: {}", problem.message);
            assert_eq!((problem.line, problem.column), place, "{text}");
        }
    }
}
