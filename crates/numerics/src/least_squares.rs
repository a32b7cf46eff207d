//! Small least-squares problems with bounds: linear ones whose unknowns may not be negative, and
//! curved ones of under ten unknowns.
//!
//! Deliberately absent: sparse or large matrices, and weights (scale the rows beforehand).

mod dense;
mod gauss_newton;
mod non_negative;

pub use dense::Matrix;
pub use gauss_newton::{Ended, GaussNewton, Solved, Unknown};
pub use non_negative::{NonNegative, non_negative};

/// Why a least-squares problem has no answer.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum LeastSquaresError {
    /// Numbers of rows, columns, values or bounds do not belong together.
    #[error("{what}: {given} given, expected {expected}")]
    Length {
        /// What was counted.
        what: &'static str,
        /// How many there are.
        given: usize,
        /// How many there should be.
        expected: usize,
    },
    /// A number is infinite or not a number where it may not be.
    #[error("{what} {index} is {value}: expected a finite number")]
    NotFinite {
        /// Which list.
        what: &'static str,
        /// Which place in it.
        index: usize,
        /// What stands there.
        value: f64,
    },
    /// The bounds of an unknown leave no room, or its scale is not positive.
    #[error(
        "unknown {index}: lower {lower}, upper {upper}, scale {scale}: \
         expected lower ≤ upper and a positive scale"
    )]
    Bounds {
        /// Which unknown.
        index: usize,
        /// Its lower bound.
        lower: f64,
        /// Its upper bound.
        upper: f64,
        /// Its scale.
        scale: f64,
    },
    /// The residuals cannot be worked out at the start.
    #[error("the residuals are not finite at the start")]
    Start,
    /// The active set went round in circles.
    #[error("no answer after {iterations} changes of the active set")]
    Cycling {
        /// How many were tried.
        iterations: usize,
    },
}
