//! Colour of grist, wort and beer in EBC; it deliberately knows no vessel and no view of a beer.
//!
//! Colour is carried as an amount `K` = colour × volume (EBC m³): it mixes and concentrates
//! linearly (Beer and Lambert).

use numerics::math::{exp, pow};
use quantity::Colour;

use crate::wort;

/// Malt colour in EBC from Lovibond degrees.
///
/// ```text
/// SRM = 1.3546 L − 0.76        EBC = 1.97 SRM
/// ```
///
/// Shape: an older pair, EBC = 2.65 L − 1.2, differs by 4 % at 3 °L and less than 1 % above 10.
///
/// | symbol | argument   | unit | holds for    |
/// |--------|------------|------|--------------|
/// | `L`    | `lovibond` | °L   | 1 ≤ L ≤ 600  |
///
/// # Errors
/// None.
///
/// # Source
/// Trade relation (common practice).
///
/// # Example
/// ```
/// assert!((matter::colour::ebc_from_lovibond(4.0) - 1.97 * 4.6584).abs() < 1e-9);
/// ```
pub fn ebc_from_lovibond(lovibond: f64) -> f64 {
    Colour::from_lovibond(lovibond).ebc()
}

/// Malt colour in Lovibond degrees from EBC.
///
/// ```text
/// L = (EBC/1.97 + 0.76)/1.3546
/// ```
///
/// Shape: the inverse of [`ebc_from_lovibond`].
///
/// | symbol | argument | unit | holds for       |
/// |--------|----------|------|-----------------|
/// | `EBC`  | `ebc`    | EBC  | 0 ≤ EBC ≤ 1600  |
///
/// # Errors
/// None.
///
/// # Source
/// As [`ebc_from_lovibond`].
///
/// # Example
/// ```
/// assert!((matter::colour::lovibond_from_ebc(12.0) - 5.1).abs() < 0.1);
/// ```
pub fn lovibond_from_ebc(ebc: f64) -> f64 {
    Colour::from_ebc(ebc).lovibond()
}

/// Malt colour units of a grist in a volume: lb °L per US gallon.
///
/// ```text
/// MCU = 8.3454 Σ(kg °L)/L
/// ```
///
/// Shape: the sum over the malts is done before, see `Grist::colour_kg_lovibond`.
///
/// | symbol       | argument      | unit  | holds for |
/// |--------------|---------------|-------|-----------|
/// | `Σ(kg °L)`   | `kg_lovibond` | kg °L | 0 ≤ sum   |
/// | `L`          | `volume_m3`   | m³    | 0 < V     |
///
/// # Errors
/// None; not finite without volume.
///
/// # Source
/// Definition; 8.3454 is (lb per kg) × (L per US gal).
///
/// # Example
/// ```
/// assert!((matter::colour::malt_colour_units(9.0, 0.020) - 3.7554).abs() < 0.01);
/// ```
pub fn malt_colour_units(kg_lovibond: f64, volume_m3: f64) -> f64 {
    8.3454e-3 * kg_lovibond / volume_m3
}

/// Wort colour from malt colour units.
///
/// ```text
/// SRM = 1.4922 MCU^0.6859        EBC = 1.97 SRM
/// ```
///
/// Shape: up to 50 SRM. An agreement among brewers, not a measurement: geometric sd 1.2.
///
/// | symbol | argument | unit        | holds for      |
/// |--------|----------|-------------|----------------|
/// | `MCU`  | `mcu`    | lb °L/gal   | 0 ≤ MCU ≤ 160  |
///
/// # Errors
/// None.
///
/// # Source
/// Morey, letter, about 1995 (common practice).
///
/// # Example
/// ```
/// assert!((matter::colour::ebc_from_malt_colour_units(10.0) - 1.97 * 7.24).abs() < 0.01);
/// ```
pub fn ebc_from_malt_colour_units(mcu: f64) -> f64 {
    Colour::from_srm(1.4922 * pow(mcu, 0.6859)).ebc()
}

/// Colour amount that a grist would give if all its fine extract were won.
///
/// ```text
/// V_12 = E/(0.12 ρ(0.12, 20 °C))        K = V_12 · EBC(MCU in V_12)
/// ```
///
/// Shape: the power law is used once, on the whole grist in the volume in which its extract would
/// make 12 °P, so that strength alone does not change what a malt gives. Multiply by the share of
/// the extract that is won.
///
/// | symbol     | argument      | unit  | holds for |
/// |------------|---------------|-------|-----------|
/// | `Σ(kg °L)` | `kg_lovibond` | kg °L | 0 ≤ sum   |
/// | `E`        | `extract_kg`  | kg    | 0 ≤ E     |
///
/// # Errors
/// None; 0 without extract.
///
/// # Source
/// [`ebc_from_malt_colour_units`]; the volume is our choice.
///
/// # Example
/// ```
/// let k = matter::colour::grist_colour_ebc_m3(5.0 * 3.0, 4.0);
/// let volume_m3 = 4.0 / 0.12 / 1046.44;
/// assert!((k / volume_m3 - 7.5).abs() < 0.5);
/// ```
pub fn grist_colour_ebc_m3(kg_lovibond: f64, extract_kg: f64) -> f64 {
    if extract_kg <= 0.0 {
        return 0.0;
    }
    let volume_m3 = extract_kg / (0.12 * wort::density_kg_m3(0.12, 20.0));
    volume_m3 * ebc_from_malt_colour_units(malt_colour_units(kg_lovibond, volume_m3))
}

/// Browning of boiling wort.
///
/// ```text
/// dEBC/dt = c_b (P/12) exp(−(E_c/R)(1/T − 1/373.15)) (1 + c_pH (pH − 5.4)) f_fire
/// c_b = 0.9 EBC/h      E_c = 100 kJ/mol      c_pH = 0.5      T in K
/// ```
///
/// Shape: nearly zero order; times the volume it is the growth of the colour amount. `f_fire` is
/// 1.3 for an open flame under a thin base, 1 else.
///
/// | symbol   | argument      | unit | holds for       |
/// |----------|---------------|------|-----------------|
/// | `P`      | `plato`       | °P   | 0 ≤ P ≤ 30      |
/// | `T`      | `temp_c`      | °C   | 60 ≤ T ≤ 105    |
/// | `pH`     | `ph`          | pH   | 4.8 ≤ pH ≤ 6    |
/// | `f_fire` | `fire_factor` | 1    | 1 ≤ f ≤ 2       |
///
/// # Errors
/// None; never negative.
///
/// # Source
/// Order of the reaction: De Schutter et al., BrewingScience 61 (2008) 121. `c_b`: common practice,
/// geometric sd 1.6; `E_c`, `c_pH`, `f_fire`: from memory.
///
/// # Example
/// ```
/// let per_s = matter::colour::browning_ebc_per_s(12.0, 100.0, 5.4, 1.0);
/// assert!((per_s * 3600.0 - 0.9).abs() < 1e-12);
/// ```
pub fn browning_ebc_per_s(plato: f64, temp_c: f64, ph: f64, fire_factor: f64) -> f64 {
    let temp_k = temp_c + crate::water::ZERO_C_K;
    let arrhenius = exp(-(100_000.0 / crate::nature::GAS_J_MOL_K) * (1.0 / temp_k - 1.0 / 373.15));
    let by_ph = (1.0 + 0.5 * (ph - 5.4)).max(0.0);
    0.9 / 3600.0 * (plato / 12.0) * arrhenius * by_ph * fire_factor
}

/// Share of colour lost in fermentation (common practice; beta sd 0.05).
pub const LOST_IN_FERMENTATION: f64 = 0.12;

/// Colour of the beer from that of the cast wort.
///
/// ```text
/// beer = wort (1 − y)        y = 0.12
/// ```
///
/// Shape: yeast takes some of it, and the fall of pH.
///
/// | symbol | argument   | unit | holds for |
/// |--------|------------|------|-----------|
/// | `wort` | `wort_ebc` | EBC  | 0 ≤ wort  |
///
/// # Errors
/// None.
///
/// # Source
/// Common practice, no source; sd 0.05.
pub fn beer_colour_ebc(wort_ebc: f64) -> f64 {
    wort_ebc * (1.0 - LOST_IN_FERMENTATION)
}
