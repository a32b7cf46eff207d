//! One file for each page: what it shows, from plan to markup.

pub(crate) mod brew;
pub(crate) mod brewhouse;
pub(crate) mod brews;
pub(crate) mod cellar;
pub(crate) mod day;
pub(crate) mod dipstick;
pub(crate) mod ledger;
pub(crate) mod sheet;
pub(crate) mod units;

use crate::answer::{Desk, error_page};
use app::AppError;
use axum::http::StatusCode;
use axum::response::{Html, IntoResponse, Response};

/// The pages within Brew.
pub(crate) fn within_brew() -> Vec<(&'static str, String)> {
    vec![
        ("This brew", "/brew".to_owned()),
        ("All brews", "/brews".to_owned()),
        ("Sheet to print", "/sheet".to_owned()),
    ]
}

/// The name of a vessel from its key; a step at no vessel has none.
pub(crate) fn vessel_name(brewhouse: &app::Brewhouse, key: &str) -> String {
    brewhouse.vessel(key).map_or_else(String::new, |vessel| vessel.name.clone())
}

/// Any other address.
pub(crate) async fn not_found() -> Response {
    let page = error_page(
        StatusCode::NOT_FOUND,
        "There is no such page",
        "The address leads nowhere. The five places stand above.",
    );
    (page.status, Html(page.markup.into_string())).into_response()
}

/// Names of the chosen brew and brewhouse for the title block of pages without a plan.
pub(crate) fn block_of(desk: &Desk) -> Result<Vec<(&'static str, String)>, AppError> {
    let (brew, brewhouse) = desk.app.names(&desk.chosen)?;
    Ok(vec![("Brew", brew), ("Brewhouse", brewhouse)])
}
