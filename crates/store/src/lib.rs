//! SQLite: brewhouses and brews with every version, and which of them are chosen; all SQL is here.
//!
//! It keeps documents as text and deliberately knows no brewing: it never reads what it keeps.
//!
//! ```
//! use store::{Kind, Store};
//! let folder = std::env::temp_dir().join(format!("store-doc-{}", std::process::id()));
//! let mut store = Store::open(&folder.join("underback.db"))?;
//! store.write_document(Kind::Brew, "hedge-mild", "name = \"Hedge Mild\"", 0)?;
//! let kept = store.document(Kind::Brew, "hedge-mild")?.expect("just written");
//! assert_eq!(kept.version, 1);
//! # drop(store);
//! # std::fs::remove_dir_all(&folder).ok();
//! # Ok::<(), store::StoreError>(())
//! ```

mod document;
mod error;
mod open;

pub use document::{Chosen, Document, Kind};
pub use error::StoreError;
pub use open::{NEWEST_VERSION, Store};
