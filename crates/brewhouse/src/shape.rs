//! The shape of a brewhouse document: which keys it may hold, and what each is for.
//!
//! Declares only; what the numbers mean together is judged in `judge`.

use document::{Field, Kind, Shape};
use quantity::Dimension as D;

use crate::material::Material;

const LENGTH: Kind = Kind::Quantity(&[D::Length]);
const VOLUME: Kind = Kind::Quantity(&[D::Volume]);
const TEMPERATURE: Kind = Kind::Quantity(&[D::Temperature]);
const DIFFERENCE: Kind = Kind::Quantity(&[D::TemperatureDifference]);
const SHARE: Kind = Kind::Quantity(&[D::Share]);
const FLOW: Kind = Kind::Quantity(&[D::VolumeFlow]);
const POWER: Kind = Kind::Quantity(&[D::Power]);
const CONDUCTANCE: Kind = Kind::Quantity(&[D::Conductance]);
const POINTS: Kind = Kind::Quantity(&[D::Extract]);
const MASS: Kind = Kind::Quantity(&[D::Mass]);

/// Least and greatest inside diameter and height of a pot, m (our choice: a tea cup to a silo).
const POT_M: (f64, f64) = (0.03, 5.0);
/// Least and greatest bore of a valve or hose, m.
const BORE_M: (f64, f64) = (0.002, 0.2);
/// Least and greatest thickness of a wall or a layer, m.
const SHEET_M: (f64, f64) = (5e-5, 0.3);

const fn length(key: &'static str, doc: &'static str) -> Field {
    Field::optional(key, LENGTH, doc)
}

const fn volume(key: &'static str, doc: &'static str) -> Field {
    Field::optional(key, VOLUME, doc)
}

const fn day(key: &'static str, doc: &'static str) -> Field {
    Field::optional(key, Kind::Date, doc)
}

/// Clad bases that are understood as one word.
pub(crate) const CLAD: [&str; 2] = ["stainless-aluminium-stainless", "stainless-aluminium"];

fn base_materials() -> Vec<&'static str> {
    CLAD.into_iter().chain(Material::names()).collect()
}

const LAYER: Shape = Shape {
    doc: "A layer: what it is made of, how thick.",
    fields: &[
        Field::required("material", Kind::WordFrom(base_materials), "What it is made of."),
        Field::required("thickness", LENGTH, "How thick.").within(SHEET_M.0, SHEET_M.1),
    ],
};

const WALL: Shape = Shape {
    doc: "A wall: what it is made of, how thick.",
    fields: &[
        Field::required("material", Kind::WordFrom(Material::names), "What it is made of."),
        Field::required("thickness", LENGTH, "How thick.").within(SHEET_M.0, SHEET_M.1),
    ],
};

const INSIDE: Shape = Shape {
    doc: "The inside: diameter and height with the shape of the base, or a measured table.",
    fields: &[
        Field::optional(
            "diameter",
            Kind::Either(&LENGTH, &Kind::List(&LENGTH)),
            "Inside diameter; two in a list where it was measured across twice.",
        )
        .within(POT_M.0, POT_M.1),
        Field::required("height", LENGTH, "Inside height, from the lowest point to the brim.")
            .within(POT_M.0, POT_M.1),
        Field::optional("base", Kind::Word(&BASES), "Shape of the base; left out: flat."),
        length("corner", "Radius of a flat base's rounded corner."),
        length("rise", "How far a domed base bulges."),
        Field::optional("angle", Kind::Number, "Included angle of a cone, degrees.")
            .within(20.0, 170.0),
        Field::optional(
            "table",
            Kind::List(&Kind::List(&Kind::Quantity(&[D::Length, D::Volume]))),
            "Heights and volumes, at least six, lowest first: [[\"20 mm\", \"2.5 L\"], …].",
        ),
    ],
};

pub(crate) const BASES: [&str; 5] = ["flat", "domed up", "domed down", "dished", "cone"];

const LID: Shape = Shape {
    doc: "The lid.",
    fields: &[Field::optional("mass", MASS, "Its mass.").within(0.01, 500.0)],
};

const VALVE: Shape = Shape {
    doc: "An outlet with its valve.",
    fields: &[
        Field::required("height", LENGTH, "Height of its middle over the lowest point inside."),
        Field::required("bore", LENGTH, "The hole in the ball.").within(BORE_M.0, BORE_M.1),
        length("dip-tube", "Height over the lowest point at which its dip tube ends."),
        Field::optional("flow", FLOW, "Flow wide open, as proved with jug and clock."),
    ],
};

const FALSE_BOTTOM: Shape = Shape {
    doc: "A perforated plate over the base.",
    fields: &[
        Field::required("height", LENGTH, "Its height over the lowest point inside.")
            .within(1e-3, POT_M.1),
        volume("under", "Liquid under it, as proved."),
    ],
};

const MANIFOLD: Shape = Shape {
    doc: "Slotted tubes on the base.",
    fields: &[
        Field::required("height", LENGTH, "Height of the slots over the lowest point inside."),
        length("spacing", "Distance between the tubes."),
    ],
};

const BAG: Shape = Shape {
    doc: "A bag of cloth that is lifted out.",
    fields: &[Field::required("height", LENGTH, "Height of its lowest point; 0 mm on the base.")],
};

pub(crate) const THERMOMETERS: [&str; 5] =
    ["dial", "dial in a well", "digital", "platinum", "glass"];

const THERMOMETER: Shape = Shape {
    doc: "A thermometer.",
    fields: &[
        Field::required("kind", Kind::Word(&THERMOMETERS), "What kind it is."),
        length("height", "Height of its stem over the lowest point inside."),
        Field::optional("class", Kind::Word(&["1", "2", "AA", "A", "B"]), "Class marked on it."),
        Field::optional("reads-low", DIFFERENCE, "So much less than the truth, as proved.")
            .within(0.0, 30.0),
        Field::optional("reads-high", DIFFERENCE, "So much more than the truth, as proved.")
            .within(0.0, 30.0),
        Field::optional("step", DIFFERENCE, "Step to which it is read.").within(0.001, 10.0),
    ],
};

const MARKS: Shape = Shape {
    doc: "Marks on the wall or on a stick.",
    fields: &[
        Field::required("every", VOLUME, "Volume from one mark to the next.").within(1e-6, 1.0),
        day("proved", "When they were proved by filling."),
    ],
};

const FLAME_MARK: Shape = Shape {
    doc: "A marked setting.",
    fields: &[
        Field::required("name", Kind::Text, "What you call it."),
        Field::required("share", SHARE, "Share of the full power there.").within(0.001, 1.0),
    ],
};

/// Keys of which a heater has exactly one: what makes the heat, and its power.
pub(crate) const HEATERS: [&str; 5] = ["burner", "hob", "element", "induction", "hot-plate"];

const HEATER: Shape = Shape {
    doc: "What heats a vessel: exactly one of burner, hob, element, induction, hot-plate.",
    fields: &[
        Field::optional("burner", POWER, "A free-standing burner: its power.").within(50.0, 1e6),
        Field::optional("hob", POWER, "A fixed gas hob: its power.").within(50.0, 1e6),
        Field::optional("element", POWER, "An element in the liquid: its power.").within(50.0, 1e6),
        Field::optional("induction", POWER, "An induction plate: its power.").within(50.0, 1e6),
        Field::optional("hot-plate", POWER, "An electric hot plate: its power.").within(50.0, 1e6),
        length("height", "Height of an element over the lowest point inside."),
        Field::optional(
            "fuel",
            Kind::Word(&["propane", "butane", "natural gas"]),
            "What a flame burns; left out: propane for a burner, natural gas for a hob.",
        ),
        Field::optional(
            "rated",
            Kind::Word(&["net", "gross"]),
            "Whether the power is of the net or the gross heat of the gas; left out: net.",
        ),
        Field::optional("name", Kind::Text, "Its name; pots with heaters of one name share it."),
        Field::optional("reaches-pot", SHARE, "Share of the power that reaches the pot.")
            .within(0.01, 1.0),
        Field::optional("least", SHARE, "Least share of full power it burns steadily at.")
            .within(0.0, 1.0),
        Field::optional("marks", Kind::Tables(&FLAME_MARK), "Marked settings."),
        Field::optional("circuit", Kind::Text, "The electric circuit it hangs on."),
        day("proved", "When its share was proved."),
    ],
};

/// Proving runs whose day may be written down.
pub(crate) const RUNS: [&str; 10] = [
    "fill-to-marks",
    "stays-behind",
    "heat-up",
    "cooling",
    "boil-off",
    "timed-jug",
    "ice-and-boil",
    "flame-marks",
    "leak-check",
    "chill",
];

const PROVED: Shape = Shape {
    doc: "What was proved, and when.",
    fields: &[
        day("fill-to-marks", "Known jugs poured, dips read."),
        day("stays-behind", "What stays behind when drained."),
        day("heat-up", "Power that reaches the pot."),
        day("cooling", "Heat through the walls."),
        day("boil-off", "Boil-off at the usual flame."),
        day("timed-jug", "Flow at the valve."),
        day("ice-and-boil", "The thermometer in ice and in boiling water."),
        day("flame-marks", "Marks on the burner's valve."),
        day("leak-check", "Dry paper under each joint, cold, hot, cooled."),
        day("chill", "The chiller's heat flow."),
    ],
};

const VESSEL: Shape = Shape {
    doc: "One pot.",
    fields: &[
        Field::optional("name", Kind::Text, "Its name."),
        Field::optional(
            "plays",
            Kind::List(&Kind::Word(&["liquor", "mash", "kettle", "fermenter"])),
            "The parts it plays; left out: by its key (tank, tun, kettle, fermenter).",
        ),
        Field::required("inside", Kind::Table(&INSIDE), "Its inside."),
        Field::optional("wall", Kind::Table(&WALL), "Its wall; left out: 1 mm of stainless."),
        Field::optional(
            "base",
            Kind::Either(&Kind::Table(&LAYER), &Kind::Tables(&LAYER)),
            "Its base, one layer or several from the wet side out; left out: as the wall.",
        ),
        Field::optional(
            "lid",
            Kind::Either(&Kind::Bool, &Kind::Table(&LID)),
            "Whether it has a lid, or its mass.",
        ),
        Field::optional("insulation", Kind::Table(&WALL), "Insulation round the wall."),
        length("stand", "Height of its base over the ground; left out: on the ground."),
        Field::optional("stand-bears", MASS, "What its stand bears, as the maker says."),
        Field::optional(
            "valve",
            Kind::Either(&Kind::Table(&VALVE), &Kind::Tables(&VALVE)),
            "Its outlet, or several.",
        ),
        Field::optional("false-bottom", Kind::Table(&FALSE_BOTTOM), "Its false bottom."),
        Field::optional("manifold", Kind::Table(&MANIFOLD), "Its manifold."),
        Field::optional("bag", Kind::Table(&BAG), "Its bag."),
        Field::optional("thermometer", Kind::Table(&THERMOMETER), "Its thermometer."),
        Field::optional("marks", Kind::Table(&MARKS), "Its marks."),
        Field::optional("heater", Kind::Table(&HEATER), "What heats it."),
        length("least-level", "Least level over the lowest point while it is heated."),
        volume("left-behind", "Left behind when drained, as proved."),
        volume("trub-and-hops", "Left in trub and hops, as proved."),
        Field::optional("boil-off", FLOW, "Boil-off at the usual flame, as proved."),
        Field::optional("walls", CONDUCTANCE, "Heat through the walls, lid on, as proved."),
        Field::optional("metal", Kind::Quantity(&[D::HeatCapacity]), "Heat held by the metal."),
        Field::optional("coast", DIFFERENCE, "Rise after the flame is out, as proved.")
            .within(0.0, 20.0),
        Field::optional("head-space", SHARE, "Share of the kettle kept free for foam.")
            .within(0.0, 0.7),
        Field::optional("proved", Kind::Table(&PROVED), "What was proved, and when."),
    ],
};

const PUMP: Shape = Shape {
    doc: "A pump.",
    fields: &[
        Field::required("flow", FLOW, "Flow with nothing in its way.").within(1e-7, 0.1),
        length("head", "Height at which it stops delivering."),
        Field::optional("through-bed", FLOW, "Flow it is run at through the bed."),
        Field::optional("hottest", TEMPERATURE, "Hottest liquid it bears."),
        Field::optional("circuit", Kind::Text, "The electric circuit it hangs on."),
    ],
};

pub(crate) const CHILLERS: [&str; 5] = ["coil", "counter-flow", "plate", "bath", "air"];

const CHILLER: Shape = Shape {
    doc: "How the wort is cooled.",
    fields: &[
        Field::required("kind", Kind::Word(&CHILLERS), "What kind it is."),
        Field::optional("water-flow", FLOW, "Flow of the cooling water.").within(1e-7, 0.1),
        Field::optional("water", TEMPERATURE, "Temperature of the cooling water."),
        Field::optional("conductance", CONDUCTANCE, "Heat flow for each kelvin, as proved.")
            .within(0.1, 1e6),
        length("length", "Length of its tube."),
        length("tube", "Outside diameter of its tube."),
        volume("left-behind", "Wort it keeps when emptied."),
    ],
};

const HOSE: Shape = Shape {
    doc: "A hose from one vessel to another.",
    fields: &[
        Field::required("from", Kind::Text, "Key of the vessel it comes from."),
        Field::required("to", Kind::Text, "Key of the vessel it goes to."),
        Field::required("bore", LENGTH, "Inside diameter.").within(BORE_M.0, BORE_M.1),
        Field::required("length", LENGTH, "Length.").within(0.01, 200.0),
        volume("keeps", "Liquid it keeps when the flow ends."),
        Field::optional("sprinkler", Kind::Bool, "Whether it ends in a sprinkler: false."),
    ],
};

const CIRCUIT: Shape = Shape {
    doc: "An electric circuit.",
    fields: &[
        Field::required("name", Kind::Text, "Your name for it."),
        Field::required("carries", POWER, "Most power it carries for long.").within(50.0, 1e6),
    ],
};

const HYDROMETER: Shape = Shape {
    doc: "A hydrometer.",
    fields: &[
        Field::optional("made-for", TEMPERATURE, "Temperature its scale is made for: 20 °C."),
        Field::optional("step", POINTS, "Step to which it is read: \"1 points\"."),
        Field::optional("reads-high", POINTS, "Points it shows too many: \"1 points\"."),
        Field::optional("reads-low", POINTS, "Points it shows too few: \"1 points\"."),
    ],
};

const REFRACTOMETER: Shape = Shape {
    doc: "A refractometer.",
    fields: &[Field::optional("wort-factor", Kind::Number, "Reading over extract for wort: 1.04.")
        .within(0.9, 1.2)],
};

const PH_METER: Shape =
    Shape { doc: "A pH meter.", fields: &[day("set", "When its two points were set.")] };

/// The whole document.
pub(crate) const BREWHOUSE: Shape = Shape {
    doc: "A brewhouse: all vessels, heaters, chillers, hoses and instruments of one place.",
    fields: &[
        Field::required("name", Kind::Text, "Its name."),
        Field::optional("units", Kind::Word(&["metric", "us"]), "Units you think in."),
        Field::optional(
            "place",
            Kind::Word(&["outdoors", "open shed", "porch", "garage", "cellar", "indoors"]),
            "Where it stands; left out: outdoors.",
        ),
        Field::optional("elevation", Kind::Quantity(&[D::Altitude]), "Height over the sea."),
        Field::optional("air", TEMPERATURE, "Air round the pots.").within(233.15, 333.15),
        Field::optional("humidity", SHARE, "Humidity of the air."),
        Field::optional("liquor-comes-at", TEMPERATURE, "Liquor as it comes from tap or well.")
            .within(273.15, 353.15),
        Field::optional("grain-holds", Kind::Text, "Held by drained grain: \"0.95 L/kg\"."),
        Field::optional("people", Kind::Integer, "How many brew.").within(1.0, 99.0),
        Field::optional(
            "recirculate",
            Kind::Word(&["pump", "jug", "none"]),
            "How wort is brought back over the bed.",
        ),
        Field::optional("jug", VOLUME, "What your jug holds at its mark.").within(1e-5, 0.05),
        Field::optional("reserve", VOLUME, "Liquor kept back; left out: 4 L, or 1 gal."),
        Field::optional("mill-gap", LENGTH, "Gap of your mill."),
        Field::optional("gas-left", MASS, "Gas in the bottle."),
        day("breaker-tested", "When you last pressed the test button of the breaker (GFCI)."),
        Field::required("vessel", Kind::Named(&VESSEL), "The vessels, each under its key."),
        Field::optional("pump", Kind::Table(&PUMP), "The pump."),
        Field::optional("chiller", Kind::Table(&CHILLER), "How the wort is cooled."),
        Field::optional("hose", Kind::Tables(&HOSE), "The hoses."),
        Field::optional("circuit", Kind::Tables(&CIRCUIT), "The electric circuits."),
        Field::optional("hydrometer", Kind::Table(&HYDROMETER), "The hydrometer."),
        Field::optional("refractometer", Kind::Table(&REFRACTOMETER), "The refractometer."),
        Field::optional("ph-meter", Kind::Table(&PH_METER), "The pH meter."),
    ],
};
