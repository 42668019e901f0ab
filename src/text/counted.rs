//! A number of things in words.

/// A count with its noun: `1 job`, `3 jobs`.
///
/// ```
/// use longsweep::text::counted;
/// assert_eq!((counted(1, "stick"), counted(0, "stick")), ("1 stick".into(), "0 sticks".into()));
/// ```
pub fn counted(n: usize, noun: &str) -> String {
    if n == 1 { format!("1 {noun}") } else { format!("{n} {noun}s") }
}
