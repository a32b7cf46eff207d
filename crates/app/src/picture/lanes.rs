//! The lanes of the day: each vessel's volume and temperature, rests, additions, pours.

use super::{Holds, holds, in_order, mash_span, units};
use crate::output::{Operation, Plan, Step};
use crate::show;
use brewhouse::{Brewhouse, Vessel};
use drawing::{Clock, FillView, LaneView, LanesView, MarkView, PourView, SpanView, Substance};
use quantity::UnitSystem;

/// The lanes of a plan, the day starting at `start_clock_min` after midnight.
#[must_use]
pub fn lanes(
    brewhouse: &Brewhouse,
    plan: &Plan,
    start_clock_min: f64,
    system: UnitSystem,
) -> LanesView {
    let drawn: Vec<&Vessel> = in_order(brewhouse)
        .into_iter()
        .filter(|vessel| plan.curves.iter().any(|curve| curve.vessel == vessel.key))
        .collect();
    let index = |key: &str| drawn.iter().position(|vessel| vessel.key == key);
    let pours = plan.pours.iter().filter_map(|pour| {
        Some(PourView {
            from_lane: index(&pour.from)?,
            to_lane: index(&pour.to)?,
            start_min: pour.from_min,
            end_min: pour.to_min,
            litres: pour.litres,
            label: show::volume(pour.litres, system).text(),
            substance: substance(pour.substance == "wort"),
        })
    });
    LanesView {
        id: "l".to_owned(),
        label: label(plan, start_clock_min, system),
        corner: String::new(),
        start_clock_min,
        from_min: 0.0,
        to_min: plan.milestones.end_min,
        lanes: drawn.iter().map(|vessel| lane(plan, vessel, system)).collect(),
        pours: pours.collect(),
        flag: None,
        clock: if system == UnitSystem::Us { Clock::H12 } else { Clock::H24 },
        units: units(system),
    }
}

fn substance(wort: bool) -> Substance {
    if wort { Substance::Wort } else { Substance::Water }
}

fn label(plan: &Plan, start_clock_min: f64, system: UnitSystem) -> String {
    let clock = |min| crate::when::clock_in(system, start_clock_min, min);
    format!(
        "Lanes of the day: dough-in {}, boil {}, yeast in {}, packed up {}",
        clock(plan.milestones.dough_in_min),
        clock(plan.milestones.boil_starts_min),
        clock(plan.milestones.pitch_min),
        clock(plan.milestones.end_min),
    )
}

fn lane(plan: &Plan, vessel: &Vessel, system: UnitSystem) -> LaneView {
    let points = plan
        .curves
        .iter()
        .find(|curve| curve.vessel == vessel.key)
        .map_or(&[][..], |curve| curve.points.as_slice());
    let here = || plan.steps.iter().filter(|step| step.vessel == vessel.key);
    LaneView {
        name: vessel.name.clone(),
        caption: String::new(),
        capacity_l: 1000.0 * vessel.section.brim_m3(),
        fills: fills(plan, vessel, points),
        temp_c: points
            .iter()
            .map(|point| (point.min, point.temperature_c.unwrap_or(f64::NAN)))
            .collect(),
        axis_c: None,
        spans: here().filter_map(|step| span(step, system)).collect(),
        marks: here().filter_map(|step| mark(step, system)).collect(),
    }
}

/// The volume line, parted where liquor turns to mash.
fn fills(plan: &Plan, vessel: &Vessel, points: &[crate::output::Point]) -> Vec<FillView> {
    let turn_min = mash_span(plan, vessel).map(|(from, _)| from);
    let mut fills: Vec<FillView> = Vec::new();
    for point in points {
        let wort = holds(plan, vessel, point.min) != Holds::Liquor;
        let substance = substance(wort);
        if fills.last().is_none_or(|fill| fill.substance != substance) {
            let mut volume_l = Vec::new();
            if let (Some(turn_min), Some(last)) =
                (turn_min, fills.last().and_then(|fill| fill.volume_l.last()))
            {
                volume_l.push((turn_min.max(last.0), last.1));
            }
            fills.push(FillView { substance, volume_l });
        }
        if let Some(fill) = fills.last_mut() {
            fill.volume_l.push((point.min, point.volume_l));
        }
    }
    fills
}

fn set_number(step: &Step, key: &str) -> Option<f64> {
    step.set.get(key).and_then(serde_json::Value::as_f64)
}

/// A rest with its temperature and length, in full.
pub(crate) fn rest_span(step: &Step, system: UnitSystem) -> Option<SpanView> {
    if step.operation != Operation::Rest {
        return None;
    }
    let length = crate::when::duration(step.ends_min - step.starts_min);
    let label = match set_number(step, "temperature_c") {
        Some(celsius) => format!("{}, {length}", show::temperature(celsius, system)),
        None => length,
    };
    Some(SpanView { from_min: step.starts_min, to_min: step.ends_min, label })
}

/// Rests, boil and chilling as spans with a word as long as the span has room for.
fn span(step: &Step, system: UnitSystem) -> Option<SpanView> {
    let minutes = step.ends_min - step.starts_min;
    let length = crate::when::duration(minutes);
    let label = match (step.operation, set_number(step, "temperature_c")) {
        (Operation::Rest, Some(celsius)) => {
            let short = short_temperature(celsius, system);
            match minutes {
                minutes if minutes >= 30.0 => format!("{short}, {length}"),
                minutes if minutes >= 20.0 => format!("{short}, {minutes:.0}"),
                _ => short,
            }
        }
        (Operation::Boil, _) => format!("boil, {length}"),
        (Operation::Stand, _) if minutes >= 25.0 => "stand".to_owned(),
        (Operation::Chill, _) if minutes >= 12.0 => "chill".to_owned(),
        _ => return None,
    };
    Some(SpanView { from_min: step.starts_min, to_min: step.ends_min, label })
}

/// A temperature to the degree, as it is written where there is little room: `63°`.
fn short_temperature(celsius: f64, system: UnitSystem) -> String {
    let whole = match system {
        UnitSystem::Metric => celsius,
        UnitSystem::Us => quantity::Temperature::from_celsius(celsius).fahrenheit(),
    };
    format!("{whole:.0}°")
}

fn mark(step: &Step, system: UnitSystem) -> Option<MarkView> {
    let label = match step.operation {
        Operation::Hop => show::hops(set_number(step, "hop_g")?, system).text(),
        Operation::Pitch => "yeast".to_owned(),
        _ => return None,
    };
    Some(MarkView { t_min: step.starts_min, label })
}
