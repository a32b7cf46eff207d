//! Steps from the strike to the last rest.

use super::{Steps, Told, after_minutes, at_temperature, at_volume, by_word, caution, num, set};
use crate::output::{DayPart, Operation};
use crate::procedure::{DECOCTION_SETTING, RestMarks, mash_fire};
use crate::readings;
use crate::say::lower;
use brew::Reach;
use brewhouse::Recirculate;
use brewhouse::caution::Caution;
use brewhouse::caution::when;
use serde_json::{Map, Value};

/// A rise that is seen on a dial, K: half a step of a good one (common practice, no source).
const SEEN_K: f64 = 1.0;

/// When to look at a dial, and what it should show.
struct Look {
    /// Minutes after the fire was lit.
    min: f64,
    /// Temperature of the mash then, °C.
    temp_c: f64,
    /// Rise from then on, K/min.
    rise_k_min: f64,
}

impl Steps<'_> {
    pub(crate) fn mash(&mut self) {
        self.strike();
        self.dough_in();
        let rests = self.solved.built.marks.rests.clone();
        for (i, marks) in rests.iter().enumerate() {
            if i > 0 {
                self.reach(i, marks);
            }
            self.rest(i, marks);
        }
    }

    fn strike(&mut self) {
        let Some(op) = self.solved.built.marks.strike else { return };
        let (tank_pot, tun_pot) = (self.place.parts.liquor, self.place.parts.mash);
        let (tank, tun) = (self.vessel(tank_pot), self.vessel(tun_pot));
        let before = self.solved.trace.before(op, tank_pot);
        let after = self.solved.trace.after(op, tank_pot);
        let litres_m3 = before.volume_m3 - after.volume_m3;
        let shown_c = readings::shows_c(tank, before.temp_c);
        let times = (self.start_min(op), self.end_min(op));
        let told = Told {
            id: "strike",
            vessel: &tun.key,
            operation: Operation::Transfer,
            part: DayPart::Mash,
            after: &["heat-strike"],
        };
        let sets = set(&[
            ("from", Value::from(tank.key.as_str())),
            ("volume_l", num(1e3 * litres_m3, 2)),
            ("temperature_c", num(shown_c, 1)),
            ("flow_l_min", num(6e4 * self.solved.setting.pots[tank_pot].valve_m3_s, 2)),
        ]);
        let from = lower(tank);
        let to = lower(tun);
        let step =
            self.tell(&told, times, sets, at_volume(1e3 * after.volume_m3).at(tank), |say| {
                format!(
                    "The {from} shows {}: open the valve slowly, {} into the {to}.",
                    say.temp(shown_c),
                    say.volume(litres_m3)
                )
            });
        step.expected = vec![readings::dip(tank, after.volume_m3)];
        step.cautions.extend(when::transfer(before.temp_c).iter().map(caution));
        let height_m = tank.stand.value.metres();
        let spill = when::spillage(before.volume_m3, before.temp_c, height_m);
        step.cautions.extend(spill.iter().map(caution));
    }

    fn dough_in(&mut self) {
        let marks = self.solved.built.marks.clone();
        let pot = self.place.parts.mash;
        let tun = self.vessel(pot);
        let kg = self.solved.choice.grist_kg;
        let times = (self.start_min(marks.dough_in), self.end_min(marks.dough_in));
        let before = if marks.strike.is_some() { "strike" } else { "heat-strike" };
        let told = Told {
            id: "dough-in",
            vessel: &tun.key,
            operation: Operation::DoughIn,
            part: DayPart::Mash,
            after: &[before],
        };
        let strike_c = self.solved.trace.before(marks.dough_in, pot).temp_c;
        let rim_m = tun.stand.value.metres() + tun.section.brim_height_m();
        let sets = set(&[("malt_kg", num(kg, 3)), ("stir", Value::from(true))]);
        let minutes = times.1 - times.0;
        let lid = self.where_lid(pot, " Lid on.");
        self.tell(&told, times, sets, after_minutes(minutes), |say| {
            format!(
                "Dough in: stir in {}, {}, no dry lumps.{lid}",
                say.mass(kg),
                say.minutes(60.0 * minutes)
            )
        })
        .cautions = when::dough_in(strike_c, rim_m).iter().map(caution).collect();
        let seen = self.solved.trace.after(marks.read_dough, pot);
        let at = self.start_min(marks.read_dough);
        let told = Told {
            id: "read-dough-in",
            vessel: &tun.key,
            operation: Operation::Read,
            part: DayPart::Mash,
            after: &["dough-in"],
        };
        let name = lower(tun);
        self.tell(&told, (at, at), Map::new(), by_word(), |_| {
            format!("Read the thermometer of the {name}.")
        })
        .expected = vec![readings::temperature(tun, seen.temp_c)];
        let told = Told {
            id: "read-ph",
            vessel: &tun.key,
            operation: Operation::Read,
            part: DayPart::Mash,
            after: &["read-dough-in"],
        };
        let at = at + 3.0;
        let ph = self.solved.liquor.mash_ph;
        self.tell(&told, (at, at), Map::new(), by_word(), |_| {
            "Stir. pH of a spoonful, cooled.".into()
        })
        .expected = vec![readings::ph(self.place.brewhouse, ph)];
    }

    fn rest(&mut self, i: usize, marks: &RestMarks) {
        let pot = self.place.parts.mash;
        let tun = self.vessel(pot);
        let times = (self.start_min(marks.rest), self.end_min(marks.rest));
        let rest_c = readings::shows_c(tun, self.solved.choice.rest_c[i]);
        let name = self.brew.rests[i].name.map(|n| n.word());
        let id = format!("rest-{}", i + 1);
        let before = if i == 0 { "dough-in".to_string() } else { format!("reach-{}", i + 1) };
        let told = Told {
            id: &id,
            vessel: &tun.key,
            operation: Operation::Rest,
            part: DayPart::Mash,
            after: &[&before],
        };
        let minutes = times.1 - times.0;
        let lid = Value::from(self.has_lid(pot));
        let sets = set(&[("temperature_c", num(rest_c, 1)), ("lid", lid)]);
        let lid = self.where_lid(pot, ", lid on");
        let seen_c = self.solved.trace.after(marks.rest, pot).temp_c;
        let end_c = readings::shows_c(tun, seen_c);
        let step = self.tell(&told, times, sets, after_minutes(minutes), |say| {
            let called = name.map_or("Rest".to_string(), |n| format!("Rest ({n})"));
            let falls = if rest_c - end_c >= SEEN_K {
                format!(" It falls to {}.", say.temp(end_c))
            } else {
                String::new()
            };
            let (time, temp) = (say.minutes(60.0 * minutes), say.temp(rest_c));
            format!("{called}: {time} at {temp}{lid}.{falls}")
        });
        step.expected = vec![readings::temperature(tun, seen_c)];
    }

    fn reach(&mut self, i: usize, marks: &RestMarks) {
        match self.solved.choice.ways.reach[i] {
            Reach::HotLiquor => self.infuse(i, marks),
            Reach::Decoction { .. } => self.decoct(i, marks),
            _ => self.fire(i, marks),
        }
        let pot = self.place.parts.mash;
        let tun = self.vessel(pot);
        let seen = self.solved.trace.after(marks.read, pot);
        let at = self.start_min(marks.read);
        let (id, after) = (format!("read-rest-{}", i + 1), format!("reach-{}", i + 1));
        let told = Told {
            id: &id,
            vessel: &tun.key,
            operation: Operation::Read,
            part: DayPart::Mash,
            after: &[&after],
        };
        let name = lower(tun);
        self.tell(&told, (at, at), Map::new(), by_word(), |_| {
            format!("Read the thermometer of the {name}.")
        })
        .expected = vec![readings::temperature(tun, seen.temp_c)];
    }

    /// How the liquid below the screen is brought through the bed.
    fn circulation(&mut self, i: usize, marks: &RestMarks) {
        let Some(before) = marks.before else { return };
        let flow = self.solved.choice.ways.recirculation_m3_s.unwrap_or(0.0);
        let tun = self.vessel(self.place.parts.mash);
        let jug_m3 = self.jug_m3();
        let last = marks.after.map_or(marks.rest, |a| a);
        let (start, end) = (self.start_min(before), self.end_min(last));
        let through_m3 = flow * 60.0 * (end - start);
        let jugs = (through_m3 / jug_m3).ceil();
        let under_m3 = self.solved.setting.pots[self.place.parts.mash].under_m3;
        let by_jug = matches!(self.place.brewhouse.recirculate, Recirculate::Jug { .. });
        let (id, after) = (format!("circulate-{}", i + 1), format!("rest-{i}"));
        let told = Told {
            id: &id,
            vessel: &tun.key,
            operation: Operation::Recirculate,
            part: DayPart::Mash,
            after: &[&after],
        };
        let sets =
            set(&[("flow_l_min", num(6e4 * flow, 2)), ("through_bed_l", num(1e3 * through_m3, 1))]);
        let temp_c = self.solved.trace.before(before, self.place.parts.mash).temp_c;
        let step = self.tell(&told, (start, end), sets, after_minutes(end - start), |say| {
            let below = say.volume(under_m3);
            if by_jug {
                format!(
                    "{jugs:.0} jugs of {} from the valve back over the mash, one every {}, \
                     until after the flame is out: {} lie below the false bottom.",
                    say.volume(jug_m3),
                    say.jug_time(jug_m3 / flow),
                    below
                )
            } else {
                format!(
                    "Prime the pump, open its outlet slowly: {} a minute, the {} jug in {}. Back \
                     over the mash for {}: {} lie below the false bottom.",
                    say.volume(60.0 * flow),
                    say.volume(jug_m3),
                    say.jug_time(jug_m3 / flow),
                    say.minutes(60.0 * (end - start)),
                    below
                )
            }
        });
        step.expected = vec![readings::jug(jug_m3, flow)];
        let hot = if by_jug { when::transfer(temp_c) } else { when::pump(temp_c) };
        step.cautions = hot.iter().map(caution).collect();
    }

    fn fire(&mut self, i: usize, marks: &RestMarks) {
        self.circulation(i, marks);
        let Some(op) = marks.reach else { return };
        let pot = self.place.parts.mash;
        let tun = self.vessel(pot);
        let setting = mash_fire(self.place, &self.solved.choice);
        let times = (self.start_min(op), self.end_min(op));
        let minutes = (times.1 - times.0).max(0.1);
        let (from, to) =
            (self.solved.trace.before(op, pot).temp_c, self.solved.trace.after(op, pot).temp_c);
        let out_c = readings::shows_c(tun, self.solved.choice.reach[i]);
        let look = self.look(pot, (from, to), times);
        let held = self.solved.trace.after(op, pot);
        let weight_kg = self.weight_kg(pot, held.mass_kg);
        let (id, after) = (format!("reach-{}", i + 1), format!("rest-{i}"));
        let told = Told {
            id: &id,
            vessel: &tun.key,
            operation: Operation::Fire,
            part: DayPart::Mash,
            after: &[&after],
        };
        let sets = set(&[
            ("power_share", num(setting, 3)),
            ("temperature_c", num(out_c, 1)),
            ("look_min", num(look.min, 1)),
            ("look_c", num(readings::shows_c(tun, look.temp_c), 1)),
            ("rise_k_min", num(look.rise_k_min, 2)),
            ("stir", Value::from(true)),
            ("lid", Value::from(false)),
        ]);
        let flames = self.lit(pot, setting);
        let cautions = self.heat_cautions(pot, minutes, weight_kg, to);
        let expected = vec![readings::temperature(tun, to)];
        let off = self.where_lid(pot, "Lid off. ");
        let on = self.where_lid(pot, ", then lid on");
        let step = self.tell(&told, times, sets, at_temperature(out_c), |say| {
            format!(
                "{off}{}: {} a minute once under way; look after {}: {}. Stir. Out at {}{on}.",
                flames[usize::from(say.us())],
                say.rise(look.rise_k_min),
                say.minutes(60.0 * look.min),
                say.temp(readings::shows_c(tun, look.temp_c)),
                say.temp(out_c)
            )
        });
        step.expected = expected;
        step.cautions = cautions;
    }

    /// When to look at a dial that a fire lit at the first of two times lifts: not before it has
    /// risen by [`SEEN_K`], since base and liquor below the grain warm first.
    fn look(&self, pot: usize, (from, to): (f64, f64), (start, end): (f64, f64)) -> Look {
        let minutes = (end - start).max(0.1);
        let samples = &self.solved.trace.samples;
        let at = |min: f64| {
            let t_s = 60.0 * (start + min);
            let next = samples.iter().find(|s| s.t_s >= t_s && s.t_s <= 60.0 * end);
            let before = samples.iter().rev().find(|s| s.t_s <= t_s && s.t_s >= 60.0 * start);
            let (t0, c0) = before.map_or((60.0 * start, from), |s| (s.t_s, s.pots[pot].temp_c));
            let (t1, c1) = next.map_or((60.0 * end, to), |s| (s.t_s, s.pots[pot].temp_c));
            c0 + (c1 - c0) * (t_s - t0) / (t1 - t0).max(1.0)
        };
        let most = (minutes - 1.0).floor().max(1.0) as u32;
        let min = (2..=most).map(f64::from).find(|&min| at(min) - from >= SEEN_K);
        let min = min.unwrap_or(0.5 * minutes).min(0.9 * minutes);
        let temp_c = at(min);
        Look { min, temp_c, rise_k_min: (to - temp_c) / (minutes - min).max(0.1) }
    }

    fn infuse(&mut self, i: usize, marks: &RestMarks) {
        let Some(op) = marks.reach else { return };
        let (tank_pot, tun_pot) = (self.place.parts.liquor, self.place.parts.mash);
        let (tank, tun) = (self.vessel(tank_pot), self.vessel(tun_pot));
        let before = self.solved.trace.before(op, tank_pot);
        let after = self.solved.trace.after(op, tank_pot);
        let m3 = before.volume_m3 - after.volume_m3;
        let times = (self.start_min(op), self.end_min(op));
        let (id, rest) = (format!("reach-{}", i + 1), format!("rest-{i}"));
        let told = Told {
            id: &id,
            vessel: &tun.key,
            operation: Operation::Infuse,
            part: DayPart::Mash,
            after: &[&rest, "heat-sparge"],
        };
        let shown_c = readings::shows_c(tank, before.temp_c);
        let sets = set(&[
            ("from", Value::from(tank.key.as_str())),
            ("volume_l", num(1e3 * m3, 2)),
            ("temperature_c", num(shown_c, 1)),
            ("flow_l_min", num(6e4 * self.solved.setting.pots[tank_pot].valve_m3_s, 2)),
            ("stir", Value::from(true)),
        ]);
        let ends = at_volume(1e3 * after.volume_m3).at(tank);
        let lid = self.where_lid(tun_pot, " Lid on.");
        let step = self.tell(&told, times, sets, ends, |say| {
            format!("{} of {} into the mash, stirring.{lid}", say.volume(m3), say.temp(shown_c))
        });
        step.expected = vec![readings::dip(tank, after.volume_m3)];
        step.cautions = when::transfer(before.temp_c).iter().map(caution).collect();
    }

    fn decoct(&mut self, i: usize, marks: &RestMarks) {
        let (Some((draw, boil)), Some(back)) = (marks.decoction, marks.reach) else { return };
        let kettle_pot = self.place.parts.kettle;
        let (tun, kettle) = (self.vessel(self.place.parts.mash), self.vessel(kettle_pot));
        let thick =
            matches!(self.solved.choice.ways.reach[i], Reach::Decoction { thick: true, .. });
        let drawn = self.solved.trace.before(boil, kettle_pot);
        let (id, after) = (format!("draw-{}", i + 1), format!("rest-{i}"));
        let told = Told {
            id: &id,
            vessel: &tun.key,
            operation: Operation::Decoct,
            part: DayPart::Mash,
            after: &[&after],
        };
        let times = (self.start_min(draw), self.end_min(draw));
        let sets = set(&[
            ("to", Value::from(kettle.key.as_str())),
            ("volume_l", num(1e3 * drawn.volume_m3, 2)),
        ]);
        let ends = at_volume(1e3 * drawn.volume_m3).at(kettle);
        self.tell(&told, times, sets, ends, |say| {
            let which = if thick { "thick" } else { "thin" };
            format!("Take {} of the {which} mash into the kettle.", say.volume(drawn.volume_m3))
        })
        .cautions = when::transfer(drawn.temp_c).iter().map(caution).collect();
        let (boil_id, from) = (format!("boil-decoction-{}", i + 1), id);
        let told = Told {
            id: &boil_id,
            vessel: &kettle.key,
            operation: Operation::Boil,
            part: DayPart::Mash,
            after: &[&from],
        };
        let times = (self.start_min(boil), self.end_min(boil));
        let minutes = times.1 - times.0;
        let at_boil_min = match self.solved.choice.ways.reach[i] {
            Reach::Decoction { boil, .. } => boil.seconds() / 60.0,
            _ => 0.0,
        };
        let sets = set(&[
            ("power_share", num(DECOCTION_SETTING, 2)),
            ("at_boil_min", num(at_boil_min, 1)),
            ("stir", Value::from(true)),
        ]);
        self.tell(&told, times, sets, after_minutes(minutes), |say| {
            let boil = say.minutes(60.0 * at_boil_min);
            format!("Bring it to the boil, stirring all the time, and boil it {boil}.")
        })
        .cautions = vec![caution(&Caution::Lighting)];
        let id = format!("reach-{}", i + 1);
        let told = Told {
            id: &id,
            vessel: &tun.key,
            operation: Operation::Decoct,
            part: DayPart::Mash,
            after: &[&boil_id],
        };
        let times = (self.start_min(back), self.end_min(back));
        let hot = self.solved.trace.after(boil, kettle_pot);
        let sets = set(&[("from", Value::from(kettle.key.as_str())), ("stir", Value::from(true))]);
        self.tell(&told, times, sets, by_word(), |_| {
            "Return it to the mash, a little at a time, stirring.".into()
        })
        .cautions = when::transfer(hot.temp_c).iter().map(caution).collect();
    }
}
