//! The wanted beer solved backwards.
