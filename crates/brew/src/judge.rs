//! What the numbers of a brew mean together: shares against 100 %, rests against boiling, hops
//! against the boil and the wanted bitterness.
//!
//! Finds what can't be, at the text that says so; whether pots allow it is the planner's to say.

use document::{Findings, Table};
use quantity::{Bitterness, Duration, Extract, Share, Temperature, UnitSystem, write};

use crate::brew::{Brew, GristAmount, HopAmount, Limit, SpargeHow, When};

/// Strongest wort whose numbers are trusted, kg/kg: the tables of density and heat end there.
const STRONGEST: f64 = 0.30;

/// Boiling point of water at 101.325 kPa, K (IAPWS-95).
const BOILING_K: f64 = 373.124;

/// Judges a whole brew.
pub(crate) fn brew(brew: &Brew, root: &Table, findings: &mut Findings) {
    let units = brew.units.unwrap_or_default();
    wishes(brew, root, units, findings);
    grist(brew, root, findings);
    rests(brew, root, units, findings);
    hops(brew, root, units, findings);
    boil_times(brew, root, units, findings);
    if root.table("sparge").is_some_and(|t| t.has("drains"))
        && !matches!(brew.sparge.how, SpargeHow::Drains(_))
    {
        let table = root.table("sparge").unwrap_or(root);
        findings
            .error(table.key_place("drains"), "only a sparge in drains has a number of drains")
            .expected("how = \"drains\" beside it");
    }
}

fn wishes(brew: &Brew, root: &Table, units: UnitSystem, findings: &mut Findings) {
    let Some(table) = root.table("wanted") else { return };
    let gravity = brew.wanted.gravity.value;
    if gravity.mass_fraction() > STRONGEST {
        let strongest = write(Extract::from_mass_fraction(STRONGEST), units);
        findings
            .error(table.place("gravity"), "no wort is as strong as this")
            .expected(format!("at most {strongest}: wort is computed that far"));
    } else if gravity.mass_fraction() < 0.01 {
        findings.error(table.place("gravity"), "this is water, not wort").expected("at least 1 °P");
    }
    if let Some(Limit::FinalGravity(finish)) = &brew.wanted.limit
        && finish.value >= gravity
    {
        findings
            .error(table.place("final-gravity"), "it would not ferment at all")
            .expected("a final gravity below the gravity")
            .also(table.place("gravity"), "the gravity");
    }
    for key in ["volume", "gravity", "bitterness", "fermentability", "final-gravity", "colour"] {
        let stated = table.any_quantity(key);
        if stated.is_some_and(|q| q.value.half_width == Some(0.0)) {
            findings
                .error(table.place(key), "nothing is met to nothing")
                .expected("a gate wider than 0, or none");
        }
    }
}

fn grist(brew: &Brew, root: &Table, findings: &mut Findings) {
    let tables = root.tables("grist");
    let mut sum = 0.0;
    let (mut rest, mut shares, mut masses) = (Vec::new(), Vec::new(), Vec::new());
    for (item, table) in brew.grist.iter().zip(tables) {
        match &item.amount {
            GristAmount::Share(share) => {
                sum += share.value.fraction();
                shares.push(table);
            }
            GristAmount::Mass(_) => masses.push(table),
            GristAmount::Rest => rest.push(table),
        }
    }
    if let (Some(mass), Some(share)) = (masses.first(), shares.first()) {
        findings
            .error(mass.key_place("mass"), "masses and shares in one grist")
            .expected("all malts by mass, or all by share")
            .also(share.key_place("share"), "a share");
        return;
    }
    if let (Some(mass), Some(open)) = (masses.first(), rest.first()) {
        findings
            .error(open.place("malt"), "how much of this malt?")
            .expected("mass = \"1 kg\", as the other malts")
            .also(mass.key_place("mass"), "another malt by mass");
        return;
    }
    if let [first, second, ..] = rest[..] {
        findings
            .error(second.place("malt"), "two malts are left over")
            .expected("a share for all malts but one")
            .also(first.place("malt"), "the other one");
        return;
    }
    let Some(last) = shares.last() else { return };
    let percent = Share::from_fraction(sum).percent();
    if rest.is_empty() && (sum - 1.0).abs() > 0.005 {
        findings
            .error(last.place("share"), format!("the shares come to {percent:.4} %, not 100 %"))
            .expected("shares that come to 100 %, or one malt without a share");
    } else if !rest.is_empty() && sum >= 1.0 {
        findings
            .error(last.place("share"), format!("the shares come to {percent:.4} % already"))
            .expected("something left for the malt without a share")
            .also(rest[0].place("malt"), "nothing is left for this");
    }
}

fn rests(brew: &Brew, root: &Table, units: UnitSystem, findings: &mut Findings) {
    let tables = root.tables("rest");
    if brew.rests.is_empty() {
        findings
            .error(root.place("rest"), "there is no rest")
            .expected("at least one table [[rest]] with at and for");
    }
    for (i, (rest, table)) in brew.rests.iter().zip(tables).enumerate() {
        let at = rest.at.value;
        if at.kelvin() >= BOILING_K {
            let boiling = write(Temperature::from_kelvin(BOILING_K), units);
            findings
                .error(table.place("at"), "this rest is above boiling")
                .expected(format!("below {boiling}, where water boils at the sea"));
        } else if at.kelvin() < 283.15 {
            findings
                .error(table.place("at"), "too cold for a mash")
                .expected(format!("at least {}", write(Temperature::from_celsius(10.0), units)));
        }
        if i > 0 && at <= brew.rests[i - 1].at.value {
            findings
                .error(table.place("at"), "this rest is not warmer than the one before it")
                .expected("rests that rise: a mash is not cooled")
                .also(tables[i - 1].place("at"), "the one before it");
        }
    }
}

/// What hops give against what is wanted.
fn hops(brew: &Brew, root: &Table, units: UnitSystem, findings: &mut Findings) {
    let tables = root.tables("hop");
    let wanted = brew.wanted.bitterness;
    let (mut given, mut by_mass) = (0.0, false);
    let mut rest = Vec::new();
    for (hop, table) in brew.hops.iter().zip(tables) {
        let dry = matches!(hop.add, When::Dry | When::Pitch);
        let to_find = !matches!(hop.amount, HopAmount::Mass(_));
        if to_find && dry {
            findings
                .error(table.place("add"), "hops in the fermenter give no counted bitterness")
                .expected("amount = \"30 g\" beside it");
            continue;
        }
        if to_find && hop.alpha.is_some_and(|a| a.value.fraction() <= 0.0) {
            findings
                .error(table.place("alpha"), "hops without alpha acids give no bitterness")
                .expected("alpha above 0 %, or an amount in grams")
                .also(first_place(table, &["gives", "share", "kind"]), "asked to give it here");
        }
        match (&hop.amount, wanted) {
            (HopAmount::Mass(_), _) => by_mass |= !dry,
            (HopAmount::Gives(ibu), _) => given += ibu.value.ibu(),
            (HopAmount::Share(share), Some(w)) => given += share.value.fraction() * w.value.ibu(),
            (HopAmount::Rest, Some(_)) => rest.push(table),
            (HopAmount::Share(_) | HopAmount::Rest, None) => {
                findings
                    .error(first_place(table, &["share", "kind"]), "how much of this hop?")
                    .expected("an amount in grams, or a bitterness among the wishes");
            }
        }
    }
    if let [first, second, ..] = rest[..] {
        findings
            .error(second.place("kind"), "two hops share what is left of the bitterness")
            .expected("amount, gives or share for all hops but one")
            .also(first.place("kind"), "the other one");
    }
    let (Some(w), Some(place)) = (wanted, root.table("wanted")) else { return };
    let (target, gate) = (w.value.ibu(), w.tolerance);
    let too_many = given > target + gate;
    let too_few = !brew.hops.is_empty() && rest.is_empty() && !by_mass && given < target - gate;
    if too_many || too_few {
        let sum = write(Bitterness::from_ibu(given), units);
        findings
            .error(place.place("bitterness"), format!("the hops are to give {sum} together"))
            .expected("the same sum as the wish, or one hop without amount, gives and share");
    }
}

fn first_place(table: &Table, keys: &[&str]) -> document::Span {
    let key = keys.iter().find(|key| table.has(key));
    key.map_or(table.span, |key| table.place(key))
}

/// Nothing is added before the boil has begun when it is counted from the end.
fn boil_times(brew: &Brew, root: &Table, units: UnitSystem, findings: &mut Findings) {
    let Some(length) = brew.boil.length else { return };
    let boil = root.table("boil").map_or(root.span, |t| t.place("length"));
    let mut check = |add: &When, table: &Table| {
        if let When::BeforeEnd(time) = add
            && *time > length.value
        {
            let whole = write::<Duration>(length.value, units);
            findings
                .error(table.place("add"), "this is longer than the boil")
                .expected(format!("at most {whole}, or \"start of boil\""))
                .also(boil, "the boil");
        }
    };
    for (hop, table) in brew.hops.iter().zip(root.tables("hop")) {
        check(&hop.add, table);
    }
    for (other, table) in brew.additions.iter().zip(root.tables("addition")) {
        check(&other.add, table);
    }
}
