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
const THICKER: [f64; 3] = [2.6, 2.2, 1.9];
/// Liquor over the false bottom below which a mash is a dough, kg per kg of grist (our choice).
const LEAST_OVER: f64 = 1.5;
/// Factors tried before a size is narrowed down.
const SMALLER: [f64; 6] = [0.85, 0.68, 0.5, 0.35, 0.24, 0.16];
const LARGER: [f64; 3] = [1.3, 1.7, 2.2];
const WEAKER: [f64; 3] = [0.85, 0.7, 0.55];
/// Pots that a smaller brew does not fill; no way of doing helps a fermenter.
const FULL: [&str; 4] = ["tank_brim", "tun_brim", "kettle_head_space", "fermenter_brim"];
/// What only another way of doing or a heater mends.
const UNHEATED: [&str; 4] = ["tank_heater", "mash_heater", "kettle_heater", "hot_liquor_pot"];
/// A size this much over that of a full pot may still fit, as a factor.
const NEAR_FULL: f64 = 1.05;
/// A search that missed by more has lost its way; after so many the next would too.
const LOST: f64 = 0.01;
const MOST_LOST: usize = 3;
/// Most steps in which a size is narrowed down, how near its two sides then are, and how far on the
/// side that fits the next is looked for.
const NARROWINGS: usize = 5;
const NARROW: f64 = 0.012;
const INSIDE: f64 = 0.01;
/// Steps in which a volume is spoken of, m³, and a gravity, °P.
const STEP_M3: f64 = 1e-4;
const STEP_PLATO: f64 = 0.1;
/// What is offered stays this much on the side that fits, so that it fits when asked for anew.
const SPARE: f64 = 0.998;
/// Liquor over what must cover an element, as a factor.
const OVER_ELEMENT: f64 = 1.1;
/// Part of what bed and valve give at which a run-off is at ease.
const EASY_FLOW: f64 = 0.5;

impl Search<'_> {
    /// Tries what could help.
    pub(super) fn explore(&mut self, asked: Option<&Solved>) {
        for part in self.weak_heaters() {
            self.attempt(&Change { lent: vec![part], ..Change::default() });
        }
        let mut singles = self.singles(asked);
        let size = Change { volume: Some(SMALLER[0]), ..Change::default() };
        let starts = asked.is_none() || self.start(&size).is_some();
        // no size brings a heater
        let sized = self.of_pots() && starts && !UNHEATED.iter().any(|id| self.is_broken(id));
        // what stands in the way of several pots, or of the fermenter, is the size
        let full = FULL.iter().filter(|id| self.is_broken(id)).count();
        if sized && full > 1 {
            self.sizes(&Change::default());
        }
        // where the asked day could not be found, ways that need its liquor show nothing
        let ways = asked.is_none_or(|a| a.miss < LOST) && self.of_pots();
        if ways && !self.is_broken("fermenter_brim") {
            singles.extend(self.ways(asked));
        }
        for change in &singles {
            self.offer(change);
        }
        if sized && full <= 1 {
            self.sizes(&Change::default());
        }
        if self.offers.is_empty() && starts {
            self.pairs(&singles);
        }
        self.with_sizes(&singles);
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

    /// What mends one thing by itself.
    fn singles(&self, asked: Option<&Solved>) -> Vec<Change> {
        let none = Change::default;
        let mut all = Vec::new();
        if let Some(asked) = asked.filter(|a| a.miss < LOST) {
            all.extend(self.reserve(asked));
            all.extend(self.slower(asked));
            all.extend(self.wishes(asked));
        }
        let fired = self.brew.rests.iter().skip(1).any(|r| matches!(r.by, Reach::Fire));
        let unheated = ["mash_heater", "mash_power"];
        if fired && unheated.iter().any(|id| self.is_broken(id)) {
            all.push(Change { one_rest: true, ..none() });
            if self.place.parts.liquor != self.place.parts.mash {
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
        if self.is_broken("gravity") {
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
        let too = |ids: &[&str]| ids.iter().any(|id| self.is_broken(id));
        // a pot that is only too empty asks for more, not for less
        let (large, full) = (too(&["tank_least_level", "kettle_least_level"]), too(&FULL));
        let smaller = if large && !full { Vec::new() } else { self.smaller(with) };
        let found = self.narrow(&smaller, &volume);
        let found =
            found.or_else(|| if large && !full { self.narrow(&LARGER, &volume) } else { None });
        if let Some(f) = found {
            let steps = f * wanted_m3 / STEP_M3;
            // to a whole step on the side that fits
            let whole = if f < 1.0 { (SPARE * steps).floor() } else { (steps / SPARE).ceil() };
            self.offer_rounded(&volume(whole * STEP_M3 / wanted_m3), &volume(f));
        }
        // weaker wort takes no less room in a fermenter
        if self.is_broken("fermenter_brim") {
            return;
        }
        let gravity = |f: f64| Change { gravity: Some(f), ..with.clone() };
        let plato = self.brew.wanted.gravity.value.plato();
        if let Some(f) = self.narrow(&WEAKER, &gravity) {
            let whole = (SPARE * f * plato / STEP_PLATO).floor() * STEP_PLATO;
            self.offer_rounded(&gravity(whole / plato), &gravity(f));
        }
    }

    /// Factors to try, from about where the fullest pot would be full on.
    fn smaller(&self, with: &Change) -> Vec<f64> {
        let fullest = |all: &[Limit]| {
            let full = all.iter().filter(|l| !l.kept && FULL.contains(&l.id.as_str()));
            full.map(|l| l.bound / l.value.max(1e-9)).fold(1.0, f64::min)
        };
        let tried = self.tried.iter().find(|t| t.change == *with);
        let most = tried.map_or_else(|| fullest(&self.asked_limits), |t| fullest(&t.limits));
        // the sizes beside it show on which side the largest lies
        SMALLER.into_iter().filter(|f| *f < NEAR_FULL * most).collect()
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
        for _ in 0..NARROWINGS {
            if (bad / good - 1.0).abs() < NARROW {
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
            let size = Change { volume: Some(SMALLER[0]), ..one.clone() };
            let heated = self.tried.iter().find(|t| t.change == *one).is_none_or(|t| {
                t.candidate.broken.iter().all(|id| !UNHEATED.contains(&id.as_str()))
            });
            if heated && self.start(&size).is_some() {
                self.sizes(one);
            }
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
