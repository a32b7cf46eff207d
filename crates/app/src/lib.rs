//! The use cases; clock, seed and store are handed in.
