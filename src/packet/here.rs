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
        let mut link = String::with_capacity(target.len() + anchor.len() + 16);
        if target != self.path || anchor.is_empty() {
            let (mut from, mut to) = (self.path.as_str(), target);
            while let (Some((a, after_a)), Some((b, after_b))) = (from.split_once('/'), to.split_once('/'))
                && a == b
            {
                (from, to) = (after_a, after_b);
            }
            from.matches('/').for_each(|_| link.push_str("../"));
            encode(to, b"-._~/", &mut link);
        }
        if !anchor.is_empty() {
            link.push('#');
            encode(anchor, b"-._~", &mut link);
        }
        link
    }
}

/// Percent-encodes all but letters, digits and the marks that are safe.
fn encode(text: &str, safe: &[u8], out: &mut String) {
    const HEX: &[u8; 16] = b"0123456789ABCDEF";
    for byte in text.bytes() {
        if byte.is_ascii_alphanumeric() || safe.contains(&byte) {
            out.push(char::from(byte));
        } else {
            let digit = |four: u8| char::from(HEX[usize::from(four)]);
            out.extend(['%', digit(byte >> 4), digit(byte & 15)]);
        }
    }
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
