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
    let (mut done, mut marks) = (0, Marks::of(body));
    while let Some((at, mark)) = marks.next(done) {
        let after = at + mark.len();
        out.push_str(&body[done..after]);
        done = after;
        if mark.starts_with(" aria-") {
            let end = body[done..].find('"').map_or(body.len(), |end| done + end);
            let ids: Vec<String> =
                body[done..end].split_whitespace().map(|id| format!("{prefix}{id}")).collect();
            out.push_str(&ids.join(" "));
            done = end;
        } else {
            out.push_str(prefix);
        }
    }
    out.push_str(&body[done..]);
    out
}

/// What stands before an id in an SVG.
const MARKS: [&str; 6] =
    [" id=\"", "url(#", " href=\"#", " xlink:href=\"#", " aria-labelledby=\"", " aria-describedby=\""];

/// Where each of the marks stands next; each is sought once through the text.
struct Marks<'a> {
    text: &'a str,
    next: [Option<usize>; MARKS.len()],
}

impl<'a> Marks<'a> {
    fn of(text: &'a str) -> Marks<'a> {
        Marks { text, next: MARKS.map(|mark| text.find(mark)) }
    }

    /// The nearest mark that begins at a place or after it.
    fn next(&mut self, from: usize) -> Option<(usize, &'static str)> {
        for (next, mark) in self.next.iter_mut().zip(MARKS) {
            if next.is_some_and(|at| at < from) {
                *next = self.text[from..].find(mark).map(|at| from + at);
            }
        }
        self.next.iter().zip(MARKS).filter_map(|(next, mark)| Some(((*next)?, mark))).min()
    }
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
