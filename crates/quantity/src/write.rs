//! Quantity to text: the person's units, the steps they are shown in, and honest digits.
//!
//! A doubt is rounded to one figure (two when it begins with 1), the value to the same place.
//! Nothing here is parsed back by the program itself, though all of it can be.

use crate::unit::{Scale, Unit, units_of};
use crate::{Dimension, Duration, Mass, Quantity, Stated, VolumeFlow};

/// The thin no-break space that stands before a unit and between thousands.
pub const NARROW: char = '\u{202f}';

/// Which units a person wants to see.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum UnitSystem {
    /// Litres, °C, °P, EBC.
    #[default]
    Metric,
    /// Gallons, °F, specific gravity, SRM.
    Us,
}

/// How times of day are written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Clock {
    /// `14:27`.
    #[default]
    Hours24,
    /// `2:27 PM`.
    Hours12,
}

/// A unit and the step its numbers are shown in.
#[derive(Debug, Clone, Copy)]
struct Form {
    symbol: &'static str,
    step: f64,
}

const fn form(symbol: &'static str, step: f64) -> Form {
    Form { symbol, step }
}

/// Writes a value to the step its kind is shown in.
#[must_use]
pub fn write<Q: Quantity>(value: Q, system: UnitSystem) -> String {
    write_si(Q::DIMENSION, value.si(), None, system)
}

/// Writes a value with its half width, a difference in SI.
#[must_use]
pub fn write_within<Q: Quantity>(value: Q, half_width: f64, system: UnitSystem) -> String {
    write_si(Q::DIMENSION, value.si(), Some(half_width), system)
}

/// Writes what a person stated, in their units.
#[must_use]
pub fn write_stated<Q: Quantity>(stated: &Stated<Q>, system: UnitSystem) -> String {
    let text = write_si(Q::DIMENSION, stated.value.si(), stated.half_width, system);
    if stated.about { format!("about {text}") } else { text }
}

/// Writes a mass of hops: to 1 g or 0.05 oz, to 0.1 g below 10 g.
#[must_use]
pub fn write_hops(mass: Mass, system: UnitSystem) -> String {
    let small = mass.grams() < 10.0;
    let form = match system {
        UnitSystem::Metric => form("g", if small { 0.1 } else { 1.0 }),
        UnitSystem::Us => form("oz", 0.05),
    };
    in_form(Dimension::Mass, mass.si(), None, form)
}

/// Writes a slow flow by the hour: L/h to 0.1, gal/h to 0.05.
#[must_use]
pub fn write_flow_per_hour(flow: VolumeFlow, system: UnitSystem) -> String {
    let form = match system {
        UnitSystem::Metric => form("L/h", 0.1),
        UnitSystem::Us => form("gal/h", 0.05),
    };
    in_form(Dimension::VolumeFlow, flow.si(), None, form)
}

/// Writes a time of day, counted from midnight; later days wrap.
#[must_use]
pub fn write_clock(since_midnight: Duration, clock: Clock) -> String {
    let minutes = finite(since_midnight.minutes()).round().rem_euclid(1440.0) as u32;
    let (hour, minute) = (minutes / 60, minutes % 60);
    match clock {
        Clock::Hours24 => format!("{hour:02}:{minute:02}"),
        Clock::Hours12 => {
            let half = if hour < 12 { "AM" } else { "PM" };
            let hour = if hour.is_multiple_of(12) { 12 } else { hour % 12 };
            format!("{hour}:{minute:02}{NARROW}{half}")
        }
    }
}

/// Writes a countdown, minutes and seconds: `8:40`.
#[must_use]
pub fn write_countdown(left: Duration) -> String {
    let seconds = finite(left.seconds()).round().max(0.0) as u64;
    format!("{}:{:02}", seconds / 60, seconds % 60)
}

/// Writes a number of one kind in SI, with its half width if there is one.
#[must_use]
pub fn write_si(
    dimension: Dimension,
    si: f64,
    half_width: Option<f64>,
    system: UnitSystem,
) -> String {
    let (si, half_width) = (finite(si), half_width.filter(|h| h.is_finite() && *h > 0.0));
    if dimension == Dimension::Duration {
        return duration(si, half_width);
    }
    if dimension == Dimension::Mass && system == UnitSystem::Us && half_width.is_none() {
        return pounds(si);
    }
    let form = form_for(dimension, si, system);
    in_form(dimension, si, half_width, form)
}

/// The unit and step for a number of this size.
fn form_for(dimension: Dimension, si: f64, system: UnitSystem) -> Form {
    use Dimension as D;
    let size = si.abs();
    let us = system == UnitSystem::Us;
    match dimension {
        D::Temperature if us => form("°F", 0.2),
        D::Temperature => form("°C", 0.1),
        D::TemperatureDifference if us => form("°F", 0.2),
        D::TemperatureDifference => form("K", 0.1),
        D::Volume => volume_form(size, us),
        D::Mass if us && size >= 0.4536 => form("lb", 0.05),
        D::Mass if us => form("oz", 0.05),
        D::Mass if size >= 0.9995 || size == 0.0 => form("kg", 0.01),
        D::Mass => form("g", if size < 0.01 { 0.1 } else { 1.0 }),
        D::Length => length_form(size, us),
        D::Altitude => form(if us { "ft" } else { "m" }, 1.0),
        D::Area => form(if us { "in²" } else { "cm²" }, 1.0),
        D::Duration => form("min", 1.0),
        D::Power if us && size >= 293.0 => form("kBtu/h", 0.1),
        D::Power if size > 0.0 && size < 1000.0 => form("W", if size < 10.0 { 0.1 } else { 1.0 }),
        D::Power => form("kW", 0.1),
        D::Energy if us => form("Btu", 10.0),
        D::Energy => form("MJ", 0.1),
        D::VolumeFlow => form(if us { "qt/min" } else { "L/min" }, if us { 0.02 } else { 0.01 }),
        D::MassFlow => form(if us { "lb/h" } else { "kg/h" }, 0.1),
        D::Pressure => form(if us { "psi" } else { "bar" }, if us { 1.0 } else { 0.1 }),
        D::Density => form("kg/m³", 1.0),
        D::HeatCapacity => form("kJ/K", 0.1),
        D::Conductance => form("W/K", if size < 10.0 { 0.1 } else { 1.0 }),
        D::Share => form("%", if size < 0.2 { 0.1 } else { 1.0 }),
        D::Extract => form(if us { "SG" } else { "°P" }, if us { 0.0005 } else { 0.1 }),
        D::Colour => form(if us { "SRM" } else { "EBC" }, if us { 0.5 } else { 1.0 }),
        D::Bitterness => form("IBU", 1.0),
        D::MassConcentration if us => form("ppm", 1.0),
        D::MassConcentration if size >= 1.0 => form("g/L", 0.1),
        D::MassConcentration => form("mg/L", 1.0),
        D::ChargeConcentration if us => form("ppm CaCO3", 1.0),
        D::ChargeConcentration => form("meq/L", 0.1),
        D::MolarConcentration => form("mmol/L", 0.1),
        D::Hardness if us => form("ppm CaCO3", 1.0),
        D::Hardness => form("°dH", 0.1),
        D::CarbonDioxide => form("vol", 0.1),
        D::Acidity => form("", 0.01),
        D::Refraction => form("°Bx", 0.1),
    }
}

fn volume_form(size_m3: f64, us: bool) -> Form {
    let litres = size_m3 * 1e3;
    match (us, litres) {
        (_, l) if l > 0.0 && l < 0.01 => form("mL", 0.1),
        (true, l) if l > 0.0 && l < 0.473 => form("mL", 1.0),
        (true, l) if l > 0.0 && l < 1.89 => form("qt", 0.05),
        (true, _) => form("gal", 0.05),
        (false, l) if l > 0.0 && l < 0.95 => form("mL", if l < 0.1 { 1.0 } else { 10.0 }),
        (false, _) => form("L", 0.1),
    }
}

fn length_form(size_m: f64, us: bool) -> Form {
    match (us, size_m) {
        (true, m) if m > 0.0 && m < 0.006 => form("in", 0.01),
        (true, m) if m >= 3.0 => form("ft", 0.1),
        (true, _) => form("in", 1.0 / 16.0),
        (false, m) if m > 0.0 && m < 0.01 => form("mm", 0.1),
        (false, m) if m >= 10.0 => form("m", 0.1),
        (false, _) => form("mm", 1.0),
    }
}

/// Writes in a fixed unit: value, doubt if it shows, unit.
fn in_form(dimension: Dimension, si: f64, half_width: Option<f64>, form: Form) -> String {
    let unit = unit_of(dimension, form.symbol);
    let number = unit.number_of(finite(si));
    let half = half_width.map(|h| unit.half_width_of(si, h)).filter(|h| *h >= form.step / 2.0);
    let tail = if unit.scale == Scale::Gravity || form.symbol.is_empty() {
        String::new()
    } else {
        format!("{NARROW}{}", form.symbol)
    };
    let Some(half) = half else {
        let text =
            if form.step == 1.0 / 16.0 { sixteenths(number) } else { stepped(number, form.step) };
        return text + &tail;
    };
    let (value, doubt) = rounded(number, half);
    format!("{value}{NARROW}±{doubt}{tail}")
}

fn unit_of(dimension: Dimension, symbol: &str) -> Unit {
    let units = units_of(dimension);
    units.iter().find(|unit| unit.spellings().any(|s| s == symbol)).copied().unwrap_or(units[0])
}

/// The doubt to one figure, two when it begins with 1; the value to the same place.
fn rounded(value: f64, half_width: f64) -> (String, String) {
    let exponent = half_width.abs().log10().floor() as i32;
    let first = (half_width / 10f64.powi(exponent)).floor();
    let place = if first <= 1.0 { exponent - 1 } else { exponent };
    let step = 10f64.powi(place);
    let decimals = usize::try_from(-place).unwrap_or(0);
    let at = |x: f64| grouped((x / step).round() * step, decimals);
    (at(value), at(half_width))
}

/// To the nearest step, with the decimals the step has.
fn stepped(number: f64, step: f64) -> String {
    let decimals = (0..6).find(|d| is_whole(step * 10f64.powi(*d))).unwrap_or(6);
    grouped((number / step).round() * step, decimals as usize)
}

fn is_whole(x: f64) -> bool {
    (x - x.round()).abs() < 1e-9
}

/// Inches to a sixteenth: `15 3/4`.
fn sixteenths(inches: f64) -> String {
    let parts = (inches.abs() * 16.0).round() as u64;
    let sign = if inches < 0.0 && parts > 0 { "−" } else { "" };
    let (whole, mut over, mut under) = (parts / 16, parts % 16, 16);
    while over > 0 && over.is_multiple_of(2) {
        over /= 2;
        under /= 2;
    }
    match (whole, over) {
        (_, 0) => format!("{sign}{whole}"),
        (0, _) => format!("{sign}{over}/{under}"),
        _ => format!("{sign}{whole}{NARROW}{over}/{under}"),
    }
}

/// Pounds and ounces to half an ounce; below a pound, ounces to 0.05.
fn pounds(si: f64) -> String {
    let halves = (Mass::from_kilograms(si.abs()).ounces() * 2.0).round();
    if halves < 32.0 {
        return in_form(Dimension::Mass, si, None, form("oz", 0.05));
    }
    let sign = if si < 0.0 { "−" } else { "" };
    let (whole, ounces) = ((halves / 32.0).floor(), (halves % 32.0) / 2.0);
    let head = format!("{sign}{}{NARROW}lb", grouped(whole, 0));
    if ounces == 0.0 { head } else { format!("{head} {}{NARROW}oz", short_half(ounces)) }
}

fn short_half(x: f64) -> String {
    if is_whole(x) { format!("{x:.0}") } else { format!("{x:.1}") }
}

/// `40 s`, `35 min`, `2 h 31`, `14.0 d`, and with a doubt `2 h 31 ±5 min`.
fn duration(seconds: f64, half_width: Option<f64>) -> String {
    let size = seconds.abs();
    if size >= 72.0 * 3600.0 {
        return in_form(Dimension::Duration, seconds, half_width, form("d", 0.1));
    }
    if size > 0.0 && size < 59.5 {
        return in_form(Dimension::Duration, seconds, half_width, form("s", 1.0));
    }
    let minutes = (size / 60.0).round() as u64;
    if minutes < 60 {
        return in_form(Dimension::Duration, seconds, half_width, form("min", 1.0));
    }
    let sign = if seconds < 0.0 { "−" } else { "" };
    let text = format!("{sign}{}{NARROW}h{NARROW}{:02}", minutes / 60, minutes % 60);
    match half_width.map(|h| h / 60.0).filter(|h| *h >= 0.5) {
        None => text,
        Some(half) => format!("{text}{NARROW}±{}{NARROW}min", grouped(half.round(), 0)),
    }
}

/// A number with this many decimals, a real minus and thin spaces between thousands.
fn grouped(number: f64, decimals: usize) -> String {
    let text = format!("{:.decimals$}", number.abs());
    let (whole, rest) = text.split_at(text.find('.').unwrap_or(text.len()));
    let mut out = String::new();
    if number < 0.0 && text.bytes().any(|b| (b'1'..=b'9').contains(&b)) {
        out.push('−');
    }
    for (i, digit) in whole.chars().enumerate() {
        if i > 0 && (whole.len() - i).is_multiple_of(3) {
            out.push(NARROW);
        }
        out.push(digit);
    }
    out + rest
}

/// Not-a-number and infinities are a bug elsewhere; text is still written, as nothing.
fn finite(x: f64) -> f64 {
    if x.is_finite() { x } else { 0.0 }
}

/// Writes a limit exactly, in the unit a person used in `like`, for a message about it.
#[must_use]
pub fn write_limit(dimension: Dimension, si: f64, like: &str) -> String {
    let used = |unit: &&Unit| unit.spellings().any(|s| !s.is_empty() && ends_with_unit(like, s));
    let units = units_of(dimension);
    let unit = units.iter().find(used).unwrap_or(&units[0]);
    let number = unit.number_of(si);
    let rounded = (number * 1e4).round() / 1e4;
    format!("{rounded}{NARROW}{}", unit.symbol).trim_end().to_owned()
}

/// The unit stands right behind a figure.
fn ends_with_unit(text: &str, unit: &str) -> bool {
    text.match_indices(unit).any(|(at, _)| {
        let before = text[..at].trim_end().chars().next_back();
        let after = text[at + unit.len()..].chars().next();
        before.is_some_and(|c| c.is_ascii_digit())
            && after.is_none_or(|c| !c.is_alphanumeric() && c != '/')
    })
}
