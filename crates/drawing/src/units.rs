//! How a drawing letters dimensions, volumes, temperatures and clock times, in the reader's units.
//! It deliberately parses nothing and holds no factor: those are in `quantity`.

use crate::pen::sane;
use quantity::{Duration, Length, NARROW, Temperature, Volume, write, write_clock};

/// The system of units a drawing is lettered in.
pub use quantity::UnitSystem as Units;

/// How a clock time is written.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Clock {
    /// `14:27`.
    #[default]
    H24,
    /// `2:27 PM`.
    H12,
}

/// A value with its unit, lettered apart.
pub(crate) type Figure = (String, String);

/// Splits what `quantity` writes at the thin space before the unit.
fn figure(text: &str) -> Figure {
    let (value, unit) = text.rsplit_once(NARROW).unwrap_or((text, ""));
    (value.to_owned(), unit.to_owned())
}

/// A dimension: whole millimetres without a unit, or inches to a sixteenth.
pub(crate) fn length(mm: f64, units: Units) -> String {
    let mm = sane(mm, -1e6, 1e6, 0.0);
    if units == Units::Metric {
        return crate::pen::digits(mm, 0);
    }
    let mut text = write(Length::from_millimetres(mm), units);
    for (written, sign) in [("1/4", "¼"), ("1/2", "½"), ("3/4", "¾")] {
        if text.starts_with(written) {
            text = text.replacen(written, sign, 1);
        }
        text = text.replacen(&format!("{NARROW}{written}"), &format!(" {sign}"), 1);
    }
    text
}

/// A volume, to the step it is shown in.
pub(crate) fn volume(litres: f64, units: Units) -> Figure {
    figure(&write(Volume::from_litres(sane(litres, -1e6, 1e6, 0.0)), units))
}

/// A volume in words, for the sentence of a drawing.
pub(crate) fn volume_said(litres: f64, units: Units) -> String {
    let (value, unit) = volume(litres, units);
    let unit = match unit.as_str() {
        "L" => "litres",
        "mL" => "millilitres",
        "gal" => "gallons",
        "qt" => "quarts",
        other => other,
    };
    format!("{value} {unit}")
}

/// A temperature, to the step it is shown in.
pub(crate) fn temperature(temp_c: f64, units: Units) -> Figure {
    figure(&write(Temperature::from_celsius(sane(temp_c, -273.0, 1e4, 0.0)), units))
}

/// A temperature on the reader's scale, as a number.
pub(crate) fn degrees(temp_c: f64, units: Units) -> f64 {
    match units {
        Units::Metric => temp_c,
        Units::Us => Temperature::from_celsius(temp_c).fahrenheit(),
    }
}

/// A number on the reader's scale back in °C.
pub(crate) fn celsius(degrees: f64, units: Units) -> f64 {
    match units {
        Units::Metric => degrees,
        Units::Us => Temperature::from_fahrenheit(degrees).celsius(),
    }
}

/// The sign of the reader's scale.
pub(crate) fn degree_sign(units: Units) -> &'static str {
    if units == Units::Metric { "°C" } else { "°F" }
}

/// Millimetres in an inch.
pub(crate) fn mm_per_inch() -> f64 {
    Length::from_inches(1.0).millimetres()
}

/// Litres in a US gallon.
pub(crate) fn litres_per_gallon() -> f64 {
    Volume::from_gallons(1.0).litres()
}

impl Clock {
    /// A clock time from minutes after midnight; days run on.
    pub(crate) fn time(self, minutes: f64) -> String {
        let clock = match self {
            Self::H24 => quantity::Clock::Hours24,
            Self::H12 => quantity::Clock::Hours12,
        };
        write_clock(Duration::from_minutes(sane(minutes, -1e7, 1e7, 0.0)), clock)
    }

    /// The short form of a time on an axis: `9 AM`, `noon`.
    pub(crate) fn hour(self, minutes: f64) -> String {
        let time = self.time(minutes);
        match self {
            Self::H24 => time,
            Self::H12 if time.starts_with("12:00") && time.ends_with("PM") => "noon".to_owned(),
            Self::H12 => time.replacen(":00", "", 1),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_length_reads_like_a_tape() {
        let us = |mm| length(mm, Units::Us).replace(NARROW, " ");
        assert_eq!(length(399.6, Units::Metric), "400");
        assert_eq!(us(400.0), "15 ¾ in"); // 15.748 in
        assert_eq!(us(298.0), "11 ¾ in"); // 11.732 in
        assert_eq!(us(304.8), "12 in");
        assert_eq!(us(360.0), "14 3/16 in"); // 14.173 in
        assert_eq!(us(12.7), "½ in");
        assert_eq!(us(-178.0), "−7 in");
        assert_eq!(length(f64::NAN, Units::Metric), "0");
    }

    #[test]
    fn an_axis_says_noon_and_leaves_the_minutes_out() {
        assert_eq!(Clock::H12.hour(12.0 * 60.0), "noon");
        assert_eq!(Clock::H12.hour(9.0 * 60.0).replace(NARROW, " "), "9 AM");
        assert_eq!(Clock::H12.hour(24.0 * 60.0).replace(NARROW, " "), "12 AM");
        assert_eq!(Clock::H24.hour(24.0 * 60.0 + 30.0), "00:30");
        assert_eq!(Clock::H24.time(f64::INFINITY), "00:00");
    }

    #[test]
    fn values_stand_in_the_readers_units() {
        let pair = |a: &str, b: &str| (a.to_owned(), b.to_owned());
        assert_eq!(volume(litres_per_gallon() * 5.55, Units::Us), pair("5.55", "gal"));
        assert_eq!(temperature(100.0, Units::Us), pair("212.0", "°F"));
        assert_eq!(volume_said(21.04, Units::Metric), "21.0 litres");
    }
}
