//! Why a use case could not be done. It words nothing anew: what a floor below said is passed on.

use document::Findings;
use store::{Kind, StoreError};

/// Why a use case could not be done.
#[derive(Debug, thiserror::Error)]
pub enum AppError {
    /// A document can't be used; the findings say where and why.
    #[error("{0}")]
    Findings(Box<Findings>),
    /// The brew can't be planned on this brewhouse at all; the words say why.
    #[error("{0}")]
    NoPlan(String),
    /// Brewhouse and brew stand in each other's place.
    #[error(
        "{first} reads like a brew and {second} like a brewhouse: the brewhouse comes first; name \
         them the other way round"
    )]
    Swapped {
        /// What was given as the brewhouse.
        first: String,
        /// What was given as the brew.
        second: String,
    },
    /// There is no document of that name.
    #[error("there is no {} called {slug:?}", kind.name())]
    Missing {
        /// Its kind.
        kind: Kind,
        /// What was asked for.
        slug: String,
    },
    /// The brewhouse has no vessel of that key.
    #[error("there is no vessel {key:?}; there are: {known}")]
    NoVessel {
        /// What was asked for.
        key: String,
        /// The keys there are.
        known: String,
    },
    /// The store failed.
    #[error(transparent)]
    Store(#[from] StoreError),
}

impl From<Findings> for AppError {
    fn from(findings: Findings) -> Self {
        Self::Findings(Box::new(findings))
    }
}
