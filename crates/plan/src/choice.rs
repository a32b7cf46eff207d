//! The numbers a plan is free to choose, where they start, and which of them the brew leaves open.
//! It simulates nothing.

use crate::setting::{Place, stated_shares};
use brew::{Brew, HopAmount, Reach, SpargeHow};
use brewhouse::vessel::Screen;
use matter::malt::Grist;
use matter::water;

/// Everything a procedure is built from.
#[derive(Debug, Clone)]
pub(crate) struct Choice {
    pub(crate) grist_kg: f64,
    pub(crate) shares: Vec<f64>,
    pub(crate) strike_kg: f64,
    /// Strike liquor per kg of grist, kg, where liquor is also run over the grain.
    pub(crate) thickness: f64,
    pub(crate) strike_c: f64,
    pub(crate) sparge_kg: f64,
    pub(crate) sparge_c: f64,
    /// Temperature of each rest.
    pub(crate) rest_c: Vec<f64>,
    /// Length of each rest, s.
    pub(crate) rest_s: Vec<f64>,
    /// How far rests marked `about` were moved, K; below the span their lengths grow instead.
    pub(crate) shift_k: f64,
    /// For each rest after the first: where the flame goes out, °C; liquor added, kg; share of the
    /// mash drawn. Which one counts is said by how the rest is reached.
    pub(crate) reach: Vec<f64>,
    pub(crate) run_off_m3_s: f64,
    pub(crate) pre_boil_m3: f64,
    pub(crate) boil_s: f64,
    pub(crate) hops_kg: Vec<f64>,
    /// When the tank is lit again for the sparge, s from the day's start.
    pub(crate) tank_light_s: f64,
    /// When the kettle is lit, s from the day's start.
    pub(crate) kettle_light_s: f64,
    /// Liquor heated beyond what is used, kg.
    pub(crate) reserve_kg: f64,
    /// How rests are reached and the bed is washed, after what the brewhouse has.
    pub(crate) ways: Ways,
}

/// How things are done on this brewhouse.
#[derive(Debug, Clone)]
pub(crate) struct Ways {
    pub(crate) reach: Vec<Reach>,
    pub(crate) sparge: SpargeHow,
    pub(crate) bag: bool,
    /// The liquor is heated in the kettle, which must be empty when wort comes.
    pub(crate) kettle_heats_liquor: bool,
    pub(crate) recirculation_m3_s: Option<f64>,
    pub(crate) second_fill: bool,
}

/// Hottest sparge liquor: above it the bed passes 78 °C and starch dissolves that no enzyme is left
/// for (common practice: about 77 °C keeps the bed below the limit).
pub(crate) const SPARGE_C: f64 = 77.0;
/// Run-off per bed area, m/s: 5 L/(min m²) (common practice at home; breweries 6 to 12).
const RUN_OFF_M_S: f64 = 5e-3 / 60.0;
/// How far rests marked `about` may be moved, K (our choice).
pub(crate) const REST_SPAN_K: f64 = 6.0;
/// Below this a rest makes no more fermentable wort, only slower, °C (highest fermentability of
/// published mashes: 62 to 65 °C).
const BEST_BETA_C: f64 = 62.5;
/// Strike liquor per kg of grist where the brew does not say, kg (common practice).
const THICKNESS: f64 = 3.0;
/// The same where hot liquor follows, kg.
const THICK: f64 = 2.2;
/// Liquor over the false bottom for each kg of grist at the least, kg, and the thinnest mash that
/// is still washed with sparge liquor, kg/kg (our choice).
const OVER_SCREEN: f64 = 1.8;
const THINNEST: f64 = 6.0;
/// How far the wort may stay over the wanted pitching temperature, K (common practice).
pub(crate) const CHILL_CARE_K: f64 = 1.5;
/// Place of the rests' shift in [`Choice::numbers`].
pub(crate) const SHIFT: usize = 4;
/// Heat that grain takes up over that of as much water: where a search starts or a flame is chosen,
/// never what a day is worked out with (common practice, no source).
pub(crate) const GRAIN_AS_WATER: f64 = 0.4;
/// Liquor that raises a mash, as it is where the search starts, °C (our choice).
const INFUSED_C: f64 = 92.0;
/// Share of a grist's extract that is first supposed to reach the kettle; the simulation corrects.
const FIRST_GUESS: f64 = 0.8;

impl Ways {
    pub(crate) fn of(place: &Place<'_>, brew: &Brew) -> Ways {
        let p = &place.parts;
        let bag = matches!(place.vessels[p.mash].screen, Some(Screen::Bag { .. }));
        let kettle_heats_liquor = p.liquor == p.kettle;
        // a tun without fire is stepped with hot liquor instead; the limits say it was not asked
        let fire = place.vessels[p.mash].heater.is_some();
        let reach = brew.rests.iter().map(|r| match &r.by {
            Reach::Fire if !fire && !kettle_heats_liquor => Reach::HotLiquor,
            other => other.clone(),
        });
        Ways {
            reach: reach.collect(),
            sparge: brew.sparge.how,
            bag,
            kettle_heats_liquor,
            recirculation_m3_s: crate::setting::recirculation_m3_s(place.brewhouse),
            second_fill: false,
        }
    }
}

/// Grist that is stated by its mass, kg.
fn stated_kg(brew: &Brew) -> f64 {
    let masses = brew.grist.iter().map(|g| match &g.amount {
        brew::GristAmount::Mass(m) => m.value.kilograms(),
        _ => 0.0,
    });
    masses.sum()
}

/// Strike liquor for each kg of grist to start from, kg/kg.
fn first_thickness(place: &Place<'_>, brew: &Brew, ways: &Ways, grist_kg: f64) -> f64 {
    let infused = ways.reach.iter().skip(1).any(|r| matches!(r, Reach::HotLiquor));
    let usual = if infused { THICK } else { THICKNESS };
    let thickness = brew.mash.thickness.map_or(usual, |t| 1e3 * t.m3_kg * 0.976);
    let open = brew.mash.thickness.is_none_or(|t| t.about);
    // what lies under the false bottom does not loosen the mash above it
    let under_kg = 970.0 * place.pots[place.parts.mash].under_m3;
    let loose = (OVER_SCREEN + under_kg / grist_kg.max(1e-6)).min(THINNEST);
    if open && !infused { thickness.max(loose) } else { thickness }
}

impl Choice {
    /// Where the search starts: closed balances with a guess of what the mash gives.
    pub(crate) fn start(place: &Place<'_>, brew: &Brew, grist: &Grist, ways: Ways) -> Choice {
        let wanted = &brew.wanted;
        let fraction = wanted.gravity.value.mass_fraction();
        let volume_m3 = wanted.volume.value.cubic_metres();
        let extract_kg = volume_m3 * matter::wort::density_kg_m3(fraction, 20.0) * fraction;
        let stated_kg = stated_kg(brew);
        let grist_kg = if stated_kg > 0.0 {
            stated_kg
        } else {
            1.08 * extract_kg / (grist.extract_fine * FIRST_GUESS)
        };
        let boil_s = brew.boil.length.as_ref().map_or(3600.0, |l| l.value.seconds());
        let kettle = place.vessels[place.parts.kettle];
        let boil_off_m3 = 36.0 * kettle.section.mouth_m2() * boil_s / 3600.0 * 1e-3;
        let pre_boil_m3 = volume_m3 / 0.96 + 1.5e-3 + boil_off_m3;
        let thickness = first_thickness(place, brew, &ways, grist_kg);
        let held_m3 = 1e-3 * grist_kg;
        let no_sparge = ways.bag || matches!(ways.sparge, SpargeHow::None);
        let strike_kg =
            if no_sparge { 970.0 * (pre_boil_m3 + held_m3) } else { thickness * grist_kg };
        let sparge_kg =
            if no_sparge { 0.0 } else { (970.0 * (pre_boil_m3 + held_m3) - strike_kg).max(1.0) };
        let rest_c: Vec<f64> = brew.rests.iter().map(|r| r.at.value.celsius()).collect();
        let first_c = rest_c.first().copied().unwrap_or(66.0);
        let (mut warmed_kg, mut infused_kg) = (strike_kg + GRAIN_AS_WATER * grist_kg, 0.0);
        let reach: Vec<f64> = brew
            .rests
            .iter()
            .enumerate()
            .map(|(i, r)| match ways.reach.get(i) {
                Some(Reach::HotLiquor) if i > 0 => {
                    // a heat balance of what is in the tun with liquor near the boil
                    let rise_k = (rest_c[i] - rest_c[i - 1]).max(0.0);
                    let poured_kg = warmed_kg * rise_k / (INFUSED_C - rest_c[i]).max(5.0);
                    warmed_kg += poured_kg;
                    infused_kg += poured_kg;
                    poured_kg
                }
                Some(Reach::Decoction { .. }) => 0.3,
                _ => r.at.value.celsius() - 0.5,
            })
            .collect();
        let tun = place.vessels[place.parts.mash];
        let area_m2 = tun.section.area_m2(0.5 * tun.section.brim_height_m());
        let usual = (RUN_OFF_M_S * area_m2).max(0.3e-3 / 60.0);
        Choice {
            grist_kg,
            shares: stated_shares(brew),
            strike_kg,
            thickness,
            strike_c: first_c + 9.0,
            sparge_kg: (sparge_kg - infused_kg).max(1.0_f64.min(sparge_kg)),
            sparge_c: brew.sparge.at.as_ref().map_or(SPARGE_C, |t| t.value.celsius()),
            rest_c,
            shift_k: 0.0,
            rest_s: brew.rests.iter().map(|r| r.length.value.seconds()).collect(),
            reach,
            run_off_m3_s: brew
                .sparge
                .rate
                .as_ref()
                .map_or(usual, |r| r.value.cubic_metres_per_second()),
            pre_boil_m3,
            boil_s,
            hops_kg: first_hops(brew, volume_m3),
            tank_light_s: 0.0,
            kettle_light_s: 0.0,
            reserve_kg: if no_sparge && ways.kettle_heats_liquor {
                0.0
            } else {
                place.brewhouse.reserve().cubic_metres() * water::density_kg_m3(75.0)
            },
            ways,
        }
    }

    /// The numbers the search moves together, in one row: grist, liquor over or under it, strike
    /// over the first rest, volume to collect, shift of the rests, share of the dark malt, then how
    /// each further rest is reached (flame out over the rest). Counted from the rests, so that a
    /// shift of the rests takes strike and flames along.
    pub(crate) fn numbers(&self, free_share: Option<(usize, usize)>) -> Vec<f64> {
        let mut all = vec![
            self.grist_kg,
            if self.no_sparge() { self.strike_kg } else { self.sparge_kg },
            self.strike_c - self.rest_c[0],
            self.pre_boil_m3,
            self.shift_k,
            free_share.map_or(0.0, |(dark, _)| self.shares[dark]),
        ];
        all.extend((1..self.reach.len()).map(|i| match self.ways.reach[i] {
            Reach::HotLiquor | Reach::Decoction { .. } => self.reach[i],
            _ => self.reach[i] - self.rest_c[i],
        }));
        all
    }

    /// Which of them something is free to move.
    pub(crate) fn moves(&self, free: &crate::solve::Free) -> Vec<bool> {
        let mut all =
            vec![free.grist, true, true, true, !free.rests.is_empty(), free.share.is_some()];
        all.extend(self.reach.iter().skip(1).map(|_| true));
        all
    }

    /// What counts as a small change of each of them.
    pub(crate) fn scales(&self) -> Vec<f64> {
        let mut all = vec![
            0.02 * self.grist_kg,
            0.02 * (self.strike_kg + self.sparge_kg),
            1.0,
            0.02 * self.pre_boil_m3,
            1.0,
            0.01,
        ];
        all.extend(self.ways.reach.iter().skip(1).map(|way| match way {
            Reach::HotLiquor => 0.1 * self.grist_kg,
            Reach::Decoction { .. } => 0.03,
            _ => 1.0,
        }));
        all
    }

    /// Between which values each of them may move.
    pub(crate) fn bounds(
        &self,
        stated_shares: &[f64],
        free_share: Option<(usize, usize)>,
        shift: (f64, f64),
    ) -> Vec<(f64, f64)> {
        let least_kg = if self.no_sparge() { 1.2 * self.grist_kg } else { 0.0 };
        let share = free_share.map_or((0.0, 0.0), |(dark, pale)| {
            crate::solve::share_bounds(stated_shares, dark, pale)
        });
        let mut all = vec![
            (0.3 * self.grist_kg, 3.0 * self.grist_kg),
            (least_kg, 5.0 * (self.strike_kg + self.sparge_kg)),
            (-10.0, 50.0),
            (0.3 * self.pre_boil_m3, 3.0 * self.pre_boil_m3),
            shift,
            share,
        ];
        all.extend(self.ways.reach.iter().skip(1).map(|way| match way {
            Reach::HotLiquor => (0.0, 20.0 * self.grist_kg),
            Reach::Decoction { .. } => (0.02, 0.9),
            _ => (-15.0, 15.0),
        }));
        all
    }

    /// Takes the numbers of a row.
    pub(crate) fn take(
        &mut self,
        row: &[f64],
        brew: &Brew,
        free_rests: &[usize],
        free_share: Option<(usize, usize)>,
    ) {
        self.grist_kg = row[0];
        if self.no_sparge() {
            self.strike_kg = row[1];
        } else {
            self.sparge_kg = row[1];
        }
        self.pre_boil_m3 = row[3];
        self.move_rests(brew, free_rests, row[SHIFT]);
        self.strike_c = self.rest_c[0] + row[2];
        if let Some((dark, _)) = free_share {
            self.shares[dark] = row[5];
        }
        for i in 1..self.reach.len() {
            self.reach[i] = match self.ways.reach[i] {
                Reach::HotLiquor | Reach::Decoction { .. } => row[5 + i],
                _ => self.rest_c[i] + row[5 + i],
            };
        }
    }

    /// Brings every number back to what the brew and the pots allow, and the rests to their shift.
    pub(crate) fn keep_within(
        &mut self,
        brew: &Brew,
        free_rests: &[usize],
        stated_shares: &[f64],
        free_share: Option<(usize, usize)>,
    ) {
        self.grist_kg = self.grist_kg.clamp(1e-3, 1e4);
        self.strike_kg = self.strike_kg.max(1.2 * self.grist_kg);
        self.sparge_kg = self.sparge_kg.max(0.0);
        self.strike_c = self.strike_c.clamp(15.0, 100.0);
        self.pre_boil_m3 = self.pre_boil_m3.max(1e-4);
        for i in 1..self.reach.len() {
            let (low, high) = match self.ways.reach[i] {
                Reach::HotLiquor => (0.0, 20.0 * self.grist_kg),
                Reach::Decoction { .. } => (0.02, 0.9),
                _ => (15.0, 105.0),
            };
            self.reach[i] = self.reach[i].clamp(low, high);
        }
        for kg in &mut self.hops_kg {
            *kg = kg.max(0.0);
        }
        match free_share {
            Some((dark, pale)) => {
                let stated = stated_shares[dark];
                let (low, high) = crate::solve::share_bounds(stated_shares, dark, pale);
                let share = self.shares[dark].clamp(low, high);
                self.shares.copy_from_slice(stated_shares);
                self.shares[dark] = share;
                self.shares[pale] -= share - stated;
            }
            None => self.shares.copy_from_slice(stated_shares),
        }
        if !self.no_sparge() {
            self.strike_kg = self.thickness * self.grist_kg;
        }
        let shift_k = self.shift_k.clamp(-2.0 * REST_SPAN_K, REST_SPAN_K);
        self.move_rests(brew, free_rests, shift_k);
    }

    /// Moves the free rests together: warmer for less fermentable wort; cooler, though not below
    /// where beta-amylase works best, and then longer, for more.
    fn move_rests(&mut self, brew: &Brew, free: &[usize], shift_k: f64) {
        self.shift_k = shift_k;
        let cooler = shift_k.clamp(-REST_SPAN_K, REST_SPAN_K);
        let longer = 1.0 + (-REST_SPAN_K - shift_k).max(0.0) / REST_SPAN_K;
        for &i in free {
            let stated_c = brew.rests[i].at.value.celsius();
            self.rest_c[i] = (stated_c + cooler).max(stated_c.min(BEST_BETA_C));
            if brew.rests[i].length.about {
                self.rest_s[i] = longer * brew.rests[i].length.value.seconds();
            }
        }
    }

    /// No liquor is run over the grain.
    pub(crate) fn no_sparge(&self) -> bool {
        self.ways.bag || matches!(self.ways.sparge, SpargeHow::None)
    }

    /// Cold liquor filled into the tank before heating, kg.
    pub(crate) fn fill_kg(&self, left_kg: f64) -> f64 {
        let infused: f64 = self
            .ways
            .reach
            .iter()
            .zip(&self.reach)
            .skip(1)
            .map(|(way, &kg)| if matches!(way, Reach::HotLiquor) { kg } else { 0.0 })
            .sum();
        let sparge = if self.ways.second_fill { 0.0 } else { self.sparge_kg };
        self.strike_kg + infused + sparge + self.reserve_kg + left_kg
    }
}

/// Hops for the first simulation: a fifth of their alpha ends as bitterness.
fn first_hops(brew: &Brew, volume_m3: f64) -> Vec<f64> {
    let wanted = brew.wanted.bitterness.as_ref().map_or(0.0, |b| b.value.ibu());
    let shares = bitterness_shares(brew);
    brew.hops
        .iter()
        .zip(shares)
        .map(|(hop, share)| match &hop.amount {
            HopAmount::Mass(m) => m.value.kilograms(),
            _ => {
                let alpha = hop.alpha.as_ref().map_or(0.08, |a| a.value.fraction()).max(1e-3);
                share * wanted * 1e-3 * volume_m3 / (0.2 * alpha)
            }
        })
        .collect()
}

/// What each addition is to give of the wanted bitterness; zero for those with a stated mass.
pub(crate) fn bitterness_shares(brew: &Brew) -> Vec<f64> {
    let wanted = brew.wanted.bitterness.as_ref().map_or(0.0, |b| b.value.ibu()).max(1e-9);
    let mut shares: Vec<f64> = brew
        .hops
        .iter()
        .map(|hop| match &hop.amount {
            HopAmount::Gives(b) => b.value.ibu() / wanted,
            HopAmount::Share(s) => s.value.fraction(),
            _ => 0.0,
        })
        .collect();
    let rests: Vec<usize> =
        (0..brew.hops.len()).filter(|&i| matches!(brew.hops[i].amount, HopAmount::Rest)).collect();
    let left = (1.0 - shares.iter().sum::<f64>()).max(0.0);
    for &i in &rests {
        shares[i] = left / rests.len() as f64;
    }
    shares
}
