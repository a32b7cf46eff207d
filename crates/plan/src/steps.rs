//! The steps of the day in words and numbers, from a solved day: what to do, when, what ends it,
//! what to expect. It solves nothing and judges nothing.

mod boil;
mod mash;
mod run_off;

use crate::output::{CautionText, DayPart, During, EndKind, EndsWhen, Operation, Step};
use crate::readings::round;
use crate::say::{Say, lower};
use crate::setting::Place;
use crate::solve::Solved;
use brew::Brew;
use brewhouse::caution::Caution;
use brewhouse::vessel::Vessel;
use brewhouse::{HeaterKind, Recirculate};
use day::procedure::OperationIndex;
use quantity::UnitSystem;
use serde_json::{Map, Value};

/// Makes the steps of a solved day.
pub(crate) struct Steps<'a> {
    pub(crate) place: &'a Place<'a>,
    pub(crate) brew: &'a Brew,
    pub(crate) solved: &'a Solved,
    pub(crate) steps: Vec<Step>,
}

/// What a step says beside its times.
pub(crate) struct Told<'a> {
    pub(crate) id: &'a str,
    pub(crate) vessel: &'a str,
    pub(crate) operation: Operation,
    pub(crate) part: DayPart,
    pub(crate) after: &'a [&'a str],
}

/// All steps of a solved day, in order of time.
pub(crate) fn steps(place: &Place<'_>, brew: &Brew, solved: &Solved) -> Vec<Step> {
    let mut told = Steps { place, brew, solved, steps: Vec::new() };
    told.before_heating();
    told.mash();
    told.run_off();
    told.boil();
    told.chill();
    let mut steps = told.steps;
    steps.sort_by(|a, b| a.starts_min.total_cmp(&b.starts_min));
    tie(&mut steps);
    steps
}

/// Two times that differ by less are one, min: both are rounded.
const SAME_MIN: f64 = 0.02;

/// Ties the steps, which stand in order of time, so that the ties alone give every start: of the
/// steps that each one was said to come after, those that are over by then and those under way; and
/// where these would let it begin too early, a step under way and the minutes into it.
fn tie(steps: &mut [Step]) {
    let times: Vec<Times> = steps.iter().map(Times::of).collect();
    for (i, step) in steps.iter_mut().enumerate() {
        let earlier = &times[..i];
        for id in std::mem::take(&mut step.after) {
            match earlier.iter().find(|other| other.id == id) {
                Some(other) if other.ends_min <= step.starts_min + SAME_MIN => step.after.push(id),
                Some(other) => step.during.push(other.minutes_in(step.starts_min)),
                None => {}
            }
        }
        let tied_min = earlier
            .iter()
            .filter_map(|other| {
                let within = step.during.iter().find(|during| during.id == other.id);
                let over = step.after.contains(&other.id).then_some(other.ends_min);
                within.map(|during| other.starts_min + during.min).or(over)
            })
            .fold(0.0, f64::max)
            + step.wait_min;
        if step.starts_min > tied_min + SAME_MIN {
            // the one begun last in the same vessel, else the one begun last anywhere
            let under_way = earlier
                .iter()
                .filter(|other| other.ends_min > step.starts_min + SAME_MIN)
                .max_by_key(|other| other.vessel == step.vessel);
            match under_way {
                Some(other) => step.during.push(other.minutes_in(step.starts_min)),
                None => step.wait_min = round(step.wait_min + step.starts_min - tied_min, 2),
            }
        }
    }
}

/// Place and time of a step.
struct Times {
    id: String,
    vessel: String,
    starts_min: f64,
    ends_min: f64,
}

impl Times {
    fn of(step: &Step) -> Times {
        let (id, vessel) = (step.id.clone(), step.vessel.clone());
        Times { id, vessel, starts_min: step.starts_min, ends_min: step.ends_min }
    }

    fn minutes_in(&self, at_min: f64) -> During {
        During { id: self.id.clone(), min: round((at_min - self.starts_min).max(0.0), 2) }
    }
}

impl EndsWhen {
    /// The end is seen at another vessel than the one the step is done at.
    pub(crate) fn at(mut self, vessel: &Vessel) -> EndsWhen {
        self.vessel = Some(vessel.key.clone());
        self
    }
}

pub(crate) fn by_word() -> EndsWhen {
    EndsWhen { vessel: None, kind: EndKind::Word, value: None, unit: None }
}

pub(crate) fn after_minutes(min: f64) -> EndsWhen {
    EndsWhen {
        vessel: None,
        kind: EndKind::Time,
        value: Some(round(min, 1)),
        unit: Some("min".into()),
    }
}

pub(crate) fn at_temperature(c: f64) -> EndsWhen {
    EndsWhen {
        vessel: None,
        kind: EndKind::Temperature,
        value: Some(round(c, 2)),
        unit: Some("°C".into()),
    }
}

pub(crate) fn at_volume(l: f64) -> EndsWhen {
    EndsWhen {
        vessel: None,
        kind: EndKind::Volume,
        value: Some(round(l, 2)),
        unit: Some("L".into()),
    }
}

/// Settings of a step: keys with their unit.
pub(crate) fn set(pairs: &[(&str, Value)]) -> Map<String, Value> {
    pairs.iter().map(|(key, value)| ((*key).to_string(), value.clone())).collect()
}

/// A number of a setting.
pub(crate) fn num(value: f64, decimals: i32) -> Value {
    Value::from(round(value, decimals))
}

impl<'a> Steps<'a> {
    pub(crate) fn vessel(&self, pot: usize) -> &'a Vessel {
        self.place.vessels[pot]
    }

    pub(crate) fn start_min(&self, op: OperationIndex) -> f64 {
        self.solved.trace.of(op).start_s / 60.0
    }

    pub(crate) fn end_min(&self, op: OperationIndex) -> f64 {
        self.solved.trace.of(op).end_s / 60.0
    }

    /// Adds a step; its sentence is written once for each system of units.
    pub(crate) fn tell(
        &mut self,
        told: &Told<'_>,
        times_min: (f64, f64),
        set: Map<String, Value>,
        mut ends_when: EndsWhen,
        words: impl Fn(Say) -> String,
    ) -> &mut Step {
        if matches!(ends_when.kind, EndKind::Temperature | EndKind::Volume | EndKind::Gravity) {
            ends_when.vessel.get_or_insert_with(|| told.vessel.to_owned());
        }
        self.steps.push(Step {
            id: told.id.into(),
            vessel: told.vessel.into(),
            operation: told.operation,
            part: told.part,
            starts_min: round(times_min.0, 2),
            after: told.after.iter().map(|s| (*s).to_string()).collect(),
            during: Vec::new(),
            wait_min: 0.0,
            set,
            ends_when,
            ends_min: round(times_min.1, 2),
            expected: Vec::new(),
            cautions: Vec::new(),
            words: words(Say(UnitSystem::Metric)),
            words_us: words(Say(UnitSystem::Us)),
        });
        let last = self.steps.len() - 1;
        &mut self.steps[last]
    }

    /// Whether a pot has a lid.
    pub(crate) fn has_lid(&self, pot: usize) -> bool {
        self.vessel(pot).lid.is_some()
    }

    /// Words of a lid, where the pot has one.
    pub(crate) fn where_lid<'w>(&self, pot: usize, words: &'w str) -> &'w str {
        if self.has_lid(pot) { words } else { "" }
    }

    /// How a heater is named in a sentence, with what to look at.
    fn light(&self, pot: usize, setting: f64, say: Say) -> String {
        let vessel = self.vessel(pot);
        let Some(heater) = &vessel.heater else { return "Heat".into() };
        match heater.kind {
            HeaterKind::Element => {
                let height = heater.height.as_ref().map(|h| say.length(h.value.metres()));
                let bare = height.map_or(String::new(), |h| {
                    format!(": it stands {h} up and must never be bare")
                });
                format!("Element on{bare}")
            }
            HeaterKind::Induction | HeaterKind::HotPlate => match self.marked(pot, setting) {
                Some(mark) => format!("Plate to {mark}"),
                None => "Plate on, full".into(),
            },
            HeaterKind::Burner | HeaterKind::Hob => match self.marked(pot, setting) {
                Some(mark) => format!("Flame to the {mark}"),
                None if setting > 0.95 => "Flame full".into(),
                None => "Flame down to a steady roll".into(),
            },
        }
    }

    /// How a heater is named, metric and US.
    pub(crate) fn lit(&self, pot: usize, setting: f64) -> [String; 2] {
        [UnitSystem::Metric, UnitSystem::Us].map(|units| self.light(pot, setting, Say(units)))
    }

    /// Name of the person's own mark for a setting of a pot's heater.
    pub(crate) fn marked(&self, pot: usize, setting: f64) -> Option<String> {
        let heater = self.vessel(pot).heater.as_ref()?;
        let mark = heater.marks.iter().find(|m| (m.share.value.fraction() - setting).abs() < 0.02);
        mark.map(|mark| mark.name.clone())
    }

    /// How a heater is named when it goes out.
    pub(crate) fn put_out(&self, pot: usize) -> &'static str {
        match self.vessel(pot).heater.as_ref().map(|heater| heater.kind) {
            Some(kind) if kind.is_flame() => "flame out",
            Some(HeaterKind::Element) => "element off",
            _ => "plate off",
        }
    }

    /// The jug streams are timed with.
    pub(crate) fn jug_m3(&self) -> f64 {
        let b = self.place.brewhouse;
        match (&b.instruments.jug, &b.recirculate) {
            (Some(jug), _) => jug.value.cubic_metres(),
            (None, Recirculate::Jug { volume }) => volume.cubic_metres(),
            _ => 2e-3,
        }
    }

    /// Mass of a pot with its contents, kg.
    pub(crate) fn weight_kg(&self, pot: usize, held_kg: f64) -> f64 {
        let p = &self.solved.setting.pots[pot];
        // steel: 500 J/(kg K)
        held_kg + (p.wall_j_k + p.base_j_k) / 500.0
    }

    fn before_heating(&mut self) {
        let marks = self.solved.built.marks.clone();
        let tank_pot = self.place.parts.liquor;
        let tank = self.vessel(tank_pot);
        let (start, end) = (self.start_min(marks.set_up), self.end_min(marks.set_up));
        let set_up = Told {
            id: "set-up",
            vessel: "brewhouse",
            operation: Operation::SetUp,
            part: DayPart::BeforeHeating,
            after: &[],
        };
        let cautions = self.day_cautions();
        self.tell(&set_up, (start, end), Map::new(), by_word(), |_| {
            "Set up: pots level, hoses clamped, all valves shut. Read grain, liquor and air.".into()
        })
        .cautions = cautions;
        self.weigh(start, end);
        let fill = Told {
            id: "fill",
            vessel: &tank.key,
            operation: Operation::Fill,
            part: DayPart::BeforeHeating,
            after: &["set-up"],
        };
        let filled = self.solved.trace.after(marks.fill, tank_pot);
        let times = (self.start_min(marks.fill), self.end_min(marks.fill));
        let sets = set(&[
            ("volume_l", num(1e3 * filled.volume_m3, 2)),
            ("temperature_c", num(self.solved.setting.source_c, 1)),
        ]);
        let reserve_m3 = self.solved.choice.reserve_kg / 970.0;
        self.tell(&fill, times, sets, at_volume(1e3 * filled.volume_m3), |say| {
            let kept = if reserve_m3 > 0.0 {
                format!(", {} of it in reserve", say.volume(reserve_m3))
            } else {
                String::new()
            };
            format!("Fill cold: {}{kept}.", say.volume(filled.volume_m3))
        })
        .expected = vec![crate::readings::dip(tank, filled.volume_m3)];
        self.treat(&tank.key, times.1);
        self.heat_strike(tank);
    }

    fn weigh(&mut self, start: f64, end: f64) {
        let choice = &self.solved.choice;
        let malts: Vec<(String, f64)> = self
            .brew
            .grist
            .iter()
            .zip(&choice.shares)
            .map(|(item, share)| {
                let name = item.name.clone().unwrap_or_else(|| item.malt.clone());
                (name, share * choice.grist_kg)
            })
            .collect();
        let told = Told {
            id: "mill",
            vessel: "brewhouse",
            operation: Operation::Mill,
            part: DayPart::BeforeHeating,
            after: &[],
        };
        let sets = set(&[("malt_kg", num(choice.grist_kg, 3))]);
        self.tell(&told, (start, end), sets, by_word(), |say| {
            let list: Vec<String> =
                malts.iter().map(|(name, kg)| format!("{} {}", say.mass(*kg), name)).collect();
            format!("Weigh and mill: {}.", list.join(", "))
        })
        .cautions = vec![caution(&Caution::Mill)];
    }

    fn treat(&mut self, vessel: &str, at_min: f64) {
        let doses = self.solved.liquor.doses.clone();
        if doses.is_empty() {
            return;
        }
        let told = Told {
            id: "treat",
            vessel,
            operation: Operation::Treat,
            part: DayPart::BeforeHeating,
            after: &["fill"],
        };
        let mut sets = Map::new();
        for dose in &doses {
            let key = if dose.is_acid { "acid_ml" } else { "salt_g" };
            let sum = sets.get(key).and_then(Value::as_f64).unwrap_or(0.0) + dose.amount;
            sets.insert(key.into(), num(sum, 2));
        }
        let acid = doses.iter().any(|d| d.is_acid);
        let step = self.tell(&told, (at_min, at_min), sets, by_word(), |say| {
            let list: Vec<String> = doses
                .iter()
                .map(|d| {
                    let into = match d.to {
                        brew::LiquorUse::All => "",
                        brew::LiquorUse::Strike => " for the strike",
                        brew::LiquorUse::Sparge => " for the sparge",
                    };
                    let amount = match d.unit {
                        "g" => say.hops(1e-3 * d.amount),
                        _ => format!("{:.1} mL", d.amount),
                    };
                    format!("{amount} {}{into}", d.what)
                })
                .collect();
            format!("Into the liquor: {}.", list.join(", "))
        });
        if acid {
            step.cautions.push(caution(&Caution::Acid));
        }
    }

    fn heat_strike(&mut self, tank: &Vessel) {
        let marks = &self.solved.built.marks;
        let pot = self.place.parts.liquor;
        let strike_c = crate::readings::shows_c(tank, self.solved.choice.strike_c);
        let times = (self.start_min(marks.heat_strike), self.end_min(marks.heat_strike));
        let held = self.solved.trace.after(marks.heat_strike, pot);
        let weight_kg = self.weight_kg(pot, held.mass_kg);
        let told = Told {
            id: "heat-strike",
            vessel: &tank.key,
            operation: Operation::Heat,
            part: DayPart::BeforeHeating,
            after: &["fill"],
        };
        let sets = set(&[
            ("power_share", num(1.0, 2)),
            ("temperature_c", num(strike_c, 1)),
            ("lid", Value::from(self.has_lid(pot))),
        ]);
        let minutes = times.1 - times.0;
        let name = lower(tank);
        let (lit, out) = (self.lit(pot, 1.0), self.put_out(pot));
        let lid = self.where_lid(pot, &format!("Lid on the {name}. ")).to_owned();
        let cautions = self.heat_cautions(pot, minutes, weight_kg, held.temp_c);
        let expected = vec![crate::readings::temperature(tank, held.temp_c)];
        let step = self.tell(&told, times, sets, at_temperature(strike_c), |say| {
            let (lit, temp) = (&lit[usize::from(say.us())], say.temp(strike_c));
            let time = say.minutes(60.0 * minutes);
            format!("{lid}{lit}. It takes about {time} to {temp}, then {out}.")
        });
        step.expected = expected;
        step.cautions = cautions;
    }

    /// Cautions of the whole day.
    fn day_cautions(&self) -> Vec<CautionText> {
        let b = self.place.brewhouse;
        let mut all = Vec::new();
        let flames = b.vessels.iter().filter_map(|v| v.heater.as_ref()).any(|h| h.kind.is_flame());
        let burner = b
            .vessels
            .iter()
            .filter_map(|v| v.heater.as_ref())
            .any(|h| h.kind == HeaterKind::Burner);
        let mains = b.vessels.iter().filter_map(|v| v.heater.as_ref()).any(|h| !h.kind.is_flame())
            || b.pump.is_some();
        if flames {
            all.push(caution(&Caution::FumeSigns));
            all.push(caution(&Caution::Clothes));
        }
        if burner {
            all.push(caution(&Caution::HookUp));
        }
        if mains {
            all.push(caution(&Caution::Leads));
        }
        all.push(caution(&Caution::WetFloor));
        all
    }

    /// Cautions of heating a pot.
    pub(crate) fn heat_cautions(
        &self,
        pot: usize,
        minutes: f64,
        weight_kg: f64,
        temp_c: f64,
    ) -> Vec<CautionText> {
        use brewhouse::caution::when;
        let vessel = self.vessel(pot);
        let b = self.place.brewhouse;
        let mut all = Vec::new();
        all.extend(when::carry(weight_kg, temp_c));
        if vessel.stand.value.metres() > 0.05 && weight_kg > 15.0 {
            all.extend(when::stand(weight_kg, vessel.stand_bears.map(|m| m.kilograms())));
        }
        if let Some(heater) = &vessel.heater {
            all.extend(when::flame(heater, b.place, minutes));
            if heater.kind.is_flame() {
                all.push(Caution::Lighting);
            }
            if heater.kind == HeaterKind::Element {
                all.push(Caution::Element);
            }
        }
        all.iter().map(caution).collect()
    }
}

/// A caution in both systems of units.
pub(crate) fn caution(c: &Caution) -> CautionText {
    CautionText {
        id: c.id().into(),
        strength: c.strength().word().into(),
        words: c.text(UnitSystem::Metric),
        words_us: c.text(UnitSystem::Us),
    }
}
