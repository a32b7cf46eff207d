//! The pages: a thin face of `app`, rendered here and readable without script.
//!
//! It holds no rule of the process and no SQL; every number on a page comes from `app` and passes
//! through one component. No page asks another host for anything.

mod answer;
mod assets;
mod components;
mod guard;
mod pages;
mod print;

pub use print::{sheet_file, stick_file};

use app::App;
use axum::Router;
use axum::middleware;
use axum::routing::{get, post};
use std::sync::Arc;
use tokio::net::TcpListener;

/// The whole site.
pub fn router(app: Arc<App>) -> Router {
    Router::new()
        .route("/", get(pages::day::get))
        .route("/brewhouse", get(pages::brewhouse::get))
        .route("/brew", get(pages::brew::get))
        .route("/brews", get(pages::brews::get))
        .route("/choose", post(pages::brews::choose))
        .route("/day", get(pages::day::get))
        .route("/ledger", get(pages::ledger::get))
        .route("/cellar", get(pages::cellar::get))
        .route("/sheet", get(pages::sheet::get))
        .route("/dipstick/{vessel}", get(pages::dipstick::get))
        .route("/units", post(pages::units::choose))
        .route("/assets/{stamp}/{*file}", get(assets::get))
        .fallback(pages::not_found)
        .layer(middleware::from_fn(guard::guard))
        .with_state(app)
}

/// Answers on `listener` until `stop` is ready; requests that have begun are answered first.
///
/// # Errors
/// When the listener fails.
pub async fn serve(
    listener: TcpListener,
    app: Arc<App>,
    stop: impl Future<Output = ()> + Send + 'static,
) -> std::io::Result<()> {
    axum::serve(listener, router(app)).with_graceful_shutdown(stop).await
}
