//! A table embedded at build time: rows found by column name.
//!
//! Not a reader of a person's file: the tables are ours, and a test reads every one.

use std::collections::BTreeMap;

/// One row of an embedded table.
pub(crate) struct Row<'a> {
    columns: &'a BTreeMap<String, usize>,
    fields: csv::StringRecord,
}

impl Row<'_> {
    /// The text of a column; empty when there is none.
    pub(crate) fn text(&self, column: &str) -> String {
        let at = self.columns.get(column).copied();
        at.and_then(|i| self.fields.get(i)).unwrap_or_default().trim().to_owned()
    }

    /// The number of a column; 0 when it is empty.
    pub(crate) fn number(&self, column: &str) -> f64 {
        self.text(column).parse().unwrap_or(0.0)
    }
}

/// An embedded table.
pub(crate) struct Rows {
    columns: BTreeMap<String, usize>,
    rows: Vec<csv::StringRecord>,
}

impl Rows {
    /// Reads a table whose comment lines begin with `#`.
    pub(crate) fn parse(text: &str) -> Rows {
        let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(text.as_bytes());
        let columns = reader.headers().map_or_else(
            |_| BTreeMap::new(),
            |names| names.iter().enumerate().map(|(i, name)| (name.to_owned(), i)).collect(),
        );
        Rows { columns, rows: reader.records().filter_map(Result::ok).collect() }
    }

    /// Each row turned into something.
    pub(crate) fn map<T>(self, make: impl Fn(&Row<'_>) -> T) -> Vec<T> {
        let columns = self.columns;
        self.rows.into_iter().map(|fields| make(&Row { columns: &columns, fields })).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::Rows;

    /// Every embedded table has as many rows as lines that are neither comment nor heading.
    #[test]
    fn no_row_of_any_table_is_lost() {
        for text in [
            include_str!("../data/material.csv"),
            include_str!("../data/fuel.csv"),
            include_str!("../data/valve.csv"),
            include_str!("../data/hose.csv"),
            include_str!("../data/kettle.csv"),
            include_str!("../data/instrument.csv"),
            include_str!("../data/fastener.csv"),
        ] {
            let lines = text.lines().filter(|l| !l.starts_with('#') && !l.is_empty()).count();
            assert_eq!(Rows::parse(text).rows.len(), lines - 1);
        }
    }
}
