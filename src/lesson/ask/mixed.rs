//! In which order options and steps stand on the page.
//!
//! Whoever writes questions puts the right option where it came to mind, and readers soon know where. So
//! the page orders options by a hash of their own words: the same words always give the same order, and
//! no place is favoured over many questions.

/// The places of `words` in the order in which they are to stand: a permutation of their indices.
pub fn order(ask: &str, words: &[&str]) -> Vec<usize> {
    let mut places: Vec<usize> = (0..words.len()).collect();
    places.sort_by_key(|&at| (hash(ask, words[at]), at));
    places
}

/// The same for steps, which never stand in their right order from the first.
pub fn steps(ask: &str, words: &[&str]) -> Vec<usize> {
    let mut places = order(ask, words);
    if places.is_sorted() {
        places.rotate_left(1);
    }
    places
}

/// A question's id: eight hex digits of a hash of its words, so that a question that is reworded is asked anew.
pub fn id(ask: &str) -> String {
    format!("{:08x}", hash(ask, "") >> 32)
}

/// FNV-1a over question and option, its bits stirred once more by the finisher of MurmurHash3, since options
/// that differ in one letter would otherwise keep their order over many questions.
fn hash(ask: &str, option: &str) -> u64 {
    const OFFSET: u64 = 0xcbf2_9ce4_8422_2325;
    const PRIME: u64 = 0x0100_0000_01b3;
    let bytes = ask.bytes().chain([0]).chain(option.bytes());
    let mut hash = bytes.fold(OFFSET, |hash, byte| (hash ^ u64::from(byte)).wrapping_mul(PRIME));
    hash ^= hash >> 33;
    hash = hash.wrapping_mul(0xff51_afd7_ed55_8ccd);
    hash ^ (hash >> 33)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Each place of the right option is as likely as any other: chi-square with k - 1 degrees of freedom at
    /// 0.1 % is 10.83, 13.82 and 16.27 (NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.4).
    #[test]
    fn the_right_option_stands_in_no_place_more_often() {
        for (options, limit) in [(2, 10.83), (3, 13.82), (4, 16.27)] {
            let mut counts = vec![0_f64; options];
            let rounds = 1200_u32;
            for round in 0..rounds {
                let words: Vec<String> = (0..options).map(|n| format!("{} in", n as u32 + round)).collect();
                let words: Vec<&str> = words.iter().map(String::as_str).collect();
                let places = order(&format!("Question {round}?"), &words);
                counts[places.iter().position(|&at| at == 0).unwrap()] += 1.0;
            }
            let each = f64::from(rounds) / options as f64;
            let chi: f64 = counts.iter().map(|count| (count - each).powi(2) / each).sum();
            assert!(chi < limit, "{counts:?}: {chi:.2}");
        }
    }

    #[test]
    fn steps_never_stand_in_their_right_order() {
        for round in 0..200 {
            assert!(!steps(&format!("Round {round}"), &["cut", "deburr", "cement"]).is_sorted());
        }
    }
}
