//! The plan as JSON carried out by a script that knows nothing else: begun by ties, set as the
//! steps say, ended by what they name. The day it makes is the day that was planned.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test may stop at the first surprise")]

use brew::Brew;
use brewhouse::Brewhouse;
use day::procedure::{Action, After, Edge, Operation, OperationIndex, Procedure, Start};
use day::setting::Setting;
use day::simulate::{Options, simulate};
use matter::water::density_kg_m3;
use serde_json::Value;
use std::collections::HashMap;

/// Pairs that fit, of every kind of brewhouse and of every way to reach a rest.
const PAIRS: [(&str, &str); 7] = [
    ("orchard-shed", "windfall-amber"),
    ("orchard-shed", "cellar-lamp"),
    ("three-step", "windfall-amber"),
    ("three-step", "cellar-lamp"),
    ("tiled-kitchen", "morning-slate"),
    ("window-bench", "sill-pale"),
    ("club-barn", "threshing-gold"),
];
/// Settings of a step are rounded to what a brewer reads: volume and strength may move by so much.
const RELATIVE: f64 = 3e-3;
/// And a step may begin so much earlier or later, min.
const OFF_MIN: f64 = 1.5;

fn demo(name: &str) -> String {
    let path = format!("{}/../../demo/{name}.toml", env!("CARGO_MANIFEST_DIR"));
    std::fs::read_to_string(path).unwrap()
}

/// Operations a step became: the first begins with it, the last ends with it.
#[derive(Clone, Copy)]
struct Became {
    first: OperationIndex,
    last: OperationIndex,
}

/// What carries a plan out.
struct Script<'a> {
    house: &'a Brewhouse,
    beer: &'a Brew,
    setting: Setting,
    steps: &'a [Value],
    procedure: Procedure,
    became: HashMap<String, Became>,
    /// The temperature the tank is held at, and since which operation, until it is put out.
    held: Option<(f64, Start)>,
}

impl Script<'_> {
    fn pot(&self, key: &Value) -> usize {
        let key = key.as_str().unwrap();
        self.house.vessels.iter().position(|vessel| vessel.key == key).unwrap()
    }

    /// The truth behind what the thermometer of a pot shows.
    fn truth_c(&self, pot: usize, shown: &Value) -> f64 {
        let dial = self.house.vessels[pot].thermometer.as_ref();
        shown.as_f64().unwrap() - dial.map_or(0.0, |t| brewhouse::bias_k(t.bias.as_ref()))
    }

    fn flow_m3_s(set: &Value) -> f64 {
        set["flow_l_min"].as_f64().unwrap() / 6e4
    }

    /// Liquor of the volume and temperature that a step sets, as the pot it comes from shows it, kg.
    fn liquor_kg(&self, set: &Value, from: usize) -> f64 {
        let temp_c = self.truth_c(from, &set["temperature_c"]);
        1e-3 * set["volume_l"].as_f64().unwrap() * density_kg_m3(temp_c)
    }

    fn starts(&self, step: &Value) -> Start {
        let delay_s = 60.0 * step["wait_min"].as_f64().unwrap();
        let mut start = Start::at(0.0);
        for id in step["after"].as_array().unwrap() {
            let operation = self.became[id.as_str().unwrap()].last;
            start.after.push(After { operation, from: Edge::End, delay_s });
        }
        for during in step["during"].as_array().unwrap() {
            let operation = self.became[during["id"].as_str().unwrap()].first;
            let delay_s = delay_s + 60.0 * during["min"].as_f64().unwrap();
            start.after.push(After { operation, from: Edge::Start, delay_s });
        }
        start
    }

    fn add(&mut self, id: &str, starts: Start, action: Action) -> OperationIndex {
        self.procedure.add(Operation { id: id.into(), starts, action })
    }

    /// The recirculation that is under way when a fire is lit: its step.
    fn circulation(&self, fire: &Value) -> Option<&Value> {
        let at = fire["starts_min"].as_f64().unwrap();
        self.steps.iter().find(|step| {
            step["operation"] == "recirculate"
                && step["starts_min"].as_f64().unwrap() <= at
                && step["ends_min"].as_f64().unwrap() > at
        })
    }

    fn step(&mut self, step: &Value) {
        let id = step["id"].as_str().unwrap();
        let starts = self.starts(step);
        let (set, ends) = (&step["set"], &step["ends_when"]);
        let (starts_min, ends_min) =
            (step["starts_min"].as_f64().unwrap(), step["ends_min"].as_f64().unwrap());
        // what ends by time ends by the time it names; what ends by word takes as long as expected
        let for_s = if ends["kind"] == "time" {
            assert_eq!(ends["unit"], "min", "{id}");
            60.0 * ends["value"].as_f64().unwrap()
        } else {
            60.0 * (ends_min - starts_min)
        };
        let parts = self.setting.parts;
        let action = match step["operation"].as_str().unwrap() {
            "fill" => Action::Fill {
                pot: self.pot(&step["vessel"]),
                mass_kg: 1e-3
                    * set["volume_l"].as_f64().unwrap()
                    * density_kg_m3(set["temperature_c"].as_f64().unwrap()),
                flow_kg_s: 8.0 / 60.0,
            },
            "heat" if set.get("temperature_c").is_none() => {
                Action::BringToBoil { setting: set["power_share"].as_f64().unwrap() }
            }
            "heat" => Action::Heat {
                pot: self.pot(&step["vessel"]),
                setting: set["power_share"].as_f64().unwrap(),
                to_c: self.truth_c(self.pot(&step["vessel"]), &set["temperature_c"]),
                lid: set["lid"].as_bool().unwrap(),
            },
            "hold" => {
                let at_c = self.truth_c(self.pot(&step["vessel"]), &set["temperature_c"]);
                self.held = Some((at_c, starts.clone()));
                Action::Wait { for_s: 0.0 }
            }
            "transfer" if self.pot(&step["vessel"]) == parts.fermenter => Action::ToFermenter {
                flow_m3_s: Self::flow_m3_s(set),
                chill: set.get("coolant_l_min").is_some(),
            },
            "transfer" => match (set.get("from"), set.get("to")) {
                (Some(from), None) => Action::Pour {
                    from: self.pot(from),
                    to: self.pot(&step["vessel"]),
                    mass_kg: self.liquor_kg(set, self.pot(from)),
                    flow_m3_s: Self::flow_m3_s(set),
                },
                (None, Some(to)) => Action::Pour {
                    from: self.pot(&step["vessel"]),
                    to: self.pot(to),
                    mass_kg: 1e6,
                    flow_m3_s: Self::flow_m3_s(set),
                },
                other => panic!("{id}: {other:?}"),
            },
            "dough_in" => Action::DoughIn { grist_kg: set["malt_kg"].as_f64().unwrap(), for_s },
            "rest" => Action::Rest { for_s },
            "recirculate" if id.starts_with("circulate-") => return self.around_fire(step, starts),
            "recirculate" => Action::Circulate { flow_m3_s: Self::flow_m3_s(set), for_s },
            "fire" => Action::FireMash {
                setting: set["power_share"].as_f64().unwrap(),
                to_c: self.truth_c(parts.mash, &set["temperature_c"]),
                flow_m3_s: self.circulation(step).map_or(0.0, |c| Self::flow_m3_s(&c["set"])),
            },
            "infuse" => Action::Infuse {
                mass_kg: self.liquor_kg(set, self.pot(&set["from"])),
                flow_m3_s: Self::flow_m3_s(set),
            },
            "run_off" => {
                assert_eq!(ends["vessel"], set["to"], "{id}");
                let until_m3 = 1e-3 * ends["value"].as_f64().unwrap();
                Action::RunOff { flow_m3_s: Self::flow_m3_s(set), until_m3 }
            }
            "sparge" => Action::Sparge {
                mass_kg: self.liquor_kg(set, self.pot(&set["from"])),
                flow_m3_s: Self::flow_m3_s(set),
            },
            "drain" => {
                Action::Refill { mass_kg: self.liquor_kg(set, self.pot(&set["from"])), for_s }
            }
            "lift_bag" => Action::LiftBag { for_s },
            "boil" => Action::Boil { setting: set["power_share"].as_f64().unwrap(), for_s },
            "hop" if self.pot(&step["vessel"]) == parts.kettle => {
                let addition = id["hop-".len()..].parse::<usize>().unwrap() - 1;
                self.setting.hops[addition].mass_kg = 1e-3 * set["hop_g"].as_f64().unwrap();
                Action::Hop { addition }
            }
            "stand" | "chill" => {
                let chill = set.get("coolant_l_min").is_some();
                let to_c = set.get("temperature_c");
                let to_c = to_c.map_or(-300.0, |shown| self.truth_c(parts.kettle, shown));
                if chill && step["operation"] == "chill" {
                    Action::Chill { to_c }
                } else {
                    let for_s = if ends["kind"] == "time" { for_s } else { 36e3 };
                    let lid = set["lid"].as_bool().unwrap();
                    Action::Stand { for_s, to_c, lid, chill }
                }
            }
            "handle" if set.get("power_share").is_some() && self.held.is_some() => {
                return self.put_out(step, starts);
            }
            "add" => {
                let what = &self.beer.additions[id["add-".len()..].parse::<usize>().unwrap() - 1];
                let kg = 1e-3 * set["addition_g"].as_f64().unwrap();
                // whoever carries it out knows what a sugar is
                match matter::sugar::sugar_class(&what.what) {
                    Some(class) => Action::Sugar {
                        extract_kg: kg * class.extract_kg_kg,
                        water_kg: kg * (1.0 - class.extract_kg_kg),
                        fermentable: class.fermentable,
                        colour_ebc_m3: 0.0,
                    },
                    None => Action::Wait { for_s: 0.0 },
                }
            }
            "set_up" | "mill" | "treat" | "read" | "handle" | "settle" | "pitch" | "clean"
            | "hop" => Action::Wait { for_s },
            other => panic!("{id}: no script knows how to {other}"),
        };
        let only = self.add(id, starts, action);
        if let Some(circulation) = self.circulation(step).filter(|_| step["operation"] == "fire") {
            // goes on when the flame is out
            let flow_m3_s = Self::flow_m3_s(&circulation["set"]);
            let for_s = 60.0 * (circulation["ends_min"].as_f64().unwrap() - ends_min);
            let circulation = circulation["id"].as_str().unwrap().to_owned();
            let action = Action::Circulate { flow_m3_s, for_s };
            let after = self.add("circulate-after", Start::after(only), action);
            self.became.get_mut(&circulation).unwrap().last = after;
        }
        self.became.insert(id.into(), Became { first: only, last: only });
    }

    /// A recirculation before and after a fire, whose own flow it is meanwhile.
    fn around_fire(&mut self, step: &Value, starts: Start) {
        let id = step["id"].as_str().unwrap();
        let time = |step: &Value, key: &str| step[key].as_f64().unwrap();
        let fire = self.steps.iter().find(|other| {
            other["operation"] == "fire" && time(other, "starts_min") >= time(step, "starts_min")
        });
        let for_s = 60.0 * (time(fire.unwrap(), "starts_min") - time(step, "starts_min"));
        let flow_m3_s = Self::flow_m3_s(&step["set"]);
        let before = self.add(id, starts, Action::Circulate { flow_m3_s, for_s });
        self.became.insert(id.into(), Became { first: before, last: before });
    }

    /// The heater of a tank that was held goes out.
    fn put_out(&mut self, step: &Value, starts: Start) {
        let id = step["id"].as_str().unwrap();
        let (at_c, since) = self.held.take().unwrap();
        let off = self.add(id, starts, Action::Wait { for_s: 0.0 });
        self.became.insert(id.into(), Became { first: off, last: off });
        let pot = self.pot(&step["vessel"]);
        self.add("keep", since, Action::Keep { pot, at_c, until: off });
    }
}

#[test]
fn a_script_carries_the_plan_out() {
    for (pots, wanted) in PAIRS {
        let house = brewhouse::read(pots, &demo(pots)).unwrap();
        let beer = brew::read(wanted, &demo(wanted)).unwrap();
        let plan = serde_json::to_value(plan::solve(&house, &beer).unwrap()).unwrap();
        assert_eq!(plan["fits"], true, "{pots} {wanted}");
        let steps = plan["steps"].as_array().unwrap();
        let (setting, planned) = plan::day_of(&house, &beer).unwrap();
        let mut script = Script {
            house: &house,
            beer: &beer,
            setting: setting.clone(),
            steps,
            procedure: Procedure::default(),
            became: HashMap::new(),
            held: None,
        };
        for step in steps {
            script.step(step);
        }
        let day = simulate(&script.setting, &script.procedure, &Options::default()).unwrap();
        let expected = simulate(&setting, &planned, &Options::default()).unwrap();
        for step in steps {
            let id = step["id"].as_str().unwrap();
            let began_min = day.operations[script.became[id].first].start_s / 60.0;
            let off_min = began_min - step["starts_min"].as_f64().unwrap();
            assert!(off_min.abs() < OFF_MIN, "{pots} {wanted} {id}: {off_min} min off");
        }
        let (got, meant) =
            (&day.end.pots[setting.parts.fermenter], &expected.end.pots[setting.parts.fermenter]);
        for (what, got, meant) in
            [("water", got.water_kg, meant.water_kg), ("extract", got.extract_kg, meant.extract_kg)]
        {
            let off = got / meant - 1.0;
            assert!(off.abs() < RELATIVE, "{pots} {wanted}: {what} {got} kg for {meant} kg");
        }
        let bitter = |end: &day::state::State| {
            end.hops.iter().map(|hop| hop[process::isomerise::ISO]).sum::<f64>()
        };
        let off = bitter(&day.end) / bitter(&expected.end) - 1.0;
        assert!(off.abs() < RELATIVE, "{pots} {wanted}: bitterness off by {off}");
    }
}
