//! What is in the vessels: water, wort, malt, hop, liquor; pure property functions.
//!
//! Nothing here knows a vessel, a clock or a plan. Functions take bare SI numbers with the unit
//! last in the name (temperatures in °C) and return a number for every input; outside the stated
//! range, or for input that is not finite, that number may be meaningless or `NaN`, never a panic.

mod table;

pub mod nature;
pub mod water;
pub mod wort;

pub mod colour;
pub mod hop;
pub mod liquor;
pub mod malt;
pub mod sugar;

pub mod yeast;
