//! What could be seen in the vessels at one moment: volumes, temperatures, strengths. It reads a
//! state and changes nothing.

use crate::plant::{Plant, SOLIDS_KG_M3, bed_mean_c, bed_under_c, bed_valve_plato, bed_volume_m3};
use crate::setting::Setting;
use crate::state::{Mash, State, mash};
use crate::trace::{Seen, Snapshot};
use matter::wort;
use process::bed;
use process::mash::{self as kinetics, LIQUID, SOLID};

fn plato(water_kg: f64, extract_kg: f64) -> f64 {
    100.0 * extract_kg / (water_kg + extract_kg).max(1e-9)
}

/// Everything seen in a state.
pub(crate) fn of(setting: &Setting, state: &State) -> Snapshot {
    let mut snapshot = Snapshot::default();
    for (pot, held) in setting.pots.iter().zip(&state.pots) {
        let temp_c = held.temperature_c(pot.lumped_j_k());
        snapshot.pots.push(Seen {
            volume_m3: wort::volume_m3(held.water_kg, held.extract_kg, temp_c)
                + held.solids_kg / SOLIDS_KG_M3,
            temp_c,
            plato: plato(held.water_kg, held.extract_kg),
            mass_kg: held.mass_kg() + held.solids_kg,
        });
    }
    let tun = setting.parts.mash;
    match &state.mash {
        Mash::None => {}
        Mash::Nodes(nodes) => {
            let (over_c, under_c) = nodes.temperatures_c(setting);
            let over_kg = kinetics::dissolved_kg(&nodes.over.pools);
            let under_kg = kinetics::dissolved_kg(&nodes.under.pools);
            let undissolved_kg = nodes.undissolved_kg();
            let water_kg = nodes.over.water_kg + nodes.under.water_kg;
            snapshot.pots[tun] = Seen {
                volume_m3: wort::volume_m3(nodes.over.water_kg, over_kg, over_c)
                    + wort::volume_m3(nodes.under.water_kg, under_kg, under_c)
                    + undissolved_kg / SOLIDS_KG_M3,
                temp_c: over_c,
                plato: plato(nodes.over.water_kg, over_kg),
                mass_kg: water_kg + over_kg + under_kg + undissolved_kg,
            };
            snapshot.under_c = nodes.two.then_some(under_c);
            snapshot.mash_plato = plato(water_kg, over_kg + under_kg);
            snapshot.valve_plato =
                if nodes.two { plato(nodes.under.water_kg, under_kg) } else { snapshot.mash_plato };
        }
        Mash::Bed(held) => {
            let water_kg = bed::total_water_kg(&held.bed, &held.y);
            let extract_kg = bed::total_extract_kg(&held.y) - held.y[bed::REST];
            snapshot.pots[tun] = Seen {
                volume_m3: bed_volume_m3(&held.bed, &held.y, held.solids_kg),
                temp_c: bed_mean_c(&held.bed, &held.y),
                plato: plato(water_kg, extract_kg),
                mass_kg: water_kg + extract_kg + held.solids_kg,
            };
            snapshot.under_c = Some(bed_under_c(&held.bed, &held.y));
            snapshot.mash_plato = plato(water_kg, extract_kg);
            snapshot.valve_plato = bed_valve_plato(&held.bed, &held.y);
        }
    }
    snapshot
}

/// The pots as a vector between two events has them.
pub(crate) fn of_vector(plant: &mut Plant<'_>, state: &State, t: f64, y: &[f64]) -> Vec<Seen> {
    let mut held = state.clone();
    plant.unpack(t, y, &mut held);
    of(plant.setting, &held).pots
}

/// Sizes of the mash's numbers: such that a whole mash is right to a millionth.
pub(crate) fn mash_scales(scales: &mut [f64], grist_kg: f64, two: bool) {
    let node = |water: usize, pools: usize, heat: usize, scales: &mut [f64]| {
        scales[water] = 2.0 * grist_kg;
        scales[pools..pools + LIQUID].fill(1.0 * grist_kg);
        // a pool that passes on what it gets, and enzymes: what they get wrong makes little sugar
        scales[pools + kinetics::PASTE] = 3.0 * grist_kg;
        scales[pools + kinetics::ALPHA..pools + LIQUID].fill(10.0);
        scales[heat] = 1e6 * grist_kg; // some 100 K
    };
    node(mash::WATER, mash::POOLS, mash::HEAT, scales);
    scales[mash::SOLIDS..mash::SOLIDS + SOLID].fill(1.0 * grist_kg);
    if two {
        node(mash::UNDER_WATER, mash::UNDER_POOLS, mash::UNDER_HEAT, scales);
    }
}

/// Sizes of the bed's numbers: such that what runs off is right to a millionth.
pub(crate) fn bed_scales(scales: &mut [f64], grist_kg: f64) {
    let (extract, heat) = (0.1 * grist_kg, 2e5 * grist_kg);
    scales[..bed::BED_STATES].fill(extract);
    scales[bed::FREE_WATER] = grist_kg;
    scales[bed::FREE_HEAT] = heat;
    scales[bed::CELL_HEAT..bed::CELL_HEAT + bed::CELLS].fill(heat);
    scales[bed::MOBILE_SHARE] = 1.0;
    scales[bed::UNDER_SHARE] = 1.0;
    scales[bed::UNDER_HEAT] = heat;
}
