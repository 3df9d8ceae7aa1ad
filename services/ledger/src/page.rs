//! Pages of lists and their tokens.

use crate::{FieldViolation, LedgerError, Reason, rows};
use base64::{Engine, engine::general_purpose::URL_SAFE_NO_PAD};

/// Which page of a list is wanted.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct PageRequest {
    /// At most this many, 1 to 1000; 0 means 100.
    pub page_size: i32,
    /// From an earlier page of the same query; empty for the first.
    pub page_token: String,
}

/// One page of a list. It may be shorter than asked for although more follow.
#[derive(Clone, Debug, PartialEq)]
pub struct Page<T> {
    /// What is on it.
    pub items: Vec<T>,
    /// Empty on the last page.
    pub next_page_token: String,
}

const TOKEN_VERSION: u8 = 1;
const QUERY_BYTES: usize = 8;

/// A checked page request: how many rows after which key.
pub(crate) struct Cursor {
    pub(crate) size: usize,
    pub(crate) after: Option<Vec<u8>>,
    query: [u8; QUERY_BYTES],
}

impl Cursor {
    /// Checks a page request against the query that it belongs to.
    pub(crate) fn new(page: &PageRequest, query: &[&str]) -> Result<Self, LedgerError> {
        let size = match page.page_size {
            0 => 100,
            size @ 1..=1000 => size as usize,
            size => {
                return Err(LedgerError::invalid(FieldViolation::new(
                    "page_size",
                    &size.to_string(),
                    "0 to 1000",
                    "ask for a smaller page and follow next_page_token",
                )));
            }
        };
        let query = query_hash(query);
        let after = match page.page_token.as_str() {
            "" => None,
            token => Some(read_token(token, query)?),
        };
        Ok(Self { size, after, query })
    }

    /// The token of the page after the row with this key.
    pub(crate) fn token(&self, last_key: &[u8]) -> String {
        let mut bytes = vec![TOKEN_VERSION];
        bytes.extend_from_slice(&self.query);
        bytes.extend_from_slice(last_key);
        URL_SAFE_NO_PAD.encode(bytes)
    }

    /// A page from rows already made into items, of which one more than `size` may have been read.
    pub(crate) fn page<T>(&self, mut items: Vec<(Vec<u8>, T)>) -> Page<T> {
        let more = items.len() > self.size;
        items.truncate(self.size);
        let next_page_token = match items.last() {
            Some((key, _)) if more => self.token(key),
            _ => String::new(),
        };
        Page {
            items: items.into_iter().map(|(_, item)| item).collect(),
            next_page_token,
        }
    }
}

fn query_hash(query: &[&str]) -> [u8; QUERY_BYTES] {
    let parts: Vec<&[u8]> = query.iter().map(|part| part.as_bytes()).collect();
    let digest = rows::digest_of(&parts);
    std::array::from_fn(|i| digest.0[i])
}

fn read_token(token: &str, query: [u8; QUERY_BYTES]) -> Result<Vec<u8>, LedgerError> {
    let bytes = URL_SAFE_NO_PAD.decode(token).unwrap_or_default();
    match bytes.split_at_checked(1 + QUERY_BYTES) {
        Some((head, key)) if head.first() == Some(&TOKEN_VERSION) && head.ends_with(&query) => {
            Ok(key.to_vec())
        }
        _ => Err(LedgerError::InvalidArgument {
            reason: Reason::PageTokenInvalid,
            violations: vec![FieldViolation::new(
                "page_token",
                &format!("{token:?}"),
                "the next_page_token of an earlier page of the same query",
                "leave it empty to start again",
            )],
        }),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn request(page_size: i32, page_token: &str) -> PageRequest {
        PageRequest {
            page_size,
            page_token: page_token.into(),
        }
    }

    #[test]
    fn a_token_opens_its_own_query_only() {
        let first = Cursor::new(&request(2, ""), &["units"]).unwrap();
        let token = first.token(b"engine-b");
        let second = Cursor::new(&request(2, &token), &["units"]).unwrap();
        assert_eq!(second.after.as_deref(), Some(b"engine-b".as_slice()));
        for query in [&["builds"][..], &["units", ""], &["unit", "s"]] {
            let error = Cursor::new(&request(2, &token), query).err().unwrap();
            assert_eq!(error.reason(), Reason::PageTokenInvalid);
        }
        assert!(Cursor::new(&request(2, "AA"), &["units"]).is_err());
        assert!(Cursor::new(&request(-1, ""), &["units"]).is_err());
        assert!(Cursor::new(&request(1001, ""), &["units"]).is_err());
    }
}
