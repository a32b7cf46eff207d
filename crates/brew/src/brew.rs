//! The brew: what is wanted, and how the brewer means to get there.
//!
//! Plain data. What is left out is `None` and the planner's to find; what is marked `about` is
//! where it starts to look. Knows no pots.

use quantity::{
    Bitterness, ChargeConcentration, Colour, Duration, Extract, Mass, MassConcentration, Quantity,
    Share, Stated, Temperature, UnitSystem, Volume, VolumeFlow,
};

/// A wanted value with what either side of it is still good.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Target<Q> {
    /// What is wanted.
    pub value: Q,
    /// Half-width of the gate, in the SI unit of the quantity.
    pub tolerance: f64,
    /// Whether the tolerance was stated by the person or is the usual one.
    pub tolerance_stated: bool,
}

impl<Q: Quantity> Target<Q> {
    /// Whether a value in the SI unit lies within the gate.
    pub fn holds(&self, si: f64) -> bool {
        (si - self.value.si()).abs() <= self.tolerance
    }
}

/// How far down the yeast may bring it: one of two ways to say the same wish.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Limit {
    /// Limit of apparent attenuation of the wort.
    Fermentability(Target<Share>),
    /// The gravity at which it has finished.
    FinalGravity(Target<Extract>),
}

/// What is wanted in the fermenter and in the glass; a wish left out is not wanted.
#[derive(Debug, Clone, PartialEq)]
pub struct Wanted {
    /// Volume in the fermenter at 20 °C.
    pub volume: Target<Volume>,
    /// Extract there.
    pub gravity: Target<Extract>,
    /// Bitterness of the finished beer, without dry hops.
    pub bitterness: Option<Target<Bitterness>>,
    /// Fermentability or final gravity.
    pub limit: Option<Limit>,
    /// Colour of the finished beer.
    pub colour: Option<Target<Colour>>,
}

/// How much of a malt.
#[derive(Debug, Clone, PartialEq)]
pub enum GristAmount {
    /// A mass.
    Mass(Stated<Mass>),
    /// A share of the grist by mass; the planner finds the mass.
    Share(Stated<Share>),
    /// What is left over to 100 %.
    Rest,
}

/// One malt of the grist.
#[derive(Debug, Clone, PartialEq)]
pub struct GristItem {
    /// Its generic class: "pale malt".
    pub malt: String,
    /// What the person calls it.
    pub name: Option<String>,
    /// How much.
    pub amount: GristAmount,
    /// What the maltster's certificate says; each number overrides the typical one.
    pub certificate: Certificate,
}

/// A certificate of analysis; what is not on it is typical of the class.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Certificate {
    /// Extract of the fine grind, dry basis.
    pub extract: Option<Stated<Share>>,
    /// Moisture.
    pub moisture: Option<Stated<Share>>,
    /// Difference of fine and coarse grind.
    pub fine_coarse: Option<Stated<Share>>,
    /// Colour of its wort at 8 °P (the EBC laboratory mash).
    pub colour: Option<Stated<Colour>>,
    /// Protein, dry basis.
    pub protein: Option<Stated<Share>>,
}

/// What was measured of the liquor as it comes; what is left out is assumed.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Analysis {
    /// Alkalinity.
    pub alkalinity: Option<Stated<ChargeConcentration>>,
    /// Calcium.
    pub calcium: Option<Stated<MassConcentration>>,
    /// Magnesium.
    pub magnesium: Option<Stated<MassConcentration>>,
    /// Sodium.
    pub sodium: Option<Stated<MassConcentration>>,
    /// Chloride.
    pub chloride: Option<Stated<MassConcentration>>,
    /// Sulphate.
    pub sulphate: Option<Stated<MassConcentration>>,
    /// pH as it comes.
    pub ph: Option<f64>,
}

/// Which liquor something goes into.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LiquorUse {
    /// All of it.
    All,
    /// The strike.
    Strike,
    /// The sparge.
    Sparge,
}

/// A salt.
#[derive(Debug, Clone, PartialEq)]
pub struct Salt {
    /// Its name: "gypsum".
    pub salt: String,
    /// Its mass.
    pub mass: Stated<Mass>,
    /// What it goes into.
    pub to: LiquorUse,
}

/// An acid.
#[derive(Debug, Clone, PartialEq)]
pub struct Acid {
    /// Its name and strength: "lactic 80 %".
    pub acid: String,
    /// How much; left out: the planner finds it for the wanted pH.
    pub volume: Option<Stated<Volume>>,
    /// What it goes into.
    pub to: LiquorUse,
}

/// The liquor.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Liquor {
    /// What was measured of it.
    pub analysis: Analysis,
    /// Salts to add.
    pub salts: Vec<Salt>,
    /// Acids to add.
    pub acids: Vec<Acid>,
    /// pH wanted in the mash, measured at room temperature; with `find` and left out: 5.4 (common
    /// practice is 5.2 to 5.6).
    pub mash_ph: Option<f64>,
    /// Whether acid is to be found for the wanted pH.
    pub find: bool,
}

/// The trade name of a rest.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RestName {
    /// Protein rest, about 45 to 55 °C.
    Protein,
    /// Saccharification rest, about 60 to 70 °C.
    Saccharification,
    /// Dextrinising rest, about 70 to 74 °C.
    Dextrinising,
    /// Mash-out, about 75 to 79 °C.
    MashOut,
}

impl RestName {
    /// The name in a document and on a page.
    pub fn word(self) -> &'static str {
        match self {
            RestName::Protein => "protein",
            RestName::Saccharification => "saccharification",
            RestName::Dextrinising => "dextrinising",
            RestName::MashOut => "mash-out",
        }
    }
}

/// How a rest is reached.
#[derive(Debug, Clone, PartialEq)]
pub enum Reach {
    /// By the strike: the first rest always.
    Strike,
    /// By fire under the tun, with stirring or the pump.
    Fire,
    /// By hot liquor.
    HotLiquor,
    /// By boiling a part of the mash and bringing it back.
    Decoction {
        /// The thick part (from the bottom) or the thin.
        thick: bool,
        /// How long the part boils.
        boil: Duration,
    },
}

/// One rest.
#[derive(Debug, Clone, PartialEq)]
pub struct Rest {
    /// Its trade name.
    pub name: Option<RestName>,
    /// Its temperature.
    pub at: Stated<Temperature>,
    /// Its length.
    pub length: Stated<Duration>,
    /// How it is reached.
    pub by: Reach,
}

/// The mash beside its rests.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Mash {
    /// Strike liquor for each kilogram of grist; left out: found.
    pub thickness: Option<Thickness>,
    /// Recirculation before run-off; left out: until it runs clear by the usual law.
    pub recirculate: Option<Stated<Duration>>,
}

/// Liquor for each mass of grist.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Thickness {
    /// m³ of liquor for each kg of grist.
    pub m3_kg: f64,
    /// Whether the person marked it `about`.
    pub about: bool,
}

/// How the bed is washed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SpargeHow {
    /// Liquor in as wort runs off.
    Continuous,
    /// The bed is drained, filled and drained again so many times.
    Drains(u32),
    /// Not at all: all liquor goes in at the strike.
    None,
}

/// The sparge.
#[derive(Debug, Clone, PartialEq)]
pub struct Sparge {
    /// How.
    pub how: SpargeHow,
    /// Temperature of its liquor; left out: found, not over 80 °C.
    pub at: Option<Stated<Temperature>>,
    /// Rate of run-off; left out: found.
    pub rate: Option<Stated<VolumeFlow>>,
}

/// The boil.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Boil {
    /// Its length; left out: found.
    pub length: Option<Stated<Duration>>,
    /// The marked setting it is boiled at: "boil line".
    pub flame: Option<String>,
}

/// What a hop is sold as.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum HopForm {
    /// Pellets.
    Pellets,
    /// Whole cones.
    Cones,
}

/// When something is added.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum When {
    /// With the grist.
    Mash,
    /// Into the first wort, as the kettle fills.
    FirstWort,
    /// As the boil starts.
    StartOfBoil,
    /// So long before the end of the boil.
    BeforeEnd(Duration),
    /// As the flame goes out.
    FlameOut,
    /// After cooling to a temperature, for a time.
    Stand {
        /// Temperature of the stand.
        at: Temperature,
        /// Its length.
        length: Duration,
    },
    /// Into the fermenter with the yeast.
    Pitch,
    /// Into the fermenting or finished beer.
    Dry,
}

/// How much of a hop.
#[derive(Debug, Clone, PartialEq)]
pub enum HopAmount {
    /// A mass.
    Mass(Stated<Mass>),
    /// What it gives to the finished beer; the planner finds the mass.
    Gives(Stated<Bitterness>),
    /// Its share of the wanted bitterness.
    Share(Stated<Share>),
    /// What is left of the wanted bitterness.
    Rest,
}

/// One hop addition.
#[derive(Debug, Clone, PartialEq)]
pub struct HopAddition {
    /// What the person calls it.
    pub kind: String,
    /// Its generic type or a public cultivar, by the table of hops: "bittering type", "Saaz".
    pub class: String,
    /// Alpha acids; left out: the middle of its class.
    pub alpha: Option<Stated<Share>>,
    /// Pellets or cones.
    pub form: HopForm,
    /// Whether it hangs in a bag.
    pub in_bag: bool,
    /// Age since harvest or packing.
    pub age: Option<Stated<Duration>>,
    /// Temperature it was kept at.
    pub kept_at: Option<Stated<Temperature>>,
    /// When.
    pub add: When,
    /// How much.
    pub amount: HopAmount,
}

/// What another addition is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum AdditionKind {
    /// Finings.
    Finings,
    /// Food for the yeast.
    Nutrient,
    /// Sugar or malt extract, by its row in the table of sugars.
    Sugar,
    /// Spice, peel, fruit.
    Spice,
}

/// Another addition.
#[derive(Debug, Clone, PartialEq)]
pub struct Addition {
    /// What it is.
    pub kind: AdditionKind,
    /// What the person calls it; for a sugar its row in the table of sugars.
    pub what: String,
    /// Its mass.
    pub amount: Stated<Mass>,
    /// When.
    pub add: When,
}

/// The yeast.
#[derive(Debug, Clone, PartialEq)]
pub struct Yeast {
    /// Its generic class: "clean ale".
    pub class: String,
    /// What the person calls it.
    pub name: Option<String>,
    /// Its mass.
    pub amount: Option<Stated<Mass>>,
}

/// One brew.
#[derive(Debug, Clone, PartialEq)]
pub struct Brew {
    /// Its name.
    pub name: String,
    /// Units its brewer thinks in, where stated.
    pub units: Option<UnitSystem>,
    /// What is wanted.
    pub wanted: Wanted,
    /// The grist.
    pub grist: Vec<GristItem>,
    /// The liquor.
    pub liquor: Liquor,
    /// The mash beside its rests.
    pub mash: Mash,
    /// The rests, in order; at least one.
    pub rests: Vec<Rest>,
    /// The sparge.
    pub sparge: Sparge,
    /// The boil.
    pub boil: Boil,
    /// Hops, in the order of the document.
    pub hops: Vec<HopAddition>,
    /// Other additions.
    pub additions: Vec<Addition>,
    /// Temperature the wort is cooled to; left out: 20 °C.
    pub pitch: Option<Stated<Temperature>>,
    /// The yeast.
    pub yeast: Option<Yeast>,
}

impl Brew {
    /// Temperature the wort is cooled to (20 °C where not stated, our choice).
    pub fn pitch_at(&self) -> Temperature {
        self.pitch.as_ref().map_or(Temperature::from_celsius(20.0), |t| t.value)
    }
}
