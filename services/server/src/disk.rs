//! How much of the disk the ledger takes.

use std::{fs, path::Path};

/// Bytes of all files in a folder and below. What cannot be read, or goes away meanwhile, counts as 0.
pub fn bytes_in(folder: &Path) -> u64 {
    let Ok(entries) = fs::read_dir(folder) else {
        return 0;
    };
    let bytes = |entry: fs::DirEntry| match entry.metadata() {
        Ok(found) if found.is_dir() => bytes_in(&entry.path()),
        Ok(found) => found.len(),
        Err(_) => 0,
    };
    entries.flatten().map(bytes).sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn files_below_count() {
        let folder = tempfile::tempdir().unwrap();
        fs::create_dir(folder.path().join("below")).unwrap();
        fs::write(folder.path().join("a"), [0; 10]).unwrap();
        fs::write(folder.path().join("below/b"), [0; 5]).unwrap();
        assert_eq!(bytes_in(folder.path()), 15);
        assert_eq!(bytes_in(&folder.path().join("missing")), 0);
    }
}
