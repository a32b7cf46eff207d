//! Hops and other additions, and when they are added.
//!
//! Reads single additions; whether they fit the boil and the wishes is judged in `judge`.

use document::{Findings, Placed, Table};
use quantity::{Bitterness, Duration, Mass, Share, Temperature};

use super::value;
use crate::brew::{Addition, AdditionKind, HopAddition, HopAmount, HopForm, When};

/// Reads one hop addition.
pub(super) fn hop(table: &Table, findings: &mut Findings) -> Option<HopAddition> {
    let kind = table.text("kind")?;
    let add = when(table, findings);
    let amount = hop_amount(table, findings);
    let class = match table.text("type") {
        Some(word) => Some(word.value.to_owned()),
        None if table.has("type") => None,
        None => class_by_kind(kind, findings),
    };
    Some(HopAddition {
        kind: kind.value.to_owned(),
        class: class?,
        alpha: table.quantity("alpha").map(value),
        form: match table.text("form").map(value) {
            Some("cones") => HopForm::Cones,
            _ => HopForm::Pellets,
        },
        in_bag: table.bool("in-bag").is_some_and(value),
        age: table.quantity("age").map(value),
        kept_at: table.quantity("kept-at").map(value),
        add: add?,
        amount: amount?,
    })
}

/// The class a person's own word means: a public cultivar, or a generic type named in it.
fn class_by_kind(kind: Placed<&str>, findings: &mut Findings) -> Option<String> {
    let mine = kind.value.trim().to_lowercase();
    let exact = matter::hop::hop_names().find(|name| name.to_lowercase() == mine);
    let generic = ["noble", "aroma", "dual", "bittering"]
        .into_iter()
        .find(|word| mine.split_whitespace().any(|w| w == *word));
    let found = exact.map(str::to_owned).or(generic.map(|word| format!("{word} type")));
    if found.is_none() {
        findings.error(kind.span, format!("what sort of hop is \"{}\"?", kind.value)).expected(
            "type = \"noble type\", \"aroma type\", \"dual type\" or \"bittering type\" beside \
                 it, or a public cultivar",
        );
    }
    found
}

fn hop_amount(table: &Table, findings: &mut Findings) -> Option<HopAmount> {
    let stated: Vec<_> =
        ["amount", "gives", "share"].into_iter().filter(|key| table.has(key)).collect();
    match stated[..] {
        [] => Some(HopAmount::Rest),
        ["amount"] => {
            let mass = table.quantity::<Mass>("amount")?;
            if mass.value.value.kilograms() <= 0.0 {
                findings.error(mass.span, "no hops at all").expected("more than 0 g");
                return None;
            }
            Some(HopAmount::Mass(mass.value))
        }
        ["gives"] => Some(HopAmount::Gives(table.quantity::<Bitterness>("gives")?.value)),
        ["share"] => Some(HopAmount::Share(table.quantity::<Share>("share")?.value)),
        [first, second, ..] => {
            findings
                .error(table.key_place(second), format!("both {first} and {second}"))
                .expected("one of amount, gives, share")
                .also(table.key_place(first), "the other one");
            None
        }
        _ => None,
    }
}

/// Reads another addition.
pub(super) fn addition(table: &Table, findings: &mut Findings) -> Option<Addition> {
    let word = table.text("what")?;
    let kind = match word.value {
        "finings" => AdditionKind::Finings,
        "nutrient" => AdditionKind::Nutrient,
        "sugar" => AdditionKind::Sugar,
        _ => AdditionKind::Spice,
    };
    let name = table.text("name");
    if kind == AdditionKind::Sugar {
        let known = name.is_some_and(|n| matter::sugar::sugar_class(n.value).is_some());
        if !known {
            let rows: Vec<_> =
                matter::sugar::sugar_classes().iter().map(|s| format!("\"{}\"", s.name)).collect();
            findings
                .error(name.map_or(word.span, |n| n.span), "which sugar?")
                .expected(format!("name = one of {}", rows.join(", ")));
            return None;
        }
    }
    let add = when(table, findings);
    Some(Addition {
        kind,
        what: name.map_or(word.value, value).to_owned(),
        amount: table.quantity("amount")?.value,
        add: add?,
    })
}

const EXPECTED: &str = "\"mash\", \"first wort\", \"start of boil\", \"15 min before the end\", \
                        \"flame out\", \"stand at 84 °C\", \"pitch\" or \"dry\"";

/// When something is added, from `add` and, for a stand, `for`.
fn when(table: &Table, findings: &mut Findings) -> Option<When> {
    let add = table.text("add")?;
    let length = table.quantity::<Duration>("for").map(|d| d.value.value);
    let words = add.value.trim().to_lowercase();
    let stand = words.strip_prefix("stand at ").or(words.strip_prefix("flame out, stand at "));
    if stand.is_none() && table.has("for") {
        findings
            .error(table.key_place("for"), "only a stand has a length")
            .expected("add = \"stand at 84 °C\" beside it");
    }
    let read = match words.as_str() {
        "mash" => Some(When::Mash),
        "first wort" => Some(When::FirstWort),
        "start of boil" => Some(When::StartOfBoil),
        "flame out" => Some(When::FlameOut),
        "pitch" => Some(When::Pitch),
        "dry" => Some(When::Dry),
        _ => None,
    };
    if read.is_some() {
        return read;
    }
    if stand.is_some() {
        return self::stand(table, add, length, findings);
    }
    let before = words.strip_suffix(" before the end");
    if let Some(Ok(time)) = before.map(quantity::read::<Duration>) {
        return Some(When::BeforeEnd(time.value));
    }
    let finding = findings.error(add.span, format!("when is \"{}\"?", add.value));
    finding.expected(EXPECTED);
    if quantity::read::<Duration>(&words).is_ok() {
        finding.perhaps(format!("\"{} before the end\"", add.value.trim()));
    }
    None
}

fn stand(
    table: &Table,
    add: Placed<&str>,
    length: Option<Duration>,
    findings: &mut Findings,
) -> Option<When> {
    // The person's own capitals: a unit may need them.
    let at = add.value.rfind(" at ").map_or("", |i| &add.value[i + 4..]);
    let temperature = match quantity::read::<Temperature>(at) {
        Ok(stated) => Some(stated.value),
        Err(error) => {
            findings.error(add.span, error.found.clone()).expected(error.expected.clone());
            None
        }
    };
    if !table.has("for") {
        findings.error(add.span, "how long is this stand?").expected("for = \"20 min\" beside it");
    }
    let at = temperature?;
    if !(273.15..=373.15).contains(&at.kelvin()) {
        findings
            .error(add.span, "no wort stands at this temperature")
            .expected("a temperature between freezing and boiling");
        return None;
    }
    Some(When::Stand { at, length: length? })
}
