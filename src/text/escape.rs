//! Text made safe inside HTML and XML.

/// The text with its four signs of markup written out, for content and for quoted attributes;
/// control characters, which XML does not allow, and signs that turn the direction of writing are left out, and a tab is a blank.
///
/// ```
/// assert_eq!(longsweep::text::escape("A & B <\"C\">\u{0}"), "A &amp; B &lt;&quot;C&quot;&gt;");
/// ```
pub fn escape(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    push_escaped(&mut out, text);
    out
}

/// Writes the text as [`escape`] makes it safe.
pub fn push_escaped(out: &mut String, text: &str) {
    // What needs no change goes over in one piece.
    let mut done = 0;
    for (at, c) in text.char_indices() {
        let instead = match c {
            '&' => "&amp;",
            '<' => "&lt;",
            '>' => "&gt;",
            '"' => "&quot;",
            ' '..='~' | '\n' => continue,
            '\t' => " ",
            c if super::turns(c) || matches!(c, '\u{fffe}' | '\u{ffff}') => "",
            _ => continue,
        };
        out.push_str(&text[done..at]);
        out.push_str(instead);
        done = at + c.len_utf8();
    }
    out.push_str(&text[done..]);
}
