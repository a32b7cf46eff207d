//! Which changes are tried, and in which order: what the brew leaves open, each way of doing by
//! itself, sizes by bisection, and pairs where nothing by itself helps. It judges no day.

use super::Search;
use super::change::{self, AsItComes, Change};
use crate::output::Limit;
use crate::solve::Solved;
use brew::{Reach, SpargeHow};
use brewhouse::vessel::Part;
use day::setting::Chiller;

/// Strike liquor of ever thicker mashes, kg per kg of grist (common practice: 2 is stiff).
const THICKER: [f64; 5] = [3.2, 2.9, 2.6, 2.2, 1.9];
/// Liquor over the false bottom below which a mash is a dough, kg per kg of grist (our choice).
const LEAST_OVER: f64 = 1.5;
/// Factors tried before a size is narrowed down, on the size at which the worst pot is about full.
const SMALLER: [f64; 6] = [1.03, 0.92, 0.78, 0.6, 0.42, 0.28];
/// The same on the size at which the emptiest pot is about covered.
const LARGER: [f64; 6] = [0.9, 1.15, 1.45, 1.85, 2.4, 3.2];
const WEAKER: [f64; 3] = [0.85, 0.7, 0.55];
/// Pots that a smaller brew does not fill; no way of doing helps a fermenter.
const FULL: [&str; 4] = ["tank_brim", "tun_brim", "kettle_head_space", "fermenter_brim"];
/// What less to heat mends.
const POWER: [&str; 2] = ["tank_power", "kettle_power"];
/// What less grain at the same volume can mend.
const GRAIN: [&str; 4] = ["tun_brim", "gravity", "mash_stiffness", "bed_flow"];
/// What only another way of doing or a heater mends.
const UNHEATED: [&str; 4] = ["tank_heater", "mash_heater", "kettle_heater", "hot_liquor_pot"];
/// No size between is worth a change, as a factor.
const SAME_SIZE: f64 = 0.98;
/// A search that missed by more has lost its way; after so many the next would too.
const LOST: f64 = 0.01;
const MOST_LOST: usize = 3;
/// Most steps in which a size is narrowed down, how near its two sides then are, and how far on the
/// side that fits the next is looked for.
const NARROWINGS: usize = 5;
const NARROW: f64 = 0.008;
const INSIDE: f64 = 0.01;
/// Steps in which a volume is spoken of, m³, and a gravity, °P.
const STEP_M3: f64 = 1e-4;
const STEP_PLATO: f64 = 0.1;
/// What is offered stays this much on the side that fits, so that it fits when asked for anew.
const SPARE: f64 = 0.998;
/// Shortest boil where its length is left open, as a factor (our choice).
const OPEN_SHORT: f64 = 0.75;
/// Liquor over what must cover an element, as a factor.
const OVER_ELEMENT: f64 = 1.1;
/// Part of what bed and valve give at which a run-off is at ease.
const EASY_FLOW: f64 = 0.5;

impl Search<'_> {
    /// Tries what could help.
    pub(super) fn explore(&mut self, asked: Option<&Solved>) {
        // what stands in the way of several pots, or of the fermenter, is the size
        let full = FULL.iter().filter(|id| self.is_broken(id)).count();
        for part in self.weak_heaters() {
            // a heater shows nothing where several pots are too full; a tun's lets it be fired
            if full <= 1 || part == Part::Mash {
                self.attempt(&Change { lent: vec![part], ..Change::default() });
            }
        }
        let mut singles = self.singles(asked);
        singles.iter().for_each(|change| self.offer(change));
        // no size brings a heater
        let sized = self.of_pots() && !UNHEATED.iter().any(|id| self.is_broken(id));
        if sized && full > 1 {
            self.sizes(&Change::default());
        }
        // where the asked day could not be found, ways that need its liquor show little
        let found = asked.is_none_or(|a| a.miss < LOST);
        let worth = found || (full <= 1 && self.offers.is_empty());
        if self.of_pots() && !self.is_broken("fermenter_brim") && worth {
            let ways = self.ways(asked);
            for change in &ways {
                // the least that helps is enough
                if change.thickness.is_none() || !self.offers_thickness() {
                    self.offer(change);
                }
            }
            singles.extend(ways);
        }
        // from a day that could not be found sizes are looked for only where nothing else helps
        if sized && full <= 1 && (found || self.offers.is_empty()) {
            let with = self.with_less_to_heat(found);
            self.sizes(&with);
        }
        if self.offers.is_empty() && found {
            self.pairs(&singles);
        }
        self.with_sizes(&singles);
    }

    fn offers_thickness(&self) -> bool {
        self.offers.iter().any(|&i| self.tried[i].change.thickness.is_some())
    }

    /// What sizes are looked for with: two fillings where only they leave the tank time enough.
    fn with_less_to_heat(&self, found: bool) -> Change {
        let twice = Change { second_fill: true, ..Change::default() };
        let power_alone =
            |t: &super::Tried| t.candidate.broken.iter().all(|id| POWER.contains(&id.as_str()));
        let tried = self.tried.iter().find(|t| t.change == twice);
        if !found && tried.is_some_and(power_alone) { twice } else { Change::default() }
    }

    /// Something is not kept that another amount or way of doing could mend.
    fn of_pots(&self) -> bool {
        const OTHER: [&str; 7] = [
            "bitterness",
            "colour",
            "fermentability",
            "pitch_temperature",
            "rest_temperature",
            "sparge_temperature",
            "mash_heater",
        ];
        let asked = self.asked.as_ref();
        asked.is_none_or(|a| a.broken.iter().any(|id| !OTHER.contains(&id.as_str())))
    }

    /// Changes of a brew's open numbers alone; nothing that is stated moves.
    pub(super) fn open_changes(&self, asked: &Solved) -> Vec<Change> {
        let mut all = Vec::new();
        // nothing that is left open mends these
        if UNHEATED.iter().any(|id| self.is_broken(id)) || self.is_broken("fermenter_brim") {
            return all;
        }
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
            let now = asked.choice.thickness;
            all.extend(
                thicker
                    .into_iter()
                    .filter(|c| c.thickness.is_some_and(|t| t < now && self.stirs(Some(asked), t))),
            );
        }
        let boils: &[f64] = if self.is_broken("kettle_head_space") {
            &[0.85, OPEN_SHORT]
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

    /// What mends one thing by itself.
    fn singles(&self, asked: Option<&Solved>) -> Vec<Change> {
        let none = Change::default;
        let mut all = Vec::new();
        all.extend(asked.and_then(|a| self.reserve(a)));
        if let Some(asked) = asked.filter(|a| a.miss < LOST) {
            all.extend(self.slower(asked));
            all.extend(self.wishes(asked));
        }
        let fired = self.brew.rests.iter().skip(1).any(|r| matches!(r.by, Reach::Fire));
        let unheated = ["mash_heater", "mash_power"].iter().any(|id| self.is_broken(id));
        let steps = ["hot_liquor_pot", "decoction_volume", "rest_2", "rest_3", "rest_4"];
        let missed = steps.iter().any(|id| self.is_broken(id));
        if self.brew.rests.len() > 1 && (missed || (fired && unheated)) {
            all.push(Change { one_rest: true, ..none() });
            if fired && unheated && self.place.parts.liquor != self.place.parts.mash {
                all.push(Change { hot_liquor: true, ..none() });
            }
        }
        if self.is_broken("pitch_temperature") {
            all.extend(self.pitch(asked));
        }
        all
    }

    /// Other ways of doing, and other lengths of the boil.
    fn ways(&self, asked: Option<&Solved>) -> Vec<Change> {
        let none = Change::default;
        let mut all = Vec::new();
        let bag = asked.is_some_and(|a| a.choice.ways.bag);
        let p = self.place.parts;
        let washes = !bag && !matches!(self.brew.sparge.how, SpargeHow::None);
        if washes && p.liquor != p.kettle {
            all.push(Change { second_fill: true, ..none() });
        }
        // from a day that lost its way for want of power only less to heat at once leads back
        let weak = POWER.iter().any(|id| self.is_broken(id));
        if weak && asked.is_some_and(|a| a.miss > LOST) {
            return all;
        }
        if washes && matches!(self.brew.sparge.how, SpargeHow::Continuous) {
            all.push(Change { sparge: Some(SpargeHow::Drains(2)), ..none() });
        }
        if washes {
            all.push(Change { sparge: Some(SpargeHow::None), ..none() });
        }
        if !bag && self.is_broken("tun_brim") {
            let now = asked.map_or(f64::INFINITY, |a| a.choice.thickness);
            let thicker = THICKER.into_iter().filter(|&t| t < now && self.stirs(asked, t));
            all.extend(thicker.map(|t| Change { thickness: Some(t), ..none() }));
        }
        if self.is_broken("kettle_head_space") || self.is_broken("tank_brim") {
            all.push(self.boil(0.67));
        }
        if self.is_broken("gravity") && asked.is_none_or(|a| a.miss < LOST) {
            all.extend([self.boil(1.5), self.boil(2.0)]);
        }
        all
    }

    /// A thicker mash still has liquor enough over the false bottom to be stirred.
    fn stirs(&self, asked: Option<&Solved>, thickness: f64) -> bool {
        let under_kg = 970.0 * self.place.pots[self.place.parts.mash].under_m3;
        asked.is_none_or(|a| thickness - under_kg / a.choice.grist_kg > LEAST_OVER)
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
            // a grist that is given by mass makes what it makes
            gravity_plato: (missed("gravity") && change::by_mass(self.brew)).then_some(o.plato),
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
        let open = self.open_mends(with);
        let volume = |f: f64| Change { volume: Some(f), ..open.clone() };
        let wanted_m3 = self.brew.wanted.volume.value.cubic_metres();
        let (limits, known) = self.limits_with(with);
        let too = |ids: &[&str]| {
            let broken = limits.iter().any(|l| !l.kept && ids.contains(&l.id.as_str()));
            broken || (!known && ids.iter().any(|id| self.is_broken(id)))
        };
        // a pot that is only too empty asks for more, not for less
        let larger = too(&["tank_least_level", "kettle_least_level"]) && !too(&FULL);
        let far = if larger { self.larger(&limits) } else { smaller(&limits) };
        let found = self.narrow(&far, &volume);
        if let Some(f) = found {
            let steps = f * wanted_m3 / STEP_M3;
            // to a whole step on the side that fits
            let whole = if f < 1.0 { (SPARE * steps).floor() } else { (steps / SPARE).ceil() };
            self.offer_rounded(&volume(whole * STEP_M3 / wanted_m3), &volume(f));
        }
        // weaker wort takes no less room in a kettle or a fermenter, and draws no less power
        let grain = GRAIN.iter().any(|id| self.is_broken(id));
        if !grain || larger || self.is_broken("fermenter_brim") {
            return;
        }
        let gravity = |f: f64| Change { gravity: Some(f), ..with.clone() };
        let plato = self.brew.wanted.gravity.value.plato();
        if let Some(f) = self.narrow(&WEAKER, &gravity) {
            let whole = (SPARE * f * plato / STEP_PLATO).floor() * STEP_PLATO;
            self.offer_rounded(&gravity(whole / plato), &gravity(f));
        }
    }

    /// A change together with what the brew leaves open and a full pot asks for; a day asked for
    /// anew is brought to fit by the same.
    fn open_mends(&self, with: &Change) -> Change {
        let mut open = with.clone();
        let shortest_s = self.boil(OPEN_SHORT).boil_s.unwrap_or(3600.0);
        // asked for anew, a tank that is full is not helped by the boil
        if self.is_broken("kettle_head_space")
            && !self.is_broken("tank_brim")
            && open.boil_s.is_none()
            && change::boil_is_open(self.brew, shortest_s)
        {
            open.boil_s = Some(shortest_s);
        }
        open
    }

    /// What a change held, or what was asked held where the change was not tried; whether it was.
    fn limits_with(&self, with: &Change) -> (Vec<Limit>, bool) {
        let tried = self.tried.iter().find(|t| t.change == *with);
        let limits = tried.map_or_else(|| self.asked_limits.clone(), |t| t.limits.clone());
        (limits, tried.is_some() || self.asked.is_some())
    }

    /// Larger sizes to try, from about where the emptiest pot is covered on.
    fn larger(&self, limits: &[Limit]) -> Vec<f64> {
        let p = self.place.parts;
        let pots = [("tank_least_level", p.liquor), ("kettle_least_level", p.kettle)];
        let low = limits.iter().filter(|l| !l.kept).filter_map(|l| {
            let pot = pots.iter().find(|(id, _)| *id == l.id)?.1;
            let section = &self.place.vessels[pot].section;
            let (has, needs) = (1e-3 * l.value, 1e-3 * l.bound);
            Some(section.volume_m3(needs) / section.volume_m3(has).max(1e-4))
        });
        let least = low.fold(1.1, f64::max);
        LARGER.iter().map(|f| f * least).filter(|f| f * SAME_SIZE > 1.0).collect()
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
        let (mut bad, mut good, mut lost) = (1.0, None, 0);
        let mut before: Vec<String> = Vec::new();
        for &f in far {
            let tried = self.attempt(&change(f))?;
            if self.tried[tried].fits() {
                good = Some(f);
                break;
            }
            lost += usize::from(self.tried[tried].solved.miss > LOST);
            if lost == MOST_LOST {
                return None;
            }
            // too full at one size, missed for another reason at the next: between them it may fit
            let now = self.tried[tried].candidate.broken.clone();
            if !before.is_empty() && before.iter().all(|id| !now.contains(id)) {
                let middle = self.between(f, bad, change);
                if self.fits(&change(middle)) {
                    good = Some(middle);
                    break;
                }
            }
            before = now;
            bad = f;
        }
        let mut good = good?;
        let most = if good > 1.0 { NARROWINGS / 2 } else { NARROWINGS };
        for _ in 0..most {
            // how much larger a brew must be need not be known as well
            let near = if good > 1.0 { 4.0 * NARROW } else { NARROW };
            if (bad / good - 1.0).abs() < near {
                break;
            }
            let middle = self.between(good, bad, change);
            if self.fits(&change(middle)) {
                good = middle;
            } else {
                bad = middle;
            }
        }
        Some(good)
    }

    /// Where the line through what is broken at one size and kept at another meets its bound, and a
    /// little to the side that fits.
    fn between(&mut self, good: f64, bad: f64, change: &impl Fn(f64) -> Change) -> f64 {
        let limits_at = |search: &mut Self, f: f64| {
            if f == 1.0 && change(f).is_size_only() {
                return Some(search.asked_limits.clone());
            }
            search.attempt(&change(f)).map(|i| search.tried[i].limits.clone())
        };
        let middle = (good * bad).sqrt();
        let (Some(kept), Some(over)) = (limits_at(self, good), limits_at(self, bad)) else {
            return middle;
        };
        let crossings = over.iter().filter(|l| !l.kept).filter_map(|b| {
            let a = kept.iter().find(|a| a.id == b.id && a.vessel == b.vessel)?;
            let (from, to) = (a.value - a.bound, b.value - b.bound);
            (from * to < 0.0).then(|| from / (from - to))
        });
        let share = crossings.fold(1.0, f64::min);
        if share >= 1.0 {
            return middle;
        }
        good + (bad - good) * (share - INSIDE).clamp(0.02, 0.98)
    }

    /// Where no way helps by itself: pairs of them.
    fn pairs(&mut self, singles: &[Change]) {
        for (i, one) in singles.iter().enumerate() {
            for other in &singles[i + 1..] {
                if let Some(both) = together(one, other) {
                    self.offer(&both);
                }
            }
        }
    }

    /// Where nothing helps yet: each way that could be solved together with the size.
    fn with_sizes(&mut self, singles: &[Change]) {
        for one in singles {
            if !self.offers.is_empty() {
                return;
            }
            let heated = self.tried.iter().find(|t| t.change == *one).is_none_or(|t| {
                t.candidate.broken.iter().all(|id| !UNHEATED.contains(&id.as_str()))
            });
            if heated {
                self.sizes(one);
            }
        }
    }
}

/// Smaller sizes to try, from about where the fullest pot is full on.
fn smaller(limits: &[Limit]) -> Vec<f64> {
    let over = |l: &&Limit| {
        let id = l.id.as_str();
        !l.kept && (FULL.contains(&id) || POWER.contains(&id))
    };
    let most = limits.iter().filter(over).map(|l| l.bound / l.value.max(1e-9)).fold(0.95, f64::min);
    SMALLER.iter().map(|f| f * most).filter(|f| *f < SAME_SIZE).collect()
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
    let rests = (one.hot_liquor || other.hot_liquor) && (one.one_rest || other.one_rest);
    if rests || (second_fill && matches!(sparge, Some(SpargeHow::None))) {
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
        one_rest: one.one_rest || other.one_rest,
        reserve_kg: one.reserve_kg.max(other.reserve_kg),
        flow_m3_s: either(one.flow_m3_s, other.flow_m3_s).ok()?,
        pitch_c: either(one.pitch_c, other.pitch_c).ok()?,
        shares: one.shares || other.shares,
        rests: one.rests || other.rests,
        comes,
        lent: Vec::new(),
    })
}
