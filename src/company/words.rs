//! The firm's own words: `content/words.yaml`.

/// A word of the trade as the firm says it, with what else people call it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FirmWord {
    /// Singular, as the firm says it.
    pub word: String,
    /// Other words for the same thing, by which it is found too.
    pub also: Vec<String>,
    /// Markdown.
    pub means: String,
    /// Line and column at which `means` begins.
    pub means_at: (usize, usize),
    /// Other words of the list.
    pub see: Vec<String>,
}

impl FirmWord {
    /// Whether it is called so, by its own word or by another for it; case does not tell words apart.
    pub fn names(&self, name: &str) -> bool {
        let name = name.to_lowercase();
        std::iter::once(&self.word).chain(&self.also).any(|own| own.to_lowercase() == name)
    }
}
