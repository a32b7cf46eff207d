//! The sheet around every page: head with the five places, title block, foot.

use crate::answer::Desk;
use crate::assets::address;
use crate::components::icon;
use app::UnitSystem;
use maud::{DOCTYPE, Markup, html};

/// The five places and where they lie.
const PLACES: [(&str, &str); 5] = [
    ("Brewhouse", "/brewhouse"),
    ("Brew", "/brew"),
    ("Day", "/day"),
    ("Ledger", "/ledger"),
    ("Cellar", "/cellar"),
];

/// What stands around a page.
pub(crate) struct Shell<'a> {
    /// Title of the tab.
    pub(crate) title: &'a str,
    /// The place it belongs to; empty for none.
    pub(crate) place: &'a str,
    /// Pages of this place: name and address.
    pub(crate) within: &'a [(&'a str, String)],
    /// Title block: label and value.
    pub(crate) block: &'a [(&'a str, String)],
    /// Units and address, for the foot; none on an error page.
    pub(crate) desk: Option<&'a Desk>,
}

/// A whole page.
pub(crate) fn page(shell: &Shell<'_>, main: Markup) -> Markup {
    html! {
        (DOCTYPE)
        html lang="en" {
            (head(shell.title))
            body {
                a.skip href="#main" { "To the sheet" }
                header.head {
                    a.word href="/" { (icon::word_mark()) "Underback" }
                    nav.places aria-label="Places" {
                        @for (name, to) in PLACES {
                            a href=(to) aria-current=[(name == shell.place).then_some("page")] {
                                (name)
                            }
                        }
                    }
                    div.block {
                        @for (label, value) in shell.block {
                            div { span { (label) } b { (value) } }
                        }
                    }
                    button.lamp type="button" aria-label="Change between paper and slate" {
                        (icon::lamp())
                    }
                }
                @if !shell.within.is_empty() { (within(shell)) }
                main #main { (main) }
                (foot(shell.desk))
            }
        }
    }
}

/// The head of the document: only files of our own.
pub(crate) fn head(title: &str) -> Markup {
    html! {
        head {
            meta charset="utf-8";
            meta name="viewport" content="width=device-width,initial-scale=1";
            title { (title) " · Underback" }
            link rel="stylesheet" href=(address("style.css"));
            link rel="icon" type="image/svg+xml" href=(address("mark.svg"));
            script src=(address("lamp.js")) {}
        }
    }
}

fn within(shell: &Shell<'_>) -> Markup {
    let here = shell.desk.map_or("", |desk| desk.path.as_str());
    let here = if here == "/" { "/day" } else { here };
    html! {
        nav.within aria-label=(format!("Within {}", shell.place)) {
            @for (name, to) in shell.within {
                a href=(to) aria-current=[(to == here).then_some("page")] { (name) }
            }
        }
    }
}

fn foot(desk: Option<&Desk>) -> Markup {
    html! {
        footer.below {
            p { (app::sheet::OVER_EVERYTHING) }
            @if let Some(desk) = desk { (units_form(desk)) }
        }
    }
}

/// The switch of units: one press, and back to the same page.
fn units_form(desk: &Desk) -> Markup {
    let button = |value: &str, units: UnitSystem, words: &str| {
        html! {
            button type="submit" name="units" value=(value)
                aria-pressed=(if desk.units == units { "true" } else { "false" }) { (words) }
        }
    };
    html! {
        form.no-print method="post" action="/units" {
            input type="hidden" name="back" value=(desk.path);
            span.pair role="group" aria-label="Units" {
                (button("metric", UnitSystem::Metric, "L, °C, kg"))
                (button("us", UnitSystem::Us, "gal, °F, lb"))
            }
        }
    }
}
