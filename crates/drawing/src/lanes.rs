//! The lanes of the day: per vessel a lane with its volume, temperature, spans and marks, and
//! what is poured from lane to lane. It deliberately knows no plan: it draws series of numbers.

use crate::units::{Clock, Units};
use crate::view::Substance;
use maud::{Markup, html};

/// A stretch of time with a word: a rest, the boil.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SpanView {
    /// Begin, in minutes of the drawing.
    pub from_min: f64,
    /// End, in minutes of the drawing.
    pub to_min: f64,
    /// What it says: "63°, 35 min".
    pub label: String,
}

/// A moment with a word: a hop addition, pitching.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct MarkView {
    /// When, in minutes of the drawing.
    pub t_min: f64,
    /// What it says: "22 g".
    pub label: String,
}

/// One substance in a vessel over a stretch of time.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct FillView {
    /// What it is.
    pub substance: Substance,
    /// Volume in litres over minutes.
    pub volume_l: Vec<(f64, f64)>,
}

/// One vessel over the day.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct LaneView {
    /// Name of the vessel.
    pub name: String,
    /// A word below the name.
    pub caption: String,
    /// Volume at which the lane is full, in litres.
    pub capacity_l: f64,
    /// What stands in it over the day, one entry per substance.
    pub fills: Vec<FillView>,
    /// Temperature in °C over minutes; a value that is not finite is a gap.
    pub temp_c: Vec<(f64, f64)>,
    /// Lower and upper end of the temperature axis in °C; found from the line when left out.
    pub axis_c: Option<(f64, f64)>,
    /// Rests, boil.
    pub spans: Vec<SpanView>,
    /// Hop additions and other moments.
    pub marks: Vec<MarkView>,
}

/// Liquid going from one lane down to another, one falling line per litre or gallon.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PourView {
    /// Index of the lane it leaves.
    pub from_lane: usize,
    /// Index of the lane it reaches.
    pub to_lane: usize,
    /// Begin in minutes.
    pub start_min: f64,
    /// End in minutes.
    pub end_min: f64,
    /// How much, in litres.
    pub litres: f64,
    /// What is written beside it: "15.0 L".
    pub label: String,
    /// What it is.
    pub substance: Substance,
}

/// The lanes of one day, all of it expected (pencil).
#[derive(Clone, Debug, Default, PartialEq)]
pub struct LanesView {
    /// Start of every id in the drawing; letters only.
    pub id: String,
    /// Sentence for those who don't see the drawing.
    pub label: String,
    /// A word in the upper left corner: the weekday.
    pub corner: String,
    /// Clock time of minute 0, in minutes after midnight.
    pub start_clock_min: f64,
    /// First minute drawn.
    pub from_min: f64,
    /// Last minute drawn.
    pub to_min: f64,
    /// Lanes from top to bottom.
    pub lanes: Vec<LaneView>,
    /// What goes between them.
    pub pours: Vec<PourView>,
    /// A flag on the time axis.
    pub flag: Option<MarkView>,
    /// How clock times are written.
    pub clock: Clock,
    /// Units of the axes and of the falling lines.
    pub units: Units,
}

/// Draws the lanes.
#[must_use]
pub fn lanes(view: &LanesView) -> Markup {
    html! { svg class="lanes" viewBox="0 0 984 60" role="img" aria-label=(view.label) {} }
}
