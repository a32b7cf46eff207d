//! Heat: what burners and elements can do, what must not become too hot, what one circuit carries,
//! what the coolant reaches.

use super::{Day, Held, Verdict, lower};
use crate::choice::CHILL_CARE_K;
use crate::procedure::{CHILL_GAP_K, SCORCH_W_M2};
use brew::{Reach, SpargeHow};
use brewhouse::HeaterKind;
use day::procedure::Action;
use day::setting::{Chiller, PotIndex};
use matter::wort;

/// Longest heating that is still a plan, s; a long one from half of it on (our choice).
const HEATING_S: f64 = 3.0 * 3600.0;
/// Slowest rise of a fired mash, K/min (our choice: slower than this a step of ten kelvin takes
/// over half an hour, and the rest before it never ends).
const RISE_K_MIN: f64 = 0.3;
/// Hottest rest and sparge, °C: above it starch dissolves that no enzyme is left for and husk gives
/// (common practice).
const HOTTEST_C: f64 = 80.0;
/// Hottest sparge at ease, °C.
const SPARGE_CARE_C: f64 = 78.5;
/// Vapour of a rolling boil, kg/(m² h) (common practice: 36; half of it hardly rolls).
const ROLLING_KG_M2_H: f64 = 18.0;
/// Chilling longer than this is a night's work, s.
const CHILL_S: f64 = 90.0 * 60.0;
/// Pitch nearer than this to the coolant takes long, K.
const PITCH_CARE_K: f64 = 3.0;

impl Day<'_> {
    pub(super) fn heat(&mut self) {
        self.tank_power();
        self.strike_hot();
        self.rests_hot();
        self.sparge_hot();
        self.mash_power();
        self.scorch();
        self.kettle_power();
        self.circuits();
        self.one_heater();
        self.pump();
        self.pitch();
        self.chill_time();
        self.not_reached();
    }

    /// What the day waited for in vain.
    fn not_reached(&mut self) {
        for caveat in self.solved.trace.caveats.iter().filter(|c| c.ends_with("given up")) {
            let held = Held {
                id: "not_reached",
                vessel: "brewhouse",
                value: 1.0,
                bound: 0.0,
                unit: "1",
                verdict: Verdict::Broken,
            };
            self.hold(&held, |_| caveat.clone());
        }
    }

    /// Longest time a pot is heated for one thing, s.
    fn longest_heating_s(&self, pot: PotIndex) -> f64 {
        let heatings = self.operations().filter_map(|(i, action, times)| {
            let here = match action {
                Action::Heat { pot: p, .. } => *p == pot,
                Action::BringToBoil { .. } => {
                    pot == self.place.parts.kettle && i == self.solved.built.marks.bring
                }
                _ => false,
            };
            here.then_some(times.end_s - times.start_s)
        });
        heatings.fold(0.0, f64::max)
    }

    fn heater_missing(&mut self, id: &str, pot: PotIndex, what: &str) {
        let vessel = self.vessel(pot);
        let (key, name) = (vessel.key.clone(), lower(vessel));
        let held =
            Held { id, vessel: &key, value: 0.0, bound: 0.0, unit: "kW", verdict: Verdict::Broken };
        self.hold(&held, |_| format!("the {name} must be heated for {what}, but has no heater"));
    }

    fn tank_power(&mut self) {
        let pot = self.place.parts.liquor;
        if self.vessel(pot).heater.is_none() {
            return self.heater_missing("tank_heater", pot, "the liquor");
        }
        self.heating("tank_power", pot, "the liquor");
    }

    fn heating(&mut self, id: &str, pot: PotIndex, what: &str) {
        let longest_s = self.longest_heating_s(pot);
        let vessel = self.vessel(pot);
        let (key, name) = (vessel.key.clone(), lower(vessel));
        let held = Held {
            id,
            vessel: &key,
            value: longest_s / 60.0,
            bound: HEATING_S / 60.0,
            unit: "min",
            verdict: Verdict::at_most(longest_s, HEATING_S, 0.5 * HEATING_S),
        };
        self.hold(&held, |say| {
            format!(
                "the {name} takes {} to heat {what}, {} is the most",
                say.minutes(longest_s),
                say.minutes(HEATING_S)
            )
        });
    }

    fn strike_hot(&mut self) {
        let boils_c = wort::boiling_point_c(self.solved.setting.pressure_pa, 0.0);
        let strike_c = self.solved.choice.strike_c;
        let key = self.vessel(self.place.parts.liquor).key.clone();
        let held = Held {
            id: "strike_temperature",
            vessel: &key,
            value: strike_c,
            bound: boils_c - 0.5,
            unit: "°C",
            verdict: Verdict::at_most(strike_c, boils_c - 0.5, boils_c - 5.0),
        };
        self.hold(&held, |say| {
            format!(
                "the strike is at {}, liquor boils here at {}",
                say.temp(strike_c),
                say.temp(boils_c)
            )
        });
    }

    fn rests_hot(&mut self) {
        let hottest_c = self.solved.choice.rest_c.iter().copied().fold(0.0, f64::max);
        let held = Held {
            id: "rest_temperature",
            vessel: "brew",
            value: hottest_c,
            bound: HOTTEST_C,
            unit: "°C",
            verdict: Verdict::at_most(hottest_c, HOTTEST_C, HOTTEST_C - 1.0),
        };
        self.hold(&held, |say| {
            format!(
                "the hottest rest is at {}, above {} husk gives and no enzyme is left",
                say.temp(hottest_c),
                say.temp(HOTTEST_C)
            )
        });
    }

    fn sparge_hot(&mut self) {
        if self.solved.choice.no_sparge() || matches!(self.brew.sparge.how, SpargeHow::None) {
            return;
        }
        let sparge_c = self.solved.choice.sparge_c;
        let held = Held {
            id: "sparge_temperature",
            vessel: "brew",
            value: sparge_c,
            bound: HOTTEST_C,
            unit: "°C",
            verdict: Verdict::at_most(sparge_c, HOTTEST_C, SPARGE_CARE_C),
        };
        self.hold(&held, |say| {
            format!("the sparge is at {}, {} is the most", say.temp(sparge_c), say.temp(HOTTEST_C))
        });
    }

    fn mash_power(&mut self) {
        let pot = self.place.parts.mash;
        let asked = self.brew.rests.iter().skip(1).any(|r| matches!(r.by, Reach::Fire));
        let fired = self.solved.choice.ways.reach.iter().skip(1);
        let still = fired.clone().any(|r| matches!(r, Reach::Fire | Reach::Strike));
        let poured = self.brew.rests.iter().skip(1).any(|r| matches!(r.by, Reach::HotLiquor));
        if poured && self.place.parts.liquor == pot {
            let vessel = self.vessel(pot);
            let (key, name) = (vessel.key.clone(), lower(vessel));
            let held = Held {
                id: "hot_liquor_pot",
                vessel: &key,
                value: 0.0,
                bound: 1.0,
                unit: "1",
                verdict: Verdict::Broken,
            };
            self.hold(&held, |_| {
                format!("a rest is to be reached by hot liquor, and the {name} holds the mash")
            });
        }
        if asked && self.vessel(pot).heater.is_none() {
            return self.heater_missing("mash_heater", pot, "a rest that is reached by fire");
        }
        if !still {
            return;
        }
        let rises = self.operations().filter_map(|(_, action, times)| {
            let Action::FireMash { .. } = action else { return None };
            let at = |s: &day::trace::Snapshot| s.pots.get(pot).map_or(0.0, |s| s.temp_c);
            let minutes = (times.end_s - times.start_s) / 60.0;
            let rise_k = at(&times.at_end) - at(&times.at_start);
            // a step of less than a kelvin says nothing of the power
            (rise_k > 1.0 || minutes > 20.0).then(|| rise_k / minutes.max(1e-3))
        });
        let slowest = rises.fold(f64::INFINITY, f64::min);
        if !slowest.is_finite() {
            return;
        }
        let tun = self.vessel(pot);
        let (key, name) = (tun.key.clone(), lower(tun));
        let held = Held {
            id: "mash_power",
            vessel: &key,
            value: slowest,
            bound: RISE_K_MIN,
            unit: "K/min",
            verdict: Verdict::at_least(slowest, RISE_K_MIN, 1.5 * RISE_K_MIN),
        };
        self.hold(&held, |say| {
            format!(
                "the mash in the {name} rises by {} a minute, {} is the least",
                say.rise(slowest),
                say.rise(RISE_K_MIN)
            )
        });
    }

    fn scorch(&mut self) {
        let pot = self.place.parts.mash;
        let tun = self.vessel(pot);
        let below = tun.heater.as_ref().is_some_and(|h| h.kind != HeaterKind::Element);
        let fired = self.operations().any(|(_, a, _)| matches!(a, Action::FireMash { .. }));
        if !below || !fired {
            return;
        }
        let setting = crate::procedure::mash_fire(self.place, &self.solved.choice);
        let flux = self.heat_w(pot, setting, 90.0) / tun.section.base_m2();
        let (key, name) = (tun.key.clone(), lower(tun));
        let held = Held {
            id: "scorch",
            vessel: &key,
            value: 1e-3 * flux,
            bound: 1e-3 * SCORCH_W_M2,
            unit: "kW/m²",
            verdict: Verdict::advice(flux > SCORCH_W_M2),
        };
        self.hold(&held, |_| {
            format!(
                "{:.1} W/cm² go through the base of the {name} under the mash; above {:.1} it \
                 scorches unless it is stirred all the time",
                1e-4 * flux,
                1e-4 * SCORCH_W_M2
            )
        });
    }

    fn kettle_power(&mut self) {
        let pot = self.place.parts.kettle;
        if self.vessel(pot).heater.is_none() {
            return self.heater_missing("kettle_heater", pot, "the boil");
        }
        self.heating("kettle_power", pot, "the wort to the boil");
        let marks = &self.solved.built.marks;
        let trace = &self.solved.trace;
        let (start, end) = (trace.before(marks.boil, pot), trace.after(marks.boil, pot));
        let hours = (trace.of(marks.boil).end_s - trace.of(marks.boil).start_s) / 3600.0;
        let kg_h = (start.mass_kg - end.mass_kg) / hours.max(1e-6);
        let boils_c = wort::boiling_point_c(self.solved.setting.pressure_pa, 0.0);
        let kettle = self.vessel(pot);
        let rolling_kg_h = ROLLING_KG_M2_H * kettle.section.mouth_m2();
        let (key, name) = (kettle.key.clone(), lower(kettle));
        let verdict = if start.temp_c < boils_c - 1.0 || kg_h <= 0.0 {
            Verdict::Broken
        } else {
            Verdict::advice(kg_h < rolling_kg_h)
        };
        let held = Held {
            id: "kettle_boils",
            vessel: &key,
            value: start.temp_c,
            bound: boils_c - 1.0,
            unit: "°C",
            verdict,
        };
        self.hold(&held, |say| {
            format!(
                "the {name} comes to {} and gives off {} of vapour an hour; wort boils here above \
                 {}, and rolls from {} on",
                say.temp(start.temp_c),
                say.mass(kg_h.max(0.0)),
                say.temp(boils_c),
                say.mass(rolling_kg_h)
            )
        });
    }

    /// When each pot is heated, with what it draws, W.
    fn heatings(&self) -> Vec<(PotIndex, f64, f64, f64)> {
        let p = self.place.parts;
        self.operations()
            .filter_map(|(_, action, times)| {
                let (pot, setting) = match action {
                    Action::Heat { pot, setting, .. } => (*pot, *setting),
                    Action::Keep { pot, .. } => (*pot, 1.0),
                    Action::FireMash { setting, .. } => (p.mash, *setting),
                    Action::BringToBoil { setting }
                    | Action::Boil { setting, .. }
                    | Action::BoilDecoction { setting, .. } => (p.kettle, *setting),
                    _ => return None,
                };
                let heater = self.vessel(pot).heater.as_ref()?;
                // an element is switched, a plate is turned down
                let share = if heater.kind == HeaterKind::Element { 1.0 } else { setting };
                let draws_w = share * heater.power.value.watts();
                Some((pot, times.start_s, times.end_s, draws_w))
            })
            .collect()
    }

    fn circuits(&mut self) {
        let heatings = self.heatings();
        for circuit in self.place.brewhouse.circuits.clone() {
            let on = |pot: PotIndex| {
                let heater = self.vessel(pot).heater.as_ref();
                heater.is_some_and(|h| h.circuit.as_deref() == Some(circuit.name.as_str()))
            };
            let load = |t_s: f64| -> f64 {
                let at = heatings.iter().filter(|h| on(h.0) && h.1 <= t_s && t_s < h.2);
                let mut most = vec![0.0_f64; self.place.vessels.len()];
                for &(pot, _, _, w) in at {
                    most[pot] = most[pot].max(w);
                }
                most.iter().sum()
            };
            let most_w = heatings.iter().map(|h| load(h.1)).fold(0.0, f64::max);
            if most_w <= 0.0 {
                continue;
            }
            let limit_w = circuit.limit.watts();
            let held = Held {
                id: "circuit",
                vessel: "brewhouse",
                value: 1e-3 * most_w,
                bound: 1e-3 * limit_w,
                unit: "kW",
                verdict: Verdict::at_most(most_w, limit_w, limit_w),
            };
            self.hold(&held, |_| {
                format!(
                    "circuit {} carries {:.1} kW at once, {:.1} kW is its most",
                    circuit.name,
                    1e-3 * most_w,
                    1e-3 * limit_w
                )
            });
        }
    }

    /// One heater is under one pot at a time.
    fn one_heater(&mut self) {
        let heatings = self.heatings();
        let mut worst: Option<(PotIndex, PotIndex, f64)> = None;
        for (i, one) in heatings.iter().enumerate() {
            for other in &heatings[i + 1..] {
                let (a, b) = (self.vessel(one.0), self.vessel(other.0));
                if !self.place.brewhouse.share_a_heater(a, b) {
                    continue;
                }
                let both_s = one.2.min(other.2) - one.1.max(other.1);
                if both_s > 1.0 && worst.is_none_or(|w| both_s > w.2) {
                    worst = Some((one.0, other.0, both_s));
                }
            }
        }
        let Some((a, b, both_s)) = worst else { return };
        let (key, one, other) =
            (self.vessel(b).key.clone(), lower(self.vessel(a)), lower(self.vessel(b)));
        let held = Held {
            id: "one_heater",
            vessel: &key,
            value: both_s / 60.0,
            bound: 0.0,
            unit: "min",
            verdict: Verdict::Broken,
        };
        self.hold(&held, |say| {
            let long = say.minutes(both_s);
            format!("one heater is wanted under the {one} and the {other} at once, for {long}")
        });
    }

    fn pump(&mut self) {
        let Some(pump) = &self.place.brewhouse.pump else { return };
        let Some(hottest) = pump.hottest else { return };
        let p = self.place.parts;
        let flows = self.operations().filter_map(|(_, action, times)| match action {
            Action::Circulate { .. } | Action::FireMash { .. } => {
                let own = times.at_end.pots.get(p.mash).map_or(0.0, |s| s.temp_c);
                Some(times.at_end.under_c.map_or(own, |u| u.max(own)))
            }
            Action::ToFermenter { .. } => times.at_start.pots.get(p.kettle).map(|s| s.temp_c),
            _ => None,
        });
        let seen_c = flows.fold(f64::NEG_INFINITY, f64::max);
        if !seen_c.is_finite() {
            return;
        }
        let bears_c = hottest.celsius();
        let held = Held {
            id: "pump_temperature",
            vessel: "brewhouse",
            value: seen_c,
            bound: bears_c,
            unit: "°C",
            verdict: Verdict::at_most(seen_c, bears_c, bears_c - 5.0),
        };
        self.hold(&held, |say| {
            format!(
                "liquid of up to {} runs through the pump, it bears {}",
                say.temp(seen_c),
                say.temp(bears_c)
            )
        });
    }

    fn pitch(&mut self) {
        let pitch_c = self.brew.pitch_at().celsius();
        let (coolant_c, what) = match self.solved.setting.chiller {
            Chiller::Coil { inlet_c, .. }
            | Chiller::Bath { inlet_c, .. }
            | Chiller::Counterflow { inlet_c, .. } => (inlet_c, "cooling water comes"),
            Chiller::None => (self.solved.setting.air_c, "the air is"),
        };
        let marks = &self.solved.built.marks;
        let pot = self.place.parts.fermenter;
        let reached_c = self.solved.trace.after(marks.to_fermenter, pot).temp_c;
        // a counterflow chiller is throttled until it gives what is wanted
        let throttles = matches!(self.solved.setting.chiller, Chiller::Counterflow { .. });
        let missed = !throttles && reached_c > pitch_c + CHILL_CARE_K;
        let verdict = if missed || pitch_c < coolant_c {
            Verdict::Broken
        } else {
            Verdict::advice(
                pitch_c < coolant_c + PITCH_CARE_K || reached_c > pitch_c + CHILL_CARE_K,
            )
        };
        let key = self.vessel(pot).key.clone();
        let held = Held {
            id: "pitch_temperature",
            vessel: &key,
            value: reached_c,
            bound: pitch_c + CHILL_CARE_K,
            unit: "°C",
            verdict,
        };
        self.hold(&held, |say| {
            format!(
                "the wort comes to {}, wanted {}; {what} at {}, and {} above that is what is \
                 reached in good time",
                say.temp(reached_c),
                say.temp(pitch_c),
                say.temp(coolant_c),
                say.rise(CHILL_GAP_K)
            )
        });
    }

    fn chill_time(&mut self) {
        let Some(chill) = self.solved.built.marks.chill else { return };
        let times = self.solved.trace.of(chill);
        let taken_s = times.end_s - times.start_s;
        let key = self.vessel(self.place.parts.kettle).key.clone();
        let held = Held {
            id: "chill_time",
            vessel: &key,
            value: taken_s / 60.0,
            bound: CHILL_S / 60.0,
            unit: "min",
            verdict: Verdict::advice(taken_s > CHILL_S),
        };
        self.hold(&held, |say| {
            let care = if taken_s > CHILL_S { "; cover it, it is warm food" } else { "" };
            format!("chilling takes {}{care}", say.minutes(taken_s))
        });
    }
}
