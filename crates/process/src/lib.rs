//! What happens in the vessels: states and rates of heating, mash, lauter, boil, isomerising and
//! chilling. It deliberately knows no clock, no procedure, no document and no uncertainty: a caller
//! hands in plain SI numbers and gets rates back.
//!
//! In reading order: [`table`] (laws laid out in advance), [`heat`], [`strike`], [`mash`],
//! [`bed`], [`lauter`], [`boil`], [`isomerise`], [`chill`].
//!
//! Every function takes bare `f64` in SI with the unit last in the name, allocates nothing and is
//! made for an inner loop; what costs time is done once, in a `new` or a `prepare`. Temperatures
//! are degrees Celsius where the name ends in `_c` and kelvin where it ends in `_k`; a `_k` that
//! is a difference says so.

pub mod table;

pub mod heat;
pub mod strike;

pub mod mash;

pub mod bed;
pub mod lauter;

pub mod boil;
pub mod isomerise;

pub mod chill;

mod error;

pub use error::DomainError;
