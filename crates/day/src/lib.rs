//! The procedure and the simulator that owns the clock; the ledger.
