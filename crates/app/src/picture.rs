//! Views for the drawings, made from a brewhouse and its plan: section, lanes, rests, dipstick.
//! It places nothing on paper and reads no instrument: it only says what there is to be drawn.

mod dipstick;
mod lanes;
mod rests;
mod section;

pub use dipstick::{Stick, dipstick, stick_of_kettle};
pub use lanes::lanes;
pub use rests::rests;
pub(crate) use section::plays;
pub use section::{moment_of_run_off, section};

use crate::output::{Operation, Plan, Step};
use crate::show::{self, Figure};
use brewhouse::{Brewhouse, Part, Vessel};
use quantity::UnitSystem;

/// The drawing's name for a system of units.
#[must_use]
pub fn units(units: UnitSystem) -> drawing::Units {
    match units {
        UnitSystem::Metric => drawing::Units::Metric,
        UnitSystem::Us => drawing::Units::Us,
    }
}

/// The vessels from left to right: in the order of the parts they play first.
pub(crate) fn in_order(brewhouse: &Brewhouse) -> Vec<&Vessel> {
    let mut vessels: Vec<&Vessel> = brewhouse.vessels.iter().collect();
    vessels.sort_by_key(|vessel| vessel.plays.iter().min().copied().unwrap_or(Part::Fermenter));
    vessels
}

/// What stands in a vessel at a minute of the day.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Holds {
    Liquor,
    Mash,
    Wort,
}

/// Minutes at which the grain goes into a vessel and at which it is only wort, or grain left over.
pub(crate) fn mash_span(plan: &Plan, vessel: &Vessel) -> Option<(f64, f64)> {
    let here = |step: &&Step| step.vessel == vessel.key;
    let dough_in = plan.steps.iter().filter(here).find(|s| s.operation == Operation::DoughIn)?;
    let last = plan
        .steps
        .iter()
        .filter(here)
        .filter(|step| matches!(step.operation, Operation::LiftBag))
        .map(|step| step.ends_min)
        .fold(f64::INFINITY, f64::min);
    Some((dough_in.starts_min, last))
}

pub(crate) fn holds(plan: &Plan, vessel: &Vessel, at_min: f64) -> Holds {
    if let Some((from, to)) = mash_span(plan, vessel) {
        if at_min < from {
            return Holds::Liquor;
        }
        return if at_min < to { Holds::Mash } else { Holds::Wort };
    }
    if vessel.plays(Part::Liquor) { Holds::Liquor } else { Holds::Wort }
}

/// Volume and temperature of every vessel at one moment; none for an empty one.
#[derive(Debug, Clone, PartialEq)]
pub struct LevelRow {
    /// Clock time.
    pub clock: String,
    /// A cell for each vessel.
    pub cells: Vec<Option<(Figure, Option<Figure>)>>,
}

/// The lanes as a table: names of the vessels, and a row wherever a step begins.
#[must_use]
pub fn levels(
    brewhouse: &Brewhouse,
    plan: &Plan,
    moments_min: &[f64],
    system: UnitSystem,
) -> (Vec<String>, Vec<LevelRow>) {
    let vessels: Vec<&Vessel> = in_order(brewhouse)
        .into_iter()
        .filter(|vessel| plan.curves.iter().any(|curve| curve.vessel == vessel.key))
        .collect();
    let cell = |vessel: &&Vessel, min: f64| {
        let point = section::point_at(plan, &vessel.key, min)?;
        let temperature = point.temperature_c.map(|celsius| show::temperature(celsius, system));
        (point.volume_l > 0.05).then(|| (show::volume(point.volume_l, system), temperature))
    };
    let start = plan.milestones.start_clock_min;
    let rows = moments_min.iter().map(|min| LevelRow {
        clock: crate::when::clock_in(system, start, *min),
        cells: vessels.iter().map(|vessel| cell(vessel, *min)).collect(),
    });
    let rows = rows.collect();
    (vessels.iter().map(|vessel| vessel.name.clone()).collect(), rows)
}

/// The minutes at which a step begins, each once.
#[must_use]
pub fn step_moments(plan: &Plan) -> Vec<f64> {
    let mut moments: Vec<f64> = plan.steps.iter().map(|step| step.starts_min).collect();
    moments.sort_by(f64::total_cmp);
    moments.dedup_by(|later, earlier| (*later - *earlier).abs() < 0.5);
    moments
}
