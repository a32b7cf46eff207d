//! A person's file read with places: findings, suggestions, schema.
//!
//! A [`Shape`] says once which keys a file may hold; the checking reader and the JSON Schema both
//! come from it. It knows no brewing: what a key means, and whether the numbers fit together, is
//! said by the floors above, which add their own findings at the same places.
//!
//! ```
//! use document::{Document, Field, Kind, Shape};
//! use quantity::{Dimension, Length};
//!
//! const POT: Shape = Shape {
//!     doc: "A pot.",
//!     fields: &[Field::required("diameter", Kind::Quantity(&[Dimension::Length]), "Inside.")],
//! };
//! let (pot, mut findings) = Document::read("pot.toml", "diameter = '40 cm ± 1 mm'", &POT)?;
//! let diameter = pot.root().quantity::<Length>("diameter").ok_or("missing")?;
//! assert_eq!(diameter.value.value.metres(), 0.4);
//! findings.error(diameter.span, "this pot is too wide").expected("30 cm at most");
//! assert!(findings.to_text(false).contains("pot.toml:1:12"));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod check;
mod finding;
mod render;
mod schema;
mod shape;
mod source;
mod value;

pub use finding::{Finding, Findings, Severity};
pub use schema::as_json;
pub use shape::{Field, Kind, Need, Shape};
pub use source::{LARGEST_BYTES, Source, Span, read_file};
pub use value::{Date, Document, Entry, Placed, Table, Value};
