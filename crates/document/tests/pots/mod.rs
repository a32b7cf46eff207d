//! A small shape for the tests: pots with lids, and what is to be done with them.

use document::{Field, Kind, Shape};
use quantity::Dimension;

pub(crate) const INSIDE: Shape = Shape {
    doc: "The inside of a pot.",
    fields: &[
        Field::required("diameter", Kind::Quantity(&[Dimension::Length]), "Across."),
        Field::required("height", Kind::Quantity(&[Dimension::Length]), "Up to the brim.")
            .within(0.05, 2.0),
    ],
};

pub(crate) const HEATER: Shape = Shape {
    doc: "What heats it.",
    fields: &[
        Field::required("burner", Kind::Quantity(&[Dimension::Power]), "Power of the flame."),
        Field::optional("reaches-pot", Kind::Quantity(&[Dimension::Share]), "Share."),
        Field::optional("proved", Kind::Date, "When it was measured."),
    ],
};

pub(crate) const POT: Shape = Shape {
    doc: "A pot.",
    fields: &[
        Field::required("inside", Kind::Table(&INSIDE), "Its inside."),
        Field::optional("heater", Kind::Table(&HEATER), "Its heater."),
        Field::optional("marks", Kind::List(&Kind::Quantity(&[Dimension::Volume])), "Its marks."),
        Field::optional("count", Kind::Integer, "How many of them.").within(1.0, 9.0),
        Field::optional("lid", Kind::Either(&Kind::Bool, &Kind::Word(&["glass", "steel"])), "Lid."),
    ],
};

pub(crate) const STEP: Shape = Shape {
    doc: "A step.",
    fields: &[
        Field::required("at", Kind::Quantity(&[Dimension::Temperature]), "How warm."),
        Field::optional("by", Kind::Word(&["fire", "hot water"]), "How it is reached."),
    ],
};

pub(crate) const KITCHEN: Shape = Shape {
    doc: "A kitchen.",
    fields: &[
        Field::required("name", Kind::Text, "What it is called."),
        Field::optional("strength", Kind::Quantity(&[Dimension::Extract]), "How strong."),
        Field::optional(
            "add",
            Kind::QuantityOrWord(&[Dimension::Duration], &["start of boil", "end of boil"]),
            "When.",
        ),
        Field::optional("factor", Kind::Number, "A plain number.").within(0.5, 2.0),
        Field::required("pot", Kind::Named(&POT), "The pots."),
        Field::optional("step", Kind::Tables(&STEP), "The steps in order."),
    ],
};

pub(crate) const GOOD: &str = r#"# a comment stays
name = "Tiled"
strength = 1.048
add = "start of boil"
factor = 1

[pot.small]
inside = { diameter = "30 cm ± 1 mm", height = "11 3/4 in" }
lid = "glass"

[pot.large]
inside = { diameter = "400 ± 1 mm", height = "400 mm" }
marks = ["5 L", "2 gal ± 2 %"]
lid = true
count = 2

[pot.large.heater]
burner = "9.5 kW"
reaches-pot = "about 45 % ± 3 %"
proved = 2026-09-14

[[step]]
at = "145 °F ± 2 °F"

[[step]]
at = "72 °C"
by = "fire"
"#;
