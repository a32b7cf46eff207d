//! Numbers from outside the project, row by row, against the code.
//!
//! Holds no number of its own: the rows stand in `reference/checks/*.csv`, the rows without code
//! in `reference/no-code-yet.csv`, the rows that cannot pass in `reference/departures.csv`.

pub mod bed_run;
pub mod boil;
pub mod chill;
pub mod ferment;
pub mod fitout;
pub mod hop_run;
pub mod hops;
pub mod instruments;
pub mod lauter;
pub mod liquor;
pub mod malt;
pub mod mash;
pub mod mash_run;
pub mod package;
pub mod row;
pub mod safety;
pub mod wort;

pub use row::{Expected, Inputs, Row, Tolerance};

use anyhow::{Context, Result};
use std::collections::BTreeMap;
use std::fmt;
use std::path::{Path, PathBuf};

/// An answer to one row: the quantity asked for, the inputs, the id of the row.
///
/// Gives the number in the unit of the row, or nothing where no code answers it yet.
pub type Answer = fn(quantity: &str, inputs: &Inputs, id: &str) -> Option<f64>;

/// Every check table and who answers it.
pub const SHEETS: &[(&str, Answer)] = &[
    ("boil", boil::answer),
    ("chill", chill::answer),
    ("ferment", ferment::answer),
    ("fitout", fitout::answer),
    ("hops", hops::answer),
    ("instruments", instruments::answer),
    ("lauter", lauter::answer),
    ("liquor", liquor::answer),
    ("malt", malt::answer),
    ("mash", mash::answer),
    ("package", package::answer),
    ("safety", safety::answer),
    ("wort", wort::answer),
];

/// What came of one row.
#[derive(Debug, Clone, PartialEq)]
pub enum Verdict {
    /// The code gives the expected number or keeps the bound.
    Holds,
    /// The row states no tolerance and no bound: the code's number is only told.
    Trend(f64),
    /// The code gives another number.
    Misses(f64),
    /// The code gives another number, and `departures.csv` says why.
    Departs(f64, String),
    /// No code answers it yet, and `no-code-yet.csv` says why.
    NoCode(String),
    /// No code answers it, and no list says so.
    Unlisted,
    /// It stands in `no-code-yet.csv` though code answers it.
    ListedInVain(f64),
    /// It stands in `departures.csv` though it holds.
    DepartsInVain(f64),
}

impl Verdict {
    /// Whether the row may stand as it is.
    pub fn is_fine(&self) -> bool {
        use Verdict::{Departs, Holds, NoCode, Trend};
        matches!(self, Holds | Trend(_) | Departs(..) | NoCode(_))
    }
}

impl fmt::Display for Verdict {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Verdict::Holds => write!(f, "holds"),
            Verdict::Trend(got) => write!(f, "trend, code gives {got}"),
            Verdict::Misses(got) => write!(f, "MISSES, code gives {got}"),
            Verdict::Departs(got, why) => write!(f, "departs, code gives {got}: {why}"),
            Verdict::NoCode(why) => write!(f, "no code yet: {why}"),
            Verdict::Unlisted => write!(f, "NO ANSWER and not in no-code-yet.csv"),
            Verdict::ListedInVain(got) => {
                write!(f, "IN no-code-yet.csv, yet code gives {got}: strike it off")
            }
            Verdict::DepartsInVain(got) => {
                write!(f, "IN departures.csv, yet it holds with {got}: strike it off")
            }
        }
    }
}

/// A list of rows by pattern, each with its reason.
#[derive(Debug, Default)]
pub struct Reasons {
    entries: Vec<(String, String)>,
}

impl Reasons {
    /// Reads a file of `pattern,reason`; the pattern is `sheet/id/quantity`, `*` stands for anything.
    ///
    /// # Errors
    /// When the file cannot be read or a line has not two fields.
    pub fn read(path: &Path) -> Result<Reasons> {
        let mut reader = csv::ReaderBuilder::new()
            .comment(Some(b'#'))
            .from_path(path)
            .with_context(|| format!("cannot read {}", path.display()))?;
        let mut entries = Vec::new();
        for record in reader.records() {
            let record = record?;
            let field = |at| record.get(at).map(str::to_owned).context("a field is missing");
            entries.push((field(0)?, field(1)?));
        }
        Ok(Reasons { entries })
    }

    /// The reason that names this row, if one does.
    pub fn of(&self, sheet: &str, row: &Row) -> Option<&str> {
        let name = row.name(sheet);
        self.entries.iter().find(|(pattern, _)| fits(pattern, &name)).map(|(_, why)| why.as_str())
    }

    /// Patterns that name no row at all.
    pub fn idle(&self, names: &[String]) -> Vec<&str> {
        let used = |pattern: &str| names.iter().any(|name| fits(pattern, name));
        self.entries.iter().map(|(p, _)| p.as_str()).filter(|p| !used(p)).collect()
    }
}

/// Whether a text fits a pattern in which `*` stands for any run of characters.
fn fits(pattern: &str, text: &str) -> bool {
    let Some((head, rest)) = pattern.split_once('*') else { return pattern == text };
    let Some(text) = text.strip_prefix(head) else { return false };
    let starts = text.char_indices().map(|(at, _)| at).chain([text.len()]);
    starts.into_iter().any(|at| fits(rest, &text[at..]))
}

/// The folder `reference/` of the project.
pub fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../reference")
}

/// The rows of one check table.
///
/// # Errors
/// When the file is missing or a row cannot be understood.
pub fn rows_of(sheet: &str) -> Result<Vec<Row>> {
    Row::read_all(&folder().join("checks").join(format!("{sheet}.csv")))
}

/// The judgement of every row of one sheet.
///
/// # Errors
/// When a table or a list cannot be read.
pub fn judge_sheet(sheet: &str, answer: Answer) -> Result<Vec<(Row, Verdict)>> {
    let no_code = Reasons::read(&folder().join("no-code-yet.csv"))?;
    let departures = Reasons::read(&folder().join("departures.csv"))?;
    let judged = rows_of(sheet)?.into_iter().map(|row| {
        let got = answer(&row.quantity, &row.inputs, &row.id);
        let verdict = judge(&row, got, no_code.of(sheet, &row), departures.of(sheet, &row));
        (row, verdict)
    });
    Ok(judged.collect())
}

fn judge(row: &Row, got: Option<f64>, no_code: Option<&str>, departs: Option<&str>) -> Verdict {
    let Some(got) = got else {
        return no_code.map_or(Verdict::Unlisted, |why| Verdict::NoCode(why.to_owned()));
    };
    if no_code.is_some() {
        return Verdict::ListedInVain(got);
    }
    match (row.holds(got), departs) {
        (None, _) => Verdict::Trend(got),
        (Some(true), None) => Verdict::Holds,
        (Some(true), Some(_)) => Verdict::DepartsInVain(got),
        (Some(false), None) => Verdict::Misses(got),
        (Some(false), Some(why)) => Verdict::Departs(got, why.to_owned()),
    }
}

/// The whole comparison as text, and whether every row may stand as it is.
///
/// # Errors
/// When a table or a list cannot be read.
pub fn report() -> Result<(String, bool)> {
    let mut text = String::new();
    let mut without: BTreeMap<String, Vec<String>> = BTreeMap::new();
    let (mut fine, mut all) = (true, 0);
    for (sheet, answer) in SHEETS {
        let judged = judge_sheet(sheet, *answer)?;
        let count = |is: fn(&Verdict) -> bool| judged.iter().filter(|(_, v)| is(v)).count();
        text.push_str(&format!(
            "{sheet:<12} {:>4} rows: {:>4} hold, {:>3} trends, {:>3} depart, {:>4} without code\n",
            judged.len(),
            count(|v| matches!(v, Verdict::Holds)),
            count(|v| matches!(v, Verdict::Trend(_))),
            count(|v| matches!(v, Verdict::Departs(..))),
            count(|v| matches!(v, Verdict::NoCode(_))),
        ));
        for (row, verdict) in &judged {
            match verdict {
                Verdict::NoCode(why) => {
                    without.entry(why.clone()).or_default().push(format!("{sheet}/{}", row.id));
                }
                Verdict::Holds | Verdict::Trend(_) => {}
                other => text.push_str(&format!("  {}: {other}\n", row.name(sheet))),
            }
            fine &= verdict.is_fine();
        }
        all += judged.len();
    }
    let length: usize = without.values().map(Vec::len).sum();
    text.push_str(&format!("\nno code yet: {length} of {all} rows\n"));
    for (why, rows) in &without {
        text.push_str(&format!("  {:>4}  {why}: {}\n", rows.len(), shortened(rows)));
    }
    Ok((text, fine))
}

/// The first and last names of a list.
fn shortened(rows: &[String]) -> String {
    match rows {
        [first, .., last] if rows.len() > 3 => format!("{first} … {last}"),
        few => few.join(", "),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_star_stands_for_any_run_of_characters() {
        assert!(fits("wort/*/water *", "wort/wort-001/water density"));
        assert!(fits("*", ""));
        assert!(!fits("wort/*/water *", "wort/wort-001/wort density"));
        assert!(!fits("wort/*x", "wort/"));
    }

    #[test]
    fn a_listed_row_that_has_an_answer_does_not_stand() {
        let row = Row::sample("5", "0.1");
        assert_eq!(judge(&row, Some(5.05), None, None), Verdict::Holds);
        assert!(!judge(&row, Some(5.05), Some("later"), None).is_fine());
        assert!(!judge(&row, Some(5.05), None, Some("known")).is_fine());
        assert!(!judge(&row, Some(5.2), None, None).is_fine());
        assert!(!judge(&row, Some(f64::NAN), None, None).is_fine());
        assert!(!judge(&row, None, None, None).is_fine());
    }
}
