//! The wanted beer solved backwards: from volume, gravity, bitterness, colour and fermentability to
//! everything the brewer weighs, measures, lights and waits for on their own pots.
//!
//! Deliberately absent: priors and chances, a clock, and any physics of its own. Every number comes
//! from a simulated day.

pub mod error;
pub mod output;

mod assemble;
mod cautions;
mod choice;
mod conflict;
mod limits;
mod liquor;
mod outcome;
mod procedure;
mod readings;
mod say;
mod setting;
mod solve;
mod steps;

pub use error::PlanError;

use brew::Brew;
use brewhouse::Brewhouse;
use choice::{Choice, Ways};
use day::procedure::Procedure;
use day::setting::Setting;
use day::simulate::Options;
use output::Plan;
use setting::Place;
use solve::Solved;

/// Clock at which a planned day starts where nobody says otherwise, min after midnight: 08:30.
pub const START_CLOCK_MIN: f64 = 510.0;

/// How often the plan's curves are sampled, s.
const SAMPLE_S: f64 = 120.0;

/// Solves the wanted beer backwards on a brewhouse.
///
/// A day that cannot be as wished is a plan all the same: `fits` is false, the smallest set of
/// wishes and limits that exclude each other is named, and the nearest plans that fit are offered.
///
/// # Errors
/// [`PlanError`] when no day can be laid out at all: a part of the day has no vessel, or the liquor
/// has no answer.
pub fn solve(brewhouse: &Brewhouse, brew: &Brew) -> Result<Plan, PlanError> {
    let place = Place::of(brewhouse)?;
    let solved = solve_day(&place, brew)?;
    let sampled = Options { sample_s: SAMPLE_S, ..Options::default() };
    let last = solve::run(&place, brew, solved.choice.clone(), &sampled)?;
    let last = Solved { miss: solved.miss, rounds: solved.rounds, ..last };
    let mut plan = assemble::plan(&place, brew, &last);
    cautions::add(&place, &last, &mut plan);
    let options = Options::default();
    plan.conflict = conflict::conflict(&place, brew, Ok(&last), &plan.limits, &options);
    Ok(plan)
}

fn solve_day(place: &Place<'_>, brew: &Brew) -> Result<Solved, PlanError> {
    let ways = Ways::of(place, brew);
    let grist = setting::grist_of(brew, &setting::stated_shares(brew));
    let start = Choice::start(place, brew, &grist, ways);
    let solved = solve::solve(place, brew, start, &Options::default())?;
    conflict::ease(place, brew, solved, &Options::default())
}

/// The solved day as setting and procedure, for benchmarks and for comparison with other solvers.
///
/// # Errors
/// As [`solve`].
pub fn day_of(brewhouse: &Brewhouse, brew: &Brew) -> Result<(Setting, Procedure), PlanError> {
    let place = Place::of(brewhouse)?;
    let solved = solve_day(&place, brew)?;
    Ok((solved.setting, solved.built.procedure))
}
