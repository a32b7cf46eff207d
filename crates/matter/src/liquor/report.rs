//! A water report turned into a liquor; it deliberately corrects no season.

use numerics::root::find_root;

use super::{
    CA_KG_MOL, CL_KG_MOL, CarbonateConstants, Gas, K_KG_MOL, Liquor, LiquorError, MG_KG_MOL,
    NA_KG_MOL, NO3_KG_MOL, ROOM_C, SO4_KG_MOL,
};

/// What a water report says: ions in mg/L, alkalinity in meq/L, pH at room temperature.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Report {
    /// Calcium, mg/L.
    pub calcium_mg_l: f64,
    /// Magnesium, mg/L.
    pub magnesium_mg_l: f64,
    /// Sodium, mg/L.
    pub sodium_mg_l: f64,
    /// Potassium, mg/L.
    pub potassium_mg_l: f64,
    /// Chloride, mg/L.
    pub chloride_mg_l: f64,
    /// Sulfate, mg/L as SO4.
    pub sulfate_mg_l: f64,
    /// Nitrate, mg/L as NO3.
    pub nitrate_mg_l: f64,
    /// Alkalinity, meq/L.
    pub alkalinity_meq_l: f64,
    /// pH.
    pub ph: f64,
}

impl Report {
    /// The strong ions alone, mol/kg.
    fn ions(&self) -> Liquor {
        let mol = |mg_l: f64, kg_mol: f64| mg_l * 1e-6 / kg_mol;
        Liquor {
            calcium_mol_kg: mol(self.calcium_mg_l, CA_KG_MOL),
            magnesium_mol_kg: mol(self.magnesium_mg_l, MG_KG_MOL),
            sodium_mol_kg: mol(self.sodium_mg_l, NA_KG_MOL),
            potassium_mol_kg: mol(self.potassium_mg_l, K_KG_MOL),
            chloride_mol_kg: mol(self.chloride_mg_l, CL_KG_MOL),
            sulfate_mol_kg: mol(self.sulfate_mg_l, SO4_KG_MOL),
            nitrate_mol_kg: mol(self.nitrate_mg_l, NO3_KG_MOL),
            ..Liquor::default()
        }
    }

    /// Charge that the report leaves open, as a share of all its charge: cations less anions.
    ///
    /// ```text
    /// (SID − alk)/(Σ cations + Σ anions + alk)
    /// ```
    ///
    /// Shape: beyond 0.05 either way some value is wrong or from another day.
    ///
    /// | symbol | argument | unit  | holds for |
    /// |--------|----------|-------|-----------|
    /// | ions   | `self`   | meq/L | 0 ≤ each  |
    ///
    /// # Errors
    /// None; 0 for a report without ions.
    ///
    /// # Source
    /// Electroneutrality; 0.05 is common practice.
    pub fn gap_share(&self) -> f64 {
        let ions = self.ions();
        let gap = ions.strong_ions_mol_kg() - 1e-3 * self.alkalinity_meq_l;
        let all = 2.0 * (ions.hardness_mol_kg() + ions.sulfate_mol_kg)
            + ions.sodium_mol_kg
            + ions.potassium_mol_kg
            + ions.chloride_mol_kg
            + ions.nitrate_mol_kg
            + 1e-3 * self.alkalinity_meq_l.abs();
        if all > 0.0 { gap / all } else { 0.0 }
    }

    /// The liquor that the report describes.
    ///
    /// ```text
    /// C_T so that [HCO3] + 2 [CO3] + pairs + [OH] − [H] = alk at the reported pH
    /// gap = SID − alk        too many cations: + Cl; too few: + Na
    /// ```
    ///
    /// Shape: alkalinity and pH are kept as measured; the gap of charge goes to chloride or sodium.
    ///
    /// | symbol | argument                | unit  | holds for    |
    /// |--------|-------------------------|-------|--------------|
    /// | `alk`  | `self.alkalinity_meq_l` | meq/L | −1 to 20     |
    /// | `pH`   | `self.ph`               | pH    | 4 ≤ pH ≤ 10  |
    /// | ions   | `self`                  | mg/L  | 0 ≤ each     |
    ///
    /// # Errors
    /// [`LiquorError::Report`] naming the value that is negative, not finite or impossible.
    ///
    /// # Source
    /// Charge balance of [`CarbonateConstants`]. Checked against PHREEQC in `reference/checks`.
    pub fn liquor(&self) -> Result<Liquor, LiquorError> {
        self.check()?;
        let k = CarbonateConstants::at(ROOM_C);
        let mut liquor = self.ions();
        let alkalinity = 1e-3 * self.alkalinity_meq_l;
        let gap = liquor.strong_ions_mol_kg() - alkalinity;
        if gap > 0.0 {
            liquor.chloride_mol_kg += gap;
        } else {
            liquor.sodium_mol_kg -= gap;
        }
        let left = |carbonate_mol_kg: f64| {
            let with = Liquor { carbonate_mol_kg, ..liquor };
            with.species(&k, self.ph, Gas::Closed).alkalinity() - alkalinity
        };
        let carbonate_mol_kg = match find_root(left, 0.0, 1.0, 1e-12) {
            Ok(root) => root,
            Err(_) if left(0.0).abs() < 1e-6 => 0.0,
            Err(_) => {
                return Err(LiquorError::Report {
                    field: "alkalinity_meq_l",
                    value: self.alkalinity_meq_l,
                    expected: "an alkalinity that this pH can carry",
                });
            }
        };
        Ok(Liquor { carbonate_mol_kg, ..liquor })
    }

    fn check(&self) -> Result<(), LiquorError> {
        let ions = [
            ("calcium_mg_l", self.calcium_mg_l),
            ("magnesium_mg_l", self.magnesium_mg_l),
            ("sodium_mg_l", self.sodium_mg_l),
            ("potassium_mg_l", self.potassium_mg_l),
            ("chloride_mg_l", self.chloride_mg_l),
            ("sulfate_mg_l", self.sulfate_mg_l),
            ("nitrate_mg_l", self.nitrate_mg_l),
        ];
        let refuse = |field, value, expected| Err(LiquorError::Report { field, value, expected });
        for (field, value) in ions {
            if !(0.0..=20_000.0).contains(&value) {
                return refuse(field, value, "0 to 20000 mg/L");
            }
        }
        if !(-1.0..=50.0).contains(&self.alkalinity_meq_l) {
            return refuse("alkalinity_meq_l", self.alkalinity_meq_l, "-1 to 50 meq/L");
        }
        if !(4.0..=10.0).contains(&self.ph) {
            return refuse("ph", self.ph, "4 to 10");
        }
        Ok(())
    }
}
