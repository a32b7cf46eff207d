//! What a hydrometer and a refractometer show for a given wort or beer, and back; it deliberately
//! holds no reader's error and no spread.

use super::{alcohol_percent_mass, density_kg_m3, real_extract_plato};
use crate::water;

/// A glass hydrometer marked in specific gravity.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hydrometer {
    /// Temperature at which water reads 1.000, °C.
    pub calibration_c: f64,
    /// Cubic expansion of the glass, 1/K (handbook: 25e-6, sd 2e-6).
    pub glass_per_k: f64,
    /// What the scale adds to the truth, in specific gravity.
    pub bias_sg: f64,
}

impl Default for Hydrometer {
    fn default() -> Self {
        Self { calibration_c: 20.0, glass_per_k: 25e-6, bias_sg: 0.0 }
    }
}

impl Hydrometer {
    /// Reading in a wort.
    ///
    /// ```text
    /// R = ρ(P, T)(1 + β (T − T_c))/ρ_w(T_c) + b
    /// ```
    ///
    /// Shape: clear liquid without bubbles; the pull of the air on the stem is the same in use as
    /// at the calibration and drops out.
    ///
    /// | symbol | argument             | unit | holds for     |
    /// |--------|----------------------|------|---------------|
    /// | `P`    | `plato`              | °P   | −1 ≤ P ≤ 30   |
    /// | `T`    | `temp_c`             | °C   | 0 ≤ T ≤ 100   |
    /// | `T_c`  | `self.calibration_c` | °C   | 4 ≤ T_c ≤ 30  |
    /// | `β`    | `self.glass_per_k`   | 1/K  | 0 ≤ β ≤ 1e-4  |
    /// | `b`    | `self.bias_sg`       | 1    | any           |
    ///
    /// # Errors
    /// None.
    ///
    /// # Source
    /// Balance of a float with glass expansion. Checked in `reference/checks`.
    ///
    /// # Example
    /// ```
    /// let reading = matter::wort::Hydrometer::default().reading_sg(12.0, 40.0);
    /// assert!((reading - 1.04196).abs() < 2e-5);
    /// ```
    pub fn reading_sg(&self, plato: f64, temp_c: f64) -> f64 {
        density_kg_m3(plato * 0.01, temp_c) * self.scale(temp_c) + self.bias_sg
    }

    /// Extract from a reading: the inverse of [`Self::reading_sg`].
    ///
    /// ```text
    /// ρ(P, T) = (R − b) ρ_w(T_c)/(1 + β (T − T_c))        by the secant rule
    /// ```
    ///
    /// Shape: to 1e-9 °P. An error of 2 K in `T` at 60 °C costs 0.25 °P: cool the sample.
    ///
    /// | symbol | argument     | unit | holds for         |
    /// |--------|--------------|------|-------------------|
    /// | `R`    | `reading_sg` | 1    | 0.95 ≤ R ≤ 1.13   |
    /// | `T`    | `temp_c`     | °C   | 0 ≤ T ≤ 100       |
    ///
    /// # Errors
    /// None; a reading far outside the scale gives a meaningless number.
    ///
    /// # Source
    /// As [`Self::reading_sg`].
    ///
    /// # Example
    /// ```
    /// let plato = matter::wort::Hydrometer::default().plato(1.040, 35.0);
    /// assert!((plato - 11.072).abs() < 0.003);
    /// ```
    pub fn plato(&self, reading_sg: f64, temp_c: f64) -> f64 {
        let wanted_kg_m3 = (reading_sg - self.bias_sg) / self.scale(temp_c);
        let water_kg_m3 = water::density_kg_m3(temp_c);
        let (mut w_old, mut rho_old) = (0.0, water_kg_m3);
        let mut w = 2.586 * (wanted_kg_m3 / water_kg_m3 - 1.0);
        for _ in 0..12 {
            let rho = density_kg_m3(w, temp_c);
            let rise = rho - rho_old;
            if (w - w_old).abs() < 1e-13 || rise == 0.0 {
                break;
            }
            let next = w + (wanted_kg_m3 - rho) * (w - w_old) / rise;
            (w_old, rho_old, w) = (w, rho, next);
        }
        100.0 * w
    }

    fn scale(&self, temp_c: f64) -> f64 {
        (1.0 + self.glass_per_k * (temp_c - self.calibration_c))
            / water::density_kg_m3(self.calibration_c)
    }
}

/// Rise of the refractive index per degree Brix near wort strength (from the law below, 0-12 °Bx).
const INDEX_PER_BRIX: f64 = 1.496e-3;
/// Rise of the refractive index per g ethanol in 100 g (ethanol tables, from memory, sd 0.02e-3).
const INDEX_PER_ALCOHOL: f64 = 0.61e-3;

/// A hand refractometer marked in degrees Brix.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Refractometer {
    /// Reading per degree of extract: wort bends light more than sucrose.
    pub factor: f64,
    /// Drift without compensation, °Bx/K (from memory −0.07, sd 0.01).
    pub drift_bx_per_k: f64,
    /// Share of that drift which the instrument takes out itself (from memory 0.9; 0 without).
    pub compensated_share: f64,
    /// What the scale adds to the truth, °Bx.
    pub bias_bx: f64,
}

impl Default for Refractometer {
    fn default() -> Self {
        Self { factor: 1.04, drift_bx_per_k: -0.07, compensated_share: 0.9, bias_bx: 0.0 }
    }
}

impl Refractometer {
    /// Reading in wort or beer.
    ///
    /// ```text
    /// R = k RE + (n_A/n_E) A + c_T (1 − atc)(T − 20) + b
    /// n_E = 1.496e-3 per °Bx      n_A = 0.61e-3 per (g/100 g)
    /// RE, A from original and apparent extract
    /// ```
    ///
    /// Shape: one law before, during and after fermentation; unfermented, `AE = OE` and `A = 0`.
    ///
    /// | symbol | argument                 | unit  | holds for      |
    /// |--------|--------------------------|-------|----------------|
    /// | `OE`   | `original_plato`         | °P    | 0 ≤ OE ≤ 30    |
    /// | `AE`   | `apparent_plato`         | °P    | −3 ≤ AE ≤ OE   |
    /// | `T`    | `temp_c`                 | °C    | 5 ≤ T ≤ 40     |
    /// | `k`    | `self.factor`            | 1     | 0.9 ≤ k ≤ 1.2  |
    /// | `c_T`  | `self.drift_bx_per_k`    | °Bx/K | −0.1 to 0      |
    /// | `atc`  | `self.compensated_share` | 1     | 0 ≤ atc ≤ 1    |
    /// | `b`    | `self.bias_bx`           | °Bx   | any            |
    ///
    /// # Errors
    /// None.
    ///
    /// # Source
    /// Additive refraction, our choice; slope of ethanol from memory (handbook table). It agrees
    /// with published regressions on finished beer within 0.001 SG; checked in `reference/checks`.
    ///
    /// # Example
    /// ```
    /// let beer = matter::wort::Refractometer::default().reading_bx(12.0, 2.5, 20.0);
    /// assert!((beer - 6.02).abs() < 0.02);
    /// ```
    pub fn reading_bx(&self, original_plato: f64, apparent_plato: f64, temp_c: f64) -> f64 {
        let real_plato = real_extract_plato(original_plato, apparent_plato);
        let alcohol = alcohol_percent_mass(original_plato, real_plato);
        self.factor * real_plato
            + INDEX_PER_ALCOHOL / INDEX_PER_BRIX * alcohol
            + self.offset_bx(temp_c)
    }

    /// Extract of unfermented wort from a reading.
    ///
    /// ```text
    /// P = (R − b − c_T (1 − atc)(T − 20))/k
    /// ```
    ///
    /// Shape: inverse of [`Self::reading_bx`] without alcohol.
    ///
    /// | symbol | argument     | unit | holds for    |
    /// |--------|--------------|------|--------------|
    /// | `R`    | `reading_bx` | °Bx  | 0 ≤ R ≤ 32   |
    /// | `T`    | `temp_c`     | °C   | 5 ≤ T ≤ 40   |
    ///
    /// # Errors
    /// None.
    ///
    /// # Source
    /// As [`Self::reading_bx`].
    ///
    /// # Example
    /// ```
    /// let meter = matter::wort::Refractometer { factor: 1.04, ..Default::default() };
    /// assert!((meter.plato(12.48, 20.0) - 12.0).abs() < 1e-9);
    /// ```
    pub fn plato(&self, reading_bx: f64, temp_c: f64) -> f64 {
        (reading_bx - self.offset_bx(temp_c)) / self.factor
    }

    /// Apparent extract of beer from a reading and the original extract.
    ///
    /// ```text
    /// RE = (R' − r OE/D)/(k − r/D)      r = n_A/n_E      D = 2.0665 − 0.010665 OE
    /// AE = (RE − 0.1808 OE)/0.8192      R' = R less offset
    /// ```
    ///
    /// Shape: exact inverse of [`Self::reading_bx`]. The slope is only 0.68 °Bx per °P, so an
    /// error of 0.2 °Bx is 0.3 °P.
    ///
    /// | symbol | argument         | unit | holds for    |
    /// |--------|------------------|------|--------------|
    /// | `R`    | `reading_bx`     | °Bx  | 0 ≤ R ≤ 32   |
    /// | `OE`   | `original_plato` | °P   | 0 ≤ OE ≤ 30  |
    /// | `T`    | `temp_c`         | °C   | 5 ≤ T ≤ 40   |
    ///
    /// # Errors
    /// None.
    ///
    /// # Source
    /// As [`Self::reading_bx`].
    ///
    /// # Example
    /// ```
    /// let meter = matter::wort::Refractometer::default();
    /// let beer_bx = meter.reading_bx(12.0, 2.5, 20.0);
    /// assert!((meter.apparent_plato(beer_bx, 12.0, 20.0) - 2.5).abs() < 1e-9);
    /// ```
    pub fn apparent_plato(&self, reading_bx: f64, original_plato: f64, temp_c: f64) -> f64 {
        // A is linear in RE: A = (OE − RE)/D, so one division inverts the sum.
        let per_real = INDEX_PER_ALCOHOL / INDEX_PER_BRIX
            * (alcohol_percent_mass(original_plato, original_plato - 1.0)
                - alcohol_percent_mass(original_plato, original_plato));
        let real_plato = (reading_bx - self.offset_bx(temp_c) - per_real * original_plato)
            / (self.factor - per_real);
        super::apparent_extract_plato(original_plato, real_plato)
    }

    fn offset_bx(&self, temp_c: f64) -> f64 {
        self.drift_bx_per_k * (1.0 - self.compensated_share) * (temp_c - 20.0) + self.bias_bx
    }
}

/// Degrees Brix from the refractive index of sucrose solution, 20 °C, 589.3 nm.
///
/// ```text
/// Bx = (((((11758.74 n − 88885.21) n + 270177.93) n − 413145.80) n + 318417.95) n − 99127.4536)
/// ```
///
/// Shape: pure sucrose; 1e-5 in `n` is 0.007 °Bx.
///
/// | symbol | argument | unit | holds for          |
/// |--------|----------|------|--------------------|
/// | `n`    | `index`  | 1    | 1.333 ≤ n ≤ 1.42   |
///
/// # Errors
/// None.
///
/// # Source
/// ICUMSA refractive index of sucrose, fit as printed in an encyclopaedia article on the Brix
/// scale. Checked in `reference/checks`.
///
/// # Example
/// ```
/// assert!((matter::wort::brix_from_refractive_index(1.347853) - 10.0).abs() < 0.01);
/// ```
pub fn brix_from_refractive_index(index: f64) -> f64 {
    let n = index;
    ((((11_758.74 * n - 88_885.21) * n + 270_177.93) * n - 413_145.80) * n + 318_417.95) * n
        - 99_127.453_6
}

/// Refractive index of sucrose solution, 20 °C, 589.3 nm, from degrees Brix.
///
/// ```text
/// brix(n) = Bx        by the secant rule from n = 1.33301 + 1.496e-3 Bx
/// ```
///
/// Shape: inverse of [`brix_from_refractive_index`], as far as double precision carries it: 1e-10.
///
/// | symbol | argument | unit | holds for    |
/// |--------|----------|------|--------------|
/// | `Bx`   | `brix`   | °Bx  | 0 ≤ Bx ≤ 50  |
///
/// # Errors
/// None.
///
/// # Source
/// As [`brix_from_refractive_index`].
///
/// # Example
/// ```
/// assert!((matter::wort::refractive_index_from_brix(12.0) - 1.350959).abs() < 2e-5);
/// ```
pub fn refractive_index_from_brix(brix: f64) -> f64 {
    let (mut n_old, mut n) = (1.333_01, 1.333_01 + INDEX_PER_BRIX * (brix + 0.01));
    let mut bx_old = brix_from_refractive_index(n_old);
    for _ in 0..12 {
        let bx = brix_from_refractive_index(n);
        if (n - n_old).abs() < 1e-12 || bx == bx_old {
            break;
        }
        let next = n + (brix - bx) * (n - n_old) / (bx - bx_old);
        (n_old, bx_old, n) = (n, bx, next);
    }
    n
}
