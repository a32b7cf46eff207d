//! Why a plan could not even be tried. A plan that was tried and does not fit is not an error.

/// Why no plan was tried.
#[derive(Debug, Clone, thiserror::Error)]
pub enum PlanError {
    /// A part of the day has no vessel.
    #[error(
        "no vessel plays {part}; give one `plays = [\"{part}\"]`, one pot may play several parts"
    )]
    NoVessel {
        /// The part.
        part: String,
    },
    /// A heater is missing where heat is needed.
    #[error("{vessel} must be heated for {why}, but has no heater; give it one or {remedy}")]
    NoHeater {
        /// Name of the vessel.
        vessel: String,
        /// What for.
        why: String,
        /// What else could be done.
        remedy: String,
    },
    /// The brew cannot be made in this brewhouse as it is written.
    #[error("{what}; {remedy}")]
    NotPossible {
        /// What is wrong.
        what: String,
        /// What would help.
        remedy: String,
    },
    /// The simulated day broke off.
    #[error("the day could not be simulated: {0}")]
    Simulation(#[from] day::simulate::SimulateError),
}

impl PlanError {
    /// Something the brewhouse cannot do, and what would help.
    pub(crate) fn not_possible(what: impl Into<String>, remedy: impl Into<String>) -> PlanError {
        PlanError::NotPossible { what: what.into(), remedy: remedy.into() }
    }
}
