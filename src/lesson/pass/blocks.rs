//! Fenced blocks that the program reads itself: a route to draw, and questions.

use std::ops::Range;

use pulldown_cmark::{CodeBlockKind, CowStr, Event, Options, Tag};

use super::Pass;
use crate::lesson::render::Blocks;
use crate::lesson::{pieces, questions, worked};
use crate::text::{Diagnostic, Source, nearest};

const RACEWAY: &str = "raceway";
const PLAN: &str = "plan";
const WORKED: &str = "worked";
const QUESTIONS: &str = "questions";

/// The block that is open, and its text so far.
pub(super) struct Block<'a> {
    kind: &'a str,
    span: Range<usize>,
    pub(super) text: String,
}

impl<'a> Pass<'a, '_> {
    pub(super) fn open_fence(&mut self, info: CowStr<'a>, span: Range<usize>) {
        let word = info.split_whitespace().next().unwrap_or("");
        let kind = match word {
            RACEWAY => RACEWAY,
            PLAN => PLAN,
            WORKED => WORKED,
            QUESTIONS => QUESTIONS,
            _ => {
                if let Some(known) =
                    nearest(word, [RACEWAY, PLAN, WORKED, QUESTIONS]).filter(|_| !word.is_empty())
                {
                    let at = self.find_first(word, &span);
                    let help = Some(format!("write `{known}`"));
                    self.problem(at, format!("there is no block `{word}`"), help);
                }
                return self.out.push(Event::Start(Tag::CodeBlock(CodeBlockKind::Fenced(info))));
            }
        };
        self.block = Some(Block { kind, span, text: String::new() });
    }

    pub(super) fn find_first(&self, word: &str, span: &Range<usize>) -> Range<usize> {
        let found = self.source.text.get(span.clone()).and_then(|text| text.find(word));
        found.map_or(span.clone(), |at| span.start + at..span.start + at + word.len())
    }

    pub(super) fn fill(&mut self, block: Block<'a>) {
        let line = self.source.line(block.span.start) + 1;
        let markup = match block.kind {
            RACEWAY | PLAN => self.drawn(&block, line),
            WORKED => self.worked(&block, line),
            _ => self.questions(&block, line),
        };
        self.block_html(markup);
    }

    pub(super) fn drawn(&mut self, block: &Block<'a>, line: usize) -> String {
        let Some(hand) = self.hand.as_deref_mut() else {
            return String::new();
        };
        let drawn = match block.kind {
            PLAN => hand.plan(&block.text, line),
            _ => hand.raceway(&block.text, line),
        };
        match drawn {
            Ok(markup) if markup.ends_with('\n') => markup,
            Ok(markup) => markup + "\n",
            Err(faults) => {
                let message = faults.first().map_or("", |fault| &fault.message).to_owned();
                self.lesson.faults.extend(faults);
                pieces::missing("drawing", &message)
            }
        }
    }

    fn worked(&mut self, block: &Block<'a>, line: usize) -> String {
        let Some(hand) = self.hand.as_deref_mut() else {
            return String::new();
        };
        match worked::read(self.source.file, &block.text, line, hand) {
            Ok(example) => worked::set(&example, &mut |words| {
                self.words_of_question(&words.text, words.place.line, words.place.column)
            }),
            Err(faults) => {
                let message = faults.first().map_or("", |fault| &fault.message).to_owned();
                self.lesson.faults.extend(faults);
                pieces::missing("worked example", &message)
            }
        }
    }

    pub(super) fn questions(&mut self, block: &Block<'a>, line: usize) -> String {
        let asked = match questions::read(self.source.file, &block.text, line) {
            Ok(asked) => asked,
            Err(faults) => {
                let message = faults.first().map_or("", |fault| &fault.message).to_owned();
                self.lesson.faults.extend(faults);
                return pieces::missing("questions", &message);
            }
        };
        questions::set(&asked, &mut |words, line, col| self.words_of_question(words, line, col))
    }

    /// A question's words are Markdown too, formulas and links included. What is wrong in them is told
    /// at the place where they begin.
    pub(super) fn words_of_question(&mut self, words: &str, line: usize, col: usize) -> String {
        let hand: Option<&mut dyn Blocks> = match &mut self.hand {
            Some(hand) => Some(&mut **hand),
            None => None,
        };
        let lesson = Pass::new(Source::new(self.source.file, words), hand).run(Options::ENABLE_MATH);
        let faults = lesson.faults.into_iter().map(|fault| Diagnostic { line, column: col, ..fault });
        self.lesson.faults.extend(faults);
        self.lesson.text.push_str(&lesson.text);
        let html = lesson.html.trim_end();
        match html.strip_prefix("<p>").and_then(|html| html.strip_suffix("</p>")) {
            Some(inner) if !inner.contains("<p>") => inner.to_owned(),
            _ => html.to_owned(),
        }
    }
}
