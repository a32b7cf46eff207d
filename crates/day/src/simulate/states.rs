//! What the integrator is told of each state besides its rates: which bases are counted with their
//! contents, and how large each state is. It starts and ends no operation.

use super::{FIRST_STEP_S, Simulation};
use crate::plant::Plant;
use crate::snapshot;
use crate::state::{Mash, MashKind, pot, total};

/// Time constants for which a base that is being wetted keeps a temperature of its own.
const WETTED: f64 = 3.0;
/// Liquid below which a base keeps its own temperature, kg.
const WET_KG: f64 = 1.0;
/// Span of temperature that sizes a heat for the step control, K.
const SPAN_K: f64 = 100.0;
/// Mass that sizes the contents of an almost empty pot, kg.
const LEAST_KG: f64 = 5.0;

impl Simulation<'_> {
    /// Decides which bases are counted with their contents from now on, and tells when the next
    /// one that is being wetted will be.
    pub(super) fn let_bases_follow(&mut self, plant: &mut Plant<'_>) -> f64 {
        let now = self.state.t_s;
        let mut next = f64::INFINITY;
        for i in 0..self.state.pots.len() {
            let pot = &self.setting.pots[i];
            let holds_mash = i == self.setting.parts.mash && !matches!(self.state.mash, Mash::None);
            if !holds_mash && self.state.pots[i].mass_kg() < WET_KG {
                self.base_adjusts(i);
            }
            let follows = pot.has_own_base() && self.adjusts_s[i] <= now;
            self.state.pots[i].follows = follows;
            plant.layout.follows[i] = follows;
            let takes_part = plant.layout.pots[i].is_some()
                || holds_mash && plant.layout.mash_kind != MashKind::None;
            if pot.has_own_base() && !follows && takes_part {
                next = next.min(self.adjusts_s[i]);
            }
        }
        next
    }

    /// Something about a pot jumps: the next segment starts with a short step.
    pub(super) fn disturb(&mut self) {
        self.first_step_s = FIRST_STEP_S;
    }

    /// Gives a base a temperature of its own for some of its time constants.
    fn base_adjusts(&mut self, i: usize) {
        let pot = &self.setting.pots[i];
        if pot.has_own_base() {
            let adjusts_s = (WETTED * pot.base_j_k / pot.base_w_k).max(1.0);
            self.adjusts_s[i] = self.state.t_s + adjusts_s;
        }
    }

    /// A pot begins to boil or rests again: its base no longer warms, or warms again.
    pub(super) fn turn_boil(&mut self, i: usize, boils: bool) {
        self.state.pots[i].boils = boils;
        self.first_step_s = FIRST_STEP_S;
    }

    /// Size of each state, for the absolute tolerance.
    pub(super) fn fill_scales(&mut self, plant: &Plant<'_>) {
        let grist_kg = match &self.state.mash {
            Mash::Nodes(nodes) => nodes.grist_kg,
            Mash::Bed(held) => held.grist_kg,
            Mash::None => 1.0,
        };
        let layout = &plant.layout;
        self.scales.clear();
        self.scales.resize(layout.len, 1.0);
        for (i, at) in layout.pots.iter().enumerate() {
            let Some(at) = *at else { continue };
            let (held, pot) = (&self.state.pots[i], &self.setting.pots[i]);
            let liquid_kg = held.mass_kg().max(LEAST_KG);
            self.scales[at + pot::WATER] = liquid_kg;
            self.scales[at + pot::EXTRACT] = 0.1 * liquid_kg;
            self.scales[at + pot::HEAT] = SPAN_K * (4000.0 * liquid_kg + pot.lumped_j_k());
            // what a base gets wrong is heat of the contents
            self.scales[at + pot::BASE] = self.scales[at + pot::HEAT];
        }
        match layout.mash_kind {
            MashKind::None => {}
            MashKind::One | MashKind::Two => snapshot::mash_scales(
                &mut self.scales[layout.mash..],
                grist_kg,
                layout.mash_kind == MashKind::Two,
            ),
            MashKind::Bed => snapshot::bed_scales(&mut self.scales[layout.mash..], grist_kg),
        }
        if layout.mash_kind != MashKind::None {
            self.scales[layout.tun_base] = 1e6 * grist_kg;
        }
        let hops = self.setting.hops.iter();
        let alpha_kg: f64 = hops.map(|hop| hop.mass_kg * hop.alpha).sum();
        self.scales[layout.hops..layout.totals].fill((0.1 * alpha_kg).max(1e-6));
        let totals = &mut self.scales[layout.totals..];
        totals.fill(1e7);
        totals[total::VAPOUR_KG] = 1.0;
        totals[total::CHILL_KG] = 100.0;
        totals[total::BROWNED_EBC_M3] = 0.02;
        totals[total::BOUND_KG] = 0.1;
        totals[total::TAP_KG] = 10.0;
    }
}
