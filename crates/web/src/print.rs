//! Paper: the sheet of the day and the dipstick, as pages of the program and as files that hold
//! everything they need. Black on white, A4 and US Letter.

mod leaf;
mod stick;

use crate::assets::{self, address};
use app::picture::Stick;
use app::sheet::SheetView;
use base64::Engine;
use maud::{DOCTYPE, Markup, PreEscaped, html};

/// The sheet as a page of the program.
pub(crate) fn sheet_page(view: &SheetView) -> Markup {
    let words = "Black on white, for A4 and US Letter: print at 100 %.";
    let leaves = leaf::leaves(view);
    page(&format!("Sheet of the day, {}", view.brew), ("/day", "Back to the day"), words, leaves)
}

/// The dipstick as a page of the program.
pub(crate) fn stick_page(stick: &Stick) -> Markup {
    let words = "Print at 100 %, without fitting to the page, and measure the check line.";
    let leaves = stick::leaves(stick);
    let title = format!("Dipstick, {}", stick.vessel);
    page(&title, ("/brewhouse", "Back to the brewhouse"), words, leaves)
}

/// The sheet as a file that needs nothing beside it.
#[must_use]
pub fn sheet_file(view: &SheetView) -> String {
    file(&format!("Sheet of the day, {}", view.brew), leaf::leaves(view)).into_string()
}

/// The dipstick as a file that needs nothing beside it.
#[must_use]
pub fn stick_file(stick: &Stick) -> String {
    file(&format!("Dipstick, {}", stick.vessel), stick::leaves(stick)).into_string()
}

fn page(title: &str, back: (&str, &str), words: &str, leaves: Markup) -> Markup {
    html! {
        (DOCTYPE)
        html lang="en" {
            (crate::components::shell::head(title))
            body.sheet {
                p.bar.no-print {
                    a href=(back.0) { (back.1) }
                    span { (words) }
                    button.btn.small type="button" data-print="" { "Print" }
                }
                main { h1.vh { (title) } (leaves) }
                script src=(address("sheet.js")) {}
            }
        }
    }
}

fn file(title: &str, leaves: Markup) -> Markup {
    html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width,initial-scale=1";
                title { (title) " · Underback" }
                style { (PreEscaped(style_with_fonts())) }
            }
            body.sheet { main { h1.vh { (title) } (leaves) } }
        }
    }
}

/// The style sheet with each font in its place.
fn style_with_fonts() -> String {
    let mut style = String::from_utf8_lossy(assets::bytes("style.css")).into_owned();
    for asset in assets::ASSETS.iter().filter(|asset| asset.path.ends_with(".woff2")) {
        let font = base64::engine::general_purpose::STANDARD.encode(asset.bytes);
        let data = format!("url(data:font/woff2;base64,{font})");
        style = style.replace(&format!("url({})", asset.path), &data);
    }
    style
}
