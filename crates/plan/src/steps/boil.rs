//! Steps from lighting the kettle to the clean brewhouse.

use super::{Steps, Told, after_minutes, at_temperature, at_volume, by_word, caution, num, set};
use crate::output::{DayPart, Operation};
use crate::procedure::boil_fire;
use crate::readings;
use brew::When;
use brewhouse::caution::Caution;
use brewhouse::caution::when;
use day::setting::Chiller;
use serde_json::{Map, Value};

/// A kettle whose flame has no mark is dipped again after so long, min.
const DIP_AGAIN_MIN: f64 = 10.0;

impl Steps<'_> {
    pub(crate) fn boil(&mut self) {
        self.light_kettle();
        self.pre_boil();
        self.boiling();
        self.flame_out();
        self.hops();
        self.additions();
    }

    /// The step that an addition waits for, or that is under way when it goes in.
    fn waits_for(&self, add: &When) -> &'static str {
        match add {
            When::FlameOut => "flame-out",
            When::Stand { .. } => "cool-to-stand",
            When::FirstWort | When::Mash if self.solved.built.marks.run_offs.is_empty() => {
                "light-kettle"
            }
            When::FirstWort | When::Mash => "run-off",
            When::StartOfBoil | When::BeforeEnd(_) => "boil",
            When::Pitch | When::Dry => "pitch",
        }
    }

    fn collected(&self) -> &'static str {
        let marks = &self.solved.built.marks;
        if marks.run_offs.is_empty() && marks.to_kettle.is_none() { "lift-bag" } else { "run-off" }
    }

    fn light_kettle(&mut self) {
        let op = self.solved.built.marks.bring;
        let pot = self.place.parts.kettle;
        let kettle = self.vessel(pot);
        let times = (self.start_min(op), self.end_min(op));
        let seen = self.solved.trace.after(op, pot);
        let weight_kg = self.weight_kg(pot, seen.mass_kg);
        let after = self.collected();
        let told = Told {
            id: "light-kettle",
            vessel: &kettle.key,
            operation: Operation::Heat,
            part: DayPart::Boil,
            after: &[after, "move-burner"],
        };
        let lit = self.lit(pot, 1.0);
        let sets = set(&[("power_share", num(1.0, 2)), ("lid", Value::from(false))]);
        let lid = self.where_lid(pot, "Lid off, and off for the whole boil. ");
        let cautions = self.heat_cautions(pot, times.1 - times.0, weight_kg, seen.temp_c);
        let expected = vec![readings::temperature(kettle, seen.temp_c)];
        let shown_c = readings::shows_c(kettle, seen.temp_c);
        let step = self.tell(&told, times, sets, at_temperature(shown_c), |say| {
            format!(
                "{lid}{}. It boils about {} later.",
                lit[usize::from(say.us())],
                say.minutes(60.0 * (times.1 - times.0))
            )
        });
        step.cautions = cautions;
        step.expected = expected;
    }

    fn pre_boil(&mut self) {
        let marks = self.solved.built.marks.clone();
        let pot = self.place.parts.kettle;
        let kettle = self.vessel(pot);
        let op = marks
            .to_kettle
            .or(marks.run_offs.last().copied())
            .or(marks.lift)
            .unwrap_or(marks.dough_in);
        let at = self.end_min(op);
        let seen = self.solved.trace.after(op, pot);
        let after = self.collected();
        let told = Told {
            id: "read-pre-boil",
            vessel: &kettle.key,
            operation: Operation::Read,
            part: DayPart::Boil,
            after: &[after],
        };
        let mut expected = vec![readings::dip(kettle, seen.volume_m3)];
        expected.extend(readings::gravity(self.place.brewhouse, seen.plato));
        let sample_c = readings::sample_c(self.place.brewhouse);
        self.tell(&told, (at, at), Map::new(), by_word(), |say| {
            format!(
                "Pre-boil: dip, and gravity of the stirred kettle, cooled to {}: {}.",
                say.temp(sample_c),
                say.volume(seen.volume_m3)
            )
        })
        .expected = expected;
    }

    fn boiling(&mut self) {
        let marks = self.solved.built.marks.clone();
        let pot = self.place.parts.kettle;
        let kettle = self.vessel(pot);
        let fire = boil_fire(self.place, self.brew);
        let times = (self.start_min(marks.boil), self.end_min(marks.boil));
        let seen = self.solved.trace.before(marks.boil, pot);
        let out = self.solved.trace.after(marks.boil, pot);
        let told = Told {
            id: "boil",
            vessel: &kettle.key,
            operation: Operation::Boil,
            part: DayPart::Boil,
            after: &["light-kettle", self.collected()],
        };
        let lit = self.lit(pot, fire);
        let minutes = times.1 - times.0;
        let kg_h = (seen.mass_kg - out.mass_kg) / (minutes / 60.0).max(1e-6);
        let sets = set(&[
            ("power_share", num(fire, 3)),
            ("lid", Value::from(false)),
            ("boil_off_kg_h", num(kg_h, 2)),
        ]);
        let level_m = kettle.section.height_m(seen.volume_m3);
        let wheat = self.wheat_share();
        let boil_over = when::boil_over(&when::BoilStart {
            wort_m3: seen.volume_m3,
            brim_m3: kettle.section.brim_m3(),
            head_m: kettle.section.brim_height_m() - level_m,
            boiling_c: seen.temp_c,
            wheat_share: wheat,
        });
        // what the dip loses in ten minutes of the hot wort, for a flame that has no mark
        let hot_m3 = seen.volume_m3 - out.volume_m3;
        let lost_m3 = hot_m3 * (DIP_AGAIN_MIN / minutes.max(DIP_AGAIN_MIN));
        let lost_m = level_m - kettle.section.height_m(seen.volume_m3 - lost_m3);
        let unmarked = fire < 0.95 && self.marked(pot, fire).is_none();
        let step = self.tell(&told, times, sets, after_minutes(minutes), |say| {
            let look = if unmarked {
                format!(", {} less in every {DIP_AGAIN_MIN:.0} min", say.length(lost_m))
            } else {
                String::new()
            };
            format!(
                "It boils. Stay with it; when the foam is down: {}{look}. Boil {}, {} an hour off.",
                lit[usize::from(say.us())].to_lowercase(),
                say.minutes(60.0 * minutes),
                say.volume(kg_h / 998.0)
            )
        });
        step.cautions = boil_over.iter().map(caution).collect();
        let half = self.solved.trace.before(marks.half_boil, pot);
        let at = self.start_min(marks.half_boil);
        let told = Told {
            id: "read-half-boil",
            vessel: &kettle.key,
            operation: Operation::Read,
            part: DayPart::Boil,
            after: &["boil"],
        };
        self.tell(&told, (at, at), Map::new(), by_word(), |_| "Half of the boil: dip.".into())
            .expected = vec![readings::dip(kettle, half.volume_m3)];
    }

    fn wheat_share(&self) -> f64 {
        self.brew
            .grist
            .iter()
            .zip(&self.solved.choice.shares)
            .filter(|(item, _)| item.malt.contains("wheat"))
            .map(|(_, share)| share)
            .sum()
    }

    fn hops(&mut self) {
        let marks = self.solved.built.marks.clone();
        let pot = self.place.parts.kettle;
        let kettle = self.vessel(pot);
        for k in 0..self.brew.hops.len() {
            let hop = &self.brew.hops[k];
            let kg = self.solved.choice.hops_kg[k];
            let id = format!("hop-{}", k + 1);
            let Some(op) = marks.hops[k] else {
                self.dry_hop(&id, k, kg);
                continue;
            };
            let at = self.start_min(op);
            let after = self.waits_for(&hop.add);
            let told = Told {
                id: &id,
                vessel: &kettle.key,
                operation: Operation::Hop,
                part: DayPart::Boil,
                after: &[after],
            };
            let sets = set(&[("hop_g", num(1e3 * kg, 2))]);
            let temp_c = self.solved.trace.before(op, pot).temp_c;
            let boil_c = self.solved.trace.before(marks.boil, pot).temp_c;
            let name = hop.kind.clone();
            self.tell(&told, (at, at), sets, by_word(), |say| {
                format!("{} {name}, a little at a time.", say.hops(kg))
            })
            .cautions = when::flash(temp_c, boil_c).iter().map(caution).collect();
        }
    }

    fn dry_hop(&mut self, id: &str, k: usize, kg: f64) {
        let fermenter = self.vessel(self.place.parts.fermenter);
        let at = self.end_min(self.solved.built.marks.pitch);
        let told = Told {
            id,
            vessel: &fermenter.key,
            operation: Operation::Hop,
            part: DayPart::Close,
            after: &["pitch"],
        };
        let name = self.brew.hops[k].kind.clone();
        let sets = set(&[("hop_g", num(1e3 * kg, 2))]);
        self.tell(&told, (at, at), sets, by_word(), |say| {
            format!("Later, into the finished beer: {} {name}.", say.hops(kg))
        });
    }

    fn additions(&mut self) {
        let marks = self.solved.built.marks.clone();
        let kettle = self.vessel(self.place.parts.kettle);
        let fermenter = self.vessel(self.place.parts.fermenter);
        for (k, addition) in self.brew.additions.iter().enumerate() {
            let id = format!("add-{}", k + 1);
            let (vessel, at, part) = match marks.additions[k] {
                Some(op) => (kettle, self.start_min(op), DayPart::Boil),
                None => (fermenter, self.end_min(marks.pitch), DayPart::ChillAndPitch),
            };
            let kg = addition.amount.value.kilograms();
            let told = Told {
                id: &id,
                vessel: &vessel.key,
                operation: Operation::Add,
                part,
                after: &[self.waits_for(&addition.add)],
            };
            let name = addition.what.clone();
            let sets = set(&[("addition_g", num(1e3 * kg, 1))]);
            self.tell(&told, (at, at), sets, by_word(), |say| format!("{} {name}.", say.hops(kg)));
        }
    }

    fn flame_out(&mut self) {
        let marks = self.solved.built.marks.clone();
        let pot = self.place.parts.kettle;
        let kettle = self.vessel(pot);
        let at = self.end_min(marks.boil);
        let out = self.solved.trace.after(marks.boil, pot);
        let flame = kettle.heater.as_ref().is_some_and(|h| h.kind.is_flame());
        let told = Told {
            id: "flame-out",
            vessel: &kettle.key,
            operation: Operation::Handle,
            part: DayPart::Boil,
            after: &["boil"],
        };
        let lid = Value::from(self.has_lid(pot));
        let sets = set(&[("power_share", num(0.0, 2)), ("lid", lid)]);
        let lid = self.where_lid(pot, " Lid on.");
        self.tell(&told, (at, at), sets, by_word(), |say| {
            let off = if flame { "Flame out, gas off." } else { "Heater off." };
            format!("{off} Still surface: dip, {}.{lid}", say.volume(out.volume_m3))
        })
        .expected = vec![readings::dip(kettle, out.volume_m3)];
        // clean things go in while it still boils
        let told = Told {
            id: "sanitize",
            vessel: "brewhouse",
            operation: Operation::Handle,
            part: DayPart::Boil,
            after: &["boil"],
        };
        let early = (at - 15.0).max(self.start_min(marks.boil));
        let coil = self.place.brewhouse.chiller.is_some();
        self.tell(&told, (early, early), Map::new(), by_word(), |_| {
            let chiller = if coil { "Clean chiller into the boil. " } else { "" };
            format!("{chiller}Sanitize fermenter, lid, airlock, hose, stick and jar.")
        });
    }

    pub(crate) fn chill(&mut self) {
        self.stand_and_chill();
        self.fill_fermenter();
        self.close();
    }

    fn stand_and_chill(&mut self) {
        let marks = self.solved.built.marks.clone();
        let pot = self.place.parts.kettle;
        let kettle = self.vessel(pot);
        if let (Some(cool), Some(stand)) = (marks.cool_to_stand, marks.stand) {
            let seen = self.solved.trace.after(cool, pot);
            let shown_c = readings::shows_c(kettle, seen.temp_c);
            let told = Told {
                id: "cool-to-stand",
                vessel: &kettle.key,
                operation: Operation::Stand,
                part: DayPart::ChillAndPitch,
                after: &["flame-out"],
            };
            let times = (self.start_min(cool), self.end_min(cool));
            let expected = vec![readings::temperature(kettle, seen.temp_c)];
            let coil = matches!(self.solved.setting.chiller, Chiller::Coil { .. });
            let mut sets = set(&[
                ("temperature_c", num(shown_c, 1)),
                ("stir", Value::from(coil)),
                ("lid", Value::from(!coil && self.has_lid(pot))),
            ]);
            if let (true, Some(flow)) = (coil, self.coolant_l_min()) {
                sets.insert("coolant_l_min".into(), flow);
            }
            self.tell(&told, times, sets, at_temperature(shown_c), |say| {
                let to = say.temp(shown_c);
                if coil {
                    format!("Chilling water on. Stir. At {to} water off.")
                } else {
                    format!("Leave it until it is down to {to}.")
                }
            })
            .expected = expected;
            let told = Told {
                id: "stand",
                vessel: &kettle.key,
                operation: Operation::Stand,
                part: DayPart::ChillAndPitch,
                after: &["cool-to-stand"],
            };
            let times = (self.start_min(stand), self.end_min(stand));
            let minutes = times.1 - times.0;
            let sets = set(&[("lid", Value::from(self.has_lid(pot)))]);
            let lid = self.where_lid(pot, ", lid on");
            self.tell(&told, times, sets, after_minutes(minutes), |say| {
                format!("Stand {}{lid}.", say.minutes(60.0 * minutes))
            });
        }
        let Some(op) = marks.chill else { return };
        let seen = self.solved.trace.after(op, pot);
        let shown_c = readings::shows_c(kettle, seen.temp_c);
        let before = if marks.stand.is_some() { "stand" } else { "flame-out" };
        let told = Told {
            id: "chill",
            vessel: &kettle.key,
            operation: Operation::Chill,
            part: DayPart::ChillAndPitch,
            after: &[before],
        };
        let times = (self.start_min(op), self.end_min(op));
        let water_l = self.solved.trace.end.totals[day::state::total::CHILL_KG];
        let chilled = self.place.brewhouse.chiller.is_some();
        let coil = matches!(self.solved.setting.chiller, Chiller::Coil { .. });
        let mut sets = set(&[
            ("temperature_c", num(shown_c, 1)),
            ("coolant_l", num(water_l, 0)),
            ("stir", Value::from(coil)),
            ("lid", Value::from(!coil && self.has_lid(pot))),
        ]);
        if let Some(flow) = self.coolant_l_min() {
            sets.insert("coolant_l_min".into(), flow);
        }
        let hours = (times.1 - times.0) / 60.0;
        let expected = vec![readings::temperature(kettle, seen.temp_c)];
        let step = self.tell(&told, times, sets, at_temperature(shown_c), |say| {
            if chilled {
                format!(
                    "Chilling water on; fix its drain hose, it scalds. Stir. To {}.",
                    say.temp(shown_c)
                )
            } else {
                format!("Leave it covered until it is down to {}.", say.temp(shown_c))
            }
        });
        step.expected = expected;
        step.cautions = when::slow_cooling(hours, hours).iter().map(caution).collect();
    }

    /// Flow of the chilling water, L/min, where it runs from a tap.
    fn coolant_l_min(&self) -> Option<Value> {
        let kg_s = match self.solved.setting.chiller {
            Chiller::Coil { coolant_kg_s, .. }
            | Chiller::Counterflow { coolant_kg_s, .. }
            | Chiller::Bath { coolant_kg_s, .. } => coolant_kg_s,
            Chiller::None => return None,
        };
        Some(num(6e4 * kg_s / 998.0, 2))
    }

    fn fill_fermenter(&mut self) {
        let marks = self.solved.built.marks.clone();
        let (kettle_pot, pot) = (self.place.parts.kettle, self.place.parts.fermenter);
        let (kettle, fermenter) = (self.vessel(kettle_pot), self.vessel(pot));
        let times = (self.start_min(marks.settle), self.end_min(marks.settle));
        let before = match (marks.chill, marks.stand) {
            (Some(_), _) => "chill",
            (None, Some(_)) => "stand",
            (None, None) => "flame-out",
        };
        let told = Told {
            id: "settle",
            vessel: &kettle.key,
            operation: Operation::Settle,
            part: DayPart::ChillAndPitch,
            after: &[before],
        };
        self.tell(&told, times, Map::new(), after_minutes(times.1 - times.0), |_| {
            "Stop moving the wort: let the trub settle.".into()
        });
        let op = marks.to_fermenter;
        let seen = self.solved.trace.after(op, pot);
        let left = self.solved.trace.after(op, kettle_pot);
        let told = Told {
            id: "to-fermenter",
            vessel: &fermenter.key,
            operation: Operation::Transfer,
            part: DayPart::ChillAndPitch,
            after: &["settle"],
        };
        let flow_m3_s = crate::procedure::to_fermenter_m3_s(self.place, &self.solved.setting);
        let mut sets = set(&[
            ("from", Value::from(kettle.key.as_str())),
            ("volume_l", num(1e3 * seen.volume_m3, 2)),
            ("flow_l_min", num(6e4 * flow_m3_s, 2)),
        ]);
        if let (None, Some(flow)) = (marks.chill, self.coolant_l_min()) {
            sets.insert("coolant_l_min".into(), flow);
        }
        let times = (self.start_min(op), self.end_min(op));
        let mut expected = vec![readings::dip(fermenter, seen.volume_m3)];
        expected.extend(readings::gravity(self.place.brewhouse, seen.plato));
        let water_on = marks.chill.is_none();
        let ends = at_volume(1e3 * left.volume_m3).at(self.vessel(kettle_pot));
        self.tell(&told, times, sets, ends, |say| {
            let chill = if water_on { "Chilling water on. " } else { "" };
            format!(
                "{chill}Open the kettle valve slowly; let the wort fall and splash into the \
                 fermenter: that aerates it. {} stay behind with the trub. Gravity from the jar; \
                 do not pour it back.",
                say.volume(left.volume_m3)
            )
        })
        .expected = expected;
        let told = Told {
            id: "pitch",
            vessel: &fermenter.key,
            operation: Operation::Pitch,
            part: DayPart::ChillAndPitch,
            after: &["to-fermenter"],
        };
        let times = (self.start_min(marks.pitch), self.end_min(marks.pitch));
        let yeast = self.brew.yeast.clone();
        self.tell(&told, times, Map::new(), by_word(), |say| {
            let what = yeast.as_ref().map_or("Yeast".to_string(), |y| {
                let name = y.name.clone().unwrap_or_else(|| format!("{} yeast", y.class));
                match &y.amount {
                    Some(m) => format!("{} {name}", say.hops(m.value.kilograms())),
                    None => name,
                }
            });
            format!("{what} in, at {}. Lid, airlock.", say.temp(seen.temp_c))
        })
        .expected = vec![readings::temperature(fermenter, seen.temp_c)];
    }

    /// What the grain weighs when it is taken out, with the liquid it holds, kg.
    fn wet_grain_kg(&self) -> f64 {
        let end = &self.solved.trace.end;
        match &end.mash {
            day::state::Mash::Bed(held) => {
                let liquid_kg = process::bed::total_water_kg(&held.bed, &held.y)
                    + process::bed::total_extract_kg(&held.y);
                held.solids_kg + liquid_kg
            }
            _ => end.lifted.water_kg + end.lifted.extract_kg + end.lifted.undissolved_kg,
        }
    }

    fn close(&mut self) {
        let marks = self.solved.built.marks.clone();
        let (start, end) = (self.start_min(marks.clean), self.end_min(marks.clean));
        let told = Told {
            id: "clean",
            vessel: "brewhouse",
            operation: Operation::Clean,
            part: DayPart::Close,
            after: &["pitch"],
        };
        let wet_kg = self.wet_grain_kg();
        let hours = end / 60.0;
        let long = when::long_day(hours, crate::START_CLOCK_MIN / 60.0 + hours);
        let step = self.tell(&told, (start, end), Map::new(), by_word(), |say| {
            format!(
                "Grain out when under {}: about {} wet, in two buckets. Rinse, wash and drain all \
                 pots and hoses. Weigh the gas. All dry, valves open; write the readings in.",
                say.temp(50.0),
                say.mass(wet_kg)
            )
        });
        step.cautions = vec![caution(&Caution::Caustic)];
        step.cautions.extend(long.iter().map(caution));
    }
}
