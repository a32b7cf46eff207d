//! The rates of the whole brewhouse in one vector: what the operations under way, the room and
//! the reactions do to every pot at once. It gathers the rates of `process`; it knows no operation
//! and no clock.

mod base;
mod bed;
mod drive;
mod kettle;
mod mash;
mod vessel;

pub(crate) use bed::{bed_mean_c, bed_under_c, bed_valve_plato, bed_volume_m3};
pub(crate) use drive::{Drive, Flow};
pub(crate) use process::strike::{EXTRACT_M3_KG, SOLIDS_KG_M3};
pub(crate) use vessel::{PotNow, split_metal};

use crate::kettle::KettleLaws;
use crate::setting::{Parts, Setting};
use crate::state::{Layout, Mash, MashKind, State};
use crate::watch::Watch;
use matter::{hop, water, wort};
use numerics::dopri::System;
use process::bed::Bed;
use process::mash::{self as kinetics, Prepared};
use std::cell::Cell;
use std::sync::Arc;

/// Share of a flame's heat that goes into the wetted wall (from memory).
const FLAME_INTO_WALL: f64 = 0.15;
/// Heat capacity of what flows into a pot, J/(kg K), where its share in the lag of a base is meant.
const FILLS_J_KG_K: f64 = 4190.0;
/// Density of water in flows by volume inside the mash, kg/m³ (70 °C).
pub(crate) const FLOW_WATER_KG_M3: f64 = 977.76;

/// Laws that hold all day, laid out once.
#[derive(Debug)]
pub(crate) struct DayLaws {
    pub(crate) mash: Prepared,
    pub(crate) kettle: KettleLaws,
    /// Boiling point of water here, °C.
    boil_c: f64,
    /// Alpha acids that the wort holds in solution, kg/m³.
    soluble_kg_m3: f64,
}

impl DayLaws {
    pub(crate) fn new(setting: &Setting) -> DayLaws {
        let constants = kinetics::start(&setting.grist, &setting.kinetics).kinetics;
        DayLaws {
            mash: constants.prepare(setting.mash_ph),
            kettle: KettleLaws::new(setting),
            boil_c: water::saturation_temperature_c(setting.pressure_pa),
            soluble_kg_m3: hop::alpha_solubility_kg_m3(setting.wort_ph),
        }
    }
}

/// The brewhouse between two events.
#[derive(Debug)]
pub(crate) struct Plant<'a> {
    pub(crate) setting: &'a Setting,
    pub(crate) layout: Layout,
    pub(crate) pots: Vec<PotNow>,
    pub(crate) flows: Vec<Flow>,
    /// Exchange between the nodes of the mash, m³/s.
    pub(crate) exchange_m3_s: f64,
    pub(crate) run_off_m3_s: f64,
    pub(crate) coil: bool,
    pub(crate) mash: MashConstants,
    pub(crate) watches: Vec<Watch>,
    pub(crate) day: Arc<DayLaws>,
    /// Temperatures of the mash's nodes when last looked at, °C: where to look first.
    nodes_c: [Cell<f64>; 2],
    /// Rates at a moment that only the events look at.
    glance: Vec<f64>,
    /// What the kettle held when it began to be emptied, m³.
    pub(crate) emptied_from_m3: Option<f64>,
    /// When the segment began, s.
    since_s: f64,
    /// For which time the bases that follow were last placed, s.
    placed_s: f64,
    /// The wort held more alpha acids than it dissolves when the segment began.
    pub(crate) clouded: bool,
    /// The kettle was warm enough for browning when the segment began.
    browns: bool,
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

impl<'a> Plant<'a> {
    /// The plant at rest in `state`: nothing lit, nothing flowing.
    pub(crate) fn new(setting: &'a Setting, state: &State, day: Arc<DayLaws>) -> Plant<'a> {
        let pots = state.pots.iter().map(|held| PotNow::new(held, setting.air_c));
        let mut plant = Plant {
            setting,
            layout: Layout::of(state, false, |_| false),
            pots: pots.collect(),
            flows: Vec::new(),
            exchange_m3_s: setting.bed.seep_m3_s,
            run_off_m3_s: 0.0,
            coil: false,
            mash: MashConstants::default(),
            watches: Vec::new(),
            day,
            nodes_c: [Cell::new(66.0), Cell::new(66.0)],
            glance: Vec::new(),
            emptied_from_m3: None,
            since_s: state.t_s,
            placed_s: f64::NAN,
            clouded: false,
            browns: false,
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
            wanted && !is_tun && (holds || in_flow(i) || fills(i) || !self.pots[i].drive.is_off())
        });
        self.layout = layout;
    }

    /// Whether no pot and no mash takes part, so that nothing changes with time.
    pub(crate) fn rests(&self) -> bool {
        self.layout.mash_kind == MashKind::None && self.layout.pots.iter().all(Option::is_none)
    }

    pub(crate) fn parts(&self) -> Parts {
        self.setting.parts
    }

    /// Boiling point of a wort of this extract fraction here, °C.
    pub(crate) fn boiling_c(&self, extract: f64) -> f64 {
        self.day.boil_c + wort::BOILING_RISE_FACTOR * wort::boiling_rise_k(extract)
    }
}

impl System for Plant<'_> {
    fn rates(&mut self, t: f64, y: &[f64], dy: &mut [f64]) {
        dy.fill(0.0);
        self.place_bases(t);
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
        self.hop_rates(t, y, dy);
        self.browning_rate(y, dy);
    }

    fn event_count(&self) -> usize {
        self.watches.len()
    }

    fn lands(&self, index: usize) -> bool {
        matches!(self.watches[index], Watch::Clouds | Watch::Simmers { .. })
    }

    fn events(&mut self, t: f64, y: &[f64], g: &mut [f64]) {
        self.place_bases(t);
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
