//! The mark at the end of a page or drawing, by which it is known without the record.
//!
//! Its last line is a comment with the fingerprint of all before it. A page whose mark agrees is as it
//! was written; one whose mark does not was changed by hand since.
use std::borrow::Cow;

const OPEN: &str = "<!-- set ";
const CLOSE: &str = " -->\n";

/// What the mark of a file says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Mark {
    /// No mark: not a page of the set, or a kind of file that carries none.
    None,
    /// As it was written.
    Whole,
    /// Changed since it was written.
    Broken,
}

/// The bytes as they are written, pages and drawings with their mark, all else as it is; and the fingerprint
/// of the whole.
pub fn marked<'a>(path: &str, bytes: &'a [u8]) -> (Cow<'a, [u8]>, String) {
    if !(path.ends_with(".html") || path.ends_with(".svg")) {
        return (Cow::Borrowed(bytes), fingerprint(bytes));
    }
    let mut out = Vec::with_capacity(bytes.len() + OPEN.len() + CLOSE.len() + 40);
    out.extend_from_slice(bytes);
    if !out.ends_with(b"\n") {
        out.push(b'\n');
    }
    let hash = hashed(START, &out);
    let line = format!("{OPEN}{}{CLOSE}", told(hash, out.len()));
    out.extend_from_slice(line.as_bytes());
    let whole = told(hashed(hash, line.as_bytes()), out.len());
    (Cow::Owned(out), whole)
}

/// Reads the mark of a file.
pub fn read(bytes: &[u8]) -> Mark {
    // A mark is short; a page with more after it was added to by hand.
    let start = bytes.len().saturating_sub(400);
    let Some(at) = find_last(&bytes[start..], OPEN.as_bytes()).map(|at| start + at) else {
        return Mark::None;
    };
    let line = format!("{OPEN}{}{CLOSE}", fingerprint(&bytes[..at]));
    if &bytes[at..] == line.as_bytes() { Mark::Whole } else { Mark::Broken }
}

/// The text of a file without its mark.
pub fn unmarked(text: &str) -> &str {
    text.rfind(OPEN).map_or(text, |at| &text[..at])
}

fn find_last(bytes: &[u8], wanted: &[u8]) -> Option<usize> {
    bytes.windows(wanted.len()).rposition(|window| window == wanted)
}

/// A fingerprint that tells an edited file from an unedited one: FNV-1a, 64 bits, and the length. It
/// guards against mistakes, not against someone who means to deceive.
pub fn fingerprint(bytes: &[u8]) -> String {
    told(hashed(START, bytes), bytes.len())
}

/// The hash of no bytes.
const START: u64 = 0xcbf2_9ce4_8422_2325;

/// The hash of what was hashed before and these bytes.
fn hashed(before: u64, bytes: &[u8]) -> u64 {
    bytes.iter().fold(before, |hash, byte| (hash ^ u64::from(*byte)).wrapping_mul(0x0000_0100_0000_01b3))
}

fn told(hash: u64, length: usize) -> String {
    format!("{hash:016x}-{length}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn published_fnv_test_vectors() {
        // FNV reference vectors (Fowler, Noll, Vo, test_fnv.c): 64-bit FNV-1a of "", "a" and "foobar".
        assert_eq!(fingerprint(b""), "cbf29ce484222325-0");
        assert_eq!(fingerprint(b"a"), "af63dc4c8601ec8c-1");
        assert_eq!(fingerprint(b"foobar"), "85944171f73967e8-6");
    }

    #[test]
    fn a_page_is_known_by_its_mark_until_it_is_changed() {
        let (page, print) = marked("a/b.html", b"<p>cut here</p>");
        assert_eq!(print, fingerprint(&page));
        let page = page.into_owned();
        assert_eq!(read(&page), Mark::Whole);
        let text = String::from_utf8(page.clone()).unwrap();
        assert_eq!(read(text.replace("cut", "Cut").as_bytes()), Mark::Broken);
        assert_eq!(read(format!("{text}<p>more</p>\n").as_bytes()), Mark::Broken);
        assert_eq!(read(b"<p>cut here</p>"), Mark::None);
        assert_eq!(read(b""), Mark::None);
        assert_eq!(marked("takeoff.csv", b"a,b").0.as_ref(), b"a,b");
    }
}
