//! The bar over sheets of an earlier run, whose source cannot be read any more.
//!
//! It is put into the page as it stands, for what the page was made from is not at hand. Every sheet gets
//! one; a bar of an earlier run gives way to the new one, which keeps its times.

/// How a bar begins; the page is told by it to be an earlier one.
const OPEN: &str = "<p class=\"bar earlier\"";
const CLOSE: &str = "</p>\n";
/// How the line begins that tells the same in a packet's data.
const DATA: &str = "  \"not_read_again\": ";

/// What a bar says.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Bar<'a> {
    /// When the page was written, `2026-11-24 16:02`; empty where nobody knows.
    pub made: String,
    /// When its source was first found bad.
    pub since: &'a str,
    /// What is bad, `content/catalog/hoses.yaml:3:5`.
    pub why: &'a str,
}

impl Bar<'_> {
    fn words(&self, made: &str, since: &str) -> String {
        let made = match made {
            "" => "This sheet was made before".to_owned(),
            made => format!("This sheet was made {made}"),
        };
        format!(
            "NOT READ AGAIN since {since}, because of {}. {made}, from what was written then. Ask the office before \
             you build by it.",
            self.why
        )
    }

    /// The page with the bar over every sheet.
    pub fn over(&self, page: &str) -> String {
        let (bare, earlier) = without(page);
        let (made, since) = earlier.unwrap_or((self.made.clone(), self.since.to_owned()));
        let words = crate::text::escape(&self.words(&made, &since));
        let bar = format!("{OPEN} data-made=\"{made}\" data-since=\"{since}\">{words}{CLOSE}");
        let mut out = String::with_capacity(bare.len() + 400);
        for (nth, part) in bare.split("<section class=\"sheet").enumerate() {
            match part.split_once(">\n").filter(|_| nth > 0) {
                Some((attributes, rest)) => {
                    out.push_str("<section class=\"sheet");
                    out.push_str(attributes);
                    out.push_str(">\n");
                    out.push_str(&bar);
                    out.push_str(rest);
                }
                None if nth > 0 => {
                    out.push_str("<section class=\"sheet");
                    out.push_str(part);
                }
                None => out.push_str(part),
            }
        }
        out
    }

    /// A packet's data with the same told at its head.
    pub fn in_data(&self, json: &str) -> String {
        let mut lines: Vec<&str> = json.lines().filter(|line| !line.starts_with(DATA)).collect();
        // A string always serialises.
        let words = serde_json::to_string(&format!("because of {}", self.why)).unwrap_or_default();
        let told = format!("{DATA}{words},");
        if lines.first() == Some(&"{") {
            lines.insert(1, &told);
        }
        lines.join("\n") + "\n"
    }
}

/// A page without its bars, and the times that they told.
fn without(page: &str) -> (String, Option<(String, String)>) {
    let mut parts = page.split(OPEN);
    let mut bare = parts.next().unwrap_or("").to_owned();
    let mut times = None;
    for part in parts {
        let (bar, rest) = part.split_once(CLOSE).unwrap_or((part, ""));
        let told = |name: &str| {
            let value = bar.split_once(&format!(" {name}=\""))?.1.split_once('"')?.0;
            Some(value.to_owned())
        };
        times = times.or_else(|| told("data-made").zip(told("data-since")));
        bare.push_str(rest);
    }
    (bare, times)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_sheet_has_one_bar_which_keeps_its_times() {
        let page = "<main>\n<section class=\"sheet kind-a\" id=\"a\">\n<p>A</p>\n</section>\n\
                    <section class=\"sheet kind-b\" id=\"b\">\n<p class=\"bar\">FAIL</p>\n</section>\n</main>\n";
        let first = Bar { made: "2026-11-24 16:02".into(), since: "2026-11-25 09:00", why: "a.yaml:3:5" };
        let barred = first.over(page);
        assert_eq!(barred.matches(OPEN).count(), 2);
        assert!(barred.contains("id=\"a\">\n<p class=\"bar earlier\""), "{barred}");
        assert!(barred.contains("made 2026-11-24 16:02, from") && barred.contains("because of a.yaml:3:5."));
        let later = Bar { made: "2026-11-25 09:00".into(), since: "2026-11-26 07:00", why: "b.yaml" };
        let again = later.over(&barred);
        assert_eq!(again.matches(OPEN).count(), 2);
        assert!(
            again.contains("since 2026-11-25 09:00") && again.contains("made 2026-11-24 16:02"),
            "{again}"
        );
        assert!(again.contains("because of b.yaml."));
        assert_eq!(without(&again).0, page);
    }

    #[test]
    fn a_packets_data_tells_it_too() {
        let bar = Bar { made: String::new(), since: "2026-11-25 09:00", why: "a \"b\".yaml" };
        let told = bar.in_data("{\n  \"job\": \"gull\"\n}\n");
        let read: serde_json::Value = serde_json::from_str(&told).unwrap();
        assert_eq!(read["not_read_again"], "because of a \"b\".yaml");
        assert_eq!(bar.in_data(&told), told);
    }
}
