//! The procedure of a day and the simulator that owns its clock; the ledger. Deliberately absent:
//! priors, documents, a person's units. A day is a pure function of setting and procedure.

pub mod setting;

pub mod procedure;

pub mod simulate;

pub mod state;

pub mod trace;

pub mod ledger;

mod changes;
mod kettle;
mod plant;
mod snapshot;
mod watch;
