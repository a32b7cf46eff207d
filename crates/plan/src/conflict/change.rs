//! What could be done otherwise: a change of the brew, of how things are done, or of the pots, with
//! what it gives up, how far it leads away, and its words. It solves nothing.

use super::words::thickness_words;
use crate::choice::Choice;
use crate::say::Say;
use crate::setting::Place;
use crate::solve::Solved;
use brew::{Brew, GristAmount, HopAmount, Limit, Reach, SpargeHow, Thickness};
use brewhouse::vessel::Part;
use brewhouse::{Brewhouse, Heater, HeaterKind};
use numerics::math::ln;
use quantity::{
    Bitterness, Colour, Duration, Extract, Mass, Power, Share, Stated, Temperature, Volume, write,
};

/// Strike liquor of a kg, kg/m³, where thickness is stated by volume.
pub(super) const STRIKE_KG_M3: f64 = 976.0;
/// A lent heater, W per m³ of the pot (our choice: a litre in three minutes from cold to the boil).
const LENT_W_M3: f64 = 150e3;
/// A heater lent to a mash, W per m³ of the tun (our choice: half a tun by a kelvin a minute).
const LENT_MASH_W_M3: f64 = 40e3;
/// How far a boil that is left open may be moved either way, as a factor (our choice).
const OPEN_BOIL: f64 = 1.34;

/// A single rest, common practice: both amylases work well, °C; and its length.
const ONE_REST_C: f64 = 66.0;
const ONE_REST_MIN: f64 = 60.0;

/// What the beer may come out as instead of what was wanted.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(super) struct AsItComes {
    pub(super) bitterness_ibu: Option<f64>,
    pub(super) colour_ebc: Option<f64>,
    pub(super) fermentability: Option<f64>,
    pub(super) gravity_plato: Option<f64>,
}

/// A change; the default changes nothing.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Change {
    /// Factor on the volume and everything weighed for it.
    pub(super) volume: Option<f64>,
    /// Factor on the gravity, °P.
    pub(super) gravity: Option<f64>,
    pub(super) second_fill: bool,
    pub(super) sparge: Option<SpargeHow>,
    /// Strike liquor, kg per kg of grist.
    pub(super) thickness: Option<f64>,
    pub(super) boil_s: Option<f64>,
    /// Rests by hot liquor that were asked for by fire.
    pub(super) hot_liquor: bool,
    /// One rest, made by the strike.
    pub(super) one_rest: bool,
    /// More liquor kept in the tank, kg.
    pub(super) reserve_kg: f64,
    pub(super) flow_m3_s: Option<f64>,
    pub(super) pitch_c: Option<f64>,
    /// Shares of the malts are the planner's.
    pub(super) shares: bool,
    /// Temperatures and lengths of the rests are the planner's.
    pub(super) rests: bool,
    pub(super) comes: AsItComes,
    /// Parts whose vessel is lent a strong heater, to see whether it is the heater that stands in
    /// the way.
    pub(super) lent: Vec<Part>,
}

impl Change {
    /// No change.
    pub(super) const NONE: Change = Change {
        volume: None,
        gravity: None,
        second_fill: false,
        sparge: None,
        thickness: None,
        boil_s: None,
        hot_liquor: false,
        one_rest: false,
        reserve_kg: 0.0,
        flow_m3_s: None,
        pitch_c: None,
        shares: false,
        rests: false,
        comes: AsItComes {
            bitterness_ibu: None,
            colour_ebc: None,
            fermentability: None,
            gravity_plato: None,
        },
        lent: Vec::new(),
    };

    /// Only the size or the strength is changed.
    pub(super) fn is_size_only(&self) -> bool {
        Change { volume: None, gravity: None, ..self.clone() } == Change::NONE
    }

    /// How far the search would have to go from another change to this.
    pub(super) fn apart(&self, other: &Change) -> f64 {
        let log = |a: Option<f64>, b: Option<f64>| ln(a.unwrap_or(1.0) / b.unwrap_or(1.0)).abs();
        let thickness = match (self.thickness, other.thickness) {
            (Some(a), Some(b)) => ln(a / b).abs(),
            (None, None) => 0.0,
            _ => 0.3,
        };
        let filled = if self.second_fill == other.second_fill { 0.0 } else { 0.3 };
        log(self.volume, other.volume) + log(self.gravity, other.gravity) + thickness + filled
    }

    /// Moves a start to where a solved day stands, scaled to this change.
    pub(super) fn start_from(
        &self,
        start: &mut Choice,
        before: &Change,
        solved: &Choice,
        place: &Place<'_>,
        changed: &Brew,
    ) {
        let volume = self.volume.unwrap_or(1.0) / before.volume.unwrap_or(1.0);
        let gravity = self.gravity.unwrap_or(1.0) / before.gravity.unwrap_or(1.0);
        if !by_mass(changed) {
            start.grist_kg = solved.grist_kg * volume * gravity;
        }
        // what boils off does not grow with the brew
        let kettle = place.vessels[place.parts.kettle];
        let boiled_m3 = |s: f64| 36e-3 * kettle.section.mouth_m2() * s / 3600.0;
        let kept_m3 = (solved.pre_boil_m3 - boiled_m3(solved.boil_s)).max(0.0);
        start.pre_boil_m3 = volume * kept_m3 + boiled_m3(start.boil_s);
        let more_kg =
            970.0 * (start.pre_boil_m3 - solved.pre_boil_m3) + start.grist_kg - solved.grist_kg;
        if start.no_sparge() {
            start.strike_kg = (solved.strike_kg + more_kg).max(1.2 * start.grist_kg);
        } else {
            start.strike_kg = start.thickness * start.grist_kg;
            let all_kg = solved.strike_kg + solved.sparge_kg + more_kg;
            start.sparge_kg = (all_kg - start.strike_kg).max(0.0);
        }
        let over = |i: usize| solved.reach[i] - solved.rest_c[i];
        start.strike_c = start.rest_c[0] + solved.strike_c - solved.rest_c[0];
        for i in 1..start.reach.len() {
            start.reach[i] = match start.ways.reach[i] {
                Reach::HotLiquor => solved.reach[i] * volume,
                Reach::Decoction { .. } => solved.reach[i],
                _ => start.rest_c[i] + over(i),
            };
        }
        if !self.rests {
            start.shift_k = solved.shift_k;
        }
        let hops = start.hops_kg.iter_mut().zip(&solved.hops_kg);
        hops.for_each(|(kg, &before_kg)| *kg = before_kg * volume);
        start.tank_light_s = solved.tank_light_s;
        start.kettle_light_s = solved.kettle_light_s;
    }

    /// The brew with the change in it.
    pub(super) fn brew(&self, brew: &Brew) -> Brew {
        let mut b = brew.clone();
        if let Some(f) = self.volume {
            b.wanted.volume.value = b.wanted.volume.value * f;
            scale_weighed(&mut b, f);
        }
        if let Some(f) = self.gravity {
            let lower = |e: Extract| Extract::from_plato(f * e.plato());
            b.wanted.gravity.value = lower(b.wanted.gravity.value);
            if let Some(Limit::FinalGravity(t)) = &mut b.wanted.limit {
                t.value = lower(t.value);
            }
            scale_grist(&mut b, f);
        }
        if let Some(how) = self.sparge {
            b.sparge.how = how;
        }
        if let Some(kg_kg) = self.thickness {
            b.mash.thickness = Some(Thickness { m3_kg: kg_kg / STRIKE_KG_M3, about: false });
        }
        if let Some(s) = self.boil_s {
            b.boil.length = Some(Stated::exactly(Duration::from_seconds(s)));
        }
        if self.hot_liquor {
            for rest in b.rests.iter_mut().skip(1).filter(|r| matches!(r.by, Reach::Fire)) {
                rest.by = Reach::HotLiquor;
            }
        }
        if self.one_rest {
            b.rests.truncate(1);
            for rest in &mut b.rests {
                let at = Temperature::from_celsius(ONE_REST_C);
                rest.at = Stated { about: true, ..Stated::exactly(at) };
                let long = Duration::from_minutes(ONE_REST_MIN);
                rest.length = Stated { about: true, ..Stated::exactly(long) };
            }
        }
        if let Some(c) = self.pitch_c {
            b.pitch = Some(Stated::exactly(Temperature::from_celsius(c)));
        }
        if self.shares {
            for item in &mut b.grist {
                if let GristAmount::Share(share) = &mut item.amount {
                    share.about = true;
                }
            }
        }
        if self.rests {
            for rest in &mut b.rests {
                rest.at.about = true;
                rest.length.about = true;
            }
        }
        self.as_it_comes(&mut b);
        b
    }

    fn as_it_comes(&self, b: &mut Brew) {
        if let (Some(ibu), Some(t)) = (self.comes.bitterness_ibu, &mut b.wanted.bitterness) {
            t.value = Bitterness::from_ibu(ibu);
        }
        if let (Some(ebc), Some(t)) = (self.comes.colour_ebc, &mut b.wanted.colour) {
            t.value = Colour::from_ebc(ebc);
        }
        let original = b.wanted.gravity.value.plato();
        if let Some(plato) = self.comes.gravity_plato {
            b.wanted.gravity.value = Extract::from_plato(plato);
        }
        match (self.comes.fermentability, &mut b.wanted.limit) {
            (Some(share), Some(Limit::Fermentability(t))) => t.value = Share::from_fraction(share),
            (Some(share), Some(Limit::FinalGravity(t))) => {
                t.value = Extract::from_plato(original * (1.0 - share));
            }
            _ => {}
        }
    }

    /// The brewhouse with lent heaters.
    pub(super) fn brewhouse(&self, brewhouse: &Brewhouse) -> Brewhouse {
        let mut b = brewhouse.clone();
        for vessel in &mut b.vessels {
            if !self.lent.iter().any(|&part| vessel.plays(part)) {
                continue;
            }
            let only_mash = self.lent == [Part::Mash];
            let per_m3 = if only_mash { LENT_MASH_W_M3 } else { LENT_W_M3 };
            let watts = per_m3 * vessel.section.brim_m3();
            vessel.boil_off = None;
            vessel.heater = Some(Heater {
                kind: HeaterKind::Induction,
                name: None,
                power: Stated::exactly(Power::from_watts(watts)),
                fuel: None,
                reaches_pot: None,
                height: None,
                least: None,
                marks: Vec::new(),
                circuit: None,
                proved: None,
            });
        }
        b
    }

    /// Names of the wishes and limits it gives up.
    pub(super) fn drops(&self, place: &Place<'_>, brew: &Brew) -> Vec<String> {
        let mut all: Vec<&str> = Vec::new();
        let mut drop = |yes: bool, id: &'static str| {
            if yes {
                all.push(id);
            }
        };
        drop(self.volume.is_some(), "volume");
        drop(self.gravity.or(self.comes.gravity_plato).is_some(), "gravity");
        drop(self.second_fill, "one_filling");
        drop(self.sparge.is_some(), "sparge");
        drop(self.thickness.is_some() && !thickness_is_open(brew), "thickness");
        drop(self.boil_s.is_some_and(|s| !boil_is_open(brew, s)), "boil_length");
        let by = |way: fn(&Reach) -> bool| brew.rests.iter().skip(1).any(|r| way(&r.by));
        let fired = by(|r| matches!(r, Reach::Fire));
        drop(self.hot_liquor || (self.one_rest && fired), "fire");
        drop(self.one_rest && by(|r| matches!(r, Reach::HotLiquor)), "infusions");
        drop(self.one_rest && by(|r| matches!(r, Reach::Decoction { .. })), "decoctions");
        drop(self.one_rest && !fired, "rests_as_stated");
        drop(self.flow_m3_s.is_some() && !rate_is_open(brew), "run_off_rate");
        drop(self.pitch_c.is_some(), "pitch");
        drop(self.shares, "malt_shares");
        drop(self.rests, "rests_as_stated");
        drop(self.comes.bitterness_ibu.is_some(), "bitterness");
        drop(self.comes.colour_ebc.is_some(), "colour");
        drop(self.comes.fermentability.is_some(), "fermentability");
        for part in &self.lent {
            let heaters: &[&'static str] = match part {
                Part::Liquor => &["tank_heater", "tank_power"],
                Part::Mash => &["mash_heater", "mash_power"],
                _ => &["kettle_heater", "kettle_power", "kettle_boils"],
            };
            heaters.iter().for_each(|id| drop(true, id));
        }
        let mut all: Vec<String> = all.into_iter().map(String::from).collect();
        // a lent heater under the tun lets it be fired as asked
        if !self.lent.contains(&Part::Mash) && !self.hot_liquor && !self.one_rest {
            all.extend(already_dropped(place, brew));
        }
        all
    }

    /// How far it leads away from what was asked (our choice; it only sorts).
    pub(super) fn distance(&self, brew: &Brew) -> f64 {
        let mut far = 0.0;
        let mut add = |yes: bool, by: f64| far += if yes { by } else { 0.0 };
        let log = |f: Option<f64>| f.map_or(0.0, |f| ln(f.max(1e-6)).abs());
        add(self.reserve_kg > 0.0, 0.02);
        add(self.flow_m3_s.is_some(), 0.05);
        add(self.thickness.is_some(), 0.08);
        add(self.second_fill, 0.10);
        add(matches!(self.sparge, Some(SpargeHow::Drains(_))), 0.15);
        add(matches!(self.sparge, Some(SpargeHow::None)), 0.20);
        add(self.hot_liquor, 0.15);
        add(self.one_rest, 0.20);
        add(self.pitch_c.is_some(), 0.10);
        add(self.shares, 0.12);
        add(self.rests, 0.12);
        add(self.comes != AsItComes::default(), 0.15);
        let boil = self.boil_s.map(|s| s / usual_boil_s(brew));
        add(self.boil_s.is_some(), 0.05 + 0.3 * log(boil));
        add(self.volume.is_some(), 0.10 + log(self.volume));
        add(self.gravity.is_some(), 0.12 + 1.5 * log(self.gravity));
        far
    }

    /// A short name. A boil that the brew leaves open is told in the words of another size alone.
    pub(super) fn id(&self, brew: &Brew) -> String {
        let mut parts = Vec::new();
        let mut part = |yes: bool, id: &'static str| {
            if yes {
                parts.push(id);
            }
        };
        part(self.volume.is_some_and(|f| f < 1.0), "smaller_brew");
        part(self.volume.is_some_and(|f| f >= 1.0), "larger_brew");
        part(self.gravity.is_some(), "weaker_beer");
        part(self.second_fill, "second_fill");
        part(matches!(self.sparge, Some(SpargeHow::Drains(_))), "drains");
        part(matches!(self.sparge, Some(SpargeHow::None)), "no_sparge");
        part(self.thickness.is_some(), "thicker_mash");
        let other_boil = |s: f64| self.volume.is_none() || !boil_is_open(brew, s);
        let longer = self.boil_s.is_some_and(|s| s > usual_boil_s(brew));
        let name = if longer { "longer_boil" } else { "shorter_boil" };
        part(self.boil_s.is_some_and(other_boil), name);
        part(self.hot_liquor, "hot_liquor");
        part(self.one_rest, "one_rest");
        part(self.reserve_kg > 0.0, "more_liquor");
        part(self.flow_m3_s.is_some(), "slower_run_off");
        part(self.pitch_c.is_some(), "warmer_pitch");
        part(self.shares, "other_shares");
        part(self.rests, "other_rests");
        part(self.comes != AsItComes::default(), "as_it_comes");
        parts.join("_and_")
    }

    /// What is changed, with its numbers.
    pub(super) fn words(&self, brew: &Brew, solved: &Solved, say: Say) -> String {
        let mut parts: Vec<String> = Vec::new();
        if let Some(f) = self.volume {
            let volume = say.volume(f * brew.wanted.volume.value.cubic_metres());
            let size = if f < 1.0 { "smaller" } else { "larger" };
            parts.push(format!("a {size} brew: {volume} in the fermenter"));
        }
        if let Some(f) = self.gravity {
            let gravity = Extract::from_plato(f * brew.wanted.gravity.value.plato());
            parts.push(format!("a weaker beer: {}", write(gravity, say.0)));
        }
        if self.second_fill {
            let kg = solved.choice.sparge_kg;
            let cold = say.volume(kg / matter::water::density_kg_m3(solved.setting.source_c));
            parts.push(format!("the tank filled a second time, {cold} once the strike is out"));
        }
        match self.sparge {
            Some(SpargeHow::Drains(n)) => {
                parts.push(format!("the bed drained {n} times, stirred up in between"));
            }
            Some(SpargeHow::None) => parts.push("no sparge: all liquor goes into the mash".into()),
            _ => {}
        }
        if let Some(kg_kg) = self.thickness {
            let strike = say.volume(solved.choice.strike_kg / STRIKE_KG_M3);
            let per = thickness_words(kg_kg, say);
            parts.push(format!("a thicker mash: {per}, {strike} of strike liquor"));
        }
        if let Some(s) = self.boil_s {
            let longer = if s > usual_boil_s(brew) { "longer" } else { "shorter" };
            parts.push(format!("a {longer} boil: {}", say.minutes(s)));
        }
        if self.hot_liquor {
            parts.push("the rests reached by hot liquor instead of fire".into());
        }
        if self.one_rest {
            let at = solved.choice.rest_c.first().copied().unwrap_or(ONE_REST_C);
            let long = solved.choice.rest_s.first().copied().unwrap_or(60.0 * ONE_REST_MIN);
            parts.push(format!("one rest at {} for {}", say.temp(at), say.minutes(long)));
        }
        if self.reserve_kg > 0.0 {
            let more = say.volume(self.reserve_kg / STRIKE_KG_M3);
            parts.push(format!("{more} more kept in the tank"));
        }
        if let Some(flow) = self.flow_m3_s {
            parts.push(format!("a slower run-off: {}", say.flow(flow)));
        }
        if let Some(c) = self.pitch_c {
            parts.push(format!("yeast pitched at {}", say.temp(c)));
        }
        self.wish_changes(solved, say, &mut parts);
        parts.join("; ")
    }

    fn wish_changes(&self, solved: &Solved, say: Say, parts: &mut Vec<String>) {
        if self.shares {
            parts.push("the shares of the malts left to the planner".into());
        }
        if self.rests {
            let at: Vec<String> = solved.choice.rest_c.iter().map(|&c| say.temp(c)).collect();
            parts.push(format!("the rests moved to {}", at.join(", ")));
        }
        if let Some(plato) = self.comes.gravity_plato {
            parts.push(format!("wort of {}", write(Extract::from_plato(plato), say.0)));
        }
        if let Some(ibu) = self.comes.bitterness_ibu {
            parts.push(format!("bitterness {}", write(Bitterness::from_ibu(ibu), say.0)));
        }
        if let Some(ebc) = self.comes.colour_ebc {
            parts.push(format!("colour {}", write(Colour::from_ebc(ebc), say.0)));
        }
        if let Some(share) = self.comes.fermentability {
            parts.push(format!("fermentability {:.0} %", 100.0 * share));
        }
    }
}

fn scale_grist(b: &mut Brew, f: f64) {
    for item in &mut b.grist {
        if let GristAmount::Mass(m) = &mut item.amount {
            m.value = m.value * f;
        }
    }
}

/// Everything that is given by mass or measure grows with the brew.
fn scale_weighed(b: &mut Brew, f: f64) {
    scale_grist(b, f);
    let mass = |m: &mut Stated<Mass>| m.value = m.value * f;
    for hop in &mut b.hops {
        if let HopAmount::Mass(m) = &mut hop.amount {
            mass(m);
        }
    }
    b.additions.iter_mut().for_each(|a| mass(&mut a.amount));
    b.liquor.salts.iter_mut().for_each(|s| mass(&mut s.mass));
    for volume in b.liquor.acids.iter_mut().filter_map(|a| a.volume.as_mut()) {
        volume.value = Volume::from_cubic_metres(f * volume.value.cubic_metres());
    }
}

/// The grist is given as masses.
pub(super) fn by_mass(brew: &Brew) -> bool {
    brew.grist.iter().any(|g| matches!(g.amount, GristAmount::Mass(_)))
}

/// Length of the boil from which a change is counted, s.
pub(super) fn usual_boil_s(brew: &Brew) -> f64 {
    brew.boil.length.as_ref().map_or(3600.0, |l| l.value.seconds())
}

pub(super) fn thickness_is_open(brew: &Brew) -> bool {
    brew.mash.thickness.is_none_or(|t| t.about)
}

pub(super) fn rate_is_open(brew: &Brew) -> bool {
    brew.sparge.rate.as_ref().is_none_or(|r| r.about)
}

pub(super) fn boil_is_open(brew: &Brew, boil_s: f64) -> bool {
    let open = brew.boil.length.as_ref().is_none_or(|l| l.about);
    let factor = boil_s / usual_boil_s(brew);
    open && (1.0 / OPEN_BOIL..=OPEN_BOIL).contains(&factor)
}

/// A day planned as asked gives up the fire that nothing can make.
pub(super) fn already_dropped(place: &Place<'_>, brew: &Brew) -> Vec<String> {
    let asked = brew.rests.iter().skip(1).any(|r| matches!(r.by, Reach::Fire));
    let none = place.vessels[place.parts.mash].heater.is_none();
    if asked && none { vec!["fire".to_string()] } else { Vec::new() }
}

/// A limit of what heats a pot.
pub(super) fn of_a_heater(id: &str) -> bool {
    id.ends_with("_heater") || id.ends_with("_power") || id == "kettle_boils"
}
