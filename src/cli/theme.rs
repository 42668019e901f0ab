//! Reading a theme's folder, and the one it stands on.
//!
//! A firm's own theme holds only what it changes: `theme.yaml` names the theme below (`on: drafting`), files of
//! the same name take the place of those below, other styles come after them, and `words.yaml` replaces words
//! of the templates (`All sheets: Contents`). Within a theme, styles for every sheet come before those that are
//! named for a kind of them. Words that the program sets are no theme's: a stamp, a finding or a figure must say
//! the same in every firm.
use crate::company::Reader;
use crate::company::keys::THEME;
use crate::site::{Theme, ThemeFile, style_kind};
use crate::text::{Diagnostic, Node, Place, Value, nearest, refused};
use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::string::FromUtf8Error;

/// What a theme folder holds that is no template, style or script.
const ABOUT: &str = "theme.yaml";
const WORDS: &str = "words.yaml";

/// A folder of a theme.
struct Layer {
    name: String,
    files: BTreeMap<String, String>,
}

/// The theme of that name under `themes/`, or why there is none, one sentence.
///
/// `at` is where the firm names it.
pub fn theme(root: &Path, name: &str, at: &Place) -> Result<Theme, String> {
    let mut files: Vec<ThemeFile> = Vec::new();
    for layer in layers(root, name, at)?.into_iter().rev() {
        let words = match layer.files.get(WORDS) {
            Some(text) => replaced(&layer.path(WORDS), text)?,
            None => Vec::new(),
        };
        let mut in_order: Vec<(&String, &String)> = layer.files.iter().collect();
        in_order.sort_by_key(|(name, _)| style_kind(name).is_some());
        for (name, text) in in_order {
            let file = ThemeFile { name: name.clone(), path: layer.path(name), text: text.clone() };
            match files.iter_mut().find(|known| known.name == file.name) {
                _ if [ABOUT, WORDS].contains(&name.as_str()) => {}
                Some(known) => *known = file,
                None => files.push(file),
            }
        }
        for (from, to, at) in words {
            replace(&mut files, &from, &to).map_err(|near| unknown_word(&at, &from, near))?;
        }
    }
    Theme::from_files(&files).map_err(|error| format!("theme `{name}`: {error}"))
}

impl Layer {
    fn path(&self, file: &str) -> String {
        format!("themes/{}/{file}", self.name)
    }
}

/// The folder of that name, then the one it stands on, and so on down.
fn layers(root: &Path, name: &str, at: &Place) -> Result<Vec<Layer>, String> {
    let mut layers: Vec<Layer> = Vec::new();
    let mut next = Some((name.to_owned(), at.clone()));
    while let Some((name, at)) = next {
        if layers.iter().any(|layer| layer.name == name) {
            return Err(format!("theme `{name}` stands on itself; name another under `on:` in its {ABOUT}"));
        }
        let layer = Layer { files: folder(root, &name, &at)?, name };
        next = match layer.files.get(ABOUT) {
            Some(text) => Some(below(&layer.path(ABOUT), text)?),
            None => None,
        };
        layers.push(layer);
    }
    Ok(layers)
}

/// The theme that a `theme.yaml` names, and where.
fn below(file: &str, text: &str) -> Result<(String, Place), String> {
    let (mut r, root) = Reader::open(file, text, "a theme: on").map_err(|faults| told(&faults))?;
    let f = r.thing(&root, &THEME);
    let on = f.and_then(|f| {
        let node = r.need(&f, "on")?;
        Some((r.id(node, "the theme below")?.to_owned(), r.place_of(node)))
    });
    r.finish(on).map_err(|faults| told(&faults))
}

/// Words to be replaced, with what stands for each and where it is written.
fn replaced(file: &str, text: &str) -> Result<Vec<(String, String, String)>, String> {
    let (mut r, root) =
        Reader::open(file, text, "words: `All sheets: Contents`").map_err(|faults| told(&faults))?;
    let mut words = Vec::new();
    match &root.value {
        Value::Map(map) => {
            for (key, value) in map {
                let Some(pair) = pair(&mut r, key, value) else { continue };
                let place = r.place_of(key);
                words.push((pair.0, pair.1, format!("{file}:{}:{}", place.line, place.column)));
            }
        }
        _ => drop(r.mistyped(&root, "words, each with what stands for it")),
    }
    r.finish(Some(words)).map_err(|faults| told(&faults))
}

fn pair(r: &mut Reader, key: &Node, value: &Node) -> Option<(String, String)> {
    let from = r.text(key, "a word of the templates").map(str::to_owned);
    let to = r.text(value, "what stands for it").map(str::to_owned);
    Some((from?, crate::text::escape(&to?)))
}

/// What is said of a thing on a narrow screen and to a screen reader, in a mark.
const SAID: [&str; 2] = ["data-label", "aria-label"];

/// Puts words in the place of others in every template, where those are all that stands between two marks, and
/// there too where a narrow screen or a screen reader says them; in error with the nearest that stands so.
fn replace(files: &mut [ThemeFile], from: &str, to: &str) -> Result<(), Option<String>> {
    let mut found = false;
    let mut known = Vec::new();
    for file in files.iter_mut().filter(|file| file.name.ends_with(".html")) {
        let mut out = String::with_capacity(file.text.len());
        for (is_text, piece) in pieces(&file.text) {
            let words = piece.trim();
            if is_text && words == from {
                found = true;
                out.push_str(&piece.replace(from, to));
            } else if is_text {
                out.push_str(piece);
                if !words.is_empty() {
                    known.push(words.to_owned());
                }
            } else {
                out.push_str(&SAID.iter().fold(piece.to_owned(), |mark, said| {
                    mark.replace(&format!("{said}=\"{from}\""), &format!("{said}=\"{to}\""))
                }));
            }
        }
        file.text = out;
    }
    if found { Ok(()) } else { Err(nearest(from, known.iter().map(String::as_str)).map(str::to_owned)) }
}

/// A template as pieces: text, and the marks between, `<...>`, `{{...}}` and `{%...%}`.
fn pieces(template: &str) -> Vec<(bool, &str)> {
    let mut out = Vec::new();
    let mut rest = template;
    while let Some(start) = rest.find(['<', '{']) {
        let open = &rest[start..];
        let close = match open.get(..2) {
            Some("{{") => "}}",
            Some("{%") => "%}",
            Some("{#") => "#}",
            _ if open.starts_with('<') => ">",
            _ => "",
        };
        // `>` may stand within a mark of the template, `{{ <stamp .../> }}`, which is taken whole.
        let end = open.find(close).map_or(open.len(), |at| at + close.len().max(1));
        out.push((true, &rest[..start]));
        out.push((false, &open[..end]));
        rest = &open[end..];
    }
    out.push((true, rest));
    out
}

fn unknown_word(at: &str, word: &str, near: Option<String>) -> String {
    let hint = near.map_or(
        "; words that the program sets, as stamps, findings, figures and titles, are the same in every theme"
            .into(),
        |near| format!("; write `{near}`"),
    );
    format!("{at}: no template says `{word}` by itself{hint}")
}

fn told(faults: &[Diagnostic]) -> String {
    faults.iter().map(Diagnostic::render_plain).collect::<Vec<_>>().join("\n")
}

/// Whether a file is of the theme. Pictures, and what editors and file managers leave behind, are not.
fn is_of_a_theme(file: &str) -> bool {
    let read = [".html", ".css", ".js"].iter().any(|ending| file.ends_with(ending));
    !file.starts_with(['.', '#', '~']) && (read || [ABOUT, WORDS].contains(&file))
}

/// The files of a theme's folder by name; `at` is where it is named.
fn folder(root: &Path, name: &str, at: &Place) -> Result<BTreeMap<String, String>, String> {
    let folder = root.join("themes").join(name);
    let entries = fs::read_dir(&folder).map_err(|error| {
        let known = names(root);
        let hint = match nearest(name, known.iter().map(String::as_str)) {
            Some(near) => format!("; write `{near}`"),
            None if known.is_empty() => "; themes/ holds none".into(),
            None => format!("; themes/ holds {}", known.join(", ")),
        };
        match error.kind() {
            std::io::ErrorKind::NotFound if at.is_known() => {
                format!("{at}: there is no theme `{name}`{hint}")
            }
            std::io::ErrorKind::NotFound => format!("there is no theme `{name}`{hint}"),
            _ => format!("theme `{name}` cannot be read: {}", refused(&error)),
        }
    })?;
    let mut files = BTreeMap::new();
    for entry in entries {
        let path =
            entry.map_err(|error| format!("theme `{name}` cannot be read: {}", refused(&error)))?.path();
        let file = path.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
        if is_of_a_theme(&file) && path.is_file() {
            let bytes = fs::read(&path)
                .map_err(|error| format!("themes/{name}/{file} cannot be read: {}", refused(&error)))?;
            let text = String::from_utf8(bytes)
                .map_err(|error| no_text(&format!("themes/{name}/{file}"), &error))?;
            files.insert(file, text);
        }
    }
    Ok(files)
}

/// Where a file stops being UTF-8.
fn no_text(file: &str, error: &FromUtf8Error) -> String {
    let sound = &error.as_bytes()[..error.utf8_error().valid_up_to()];
    let line = sound.iter().filter(|byte| **byte == b'\n').count() + 1;
    let since = sound.rsplit(|byte| *byte == b'\n').next().unwrap_or_default();
    let column = String::from_utf8_lossy(since).chars().count() + 1;
    format!("{file}:{line}:{column}: a character that is not UTF-8; save the file as UTF-8")
}

/// The folders under `themes/`, sorted.
fn names(root: &Path) -> Vec<String> {
    let entries = fs::read_dir(root.join("themes")).into_iter().flatten().flatten();
    let mut names: Vec<String> = entries
        .filter(|entry| entry.path().is_dir())
        .map(|entry| entry.file_name().to_string_lossy().into_owned())
        .collect();
    names.sort();
    names
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_words_that_stand_alone_are_replaced() {
        let text = "<h3>Jobs</h3><p>Jobs done {{ Jobs }}</p><a title=\"Jobs\">{% if Jobs %} Jobs {% endif %}</a><td data-label=\"Jobs\">";
        let mut files = [ThemeFile { name: "a.html".into(), path: "a.html".into(), text: text.into() }];
        replace(&mut files, "Jobs", "Houses").unwrap();
        let wanted = "<h3>Houses</h3><p>Jobs done {{ Jobs }}</p><a title=\"Jobs\">{% if Jobs %} Houses {% endif %}</a><td data-label=\"Houses\">";
        assert_eq!(files[0].text, wanted);
        assert_eq!(replace(&mut files, "Huoses", "x"), Err(Some("Houses".into())));
    }

    #[test]
    fn pieces_are_the_whole_template() {
        let text = "a{b<c>{{ <d e={f}/> }}{% g %}h{";
        assert_eq!(pieces(text).iter().map(|(_, piece)| *piece).collect::<String>(), text);
    }
}
