//! The reader's units as a drawing writes them: dimensions, volumes, temperatures, clock times.
//! It deliberately parses nothing: a view comes in millimetres, litres, °C and minutes.

use crate::pen::sane;

/// Millimetres in an inch, exact by definition (NIST SP 811).
pub(crate) const MM_PER_INCH: f64 = 25.4;
/// Litres in a US gallon, exact by definition: 231 cubic inches (NIST SP 811).
pub(crate) const L_PER_GALLON: f64 = 3.785_411_784;

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

impl Units {
    /// A dimension: whole millimetres without a unit, or inches to a sixteenth.
    pub(crate) fn length(self, mm: f64) -> String {
        let mm = sane(mm, -1e6, 1e6, 0.0);
        match self {
            Self::Metric => format!("{}", mm.round() as i64),
            Self::Us => inches(mm),
        }
    }

    /// A volume as value and unit: to 0.1 L, or to 0.05 gal.
    pub(crate) fn volume(self, litres: f64) -> (String, &'static str) {
        let litres = sane(litres, -1e6, 1e6, 0.0);
        match self {
            Self::Metric => (format!("{litres:.1}"), "L"),
            Self::Us => (format!("{:.2}", (litres / L_PER_GALLON * 20.0).round() / 20.0), "gal"),
        }
    }

    /// A volume in words, for the sentence of a drawing.
    pub(crate) fn volume_said(self, litres: f64) -> String {
        let unit = if self == Self::Metric { "litres" } else { "gallons" };
        format!("{} {unit}", self.volume(litres).0)
    }

    /// A temperature on this scale, as a number.
    pub(crate) fn degrees(self, temp_c: f64) -> f64 {
        match self {
            Self::Metric => temp_c,
            Self::Us => temp_c * 1.8 + 32.0,
        }
    }

    /// A temperature on this scale back in °C.
    pub(crate) fn celsius(self, degrees: f64) -> f64 {
        match self {
            Self::Metric => degrees,
            Self::Us => (degrees - 32.0) / 1.8,
        }
    }

    /// A temperature as value and unit.
    pub(crate) fn temperature(self, temp_c: f64) -> (String, &'static str) {
        (format!("{:.1}", self.degrees(sane(temp_c, -1e4, 1e4, 0.0))), self.degree_sign())
    }

    /// The sign of the scale.
    pub(crate) fn degree_sign(self) -> &'static str {
        if self == Self::Metric { "°C" } else { "°F" }
    }
}

/// Inches to a sixteenth, as a tape measure says it: `15 3/4 in`.
fn inches(mm: f64) -> String {
    let sixteenths = (mm / MM_PER_INCH * 16.0).round() as i64;
    let sign = if sixteenths < 0 { "−" } else { "" };
    let (whole, part) = (sixteenths.abs() / 16, sixteenths.abs() % 16);
    let part = match part {
        0 => return format!("{sign}{whole} in"),
        4 => "¼".to_owned(),
        8 => "½".to_owned(),
        12 => "¾".to_owned(),
        p if p % 2 == 0 => format!("{}/8", p / 2),
        p => format!("{p}/16"),
    };
    if whole == 0 { format!("{sign}{part} in") } else { format!("{sign}{whole} {part} in") }
}

impl Clock {
    /// A clock time from minutes after midnight; days run on.
    pub(crate) fn time(self, minutes: f64) -> String {
        let m = (sane(minutes, -1e7, 1e7, 0.0).round() as i64).rem_euclid(24 * 60);
        let (h, min) = (m / 60, m % 60);
        match self {
            Self::H24 => format!("{h:02}:{min:02}"),
            Self::H12 => {
                let half = if h < 12 { "AM" } else { "PM" };
                let h = if h % 12 == 0 { 12 } else { h % 12 };
                format!("{h}:{min:02} {half}")
            }
        }
    }

    /// The short form of a full hour on an axis.
    pub(crate) fn hour(self, minutes: f64) -> String {
        let time = self.time(minutes);
        match (self, time.as_str()) {
            (Self::H12, "12:00 PM") => "noon".to_owned(),
            (Self::H12, other) => other.replacen(":00", "", 1),
            (Self::H24, _) => time,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_length_reads_like_a_tape() {
        let us = |mm| Units::Us.length(mm);
        assert_eq!(Units::Metric.length(399.6), "400");
        assert_eq!(us(400.0), "15 ¾ in"); // 15.748 in
        assert_eq!(us(304.8), "12 in");
        assert_eq!(us(3.175), "1/8 in");
        assert_eq!(us(1.5875), "1/16 in");
        assert_eq!(us(-178.0), "−7 in");
        assert_eq!(Units::Metric.length(f64::NAN), "0");
    }

    #[test]
    fn a_clock_runs_past_midnight_and_noon() {
        assert_eq!(Clock::H24.time(24.0 * 60.0 + 5.0), "00:05");
        assert_eq!(Clock::H12.time(14.0 * 60.0 + 27.0), "2:27 PM");
        assert_eq!(Clock::H12.time(0.0), "12:00 AM");
        assert_eq!(Clock::H12.hour(12.0 * 60.0), "noon");
        assert_eq!(Clock::H12.hour(9.0 * 60.0), "9 AM");
        assert_eq!(Clock::H24.time(f64::INFINITY), "00:00");
    }

    #[test]
    fn values_stand_in_the_readers_units() {
        assert_eq!(Units::Us.volume(L_PER_GALLON * 5.55), ("5.55".to_owned(), "gal"));
        assert_eq!(Units::Us.temperature(100.0), ("212.0".to_owned(), "°F"));
        assert_eq!(Units::Metric.volume_said(21.04), "21.0 litres");
    }
}
