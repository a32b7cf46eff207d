//! What the section is drawn from: plain numbers of the vessels and of what lies between them.
//! It deliberately holds no geometry and no rule of the process: a view says what there is.

use crate::units::Units;

/// What fills an area or runs in a pipe.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Substance {
    /// Liquor.
    #[default]
    Water,
    /// Wort, and beer.
    Wort,
}

/// What stands in a vessel.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Contents {
    /// Nothing.
    #[default]
    Empty,
    /// Liquor.
    Water,
    /// Wort or beer.
    Wort,
    /// Wort over and in a bed of grain.
    Mash {
        /// Depth of the bed above the false bottom, or above the base where there is none, in mm.
        bed_mm: f64,
    },
}

/// How the base of a vessel is shaped.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum BaseView {
    /// Flat.
    #[default]
    Flat,
    /// Bulging down, dished or domed; drawn as half an ellipse.
    Round {
        /// Height over the lowest point from which on the wall is straight, in mm.
        depth_mm: f64,
    },
    /// A cone with its tip down.
    Cone {
        /// Height over the tip from which on the wall is straight, in mm.
        depth_mm: f64,
    },
}

/// The inside of a vessel and its wall, upright and round.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct ShapeView {
    /// Inside diameter in mm.
    pub inside_diameter_mm: f64,
    /// Inside height in mm.
    pub inside_height_mm: f64,
    /// Thickness of the wall in mm.
    pub wall_mm: f64,
    /// Thickness of the base in mm.
    pub base_mm: f64,
    /// The base is clad: a plate of another metal beneath it.
    pub clad: bool,
    /// Shape of the base.
    pub base: BaseView,
}

/// What a vessel stands on. A burner brings its own legs.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum StandKind {
    /// The ground itself, or a step down where the height is negative.
    #[default]
    Ground,
    /// A braced frame or tower.
    Frame,
    /// A table, free on its legs.
    Table,
    /// A kitchen worktop; when every vessel stands on one, it is the ground of the drawing.
    Worktop,
}

/// What heats a vessel.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Heater {
    /// Nothing.
    #[default]
    None,
    /// An electric element in the liquid.
    Element {
        /// Height above the inside of the base, in mm.
        height_mm: f64,
        /// It is on.
        on: bool,
    },
    /// A burner under the vessel.
    Burner {
        /// It burns.
        lit: bool,
        /// It stands under another vessel now; drawn as a phantom.
        elsewhere: bool,
    },
    /// A ring of a stove, gas or electric.
    Hob,
    /// An induction plate.
    Induction,
}

/// The lid of a vessel.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Lid {
    /// It has none.
    #[default]
    None,
    /// It lies on the vessel.
    On,
    /// It is off, leaning beside it; not drawn.
    Off,
}

/// A valve in the wall.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct ValveView {
    /// Height of its axis above the inside of the base, in mm.
    pub height_mm: f64,
    /// Bore in mm.
    pub bore_mm: f64,
    /// It is open.
    pub open: bool,
}

/// One vessel of the section.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct VesselView {
    /// What the brewer calls it.
    pub name: String,
    /// The part or parts it plays, as text; left out below the drawing when it says the name.
    pub plays: String,
    /// Its shape.
    pub shape: ShapeView,
    /// Height of the underside of its base above the ground, in mm; negative in a step down.
    pub stand_mm: f64,
    /// What it stands on.
    pub stand_kind: StandKind,
    /// Its valve.
    pub valve: Option<ValveView>,
    /// Height of the false bottom above the base, in mm.
    pub false_bottom_mm: Option<f64>,
    /// It has a slotted pipe or braid on the base instead of a false bottom.
    pub manifold: bool,
    /// The grain hangs in a bag.
    pub bag: bool,
    /// Height of the dial thermometer above the base, in mm.
    pub thermometer_mm: Option<f64>,
    /// What heats it.
    pub heater: Heater,
    /// Its lid.
    pub lid: Lid,
    /// It is closed with an airlock: a fermenter.
    pub airlock: bool,
    /// Its wall is wrapped.
    pub insulated: bool,
    /// Height of the liquid above the base, in mm.
    pub level_mm: Option<f64>,
    /// What stands in it.
    pub contents: Contents,
    /// Volume standing in it, written below it and said in the sentence.
    pub volume_l: Option<f64>,
    /// Temperature in it, shown by the dial and written below.
    pub temp_c: Option<f64>,
    /// Further lines below it.
    pub captions: Vec<String>,
}

/// How liquid goes from one vessel to the next.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Carried {
    /// A rigid pipe, by gravity.
    #[default]
    Pipe,
    /// A hose, by gravity.
    Hose,
    /// A pump on the ground and a riser; from a vessel to itself it recirculates.
    Pump,
    /// A jug, by hand; from a vessel to itself it recirculates.
    Jug,
}

/// A way for liquid between two vessels of the same section.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct LinkView {
    /// Index of the vessel it leaves; a link to a vessel that is not there is left out.
    pub from: usize,
    /// Index of the vessel it reaches.
    pub to: usize,
    /// How.
    pub carried: Carried,
    /// It ends in a sprinkler over the bed.
    pub sprinkler: bool,
    /// What runs in it.
    pub substance: Substance,
    /// It runs now; a hose that does not run is drawn as a phantom.
    pub flowing: bool,
    /// A word beside it.
    pub label: Option<String>,
}

/// The whole brewhouse in one section, to one scale.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SectionView {
    /// Start of every id in the drawing, so that two drawings fit on one page; letters only.
    pub id: String,
    /// Written in the upper left corner; may be empty.
    pub title: String,
    /// Units of all lettering.
    pub units: Units,
    /// Vessels from left to right.
    pub vessels: Vec<VesselView>,
    /// Ways between them.
    pub links: Vec<LinkView>,
    /// Diameters, heights and stands are dimensioned; otherwise diameter and level only.
    pub show_dimensions: bool,
    /// Start of the sentence for those who don't see the drawing: "Section of Orchard Shed".
    pub label: String,
}
