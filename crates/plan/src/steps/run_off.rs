//! Steps of recirculation, run-off and sparge.

use super::{Steps, Told, after_minutes, at_temperature, at_volume, by_word, caution, num, set};
use crate::output::{DayPart, Operation};
use crate::procedure::{VORLAUF_M3_S, mark};
use crate::readings;
use crate::say::lower;
use brewhouse::caution::when;
use brewhouse::{HeaterKind, Recirculate};
use day::procedure::OperationIndex;
use serde_json::{Map, Value};

impl Steps<'_> {
    pub(crate) fn run_off(&mut self) {
        self.tank_again();
        self.recirculate();
        if self.solved.built.marks.lift.is_some() {
            self.lift();
            return;
        }
        self.running();
        self.sparge();
        self.drains();
        self.move_burner();
    }

    fn last_rest(&self) -> String {
        format!("rest-{}", self.solved.choice.rest_c.len())
    }

    fn tank_again(&mut self) {
        let marks = self.solved.built.marks.clone();
        let pot = self.place.parts.liquor;
        if let Some(op) = marks.refill_tank {
            self.cold_liquor("fill-again", pot, op, &["strike"]);
        }
        let Some(op) = marks.heat_sparge else { return };
        self.heat_tank("heat-sparge", pot, op, &["strike", "fill-again"]);
        let mut hot = ("heat-sparge", op);
        if let Some((cool, warm)) = marks.cool_tank {
            let poured = format!("reach-{}", self.solved.choice.rest_c.len());
            self.cold_liquor("cool-tank", pot, cool, &[&poured, "heat-sparge"]);
            self.heat_tank("warm-tank", pot, warm, &["cool-tank"]);
            hot = ("warm-tank", warm);
        }
        if let Some(off) = marks.tank_off {
            self.hold_tank(pot, hot, off);
        }
    }

    /// Cold liquor into the tank.
    fn cold_liquor(&mut self, id: &str, pot: usize, op: OperationIndex, after: &[&str]) {
        let tank = self.vessel(pot);
        let seen = self.solved.trace.after(op, pot);
        let added_kg = seen.mass_kg - self.solved.trace.before(op, pot).mass_kg;
        let source_c = self.solved.setting.source_c;
        let added_m3 = added_kg / matter::water::density_kg_m3(source_c);
        let (vessel, operation, part) = (tank.key.as_str(), Operation::Fill, DayPart::Mash);
        let told = Told { id, vessel, operation, part, after };
        let times = (self.start_min(op), self.end_min(op));
        let sets =
            set(&[("volume_l", num(1e3 * added_m3, 2)), ("temperature_c", num(source_c, 1))]);
        let name = lower(tank);
        self.tell(&told, times, sets, at_volume(1e3 * seen.volume_m3), |say| {
            format!("Into the {name}: {} cold.", say.volume(added_m3))
        })
        .expected = vec![readings::dip(tank, seen.volume_m3)];
    }

    /// The tank is brought to the temperature that is wanted next.
    fn heat_tank(&mut self, id: &str, pot: usize, op: OperationIndex, after: &[&str]) {
        let tank = self.vessel(pot);
        let seen = self.solved.trace.after(op, pot);
        let shown_c = readings::shows_c(tank, seen.temp_c);
        let (vessel, operation, part) = (tank.key.as_str(), Operation::Heat, DayPart::Mash);
        let told = Told { id, vessel, operation, part, after };
        let times = (self.start_min(op), self.end_min(op));
        let sets = set(&[
            ("power_share", num(1.0, 2)),
            ("temperature_c", num(shown_c, 1)),
            ("lid", Value::from(self.has_lid(pot))),
        ]);
        let lit = self.lit(pot, 1.0);
        let marks = &self.solved.built.marks;
        let last = (id == "warm-tank") == marks.cool_tank.is_some();
        let held = last && marks.tank_off.is_some();
        let out = if held { String::new() } else { format!(", then {}", self.put_out(pot)) };
        self.tell(&told, times, sets, at_temperature(shown_c), |say| {
            let (lit, temp) = (&lit[usize::from(say.us())], say.temp(shown_c));
            format!("{lit}. Heat the liquor to {temp}{out}.")
        })
        .expected = vec![readings::temperature(tank, seen.temp_c)];
    }

    /// The tank, hot after a step, is kept so while it is sparged from, until it may run low.
    fn hold_tank(&mut self, pot: usize, hot: (&str, OperationIndex), op: OperationIndex) {
        let tank = self.vessel(pot);
        let from_min = self.end_min(hot.1);
        let at = self.start_min(op);
        let seen = self.solved.trace.before(op, pot);
        let shown_c = readings::shows_c(tank, self.solved.choice.sparge_c);
        let flame = tank.heater.as_ref().is_some_and(|h| h.kind.is_flame());
        let hold = mark(tank, "hold");
        if at > from_min {
            let told = Told {
                id: "hold-tank",
                vessel: &tank.key,
                operation: Operation::Hold,
                part: DayPart::Mash,
                after: &[hot.0],
            };
            let mut sets = set(&[("temperature_c", num(shown_c, 1))]);
            if let Some((_, share)) = &hold {
                sets.insert("power_share".into(), num(*share, 3));
            }
            let ends = at_volume(1e3 * seen.volume_m3);
            self.tell(&told, (from_min, at), sets, ends, |say| {
                let temp = say.temp(shown_c);
                match &hold {
                    Some((name, _)) => format!("Hold the tank at {temp}: flame to the {name}."),
                    None => format!("Hold the tank at {temp}: heater on and off."),
                }
            })
            .expected = vec![readings::dip(tank, seen.volume_m3)];
        }
        let told = Told {
            id: "tank-off",
            vessel: &tank.key,
            operation: Operation::Handle,
            part: DayPart::RunOff,
            after: &["sparge"],
        };
        let sets = set(&[("power_share", num(0.0, 2))]);
        self.tell(&told, (at, at), sets, by_word(), |_| {
            if flame { "Tank: flame out.".into() } else { "Tank: heater off.".into() }
        })
        .expected = vec![readings::dip(tank, seen.volume_m3)];
    }

    fn recirculate(&mut self) {
        let Some(op) = self.solved.built.marks.recirculate else { return };
        let pot = self.place.parts.mash;
        let tun = self.vessel(pot);
        let times = (self.start_min(op), self.end_min(op));
        let minutes = times.1 - times.0;
        let through_m3 = VORLAUF_M3_S * 60.0 * minutes;
        let jug_m3 = self.jug_m3();
        let jugs = (through_m3 / jug_m3).ceil();
        let by_jug = matches!(self.place.brewhouse.recirculate, Recirculate::Jug { .. });
        let last = self.last_rest();
        let told = Told {
            id: "recirculate",
            vessel: &tun.key,
            operation: Operation::Recirculate,
            part: DayPart::RunOff,
            after: &[&last],
        };
        let sets = set(&[("flow_l_min", num(6e4 * VORLAUF_M3_S, 2))]);
        let seen = self.solved.trace.after(op, pot);
        let under_m3 = self.solved.setting.pots[pot].under_m3;
        let step = self.tell(&told, times, sets, after_minutes(minutes), |say| {
            let much = say.volume(through_m3);
            let below = say.volume(under_m3);
            if by_jug {
                format!(
                    "Recirculate (vorlauf): {jugs:.0} jugs of {}, {much} in {}, gently back over \
                     the bed; {below} lie below it.",
                    say.volume(jug_m3),
                    say.minutes(60.0 * minutes)
                )
            } else {
                format!(
                    "Recirculate (vorlauf) {}: throttle to {}. {much}, more than the {below} \
                     below the bed.",
                    say.minutes(60.0 * minutes),
                    say.flow(VORLAUF_M3_S)
                )
            }
        });
        step.expected =
            vec![readings::dip(tun, seen.volume_m3), readings::jug(jug_m3, VORLAUF_M3_S)];
        step.cautions = when::transfer(seen.temp_c).iter().map(caution).collect();
    }

    fn running(&mut self) {
        let marks = self.solved.built.marks.clone();
        let Some(&op) = marks.run_offs.first() else { return };
        let (tun_pot, kettle_pot) = (self.place.parts.mash, self.place.parts.kettle);
        let (tun, kettle) = (self.vessel(tun_pot), self.vessel(kettle_pot));
        let flow = self.solved.choice.run_off_m3_s;
        let jug_m3 = self.jug_m3();
        let last = self.last_rest();
        let before = if marks.recirculate.is_some() { "recirculate".to_string() } else { last };
        let told = Told {
            id: "run-off",
            vessel: &tun.key,
            operation: Operation::RunOff,
            part: DayPart::RunOff,
            after: &[&before],
        };
        let times = (self.start_min(op), self.end_min(op));
        let full = self.solved.trace.after(op, kettle_pot);
        let sets = set(&[
            ("to", Value::from(kettle.key.as_str())),
            ("flow_l_min", num(6e4 * flow, 3)),
            ("volume_l", num(1e3 * full.volume_m3, 2)),
        ]);
        let into = lower(kettle);
        let temp_c = self.solved.trace.before(op, tun_pot).temp_c;
        let ends = at_volume(1e3 * full.volume_m3).at(kettle);
        let step = self.tell(&told, times, sets, ends, |say| {
            format!(
                "Clear? Hose end into the {into}, below its surface. Run off at {}: the {} jug in \
                 {}. To {}.",
                say.flow(flow),
                say.volume(jug_m3),
                say.jug_time(jug_m3 / flow),
                say.volume(full.volume_m3)
            )
        });
        step.expected = vec![readings::jug(jug_m3, flow), readings::dip(kettle, full.volume_m3)];
        step.cautions = when::transfer(temp_c).iter().map(caution).collect();
        let Some(first) = marks.first_runnings else { return };
        let at = self.start_min(first);
        let plato = self.solved.trace.of(first).at_start.valve_plato;
        let drawn_m3 = self.solved.setting.pots[tun_pot].under_m3;
        let told = Told {
            id: "read-first-runnings",
            vessel: &tun.key,
            operation: Operation::Read,
            part: DayPart::RunOff,
            after: &["run-off"],
        };
        let expected = readings::gravity(self.place.brewhouse, plato);
        let sample_c = readings::sample_c(self.place.brewhouse);
        self.tell(&told, (at, at), Map::new(), by_word(), |say| {
            let cooled = format!("First runnings, cooled to {}", say.temp(sample_c));
            if drawn_m3 > 1e-3 {
                format!("{cooled}, once {} are drawn.", say.volume(drawn_m3))
            } else {
                format!("{cooled}.")
            }
        })
        .expected = expected;
    }

    fn sparge(&mut self) {
        let marks = self.solved.built.marks.clone();
        let Some(op) = marks.sparge else { return };
        let (tank_pot, tun_pot) = (self.place.parts.liquor, self.place.parts.mash);
        let (tank, tun) = (self.vessel(tank_pot), self.vessel(tun_pot));
        let before = self.solved.trace.before(op, tank_pot);
        let after = self.solved.trace.after(op, tank_pot);
        let m3 = before.volume_m3 - after.volume_m3;
        let level = self.solved.trace.before(op, tun_pot);
        let level_m = tun.section.height_m(level.volume_m3);
        let told = Told {
            id: "sparge",
            vessel: &tun.key,
            operation: Operation::Sparge,
            part: DayPart::RunOff,
            after: &["run-off"],
        };
        let times = (self.start_min(op), self.end_min(op));
        let shown_c = readings::shows_c(tank, before.temp_c);
        let sets = set(&[
            ("from", Value::from(tank.key.as_str())),
            ("volume_l", num(1e3 * m3, 2)),
            ("temperature_c", num(shown_c, 1)),
            ("flow_l_min", num(6e4 * self.solved.choice.run_off_m3_s, 3)),
        ]);
        let ends = at_volume(1e3 * after.volume_m3).at(tank);
        let step = self.tell(&told, times, sets, ends, |say| {
            format!(
                "Open the liquor valve slowly, {}. {} in all. Keep the mash at {} by the liquor \
                 valve; look every 5 minutes.",
                say.temp(shown_c),
                say.volume(m3),
                say.length(level_m)
            )
        });
        step.cautions = when::transfer(before.temp_c).iter().map(caution).collect();
        let told = Told {
            id: "sparge-ends",
            vessel: &tank.key,
            operation: Operation::Handle,
            part: DayPart::RunOff,
            after: &["sparge"],
        };
        let millimetres = tank.section.height_m(after.volume_m3);
        self.tell(&told, (times.1, times.1), Map::new(), by_word(), |say| {
            format!("Tank dips {}: shut the liquor valve.", say.length(millimetres))
        })
        .expected = vec![readings::dip(tank, after.volume_m3)];
    }

    fn drains(&mut self) {
        let marks = self.solved.built.marks.clone();
        let (tun_pot, kettle_pot) = (self.place.parts.mash, self.place.parts.kettle);
        let (tun, kettle) = (self.vessel(tun_pot), self.vessel(kettle_pot));
        for (k, (&refill, &run_off)) in
            marks.refills.iter().zip(marks.run_offs.iter().skip(1)).enumerate()
        {
            let tank_pot = self.place.parts.liquor;
            let seen = self.solved.trace.before(refill, tank_pot);
            let mass_kg = self.solved.choice.sparge_kg / marks.refills.len() as f64;
            let m3 = mass_kg / matter::water::density_kg_m3(seen.temp_c);
            let (fill_id, run_id) = (format!("fill-up-{}", k + 2), format!("run-off-{}", k + 2));
            let before = if k == 0 { "run-off".to_string() } else { format!("run-off-{}", k + 1) };
            let told = Told {
                id: &fill_id,
                vessel: &tun.key,
                operation: Operation::Drain,
                part: DayPart::RunOff,
                after: &[&before],
            };
            let times = (self.start_min(refill), self.end_min(refill));
            let shown_c = readings::shows_c(self.vessel(tank_pot), seen.temp_c);
            let sets = set(&[
                ("from", Value::from(self.vessel(tank_pot).key.as_str())),
                ("volume_l", num(1e3 * m3, 2)),
                ("temperature_c", num(shown_c, 1)),
                ("stir", Value::from(true)),
            ]);
            self.tell(&told, times, sets, after_minutes(times.1 - times.0), |say| {
                format!(
                    "Fill up: {} of {} over the grain. Stir, let it settle, recirculate until \
                     clear.",
                    say.volume(m3),
                    say.temp(shown_c)
                )
            })
            .cautions = when::transfer(seen.temp_c).iter().map(caution).collect();
            let told = Told {
                id: &run_id,
                vessel: &tun.key,
                operation: Operation::RunOff,
                part: DayPart::RunOff,
                after: &[&fill_id],
            };
            let times = (self.start_min(run_off), self.end_min(run_off));
            let full = self.solved.trace.after(run_off, kettle_pot);
            let sets = set(&[
                ("to", Value::from(kettle.key.as_str())),
                ("flow_l_min", num(6e4 * self.solved.choice.run_off_m3_s, 3)),
                ("volume_l", num(1e3 * full.volume_m3, 2)),
            ]);
            let ends = at_volume(1e3 * full.volume_m3).at(self.vessel(kettle_pot));
            self.tell(&told, times, sets, ends, |say| {
                format!("Run off again, to {} in the kettle.", say.volume(full.volume_m3))
            })
            .expected = vec![readings::dip(kettle, full.volume_m3)];
        }
    }

    fn lift(&mut self) {
        let marks = self.solved.built.marks.clone();
        let Some(op) = marks.lift else { return };
        let pot = self.place.parts.mash;
        let tun = self.vessel(pot);
        let last = self.last_rest();
        let told = Told {
            id: "lift-bag",
            vessel: &tun.key,
            operation: Operation::LiftBag,
            part: DayPart::RunOff,
            after: &[&last],
        };
        let times = (self.start_min(op), self.end_min(op));
        let seen = self.solved.trace.after(op, pot);
        let wet_kg = self.solved.trace.end.lifted.water_kg
            + self.solved.trace.end.lifted.extract_kg
            + 0.25 * self.solved.choice.grist_kg;
        let step = self.tell(&told, times, Map::new(), after_minutes(times.1 - times.0), |say| {
            format!(
                "Lift the bag, {} of wet grain, and let it drip for {}. {} stay in the pot.",
                say.mass(wet_kg),
                say.minutes(60.0 * (times.1 - times.0)),
                say.volume(seen.volume_m3)
            )
        });
        step.expected = vec![readings::dip(tun, seen.volume_m3)];
        step.cautions = when::hoist(wet_kg).iter().map(caution).collect();
        if let Some(op) = marks.to_kettle {
            let kettle = self.vessel(self.place.parts.kettle);
            let seen = self.solved.trace.after(op, self.place.parts.kettle);
            let told = Told {
                id: "run-off",
                vessel: &tun.key,
                operation: Operation::Transfer,
                part: DayPart::RunOff,
                after: &["lift-bag"],
            };
            let times = (self.start_min(op), self.end_min(op));
            let flow_m3_s = self.solved.setting.pots[pot].valve_m3_s;
            let sets = set(&[
                ("to", Value::from(kettle.key.as_str())),
                ("flow_l_min", num(6e4 * flow_m3_s, 2)),
            ]);
            let step = self.tell(&told, times, sets, by_word(), |say| {
                format!("Run the wort into the kettle: {}.", say.volume(seen.volume_m3))
            });
            step.expected = vec![readings::dip(kettle, seen.volume_m3)];
            step.cautions = when::transfer(seen.temp_c).iter().map(caution).collect();
        }
    }

    /// A burner that serves tun and kettle is moved once it is cold.
    fn move_burner(&mut self) {
        let (kettle, tun) =
            (self.vessel(self.place.parts.kettle), self.vessel(self.place.parts.mash));
        let burner = kettle.heater.as_ref().is_some_and(|h| h.kind == HeaterKind::Burner);
        if !burner || !self.place.brewhouse.share_a_heater(kettle, tun) {
            return;
        }
        let marks = self.solved.built.marks.clone();
        let Some(last) = marks.rests.iter().rposition(|r| r.reach.is_some()) else { return };
        let Some(fired) = marks.rests[last].reach else { return };
        let reached = format!("reach-{}", last + 1);
        let cold_min = crate::procedure::MOVE_BURNER_S / 60.0;
        let at = self.end_min(fired) + cold_min;
        let told = Told {
            id: "move-burner",
            vessel: &kettle.key,
            operation: Operation::Handle,
            part: DayPart::RunOff,
            after: &[&reached],
        };
        let step = self.tell(&told, (at, at), Map::new(), by_word(), |_| {
            "Gas off at the bottle. Burner and hose cold? Move it under the kettle.".into()
        });
        step.wait_min = cold_min;
        step.cautions = vec![caution(&brewhouse::caution::Caution::HookUp)];
    }
}
