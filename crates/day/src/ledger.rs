//! Where the extract, the water and the heat of a day went: three balances that close. It adds up
//! what a trace holds and assumes nothing.

use crate::setting::Setting;
use crate::state::{Mash, State, total};
use crate::trace::Trace;
use process::bed;
use process::mash as kinetics;

/// One balance.
#[derive(Debug, Clone, Default)]
pub struct Balance {
    /// What came in.
    pub came_in: Vec<(&'static str, f64)>,
    /// Where it went.
    pub went: Vec<(&'static str, f64)>,
}

impl Balance {
    /// Difference of both sides over the larger sum of magnitudes.
    pub fn closure(&self) -> f64 {
        let sum = |side: &[(&str, f64)]| side.iter().map(|e| e.1).sum::<f64>();
        let size = |side: &[(&str, f64)]| side.iter().map(|e| e.1.abs()).sum::<f64>();
        let scale = size(&self.came_in).max(size(&self.went));
        if scale > 0.0 { (sum(&self.came_in) - sum(&self.went)) / scale } else { 0.0 }
    }
}

/// The three balances of a day.
#[derive(Debug, Clone, Default)]
pub struct Ledger {
    /// Water, kg.
    pub water: Balance,
    /// Extract, kg.
    pub extract: Balance,
    /// Heat, J from 65 °C.
    pub energy: Balance,
}

/// What is left in the tun at the end of the day.
#[derive(Debug, Clone, Copy, Default)]
struct TunRest {
    grain_water_kg: f64,
    grain_extract_kg: f64,
    under_water_kg: f64,
    under_extract_kg: f64,
    undissolved_kg: f64,
    heat_j: f64,
}

fn tun_rest(state: &State) -> TunRest {
    match &state.mash {
        Mash::None => TunRest {
            grain_water_kg: state.lifted.water_kg,
            grain_extract_kg: state.lifted.extract_kg,
            undissolved_kg: state.lifted.undissolved_kg,
            heat_j: state.lifted.heat_j,
            ..TunRest::default()
        },
        Mash::Nodes(nodes) => {
            let (over, under) = (&nodes.over, &nodes.under);
            TunRest {
                grain_water_kg: over.water_kg,
                grain_extract_kg: kinetics::dissolved_kg(&over.pools),
                under_water_kg: under.water_kg,
                under_extract_kg: kinetics::dissolved_kg(&under.pools),
                undissolved_kg: nodes.solids.iter().sum::<f64>()
                    + nodes.start.starch_kg * nodes.start.kinetics.shut,
                heat_j: over.heat_j + under.heat_j,
            }
        }
        Mash::Bed(held) => {
            let under_extract_kg = held.y[bed::UNDER_EXTRACT];
            let under_m3 = bed::under_m3(&held.bed, &held.y);
            let under_water_kg = held.bed.water_density_kg_m3
                * (under_m3 - held.bed.extract_volume_m3_kg * under_extract_kg);
            let rest_kg = held.y[bed::REST];
            TunRest {
                grain_water_kg: bed::total_water_kg(&held.bed, &held.y) - under_water_kg,
                grain_extract_kg: bed::total_extract_kg(&held.y) - rest_kg - under_extract_kg,
                under_water_kg,
                under_extract_kg,
                undissolved_kg: held.undissolved_kg + rest_kg,
                heat_j: bed::total_heat_j(&held.y),
            }
        }
    }
}

/// The ledger of a simulated day.
pub fn ledger(setting: &Setting, trace: &Trace) -> Ledger {
    let state = &trace.end;
    let rest = tun_rest(state);
    let parts = &setting.parts;
    let fermenter = &state.pots[parts.fermenter];
    let kettle = &state.pots[parts.kettle];
    let others = |of: fn(&crate::state::PotState) -> f64| -> f64 {
        (0..state.pots.len())
            .filter(|&i| i != parts.fermenter && i != parts.kettle)
            .map(|i| of(&state.pots[i]))
            .sum()
    };
    let t = &state.totals;
    let water = Balance {
        came_in: vec![
            ("liquor", t[total::TAP_KG]),
            ("water of malt and sugar", state.came.water_kg),
        ],
        went: vec![
            ("vapour", t[total::VAPOUR_KG]),
            ("bound by splitting starch", t[total::BOUND_KG]),
            ("held by the grain", rest.grain_water_kg),
            ("left under the false bottom", rest.under_water_kg),
            ("left in the tank", others(|p| p.water_kg)),
            ("left in the kettle with trub and hops", kettle.water_kg),
            ("hoses, chiller and spilling", state.spilt.water_kg),
            ("in the fermenter", fermenter.water_kg),
        ],
    };
    let extract = Balance {
        came_in: vec![
            ("starch and other extract of the grist, and sugar", state.came.extract_kg),
            ("water bound by splitting starch", t[total::BOUND_KG]),
        ],
        went: vec![
            ("not dissolved", rest.undissolved_kg),
            ("held by the grain", rest.grain_extract_kg),
            ("left under the false bottom", rest.under_extract_kg),
            ("left in other pots", others(|p| p.extract_kg)),
            ("left in the kettle with trub and hops", kettle.extract_kg),
            ("hoses, chiller and spilling", state.spilt.extract_kg),
            ("in the fermenter", fermenter.extract_kg),
        ],
    };
    Ledger { water, extract, energy: energy(state, rest.heat_j, parts.fermenter) }
}

fn energy(state: &State, tun_heat_j: f64, fermenter: usize) -> Balance {
    let t = &state.totals;
    let held = &state.pots[fermenter];
    let others: f64 = (0..state.pots.len())
        .filter(|&i| i != fermenter)
        .map(|i| state.pots[i].heat_j + state.pots[i].base_j)
        .sum();
    Balance {
        came_in: vec![
            ("flames", t[total::FLAME_J]),
            ("elements and plates", t[total::ELECTRIC_J]),
            ("wetting of the grist", state.came.wetting_j),
            (
                "cold liquor, grain and sugar, counted from 65 °C",
                state.came.heat_j + t[total::TAP_J],
            ),
            ("cold metal, counted from 65 °C", state.came.metal_j),
        ],
        went: vec![
            ("vapour", t[total::VAPOUR_J]),
            ("walls, lids and bases", t[total::WALL_J]),
            ("open surfaces", t[total::SURFACE_J]),
            ("chilling water", t[total::CHILL_J]),
            ("left in tun and grain, counted from 65 °C", tun_heat_j),
            ("left in the other pots, counted from 65 °C", others),
            ("hoses, chiller and spilling, counted from 65 °C", state.spilt.heat_j),
            ("in the fermenter, counted from 65 °C", held.heat_j + held.base_j),
        ],
    }
}
