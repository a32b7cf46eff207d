//! The dipstick of one vessel as a page; the browser prints it at full size.

use crate::answer::{Asked, Page, answer};
use crate::print;
use app::{App, AppError};
use axum::extract::{Path, State};
use axum::response::Response;
use std::sync::Arc;

/// `GET /dipstick/{vessel}`.
pub(crate) async fn get(
    state: State<Arc<App>>,
    Path(vessel): Path<String>,
    asked: Asked,
) -> Response {
    answer(state, asked, move |desk| {
        let brewhouse = desk.app.brewhouse(&desk.chosen.brewhouse)?;
        let planned = desk.app.planned(&desk.chosen)?;
        let plan = planned.as_ref().as_ref().ok().map(|planned| &planned.plan);
        let stick = app::dipstick_of(&brewhouse, &vessel, plan, desk.units)?;
        Ok::<Page, AppError>(print::stick_page(&stick).into())
    })
    .await
}
