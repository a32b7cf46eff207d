//! The use cases: plan a brew on a brewhouse, check a document, show what came out.
//!
//! Clock and store are handed in. It computes no number of the process: it asks `plan` for them and
//! turns them into views that pages, sheets and the terminal only have to set down. The web and the
//! command line are two thin faces of it, so that a number cannot differ between them.

mod demo;
mod error;
mod kept;
pub mod picture;
mod planning;
mod respell;
pub mod rows;
pub mod sheet;
pub mod show;
pub mod text;
pub mod when;

pub use brew::Brew;
pub use brewhouse::Brewhouse;
pub use demo::{DEMO_BREW, DEMO_BREWHOUSE, DemoDocument, demo_brewhouses, demo_brews};
pub use document::{Finding, Findings, read_file};
pub use error::AppError;
pub use kept::{App, Clock, Listed, fixed_clock};
pub use plan::output;
pub use planning::{
    Planned, SchemaKind, Text, check, dipstick_of, kind_of, plan, read_brew, read_brewhouse,
    schema, sheet_of,
};
pub use quantity::UnitSystem;
pub use respell::in_units;
pub use store::{Chosen, Kind, StoreError};
