//! What heats a pot, and what flows from pot to pot. It knows no operation: the clock sets both.

use super::{FLAME_INTO_WALL, Plant};
use crate::setting::{Heater, PotIndex};
use crate::state::total;
use process::heat::Flame;

/// Time in which a kept temperature is brought back, s (our choice).
const KEEP_S: f64 = 120.0;

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

    pub(super) fn is_flame(&self) -> bool {
        matches!(self, Drive::Flame(_))
    }

    pub(super) fn is_off(&self) -> bool {
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

impl Plant<'_> {
    /// Heat the heater gives now: into the base, into the contents.
    pub(super) fn drive_heat(
        &self,
        i: PotIndex,
        base_c: f64,
        temp_c: f64,
        loss_w: f64,
        capacity_j_k: f64,
        dy: &mut [f64],
    ) -> (f64, f64) {
        let t = self.layout.totals;
        match &self.pots[i].drive {
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
}
