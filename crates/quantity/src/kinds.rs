//! The newtypes: one per kind of quantity, a number in SI inside, built and read by unit.
//!
//! No algebra between kinds: a product of two quantities is written out in SI where it is needed.

use serde::Serialize;

use crate::Dimension;
use crate::extract::{extract_from_specific_gravity, specific_gravity_from_extract};
use crate::unit::{
    BTU_J, CACO3_KG_PER_EQUIVALENT, EBC_PER_SRM, FOOT_M, GALLON_M3, GERMAN_DEGREE_MOL_M3, INCH_M,
    OUNCE_KG, POUND_KG, PSI_PA, QUART_M3, celsius_to_kelvin, fahrenheit_to_kelvin,
    kelvin_to_celsius, kelvin_to_fahrenheit, lovibond_to_srm, srm_to_lovibond,
};

/// What every newtype can do, so that text can be read and written for all of them at once.
pub trait Quantity: Copy + std::fmt::Debug + PartialEq {
    /// The kind of quantity at run time.
    const DIMENSION: Dimension;
    /// From the number in the unit named by [`Dimension::si_unit`].
    fn from_si(si: f64) -> Self;
    /// The number in the unit named by [`Dimension::si_unit`].
    fn si(self) -> f64;
}

/// Defines a newtype with its linear units: `unit (from_unit) = factor`.
macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident { $($get:ident $from:ident $unit:literal = $factor:expr;)* }) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default, Serialize)]
        #[serde(transparent)]
        pub struct $name(f64);

        impl Quantity for $name {
            const DIMENSION: Dimension = Dimension::$name;
            fn from_si(si: f64) -> Self {
                Self(si)
            }
            fn si(self) -> f64 {
                self.0
            }
        }

        impl $name {
            /// None of it.
            pub const ZERO: Self = Self(0.0);
            $(
                #[doc = concat!("The number in ", $unit, ".")]
                #[must_use]
                pub fn $get(self) -> f64 {
                    self.0 / $factor
                }
                #[doc = concat!("From a number in ", $unit, ".")]
                #[must_use]
                pub fn $from(number: f64) -> Self {
                    Self(number * $factor)
                }
            )*
        }
    };
}

/// Sums, differences and multiples, for the kinds where they mean something.
macro_rules! additive {
    ($($name:ident)*) => {$(
        impl std::ops::Add for $name {
            type Output = Self;
            fn add(self, other: Self) -> Self {
                Self(self.0 + other.0)
            }
        }
        impl std::ops::Sub for $name {
            type Output = Self;
            fn sub(self, other: Self) -> Self {
                Self(self.0 - other.0)
            }
        }
        impl std::ops::Mul<f64> for $name {
            type Output = Self;
            fn mul(self, factor: f64) -> Self {
                Self(self.0 * factor)
            }
        }
        impl std::iter::Sum for $name {
            fn sum<I: Iterator<Item = Self>>(parts: I) -> Self {
                Self(parts.map(|part| part.0).sum())
            }
        }
    )*};
}

quantity! {
    /// A temperature on the thermodynamic scale, K inside.
    Temperature { kelvin from_kelvin "K" = 1.0; }
}
quantity! {
    /// A difference of two temperatures, K inside; has no offset in any unit.
    TemperatureDifference {
        kelvin from_kelvin "K" = 1.0;
        fahrenheit_degrees from_fahrenheit_degrees "Fahrenheit degrees" = (1.0 / 1.8);
    }
}
quantity! {
    /// A mass, kg inside.
    Mass {
        kilograms from_kilograms "kg" = 1.0;
        grams from_grams "g" = 1e-3;
        pounds from_pounds "lb" = POUND_KG;
        ounces from_ounces "oz" = OUNCE_KG;
    }
}
quantity! {
    /// A volume, m³ inside. The gallon and the quart are those of the United States.
    Volume {
        cubic_metres from_cubic_metres "m³" = 1.0;
        litres from_litres "L" = 1e-3;
        millilitres from_millilitres "mL" = 1e-6;
        gallons from_gallons "gal (US)" = GALLON_M3;
        quarts from_quarts "qt (US)" = QUART_M3;
    }
}
quantity! {
    /// A length, m inside.
    Length {
        metres from_metres "m" = 1.0;
        centimetres from_centimetres "cm" = 1e-2;
        millimetres from_millimetres "mm" = 1e-3;
        inches from_inches "in" = INCH_M;
        feet from_feet "ft" = FOOT_M;
    }
}
quantity! {
    /// A height over the sea, m inside; may be below it.
    Altitude { metres from_metres "m" = 1.0; feet from_feet "ft" = FOOT_M; }
}
quantity! {
    /// An area, m² inside.
    Area {
        square_metres from_square_metres "m²" = 1.0;
        square_centimetres from_square_centimetres "cm²" = 1e-4;
    }
}
quantity! {
    /// A length of time, s inside.
    Duration {
        seconds from_seconds "s" = 1.0;
        minutes from_minutes "min" = 60.0;
        hours from_hours "h" = 3600.0;
        days from_days "d" = 86400.0;
    }
}
quantity! {
    /// A power, W inside.
    Power {
        watts from_watts "W" = 1.0;
        kilowatts from_kilowatts "kW" = 1e3;
        kilo_btu_per_hour from_kilo_btu_per_hour "kBtu/h" = (1000.0 * BTU_J / 3600.0);
    }
}
quantity! {
    /// An energy, J inside.
    Energy {
        joules from_joules "J" = 1.0;
        megajoules from_megajoules "MJ" = 1e6;
        kilowatt_hours from_kilowatt_hours "kWh" = 3.6e6;
        btu from_btu "Btu" = BTU_J;
    }
}
quantity! {
    /// A volume flow, m³/s inside.
    VolumeFlow {
        cubic_metres_per_second from_cubic_metres_per_second "m³/s" = 1.0;
        litres_per_minute from_litres_per_minute "L/min" = (1e-3 / 60.0);
        litres_per_hour from_litres_per_hour "L/h" = (1e-3 / 3600.0);
        quarts_per_minute from_quarts_per_minute "qt/min" = (QUART_M3 / 60.0);
        gallons_per_hour from_gallons_per_hour "gal/h" = (GALLON_M3 / 3600.0);
    }
}
quantity! {
    /// A mass flow, kg/s inside.
    MassFlow {
        kilograms_per_second from_kilograms_per_second "kg/s" = 1.0;
        kilograms_per_hour from_kilograms_per_hour "kg/h" = (1.0 / 3600.0);
    }
}
quantity! {
    /// A pressure, Pa inside; whether over the air's or absolute is said by its owner.
    Pressure {
        pascals from_pascals "Pa" = 1.0;
        kilopascals from_kilopascals "kPa" = 1e3;
        bar from_bar "bar" = 1e5;
        psi from_psi "psi" = PSI_PA;
    }
}
quantity! {
    /// A density, kg/m³ inside.
    Density { kilograms_per_cubic_metre from_kilograms_per_cubic_metre "kg/m³" = 1.0; }
}
quantity! {
    /// A heat capacity of a thing, J/K inside.
    HeatCapacity {
        joules_per_kelvin from_joules_per_kelvin "J/K" = 1.0;
        kilojoules_per_kelvin from_kilojoules_per_kelvin "kJ/K" = 1e3;
    }
}
quantity! {
    /// Heat flow per temperature difference, W/K inside.
    Conductance { watts_per_kelvin from_watts_per_kelvin "W/K" = 1.0; }
}
quantity! {
    /// A part of a whole: 1 is all of it.
    Share { fraction from_fraction "parts of 1" = 1.0; percent from_percent "%" = 0.01; }
}
quantity! {
    /// Dissolved extract as a mass fraction; °P and specific gravity are scales of it.
    Extract {
        mass_fraction from_mass_fraction "kg/kg" = 1.0;
        plato from_plato "°P" = 0.01;
    }
}
quantity! {
    /// A colour by extinction of light at 430 nm, EBC units inside.
    Colour { ebc from_ebc "EBC" = 1.0; srm from_srm "SRM" = EBC_PER_SRM; }
}
quantity! {
    /// A bitterness in international bitterness units.
    Bitterness { ibu from_ibu "IBU" = 1.0; }
}
quantity! {
    /// Mass dissolved in a volume, kg/m³ inside (equal to g/L). One ppm is one mg/L here.
    MassConcentration {
        kilograms_per_cubic_metre from_kilograms_per_cubic_metre "kg/m³" = 1.0;
        grams_per_litre from_grams_per_litre "g/L" = 1.0;
        milligrams_per_litre from_milligrams_per_litre "mg/L" = 1e-3;
    }
}
quantity! {
    /// Charge dissolved in a volume, mol/m³ inside (equal to meq/L); alkalinity is one.
    ChargeConcentration {
        milliequivalents_per_litre from_milliequivalents_per_litre "meq/L" = 1.0;
        milligrams_caco3_per_litre from_milligrams_caco3_per_litre "mg/L as CaCO₃"
            = (1e-3 / CACO3_KG_PER_EQUIVALENT);
        german_degrees from_german_degrees "°dH" = (2.0 * GERMAN_DEGREE_MOL_M3);
    }
}
quantity! {
    /// Amount dissolved in a volume, mol/m³ inside (equal to mmol/L).
    MolarConcentration { millimoles_per_litre from_millimoles_per_litre "mmol/L" = 1.0; }
}
quantity! {
    /// Hardness as the amount of calcium and magnesium together, mol/m³ inside.
    Hardness {
        millimoles_per_litre from_millimoles_per_litre "mmol/L" = 1.0;
        german_degrees from_german_degrees "°dH" = GERMAN_DEGREE_MOL_M3;
        milligrams_caco3_per_litre from_milligrams_caco3_per_litre "mg/L as CaCO₃"
            = (0.5e-3 / CACO3_KG_PER_EQUIVALENT);
    }
}
quantity! {
    /// Dissolved carbon dioxide, volumes of gas at 0 °C and 1 atm per volume of beer.
    CarbonDioxide { volumes from_volumes "vol" = 1.0; }
}
quantity! {
    /// Acidity on the pH scale, without a unit.
    Acidity { ph from_ph "pH" = 1.0; }
}
quantity! {
    /// A refractometer's reading as the mass fraction of a sucrose solution that bends light so.
    Refraction { mass_fraction from_mass_fraction "kg/kg" = 1.0; brix from_brix "°Bx" = 0.01; }
}

additive! {
    TemperatureDifference Mass Volume Length Area Duration Power Energy VolumeFlow MassFlow
    Pressure HeatCapacity Conductance Share
}

impl Temperature {
    /// The number in °C.
    #[must_use]
    pub fn celsius(self) -> f64 {
        kelvin_to_celsius(self.0)
    }
    /// From a number in °C.
    #[must_use]
    pub fn from_celsius(number: f64) -> Self {
        Self(celsius_to_kelvin(number))
    }
    /// The number in °F.
    #[must_use]
    pub fn fahrenheit(self) -> f64 {
        kelvin_to_fahrenheit(self.0)
    }
    /// From a number in °F.
    #[must_use]
    pub fn from_fahrenheit(number: f64) -> Self {
        Self(fahrenheit_to_kelvin(number))
    }
}

impl std::ops::Sub for Temperature {
    type Output = TemperatureDifference;
    fn sub(self, other: Self) -> TemperatureDifference {
        TemperatureDifference(self.0 - other.0)
    }
}

impl std::ops::Add<TemperatureDifference> for Temperature {
    type Output = Self;
    fn add(self, difference: TemperatureDifference) -> Self {
        Self(self.0 + difference.0)
    }
}

impl Extract {
    /// The specific gravity 20/20: density at 20 °C over that of water at 20 °C.
    #[must_use]
    pub fn specific_gravity(self) -> f64 {
        specific_gravity_from_extract(self.0)
    }
    /// From a specific gravity 20/20.
    #[must_use]
    pub fn from_specific_gravity(gravity: f64) -> Self {
        Self(extract_from_specific_gravity(gravity))
    }
    /// Points: thousandths of specific gravity above that of water.
    #[must_use]
    pub fn points(self) -> f64 {
        (self.specific_gravity() - 1.0) * 1000.0
    }
    /// From points.
    #[must_use]
    pub fn from_points(points: f64) -> Self {
        Self::from_specific_gravity(1.0 + points / 1000.0)
    }
}

impl Colour {
    /// The number in degrees Lovibond.
    #[must_use]
    pub fn lovibond(self) -> f64 {
        srm_to_lovibond(self.srm())
    }
    /// From degrees Lovibond.
    #[must_use]
    pub fn from_lovibond(number: f64) -> Self {
        Self::from_srm(lovibond_to_srm(number))
    }
}
