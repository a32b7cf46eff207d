//! The cellar while it is empty: what will stand here.

use crate::answer::{Asked, Desk, Page, answer};
use crate::components::shell::{self, Shell};
use crate::pages::block_of;
use app::{App, AppError};
use axum::extract::State;
use axum::response::Response;
use maud::{Markup, html};
use std::sync::Arc;

/// `GET /cellar`.
pub(crate) async fn get(state: State<Arc<App>>, asked: Asked) -> Response {
    answer(state, asked, render).await
}

fn render(desk: &Desk) -> Result<Page, AppError> {
    let block = block_of(desk)?;
    let shell =
        Shell { title: "Cellar", place: "Cellar", within: &[], block: &block, desk: Some(desk) };
    Ok(shell::page(&shell, empty()).into())
}

fn empty() -> Markup {
    html! {
        div.title { h1 { "Cellar" } }
        section.empty-s.empty-page aria-label="Cellar, empty" {
            svg viewBox="0 0 320 120" aria-hidden="true" {
                path.l-phantom d="M40 20v70h60V20M48 20h44" {}
                path.l-phantom d="M60 20c0-8 20-8 20 0" {}
                path.l-phantom d="M130 90c30 0 40-52 78-56s50 38 92 40" {}
                path.l-ext d="M130 20v70h170" {}
            }
            p {
                "Nothing ferments. This Underback plans a day up to the yeast; what comes after it "
                "is not watched here yet."
            }
            a.btn href="/day" { "Look at the day" }
        }
    }
}
