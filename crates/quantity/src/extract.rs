//! The scale between extract and density at 20 °C, which is what °P means.
//!
//! Densities away from 20 °C are not here; they build on these constants elsewhere.

/// Density of water at 20 °C and 101.325 kPa, kg/m³, by the form of Kell (J. Chem. Eng. Data 20
/// (1975) 97), within 0.006 kg/m³ of IAPWS-95.
pub const WATER_DENSITY_20C_KG_M3: f64 = 998.203_122_737_354_5;

/// Coefficients of `w`, `w²`, … `w⁶` in the density of a sucrose solution at 20 °C above that of
/// water, kg/m³; `w` is the mass fraction of sucrose.
///
/// # Source
/// ICUMSA sucrose density, as in Bubnik et al., *Sugar Technologists Manual*, Bartens 1995.
pub const SUCROSE_DENSITY_20C: [f64; 6] = [385.1761, 135.3705, 40.9299, -3.9643, 13.4853, -17.2890];

/// Density at 20 °C of wort with this mass fraction of extract, kg/m³.
///
/// ```text
/// rho(w) = rho_w(20) + sum_i k_i w^(i+1)
/// ```
///
/// By definition of the Plato scale wort weighs what a sucrose solution of its extract weighs.
///
/// | symbol | argument | unit  | holds for      |
/// |--------|----------|-------|----------------|
/// | `w`    | `w`      | kg/kg | -0.06 … 0.85   |
///
/// # Errors
/// None.
///
/// # Source
/// [`SUCROSE_DENSITY_20C`], [`WATER_DENSITY_20C_KG_M3`].
///
/// # Example
/// ```
/// assert!((quantity::density_20c_from_extract(0.12) - 1046.44).abs() < 0.005);
/// ```
#[must_use]
pub fn density_20c_from_extract(w: f64) -> f64 {
    WATER_DENSITY_20C_KG_M3 + w * SUCROSE_DENSITY_20C.iter().rev().fold(0.0, |sum, k| sum * w + k)
}

/// Specific gravity 20/20 of wort with this mass fraction of extract.
///
/// ```text
/// S = rho(w, 20 °C) / rho_w(20 °C)
/// ```
///
/// | symbol | argument | unit  | holds for    |
/// |--------|----------|-------|--------------|
/// | `w`    | `w`      | kg/kg | -0.06 … 0.85 |
///
/// # Errors
/// None.
///
/// # Source
/// [`density_20c_from_extract`].
///
/// # Example
/// ```
/// assert!((quantity::specific_gravity_from_extract(0.12) - 1.04833).abs() < 5e-6);
/// ```
#[must_use]
pub fn specific_gravity_from_extract(w: f64) -> f64 {
    density_20c_from_extract(w) / WATER_DENSITY_20C_KG_M3
}

/// Mass fraction of extract of wort with this specific gravity 20/20.
///
/// The inverse of [`specific_gravity_from_extract`] by Newton's method from
/// `P = 258.6 (S - 1)/(0.8795 S + 0.1205)`, to rounding.
///
/// | symbol | argument  | unit | holds for    |
/// |--------|-----------|------|--------------|
/// | `S`    | `gravity` | 1    | 0.978 … 1.44 |
///
/// # Errors
/// None; outside the range the nearest end of -0.1 … 1 kg/kg is returned.
///
/// # Source
/// [`density_20c_from_extract`]; the start is a common shortcut and leaves no trace.
///
/// # Example
/// ```
/// assert!((quantity::extract_from_specific_gravity(1.048) - 0.1192).abs() < 1e-4);
/// ```
#[must_use]
pub fn extract_from_specific_gravity(gravity: f64) -> f64 {
    let wanted = gravity * WATER_DENSITY_20C_KG_M3;
    let mut w = (2.586 * (gravity - 1.0) / (0.8795 * gravity + 0.1205)).clamp(-0.1, 1.0);
    for _ in 0..30 {
        let mut slope = 0.0;
        for (i, k) in SUCROSE_DENSITY_20C.iter().enumerate().rev() {
            slope = slope * w + k * (i + 1) as f64;
        }
        let next = (w - (density_20c_from_extract(w) - wanted) / slope).clamp(-0.1, 1.0);
        let step = (next - w).abs();
        w = next;
        if step < 1e-15 {
            break;
        }
    }
    w
}
