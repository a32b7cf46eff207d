//! A pot's base: warmed by the fire before its contents are, and counted with them once it is wet.
//! It decides nothing about when that is.

use super::bed::{bed_under_c, bed_under_j_k};
use super::drive::Drive;
use super::{FLAME_INTO_WALL, Plant};
use crate::setting::PotIndex;
use crate::state::{Mash, MashKind, State, mash, total};
use numerics::dopri::System;
use numerics::math::exp;
use process::bed::{self, Bed};

/// A base that follows the contents: `base_c = T + lift_k - slope (T - 65)`, so that together they
/// hold `fixed_j + j_k (T - 65)` beside the contents' own heat.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Beside {
    pub(super) lift_k: f64,
    pub(super) slope: f64,
    pub(super) fixed_j: f64,
    pub(super) j_k: f64,
}

/// Heat into a base from outside: `fixed_w - per_w_k (base_c - 65)`.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Link {
    pub(super) fixed_w: f64,
    pub(super) per_w_k: f64,
}

/// Time constants after which a base is in its place, to some millionths of a kelvin.
const LONG_AGO: f64 = 18.0;

impl Beside {
    pub(super) fn base_c(&self, temp_c: f64) -> f64 {
        temp_c + self.lift_k - self.slope * (temp_c - 65.0)
    }
}

/// Heat that contents gain besides what their base gives: `at_65_w - per_w_k (T - 65)`.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Gain {
    pub(super) at_65_w: f64,
    pub(super) per_w_k: f64,
}

/// How far a base that follows stands from its place, as warmth to be evened out: `k exp(-per_s t)`
/// from the segment's start.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Apart {
    pub(super) start_k: f64,
    pub(super) per_s: f64,
    pub(super) now_k: f64,
}

impl Gain {
    /// The gain that is `now_w` at a temperature.
    pub(super) fn at(temp_c: f64, now_w: f64, per_w_k: f64) -> Gain {
        Gain { at_65_w: now_w + per_w_k * (temp_c - 65.0), per_w_k }
    }
}

/// Share of the base that liquid wets.
pub(super) fn wet_share(water_kg: f64) -> f64 {
    if water_kg.is_finite() { water_kg / (water_kg + 0.2) } else { 1.0 }
}

/// Heat capacity that goes with the base of a tun being run off, J/K.
pub(super) fn bed_capacity_j_k(bed: &Bed) -> f64 {
    bed.under_m3 * 4.1e6
}

impl Plant<'_> {
    /// Looks up what heats and cools each base from outside, once the drives are known.
    pub(crate) fn link_bases(&mut self) {
        for i in 0..self.pots.len() {
            let mut link = Link::default();
            match &self.pots[i].drive {
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
            self.pots[i].link = link;
        }
    }

    /// Finds where the bases that follow stand at the start of a segment: what warms the contents
    /// is known only once the rates have been worked out.
    pub(crate) fn settle_bases(&mut self, state: &State, y: &[f64]) {
        if !self.layout.follows.iter().any(|follows| *follows) {
            return;
        }
        self.part_bases(state);
        let mut dy = std::mem::take(&mut self.glance);
        dy.resize(y.len(), 0.0);
        self.rates(state.t_s, y, &mut dy);
        self.glance = dy;
        self.part_bases(state);
        for pot in &mut self.pots {
            pot.measured = [f64::NAN; 4];
        }
    }

    /// Notes how far each base that follows stands from its place, and how fast that is evened out.
    ///
    /// ```text
    /// B = B_place(T) + D      D = D_0 exp(-λ t)      λ = (W + p1)/C_b + (1 - slope) W/C
    /// ```
    ///
    /// with the names of [`Plant::base_beside`]; at the boil the second part is missing. Heat is
    /// conserved whatever `D` is: the rates hold the heat of base and contents in one number.
    fn part_bases(&mut self, state: &State) {
        self.placed_s = state.t_s;
        for i in 0..self.pots.len() {
            self.pots[i].apart = Apart::default();
            if !self.layout.follows[i] {
                continue;
            }
            let (held, pot) = (&state.pots[i], &self.setting.pots[i]);
            let (wet_kg, capacity_j_k, temp_c) = match self.contents(i, state) {
                Some(contents) => contents,
                None => continue,
            };
            let beside = self.base_beside(i, wet_kg, capacity_j_k);
            let base_c = 65.0 + held.base_j / pot.base_j_k;
            let start_k = base_c - beside.base_c(temp_c);
            let w_k = pot.base_w_k * wet_share(wet_kg);
            let mut per_s = (w_k + self.pots[i].link.per_w_k) / pot.base_j_k;
            if !self.pots[i].boils {
                per_s += (1.0 - beside.slope) * w_k / capacity_j_k.max(1.0);
            }
            self.pots[i].apart = Apart { start_k, per_s, now_k: start_k };
        }
    }

    /// What touches a base in a state: water that wets it, heat capacity and temperature.
    fn contents(&self, i: PotIndex, state: &State) -> Option<(f64, f64, f64)> {
        let (held, metal_j_k) = (&state.pots[i], self.setting.pots[i].lumped_j_k());
        if self.layout.pots[i].is_some() {
            let capacity_j_k = held.water_kg * 4190.0 + held.extract_kg * 1700.0 + metal_j_k;
            return Some((held.water_kg, capacity_j_k, held.temperature_c(metal_j_k)));
        }
        if i != self.setting.parts.mash || self.layout.mash_kind == MashKind::None {
            return None;
        }
        match &state.mash {
            Mash::None => None,
            Mash::Nodes(nodes) => {
                let capacity_j_k = (nodes.over.water_kg + nodes.under.water_kg) * 4190.0;
                Some((f64::INFINITY, capacity_j_k, nodes.temperatures_c(self.setting).1))
            }
            Mash::Bed(held) => {
                let under_c = bed_under_c(&held.bed, &held.y);
                Some((f64::INFINITY, bed_capacity_j_k(&held.bed), under_c))
            }
        }
    }

    /// Moves the bases that follow to where they stand at a time of this segment.
    pub(super) fn place_bases(&mut self, t: f64) {
        if t == self.placed_s {
            return;
        }
        self.placed_s = t;
        let since_s = t - self.since_s;
        for apart in self.pots.iter_mut().map(|pot| &mut pot.apart) {
            if apart.start_k != 0.0 {
                let constants = apart.per_s * since_s;
                let left = if constants < LONG_AGO { exp(-constants) } else { 0.0 };
                apart.now_k = apart.start_k * left;
            }
        }
    }

    /// Where the base of a pot stands beside contents of this heat capacity once it has adjusted.
    ///
    /// ```text
    /// C_b dB/dt = p0 - p1 (B - 65) - W (B - T)      C dT/dt = W (B - T) + q0 - q1 (T - 65)
    /// dB/dt = dT/dt W/(W + p1)                      (W (1 + r) + p1)(B - T) =
    ///                                                 p0 - r q0 - (p1 - r q1)(T - 65)
    /// ```
    ///
    /// with what heats and cools the base from outside `p0 - p1 (B - 65)`, the conductance `W` to
    /// the contents, their heat capacity `C` what they gain besides, and `r = C_b/C W/(W + p1)`;
    /// at the boil `dT/dt = 0`, so that `r = 0`. Where it has not adjusted yet it stands [`Apart`].
    pub(super) fn base_beside(&self, i: PotIndex, water_kg: f64, capacity_j_k: f64) -> Beside {
        let pot = &self.setting.pots[i];
        let own_j_k = pot.base_j_k;
        let w_k = pot.base_w_k * wet_share(water_kg);
        let (link, gain) = (self.pots[i].link, self.pots[i].gain);
        let moves = w_k / (w_k + link.per_w_k).max(1e-9);
        let r = if self.pots[i].boils { 0.0 } else { moves * own_j_k / capacity_j_k.max(1.0) };
        let per_w_k = 1.0 / (w_k * (1.0 + r) + link.per_w_k).max(1e-9);
        let lift_k = (link.fixed_w - r * gain.at_65_w) * per_w_k;
        let slope = (link.per_w_k - r * gain.per_w_k) * per_w_k;
        let lift_k = lift_k + self.pots[i].apart.now_k;
        Beside { lift_k, slope, fixed_j: own_j_k * lift_k, j_k: own_j_k * (1.0 - slope) }
    }

    /// Reads the state at a time of this segment back from `y`.
    pub(crate) fn unpack(&mut self, t: f64, y: &[f64], state: &mut State) {
        let tun = self.setting.parts.mash;
        self.layout.unpack(y, tun, state);
        self.leach(t, state);
        self.place_bases(t);
        self.measure_pots(y);
        for i in 0..self.layout.pots.len() {
            if self.layout.pots[i].is_none() || !self.layout.follows[i] {
                continue;
            }
            let base_c = self.pots[i].beside.base_c(self.pots[i].temp_c);
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
    pub(super) fn tun_base_j(&self, y: &[f64]) -> f64 {
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
    pub(super) fn bed_split(&self, bed: &Bed, y: &[f64]) -> (f64, f64) {
        let tun = self.setting.parts.mash;
        if !self.layout.follows[tun] {
            return (y[bed::UNDER_HEAT], bed_under_c(bed, y));
        }
        let beside = self.base_beside(tun, f64::INFINITY, bed_capacity_j_k(bed));
        let liquid_j_k = bed_under_j_k(bed, y);
        let over_k = (y[bed::UNDER_HEAT] - beside.fixed_j) / (liquid_j_k + beside.j_k);
        (liquid_j_k * over_k, bed::REFERENCE_C + over_k)
    }

    /// Heat and heat capacity that the base of the tun adds to the node above it.
    pub(super) fn base_with_mash(&self, y: &[f64]) -> (f64, f64) {
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

    /// Base and heater of the tun; returns what the heater gives to the contents, W.
    pub(super) fn tun_base_rates(
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
}
