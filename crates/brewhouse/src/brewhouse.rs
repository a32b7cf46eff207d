//! One place with all its vessels, heaters, chillers, hoses and instruments.
//!
//! Plain data; what is left out is `None`, and the method of the same name says what it is taken
//! as.

use quantity::{
    Altitude, Conductance, Length, Power, Share, Stated, Temperature, TemperatureDifference,
    UnitSystem, Volume, VolumeFlow,
};

use crate::vessel::{Part, Vessel};

/// Where the brewhouse stands; decides which flames are refused.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Place {
    /// In the open.
    Outdoors,
    /// Under a roof with at least two sides open.
    OpenShed,
    /// A porch, tent or shed with walls.
    Porch,
    /// A garage.
    Garage,
    /// A cellar.
    Cellar,
    /// A kitchen or another room of a house.
    Indoors,
}

impl Place {
    /// Whether fumes stay in it.
    pub fn is_closed(self) -> bool {
        !matches!(self, Place::Outdoors | Place::OpenShed)
    }

    /// Whether wind reaches the flame.
    pub fn is_windy(self) -> bool {
        !self.is_closed()
    }

    /// The word in a sentence.
    pub fn word(self) -> &'static str {
        match self {
            Place::Outdoors => "outdoors",
            Place::OpenShed => "open shed",
            Place::Porch => "porch",
            Place::Garage => "garage",
            Place::Cellar => "cellar",
            Place::Indoors => "indoors",
        }
    }
}

/// An electric circuit and what it carries.
#[derive(Debug, Clone, PartialEq)]
pub struct Circuit {
    /// The person's name for it.
    pub name: String,
    /// Most power it carries for long.
    pub limit: Power,
}

/// How the wort is cooled.
#[derive(Debug, Clone, PartialEq)]
pub struct Chiller {
    /// What kind it is.
    pub kind: ChillerKind,
    /// Flow of the cooling water; left out: 6 L/min (our choice).
    pub water_flow: Option<Stated<VolumeFlow>>,
    /// Temperature of the cooling water; left out: that of the liquor as it comes.
    pub water: Option<Stated<Temperature>>,
    /// Heat flow for each kelvin between wort and water, as proved.
    pub conductance: Option<Stated<Conductance>>,
    /// Length of its tube.
    pub length: Option<Stated<Length>>,
    /// Outside diameter of its tube.
    pub tube: Option<Stated<Length>>,
    /// Wort it keeps when emptied.
    pub left_behind: Option<Stated<Volume>>,
}

/// Kinds of chiller.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ChillerKind {
    /// A coil hung into the kettle, water inside.
    Coil,
    /// Wort and water in opposite ways through a tube in a tube.
    CounterFlow,
    /// A plate chiller.
    Plate,
    /// The whole pot stands in cold water.
    Bath,
    /// The shut pot or fermenter cools by itself over night.
    Air,
}

/// A pump.
#[derive(Debug, Clone, PartialEq)]
pub struct Pump {
    /// Flow with nothing in its way.
    pub flow: Stated<VolumeFlow>,
    /// Height at which it stops delivering.
    pub head: Option<Stated<Length>>,
    /// Flow it is run at through the bed, as the person does it.
    pub through_bed: Option<Stated<VolumeFlow>>,
    /// Hottest liquid it bears.
    pub hottest: Option<Temperature>,
    /// The electric circuit it hangs on.
    pub circuit: Option<String>,
}

/// How wort is brought back over the bed until it runs clear.
#[derive(Debug, Clone, PartialEq)]
pub enum Recirculate {
    /// By the pump.
    Pump,
    /// By a jug of this volume.
    Jug {
        /// What it holds at its mark.
        volume: Volume,
    },
    /// Not at all.
    None,
}

/// A hose between two places.
#[derive(Debug, Clone, PartialEq)]
pub struct Hose {
    /// Key of the vessel it comes from.
    pub from: String,
    /// Key of the vessel it goes to.
    pub to: String,
    /// Inside diameter.
    pub bore: Stated<Length>,
    /// Length.
    pub length: Stated<Length>,
    /// Liquid it keeps when the flow ends; left out: a fifth of what fills it (our choice).
    pub left_behind: Option<Stated<Volume>>,
    /// It ends in a sprinkler over the bed.
    pub sprinkler: bool,
}

impl Hose {
    /// Liquid that fills it, m³.
    pub fn full_m3(&self) -> f64 {
        let bore_m = self.bore.value.metres();
        self.length.value.metres() * std::f64::consts::PI * bore_m * bore_m / 4.0
    }

    /// Liquid it keeps when the flow ends, m³.
    pub fn left_m3(&self) -> f64 {
        self.left_behind.as_ref().map_or(0.2 * self.full_m3(), |v| v.value.cubic_metres())
    }
}

/// Instruments that belong to no vessel.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Instruments {
    /// Hydrometer: step of its scale and bias.
    pub hydrometer: Option<Hydrometer>,
    /// Refractometer: its factor for wort.
    pub refractometer: Option<Refractometer>,
    /// pH meter: when its two points were set.
    pub ph_meter: Option<PhMeter>,
    /// Jug for pouring and timing.
    pub jug: Option<Stated<Volume>>,
}

/// A hydrometer.
#[derive(Debug, Clone, PartialEq)]
pub struct Hydrometer {
    /// Temperature its scale is made for.
    pub made_for: Temperature,
    /// What it shows minus what is true, points.
    pub bias_points: f64,
    /// Step in points to which it is read.
    pub step_points: f64,
}

/// A refractometer.
#[derive(Debug, Clone, PartialEq)]
pub struct Refractometer {
    /// Reading over extract for wort; left out: 1.04 (common practice, spread 0.015).
    pub wort_factor: Option<f64>,
}

/// A pH meter.
#[derive(Debug, Clone, PartialEq)]
pub struct PhMeter {
    /// When its two points were set, as written.
    pub set: Option<String>,
}

/// One brewhouse.
#[derive(Debug, Clone, PartialEq)]
pub struct Brewhouse {
    /// Its name.
    pub name: String,
    /// Units its owner thinks in.
    pub units: UnitSystem,
    /// Where it stands.
    pub place: Place,
    /// Height over the sea; left out: 0 m.
    pub elevation: Option<Stated<Altitude>>,
    /// Air round the pots; left out: 20 °C.
    pub air: Option<Stated<Temperature>>,
    /// Humidity of the air; left out: 50 %.
    pub humidity: Option<Stated<Share>>,
    /// Liquor as it comes from tap or well; left out: 12 °C.
    pub liquor_comes_at: Option<Stated<Temperature>>,
    /// Its vessels, in the order of the document.
    pub vessels: Vec<Vessel>,
    /// Electric circuits.
    pub circuits: Vec<Circuit>,
    /// When the residual-current breaker (GFCI) was last tested, as written.
    pub breaker_tested: Option<String>,
    /// How the wort is cooled.
    pub chiller: Option<Chiller>,
    /// Its pump.
    pub pump: Option<Pump>,
    /// How wort is brought back over the bed.
    pub recirculate: Recirculate,
    /// Its hoses.
    pub hoses: Vec<Hose>,
    /// Gap of the mill.
    pub mill_gap: Option<Stated<Length>>,
    /// Liquor kept back, above what valve and element leave; left out: 4 L, or 1 gal with US
    /// units.
    pub reserve: Option<Stated<Volume>>,
    /// Malt dust and crumbs apart, liquor held by the drained grain as proved, m³/kg; left out:
    /// by the bed's own law.
    pub grain_holds_m3_kg: Option<f64>,
    /// Propane or other gas in the bottle, kg.
    pub gas_left: Option<Stated<quantity::Mass>>,
    /// How many people brew; left out: one.
    pub people: u32,
    /// Instruments that belong to no vessel.
    pub instruments: Instruments,
}

impl Brewhouse {
    /// The vessel that plays a part.
    pub fn playing(&self, part: Part) -> Option<&Vessel> {
        self.vessels.iter().find(|vessel| vessel.plays(part))
    }

    /// The vessel with a key.
    pub fn vessel(&self, key: &str) -> Option<&Vessel> {
        self.vessels.iter().find(|vessel| vessel.key == key)
    }

    /// Height over the sea, m.
    pub fn elevation_m(&self) -> f64 {
        self.elevation.as_ref().map_or(0.0, |z| z.value.metres())
    }

    /// Air round the pots (20 °C where not stated, our choice).
    pub fn air(&self) -> Temperature {
        self.air.as_ref().map_or(Temperature::from_celsius(20.0), |t| t.value)
    }

    /// Humidity of the air (50 % where not stated, our choice).
    pub fn humidity(&self) -> f64 {
        self.humidity.as_ref().map_or(0.5, |h| h.value.fraction())
    }

    /// Liquor as it comes (12 °C where not stated, our choice).
    pub fn liquor_comes_at(&self) -> Temperature {
        self.liquor_comes_at.as_ref().map_or(Temperature::from_celsius(12.0), |t| t.value)
    }

    /// Liquor kept back above what valve and element leave: as stated, or 4 L, or 1 gal.
    pub fn reserve(&self) -> Volume {
        let usual = match self.units {
            UnitSystem::Metric => Volume::from_litres(4.0),
            UnitSystem::Us => Volume::from_gallons(1.0),
        };
        self.reserve.as_ref().map_or(usual, |v| v.value)
    }

    /// Whether two vessels share one heater: the same name, so one at a time.
    pub fn share_a_heater(&self, one: &Vessel, other: &Vessel) -> bool {
        let name = |v: &Vessel| v.heater.as_ref().and_then(|h| h.name.clone());
        one.key != other.key && name(one).is_some() && name(one) == name(other)
    }

    /// Liquid the hoses between two vessels keep, m³.
    pub fn hose_left_m3(&self, from: &str, to: &str) -> f64 {
        let between = self.hoses.iter().filter(|h| h.from == from && h.to == to);
        between.map(Hose::left_m3).sum()
    }
}

/// A bias as a plain number of kelvin, zero where nothing was proved.
pub fn bias_k(bias: Option<&Stated<TemperatureDifference>>) -> f64 {
    bias.map_or(0.0, |b| b.value.kelvin())
}
