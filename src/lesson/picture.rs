//! Pictures that stand beside lessons: which are taken, and how they come into the page.
//!
//! A picture stands in its page as a `data:` address, so that the page still stands alone. It is taken for
//! what its bytes say it is. A drawing (SVG) is held to drawing: no scripts, nothing from elsewhere.
use super::render::{Picture, Refused};
use crate::company::{MOST_PICTURE_BYTES, PICTURE_KINDS, PictureFile};
use crate::text::{clip, nearest};
use base64::{Engine, engine::general_purpose::STANDARD};
use imagesize::ImageType;
use std::collections::BTreeMap;
use std::path::Path;
use usvg::roxmltree;

/// The most dots a side.
const MOST_PX: usize = 6_000;
/// The picture that a lesson means. `lesson` and the keys of `files` are paths from the company folder;
/// `path` is written as seen from the lesson, and leads to the lessons' folder `folder` or below.
pub fn picture(
    lesson: &str,
    folder: &str,
    path: &str,
    files: &BTreeMap<String, PictureFile>,
) -> Result<Picture, Refused> {
    if let Some(scheme) = elsewhere(path) {
        let message =
            format!("a picture comes from a file beside the lesson, and this one begins with `{scheme}`");
        return refuse(message, Some("put the file beside the lesson, and write its name"));
    }
    let Some(at) = within(lesson, folder, path) else {
        let message = format!("the picture `{}` lies outside {folder}", clip(path));
        return refuse(message, Some("put the file beside the lesson, and write its name"));
    };
    let Some(file) = files.get(&at) else {
        let beside = at.rfind('/').map_or("", |end| &at[..=end]);
        let known = files.keys().filter_map(|known| known.strip_prefix(beside));
        let near = nearest(at.strip_prefix(beside).unwrap_or(&at), known);
        let help = match near {
            Some(near) => format!("write `{near}`"),
            None => "put it there; png, jpg, webp and svg are taken".to_owned(),
        };
        return refuse(format!("there is no picture {}", clip(&at)), Some(&help));
    };
    taken(&at, file)
}

fn refuse<T>(message: String, help: Option<&str>) -> Result<T, Refused> {
    Err(Refused { message, help: help.map(str::to_owned) })
}

/// What a path that leads away from the company's files begins with.
fn elsewhere(path: &str) -> Option<String> {
    if path.starts_with(['/', '\\']) {
        return Some(path.chars().take_while(|c| matches!(c, '/' | '\\')).collect());
    }
    let scheme = path.split_once(':')?.0;
    scheme
        .chars()
        .all(|c| c.is_ascii_alphanumeric() || matches!(c, '+' | '-' | '.'))
        .then(|| format!("{scheme}:"))
}

/// The path from the company folder, where it stays inside `folder`.
fn within(lesson: &str, folder: &str, path: &str) -> Option<String> {
    let mut parts: Vec<&str> = lesson.split('/').collect();
    parts.pop();
    for part in path.split(['/', '\\']) {
        match part {
            "" | "." => {}
            ".." => drop(parts.pop()?),
            part => parts.push(part),
        }
    }
    let at = parts.join("/");
    at.strip_prefix(folder)?.starts_with('/').then_some(at)
}

fn kind(file: &str) -> Option<&'static str> {
    let ending = Path::new(file).extension()?.to_str()?.to_lowercase();
    PICTURE_KINDS.iter().find(|(known, _)| *known == ending).map(|(_, kind)| *kind)
}

/// The picture, checked.
fn taken(file: &str, found: &PictureFile) -> Result<Picture, Refused> {
    if found.size > MOST_PICTURE_BYTES {
        let message = format!(
            "the picture {} has {} bytes, more than the {MOST_PICTURE_BYTES} that a page takes",
            clip(file),
            found.size
        );
        return refuse(message, Some("save it smaller; 1600 dots across is enough for a sheet of paper"));
    }
    let kind = kind(file).unwrap_or_default();
    let (wide_px, high_px) = match kind {
        "image/svg+xml" => drawing(file, &found.bytes)?,
        _ => dots(file, kind, &found.bytes)?,
    };
    if wide_px > MOST_PX || high_px > MOST_PX {
        let message =
            format!("the picture {} is {wide_px} by {high_px} dots, more than {MOST_PX} a side", clip(file));
        return refuse(message, Some("save it smaller; 1600 dots across is enough for a sheet of paper"));
    }
    Ok(Picture {
        data_uri: format!("data:{kind};base64,{}", STANDARD.encode(&found.bytes)),
        wide_px,
        high_px,
    })
}

/// Width and height of a picture of dots, which must be what its ending says.
fn dots(file: &str, kind: &str, bytes: &[u8]) -> Result<(usize, usize), Refused> {
    let really = match imagesize::image_type(bytes) {
        Ok(ImageType::Png) => "image/png",
        Ok(ImageType::Jpeg) => "image/jpeg",
        Ok(ImageType::Webp) => "image/webp",
        _ => "",
    };
    if really != kind {
        let found = if really.is_empty() { "something else" } else { really };
        let message = format!("the picture {} is no {kind}, but {found}", clip(file));
        return refuse(message, Some("save it anew in the format its ending names"));
    }
    match imagesize::blob_size(bytes) {
        Ok(size) if size.width > 0 && size.height > 0 => Ok((size.width, size.height)),
        _ => refuse(format!("the picture {} does not tell its size", clip(file)), Some("save it anew")),
    }
}

/// Width and height of a drawing that draws and does nothing else.
fn drawing(file: &str, bytes: &[u8]) -> Result<(usize, usize), Refused> {
    let unread = |why: String| Refused {
        message: format!("the drawing {} cannot be read: {why}", clip(file)),
        help: Some("save it anew as a plain SVG".into()),
    };
    let text = std::str::from_utf8(bytes).map_err(|_| unread("it is not UTF-8".into()))?;
    let document = roxmltree::Document::parse(text).map_err(|error| unread(error.to_string()))?;
    if let Some(odd) = document.descendants().find_map(acts) {
        let message = format!("the drawing {} holds {odd}, and a drawing only draws", clip(file));
        return refuse(message, Some("save it anew as a plain SVG, without scripts and links"));
    }
    let tree = usvg::Tree::from_xmltree(&document, &usvg::Options::default())
        .map_err(|error| unread(error.to_string()))?;
    let (wide, high) = (tree.size().width().ceil(), tree.size().height().ceil());
    // Both are finite and above nought, and what is too large is refused by the caller.
    Ok((wide as usize, high as usize))
}

/// What in a drawing acts or fetches.
fn acts(node: roxmltree::Node) -> Option<String> {
    const ACTING: [&str; 9] = [
        "script",
        "foreignObject",
        "iframe",
        "animate",
        "animateMotion",
        "animateTransform",
        "set",
        "handler",
        "audio",
    ];
    if !node.is_element() {
        return None;
    }
    let name = node.tag_name().name();
    if ACTING.iter().any(|acting| acting.eq_ignore_ascii_case(name)) {
        return Some(format!("`<{}>`", clip(name)));
    }
    let fetches = |text: &str| {
        let text = text.to_lowercase();
        text.contains("@import")
            || text.split("url(").skip(1).any(|at| !at.trim_start_matches(['"', '\'', ' ']).starts_with('#'))
    };
    if name == "style" && node.text().is_some_and(fetches) {
        return Some("a style that fetches".into());
    }
    node.attributes().find_map(|attribute| {
        let (name, value) = (attribute.name(), attribute.value().trim_start());
        let leads = name == "href" && !(value.starts_with('#') || value.starts_with("data:image/"));
        let odd = name.to_lowercase().starts_with("on") || leads || name == "src" || fetches(value);
        odd.then(|| format!("`{}`", clip(name)))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The smallest PNG there is: one dot (written out by hand after the PNG specification, third edition).
    const DOT: [u8; 67] = [
        0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0, 0, 0, 0x0d, 0x49, 0x48, 0x44, 0x52, 0, 0, 0, 1, 0,
        0, 0, 1, 8, 0, 0, 0, 0, 0x3a, 0x7e, 0x9b, 0x55, 0, 0, 0, 0x0a, 0x49, 0x44, 0x41, 0x54, 0x78, 0x9c,
        0x63, 0x60, 0, 0, 0, 2, 0, 1, 0x48, 0xaf, 0xa4, 0x71, 0, 0, 0, 0, 0x49, 0x45, 0x4e, 0x44, 0xae, 0x42,
        0x60, 0x82,
    ];

    fn find(path: &str, name: &str, bytes: &[u8]) -> Result<Picture, String> {
        let file = PictureFile { size: bytes.len() as u64, bytes: bytes.to_vec() };
        let files = BTreeMap::from([(format!("content/lessons/{name}"), file)]);
        picture("content/lessons/bends.md", "content/lessons", path, &files)
            .map_err(|refused| format!("{} | {}", refused.message, refused.help.unwrap_or_default()))
    }

    #[test]
    fn a_picture_beside_its_lesson_stands_in_the_page() {
        let found = find("./dot.png", "dot.png", &DOT).unwrap();
        assert_eq!((found.wide_px, found.high_px), (1, 1));
        assert!(found.data_uri.starts_with("data:image/png;base64,iVBORw0KGgo"), "{}", found.data_uri);
        let svg = b"<svg xmlns='http://www.w3.org/2000/svg' width='30' height='20'><rect width='5' height='5'/></svg>";
        let found = find("a.svg", "a.svg", svg).unwrap();
        assert_eq!((found.wide_px, found.high_px), (30, 20));
    }

    #[test]
    fn what_lies_elsewhere_or_is_not_what_it_says_is_refused() {
        let mut wide = DOT;
        wide[18] = 0x40; // 16385 dots across
        for (path, name, bytes, part) in [
            ("http://example.com/a.png", "a.png", &DOT[..], "begins with `http:`"),
            ("//example.com/a.png", "a.png", &DOT, "begins with `//`"),
            ("/etc/a.png", "a.png", &DOT, "begins with `/`"),
            ("data:image/png;base64,xx", "a.png", &DOT, "begins with `data:`"),
            ("C:\\a.png", "a.png", &DOT, "begins with `C:`"),
            ("../company.png", "a.png", &DOT, "lies outside content/lessons"),
            ("../../../../a.png", "a.png", &DOT, "lies outside content/lessons"),
            ("x/../../lessons-old/a.png", "a.png", &DOT, "lies outside content/lessons"),
            ("dto.png", "dot.png", &DOT, "no picture content/lessons/dto.png | write `dot.png`"),
            ("dot.jpg", "dot.jpg", &DOT, "is no image/jpeg, but image/png"),
            ("dot.png", "dot.png", b"GIF89a", "is no image/png, but something else"),
            ("dot.png", "dot.png", &wide, "16385 by 1 dots"),
            (
                "a.svg",
                "a.svg",
                b"<svg xmlns='http://www.w3.org/2000/svg'><script/></svg>",
                "holds `<script>`",
            ),
            ("a.svg", "a.svg", b"<svg xmlns='http://www.w3.org/2000/svg' onload='x'/>", "holds `onload`"),
            (
                "a.svg",
                "a.svg",
                b"<svg xmlns='http://www.w3.org/2000/svg'><a href='x'/></svg>",
                "holds `href`",
            ),
            (
                "a.svg",
                "a.svg",
                b"<svg xmlns='http://www.w3.org/2000/svg'><style>@import 'x'</style></svg>",
                "fetches",
            ),
            ("a.svg", "a.svg", b"<svg", "cannot be read"),
            ("a.svg", "a.svg", b"<p>hello</p>", "cannot be read"),
        ] {
            let told = find(path, name, bytes).unwrap_err();
            assert!(told.contains(part), "{path}: {told}");
        }
        let large = PictureFile { size: MOST_PICTURE_BYTES + 1, bytes: Vec::new() };
        let files = BTreeMap::from([("content/lessons/a.png".to_owned(), large)]);
        let told = picture("content/lessons/b.md", "content/lessons", "a.png", &files).unwrap_err();
        assert!(told.message.contains("1048577 bytes"), "{}", told.message);
    }
}
