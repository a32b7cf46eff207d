//! What the integrator is told, and what it answers: options, stops, errors, work counted.

/// How exactly and how fast to go.
#[derive(Debug, Clone)]
pub struct Options<'a> {
    /// Relative tolerance of one step. At 1e-5 a whole run is typically right to some 1e-5.
    pub relative: f64,
    /// The natural size of each state, in its own unit: the absolute tolerance of a state is
    /// `0.1 · relative · scale`. Infinity leaves a state out of the step control (a running total
    /// whose rate is watched anyway).
    pub scales: &'a [f64],
    /// Length of the first step tried, s.
    pub first_step_s: f64,
    /// Longest step, s. A threshold crossed twice inside one step goes unseen unless a probe lies
    /// between: keep this below half of the shortest stretch that matters.
    pub max_step_s: f64,
    /// How closely the time of an event is found, s.
    pub event_tolerance_s: f64,
    /// How many times inside each step, besides its end, the event functions are looked at. Each
    /// costs about as much as a fifth of the step's own arithmetic.
    pub event_probes: u32,
    /// Steps tried in one segment before giving up.
    pub steps_max: u64,
}

impl<'a> Options<'a> {
    /// The default: relative 1e-5, first step 5 s, steps up to 120 s, events to 1 ms.
    pub fn new(scales: &'a [f64]) -> Options<'a> {
        Options {
            relative: 1e-5,
            scales,
            first_step_s: 5.0,
            max_step_s: 120.0,
            event_tolerance_s: 1e-3,
            event_probes: 0,
            steps_max: 1_000_000,
        }
    }

    pub(super) fn check(&self, t: f64, t_end: f64, states: usize) -> Result<(), StepError> {
        if self.scales.len() != states {
            return Err(StepError::Length { states, scales: self.scales.len() });
        }
        let positive = [
            ("relative", self.relative),
            ("first_step_s", self.first_step_s),
            ("max_step_s", self.max_step_s),
            ("event_tolerance_s", self.event_tolerance_s),
        ];
        for (option, value) in positive {
            if value.is_nan() || value <= 0.0 {
                return Err(StepError::Option { option, value });
            }
        }
        for &value in self.scales {
            if value.is_nan() || value <= 0.0 {
                return Err(StepError::Option { option: "scales", value });
            }
        }
        for (option, value) in [("t", t), ("t_end", t_end)] {
            if !value.is_finite() {
                return Err(StepError::Option { option, value });
            }
        }
        Ok(())
    }
}

/// Why a segment ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stop {
    /// The end time was reached.
    EndTime,
    /// An event fired.
    Event {
        /// Its place among the event functions.
        index: usize,
    },
}

/// Why the integration could not go on. Every variant says where.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum StepError {
    /// A rate is infinite or not a number, however short the step.
    #[error("a rate is not finite at t = {t_s:.3} s{}", of_state(*.state))]
    NotFinite {
        /// Time of the last good state.
        t_s: f64,
        /// The first state whose rate is not finite; none if the state itself overflows.
        state: Option<usize>,
    },
    /// The tolerance cannot be met with any step.
    #[error(
        "the step shrank to nothing at t = {t_s:.3} s: the rates jump there or grow without end"
    )]
    StepTooShort {
        /// Time of the last good state.
        t_s: f64,
    },
    /// Too many steps: a state changes far faster than the segment is long.
    #[error("too many steps, stopped at t = {t_s:.3} s: a state is too fast")]
    TooManySteps {
        /// Time of the last good state.
        t_s: f64,
    },
    /// The states and their scales differ in number.
    #[error("{states} states but {scales} scales")]
    Length {
        /// Number of states given.
        states: usize,
        /// Number of scales given.
        scales: usize,
    },
    /// An option is out of its range.
    #[error("option {option} is {value}: expected a positive number, for times a finite one")]
    Option {
        /// Name of the option.
        option: &'static str,
        /// What was given.
        value: f64,
    },
}

fn of_state(state: Option<usize>) -> String {
    state.map(|index| format!(" (state {index})")).unwrap_or_default()
}

/// What an integration cost. Rejections stay at some 5 %; a count of accepted steps far above the
/// length of the run over 30 s betrays a fast state.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Work {
    /// Steps that stood.
    pub accepted: u64,
    /// Steps tried again shorter.
    pub rejected: u64,
    /// Calls of the rates.
    pub rate_calls: u64,
}
