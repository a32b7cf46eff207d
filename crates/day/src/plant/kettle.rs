//! What the kettle's heat does to its wort: hops and colour.

use super::Plant;
use crate::state::total;
use matter::hop;
use process::isomerise::{self, HOP};

/// Where the law of browning begins to hold, °C: a thirtieth of the rate at the boil.
const BROWNS_FROM_C: f64 = 60.0;
/// More colour under an open flame (from memory).
const FLAME_BROWNING: f64 = 1.3;

impl Plant<'_> {
    pub(super) fn hop_rates(&self, y: &[f64], dy: &mut [f64]) {
        if self.layout.hops_in.is_empty() {
            return;
        }
        let kettle = self.setting.parts.kettle;
        let (Some(at), volume) = (self.layout.pots[kettle], self.pots[kettle].volume_m3) else {
            return;
        };
        if y[at] <= 0.0 {
            return;
        }
        // once the kettle is being emptied only what is still in it reacts, as strong as it was
        let full_m3 = self.emptied_from_m3.unwrap_or(volume).max(1e-6);
        let left = (volume / full_m3).min(1.0);
        let rates = self.day.kettle.at(self.pots[kettle].temp_c);
        let (k1, k2) = (left * rates.isomerises_per_s, left * rates.lost_per_s);
        let places = || (0..self.layout.hops_in.len()).map(|k| self.layout.hops + HOP * k);
        let dissolved_kg: f64 = places().map(|p| y[p + 1].max(0.0)).sum();
        let phi = hop::soluble_share(dissolved_kg / full_m3, self.day.soluble_kg_m3);
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

    pub(super) fn browning_rate(&self, y: &[f64], dy: &mut [f64]) {
        let kettle = self.setting.parts.kettle;
        let Some(at) = self.layout.pots[kettle] else { return };
        let (w, x) = (y[at], y[at + 1]);
        if x <= 0.0 || self.pots[kettle].temp_c < BROWNS_FROM_C {
            return;
        }
        let fire = if self.pots[kettle].drive.is_flame() { FLAME_BROWNING } else { 1.0 };
        let plato = 100.0 * x / (w + x);
        let rate = plato * fire * self.day.kettle.at(self.pots[kettle].temp_c).browns_ebc_per_s;
        dy[self.layout.totals + total::BROWNED_EBC_M3] += self.pots[kettle].volume_m3 * rate;
    }
}
