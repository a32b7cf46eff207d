//! Why the store could not be opened, read or written. It mends nothing by itself.

use std::path::PathBuf;

/// Why the store could not be opened, read or written.
#[derive(Debug, thiserror::Error)]
pub enum StoreError {
    /// The folder of the store could not be made.
    #[error("the folder {folder:?} cannot be made: {source}; name another with --data")]
    Folder {
        /// The folder.
        folder: PathBuf,
        /// What the system said.
        source: std::io::Error,
    },
    /// The file was written by a newer program.
    #[error(
        "{path:?} was written by a newer Underback (version {found} of the store, this one knows \
         up to {known}); nothing was changed; use the newer program"
    )]
    Newer {
        /// The file.
        path: PathBuf,
        /// Its version.
        found: i64,
        /// The newest version this program knows.
        known: i64,
    },
    /// The file is not a store, or is damaged.
    #[error(
        "{path:?} is damaged or is no store of Underback ({detail}); it was left as it is; move \
         it away or name another folder with --data, and keep it: it may still be rescued"
    )]
    Damaged {
        /// The file.
        path: PathBuf,
        /// What was found.
        detail: String,
    },
    /// The copy before an upgrade could not be written.
    #[error("no copy of {path:?} could be made before its upgrade ({source}); nothing was changed")]
    Copy {
        /// The file.
        path: PathBuf,
        /// What SQLite said.
        source: rusqlite::Error,
    },
    /// A migration failed; the file stands at the version before it.
    #[error("the upgrade of the store to version {version} failed and was undone: {source}")]
    Upgrade {
        /// The version that was not reached.
        version: i64,
        /// What SQLite said.
        source: rusqlite::Error,
    },
    /// A document that was named is not there.
    #[error("there is no {kind} called {slug:?} in the store")]
    Missing {
        /// Its kind.
        kind: &'static str,
        /// Its name in an address.
        slug: String,
    },
    /// A statement failed.
    #[error("the store could not be used: {0}")]
    Sqlite(#[from] rusqlite::Error),
}
