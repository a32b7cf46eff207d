//! The vessels to scale with their dimensions, what is known of them, their dipsticks.

use crate::answer::{Asked, Desk, Page, answer};
use crate::components::shell::{self, Shell};
use crate::components::{quantity, scrolling};
use app::{App, AppError, Brewhouse, UnitSystem, picture, rows};
use axum::extract::State;
use axum::response::Response;
use maud::{Markup, html};
use std::sync::Arc;

/// `GET /brewhouse`.
pub(crate) async fn get(state: State<Arc<App>>, asked: Asked) -> Response {
    answer(state, asked, |desk| {
        let brewhouse = desk.app.brewhouse(&desk.chosen.brewhouse)?;
        Ok::<Page, AppError>(render(desk, &brewhouse).into())
    })
    .await
}

fn render(desk: &Desk, brewhouse: &Brewhouse) -> Markup {
    let units = desk.units;
    let known = rows::known(brewhouse, units);
    let assumed = known.iter().filter(|row| !row.stated).count();
    let assumed = format!("{assumed} of {}", known.len());
    let vessels = rows::vessels(brewhouse, units);
    let count = vessels.len().to_string();
    let within = [("Section", "/brewhouse".to_owned()), ("All brewhouses", "/brews".to_owned())];
    let block =
        [("Brewhouse", brewhouse.name.clone()), ("Vessels", count), ("Still assumed", assumed)];
    let shell = Shell {
        title: "Brewhouse",
        place: "Brewhouse",
        within: &within,
        block: &block,
        desk: Some(desk),
    };
    let unit = if units == UnitSystem::Us { "inches" } else { "millimetres" };
    let section = drawing::section(&picture::section(brewhouse, None, units));
    shell::page(
        &shell,
        html! {
            div.brewname {
                h1 { (brewhouse.name) }
                span.stamp { (brewhouse.place.word()) }
            }
            section.frame #section {
                div.frame-h { h2 { "Section" } span.stamp { (unit) ", to one scale" } }
                (scrolling("part-drawing", "Section drawing", &section))
                div.foot.key {
                    b { "How sure" }
                    span.pv.meas { "stated by you" }
                    span.pv.assume { "assumed, in pencil" }
                }
                (parts(&vessels))
            }
            div.split.gap-top {
                section.slip #known { h2 { "What is known" } (known_table(&known)) }
                section.slip #dipsticks {
                    h2 { "Dipsticks" }
                    p.small {
                        "A scale to print at full size: "
                        (if units == UnitSystem::Us { "gallons" } else { "litres" })
                        " beside the dip."
                    }
                    ul.list.gap-s {
                        @for vessel in &vessels {
                            li { a.btn.full-w href=(format!("/dipstick/{}", vessel.key)) {
                                (vessel.name)
                            } }
                        }
                    }
                }
            }
        },
    )
}

/// The parts list; the section's twin as a table.
fn parts(vessels: &[rows::VesselRow]) -> Markup {
    html! {
        div.part-table {
            table.cards {
                thead { tr {
                    th { "Vessel" } th { "Plays" } th.n { "Inside" } th.n { "To the brim" }
                    th.in { "Wall and base" } th { "Heated by" } th.n { "Stands at" }
                } }
                tbody {
                    @for vessel in vessels {
                        tr {
                            td { b { (vessel.name) } }
                            td data-l="Plays" { (vessel.plays) }
                            td.n data-l="Inside" { (vessel.inside) }
                            td.n data-l="To the brim" { (quantity(&vessel.brim)) }
                            td.in data-l="Wall and base" { (vessel.wall) }
                            td data-l="Heated by" { (vessel.heated_by) }
                            td.n data-l="Stands at" { (quantity(&vessel.stands_at)) }
                        }
                    }
                }
            }
        }
    }
}

fn known_table(known: &[rows::KnownRow]) -> Markup {
    html! {
        table.cards.known {
            thead { tr { th { "Quantity" } th.n { "Value" } th.in { "Where it came from" } } }
            tbody {
                @for row in known {
                    tr.as[!row.stated] {
                        td { (row.what) }
                        td.n { b { (row.value) } }
                        td.in {
                            @if row.stated { span.pv.meas { (row.from) } }
                            @else { span.pv.assume { (row.from) } }
                        }
                    }
                }
            }
        }
    }
}
