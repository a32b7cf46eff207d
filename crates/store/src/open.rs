//! Opening the store: a fresh file, one step of version after another, or a refusal.
//! It never replaces a file that it does not understand.

use crate::error::StoreError;
use rusqlite::{Connection, OpenFlags, TransactionBehavior};
use std::path::{Path, PathBuf};
use std::time::Duration;

/// The steps from an empty file to the newest one, in order.
const MIGRATIONS: &[&str] = &[
    include_str!("../migrations/0001_document.sql"),
    include_str!("../migrations/0002_chosen.sql"),
];

/// The version of the store this program writes.
pub const NEWEST_VERSION: i64 = MIGRATIONS.len() as i64;

/// Says in the file's head that it is ours: "UBCK".
const APPLICATION_ID: i64 = 0x5542_434B;

/// An open store.
#[derive(Debug)]
pub struct Store {
    pub(crate) connection: Connection,
    path: PathBuf,
}

impl Store {
    /// Opens the store in `path`, makes it where there is none, and brings an older one up to date
    /// after a copy of it was laid beside it.
    ///
    /// # Errors
    /// [`StoreError::Newer`] for a file of a newer program, [`StoreError::Damaged`] for one that
    /// is no store; neither file is touched.
    pub fn open(path: &Path) -> Result<Self, StoreError> {
        Self::open_at(path, NEWEST_VERSION)
    }

    /// Opens the store no further than `version`; for the tests of the upgrades.
    ///
    /// # Errors
    /// As [`Store::open`].
    pub fn open_at(path: &Path, version: i64) -> Result<Self, StoreError> {
        if let Some(folder) = path.parent().filter(|folder| !folder.as_os_str().is_empty()) {
            std::fs::create_dir_all(folder)
                .map_err(|source| StoreError::Folder { folder: folder.to_owned(), source })?;
        }
        let fresh = std::fs::metadata(path).map_or(true, |meta| meta.is_file() && meta.len() == 0);
        if !fresh {
            look_before_touching(path)?;
        }
        let mut connection = Connection::open(path)?;
        connection.busy_timeout(Duration::from_secs(5))?;
        connection.pragma_update_and_check(None, "journal_mode", "wal", |_| Ok(()))?;
        connection.pragma_update(None, "synchronous", "full")?;
        connection.pragma_update(None, "foreign_keys", true)?;
        upgrade(&mut connection, path, version)?;
        Ok(Self { connection, path: path.to_owned() })
    }

    /// Where the store lies.
    #[must_use]
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// The version of the open file.
    ///
    /// # Errors
    /// When the file cannot be read.
    pub fn version(&self) -> Result<i64, StoreError> {
        Ok(user_version(&self.connection)?)
    }

    /// Every statement that makes up the schema, in order of name: what an upgrade must agree on.
    ///
    /// # Errors
    /// When the file cannot be read.
    pub fn schema(&self) -> Result<Vec<String>, StoreError> {
        let mut statement = self
            .connection
            .prepare("select sql from sqlite_schema where sql is not null order by type, name")?;
        let rows = statement.query_map([], |row| row.get(0))?;
        Ok(rows.collect::<Result<_, _>>()?)
    }
}

/// Reads the file without the right to change it, and refuses what is not ours to change.
fn look_before_touching(path: &Path) -> Result<(), StoreError> {
    let damaged = |detail: String| StoreError::Damaged { path: path.to_owned(), detail };
    let flags = OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    let connection =
        Connection::open_with_flags(path, flags).map_err(|error| damaged(error.to_string()))?;
    connection.busy_timeout(Duration::from_secs(5))?;
    let found = user_version(&connection).map_err(|error| damaged(error.to_string()))?;
    let id: i64 = connection.pragma_query_value(None, "application_id", |row| row.get(0))?;
    if id != APPLICATION_ID {
        return Err(damaged(format!("its application id is {id}")));
    }
    if found > NEWEST_VERSION {
        let path = path.to_owned();
        return Err(StoreError::Newer { path, found, known: NEWEST_VERSION });
    }
    let verdict: String = connection
        .query_row("pragma quick_check(1)", [], |row| row.get(0))
        .map_err(|error| damaged(error.to_string()))?;
    if verdict == "ok" { Ok(()) } else { Err(damaged(verdict)) }
}

fn user_version(connection: &Connection) -> rusqlite::Result<i64> {
    connection.pragma_query_value(None, "user_version", |row| row.get(0))
}

/// Walks from the version of the file to `target`, each step in a transaction of its own.
fn upgrade(connection: &mut Connection, path: &Path, target: i64) -> Result<(), StoreError> {
    let found = user_version(connection)?;
    if 0 < found && found < target {
        copy_beside(connection, path, found)?;
    }
    for (step, sql) in (1_i64..).zip(MIGRATIONS).take(target.max(0) as usize) {
        let failed = |source| StoreError::Upgrade { version: step, source };
        let transaction =
            connection.transaction_with_behavior(TransactionBehavior::Exclusive).map_err(failed)?;
        // Looked at again inside the lock: another process may have been quicker.
        if user_version(&transaction).map_err(failed)? >= step {
            continue;
        }
        transaction.execute_batch(sql).map_err(failed)?;
        transaction.pragma_update(None, "application_id", APPLICATION_ID).map_err(failed)?;
        transaction.pragma_update(None, "user_version", step).map_err(failed)?;
        transaction.commit().map_err(failed)?;
    }
    Ok(())
}

/// Lays a copy of the file beside it, named by its version; a copy that is there already stays.
fn copy_beside(connection: &Connection, path: &Path, version: i64) -> Result<(), StoreError> {
    let mut name = path.as_os_str().to_owned();
    name.push(format!(".before-version-{}", version + 1));
    let copy = PathBuf::from(name);
    if copy.exists() {
        return Ok(());
    }
    connection
        .execute("vacuum into ?1", [copy.to_string_lossy()])
        .map(|_| ())
        .map_err(|source| StoreError::Copy { path: path.to_owned(), source })
}
