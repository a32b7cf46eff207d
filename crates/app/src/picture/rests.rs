//! The temperature of the mash over its rests, from dough-in to the end of the last rest.

use super::lanes::rest_span;
use super::units;
use crate::output::{Operation, Plan};
use drawing::{CurveView, SpanView};
use quantity::UnitSystem;

/// The mash of a plan; nothing when it has no rest.
#[must_use]
pub fn rests(plan: &Plan, system: UnitSystem) -> Option<CurveView> {
    let rests = || plan.steps.iter().filter(|step| step.operation == Operation::Rest);
    let first = rests().next()?;
    let from_min = plan.milestones.dough_in_min.min(first.starts_min);
    let to_min = rests().map(|step| step.ends_min).fold(from_min, f64::max);
    let curve = plan.curves.iter().find(|curve| curve.vessel == first.vessel)?;
    let temp_c: Vec<(f64, f64)> = curve
        .points
        .iter()
        .filter(|point| from_min <= point.min && point.min <= to_min)
        .filter_map(|point| Some((point.min, point.temperature_c?)))
        .collect();
    let spans: Vec<SpanView> = rests().filter_map(|step| rest_span(step, system)).collect();
    let said: Vec<&str> = spans.iter().map(|span| span.label.as_str()).collect();
    Some(CurveView {
        id: "r".to_owned(),
        label: format!("Mash rests: {}", said.join("; ")),
        units: units(system),
        temp_c,
        rests: spans,
    })
}
