//! Lower bounds on the number of sticks that need no search.

use super::packing::Packing;

/// All the tube there is, over what a stick holds: `ceil(sum(size) / capacity)`.
pub(super) fn first(packing: &Packing) -> usize {
    let total: i64 = packing.counted().iter().map(|(size, count)| size * count).sum();
    ceil_div(total, packing.capacity) as usize
}

/// The bound of Martello and Toth, which sees that two pieces over half a stick cannot share one.
///
/// For each `k` up to half the capacity `C`: pieces over `C - k` take a stick alone (with none of
/// those that are counted); pieces over `C/2` take one each; pieces from `k` to `C/2` fill what the
/// latter leave, and what does not fit needs `ceil(rest / C)` more. The largest over `k` is taken, and
/// only sizes themselves need be tried as `k`.
///
/// Arguments: sizes with how many of each, in any order, none over `capacity`.
///
/// Source: S. Martello and P. Toth, "Lower bounds and reduction procedures for the bin packing
/// problem", Discrete Applied Mathematics 28 (1990) 59-70 (from memory).
pub(super) fn second(capacity: i64, counted: &[(i64, i64)]) -> usize {
    let small =
        counted.iter().filter(|(size, count)| *count > 0 && 2 * size <= capacity).map(|(size, _)| *size);
    let best = small.chain([0]).map(|k| with_threshold(capacity, counted, k)).max();
    best.unwrap_or(0) as usize
}

fn with_threshold(capacity: i64, counted: &[(i64, i64)], k: i64) -> i64 {
    let (mut alone, mut large, mut large_total, mut small_total) = (0, 0, 0, 0);
    for &(size, count) in counted {
        if size > capacity - k {
            alone += count;
        } else if 2 * size > capacity {
            large += count;
            large_total += size * count;
        } else if size >= k {
            small_total += size * count;
        }
    }
    let room = large * capacity - large_total;
    alone + large + ceil_div((small_total - room).max(0), capacity)
}

/// Quotient rounded up, of a number that is not negative by one above nothing.
pub(in crate::material) fn ceil_div(a: i64, b: i64) -> i64 {
    (a + b - 1) / b
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_pieces_over_half_a_stick_need_two_sticks() {
        // 6 + 6 + 6 of 10: length alone says 2.
        assert_eq!(second(10, &[(6, 3)]), 3);
    }

    #[test]
    fn pieces_in_the_middle_fill_what_the_large_ones_leave() {
        // 7, 7 leave 3 each; 4, 4, 4 do not fit there (k = 4 counts the 7s as alone): 2 + ceil(12/10).
        assert_eq!(second(10, &[(7, 2), (4, 3)]), 4);
        // 6, 6 leave 4 each, which take the 4s.
        assert_eq!(second(10, &[(6, 2), (4, 2)]), 2);
    }

    #[test]
    fn zero_pieces_need_no_stick() {
        assert_eq!(second(10, &[]), 0);
        assert_eq!(ceil_div(0, 10), 0);
    }
}
