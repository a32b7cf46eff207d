//! One vessel as its owner describes it: inside, walls, outlet, screen, instruments, what was
//! proved.
//!
//! Plain data with what each left-out number is taken as; it computes only what geometry and
//! material give.

use quantity::{
    Conductance, HeatCapacity, Length, Mass, Share, Stated, TemperatureDifference, Volume,
    VolumeFlow,
};

use crate::heater::Heater;
use crate::material::Material;
use crate::section::Section;

/// A part that a vessel plays on the day; one pot may play several.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Part {
    /// Hot liquor tank.
    Liquor,
    /// Mash tun.
    Mash,
    /// Kettle.
    Kettle,
    /// Fermenter.
    Fermenter,
}

impl Part {
    /// All parts, in the order of the day.
    pub const ALL: [Part; 4] = [Part::Liquor, Part::Mash, Part::Kettle, Part::Fermenter];

    /// The word in a document: `plays = ["mash"]`.
    pub fn key(self) -> &'static str {
        match self {
            Part::Liquor => "liquor",
            Part::Mash => "mash",
            Part::Kettle => "kettle",
            Part::Fermenter => "fermenter",
        }
    }

    /// The vessel's name when it plays this part.
    pub fn vessel_name(self) -> &'static str {
        match self {
            Part::Liquor => "Hot liquor tank",
            Part::Mash => "Mash tun",
            Part::Kettle => "Kettle",
            Part::Fermenter => "Fermenter",
        }
    }
}

/// The shape of the base, as written.
#[derive(Debug, Clone, PartialEq)]
pub enum Base {
    /// Flat, with the radius of its corner.
    Flat {
        /// Radius of the rounded corner; zero when sharp or not stated.
        corner: Length,
    },
    /// Bulges up into the pot.
    DomedUp {
        /// How far.
        rise: Length,
    },
    /// Bulges down.
    DomedDown {
        /// How far.
        rise: Length,
    },
    /// A torispherical dish of DIN 28011 proportions (crown radius D, knuckle 0.1 D).
    Dished,
    /// A cone.
    Cone {
        /// Included angle, degrees.
        angle_deg: f64,
    },
}

/// The inside, as written.
#[derive(Debug, Clone, PartialEq)]
pub enum Inside {
    /// A straight wall; two diameters where it was measured across twice.
    Straight {
        /// Inside diameter.
        diameter: Stated<Length>,
        /// The second diameter, at right angles to the first.
        across: Option<Stated<Length>>,
        /// Inside height from the lowest point to the brim.
        height: Stated<Length>,
        /// Shape of the base.
        base: Base,
    },
    /// A measured table, lowest point first.
    Table {
        /// Heights and volumes, strictly increasing.
        points: Vec<(Length, Volume)>,
        /// Height of the brim.
        brim: Stated<Length>,
    },
}

/// A layer of a wall, a base or an insulation.
#[derive(Debug, Clone, PartialEq)]
pub struct Layer {
    /// What it is made of.
    pub material: &'static Material,
    /// How thick.
    pub thickness: Length,
}

/// The lid.
#[derive(Debug, Clone, PartialEq)]
pub struct Lid {
    /// Its mass; left out: from the mouth and 0.8 mm of the wall's material.
    pub mass: Option<Stated<Mass>>,
}

/// An outlet with its valve.
#[derive(Debug, Clone, PartialEq)]
pub struct Valve {
    /// Height of its middle over the lowest point inside.
    pub height: Stated<Length>,
    /// The hole in the ball, or the narrowest place.
    pub bore: Stated<Length>,
    /// Height over the lowest point at which its dip tube ends inside; none: no dip tube.
    pub dip_tube: Option<Stated<Length>>,
    /// Flow wide open at the usual head, as proved with jug and clock.
    pub flow: Option<Stated<VolumeFlow>>,
}

impl Valve {
    /// Height under which it draws nothing, m: the end of its dip tube, or the lower edge of its
    /// bore.
    pub fn draws_from_m(&self) -> f64 {
        let edge_m = self.height.value.metres() - 0.5 * self.bore.value.metres();
        self.dip_tube.as_ref().map_or(edge_m, |tube| tube.value.metres()).max(0.0)
    }
}

/// What holds the grain back while wort runs off.
#[derive(Debug, Clone, PartialEq)]
pub enum Screen {
    /// A perforated plate over the base.
    FalseBottom {
        /// Height of the plate over the lowest point inside.
        height: Stated<Length>,
        /// Volume under it, as proved; left out: from the section.
        under: Option<Stated<Volume>>,
    },
    /// Slotted tubes on the base.
    Manifold {
        /// Height of the slots over the lowest point inside.
        height: Stated<Length>,
        /// Distance between the tubes.
        spacing: Option<Stated<Length>>,
    },
    /// A bag of cloth, lifted out at the end.
    Bag {
        /// Height of its lowest point over the lowest point inside (on a rack); zero: on the base.
        height: Stated<Length>,
    },
}

impl Screen {
    /// Height over the lowest point inside at which grain begins.
    pub fn height(&self) -> Length {
        match self {
            Screen::FalseBottom { height, .. }
            | Screen::Manifold { height, .. }
            | Screen::Bag { height } => height.value,
        }
    }
}

/// What kind of thermometer it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ThermometerKind {
    /// A bimetal dial through the wall.
    Dial,
    /// A dial in a well.
    DialInWell,
    /// A digital probe.
    Digital,
    /// A platinum probe.
    Platinum,
    /// Liquid in glass.
    Glass,
}

/// A thermometer in a vessel.
#[derive(Debug, Clone, PartialEq)]
pub struct Thermometer {
    /// What kind it is.
    pub kind: ThermometerKind,
    /// Height of its stem over the lowest point inside; left out: hand-held, wherever it is put.
    pub height: Option<Stated<Length>>,
    /// Class as marked on it: "1", "2", "A", "B".
    pub class: Option<String>,
    /// What it shows minus what is true, as proved: negative when it reads low.
    pub bias: Option<Stated<TemperatureDifference>>,
    /// Step to which its scale is read; left out: 1 K for a dial, 0.5 K for glass, 0.1 K else
    /// (on a Fahrenheit scale 2, 1 and 0.2 °F).
    pub step: TemperatureDifference,
}

/// Marks on the wall or on a stick.
#[derive(Debug, Clone, PartialEq)]
pub struct Marks {
    /// Volume from one mark to the next.
    pub step: Volume,
    /// When they were proved by filling, as written: year-month-day.
    pub proved: Option<String>,
}

/// Something the owner proved, and when.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Proved {
    /// What: "fill to marks", "heat-up", "boil-off".
    pub what: String,
    /// When, as written: year-month-day.
    pub date: String,
}

/// One vessel.
#[derive(Debug, Clone, PartialEq)]
pub struct Vessel {
    /// Its key in the document: `[vessel.tun]` has the key `tun`.
    pub key: String,
    /// Its name; left out: by its first part.
    pub name: String,
    /// The parts it plays.
    pub plays: Vec<Part>,
    /// The inside as written.
    pub inside: Inside,
    /// The inside as geometry: height to volume and back, without what stands in it.
    pub section: Section,
    /// The wall.
    pub wall: Layer,
    /// The base, layer by layer from the wet side out.
    pub base: Vec<Layer>,
    /// The lid; none: it has no lid.
    pub lid: Option<Lid>,
    /// Insulation round the wall.
    pub insulation: Option<Layer>,
    /// Height of its base over the ground.
    pub stand: Stated<Length>,
    /// What the stand bears, as its maker says.
    pub stand_bears: Option<Mass>,
    /// Outlets, lowest first.
    pub valves: Vec<Valve>,
    /// What holds the grain back.
    pub screen: Option<Screen>,
    /// Its thermometer.
    pub thermometer: Option<Thermometer>,
    /// Its marks.
    pub marks: Option<Marks>,
    /// What heats it.
    pub heater: Option<Heater>,
    /// Least level over the lowest point while it is heated; left out: 60 mm, or 50 mm over an
    /// element, whichever is higher (common practice).
    pub least_level: Option<Stated<Length>>,
    /// Left behind when drained, as proved; left out: from the section and the outlet.
    pub left_behind: Option<Stated<Volume>>,
    /// Left in trub and hops, as proved (a kettle).
    pub trub_and_hops: Option<Stated<Volume>>,
    /// Boil-off at the usual flame, as proved (a kettle): cold volume for each time.
    pub boil_off: Option<Stated<VolumeFlow>>,
    /// Heat lost through the walls for each kelvin, lid on, as proved.
    pub walls: Option<Stated<Conductance>>,
    /// Heat held by the metal, as proved; left out: from geometry and material.
    pub metal: Option<Stated<HeatCapacity>>,
    /// Rise after the flame is out, as proved.
    pub coast: Option<Stated<TemperatureDifference>>,
    /// Share of the kettle kept free for foam, as stated; left out: 0.20 (common
    /// practice: 0.20 to 0.25 for the first foam, 0.30 with much wheat).
    pub head_space: Option<Stated<Share>>,
    /// What was proved, and when.
    pub proved: Vec<Proved>,
}

impl Vessel {
    /// Whether it plays a part.
    pub fn plays(&self, part: Part) -> bool {
        self.plays.contains(&part)
    }

    /// The lowest outlet.
    pub fn outlet(&self) -> Option<&Valve> {
        self.valves.first()
    }
}
