//! Validation and benchmarks; not shipped.
//!
//! May use every floor; no floor may use it.

pub mod baseline;
pub mod bench;
pub mod frozen;
pub mod reference;
