//! The reader's units as a drawing writes them: dimensions, volumes, temperatures, clock times.
//! It deliberately parses nothing: a view comes in millimetres, litres, °C and minutes.

/// The system of units a drawing is lettered in.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Units {
    /// Millimetres, litres, °C.
    #[default]
    Metric,
    /// Inches to a sixteenth, US gallons, °F.
    Us,
}

/// How a clock time is written.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Clock {
    /// `14:27`.
    #[default]
    H24,
    /// `2:27 PM`.
    H12,
}
