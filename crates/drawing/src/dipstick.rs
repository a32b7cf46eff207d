//! The dipstick: a full-size scale of one vessel, and its small strip for the sheet of the day.
//! It deliberately computes no volume: each mark comes with its height.

use crate::units::Units;
use maud::{Markup, html};

/// A mark of the scale, or a note beside it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ScaleMark {
    /// Height above the inside of the base, in mm.
    pub height_mm: f64,
    /// What is written: "5", or "pre-boil, 27.9 L".
    pub label: String,
}

/// The scale of one vessel.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct DipstickView {
    /// Name of the vessel.
    pub vessel: String,
    /// What stands at the end of the stick.
    pub title: String,
    /// Millimetres or inches beside the volumes.
    pub units: Units,
    /// Length of the scale in mm: the inside height of the vessel.
    pub height_mm: f64,
    /// Written volumes.
    pub marks: Vec<ScaleMark>,
    /// Heights of the fine volume marks between them, in mm.
    pub fine_mm: Vec<f64>,
    /// Levels of the day, said beside the scale.
    pub notes: Vec<ScaleMark>,
    /// Length of the line to check the printer with, in mm; 100.
    pub check_line_mm: f64,
}

/// The full-size pieces, each at most 248 mm long, for one landscape page each.
#[must_use]
pub fn dipstick(view: &DipstickView) -> Vec<Markup> {
    vec![html! { svg class="mm" viewBox="0 0 248 24" role="img" aria-label=(view.vessel) {} }]
}

/// The line to check the printer with.
#[must_use]
pub fn check_line(view: &DipstickView) -> Markup {
    html! { svg class="mm" viewBox="0 0 120 8" role="img" aria-label=(view.vessel) {} }
}

/// The small strip of the sheet: volumes above, dips below.
#[must_use]
pub fn scale_strip(view: &DipstickView) -> Markup {
    html! { svg viewBox="-8 -4 670 56" role="img" aria-label=(view.vessel) {} }
}
