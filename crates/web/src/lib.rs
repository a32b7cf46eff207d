//! Pages and components; no rule of the process.
