//! Units: their spellings and their factors, each by its definition.
//!
//! Numbers and text around a unit are read in `read`; nothing here knows a person's locale.

use crate::Dimension;
use crate::extract::{extract_from_specific_gravity, specific_gravity_from_extract};

/// Pound, kg. Exact; NIST SP 811 (2008), appendix B.8.
pub const POUND_KG: f64 = 0.453_592_37;
/// Ounce, a sixteenth of a pound, kg. Exact; NIST SP 811, B.8.
pub(crate) const OUNCE_KG: f64 = POUND_KG / 16.0;
/// Inch, m. Exact; NIST SP 811, B.8.
pub(crate) const INCH_M: f64 = 0.0254;
/// Foot, m. Exact; NIST SP 811, B.8.
pub(crate) const FOOT_M: f64 = 12.0 * INCH_M;
/// Gallon of the United States, 231 cubic inches, m³. Exact; NIST SP 811, B.8.
pub const GALLON_M3: f64 = 231.0 * INCH_M * INCH_M * INCH_M;
/// Liquid quart of the United States, m³. Exact; NIST SP 811, B.8.
pub(crate) const QUART_M3: f64 = GALLON_M3 / 4.0;
/// Pound-force per square inch, Pa: the pound at standard gravity 9.80665 m/s². NIST SP 811, B.8.
pub(crate) const PSI_PA: f64 = POUND_KG * 9.806_65 / (INCH_M * INCH_M);
/// British thermal unit of the International Table, J. Exact; NIST SP 811, B.8.
pub const BTU_J: f64 = 1_055.055_852_62;
/// EBC units in one SRM unit, by the definition of the two methods (ASBC Beer-10, EBC 9.6).
pub(crate) const EBC_PER_SRM: f64 = 1.97;
/// One German degree: 10 mg of CaO in a litre; CaO is 56.0774 g/mol. DIN 38409-6.
pub(crate) const GERMAN_DEGREE_MOL_M3: f64 = 10.0 / 56.0774;
/// Calcium carbonate in one equivalent, kg: half of 100.087 g/mol.
pub(crate) const CACO3_KG_PER_EQUIVALENT: f64 = 0.050_043_5;
/// Carbon dioxide in one volume, kg/m³: the gas at 0 °C and 101.325 kPa by the equation of state
/// of Span and Wagner, J. Phys. Chem. Ref. Data 25 (1996) 1509.
pub(crate) const CARBON_DIOXIDE_KG_M3: f64 = 1.977;

pub(crate) fn celsius_to_kelvin(celsius: f64) -> f64 {
    celsius + 273.15
}

pub(crate) fn kelvin_to_celsius(kelvin: f64) -> f64 {
    kelvin - 273.15
}

pub(crate) fn fahrenheit_to_kelvin(fahrenheit: f64) -> f64 {
    (fahrenheit + 459.67) / 1.8
}

pub(crate) fn kelvin_to_fahrenheit(kelvin: f64) -> f64 {
    kelvin * 1.8 - 459.67
}

/// Malt colour: the line between the visual and the photometric scale, common practice, no source.
pub(crate) fn lovibond_to_srm(lovibond: f64) -> f64 {
    1.3546 * lovibond - 0.76
}

pub(crate) fn srm_to_lovibond(srm: f64) -> f64 {
    (srm + 0.76) / 1.3546
}

/// How a number in a unit becomes the number in SI.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Scale {
    /// By a factor.
    Times(f64),
    /// °C.
    Celsius,
    /// °F.
    Fahrenheit,
    /// Specific gravity 20/20.
    Gravity,
    /// Thousandths of specific gravity above one.
    Points,
    /// Degrees Lovibond.
    Lovibond,
}

/// A unit of one kind of quantity.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Unit {
    /// As it is written.
    pub symbol: &'static str,
    /// Other spellings that are read.
    pub also: &'static [&'static str],
    pub(crate) scale: Scale,
}

impl Unit {
    /// The number in SI.
    #[must_use]
    pub fn to_si(&self, number: f64) -> f64 {
        match self.scale {
            Scale::Times(factor) => number * factor,
            Scale::Celsius => celsius_to_kelvin(number),
            Scale::Fahrenheit => fahrenheit_to_kelvin(number),
            Scale::Gravity => extract_from_specific_gravity(number),
            Scale::Points => extract_from_specific_gravity(1.0 + number / 1000.0),
            Scale::Lovibond => lovibond_to_srm(number) * EBC_PER_SRM,
        }
    }

    /// The number in this unit.
    #[must_use]
    pub fn number_of(&self, si: f64) -> f64 {
        match self.scale {
            Scale::Times(factor) => si / factor,
            Scale::Celsius => kelvin_to_celsius(si),
            Scale::Fahrenheit => kelvin_to_fahrenheit(si),
            Scale::Gravity => specific_gravity_from_extract(si),
            Scale::Points => (specific_gravity_from_extract(si) - 1.0) * 1000.0,
            Scale::Lovibond => srm_to_lovibond(si / EBC_PER_SRM),
        }
    }

    /// A half width about `number`, both in this unit, as a half width in SI. Offsets fall out.
    #[must_use]
    pub fn half_width_to_si(&self, number: f64, half_width: f64) -> f64 {
        match self.scale {
            Scale::Times(factor) => half_width * factor,
            Scale::Celsius => half_width,
            Scale::Fahrenheit => half_width / 1.8,
            Scale::Lovibond => half_width * 1.3546 * EBC_PER_SRM,
            Scale::Gravity | Scale::Points => {
                (self.to_si(number + half_width) - self.to_si(number - half_width)) / 2.0
            }
        }
    }

    /// A half width about the SI number `si`, in SI, as a half width in this unit.
    #[must_use]
    pub fn half_width_of(&self, si: f64, half_width: f64) -> f64 {
        match self.scale {
            Scale::Times(factor) => half_width / factor,
            Scale::Celsius => half_width,
            Scale::Fahrenheit => half_width * 1.8,
            Scale::Lovibond => half_width / (1.3546 * EBC_PER_SRM),
            Scale::Gravity | Scale::Points => {
                (self.number_of(si + half_width) - self.number_of(si - half_width)) / 2.0
            }
        }
    }

    /// Zero of this unit is none of the quantity, so that a percentage of the number has a meaning.
    #[must_use]
    pub fn starts_at_zero(&self) -> bool {
        matches!(self.scale, Scale::Times(_) | Scale::Points)
    }

    /// Every spelling, the written one first.
    pub fn spellings(&self) -> impl Iterator<Item = &'static str> {
        std::iter::once(self.symbol).chain(self.also.iter().copied())
    }
}

const fn times(symbol: &'static str, also: &'static [&'static str], factor: f64) -> Unit {
    Unit { symbol, also, scale: Scale::Times(factor) }
}

const fn unit(symbol: &'static str, also: &'static [&'static str], scale: Scale) -> Unit {
    Unit { symbol, also, scale }
}

const TEMPERATURE: &[Unit] = &[
    unit("°C", &["degC", "deg C", "C"], Scale::Celsius),
    unit("°F", &["degF", "deg F", "F"], Scale::Fahrenheit),
    times("K", &[], 1.0),
];
const DIFFERENCE: &[Unit] = &[
    times("K", &[], 1.0),
    times("°C", &["degC", "deg C", "C"], 1.0),
    times("°F", &["degF", "deg F", "F"], 1.0 / 1.8),
];
const MASS: &[Unit] = &[
    times("kg", &[], 1.0),
    times("g", &[], 1e-3),
    times("mg", &[], 1e-6),
    times("lb", &["lbs"], POUND_KG),
    times("oz", &[], OUNCE_KG),
];
const VOLUME: &[Unit] = &[
    times("L", &["l", "litre", "litres", "liter", "liters"], 1e-3),
    times("gal", &["gal (US)", "US gal", "gallon", "gallons"], GALLON_M3),
    times("qt", &["quart", "quarts"], QUART_M3),
    times("mL", &["ml"], 1e-6),
    times("hL", &["hl"], 0.1),
    times("m³", &["m3", "m^3"], 1.0),
];
const LENGTH: &[Unit] = &[
    times("mm", &[], 1e-3),
    times("cm", &[], 1e-2),
    times("m", &[], 1.0),
    times("in", &["\"", "inch", "inches"], INCH_M),
    times("ft", &["'", "foot", "feet"], FOOT_M),
];
const ALTITUDE: &[Unit] = &[times("m", &[], 1.0), times("ft", &["feet"], FOOT_M)];
const AREA: &[Unit] = &[
    times("cm²", &["cm2", "cm^2"], 1e-4),
    times("mm²", &["mm2", "mm^2"], 1e-6),
    times("m²", &["m2", "m^2"], 1.0),
    times("in²", &["in2", "in^2", "sq in"], INCH_M * INCH_M),
    times("ft²", &["ft2", "ft^2", "sq ft"], FOOT_M * FOOT_M),
];
const DURATION: &[Unit] = &[
    times("min", &["minute", "minutes"], 60.0),
    times("h", &["hour", "hours"], 3600.0),
    times("s", &["second", "seconds"], 1.0),
    times("d", &["day", "days"], 86_400.0),
];
const POWER: &[Unit] = &[
    times("kW", &[], 1e3),
    times("W", &[], 1.0),
    times("kBtu/h", &["kBTU/h", "kBtu/hr", "kBTU/hr"], 1000.0 * BTU_J / 3600.0),
    times("Btu/h", &["BTU/h", "Btu/hr", "BTU/hr"], BTU_J / 3600.0),
];
const ENERGY: &[Unit] = &[
    times("MJ", &[], 1e6),
    times("kJ", &[], 1e3),
    times("J", &[], 1.0),
    times("kWh", &[], 3.6e6),
    times("Btu", &["BTU"], BTU_J),
    times("kBtu", &["kBTU"], 1000.0 * BTU_J),
];
const VOLUME_FLOW: &[Unit] = &[
    times("L/min", &["l/min"], 1e-3 / 60.0),
    times("qt/min", &[], QUART_M3 / 60.0),
    times("L/h", &["l/h", "L/hr"], 1e-3 / 3600.0),
    times("gal/h", &["gal/hr"], GALLON_M3 / 3600.0),
    times("gal/min", &[], GALLON_M3 / 60.0),
    times("mL/min", &["ml/min"], 1e-6 / 60.0),
    times("L/s", &["l/s"], 1e-3),
];
const MASS_FLOW: &[Unit] = &[
    times("kg/h", &["kg/hr"], 1.0 / 3600.0),
    times("kg/min", &[], 1.0 / 60.0),
    times("kg/s", &[], 1.0),
    times("g/h", &["g/hr"], 1e-3 / 3600.0),
    times("lb/h", &["lb/hr"], POUND_KG / 3600.0),
];
const PRESSURE: &[Unit] = &[
    times("bar", &[], 1e5),
    times("psi", &[], PSI_PA),
    times("kPa", &[], 1e3),
    times("Pa", &[], 1.0),
    times("hPa", &[], 100.0),
    times("mbar", &[], 100.0),
];
const DENSITY: &[Unit] =
    &[times("kg/m³", &["kg/m3", "kg/m^3"], 1.0), times("kg/L", &["kg/l", "g/mL"], 1e3)];
const HEAT_CAPACITY: &[Unit] = &[times("kJ/K", &[], 1e3), times("J/K", &[], 1.0)];
const CONDUCTANCE: &[Unit] = &[times("W/K", &[], 1.0), times("kW/K", &[], 1e3)];
const SHARE: &[Unit] = &[times("%", &["percent"], 0.01)];
const EXTRACT: &[Unit] = &[
    times("°P", &["degP", "deg P", "P", "Plato", "plato"], 0.01),
    unit("SG", &["sg"], Scale::Gravity),
    unit("points", &["point", "pts"], Scale::Points),
];
const COLOUR: &[Unit] = &[
    times("EBC", &["ebc"], 1.0),
    times("SRM", &["srm"], EBC_PER_SRM),
    unit("°L", &["degL", "deg L", "Lovibond", "lovibond"], Scale::Lovibond),
];
const BITTERNESS: &[Unit] = &[times("IBU", &["ibu"], 1.0)];
const MASS_CONCENTRATION: &[Unit] =
    &[times("mg/L", &["mg/l"], 1e-3), times("ppm", &[], 1e-3), times("g/L", &["g/l"], 1.0)];
const CHARGE_CONCENTRATION: &[Unit] = &[
    times("meq/L", &["meq/l", "mEq/L", "mval/L"], 1.0),
    times(
        "mg/L CaCO3",
        &["mg/L as CaCO3", "ppm CaCO3", "ppm as CaCO3", "mg/L CaCO₃", "ppm CaCO₃"],
        1e-3 / CACO3_KG_PER_EQUIVALENT,
    ),
    times("°dH", &["degdH", "deg dH", "dH"], 2.0 * GERMAN_DEGREE_MOL_M3),
];
const MOLAR_CONCENTRATION: &[Unit] = &[times("mmol/L", &["mmol/l"], 1.0)];
const HARDNESS: &[Unit] = &[
    times("°dH", &["degdH", "deg dH", "dH"], GERMAN_DEGREE_MOL_M3),
    times("mmol/L", &["mmol/l"], 1.0),
    times(
        "mg/L CaCO3",
        &["mg/L as CaCO3", "ppm CaCO3", "ppm as CaCO3", "mg/L CaCO₃", "ppm CaCO₃"],
        0.5e-3 / CACO3_KG_PER_EQUIVALENT,
    ),
];
const CARBON_DIOXIDE: &[Unit] =
    &[times("vol", &["vols", "volumes"], 1.0), times("g/L", &["g/l"], 1.0 / CARBON_DIOXIDE_KG_M3)];
const ACIDITY: &[Unit] = &[times("", &["pH"], 1.0)];
const REFRACTION: &[Unit] = &[times("°Bx", &["degBx", "deg Bx", "Bx", "Brix", "brix"], 0.01)];

/// The units that are read for a kind of quantity, the one suggested first.
#[must_use]
pub fn units_of(dimension: Dimension) -> &'static [Unit] {
    use Dimension as D;
    match dimension {
        D::Temperature => TEMPERATURE,
        D::TemperatureDifference => DIFFERENCE,
        D::Mass => MASS,
        D::Volume => VOLUME,
        D::Length => LENGTH,
        D::Altitude => ALTITUDE,
        D::Area => AREA,
        D::Duration => DURATION,
        D::Power => POWER,
        D::Energy => ENERGY,
        D::VolumeFlow => VOLUME_FLOW,
        D::MassFlow => MASS_FLOW,
        D::Pressure => PRESSURE,
        D::Density => DENSITY,
        D::HeatCapacity => HEAT_CAPACITY,
        D::Conductance => CONDUCTANCE,
        D::Share => SHARE,
        D::Extract => EXTRACT,
        D::Colour => COLOUR,
        D::Bitterness => BITTERNESS,
        D::MassConcentration => MASS_CONCENTRATION,
        D::ChargeConcentration => CHARGE_CONCENTRATION,
        D::MolarConcentration => MOLAR_CONCENTRATION,
        D::Hardness => HARDNESS,
        D::CarbonDioxide => CARBON_DIOXIDE,
        D::Acidity => ACIDITY,
        D::Refraction => REFRACTION,
    }
}
