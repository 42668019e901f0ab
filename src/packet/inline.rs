//! Several drawings in one page: ids made unlike, prologues taken off.

/// A drawing that may be wanting, prepared likewise; nothing where there is none.
pub fn inlined(svg: Option<&str>, prefix: &str) -> String {
    svg.map(|svg| with_prefix(svg, prefix)).unwrap_or_default()
}

/// Prepares an SVG made by this program for standing inside a page: the XML prologue goes, and every id
/// and every reference to one gets the prefix, so that two drawings' patterns and labels stay apart.
pub fn with_prefix(svg: &str, prefix: &str) -> String {
    let body = svg.find("<svg").map_or("", |start| &svg[start..]);
    let mut out = String::with_capacity(body.len() + 200);
    let mut rest = body;
    while let Some((at, mark)) = next_mark(rest) {
        let after = at + mark.len();
        out.push_str(&rest[..after]);
        rest = &rest[after..];
        if mark.starts_with(" aria-") {
            let end = rest.find('"').unwrap_or(rest.len());
            let ids: Vec<String> = rest[..end].split_whitespace().map(|id| format!("{prefix}{id}")).collect();
            out.push_str(&ids.join(" "));
            rest = &rest[end..];
        } else {
            out.push_str(prefix);
        }
    }
    out.push_str(rest);
    out
}

/// What stands before an id in an SVG.
const MARKS: [&str; 6] =
    [" id=\"", "url(#", " href=\"#", " xlink:href=\"#", " aria-labelledby=\"", " aria-describedby=\""];

/// The nearest of the marks and where it begins.
fn next_mark(text: &str) -> Option<(usize, &'static str)> {
    MARKS.iter().filter_map(|mark| Some((text.find(mark)?, *mark))).min()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn recovers_ids_and_their_references() {
        let svg = "<?xml version=\"1.0\"?><svg aria-labelledby=\"t d\"><title id=\"t\">x</title>\
                   <g fill=\"url(#h)\"><use href=\"#h\"/></g></svg>";
        assert_eq!(
            with_prefix(svg, "i1-"),
            "<svg aria-labelledby=\"i1-t i1-d\"><title id=\"i1-t\">x</title>\
             <g fill=\"url(#i1-h)\"><use href=\"#i1-h\"/></g></svg>"
        );
        assert_eq!(with_prefix("no drawing", "x"), "");
    }
}
