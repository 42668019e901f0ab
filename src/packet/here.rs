//! Links between sheets: always relative, so that the set works from a memory stick.

/// Where the page stands that is being made, as a path under `site/` with `/` between folders.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Here {
    path: String,
}

impl Here {
    /// A page of the set.
    pub fn page(path: impl Into<String>) -> Here {
        Here { path: path.into() }
    }

    /// The page's own path under `site/`.
    pub fn path(&self) -> &str {
        &self.path
    }

    /// The relative link from here to a path under `site/`, percent-encoded; `anchor` may be empty.
    ///
    /// ```
    /// use longsweep::packet::here::Here;
    /// let here = Here::page("jobs/gull/index.html");
    /// assert_eq!(here.to("standard/2026-1/bend-total.html", ""), "../../standard/2026-1/bend-total.html");
    /// assert_eq!(here.to("jobs/gull/index.html", "hall-cuts"), "#hall-cuts");
    /// ```
    pub fn to(&self, target: &str, anchor: &str) -> String {
        let tail = if anchor.is_empty() { String::new() } else { format!("#{}", encoded(anchor)) };
        if target == self.path && !tail.is_empty() {
            return tail;
        }
        let (from, to): (Vec<&str>, Vec<&str>) =
            (self.path.split('/').collect(), target.split('/').collect());
        let folders = (from.len() - 1).min(to.len() - 1);
        let shared = (0..folders).take_while(|&i| from[i] == to[i]).count();
        let up = "../".repeat(from.len() - 1 - shared);
        let down = to[shared..].iter().map(|part| encoded(part)).collect::<Vec<_>>().join("/");
        // A first part with a colon would read as a scheme; `./` keeps it a path.
        let guard = if up.is_empty() && down.contains(':') { "./" } else { "" };
        format!("{guard}{up}{down}{tail}")
    }
}

/// Percent-encodes all but letters, digits and the marks that are safe in a path.
fn encoded(part: &str) -> String {
    part.bytes()
        .map(|b| match b {
            b if b.is_ascii_alphanumeric() || b"-._~".contains(&b) => (b as char).to_string(),
            b => format!("%{b:02X}"),
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn recovers_links_up_down_and_beside() {
        let here = Here::page("jobs/north/gull/index.html");
        assert_eq!(here.to("index.html", ""), "../../../index.html");
        assert_eq!(here.to("jobs/north/gull/office.html", ""), "office.html");
        assert_eq!(here.to("jobs/south/x/index.html", "a b"), "../../south/x/index.html#a%20b");
        assert_eq!(Here::page("index.html").to("jobs/a#b?c/index.html", ""), "jobs/a%23b%3Fc/index.html");
    }
}
