//! What the vessels are: section, wall, heater, plumbing, instruments; the brewhouse document.
//!
//! Knows no brew, no clock and no process: what happens in the vessels is computed elsewhere.
//! In reading order: [`brewhouse`] is the whole place, [`vessel`] one pot, [`heater`] what heats
//! it; [`section`] turns height into volume and back, [`material`], [`fuel`] and [`flow`] are the
//! physics of walls, flames and plumbing, [`fit`] is what they give where nothing was proved;
//! [`instrument`] is what would be shown, [`danger`] and [`caution`] what can hurt.

pub mod brewhouse;
pub mod caution;
pub mod danger;
pub mod fit;
pub mod flow;
pub mod fuel;
pub mod heater;
pub mod instrument;
mod judge;
pub mod material;
mod read;
mod rows;
pub mod section;
mod shape;
pub mod vessel;

pub use brewhouse::{
    Brewhouse, Chiller, ChillerKind, Circuit, Hose, Hydrometer, Instruments, PhMeter, Place, Pump,
    Recirculate, Refractometer, bias_k,
};
pub use caution::{Caution, OVER_EVERYTHING, Strength};
pub use heater::{FlameMark, Fuel, Heater, HeaterKind};
pub use material::Material;
pub use read::{ReadBrewhouse, read, read_file, read_placed, schema};
pub use section::{BaseShape, Displacer, Section, TableError, VolumeTable};
pub use vessel::{
    Base, Inside, Layer, Lid, Marks, Part, Proved, Screen, Thermometer, ThermometerKind, Valve,
    Vessel,
};
