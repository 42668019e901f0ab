//! Text made safe inside HTML and XML.

/// The text with its four signs of markup written out, for content and for quoted attributes;
/// control characters, which XML does not allow, and signs that turn the direction of writing are left out, and a tab is a blank.
///
/// ```
/// assert_eq!(longsweep::text::escape("A & B <\"C\">\u{0}"), "A &amp; B &lt;&quot;C&quot;&gt;");
/// ```
pub fn escape(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\t' => out.push(' '),
            '\n' => out.push('\n'),
            c if super::turns(c) || matches!(c, '\u{fffe}' | '\u{ffff}') => {}
            c => out.push(c),
        }
    }
    out
}
