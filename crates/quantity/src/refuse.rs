//! What is said when a text is no quantity: what was found, expected, and perhaps meant.
//!
//! It decides nothing; the reader does.

use std::ops::Range;

use crate::Dimension;
use crate::read::{Part, Reader, unit_spelled};
use crate::unit::{Unit, units_of};

/// Why a text can't be read as a quantity.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Reason {
    /// Nothing stands there.
    Empty,
    /// No number where one should be; `nan` and `inf` are none.
    NoNumber,
    /// Both kinds of decimal mark, or a comma that may mean thousands.
    AmbiguousNumber,
    /// A number without its unit.
    MissingUnit,
    /// A unit that could mean two things.
    AmbiguousUnit,
    /// A unit nobody knows here.
    UnknownUnit,
    /// A unit of another kind of quantity.
    WrongKind,
    /// Less or more than there can be.
    OutOfRange,
    /// The doubt after `±` can't be meant.
    BadDoubt,
    /// Text left over after the quantity.
    Leftover,
}

/// A text that is no such quantity: what was found, what was expected, what may have been meant.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{found}; expected {expected}")]
pub struct ReadError {
    /// The kind of mistake.
    pub reason: Reason,
    /// What stands there, in words.
    pub found: String,
    /// What should, in words.
    pub expected: String,
    /// What may have been meant.
    pub suggestion: Option<String>,
    /// The bytes of the text that are at fault.
    pub range: Range<usize>,
}

/// Units that mean two things, or not what is read here, with what to write.
const AMBIGUOUS: [(&str, &str); 15] = [
    ("°", "\"°C\" or \"°F\""),
    ("deg", "\"°C\" or \"°F\""),
    ("degrees", "\"°C\" or \"°F\""),
    ("fl oz", "the volume in \"mL\", \"qt\" or \"gal\""),
    ("pt", "the volume in \"qt\" or \"L\" (pints differ between countries)"),
    ("pint", "the volume in \"qt\" or \"L\" (pints differ between countries)"),
    ("pints", "the volume in \"qt\" or \"L\" (pints differ between countries)"),
    ("imp gal", "the volume in \"L\" (one imperial gallon is 4.54609 L; \"gal\" is US)"),
    ("UK gal", "the volume in \"L\" (one imperial gallon is 4.54609 L; \"gal\" is US)"),
    ("t", "the mass in \"kg\""),
    ("Btu", "\"Btu/h\" or \"kBtu/h\" (a power has its \"/h\")"),
    ("BTU", "\"Btu/h\" or \"kBtu/h\" (a power has its \"/h\")"),
    ("hp", "the power in \"kW\""),
    ("°f", "\"°F\", or \"°dH\" for a hardness"),
    ("GPM", "\"gal/min\" or \"L/min\""),
];

impl Reader<'_> {
    pub(crate) fn no_number(&self, range: Range<usize>) -> ReadError {
        let found = format!("\"{}\" where a number should be", clip(&self.text[range.clone()]));
        self.error(Reason::NoNumber, range, &found, None)
    }

    pub(crate) fn missing_unit(&self, part: &Part) -> ReadError {
        let number = self.text[part.at.clone()].to_owned();
        let value = part.number.value;
        let meant = match self.kinds.first() {
            Some(Dimension::Extract) if (1000.0..1200.0).contains(&value) => {
                format!("\"{}\"", short(value / 1000.0))
            }
            Some(kind) => {
                let (least, greatest) = kind.limits();
                let could = |u: &&Unit| (least..=greatest).contains(&u.to_si(value));
                let units = units_of(*kind).iter().filter(could).take(2);
                units.map(|u| format!("\"{number} {}\"", u.symbol)).collect::<Vec<_>>().join(" or ")
            }
            None => String::new(),
        };
        let found = format!("the number {number} without a unit");
        let meant = Some(meant).filter(|meant| !meant.is_empty());
        self.error(Reason::MissingUnit, part.at.clone(), &found, meant)
    }

    pub(crate) fn unknown_unit(&self, part: &Part, spelling: &str) -> ReadError {
        let number = &self.text[part.at.clone()];
        let range = part.unit.clone();
        if let Some((_, meant)) = AMBIGUOUS.iter().find(|(unit, _)| *unit == spelling) {
            let found = format!("the unit \"{spelling}\", which is not clear");
            return self.error(Reason::AmbiguousUnit, range, &found, Some((*meant).to_owned()));
        }
        let other = Dimension::ALL.into_iter().find(|kind| unit_spelled(spelling, *kind).is_some());
        if let Some(kind) = other {
            let found = format!("\"{number} {spelling}\" is {}", kind.name());
            return self.error(Reason::WrongKind, range, &found, None);
        }
        let lower = spelling.to_lowercase();
        let units = self.kinds.iter().flat_map(|kind| units_of(*kind));
        let meant = units
            .flat_map(|unit| unit.spellings().map(move |s| (s, unit.symbol)))
            .find(|(s, _)| s.to_lowercase() == lower)
            .map(|(_, symbol)| format!("\"{number} {symbol}\""));
        let found = format!("the unit \"{}\", which is not known", clip(spelling));
        self.error(Reason::UnknownUnit, range, &found, meant)
    }

    pub(crate) fn error(
        &self,
        reason: Reason,
        range: Range<usize>,
        found: &str,
        suggestion: Option<String>,
    ) -> ReadError {
        let expected = expected(self.kinds);
        ReadError { reason, found: found.to_owned(), expected, suggestion, range }
    }
}

/// What is expected for these kinds, in words with an example.
fn expected(kinds: &[Dimension]) -> String {
    let mut words = Vec::new();
    for kind in kinds {
        let units: Vec<_> = units_of(*kind).iter().take(4).map(|u| u.symbol).collect();
        words.push(described(*kind, &units));
    }
    words.join("; or ")
}

fn described(kind: Dimension, units: &[&str]) -> String {
    let units = units.join(", ");
    let within = if units.is_empty() { units } else { format!(" in {units}") };
    format!("{}{within}, as \"{}\"", kind.name(), kind.example())
}

/// A number with no more figures than it needs.
pub(crate) fn short(number: f64) -> String {
    let rounded = (number * 1e4).round() / 1e4;
    format!("{rounded}")
}

pub(crate) fn clip(text: &str) -> String {
    if text.chars().count() <= 40 {
        text.to_owned()
    } else {
        text.chars().take(39).chain(['…']).collect()
    }
}
