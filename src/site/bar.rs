//! The bar over sheets of an earlier run, whose source cannot be read any more.
//!
//! It is put into the page as it stands, for what the page was made from is not at hand. Every sheet gets
//! one; a bar of an earlier run gives way to the new one, which keeps its times. No stamp may go on saying
//! that the job passes: the one in each title block and in the margin of each printed page says that the
//! sheet was not read again. What is bad stays as bad as it was.

/// How a bar begins; the page is told by it to be an earlier one.
const OPEN: &str = "<p class=\"bar earlier\"";
const CLOSE: &str = "</p>\n";
/// How the line begins that tells the same in a packet's data.
const DATA: &str = "  \"not_read_again\": ";

/// What a title block's stamp and a printed margin say in place of their verdict.
const STAMP: &str = "not read again";
/// Rules for the bar, in the page itself, for it was made by the style of its own day.
const STYLE: &str = "<style data-earlier>";
const STYLE_END: &str = "</style>\n";
/// On paper a full sheet has 4 mm to spare (`packet::paper`), and its title gives the bar the rest; a bar that
/// says why the job must not be built gives way, as this one says so too.
const RULES: &str = ".stamp.earlier{border:2px solid;max-width:8em;text-decoration:none}\
    @media print{.bar.earlier{font-size:8pt;line-height:1.1;padding:.2mm 3mm}.bar.earlier~.bar{display:none}\
    .bar.earlier~.sheet-head{padding-top:0}.bar.earlier~.sheet-head .sheet-title{font-size:11pt;line-height:1.1}\
    .stamp.earlier.big{font-size:10pt;line-height:1.1;padding:.3mm 1mm;max-width:30mm}\
    .verdict-line .stamp.earlier.big{max-width:none}.stamp.usual{white-space:nowrap}}";

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
        let bare = unspoken(restamped(&bare));
        let style = format!("{STYLE}{RULES}{}{STYLE_END}</head>", margins(&bare));
        let bare = bare.replacen("</head>", &style, 1);
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

    /// A packet's data with the same told at its head, and not to be built by.
    pub fn in_data(&self, json: &str) -> String {
        let mut lines: Vec<&str> = json.lines().filter(|line| !line.starts_with(DATA)).collect();
        // A string always serialises.
        let words = serde_json::to_string(&format!("because of {}", self.why)).unwrap_or_default();
        let told = format!("{DATA}{words},");
        for line in lines.iter_mut().filter(|line| line.starts_with("  \"may_be_built\": true")) {
            *line =
                if line.ends_with(',') { "  \"may_be_built\": false," } else { "  \"may_be_built\": false" };
        }
        if lines.first() == Some(&"{") {
            lines.insert(1, &told);
        }
        lines.join("\n") + "\n"
    }
}

/// A page whose large stamps say that it was not read again, and whose small ones say what was good then.
fn restamped(page: &str) -> String {
    const SPAN: &str = "<span class=\"stamp ";
    let mut parts = page.split(SPAN);
    let mut out = parts.next().unwrap_or("").to_owned();
    for part in parts {
        let read = part.split_once("\">").and_then(|(class, rest)| {
            let (word, rest) = rest.split_once("</span>")?;
            Some((class.split_once(' ')?, word, rest))
        });
        out.push_str(SPAN);
        match read {
            Some(((_, size), _, rest)) if size == "big" => {
                out.push_str(&format!("earlier {size}\">{STAMP}</span>{rest}"));
            }
            Some(((shape @ ("pass" | "cleared" | "waived"), size), word, rest))
                if !word.starts_with("was ") =>
            {
                out.push_str(&format!("{shape} {size}\">was {word}</span>{rest}"));
            }
            _ => out.push_str(part),
        }
    }
    out
}

/// A page whose line with the verdict does not say any more that it may be built.
fn unspoken(page: String) -> String {
    const LINE: &str = "<p class=\"verdict-line\">";
    let Some((before, rest)) = page.split_once(LINE) else { return page };
    let Some((line, after)) = rest.split_once("</p>") else { return page };
    let stamp = line.split_once("</span>").map_or(String::new(), |(stamp, _)| format!("{stamp}</span> "));
    format!("{before}{LINE}{stamp}Not to be built by before the office has looked at it.</p>{after}")
}

/// Rules that put the same into the margin of every printed page of a sheet that runs on.
fn margins(page: &str) -> String {
    let words = STAMP.to_uppercase();
    let sheets = (1..).take_while(|nth| page.contains(&format!("@page s{nth}{{")));
    sheets.map(|nth| format!("@page s{nth}{{@top-center{{content:\"{words}\"}}}}")).collect()
}

/// A page without its bars and their rules, and the times that they told.
fn without(page: &str) -> (String, Option<(String, String)>) {
    let page = match page.split_once(STYLE) {
        Some((before, rest)) => {
            format!("{before}{}", rest.split_once(STYLE_END).map_or(rest, |(_, after)| after))
        }
        None => page.to_owned(),
    };
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
    fn no_stamp_goes_on_saying_that_the_job_passes() {
        let page = "<head>\n<style>@page s1{@top-center{content:\"PASS\"}}</style>\n</head>\n\
                    <section class=\"sheet kind-a\" id=\"a\">\n<span class=\"stamp pass usual\">pass</span>\n\
                    <span class=\"stamp fail usual\">fail</span>\n<p class=\"verdict-line\"><span class=\"stamp pass big\">pass\
                    </span> It may be built.</p>\n</section>\n";
        let bar = Bar { made: String::new(), since: "2026-11-25 09:00", why: "a.yaml" };
        let barred = bar.over(page);
        assert!(barred.contains("<span class=\"stamp earlier big\">not read again</span>"), "{barred}");
        assert!(barred.contains(">was pass</span>") && barred.contains(">fail</span>"), "{barred}");
        assert!(!barred.contains(">pass</span>") && !barred.contains("may be built"), "{barred}");
        let (old, new) =
            (barred.rfind("\"PASS\""), barred.rfind("@page s1{@top-center{content:\"NOT READ AGAIN\"}}"));
        assert!(old.is_some() && new > old, "the later rule wins: {barred}");
        assert_eq!(bar.over(&barred), barred);
    }

    #[test]
    fn a_packets_data_tells_it_too() {
        let bar = Bar { made: String::new(), since: "2026-11-25 09:00", why: "a \"b\".yaml" };
        let told = bar.in_data("{\n  \"may_be_built\": true,\n  \"job\": \"gull\"\n}\n");
        let read: serde_json::Value = serde_json::from_str(&told).unwrap();
        assert_eq!(read["not_read_again"], "because of a \"b\".yaml");
        assert_eq!(read["may_be_built"], false);
        assert_eq!(bar.in_data(&told), told);
    }
}
