//! Answers to the rows of `reference/checks/chill.csv`.
//!
//! Holds no physics: it hands the inputs of a row to the code and its number back.

use super::Inputs;

/// The code's number for one row, in the unit of the row.
pub fn answer(_quantity: &str, _inputs: &Inputs, _id: &str) -> Option<f64> {
    None
}
