//! The parts pages are set from. Functions from values to markup; they decide no number.

pub(crate) mod gates;
pub(crate) mod icon;
pub(crate) mod plan_parts;
pub(crate) mod shell;
pub(crate) mod steps;
pub(crate) mod twin;

use app::show::Figure;
use maud::{Markup, html};

/// A number with its unit: the one way a number gets onto a page.
pub(crate) fn quantity(figure: &Figure) -> Markup {
    html! {
        span.n { (figure.number) @if !figure.unit.is_empty() { "\u{202f}" (figure.unit) } }
    }
}

/// A big number with a small unit.
pub(crate) fn big(figure: &Figure) -> Markup {
    html! { b { (figure.number) small { " " (figure.unit) } } }
}

/// A sentence that `app` wrote; its figures are set as figures.
pub(crate) fn sentence(text: &str) -> Markup {
    html! {
        @for (figure, piece) in pieces(text) {
            @if figure { span.n { (piece) } } @else { (piece) }
        }
    }
}

/// Parts a sentence into words and figures; a figure is a number with what is tied to it by a
/// narrow no-break space, or a clock time.
fn pieces(text: &str) -> Vec<(bool, &str)> {
    let mut pieces = Vec::new();
    let mut plain_from = 0;
    let mut at = 0;
    while at < text.len() {
        let rest = &text[at..];
        let word_end = rest.find([' ', '\n', '(', ')']).map_or(text.len(), |end| at + end);
        let word = &text[at..word_end];
        let starts = word.starts_with(|c: char| c.is_ascii_digit() || c == '\u{2212}');
        if starts {
            let bare = word.trim_end_matches([',', '.', ';', ':', '?', '!']);
            if plain_from < at {
                pieces.push((false, &text[plain_from..at]));
            }
            pieces.push((true, bare));
            plain_from = at + bare.len();
        }
        at = word_end + text[word_end..].chars().next().map_or(0, char::len_utf8);
    }
    if plain_from < text.len() {
        pieces.push((false, &text[plain_from..]));
    }
    pieces
}

/// Label and value, one under another.
pub(crate) fn facts(rows: &[(String, Markup)], class: &str) -> Markup {
    html! {
        dl.(class) {
            @for (label, value) in rows { div { dt { (label) } dd { (value) } } }
        }
    }
}

/// A caution: the triangle and its words.
pub(crate) fn caution(words: &Markup) -> Markup {
    html! { div.caution { (icon::caution()) div { (words) } } }
}

/// A drawing that scrolls sideways where the page is narrow, reachable by keyboard.
pub(crate) fn scrolling(class: &str, name: &str, drawing: &Markup) -> Markup {
    html! {
        div.scroll-x.(class) tabindex="0" role="group" aria-label=(name) { (drawing) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_in_a_sentence_are_found_with_their_units_and_without_the_full_stop() {
        let text = "Stir in 4.90\u{202f}kg, by 10:05 (2\u{202f}min).";
        let figures: Vec<&str> = pieces(text)
            .into_iter()
            .filter(|(figure, _)| *figure)
            .map(|(_, piece)| piece)
            .collect();
        assert_eq!(figures, ["4.90\u{202f}kg", "10:05", "2\u{202f}min"]);
        let together: String = pieces(text).into_iter().map(|(_, piece)| piece).collect();
        assert_eq!(together, text);
        for odd in ["", " ", "5", "é 5\u{202f}°C é", "((", "−5"] {
            let together: String = pieces(odd).into_iter().map(|(_, piece)| piece).collect();
            assert_eq!(together, odd);
        }
    }
}
