//! The plan page: the brewhouse in section, the lanes of the day, targets, steps, cautions.
//! The day is planned, not live: nothing here counts down.

use crate::answer::{Asked, Desk, answer, with_plan};
use crate::components::shell::{self, Shell};
use crate::components::{gates, plan_parts, scrolling, steps, twin};
use crate::pages::vessel_name;
use app::{App, Planned, picture, when};
use axum::extract::State;
use axum::response::Response;
use maud::{Markup, html};
use std::sync::Arc;

/// `GET /` and `GET /day`.
pub(crate) async fn get(state: State<Arc<App>>, asked: Asked) -> Response {
    answer(state, asked, |desk| with_plan(desk, "Day", |planned| render(desk, planned))).await
}

fn render(desk: &Desk, planned: &Planned) -> Markup {
    let (plan, units) = (&planned.plan, desk.units);
    let start = plan.milestones.start_clock_min;
    let clock = when::clock_in(units, start, 0.0);
    let end = when::clock_in(units, start, plan.milestones.end_min);
    let within = [("This day", "/day".to_owned()), ("Sheet to print", "/sheet".to_owned())];
    let block = [
        ("Brew", plan.brew.clone()),
        ("Brewhouse", plan.brewhouse.clone()),
        ("Begins", clock.clone()),
    ];
    let shell =
        Shell { title: "Day", place: "Day", within: &within, block: &block, desk: Some(desk) };
    shell::page(
        &shell,
        html! {
            div.brewname {
                h1 { (plan.brew) }
                span.stamp {
                    "a day planned on " (plan.brewhouse) ", " (clock) " to " (end) ", "
                    (when::duration(plan.milestones.end_min))
                }
            }
            div.split {
                div.stack {
                    (plan_parts::not_as_wanted(plan, units))
                    (drawings(desk, planned))
                    section.frame #steps {
                        div.frame-h {
                            h2 { "Steps" }
                            span.stamp { "planned; times hold from the step before" }
                        }
                        div.steps-body {
                            (steps::steps(plan, units, |key| vessel_name(&planned.brewhouse, key)))
                        }
                    }
                }
                div.stack {
                    (gates::gates(plan, units))
                    section.slip #weigh {
                        h2 { "Liquor" }
                        (plan_parts::liquor(plan, units, "liq one"))
                        h2.gap-s { "Grist" }
                        (short_list(plan.amounts.grist.iter().map(|malt| {
                            (malt.malt.clone(), app::show::malt(malt.kg, units))
                        })))
                        @if !plan.amounts.hops.is_empty() {
                            h2.gap-s { "Hops" }
                            (short_list(plan.amounts.hops.iter().map(|hop| {
                                (
                                    format!("{}, {}", hop.hop, app::in_units(&hop.when, units)),
                                    app::show::hops(hop.g, units),
                                )
                            })))
                        }
                        p.gap-s { a.btn.full-w href="/sheet" { "Sheet to print" } }
                    }
                    section.slip #milestones {
                        h2 { "The day it makes" }
                        (plan_parts::day_it_makes(plan, units))
                    }
                    (plan_parts::limits(plan, units))
                    (plan_parts::notes(plan, units))
                    (plan_parts::assumed(plan, units))
                }
            }
        },
    )
}

/// Names and figures, one under another.
fn short_list(rows: impl Iterator<Item = (String, app::show::Figure)>) -> Markup {
    let rows: Vec<(String, Markup)> =
        rows.map(|(label, figure)| (label, crate::components::quantity(&figure))).collect();
    crate::components::facts(&rows, "liq one")
}

/// Section and lanes, each with its twin as a table.
fn drawings(desk: &Desk, planned: &Planned) -> Markup {
    let (plan, units) = (&planned.plan, desk.units);
    let start = plan.milestones.start_clock_min;
    let moment = picture::moment_of_run_off(plan);
    let section = picture::section(&planned.brewhouse, Some((plan, moment)), units);
    let lanes = picture::lanes(&planned.brewhouse, plan, start, units);
    let (vessels, rows) =
        picture::levels(&planned.brewhouse, plan, &picture::step_moments(plan), units);
    html! {
        section.frame #section {
            div.frame-h {
                h2 { (plan.brewhouse) ", section" }
                span.stamp {
                    "as it will be at " (when::clock_in(units, start, moment))
                }
            }
            (scrolling("part-drawing", "Section drawing", &drawing::section(&section)))
            (scrolling("part-lanes", "Lanes of the day", &drawing::lanes(&lanes)))
            p.small {
                "All of it is expected, nothing is measured yet: pencil. Each falling line is "
                (drawing::falling_line(&lanes)) " poured."
            }
            (twin::levels(&vessels, &rows))
        }
    }
}
