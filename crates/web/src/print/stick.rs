//! The dipstick on landscape leaves, at full size.

use app::picture::Stick;
use maud::{Markup, html};

/// All pieces: as many on a leaf as fit below one another.
pub(crate) fn leaves(stick: &Stick) -> Markup {
    let pieces = drawing::dipstick(&stick.view);
    let count = pieces.len();
    html! {
        @for (leaf, pair) in pieces.chunks(2).enumerate() {
            section.leaf.across aria-label=(format!("Dipstick, leaf {}", leaf + 1)) {
                (head(stick))
                p.ft {
                    "Volumes above, dips below, at the temperature of the liquid. First measure "
                    "this line: it must be exactly "
                    (if stick.view.units == drawing::Units::Us { "3 15/16 in" }
                        else { "100 mm" })
                    " long. " (drawing::check_line(&stick.view))
                }
                @for (index, piece) in pair.iter().enumerate() {
                    (piece)
                    p.ft { (words(2 * leaf + index, count)) }
                }
            }
        }
    }
}

fn head(stick: &Stick) -> Markup {
    html! {
        header.sh {
            b.wd { "Underback" }
            div { span { "Dipstick" } b { (stick.vessel) ", " (stick.size) } }
            div { span { "Brewhouse" } b { (stick.brewhouse) } }
            @if let Some(proved) = &stick.proved {
                div { span { "Filled to marks" } b.n { (proved) } }
            } @else {
                div { span { "From its dimensions" } b { "not filled to marks yet" } }
            }
        }
    }
}

fn words(index: usize, count: usize) -> String {
    let first = "Cut it off exactly at 0: that end stands on the bottom of the pot.";
    let next = "Lay its first figure on the same figure of the piece before and glue.";
    let end = "Cover with clear film, or scratch the marks into a steel strip. Paper does not go \
        into the wort.";
    match (index, index + 1 == count) {
        (0, true) => format!("{first} {end}"),
        (0, false) => format!("First piece. {first}"),
        (index, true) => format!("Piece {}. {next} {end}", index + 1),
        (index, false) => format!("Piece {}. {next}", index + 1),
    }
}
