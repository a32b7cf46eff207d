//! The shape of a file, declared once: keys, kinds, what is required, and what each is for.
//!
//! Everything is `const`; it holds no value of any file.

use quantity::Dimension;

/// The keys one table may hold.
#[derive(Debug)]
pub struct Shape {
    /// What such a table describes, for the schema.
    pub doc: &'static str,
    /// Its keys in the order a person would write them.
    pub fields: &'static [Field],
}

/// One key of a table.
#[derive(Debug)]
pub struct Field {
    /// The key as written.
    pub key: &'static str,
    /// What stands behind it.
    pub kind: Kind,
    /// Whether it may be left out.
    pub need: Need,
    /// What it is for, in a sentence or two, for the schema and for messages.
    pub doc: &'static str,
    /// Least and greatest for numbers and quantities, in the SI unit of the kind.
    pub range: Option<(f64, f64)>,
}

/// Whether a key may be left out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Need {
    /// It must be there.
    Required,
    /// It may be left out.
    Optional,
}

/// What may stand behind a key.
#[derive(Debug, Clone, Copy)]
pub enum Kind {
    /// Any text that is not empty.
    Text,
    /// One word of a list.
    Word(&'static [&'static str]),
    /// One word of a list that is made from a table of data.
    WordFrom(fn() -> Vec<&'static str>),
    /// A whole number.
    Integer,
    /// A number without a unit.
    Number,
    /// `true` or `false`.
    Bool,
    /// A day, `2026-09-14`.
    Date,
    /// A quantity of one of these kinds; its unit says which.
    Quantity(&'static [Dimension]),
    /// A quantity of one of these kinds, or one of these words.
    QuantityOrWord(&'static [Dimension], &'static [&'static str]),
    /// A list of one kind.
    List(&'static Kind),
    /// A table: `[inside]` or `inside = { … }`.
    Table(&'static Shape),
    /// Tables in order: `[[rest]]`.
    Tables(&'static Shape),
    /// Tables under names a person chooses: `[vessel.tun]`.
    Named(&'static Shape),
    /// The first kind that this sort of value could be: a text or a table, say.
    Either(&'static Kind, &'static Kind),
}

impl Field {
    /// A key that must be there.
    #[must_use]
    pub const fn required(key: &'static str, kind: Kind, doc: &'static str) -> Self {
        Self { key, kind, need: Need::Required, doc, range: None }
    }

    /// A key that may be left out.
    #[must_use]
    pub const fn optional(key: &'static str, kind: Kind, doc: &'static str) -> Self {
        Self { key, kind, need: Need::Optional, doc, range: None }
    }

    /// Bounds a number or quantity, both ends allowed, in the SI unit of its kind.
    #[must_use]
    pub const fn within(mut self, least: f64, greatest: f64) -> Self {
        self.range = Some((least, greatest));
        self
    }
}

impl Shape {
    /// The field with this key.
    #[must_use]
    pub fn field(&self, key: &str) -> Option<&'static Field> {
        self.fields.iter().find(|field| field.key == key)
    }
}

impl Kind {
    /// The words that may stand there, if words may.
    #[must_use]
    pub fn words(&self) -> Vec<&'static str> {
        match self {
            Kind::Word(words) | Kind::QuantityOrWord(_, words) => words.to_vec(),
            Kind::WordFrom(list) => list(),
            _ => Vec::new(),
        }
    }

    /// What is expected, in words.
    #[must_use]
    pub fn expected(&self) -> String {
        match self {
            Kind::Text => "a text in quotes".to_owned(),
            Kind::Word(_) | Kind::WordFrom(_) => format!("one of {}", quoted(&self.words())),
            Kind::Integer => "a whole number".to_owned(),
            Kind::Number => "a number without a unit".to_owned(),
            Kind::Bool => "true or false".to_owned(),
            Kind::Date => "a day, as 2026-09-14".to_owned(),
            Kind::Quantity(kinds) => {
                let words = kinds.iter().map(|k| format!("{}, as \"{}\"", k.name(), k.example()));
                words.collect::<Vec<_>>().join("; or ")
            }
            Kind::QuantityOrWord(kinds, words) => {
                format!("{}; or one of {}", Kind::Quantity(kinds).expected(), quoted(words))
            }
            Kind::List(item) => format!("a list in brackets, each {}", item.expected()),
            Kind::Table(shape) => format!("a table with {}", keys(shape)),
            Kind::Tables(shape) => format!("one or more tables in [[ ]] with {}", keys(shape)),
            Kind::Named(shape) => format!("tables, each under a name, with {}", keys(shape)),
            Kind::Either(a, b) => format!("{}; or {}", a.expected(), b.expected()),
        }
    }
}

fn keys(shape: &Shape) -> String {
    quoted(&shape.fields.iter().map(|field| field.key).collect::<Vec<_>>())
}

/// Words in quotes with commas, a long list cut short.
pub(crate) fn quoted(words: &[&str]) -> String {
    let mut list: Vec<_> = words.iter().take(24).map(|word| format!("\"{word}\"")).collect();
    if words.len() > list.len() {
        list.push("…".to_owned());
    }
    list.join(", ")
}
