//! The bearer token that calls must carry.

use crate::errors;
use sha2::{Digest, Sha256};
use std::{fs, io, path::Path};
use subtle::ConstantTimeEq;
use tonic::{Request, Status, service::Interceptor};

/// Shortest token that is accepted: 16 characters of a random token are 64 bits or more.
const SHORTEST_TOKEN: usize = 16;

/// Lets calls with the right token through, or all of them when there is none.
///
/// Health checks do not pass here: probes carry no token.
#[derive(Clone, Debug)]
pub struct Auth {
    /// Comparing digests of equal length takes the same time whatever is offered.
    expected: Option<[u8; 32]>,
}

impl Auth {
    /// Lets everything through.
    pub fn open() -> Self {
        Self { expected: None }
    }

    /// Requires the token in a file; white space around it does not count.
    ///
    /// # Errors
    /// When the file cannot be read or the token is shorter than 16 characters.
    pub fn from_file(path: &Path) -> io::Result<Self> {
        let text = fs::read_to_string(path)?;
        let token = text.trim();
        if token.len() < SHORTEST_TOKEN {
            let text = format!("the token is shorter than {SHORTEST_TOKEN} characters");
            return Err(io::Error::new(io::ErrorKind::InvalidData, text));
        }
        Ok(Self {
            expected: Some(Sha256::digest(token).into()),
        })
    }

    fn admits(&self, authorization: Option<&str>) -> bool {
        let Some(expected) = &self.expected else {
            return true;
        };
        let offered = authorization.and_then(bearer_token).unwrap_or_default();
        let offered: [u8; 32] = Sha256::digest(offered).into();
        expected.ct_eq(&offered).into()
    }
}

/// The scheme's name is case-insensitive (RFC 9110, 11.1; RFC 6750, 2.1).
fn bearer_token(authorization: &str) -> Option<&str> {
    let (scheme, token) = authorization.split_once(' ')?;
    scheme
        .eq_ignore_ascii_case("bearer")
        .then_some(token.trim())
}

impl Interceptor for Auth {
    fn call(&mut self, request: Request<()>) -> Result<Request<()>, Status> {
        let authorization = request.metadata().get("authorization");
        if self.admits(authorization.and_then(|value| value.to_str().ok())) {
            Ok(request)
        } else {
            Err(errors::unauthenticated())
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn guard(token: &str) -> io::Result<Auth> {
        let folder = tempfile::tempdir()?;
        let file = folder.path().join("token");
        fs::write(&file, token)?;
        Auth::from_file(&file)
    }

    #[test]
    fn only_the_right_token_passes() {
        let auth = guard("correct-horse-battery\n").unwrap();
        assert!(auth.admits(Some("Bearer correct-horse-battery")));
        assert!(
            auth.admits(Some("bearer  correct-horse-battery")),
            "RFC 9110, 11.1"
        );
        for wrong in [
            None,
            Some(""),
            Some("Bearer"),
            Some("Bearer "),
            Some("Basic correct-horse-battery"),
            Some("Bearer correct-horse-batterz"),
            Some("Bearer correct-horse-battery-and-more"),
        ] {
            assert!(!auth.admits(wrong), "{wrong:?}");
        }
        assert!(Auth::open().admits(None));
    }

    #[test]
    fn a_short_or_empty_token_is_refused() {
        assert!(guard("").is_err());
        assert!(guard("short").is_err());
    }
}
