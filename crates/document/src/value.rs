//! A checked file in the hand: typed access by key, each value with its place.
//!
//! Values that were found wrong are there as [`Value::Broken`], so that a key that is badly written
//! is not taken for a missing one. Nothing is checked here.

use std::sync::Arc;

use quantity::{Quantity, Stated, StatedSi};

use crate::source::{Source, Span};
use crate::{Findings, Shape};

/// A value with its place in the file.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Placed<T> {
    /// The value.
    pub value: T,
    /// Where it stands.
    pub span: Span,
}

impl<T> Placed<T> {
    /// The same place with another value.
    pub fn map<U>(self, f: impl FnOnce(T) -> U) -> Placed<U> {
        Placed { value: f(self.value), span: self.span }
    }
}

/// A day of the calendar.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Date {
    /// Year.
    pub year: u16,
    /// Month from 1.
    pub month: u8,
    /// Day from 1.
    pub day: u8,
}

impl std::fmt::Display for Date {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{:04}-{:02}-{:02}", self.year, self.month, self.day)
    }
}

/// What stands behind a key.
#[derive(Debug, Clone, PartialEq)]
pub enum Value {
    /// A text or a word.
    Text(String),
    /// A whole number.
    Integer(i64),
    /// A number without a unit.
    Number(f64),
    /// Yes or no.
    Bool(bool),
    /// A day.
    Date(Date),
    /// A quantity.
    Quantity(StatedSi),
    /// A list.
    List(Vec<Placed<Value>>),
    /// A table, or tables under names.
    Table(Table),
    /// Tables in order.
    Tables(Vec<Table>),
    /// Found wrong; a finding says how.
    Broken,
}

/// A key with its value.
#[derive(Debug, Clone, PartialEq)]
pub struct Entry {
    /// The key.
    pub key: Placed<String>,
    /// The value.
    pub value: Placed<Value>,
}

/// A table of a file, its entries in the order of the file.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Table {
    /// Its header, or all of it when it is written in braces.
    pub span: Span,
    /// What it holds.
    pub entries: Vec<Entry>,
}

/// A checked file.
#[derive(Debug, Clone, PartialEq)]
pub struct Document {
    pub(crate) source: Arc<Source>,
    pub(crate) root: Table,
}

impl Document {
    /// Reads and checks a file's text against its shape.
    ///
    /// Findings may hold errors: the caller adds its own before it gives up.
    ///
    /// # Errors
    /// [`Findings`] when the text is empty, too large, binary, or no TOML at all.
    pub fn read(
        name: &str,
        text: &str,
        shape: &'static Shape,
    ) -> Result<(Document, Findings), Findings> {
        crate::check::read(name, text, shape)
    }

    /// The file.
    #[must_use]
    pub fn source(&self) -> &Arc<Source> {
        &self.source
    }

    /// The table of the whole file.
    #[must_use]
    pub fn root(&self) -> &Table {
        &self.root
    }

    /// The table at a path of keys with dots: `vessel.tun`.
    #[must_use]
    pub fn table(&self, path: &str) -> Option<&Table> {
        path.split('.').try_fold(&self.root, |table, key| table.table(key))
    }
}

impl Table {
    /// The entry with this key.
    #[must_use]
    pub fn entry(&self, key: &str) -> Option<&Entry> {
        self.entries.iter().find(|entry| entry.key.value == key)
    }

    /// The key is written, rightly or wrongly.
    #[must_use]
    pub fn has(&self, key: &str) -> bool {
        self.entry(key).is_some()
    }

    /// Where the value of a key stands; the table's own place when it isn't there.
    #[must_use]
    pub fn place(&self, key: &str) -> Span {
        self.entry(key).map_or(self.span, |entry| match &entry.value.value {
            Value::Table(table) if table.span.end > 0 => table.span,
            _ => entry.value.span,
        })
    }

    /// Where the key itself stands; the table's own place when it isn't there.
    #[must_use]
    pub fn key_place(&self, key: &str) -> Span {
        self.entry(key).map_or(self.span, |entry| entry.key.span)
    }

    fn get<'a, T>(
        &'a self,
        key: &str,
        pick: impl FnOnce(&'a Value) -> Option<T>,
    ) -> Option<Placed<T>> {
        let entry = self.entry(key)?;
        pick(&entry.value.value).map(|value| Placed { value, span: entry.value.span })
    }

    /// A text or word.
    #[must_use]
    pub fn text(&self, key: &str) -> Option<Placed<&str>> {
        self.get(key, Value::as_text)
    }

    /// A whole number.
    #[must_use]
    pub fn integer(&self, key: &str) -> Option<Placed<i64>> {
        self.get(key, |value| if let Value::Integer(n) = value { Some(*n) } else { None })
    }

    /// A number without a unit.
    #[must_use]
    pub fn number(&self, key: &str) -> Option<Placed<f64>> {
        self.get(key, |value| if let Value::Number(n) = value { Some(*n) } else { None })
    }

    /// Yes or no.
    #[must_use]
    pub fn bool(&self, key: &str) -> Option<Placed<bool>> {
        self.get(key, |value| if let Value::Bool(b) = value { Some(*b) } else { None })
    }

    /// A day.
    #[must_use]
    pub fn date(&self, key: &str) -> Option<Placed<Date>> {
        self.get(key, |value| if let Value::Date(date) = value { Some(*date) } else { None })
    }

    /// A quantity of one kind; none when it is of another of the allowed kinds.
    #[must_use]
    pub fn quantity<Q: Quantity>(&self, key: &str) -> Option<Placed<Stated<Q>>> {
        self.get(key, |value| value.as_quantity().and_then(|q| q.typed()))
    }

    /// A quantity of any of the allowed kinds.
    #[must_use]
    pub fn any_quantity(&self, key: &str) -> Option<Placed<StatedSi>> {
        self.get(key, Value::as_quantity)
    }

    /// A list; empty when left out.
    #[must_use]
    pub fn list(&self, key: &str) -> &[Placed<Value>] {
        match self.entry(key).map(|entry| &entry.value.value) {
            Some(Value::List(items)) => items,
            _ => &[],
        }
    }

    /// A list of quantities of one kind; others of it are left out.
    #[must_use]
    pub fn quantities<Q: Quantity>(&self, key: &str) -> Vec<Placed<Stated<Q>>> {
        let typed = |item: &Placed<Value>| {
            let stated = item.value.as_quantity()?.typed()?;
            Some(Placed { value: stated, span: item.span })
        };
        self.list(key).iter().filter_map(typed).collect()
    }

    /// A list of texts.
    #[must_use]
    pub fn texts(&self, key: &str) -> Vec<Placed<&str>> {
        let text = |item: &'_ Placed<Value>| item.span;
        let items = self.list(key).iter();
        items.filter_map(|i| Some(Placed { value: i.value.as_text()?, span: text(i) })).collect()
    }

    /// A table.
    #[must_use]
    pub fn table(&self, key: &str) -> Option<&Table> {
        match &self.entry(key)?.value.value {
            Value::Table(table) => Some(table),
            _ => None,
        }
    }

    /// Tables in order; empty when left out.
    #[must_use]
    pub fn tables(&self, key: &str) -> &[Table] {
        match self.entry(key).map(|entry| &entry.value.value) {
            Some(Value::Tables(tables)) => tables,
            _ => &[],
        }
    }

    /// Tables under names, in the order of the file; empty when left out.
    pub fn named(&self, key: &str) -> impl Iterator<Item = (Placed<&str>, &Table)> {
        let entries = self.table(key).map_or(&[][..], |table| &table.entries);
        entries.iter().filter_map(|entry| match &entry.value.value {
            Value::Table(table) => {
                Some((Placed { value: entry.key.value.as_str(), span: entry.key.span }, table))
            }
            _ => None,
        })
    }
}

impl Value {
    /// The text, if it is one.
    #[must_use]
    pub fn as_text(&self) -> Option<&str> {
        if let Value::Text(text) = self { Some(text) } else { None }
    }

    /// The quantity, if it is one.
    #[must_use]
    pub fn as_quantity(&self) -> Option<StatedSi> {
        if let Value::Quantity(stated) = self { Some(*stated) } else { None }
    }
}
