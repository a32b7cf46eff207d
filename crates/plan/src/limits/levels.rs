//! Levels: what must stay free under a brim, what must cover a heater, what a pot can give, what a
//! stand carries.

use super::{Day, Held, Verdict, lower};
use day::procedure::Action;
use day::setting::Heater;
use matter::water;
use process::boil;
use process::heat::{Flame, FlameInputs};

/// Free under a tank's brim, m: 10 mm, and little to spare under 30 mm (common practice).
const TANK_FREE_M: f64 = 0.010;
const TANK_CARE_M: f64 = 0.030;
/// Free under a tun's brim, m: 20 mm to stir in; little to spare under 50 mm (common practice).
const TUN_FREE_M: f64 = 0.020;
const TUN_CARE_M: f64 = 0.050;
/// A level this near to its bound is on it, m.
const SAME_M: f64 = 1e-3;
/// Free height for the yeast's foam over its wort, share of the wort: 15 % at least, 25 % at ease
/// (common practice).
const YEAST_FOAM: f64 = 0.15;
const YEAST_EASE: f64 = 0.25;
/// Share of the brim to which a kettle is filled before the first foam (common practice).
const USUAL_FILL: f64 = 0.80;
/// Wheat, rye and oats from this share of the grist on lengthen the foam's life 1.4 times (from
/// memory).
const FOAMY_SHARE: f64 = 0.3;
const FOAMY_LIFE: f64 = 1.4;
/// Foam is held down at half flame.
const HALF: f64 = 0.5;

impl Day<'_> {
    pub(super) fn levels(&mut self) {
        self.tank_brim();
        self.tank_gives();
        self.tank_least_level();
        self.tun_brim();
        self.kettle_empty();
        self.decoction();
        self.kettle_least_level();
        self.head_space();
        self.fermenter();
        self.stands();
    }

    fn tank_brim(&mut self) {
        let p = self.place.parts;
        if p.liquor == p.mash {
            return;
        }
        let marks = &self.solved.built.marks;
        let to_s = if p.liquor == p.kettle {
            let first = marks.run_offs.first().copied().or(marks.to_kettle);
            first.map_or(f64::INFINITY, |op| self.solved.trace.of(op).start_s)
        } else {
            f64::INFINITY
        };
        let level_m = self.highest_m(p.liquor, 0.0, to_s);
        let tank = self.vessel(p.liquor);
        let (brim_m, key, name) = (tank.section.brim_height_m(), tank.key.clone(), lower(tank));
        let held = Held {
            id: "tank_brim",
            vessel: &key,
            value: 1e3 * level_m,
            bound: 1e3 * (brim_m - TANK_FREE_M),
            unit: "mm",
            verdict: Verdict::at_most(level_m, brim_m - TANK_FREE_M, brim_m - TANK_CARE_M),
        };
        self.hold(&held, |say| {
            format!(
                "hot liquor stands {} high in the {name}, its brim is at {}, {} must stay free",
                say.length(level_m),
                say.length(brim_m),
                say.length(TANK_FREE_M)
            )
        });
    }

    /// Whether every pour of liquor was given in full.
    fn tank_gives(&mut self) {
        let tank = self.place.parts.liquor;
        let (mut asked_kg, mut given_kg) = (0.0, 0.0);
        let mut short_kg: f64 = 0.0;
        for (i, action, times) in self.operations() {
            let asked = match action {
                Action::Pour { from, mass_kg, .. } if *from == tank => *mass_kg,
                Action::Infuse { mass_kg, .. }
                | Action::Sparge { mass_kg, .. }
                | Action::Refill { mass_kg, .. } => *mass_kg,
                _ => continue,
            };
            if asked > 1e5 {
                continue; // everything that is there
            }
            let at = |pots: &[day::trace::Seen]| pots.get(tank).map_or(0.0, |s| s.mass_kg);
            let gone = if matches!(action, Action::Refill { .. }) {
                // a refill is taken at once, before its own start is seen
                asked.min(self.refill_kg(i))
            } else {
                at(&times.at_start.pots) - at(&times.at_end.pots)
            };
            asked_kg += asked;
            given_kg += gone.min(asked);
            short_kg += (asked - gone - 0.02).max(0.0);
        }
        if asked_kg <= 0.0 {
            return;
        }
        let litres = |kg: f64| 1e3 * kg / water::density_kg_m3(75.0);
        let vessel = self.vessel(tank);
        let (key, name) = (vessel.key.clone(), lower(vessel));
        let held = Held {
            id: "tank_gives",
            vessel: &key,
            value: litres(given_kg),
            bound: litres(asked_kg),
            unit: "L",
            verdict: if short_kg > 0.0 { Verdict::Broken } else { Verdict::Kept },
        };
        self.hold(&held, |say| {
            format!(
                "the {name} gives {} of the {} asked of it; the rest lies below valve and element",
                say.volume(1e-3 * litres(given_kg)),
                say.volume(1e-3 * litres(asked_kg))
            )
        });
    }

    /// What a refill found in the tank, kg.
    fn refill_kg(&self, operation: usize) -> f64 {
        let p = self.place.parts;
        let short = self.solved.built.procedure.operations[operation].id.clone();
        let told = self.solved.trace.caveats.iter().any(|c| c.starts_with(&format!("{short}:")));
        if told { self.solved.trace.before(operation, p.liquor).mass_kg } else { f64::INFINITY }
    }

    fn tank_least_level(&mut self) {
        let pot = self.place.parts.liquor;
        if self.vessel(pot).heater.is_none() {
            return;
        }
        let mut least = f64::INFINITY;
        for (_, action, times) in self.operations() {
            let heated = match action {
                Action::Heat { pot: p, .. } | Action::Keep { pot: p, .. } => *p == pot,
                _ => false,
            };
            if heated {
                for seen in [&times.at_start, &times.at_end] {
                    least = least.min(seen.pots.get(pot).map_or(0.0, |s| s.volume_m3));
                }
            }
        }
        if least.is_finite() {
            self.covered("tank_least_level", pot, least);
        }
    }

    fn kettle_least_level(&mut self) {
        let pot = self.place.parts.kettle;
        if self.vessel(pot).heater.is_none() {
            return;
        }
        let marks = &self.solved.built.marks;
        let trace = &self.solved.trace;
        let lit = trace.before(marks.bring, pot).volume_m3;
        let out = trace.after(marks.boil, pot).volume_m3;
        self.covered("kettle_least_level", pot, lit.min(out));
    }

    fn covered(&mut self, id: &str, pot: usize, volume_m3: f64) {
        let vessel = self.vessel(pot);
        let level_m = vessel.section.height_m(volume_m3);
        let least_m = self.solved.setting.pots[pot].least_level_m;
        let (key, name) = (vessel.key.clone(), lower(vessel));
        let held = Held {
            id,
            vessel: &key,
            value: 1e3 * level_m,
            bound: 1e3 * least_m,
            unit: "mm",
            verdict: Verdict::at_least(level_m, least_m - SAME_M, least_m),
        };
        self.hold(&held, |say| {
            format!(
                "the {name} stands at {} at the least while it is heated, {} must cover its base \
                 or element",
                say.length(level_m),
                say.length(least_m)
            )
        });
    }

    fn tun_brim(&mut self) {
        let pot = self.place.parts.mash;
        let (from_s, to_s) = self.mash_times_s();
        let level_m = self.highest_m(pot, from_s, to_s);
        let tun = self.vessel(pot);
        let (brim_m, key, name) = (tun.section.brim_height_m(), tun.key.clone(), lower(tun));
        let held = Held {
            id: "tun_brim",
            vessel: &key,
            value: 1e3 * level_m,
            bound: 1e3 * (brim_m - TUN_FREE_M),
            unit: "mm",
            verdict: Verdict::at_most(level_m, brim_m - TUN_FREE_M, brim_m - TUN_CARE_M),
        };
        self.hold(&held, |say| {
            format!(
                "the mash stands {} high in the {name}, its brim is at {}, {} must stay free",
                say.length(level_m),
                say.length(brim_m),
                say.length(TUN_FREE_M)
            )
        });
    }

    /// A kettle that heats liquor must be empty before wort comes.
    fn kettle_empty(&mut self) {
        let p = self.place.parts;
        let Some(&first) = self.solved.built.marks.run_offs.first() else { return };
        if p.liquor != p.kettle || p.kettle == p.mash {
            return;
        }
        let kettle = self.vessel(p.kettle);
        let left_m3 = self.solved.setting.pots[p.kettle].left_m3 + 1e-4;
        let seen_m3 = self.solved.trace.before(first, p.kettle).volume_m3;
        let (key, name) = (kettle.key.clone(), lower(kettle));
        let held = Held {
            id: "kettle_empty",
            vessel: &key,
            value: 1e3 * seen_m3,
            bound: 1e3 * left_m3,
            unit: "L",
            verdict: Verdict::at_most(seen_m3, left_m3, left_m3),
        };
        self.hold(&held, |say| {
            format!(
                "the {name} cannot heat liquor while it collects wort: {} are in it when the \
                 run-off starts",
                say.volume(seen_m3)
            )
        });
    }

    fn decoction(&mut self) {
        let pot = self.place.parts.kettle;
        let boiled =
            self.operations().filter(|(_, a, _)| matches!(a, Action::BoilDecoction { .. }));
        let starts = boiled.map(|(_, _, t)| t.at_start.pots.get(pot).map_or(0.0, |s| s.volume_m3));
        let most = starts.fold(0.0, f64::max);
        if most <= 0.0 {
            return;
        }
        let kettle = self.vessel(pot);
        let (brim_m, key, name) =
            (kettle.section.brim_height_m(), kettle.key.clone(), lower(kettle));
        // a thick part rises and spits: a fifth of the pot stays free (common practice)
        let bound_m = USUAL_FILL * brim_m;
        let level_m = kettle.section.height_m(most);
        let held = Held {
            id: "decoction_volume",
            vessel: &key,
            value: 1e3 * level_m,
            bound: 1e3 * bound_m,
            unit: "mm",
            verdict: Verdict::at_most(level_m, bound_m, 0.95 * bound_m),
        };
        self.hold(&held, |say| {
            format!(
                "the drawn part of the mash stands {} high in the {name}, {} is the most for one \
                 that boils",
                say.length(level_m),
                say.length(bound_m)
            )
        });
    }

    fn fermenter(&mut self) {
        let pot = self.place.parts.fermenter;
        let wort = self.solved.trace.after(self.solved.built.marks.to_fermenter, pot);
        let vessel = self.vessel(pot);
        let brim_m = vessel.section.brim_height_m();
        let brim_m3 = vessel.section.brim_m3();
        let (key, name) = (vessel.key.clone(), lower(vessel));
        let foamed_m = vessel.section.height_m((1.0 + YEAST_FOAM) * wort.volume_m3);
        let at_ease_m3 = brim_m3 / (1.0 + YEAST_EASE);
        let held = Held {
            id: "fermenter_brim",
            vessel: &key,
            value: 1e3 * wort.volume_m3,
            bound: 1e3 * brim_m3 / (1.0 + YEAST_FOAM),
            unit: "L",
            verdict: Verdict::at_most(wort.volume_m3, brim_m3 / (1.0 + YEAST_FOAM), at_ease_m3),
        };
        self.hold(&held, |say| {
            format!(
                "{} of wort with the yeast's foam stand {} high in the {name}, its brim is at {}",
                say.volume(wort.volume_m3),
                say.length(foamed_m),
                say.length(brim_m)
            )
        });
    }

    fn stands(&mut self) {
        for pot in 0..self.place.vessels.len() {
            let vessel = self.vessel(pot);
            let Some(bears) = vessel.stand_bears else { continue };
            let bears_kg = bears.kilograms();
            let most = self.seen(pot, 0.0, f64::INFINITY).map(|s| s.mass_kg).fold(0.0, f64::max);
            let all_kg = vessel.full_kg(most);
            let (key, name) = (vessel.key.clone(), lower(vessel));
            let held = Held {
                id: "stand",
                vessel: &key,
                value: all_kg,
                bound: bears_kg,
                unit: "kg",
                verdict: Verdict::at_most(all_kg, bears_kg, 0.5 * bears_kg),
            };
            self.hold(&held, |say| {
                format!(
                    "the {name} weighs {} when fullest, its stand bears {}",
                    say.mass(all_kg),
                    say.mass(bears_kg)
                )
            });
        }
    }

    /// Height of the first foam with the heater at a setting, m.
    fn foam_m(&self, setting: f64) -> f64 {
        let pot = self.place.parts.kettle;
        let marks = &self.solved.built.marks;
        let trace = &self.solved.trace;
        let (start, end) = (trace.before(marks.boil, pot), trace.after(marks.boil, pot));
        let times = trace.of(marks.boil);
        let boiled_kg_s =
            (start.mass_kg - end.mass_kg).max(0.0) / (times.end_s - times.start_s).max(1.0);
        let latent_j_kg = water::evaporation_heat_j_kg(start.temp_c);
        let boil_setting = crate::procedure::boil_fire(self.place, self.brew);
        let heat = |s: f64| self.heat_w(pot, s, start.temp_c + 10.0);
        // what the boil loses otherwise is the same at every setting
        let lost_w = heat(boil_setting) - boiled_kg_s * latent_j_kg;
        let vapour_kg_s = boil::boil_off_kg_s(heat(setting) - lost_w, start.temp_c);
        let area_m2 = self.vessel(pot).section.area_m2(self.level_m(pot, start)).max(1e-6);
        let foamy: f64 = self
            .brew
            .grist
            .iter()
            .zip(&self.solved.choice.shares)
            .filter(|(g, _)| ["wheat", "rye", "oat"].iter().any(|w| g.malt.contains(w)))
            .map(|(_, share)| share)
            .sum();
        let life_s = boil::FIRST_FOAM_S * if foamy > FOAMY_SHARE { FOAMY_LIFE } else { 1.0 };
        boil::foam_m(life_s, boil::vapour_speed_m_s(vapour_kg_s, area_m2))
    }

    /// Heat into a pot at a setting of its heater, W.
    pub(super) fn heat_w(&self, pot: usize, setting: f64, base_c: f64) -> f64 {
        match &self.solved.setting.pots[pot].heater {
            Heater::None => 0.0,
            Heater::Flame(inputs) => Flame::new(&FlameInputs { setting, ..*inputs }).heat_w(base_c),
            Heater::Element { power_w, share } | Heater::Plate { power_w, share } => {
                setting * power_w * share
            }
        }
    }

    /// Boiling wort, its first foam and the surge of the first roll under the rim: at half flame
    /// they must stay there, at full flame they had better.
    fn head_space(&mut self) {
        let pot = self.place.parts.kettle;
        let kettle = self.vessel(pot);
        let Some(heater) = &kettle.heater else { return };
        let start = self.solved.trace.before(self.solved.built.marks.boil, pot);
        let level_m = self.level_m(pot, start);
        let brim_m = kettle.section.brim_height_m();
        let half = self.foam_m(HALF.max(heater.least_share()));
        let full = self.foam_m(1.0);
        // foam that is stirred or sprayed surges half as high
        let (low_m, high_m) =
            (level_m + half + 0.5 * boil::SURGE_M, level_m + full + boil::SURGE_M);
        let stated_m3 = kettle.head_space.as_ref().map(|_| kettle.foam_limit_m3());
        let usual_m3 = stated_m3.unwrap_or(USUAL_FILL * kettle.section.brim_m3());
        let over_stated = stated_m3.is_some_and(|limit| start.volume_m3 > limit + 1e-5);
        let care = high_m > brim_m || start.volume_m3 > usual_m3;
        let (key, name) = (kettle.key.clone(), lower(kettle));
        let verdict =
            if low_m > brim_m || over_stated { Verdict::Broken } else { Verdict::advice(care) };
        let (value, bound) = if over_stated && low_m <= brim_m {
            (level_m, kettle.section.height_m(usual_m3))
        } else {
            (low_m, brim_m)
        };
        let held = Held {
            id: "kettle_head_space",
            vessel: &key,
            value: 1e3 * value,
            bound: 1e3 * bound,
            unit: "mm",
            verdict,
        };
        self.hold(&held, |say| {
            let free = if over_stated {
                format!(", {} is the most it is to hold", say.volume(usual_m3))
            } else {
                String::new()
            };
            format!(
                "{} of wort stand {} high in the {name} as the boil starts; the first foam reaches \
                 {} at half flame, {} at full, the rim is at {}{free}",
                say.volume(start.volume_m3),
                say.length(level_m),
                say.length(low_m),
                say.length(high_m),
                say.length(brim_m)
            )
        });
    }
}
