//! Opening a folder: whose it is, whether anyone has it open, whether it is whole.

use super::{
    log::{NEWEST_ROW, SledLog},
    mark,
    mark::Mark,
    tally::{TALLY_ROW, Tally},
    writer::{Log, Writer},
};
use crate::{KEY_CEILING_BYTES, Limits, VALUE_CEILING_BYTES};
use std::{
    fs::File,
    panic::{AssertUnwindSafe, catch_unwind},
    path::{Path, PathBuf},
    sync::{Arc, RwLock},
    time::Duration,
};

/// The layout of rows that this version writes.
const FORMAT: u32 = 2;

/// The layout before rows were counted, which this version reads and turns into its own.
const UNCOUNTED: u32 = 1;

/// A row that belongs to no table.
const FORMAT_ROW: &[u8] = b"\0format";

/// The least cache the engine works sensibly with.
const MIN_CACHE_BYTES: u64 = 1 << 20;

/// How to open a [`SledStore`](super::SledStore).
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SledOptions {
    /// The folder, on a local disk. Created if it is not there.
    pub path: PathBuf,
    /// Memory for pages, bytes, at least 1 MiB. The engine counts pages only: the process takes
    /// more.
    pub cache_bytes: u64,
    /// Bounds on keys and values.
    pub limits: Limits,
}

impl SledOptions {
    /// A folder with 256 MiB of cache and the default limits.
    pub fn new(path: impl Into<PathBuf>) -> Self {
        Self {
            path: path.into(),
            cache_bytes: 256 << 20,
            limits: Limits::default(),
        }
    }

    fn check(&self) -> Result<(), OpenError> {
        let key = self.limits.max_key_bytes;
        let value = self.limits.max_value_bytes;
        in_range("cache_bytes", self.cache_bytes, MIN_CACHE_BYTES, u64::MAX)?;
        in_range("max_key_bytes", key as u64, 1, KEY_CEILING_BYTES as u64)?;
        in_range(
            "max_value_bytes",
            value as u64,
            1,
            VALUE_CEILING_BYTES as u64,
        )
    }
}

fn in_range(option: &'static str, value: u64, min: u64, max: u64) -> Result<(), OpenError> {
    if (min..=max).contains(&value) {
        return Ok(());
    }
    Err(OpenError::Option {
        option,
        value,
        min,
        max,
    })
}

/// Why a folder could not be opened.
#[derive(Debug, thiserror::Error)]
pub enum OpenError {
    /// An option is out of range.
    #[error("store option {option} is {value}, expected {min} to {max}: change the configuration")]
    Option {
        /// Name of the option.
        option: &'static str,
        /// What it was.
        value: u64,
        /// Least.
        min: u64,
        /// Most.
        max: u64,
    },
    /// Somebody has the store open.
    #[error(
        "the store {path:?} is open in another process: stop that one first, or give this one a folder of its own"
    )]
    Locked {
        /// The folder.
        path: PathBuf,
    },
    /// The folder holds something that is no store.
    #[error(
        "{path:?} is not empty and not a store (it holds {found:?}): give an empty folder or the right one; nothing was changed"
    )]
    Foreign {
        /// The folder.
        path: PathBuf,
        /// Something that is in it.
        found: String,
    },
    /// The store is of a layout that this version cannot read.
    #[error(
        "the store {path:?} has format {found}, this version reads format {FORMAT}: run the version that wrote it, or copy the rows over with that one"
    )]
    Format {
        /// The folder.
        path: PathBuf,
        /// Its format.
        found: u32,
    },
    /// The store is damaged.
    #[error(
        "the store {path:?} is damaged: {reason}: keep a copy of the folder as it is, and restore the newest backup"
    )]
    Corrupt {
        /// The folder.
        path: PathBuf,
        /// What is wrong.
        reason: String,
    },
    /// The system could not read or write.
    #[error(
        "the store {path:?} cannot be opened: {source}: check that it is a folder on a local disk with space left, that this user may write to"
    )]
    Io {
        /// The folder.
        path: PathBuf,
        /// What the system said.
        source: std::io::Error,
    },
}

impl OpenError {
    pub(super) fn io(path: &Path, source: std::io::Error) -> Self {
        Self::Io {
            path: path.to_owned(),
            source,
        }
    }

    pub(super) fn corrupt(path: &Path, reason: impl Into<String>) -> Self {
        Self::Corrupt {
            path: path.to_owned(),
            reason: reason.into(),
        }
    }

    fn engine(path: &Path, error: sled::Error) -> Self {
        match error {
            sled::Error::Io(source) => Self::io(path, source),
            other => Self::corrupt(path, other.to_string()),
        }
    }
}

/// What an open store holds, in the order in which it is let go.
pub(super) struct Opened {
    pub(super) writer: Writer,
    pub(super) db: sled::Db,
    pub(super) gate: Arc<RwLock<()>>,
    /// Holds the lock until the engine has let go of its files.
    pub(super) _lock: File,
}

/// Opens the engine, checks what it recovered, and starts the writer.
pub(super) fn open(options: &SledOptions) -> Result<Opened, OpenError> {
    options.check()?;
    let path = options.path.as_path();
    let io = |source| OpenError::io(path, source);
    std::fs::create_dir_all(path).map_err(io)?;
    refuse_foreign(path)?;
    let mut mark = Mark::open(path)?;
    let lock = mark.lock().map_err(io)?;
    let marked = mark.read(path)?;
    let db = open_engine(options)?;
    let (newest, tally) = check_rows(path, &db, marked)?;
    sync_names(path).map_err(io)?;

    let file = File::open(path.join("db")).map_err(io)?;
    let gate = Arc::new(RwLock::new(()));
    let mut log = SledLog {
        db: db.clone(),
        file,
        mark,
        newest,
        tally,
        gate: Arc::clone(&gate),
    };
    // A killed process leaves commits that are visible now and were never synced.
    log.flush()
        .map_err(|reason| io(std::io::Error::other(reason)))?;
    let writer = Writer::start(log).map_err(io)?;
    Ok(Opened {
        writer,
        db,
        gate,
        _lock: lock,
    })
}

/// A folder is ours if it has the mark, and free if it has nothing.
fn refuse_foreign(path: &Path) -> Result<(), OpenError> {
    let entries = std::fs::read_dir(path).map_err(|e| OpenError::io(path, e))?;
    let mut found = None;
    for entry in entries {
        let name = entry.map_err(|e| OpenError::io(path, e))?.file_name();
        if name == mark::NAME {
            return Ok(());
        }
        // The root of a mounted volume has this one from the start.
        if name != "lost+found" {
            found = Some(name.to_string_lossy().into_owned());
        }
    }
    found.map_or(Ok(()), |found| {
        Err(OpenError::Foreign {
            path: path.to_owned(),
            found,
        })
    })
}

/// Opens the engine, which panics on some kinds of damage.
fn open_engine(options: &SledOptions) -> Result<sled::Db, OpenError> {
    let path = options.path.as_path();
    let config = sled::Config::new()
        .path(path)
        .cache_capacity(options.cache_bytes);
    let mut tries_left = 100;
    loop {
        let opened = catch_unwind(AssertUnwindSafe(|| config.open()))
            .map_err(|_| OpenError::corrupt(path, "the engine cannot read its files"))?;
        match opened {
            // Background threads of a store that was just closed here hold the engine's own lock a
            // little longer. Another process is not the reason: the mark is locked.
            Err(sled::Error::Io(e)) if tries_left > 0 && e.to_string().contains("lock") => {
                tries_left -= 1;
                std::thread::sleep(Duration::from_millis(50));
            }
            opened => return opened.map_err(|e| OpenError::engine(path, e)),
        }
    }
}

/// Checks the format, that the log reaches the mark, and that the rows are those that were committed; gives the number of the
/// newest group of commits and the tally.
fn check_rows(path: &Path, db: &sled::Db, marked: u64) -> Result<(u64, Tally), OpenError> {
    let engine = |e| OpenError::engine(path, e);
    let Some(format) = db.get(FORMAT_ROW).map_err(engine)? else {
        if marked > 0 || !db.is_empty() {
            return Err(OpenError::corrupt(path, "its log has lost its beginning"));
        }
        let none = Tally::default();
        let mut first = sled::Batch::default();
        first.insert(FORMAT_ROW, &FORMAT.to_be_bytes());
        first.insert(NEWEST_ROW, &1_u64.to_be_bytes());
        first.insert(TALLY_ROW, &none.encode());
        db.apply_batch(first).map_err(engine)?;
        return Ok((1, none));
    };
    let format = <[u8; 4]>::try_from(&*format)
        .map(u32::from_be_bytes)
        .map_err(|_| OpenError::corrupt(path, "the row of its format is unreadable"))?;
    if ![FORMAT, UNCOUNTED].contains(&format) {
        return Err(OpenError::Format {
            path: path.to_owned(),
            found: format,
        });
    }
    let newest = db.get(NEWEST_ROW).map_err(engine)?;
    let newest = newest
        .and_then(|row| <[u8; 8]>::try_from(&*row).ok())
        .map(u64::from_be_bytes);
    let newest = newest.ok_or_else(|| OpenError::corrupt(path, "its last number is unreadable"))?;
    if newest < marked {
        let reason = format!("its log ends at number {newest}, but {marked} was acknowledged");
        return Err(OpenError::corrupt(path, reason));
    }
    let found = catch_unwind(AssertUnwindSafe(|| Tally::of(db)))
        .map_err(|_| OpenError::corrupt(path, "the engine cannot read its rows"))?
        .map_err(engine)?;
    if format == UNCOUNTED {
        let mut counted = sled::Batch::default();
        counted.insert(FORMAT_ROW, &FORMAT.to_be_bytes());
        counted.insert(TALLY_ROW, &found.encode());
        db.apply_batch(counted).map_err(engine)?;
        return Ok((newest, found));
    }
    let committed = db.get(TALLY_ROW).map_err(engine)?;
    let committed = committed.and_then(|row| Tally::parse(&row));
    let committed = committed.ok_or_else(|| OpenError::corrupt(path, "its tally is unreadable"))?;
    if found != committed {
        let reason = format!("its rows ({found}) are not those that were committed ({committed})");
        return Err(OpenError::corrupt(path, reason));
    }
    Ok((newest, found))
}

/// Puts the names of new files on disk.
fn sync_names(path: &Path) -> std::io::Result<()> {
    if cfg!(unix) {
        File::open(path)?.sync_all()?;
        if let Some(parent) = path
            .parent()
            .filter(|parent| !parent.as_os_str().is_empty())
        {
            File::open(parent)?.sync_all()?;
        }
    }
    Ok(())
}
