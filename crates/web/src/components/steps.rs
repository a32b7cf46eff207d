//! The steps of the day as a table: time, time since the step before, where, what to do, what to
//! expect; the caution before the step it belongs to.

use crate::components::{icon, sentence};
use app::output::{Plan, Step};
use app::{UnitSystem, sheet, show, when};
use maud::{Markup, html};

/// All steps. `name_of` gives the name of a vessel from its key.
pub(crate) fn steps(plan: &Plan, units: UnitSystem, name_of: impl Fn(&str) -> String) -> Markup {
    let mut headings = sheet::Headings::default();
    html! {
        table.steps-t {
            thead {
                tr {
                    th { "Time" } th { "Since" } th { "Where" } th { "Do" } th.n { "Expect" }
                }
            }
            tbody {
                @for (index, step) in plan.steps.iter().enumerate() {
                    @if let Some(heading) = headings.before(step.part) {
                        tr.head-row { th colspan="5" scope="rowgroup" { (heading) } }
                    }
                    @for caution in sheet::cautions_of(step) {
                        tr.warn { td colspan="5" { p {
                            (icon::caution())
                            span { (sentence(&sheet::caution_words(caution, units))) }
                        } } }
                    }
                    (row(plan, index, step, units, &name_of(&step.vessel)))
                }
            }
        }
    }
}

fn row(plan: &Plan, index: usize, step: &Step, units: UnitSystem, vessel: &str) -> Markup {
    let start = plan.milestones.start_clock_min;
    html! {
        tr.step id=(format!("step-{}", step.id)) {
            td.when.n { (when::clock_in(units, start, step.starts_min)) }
            td.af { (when::since(plan, index)) }
            td.where { (vessel) }
            td.do { (sentence(&sheet::words(step, units))) }
            td.exp.n {
                @for reading in &step.expected {
                    span title=(reading.instrument) { (show::expected(reading, units).text()) " " }
                }
            }
        }
    }
}
