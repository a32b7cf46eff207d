//! The constants of the mash, each with where it comes from, and the laws of temperature, pH and
//! strength made ready for an inner loop. It deliberately holds no state of a mash.

use crate::table::UniformTables;
use matter::nature::GAS_J_MOL_K;
use numerics::math::exp;

const T60_K: f64 = 333.15;
const T65_K: f64 = 338.15;

/// Turnover of an enzyme against temperature: 1 at 65 °C.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Turnover {
    /// Activation energy, J/mol.
    pub activation_j_mol: f64,
    /// Enthalpy of reversible unfolding, J/mol.
    pub unfolding_j_mol: f64,
    /// Temperature at which half of it is unfolded, °C.
    pub half_c: f64,
}

impl Turnover {
    /// Activity relative to 65 °C.
    ///
    /// ```text
    /// a(T) = exp(-E/R (1/T - 1/338.15))/(1 + exp(H/R (1/T_half - 1/T)))   over the same at 338.15
    /// ```
    ///
    /// Shape: Arrhenius turnover times the share folded right now; never negative, no clamp.
    ///
    /// | symbol | argument | unit | holds for   |
    /// |--------|----------|------|-------------|
    /// | `T`    | `temp_k` | K    | 273 to 383  |
    ///
    /// # Source
    /// Our fit to the activities of Brandam et al. 2003, Biochem. Eng. J. 13:43 (second-hand
    /// digits), 45 to 67 °C; within 0.08 (alpha) and 0.06 (beta).
    pub fn activity(&self, temp_k: f64) -> f64 {
        self.bare(temp_k) / self.bare(T65_K)
    }

    fn bare(&self, temp_k: f64) -> f64 {
        let half_k = self.half_c + 273.15;
        let unfolded = exp(self.unfolding_j_mol / GAS_J_MOL_K * (1.0 / half_k - 1.0 / temp_k));
        arrhenius(self.activation_j_mol, T65_K, temp_k) / (1.0 + unfolded)
    }
}

/// Irreversible loss of an enzyme.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Loss {
    /// Rate at 65 °C in water, 1/s.
    pub per_s: f64,
    /// Activation energy, J/mol.
    pub activation_j_mol: f64,
    /// Shelter by sugar, 1/°P.
    pub shelter_per_plato: f64,
    /// It is not lost faster than this in water, 1/s (our choice): heat needs seconds to reach an
    /// enzyme, and the Arrhenius law would go on to thousands per second at the boil.
    pub fastest_per_s: f64,
}

impl Loss {
    /// Rate of loss at a temperature and strength, 1/s.
    ///
    /// ```text
    /// k = k_w exp(-shelter P)      k_w = k_a/(1 + (k_a/fastest)⁴)^(1/4)
    /// k_a = k_d exp(-E_d/R (1/T - 1/338.15))
    /// ```
    ///
    /// | symbol | argument | unit | holds for  |
    /// |--------|----------|------|------------|
    /// | `T`    | `temp_k` | K    | 273 to 383 |
    /// | `P`    | `plato`  | °P   | 0 to 30    |
    ///
    /// # Source
    /// Rate and energy: Brandam et al. 2003 at 8 to 10 °P (from memory); shelter of beta-amylase:
    /// our fit to Muller 1990 (second-hand); sugar shelters protein: JASBC 2016, stability of
    /// beta-amylase in maltose (abstract).
    pub fn rate_per_s(&self, temp_k: f64, plato: f64) -> f64 {
        self.in_water_per_s(temp_k) * exp(-self.shelter_per_plato * plato)
    }

    fn in_water_per_s(&self, temp_k: f64) -> f64 {
        let free_per_s = self.per_s * arrhenius(self.activation_j_mol, T65_K, temp_k);
        capped_per_s(free_per_s, self.fastest_per_s)
    }
}

fn capped_per_s(free_per_s: f64, fastest_per_s: f64) -> f64 {
    let over = free_per_s / fastest_per_s;
    if over < 0.02 {
        return free_per_s; // the cap would take 4e-8 of it
    }
    let square = over * over;
    free_per_s / (1.0 + square * square).sqrt().sqrt()
}

/// Gelatinisation of one class of granules.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Gelatinisation {
    /// Rate at 60 °C and 8 °P, 1/s.
    pub per_s: f64,
    /// Activation energy, J/mol.
    pub activation_j_mol: f64,
}

impl Gelatinisation {
    /// Rate at a temperature already corrected for lot and strength, 1/s.
    ///
    /// ```text
    /// 1/g = 1/{k exp[-E/R (1/T_g - 1/333.15)]} + 1/k_swell
    /// ```
    ///
    /// | symbol    | argument         | unit | holds for  |
    /// |-----------|------------------|------|------------|
    /// | `T_g`     | `gel_k`          | K    | 273 to 383 |
    /// | `k_swell` | `swelling_per_s` | 1/s  | positive   |
    ///
    /// # Source
    /// Our fit to Rittenauer, Gladis, Gastl and Becker 2021, Foods 10:1733.
    pub fn rate_per_s(&self, gel_k: f64, swelling_per_s: f64) -> f64 {
        let free = self.per_s * arrhenius(self.activation_j_mol, T60_K, gel_k);
        free * swelling_per_s / (free + swelling_per_s)
    }
}

/// Constants of the mash. The default is the centre of each for a home grist (roll gap 0.64 mm).
///
/// Where a source is not named, the number is our fit to the published behaviour listed in
/// [`liquid_rates`](super::liquid_rates) and [`solid_rates`](super::solid_rates).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Kinetics {
    /// Share of the starch mass in small granules (from memory).
    pub small: f64,
    /// Share of the grist in grits that wet slowly: 0.50 measured in one home crush; laboratory
    /// fine grind 0.02, laboratory mash 0.10 (common practice).
    pub grit: f64,
    /// Time constant of wetting of the grits, s (one home brewer's two mashes).
    pub grit_s: f64,
    /// Share of the starch that is never reached (common practice).
    pub shut: f64,
    /// Share of the grist in dry balls at dough-in (common practice); they are counted with the
    /// grits, as if stirred once.
    pub dough_loss: f64,
    /// Large granules.
    pub large_granules: Gelatinisation,
    /// Small granules.
    pub small_granules: Gelatinisation,
    /// Fastest swelling, 1/s.
    pub swelling_per_s: f64,
    /// Shift of gelatinisation of this lot, K.
    pub gel_shift_k: f64,
    /// Rise of the gelatinisation temperature with strength, K/°P (0.4 published by De Schepper
    /// and Courtin 2022, Food Hydrocolloids 107745; less is needed by Harris and MacWilliam 1961).
    pub gel_k_per_plato: f64,
    /// Strength at which the gelatinisation rates hold, °P.
    pub gel_plato: f64,
    /// Turnover of alpha-amylase.
    pub alpha: Turnover,
    /// Turnover of beta-amylase.
    pub beta: Turnover,
    /// Turnover of the free debranching enzyme (assumption).
    pub debranch: Turnover,
    /// Loss of alpha-amylase.
    pub alpha_loss: Loss,
    /// Loss of beta-amylase.
    pub beta_loss: Loss,
    /// Loss of debranching enzyme (published only: lost fast above 63 °C; Sissons et al. 1995,
    /// JASBC 53:104; Lee and Pyler 1984, JASBC 42:11).
    pub debranch_loss: Loss,
    /// Paste cut by alpha-amylase, 1/s at 65 °C and the reference malt.
    pub paste_alpha_per_s: f64,
    /// Paste cut by beta-amylase, 1/s.
    pub paste_beta_per_s: f64,
    /// Dextrin cut by beta-amylase, 1/s.
    pub dextrin_beta_per_s: f64,
    /// Dextrin cut by alpha-amylase, 1/s.
    pub dextrin_alpha_per_s: f64,
    /// Limit dextrin opened by the debranching enzyme, 1/s (assumption).
    pub limit_per_s: f64,
    /// Share of cut paste that becomes sugar at once, `φ`.
    pub direct_sugar: f64,
    /// Share locked at branch points at 20 °P, `limit`; a grist may shift it.
    pub limit: f64,
    /// Rise of that share with the strength the mash would reach, 1/°P.
    pub limit_per_plato: f64,
    /// Strength at which `limit` holds, °P.
    pub limit_plato: f64,
    /// Maltose that halves beta-amylase, g per kg water.
    pub maltose_g_kg: f64,
    /// Split of alpha-amylase's sugar into glucose, maltose, maltotriose (Brandam et al. 2003,
    /// from memory).
    pub sugar_split: [f64; 3],
    /// pK of alpha-amylase's two groups, pH of a cooled sample; set to match the optima quoted in
    /// Briggs, Boulton, Brookes and Stevens 2004, table 4.9.
    pub alpha_pk: [f64; 2],
    /// pK of beta-amylase's two groups; as `alpha_pk`.
    pub beta_pk: [f64; 2],
    /// Alpha-amylase of this lot over what its class has.
    pub alpha_factor: f64,
    /// Beta-amylase of this lot over what its class has.
    pub beta_factor: f64,
}

impl Default for Kinetics {
    fn default() -> Self {
        Self {
            small: 0.10,
            grit: 0.50,
            grit_s: 2100.0,
            shut: 0.02,
            dough_loss: 0.0,
            large_granules: Gelatinisation { per_s: 5.6e-3, activation_j_mol: 790e3 },
            small_granules: Gelatinisation { per_s: 2.5e-4, activation_j_mol: 300e3 },
            swelling_per_s: 0.030,
            gel_shift_k: 0.0,
            gel_k_per_plato: 0.24,
            gel_plato: 8.0,
            alpha: Turnover { activation_j_mol: 105e3, unfolding_j_mol: 213e3, half_c: 61.3 },
            beta: Turnover { activation_j_mol: 21.6e3, unfolding_j_mol: 740e3, half_c: 66.0 },
            debranch: Turnover { activation_j_mol: 50e3, unfolding_j_mol: 400e3, half_c: 64.0 },
            alpha_loss: Loss {
                per_s: 2.2e-4,
                activation_j_mol: 224.2e3,
                shelter_per_plato: 0.04,
                fastest_per_s: 0.5,
            },
            // the cap takes 0.2 % of the loss at 72 °C
            beta_loss: Loss {
                per_s: 7.5e-3,
                activation_j_mol: 410.7e3,
                shelter_per_plato: 0.100,
                fastest_per_s: 0.5,
            },
            // the cap takes 2.6 % of the loss at 72 °C; above 80 °C half is left for 20 s longer
            debranch_loss: Loss {
                per_s: 2.0e-3,
                activation_j_mol: 300e3,
                shelter_per_plato: 0.0,
                fastest_per_s: 0.03,
            },
            paste_alpha_per_s: 0.019,
            paste_beta_per_s: 0.005,
            dextrin_beta_per_s: 0.0136,
            dextrin_alpha_per_s: 9.2e-4,
            limit_per_s: 2.3e-5,
            direct_sugar: 0.245,
            limit: 0.336,
            limit_per_plato: 0.005,
            limit_plato: 20.0,
            maltose_g_kg: 310.0,
            sugar_split: [0.08, 0.50, 0.42],
            alpha_pk: [4.6, 6.8],
            beta_pk: [4.2, 6.6],
            alpha_factor: 1.0,
            beta_factor: 1.0,
        }
    }
}

impl Kinetics {
    /// The same malt in a laboratory mash (`grit` 0.10, wet in 600 s, nothing shut).
    pub fn laboratory() -> Self {
        Self { grit: 0.10, grit_s: 600.0, shut: 0.0, ..Self::default() }
    }

    /// Factor of pH on an enzyme with groups `pk`, 1 at its best.
    ///
    /// ```text
    /// f = 1/(1 + 10^(pK1 - pH) + 10^(pH - pK2))   over the same at (pK1 + pK2)/2
    /// ```
    ///
    /// | symbol | argument | unit | holds for           |
    /// |--------|----------|------|---------------------|
    /// | `pK`   | `pk`     | pH   | first below second  |
    /// | `pH`   | `ph`     | pH   | cooled sample, 3 to 9 |
    ///
    /// # Source
    /// Diprotic law; groups from memory, set to the optima quoted in Briggs et al. 2004, table 4.9.
    pub fn ph_factor(pk: [f64; 2], ph: f64) -> f64 {
        let ten = |x: f64| exp(x * std::f64::consts::LN_10);
        let bare = |x: f64| 1.0 / (1.0 + ten(pk[0] - x) + ten(x - pk[1]));
        bare(ph) / bare(0.5 * (pk[0] + pk[1]))
    }

    /// Lays out everything that depends on temperature or strength alone, for a mash of `ph`.
    pub fn prepare(&self, ph: f64) -> Prepared {
        let scale = [
            Self::ph_factor(self.alpha_pk, ph) / self.alpha.bare(T65_K),
            Self::ph_factor(self.beta_pk, ph) / self.beta.bare(T65_K),
            1.0 / self.debranch.bare(T65_K),
        ];
        // Over 1/T, where every law is a geometric sequence: no exponential but the first two.
        // A quarter of a kelvin keeps the steepest law (activity of beta-amylase) within 1e-5 of
        // itself. Below 30 °C little happens, above 90 °C all is lost in a minute: held there.
        let grid = Inverse { from_k: 363.15, to_k: 303.15, knots: 241 };
        let mut activity = [self.alpha, self.beta, self.debranch].map(|law| {
            (
                grid.sequence(law.activation_j_mol, T65_K, 1.0),
                grid.sequence(law.unfolding_j_mol, law.half_c + 273.15, 1.0),
            )
        });
        let losses = [self.alpha_loss, self.beta_loss, self.debranch_loss];
        let mut loss = losses.map(|law| grid.sequence(law.activation_j_mol, T65_K, law.per_s));
        let temperature = grid.tables(|| {
            let mut laws = [0.0; 6];
            for (i, (turnover, unfolded)) in activity.iter_mut().enumerate() {
                laws[i] = scale[i] * turnover.next() / (1.0 + unfolded.next());
            }
            for (i, free) in loss.iter_mut().enumerate() {
                laws[3 + i] = capped_per_s(free.next(), losses[i].fastest_per_s);
            }
            laws
        });
        // Begins below zero: the two knots at an end are of lower order.
        let plato = UniformTables::new(-3.0, 40.0, 44, |plato| {
            [
                exp(-self.alpha_loss.shelter_per_plato * plato),
                exp(-self.beta_loss.shelter_per_plato * plato),
            ]
        });
        let grid = Inverse { from_k: 373.15, to_k: 298.15, knots: 301 };
        let mut free = [self.large_granules, self.small_granules]
            .map(|law| grid.sequence(law.activation_j_mol, T60_K, law.per_s));
        let swelling = self.swelling_per_s;
        let granules = grid.tables(|| {
            let [large, small] = &mut free;
            [large.next(), small.next()].map(|a| a * swelling / (a + swelling))
        });
        Prepared { constants: *self, ph, temperature, plato, granules }
    }
}

/// [`Kinetics`] made ready for one pH; a call of the laws costs no exponential.
#[derive(Debug, Clone, PartialEq)]
pub struct Prepared {
    /// The constants it was made from.
    pub constants: Kinetics,
    /// The pH of the cooled mash it was made for.
    pub ph: f64,
    temperature: UniformTables<6>,
    plato: UniformTables<2>,
    granules: UniformTables<2>,
}

pub(super) struct AtTemperature {
    pub(super) alpha: f64,
    pub(super) beta: f64,
    pub(super) debranch: f64,
    pub(super) alpha_loss_per_s: f64,
    pub(super) beta_loss_per_s: f64,
    pub(super) debranch_loss_per_s: f64,
}

pub(super) struct AtPlato {
    pub(super) alpha: f64,
    pub(super) beta: f64,
}

impl Prepared {
    #[inline]
    pub(super) fn at_temperature(&self, temp_k: f64) -> AtTemperature {
        let [alpha, beta, debranch, alpha_loss_per_s, beta_loss_per_s, debranch_loss_per_s] =
            self.temperature.at(1.0 / temp_k);
        AtTemperature {
            alpha,
            beta,
            debranch,
            alpha_loss_per_s,
            beta_loss_per_s,
            debranch_loss_per_s,
        }
    }

    #[inline]
    pub(super) fn at_plato(&self, plato: f64) -> AtPlato {
        let [alpha, beta] = self.plato.at(plato);
        AtPlato { alpha, beta }
    }

    /// Gelatinisation of large and small granules, 1/s; see [`solid_rates`](super::solid_rates).
    #[inline]
    pub fn gelatinisation_per_s(&self, temp_k: f64, plato: f64, shift_k: f64) -> [f64; 2] {
        let c = &self.constants;
        let thick_k = c.gel_k_per_plato * (plato - c.gel_plato);
        self.granules.at(1.0 / (temp_k - c.gel_shift_k - shift_k - thick_k))
    }
}

fn arrhenius(energy_j_mol: f64, reference_k: f64, temp_k: f64) -> f64 {
    exp(-energy_j_mol / GAS_J_MOL_K * (1.0 / temp_k - 1.0 / reference_k))
}

/// A uniform grid over 1/T, from hot to cold.
#[derive(Clone, Copy)]
struct Inverse {
    from_k: f64,
    to_k: f64,
    knots: usize,
}

impl Inverse {
    /// `factor exp(-E/R (1/T - 1/T_ref))` from knot to knot.
    fn sequence(&self, energy_j_mol: f64, reference_k: f64, factor: f64) -> Sequence {
        let step = (1.0 / self.to_k - 1.0 / self.from_k) / (self.knots - 1) as f64;
        Sequence {
            value: factor * arrhenius(energy_j_mol, reference_k, self.from_k),
            ratio: exp(-energy_j_mol / GAS_J_MOL_K * step),
        }
    }

    fn tables<const N: usize>(&self, mut next: impl FnMut() -> [f64; N]) -> UniformTables<N> {
        UniformTables::new(1.0 / self.from_k, 1.0 / self.to_k, self.knots, |_| next())
    }
}

struct Sequence {
    value: f64,
    ratio: f64,
}

impl Sequence {
    fn next(&mut self) -> f64 {
        let now = self.value;
        self.value *= self.ratio;
        now
    }
}
