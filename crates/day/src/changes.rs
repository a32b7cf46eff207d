//! What happens at once: grist stirred in, a mash settled, a part drawn or returned, a bag lifted,
//! hops and sugar thrown in. Each keeps water, extract and heat to rounding; none takes time.

use crate::plant::{EXTRACT_M3_KG, FLOW_WATER_KG_M3, SOLIDS_KG_M3, split_metal};
use crate::setting::{Chiller, Setting};
use crate::state::{BedState, Drawn, Lifted, Mash, Node, Nodes, PotState, State};
use crate::trace::MashEnd;
use crate::watch::FREE_GONE_KG;
use matter::{water, wort};
use process::bed::{self, Bed, Settled};
use process::mash::{self as kinetics, LIQUID, SOLID};
use process::strike;

/// Share of the tun's liquor that may lie below the screen at most (our choice).
const UNDER_MOST: f64 = 0.6;
/// Smallest space below a screen or manifold, m³ (our choice).
const LEAST_UNDER_M3: f64 = 2e-4;
/// Time constant with which a bed drips, s (from memory).
const DRAIN_S: f64 = 240.0;
/// Enzymes are the last three of the pools.
const DISSOLVED: usize = kinetics::ALPHA;

impl PotState {
    /// Mass of the liquid, kg.
    pub fn mass_kg(&self) -> f64 {
        self.water_kg + self.extract_kg
    }

    /// Temperature with this much metal, °C.
    pub fn temperature_c(&self, metal_j_k: f64) -> f64 {
        wort::temperature_c(
            self.heat_j,
            self.water_kg,
            self.extract_kg,
            self.solids_kg,
            metal_j_k,
            70.0,
        )
    }
}

fn liquid_heat_j(water_kg: f64, extract_kg: f64, temp_c: f64) -> f64 {
    water_kg * water::enthalpy_j_kg(temp_c) + extract_kg * wort::extract_enthalpy_j_kg(temp_c)
}

impl Nodes {
    /// Undissolved matter, kg.
    pub fn undissolved_kg(&self) -> f64 {
        self.inert_kg + self.solids.iter().sum::<f64>()
    }

    /// Temperatures above and below the screen, °C.
    pub fn temperatures_c(&self, setting: &Setting) -> (f64, f64) {
        let (over_j_k, under_j_k) = split_metal(&setting.pots[setting.parts.mash], self.two);
        let at = |node: &Node, solids_kg: f64, metal_j_k: f64| {
            let extract_kg = kinetics::dissolved_kg(&node.pools);
            wort::temperature_c(node.heat_j, node.water_kg, extract_kg, solids_kg, metal_j_k, 66.0)
        };
        let over_c = at(&self.over, self.undissolved_kg(), over_j_k);
        let under_c = if self.two { at(&self.under, 0.0, under_j_k) } else { over_c };
        (over_c, under_c)
    }

    /// All pools of both nodes.
    pub fn pools(&self) -> [f64; LIQUID] {
        std::array::from_fn(|k| self.over.pools[k] + self.under.pools[k])
    }
}

/// Stirs the grist into the liquor in the tun.
pub(crate) fn dough_in(setting: &Setting, state: &mut State, grist_kg: f64) -> Result<(), String> {
    let tun = setting.parts.mash;
    let pot = &setting.pots[tun];
    let held = state.pots[tun];
    if held.water_kg <= 0.0 {
        return Err("there is no liquor in the mash tun".into());
    }
    let mut grist = setting.grist;
    let times = grist_kg / grist.mass_kg.max(1e-9);
    grist.mass_kg *= times;
    grist.dry_kg *= times;
    let start = kinetics::start(&grist, &setting.kinetics);
    let two = pot.under_m3 > 0.0;
    let temp_c = held.temperature_c(pot.lumped_j_k());
    let (_, under_metal) = split_metal(pot, two);
    let under_kg = if two {
        (pot.under_m3 * water::density_kg_m3(temp_c)).min(UNDER_MOST * held.water_kg)
    } else {
        0.0
    };
    let under = Node {
        water_kg: under_kg,
        pools: [0.0; LIQUID],
        heat_j: liquid_heat_j(under_kg, 0.0, temp_c) + under_metal * (temp_c - 65.0),
    };
    let solid_kg = start.inert_kg + start.solids.iter().sum::<f64>();
    let dissolved_kg: f64 = start.liquid[..DISSOLVED].iter().sum();
    let grist_c = setting.grist_c;
    let grain_j = liquid_heat_j(start.moisture_kg, dissolved_kg, grist_c)
        + solid_kg * wort::solid_enthalpy_j_kg(grist_c);
    let wetting_j =
        setting.wetting_factor * grist_kg * strike::wetting_heat_j_kg(setting.grist.moisture);
    let over = Node {
        water_kg: held.water_kg - under_kg + start.moisture_kg,
        pools: start.liquid,
        heat_j: held.heat_j - under.heat_j + grain_j + wetting_j,
    };
    state.came.water_kg += start.moisture_kg;
    state.came.extract_kg += dissolved_kg + solid_kg - husk_kg(&start);
    state.came.heat_j += grain_j;
    state.came.wetting_j += wetting_j;
    let base_j = held.base_j;
    state.pots[tun] = PotState { base_j, ..PotState::default() };
    let mut nodes = Nodes {
        under,
        over,
        solids: start.solids,
        start,
        inert_kg: start.inert_kg,
        grist_kg,
        final_plato: 0.0,
        two,
        drawn: None,
        doughed_s: state.t_s,
    };
    nodes.final_plato = start.final_plato(nodes.over.water_kg + nodes.under.water_kg);
    state.mash = Mash::Nodes(Box::new(nodes));
    Ok(())
}

/// Dry matter of the grist that is neither starch nor other extract, kg.
fn husk_kg(start: &kinetics::Start) -> f64 {
    start.inert_kg - start.starch_kg * start.kinetics.shut
}

/// States the strength the mash would reach anew, after liquor was added.
pub(crate) fn restate(state: &mut State) {
    if let Mash::Nodes(nodes) = &mut state.mash {
        nodes.final_plato = nodes.start.final_plato(nodes.over.water_kg + nodes.under.water_kg);
    }
}

/// Takes shares of the solids and of the liquid above the screen to the kettle.
pub(crate) fn draw(
    setting: &Setting,
    state: &mut State,
    solids: f64,
    liquid: f64,
) -> Result<(), String> {
    let kettle = setting.parts.kettle;
    if kettle == setting.parts.mash {
        return Err("a decoction needs a second vessel on a burner".into());
    }
    let Mash::Nodes(nodes) = &mut state.mash else {
        return Err("there is no mash to draw from".into());
    };
    let (over_c, _) = nodes.temperatures_c(setting);
    let mut drawn = Drawn::default();
    for k in 0..LIQUID {
        drawn.pools[k] = liquid * nodes.over.pools[k];
        nodes.over.pools[k] -= drawn.pools[k];
    }
    for k in 0..SOLID {
        drawn.solids[k] = solids * nodes.solids[k];
        nodes.solids[k] -= drawn.solids[k];
    }
    drawn.inert_kg = solids * nodes.inert_kg;
    nodes.inert_kg -= drawn.inert_kg;
    let water_kg = liquid * nodes.over.water_kg;
    nodes.over.water_kg -= water_kg;
    let extract_kg = kinetics::dissolved_kg(&drawn.pools);
    let solids_kg = drawn.inert_kg + drawn.solids.iter().sum::<f64>();
    let heat_j =
        liquid_heat_j(water_kg, extract_kg, over_c) + solids_kg * wort::solid_enthalpy_j_kg(over_c);
    nodes.over.heat_j -= heat_j;
    nodes.drawn = Some(Box::new(drawn));
    let pot = &mut state.pots[kettle];
    pot.water_kg += water_kg;
    pot.extract_kg += extract_kg;
    pot.solids_kg += solids_kg;
    pot.heat_j += heat_j;
    Ok(())
}

/// The decoction has boiled: all its starch is paste, its enzymes are gone.
pub(crate) fn boiled(state: &mut State) {
    let Mash::Nodes(nodes) = &mut state.mash else { return };
    let Some(drawn) = &mut nodes.drawn else { return };
    drawn.pools[kinetics::PASTE] += drawn.solids[kinetics::DRY_STARCH]
        + drawn.solids[kinetics::RAW_LARGE]
        + drawn.solids[kinetics::RAW_SMALL];
    drawn.pools[kinetics::OTHER] += drawn.solids[kinetics::DRY_OTHER];
    drawn.solids = [0.0; SOLID];
    for enzyme in &mut drawn.pools[DISSOLVED..] {
        *enzyme = 0.0;
    }
}

/// Returns the decoction to the mash, some kelvin colder.
pub(crate) fn give_back(setting: &Setting, state: &mut State, loss_k: f64) -> Result<(), String> {
    let kettle = setting.parts.kettle;
    let metal = setting.pots[kettle].lumped_j_k();
    let held = state.pots[kettle];
    let Mash::Nodes(nodes) = &mut state.mash else {
        return Err("there is no mash to return to".into());
    };
    let Some(drawn) = nodes.drawn.take() else {
        return Err("no decoction was drawn".into());
    };
    let temp_c = held.temperature_c(metal);
    let extract_kg = kinetics::dissolved_kg(&drawn.pools);
    let solids_kg = drawn.inert_kg + drawn.solids.iter().sum::<f64>();
    let arrives_j = liquid_heat_j(held.water_kg, extract_kg, temp_c - loss_k)
        + solids_kg * wort::solid_enthalpy_j_kg(temp_c - loss_k);
    let metal_j = metal * (temp_c - 65.0);
    state.totals[crate::state::total::WALL_J] += held.heat_j - metal_j - arrives_j;
    for k in 0..LIQUID {
        nodes.over.pools[k] += drawn.pools[k];
    }
    for k in 0..SOLID {
        nodes.solids[k] += drawn.solids[k];
    }
    nodes.inert_kg += drawn.inert_kg;
    nodes.over.water_kg += held.water_kg;
    nodes.over.heat_j += arrives_j;
    state.pots[kettle] =
        PotState { heat_j: metal_j, base_j: held.base_j, boils: false, ..PotState::default() };
    Ok(())
}

fn mash_end(nodes: &Nodes, temp_c: f64, bed_m: f64) -> MashEnd {
    let pools = nodes.pools();
    let extract_kg = kinetics::dissolved_kg(&pools);
    let water_kg = nodes.over.water_kg + nodes.under.water_kg;
    MashEnd {
        conversion: kinetics::conversion(&pools, nodes.start.potential_kg),
        fermentable: kinetics::fermentable_kg(&pools, nodes.start.other_sugar_share)
            / extract_kg.max(1e-9),
        paste: kinetics::paste_share(&pools, nodes.start.starch_kg),
        bed_m,
        temp_c,
        plato: 100.0 * extract_kg / (extract_kg + water_kg).max(1e-9),
    }
}

/// Lets the mash settle into a bed to be run off. Nothing if it has settled already.
pub(crate) fn settle(setting: &Setting, state: &mut State) -> Result<Option<MashEnd>, String> {
    let nodes = match &state.mash {
        Mash::Bed(_) => return Ok(None),
        Mash::None => return Err("there is no mash to run off".into()),
        Mash::Nodes(nodes) => nodes,
    };
    let tun = setting.parts.mash;
    let pot = &setting.pots[tun];
    let (over_c, under_c) = nodes.temperatures_c(setting);
    let b = &setting.bed;
    let bed_m3 = b.per_kg_m3 * nodes.grist_kg;
    let end = mash_end(nodes, over_c, bed_m3 / pot.area_m2);
    let potential = nodes.start.potential_kg;
    let undissolved_kg =
        nodes.solids.iter().sum::<f64>() + nodes.start.starch_kg * nodes.start.kinetics.shut;
    let late_kg = (b.late * potential).min(undissolved_kg);
    let solids_kg = nodes.undissolved_kg();
    let under_m3 = pot.under_m3.max(LEAST_UNDER_M3);
    let liquid_m3 = (bed_m3 - solids_kg / SOLIDS_KG_M3).max(0.2 * bed_m3);
    let mut bed = Bed {
        mobile_m3: b.mobile * liquid_m3,
        held_m3: (1.0 - b.mobile) * liquid_m3,
        under_m3,
        dead_m3: pot.left_m3.min(0.95 * under_m3),
        exchange_s: b.exchange_s,
        channel: b.channel,
        late_s: b.late_s,
        water_density_kg_m3: FLOW_WATER_KG_M3,
        extract_volume_m3_kg: EXTRACT_M3_KG,
        solids_heat_j_k: solids_kg * wort::solid_heat_capacity_j_kg_k() + pot.lumped_j_k(),
        drain_s: DRAIN_S,
        retained_m3: b.retained_m3_kg * nodes.grist_kg,
    };
    let over_kg = kinetics::dissolved_kg(&nodes.over.pools);
    let under_kg = kinetics::dissolved_kg(&nodes.under.pools);
    let strength = |x: f64, w: f64| x / (x * EXTRACT_M3_KG + w / FLOW_WATER_KG_M3).max(1e-9);
    let under_strength = if nodes.two {
        strength(under_kg, nodes.under.water_kg) / strength(over_kg, nodes.over.water_kg).max(1e-9)
    } else {
        1.0
    };
    // what dissolves late is counted with the solids until then: it takes its heat along
    let settled = Settled {
        extract_kg: over_kg + under_kg,
        water_kg: nodes.over.water_kg + nodes.under.water_kg,
        heat_j: nodes.over.heat_j + nodes.under.heat_j,
        rest_kg: late_kg,
        under_strength,
        under_warmer_k: under_c - over_c,
    };
    pack(&mut bed, &settled);
    let y = bed::settle(&bed, &settled).map_err(|e| e.to_string())?;
    state.fermentable_share = end.fermentable;
    state.mash = Mash::Bed(Box::new(BedState {
        bed,
        y: y.to_vec(),
        solids_kg: solids_kg - late_kg,
        drains: bed::free_m3(&bed, &y) <= 0.0,
        grist_kg: nodes.grist_kg,
        undissolved_kg: undissolved_kg - late_kg,
        conversion: end.conversion,
    }));
    Ok(Some(end))
}

/// A mash with too little liquor for its own bed packs tighter.
fn pack(bed: &mut Bed, settled: &Settled) {
    let has_m3 = settled.water_kg / FLOW_WATER_KG_M3
        + EXTRACT_M3_KG * (settled.extract_kg + settled.rest_kg);
    let needs_m3 = bed.mobile_left_m3() + bed.held_m3 + bed.under_m3;
    if has_m3 < 1.02 * needs_m3 {
        let packed = has_m3 / (1.02 * needs_m3);
        for part in [
            &mut bed.mobile_m3,
            &mut bed.held_m3,
            &mut bed.under_m3,
            &mut bed.dead_m3,
            &mut bed.retained_m3,
        ] {
            *part *= packed;
        }
    }
}

/// A bed on which liquor still stands when the sparge ends is flooded, though it drained meanwhile.
pub(crate) fn flood(state: &mut State) {
    if let Mash::Bed(held) = &mut state.mash {
        held.drains &= held.y[bed::FREE_WATER] <= FREE_GONE_KG;
    }
}

/// Stirs liquor from the tank into the drained bed.
pub(crate) fn refill(setting: &Setting, state: &mut State, mass_kg: f64) -> Result<(), String> {
    let tank = setting.parts.liquor;
    let Mash::Bed(held) = &mut state.mash else {
        return Err("there is no drained bed to fill up".into());
    };
    let temp_c = state.pots[tank].temperature_c(setting.pots[tank].lumped_j_k());
    let heat_j = liquid_heat_j(mass_kg, 0.0, temp_c);
    state.pots[tank].water_kg -= mass_kg;
    state.pots[tank].heat_j -= heat_j;
    held.y[bed::FREE_WATER] += mass_kg;
    held.y[bed::FREE_HEAT] += heat_j;
    held.y = bed::mix(&held.bed, &held.y).map_err(|e| e.to_string())?.to_vec();
    held.drains = bed::free_m3(&held.bed, &held.y) <= 0.0;
    Ok(())
}

/// Lifts the grain out; what drips stays in the pot.
pub(crate) fn lift(setting: &Setting, state: &mut State) -> Result<MashEnd, String> {
    let tun = setting.parts.mash;
    let Mash::Nodes(nodes) = &state.mash else {
        return Err("there is no mash to lift out".into());
    };
    let (over_c, under_c) = nodes.temperatures_c(setting);
    let end = mash_end(nodes, over_c, 0.0);
    let pools = nodes.pools();
    let extract_kg = kinetics::dissolved_kg(&pools);
    let water_kg = nodes.over.water_kg + nodes.under.water_kg;
    let volume_m3 = wort::volume_m3(water_kg, extract_kg, over_c);
    let share = (setting.bed.retained_m3_kg * nodes.grist_kg / volume_m3).min(0.95);
    let mean_c = 0.5 * (over_c + under_c);
    let out = Lifted {
        water_kg: share * water_kg,
        extract_kg: share * extract_kg,
        heat_j: liquid_heat_j(share * water_kg, share * extract_kg, mean_c)
            + nodes.undissolved_kg() * wort::solid_enthalpy_j_kg(over_c),
        undissolved_kg: nodes.solids.iter().sum::<f64>()
            + nodes.start.starch_kg * nodes.start.kinetics.shut,
    };
    let base_j = state.pots[tun].base_j;
    state.pots[tun] = PotState {
        water_kg: water_kg - out.water_kg,
        extract_kg: extract_kg - out.extract_kg,
        heat_j: nodes.over.heat_j + nodes.under.heat_j - out.heat_j,
        base_j,
        ..PotState::default()
    };
    state.lifted = out;
    state.fermentable_share = end.fermentable;
    state.mash = Mash::None;
    Ok(end)
}

/// Hops into the kettle.
pub(crate) fn hop(setting: &Setting, state: &mut State, addition: usize) {
    let hop = &setting.hops[addition];
    state.hops[addition][0] += hop.mass_kg * hop.alpha * hop.path;
    state.hops_in[addition] = true;
}

/// Sugar into the kettle, as warm as the air.
pub(crate) fn sugar(setting: &Setting, state: &mut State, sugar: [f64; 4]) {
    let [extract_kg, water_kg, fermentable, colour_ebc_m3] = sugar;
    let kettle = &mut state.pots[setting.parts.kettle];
    let heat_j = liquid_heat_j(water_kg, extract_kg, setting.air_c);
    kettle.extract_kg += extract_kg;
    kettle.water_kg += water_kg;
    kettle.heat_j += heat_j;
    state.came.extract_kg += extract_kg;
    state.came.water_kg += water_kg;
    state.came.heat_j += heat_j;
    state.sugar_kg += extract_kg;
    state.sugar_fermentable_kg += extract_kg * fermentable;
    state.sugar_colour_ebc_m3 += colour_ebc_m3;
}

/// What the kettle keeps back when it is drained: below its valve, trub, and what hops hold, m³.
pub(crate) fn kettle_keeps_m3(setting: &Setting, state: &State) -> f64 {
    let kettle = setting.parts.kettle;
    let held = &state.pots[kettle];
    let temp_c = held.temperature_c(setting.pots[kettle].lumped_j_k());
    let volume_m3 = wort::volume_m3(held.water_kg, held.extract_kg, temp_c);
    let plato = 100.0 * held.extract_kg / held.mass_kg().max(1e-9);
    let l = &setting.losses;
    if let Some(proved_m3) = l.trub_and_hops_m3 {
        return proved_m3.min(volume_m3);
    }
    let cold = match setting.chiller {
        Chiller::Counterflow { .. } => 0.0,
        _ => l.cold_break,
    };
    let trub_m3 = volume_m3 * (l.trub * (plato / 12.0).max(0.0).sqrt() + cold);
    let in_kettle = |i: &usize| state.hops_in[*i];
    let hops_m3: f64 = (0..setting.hops.len())
        .filter(in_kettle)
        .map(|i| setting.hops[i].mass_kg * setting.hops[i].held_m3_kg)
        .sum();
    (setting.pots[kettle].left_m3 + trub_m3 + hops_m3).min(volume_m3)
}

/// Takes what stays in hoses and chiller out of what reached the fermenter.
pub(crate) fn spill(setting: &Setting, state: &mut State) {
    let fermenter = setting.parts.fermenter;
    let metal = setting.pots[fermenter].lumped_j_k();
    let held = &mut state.pots[fermenter];
    let temp_c = held.temperature_c(metal);
    let volume_m3 = wort::volume_m3(held.water_kg, held.extract_kg, temp_c);
    let share = (setting.losses.hoses_m3 / volume_m3.max(1e-9)).min(1.0);
    let spilt = Lifted {
        water_kg: share * held.water_kg,
        extract_kg: share * held.extract_kg,
        heat_j: liquid_heat_j(share * held.water_kg, share * held.extract_kg, temp_c),
        undissolved_kg: 0.0,
    };
    held.water_kg -= spilt.water_kg;
    held.extract_kg -= spilt.extract_kg;
    held.heat_j -= spilt.heat_j;
    state.spilt = spilt;
}
