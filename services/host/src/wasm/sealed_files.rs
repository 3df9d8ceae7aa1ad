//! Files in the host's private folder, each sealed with a digest over its key and content, so that
//! a flipped bit, a cut file or a file under another's name reads as absent.

use crate::contract::{Digest, ModelError};
use sha2::{Digest as _, Sha256};
use std::{
    fs, io,
    io::Write as _,
    path::{Path, PathBuf},
};

const SEAL_BYTES: usize = 32;

/// A folder of sealed files with one ending.
pub(super) struct SealedFiles {
    folder: PathBuf,
    most_bytes: u64,
}

impl SealedFiles {
    /// Opens a folder, making it where it is missing, and takes it away from everyone but the
    /// owner. It is kept to `most_bytes`.
    pub(super) fn open(folder: &Path, most_bytes: u64) -> Result<Self, ModelError> {
        let private = || -> io::Result<()> {
            fs::create_dir_all(folder)?;
            make_private(folder)
        };
        private().map_err(|error| {
            ModelError::Host(format!(
                "cannot use {} as the plugin cache: {error}; give a folder that this service owns",
                folder.display()
            ))
        })?;
        Ok(Self {
            folder: folder.into(),
            most_bytes,
        })
    }

    /// The content under a key; `None` when there is none or it does not match its seal.
    pub(super) fn read(&self, key: Digest) -> Option<Vec<u8>> {
        let path = self.path(key);
        let mut bytes = fs::read(&path).ok()?;
        let content = bytes.split_off(SEAL_BYTES.min(bytes.len()));
        if bytes == seal(key, &content) {
            return Some(content);
        }
        tracing::warn!(path = %path.display(), "a cached file is damaged and will be made again");
        None
    }

    /// Keeps content under a key. Readers see the old file or the new, never a part. A full or
    /// broken disk is logged: it costs a later start the work again and nothing else.
    pub(super) fn write(&self, key: Digest, content: &[u8]) {
        let kept = self.persist(key, content).and_then(|()| self.shrink());
        if let Err(error) = kept {
            let folder = self.folder.display();
            tracing::warn!(%folder, %key, %error, "the plugin cache cannot keep a file");
        }
    }

    fn persist(&self, key: Digest, content: &[u8]) -> io::Result<()> {
        let mut file = tempfile::NamedTempFile::new_in(&self.folder)?;
        file.write_all(&seal(key, content))?;
        file.write_all(content)?;
        file.persist(self.path(key)).map_err(|error| error.error)?;
        Ok(())
    }

    /// Removes the oldest files until the rest fits. Another caller may be at the same, so a file
    /// that is gone is as good as removed.
    fn shrink(&self) -> io::Result<()> {
        let mut files = Vec::new();
        for entry in fs::read_dir(&self.folder)?.flatten() {
            if let Ok(about) = entry.metadata() {
                files.push((about.modified()?, about.len(), entry.path()));
            }
        }
        files.sort();
        let mut total: u64 = files.iter().map(|(_, size, _)| size).sum();
        for (_, size, path) in files {
            if total <= self.most_bytes {
                break;
            }
            match fs::remove_file(path) {
                Err(error) if error.kind() != io::ErrorKind::NotFound => return Err(error),
                _ => total -= size,
            }
        }
        Ok(())
    }

    fn path(&self, key: Digest) -> PathBuf {
        self.folder.join(key.to_string())
    }
}

fn seal(key: Digest, content: &[u8]) -> [u8; SEAL_BYTES] {
    Sha256::new()
        .chain_update(key.0)
        .chain_update(content)
        .finalize()
        .into()
}

#[cfg(unix)]
fn make_private(folder: &Path) -> io::Result<()> {
    use std::os::unix::fs::PermissionsExt as _;
    // Refused by the system when the folder is another user's.
    fs::set_permissions(folder, fs::Permissions::from_mode(0o700))
}

#[cfg(not(unix))]
fn make_private(_: &Path) -> io::Result<()> {
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::wasm::digests::of_bytes;
    use std::time::{Duration, SystemTime};

    #[test]
    fn what_was_written_is_read_and_what_was_damaged_is_not() {
        let folder = tempfile::tempdir().unwrap();
        let files = SealedFiles::open(folder.path(), 200).unwrap();
        let (key, other) = (of_bytes(b"key"), of_bytes(b"other"));
        files.write(key, b"content");
        assert_eq!(files.read(key).as_deref(), Some(b"content".as_slice()));
        assert_eq!(files.read(other), None);

        fs::copy(files.path(key), files.path(other)).unwrap();
        assert_eq!(files.read(other), None, "another's file under this name");

        let whole = fs::read(files.path(key)).unwrap();
        for at in 0..whole.len() {
            let mut flipped = whole.clone();
            flipped[at] ^= 1;
            fs::write(files.path(key), &flipped).unwrap();
            assert_eq!(files.read(key), None, "byte {at} flipped");
        }
        fs::write(files.path(key), &whole[..10]).unwrap();
        assert_eq!(files.read(key), None, "cut");
    }

    #[cfg(unix)]
    #[test]
    fn the_folder_is_private() {
        use std::os::unix::fs::PermissionsExt as _;
        let parent = tempfile::tempdir().unwrap();
        let folder = parent.path().join("cache");
        SealedFiles::open(&folder, 200).unwrap();
        let mode = fs::metadata(&folder).unwrap().permissions().mode();
        assert_eq!(mode & 0o777, 0o700);
    }

    #[test]
    fn the_oldest_go_first() {
        let folder = tempfile::tempdir().unwrap();
        let files = SealedFiles::open(folder.path(), 200).unwrap();
        let keys = [b"a", b"b", b"c"].map(|key| of_bytes(key));
        for (age_s, key) in [(30, keys[0]), (20, keys[1]), (10, keys[2])] {
            files.persist(key, &[0; 68]).unwrap();
            let file = fs::File::options().append(true).open(files.path(key));
            let past = SystemTime::now() - Duration::from_secs(age_s);
            file.unwrap().set_modified(past).unwrap();
        }
        files.shrink().unwrap();
        let left = keys.map(|key| files.read(key).is_some());
        assert_eq!(left, [false, true, true]);
    }
}
