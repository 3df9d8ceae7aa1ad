//! The file beside the engine's that says whose folder it is, holds the lock, and remembers how far
//! the log was durable.
//!
//! On opening, the engine drops whatever follows the first damaged place of its log and says
//! nothing. So the number of the newest durable group of commits is also kept here: a log that ends before
//! it has lost acknowledged commits. The number is written after the log is synced and is itself
//! not synced: it can lag behind, which loses nothing, and never runs ahead.

use super::OpenError;
use std::{
    fs::{File, OpenOptions, TryLockError},
    io::{Read, Seek, SeekFrom, Write},
    path::Path,
};

/// Name of the file.
pub(super) const NAME: &str = "ringland-store";

/// First bytes of the file.
const MAGIC: [u8; 8] = *b"ringland";

/// The open and locked file.
#[derive(Debug)]
pub(super) struct Mark {
    file: File,
}

impl Mark {
    /// Opens or creates the file and takes the lock, which is held until the mark is dropped.
    pub(super) fn open(folder: &Path) -> Result<Self, OpenError> {
        let path = folder.join(NAME);
        let file = OpenOptions::new()
            .read(true)
            .write(true)
            .create(true)
            .truncate(false)
            .open(&path)
            .map_err(|source| OpenError::io(folder, source))?;
        match file.try_lock() {
            Ok(()) => Ok(Self { file }),
            Err(TryLockError::WouldBlock) => Err(OpenError::Locked {
                path: folder.to_owned(),
            }),
            Err(TryLockError::Error(source)) => Err(OpenError::io(folder, source)),
        }
    }

    /// A second handle that keeps the lock when the mark is dropped.
    pub(super) fn lock(&self) -> std::io::Result<File> {
        self.file.try_clone()
    }

    /// The newest number known to be durable; 0 in a new folder.
    pub(super) fn read(&mut self, folder: &Path) -> Result<u64, OpenError> {
        let mut bytes = Vec::new();
        self.file
            .seek(SeekFrom::Start(0))
            .map_err(|e| OpenError::io(folder, e))?;
        self.file
            .read_to_end(&mut bytes)
            .map_err(|e| OpenError::io(folder, e))?;
        if bytes.is_empty() {
            return Ok(0);
        }
        parse(&bytes).ok_or_else(|| {
            OpenError::corrupt(
                folder,
                format!("the file {NAME} in it is not one that was written here"),
            )
        })
    }

    /// Remembers that the log is durable up to this number.
    pub(super) fn write(&mut self, durable: u64) -> std::io::Result<()> {
        self.file.seek(SeekFrom::Start(0))?;
        self.file.write_all(&encode(durable))
    }
}

/// The magic, the number, and its complement as a check.
fn encode(durable: u64) -> [u8; 24] {
    let mut bytes = [0; 24];
    let fields = MAGIC
        .into_iter()
        .chain(durable.to_be_bytes())
        .chain((!durable).to_be_bytes());
    for (to, from) in bytes.iter_mut().zip(fields) {
        *to = from;
    }
    bytes
}

fn parse(bytes: &[u8]) -> Option<u64> {
    let (magic, rest) = bytes.split_first_chunk::<8>()?;
    let (number, rest) = rest.split_first_chunk::<8>()?;
    let check = <[u8; 8]>::try_from(rest).ok().map(u64::from_be_bytes)?;
    let number = u64::from_be_bytes(*number);
    (*magic == MAGIC && check == !number).then_some(number)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn any_changed_byte_is_noticed() {
        let bytes = encode(0x0102_0304_0506_0708);
        assert_eq!(parse(&bytes), Some(0x0102_0304_0506_0708));
        for place in 0..bytes.len() {
            let mut changed = bytes;
            if let Some(byte) = changed.get_mut(place) {
                *byte ^= 1;
            }
            assert_eq!(parse(&changed), None, "byte {place}");
        }
        assert_eq!(parse(bytes.get(..23).unwrap_or_default()), None);
    }
}
