//! The kinds of quantity at run time, with what may be written for each.
//!
//! It holds no factor: units live in `unit`.

/// A kind of quantity.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[allow(missing_docs, reason = "each is described at the newtype of the same name")]
pub enum Dimension {
    Temperature,
    TemperatureDifference,
    Mass,
    Volume,
    Length,
    Altitude,
    Area,
    Duration,
    Power,
    Energy,
    VolumeFlow,
    MassFlow,
    Pressure,
    Density,
    HeatCapacity,
    Conductance,
    Share,
    Extract,
    Colour,
    Bitterness,
    MassConcentration,
    ChargeConcentration,
    MolarConcentration,
    Hardness,
    CarbonDioxide,
    Acidity,
    Refraction,
}

use Dimension as D;

impl Dimension {
    /// All of them, in the order of their declaration.
    pub const ALL: [Dimension; 27] = [
        D::Temperature,
        D::TemperatureDifference,
        D::Mass,
        D::Volume,
        D::Length,
        D::Altitude,
        D::Area,
        D::Duration,
        D::Power,
        D::Energy,
        D::VolumeFlow,
        D::MassFlow,
        D::Pressure,
        D::Density,
        D::HeatCapacity,
        D::Conductance,
        D::Share,
        D::Extract,
        D::Colour,
        D::Bitterness,
        D::MassConcentration,
        D::ChargeConcentration,
        D::MolarConcentration,
        D::Hardness,
        D::CarbonDioxide,
        D::Acidity,
        D::Refraction,
    ];

    /// The name with its article, as a message says it: "a volume".
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            D::Temperature => "a temperature",
            D::TemperatureDifference => "a temperature difference",
            D::Mass => "a mass",
            D::Volume => "a volume",
            D::Length => "a length",
            D::Altitude => "a height over the sea",
            D::Area => "an area",
            D::Duration => "a time",
            D::Power => "a power",
            D::Energy => "an energy",
            D::VolumeFlow => "a flow",
            D::MassFlow => "a mass flow",
            D::Pressure => "a pressure",
            D::Density => "a density",
            D::HeatCapacity => "a heat capacity",
            D::Conductance => "a heat flow per kelvin",
            D::Share => "a share",
            D::Extract => "a gravity",
            D::Colour => "a colour",
            D::Bitterness => "a bitterness",
            D::MassConcentration => "a mass in a volume",
            D::ChargeConcentration => "an alkalinity",
            D::MolarConcentration => "an amount in a volume",
            D::Hardness => "a hardness",
            D::CarbonDioxide => "a carbonation",
            D::Acidity => "a pH",
            D::Refraction => "a refractometer reading",
        }
    }

    /// The unit of the number inside the newtype.
    #[must_use]
    pub fn si_unit(self) -> &'static str {
        match self {
            D::Temperature | D::TemperatureDifference => "K",
            D::Mass => "kg",
            D::Volume => "m³",
            D::Length | D::Altitude => "m",
            D::Area => "m²",
            D::Duration => "s",
            D::Power => "W",
            D::Energy => "J",
            D::VolumeFlow => "m³/s",
            D::MassFlow => "kg/s",
            D::Pressure => "Pa",
            D::Density | D::MassConcentration => "kg/m³",
            D::HeatCapacity => "J/K",
            D::Conductance => "W/K",
            D::Share => "1",
            D::Extract | D::Refraction => "kg/kg",
            D::Colour => "EBC",
            D::Bitterness => "IBU",
            D::ChargeConcentration | D::MolarConcentration | D::Hardness => "mol/m³",
            D::CarbonDioxide => "vol",
            D::Acidity => "pH",
        }
    }

    /// An example as a person would write it.
    #[must_use]
    pub fn example(self) -> &'static str {
        match self {
            D::Temperature => "65 °C",
            D::TemperatureDifference => "2 K",
            D::Mass => "4.5 kg",
            D::Volume => "21 L",
            D::Length => "400 mm",
            D::Altitude => "450 m",
            D::Area => "40 cm²",
            D::Duration => "60 min",
            D::Power => "9.5 kW",
            D::Energy => "12 MJ",
            D::VolumeFlow => "1.2 L/min",
            D::MassFlow => "2 kg/h",
            D::Pressure => "0.8 bar",
            D::Density => "1050 kg/m³",
            D::HeatCapacity => "3 kJ/K",
            D::Conductance => "500 W/K",
            D::Share => "75 %",
            D::Extract => "12.6 °P",
            D::Colour => "19 EBC",
            D::Bitterness => "32 IBU",
            D::MassConcentration => "80 mg/L",
            D::ChargeConcentration => "2 meq/L",
            D::MolarConcentration => "1.5 mmol/L",
            D::Hardness => "8 °dH",
            D::CarbonDioxide => "2.4 vol",
            D::Acidity => "5.4",
            D::Refraction => "12.8 °Bx",
        }
    }

    /// Whether a minus may stand before a number of this kind in any of its units. Where it may
    /// not, "−0" is refused like every other number below nothing.
    #[must_use]
    pub fn takes_sign(self) -> bool {
        self.limits().0 < 0.0 || self == D::Temperature
    }

    /// Least and greatest number in the SI unit that can be meant at all (our choice: far outside
    /// anything a brewer owns, so that only a slip is refused). Zero as the least also says that
    /// a negative one is impossible.
    #[must_use]
    pub fn limits(self) -> (f64, f64) {
        match self {
            D::Temperature => (0.0, 2000.0),
            D::TemperatureDifference => (-2000.0, 2000.0),
            D::Mass => (0.0, 1e6),
            D::Volume => (0.0, 1e4),
            D::Length => (0.0, 1e4),
            D::Altitude => (-500.0, 9000.0),
            D::Area => (0.0, 1e4),
            D::Duration => (0.0, 3.2e8),
            D::Power => (0.0, 1e8),
            D::Energy => (0.0, 1e12),
            D::VolumeFlow | D::MassFlow => (0.0, 1e3),
            D::Pressure => (0.0, 1e8),
            D::Density => (0.0, 3e4),
            D::HeatCapacity | D::Conductance => (0.0, 1e9),
            D::Share => (0.0, 1.0),
            D::Extract => (-0.06, 0.85),
            D::Refraction => (-0.02, 0.95),
            D::Colour => (0.0, 1e4),
            D::Bitterness => (0.0, 1e4),
            D::MassConcentration => (0.0, 3e3),
            D::ChargeConcentration => (-1e5, 1e5),
            D::MolarConcentration | D::Hardness => (0.0, 1e5),
            D::CarbonDioxide => (0.0, 100.0),
            D::Acidity => (0.0, 14.0),
        }
    }
}
