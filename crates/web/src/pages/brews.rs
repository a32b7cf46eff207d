//! All brews and all brewhouses: which beer is looked at on which pots.

use crate::answer::{Asked, Desk, Page, answer, error_page};
use crate::components::quantity;
use crate::components::shell::{self, Shell};
use crate::pages::{block_of, within_brew};
use app::show;
use app::{App, AppError, Brew, Brewhouse, Chosen, Listed, UnitSystem};
use axum::Form;
use axum::extract::State;
use axum::extract::rejection::FormRejection;
use axum::http::StatusCode;
use axum::response::{Html, IntoResponse, Redirect, Response};
use maud::{Markup, html};
use std::collections::BTreeMap;
use std::sync::Arc;

/// `GET /brews`.
pub(crate) async fn get(state: State<Arc<App>>, asked: Asked) -> Response {
    answer(state, asked, render).await
}

/// `POST /choose`: a brew, a brewhouse, or both; what is left out stays.
pub(crate) async fn choose(
    State(app): State<Arc<App>>,
    form: Result<Form<BTreeMap<String, String>>, FormRejection>,
) -> Response {
    let kept = tokio::task::spawn_blocking(move || {
        let fields = form.map(|Form(fields)| fields).unwrap_or_default();
        let now = app.chosen()?;
        let field = |key: &str, now: String| fields.get(key).cloned().unwrap_or(now);
        app.choose(&Chosen {
            brewhouse: field("brewhouse", now.brewhouse),
            brew: field("brew", now.brew),
        })
    })
    .await;
    match kept {
        Ok(Ok(())) => Redirect::to("/brew").into_response(),
        Ok(Err(error)) => refused(&error.to_string()),
        Err(stopped) => refused(&stopped.to_string()),
    }
}

fn refused(words: &str) -> Response {
    let words = format!("{words}. Nothing was changed.");
    let page = error_page(StatusCode::NOT_FOUND, "That cannot be chosen", &words);
    (page.status, Html(page.markup.into_string())).into_response()
}

fn render(desk: &Desk) -> Result<Page, AppError> {
    let brews = desk.app.brews()?;
    let brewhouses = desk.app.brewhouses()?;
    let within = within_brew();
    let block = block_of(desk)?;
    let shell =
        Shell { title: "Brews", place: "Brew", within: &within, block: &block, desk: Some(desk) };
    Ok(shell::page(
        &shell,
        html! {
            div.title {
                h1 { "Brews" }
                span.stamp { "wanted beers, and the pots to brew them on; all of them invented" }
            }
            div.split {
                section.slip {
                    h2 { "Wanted beers" }
                    ul.rows.brews.four {
                        @for brew in &brews { (brew_row(brew, &desk.chosen, desk.units)) }
                    }
                }
                section.slip {
                    h2 { "On these pots" }
                    ul.rows.houses {
                        @for brewhouse in &brewhouses { (brewhouse_row(brewhouse, &desk.chosen)) }
                    }
                    p.small.gap-s {
                        "Your own pots and beers: describe them in two files, and run "
                        code { "underback plan" } "."
                    }
                }
            }
        },
    )
    .into())
}

fn choose_form(field: &str, slug: &str, name: &str, chosen: bool) -> Markup {
    html! {
        @if chosen { span.chip.good { "chosen" } } @else {
            form method="post" action="/choose" {
                input type="hidden" name=(field) value=(slug);
                button.btn.small type="submit" aria-label=(format!("Choose {name}")) { "Choose" }
            }
        }
    }
}

fn brew_row(listed: &Listed<Brew>, chosen: &Chosen, units: UnitSystem) -> Markup {
    let is_chosen = listed.slug == chosen.brew;
    match &listed.read {
        Ok(brew) => {
            let wanted = &brew.wanted;
            let ibu = wanted.bitterness.map(|wish| wish.value.ibu());
            html! {
                li {
                    div { h3 { (brew.name) } small { (malts(brew)) } }
                    (value("Volume", Some(show::volume(wanted.volume.value.litres(), units))))
                    (value("Gravity", Some(show::gravity(wanted.gravity.value.plato(), units))))
                    (value("Bitterness", ibu.map(|ibu| {
                        show::Wish::Bitterness.figure(ibu, units)
                    })))
                    div { (choose_form("brew", &listed.slug, &brew.name, is_chosen)) }
                }
            }
        }
        Err(findings) => refused_row(&listed.slug, findings),
    }
}

fn value(label: &str, figure: Option<show::Figure>) -> Markup {
    html! {
        div {
            span.small { (label) }
            div.big { @if let Some(figure) = figure { (quantity(&figure)) } @else { "–" } }
        }
    }
}

/// The malts in a few words.
fn malts(brew: &Brew) -> String {
    let names: Vec<&str> =
        brew.grist.iter().map(|malt| malt.name.as_deref().unwrap_or(malt.malt.as_str())).collect();
    names.join(", ")
}

fn brewhouse_row(listed: &Listed<Brewhouse>, chosen: &Chosen) -> Markup {
    let is_chosen = listed.slug == chosen.brewhouse;
    match &listed.read {
        Ok(brewhouse) => {
            let vessels: Vec<&str> =
                brewhouse.vessels.iter().map(|vessel| vessel.name.as_str()).collect();
            html! {
                li {
                    div {
                        h3 { (brewhouse.name) }
                        small { (brewhouse.place.word()) ": " (vessels.join(", ")) }
                    }
                    div { (choose_form("brewhouse", &listed.slug, &brewhouse.name, is_chosen)) }
                }
            }
        }
        Err(findings) => refused_row(&listed.slug, findings),
    }
}

fn refused_row(slug: &str, findings: &str) -> Markup {
    html! {
        li { div { h3 { (slug) } details { summary { "Cannot be used: why?" }
            pre.code { (findings) }
        } } }
    }
}
