//! The wanted beer solved backwards.

pub mod output;
