//! Sentences in the reader's units: every value with a unit of the other system is said anew.
//! It deliberately reads no meaning: a number without a unit stays as it is.

use quantity::{BTU_J, Dimension, NARROW, POUND_KG, TemperatureDifference, UnitSystem, units_of};

/// Units of the metric system a sentence may hold, longest first, with their kind.
const METRIC: [(&str, Kind); 23] = [
    ("W/cm²", Kind::Surface),
    ("L/min", Kind::Of(Dimension::VolumeFlow)),
    ("kg/h", Kind::Of(Dimension::MassFlow)),
    ("L/kg", Kind::Thickness),
    ("kJ/K", Kind::Heat),
    ("W/K", Kind::Walls),
    ("L/h", Kind::FlowPerHour),
    ("EBC", Kind::Of(Dimension::Colour)),
    ("bar", Kind::Of(Dimension::Pressure)),
    ("kWh", Kind::Stays),
    ("°C", Kind::Of(Dimension::Temperature)),
    ("°P", Kind::Of(Dimension::Extract)),
    ("mL", Kind::Of(Dimension::Volume)),
    ("kg", Kind::Of(Dimension::Mass)),
    ("mm", Kind::Of(Dimension::Length)),
    ("cm", Kind::Of(Dimension::Length)),
    ("kW", Kind::Of(Dimension::Power)),
    ("MJ", Kind::Of(Dimension::Energy)),
    ("L", Kind::Of(Dimension::Volume)),
    ("g", Kind::Of(Dimension::Mass)),
    ("m", Kind::Of(Dimension::Length)),
    ("W", Kind::Of(Dimension::Power)),
    ("K", Kind::Of(Dimension::TemperatureDifference)),
];

/// Units of the US system, likewise.
const US: [(&str, Kind); 12] = [
    ("qt/min", Kind::Of(Dimension::VolumeFlow)),
    ("kBtu/h", Kind::Of(Dimension::Power)),
    ("lb/h", Kind::Of(Dimension::MassFlow)),
    ("qt/lb", Kind::Thickness),
    ("gal", Kind::Of(Dimension::Volume)),
    ("SRM", Kind::Of(Dimension::Colour)),
    ("psi", Kind::Of(Dimension::Pressure)),
    ("°F", Kind::Of(Dimension::Temperature)),
    ("qt", Kind::Of(Dimension::Volume)),
    ("lb", Kind::Of(Dimension::Mass)),
    ("oz", Kind::Of(Dimension::Mass)),
    ("in", Kind::Of(Dimension::Length)),
];

#[derive(Clone, Copy)]
enum Kind {
    Of(Dimension),
    FlowPerHour,
    /// Liquor on a mass of grain.
    Thickness,
    /// Power on a surface.
    Surface,
    /// Heat through walls for each degree.
    Walls,
    /// Heat held for each degree.
    Heat,
    /// The same in both systems.
    Stays,
}

/// The US gallon, L.
const GALLON_L: f64 = 1e3 * quantity::GALLON_M3;

/// US customary words for what the rest of the world says otherwise.
const WORDS: [(&str, &str); 2] = [("colour", "color"), ("Colour", "Color")];

/// The sentence with every value in the reader's units.
///
/// ```
/// use app::{UnitSystem, in_units};
/// let us = in_units("stand at 80\u{202f}°C, 20 min", UnitSystem::Us);
/// assert_eq!(us, "stand at 176\u{202f}°F, 20 min");
/// ```
#[must_use]
pub fn in_units(text: &str, units: UnitSystem) -> String {
    let mut out = String::with_capacity(text.len() + 8);
    let mut at = 0;
    while at < text.len() {
        let rest = &text[at..];
        let open = !text[..at].ends_with(|c: char| c.is_alphanumeric() || c == '.' || c == '/');
        let starts = open && rest.starts_with(|c: char| c.is_ascii_digit());
        let said = starts
            .then(|| value(rest, &text[..at], units).or_else(|| bound(rest, &text[..at], units)));
        if let Some((said, length)) = said.flatten() {
            out.push_str(&said);
            at += length;
        } else {
            let step = rest.chars().next().map_or(1, char::len_utf8);
            out.push_str(&rest[..step]);
            at += step;
        }
    }
    if units == UnitSystem::Us {
        for (here, there) in WORDS {
            out = out.replace(here, there);
        }
    }
    out
}

/// A value at the start of `rest`, said in the reader's units, and how long it was.
fn value(rest: &str, before: &str, units: UnitSystem) -> Option<(String, usize)> {
    let (number, decimals, length) = number(rest)?;
    if let Some(more) = rest[length..].strip_prefix(" to ") {
        // The first of a span has the unit of the second.
        let (_, _, second) = self::number(more)?;
        let (kind, symbol, _) = unit(&more[second..], units)?;
        let said = say(kind, symbol, number, decimals, units, is_step(before, ""))?;
        let bare = said.rsplit_once(NARROW).map_or(said.as_str(), |(bare, _)| bare);
        return Some((bare.to_owned(), length));
    }
    let (kind, symbol, unit_length) = unit(&rest[length..], units)?;
    let after = &rest[length + unit_length..];
    let said = say(kind, symbol, number, decimals, units, is_step(before, after))?;
    Some((said, length + unit_length))
}

/// A bare number behind "above" has the unit of the heat on a surface said before it in the
/// same sentence, and is said in that unit: `7.1 W/cm² …; above 2.5 it scorches`.
fn bound(rest: &str, before: &str, units: UnitSystem) -> Option<(String, usize)> {
    let sentence = before.rsplit(". ").next().unwrap_or(before);
    if units != UnitSystem::Us || !sentence.ends_with(" above ") || !sentence.contains("W/cm²") {
        return None;
    }
    let (number, decimals, length) = number(rest)?;
    let symbol = METRIC.iter().find(|(_, kind)| matches!(kind, Kind::Surface))?.0;
    Some((say(Kind::Surface, symbol, number, decimals, units, false)?, length))
}

/// A number: digits with thin spaces between thousands, a decimal part, or a fraction of an inch.
fn number(text: &str) -> Option<(f64, usize, usize)> {
    let figures = |text: &str| text.bytes().take_while(u8::is_ascii_digit).count();
    let mut length = figures(text);
    let mut digits = text[..length].to_owned();
    while let Some(more) = text[length..].strip_prefix(NARROW) {
        if figures(more) != 3 || more[3..].starts_with('/') {
            break;
        }
        digits.push_str(&more[..3]);
        length += NARROW.len_utf8() + 3;
    }
    let mut decimals = 0;
    if let Some(more) = text[length..].strip_prefix('.') {
        decimals = figures(more);
        if decimals > 0 {
            digits.push_str(&text[length..=length + decimals]);
            length += 1 + decimals;
        }
    }
    let mut number: f64 = digits.parse().ok()?;
    if let Some(under) = text[length..].strip_prefix('/').filter(|more| figures(more) > 0) {
        let figures = figures(under);
        number /= under[..figures].parse::<f64>().ok().filter(|under| *under > 0.0)?;
        length += 1 + figures;
    } else if let Some(more) = text[length..].strip_prefix([NARROW, ' ']) {
        let over = figures(more);
        if let Some(under) = more[over..].strip_prefix('/').filter(|_| over > 0) {
            let (top, figures) = (more[..over].parse::<f64>().ok()?, figures(under));
            let under: f64 = under[..figures].parse().ok()?;
            if under > 0.0 {
                number += top / under;
                length = text.len() - more.len() + over + 1 + figures;
            }
        }
    }
    Some((number, decimals, length))
}

/// A unit of the other system behind a space. An inch needs the thin one: "in" is also a word.
fn unit(text: &str, units: UnitSystem) -> Option<(Kind, &'static str, usize)> {
    let space = text.chars().next().filter(|c| [' ', '\u{a0}', NARROW].contains(c))?;
    let rest = &text[space.len_utf8()..];
    let table: &[(&'static str, Kind)] = if units == UnitSystem::Us { &METRIC } else { &US };
    let ends = |symbol: &str| {
        let next = rest[symbol.len()..].chars().next();
        next.is_none_or(|c| !c.is_alphanumeric() && !['/', '²', '·'].contains(&c))
    };
    table
        .iter()
        .find(|(symbol, _)| rest.starts_with(symbol) && ends(symbol))
        .filter(|(symbol, _)| *symbol != "in" || space == NARROW)
        .map(|(symbol, kind)| (*kind, *symbol, space.len_utf8() + symbol.len()))
}

/// A temperature there is a difference: how fast it rises, or by how much.
fn is_step(before: &str, after: &str) -> bool {
    let sentence = before.rsplit(". ").next().unwrap_or(before);
    after.starts_with(" a minute")
        || before.trim_end().ends_with(" by")
        || sentence.contains(" a minute")
}

/// A value in the reader's unit.
fn say(
    kind: Kind,
    symbol: &str,
    number: f64,
    decimals: usize,
    units: UnitSystem,
    step: bool,
) -> Option<String> {
    let us = units == UnitSystem::Us;
    let with =
        |value: f64, decimals: usize, unit: &str| Some(format!("{value:.decimals$}{NARROW}{unit}"));
    let dimension = match kind {
        Kind::Stays => return None,
        // 1 L/kg = 0.4793 qt/lb, from the gallon of 3.785411784 L and the pound of 0.45359237 kg.
        Kind::Thickness if us => {
            return with(number * 4.0 / GALLON_L * POUND_KG, 2, "qt/lb");
        }
        Kind::Thickness => return with(number * GALLON_L / 4.0 / POUND_KG, 2, "L/kg"),
        Kind::Surface => return with(number * 6.451_6, 1, "W/in²"),
        Kind::Walls => {
            return with(number * 3600.0 / BTU_J / 1.8, 1, "Btu/h for 1\u{202f}°F");
        }
        Kind::Heat => {
            return with(number * 1000.0 / BTU_J / 1.8, 1, "Btu for 1\u{202f}°F");
        }
        Kind::FlowPerHour => return with(number / GALLON_L, 2, "gal/h"),
        Kind::Of(dimension) => dimension,
    };
    if dimension == Dimension::Temperature && step {
        let (value, unit) = if us { (number * 1.8, "°F") } else { (number / 1.8, "°C") };
        return with(value, 1, unit);
    }
    let written = units_of(dimension).iter().find(|unit| unit.spellings().any(|s| s == symbol))?;
    let si = written.to_si(number);
    if dimension == Dimension::Temperature {
        let (value, unit) = if us { (si * 1.8 - 459.67, "°F") } else { (si - 273.15, "°C") };
        return with(value, decimals.min(1), unit);
    }
    if dimension == Dimension::TemperatureDifference {
        let degrees = quantity::write(TemperatureDifference::from_kelvin(number), units);
        return Some(degrees);
    }
    if us && dimension == Dimension::Volume && si < 0.473e-3 {
        return Some(spoons(si));
    }
    if us && dimension == Dimension::Power {
        return with(si * 3.6 / BTU_J, 1, "kBtu/h");
    }
    let small = (us && dimension == Dimension::Mass).then(|| small_ounces(si)).flatten();
    if small.is_some() {
        return small;
    }
    Some(quantity::write_si(dimension, si, None, units))
}

/// A mass below an ounce with two figures, so that little salt does not round to something
/// else; nothing for none and for more.
pub(crate) fn small_ounces(mass_kg: f64) -> Option<String> {
    let ounces = mass_kg / (POUND_KG / 16.0);
    let decimals = match ounces {
        _ if !(5e-4..0.995).contains(&ounces) => return None,
        _ if ounces >= 0.0995 => 2,
        _ if ounces >= 0.00995 => 3,
        _ => 4,
    };
    Some(format!("{ounces:.decimals$}{NARROW}oz"))
}

/// A small volume in the measures of a US kitchen: fluid ounces (128 to the gallon), or
/// teaspoons (six to the fluid ounce).
pub(crate) fn spoons(volume_m3: f64) -> String {
    let fluid_ounces = volume_m3 / (GALLON_L * 1e-3 / 128.0);
    if fluid_ounces < 1.0 {
        format!("{:.2}{NARROW}tsp", fluid_ounces * 6.0)
    } else {
        format!("{fluid_ounces:.1}{NARROW}fl\u{a0}oz")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn us(text: &str) -> String {
        in_units(text, UnitSystem::Us).replace([NARROW, '\u{a0}'], " ")
    }

    fn metric(text: &str) -> String {
        in_units(text, UnitSystem::Metric).replace(NARROW, " ")
    }

    #[test]
    fn values_are_said_in_us_units() {
        assert_eq!(us("counted from 20 °C"), "counted from 68 °F");
        assert_eq!(us("stands 400\u{202f}mm high."), "stands 15 3/4 in high.");
        assert_eq!(us("drained grain keeps 1.0 L/kg"), "drained grain keeps 0.48 qt/lb");
        assert_eq!(us("2.5 mL lactic 80 %"), "0.51 tsp lactic 80 %");
        assert_eq!(us("100\u{202f}mL stay"), "3.4 fl oz stay");
        assert_eq!(us("carries 3.0 kW at once"), "carries 10.2 kBtu/h at once");
        assert_eq!(us("62 to 65 °C"), "144 to 149 °F");
        assert_eq!(us("The colour is 10 EBC, 20 min"), "The color is 5.0 SRM, 20 min");
    }

    #[test]
    fn both_numbers_of_a_heat_on_a_surface_are_said_anew() {
        // 1 in² is 6.4516 cm²: 1.1 W/cm² are 7.1 W/in², 2.5 are 16.1.
        let fired = "1.1 W/cm² go through the base; above 2.5 it scorches. Above 2.5 stays";
        let said = "7.1 W/in² go through the base; above 16.1 W/in² it scorches. Above 2.5 stays";
        assert_eq!(us(fired), said);
        assert_eq!(metric(fired), fired);
        assert_eq!(us("above 2.5 it is bitter"), "above 2.5 it is bitter");
    }

    #[test]
    fn a_small_mass_keeps_two_figures() {
        // 1 oz is 28.3495 g.
        assert_eq!(us("stir in 2.0 g salt"), "stir in 0.071 oz salt");
        assert_eq!(us("0.2 g"), "0.0071 oz");
        assert_eq!(us("5.5 g"), "0.19 oz");
        assert_eq!(us("28.2 g"), "0.99 oz");
        assert_eq!(us("46 g"), "1.60 oz");
    }

    #[test]
    fn a_rise_is_a_difference_and_has_no_offset() {
        let rise = "It rises by 0.5 °C a minute, 0.5 °C is the least. Out at 50 °C.";
        assert_eq!(us(rise), "It rises by 0.9 °F a minute, 0.9 °F is the least. Out at 122 °F.");
    }

    #[test]
    fn values_are_said_in_metric_units_and_a_word_is_no_inch() {
        let tank = "stands 15\u{202f}3/4\u{202f}in high at 212 °F";
        assert_eq!(metric(tank), "stands 400 mm high at 100 °C");
        assert_eq!(metric("grain out at 10 in two buckets"), "grain out at 10 in two buckets");
        assert_eq!(metric("free: 3/4\u{202f}in"), "free: 19 mm");
        assert_eq!(metric("1\u{202f}000\u{202f}gal"), "3 785.4 L");
    }

    #[test]
    fn words_without_values_and_odd_numbers_stay() {
        for text in ["", "infuse-1: 3 of 4", "1.", "1/0\u{202f}in", "± °C", "no 5", "08:30 mash"]
        {
            assert_eq!(us(text), text.replace(NARROW, " "));
            assert_eq!(metric(text), text.replace(NARROW, " "));
        }
    }
}
