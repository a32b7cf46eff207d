//! Benchmarks and validation; not shipped.

fn main() {}
