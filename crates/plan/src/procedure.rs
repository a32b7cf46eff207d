//! The day as a procedure: every operation of this brew on this brewhouse, tied to each other, from
//! the numbers of a choice. It decides nothing and solves nothing.

use crate::choice::{Choice, GRAIN_AS_WATER};
use crate::setting::Place;
use brew::{Brew, Reach, SpargeHow, When};
use brewhouse::vessel::Vessel;
use day::procedure::{Action, After, Edge, Operation, OperationIndex, Procedure, Start};
use day::setting::{Chiller, Heater, Setting};

/// Set-up before anything is heated, s (common practice).
pub(crate) const SET_UP_S: f64 = 40.0 * 60.0;
/// Cleaning and packing up, s (common practice).
const CLEAN_S: f64 = 75.0 * 60.0;
/// Cold liquor from a hose, kg/s.
const FILL_KG_S: f64 = 8.0 / 60.0;
/// Stirring the grist in, s.
const DOUGH_S: f64 = 4.0 * 60.0;
/// From dough-in to the reading of its temperature, s.
const DOUGH_READ_S: f64 = 2.0 * 60.0;
/// Circulation before and after a fired step, s.
const AROUND_FIRE_S: f64 = 3.0 * 60.0;
/// Flow of the recirculation before run-off, m³/s: 0.8 L/min (common practice).
pub(crate) const VORLAUF_M3_S: f64 = 0.8e-3 / 60.0;
/// A burner is moved when it and its hose are cold, s after the flame is out (common practice).
pub(crate) const MOVE_BURNER_S: f64 = 25.0 * 60.0;
/// Trub settles, s (common practice).
const SETTLE_S: f64 = 8.0 * 60.0;
/// Fastest filling of the fermenter, m³/s.
const TO_FERMENTER_M3_S: f64 = 4e-3 / 60.0;
/// A mash is heated by no more than this below a resting bed, W/m² (caution, from memory).
pub(crate) const SCORCH_W_M2: f64 = 25e3;
/// Setting of the kettle's heater under a decoction, which scorches (our choice).
pub(crate) const DECOCTION_SETTING: f64 = 0.6;
/// Warming of a tank that cold liquor brought down begins so long before the last rest ends, s
/// (our choice).
const WARM_S: f64 = 5.0 * 60.0;
/// Drips of a lifted bag, s.
const DRIP_S: f64 = 10.0 * 60.0;
/// Longest wait for a kettle that cools by itself, s.
const OVERNIGHT_S: f64 = 10.0 * 3600.0;
/// Least gap between coolant and pitch, K: below it chilling takes for ever.
pub(crate) const CHILL_GAP_K: f64 = 2.0;

/// Where the operations of a day stand in its procedure.
#[derive(Debug, Clone, Default)]
pub(crate) struct Marks {
    pub(crate) set_up: OperationIndex,
    pub(crate) fill: OperationIndex,
    pub(crate) heat_strike: OperationIndex,
    pub(crate) strike: Option<OperationIndex>,
    pub(crate) dough_in: OperationIndex,
    pub(crate) read_dough: OperationIndex,
    pub(crate) rests: Vec<RestMarks>,
    pub(crate) refill_tank: Option<OperationIndex>,
    /// Cold liquor into a tank that is too hot for the sparge, and its warming after that.
    pub(crate) cool_tank: Option<(OperationIndex, OperationIndex)>,
    pub(crate) heat_sparge: Option<OperationIndex>,
    pub(crate) recirculate: Option<OperationIndex>,
    pub(crate) run_offs: Vec<OperationIndex>,
    pub(crate) refills: Vec<OperationIndex>,
    pub(crate) sparge: Option<OperationIndex>,
    pub(crate) tank_off: Option<OperationIndex>,
    pub(crate) first_runnings: Option<OperationIndex>,
    pub(crate) lift: Option<OperationIndex>,
    pub(crate) to_kettle: Option<OperationIndex>,
    pub(crate) bring: OperationIndex,
    pub(crate) boil: OperationIndex,
    pub(crate) half_boil: OperationIndex,
    /// In the order of the brew; none for those that go into the fermenter.
    pub(crate) hops: Vec<Option<OperationIndex>>,
    pub(crate) additions: Vec<Option<OperationIndex>>,
    pub(crate) cool_to_stand: Option<OperationIndex>,
    pub(crate) stand: Option<OperationIndex>,
    pub(crate) chill: Option<OperationIndex>,
    pub(crate) settle: OperationIndex,
    pub(crate) to_fermenter: OperationIndex,
    pub(crate) pitch: OperationIndex,
    pub(crate) clean: OperationIndex,
}

/// One rest's operations.
#[derive(Debug, Clone, Default)]
pub(crate) struct RestMarks {
    /// Circulation before the flame.
    pub(crate) before: Option<OperationIndex>,
    /// Fire, infusion, or return of the decoction.
    pub(crate) reach: Option<OperationIndex>,
    /// Draw and boil of a decoction.
    pub(crate) decoction: Option<(OperationIndex, OperationIndex)>,
    /// Circulation after the flame.
    pub(crate) after: Option<OperationIndex>,
    /// The rest itself.
    pub(crate) rest: OperationIndex,
    /// Reading once it has settled.
    pub(crate) read: OperationIndex,
}

/// A procedure and where its operations stand.
pub(crate) struct Built {
    pub(crate) procedure: Procedure,
    pub(crate) marks: Marks,
}

struct Builder<'a> {
    place: &'a Place<'a>,
    brew: &'a Brew,
    choice: &'a Choice,
    setting: &'a Setting,
    procedure: Procedure,
    marks: Marks,
}

/// The procedure of a choice.
pub(crate) fn build(place: &Place<'_>, brew: &Brew, choice: &Choice, setting: &Setting) -> Built {
    let mut builder = Builder {
        place,
        brew,
        choice,
        setting,
        procedure: Procedure::default(),
        marks: Marks::default(),
    };
    builder.liquor();
    let mashed = builder.mash();
    builder.run_off(mashed);
    builder.boil();
    builder.chill();
    Built { procedure: builder.procedure, marks: builder.marks }
}

/// Setting of the mark whose name holds a word, of a vessel's heater.
pub(crate) fn mark(vessel: &Vessel, word: &str) -> Option<(String, f64)> {
    let heater = vessel.heater.as_ref()?;
    let mark = heater.marks.iter().find(|m| m.name.contains(word))?;
    Some((mark.name.clone(), mark.share.value.fraction()))
}

/// The marked setting nearest to a wanted share, or the share itself where nothing is marked.
fn nearest_mark(vessel: &Vessel, wanted: f64) -> f64 {
    let Some(heater) = &vessel.heater else { return wanted };
    let shares = heater.marks.iter().map(|m| m.share.value.fraction());
    shares
        .min_by(|a, b| (a - wanted).abs().total_cmp(&(b - wanted).abs()))
        .filter(|s| (s - wanted).abs() < 0.5 * wanted)
        .unwrap_or(wanted)
}

/// Setting at which the mash is fired: the person's mash line, or about 1 K/min below the scorch
/// limit.
pub(crate) fn mash_fire(place: &Place<'_>, choice: &Choice) -> f64 {
    let tun = place.vessels[place.parts.mash];
    if let Some((_, share)) = mark(tun, "mash") {
        return share;
    }
    let Some(heater) = &tun.heater else { return 0.0 };
    let capacity = 4186.0 * (choice.strike_kg + GRAIN_AS_WATER * choice.grist_kg);
    let most_w = SCORCH_W_M2 * tun.section.base_m2();
    let wanted_w = (capacity / 60.0 + 300.0).min(most_w);
    let least = heater.least_share();
    nearest_mark(tun, (wanted_w / heater.full_w()).clamp(least, 1.0))
}

/// Setting of the boil: the marked boil line, else what a rolling boil of this surface takes.
pub(crate) fn boil_fire(place: &Place<'_>, brew: &Brew) -> f64 {
    let kettle = place.vessels[place.parts.kettle];
    let word = brew.boil.flame.as_deref().unwrap_or("boil");
    if let Some((_, share)) = mark(kettle, word).or_else(|| mark(kettle, "boil")) {
        return share;
    }
    let Some(heater) = &kettle.heater else { return 1.0 };
    // vapour of a rolling boil, 36 kg/(m² h) (common practice), and the dry losses
    let vapour_w = 36.0 / 3600.0 * kettle.section.mouth_m2() * 2.26e6;
    let wanted = (vapour_w + 450.0) / heater.full_w();
    nearest_mark(kettle, wanted.clamp(heater.least_share(), 1.0))
}

/// Flow from kettle to fermenter, m³/s: what a counterflow chiller takes, else the kettle's valve.
pub(crate) fn to_fermenter_m3_s(place: &Place<'_>, setting: &Setting) -> f64 {
    match setting.chiller {
        Chiller::Counterflow { wort_kg_s, .. } => wort_kg_s / 1030.0,
        _ => setting.pots[place.parts.kettle].valve_m3_s.min(TO_FERMENTER_M3_S),
    }
}

impl Builder<'_> {
    fn add(&mut self, id: &str, starts: Start, action: Action) -> OperationIndex {
        self.procedure.add(Operation { id: id.into(), starts, action })
    }

    fn pour_m3_s(&self, from: usize) -> f64 {
        self.setting.pots[from].valve_m3_s
    }

    fn left_kg(&self) -> f64 {
        let tank = &self.setting.pots[self.place.parts.liquor];
        let p = &self.place.parts;
        if p.liquor == p.mash {
            return 0.0;
        }
        970.0 * tank.left_m3
    }

    fn liquor(&mut self) {
        let p = self.place.parts;
        let set_up = self.add("set-up", Start::at(0.0), Action::Wait { for_s: SET_UP_S });
        let mass_kg = self.choice.fill_kg(self.left_kg()) - self.cool_kg();
        let fill = self.add(
            "fill",
            Start::after(set_up),
            Action::Fill { pot: p.liquor, mass_kg, flow_kg_s: FILL_KG_S },
        );
        let heat = self.add(
            "heat-strike",
            Start::after(fill),
            Action::Heat { pot: p.liquor, setting: 1.0, to_c: self.choice.strike_c, lid: true },
        );
        self.marks.set_up = set_up;
        self.marks.fill = fill;
        self.marks.heat_strike = heat;
        if p.liquor != p.mash {
            let action = Action::Pour {
                from: p.liquor,
                to: p.mash,
                mass_kg: self.choice.strike_kg,
                flow_m3_s: self.pour_m3_s(p.liquor),
            };
            self.marks.strike = Some(self.add("strike", Start::after(heat), action));
        }
    }

    /// Dough-in and rests; tells which operation the run-off waits for.
    fn mash(&mut self) -> OperationIndex {
        let hot = self.marks.strike.unwrap_or(self.marks.heat_strike);
        let action = Action::DoughIn { grist_kg: self.choice.grist_kg, for_s: DOUGH_S };
        let dough_in = self.add("dough-in", Start::after(hot), action);
        self.marks.dough_in = dough_in;
        self.marks.read_dough = self.add(
            "read-dough-in",
            Start::later(dough_in, Edge::End, DOUGH_READ_S),
            Action::Wait { for_s: 0.0 },
        );
        self.tank_for_sparge();
        let mut last = dough_in;
        for i in 0..self.choice.rest_c.len() {
            let marks = if i == 0 { self.first_rest(dough_in) } else { self.step(i, last) };
            last = marks.rest;
            self.marks.rests.push(marks);
        }
        last
    }

    fn first_rest(&mut self, dough_in: OperationIndex) -> RestMarks {
        let rest = self.add(
            "rest-1",
            Start::after(dough_in),
            Action::Rest { for_s: self.choice.rest_s[0] },
        );
        RestMarks { rest, read: self.marks.read_dough, ..RestMarks::default() }
    }

    fn step(&mut self, i: usize, last: OperationIndex) -> RestMarks {
        let n = i + 1;
        let mut marks = RestMarks::default();
        let reached = match self.choice.ways.reach[i] {
            Reach::HotLiquor => {
                let mut starts = Start::after(last);
                if let Some(hot) = self.marks.heat_sparge {
                    starts = starts.and(hot);
                }
                let flow_m3_s = self.pour_m3_s(self.place.parts.liquor);
                let action = Action::Infuse { mass_kg: self.choice.reach[i], flow_m3_s };
                self.add(&format!("infuse-{n}"), starts, action)
            }
            Reach::Decoction { thick, boil } => {
                self.decoction(n, last, i, thick, boil.seconds(), &mut marks)
            }
            _ => self.fire(n, last, i, &mut marks),
        };
        marks.reach = Some(reached);
        let flow = self.choice.ways.recirculation_m3_s.filter(|_| self.has_screen());
        let fired =
            !matches!(self.choice.ways.reach[i], Reach::HotLiquor | Reach::Decoction { .. });
        if let Some(flow_m3_s) = flow.filter(|_| fired) {
            let action = Action::Circulate { flow_m3_s, for_s: AROUND_FIRE_S };
            let starts = Start::after(reached);
            marks.after = Some(self.add(&format!("circulate-after-{n}"), starts, action));
        }
        marks.rest = self.add(
            &format!("rest-{n}"),
            Start::after(reached),
            Action::Rest { for_s: self.choice.rest_s[i] },
        );
        marks.read = self.add(
            &format!("read-rest-{n}"),
            Start::later(reached, Edge::End, AROUND_FIRE_S.min(0.9 * self.choice.rest_s[i])),
            Action::Wait { for_s: 0.0 },
        );
        marks
    }

    fn has_screen(&self) -> bool {
        self.setting.pots[self.place.parts.mash].under_m3 > 0.0
    }

    fn fire(
        &mut self,
        n: usize,
        last: OperationIndex,
        i: usize,
        marks: &mut RestMarks,
    ) -> OperationIndex {
        let setting = mash_fire(self.place, self.choice);
        let flow = self.choice.ways.recirculation_m3_s.filter(|_| self.has_screen());
        let mut starts = Start::after(last);
        if let Some(flow_m3_s) = flow {
            // the pump runs before the flame is lit, within the rest that ends
            let early = self.choice.rest_s[i - 1].min(AROUND_FIRE_S);
            let delay = self.choice.rest_s[i - 1] - early;
            let action = Action::Circulate { flow_m3_s, for_s: early };
            let before = self.add(
                &format!("circulate-before-{n}"),
                Start::later(last, Edge::Start, delay),
                action,
            );
            marks.before = Some(before);
            starts = starts.and(before);
        }
        let flow_m3_s = flow.unwrap_or(0.0);
        let action = Action::FireMash { setting, to_c: self.choice.reach[i], flow_m3_s };
        self.add(&format!("fire-{n}"), starts, action)
    }

    fn decoction(
        &mut self,
        n: usize,
        last: OperationIndex,
        i: usize,
        thick: bool,
        boil_s: f64,
        marks: &mut RestMarks,
    ) -> OperationIndex {
        let share = self.choice.reach[i].clamp(0.02, 0.9);
        // a thick part is drawn from the bottom with little liquor, a thin one from the top
        let (solids, liquid) = if thick { (share, 0.6 * share) } else { (0.05 * share, share) };
        let draw = self.add(
            &format!("draw-{n}"),
            Start::after(last),
            Action::DrawDecoction { solids, liquid, for_s: 300.0 },
        );
        let boil = self.add(
            &format!("boil-decoction-{n}"),
            Start::after(draw),
            Action::BoilDecoction { setting: DECOCTION_SETTING, for_s: boil_s },
        );
        marks.decoction = Some((draw, boil));
        self.add(
            &format!("return-{n}"),
            Start::after(boil),
            Action::ReturnDecoction { loss_k: 5.0, for_s: 300.0 },
        )
    }

    /// The tank is heated again for sparge and infusions, and filled again if it is too small.
    fn tank_for_sparge(&mut self) {
        let p = self.place.parts;
        let infuses = self.choice.ways.reach.iter().skip(1).any(|r| matches!(r, Reach::HotLiquor));
        if (self.choice.no_sparge() && !infuses) || p.liquor == p.mash {
            return;
        }
        let Some(strike) = self.marks.strike else { return };
        let mut starts = Start::after(strike);
        if self.choice.ways.second_fill {
            let action = Action::Fill {
                pot: p.liquor,
                mass_kg: self.choice.sparge_kg,
                flow_kg_s: FILL_KG_S,
            };
            let fill = self.add("fill-again", starts.clone(), action);
            self.marks.refill_tank = Some(fill);
            starts = Start::after(fill);
        }
        if !infuses {
            starts = starts.not_before(self.choice.tank_light_s);
        }
        let to_c = if infuses { self.infuse_c() } else { self.choice.sparge_c };
        let action = Action::Heat { pot: p.liquor, setting: 1.0, to_c, lid: true };
        self.marks.heat_sparge = Some(self.add("heat-sparge", starts, action));
    }

    /// Liquor that raises a mash is near the boil.
    fn infuse_c(&self) -> f64 {
        matter::wort::boiling_point_c(self.setting.pressure_pa, 0.0) - 3.0
    }

    fn run_off(&mut self, mashed: OperationIndex) {
        if self.choice.ways.bag {
            return self.lift(mashed);
        }
        let mut starts = Start::after(mashed);
        let recirculate_s = self.brew.mash.recirculate.as_ref().map_or_else(
            || {
                let under_m3 = self.setting.pots[self.place.parts.mash].under_m3;
                (1.6 * under_m3 / VORLAUF_M3_S).clamp(240.0, 1200.0)
            },
            |t| t.value.seconds(),
        );
        if self.choice.ways.recirculation_m3_s.is_some() && recirculate_s > 0.0 {
            let action = Action::Circulate { flow_m3_s: VORLAUF_M3_S, for_s: recirculate_s };
            let op = self.add("recirculate", starts, action);
            self.marks.recirculate = Some(op);
            starts = Start::after(op);
        }
        if self.choice.no_sparge() {
            self.first_run_off(starts);
            return;
        }
        starts = self.cool_for_sparge(starts);
        match self.choice.ways.sparge {
            SpargeHow::Drains(n) if n > 1 => self.drains(starts, n),
            _ => {
                let run_off = self.first_run_off(starts);
                let action = Action::Sparge {
                    mass_kg: self.choice.sparge_kg,
                    flow_m3_s: self.choice.run_off_m3_s,
                };
                let starts = Start::later(run_off, Edge::Start, 60.0);
                let sparge = self.add("sparge", starts, action);
                self.marks.sparge = Some(sparge);
                self.keep_tank(sparge);
            }
        }
    }

    /// Waits for the hot tank; after infusions near the boil cold liquor brings it down.
    fn cool_for_sparge(&mut self, starts: Start) -> Start {
        let Some(hot) = self.marks.heat_sparge else { return starts };
        let mass_kg = self.cool_kg();
        if mass_kg <= 0.0 {
            return starts.and(hot);
        }
        let pot = self.place.parts.liquor;
        let last = self.marks.rests.iter().rev().find_map(|r| r.reach).unwrap_or(hot);
        let action = Action::Fill { pot, mass_kg, flow_kg_s: FILL_KG_S };
        let cool = self.add("cool-tank", Start::after(last).and(hot), action);
        let action = Action::Heat { pot, setting: 1.0, to_c: self.choice.sparge_c, lid: true };
        let mut late = Start::after(cool);
        if let (Some(rest), Some(rest_s)) = (self.marks.rests.last(), self.choice.rest_s.last()) {
            let delay_s = (rest_s - WARM_S).max(0.0);
            late.after.push(After { operation: rest.rest, from: Edge::Start, delay_s });
        }
        let warm = self.add("warm-tank", late, action);
        self.marks.cool_tank = Some((cool, warm));
        starts.and(warm)
    }

    /// Cold liquor that brings what is left after infusions near the boil down to the sparge, kg.
    fn cool_kg(&self) -> f64 {
        let infuses = self.choice.ways.reach.iter().skip(1).any(|r| matches!(r, Reach::HotLiquor));
        if !infuses || self.choice.no_sparge() || self.choice.ways.second_fill {
            return 0.0;
        }
        let all_kg = self.choice.sparge_kg + self.choice.reserve_kg + self.left_kg();
        // half a kelvin under the wanted temperature: it is warmed, never cooled again
        let (hot_c, cold_c) = (self.infuse_c() - 1.0, self.setting.source_c);
        let wanted_c = self.choice.sparge_c - 0.5;
        (all_kg * (hot_c - wanted_c) / (hot_c - cold_c)).clamp(0.0, 0.9 * all_kg)
    }

    /// A tank that can be held is kept hot until its level nears what must cover the heater.
    fn keep_tank(&mut self, sparge: OperationIndex) {
        let pot = self.place.parts.liquor;
        let tank = &self.setting.pots[pot];
        let holds = match tank.heater {
            Heater::Element { .. } | Heater::Plate { .. } => true,
            Heater::Flame(_) => mark(self.place.vessels[pot], "hold").is_some(),
            Heater::None => false,
        };
        let Some(hot) = self.marks.heat_sparge.filter(|_| holds) else { return };
        let density = matter::water::density_kg_m3(self.choice.sparge_c);
        let kg = self.choice.sparge_kg + self.choice.reserve_kg + self.left_kg();
        // a tenth more than what covers it
        let spare_m3 = kg / density - 1.1 * tank.section.volume_m3(tank.least_level_m);
        let poured_s = self.choice.sparge_kg / density / self.choice.run_off_m3_s;
        let off_s = (spare_m3 / self.choice.run_off_m3_s).clamp(0.0, poured_s);
        let starts = Start::later(sparge, Edge::Start, off_s);
        let off = self.add("tank-off", starts, Action::Wait { for_s: 0.0 });
        self.marks.tank_off = Some(off);
        let action = Action::Keep { pot, at_c: self.choice.sparge_c, until: off };
        let hot = self.marks.cool_tank.map_or(hot, |(_, warm)| warm);
        self.add("keep-tank", Start::after(hot), action);
    }

    fn first_run_off(&mut self, starts: Start) -> OperationIndex {
        let action = Action::RunOff {
            flow_m3_s: self.choice.run_off_m3_s,
            until_m3: self.choice.pre_boil_m3,
        };
        let run_off = self.add("run-off", starts, action);
        let under_m3 = self.setting.pots[self.place.parts.mash].under_m3;
        let drawn_s = under_m3.max(1e-3) / self.choice.run_off_m3_s;
        self.marks.first_runnings = Some(self.add(
            "read-first-runnings",
            Start::later(run_off, Edge::Start, drawn_s),
            Action::Wait { for_s: 0.0 },
        ));
        self.marks.run_offs.push(run_off);
        run_off
    }

    fn drains(&mut self, starts: Start, n: u32) {
        let mut last = self.first_run_off(starts);
        let each_kg = self.choice.sparge_kg / f64::from(n - 1);
        for k in 2..=n {
            let action = Action::Refill { mass_kg: each_kg, for_s: 900.0 };
            let refill = self.add(&format!("fill-up-{k}"), Start::after(last), action);
            self.marks.refills.push(refill);
            let action = Action::RunOff {
                flow_m3_s: self.choice.run_off_m3_s,
                until_m3: self.choice.pre_boil_m3,
            };
            last = self.add(&format!("run-off-{k}"), Start::after(refill), action);
            self.marks.run_offs.push(last);
        }
    }

    fn lift(&mut self, mashed: OperationIndex) {
        let p = self.place.parts;
        let action = Action::LiftBag { for_s: DRIP_S };
        let lift = self.add("lift-bag", Start::after(mashed), action);
        self.marks.lift = Some(lift);
        if p.kettle != p.mash {
            let action = Action::Pour {
                from: p.mash,
                to: p.kettle,
                mass_kg: 1e6,
                flow_m3_s: self.pour_m3_s(p.mash),
            };
            self.marks.to_kettle = Some(self.add("to-kettle", Start::after(lift), action));
        }
    }

    fn collected(&self) -> OperationIndex {
        self.marks
            .to_kettle
            .or(self.marks.run_offs.last().copied())
            .or(self.marks.lift)
            .unwrap_or(self.marks.dough_in)
    }

    fn boil(&mut self) {
        let collected = self.collected();
        let p = self.place.parts;
        let starts = if p.kettle == p.mash || self.marks.run_offs.is_empty() {
            Start::after(collected)
        } else {
            let first = self.marks.run_offs[0];
            let mut starts =
                Start::later(first, Edge::Start, 60.0).not_before(self.choice.kettle_light_s);
            let (kettle, tun) = (self.place.vessels[p.kettle], self.place.vessels[p.mash]);
            if self.place.brewhouse.share_a_heater(kettle, tun) {
                let fired = self.marks.rests.iter().rev().find_map(|r| r.reach);
                if let Some(fired) = fired {
                    starts.after.push(After {
                        operation: fired,
                        from: Edge::End,
                        delay_s: MOVE_BURNER_S,
                    });
                }
            }
            starts
        };
        let bring = self.add("light-kettle", starts, Action::BringToBoil { setting: 1.0 });
        let mut starts = Start::after(bring).and(collected);
        if let Some(sparge) = self.marks.sparge {
            starts = starts.and(sparge);
        }
        let setting = boil_fire(self.place, self.brew);
        let boil = self.add("boil", starts, Action::Boil { setting, for_s: self.choice.boil_s });
        self.marks.bring = bring;
        self.marks.boil = boil;
        self.marks.half_boil = self.add(
            "read-half-boil",
            Start::later(boil, Edge::Start, 0.5 * self.choice.boil_s),
            Action::Wait { for_s: 0.0 },
        );
        self.stand();
        self.hops();
        self.additions();
    }

    /// The wait for a stand's temperature and the stand itself.
    fn stand(&mut self) {
        let stand = self.brew.hops.iter().find_map(|hop| match hop.add {
            When::Stand { at, length } => Some((at.celsius(), length.seconds())),
            _ => None,
        });
        let Some((to_c, length_s)) = stand else { return };
        let coil = matches!(self.setting.chiller, Chiller::Coil { .. });
        let cool = self.add(
            "cool-to-stand",
            Start::after(self.marks.boil),
            Action::Stand { for_s: 3600.0, to_c, lid: !coil, chill: coil },
        );
        self.marks.cool_to_stand = Some(cool);
        self.marks.stand = Some(self.add(
            "stand",
            Start::after(cool),
            Action::Stand { for_s: length_s, to_c: -300.0, lid: true, chill: false },
        ));
    }

    fn when(&self, add: &When) -> Option<Start> {
        let boil = self.marks.boil;
        Some(match add {
            When::Mash | When::FirstWort => match self.marks.run_offs.first() {
                Some(&run_off) => Start::later(run_off, Edge::Start, 120.0),
                None => Start::later(self.marks.bring, Edge::Start, 0.0),
            },
            When::StartOfBoil => Start::later(boil, Edge::Start, 0.0),
            When::BeforeEnd(time) => {
                let delay = (self.choice.boil_s - time.seconds()).max(0.0);
                Start::later(boil, Edge::Start, delay)
            }
            When::FlameOut => Start::after(boil),
            When::Stand { .. } => Start::after(self.marks.cool_to_stand?),
            When::Pitch | When::Dry => return None,
        })
    }

    fn hops(&mut self) {
        for (k, hop) in self.brew.hops.iter().enumerate() {
            let op = self.when(&hop.add).map(|starts| {
                self.add(&format!("hop-{}", k + 1), starts, Action::Hop { addition: k })
            });
            self.marks.hops.push(op);
        }
    }

    fn additions(&mut self) {
        for (k, addition) in self.brew.additions.iter().enumerate() {
            let Some(starts) = self.when(&addition.add) else {
                self.marks.additions.push(None);
                continue;
            };
            let kg = addition.amount.value.kilograms();
            let action = match matter::sugar::sugar_class(&addition.what) {
                Some(class) if addition.kind == brew::AdditionKind::Sugar => Action::Sugar {
                    extract_kg: kg * class.extract_kg_kg,
                    water_kg: kg * (1.0 - class.extract_kg_kg).max(0.0),
                    fermentable: class.fermentable,
                    // the table's colour is that of a 10 °P solution
                    colour_ebc_m3: class.colour_ebc * kg * class.extract_kg_kg / 103.8,
                },
                _ => Action::Wait { for_s: 0.0 },
            };
            let op = self.add(&format!("add-{}", k + 1), starts, action);
            self.marks.additions.push(Some(op));
        }
    }

    fn chill(&mut self) {
        let out = self.marks.stand.unwrap_or(self.marks.boil);
        let pitch_c = self.brew.pitch_at().celsius();
        let mut last = out;
        let mut chilled_on_the_way = false;
        match self.setting.chiller {
            Chiller::Coil { inlet_c, .. } | Chiller::Bath { inlet_c, .. } => {
                let to_c = pitch_c.max(inlet_c + CHILL_GAP_K);
                last = self.add("chill", Start::after(out), Action::Chill { to_c });
                self.marks.chill = Some(last);
            }
            Chiller::Counterflow { .. } => chilled_on_the_way = true,
            Chiller::None => {
                let to_c = pitch_c.max(self.setting.air_c + CHILL_GAP_K);
                let action = Action::Stand { for_s: OVERNIGHT_S, to_c, lid: true, chill: false };
                last = self.add("cool-by-itself", Start::after(out), action);
                self.marks.chill = Some(last);
            }
        }
        let settle = self.add("settle", Start::after(last), Action::Wait { for_s: SETTLE_S });
        let flow_m3_s = to_fermenter_m3_s(self.place, self.setting);
        let action = Action::ToFermenter { flow_m3_s, chill: chilled_on_the_way };
        let to_fermenter = self.add("to-fermenter", Start::after(settle), action);
        let pitch = self.add("pitch", Start::after(to_fermenter), Action::Wait { for_s: 120.0 });
        let clean = self.add("clean", Start::after(pitch), Action::Wait { for_s: CLEAN_S });
        self.marks.settle = settle;
        self.marks.to_fermenter = to_fermenter;
        self.marks.pitch = pitch;
        self.marks.clean = clean;
    }
}
