//! A brewhouse document turned into a [`Brewhouse`].
//!
//! Takes values from a checked document; what they mean together is judged in `judge`.

mod pots;

pub(crate) use pots::valve_tables;

use std::path::Path;

use document::{Document, Findings, Placed, Table};
use quantity::{Length, Mass, Stated, Temperature, UnitSystem, Volume};

use crate::brewhouse::{
    Brewhouse, Chiller, ChillerKind, Circuit, Hose, Hydrometer, Instruments, PhMeter, Place, Pump,
    Recirculate, Refractometer,
};
use crate::judge;
use crate::shape::{BREWHOUSE, CHILLERS};

/// A brewhouse with the document it was read from, so that later findings have a place to point
/// at, and with notes that do not stand in its way.
#[derive(Debug, Clone, PartialEq)]
pub struct ReadBrewhouse {
    /// The brewhouse.
    pub brewhouse: Brewhouse,
    /// The document, with the place of each value.
    pub document: Document,
    /// Notes; no errors.
    pub notes: Findings,
}

/// Reads a brewhouse document.
///
/// # Errors
/// [`Findings`], several at once, each with its place: what is wrong, what was expected.
pub fn read(name: &str, text: &str) -> Result<Brewhouse, Findings> {
    read_placed(name, text).map(|read| read.brewhouse)
}

/// Reads a brewhouse document and keeps the places of its values.
///
/// # Errors
/// As [`read`].
pub fn read_placed(name: &str, text: &str) -> Result<ReadBrewhouse, Findings> {
    let (document, mut findings) = Document::read(name, text, &BREWHOUSE)?;
    let brewhouse = brewhouse(document.root(), &mut findings);
    if let Some(brewhouse) = &brewhouse {
        judge::brewhouse(brewhouse, document.root(), &mut findings);
    }
    let (brewhouse, notes) = findings.unless_errors(brewhouse)?;
    Ok(ReadBrewhouse { brewhouse, document, notes })
}

/// Reads a brewhouse document from a file.
///
/// # Errors
/// As [`read`], and where the file can't be opened or is too large.
pub fn read_file(path: &Path) -> Result<ReadBrewhouse, Findings> {
    let text = document::read_file(path)?;
    read_placed(&path.display().to_string(), &text)
}

/// The JSON Schema of a brewhouse document.
pub fn schema() -> serde_json::Value {
    BREWHOUSE.json_schema("Underback brewhouse")
}

fn brewhouse(root: &Table, findings: &mut Findings) -> Option<Brewhouse> {
    let units = match root.text("units").map(|w| w.value) {
        Some("us") => UnitSystem::Us,
        _ => UnitSystem::Metric,
    };
    let vessels: Vec<_> =
        root.named("vessel").map(|(key, t)| pots::vessel(key, t, units, findings)).collect();
    let grain_holds_m3_kg = root.text("grain-holds").and_then(|text| per_mass(text, findings));
    Some(Brewhouse {
        name: root.text("name")?.value.to_owned(),
        units,
        place: place(root),
        elevation: root.quantity("elevation").map(value),
        air: root.quantity("air").map(value),
        humidity: root.quantity("humidity").map(value),
        liquor_comes_at: root.quantity("liquor-comes-at").map(value),
        vessels: vessels.into_iter().collect::<Option<Vec<_>>>()?,
        circuits: root.tables("circuit").iter().filter_map(circuit).collect(),
        breaker_tested: root.date("breaker-tested").map(|d| d.value.to_string()),
        chiller: root.table("chiller").and_then(chiller),
        pump: root.table("pump").and_then(pump),
        recirculate: recirculate(root, findings),
        hoses: root.tables("hose").iter().filter_map(hose).collect(),
        mill_gap: root.quantity("mill-gap").map(value),
        reserve: root.quantity("reserve").map(value),
        grain_holds_m3_kg,
        gas_left: root.quantity("gas-left").map(value),
        people: root.integer("people").map_or(1, |n| n.value.clamp(1, 99) as u32),
        instruments: instruments(root),
    })
}

/// The value without its place.
fn value<T>(placed: Placed<T>) -> T {
    placed.value
}

fn place(root: &Table) -> Place {
    match root.text("place").map(value) {
        Some("open shed") => Place::OpenShed,
        Some("porch") => Place::Porch,
        Some("garage") => Place::Garage,
        Some("cellar") => Place::Cellar,
        Some("indoors") => Place::Indoors,
        _ => Place::Outdoors,
    }
}

fn circuit(table: &Table) -> Option<Circuit> {
    let limit = table.quantity("carries")?.value.value;
    Some(Circuit { name: table.text("name")?.value.to_owned(), limit })
}

fn chiller(table: &Table) -> Option<Chiller> {
    let kinds = [
        ChillerKind::Coil,
        ChillerKind::CounterFlow,
        ChillerKind::Plate,
        ChillerKind::Bath,
        ChillerKind::Air,
    ];
    let word = table.text("kind")?.value;
    let kind = CHILLERS.iter().zip(kinds).find(|(name, _)| **name == word)?.1;
    Some(Chiller {
        kind,
        water_flow: table.quantity("water-flow").map(value),
        water: table.quantity("water").map(value),
        conductance: table.quantity("conductance").map(value),
        length: table.quantity("length").map(value),
        tube: table.quantity("tube").map(value),
        left_behind: table.quantity("left-behind").map(value),
    })
}

fn pump(table: &Table) -> Option<Pump> {
    Some(Pump {
        flow: table.quantity("flow")?.value,
        head: table.quantity("head").map(value),
        through_bed: table.quantity("through-bed").map(value),
        hottest: table.quantity::<Temperature>("hottest").map(|t| t.value.value),
        circuit: table.text("circuit").map(|t| t.value.to_owned()),
    })
}

fn hose(table: &Table) -> Option<Hose> {
    Some(Hose {
        from: table.text("from")?.value.to_owned(),
        to: table.text("to")?.value.to_owned(),
        bore: table.quantity::<Length>("bore")?.value,
        length: table.quantity::<Length>("length")?.value,
        left_behind: table.quantity("keeps").map(value),
        sprinkler: table.bool("sprinkler").is_some_and(|sprinkler| sprinkler.value),
    })
}

fn recirculate(root: &Table, findings: &mut Findings) -> Recirculate {
    let jug = root.quantity::<Volume>("jug");
    match root.text("recirculate") {
        Some(word) if word.value == "pump" => {
            if !root.has("pump") {
                findings
                    .error(word.span, "wort is recirculated by a pump, but there is no pump")
                    .expected("a table [pump] with its flow, or recirculate = \"jug\"");
            }
            Recirculate::Pump
        }
        Some(word) if word.value == "jug" => match jug {
            Some(jug) => Recirculate::Jug { volume: jug.value.value },
            None => {
                if !root.has("jug") {
                    findings
                        .error(word.span, "wort is recirculated by a jug, but its size is missing")
                        .expected("jug = \"2 L\" beside it");
                }
                Recirculate::None
            }
        },
        Some(_) => Recirculate::None,
        None if root.has("pump") => Recirculate::Pump,
        None => jug.map_or(Recirculate::None, |j| Recirculate::Jug { volume: j.value.value }),
    }
}

fn instruments(root: &Table) -> Instruments {
    let points = |table: &Table, key: &str| {
        table.quantity::<quantity::Extract>(key).map(|p| p.value.value.points())
    };
    Instruments {
        hydrometer: root.table("hydrometer").map(|t| Hydrometer {
            made_for: t
                .quantity::<Temperature>("made-for")
                .map_or(Temperature::from_celsius(20.0), |p| p.value.value),
            bias_points: points(t, "reads-high").unwrap_or(0.0)
                - points(t, "reads-low").unwrap_or(0.0),
            step_points: points(t, "step").filter(|step| *step > 0.0).unwrap_or(1.0),
        }),
        refractometer: root
            .table("refractometer")
            .map(|t| Refractometer { wort_factor: t.number("wort-factor").map(value) }),
        ph_meter: root
            .table("ph-meter")
            .map(|t| PhMeter { set: t.date("set").map(|d| d.value.to_string()) }),
        jug: root.quantity("jug").map(value),
    }
}

/// "0.95 L/kg ± 0.05 L/kg" as m³/kg: a volume for each kilogram or pound.
fn per_mass(text: Placed<&str>, findings: &mut Findings) -> Option<f64> {
    let per = |unit: &str, kg: f64| {
        let volume = text.value.replace(unit, "");
        let read = (volume != text.value).then(|| quantity::read::<Volume>(&volume).ok());
        read.flatten().map(|v: Stated<Volume>| v.value.cubic_metres() / kg)
    };
    let found = per("/kg", 1.0).or_else(|| per("/lb", Mass::from_pounds(1.0).kilograms()));
    match found {
        Some(m3_kg) if m3_kg < 0.005 => Some(m3_kg),
        _ => {
            findings
                .error(text.span, format!("\"{}\" is not a volume for each mass", text.value))
                .expected(
                    "a volume for each kilogram or pound, as \"0.95 L/kg\" or \"0.45 qt/lb\"",
                );
            None
        }
    }
}
