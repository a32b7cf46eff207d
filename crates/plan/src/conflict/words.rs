//! Words of wishes that no limit speaks of: how things are done, and what was stated.

use super::change::{STRIKE_KG_M3, usual_boil_s};
use crate::say::Say;
use brew::{Brew, SpargeHow};
use quantity::write;

/// Strike liquor for each mass of grist, kg per kg, as it is spoken of.
pub(super) fn thickness_words(kg_kg: f64, say: Say) -> String {
    let l_kg = 1e3 * kg_kg / STRIKE_KG_M3;
    if say.us() {
        // a US quart is 0.94635 L, a pound 0.45359 kg
        format!("{:.2} qt/lb", l_kg * 0.453_59 / 0.946_35)
    } else {
        format!("{l_kg:.2} L/kg")
    }
}

/// Words of a wish that no limit speaks of.
pub(super) fn wish_words(id: &str, brew: &Brew, say: Say) -> Option<String> {
    Some(match id {
        "volume" => {
            let volume = say.volume(brew.wanted.volume.value.cubic_metres());
            format!("The wish: {volume} in the fermenter.")
        }
        "gravity" => format!("The wish: wort of {}.", write(brew.wanted.gravity.value, say.0)),
        "one_filling" => "The tank is filled once.".into(),
        "sparge" => match brew.sparge.how {
            SpargeHow::Continuous => "Liquor runs on the bed as wort runs off.".into(),
            SpargeHow::Drains(1) => "The bed is drained once.".into(),
            SpargeHow::Drains(n) => format!("The bed is drained {n} times."),
            SpargeHow::None => "No sparge.".into(),
        },
        "thickness" => {
            let t = brew.mash.thickness?;
            format!("The wish: {} in the mash.", thickness_words(STRIKE_KG_M3 * t.m3_kg, say))
        }
        "boil_length" => format!("The wish: a boil of {}.", say.minutes(usual_boil_s(brew))),
        "fire" => "The wish: rests that are reached by fire.".into(),
        "infusions" => "The wish: rests that are reached by hot liquor.".into(),
        "decoctions" => "The wish: rests that are reached by a decoction.".into(),
        "run_off_rate" => {
            let rate = brew.sparge.rate.as_ref()?;
            format!("The wish: a run-off of {}.", say.flow(rate.value.cubic_metres_per_second()))
        }
        "pitch" => format!("The wish: yeast pitched at {}.", write(brew.pitch_at(), say.0)),
        "malt_shares" => "The shares of the malts as they are stated.".into(),
        "rests_as_stated" => "The rests as they are stated.".into(),
        _ => return None,
    })
}

/// What is left of a day's misses, in words.
fn list(ids: &[String]) -> String {
    let names: Vec<String> = ids.iter().map(|id| id.replace('_', " ")).collect();
    names.join(", ")
}

/// What leaving one member of the set out alone leads to.
pub(super) fn without_words(what: &str, still: Option<&[String]>) -> String {
    let what = what.trim_end_matches('.');
    match still {
        Some([]) => format!("Without this the day solves, all else held: {what}."),
        Some(still) => {
            format!("Without this alone the day does not solve yet ({}): {what}.", list(still))
        }
        None => format!("Without this alone no day was found: {what}."),
    }
}

/// What may be said of a set as a whole.
pub(super) fn claim(smallest: bool, any: bool) -> &'static str {
    if smallest {
        "Drop any one of these, and the day solves; each was tried alone, with all else held."
    } else if any {
        "These stand against each other; leaving out only one of them is not always enough."
    } else {
        "Nothing was found that could be left out alone."
    }
}
