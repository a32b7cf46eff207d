//! The use cases that need no store: read, check, plan, say the schema.
//! It deliberately opens no file: texts come with the name they are reported under.

use crate::AppError;
use crate::output::Plan;
use crate::picture::{self, Stick};
use crate::sheet::SheetView;
use brew::Brew;
use brewhouse::Brewhouse;
use document::Findings;
use quantity::UnitSystem;
use serde_json::Value;
use store::Kind;

/// A document as text, with the name its findings are reported under.
#[derive(Debug, Clone, Copy)]
pub struct Text<'a> {
    /// File name, or name in the store.
    pub name: &'a str,
    /// What stands in it.
    pub text: &'a str,
}

/// A brew planned on a brewhouse.
#[derive(Debug, Clone)]
pub struct Planned {
    /// The pots.
    pub brewhouse: Brewhouse,
    /// The wanted beer.
    pub brew: Brew,
    /// The day.
    pub plan: Plan,
}

/// Reads a brewhouse.
///
/// # Errors
/// The findings, when one of them is an error.
pub fn read_brewhouse(text: Text<'_>) -> Result<Brewhouse, AppError> {
    Ok(brewhouse::read(text.name, text.text)?)
}

/// Reads a brew.
///
/// # Errors
/// The findings, when one of them is an error.
pub fn read_brew(text: Text<'_>) -> Result<Brew, AppError> {
    Ok(brew::read(text.name, text.text)?)
}

/// Plans a brew on a brewhouse. A plan that does not fit is a plan: it says so itself.
///
/// # Errors
/// [`AppError::Findings`] with those of both documents; [`AppError::NoPlan`] when the day cannot
/// even be laid out.
pub fn plan(brewhouse: Text<'_>, brew: Text<'_>) -> Result<Planned, AppError> {
    let (brewhouse, brew) =
        match (brewhouse::read(brewhouse.name, brewhouse.text), brew::read(brew.name, brew.text)) {
            (Ok(brewhouse), Ok(brew)) => (brewhouse, brew),
            (Err(mut findings), Err(more)) => {
                if kind_of(brewhouse.text) == Kind::Brew && kind_of(brew.text) == Kind::Brewhouse {
                    let (first, second) = (brewhouse.name.to_owned(), brew.name.to_owned());
                    return Err(AppError::Swapped { first, second });
                }
                findings.merge(more);
                return Err(findings.into());
            }
            (Err(findings), _) | (_, Err(findings)) => return Err(findings.into()),
        };
    let plan =
        ::plan::solve(&brewhouse, &brew).map_err(|error| AppError::NoPlan(error.to_string()))?;
    Ok(Planned { brewhouse, brew, plan })
}

/// The sheet of a planned day that starts at `start_clock_min` after midnight.
#[must_use]
pub fn sheet_of(planned: &Planned, start_clock_min: f64, units: UnitSystem) -> SheetView {
    let kettle = picture::stick_of_kettle(&planned.brewhouse, &planned.plan, units);
    crate::sheet::sheet(&planned.plan, kettle, start_clock_min, units)
}

/// The dipstick of one vessel.
///
/// # Errors
/// [`AppError::NoVessel`] with the keys there are.
pub fn dipstick_of(
    brewhouse: &Brewhouse,
    key: &str,
    plan: Option<&Plan>,
    units: UnitSystem,
) -> Result<Stick, AppError> {
    picture::dipstick(brewhouse, key, plan, units).ok_or_else(|| {
        let keys: Vec<&str> = brewhouse.vessels.iter().map(|vessel| vessel.key.as_str()).collect();
        AppError::NoVessel { key: key.to_owned(), known: keys.join(", ") }
    })
}

/// What a text describes, told from its keys: a brewhouse has vessels, a brew has wishes.
#[must_use]
pub fn kind_of(text: &str) -> Kind {
    let opens = |key: &str| {
        text.lines().any(|line| {
            let line = line.trim_start().trim_start_matches('[').trim_start();
            line.strip_prefix(key)
                .is_some_and(|rest| rest.starts_with(['.', ']', ' ', '=']) || rest.is_empty())
        })
    };
    let brewhouse = ["vessel", "elevation", "chiller", "pump", "hose"];
    let brew = ["wanted", "grist", "rest", "hop", "sparge", "yeast"];
    let count = |keys: &[&str]| keys.iter().filter(|key| opens(key)).count();
    if count(&brew) > count(&brewhouse) { Kind::Brew } else { Kind::Brewhouse }
}

/// Checks a document; gives the notes on it, none where all is well.
///
/// # Errors
/// The findings, when one of them is an error.
pub fn check(text: Text<'_>) -> Result<Findings, Findings> {
    match kind_of(text.text) {
        Kind::Brewhouse => brewhouse::read_placed(text.name, text.text).map(|read| read.notes),
        Kind::Brew => brew::read_placed(text.name, text.text).map(|read| read.notes),
    }
}

/// What a schema is asked of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SchemaKind {
    /// The brewhouse document.
    Brewhouse,
    /// The brew document.
    Brew,
    /// The plan as JSON.
    Plan,
}

/// The JSON Schema of a document, or of the plan that is printed.
#[must_use]
pub fn schema(kind: SchemaKind) -> Value {
    match kind {
        SchemaKind::Brewhouse => brewhouse::schema(),
        SchemaKind::Brew => brew::schema(),
        SchemaKind::Plan => schemars::schema_for!(Plan).to_value(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_document_is_known_by_its_keys_even_when_it_is_wrong() {
        assert_eq!(kind_of("[vessel.tun]\nx = 1"), Kind::Brewhouse);
        assert_eq!(kind_of("[[hop]]\n[wanted]\nvolume = 3"), Kind::Brew);
        assert_eq!(kind_of("[[grist]]\n[vessel.tun]\n[[rest]]"), Kind::Brew);
        assert_eq!(kind_of(""), Kind::Brewhouse);
    }
}
