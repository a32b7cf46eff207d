//! The plan's numbers as the reader writes them: one function per quantity, digits as the tables of
//! the trade ask. It rounds nothing that is computed with.

use crate::output::Expected;
use quantity::{
    Bitterness, Colour, Energy, Extract, Length, Mass, MassFlow, NARROW, Quantity, Share,
    Temperature, UnitSystem, Volume, VolumeFlow,
};

/// A number and its unit, ready to be set down.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Figure {
    /// The number, with the digits that are known.
    pub number: String,
    /// Its unit; empty where there is none.
    pub unit: String,
}

impl Figure {
    /// Number and unit as one word that does not break.
    #[must_use]
    pub fn text(&self) -> String {
        if self.unit.is_empty() {
            self.number.clone()
        } else {
            format!("{}\u{202f}{}", self.number, self.unit)
        }
    }

    /// Parts what `quantity` wrote: the last word is the unit when it is no number.
    pub(crate) fn split(text: &str) -> Self {
        match text.rsplit_once(NARROW) {
            Some((number, unit)) if !unit.starts_with(|first: char| first.is_ascii_digit()) => {
                Self { number: number.to_owned(), unit: unit.to_owned() }
            }
            _ => Self { number: text.to_owned(), unit: String::new() },
        }
    }

    fn of(number: String, unit: &str) -> Self {
        Self { number: number.replace('-', "\u{2212}"), unit: unit.to_owned() }
    }

    /// A number with as many decimals, and a unit.
    #[must_use]
    pub fn plain(value: f64, decimals: usize, unit: &str) -> Self {
        Self::of(fixed(value, decimals), unit)
    }
}

impl std::fmt::Display for Figure {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.text())
    }
}

/// A number with as many decimals, and never a minus before a zero.
fn fixed(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    match text.strip_prefix('-') {
        Some(rest) if rest.bytes().all(|byte| matches!(byte, b'0' | b'.')) => rest.to_owned(),
        _ => text,
    }
}

/// One of the five targets, or another quantity a wish can be about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Wish {
    /// Volume in the fermenter.
    Volume,
    /// Extract of the wort.
    Gravity,
    /// Bitterness of the beer.
    Bitterness,
    /// Limit of apparent attenuation.
    Fermentability,
    /// Colour of the beer.
    Colour,
}

impl Wish {
    /// In the order of the pages.
    pub const ALL: [Self; 5] =
        [Self::Volume, Self::Gravity, Self::Bitterness, Self::Fermentability, Self::Colour];

    /// Its name; the colour is spelt as the reader of the units spells it.
    #[must_use]
    pub fn name(self, units: UnitSystem) -> &'static str {
        match self {
            Self::Volume => "Volume",
            Self::Gravity => "Gravity",
            Self::Bitterness => "Bitterness",
            Self::Fermentability => "Fermentability",
            Self::Colour if units == UnitSystem::Us => "Color",
            Self::Colour => "Colour",
        }
    }

    /// A value of it, given in the unit of the plan.
    #[must_use]
    pub fn figure(self, value: f64, units: UnitSystem) -> Figure {
        match self {
            Self::Volume => volume(value, units),
            Self::Gravity => gravity(value, units),
            Self::Bitterness => written(Bitterness::from_ibu(value), units),
            Self::Fermentability => percent(value),
            Self::Colour => colour(value, units),
        }
    }

    /// The half width of what counts as hit around `wanted`, in the reader's unit.
    #[must_use]
    pub fn tolerance(self, wanted: f64, tolerance: f64, units: UnitSystem) -> Figure {
        let us = units == UnitSystem::Us;
        match self {
            Self::Gravity if us => {
                // The scale is bent a little: half of the width of the opening.
                let at = |plato: f64| Extract::from_plato(plato.max(0.0)).specific_gravity();
                let half = (at(wanted + tolerance) - at(wanted - tolerance)) / 2.0;
                Figure::plain(half, 4, "")
            }
            Self::Colour if us => colour(tolerance, units),
            // In the unit of the wanted value, however small it is.
            Self::Volume if us => Figure::plain(Volume::from_litres(tolerance).gallons(), 2, "gal"),
            Self::Volume => Figure::plain(tolerance, 1, "L"),
            _ => self.figure(tolerance, units),
        }
    }
}

/// A volume, given in L.
#[must_use]
pub fn volume(litres: f64, units: UnitSystem) -> Figure {
    written(Volume::from_litres(litres), units)
}

/// A temperature, given in °C.
#[must_use]
pub fn temperature(celsius: f64, units: UnitSystem) -> Figure {
    written(Temperature::from_celsius(celsius), units)
}

/// A strength, given in °P.
#[must_use]
pub fn gravity(plato: f64, units: UnitSystem) -> Figure {
    written(Extract::from_plato(plato), units)
}

/// A mass of malt, given in kg: in one unit down the column, whatever its size.
#[must_use]
pub fn malt(kg: f64, units: UnitSystem) -> Figure {
    match units {
        UnitSystem::Metric => Figure::plain(kg, 2, "kg"),
        UnitSystem::Us => Figure::plain(Mass::from_kilograms(kg).pounds(), 2, "lb"),
    }
}

/// A mass of a pot, of gas, given in kg.
#[must_use]
pub fn mass(kg: f64, units: UnitSystem) -> Figure {
    written(Mass::from_kilograms(kg), units)
}

/// A mass of hops or salts, given in g.
#[must_use]
pub fn hops(grams: f64, units: UnitSystem) -> Figure {
    let small = (units == UnitSystem::Us).then(|| crate::respell::small_ounces(grams * 1e-3));
    let said = small.flatten();
    let said = said.unwrap_or_else(|| quantity::write_hops(Mass::from_grams(grams), units));
    Figure::split(&said)
}

/// A colour, given in EBC.
#[must_use]
pub fn colour(ebc: f64, units: UnitSystem) -> Figure {
    written(Colour::from_ebc(ebc), units)
}

/// A part of a hundred.
#[must_use]
pub fn percent(value: f64) -> Figure {
    written(Share::from_percent(value), UnitSystem::Metric)
}

/// A height or a width in a pot, given in mm: whole millimetres, or inches to a sixteenth.
#[must_use]
pub fn length(mm: f64, units: UnitSystem) -> Figure {
    written(Length::from_millimetres(mm), units)
}

/// A flow of liquid, given in L/min.
#[must_use]
pub fn flow(l_min: f64, units: UnitSystem) -> Figure {
    written(VolumeFlow::from_litres_per_minute(l_min), units)
}

/// A heat, given in J.
#[must_use]
pub fn heat(joules: f64, units: UnitSystem) -> Figure {
    written(Energy::from_joules(joules), units)
}

/// Steam or water lost, given in kg/h.
#[must_use]
pub fn boil_off(kg_h: f64, units: UnitSystem) -> Figure {
    written(MassFlow::from_kilograms_per_hour(kg_h), units)
}

fn written<Q: Quantity>(value: Q, units: UnitSystem) -> Figure {
    Figure::split(&crate::in_units(&quantity::write(value, units), units))
}

/// What an instrument is expected to show, in the reader's unit.
#[must_use]
pub fn expected(reading: &Expected, units: UnitSystem) -> Figure {
    match reading.quantity.as_str() {
        "temperature" => temperature(reading.value, units),
        "dip" => length(reading.value, units),
        "volume" => volume(reading.value, units),
        "gravity" => gravity(reading.value, units),
        "refraction" => Figure::plain(reading.value, 1, "°Bx"),
        "ph" => Figure::plain(reading.value, 2, "pH"),
        "mass" => mass(reading.value, units),
        "time" => minutes(reading.value),
        _ => Figure::plain(reading.value, 1, &reading.unit),
    }
}

/// Minutes to read off a watch: `3:14 min`, or whole ones from ten on.
fn minutes(min: f64) -> Figure {
    if min >= 10.0 {
        return Figure::plain(min, 0, "min");
    }
    let seconds = (min.max(0.0) * 60.0).round();
    Figure::of(format!("{:.0}:{:02}", (seconds / 60.0).floor(), seconds % 60.0), "min")
}

/// The unit an instrument of that kind is read in; empty when it is only a tick.
#[must_use]
pub fn reading_unit(quantity: &str, units: UnitSystem) -> &'static str {
    let us = units == UnitSystem::Us;
    match quantity {
        "temperature" if us => "°F",
        "temperature" => "°C",
        "dip" if us => "in",
        "dip" => "mm",
        "volume" if us => "gal",
        "volume" => "L",
        "gravity" if us => "SG",
        "gravity" => "°P",
        "refraction" => "°Bx",
        "ph" => "pH",
        "mass" if us => "lb",
        "mass" => "kg",
        "time" => "min",
        _ => "",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn number_and_unit_are_parted_and_a_specific_gravity_has_no_unit() {
        assert_eq!(volume(21.04, UnitSystem::Metric), Figure::plain(21.0, 1, "L"));
        assert_eq!(length(400.05, UnitSystem::Us).unit, "in");
        assert_eq!(gravity(12.6, UnitSystem::Us).unit, "");
        assert_eq!(Figure::split("12\u{202f}345").unit, "");
    }

    #[test]
    fn a_number_that_rounds_to_nothing_has_no_minus_and_others_a_real_one() {
        assert_eq!(Figure::plain(-0.04, 1, "L").text(), "0.0\u{202f}L");
        assert_eq!(Figure::plain(-0.06, 1, "K").number, "\u{2212}0.1");
    }

    #[test]
    fn a_tolerance_of_gravity_is_a_difference_of_specific_gravity_without_unit() {
        // 12.1 °P and 13.1 °P are 1.0488 and 1.0530 (sugar solution tables): half is 0.0021.
        let half = Wish::Gravity.tolerance(12.6, 0.5, UnitSystem::Us);
        assert_eq!(half, Figure { number: "0.0021".into(), unit: String::new() });
    }

    #[test]
    fn a_tolerance_of_volume_keeps_the_unit_of_the_wish() {
        // 1 L is 0.264 US gallons, not 1.06 quarts.
        assert_eq!(Wish::Volume.tolerance(21.0, 1.0, UnitSystem::Us).text(), "0.26\u{202f}gal");
        assert_eq!(Wish::Volume.tolerance(21.0, 0.5, UnitSystem::Metric).text(), "0.5\u{202f}L");
    }

    #[test]
    fn a_little_salt_keeps_two_figures_in_ounces() {
        // 2.0 g / 28.3495 g/oz.
        assert_eq!(hops(2.0, UnitSystem::Us).text(), "0.071\u{202f}oz");
        assert_eq!(hops(46.0, UnitSystem::Us).text(), "1.60\u{202f}oz");
    }

    #[test]
    fn a_short_time_shows_seconds() {
        assert_eq!(minutes(3.2333).number, "3:14");
        assert_eq!(minutes(11.2).text(), "11\u{202f}min");
    }
}
