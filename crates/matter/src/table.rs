//! Reads the tables that are built into this crate; it knows no column.

use serde::{Deserialize, Deserializer, de::DeserializeOwned};

/// Rows of a table with `#` comment lines at its head.
///
/// The text is part of the program: a row that does not fit is a bug, found by the tests that read
/// every table, and not an input a user could mend.
pub(crate) fn rows<T: DeserializeOwned>(text: &str) -> Vec<T> {
    csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .from_reader(text.as_bytes())
        .deserialize()
        .collect::<Result<_, _>>()
        .unwrap_or_else(|error| panic!("built-in table: {error}"))
}

/// A percentage, kept as a share of 1.
pub(crate) fn percent<'de, D: Deserializer<'de>>(from: D) -> Result<f64, D::Error> {
    Ok(f64::deserialize(from)? / 100.0)
}
