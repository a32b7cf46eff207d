//! Extract, alcohol and the three shares that must not be mixed: fermentable share of the extract
//! mass, fermentability (the apparent limit) and attenuation; it deliberately knows no yeast.

/// g extract that give 1 g ethanol.
const EXTRACT_PER_ALCOHOL: f64 = 2.0665;
/// Gravity 20/20 of pure ethanol (789.4 kg/m³, CoolProp 8.0.0).
pub const ETHANOL_SG: f64 = 0.7908;
/// g that leave the beer as gas and yeast per g ethanol.
const LOST_PER_ALCOHOL: f64 = 1.0665;
/// Part of original extract in real extract; the rest is apparent extract.
const ORIGINAL_PART: f64 = 0.1808;
const APPARENT_PART: f64 = 0.8192;

/// Original extract of a beer from its alcohol and real extract.
///
/// ```text
/// OE = 100 (2.0665 A + RE)/(100 + 1.0665 A)
/// ```
///
/// Shape: 2.0665 g extract give 1 g ethanol, 0.9565 g carbon dioxide and 0.11 g yeast.
///
/// | symbol | argument               | unit    | holds for    |
/// |--------|------------------------|---------|--------------|
/// | `A`    | `alcohol_percent_mass` | g/100 g | 0 ≤ A ≤ 15   |
/// | `RE`   | `real_plato`           | °P      | 0 ≤ RE ≤ 30  |
///
/// # Errors
/// None.
///
/// # Source
/// Balling, as given by Nielsen et al., *Balling's formula: scrutiny of a brewing dogma*; against
/// measured beers sd 0.15 °P (Cutaia, Reid, Speers, J. Inst. Brew. 115 (2009) 318).
///
/// # Example
/// ```
/// assert!((matter::wort::original_extract_plato(4.0, 4.2) - 11.956).abs() < 0.001);
/// ```
pub fn original_extract_plato(alcohol_percent_mass: f64, real_plato: f64) -> f64 {
    100.0 * (EXTRACT_PER_ALCOHOL * alcohol_percent_mass + real_plato)
        / (100.0 + LOST_PER_ALCOHOL * alcohol_percent_mass)
}

/// Alcohol of a beer by mass from its original and real extract.
///
/// ```text
/// A = (OE − RE)/(2.0665 − 0.010665 OE)
/// ```
///
/// Shape: the inverse of [`original_extract_plato`].
///
/// | symbol | argument         | unit | holds for     |
/// |--------|------------------|------|---------------|
/// | `OE`   | `original_plato` | °P   | 0 ≤ OE ≤ 30   |
/// | `RE`   | `real_plato`     | °P   | 0 ≤ RE ≤ OE   |
///
/// # Errors
/// None.
///
/// # Source
/// As [`original_extract_plato`].
///
/// # Example
/// ```
/// assert!((matter::wort::alcohol_percent_mass(11.956, 4.2) - 4.0).abs() < 0.001);
/// ```
pub fn alcohol_percent_mass(original_plato: f64, real_plato: f64) -> f64 {
    (original_plato - real_plato)
        / (EXTRACT_PER_ALCOHOL - LOST_PER_ALCOHOL / 100.0 * original_plato)
}

/// Alcohol by volume from alcohol by mass.
///
/// ```text
/// ABV = A S_beer/0.7908
/// ```
///
/// Shape: both at 20 °C; 0.7908 is the gravity 20/20 of ethanol of 789.4 kg/m³.
///
/// | symbol   | argument               | unit    | holds for          |
/// |----------|------------------------|---------|--------------------|
/// | `A`      | `alcohol_percent_mass` | g/100 g | 0 ≤ A ≤ 15         |
/// | `S_beer` | `beer_sg`              | 1       | 0.99 ≤ S ≤ 1.05    |
///
/// # Errors
/// None.
///
/// # Source
/// Density of ethanol from CoolProp 8.0.0. Checked in `reference/checks`.
///
/// # Example
/// ```
/// assert!((matter::wort::alcohol_percent_volume(3.95, 1.010) - 5.045).abs() < 0.01);
/// ```
pub fn alcohol_percent_volume(alcohol_percent_mass: f64, beer_sg: f64) -> f64 {
    alcohol_percent_mass * beer_sg / ETHANOL_SG
}

/// Real extract of a beer from its original and apparent extract.
///
/// ```text
/// RE = 0.1808 OE + 0.8192 AE
/// ```
///
/// Shape: stands for the low density of ethanol; reads 0.13 °P low on 532 brews.
///
/// | symbol | argument         | unit | holds for     |
/// |--------|------------------|------|---------------|
/// | `OE`   | `original_plato` | °P   | 0 ≤ OE ≤ 30   |
/// | `AE`   | `apparent_plato` | °P   | −3 ≤ AE ≤ OE  |
///
/// # Errors
/// None.
///
/// # Source
/// Balling's relation, constants from memory; compared with Cutaia, Reid, Speers, J. Inst. Brew.
/// 115 (2009) 318.
///
/// # Example
/// ```
/// assert!((matter::wort::real_extract_plato(12.0, 2.0) - 3.808).abs() < 1e-9);
/// ```
pub fn real_extract_plato(original_plato: f64, apparent_plato: f64) -> f64 {
    ORIGINAL_PART * original_plato + APPARENT_PART * apparent_plato
}

/// Apparent extract of a beer from its original and real extract.
///
/// ```text
/// AE = (RE − 0.1808 OE)/0.8192
/// ```
///
/// Shape: the inverse of [`real_extract_plato`].
///
/// | symbol | argument         | unit | holds for    |
/// |--------|------------------|------|--------------|
/// | `OE`   | `original_plato` | °P   | 0 ≤ OE ≤ 30  |
/// | `RE`   | `real_plato`     | °P   | 0 ≤ RE ≤ OE  |
///
/// # Errors
/// None.
///
/// # Source
/// As [`real_extract_plato`].
///
/// # Example
/// ```
/// assert!((matter::wort::apparent_extract_plato(12.0, 3.808) - 2.0).abs() < 1e-9);
/// ```
pub fn apparent_extract_plato(original_plato: f64, real_plato: f64) -> f64 {
    (real_plato - ORIGINAL_PART * original_plato) / APPARENT_PART
}

/// Fermentability (apparent limit of attenuation) from the fermentable share of the extract mass.
///
/// ```text
/// e = OE F/2.0665      RE = 100 OE (1 − F)/(100 − 1.0665 e)
/// AE = (RE − 0.1808 OE)/0.8192      fermentability = (OE − AE)/OE
/// ```
///
/// Shape: all of `F` ferments. The beer loses the mass of its gas and yeast. A plain `F/0.8192`
/// would read 1.6 to 1.9 points high at 12 °P.
///
/// | symbol | argument | unit  | holds for   |
/// |--------|----------|-------|-------------|
/// | `F`    | `share`  | kg/kg | 0 ≤ F ≤ 1   |
/// | `OE`   | `plato`  | °P    | 0 ≤ OE ≤ 30 |
///
/// # Errors
/// None.
///
/// # Source
/// Balling's balance, see [`original_extract_plato`] and [`real_extract_plato`].
///
/// # Example
/// ```
/// let limit = matter::wort::fermentability_from_fermentable_share(0.65, 12.0);
/// assert!((limit - 0.7755).abs() < 5e-4);
/// ```
pub fn fermentability_from_fermentable_share(share: f64, plato: f64) -> f64 {
    let left = 100.0 * (1.0 - share) / (100.0 - beer_mass_slope(plato) * share);
    (1.0 - left) / APPARENT_PART
}

/// Fermentable share of the extract mass from fermentability (apparent limit of attenuation).
///
/// ```text
/// f = 0.8192 a      F = 100 f/(100 − (1.0665/2.0665) OE (1 − f))
/// ```
///
/// Shape: the exact inverse of [`fermentability_from_fermentable_share`].
///
/// | symbol | argument         | unit  | holds for    |
/// |--------|------------------|-------|--------------|
/// | `a`    | `fermentability` | kg/kg | 0 ≤ a ≤ 1.22 |
/// | `OE`   | `plato`          | °P    | 0 ≤ OE ≤ 30  |
///
/// # Errors
/// None.
///
/// # Source
/// As [`fermentability_from_fermentable_share`].
///
/// # Example
/// ```
/// let share = matter::wort::fermentable_share_from_fermentability(0.77554, 12.0);
/// assert!((share - 0.65).abs() < 1e-4);
/// ```
pub fn fermentable_share_from_fermentability(fermentability: f64, plato: f64) -> f64 {
    let real = APPARENT_PART * fermentability;
    100.0 * real / (100.0 - beer_mass_slope(plato) * (1.0 - real))
}

/// g that 100 g of wort lose when all its extract ferments, of which a share `F` is lost.
fn beer_mass_slope(plato: f64) -> f64 {
    LOST_PER_ALCOHOL / EXTRACT_PER_ALCOHOL * plato
}
