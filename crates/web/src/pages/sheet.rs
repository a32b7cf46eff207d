//! The sheet of the day as a page; the browser prints it.

use crate::answer::{Asked, answer, with_plan};
use crate::print;
use app::App;
use axum::extract::State;
use axum::response::Response;
use std::sync::Arc;

/// `GET /sheet`.
pub(crate) async fn get(state: State<Arc<App>>, asked: Asked) -> Response {
    answer(state, asked, |desk| {
        with_plan(desk, "Day", |planned| {
            let start = planned.plan.milestones.start_clock_min;
            print::sheet_page(&app::sheet_of(planned, start, desk.units))
        })
    })
    .await
}
