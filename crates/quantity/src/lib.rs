//! Units and scales: typed quantities over SI, text in a person's units in and out.
//!
//! It knows no beer beyond the scales that beer is measured on (extract, colour, bitterness), no
//! files and no pages. Computation elsewhere is in SI; the units a person writes exist only here.
//!
//! ```
//! use quantity::{Length, Temperature, UnitSystem, Volume, read};
//!
//! let tun = read::<Length>("400 mm ± 1 mm")?;
//! assert_eq!(tun.value.metres(), 0.4);
//! assert_eq!(tun.half_width, Some(0.001));
//! assert_eq!(read::<Temperature>("145 °F")?.value.celsius().round(), 63.0);
//! assert_eq!(quantity::write(Volume::from_litres(21.04), UnitSystem::Metric), "21.0\u{202f}L");
//! # Ok::<(), quantity::ReadError>(())
//! ```

mod dimension;
mod extract;
mod kinds;
mod number;
mod pattern;
mod read;
mod refuse;
mod unit;
mod write;

pub use dimension::Dimension;
pub use extract::{
    SUCROSE_DENSITY_20C, WATER_DENSITY_20C_KG_M3, density_20c_from_extract,
    extract_from_specific_gravity, specific_gravity_from_extract,
};
pub use kinds::{
    Acidity, Altitude, Area, Bitterness, CarbonDioxide, ChargeConcentration, Colour, Conductance,
    Density, Duration, Energy, Extract, Hardness, HeatCapacity, Length, Mass, MassConcentration,
    MassFlow, MolarConcentration, Power, Pressure, Quantity, Refraction, Share, Temperature,
    TemperatureDifference, Volume, VolumeFlow,
};
pub use pattern::pattern;
pub use read::{Stated, StatedSi, read, read_any};
pub use refuse::{ReadError, Reason};
pub use unit::{BTU_J, GALLON_M3, POUND_KG, Unit, units_of};
pub use write::{
    Clock, NARROW, UnitSystem, write, write_clock, write_countdown, write_flow_per_hour,
    write_hops, write_limit, write_si, write_stated, write_within,
};
