//! The mark at the end of a page or drawing, by which it is known without the record.
//!
//! Its last line is a comment with the fingerprint of all before it and of its path. A page whose mark agrees is as it
//! was written there; one whose mark does not was changed by hand since, or copied from elsewhere.
use super::SiteFile;

const OPEN: &str = "<!-- set ";
const CLOSE: &str = " -->\n";

/// What the mark of a file says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Mark {
    /// No mark: not a page of the set, or a kind of file that carries none.
    None,
    /// As it was written.
    Whole,
    /// Changed since it was written, or written elsewhere.
    Broken,
}

/// Whether a file of the set carries a mark.
pub fn carries(path: &str) -> bool {
    path.ends_with(".html") || path.ends_with(".svg")
}

/// A file as it is written, pages and drawings with their mark, all else as it is.
pub struct Marked {
    pub path: String,
    pub bytes: Vec<u8>,
    /// Fingerprint of the whole.
    pub print: String,
}

/// Files with their marks and fingerprints.
pub fn marked(mut files: Vec<SiteFile>) -> Vec<Marked> {
    for file in &mut files {
        if carries(&file.path) && !file.bytes.ends_with(b"\n") {
            file.bytes.push(b'\n');
        }
    }
    let hashes = hashed_each(&files.iter().map(|file| file.bytes.as_slice()).collect::<Vec<_>>());
    let whole = |(SiteFile { path, mut bytes }, mut hash): (SiteFile, u64)| {
        if carries(&path) {
            let line = line(&path, hash, bytes.len());
            bytes.extend_from_slice(line.as_bytes());
            hash = hashed(hash, line.as_bytes());
        }
        Marked { print: told(hash, bytes.len()), path, bytes }
    };
    files.into_iter().zip(hashes).map(whole).collect()
}

/// The line of a mark, by path, hash and length of what it stands under.
fn line(path: &str, hash: u64, length: usize) -> String {
    format!("{OPEN}{}{CLOSE}", told(hashed(hash, path.as_bytes()), length))
}

/// Reads the mark of a file that stands at a path.
pub fn read(path: &str, bytes: &[u8]) -> Mark {
    // A mark is short; a page with more after it was added to by hand.
    let start = bytes.len().saturating_sub(400);
    let Some(at) = find_last(&bytes[start..], OPEN.as_bytes()).map(|at| start + at) else {
        return Mark::None;
    };
    let line = line(path, hashed(START, &bytes[..at]), at);
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
    bytes.iter().fold(before, |hash, byte| step(hash, *byte))
}

/// The hash of each text. In one text every step waits for the step before it; those of four texts of about one
/// length are taken at the same time.
fn hashed_each(texts: &[&[u8]]) -> Vec<u64> {
    let mut longest_first: Vec<usize> = (0..texts.len()).collect();
    longest_first.sort_by_key(|at| std::cmp::Reverse(texts[*at].len()));
    let mut hashes = vec![START; texts.len()];
    for at in longest_first.chunks(4) {
        let mut done = 0;
        if let [a, b, c, d] = *at {
            done = texts[d].len();
            let mut four = [START; 4];
            let both = |one: usize, other: usize| texts[one][..done].iter().zip(&texts[other][..done]);
            for ((a, b), (c, d)) in both(a, b).zip(both(c, d)) {
                four = [step(four[0], *a), step(four[1], *b), step(four[2], *c), step(four[3], *d)];
            }
            [hashes[a], hashes[b], hashes[c], hashes[d]] = four;
        }
        at.iter().for_each(|at| hashes[*at] = hashed(hashes[*at], &texts[*at][done..]));
    }
    hashes
}

fn step(hash: u64, byte: u8) -> u64 {
    (hash ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3)
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
        let page = one("a/b.html", "<p>cut here</p>");
        assert_eq!(page.print, fingerprint(&page.bytes));
        let page = page.bytes;
        assert_eq!(read("a/b.html", &page), Mark::Whole);
        assert_eq!(read("a/copy of b.html", &page), Mark::Broken);
        let text = String::from_utf8(page.clone()).unwrap();
        assert_eq!(read("a/b.html", text.replace("cut", "Cut").as_bytes()), Mark::Broken);
        assert_eq!(read("a/b.html", format!("{text}<p>more</p>\n").as_bytes()), Mark::Broken);
        assert_eq!(read("a/b.html", b"<p>cut here</p>"), Mark::None);
        assert_eq!(read("a/b.html", b""), Mark::None);
        assert_eq!(one("takeoff.csv", "a,b").bytes, b"a,b");
    }

    fn one(path: &str, text: &str) -> Marked {
        marked(vec![SiteFile { path: path.into(), bytes: text.into() }]).remove(0)
    }

    #[test]
    fn files_hashed_together_are_hashed_as_each_alone() {
        let texts: Vec<Vec<u8>> =
            (0..11_usize).map(|n| (0..n * n * 7 % 50).map(|i| (i * n) as u8).collect()).collect();
        let texts: Vec<&[u8]> = texts.iter().map(Vec::as_slice).collect();
        for some in 0..texts.len() {
            let alone: Vec<u64> = texts[..some].iter().map(|text| hashed(START, text)).collect();
            assert_eq!(hashed_each(&texts[..some]), alone);
        }
    }
}
