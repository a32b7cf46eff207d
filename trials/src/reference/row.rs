//! One row of a check table: what is asked, with what, and what is expected.
//!
//! Compares numbers; computes none.

use anyhow::{Context, Result, bail};
use std::path::Path;

/// The inputs of a row: `key=value` pairs, the key ending in the unit.
#[derive(Debug, Clone, Default)]
pub struct Inputs {
    pairs: Vec<(String, String)>,
}

impl Inputs {
    /// Splits `t_c=20;plato=12`; a piece without `=` is kept as a key with an empty value.
    pub fn parse(text: &str) -> Inputs {
        let pairs = text.split(';').filter(|piece| !piece.is_empty()).map(|piece| {
            let (key, value) = piece.split_once('=').unwrap_or((piece, ""));
            (key.trim().to_owned(), value.trim().to_owned())
        });
        Inputs { pairs: pairs.collect() }
    }

    /// The text of an input.
    pub fn text(&self, key: &str) -> Option<&str> {
        self.pairs.iter().find(|(k, _)| k == key).map(|(_, v)| v.as_str())
    }

    /// The number of an input; a unit behind the number (`12 P`) is passed over.
    pub fn get(&self, key: &str) -> Option<f64> {
        let value = self.text(key)?;
        let number = value.split_once(' ').map_or(value, |(number, _)| number);
        number.trim_end_matches('%').parse().ok()
    }

    /// The number of an input, or a default where the row does not state it.
    pub fn get_or(&self, key: &str, default: f64) -> f64 {
        self.get(key).unwrap_or(default)
    }

    /// Whether a key stands there.
    pub fn has(&self, key: &str) -> bool {
        self.text(key).is_some()
    }
}

/// What a row expects.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Expected {
    /// This number, within the tolerance.
    Number(f64),
    /// More than this.
    Above(f64),
    /// Less than this.
    Below(f64),
    /// From the first to the second.
    Between(f64, f64),
}

/// How far an answer may lie from a number.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Tolerance {
    /// In the unit of the row.
    Absolute(f64),
    /// As a share of the expected number.
    Relative(f64),
    /// None is stated.
    Unstated,
}

/// One row of a check table.
#[derive(Debug, Clone)]
pub struct Row {
    /// Its name within the sheet.
    pub id: String,
    /// What is asked.
    pub quantity: String,
    /// With what.
    pub inputs: Inputs,
    /// What is expected.
    pub expected: Expected,
    /// Its unit.
    pub unit: String,
    /// How near an answer must come.
    pub tolerance: Tolerance,
    /// How the expected number came about: published, handbook, worked-example, library …
    pub kind: String,
    /// Where it stands.
    pub source: String,
}

impl Row {
    /// Reads a check table.
    ///
    /// # Errors
    /// When the file is missing or a row cannot be understood; the message names the row.
    pub fn read_all(path: &Path) -> Result<Vec<Row>> {
        let mut reader = csv::ReaderBuilder::new()
            .comment(Some(b'#'))
            .from_path(path)
            .with_context(|| format!("cannot read {}", path.display()))?;
        let mut rows = Vec::new();
        for record in reader.records() {
            let record = record?;
            let id = record.get(0).unwrap_or_default().to_owned();
            rows.push(Row::of(&record).with_context(|| format!("{}: row {id}", path.display()))?);
        }
        Ok(rows)
    }

    fn of(record: &csv::StringRecord) -> Result<Row> {
        let field = |at: usize| record.get(at).map(str::trim).context("a field is missing");
        if field(7)?.is_empty() {
            bail!("it names no source");
        }
        Ok(Row {
            id: field(0)?.to_owned(),
            quantity: field(1)?.to_owned(),
            inputs: Inputs::parse(field(2)?),
            expected: expected(field(3)?)?,
            unit: field(4)?.to_owned(),
            tolerance: tolerance(field(5)?)?,
            kind: field(6)?.to_owned(),
            source: field(7)?.to_owned(),
        })
    }

    /// `sheet/id/quantity`, the text that the lists' patterns are held against.
    pub fn name(&self, sheet: &str) -> String {
        format!("{sheet}/{}/{}", self.id, self.quantity)
    }

    /// Whether an answer is right; `None` when the row states neither bound nor tolerance.
    pub fn holds(&self, got: f64) -> Option<bool> {
        if !got.is_finite() {
            return Some(false);
        }
        // a hair for the binary form of printed decimals
        let near = |expected: f64, room: f64| {
            (got - expected).abs() <= room + 1e-12 * expected.abs().max(1e-3)
        };
        match (self.expected, self.tolerance) {
            (Expected::Above(bound), _) => Some(got > bound),
            (Expected::Below(bound), _) => Some(got < bound),
            (Expected::Between(low, high), _) => Some(low <= got && got <= high),
            (Expected::Number(e), Tolerance::Absolute(room)) => Some(near(e, room)),
            (Expected::Number(e), Tolerance::Relative(share)) => Some(near(e, share * e.abs())),
            (Expected::Number(_), Tolerance::Unstated) => None,
        }
    }

    /// A row for tests of the harness itself.
    #[cfg(test)]
    pub(crate) fn sample(expected_text: &str, tolerance_text: &str) -> Row {
        let fields =
            ["x-1", "q", "t_c=20", expected_text, "K", tolerance_text, "published", "a book"];
        Row::of(&csv::StringRecord::from(fields.to_vec())).unwrap()
    }
}

fn expected(text: &str) -> Result<Expected> {
    let number = |t: &str| t.trim().parse::<f64>().with_context(|| format!("no number: `{text}`"));
    match text.split_at_checked(1) {
        Some((">", bound)) => Ok(Expected::Above(number(bound)?)),
        Some(("<", bound)) => Ok(Expected::Below(number(bound)?)),
        _ => match text.split_once('-') {
            Some((low, high)) if low.parse::<f64>().is_ok() && high.parse::<f64>().is_ok() => {
                Ok(Expected::Between(number(low)?, number(high)?))
            }
            _ => Ok(Expected::Number(number(text)?)),
        },
    }
}

fn tolerance(text: &str) -> Result<Tolerance> {
    let number = |t: &str| t.trim().parse::<f64>().with_context(|| format!("no number: `{text}`"));
    match text.strip_suffix('%') {
        _ if text.is_empty() => Ok(Tolerance::Unstated),
        Some(percent) => Ok(Tolerance::Relative(number(percent)? / 100.0)),
        None => Ok(Tolerance::Absolute(number(text)?)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bounds_and_tolerances_are_kept() {
        assert_eq!(Row::sample(">0.95", "").holds(0.96), Some(true));
        assert_eq!(Row::sample(">0.95", "").holds(0.95), Some(false));
        assert_eq!(Row::sample("<2", "").holds(3.0), Some(false));
        assert_eq!(Row::sample("200", "3%").holds(206.0), Some(true));
        assert_eq!(Row::sample("200", "3%").holds(206.1), Some(false));
        assert_eq!(Row::sample("-0.3", "0.1").holds(-0.4), Some(true));
        assert_eq!(Row::sample("586-652", "").holds(600.0), Some(true));
        assert_eq!(Row::sample("586-652", "").holds(585.0), Some(false));
        assert_eq!(Row::sample("5", "").holds(7.0), None);
    }

    #[test]
    fn a_row_without_number_or_source_is_refused() {
        let refused = |expected: &str, source: &str| {
            let fields = ["x", "q", "", expected, "K", "", "published", source];
            Row::of(&csv::StringRecord::from(fields.to_vec())).is_err()
        };
        assert!(refused("warm", "a book"));
        assert!(refused("5", ""));
    }

    #[test]
    fn inputs_are_read_by_key() {
        let inputs = Inputs::parse("t_c=20;class=AA;oe=12 P;deep");
        assert_eq!(inputs.get("t_c"), Some(20.0));
        assert_eq!(inputs.get("oe"), Some(12.0));
        assert_eq!(inputs.text("class"), Some("AA"));
        assert_eq!(inputs.get("class"), None);
        assert!(inputs.has("deep") && !inputs.has("wide"));
    }
}
