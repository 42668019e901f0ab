//! Links and notes of a lesson: where they lead, and which lead nowhere.

use std::ops::Range;

use pulldown_cmark::{Event, Tag};

use super::{OpenPicture, Pass};
use crate::lesson::links::{self, Verdict};
use crate::lesson::pieces;
use crate::text::escape;

impl<'a> Pass<'a, '_> {
    pub(super) fn open_link(&mut self, mut tag: Tag<'a>, span: Range<usize>) {
        if let Tag::Link { dest_url, .. } = &mut tag {
            match self.destination(dest_url, &span) {
                Some(place) => *dest_url = place.into(),
                None => {
                    self.refused_link = true;
                    return self.inline("<span class=\"missing\">".to_owned());
                }
            }
        }
        self.out.push(Event::Start(tag));
    }

    /// In a lesson a picture is looked for at once, and set when its words are known; in plain CommonMark it
    /// goes through as it is.
    pub(super) fn open_image(&mut self, tag: Tag<'a>, span: Range<usize>) {
        self.images += 1;
        let Tag::Image { dest_url, title, .. } = &tag else { return };
        let Some(hand) = self.hand.as_deref_mut() else {
            return self.out.push(Event::Start(tag));
        };
        let found = hand.picture(dest_url);
        let title = title.to_string();
        let found = match found {
            Ok(picture) => Some(picture),
            Err(refused) => {
                let at = self.find_last(dest_url, &span);
                self.problem(at, refused.message, refused.help);
                None
            }
        };
        self.picture = Some(OpenPicture { span, found, title, words: String::new() });
    }

    pub(super) fn close_picture(&mut self) {
        let Some(OpenPicture { span, found, title, words }) = self.picture.take() else { return };
        let Some(picture) = found else {
            return self.inline(format!("<span class=\"missing\">{}</span>", escape(&words)));
        };
        if words.trim().is_empty() {
            let message = "this picture has no words for those who cannot see it".to_owned();
            let mut told =
                self.source.diagnostic(span, message, "expected words between the brackets".into());
            told.help = Some("write `![what it shows](...)`".into());
            self.lesson.faults.push(told.warning());
        }
        self.inline(pieces::picture(&picture, words.trim(), &title));
    }

    /// Where the link leads, or none after saying why it leads nowhere.
    pub(super) fn destination(&mut self, destination: &str, span: &Range<usize>) -> Option<String> {
        let hand = self.hand.as_deref_mut()?;
        match links::judge(destination, hand) {
            Verdict::Leads(place) => Some(place),
            Verdict::Within(heading) => {
                let at = self.find_last(destination, span);
                let place = format!("#{heading}");
                self.within.push((heading, at));
                Some(place)
            }
            Verdict::Refused { message, help } => {
                let at = self.find_last(destination, span);
                self.problem(at, message, help);
                None
            }
        }
    }

    /// The bytes of `words` within the span, or the whole span where they stand elsewhere, as the
    /// destination of a reference link does.
    pub(super) fn find_last(&self, words: &str, span: &Range<usize>) -> Range<usize> {
        let found = self.source.text.get(span.clone()).and_then(|text| text.rfind(words));
        found.map_or(span.clone(), |at| span.start + at..span.start + at + words.len())
    }

    pub(super) fn check_links_within(&mut self) {
        for (id, span) in std::mem::take(&mut self.within) {
            if self.lesson.headings.iter().any(|heading| heading.id == id) {
                continue;
            }
            let (message, help) = links::no_heading(&id, self.lesson.headings.iter().map(|h| h.id.as_str()));
            self.problem(span, message, help);
        }
    }

    /// What was meant as a mark and became text: a reference to a note that is nowhere written, and a
    /// formula that never ends or whose braces do not match.
    pub(super) fn check_leftovers(&mut self, text: &str, span: &Range<usize>) {
        if let Some(mark) = note_mark(text)
            && let Some(at) = self.unescaped(mark, span)
        {
            let name = &mark[2..mark.len() - 1];
            let help = Some(format!("add a line `[^{name}]: ...` below, or take the mark out"));
            self.problem(at, format!("there is no note `{name}`"), help);
        }
        if text.contains("$$")
            && let Some(at) = self.unescaped("$$", span)
        {
            let message = "this formula is not closed, or its braces do not match".to_owned();
            self.problem(at, message, Some("close it with `$$`, and every `{` with `}`".to_owned()));
        }
    }

    /// The first place in the span where the words stand without a backslash before them.
    pub(super) fn unescaped(&self, words: &str, span: &Range<usize>) -> Option<Range<usize>> {
        let text = self.source.text.get(span.clone())?;
        let places = text.match_indices(words).map(|(at, _)| span.start + at);
        let at = places.into_iter().find(|&at| !self.source.text[..at].ends_with('\\'))?;
        Some(at..at + words.len())
    }

    pub(super) fn close_note(&mut self) {
        let Some((name, span, outside)) = self.outside_note.pop() else {
            return;
        };
        let content = std::mem::replace(&mut self.out, outside);
        if !self.notes.define(name.clone(), span.clone(), content) {
            let help = Some("give one of the two another name".to_owned());
            self.problem(span, format!("the note `{name}` is written twice"), help);
        }
    }

    pub(super) fn finish_notes(&mut self) -> Vec<Event<'a>> {
        let (events, unused) = std::mem::take(&mut self.notes).finish();
        for (name, span) in unused {
            let help = Some(format!("put `[^{name}]` where it belongs, or take the note out"));
            self.problem(span, format!("nothing refers to the note `{name}`"), help);
        }
        events
    }
}

fn note_mark(text: &str) -> Option<&str> {
    let mark = &text[text.find("[^")?..];
    let end = mark.find(']')?;
    (end > 2).then(|| &mark[..=end])
}
