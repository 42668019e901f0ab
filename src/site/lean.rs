//! Styles and scripts without what only their writer reads: comments and indentation.

/// A style without comments, and with no more blanks than it takes.
///
/// Strings stay as they are. A comment that is not closed ends the style, as it does in a browser.
pub fn css(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(first) = rest.chars().next() {
        if let Some(comment) = rest.strip_prefix("/*") {
            rest = comment.split_once("*/").map_or("", |(_, after)| after);
        } else if first == '"' || first == '\'' {
            let end = string_end(rest, first);
            out.push_str(&rest[..end]);
            rest = &rest[end..];
        } else if first.is_whitespace() {
            rest = rest.trim_start();
            if !out.is_empty() && !out.ends_with(['{', '}', ';', ',']) && !rest.starts_with(['{', '}', ';']) {
                out.push(' ');
            }
        } else {
            if first == '}' && out.ends_with(';') {
                out.pop();
            }
            out.push(first);
            rest = &rest[first.len_utf8()..];
        }
    }
    out.truncate(out.trim_end().len());
    out.push('\n');
    out
}

/// Where the string ends that a text begins with, its quote included.
fn string_end(text: &str, quote: char) -> usize {
    let mut escaped = false;
    for (at, letter) in text.char_indices().skip(1) {
        match letter {
            _ if escaped => escaped = false,
            '\\' => escaped = true,
            letter if letter == quote => return at + letter.len_utf8(),
            _ => {}
        }
    }
    text.len()
}

/// A script without lines that are comments, and without indentation.
///
/// Lines stay lines, since a script may leave out what ends a statement. One with text over several lines (a
/// template, or a line that goes on) stays as it is, since its blanks may count.
pub fn js(text: &str) -> String {
    let said = |line: &&str| !line.is_empty() && !line.starts_with("//");
    let lines: Vec<&str> = text.lines().map(str::trim).filter(said).collect();
    // Where no line but comments has the sign, no template is open over a comment.
    if lines.iter().any(|line| line.contains('`') || line.ends_with('\\')) {
        return text.to_owned();
    }
    lines.iter().map(|line| format!("{line}\n")).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_style_keeps_what_it_says() {
        let told =
            css("/* A frame. */\n:root { --a: 1px; }\n\n.b  .c,\n.d > e:not(.f) {\n  margin: 0 auto;\n}\n");
        assert_eq!(told, ":root{--a: 1px}.b .c,.d > e:not(.f){margin: 0 auto}\n");
        let strings = "a::before{content:\"/* no  comment */ \\\" ;}\";width:calc(1px + 2px)}";
        assert_eq!(css(strings), format!("{strings}\n"));
        assert_eq!(css("a{b:c}/* open"), "a{b:c}\n");
        assert_eq!(css("a{content:\"open"), "a{content:\"open\n");
    }

    #[test]
    fn every_script_of_the_theme_is_published_without_its_comments() {
        let theme = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("themes/drafting");
        let files = walkdir::WalkDir::new(theme).into_iter().filter_map(Result::ok);
        let scripts = files.filter(|file| file.path().extension().is_some_and(|kind| kind == "js"));
        let scripts: Vec<String> =
            scripts.map(|file| std::fs::read_to_string(file.path()).unwrap()).collect();
        assert!(!scripts.is_empty());
        for script in scripts {
            assert!(js(&script).lines().all(|line| !line.trim().starts_with("//")), "{script}");
        }
    }

    #[test]
    fn a_script_keeps_its_lines() {
        assert_eq!(
            js("// Says.\n(function () {\n  // Why.\n  go(\"// not\")\n\n})();\n"),
            "(function () {\ngo(\"// not\")\n})();\n"
        );
        assert_eq!(js("  // `6` or `1/2`.\n  go()\n"), "go()\n");
        for kept in ["a(`\n  // words\n`)", "a('x\\\n  // y')"] {
            assert_eq!(js(kept), kept);
        }
    }
}
