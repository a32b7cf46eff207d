//! One `[vessel.…]` table turned into a [`Vessel`].

use document::{Findings, Placed, Table, Value};
use quantity::{Length, Mass, Power, Share, Stated, TemperatureDifference, UnitSystem, Volume};

use super::value;
use crate::fuel;
use crate::heater::{FlameMark, Fuel, Heater, HeaterKind};
use crate::material::Material;
use crate::section::{BaseShape, Section, TableError, VolumeTable};
use crate::shape::{BASES, CLAD, HEATERS, RUNS, THERMOMETERS};
use crate::vessel::{
    Base, Inside, Layer, Lid, Marks, Part, Proved, Screen, Thermometer, ThermometerKind, Valve,
    Vessel,
};

/// Reads one vessel; none where something it can't do without is missing or broken.
pub(super) fn vessel(
    key: Placed<&str>,
    table: &Table,
    units: UnitSystem,
    findings: &mut Findings,
) -> Option<Vessel> {
    let plays = plays(key, table, findings);
    let inside = table.table("inside").and_then(|t| inside(t, findings));
    let wall = wall(table);
    let base = base(table, &wall, findings);
    let screen = screen(table, findings);
    let thermometer = table.table("thermometer").and_then(|t| thermometer(t, units, findings));
    let heater = table.table("heater").and_then(|t| heater(t, findings));
    let (inside, section) = inside?;
    let first = plays.first().copied();
    let usual_name = first.map_or(key.value.to_owned(), |part| part.vessel_name().to_owned());
    Some(Vessel {
        key: key.value.to_owned(),
        name: table.text("name").map_or(usual_name, |t| t.value.to_owned()),
        plays,
        inside,
        section,
        wall,
        base,
        lid: lid(table),
        insulation: table.table("insulation").and_then(layer),
        stand: table.quantity("stand").map_or(Stated::exactly(Length::ZERO), value),
        stand_bears: table.quantity::<Mass>("stand-bears").map(|m| m.value.value),
        valves: valves(table),
        screen,
        thermometer,
        marks: table.table("marks").and_then(marks),
        heater,
        least_level: table.quantity("least-level").map(value),
        left_behind: table.quantity("left-behind").map(value),
        trub_and_hops: table.quantity("trub-and-hops").map(value),
        boil_off: table.quantity("boil-off").map(value),
        walls: table.quantity("walls").map(value),
        metal: table.quantity("metal").map(value),
        coast: table.quantity("coast").map(value),
        head_space: table.quantity("head-space").map(value),
        proved: table.table("proved").map(proved).unwrap_or_default(),
    })
}

fn part(word: &str) -> Option<Part> {
    Part::ALL.into_iter().find(|part| part.key() == word)
}

fn plays(key: Placed<&str>, table: &Table, findings: &mut Findings) -> Vec<Part> {
    let mut parts = Vec::new();
    for word in table.texts("plays") {
        match part(word.value) {
            Some(part) if parts.contains(&part) => {
                findings.error(word.span, format!("\"{}\" stands twice", word.value));
            }
            Some(part) => parts.push(part),
            None => {}
        }
    }
    if !parts.is_empty() || (table.has("plays") && !table.list("plays").is_empty()) {
        return parts;
    }
    let by_key = match key.value {
        "tank" | "hlt" | "liquor" | "liquor-tank" | "hot-liquor-tank" => Some(Part::Liquor),
        "tun" | "mash" | "mash-tun" => Some(Part::Mash),
        "kettle" | "copper" | "boil" => Some(Part::Kettle),
        "fermenter" | "fermentor" => Some(Part::Fermenter),
        _ => None,
    };
    if by_key.is_none() {
        findings
            .error(key.span, format!("what part does \"{}\" play?", key.value))
            .expected("plays = [\"liquor\"], or \"mash\", \"kettle\", \"fermenter\", or several");
    }
    by_key.into_iter().collect()
}

fn inside(table: &Table, findings: &mut Findings) -> Option<(Inside, Section)> {
    let height = table.quantity::<Length>("height");
    if table.has("table") {
        return measured(table, height?.value, findings);
    }
    if !table.has("diameter") {
        findings
            .error(table.span, "the inside has neither a diameter nor a measured table")
            .expected("diameter = \"400 mm\", or table = [[\"20 mm\", \"2.5 L\"], …]");
        return None;
    }
    let (diameter, across) = diameters(table, findings)?;
    let height = height?.value;
    let base = base_shape(table, findings)?;
    let one_m = diameter.value.metres();
    let other_m = across.map_or(one_m, |d| d.value.metres());
    let radius_m = 0.5 * (one_m * other_m).sqrt();
    let geometry = geometry(&base);
    let domed = ["domed up", "domed down"].contains(&table.text("base").map_or("", value));
    if domed && geometry.top_m(radius_m) >= radius_m {
        findings
            .error(table.place("rise"), "the base bulges by more than half the width of the pot")
            .expected("a rise under half of the diameter");
        return None;
    }
    if height.value.metres() <= 0.0 || one_m <= 0.0 || other_m <= 0.0 {
        return None; // the range of the key has been told already
    }
    if geometry.top_m(radius_m) >= height.value.metres() {
        let place = ["angle", "rise", "base"].into_iter().find(|k| table.has(k));
        findings
            .error(table.place(place.unwrap_or("height")), "the base is higher than the brim")
            .expected("a base lower than the inside height");
        return None;
    }
    let section = Section::oval(one_m, other_m, height.value.metres(), geometry);
    Some((Inside::Straight { diameter, across, height, base }, section))
}

fn diameters(
    table: &Table,
    findings: &mut Findings,
) -> Option<(Stated<Length>, Option<Stated<Length>>)> {
    if let Some(one) = table.quantity::<Length>("diameter") {
        return Some((one.value, None));
    }
    let list = table.quantities::<Length>("diameter");
    match &list[..] {
        [one] => Some((one.value, None)),
        [one, other] => Some((one.value, Some(other.value))),
        _ => {
            if table.list("diameter").len() == list.len() && !list.is_empty() {
                findings
                    .error(table.place("diameter"), format!("{} diameters", list.len()))
                    .expected("one diameter, or two measured at right angles");
            }
            None
        }
    }
}

fn base_shape(table: &Table, findings: &mut Findings) -> Option<Base> {
    let word = table.text("base").map_or(BASES[0], value);
    let rise = table.quantity::<Length>("rise").map(|r| r.value.value);
    let mut needs = |key: &str, example: &str| {
        if !table.has(key) {
            findings
                .error(table.place("base"), format!("a base \"{word}\" needs its {key}"))
                .expected(format!("{key} = {example} beside it"));
        }
    };
    match word {
        "domed up" => {
            needs("rise", "\"4 mm\"");
            rise.map(|rise| Base::DomedUp { rise })
        }
        "domed down" => {
            needs("rise", "\"20 mm\"");
            rise.map(|rise| Base::DomedDown { rise })
        }
        "dished" => Some(Base::Dished),
        "cone" => {
            needs("angle", "60");
            table.number("angle").map(|a| Base::Cone { angle_deg: a.value })
        }
        _ => {
            let corner = table.quantity::<Length>("corner");
            let smallest = table.quantity::<Length>("diameter").map(|d| d.value.value.metres());
            if let (Some(corner), Some(d_m)) = (corner, smallest)
                && corner.value.value.metres() > 0.5 * d_m
            {
                findings
                    .error(corner.span, "the corner is rounder than the pot is wide")
                    .expected("less than half of the diameter");
                return None;
            }
            Some(Base::Flat { corner: corner.map_or(Length::ZERO, |c| c.value.value) })
        }
    }
}

fn geometry(base: &Base) -> BaseShape {
    let usable = |rise: &Length| rise.metres() > 1e-6;
    match base {
        Base::Flat { corner } => BaseShape::Flat { corner_m: corner.metres() },
        Base::DomedUp { rise } if usable(rise) => BaseShape::DomedUp { rise_m: rise.metres() },
        Base::DomedDown { rise } if usable(rise) => BaseShape::DomedDown { rise_m: rise.metres() },
        Base::DomedUp { .. } | Base::DomedDown { .. } => BaseShape::Flat { corner_m: 0.0 },
        Base::Dished => BaseShape::Dished { crown: 1.0, knuckle: 0.1 },
        Base::Cone { angle_deg } => {
            BaseShape::Cone { half_angle_rad: (0.5 * angle_deg).to_radians() }
        }
    }
}

fn measured(
    table: &Table,
    brim: Stated<Length>,
    findings: &mut Findings,
) -> Option<(Inside, Section)> {
    let mut points = Vec::new();
    for row in table.list("table") {
        let Value::List(pair) = &row.value else { return None };
        let read = |i: usize| pair.get(i).and_then(|p| p.value.as_quantity());
        let height = read(0).and_then(|q| q.typed::<Length>());
        let volume = read(1).and_then(|q| q.typed::<Volume>());
        match (height, volume, pair.len()) {
            (Some(h), Some(v), 2) => points.push((h.value, v.value)),
            _ => {
                findings
                    .error(row.span, "this row is not a height and a volume")
                    .expected("[\"20 mm\", \"2.5 L\"]");
                return None;
            }
        }
    }
    let bare: Vec<_> = points.iter().map(|(h, v)| (h.metres(), v.cubic_metres())).collect();
    match VolumeTable::new(&bare) {
        Ok(curve) => {
            let section = Section::measured(curve, brim.value.metres());
            Some((Inside::Table { points, brim }, section))
        }
        Err(TableError::TooFew { found, least }) => {
            findings
                .error(table.place("table"), format!("the table has {found} rows"))
                .expected(format!("at least {least}, closer together near the base"));
            None
        }
        Err(TableError::NotRising { index }) => {
            let place = table.list("table").get(index).map_or(table.place("table"), |r| r.span);
            findings
                .error(place, "the table does not rise here")
                .expected("each height and each volume greater than the one before");
            None
        }
    }
}

fn stainless() -> &'static Material {
    Material::named("stainless").unwrap_or(&Material::all()[0])
}

fn layer(table: &Table) -> Option<Layer> {
    let material = Material::named(table.text("material")?.value)?;
    Some(Layer { material, thickness: table.quantity::<Length>("thickness")?.value.value })
}

fn wall(table: &Table) -> Layer {
    let usual = Layer { material: stainless(), thickness: Length::from_millimetres(1.0) };
    table.table("wall").and_then(layer).unwrap_or(usual)
}

fn base(table: &Table, wall: &Layer, findings: &mut Findings) -> Vec<Layer> {
    let tables: Vec<&Table> = match table.table("base") {
        Some(one) => vec![one],
        None => table.tables("base").iter().collect(),
    };
    let mut layers = Vec::new();
    for one in tables {
        match one.text("material") {
            Some(word) if CLAD.contains(&word.value) => layers.extend(clad(one, findings)),
            _ => layers.extend(layer(one)),
        }
    }
    if layers.is_empty() { vec![wall.clone()] } else { layers }
}

/// A clad base by its whole thickness: 0.8 mm of 304 inside, 0.5 mm of 430 outside where the word
/// says so, aluminium between (common practice).
fn clad(table: &Table, findings: &mut Findings) -> Vec<Layer> {
    let (Some(word), Some(whole)) = (table.text("material"), table.quantity::<Length>("thickness"))
    else {
        return Vec::new();
    };
    let outer_mm = if word.value == CLAD[0] { 0.5 } else { 0.0 };
    let core_mm = whole.value.value.millimetres() - 0.8 - outer_mm;
    if core_mm <= 0.0 {
        findings
            .error(whole.span, "too thin for a clad base")
            .expected("more than 1.3 mm: steel, aluminium and steel together");
        return Vec::new();
    }
    let sheet = |name: &str, mm: f64| {
        let material = Material::named(name).unwrap_or(stainless());
        Layer { material, thickness: Length::from_millimetres(mm) }
    };
    let mut layers = vec![sheet("304", 0.8), sheet("aluminium", core_mm)];
    if outer_mm > 0.0 {
        layers.push(sheet("430", outer_mm));
    }
    layers
}

fn lid(table: &Table) -> Option<Lid> {
    match (table.bool("lid"), table.table("lid")) {
        (Some(has), _) => has.value.then_some(Lid { mass: None }),
        (None, Some(lid)) => Some(Lid { mass: lid.quantity("mass").map(value) }),
        (None, None) => None,
    }
}

/// The tables of the valves, one or several, in the order of the document.
pub(crate) fn valve_tables(table: &Table) -> Vec<&Table> {
    match table.table("valve") {
        Some(one) => vec![one],
        None => table.tables("valve").iter().collect(),
    }
}

fn valves(table: &Table) -> Vec<Valve> {
    let read = |t: &&Table| {
        Some(Valve {
            height: t.quantity("height")?.value,
            bore: t.quantity("bore")?.value,
            dip_tube: t.quantity("dip-tube").map(value),
            flow: t.quantity("flow").map(value),
        })
    };
    let mut valves: Vec<_> = valve_tables(table).iter().filter_map(read).collect();
    valves.sort_by(|a, b| a.height.value.metres().total_cmp(&b.height.value.metres()));
    valves
}

fn screen(table: &Table, findings: &mut Findings) -> Option<Screen> {
    let plate = table.table("false-bottom").and_then(|t| {
        let height = t.quantity("height")?.value;
        Some(Screen::FalseBottom { height, under: t.quantity("under").map(value) })
    });
    let manifold = table.table("manifold").and_then(|t| {
        let height = t.quantity("height")?.value;
        Some(Screen::Manifold { height, spacing: t.quantity("spacing").map(value) })
    });
    let bag =
        table.table("bag").and_then(|t| Some(Screen::Bag { height: t.quantity("height")?.value }));
    let stated: Vec<_> =
        ["false-bottom", "manifold", "bag"].into_iter().filter(|key| table.has(key)).collect();
    if let [first, second, ..] = stated[..] {
        findings
            .error(table.key_place(second), format!("both a {first} and a {second}"))
            .expected("one of false-bottom, manifold, bag")
            .also(table.key_place(first), "the other one");
    }
    plate.or(manifold).or(bag)
}

fn thermometer(table: &Table, units: UnitSystem, findings: &mut Findings) -> Option<Thermometer> {
    let kinds = [
        ThermometerKind::Dial,
        ThermometerKind::DialInWell,
        ThermometerKind::Digital,
        ThermometerKind::Platinum,
        ThermometerKind::Glass,
    ];
    let word = table.text("kind")?.value;
    let kind = THERMOMETERS.iter().zip(kinds).find(|(name, _)| **name == word)?.1;
    let low = table.quantity::<TemperatureDifference>("reads-low");
    let high = table.quantity::<TemperatureDifference>("reads-high");
    if let (Some(_), Some(high)) = (low, high) {
        findings
            .error(high.span, "it can't read both low and high")
            .expected("one of reads-low, reads-high");
    }
    let negative = |s: Stated<TemperatureDifference>| Stated {
        value: TemperatureDifference::from_kelvin(-s.value.kelvin()),
        ..s
    };
    let step = table.quantity::<TemperatureDifference>("step").map(|s| s.value.value);
    Some(Thermometer {
        kind,
        height: table.quantity("height").map(value),
        class: table.text("class").map(|t| t.value.to_owned()),
        bias: low.map(|s| negative(s.value)).or(high.map(value)),
        step: step.unwrap_or_else(|| usual_step(kind, units)),
    })
}

/// Step to which a scale is read when nothing is stated: 1 K for a dial, 0.5 K for glass, 0.1 K
/// else; on a Fahrenheit scale 2, 1 and 0.2 °F (common practice).
fn usual_step(kind: ThermometerKind, units: UnitSystem) -> TemperatureDifference {
    let kelvin = match kind {
        ThermometerKind::Dial | ThermometerKind::DialInWell => 1.0,
        ThermometerKind::Glass => 0.5,
        ThermometerKind::Digital | ThermometerKind::Platinum => 0.1,
    };
    match units {
        UnitSystem::Metric => TemperatureDifference::from_kelvin(kelvin),
        UnitSystem::Us => TemperatureDifference::from_fahrenheit_degrees(2.0 * kelvin),
    }
}

fn marks(table: &Table) -> Option<Marks> {
    let step = table.quantity::<Volume>("every")?.value.value;
    Some(Marks { step, proved: table.date("proved").map(|d| d.value.to_string()) })
}

fn heater(table: &Table, findings: &mut Findings) -> Option<Heater> {
    let kinds = [
        HeaterKind::Burner,
        HeaterKind::Hob,
        HeaterKind::Element,
        HeaterKind::Induction,
        HeaterKind::HotPlate,
    ];
    let stated: Vec<_> = HEATERS.iter().zip(kinds).filter(|(key, _)| table.has(key)).collect();
    let (key, kind) = match &stated[..] {
        [(key, kind)] => (**key, *kind),
        [(first, _), (second, _), ..] => {
            findings
                .error(table.key_place(second), format!("both a {first} and a {second}"))
                .expected("one of burner, hob, element, induction, hot-plate")
                .also(table.key_place(first), "the other one");
            return None;
        }
        [] => {
            findings.error(table.span, "what heats it, and with what power?").expected(
                "one of burner, hob, element, induction, hot-plate, as burner = \"9.5 kW\"",
            );
            return None;
        }
    };
    let fuel = fuel_of(table, kind, findings);
    let mut power = table.quantity::<Power>(key)?.value;
    if table.text("rated").is_some_and(|w| w.value == "gross")
        && let Some(fuel) = fuel
    {
        let share = fuel::Combustion::of(fuel).net_over_gross();
        power.value = power.value * share;
        power.half_width = power.half_width.map(|w| w * share);
    }
    let mut marks: Vec<_> = table.tables("marks").iter().filter_map(flame_mark).collect();
    marks.sort_by(|a, b| a.share.value.fraction().total_cmp(&b.share.value.fraction()));
    Some(Heater {
        kind,
        name: table.text("name").map(|t| t.value.to_owned()),
        power,
        fuel,
        reaches_pot: table.quantity("reaches-pot").map(value),
        height: table.quantity("height").map(value),
        least: table.quantity("least").map(value),
        marks,
        circuit: table.text("circuit").map(|t| t.value.to_owned()),
        proved: table.date("proved").map(|d| d.value.to_string()),
    })
}

fn fuel_of(table: &Table, kind: HeaterKind, findings: &mut Findings) -> Option<Fuel> {
    if !kind.is_flame() {
        for key in ["fuel", "rated"].into_iter().filter(|key| table.has(key)) {
            findings
                .error(
                    table.key_place(key),
                    format!("electric heat burns nothing: {}", kind.word()),
                )
                .expected(format!("no {key} here"));
        }
        return None;
    }
    match table.text("fuel").map(value) {
        Some("butane") => Some(Fuel::Butane),
        Some("natural gas") => Some(Fuel::NaturalGas),
        Some(_) => Some(Fuel::Propane),
        None if kind == HeaterKind::Hob => Some(Fuel::NaturalGas),
        None => Some(Fuel::Propane),
    }
}

fn flame_mark(table: &Table) -> Option<FlameMark> {
    let share = table.quantity::<Share>("share")?.value;
    Some(FlameMark { name: table.text("name")?.value.to_owned(), share })
}

fn proved(table: &Table) -> Vec<Proved> {
    let day = |key: &&str| {
        let date = table.date(key)?.value.to_string();
        Some(Proved { what: (*key).replace('-', " "), date })
    };
    RUNS.iter().filter_map(day).collect()
}
