//! The rates of the whole brewhouse in one vector: what the operations under way, the room and
//! the reactions do to every pot at once. It gathers the rates of `process`; it knows no operation
//! and no clock. Long because pots, mash and bed share one vector and one pass over it.

use crate::kettle::KettleLaws;
use crate::setting::{Chiller, Heater, Parts, Pot, PotIndex, Setting};
use crate::state::{Layout, Mash, MashKind, State, mash, pot, total};
use crate::watch::Watch;
use matter::{hop, water, wort};
use numerics::dopri::System;
use process::bed::{self, Bed};
use process::chill;
use process::heat::Flame;
use process::isomerise::{self, HOP};
use process::mash::{self as kinetics, LIQUID, MashNode, Prepared, SOLID};
use std::cell::Cell;
use std::sync::Arc;

/// Density of undissolved malt matter, kg/m³ (measured on spent grain; from memory).
pub(crate) const SOLIDS_KG_M3: f64 = 1450.0;
/// Share of a flame's heat that goes into the wetted wall (from memory).
const FLAME_INTO_WALL: f64 = 0.15;
/// Time in which a kept temperature is brought back, s (our choice).
const KEEP_S: f64 = 120.0;
/// Heat capacity of what flows into a pot, J/(kg K), where its share in the lag of a base is meant.
const FILLS_J_KG_K: f64 = 4190.0;
/// Time in which superheat of a boiling pot is turned into vapour, s (our choice).
const BOIL_S: f64 = 120.0;
/// Volume of liquid per kg dissolved extract for exchange by volume, m³/kg (sucrose at 20 °C).
pub(crate) const EXTRACT_M3_KG: f64 = 0.61e-3;
/// Density of water in flows by volume inside the mash, kg/m³ (70 °C).
pub(crate) const FLOW_WATER_KG_M3: f64 = 977.76;
/// Where the law of browning begins to hold, °C: a thirtieth of the rate at the boil.
const BROWNS_FROM_C: f64 = 60.0;
/// More colour under an open flame (from memory).
const FLAME_BROWNING: f64 = 1.3;

/// What a heater does at the moment.
#[derive(Debug, Clone)]
pub(crate) enum Drive {
    Off,
    Flame(Flame),
    Element { into_w: f64, drawn_w: f64 },
    Plate { into_w: f64, drawn_w: f64 },
    Keep { at_c: f64, most_w: f64, share: f64, by_flame: bool },
}

impl Drive {
    /// The drive of a pot's heater at a setting.
    pub(crate) fn at(heater: &Heater, setting: f64) -> Drive {
        match heater {
            Heater::None => Drive::Off,
            Heater::Flame(inputs) => {
                let mut inputs = *inputs;
                inputs.setting = setting;
                Drive::Flame(Flame::new(&inputs))
            }
            Heater::Element { power_w, share } => {
                Drive::Element { into_w: power_w * share * setting, drawn_w: power_w * setting }
            }
            Heater::Plate { power_w, share } => {
                Drive::Plate { into_w: power_w * share * setting, drawn_w: power_w * setting }
            }
        }
    }

    /// The drive that keeps a temperature.
    pub(crate) fn keep(heater: &Heater, at_c: f64) -> Drive {
        match heater {
            Heater::None => Drive::Off,
            Heater::Flame(f) => Drive::Keep {
                at_c,
                most_w: f.fuel_power_w * f.share_full,
                share: f.share_full,
                by_flame: true,
            },
            Heater::Element { power_w, share } | Heater::Plate { power_w, share } => {
                Drive::Keep { at_c, most_w: power_w * share, share: *share, by_flame: false }
            }
        }
    }

    fn is_flame(&self) -> bool {
        matches!(self, Drive::Flame(_))
    }

    fn is_off(&self) -> bool {
        matches!(self, Drive::Off)
    }
}

/// A flow from one pot, or the tap, into another.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Flow {
    /// None: the tap.
    pub(crate) from: Option<PotIndex>,
    /// None: onto the mash.
    pub(crate) to: Option<PotIndex>,
    /// From the tap in kg/s, else m³/s of what flows.
    pub(crate) rate: f64,
    /// Chilled on the way.
    pub(crate) chill: bool,
}

/// Laws that hold all day, laid out once.
#[derive(Debug)]
pub(crate) struct DayLaws {
    pub(crate) mash: Prepared,
    pub(crate) kettle: KettleLaws,
}

impl DayLaws {
    pub(crate) fn new(setting: &Setting) -> DayLaws {
        let constants = kinetics::start(&setting.grist, &setting.kinetics).kinetics;
        DayLaws { mash: constants.prepare(setting.mash_ph), kettle: KettleLaws::new(setting) }
    }
}

/// The brewhouse between two events.
#[derive(Debug)]
pub(crate) struct Plant<'a> {
    pub(crate) setting: &'a Setting,
    pub(crate) layout: Layout,
    pub(crate) drives: Vec<Drive>,
    pub(crate) lids: Vec<bool>,
    pub(crate) boils: Vec<bool>,
    pub(crate) flows: Vec<Flow>,
    /// Exchange between the nodes of the mash, m³/s.
    pub(crate) exchange_m3_s: f64,
    pub(crate) run_off_m3_s: f64,
    pub(crate) coil: bool,
    pub(crate) solids_kg: Vec<f64>,
    pub(crate) mash: MashConstants,
    pub(crate) watches: Vec<Watch>,
    pub(crate) day: Arc<DayLaws>,
    boil_c: f64,
    pub(crate) temps: Vec<f64>,
    pub(crate) volumes: Vec<f64>,
    /// Water, extract and heat for which temperature and volume were found.
    measured: Vec<[f64; 3]>,
    /// Where the bases that follow stood then.
    beside: Vec<Beside>,
    /// What heats and cools each base: see [`Plant::base_beside`].
    links: Vec<Link>,
    /// What heats and cools the contents besides their base, when last worked out.
    gains: Vec<Gain>,
    /// Temperatures of the mash's nodes when last looked at, °C: where to look first.
    nodes_c: [Cell<f64>; 2],
    /// Heat that each boiling pot had to spare for more vapour than its surface gives anyway, when
    /// its rates were last worked out, W.
    pub(crate) spare_w: Vec<f64>,
    /// Rates at a moment that only the events look at.
    glance: Vec<f64>,
    /// Alpha acids that the wort holds in solution, kg/m³.
    soluble_kg_m3: f64,
    /// What the kettle held when it began to be emptied, m³.
    pub(crate) emptied_from_m3: Option<f64>,
}

/// What does not change of the mash within a segment.
#[derive(Debug, Clone, Default)]
pub(crate) struct MashConstants {
    inert_kg: f64,
    final_plato: f64,
    release: Option<kinetics::Release>,
    pub(crate) bed: Option<Bed>,
    drains: bool,
    solids_kg: f64,
    wall_over_j_k: f64,
    wall_under_j_k: f64,
}

/// Share of the tun's wall that is as warm as the liquid below the screen (our choice).
const WALL_UNDER: f64 = 0.1;

impl Pot {
    /// Whether base and contents have their own temperatures.
    pub fn has_own_base(&self) -> bool {
        self.base_w_k.is_finite() && self.base_j_k > 0.0
    }

    /// Heat capacity that is as warm as the contents, J/K.
    pub fn lumped_j_k(&self) -> f64 {
        self.wall_j_k + if self.has_own_base() { 0.0 } else { self.base_j_k }
    }

    /// Heat capacity of a base with its own temperature, J/K.
    pub fn own_base_j_k(&self) -> f64 {
        if self.has_own_base() { self.base_j_k } else { 0.0 }
    }
}

/// Heat capacities of a tun's metal counted with the mash above and with the liquid below.
pub(crate) fn split_metal(pot: &Pot, two: bool) -> (f64, f64) {
    let all = pot.lumped_j_k();
    if two {
        let under = WALL_UNDER * pot.wall_j_k + (all - pot.wall_j_k);
        (all - under, under)
    } else {
        (all, 0.0)
    }
}

impl<'a> Plant<'a> {
    /// The plant at rest in `state`: nothing lit, nothing flowing.
    pub(crate) fn new(setting: &'a Setting, state: &State, day: Arc<DayLaws>) -> Plant<'a> {
        let n = setting.pots.len();
        let mut plant = Plant {
            setting,
            layout: Layout::of(state, false, |_| false),
            drives: vec![Drive::Off; n],
            lids: vec![true; n],
            boils: state.pots.iter().map(|p| p.boils).collect(),
            flows: Vec::new(),
            exchange_m3_s: setting.bed.seep_m3_s,
            run_off_m3_s: 0.0,
            coil: false,
            solids_kg: state.pots.iter().map(|p| p.solids_kg).collect(),
            mash: MashConstants::default(),
            watches: Vec::new(),
            day,
            boil_c: water::saturation_temperature_c(setting.pressure_pa),
            temps: vec![setting.air_c; n],
            volumes: vec![0.0; n],
            measured: vec![[f64::NAN; 3]; n],
            beside: vec![Beside::default(); n],
            links: vec![Link::default(); n],
            gains: vec![Gain::default(); n],
            nodes_c: [Cell::new(66.0), Cell::new(66.0)],
            spare_w: vec![0.0; n],
            glance: Vec::new(),
            soluble_kg_m3: hop::alpha_solubility_kg_m3(setting.wort_ph),
            emptied_from_m3: None,
        };
        let tun = &setting.pots[setting.parts.mash];
        match &state.mash {
            Mash::None => {}
            Mash::Nodes(nodes) => {
                let (over, under) = split_metal(tun, nodes.two);
                plant.mash = MashConstants {
                    inert_kg: nodes.inert_kg,
                    final_plato: nodes.final_plato,
                    release: Some(nodes.start.release),
                    wall_over_j_k: over,
                    wall_under_j_k: under,
                    ..MashConstants::default()
                };
            }
            Mash::Bed(held) => {
                plant.mash.bed = Some(held.bed);
                plant.mash.drains = held.drains;
                plant.mash.solids_kg = held.solids_kg;
            }
        }
        plant
    }

    /// Decides which pots take part and where their numbers lie.
    pub(crate) fn lay_out(&mut self, state: &State, needed: u64) {
        let in_flow = |i| self.flows.iter().any(|f| f.from == Some(i) || f.to == Some(i));
        let fills = |i| self.run_off_m3_s > 0.0 && i == self.setting.parts.kettle;
        let tun_busy = !matches!(state.mash, Mash::None);
        let mash = needed & (1 << self.setting.parts.mash.min(63)) != 0;
        let layout = Layout::of(state, mash, |i| {
            let held = &state.pots[i];
            let holds = held.water_kg > 0.0;
            let is_tun = tun_busy && i == self.setting.parts.mash && !holds;
            let wanted = needed & (1 << i.min(63)) != 0;
            wanted && !is_tun && (holds || in_flow(i) || fills(i) || !self.drives[i].is_off())
        });
        self.layout = layout;
    }

    /// Whether no pot and no mash takes part, so that nothing changes with time.
    pub(crate) fn rests(&self) -> bool {
        self.layout.mash_kind == MashKind::None && self.layout.pots.iter().all(Option::is_none)
    }

    /// Looks up what heats and cools each base from outside, once the drives are known.
    pub(crate) fn link_bases(&mut self) {
        for i in 0..self.links.len() {
            let mut link = Link::default();
            match &self.drives[i] {
                Drive::Flame(flame) => {
                    let into = 1.0 - FLAME_INTO_WALL;
                    link.fixed_w = into * flame.heat_w(65.0);
                    link.per_w_k = link.fixed_w - into * flame.heat_w(66.0);
                }
                Drive::Plate { into_w, .. } => link.fixed_w = *into_w,
                _ if self.base_is_bare(i) => {
                    link.per_w_k = self.setting.pots[i].base_loss_w_k;
                    link.fixed_w = link.per_w_k * (self.setting.air_c - 65.0);
                }
                _ => {}
            }
            self.links[i] = link;
        }
    }

    /// Heat that goes into the base of a pot, W with a base at 65 °C.
    pub(crate) fn lit_w(&self, i: PotIndex) -> f64 {
        match &self.drives[i] {
            Drive::Flame(flame) => flame.heat_w(65.0),
            Drive::Plate { into_w, .. } => *into_w,
            _ => 0.0,
        }
    }

    /// Finds where the bases that follow stand at the start of a segment: what warms the contents
    /// is known only once the rates have been worked out.
    pub(crate) fn settle_bases(&mut self, t: f64, y: &[f64]) {
        if !self.layout.follows.iter().any(|follows| *follows) {
            return;
        }
        let mut dy = vec![0.0; y.len()];
        self.rates(t, y, &mut dy);
        self.measured.fill([f64::NAN; 3]);
    }

    pub(crate) fn parts(&self) -> Parts {
        self.setting.parts
    }

    /// Boiling point of a wort of this extract fraction here, °C.
    pub(crate) fn boiling_c(&self, extract: f64) -> f64 {
        self.boil_c + wort::BOILING_RISE_FACTOR * wort::boiling_rise_k(extract)
    }

    fn pot_temperature(&mut self, i: PotIndex, y: &[f64], at: usize) -> f64 {
        let (w, x) = (y[at + pot::WATER].max(0.0), y[at + pot::EXTRACT].max(0.0));
        let (mut heat_j, mut metal_j_k) = (y[at + pot::HEAT], self.setting.pots[i].lumped_j_k());
        if self.layout.follows[i] {
            let beside = self.base_beside(i, w, w * 4190.0 + x * 1700.0 + metal_j_k);
            heat_j -= beside.fixed_j;
            metal_j_k += beside.j_k;
            self.beside[i] = beside;
        }
        wort::temperature_c(heat_j, w, x, self.solids_kg[i], metal_j_k, self.temps[i])
    }

    fn measure_pots(&mut self, y: &[f64]) {
        for i in 0..self.layout.pots.len() {
            if let Some(at) = self.layout.pots[i] {
                let now = [y[at], y[at + 1], y[at + 2]];
                if now == self.measured[i] {
                    continue;
                }
                self.measured[i] = now;
                let temp_c = self.pot_temperature(i, y, at);
                self.temps[i] = temp_c;
                self.volumes[i] = wort::volume_m3(y[at].max(0.0), y[at + 1].max(0.0), temp_c)
                    + self.solids_kg[i] / SOLIDS_KG_M3;
            }
        }
    }

    /// Adds an amount of liquid with its heat to a pot or takes it away.
    fn add(dy: &mut [f64], at: usize, water: f64, extract: f64, heat: f64) {
        dy[at + pot::WATER] += water;
        dy[at + pot::EXTRACT] += extract;
        dy[at + pot::HEAT] += heat;
    }

    fn flow_rates(&self, y: &[f64], dy: &mut [f64]) {
        for flow in &self.flows {
            let (water_kg, extract_kg, heat_w) = match flow.from {
                None => {
                    let heat_w = flow.rate * water::enthalpy_j_kg(self.setting.source_c);
                    dy[self.layout.totals + total::TAP_KG] += flow.rate;
                    dy[self.layout.totals + total::TAP_J] += heat_w;
                    (flow.rate, 0.0, heat_w)
                }
                Some(i) => {
                    let Some(at) = self.layout.pots[i] else { continue };
                    let (w, x) = (y[at].max(0.0), y[at + 1].max(0.0));
                    let share = flow.rate / self.volumes[i].max(1e-7);
                    let (dw, dx) = (w * share, x * share);
                    let temp_c = self.temps[i];
                    let heat = dw * water::enthalpy_j_kg(temp_c)
                        + dx * wort::extract_enthalpy_j_kg(temp_c);
                    Self::add(dy, at, -dw, -dx, -heat);
                    let chilled =
                        if flow.chill { self.counterflow(dw, dx, temp_c, dy) } else { 0. };
                    (dw, dx, heat - chilled)
                }
            };
            match flow.to {
                Some(j) => {
                    if let Some(at) = self.layout.pots[j] {
                        Self::add(dy, at, water_kg, extract_kg, heat_w);
                    }
                }
                None => self.onto_mash(water_kg, heat_w, dy),
            }
        }
    }

    fn onto_mash(&self, water_kg_s: f64, heat_w: f64, dy: &mut [f64]) {
        let m = self.layout.mash;
        match self.layout.mash_kind {
            MashKind::None => {}
            MashKind::One | MashKind::Two => {
                dy[m + mash::WATER] += water_kg_s;
                dy[m + mash::HEAT] += heat_w;
            }
            MashKind::Bed => {
                dy[m + bed::FREE_WATER] += water_kg_s;
                dy[m + bed::FREE_HEAT] += heat_w;
            }
        }
    }

    fn counterflow(&self, water_kg_s: f64, extract_kg_s: f64, temp_c: f64, dy: &mut [f64]) -> f64 {
        let Chiller::Counterflow { ua_w_k, coolant_kg_s, inlet_c, .. } = self.setting.chiller
        else {
            return 0.0;
        };
        let mass = water_kg_s + extract_kg_s;
        if mass <= 0.0 {
            return 0.0;
        }
        let wort_w_k = mass * wort::heat_capacity_j_kg_k(extract_kg_s / mass, temp_c);
        let coolant_w_k = coolant_kg_s * water::heat_capacity_j_kg_k(inlet_c);
        let heat_w = chill::counterflow_effectiveness(ua_w_k, wort_w_k, coolant_w_k)
            * wort_w_k.min(coolant_w_k)
            * (temp_c - inlet_c);
        dy[self.layout.totals + total::CHILL_J] += heat_w;
        dy[self.layout.totals + total::CHILL_KG] += coolant_kg_s;
        heat_w
    }

    /// Heat the heater gives now: into the base, into the contents.
    fn drive_heat(
        &self,
        i: PotIndex,
        base_c: f64,
        temp_c: f64,
        loss_w: f64,
        capacity_j_k: f64,
        dy: &mut [f64],
    ) -> (f64, f64) {
        let t = self.layout.totals;
        match &self.drives[i] {
            Drive::Off => (0.0, 0.0),
            Drive::Flame(flame) => {
                let heat_w = flame.heat_w(base_c);
                dy[t + total::FLAME_J] += heat_w;
                dy[t + total::FUEL_J] += flame.fuel_w();
                ((1.0 - FLAME_INTO_WALL) * heat_w, FLAME_INTO_WALL * heat_w)
            }
            Drive::Element { into_w, drawn_w } => {
                dy[t + total::ELECTRIC_J] += into_w;
                dy[t + total::DRAWN_J] += drawn_w;
                (0.0, *into_w)
            }
            Drive::Plate { into_w, drawn_w } => {
                dy[t + total::ELECTRIC_J] += into_w;
                dy[t + total::DRAWN_J] += drawn_w;
                (*into_w, 0.0)
            }
            Drive::Keep { at_c, most_w, share, by_flame } => {
                let wanted_w = loss_w + capacity_j_k * (at_c - temp_c) / KEEP_S;
                let heat_w = wanted_w.clamp(0.0, *most_w);
                let (into, burnt) = if *by_flame {
                    (total::FLAME_J, total::FUEL_J)
                } else {
                    (total::ELECTRIC_J, total::DRAWN_J)
                };
                dy[t + into] += heat_w;
                dy[t + burnt] += heat_w / share.max(1e-3);
                (0.0, heat_w)
            }
        }
    }

    /// Losses of a pot filled to a volume at a temperature: wall, open surface without vapour,
    /// vapour below the boil.
    fn losses(&self, i: PotIndex, volume_m3: f64, temp_c: f64) -> Losses {
        let pot = &self.setting.pots[i];
        let level_m = pot.section.height_m(volume_m3);
        let wet_m2 = pot.section.wetted_side_m2(level_m);
        let dry_m2 = (pot.side_m2 - wet_m2).max(0.0);
        let fired = if self.drives[i].is_flame() { pot.side_fired } else { 1.0 };
        let (wet_w_m2, dry_w_m2) = pot.side.fluxes_w_m2(temp_c);
        let wall_w = fired * (wet_m2 * wet_w_m2 + dry_m2 * dry_w_m2);
        // an almost empty pot has a wet base but no surface worth the name
        let open_m2 = pot.section.area_m2(level_m) * volume_m3 / (volume_m3 + 1e-4);
        let vapour_kg_s = open_m2 * pot.surface.evaporation_kg_m2_s(temp_c);
        if self.lids[i] {
            Losses {
                wall_w: wall_w + open_m2 * pot.lid_w_m2_k * (temp_c - self.setting.air_c),
                surface_w: 0.0,
                vapour_kg_s: vapour_kg_s * pot.lid_share,
            }
        } else {
            let surface_w = open_m2 * pot.surface.sensible_w_m2(temp_c);
            Losses { wall_w, surface_w, vapour_kg_s }
        }
    }

    fn pot_rates(&mut self, i: PotIndex, at: usize, y: &[f64], dy: &mut [f64]) {
        let pot_i = &self.setting.pots[i];
        let filled_w_k = FILLS_J_KG_K * (dy[at] + dy[at + pot::EXTRACT]).max(0.0);
        let (temp_c, volume) = (self.temps[i], self.volumes[i]);
        let (w, x) = (y[at].max(0.0), y[at + 1].max(0.0));
        let lost = self.losses(i, volume, temp_c);
        let capacity = w * 4190.0 + x * 1700.0 + pot_i.lumped_j_k();
        let follows = self.layout.follows[i];
        let latent = water::evaporation_heat_j_kg(temp_c);
        let loss_w = lost.wall_w + lost.surface_w + lost.vapour_kg_s * latent;
        let own = pot_i.has_own_base();
        let base_c = if follows {
            self.beside[i].base_c(temp_c)
        } else if own {
            65.0 + y[at + pot::BASE] / pot_i.base_j_k
        } else {
            temp_c
        };
        let under_w = self.base_loss_w(i, base_c);
        let kept_w = loss_w + under_w;
        let (to_base, to_contents) = self.drive_heat(i, base_c, temp_c, kept_w, capacity, dy);
        let t = self.layout.totals;
        let into_w = if own && !follows {
            let wet = wet_share(w);
            let through_w = pot_i.base_w_k * wet * (base_c - temp_c);
            dy[at + pot::BASE] += to_base - through_w - under_w;
            through_w
        } else {
            to_base - under_w
        };
        dy[at + pot::HEAT] += into_w + to_contents - lost.wall_w - lost.surface_w;
        dy[t + total::WALL_J] += lost.wall_w + under_w;
        dy[t + total::SURFACE_J] += lost.surface_w;
        let mut per_w_k = filled_w_k;
        if self.coil && i == self.setting.parts.kettle {
            per_w_k += self.coil_rates(at, temp_c, dy);
        }
        if follows {
            let net_w = self.net_heat_w(at, temp_c, dy) - into_w - lost.vapour_kg_s * latent;
            self.gains[i] = Gain::at(temp_c, net_w, per_w_k);
        }
        let vapour = self.vapour_kg_s(i, at, y, dy, lost.vapour_kg_s, capacity);
        let vapour_w = vapour * (water::enthalpy_j_kg(temp_c) + latent);
        dy[at] -= vapour;
        dy[at + pot::HEAT] -= vapour_w;
        dy[t + total::VAPOUR_KG] += vapour;
        dy[t + total::VAPOUR_J] += vapour_w;
    }

    /// Loss of a base to the air below; none over a fire or on a plate that is on.
    fn base_loss_w(&self, i: PotIndex, base_c: f64) -> f64 {
        if self.base_is_bare(i) {
            self.setting.pots[i].base_loss_w_k * (base_c - self.setting.air_c)
        } else {
            0.0
        }
    }

    /// Whether a base stands over air: nothing heats it from below. An element is in the liquid.
    fn base_is_bare(&self, i: PotIndex) -> bool {
        self.drives[i].is_off() || matches!(self.setting.pots[i].heater, Heater::Element { .. })
    }

    /// Vapour that leaves: by the surface, or by the heat left over at the boil where that is more.
    fn vapour_kg_s(
        &mut self,
        i: PotIndex,
        at: usize,
        y: &[f64],
        dy: &[f64],
        below_kg_s: f64,
        capacity_j_k: f64,
    ) -> f64 {
        let (w, x) = (y[at].max(0.0), y[at + 1].max(0.0));
        if w <= 0.0 {
            return 0.0;
        }
        if !self.boils[i] {
            return below_kg_s;
        }
        let temp_c = self.temps[i];
        let net_w = self.net_heat_w(at, temp_c, dy);
        let over_k = temp_c - self.boiling_c(x / (w + x));
        let latent = water::evaporation_heat_j_kg(temp_c);
        let boils_off_kg_s = (net_w + capacity_j_k * over_k / BOIL_S) / latent;
        self.spare_w[i] = (boils_off_kg_s - below_kg_s) * latent;
        boils_off_kg_s.max(below_kg_s)
    }

    /// Heat left for warming once inflows and outflows have their own enthalpy.
    fn net_heat_w(&self, at: usize, temp_c: f64, dy: &[f64]) -> f64 {
        dy[at + pot::HEAT]
            - dy[at] * water::enthalpy_j_kg(temp_c)
            - dy[at + pot::EXTRACT] * wort::extract_enthalpy_j_kg(temp_c)
    }

    /// Takes the coil's heat; returns how much more it takes from a warmer kettle, W/K.
    fn coil_rates(&self, at: usize, temp_c: f64, dy: &mut [f64]) -> f64 {
        let (ua_w_k, coolant_kg_s, inlet_c) = match self.setting.chiller {
            Chiller::Coil { ua_w_k, coolant_kg_s, inlet_c }
            | Chiller::Bath { ua_w_k, inlet_c, coolant_kg_s } => (ua_w_k, coolant_kg_s, inlet_c),
            _ => return 0.0,
        };
        let coolant_w_k = coolant_kg_s * water::heat_capacity_j_kg_k(inlet_c);
        let heat_w = chill::coil_heat_w(ua_w_k, coolant_w_k, temp_c, inlet_c);
        dy[at + pot::HEAT] -= heat_w;
        dy[self.layout.totals + total::CHILL_J] += heat_w;
        dy[self.layout.totals + total::CHILL_KG] += coolant_kg_s;
        heat_w / (temp_c - inlet_c).max(0.1)
    }

    fn hop_rates(&self, y: &[f64], dy: &mut [f64]) {
        if self.layout.hops_in.is_empty() {
            return;
        }
        let kettle = self.setting.parts.kettle;
        let (Some(at), volume) = (self.layout.pots[kettle], self.volumes[kettle]) else { return };
        if y[at] <= 0.0 {
            return;
        }
        // once the kettle is being emptied only what is still in it reacts, as strong as it was
        let full_m3 = self.emptied_from_m3.unwrap_or(volume).max(1e-6);
        let left = (volume / full_m3).min(1.0);
        let rates = self.day.kettle.at(self.temps[kettle]);
        let (k1, k2) = (left * rates.isomerises_per_s, left * rates.lost_per_s);
        let places = || (0..self.layout.hops_in.len()).map(|k| self.layout.hops + HOP * k);
        let dissolved_kg: f64 = places().map(|p| y[p + 1].max(0.0)).sum();
        let phi = hop::soluble_share(dissolved_kg / full_m3, self.soluble_kg_m3);
        for (k, p) in places().enumerate() {
            let mut pools = [0.0; HOP];
            pools.copy_from_slice(&y[p..p + HOP]);
            let mut out = [0.0; HOP];
            let rate = self.setting.hops[self.layout.hops_in[k]].extraction_per_s;
            isomerise::hop_rates(k1, k2, phi, rate, &pools, &mut out);
            for (d, o) in dy[p..p + HOP].iter_mut().zip(out) {
                *d += o;
            }
        }
    }

    fn browning_rate(&self, y: &[f64], dy: &mut [f64]) {
        let kettle = self.setting.parts.kettle;
        let Some(at) = self.layout.pots[kettle] else { return };
        let (w, x) = (y[at], y[at + 1]);
        if x <= 0.0 || self.temps[kettle] < BROWNS_FROM_C {
            return;
        }
        let fire = if self.drives[kettle].is_flame() { FLAME_BROWNING } else { 1.0 };
        let plato = 100.0 * x / (w + x);
        let rate = plato * fire * self.day.kettle.at(self.temps[kettle]).browns_ebc_per_s;
        dy[self.layout.totals + total::BROWNED_EBC_M3] += self.volumes[kettle] * rate;
    }
}

/// Volume of a bed with all that is in it, m³.
pub(crate) fn bed_volume_m3(bed: &Bed, y: &[f64], solids_kg: f64) -> f64 {
    bed::free_m3(bed, y).max(0.0)
        + y[bed::MOBILE_SHARE] * bed.mobile_m3
        + bed.held_m3
        + bed::under_m3(bed, y)
        + solids_kg / SOLIDS_KG_M3
}

/// Mean temperature of a bed, °C.
pub(crate) fn bed_mean_c(bed: &Bed, y: &[f64]) -> f64 {
    let capacity = bed::WATER_J_KG_K * bed::total_water_kg(bed, y)
        + bed::EXTRACT_J_KG_K * (bed::total_extract_kg(y) - y[bed::REST])
        + bed.solids_heat_j_k;
    bed::REFERENCE_C + bed::total_heat_j(y) / capacity
}

/// Heat capacity of the liquid under the plate, J/K.
fn bed_under_j_k(bed: &Bed, y: &[f64]) -> f64 {
    let volume = bed::under_m3(bed, y);
    let extract_kg = y[bed::UNDER_EXTRACT];
    let water_kg = bed.water_density_kg_m3 * (volume - bed.extract_volume_m3_kg * extract_kg);
    (bed::WATER_J_KG_K * water_kg + bed::EXTRACT_J_KG_K * extract_kg).max(1e-3)
}

/// Temperature of the liquid under the plate, °C.
pub(crate) fn bed_under_c(bed: &Bed, y: &[f64]) -> f64 {
    bed::REFERENCE_C + y[bed::UNDER_HEAT] / bed_under_j_k(bed, y)
}

/// Strength of what the valve gives, °P.
pub(crate) fn bed_valve_plato(bed: &Bed, y: &[f64]) -> f64 {
    let volume = bed::under_m3(bed, y);
    let extract_kg = y[bed::UNDER_EXTRACT];
    let water_kg = bed.water_density_kg_m3 * (volume - bed.extract_volume_m3_kg * extract_kg);
    100.0 * extract_kg / (extract_kg + water_kg).max(1e-9)
}

/// A base that follows the contents: `base_c = T + lift_k - slope (T - 65)`, so that together they
/// hold `fixed_j + j_k (T - 65)` beside the contents' own heat.
#[derive(Debug, Clone, Copy, Default)]
struct Beside {
    lift_k: f64,
    slope: f64,
    fixed_j: f64,
    j_k: f64,
}

/// Heat into a base from outside: `fixed_w - per_w_k (base_c - 65)`.
#[derive(Debug, Clone, Copy, Default)]
struct Link {
    fixed_w: f64,
    per_w_k: f64,
}

impl Beside {
    fn base_c(&self, temp_c: f64) -> f64 {
        temp_c + self.lift_k - self.slope * (temp_c - 65.0)
    }
}

/// Heat that contents gain besides what their base gives: `at_65_w - per_w_k (T - 65)`.
#[derive(Debug, Clone, Copy, Default)]
struct Gain {
    at_65_w: f64,
    per_w_k: f64,
}

impl Gain {
    /// The gain that is `now_w` at a temperature.
    fn at(temp_c: f64, now_w: f64, per_w_k: f64) -> Gain {
        Gain { at_65_w: now_w + per_w_k * (temp_c - 65.0), per_w_k }
    }
}

/// Share of the base that liquid wets.
fn wet_share(water_kg: f64) -> f64 {
    if water_kg.is_finite() { water_kg / (water_kg + 0.2) } else { 1.0 }
}

impl Plant<'_> {
    /// Where the base of a pot stands beside contents of this heat capacity once it has adjusted.
    ///
    /// ```text
    /// C_b dB/dt = p0 - p1 (B - 65) - W (B - T)      C dT/dt = W (B - T) + q0 - q1 (T - 65)
    /// dB/dt = dT/dt W/(W + p1)                      (W (1 + r) + p1)(B - T) =
    ///                                                 p0 - r q0 - (p1 - r q1)(T - 65)
    /// ```
    ///
    /// with what heats and cools the base from outside `p0 - p1 (B - 65)`, the conductance `W` to
    /// the contents, their heat capacity `C` and what they gain besides, and `r = C_b/C W/(W + p1)`;
    /// at the boil `dT/dt = 0`, so that `r = 0`.
    fn base_beside(&self, i: PotIndex, water_kg: f64, capacity_j_k: f64) -> Beside {
        let pot = &self.setting.pots[i];
        let own_j_k = pot.base_j_k;
        let w_k = pot.base_w_k * wet_share(water_kg);
        let (link, gain) = (self.links[i], self.gains[i]);
        let moves = w_k / (w_k + link.per_w_k).max(1e-9);
        let r = if self.boils[i] { 0.0 } else { moves * own_j_k / capacity_j_k.max(1.0) };
        let per_w_k = 1.0 / (w_k * (1.0 + r) + link.per_w_k).max(1e-9);
        let lift_k = (link.fixed_w - r * gain.at_65_w) * per_w_k;
        let slope = (link.per_w_k - r * gain.per_w_k) * per_w_k;
        Beside { lift_k, slope, fixed_j: own_j_k * lift_k, j_k: own_j_k * (1.0 - slope) }
    }

    /// Reads the state back from `y`.
    pub(crate) fn unpack(&mut self, y: &[f64], state: &mut State) {
        let tun = self.setting.parts.mash;
        self.layout.unpack(y, tun, state);
        self.measure_pots(y);
        for i in 0..self.layout.pots.len() {
            if self.layout.pots[i].is_none() || !self.layout.follows[i] {
                continue;
            }
            let base_c = self.beside[i].base_c(self.temps[i]);
            let held = &mut state.pots[i];
            held.base_j = self.setting.pots[i].base_j_k * (base_c - 65.0);
            held.heat_j -= held.base_j;
        }
        if self.layout.mash_kind == MashKind::None || !self.layout.follows[tun] {
            return;
        }
        let base_j = self.tun_base_j(y);
        state.pots[tun].base_j = base_j;
        match &mut state.mash {
            Mash::None => {}
            Mash::Nodes(nodes) if nodes.two => nodes.under.heat_j -= base_j,
            Mash::Nodes(nodes) => nodes.over.heat_j -= base_j,
            Mash::Bed(held) => held.y[bed::UNDER_HEAT] -= base_j,
        }
    }

    /// Heat of the base of a tun in which it follows, J.
    fn tun_base_j(&self, y: &[f64]) -> f64 {
        let tun = self.setting.parts.mash;
        let (at_c, capacity) = match (self.layout.mash_kind, &self.mash.bed) {
            (MashKind::Bed, Some(bed)) => {
                let (_, under_c) = self.bed_split(bed, &y[self.layout.mash..]);
                (under_c, bed_capacity_j_k(bed))
            }
            _ => {
                let (over, under) = self.nodes(y);
                let water_kg = over.water_kg + under.as_ref().map_or(0.0, |u| u.water_kg);
                (under.as_ref().map_or(over.temp_c, |u| u.temp_c), water_kg * 4190.0)
            }
        };
        let beside = self.base_beside(tun, f64::INFINITY, capacity);
        self.setting.pots[tun].base_j_k * (beside.base_c(at_c) - 65.0)
    }

    /// Heat of the liquid under the plate without the base that follows it, J, and its
    /// temperature, °C.
    fn bed_split(&self, bed: &Bed, y: &[f64]) -> (f64, f64) {
        let tun = self.setting.parts.mash;
        if !self.layout.follows[tun] {
            return (y[bed::UNDER_HEAT], bed_under_c(bed, y));
        }
        let beside = self.base_beside(tun, f64::INFINITY, bed_capacity_j_k(bed));
        let liquid_j_k = bed_under_j_k(bed, y);
        let over_k = (y[bed::UNDER_HEAT] - beside.fixed_j) / (liquid_j_k + beside.j_k);
        (liquid_j_k * over_k, bed::REFERENCE_C + over_k)
    }
}

/// Heat capacity that goes with the base of a tun being run off, J/K.
fn bed_capacity_j_k(bed: &Bed) -> f64 {
    bed.under_m3 * 4.1e6
}

struct Losses {
    wall_w: f64,
    surface_w: f64,
    vapour_kg_s: f64,
}

/// Liquid of a mash node as seen by the rates.
pub(crate) struct NodeView {
    pub(crate) water_kg: f64,
    pub(crate) extract_kg: f64,
    pub(crate) temp_c: f64,
    pub(crate) volume_m3: f64,
}

impl NodeView {
    fn new(
        (water_kg, pools, heat_j): (f64, &[f64; LIQUID], f64),
        solids_kg: f64,
        metal_j_k: f64,
        near_c: &Cell<f64>,
    ) -> Self {
        let extract_kg = kinetics::dissolved_kg(pools);
        let temp_c =
            wort::temperature_c(heat_j, water_kg, extract_kg, solids_kg, metal_j_k, near_c.get());
        near_c.set(temp_c);
        let volume_m3 = water_kg / FLOW_WATER_KG_M3 + extract_kg * EXTRACT_M3_KG;
        NodeView { water_kg, extract_kg, temp_c, volume_m3 }
    }

    fn plato(&self) -> f64 {
        100.0 * self.extract_kg / (self.extract_kg + self.water_kg).max(1e-9)
    }
}

/// The `N` numbers from a place on. The layout made room for them.
#[inline]
fn part<const N: usize>(y: &[f64], from: usize) -> &[f64; N] {
    y[from..].first_chunk().unwrap_or(const { &[0.0; N] })
}

impl Plant<'_> {
    /// Heat and heat capacity that the base of the tun adds to the node above it.
    fn base_with_mash(&self, y: &[f64]) -> (f64, f64) {
        let tun = self.setting.parts.mash;
        if !self.layout.follows[tun] {
            return (0.0, 0.0);
        }
        let m = self.layout.mash;
        let two = self.layout.mash_kind == MashKind::Two;
        let water_kg = y[m + mash::WATER] + if two { y[m + mash::UNDER_WATER] } else { 0.0 };
        let beside = self.base_beside(tun, f64::INFINITY, water_kg * 4190.0);
        (beside.fixed_j, beside.j_k)
    }

    /// The mash above the screen.
    fn node_over(&self, y: &[f64]) -> NodeView {
        let m = self.layout.mash;
        let (with_j, with_j_k) = match self.layout.mash_kind {
            MashKind::Two => (0.0, 0.0),
            _ => self.base_with_mash(y),
        };
        let solids = part::<SOLID>(y, m + mash::SOLIDS);
        let solid_kg = self.mash.inert_kg + solids.iter().sum::<f64>();
        let metal_j_k = self.mash.wall_over_j_k + with_j_k;
        let pools = part::<LIQUID>(y, m + mash::POOLS);
        let of = (y[m + mash::WATER], pools, y[m + mash::HEAT] - with_j);
        NodeView::new(of, solid_kg, metal_j_k, &self.nodes_c[0])
    }

    /// The two nodes of the mash in `y`.
    pub(crate) fn nodes(&self, y: &[f64]) -> (NodeView, Option<NodeView>) {
        let over = self.node_over(y);
        let under = (self.layout.mash_kind == MashKind::Two).then(|| {
            let m = self.layout.mash;
            let (with_j, with_j_k) = self.base_with_mash(y);
            let metal_j_k = self.mash.wall_under_j_k + with_j_k;
            let pools = part::<LIQUID>(y, m + mash::UNDER_POOLS);
            let of = (y[m + mash::UNDER_WATER], pools, y[m + mash::UNDER_HEAT] - with_j);
            NodeView::new(of, 0.0, metal_j_k, &self.nodes_c[1])
        });
        (over, under)
    }

    /// Temperature at the probe of the mash, °C.
    pub(crate) fn mash_temperature_c(&self, y: &[f64]) -> f64 {
        match self.layout.mash_kind {
            MashKind::None => self.setting.air_c,
            MashKind::Bed => match &self.mash.bed {
                Some(bed) => {
                    let mut seen = *part::<{ bed::BED_STATES }>(y, self.layout.mash);
                    seen[bed::UNDER_HEAT] = self.bed_split(bed, &seen).0;
                    bed_mean_c(bed, &seen)
                }
                None => self.setting.air_c,
            },
            _ => self.node_over(y).temp_c,
        }
    }

    fn mash_rates(&mut self, y: &[f64], dy: &mut [f64]) {
        let m = self.layout.mash;
        let tun = self.setting.parts.mash;
        let (over, under) = self.nodes(y);
        let poured = Gain::at(
            over.temp_c,
            dy[m + mash::HEAT] - dy[m + mash::WATER] * water::enthalpy_j_kg(over.temp_c),
            FILLS_J_KG_K * dy[m + mash::WATER],
        );
        let water_all = over.water_kg + under.as_ref().map_or(0.0, |u| u.water_kg);
        self.react(&over, water_all, m + mash::WATER, m + mash::POOLS, y, dy);
        self.wet(&over, water_all, y, dy);
        if let Some(under) = &under {
            self.react(under, water_all, m + mash::UNDER_WATER, m + mash::UNDER_POOLS, y, dy);
            self.exchange(&over, under, y, dy);
        }
        let solids = part::<SOLID>(y, m + mash::SOLIDS);
        let solid_kg = self.mash.inert_kg + solids.iter().sum::<f64>();
        let volume =
            over.volume_m3 + under.as_ref().map_or(0.0, |u| u.volume_m3) + solid_kg / SOLIDS_KG_M3;
        let lost = self.losses(tun, volume, over.temp_c);
        let latent = water::evaporation_heat_j_kg(over.temp_c);
        let vapour_w = lost.vapour_kg_s * (water::enthalpy_j_kg(over.temp_c) + latent);
        dy[m + mash::WATER] -= lost.vapour_kg_s;
        dy[m + mash::HEAT] -= lost.wall_w + lost.surface_w + vapour_w;
        let t = self.layout.totals;
        dy[t + total::WALL_J] += lost.wall_w;
        dy[t + total::SURFACE_J] += lost.surface_w;
        dy[t + total::VAPOUR_KG] += lost.vapour_kg_s;
        dy[t + total::VAPOUR_J] += vapour_w;
        let loss_w = lost.wall_w + lost.surface_w + lost.vapour_kg_s * latent;
        let (at_heat, at_c) = match &under {
            Some(u) => (m + mash::UNDER_HEAT, u.temp_c),
            None => (m + mash::HEAT, over.temp_c),
        };
        let capacity = water_all * 4190.0;
        let gained_w = self.tun_base_rates(y, dy, at_heat, at_c, loss_w, capacity);
        let at_65_w = poured.at_65_w + gained_w - loss_w;
        self.gains[tun] = Gain { at_65_w, ..poured };
    }

    /// Base and heater of the tun; returns what the heater gives to the contents, W.
    fn tun_base_rates(
        &self,
        y: &[f64],
        dy: &mut [f64],
        at_heat: usize,
        at_c: f64,
        loss_w: f64,
        capacity: f64,
    ) -> f64 {
        let tun = self.setting.parts.mash;
        let pot_i = &self.setting.pots[tun];
        let own = pot_i.has_own_base();
        let b = self.layout.tun_base;
        let follows = self.layout.follows[tun];
        let base_c = if follows {
            self.base_beside(tun, f64::INFINITY, capacity).base_c(at_c)
        } else if own {
            65.0 + y[b] / pot_i.base_j_k
        } else {
            at_c
        };
        let under_w = self.base_loss_w(tun, base_c);
        let kept_w = loss_w + under_w;
        let (to_base, to_contents) = self.drive_heat(tun, base_c, at_c, kept_w, capacity, dy);
        dy[self.layout.totals + total::WALL_J] += under_w;
        if own && !follows {
            let through_w = pot_i.base_w_k * (base_c - at_c);
            dy[b] += to_base - through_w - under_w;
            dy[at_heat] += through_w + to_contents;
        } else {
            dy[at_heat] += to_base + to_contents - under_w;
        }
        to_contents
    }

    fn mash_node(&self, node: &NodeView, water_all_kg: f64) -> MashNode {
        MashNode {
            temp_k: node.temp_c + water::ZERO_C_K,
            water_kg: node.water_kg.max(1e-9),
            dilution: water_all_kg / node.water_kg.max(1e-9),
            final_plato: self.mash.final_plato,
        }
    }

    fn react(
        &self,
        node: &NodeView,
        water_all_kg: f64,
        at_water: usize,
        at_pools: usize,
        y: &[f64],
        dy: &mut [f64],
    ) {
        if node.water_kg <= 0.0 {
            return;
        }
        let Some(out) = dy[at_pools..].first_chunk_mut() else { return };
        let seen = self.mash_node(node, water_all_kg);
        let pools = part::<LIQUID>(y, at_pools);
        let bound = kinetics::liquid_rates(&self.day.mash, &seen, pools, out);
        dy[at_water] -= bound;
        dy[self.layout.totals + total::BOUND_KG] += bound;
    }

    fn wet(&self, over: &NodeView, water_all_kg: f64, y: &[f64], dy: &mut [f64]) {
        let Some(release) = &self.mash.release else { return };
        let m = self.layout.mash;
        let seen = self.mash_node(over, water_all_kg);
        // the pools lie before the solids
        let (before, from_solids) = dy.split_at_mut(m + mash::SOLIDS);
        let out_solids = from_solids.first_chunk_mut();
        let out_pools = before[m + mash::POOLS..].first_chunk_mut();
        let (Some(out_solids), Some(out_pools)) = (out_solids, out_pools) else { return };
        kinetics::solid_rates(
            &self.day.mash,
            &seen,
            over.plato(),
            release,
            part(y, m + mash::SOLIDS),
            out_solids,
            out_pools,
        );
    }

    /// Equal volumes pass both ways between the mash and the liquid below the screen.
    fn exchange(&self, over: &NodeView, under: &NodeView, y: &[f64], dy: &mut [f64]) {
        let m = self.layout.mash;
        let flow = self.exchange_m3_s;
        let (a, b) = (flow / over.volume_m3.max(1e-6), flow / under.volume_m3.max(1e-6));
        let water = a * over.water_kg - b * under.water_kg;
        dy[m + mash::WATER] -= water;
        dy[m + mash::UNDER_WATER] += water;
        let over_pools = part::<LIQUID>(y, m + mash::POOLS);
        let under_pools = part::<LIQUID>(y, m + mash::UNDER_POOLS);
        let (before, from_under) = dy.split_at_mut(m + mash::UNDER_POOLS);
        let out_over = &mut before[m + mash::POOLS..m + mash::POOLS + LIQUID];
        let out_under = &mut from_under[..LIQUID];
        for k in 0..LIQUID {
            let moved = a * over_pools[k] - b * under_pools[k];
            out_over[k] -= moved;
            out_under[k] += moved;
        }
        let heat_of = |n: &NodeView, share: f64| {
            share
                * (n.water_kg * water::enthalpy_j_kg(n.temp_c)
                    + n.extract_kg * wort::extract_enthalpy_j_kg(n.temp_c))
        };
        let area_m2 = self.setting.pots[self.setting.parts.mash].area_m2;
        let plate_w = self.setting.bed.plate_w_m2_k * area_m2 * (over.temp_c - under.temp_c);
        let heat_w = heat_of(over, a) - heat_of(under, b) + plate_w;
        dy[m + mash::HEAT] -= heat_w;
        dy[m + mash::UNDER_HEAT] += heat_w;
    }

    /// Flow that the valve would take from a bed that gives it.
    fn outflow_m3_s(&self) -> f64 {
        self.run_off_m3_s.min(self.setting.bed.flow_limit_m3_s)
    }

    /// Where the flow from a draining bed bends: see [`bed::drain_shortfalls`].
    pub(crate) fn drain_shortfalls(&self, y: &[f64]) -> [f64; 2] {
        let Some(bed) = &self.mash.bed else { return [-1.0; 2] };
        bed::drain_shortfalls(bed, self.outflow_m3_s(), &y[self.layout.mash..])
    }

    fn bed_rates(&self, y: &[f64], dy: &mut [f64]) {
        let Some(bed) = &self.mash.bed else { return };
        let m = self.layout.mash;
        let tun = self.setting.parts.mash;
        let mut seen = *part::<{ bed::BED_STATES }>(y, m);
        let (under_j, under_c) = self.bed_split(bed, &seen);
        seen[bed::UNDER_HEAT] = under_j;
        let seen = &seen;
        let volume = bed_volume_m3(bed, seen, self.mash.solids_kg);
        let mean_c = bed_mean_c(bed, seen);
        let lost = self.losses(tun, volume, mean_c);
        let latent = water::evaporation_heat_j_kg(mean_c);
        let vapour_kg_s = if self.mash.drains { 0.0 } else { lost.vapour_kg_s };
        let vapour_w = vapour_kg_s * (water::enthalpy_j_kg(mean_c) + latent);
        let flows = bed::Flows {
            outflow_m3_s: self.outflow_m3_s(),
            bed_loss_w: lost.wall_w,
            surface_loss_w: lost.surface_w + vapour_w,
            vapour_kg_s,
            draining: self.mash.drains,
            // sparge liquor is added as a flow from its pot
            ..bed::Flows::default()
        };
        let out = bed::bed_rates(bed, &flows, seen, &mut dy[m..m + bed::BED_STATES]);
        let t = self.layout.totals;
        dy[t + total::WALL_J] += flows.bed_loss_w;
        dy[t + total::SURFACE_J] += lost.surface_w;
        dy[t + total::VAPOUR_KG] += vapour_kg_s;
        dy[t + total::VAPOUR_J] += vapour_w;
        if let Some(at) = self.layout.pots[self.setting.parts.kettle] {
            Self::add(dy, at, out.outflow_water_kg_s, out.outflow_extract_kg_s, out.outflow_heat_w);
        }
        let capacity = bed_capacity_j_k(bed);
        self.tun_base_rates(y, dy, m + bed::UNDER_HEAT, under_c, 0.0, capacity);
    }
}

impl System for Plant<'_> {
    fn rates(&mut self, _t: f64, y: &[f64], dy: &mut [f64]) {
        dy.fill(0.0);
        self.measure_pots(y);
        self.flow_rates(y, dy);
        match self.layout.mash_kind {
            MashKind::None => {}
            MashKind::One | MashKind::Two => self.mash_rates(y, dy),
            MashKind::Bed => self.bed_rates(y, dy),
        }
        for i in 0..self.layout.pots.len() {
            if let Some(at) = self.layout.pots[i] {
                self.pot_rates(i, at, y, dy);
            }
        }
        self.hop_rates(y, dy);
        self.browning_rate(y, dy);
    }

    fn event_count(&self) -> usize {
        self.watches.len()
    }

    fn events(&mut self, t: f64, y: &[f64], g: &mut [f64]) {
        self.measure_pots(y);
        if self.watches.iter().any(|w| matches!(w, Watch::Simmers { .. })) {
            let mut dy = std::mem::take(&mut self.glance);
            dy.resize(y.len(), 0.0);
            self.rates(t, y, &mut dy);
            self.glance = dy;
        }
        for (value, watch) in g.iter_mut().zip(&self.watches) {
            *value = watch.value(self, t, y);
        }
    }
}

impl Plant<'_> {
    /// Paste in the mash, kg.
    pub(crate) fn paste_kg(&self, y: &[f64]) -> f64 {
        let m = self.layout.mash;
        match self.layout.mash_kind {
            MashKind::One => y[m + mash::POOLS + kinetics::PASTE],
            MashKind::Two => {
                y[m + mash::POOLS + kinetics::PASTE] + y[m + mash::UNDER_POOLS + kinetics::PASTE]
            }
            _ => 0.0,
        }
    }
}
