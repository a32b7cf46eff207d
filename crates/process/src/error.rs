//! Why a process function refuses its input. It deliberately holds no failure of a solver and no
//! departure from a plan: those belong to whoever owns the clock.

/// A number that the physics cannot take: which one, what it was, what it may be.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[error("{field} is {value} {unit}; expected {expected}; {remedy}")]
pub struct DomainError {
    /// Name of the argument or field.
    pub field: &'static str,
    /// The value that was given.
    pub value: f64,
    /// Its unit, as text.
    pub unit: &'static str,
    /// The range that is allowed, in words.
    pub expected: &'static str,
    /// What the reader can do about it.
    pub remedy: &'static str,
}
