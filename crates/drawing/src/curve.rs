//! The temperature of the mash over its rests. It deliberately shows no doubt until there is one.

use crate::lanes::SpanView;
use crate::units::Units;
use maud::{Markup, html};

/// A temperature over minutes, with the rests below it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct CurveView {
    /// Start of every id in the drawing; letters only.
    pub id: String,
    /// Sentence for those who don't see the drawing.
    pub label: String,
    /// Units of the axis.
    pub units: Units,
    /// Temperature in °C over minutes; a value that is not finite is a gap.
    pub temp_c: Vec<(f64, f64)>,
    /// The rests.
    pub rests: Vec<SpanView>,
}

/// Draws the curve.
#[must_use]
pub fn curve(view: &CurveView) -> Markup {
    html! { svg viewBox="30 24 540 172" role="img" aria-label=(view.label) {} }
}
