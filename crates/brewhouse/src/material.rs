//! What walls, bases, seals and insulation are made of; heat held and let through by them.
//!
//! The numbers stand in `data/material.csv` with their source; here they are read once and found
//! by name. Knows no vessel.

use std::sync::LazyLock;

use crate::rows::Rows;

/// One material.
#[derive(Debug, Clone, PartialEq)]
pub struct Material {
    /// Its name: "stainless 304 (1.4301)".
    pub name: String,
    /// Metal, glass, seal, plastic, insulation.
    pub group: String,
    /// Thermal conductivity, W/(m K).
    pub k_w_mk: f64,
    /// Specific heat, J/(kg K).
    pub c_j_kgk: f64,
    /// Density, kg/m³.
    pub rho_kg_m3: f64,
    /// Linear expansion, 1/K; 0 where it does not matter.
    pub alpha_per_k: f64,
    /// Emissivity when bright.
    pub emissivity_bright: f64,
    /// Emissivity when dull.
    pub emissivity_dull: f64,
    /// Hottest liquid it bears for long, °C.
    pub hottest_wet_c: f64,
    /// Whether caustic must never touch it.
    pub never_caustic: bool,
}

static MATERIALS: LazyLock<Vec<Material>> = LazyLock::new(|| {
    Rows::parse(include_str!("../data/material.csv")).map(|row| Material {
        name: row.text("material"),
        group: row.text("group"),
        k_w_mk: row.number("k_w_mk"),
        c_j_kgk: row.number("c_j_kgk"),
        rho_kg_m3: row.number("rho_kg_m3"),
        alpha_per_k: row.number("alpha_per_k"),
        emissivity_bright: row.number("emissivity_bright"),
        emissivity_dull: row.number("emissivity_dull"),
        hottest_wet_c: row.number("t_max_wet_c"),
        never_caustic: row.text("caustic_2pct_hot") == "never",
    })
});

/// Short names people use, and the row they mean.
const SHORT: [(&str, &str); 20] = [
    ("stainless", "stainless 304 (1.4301)"),
    ("stainless steel", "stainless 304 (1.4301)"),
    ("304", "stainless 304 (1.4301)"),
    ("stainless 304", "stainless 304 (1.4301)"),
    ("316", "stainless 316 (1.4401)"),
    ("stainless 316", "stainless 316 (1.4401)"),
    ("430", "stainless 430 (1.4016)"),
    ("stainless 430", "stainless 430 (1.4016)"),
    ("aluminium", "aluminium 1050 or 3003"),
    ("aluminum", "aluminium 1050 or 3003"),
    ("enamel", "enamelled steel"),
    ("foam", "closed-cell elastomer foam"),
    ("closed-cell foam", "closed-cell elastomer foam"),
    ("PUR foam", "PIR or PUR foam"),
    ("PIR foam", "PIR or PUR foam"),
    ("felt", "mineral wool or felt"),
    ("mineral wool", "mineral wool or felt"),
    ("wood", "wood lagging"),
    ("glass", "soda-lime glass"),
    ("silicone", "silicone rubber VMQ"),
];

impl Material {
    /// All of them, in the order of the table.
    pub fn all() -> &'static [Material] {
        &MATERIALS
    }

    /// The material of a name, short or in full, whatever its capitals.
    pub fn named(name: &str) -> Option<&'static Material> {
        let name = name.trim();
        let full = SHORT.iter().find(|(short, _)| short.eq_ignore_ascii_case(name));
        let full = full.map_or(name, |(_, full)| full);
        MATERIALS.iter().find(|m| m.name.eq_ignore_ascii_case(full))
    }

    /// Every name that is understood, short ones first.
    pub fn names() -> Vec<&'static str> {
        let short = SHORT.iter().map(|(short, _)| *short);
        short.chain(MATERIALS.iter().map(|m| m.name.as_str())).collect()
    }
}

/// Heat held by a sheet, J/K: `A·t·ρ·c`.
pub fn sheet_heat_j_k(area_m2: f64, thickness_m: f64, rho_kg_m3: f64, c_j_kgk: f64) -> f64 {
    area_m2 * thickness_m * rho_kg_m3 * c_j_kgk
}

/// Mass of a sheet, kg: `A·t·ρ`.
pub fn sheet_mass_kg(area_m2: f64, thickness_m: f64, rho_kg_m3: f64) -> f64 {
    area_m2 * thickness_m * rho_kg_m3
}

/// Temperature drop through a layered base at a heat flux, K.
///
/// ```text
/// ΔT = q·Σ(t/k)
/// ```
pub fn base_drop_k(flux_w_m2: f64, layers_m_w_mk: &[(f64, f64)]) -> f64 {
    flux_w_m2 * layers_m_w_mk.iter().map(|(thickness_m, k_w_mk)| thickness_m / k_w_mk).sum::<f64>()
}

/// How far heat spreads sideways in a sheet under liquid, m: `√(k·t/h)` (fin theory).
pub fn spreading_length_m(k_w_mk: f64, thickness_m: f64, h_w_m2k: f64) -> f64 {
    (k_w_mk * thickness_m / h_w_m2k).sqrt()
}

/// Mass of the two handles and their rivets of a pot, kg: `0.6 + 0.008·V` with `V` in litres to
/// the brim. Our fit to generic pots, common practice; half of it shares the pot's temperature.
pub fn handles_kg(brim_m3: f64) -> f64 {
    0.6 + 8.0 * brim_m3
}

/// Specific heat of the handles, J/(kg K): stainless 304.
pub const HANDLES_C_J_KGK: f64 = 500.0;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_short_name_means_a_row() {
        for (short, full) in SHORT {
            assert_eq!(Material::named(short).unwrap().name, full);
        }
    }

    #[test]
    fn metals_have_all_numbers() {
        let metals: Vec<_> = Material::all().iter().filter(|m| m.group == "metal").collect();
        assert_eq!(metals.len(), 7);
        for m in metals {
            assert!(m.k_w_mk > 1.0 && m.c_j_kgk > 100.0 && m.rho_kg_m3 > 2000.0, "{}", m.name);
            assert!(m.alpha_per_k > 0.0 && m.emissivity_bright > 0.0, "{}", m.name);
        }
    }

    #[test]
    fn unknown_material_is_none() {
        assert!(Material::named("mithril").is_none());
    }
}
