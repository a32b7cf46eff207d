//! The plan's three balances: where extract, water and heat go. Nothing is measured yet.

use crate::answer::{Asked, Desk, answer, with_plan};
use crate::components::quantity;
use crate::components::shell::{self, Shell};
use app::{App, Planned, rows, show};
use axum::extract::State;
use axum::response::Response;
use maud::{Markup, html};
use std::sync::Arc;

/// `GET /ledger`.
pub(crate) async fn get(state: State<Arc<App>>, asked: Asked) -> Response {
    answer(state, asked, |desk| with_plan(desk, "Ledger", |planned| render(desk, planned))).await
}

fn render(desk: &Desk, planned: &Planned) -> Markup {
    let plan = &planned.plan;
    let block = [("Brew", plan.brew.clone()), ("Brewhouse", plan.brewhouse.clone())];
    let shell =
        Shell { title: "Ledger", place: "Ledger", within: &[], block: &block, desk: Some(desk) };
    shell::page(
        &shell,
        html! {
            div.title {
                h1 { (plan.brew) ", planned" }
                span.stamp { "as the plan has it; the day itself is not brewed yet" }
            }
            div.thirds {
                @for balance in rows::balances(plan, desk.units) { (one(&balance)) }
            }
        },
    )
}

fn one(balance: &rows::BalanceRows) -> Markup {
    html! {
        section.frame {
            div.frame-h {
                h2 { "Where the " (balance.name.to_lowercase()) " goes" }
            }
            div.body {
                table.bars {
                    thead { tr { th { "Comes in" } th.n { (balance.name) } } }
                    tbody {
                        @for (what, figure) in &balance.came_in {
                            tr { td { (what) } td.n { (quantity(figure)) } }
                        }
                        tr.sum { td { "Together" } td.n { (quantity(&balance.came_in_sum)) } }
                    }
                }
                table.bars.gap-s {
                    thead { tr {
                        th { "Goes to" } th.b { span.vh { "Share" } } th.n { "Share" }
                        th.n { (balance.name) }
                    } }
                    tbody {
                        @for (what, figure, share) in &balance.went {
                            tr {
                                td { (what) }
                                td.b { (bar(balance.substance, *share)) }
                                td.n { (quantity(&show::percent(*share))) }
                                td.n { (quantity(figure)) }
                            }
                        }
                        tr.sum {
                            td { "Together" } td.b {} td.n {}
                            td.n { (quantity(&balance.went_sum)) }
                        }
                    }
                }
            }
            p.foot { (closes(balance.closure_relative)) }
        }
    }
}

/// A share of all as a bar.
fn bar(substance: &str, percent: f64) -> Markup {
    let width = format!("{:.1}", percent.clamp(0.0, 100.0));
    html! {
        svg viewBox="0 0 100 12" preserveAspectRatio="none" aria-hidden="true" {
            rect class=(format!("barb {substance}")) x="0" y="1" width=(width) height="10" {}
        }
    }
}

/// How well the balance closes, in words.
fn closes(relative: f64) -> String {
    let size = relative.abs();
    if size <= 1e-6 {
        "Closes: what comes in is what goes out, to one part in a million or better.".to_owned()
    } else {
        format!("Does not close: off by {size:.1e} of what came in. Doubt this plan.")
    }
}
