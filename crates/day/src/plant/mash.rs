//! Rates of a mash in one node or two: reactions, wetting, exchange through the screen, losses.

use super::base::Gain;
use super::bed::bed_mean_c;
use super::vessel::near_c;
use super::{EXTRACT_M3_KG, FILLS_J_KG_K, FLOW_WATER_KG_M3, Plant, SOLIDS_KG_M3};
use crate::state::{MashKind, mash, total};
use matter::{water, wort};
use process::bed;
use process::mash::{self as kinetics, LIQUID, MashNode, SOLID};
use std::cell::Cell;

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
        found_c: &Cell<f64>,
    ) -> Self {
        let near_c = near_c(found_c.get());
        let extract_kg = kinetics::dissolved_kg(pools);
        let temp_c =
            wort::temperature_c(heat_j, water_kg, extract_kg, solids_kg, metal_j_k, near_c);
        found_c.set(temp_c);
        let volume_m3 = water_kg / FLOW_WATER_KG_M3 + extract_kg * EXTRACT_M3_KG;
        NodeView { water_kg, extract_kg, temp_c, volume_m3 }
    }

    fn plato(&self) -> f64 {
        100.0 * self.extract_kg / (self.extract_kg + self.water_kg).max(1e-9)
    }
}

/// The `N` numbers from a place on. The layout made room for them.
#[inline]
pub(super) fn part<const N: usize>(y: &[f64], from: usize) -> &[f64; N] {
    y[from..].first_chunk().unwrap_or(const { &[0.0; N] })
}

impl Plant<'_> {
    /// The mash above the screen.
    pub(super) fn node_over(&self, y: &[f64]) -> NodeView {
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

    pub(super) fn mash_rates(&mut self, y: &[f64], dy: &mut [f64]) {
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
        self.pots[tun].note_gain(Gain { at_65_w, ..poured });
    }

    pub(super) fn mash_node(&self, node: &NodeView, water_all_kg: f64) -> MashNode {
        MashNode {
            temp_k: node.temp_c + water::ZERO_C_K,
            water_kg: node.water_kg.max(1e-9),
            dilution: water_all_kg / node.water_kg.max(1e-9),
            final_plato: self.mash.final_plato,
        }
    }

    pub(super) fn react(
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

    pub(super) fn wet(&self, over: &NodeView, water_all_kg: f64, y: &[f64], dy: &mut [f64]) {
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
    pub(super) fn exchange(&self, over: &NodeView, under: &NodeView, y: &[f64], dy: &mut [f64]) {
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
