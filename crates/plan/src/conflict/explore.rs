//! Which changes are tried, and in which order: what the brew leaves open, each way of doing by
//! itself, sizes by bisection, and pairs where nothing by itself helps. It judges no day.

use super::Search;
use super::change::{self, AsItComes, Change};
use crate::solve::Solved;
use brew::{Reach, SpargeHow};
use brewhouse::vessel::Part;
use day::setting::Chiller;

/// Strike liquor of ever thicker mashes, kg per kg of grist (common practice: 2 is stiff).
const THICKER: [f64; 3] = [2.6, 2.2, 1.9];
/// Factors tried before a size is narrowed down.
const SMALLER: [f64; 3] = [0.6, 0.35, 0.2];
const LARGER: [f64; 2] = [1.5, 2.2];
const WEAKER: [f64; 2] = [0.75, 0.55];
/// Halvings of a size: to a hundredth.
const HALVINGS: usize = 6;
/// Steps in which a volume is spoken of, m³, and a gravity, °P.
const STEP_M3: f64 = 1e-4;
const STEP_PLATO: f64 = 0.1;
/// Liquor over what must cover an element, as a factor.
const OVER_ELEMENT: f64 = 1.1;
/// Part of what bed and valve give at which a run-off is at ease.
const EASY_FLOW: f64 = 0.5;

impl Search<'_> {
    /// Tries what could help.
    pub(super) fn explore(&mut self, asked: Option<&Solved>) {
        let singles = self.singles(asked);
        for change in &singles {
            self.offer(change);
        }
        for part in self.weak_heaters() {
            self.attempt(&Change { lent: vec![part], ..Change::default() });
        }
        self.sizes(&Change::default());
        if self.offers.is_empty() {
            self.pairs(&singles);
        }
    }

    /// Changes of a brew's open numbers alone; nothing that is stated moves.
    pub(super) fn open_changes(&self, asked: &Solved) -> Vec<Change> {
        let mut all = Vec::new();
        let reserve = self.reserve(asked);
        let flow = self.slower(asked).filter(|_| change::rate_is_open(self.brew));
        let base = Change {
            reserve_kg: reserve.map_or(0.0, |r| r.reserve_kg),
            flow_m3_s: flow.and_then(|f| f.flow_m3_s),
            ..Change::default()
        };
        if base != Change::default() {
            all.push(base.clone());
        }
        if self.is_broken("tun_brim") && change::thickness_is_open(self.brew) {
            let thicker = THICKER.map(|t| Change { thickness: Some(t), ..base.clone() });
            all.extend(thicker.into_iter().filter(|c| c.thickness < Some(asked.choice.thickness)));
        }
        let boils: &[f64] = if self.is_broken("kettle_head_space") {
            &[0.85, 0.75]
        } else if self.is_broken("gravity") {
            &[1.33]
        } else {
            &[]
        };
        for f in boils {
            let boil_s = f * change::usual_boil_s(self.brew);
            if change::boil_is_open(self.brew, boil_s) {
                all.push(Change { boil_s: Some(boil_s), ..base.clone() });
            }
        }
        all
    }

    /// Each way of doing by itself.
    fn singles(&self, asked: Option<&Solved>) -> Vec<Change> {
        let none = Change::default;
        let mut all = Vec::new();
        if let Some(asked) = asked {
            all.extend(self.reserve(asked));
            all.extend(self.slower(asked));
            all.extend(self.wishes(asked));
        }
        let ways = asked.map(|a| &a.choice.ways);
        let bag = ways.is_some_and(|w| w.bag);
        let p = self.place.parts;
        let washes = !bag && !matches!(self.brew.sparge.how, SpargeHow::None);
        if washes && p.liquor != p.kettle {
            all.push(Change { second_fill: true, ..none() });
        }
        if washes && matches!(self.brew.sparge.how, SpargeHow::Continuous) {
            all.push(Change { sparge: Some(SpargeHow::Drains(2)), ..none() });
        }
        if washes {
            all.push(Change { sparge: Some(SpargeHow::None), ..none() });
        }
        if !bag && (self.is_broken("tun_brim") || self.is_broken("strike_temperature")) {
            let now = asked.map_or(f64::INFINITY, |a| a.choice.thickness);
            let thicker = THICKER.into_iter().filter(|&t| t < now);
            all.extend(thicker.map(|t| Change { thickness: Some(t), ..none() }));
        }
        let fired = self.brew.rests.iter().skip(1).any(|r| matches!(r.by, Reach::Fire));
        if fired && p.liquor != p.mash {
            all.push(Change { hot_liquor: true, ..none() });
        }
        if self.is_broken("kettle_head_space") || self.is_broken("tank_brim") {
            all.push(self.boil(0.67));
        }
        if ["gravity", "tun_brim", "volume"].iter().any(|id| self.is_broken(id)) {
            all.extend([self.boil(1.5), self.boil(2.0)]);
        }
        if self.is_broken("pitch_temperature") {
            all.extend(self.pitch(asked));
        }
        all
    }

    fn boil(&self, factor: f64) -> Change {
        // in steps of five minutes
        let boil_s = 300.0 * (factor * change::usual_boil_s(self.brew) / 300.0).round();
        Change { boil_s: Some(boil_s), ..Change::default() }
    }

    /// More liquor kept where a heater would be bare.
    fn reserve(&self, asked: &Solved) -> Option<Change> {
        let pot = self.place.parts.liquor;
        let low = self.asked_limits.iter().find(|l| l.id == "tank_least_level" && !l.kept)?;
        let section = &self.place.vessels[pot].section;
        let least_m3 = section.volume_m3(asked.setting.pots[pot].least_level_m);
        let short_m3 = OVER_ELEMENT * least_m3 - section.volume_m3(1e-3 * low.value);
        Some(Change { reserve_kg: 970.0 * short_m3.max(0.0), ..Change::default() })
    }

    fn slower(&self, asked: &Solved) -> Option<Change> {
        let flow = self.asked_limits.iter().find(|l| l.id == "bed_flow" && !l.kept)?;
        let slow = (EASY_FLOW * flow.bound / 6e4).min(asked.choice.run_off_m3_s);
        (slow > 0.0).then(|| Change { flow_m3_s: Some(slow), ..Change::default() })
    }

    /// Wishes of the beer that are not met: what is stated left open, or the wish given up.
    fn wishes(&self, asked: &Solved) -> Vec<Change> {
        let o = &asked.outcome;
        let missed = |id: &str| self.is_broken(id);
        let none = Change::default;
        let mut all = Vec::new();
        if missed("colour") {
            all.push(Change { shares: true, ..none() });
        }
        if missed("fermentability") {
            all.push(Change { rests: true, ..none() });
        }
        let comes = AsItComes {
            bitterness_ibu: missed("bitterness").then_some(o.bitterness),
            colour_ebc: missed("colour").then_some(o.colour),
            fermentability: missed("fermentability").then_some(o.fermentability),
        };
        if comes != AsItComes::default() {
            all.push(Change { comes, ..none() });
        }
        all
    }

    fn pitch(&self, asked: Option<&Solved>) -> Option<Change> {
        let setting = &asked?.setting;
        let cold_c = match setting.chiller {
            Chiller::Coil { inlet_c, .. }
            | Chiller::Bath { inlet_c, .. }
            | Chiller::Counterflow { inlet_c, .. } => inlet_c,
            Chiller::None => setting.air_c,
        };
        let pitch_c = (cold_c + 3.0).ceil().max(self.brew.pitch_at().celsius());
        Some(Change { pitch_c: Some(pitch_c), ..Change::default() })
    }

    /// Parts whose heater is missing or too weak.
    fn weak_heaters(&self) -> Vec<Part> {
        let weak = |ids: &[&str]| ids.iter().any(|id| self.is_broken(id));
        let mut all = Vec::new();
        if weak(&["tank_heater", "tank_power"]) {
            all.push(Part::Liquor);
        }
        if weak(&["mash_heater", "mash_power"]) {
            all.push(Part::Mash);
        }
        if weak(&["kettle_heater", "kettle_power", "kettle_boils"]) {
            all.push(Part::Kettle);
        }
        all
    }

    /// The largest brew that fits, the smallest where pots are too large, the strongest beer.
    fn sizes(&mut self, with: &Change) {
        let volume = |f: f64| Change { volume: Some(f), ..with.clone() };
        let wanted_m3 = self.brew.wanted.volume.value.cubic_metres();
        let found = self.narrow(&SMALLER, &volume);
        let large = ["tank_least_level", "kettle_least_level"].iter().any(|id| self.is_broken(id));
        let found = found.or_else(|| if large { self.narrow(&LARGER, &volume) } else { None });
        if let Some(f) = found {
            let steps = f * wanted_m3 / STEP_M3;
            // to a whole step on the side that fits
            let whole = if f < 1.0 { (steps + 1e-6).floor() } else { (steps - 1e-6).ceil() };
            self.offer_rounded(&volume(whole * STEP_M3 / wanted_m3), &volume(f));
        }
        let gravity = |f: f64| Change { gravity: Some(f), ..with.clone() };
        let plato = self.brew.wanted.gravity.value.plato();
        if let Some(f) = self.narrow(&WEAKER, &gravity) {
            let whole = (f * plato / STEP_PLATO + 1e-6).floor() * STEP_PLATO;
            self.offer_rounded(&gravity(whole / plato), &gravity(f));
        }
    }

    fn offer_rounded(&mut self, rounded: &Change, found: &Change) {
        if self.fits(rounded) {
            self.offer(rounded);
        } else {
            self.offer(found);
        }
    }

    /// The factor nearest to 1 that fits, from the first of some that does.
    fn narrow(&mut self, far: &[f64], change: &impl Fn(f64) -> Change) -> Option<f64> {
        let mut good = far.iter().copied().find(|&f| self.fits(&change(f)))?;
        let nearer = far.iter().copied().take_while(|&f| f != good).last();
        let mut bad = nearer.unwrap_or(1.0);
        for _ in 0..HALVINGS {
            let middle = (good * bad).sqrt();
            if self.fits(&change(middle)) {
                good = middle;
            } else {
                bad = middle;
            }
        }
        Some(good)
    }

    /// Where no way helps by itself: pairs of them, then each together with the size.
    fn pairs(&mut self, singles: &[Change]) {
        for (i, one) in singles.iter().enumerate() {
            for other in &singles[i + 1..] {
                if let Some(both) = together(one, other) {
                    self.offer(&both);
                }
            }
        }
        for one in singles {
            if !self.offers.is_empty() {
                return;
            }
            self.sizes(one);
        }
    }
}

/// Two changes at once; none where they speak of the same thing.
fn together(one: &Change, other: &Change) -> Option<Change> {
    let either = |a: Option<f64>, b: Option<f64>| match (a, b) {
        (Some(_), Some(_)) => Err(()),
        (a, b) => Ok(a.or(b)),
    };
    let sparge = match (one.sparge, other.sparge) {
        (Some(_), Some(_)) => return None,
        (a, b) => a.or(b),
    };
    let second_fill = one.second_fill || other.second_fill;
    if second_fill && matches!(sparge, Some(SpargeHow::None)) {
        return None;
    }
    let comes = if one.comes == AsItComes::default() { other.comes } else { one.comes };
    Some(Change {
        volume: either(one.volume, other.volume).ok()?,
        gravity: either(one.gravity, other.gravity).ok()?,
        second_fill,
        sparge,
        thickness: either(one.thickness, other.thickness).ok()?,
        boil_s: either(one.boil_s, other.boil_s).ok()?,
        hot_liquor: one.hot_liquor || other.hot_liquor,
        reserve_kg: one.reserve_kg.max(other.reserve_kg),
        flow_m3_s: either(one.flow_m3_s, other.flow_m3_s).ok()?,
        pitch_c: either(one.pitch_c, other.pitch_c).ok()?,
        shares: one.shares || other.shares,
        rests: one.rests || other.rests,
        comes,
        lent: Vec::new(),
    })
}
