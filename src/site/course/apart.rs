//! Markup of several lessons on one page: every id gets the number of its lesson before it, and whatever names
//! an id follows it. The markup is the program's own, so that attributes stand in double quotes.

/// Attributes that hold ids, blanks between them.
const OF_IDS: [&str; 5] = ["id", "for", "name", "aria-labelledby", "aria-describedby"];

/// The markup of the lesson at `nth` (from 0); `place_of` tells where the lesson of a page stands.
pub fn apart(html: &str, nth: usize, place_of: &dyn Fn(&str) -> Option<usize>) -> String {
    let mut out = String::with_capacity(html.len() + html.len() / 8);
    let mut rest = html;
    while let Some(at) = rest.find("=\"") {
        let (before, from) = rest.split_at(at + 2);
        out.push_str(before);
        let end = from.find('"').unwrap_or(from.len());
        let (value, after) = from.split_at(end);
        let name = before[..at].rsplit(|c: char| c.is_whitespace() || c == '<').next().unwrap_or_default();
        out.push_str(&attribute(name, value, nth, place_of));
        rest = after;
    }
    out.push_str(rest);
    out
}

fn attribute(name: &str, value: &str, nth: usize, place_of: &dyn Fn(&str) -> Option<usize>) -> String {
    if OF_IDS.contains(&name) {
        let ids: Vec<String> = value.split(' ').map(|id| own(nth, id)).collect();
        return ids.join(" ");
    }
    if let Some(id) = value.strip_prefix("url(#") {
        return format!("url(#{}", own(nth, id));
    }
    if name != "href" {
        return value.to_owned();
    }
    let (page, id) = value.split_once('#').unwrap_or((value, ""));
    match (page, id, place_of(page)) {
        ("", id, _) => format!("#{}", own(nth, id)),
        (_, "", Some(there)) => format!("#lesson-{}", there + 1),
        (_, id, Some(there)) => format!("#{}", own(there, id)),
        (_, _, None) => value.to_owned(),
    }
}

fn own(nth: usize, id: &str) -> String {
    format!("l{}.{id}", nth + 1)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ids_and_what_names_them_get_the_number_of_the_lesson() {
        let place_of = |page: &str| (page == "bends.html").then_some(5);
        let cases = [
            (r#"<h2 id="cut">Cut = "square"</h2>"#, r#"<h2 id="l3.cut">Cut = "square"</h2>"#),
            (r##"<a href="#cut">"##, r##"<a href="#l3.cut">"##),
            (r#"<a href="bends.html">"#, r##"<a href="#lesson-6">"##),
            (r#"<a href="bends.html#set">"#, r##"<a href="#l6.set">"##),
            (r#"<a href="../standard/a.html#b">"#, r#"<a href="../standard/a.html#b">"#),
            (
                r#"<svg aria-labelledby="t d" data-id="x">"#,
                r#"<svg aria-labelledby="l3.t l3.d" data-id="x">"#,
            ),
            (r##"<path fill="url(#hatch)">"##, r##"<path fill="url(#l3.hatch)">"##),
        ];
        for (html, wanted) in cases {
            assert_eq!(apart(html, 2, &place_of), wanted);
        }
    }
}
