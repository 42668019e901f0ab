//! Fenced blocks that the program reads itself: a route, a floor or a sketch to draw, questions, a card to sign.

use std::ops::Range;

use pulldown_cmark::{CodeBlockKind, CowStr, Event, Tag};

use super::Pass;
use crate::company::DRAWINGS;
use crate::lesson::amount::Amount;
use crate::lesson::ask::{self, Raceway, Sum, SumOf};
use crate::lesson::keys::{BLOCKS, PLAN, PRACTICE, QUESTIONS, RACEWAY, SIGN_OFF, TREE, WORKED};
use crate::lesson::render::{self, Judged, Refusal, Speaks};
use crate::lesson::words::{SetWords, Words};
use crate::lesson::{pieces, sign_off, worked};
use crate::text::{Diagnostic, clip, nearest};

/// What stands in the place of a drawing past the most.
const TOO_MANY: &str = "the lesson has too many";

/// The block that is open, and its text so far.
pub(super) struct Block<'a> {
    kind: &'a str,
    span: Range<usize>,
    pub(super) text: String,
}

impl<'a> Pass<'a, '_> {
    pub(super) fn open_fence(&mut self, info: CowStr<'a>, span: Range<usize>) {
        let word = info.split_whitespace().next().unwrap_or("");
        let Some(kind) = BLOCKS.names().into_iter().find(|kind| *kind == word) else {
            if let Some(known) = nearest(word, BLOCKS.names()).filter(|_| !word.is_empty()) {
                let at = self.find_first(word, &span);
                let help = Some(format!("write `{known}`"));
                self.problem(at, format!("there is no block `{}`", clip(word)), help);
            }
            return self.out.push(Event::Start(Tag::CodeBlock(CodeBlockKind::Fenced(info))));
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
            RACEWAY | PLAN | PRACTICE | TREE => self.drawn(&block, line),
            WORKED => self.worked(&block, line),
            SIGN_OFF => self.card(&block, line),
            QUESTIONS => self.questions(&block, line),
            _ => String::new(),
        };
        self.block_html(markup);
    }

    /// Counts a drawing; false where the lesson has its most already.
    fn one_more(&mut self, at: Range<usize>) -> bool {
        self.drawings += 1;
        let fits = self.drawings <= DRAWINGS.most;
        if !fits {
            self.past_the_most.get_or_insert(at);
        }
        fits
    }

    /// Tells a lesson of too many drawings, at the first that is not made.
    pub(super) fn check_drawings(&mut self) {
        if let Some(at) = self.past_the_most.take() {
            let (message, help) = DRAWINGS.past(self.drawings);
            self.problem(at, message, Some(help.into()));
        }
    }

    pub(super) fn drawn(&mut self, block: &Block<'a>, line: usize) -> String {
        if !self.one_more(self.find_first(block.kind, &block.span)) {
            return pieces::missing("drawing", TOO_MANY);
        }
        let Some(hand) = self.hand.as_deref_mut() else {
            return String::new();
        };
        let drawn = match block.kind {
            PLAN => hand.plan(&block.text, line),
            PRACTICE => hand.practice(&block.text, line),
            TREE => hand.tree(&block.text, line),
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
        let Some(hand) = self.hand.as_deref_mut() else { return String::new() };
        match worked::read(self.source.file, &block.text, line, hand) {
            Ok(example) => worked::set(&example, &mut |words| ask::Setter::words(self, words).html),
            Err(faults) => self.not_made("worked example", faults),
        }
    }

    fn questions(&mut self, block: &Block<'a>, line: usize) -> String {
        match ask::read(self.source.file, &block.text, line) {
            Ok(asked) => {
                let first = self.lesson.answers.len() + 1;
                let set = ask::set(&asked, first, self);
                self.lesson.answers.extend(set.answers);
                self.lesson.asks.extend(set.ids);
                set.html
            }
            Err(faults) => self.not_made("questions", faults),
        }
    }

    fn card(&mut self, block: &Block<'a>, line: usize) -> String {
        match sign_off::read(self.source.file, &block.text, line) {
            Ok(card) => {
                let (html, title) = sign_off::set(&card, self.lesson.cards.len() + 1, self);
                self.lesson.cards.push(title);
                html
            }
            Err(faults) => self.not_made("card", faults),
        }
    }

    fn not_made(&mut self, what: &str, faults: Vec<Diagnostic>) -> String {
        let message = faults.first().map_or("", |fault| &fault.message).to_owned();
        self.lesson.faults.extend(faults);
        pieces::missing(what, &message)
    }

    /// Tells what is wrong at the place where words begin.
    fn fault_at(&mut self, words: &Words, message: String, help: Option<String>) {
        let at = self.source.byte_at(words.line, words.col);
        let len = words.text.lines().next().unwrap_or("").len();
        let fault = self.source.diagnostic(at..at + len, message, "here".into());
        self.lesson.faults.push(Diagnostic { help, ..fault });
    }

    /// Tells a refusal: of the raceway where that stands, of what is asked where that does.
    fn refuse(&mut self, refusal: Refusal, raceway: &Raceway, asked: &Words) {
        match (refusal, raceway) {
            (Refusal::Faults(faults), _) => self.lesson.faults.extend(faults),
            (Refusal::Raceway(why), Raceway::Named(name)) => self.fault_at(name, why.message, why.help),
            (Refusal::Raceway(why) | Refusal::Asked(why), _) => self.fault_at(asked, why.message, why.help),
        }
    }
}

impl ask::Setter for Pass<'_, '_> {
    fn words(&mut self, words: &Words) -> SetWords {
        let Some(hand) = self.hand.as_deref_mut() else { return SetWords::default() };
        let (set, faults) = render::words(self.source.file, words, hand);
        self.lesson.faults.extend(faults);
        self.lesson.text.push_str(&set.text);
        set
    }

    fn line(&mut self, words: &Words) -> SetWords {
        let set = self.words(words);
        if !set.is_inline() {
            let help = "write it as one paragraph, without a list or a blank line";
            self.fault_at(words, "these words are more than a line".into(), Some(help.into()));
        }
        set
    }

    fn drawing(&mut self, text: &str, line: usize) -> String {
        let at = self.source.byte_at(line, 1);
        let words = self.source.text.get(at..).and_then(|rest| rest.lines().next()).unwrap_or("");
        if !self.one_more(at..at + words.len()) {
            return pieces::missing("drawing", TOO_MANY);
        }
        match self.hand.as_deref_mut().map(|hand| hand.drawing(text, line)) {
            Some(Ok(html)) => html,
            Some(Err(faults)) => self.not_made("drawing", faults),
            None => String::new(),
        }
    }

    fn amount(&mut self, sum: &Sum) -> Option<(Amount, f64)> {
        let hand = self.hand.as_deref_mut()?;
        let say = hand.say();
        let (at, amount) = match &sum.of {
            SumOf::Reckoned { sum, unit } => {
                let amount = worked::reckon(&sum.text, hand).map(|figure| Amount::of(figure, unit, say));
                (sum, amount)
            }
            SumOf::Typed { value, .. } => {
                let wrong = || {
                    (format!("`{}` is no figure", value.text), Some("write a number with its unit".into()))
                };
                (value, Amount::read(&value.text, say).ok_or_else(wrong))
            }
        };
        let amount = match amount {
            Ok(amount) => amount,
            Err((message, help)) => {
                self.fault_at(at, message, help);
                return None;
            }
        };
        let within = amount.within(&sum.within.text);
        if within.is_none() {
            let message = format!("the tolerance `{}` is in another unit than the number", sum.within.text);
            let help =
                format!("write it in {}", if amount.unit.is_empty() { "no unit" } else { &amount.unit });
            self.fault_at(&sum.within, message, Some(help));
        }
        Some((amount, within?))
    }

    fn judged(&mut self, raceway: &Raceway, breaks: &[String], at: &Words) -> Option<Judged> {
        let begins = self.source.byte_at(at.line, at.col);
        if !self.one_more(begins..begins + at.text.lines().next().unwrap_or("").len()) {
            return None;
        }
        match self.hand.as_deref_mut()?.judge(speaks(raceway), breaks) {
            Ok(judged) => Some(judged),
            Err(refusal) => {
                self.refuse(refusal, raceway, at);
                None
            }
        }
    }
}

fn speaks(raceway: &Raceway) -> Speaks<'_> {
    match raceway {
        Raceway::Written { text, line } => Speaks::Written { text, line: *line },
        Raceway::Named(name) => Speaks::Named(&name.text),
    }
}
