//! Rows of all tables in one ordered key space: the table's number, then the key.

use crate::Table;
use std::ops::Bound;

/// Bounds of a range of flat keys.
pub(crate) type Range = (Bound<Vec<u8>>, Bound<Vec<u8>>);

/// The key of a row among all tables.
pub(crate) fn flat(table: Table, key: &[u8]) -> Vec<u8> {
    let mut flat = Vec::with_capacity(1 + key.len());
    flat.push(table as u8);
    flat.extend_from_slice(key);
    flat
}

/// The keys of a table that start with `prefix` and come after `after`; `None` if there can be none.
pub(crate) fn after(table: Table, prefix: &[u8], after: Option<&[u8]>) -> Option<Range> {
    let end = end_of_prefix(&flat(table, prefix));
    let start = match after {
        Some(key) if key.starts_with(prefix) => Bound::Excluded(flat(table, key)),
        Some(key) if key > prefix => return None,
        _ => Bound::Included(flat(table, prefix)),
    };
    Some((start, end))
}

/// The keys of a table that start with `prefix` and are at most `up_to`; `None` if there can be none.
pub(crate) fn up_to(table: Table, prefix: &[u8], up_to: Option<&[u8]>) -> Option<Range> {
    let end = match up_to {
        Some(key) if key.starts_with(prefix) => Bound::Included(flat(table, key)),
        Some(key) if key < prefix => return None,
        _ => end_of_prefix(&flat(table, prefix)),
    };
    Some((Bound::Included(flat(table, prefix)), end))
}

/// The first key after all that start with `prefix`: the prefix without trailing 0xff, plus one.
fn end_of_prefix(prefix: &[u8]) -> Bound<Vec<u8>> {
    match prefix.iter().rposition(|&byte| byte != u8::MAX) {
        None => Bound::Unbounded,
        Some(place) => {
            let mut end: Vec<u8> = prefix.iter().copied().take(place + 1).collect();
            if let Some(last) = end.last_mut() {
                *last += 1;
            }
            Bound::Excluded(end)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_prefix_ends_before_the_next_byte_string_of_its_length() {
        let end = |prefix: &[u8]| end_of_prefix(prefix);
        assert_eq!(end(&[1]), Bound::Excluded(vec![2]));
        assert_eq!(end(&[1, 7]), Bound::Excluded(vec![1, 8]));
        assert_eq!(end(&[1, 0xff]), Bound::Excluded(vec![2]));
        assert_eq!(end(&[1, 7, 0xff, 0xff]), Bound::Excluded(vec![1, 8]));
        assert_eq!(end(&[0xff, 0xff]), Bound::Unbounded);
    }
}
