//! From a request to a page: what is asked, work off the waiting thread, errors as a page with a
//! way on. A panic in one page is an error page of that request, and no more.

use crate::components::shell::{self, Shell};
use app::{App, AppError, Chosen, Planned, UnitSystem};
use axum::extract::{FromRequestParts, State};
use axum::http::request::Parts;
use axum::http::{StatusCode, header};
use axum::response::{Html, IntoResponse, Response};
use maud::{Markup, html};
use std::convert::Infallible;
use std::sync::Arc;

/// What a reader asked for beside the address.
#[derive(Debug, Clone, Default)]
pub(crate) struct Asked {
    /// The units they chose; none before the first choice.
    pub(crate) units: Option<UnitSystem>,
    /// The address, to come back to.
    pub(crate) path: String,
}

impl<S: Send + Sync> FromRequestParts<S> for Asked {
    type Rejection = Infallible;

    async fn from_request_parts(parts: &mut Parts, _: &S) -> Result<Self, Infallible> {
        let cookies = parts.headers.get_all(header::COOKIE).iter();
        let units = cookies
            .filter_map(|value| value.to_str().ok())
            .flat_map(|value| value.split(';'))
            .filter_map(|pair| pair.trim().strip_prefix("units="))
            .find_map(units_named);
        Ok(Self { units, path: parts.uri.path().to_owned() })
    }
}

/// The units of a cookie or a form.
pub(crate) fn units_named(name: &str) -> Option<UnitSystem> {
    match name {
        "metric" => Some(UnitSystem::Metric),
        "us" => Some(UnitSystem::Us),
        _ => None,
    }
}

/// What every page knows.
pub(crate) struct Desk {
    /// The program.
    pub(crate) app: Arc<App>,
    /// What is chosen.
    pub(crate) chosen: Chosen,
    /// The reader's units.
    pub(crate) units: UnitSystem,
    /// The address asked for.
    pub(crate) path: String,
}

/// A page that is ready.
pub(crate) struct Page {
    /// Its status.
    pub(crate) status: StatusCode,
    /// All of it.
    pub(crate) markup: Markup,
}

impl From<Markup> for Page {
    fn from(markup: Markup) -> Self {
        Self { status: StatusCode::OK, markup }
    }
}

/// Makes a page off the waiting thread and answers with it.
pub(crate) async fn answer<F>(State(app): State<Arc<App>>, asked: Asked, make: F) -> Response
where
    F: FnOnce(&Desk) -> Result<Page, AppError> + Send + 'static,
{
    let path = asked.path.clone();
    let made = tokio::task::spawn_blocking(move || {
        let chosen = app.chosen()?;
        let units = match asked.units {
            Some(units) => units,
            None => app.usual_units(&chosen)?,
        };
        make(&Desk { app, chosen, units, path: asked.path })
    })
    .await;
    let page = match made {
        Ok(Ok(page)) => page,
        Ok(Err(error)) => trouble(&error),
        Err(stopped) => {
            tracing::error!(path, %stopped, "a page could not be made");
            broken()
        }
    };
    (page.status, Html(page.markup.into_string())).into_response()
}

/// Runs `make` with the plan of what is chosen, or says why there is none.
pub(crate) fn with_plan(
    desk: &Desk,
    place: &'static str,
    make: impl FnOnce(&Planned) -> Markup,
) -> Result<Page, AppError> {
    let planned = desk.app.planned(&desk.chosen)?;
    match planned.as_ref() {
        Ok(planned) => Ok(make(planned).into()),
        Err(error) => Ok(no_plan(desk, place, error)),
    }
}

/// The documents can't be planned: their findings, and the way to others.
fn no_plan(desk: &Desk, place: &'static str, error: &AppError) -> Page {
    let shell = Shell { title: place, place, within: &[], block: &[], desk: Some(desk) };
    let markup = shell::page(
        &shell,
        html! {
            div.title { h1 { "This pair cannot be planned" } }
            section.slip {
                h2 { "Why" }
                pre.code { (error.to_string()) }
                p.gap-s { "Nothing was changed. Mend the file, or choose another pair." }
                p.gap-s { a.btn.solid href="/brews" { "Choose a brew" } }
            }
        },
    );
    Page { status: StatusCode::UNPROCESSABLE_ENTITY, markup }
}

/// A use case failed.
fn trouble(error: &AppError) -> Page {
    let status = match error {
        AppError::Missing { .. } | AppError::NoVessel { .. } => StatusCode::NOT_FOUND,
        AppError::Findings(_) | AppError::NoPlan(_) | AppError::Swapped { .. } => {
            StatusCode::UNPROCESSABLE_ENTITY
        }
        AppError::Store(_) => {
            tracing::error!(%error, "the store failed");
            StatusCode::INTERNAL_SERVER_ERROR
        }
    };
    error_page(status, "That could not be done", &error.to_string())
}

/// A page panicked: ours to mend.
fn broken() -> Page {
    let words = "A mistake in Underback stopped this page. What is kept is untouched, and the \
        other pages go on. Where Underback was started stands what happened.";
    error_page(StatusCode::INTERNAL_SERVER_ERROR, "This page broke", words)
}

/// An error page: cause, status, way on.
pub(crate) fn error_page(status: StatusCode, title: &'static str, words: &str) -> Page {
    let shell = Shell { title, place: "", within: &[], block: &[], desk: None };
    let markup = shell::page(
        &shell,
        html! {
            div.title { h1 { (title) } span.stamp { (status.as_u16()) } }
            section.slip.empty-page {
                p { (words) }
                div.row.gap-s {
                    a.btn.solid href="/day" { "To the day" }
                    a.btn href="/brews" { "All brews" }
                }
            }
        },
    );
    Page { status, markup }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[tokio::test]
    async fn a_page_that_panics_is_an_error_page_with_a_way_on() {
        let folder = std::env::temp_dir().join(format!("web-panic-{}", std::process::id()));
        let app = App::open(&folder.join("underback.db"), app::fixed_clock(0)).unwrap();
        let response =
            answer(State(Arc::new(app)), Asked::default(), |_| panic!("on purpose")).await;
        assert_eq!(response.status(), StatusCode::INTERNAL_SERVER_ERROR);
        let body = axum::body::to_bytes(response.into_body(), 1 << 20).await.unwrap();
        let text = String::from_utf8(body.to_vec()).unwrap();
        assert!(text.contains("href=\"/day\""), "{text}");
        std::fs::remove_dir_all(folder).ok();
    }
}
