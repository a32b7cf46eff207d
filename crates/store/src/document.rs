//! The questions about documents, each a function. It never looks into a text.

use crate::error::StoreError;
use crate::open::Store;
use rusqlite::{OptionalExtension, Row, params};

/// What a document describes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Kind {
    /// The pots of one place.
    Brewhouse,
    /// A wanted beer.
    Brew,
}

impl Kind {
    /// As it is written in the store.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Brewhouse => "brewhouse",
            Self::Brew => "brew",
        }
    }
}

/// One version of a document.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Document {
    /// Its number in the store.
    pub document_id: i64,
    /// Its name in an address.
    pub slug: String,
    /// Counts from 1.
    pub version: i64,
    /// As the person wrote it.
    pub content: String,
    /// When it was written, UTC, unix milliseconds.
    pub written_at_ms: i64,
}

/// Which brew is looked at on which brewhouse.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Chosen {
    /// Address name of the brewhouse.
    pub brewhouse: String,
    /// Address name of the brew.
    pub brew: String,
}

fn document_of(row: &Row<'_>) -> rusqlite::Result<Document> {
    Ok(Document {
        document_id: row.get("document_id")?,
        slug: row.get("slug")?,
        version: row.get("version")?,
        content: row.get("content")?,
        written_at_ms: row.get("written_at_ms")?,
    })
}

const NEWEST: &str = "select document_id, slug, version, content, written_at_ms
    from document join document_version using (document_id)
    where kind = ?1
      and version = (select max(version) from document_version as later
                     where later.document_id = document.document_id)";

impl Store {
    /// Writes a document down; the same text again makes no new version. Gives its version.
    ///
    /// # Errors
    /// When the store cannot be written.
    pub fn write_document(
        &mut self,
        kind: Kind,
        slug: &str,
        content: &str,
        now_ms: i64,
    ) -> Result<i64, StoreError> {
        let transaction = self.connection.transaction()?;
        transaction.execute(
            "insert into document (kind, slug) values (?1, ?2) on conflict do nothing",
            params![kind.name(), slug],
        )?;
        let document_id: i64 = transaction.query_row(
            "select document_id from document where kind = ?1 and slug = ?2",
            params![kind.name(), slug],
            |row| row.get(0),
        )?;
        let newest: Option<(i64, String)> = transaction
            .query_row(
                "select version, content from document_version where document_id = ?1
                 order by version desc limit 1",
                [document_id],
                |row| Ok((row.get(0)?, row.get(1)?)),
            )
            .optional()?;
        let version = match newest {
            Some((version, kept)) if kept == content => version,
            newest => {
                let version = newest.map_or(1, |(version, _)| version + 1);
                transaction.execute(
                    "insert into document_version (document_id, version, content, written_at_ms)
                     values (?1, ?2, ?3, ?4)",
                    params![document_id, version, content, now_ms],
                )?;
                version
            }
        };
        transaction.commit()?;
        Ok(version)
    }

    /// The newest version of every document of a kind, by address name.
    ///
    /// # Errors
    /// When the store cannot be read.
    pub fn documents(&self, kind: Kind) -> Result<Vec<Document>, StoreError> {
        let mut statement = self.connection.prepare_cached(&format!("{NEWEST} order by slug"))?;
        let rows = statement.query_map([kind.name()], document_of)?;
        Ok(rows.collect::<Result<_, _>>()?)
    }

    /// The newest version of one document.
    ///
    /// # Errors
    /// When the store cannot be read.
    pub fn document(&self, kind: Kind, slug: &str) -> Result<Option<Document>, StoreError> {
        let mut statement = self.connection.prepare_cached(&format!("{NEWEST} and slug = ?2"))?;
        Ok(statement.query_row(params![kind.name(), slug], document_of).optional()?)
    }

    /// Every version of one document, oldest first.
    ///
    /// # Errors
    /// When the store cannot be read.
    pub fn versions_of(&self, kind: Kind, slug: &str) -> Result<Vec<Document>, StoreError> {
        let mut statement = self.connection.prepare_cached(
            "select document_id, slug, version, content, written_at_ms
             from document join document_version using (document_id)
             where kind = ?1 and slug = ?2 order by version",
        )?;
        let rows = statement.query_map(params![kind.name(), slug], document_of)?;
        Ok(rows.collect::<Result<_, _>>()?)
    }

    /// Which brew is looked at on which brewhouse; nothing before the first choice.
    ///
    /// # Errors
    /// When the store cannot be read.
    pub fn chosen(&self) -> Result<Option<Chosen>, StoreError> {
        let mut statement = self.connection.prepare_cached(
            "select brewhouse.slug, brew.slug from chosen
             join document as brewhouse on brewhouse.document_id = brewhouse_id
             join document as brew on brew.document_id = brew_id",
        )?;
        let chosen = statement
            .query_row([], |row| Ok(Chosen { brewhouse: row.get(0)?, brew: row.get(1)? }))
            .optional()?;
        Ok(chosen)
    }

    /// Chooses a brew and a brewhouse.
    ///
    /// # Errors
    /// [`StoreError::Missing`] when one of them is not in the store; nothing is changed then.
    pub fn choose(&mut self, chosen: &Chosen) -> Result<(), StoreError> {
        let id_of = |kind: Kind, slug: &str| -> Result<i64, StoreError> {
            let missing = || StoreError::Missing { kind: kind.name(), slug: slug.to_owned() };
            Ok(self.document(kind, slug)?.ok_or_else(missing)?.document_id)
        };
        let brewhouse_id = id_of(Kind::Brewhouse, &chosen.brewhouse)?;
        let brew_id = id_of(Kind::Brew, &chosen.brew)?;
        self.connection.execute(
            "insert into chosen (one, brewhouse_id, brew_id) values (1, ?1, ?2)
             on conflict (one) do update
             set brewhouse_id = excluded.brewhouse_id, brew_id = excluded.brew_id",
            [brewhouse_id, brew_id],
        )?;
        Ok(())
    }
}
