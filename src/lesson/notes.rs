//! The footnotes of one lesson: numbered as they are first referred to, set below the text.

use std::ops::Range;

use pulldown_cmark::{CowStr, Event};

use super::pieces;

#[derive(Debug)]
struct Note<'a> {
    name: CowStr<'a>,
    references: usize,
    content: Option<Vec<Event<'a>>>,
}

/// References and notes met so far; a note's number is its place here, from 1.
#[derive(Debug, Default)]
pub(super) struct Notes<'a> {
    numbered: Vec<Note<'a>>,
    /// Notes written before anything refers to them.
    waiting: Vec<(CowStr<'a>, Range<usize>, Vec<Event<'a>>)>,
}

impl<'a> Notes<'a> {
    /// The mark in the text for one more reference to the note.
    pub(super) fn refer(&mut self, name: CowStr<'a>) -> String {
        let index = self.number(name);
        let note = &mut self.numbered[index];
        note.references += 1;
        pieces::note_mark(index + 1, note.references)
    }

    /// Takes a note's content. False when a note of that name stands already.
    pub(super) fn define(&mut self, name: CowStr<'a>, span: Range<usize>, content: Vec<Event<'a>>) -> bool {
        let repeated = self.waiting.iter().any(|(other, ..)| *other == name);
        if !repeated {
            self.waiting.push((name, span, content));
        }
        !repeated
    }

    /// The notes as a list below the text, and the places of those that nothing refers to.
    pub(super) fn finish(mut self) -> (Vec<Event<'a>>, Vec<(CowStr<'a>, Range<usize>)>) {
        let mut unused = Vec::new();
        for (name, span, content) in std::mem::take(&mut self.waiting) {
            match self.numbered.iter_mut().find(|note| note.name == name) {
                Some(note) => note.content = Some(content),
                None => unused.push((name, span)),
            }
        }
        (self.list(), unused)
    }

    fn number(&mut self, name: CowStr<'a>) -> usize {
        let known = self.numbered.iter().position(|note| note.name == name);
        known.unwrap_or_else(|| {
            self.numbered.push(Note { name, references: 0, content: None });
            self.numbered.len() - 1
        })
    }

    fn list(self) -> Vec<Event<'a>> {
        if self.numbered.is_empty() {
            return Vec::new();
        }
        let mut events = vec![html(pieces::NOTES_OPEN.to_owned())];
        for (index, note) in self.numbered.into_iter().enumerate() {
            events.push(html(pieces::note_open(index + 1)));
            events.extend(note.content.unwrap_or_default());
            events.push(html(pieces::note_close(index + 1, note.references)));
        }
        events.push(html(pieces::NOTES_CLOSE.to_owned()));
        events
    }
}

fn html<'a>(markup: String) -> Event<'a> {
    Event::Html(markup.into())
}
