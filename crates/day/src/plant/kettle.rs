//! What the kettle's heat does to its wort: hops and colour.

use super::Plant;
use crate::state::{State, total};
use matter::hop;
use numerics::math::exp;
use process::isomerise::{self, HOP};

/// Where the law of browning begins to hold, °C: a thirtieth of the rate at the boil.
const BROWNS_FROM_C: f64 = 60.0;
/// More colour under an open flame (from memory).
const FLAME_BROWNING: f64 = 1.3;
/// Share of an addition's alpha that counts as nothing left in the hops.
const SPENT: f64 = 1e-9;

impl Plant<'_> {
    pub(super) fn hop_rates(&self, t: f64, y: &[f64], dy: &mut [f64]) {
        let kettle = self.setting.parts.kettle;
        let (Some(at), volume) = (self.layout.pots[kettle], self.pots[kettle].volume_m3) else {
            return;
        };
        if self.layout.hops_in.is_empty() || y[at] <= 0.0 {
            return;
        }
        // once the kettle is being emptied only what is still in it reacts, as strong as it was
        let full_m3 = self.hopped_m3();
        let left = (volume / full_m3).min(1.0);
        let rates = self.day.kettle.at(self.pots[kettle].temp_c);
        let (k1, k2) = (left * rates.isomerises_per_s, left * rates.lost_per_s);
        let phi = if self.clouded {
            let alpha_kg_m3 = self.all_dissolved_kg(t, y) / full_m3;
            hop::clouded_share(alpha_kg_m3, self.day.soluble_kg_m3)
        } else {
            1.0
        };
        for (i, p) in self.hop_places() {
            let pools = [0.0, self.dissolved_kg(t, i, p, y), y[p + isomerise::ISO], 0.0];
            let mut out = [0.0; HOP];
            isomerise::hop_rates(k1, k2, phi, 0.0, &pools, &mut out);
            for (d, o) in dy[p..p + HOP].iter_mut().zip(out) {
                *d += o;
            }
        }
    }

    /// The additions that are in, and where their numbers lie.
    fn hop_places(&self) -> impl Iterator<Item = (usize, usize)> {
        let first = self.layout.hops;
        self.layout.hops_in.iter().enumerate().map(move |(k, i)| (*i, first + HOP * k))
    }

    /// Share of what was in an addition when the segment began that is still in it.
    ///
    /// ```text
    /// dm/dt = -k_e m      m = m_0 exp(-k_e (t - t_0))
    /// ```
    ///
    /// Nothing else touches it, so that the stepper need not follow this fast decay.
    fn still_in_hop(&self, t: f64, addition: usize) -> f64 {
        exp(-self.setting.hops[addition].extraction_per_s * (t - self.since_s))
    }

    /// Alpha of an addition in the wort, kg.
    fn dissolved_kg(&self, t: f64, addition: usize, place: usize, y: &[f64]) -> f64 {
        let (at_first_kg, both_kg) = (y[place + isomerise::IN_HOP], y[place + isomerise::ALPHA]);
        if at_first_kg < SPENT * both_kg {
            return both_kg;
        }
        both_kg - at_first_kg * self.still_in_hop(t, addition)
    }

    /// Wort in which the hops are dissolved, m³.
    fn hopped_m3(&self) -> f64 {
        let volume = self.pots[self.setting.parts.kettle].volume_m3;
        self.emptied_from_m3.unwrap_or(volume).max(1e-6)
    }

    /// Alpha of all additions in the wort, kg.
    fn all_dissolved_kg(&self, t: f64, y: &[f64]) -> f64 {
        self.hop_places().map(|(i, p)| self.dissolved_kg(t, i, p, y).max(0.0)).sum()
    }

    /// Alpha in the wort beyond what it dissolves, kg; below zero while it could dissolve more.
    fn undissolved_kg(&self, t: f64, y: &[f64]) -> f64 {
        self.all_dissolved_kg(t, y) - self.hopped_m3() * self.day.soluble_kg_m3
    }

    /// Crosses zero upwards where the wort begins to cloud, or to clear if it was clouded when the
    /// segment began.
    pub(crate) fn cloud_turns_kg(&self, t: f64, y: &[f64]) -> f64 {
        let beyond_kg = self.undissolved_kg(t, y);
        if self.clouded { -beyond_kg } else { beyond_kg }
    }

    /// Whether there are hops in a kettle that takes part.
    pub(crate) fn hops_react(&self) -> bool {
        let kettle = self.layout.pots[self.setting.parts.kettle];
        !self.layout.hops_in.is_empty() && kettle.is_some()
    }

    /// Notes whether the wort holds more alpha acids than it dissolves and whether it browns. The
    /// rates stay with that until the events say otherwise, so that no step runs over a kink.
    /// `clouded` is what the event just found, if it did.
    pub(crate) fn look_into_kettle(&mut self, t: f64, y: &[f64], clouded: Option<bool>) {
        self.measure_pots(y);
        if self.hops_react() {
            self.clouded = clouded.unwrap_or_else(|| self.undissolved_kg(t, y) > 0.0);
        }
        self.browns = self.pots[self.setting.parts.kettle].temp_c >= BROWNS_FROM_C;
    }

    /// Crosses zero upwards where the kettle gets warm enough for browning, or too cold for it if
    /// it browned when the segment began.
    pub(crate) fn browning_turns_k(&self) -> f64 {
        let above_k = self.pots[self.setting.parts.kettle].temp_c - BROWNS_FROM_C;
        if self.browns { -above_k } else { above_k }
    }

    /// Moves what left the hops in this segment into the wort of a state just read back.
    pub(super) fn leach(&self, t: f64, state: &mut State) {
        if !self.hops_react() {
            return;
        }
        for &i in &self.layout.hops_in {
            let left_kg = state.hops[i][isomerise::IN_HOP] * self.still_in_hop(t, i);
            state.hops[i][isomerise::ALPHA] += state.hops[i][isomerise::IN_HOP] - left_kg;
            state.hops[i][isomerise::IN_HOP] = left_kg;
        }
    }

    pub(super) fn browning_rate(&self, y: &[f64], dy: &mut [f64]) {
        let kettle = self.setting.parts.kettle;
        let Some(at) = self.layout.pots[kettle] else { return };
        let (w, x) = (y[at], y[at + 1]);
        if x <= 0.0 || !self.browns {
            return;
        }
        let fire = if self.pots[kettle].drive.is_flame() { FLAME_BROWNING } else { 1.0 };
        let plato = 100.0 * x / (w + x);
        let rate = plato * fire * self.day.kettle.at(self.pots[kettle].temp_c).browns_ebc_per_s;
        dy[self.layout.totals + total::BROWNED_EBC_M3] += self.pots[kettle].volume_m3 * rate;
    }
}
