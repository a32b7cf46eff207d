//! A brew document turned into a [`Brew`].
//!
//! Takes values from a checked document; what they mean together is judged in `judge`.

mod additions;

use std::path::Path;

use document::{Document, Findings, Placed, Table};
use quantity::{Duration, Extract, Mass, Quantity, Stated, UnitSystem, Volume};

use crate::brew::{
    Acid, Analysis, Boil, Brew, Certificate, GristAmount, GristItem, Limit, Liquor, LiquorUse,
    Mash, Reach, Rest, RestName, Salt, Sparge, SpargeHow, Target, Thickness, Wanted, Yeast,
};
use crate::judge;
use crate::shape::{BREW, RESTS};

/// A brew with the document it was read from, so that later findings have a place to point at,
/// and with notes that do not stand in its way.
#[derive(Debug, Clone, PartialEq)]
pub struct ReadBrew {
    /// The brew.
    pub brew: Brew,
    /// The document, with the place of each value.
    pub document: Document,
    /// Notes; no errors.
    pub notes: Findings,
}

/// Reads a brew document.
///
/// # Errors
/// [`Findings`], several at once, each with its place: what is wrong, what was expected.
pub fn read(name: &str, text: &str) -> Result<Brew, Findings> {
    read_placed(name, text).map(|read| read.brew)
}

/// Reads a brew document and keeps the places of its values.
///
/// # Errors
/// As [`read`].
pub fn read_placed(name: &str, text: &str) -> Result<ReadBrew, Findings> {
    let (document, mut findings) = Document::read(name, text, &BREW)?;
    let brew = brew(document.root(), &mut findings);
    if let Some(brew) = &brew {
        judge::brew(brew, document.root(), &mut findings);
    }
    let (brew, notes) = findings.unless_errors(brew)?;
    Ok(ReadBrew { brew, document, notes })
}

/// Reads a brew document from a file.
///
/// # Errors
/// As [`read`], and where the file can't be opened or is too large.
pub fn read_file(path: &Path) -> Result<ReadBrew, Findings> {
    let text = document::read_file(path)?;
    read_placed(&path.display().to_string(), &text)
}

/// The JSON Schema of a brew document.
pub fn schema() -> serde_json::Value {
    BREW.json_schema("Underback brew")
}

fn brew(root: &Table, findings: &mut Findings) -> Option<Brew> {
    let wanted = root.table("wanted").and_then(|t| wanted(t, findings));
    let grist = all(root.tables("grist"), |t| grist(t, findings));
    let mash = root.table("mash").map(|t| mash(t, findings)).unwrap_or_default();
    let mut index = 0;
    let rests = all(root.tables("rest"), |t| {
        index += 1;
        rest(t, index == 1, findings)
    });
    let hops = all(root.tables("hop"), |t| additions::hop(t, findings));
    let others = all(root.tables("addition"), |t| additions::addition(t, findings));
    let liquor = root.table("liquor").map(|t| liquor(t, findings)).unwrap_or_default();
    let pitch = root.table("pitch");
    Some(Brew {
        name: root.text("name")?.value.to_owned(),
        units: root.text("units").map(|w| match w.value {
            "us" => UnitSystem::Us,
            _ => UnitSystem::Metric,
        }),
        wanted: wanted?,
        grist: grist?,
        liquor,
        mash,
        rests: rests?,
        sparge: sparge(root),
        boil: root.table("boil").map(boil).unwrap_or_default(),
        hops: hops?,
        additions: others?,
        pitch: pitch.and_then(|t| t.quantity("at")).map(value),
        yeast: pitch.and_then(yeast),
    })
}

/// Every table read, or none when one could not be; all are tried, so that all are found.
fn all<T>(tables: &[Table], read: impl FnMut(&Table) -> Option<T>) -> Option<Vec<T>> {
    let read: Vec<_> = tables.iter().map(read).collect();
    read.into_iter().collect()
}

/// The value without its place.
fn value<T>(placed: Placed<T>) -> T {
    placed.value
}

/// A wish with its gate; without a stated one the usual (our choice).
fn target<Q: Quantity>(table: &Table, key: &str, usual: impl Fn(Q) -> f64) -> Option<Target<Q>> {
    let stated = table.quantity::<Q>(key)?.value;
    Some(Target {
        value: stated.value,
        tolerance: stated.half_width.unwrap_or_else(|| usual(stated.value)),
        tolerance_stated: stated.half_width.is_some(),
    })
}

fn wanted(table: &Table, findings: &mut Findings) -> Option<Wanted> {
    let fermentability = target(table, "fermentability", |_| 0.05);
    let final_gravity = target::<Extract>(table, "final-gravity", |_| 0.005);
    if table.has("fermentability") && table.has("final-gravity") {
        findings
            .error(table.key_place("final-gravity"), "the same wish stands twice")
            .expected("one of fermentability, final-gravity")
            .also(table.key_place("fermentability"), "the other one");
    }
    let limit = fermentability.map(Limit::Fermentability);
    Some(Wanted {
        volume: target(table, "volume", |v: Volume| 0.05 * v.si())?,
        gravity: target(table, "gravity", |_| 0.005)?,
        bitterness: target(table, "bitterness", |b: quantity::Bitterness| 0.2 * b.si()),
        limit: limit.or(final_gravity.map(Limit::FinalGravity)),
        colour: target(table, "colour", |c: quantity::Colour| 0.15 * c.si()),
    })
}

fn grist(table: &Table, findings: &mut Findings) -> Option<GristItem> {
    let malt = table.text("malt")?.value.to_owned();
    if table.has("share") && table.has("mass") {
        findings
            .error(table.key_place("mass"), "both a share and a mass")
            .expected("one of share, mass")
            .also(table.key_place("share"), "the other one");
        return None;
    }
    let amount = if table.has("mass") {
        let mass = table.quantity::<Mass>("mass")?;
        if mass.value.value.kilograms() <= 0.0 {
            findings
                .error(mass.span, "no malt at all")
                .expected("more than 0 kg, or leave the malt out");
            return None;
        }
        GristAmount::Mass(mass.value)
    } else if table.has("share") {
        GristAmount::Share(table.quantity("share")?.value)
    } else {
        GristAmount::Rest
    };
    let certificate = table.table("certificate").map(|t| Certificate {
        extract: t.quantity("extract").map(value),
        moisture: t.quantity("moisture").map(value),
        fine_coarse: t.quantity("fine-coarse").map(value),
        colour: t.quantity("colour").map(value),
        protein: t.quantity("protein").map(value),
    });
    Some(GristItem {
        malt,
        name: table.text("name").map(|t| t.value.to_owned()),
        amount,
        certificate: certificate.unwrap_or_default(),
    })
}

fn into(table: &Table) -> LiquorUse {
    match table.text("to").map(value) {
        Some("strike") => LiquorUse::Strike,
        Some("sparge") => LiquorUse::Sparge,
        _ => LiquorUse::All,
    }
}

fn liquor(table: &Table, findings: &mut Findings) -> Liquor {
    let find = table.bool("find").is_some_and(value);
    let salt = |t: &Table| {
        let mass = t.quantity::<Mass>("mass")?.value;
        Some(Salt { salt: t.text("salt")?.value.to_owned(), mass, to: into(t) })
    };
    let mut acid = |t: &Table| {
        let name = t.text("acid")?;
        if !t.has("volume") && !find {
            findings
                .error(name.span, "how much of this acid?")
                .expected("volume = \"3 mL\", or find = true for the liquor");
        }
        let volume = t.quantity("volume").map(value);
        Some(Acid { acid: name.value.to_owned(), volume, to: into(t) })
    };
    let mash_ph = table.number("mash-ph").map(value);
    Liquor {
        analysis: Analysis {
            alkalinity: table.quantity("alkalinity").map(value),
            calcium: table.quantity("calcium").map(value),
            magnesium: table.quantity("magnesium").map(value),
            sodium: table.quantity("sodium").map(value),
            chloride: table.quantity("chloride").map(value),
            sulphate: table.quantity("sulphate").map(value),
            ph: table.number("ph").map(value),
        },
        salts: table.tables("salts").iter().filter_map(salt).collect(),
        acids: table.tables("acids").iter().filter_map(&mut acid).collect(),
        mash_ph: mash_ph.or(find.then_some(5.4)),
        find,
    }
}

fn mash(table: &Table, findings: &mut Findings) -> Mash {
    Mash {
        thickness: table.text("thickness").and_then(|text| thickness(text, findings)),
        recirculate: table.quantity("recirculate").map(value),
    }
}

/// "about 3 L/kg" or "1.5 qt/lb": a volume of liquor for each mass of grist.
fn thickness(text: Placed<&str>, findings: &mut Findings) -> Option<Thickness> {
    let per = |unit: &str, kg: f64| {
        let volume = text.value.replace(unit, "");
        let read = (volume != text.value).then(|| quantity::read::<Volume>(&volume).ok());
        read.flatten().map(|v: Stated<Volume>| Thickness {
            m3_kg: v.value.cubic_metres() / kg,
            about: v.about,
        })
    };
    let found = per("/kg", 1.0).or_else(|| per("/lb", Mass::from_pounds(1.0).kilograms()));
    let usable = found.filter(|t| 0.0005 < t.m3_kg && t.m3_kg < 0.05);
    if usable.is_none() {
        findings
            .error(text.span, format!("\"{}\" is not a thickness of a mash", text.value))
            .expected("liquor for each kilogram or pound of grist, as \"3 L/kg\" or \"1.5 qt/lb\"");
    }
    usable
}

fn rest(table: &Table, first: bool, findings: &mut Findings) -> Option<Rest> {
    let names =
        [RestName::Protein, RestName::Saccharification, RestName::Dextrinising, RestName::MashOut];
    let word = table.text("name").map(value);
    let name = RESTS.iter().zip(names).find(|(key, _)| Some(**key) == word).map(|(_, n)| n);
    let boil = table.quantity::<Duration>("boil").map(|d| d.value.value);
    let boils = boil.unwrap_or(Duration::from_minutes(15.0));
    let by = match table.text("by").map(value) {
        Some("fire") => Reach::Fire,
        Some("hot liquor") => Reach::HotLiquor,
        Some("decoction") => Reach::Decoction { thick: true, boil: boils },
        Some("thin decoction") => Reach::Decoction { thick: false, boil: boils },
        _ => Reach::Strike,
    };
    if first && table.has("by") {
        findings
            .error(table.key_place("by"), "the first rest is reached by the strike")
            .expected("no \"by\" here");
    }
    if !first && !table.has("by") {
        findings
            .error(table.place("at"), "how is this rest reached?")
            .expected("by = \"fire\", \"hot liquor\", \"decoction\" or \"thin decoction\"");
    }
    if table.has("boil") && !matches!(by, Reach::Decoction { .. }) {
        findings
            .error(table.key_place("boil"), "nothing boils on the way to this rest")
            .expected("by = \"decoction\" beside it");
    }
    let at = table.quantity("at")?.value;
    Some(Rest { name, at, length: table.quantity("for")?.value, by })
}

fn sparge(root: &Table) -> Sparge {
    let Some(table) = root.table("sparge") else {
        return Sparge { how: SpargeHow::Continuous, at: None, rate: None };
    };
    let drains = table.integer("drains").map_or(1, |n| n.value.clamp(1, 9) as u32);
    let how = match table.text("how").map(value) {
        Some("drains") => SpargeHow::Drains(drains),
        Some("none") => SpargeHow::None,
        _ => SpargeHow::Continuous,
    };
    Sparge { how, at: table.quantity("at").map(value), rate: table.quantity("rate").map(value) }
}

fn boil(table: &Table) -> Boil {
    Boil {
        length: table.quantity("length").map(value),
        flame: table.text("flame").map(|t| t.value.to_owned()),
    }
}

fn yeast(table: &Table) -> Option<Yeast> {
    Some(Yeast {
        class: table.text("yeast")?.value.to_owned(),
        name: table.text("name").map(|t| t.value.to_owned()),
        amount: table.quantity("amount").map(value),
    })
}
