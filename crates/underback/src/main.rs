//! The binary: arguments, configuration, wiring.

fn main() {}
