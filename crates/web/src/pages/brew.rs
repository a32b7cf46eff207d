//! One brew: what is wanted, what to weigh, what the pots allow, what it will be.
//! The file is the place to change it; this page shows it.

use crate::answer::{Asked, Desk, answer, with_plan};
use crate::components::shell::{self, Shell};
use crate::components::{gates, plan_parts, scrolling};
use crate::pages::within_brew;
use app::output::Plan;
use app::{App, Planned, UnitSystem, picture, rows, show};
use axum::extract::State;
use axum::response::Response;
use maud::{Markup, html};
use std::sync::Arc;

/// `GET /brew`.
pub(crate) async fn get(state: State<Arc<App>>, asked: Asked) -> Response {
    answer(state, asked, |desk| with_plan(desk, "Brew", |planned| render(desk, planned))).await
}

fn render(desk: &Desk, planned: &Planned) -> Markup {
    let (plan, units) = (&planned.plan, desk.units);
    let within = within_brew();
    let block = [("Brew", plan.brew.clone()), ("Brewhouse", plan.brewhouse.clone())];
    let shell =
        Shell { title: "Brew", place: "Brew", within: &within, block: &block, desk: Some(desk) };
    shell::page(
        &shell,
        html! {
            div.brewname {
                h1 { (plan.brew) }
                span.stamp { "planned on " (plan.brewhouse) }
            }
            div.split.wide-side {
                div.stack {
                    (plan_parts::not_as_wanted(plan, units))
                    section.slip #wanted { h2 { "Wanted in the fermenter" } (wanted(plan, units)) }
                    section.slip #grist { h2 { "Grist" } (plan_parts::grist(plan, units)) }
                    section.slip #hops { h2 { "Hops" } (plan_parts::hops(plan, units)) }
                    (plan_parts::others(plan, units))
                    section.slip #liquor {
                        h2 { "Liquor and rests" }
                        @if let Some(rests) = picture::rests(plan, units) {
                            (scrolling("rests", "Rests of the mash", &drawing::curve(&rests)))
                        }
                        (plan_parts::liquor(plan, units, "liq"))
                    }
                    (plan_parts::limits(plan, units))
                    (plan_parts::assumed(plan, units))
                }
                div.stack {
                    (gates::gates(plan, units))
                    section.slip #milestones {
                        h2 { "The day it makes" }
                        (plan_parts::day_it_makes(plan, units))
                        p.gap-s { a.btn.solid.full-w href="/day" { "Look at the day" } }
                    }
                }
            }
        },
    )
}

/// The wishes with their tolerances.
fn wanted(plan: &Plan, units: UnitSystem) -> Markup {
    html! {
        table.want {
            thead { tr {
                th { "Wish" } th.n { "Wanted" } th {} th.n { "Tolerance" } th {} th {}
            } }
            tbody {
                @for (wish, aim) in rows::aims(&plan.targets) {
                    tr {
                        td { (wish.name(units)) }
                        @let figure = wish.figure(aim.wanted, units);
                        td.n { b { (figure.number) } }
                        td.n.pmc { "±" }
                        td.n { (wish.tolerance(aim.wanted, aim.tolerance, units).number) }
                        td { (figure.unit) }
                        td.small { (beside(wish, plan, units)) }
                    }
                }
            }
        }
    }
}

/// The same wish said the other way.
fn beside(wish: show::Wish, plan: &Plan, units: UnitSystem) -> String {
    match wish {
        show::Wish::Fermentability => format!(
            "ends near {}, {} vol",
            show::gravity(plan.milestones.final_limit_plato, units),
            show::percent(plan.milestones.alcohol_limit_percent)
        ),
        show::Wish::Gravity => {
            let wanted = plan.targets.extract_plato.map_or(0.0, |aim| aim.wanted);
            if units == UnitSystem::Us {
                String::new()
            } else {
                show::gravity(wanted, UnitSystem::Us).text()
            }
        }
        _ => String::new(),
    }
}
