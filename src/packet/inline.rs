//! Several drawings in one page: ids made unlike, prologues taken off.

/// A drawing that may be wanting, prepared likewise; nothing where there is none.
pub fn inlined(svg: Option<&str>, prefix: &str) -> String {
    svg.map(|svg| with_prefix(svg, prefix)).unwrap_or_default()
}

/// Prepares an SVG made by this program for standing inside a page: the XML prologue goes, and every id
/// and every reference to one gets the prefix, so that two drawings' patterns and labels stay apart.
pub fn with_prefix(svg: &str, prefix: &str) -> String {
    let body = svg.find("<svg").map_or("", |start| &svg[start..]);
    let mut out = String::with_capacity(body.len() + body.len() / 8);
    let mut done = 0;
    // Every mark ends after one of these two, and an SVG has far fewer of them than letters.
    for (at, _) in body.bytes().enumerate().filter(|(_, byte)| matches!(byte, b'=' | b'#')) {
        let Some(mark) = MARKS.iter().find(|mark| body[..at].ends_with(mark.before)) else { continue };
        let after = at + mark.after.len();
        if at < done || !body[at..].starts_with(mark.after) {
            continue;
        }
        out.push_str(&body[done..after]);
        done = after;
        if mark.several {
            let end = body[done..].find('"').map_or(body.len(), |end| done + end);
            for (nth, id) in body[done..end].split_whitespace().enumerate() {
                out.push_str(if nth > 0 { " " } else { "" });
                out.push_str(prefix);
                out.push_str(id);
            }
            done = end;
        } else {
            out.push_str(prefix);
        }
    }
    out.push_str(&body[done..]);
    out
}

/// What stands before an id in an SVG: up to a sign, from that sign on, and whether several ids may follow.
struct Before {
    before: &'static str,
    after: &'static str,
    several: bool,
}

const MARKS: [Before; 6] = [
    Before { before: " id", after: "=\"", several: false },
    Before { before: "url(", after: "#", several: false },
    Before { before: " href", after: "=\"#", several: false },
    Before { before: " xlink:href", after: "=\"#", several: false },
    Before { before: " aria-labelledby", after: "=\"", several: true },
    Before { before: " aria-describedby", after: "=\"", several: true },
];

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
