//! One pass over the events of a lesson's Markdown, changing what the extensions change and letting the
//! rest through as it is.

mod blocks;
mod linked;
mod tables;

use std::ops::Range;

use pulldown_cmark::{CodeBlockKind, CowStr, Event, Options, Parser, Tag, TagEnd, TextMergeWithOffset, html};

use super::clean::{self, Kept};
use super::math;
use super::notes::Notes;
use super::pieces;
use super::render::{Blocks, Heading, Lesson, Picture};
use crate::text::{Slugs, Source, escape, figures_whole};
use blocks::Block;
use tables::Table;

/// A lesson on its way. Without a hand it is plain CommonMark: no ids, and links and blocks as written.
pub(super) struct Pass<'a, 'h> {
    source: Source<'a>,
    hand: Option<&'h mut dyn Blocks>,
    out: Vec<Event<'a>>,
    /// What was being written when a note began; notes are set below the text.
    outside_note: Vec<(CowStr<'a>, Range<usize>, Vec<Event<'a>>)>,
    lesson: Lesson,
    slugs: Slugs,
    notes: Notes<'a>,
    heading: Option<OpenHeading>,
    block: Option<Block<'a>>,
    table: Table,
    tables: usize,
    alerts: usize,
    /// Within an image only the words of the events count.
    images: usize,
    /// The link that is open was refused, so that its end is written otherwise.
    refused_link: bool,
    within: Vec<(String, Range<usize>)>,
    /// Words of YAML, in which HTML is shown as written.
    words_alone: bool,
    /// Markup of our own, kept apart from the firm's.
    kept: Kept,
    /// The block of the firm's own HTML that is open, with where each of its lines stands in the source.
    firm_block: Option<(String, Vec<(usize, usize)>)>,
    /// Whether the firm wrote HTML of its own.
    firm_html: bool,
    /// The picture that is open.
    picture: Option<OpenPicture>,
    /// Drawings asked for so far, and the place of the first that is too many.
    drawings: usize,
    past_the_most: Option<Range<usize>>,
}

/// A picture whose words are still to come.
struct OpenPicture {
    /// Its place in the source.
    span: Range<usize>,
    /// `None` where it was refused.
    found: Option<Picture>,
    title: String,
    words: String,
}

struct OpenHeading {
    /// Where its start stands among the events; the id is put in when its words are known.
    at: usize,
    level: u8,
    text: String,
}

impl<'a, 'h> Pass<'a, 'h> {
    pub(super) fn new(source: Source<'a>, hand: Option<&'h mut dyn Blocks>) -> Pass<'a, 'h> {
        Pass {
            kept: Kept::of(source.text),
            firm_block: None,
            firm_html: false,
            picture: None,
            drawings: 0,
            past_the_most: None,
            source,
            hand,
            out: Vec::new(),
            outside_note: Vec::new(),
            lesson: Lesson::default(),
            slugs: Slugs::default(),
            notes: Notes::default(),
            heading: None,
            block: None,
            table: Table::default(),
            tables: 0,
            alerts: 0,
            images: 0,
            refused_link: false,
            within: Vec::new(),
            words_alone: false,
        }
    }

    /// For words of YAML, in which HTML is shown as written.
    pub(super) fn of_words(self) -> Pass<'a, 'h> {
        Pass { words_alone: true, ..self }
    }

    pub(super) fn run(mut self, options: Options) -> Lesson {
        let events = Parser::new_ext(self.source.text, options).into_offset_iter();
        for (event, span) in TextMergeWithOffset::new(events) {
            self.take(event, span);
        }
        self.check_links_within();
        self.check_drawings();
        for note in self.finish_notes() {
            let note = self.own_event(note);
            self.out.push(note);
        }
        let mut html = String::new();
        html::push_html(&mut html, self.out.into_iter());
        self.lesson.html = self.kept.restore(&html, self.firm_html);
        self.lesson.faults.sort_by_key(|fault| (fault.line, fault.column));
        self.lesson
    }

    fn take(&mut self, event: Event<'a>, span: Range<usize>) {
        if self.images > 0 {
            return self.take_in_image(event);
        }
        match event {
            Event::Start(tag) => self.open(tag, span),
            Event::End(tag) => self.close(tag),
            Event::Text(text) => self.take_text(text, span),
            Event::Code(code) => {
                self.word(&code);
                self.inline(format!("<code>{}</code>", escape(&code)));
            }
            Event::InlineMath(formula) => self.formula(&formula, false, span),
            Event::DisplayMath(formula) => self.formula(&formula, true, span),
            Event::FootnoteReference(name) => {
                let mark = self.notes.refer(name);
                self.inline(mark);
            }
            Event::Html(markup) | Event::InlineHtml(markup) if self.words_alone => {
                self.word(&markup);
                self.out.push(Event::Text(markup));
            }
            Event::SoftBreak | Event::HardBreak => {
                self.word(" ");
                self.out.push(event);
            }
            Event::Html(html) | Event::InlineHtml(html) if self.hand.is_some() => self.firm_html(html, span),
            other => self.out.push(other),
        }
    }

    fn take_in_image(&mut self, event: Event<'a>) {
        match &event {
            Event::Start(Tag::Image { .. }) => self.images += 1,
            Event::End(TagEnd::Image) => self.images -= 1,
            Event::Text(text) | Event::Code(text) => {
                self.word(text);
                if let Some(picture) = &mut self.picture {
                    picture.words.push_str(text);
                }
            }
            Event::InlineMath(formula) | Event::DisplayMath(formula) => {
                if let Some(picture) = &mut self.picture {
                    picture.words.push_str(&format!("${formula}$"));
                }
            }
            _ => {}
        }
        match self.hand.is_some() {
            true if self.images == 0 => self.close_picture(),
            true => {}
            false => self.out.push(event),
        }
    }

    /// HTML that the firm wrote: one tag in a line, or a line of a block.
    fn firm_html(&mut self, html: CowStr<'a>, span: Range<usize>) {
        self.firm_html = true;
        if let Some((block, lines)) = &mut self.firm_block {
            lines.push((block.len(), span.start));
            block.push_str(&html);
            return;
        }
        for left in clean::left_out(&html) {
            self.left_out(left, span.start);
        }
        if clean::stays(&html) {
            self.out.push(Event::InlineHtml(html));
        }
    }

    fn close_firm_block(&mut self) {
        let Some((block, lines)) = self.firm_block.take() else { return };
        for left in clean::left_out(&block) {
            let (from, start) =
                lines.iter().rev().find(|(from, _)| *from <= left.at.start).copied().unwrap_or((0, 0));
            let at = left.at.start - from..left.at.end - from;
            self.left_out(clean::LeftOut { at, ..left }, start);
        }
        self.out.push(Event::Html(clean::contained(&block).into()));
    }

    /// Tells what is left out; the page stands without it.
    fn left_out(&mut self, left: clean::LeftOut, start: usize) {
        let at = start + left.at.start..start + left.at.end;
        let mut told = self.source.diagnostic(at, left.message, "left out".into()).warning();
        told.help = Some(left.help);
        self.lesson.faults.push(told);
    }

    fn open(&mut self, tag: Tag<'a>, span: Range<usize>) {
        match tag {
            Tag::Heading { level, .. } if self.hand.is_some() => self.open_heading(level as u8, tag),
            Tag::BlockQuote(Some(kind)) => {
                self.alerts += 1;
                self.block_html(pieces::alert_open(kind, self.alerts));
            }
            Tag::CodeBlock(CodeBlockKind::Fenced(info)) if self.hand.is_some() => self.open_fence(info, span),
            Tag::Link { .. } if self.hand.is_some() => self.open_link(tag, span),
            Tag::Image { .. } => self.open_image(tag, span),
            Tag::FootnoteDefinition(name) => {
                let outside = std::mem::take(&mut self.out);
                self.outside_note.push((name, span, outside));
            }
            Tag::Table(alignments) => self.open_table(alignments),
            Tag::HtmlBlock if self.words_alone => self.out.push(Event::Start(Tag::Paragraph)),
            Tag::HtmlBlock => {
                // Other blocks in a list item begin on a line of their own; the library's writer forgets
                // it for this one.
                if matches!(self.out.last(), Some(Event::Start(Tag::Item))) {
                    self.block_html("\n".to_owned());
                }
                if self.hand.is_some() {
                    self.firm_block = Some(Default::default());
                }
                self.out.push(Event::Start(tag));
            }
            Tag::TableHead => self.open_row(true),
            Tag::TableRow => self.open_row(false),
            Tag::TableCell => self.open_cell(),
            other => self.out.push(Event::Start(other)),
        }
    }

    fn close(&mut self, tag: TagEnd) {
        match tag {
            TagEnd::Heading(_) => self.close_heading(tag),
            TagEnd::BlockQuote(Some(_)) => self.block_html(pieces::ALERT_CLOSE.to_owned()),
            TagEnd::CodeBlock => match self.block.take() {
                Some(block) => self.fill(block),
                None => self.out.push(Event::End(tag)),
            },
            TagEnd::Link if self.refused_link => {
                self.refused_link = false;
                self.inline("</span>".to_owned());
            }
            TagEnd::HtmlBlock if self.words_alone => self.out.push(Event::End(TagEnd::Paragraph)),
            TagEnd::HtmlBlock => {
                self.close_firm_block();
                self.out.push(Event::End(tag));
            }
            TagEnd::FootnoteDefinition => self.close_note(),
            TagEnd::Table => self.block_html(pieces::TABLE_CLOSE.to_owned()),
            TagEnd::TableHead => self.block_html("</tr></thead><tbody>\n".to_owned()),
            TagEnd::TableRow => self.block_html("</tr>\n".to_owned()),
            TagEnd::TableCell => self.close_cell(),
            other => self.out.push(Event::End(other)),
        }
        if ends_a_block(tag) {
            self.end_line();
        }
    }

    fn end_line(&mut self) {
        let words = self.lesson.text.trim_end_matches(' ').len();
        self.lesson.text.truncate(words);
        if !self.lesson.text.is_empty() && !self.lesson.text.ends_with('\n') {
            self.lesson.text.push('\n');
        }
    }

    fn take_text(&mut self, text: CowStr<'a>, span: Range<usize>) {
        if let Some(block) = &mut self.block {
            block.text.push_str(&text);
            return;
        }
        self.word(&text);
        if self.hand.is_some() {
            self.check_leftovers(&text, &span);
        }
        // The specification's examples escape a double quote, which the library's writer leaves bare.
        match figures_whole(&escape(&text)) {
            Some(whole) if self.hand.is_some() => self.inline(whole),
            _ if text.contains('"') => self.inline(escape(&text)),
            _ => self.out.push(Event::Text(text)),
        }
    }

    fn word(&mut self, text: &str) {
        self.lesson.text.push_str(text);
        if let Some(heading) = &mut self.heading {
            heading.text.push_str(text);
        }
    }

    fn inline(&mut self, markup: String) {
        let event = self.own_event(Event::InlineHtml(markup.into()));
        self.out.push(event);
    }

    fn block_html(&mut self, markup: String) {
        let event = self.own_event(Event::Html(markup.into()));
        self.out.push(event);
    }

    /// Markup of our own, kept apart while the firm's is cleaned.
    fn own_event(&mut self, event: Event<'a>) -> Event<'a> {
        match event {
            Event::Html(markup) if self.hand.is_some() => {
                Event::Html(self.kept.keep(markup.into_string()).into())
            }
            Event::InlineHtml(markup) if self.hand.is_some() => {
                Event::InlineHtml(self.kept.keep(markup.into_string()).into())
            }
            other => other,
        }
    }

    fn problem(&mut self, span: Range<usize>, message: String, help: Option<String>) {
        let mut fault = self.source.diagnostic(span, message, "here".into());
        fault.help = help;
        self.lesson.faults.push(fault);
    }

    fn open_heading(&mut self, level: u8, tag: Tag<'a>) {
        self.heading = Some(OpenHeading { at: self.out.len(), level, text: String::new() });
        self.out.push(Event::Start(tag));
    }

    fn close_heading(&mut self, tag: TagEnd) {
        if let Some(OpenHeading { at, level, text }) = self.heading.take() {
            let text = text.trim().to_owned();
            let given = self.slugs.give(&text);
            if let Some(Event::Start(Tag::Heading { id, .. })) = self.out.get_mut(at) {
                *id = Some(given.clone().into());
            }
            self.lesson.headings.push(Heading { level, id: given, text });
        }
        self.out.push(Event::End(tag));
    }

    fn formula(&mut self, formula: &str, display: bool, span: Range<usize>) {
        let marks = if display { 2 } else { 1 };
        match math::mathml(formula, display) {
            // A formula cannot break as a line of words does, so each moves sideways within a box of its own;
            // one that stands alone is wide enough to be reached with the keyboard for it.
            Ok(markup) if display => self.inline(format!(
                "<span class=\"formula\" tabindex=\"0\" role=\"group\" aria-label=\"formula\">{markup}</span>"
            )),
            Ok(markup) => self.inline(format!("<span class=\"within-line\">{markup}</span>")),
            Err(fault) => {
                let inside = span.start + marks;
                let at = inside + fault.span.start..inside + fault.span.end.max(fault.span.start + 1);
                self.problem(at, fault.message, None);
                self.inline(format!("<code class=\"missing\">{}</code>", escape(formula)));
            }
        }
    }
}

fn ends_a_block(tag: TagEnd) -> bool {
    matches!(
        tag,
        TagEnd::Paragraph
            | TagEnd::Heading(_)
            | TagEnd::Item
            | TagEnd::CodeBlock
            | TagEnd::TableRow
            | TagEnd::TableHead
            | TagEnd::FootnoteDefinition
    )
}
