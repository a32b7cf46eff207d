//! What is held against the pots and the wishes, each with its verdict. It reads a solved day and
//! offers no way out.

use crate::choice::CHILL_CARE_K;
use crate::output::{Aim, Limit};
use crate::readings::round;
use crate::say::Say;
use crate::setting::Place;
use crate::solve::Solved;
use brew::{Brew, Reach, SpargeHow};
use day::trace::Seen;
use quantity::UnitSystem;

/// Free height that must stay under the brim of tank and tun, m (common practice: 20 to 30 mm are
/// wanted, under 10 mm it spills).
const FREE_M: f64 = 0.010;
/// Free height below which it wants care, m.
const FREE_CARE_M: f64 = 0.030;
/// First foam lives this long, s; surge at the first roll, m (from memory).
const FOAM_LIFE_S: f64 = 4.0;
const SURGE_M: f64 = 0.030;
/// Density of steam at the boil, kg/m³.
const STEAM_KG_M3: f64 = 0.598;
/// Part of a fermenter kept free for the yeast's foam (common practice).
const FERMENTER_FREE: f64 = 0.10;
/// Beds outside these depths filter badly, mm (common practice).
const BED_MM: (f64, f64) = (100.0, 450.0);

struct Verdict<'a> {
    id: &'a str,
    vessel: &'a str,
    value: f64,
    bound: f64,
    unit: &'a str,
    kept: bool,
    care: bool,
}

fn limit(v: &Verdict<'_>, words: impl Fn(Say) -> String) -> Limit {
    Limit {
        id: v.id.into(),
        vessel: v.vessel.into(),
        words: words(Say(UnitSystem::Metric)),
        words_us: words(Say(UnitSystem::Us)),
        value: round(v.value, 3),
        bound: round(v.bound, 3),
        unit: v.unit.into(),
        kept: v.kept,
        care: v.kept && v.care,
    }
}

/// Every limit of a solved day.
pub(crate) fn limits(place: &Place<'_>, brew: &Brew, solved: &Solved) -> Vec<Limit> {
    let p = &place.parts;
    let mut all = wishes(brew, solved);
    all.push(brim(place, solved, p.liquor, "tank_brim"));
    if p.mash != p.liquor {
        all.push(brim(place, solved, p.mash, "tun_brim"));
    }
    all.push(head_space(place, solved));
    all.push(fermenter(place, solved));
    all.push(bed_depth(place, solved));
    all.push(pitch(place, brew, solved));
    all.extend(ways(place, brew, solved));
    for caveat in &solved.trace.caveats {
        let verdict = Verdict {
            id: "not_reached",
            vessel: "brewhouse",
            value: 1.0,
            bound: 0.0,
            unit: "1",
            kept: false,
            care: false,
        };
        all.push(limit(&verdict, |_| format!("{caveat}.")));
    }
    all
}

fn wishes(brew: &Brew, solved: &Solved) -> Vec<Limit> {
    let targets = crate::assemble::targets(brew, solved);
    let rows: [(&str, &str, Option<Aim>); 5] = [
        ("volume", "L", targets.volume_l),
        ("gravity", "°P", targets.extract_plato),
        ("bitterness", "IBU", targets.bitterness_ibu),
        ("colour", "EBC", targets.colour_ebc),
        ("fermentability", "%", targets.fermentability_percent),
    ];
    let mut all = Vec::new();
    for (id, unit, aim) in rows {
        let Some(aim) = aim else { continue };
        let off = (aim.expected - aim.wanted).abs();
        let verdict = Verdict {
            id,
            vessel: "brew",
            value: aim.expected,
            bound: aim.wanted,
            unit,
            kept: off <= aim.tolerance + 1e-9,
            care: off > 0.8 * aim.tolerance,
        };
        all.push(limit(&verdict, |_| {
            format!(
                "{id}: {:.2} {unit}, wanted between {:.2} and {:.2} {unit}.",
                aim.expected,
                aim.wanted - aim.tolerance,
                aim.wanted + aim.tolerance
            )
        }));
    }
    all
}

/// Fullest moment of a pot.
fn fullest(solved: &Solved, pot: usize) -> Seen {
    let edges = solved.trace.operations.iter().flat_map(|t| [&t.at_start, &t.at_end]);
    edges
        .filter_map(|s| s.pots.get(pot).copied())
        .fold(Seen::default(), |a, b| if b.volume_m3 > a.volume_m3 { b } else { a })
}

fn brim(place: &Place<'_>, solved: &Solved, pot: usize, id: &str) -> Limit {
    let vessel = place.vessels[pot];
    let seen = fullest(solved, pot);
    let free_m = vessel.section.brim_height_m() - vessel.section.height_m(seen.volume_m3);
    let verdict = Verdict {
        id,
        vessel: &vessel.key,
        value: 1e3 * free_m,
        bound: 1e3 * FREE_M,
        unit: "mm",
        kept: free_m >= FREE_M,
        care: free_m < FREE_CARE_M,
    };
    let name = &vessel.name;
    limit(&verdict, |say| {
        let (holds, brims) = (say.volume(seen.volume_m3), say.volume(vessel.section.brim_m3()));
        let room = if free_m >= 0.0 {
            format!("{} stay free", say.length(free_m))
        } else {
            format!("{} too high", say.length(-free_m))
        };
        format!("{name}: holds up to {holds}, brims at {brims}; {room}.")
    })
}

fn head_space(place: &Place<'_>, solved: &Solved) -> Limit {
    let pot = place.parts.kettle;
    let kettle = place.vessels[pot];
    let marks = &solved.built.marks;
    let start = solved.trace.before(marks.boil, pot);
    let end = solved.trace.after(marks.boil, pot);
    let level_m = kettle.section.height_m(start.volume_m3);
    let free_m = kettle.section.brim_height_m() - level_m;
    let kg_s = (start.mass_kg - end.mass_kg) / solved.choice.boil_s.max(1.0);
    let open_m2 = kettle.section.area_m2(level_m).max(1e-6);
    let foam_m = FOAM_LIFE_S * kg_s / (STEAM_KG_M3 * open_m2);
    // the flame can be halved while the first foam stands; the surge comes all the same
    let verdict = Verdict {
        id: "kettle_head_space",
        vessel: &kettle.key,
        value: 1e3 * free_m,
        bound: 1e3 * (0.5 * foam_m + SURGE_M),
        unit: "mm",
        kept: free_m >= 0.5 * foam_m + SURGE_M,
        care: free_m < (foam_m + SURGE_M).max(0.2 * kettle.section.brim_height_m()),
    };
    limit(&verdict, |say| {
        format!(
            "{}: {} free as it boils; first foam about {}, {} with the flame halved, and a surge \
             of {}.",
            kettle.name,
            say.length(free_m.max(0.0)),
            say.length(foam_m),
            say.length(0.5 * foam_m),
            say.length(SURGE_M)
        )
    })
}

fn fermenter(place: &Place<'_>, solved: &Solved) -> Limit {
    let pot = place.parts.fermenter;
    let vessel = place.vessels[pot];
    let seen = fullest(solved, pot);
    let free = 1.0 - seen.volume_m3 / vessel.section.brim_m3().max(1e-9);
    let verdict = Verdict {
        id: "fermenter_brim",
        vessel: &vessel.key,
        value: 100.0 * free,
        bound: 100.0 * FERMENTER_FREE,
        unit: "%",
        kept: free >= FERMENTER_FREE,
        care: free < 0.15,
    };
    limit(&verdict, |say| {
        format!(
            "{}: {} in {}, {:.0} % free for the yeast's foam.",
            vessel.name,
            say.volume(seen.volume_m3),
            say.volume(vessel.section.brim_m3()),
            100.0 * free
        )
    })
}

fn bed_depth(place: &Place<'_>, solved: &Solved) -> Limit {
    let tun = place.vessels[place.parts.mash];
    let bed_mm = solved.trace.mash_end.map_or(0.0, |m| 1e3 * m.bed_m);
    let verdict = Verdict {
        id: "bed_depth",
        vessel: &tun.key,
        value: bed_mm,
        bound: BED_MM.0,
        unit: "mm",
        kept: true,
        care: bed_mm > 0.0 && !(BED_MM.0..=BED_MM.1).contains(&bed_mm),
    };
    limit(&verdict, |say| {
        let depth = say.length(1e-3 * bed_mm);
        if bed_mm == 0.0 {
            "No bed: the grain hangs in a bag.".into()
        } else if bed_mm < BED_MM.0 {
            format!("The bed is {depth}: shallow, it clears slowly and may channel.")
        } else {
            format!("The bed is {depth} deep.")
        }
    })
}

fn pitch(place: &Place<'_>, brew: &Brew, solved: &Solved) -> Limit {
    let pot = place.parts.fermenter;
    let got_c = solved.trace.after(solved.built.marks.to_fermenter, pot).temp_c;
    let wanted_c = brew.pitch_at().celsius();
    let verdict = Verdict {
        id: "pitch_temperature",
        vessel: &place.vessels[pot].key,
        value: got_c,
        bound: wanted_c,
        unit: "°C",
        kept: got_c <= wanted_c + CHILL_CARE_K,
        care: got_c > wanted_c + 0.5 * CHILL_CARE_K,
    };
    limit(&verdict, |say| {
        format!("The wort reaches {}, wanted {}.", say.temp(got_c), say.temp(wanted_c))
    })
}

/// Ways of doing that the brew asks for and the pots do not have.
fn ways(place: &Place<'_>, brew: &Brew, solved: &Solved) -> Vec<Limit> {
    let p = &place.parts;
    let tun = place.vessels[p.mash];
    let mut all = Vec::new();
    let missing = |id: &str, vessel: &str, words: String| {
        let verdict =
            Verdict { id, vessel, value: 0.0, bound: 1.0, unit: "1", kept: false, care: false };
        limit(&verdict, |_| words.clone())
    };
    for (i, rest) in brew.rests.iter().enumerate().skip(1) {
        if matches!(rest.by, Reach::Fire) && tun.heater.is_none() {
            all.push(missing(
                "rest_by_fire",
                &tun.key,
                format!("Rest {} is to be reached by fire, and nothing heats the tun.", i + 1),
            ));
        }
        if matches!(rest.by, Reach::HotLiquor) && p.liquor == p.mash {
            all.push(missing(
                "rest_by_hot_liquor",
                &tun.key,
                format!(
                    "Rest {} is to be reached by hot liquor, and the pot holds the mash.",
                    i + 1
                ),
            ));
        }
    }
    let sparges = !matches!(brew.sparge.how, SpargeHow::None);
    if sparges && !solved.choice.ways.bag && p.liquor == p.kettle {
        all.push(missing(
            "sparge_liquor",
            &place.vessels[p.kettle].key,
            "The kettle heats the liquor: it cannot hold sparge liquor while it collects wort."
                .into(),
        ));
    }
    all
}
