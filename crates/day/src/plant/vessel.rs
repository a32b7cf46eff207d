//! Rates of one pot: its losses, its vapour, its chiller, and what flows into it and out of it.

use super::base::{Apart, Beside, Gain, Link, wet_share};
use super::drive::Drive;
use super::{FILLS_J_KG_K, Plant, SOLIDS_KG_M3};
use crate::setting::{Chiller, Heater, Pot, PotIndex};
use crate::state::{MashKind, PotState, mash, pot, total};
use matter::{water, wort};
use process::bed;
use process::chill;

/// Time in which superheat of a boiling pot is turned into vapour, s (our choice).
const BOIL_S: f64 = 120.0;
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

/// One pot between two events.
#[derive(Debug)]
pub(crate) struct PotNow {
    pub(crate) drive: Drive,
    pub(crate) lid: bool,
    pub(crate) boils: bool,
    pub(crate) temp_c: f64,
    pub(crate) volume_m3: f64,
    pub(super) solids_kg: f64,
    /// Water, extract, heat and the base's distance for which temperature and volume were found.
    pub(super) measured: [f64; 4],
    /// How far a base that follows stands from its place.
    pub(super) apart: Apart,
    /// Where a base that follows stood then.
    pub(super) beside: Beside,
    /// What heats and cools the base: see [`Plant::base_beside`].
    pub(super) link: Link,
    /// What heats and cools the contents besides their base, when last worked out.
    pub(super) gain: Gain,
    /// Heat that a boiling pot had to spare for more vapour than its surface gives anyway, when its
    /// rates were last worked out, W.
    pub(crate) spare_w: f64,
}

impl PotNow {
    /// A covered pot with nothing lit.
    pub(super) fn new(held: &PotState, air_c: f64) -> PotNow {
        PotNow {
            drive: Drive::Off,
            lid: true,
            boils: held.boils,
            temp_c: air_c,
            volume_m3: 0.0,
            solids_kg: held.solids_kg,
            measured: [f64::NAN; 4],
            apart: Apart::default(),
            beside: Beside::default(),
            link: Link::default(),
            gain: Gain::default(),
            spare_w: 0.0,
        }
    }

    /// Notes what the contents gain. A step tried too long may find no number: that is forgotten,
    /// so that the shorter one is not spoilt by it.
    pub(super) fn note_gain(&mut self, gain: Gain) {
        if gain.at_65_w.is_finite() && gain.per_w_k.is_finite() {
            self.gain = gain;
        }
    }
}

/// Where to look first for a temperature: where it was, unless a step tried too long found none.
pub(super) fn near_c(last_c: f64) -> f64 {
    if last_c.is_finite() { last_c } else { 65.0 }
}

pub(super) struct Losses {
    pub(super) wall_w: f64,
    pub(super) surface_w: f64,
    pub(super) vapour_kg_s: f64,
}

impl Plant<'_> {
    pub(super) fn pot_temperature(&mut self, i: PotIndex, y: &[f64], at: usize) -> f64 {
        let (w, x) = (y[at + pot::WATER].max(0.0), y[at + pot::EXTRACT].max(0.0));
        let (mut heat_j, mut metal_j_k) = (y[at + pot::HEAT], self.setting.pots[i].lumped_j_k());
        if self.layout.follows[i] {
            let beside = self.base_beside(i, w, w * 4190.0 + x * 1700.0 + metal_j_k);
            heat_j -= beside.fixed_j;
            metal_j_k += beside.j_k;
            self.pots[i].beside = beside;
        }
        let near_c = near_c(self.pots[i].temp_c);
        wort::temperature_c(heat_j, w, x, self.pots[i].solids_kg, metal_j_k, near_c)
    }

    pub(super) fn measure_pots(&mut self, y: &[f64]) {
        for i in 0..self.layout.pots.len() {
            if let Some(at) = self.layout.pots[i] {
                let now = [y[at], y[at + 1], y[at + 2], self.pots[i].apart.now_k];
                if now == self.pots[i].measured {
                    continue;
                }
                self.pots[i].measured = now;
                let temp_c = self.pot_temperature(i, y, at);
                self.pots[i].temp_c = temp_c;
                self.pots[i].volume_m3 =
                    wort::volume_m3(y[at].max(0.0), y[at + 1].max(0.0), temp_c)
                        + self.pots[i].solids_kg / SOLIDS_KG_M3;
            }
        }
    }

    /// Adds an amount of liquid with its heat to a pot or takes it away.
    pub(super) fn add(dy: &mut [f64], at: usize, water: f64, extract: f64, heat: f64) {
        dy[at + pot::WATER] += water;
        dy[at + pot::EXTRACT] += extract;
        dy[at + pot::HEAT] += heat;
    }

    pub(super) fn flow_rates(&self, y: &[f64], dy: &mut [f64]) {
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
                    let share = flow.rate / self.pots[i].volume_m3.max(1e-7);
                    let (dw, dx) = (w * share, x * share);
                    let temp_c = self.pots[i].temp_c;
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

    pub(super) fn onto_mash(&self, water_kg_s: f64, heat_w: f64, dy: &mut [f64]) {
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

    pub(super) fn counterflow(
        &self,
        water_kg_s: f64,
        extract_kg_s: f64,
        temp_c: f64,
        dy: &mut [f64],
    ) -> f64 {
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

    /// Losses of a pot filled to a volume at a temperature: wall, open surface without vapour,
    /// vapour below the boil.
    pub(super) fn losses(&self, i: PotIndex, volume_m3: f64, temp_c: f64) -> Losses {
        let pot = &self.setting.pots[i];
        let level_m = pot.section.height_m(volume_m3);
        let wet_m2 = pot.section.wetted_side_m2(level_m);
        let dry_m2 = (pot.side_m2 - wet_m2).max(0.0);
        let fired = if self.pots[i].drive.is_flame() { pot.side_fired } else { 1.0 };
        let (wet_w_m2, dry_w_m2) = pot.side.fluxes_w_m2(temp_c);
        let wall_w = fired * (wet_m2 * wet_w_m2 + dry_m2 * dry_w_m2);
        // an almost empty pot has a wet base but no surface worth the name
        let open_m2 = pot.section.area_m2(level_m) * volume_m3 / (volume_m3 + 1e-4);
        let vapour_kg_s = open_m2 * pot.surface.evaporation_kg_m2_s(temp_c);
        if self.pots[i].lid {
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

    pub(super) fn pot_rates(&mut self, i: PotIndex, at: usize, y: &[f64], dy: &mut [f64]) {
        let pot_i = &self.setting.pots[i];
        let filled_w_k = FILLS_J_KG_K * (dy[at] + dy[at + pot::EXTRACT]).max(0.0);
        let (temp_c, volume) = (self.pots[i].temp_c, self.pots[i].volume_m3);
        let (w, x) = (y[at].max(0.0), y[at + 1].max(0.0));
        let lost = self.losses(i, volume, temp_c);
        let capacity = w * 4190.0 + x * 1700.0 + pot_i.lumped_j_k();
        let follows = self.layout.follows[i];
        let latent = water::evaporation_heat_j_kg(temp_c);
        let loss_w = lost.wall_w + lost.surface_w + lost.vapour_kg_s * latent;
        let own = pot_i.has_own_base();
        let base_c = if follows {
            self.pots[i].beside.base_c(temp_c)
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
            self.pots[i].note_gain(Gain::at(temp_c, net_w, per_w_k));
        }
        let vapour = self.vapour_kg_s(i, at, y, dy, lost.vapour_kg_s, capacity);
        let vapour_w = vapour * (water::enthalpy_j_kg(temp_c) + latent);
        dy[at] -= vapour;
        dy[at + pot::HEAT] -= vapour_w;
        dy[t + total::VAPOUR_KG] += vapour;
        dy[t + total::VAPOUR_J] += vapour_w;
    }

    /// Loss of a base to the air below; none over a fire or on a plate that is on.
    pub(super) fn base_loss_w(&self, i: PotIndex, base_c: f64) -> f64 {
        if self.base_is_bare(i) {
            self.setting.pots[i].base_loss_w_k * (base_c - self.setting.air_c)
        } else {
            0.0
        }
    }

    /// Whether a base stands over air: nothing heats it from below. An element is in the liquid.
    pub(super) fn base_is_bare(&self, i: PotIndex) -> bool {
        self.pots[i].drive.is_off() || matches!(self.setting.pots[i].heater, Heater::Element { .. })
    }

    /// Vapour that leaves: by the surface, or by the heat left over at the boil where that is more.
    pub(super) fn vapour_kg_s(
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
        if !self.pots[i].boils {
            return below_kg_s;
        }
        let temp_c = self.pots[i].temp_c;
        let apart = self.pots[i].apart;
        let evens_out_w = self.setting.pots[i].base_j_k * apart.per_s * apart.now_k;
        let net_w = self.net_heat_w(at, temp_c, dy) + evens_out_w;
        let over_k = temp_c - self.boiling_c(x / (w + x));
        let latent = water::evaporation_heat_j_kg(temp_c);
        let boils_off_kg_s = (net_w + capacity_j_k * over_k / BOIL_S) / latent;
        self.pots[i].spare_w = (boils_off_kg_s - below_kg_s) * latent;
        boils_off_kg_s.max(below_kg_s)
    }

    /// Heat left for warming once inflows and outflows have their own enthalpy.
    pub(super) fn net_heat_w(&self, at: usize, temp_c: f64, dy: &[f64]) -> f64 {
        dy[at + pot::HEAT]
            - dy[at] * water::enthalpy_j_kg(temp_c)
            - dy[at + pot::EXTRACT] * wort::extract_enthalpy_j_kg(temp_c)
    }

    /// Takes the coil's heat; returns how much more it takes from a warmer kettle, W/K.
    pub(super) fn coil_rates(&self, at: usize, temp_c: f64, dy: &mut [f64]) -> f64 {
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
}
