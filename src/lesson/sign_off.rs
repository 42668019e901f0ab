//! The `sign-off` block: a practical card, on which a crew lead ticks what was seen and signs for it.
//!
//! ```yaml
//! title: One raceway, dry-fitted
//! time: 90 min
//! bring: [Saw, Deburrer, Tape]
//! do: Lay out, cut and dry-fit the bench raceway from its packet.
//! seen: [Every cut is square., Every end is deburred inside and out.]
//! measured:
//!   - {what: Hose path, sum: path(bench), within: 1/2 in}
//! ```

use super::ask::{Setter, Sum, sum};
use super::keys::{CARD, MEASURED};
use super::words::Words;
use crate::company::{Fields, Reader};
use crate::text::{Diagnostic, Node, escape};

/// A card that has been looked over.
#[derive(Debug)]
pub(super) struct Card {
    title: String,
    time: Option<Words>,
    bring: Vec<Words>,
    todo: Words,
    seen: Vec<Words>,
    measured: Vec<Measured>,
}

/// What is measured, and what it should come to.
#[derive(Debug)]
struct Measured {
    what: Words,
    sum: Sum,
}

/// Reads a block that begins on line `line` of the file.
pub(super) fn read(file: &str, text: &str, line: usize) -> Result<Card, Vec<Diagnostic>> {
    let (mut r, root) = Reader::open_below(file, line.saturating_sub(1), text, "a card: title, do, seen")?;
    let read = card(&mut r, &root);
    r.finish(read)
}

fn card(r: &mut Reader, root: &Node) -> Option<Card> {
    let f = r.thing(root, &CARD)?;
    let title = r.need(&f, "title").and_then(|n| r.name(n, "a title")).map(str::to_owned);
    let time = f.get("time").map(|n| Words::read(r, n, "a time"));
    let bring = f.get("bring").map(|n| Words::list(r, n, "what to bring", "a thing"));
    let todo = r.need(&f, "do").and_then(|n| Words::read(r, n, "what is to be done"));
    let seen = r.need(&f, "seen").and_then(|n| {
        let seen = Words::list(r, n, "what the crew lead sees", "a thing seen")?;
        if seen.is_empty() {
            r.fail(r.mark_of(n), "nothing is to be seen", "expected a thing seen").help =
                Some("add a line that the crew lead can tick".into());
        }
        Some(seen)
    });
    let measured = f.get("measured").map(|n| {
        let items = r.list(n, "what is measured")?;
        let read: Vec<Option<Measured>> = items.iter().map(|item| measured(r, item)).collect();
        read.into_iter().collect()
    });
    Some(Card {
        title: title?,
        time: time.map_or(Some(None), |time| time.map(Some))?,
        bring: bring.unwrap_or(Some(Vec::new()))?,
        todo: todo?,
        seen: seen?,
        measured: measured.unwrap_or(Some(Vec::new()))?,
    })
}

fn measured(r: &mut Reader, item: &Node) -> Option<Measured> {
    let f: Fields = r.thing(item, &MEASURED)?;
    let what = r.need(&f, "what").and_then(|n| Words::read(r, n, "what is measured"));
    let sum = sum(r, item, &f);
    Some(Measured { what: what?, sum: sum? })
}

/// The card as HTML, and its title.
pub(super) fn set(card: &Card, number: usize, hand: &mut dyn Setter) -> (String, String) {
    let title = escape(&card.title);
    let time = card.time.as_ref().map(|words| format!("<p>Time: {}</p>\n", hand.line(words).html));
    let bring: Vec<String> = card.bring.iter().map(|words| hand.line(words).html).collect();
    let bring =
        if bring.is_empty() { String::new() } else { format!("<p>Bring: {}.</p>\n", bring.join(", ")) };
    let todo = hand.words(&card.todo);
    let todo = if todo.is_inline() { format!("<p>{}</p>", todo.html) } else { todo.html };
    let seen: String = card
        .seen
        .iter()
        .map(|words| {
            format!("<li><span class=\"empty-box\"></span> <span>{}</span></li>\n", hand.line(words).html)
        })
        .collect();
    let rows: String = card.measured.iter().map(|one| row(one, hand)).collect();
    let measured = match rows.is_empty() {
        true => String::new(),
        false => format!(
            "<table class=\"card-measured\"><thead><tr><th scope=\"col\">Measured</th><th scope=\"col\">Expected</th>\
             <th scope=\"col\">Read</th></tr></thead><tbody>\n{rows}</tbody></table>\n"
        ),
    };
    let sign: String = ["Crew member", "Crew lead", "Date"]
        .map(|who| {
            format!("<p><span class=\"cell-name\">{who}</span><span class=\"sign-line\"></span></p>\n")
        })
        .concat();
    let html = format!(
        "<div class=\"card\" id=\"card.{number}\">\n\
         <p class=\"card-name\">Practical card: {title}</p>\n{}{bring}{todo}\n\
         <p class=\"fine\">The crew lead ticks what was seen done, and nothing else.</p>\n\
         <ul class=\"card-seen\">\n{seen}</ul>\n{measured}<div class=\"card-sign\">\n{sign}</div>\n</div>\n",
        time.unwrap_or_default()
    );
    (html, card.title.clone())
}

fn row(one: &Measured, hand: &mut dyn Setter) -> String {
    let what = hand.line(&one.what).html;
    let Some((amount, within)) = hand.amount(&one.sum) else {
        return String::new();
    };
    let near = if within > 0.0 { format!(", {} either way", amount.near(within)) } else { String::new() };
    format!(
        "<tr><th scope=\"row\">{what}</th><td>{}{}</td><td><span class=\"sign-line\"></span></td></tr>\n",
        escape(&amount.words),
        escape(&near)
    )
}
