//! A gate: the tolerance of a wanted value as two posts, the expected value as a pencil line.
//! It deliberately draws no hump and no chance: nothing here knows how sure the value is.

use maud::{Markup, html};

/// A wanted value with its tolerance, and what is expected.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct GateView {
    /// Lower post.
    pub low: f64,
    /// Upper post.
    pub high: f64,
    /// What is expected, in the same unit; none when nothing is solved yet.
    pub expected: Option<f64>,
    /// Written at the lower post, with the digits of the quantity.
    pub low_text: String,
    /// Written at the upper post.
    pub high_text: String,
    /// Sentence for those who don't see the drawing.
    pub label: String,
}

/// Draws the gate.
#[must_use]
pub fn gate(view: &GateView) -> Markup {
    html! { svg class="gate" viewBox="0 0 150 58" role="img" aria-label=(view.label) {} }
}
