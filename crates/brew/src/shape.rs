//! The shape of a brew document: which keys it may hold, and what each is for.
//!
//! Declares only; what the numbers mean together is judged in `judge`.

use document::{Field, Kind, Shape};
use quantity::Dimension as D;

const VOLUME: Kind = Kind::Quantity(&[D::Volume]);
const MASS: Kind = Kind::Quantity(&[D::Mass]);
const SHARE: Kind = Kind::Quantity(&[D::Share]);
const EXTRACT: Kind = Kind::Quantity(&[D::Extract]);
const COLOUR: Kind = Kind::Quantity(&[D::Colour]);
const BITTERNESS: Kind = Kind::Quantity(&[D::Bitterness]);
const TEMPERATURE: Kind = Kind::Quantity(&[D::Temperature]);
const DURATION: Kind = Kind::Quantity(&[D::Duration]);
const IONS: Kind = Kind::Quantity(&[D::MassConcentration]);

fn malts() -> Vec<&'static str> {
    matter::malt::malt_names().collect()
}

fn hops() -> Vec<&'static str> {
    matter::hop::hop_names().collect()
}

fn yeasts() -> Vec<&'static str> {
    matter::yeast::yeast_classes().iter().map(|y| y.name.as_str()).collect()
}

fn salts() -> Vec<&'static str> {
    matter::liquor::salts().iter().map(|s| s.name.as_str()).collect()
}

fn acids() -> Vec<&'static str> {
    matter::liquor::acids().iter().map(|a| a.name.as_str()).collect()
}

const WANTED: Shape = Shape {
    doc: "What is wanted; ± is the gate in which it is still good.",
    fields: &[
        Field::required("volume", VOLUME, "In the fermenter, at 20 °C.").within(1e-4, 100.0),
        Field::required("gravity", EXTRACT, "Extract in the fermenter."),
        Field::optional("bitterness", BITTERNESS, "Of the finished beer, without dry hops.")
            .within(0.0, 200.0),
        Field::optional("fermentability", SHARE, "Limit of apparent attenuation of the wort.")
            .within(0.3, 1.0),
        Field::optional("final-gravity", EXTRACT, "The same wish, said as the final gravity."),
        Field::optional("colour", COLOUR, "Of the finished beer.").within(0.5, 500.0),
    ],
};

const CERTIFICATE: Shape = Shape {
    doc: "What the maltster's certificate says; each number overrides the typical one.",
    fields: &[
        Field::optional("extract", SHARE, "Extract of the fine grind, dry basis.").within(0.3, 1.0),
        Field::optional("moisture", SHARE, "Moisture.").within(0.0, 0.3),
        Field::optional("fine-coarse", SHARE, "Difference of fine and coarse grind.")
            .within(0.0, 0.2),
        Field::optional("colour", COLOUR, "Colour of the laboratory wort."),
        Field::optional("protein", SHARE, "Protein, dry basis.").within(0.0, 0.4),
    ],
};

const GRIST: Shape = Shape {
    doc: "One malt; with neither share nor mass it is what is left over to 100 %.",
    fields: &[
        Field::required("malt", Kind::WordFrom(malts), "Its class."),
        Field::optional("name", Kind::Text, "What you call it."),
        Field::optional("share", SHARE, "Its share of the grist; the planner finds the mass."),
        Field::optional("mass", MASS, "Its mass."),
        Field::optional("certificate", Kind::Table(&CERTIFICATE), "What its certificate says."),
    ],
};

const SALT: Shape = Shape {
    doc: "A salt.",
    fields: &[
        Field::required("salt", Kind::WordFrom(salts), "Which one."),
        Field::required("mass", MASS, "Its mass.").within(0.0, 10.0),
        Field::optional("to", Kind::Word(&INTO), "What it goes into; left out: all liquor."),
    ],
};

const ACID: Shape = Shape {
    doc: "An acid.",
    fields: &[
        Field::required("acid", Kind::WordFrom(acids), "Which one."),
        Field::optional("volume", VOLUME, "How much; left out with find = true: found.")
            .within(0.0, 0.01),
        Field::optional("to", Kind::Word(&INTO), "What it goes into; left out: all liquor."),
    ],
};

const INTO: [&str; 3] = ["all", "strike", "sparge"];

const LIQUOR: Shape = Shape {
    doc: "The liquor: what was measured of it, what is added.",
    fields: &[
        Field::optional("alkalinity", Kind::Quantity(&[D::ChargeConcentration]), "Alkalinity.")
            .within(-20.0, 40.0),
        Field::optional("calcium", IONS, "Calcium.").within(0.0, 2.0),
        Field::optional("magnesium", IONS, "Magnesium.").within(0.0, 2.0),
        Field::optional("sodium", IONS, "Sodium.").within(0.0, 2.0),
        Field::optional("chloride", IONS, "Chloride.").within(0.0, 2.0),
        Field::optional("sulphate", IONS, "Sulphate.").within(0.0, 2.0),
        Field::optional("ph", Kind::Number, "pH as it comes.").within(3.0, 12.0),
        Field::optional("salts", Kind::Tables(&SALT), "Salts to add."),
        Field::optional("acids", Kind::Tables(&ACID), "Acids to add."),
        Field::optional("mash-ph", Kind::Number, "pH wanted in the mash, cooled.").within(4.5, 6.5),
        Field::optional("find", Kind::Bool, "Whether acid is found for the wanted pH."),
    ],
};

const MASH: Shape = Shape {
    doc: "The mash beside its rests.",
    fields: &[
        Field::optional("thickness", Kind::Text, "Strike for each mass of grist: \"3 L/kg\"."),
        Field::optional("recirculate", DURATION, "Recirculation before the run-off."),
    ],
};

pub(crate) const RESTS: [&str; 4] = ["protein", "saccharification", "dextrinising", "mash-out"];

pub(crate) const REACHES: [&str; 4] = ["fire", "hot liquor", "decoction", "thin decoction"];

const REST: Shape = Shape {
    doc: "A rest. The first is reached by the strike, each later one as it says.",
    fields: &[
        Field::optional("name", Kind::Word(&RESTS), "Its trade name."),
        Field::required("at", TEMPERATURE, "Its temperature."),
        Field::required("for", DURATION, "Its length.").within(0.0, 1e6),
        Field::optional("by", Kind::Word(&REACHES), "How it is reached."),
        Field::optional("boil", DURATION, "How long a decoction boils; left out: 15 min.")
            .within(0.0, 2e4),
    ],
};

const SPARGE: Shape = Shape {
    doc: "How the bed is washed; left out: continuously.",
    fields: &[
        Field::required("how", Kind::Word(&["continuous", "drains", "none"]), "How."),
        Field::optional("drains", Kind::Integer, "How many fillings.").within(1.0, 9.0),
        Field::optional("at", TEMPERATURE, "Temperature of its liquor.").within(283.15, 373.15),
        Field::optional("rate", Kind::Quantity(&[D::VolumeFlow]), "Rate of the run-off."),
    ],
};

const BOIL: Shape = Shape {
    doc: "The boil.",
    fields: &[
        Field::optional("length", DURATION, "Its length; left out: found.").within(0.0, 4e4),
        Field::optional("flame", Kind::Text, "The marked setting it is boiled at."),
    ],
};

const HOP: Shape = Shape {
    doc: "A hop addition; without amount, gives and share it gives what is left.",
    fields: &[
        Field::required("kind", Kind::Text, "What you call it."),
        Field::optional("type", Kind::WordFrom(hops), "Its generic type, or a public cultivar."),
        Field::optional("alpha", SHARE, "Alpha acids, by mass.").within(0.0, 0.3),
        Field::optional("form", Kind::Word(&["pellets", "cones"]), "Left out: pellets."),
        Field::optional("in-bag", Kind::Bool, "Whether it hangs in a bag."),
        Field::optional("age", DURATION, "Age since harvest or packing."),
        Field::optional("kept-at", TEMPERATURE, "Temperature it was kept at."),
        Field::required("add", Kind::Text, ADD),
        Field::optional("for", DURATION, "Length of a stand.").within(0.0, 1e5),
        Field::optional("amount", MASS, "Its mass.").within(0.0, 100.0),
        Field::optional("gives", BITTERNESS, "What it gives; the planner finds the mass."),
        Field::optional("share", SHARE, "Its share of the wanted bitterness."),
    ],
};

const ADD: &str = "When: \"mash\", \"first wort\", \"start of boil\", \"15 min before the end\", \
                   \"flame out\", \"stand at 84 °C\", \"pitch\", \"dry\".";

const ADDITION: Shape = Shape {
    doc: "Another addition.",
    fields: &[
        Field::required(
            "what",
            Kind::Word(&["finings", "nutrient", "sugar", "spice"]),
            "What it is.",
        ),
        Field::optional("name", Kind::Text, "Which one; for a sugar its row in the table."),
        Field::required("amount", MASS, "Its mass.").within(0.0, 1000.0),
        Field::required("add", Kind::Text, ADD),
        Field::optional("for", DURATION, "Length of a stand.").within(0.0, 1e5),
    ],
};

const PITCH: Shape = Shape {
    doc: "Cooling and yeast.",
    fields: &[
        Field::optional("at", TEMPERATURE, "Temperature the wort is cooled to; left out: 20 °C.")
            .within(273.15, 323.15),
        Field::optional("yeast", Kind::WordFrom(yeasts), "Its class."),
        Field::optional("name", Kind::Text, "What you call it."),
        Field::optional("amount", MASS, "Its mass."),
    ],
};

/// The whole document.
pub(crate) const BREW: Shape = Shape {
    doc: "A brew: the wanted beer, and how its brewer means to get there.",
    fields: &[
        Field::required("name", Kind::Text, "Its name."),
        Field::optional("units", Kind::Word(&["metric", "us"]), "Units you think in."),
        Field::required("wanted", Kind::Table(&WANTED), "What is wanted."),
        Field::required("grist", Kind::Tables(&GRIST), "The grist."),
        Field::optional("liquor", Kind::Table(&LIQUOR), "The liquor."),
        Field::optional("mash", Kind::Table(&MASH), "The mash beside its rests."),
        Field::required("rest", Kind::Tables(&REST), "The rests, in order."),
        Field::optional("sparge", Kind::Table(&SPARGE), "How the bed is washed."),
        Field::optional("boil", Kind::Table(&BOIL), "The boil."),
        Field::optional("hop", Kind::Tables(&HOP), "The hops."),
        Field::optional("addition", Kind::Tables(&ADDITION), "Other additions."),
        Field::optional("pitch", Kind::Table(&PITCH), "Cooling and yeast."),
    ],
};
