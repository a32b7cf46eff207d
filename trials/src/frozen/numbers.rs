//! Structures that are plain numbers throughout, each field under its own name. It knows no pot's
//! shape and no action.

use super::{get, join};
use anyhow::Result;
use day::setting::{BedSetting, BitternessSetting, HopSetting, Parts, Pot, Setting};
use matter::malt::Grist;
use process::heat::{FlameInputs, SideLossInputs, SurfaceInputs};
use process::mash::{Gelatinisation, Kinetics, Loss, Turnover};
use serde_json::{Value, json};

/// All fields of a structure.
macro_rules! whole {
    ($of:ident, $write:ident, $read:ident: $($field:ident),+) => {
        pub(super) fn $write(of: &$of) -> Value {
            json!({ $((stringify!($field)): of.$field),+ })
        }

        pub(super) fn $read(v: &Value) -> Result<$of> {
            Ok($of { $($field: get(v, stringify!($field))?),+ })
        }
    };
}

/// Some fields of a structure that is made elsewhere.
macro_rules! part {
    ($of:ty, $write:ident, $read:ident: $($field:ident),+) => {
        pub(super) fn $write(of: &$of) -> Value {
            json!({ $((stringify!($field)): of.$field),+ })
        }

        pub(super) fn $read(into: &mut $of, v: &Value) -> Result<()> {
            $(into.$field = get(v, stringify!($field))?;)+
            Ok(())
        }
    };
}

whole!(Parts, write_parts, read_parts: liquor, mash, kettle, fermenter);

part!(BedSetting, write_finite_bed, read_finite_bed: per_kg_m3, mobile, channel, exchange_s, late,
    late_s, retained_m3_kg, seep_m3_s, plate_w_m2_k);

/// A flow that nothing limits is written as `null`.
pub(super) fn write_bed(bed: &BedSetting) -> Value {
    let limit = bed.flow_limit_m3_s;
    let mut value = json!({ "flow_limit_m3_s": limit.is_finite().then_some(limit) });
    join(&mut value, write_finite_bed(bed));
    value
}

pub(super) fn read_bed(v: &Value) -> Result<BedSetting> {
    let limit = get::<Option<f64>>(v, "flow_limit_m3_s")?;
    let mut bed = BedSetting {
        per_kg_m3: 0.0,
        mobile: 0.0,
        channel: 0.0,
        exchange_s: 0.0,
        late: 0.0,
        late_s: 0.0,
        retained_m3_kg: 0.0,
        flow_limit_m3_s: limit.unwrap_or(f64::INFINITY),
        seep_m3_s: 0.0,
        plate_w_m2_k: 0.0,
    };
    read_finite_bed(&mut bed, v)?;
    Ok(bed)
}

whole!(HopSetting, write_hop, read_hop: mass_kg, alpha, extraction_per_s, path, held_m3_kg);

whole!(BitternessSetting, write_bitterness, read_bitterness: k1, k2);

whole!(SideLossInputs, write_side, read_side: wetted_height_m, diameter_m, emissivity,
    insulation_m2_k_w, air_c, wind_m_s, multiplier);

whole!(SurfaceInputs, write_surface, read_surface: air_c, humidity, pressure_pa, wind_factor,
    multiplier);

whole!(FlameInputs, write_flame, read_flame: fuel_power_w, setting, share_full,
    turn_down_exponent, flame_c, wind_m_s, wind_sensitivity);

whole!(Gelatinisation, write_gelatinisation, read_gelatinisation: per_s, activation_j_mol);

whole!(Turnover, write_turnover, read_turnover: activation_j_mol, unfolding_j_mol, half_c);

whole!(Loss, write_loss, read_loss: per_s, activation_j_mol, shelter_per_plato, fastest_per_s);

part!(Pot, write_pot, read_pot: wall_j_k, base_j_k, base_loss_w_k, side_fired, lid_share,
    lid_w_m2_k, least_level_m, left_m3, under_m3, screen_m, valve_m3_s, side_m2, area_m2);

part!(Setting, write_air, read_air: air_c, pressure_pa, source_c, grist_c, wetting_factor,
    mash_ph, wort_ph);

// What a day asks of its grist; colour, acid and husk are the plan's business.
part!(Grist, write_grist, read_into_grist: mass_kg, dry_kg, moisture, extract_fine_dry,
    fine_coarse_dry, other_dry, other_sugar_dry, starch_dry, gelatinised, limit_shift,
    gel_shift_k, alpha, beta);

part!(Kinetics, write_kinetics, read_kinetics: small, grit, grit_s, shut, dough_loss,
    swelling_per_s, gel_shift_k, gel_k_per_plato, gel_plato, paste_alpha_per_s, paste_beta_per_s,
    dextrin_beta_per_s, dextrin_alpha_per_s, limit_per_s, direct_sugar, limit, limit_per_plato,
    limit_plato, maltose_g_kg, sugar_split, alpha_pk, beta_pk, alpha_factor, beta_factor);

pub(super) fn read_grist(v: &Value) -> Result<Grist> {
    let mut grist = Grist::default();
    read_into_grist(&mut grist, v)?;
    Ok(grist)
}

pub(super) fn write_all_kinetics(k: &Kinetics) -> Value {
    let mut value = json!({
        "large_granules": write_gelatinisation(&k.large_granules),
        "small_granules": write_gelatinisation(&k.small_granules),
        "alpha": write_turnover(&k.alpha),
        "beta": write_turnover(&k.beta),
        "debranch": write_turnover(&k.debranch),
        "alpha_loss": write_loss(&k.alpha_loss),
        "beta_loss": write_loss(&k.beta_loss),
        "debranch_loss": write_loss(&k.debranch_loss),
    });
    join(&mut value, write_kinetics(k));
    value
}

pub(super) fn read_all_kinetics(v: &Value) -> Result<Kinetics> {
    let mut k = Kinetics {
        large_granules: read_gelatinisation(&v["large_granules"])?,
        small_granules: read_gelatinisation(&v["small_granules"])?,
        alpha: read_turnover(&v["alpha"])?,
        beta: read_turnover(&v["beta"])?,
        debranch: read_turnover(&v["debranch"])?,
        alpha_loss: read_loss(&v["alpha_loss"])?,
        beta_loss: read_loss(&v["beta_loss"])?,
        debranch_loss: read_loss(&v["debranch_loss"])?,
        ..Kinetics::default()
    };
    read_kinetics(&mut k, v)?;
    Ok(k)
}
