use super::*;

fn bed() -> Bed {
    Bed {
        mobile_m3: 4.5e-3,
        held_m3: 3.7e-3,
        under_m3: 1.5e-3,
        dead_m3: 0.4e-3,
        exchange_s: 300.0,
        channel: 0.15,
        late_s: 3600.0,
        water_density_kg_m3: 978.0,
        extract_volume_m3_kg: 0.61e-3,
        solids_heat_j_k: 1600.0,
        drain_s: 240.0,
        retained_m3: 5e-3,
    }
}

fn mash() -> Settled {
    Settled {
        extract_kg: 3.7,
        water_kg: 15.0,
        heat_j: 40e3,
        rest_kg: 0.05,
        under_strength: 0.9,
        under_warmer_k: 2.0,
    }
}

/// Flows of every kind, flooded and draining, leave nothing over.
#[test]
fn extract_water_and_heat_close_to_rounding() {
    let bed = bed();
    let mut y = settle(&bed, &mash()).unwrap();
    for (i, x) in y[MOBILE..MOBILE_SHARE].iter_mut().enumerate() {
        *x *= 1.0 + 0.03 * i as f64; // an uneven bed
    }
    for draining in [false, true] {
        y[MOBILE_SHARE] = if draining { 0.8 } else { 0.9 };
        y[UNDER_SHARE] = 0.95;
        let flows = Flows {
            outflow_m3_s: 2e-5,
            sparge_kg_s: 0.015,
            sparge_enthalpy_j_kg: 46e3,
            bed_loss_w: 90.0,
            surface_loss_w: 300.0,
            vapour_kg_s: 1e-4,
            draining,
        };
        let mut dy = [0.0; BED_STATES];
        let out = bed_rates(&bed, &flows, &y, &mut dy);
        let extract = total_extract_kg(&dy) + out.outflow_extract_kg_s;
        assert!(extract.abs() < 1e-15, "{extract}");
        let heat = total_heat_j(&dy) + out.outflow_heat_w + 390.0 - 0.015 * 46e3;
        assert!(heat.abs() < 1e-9, "{heat}");
        // Water is a function of the state: differentiate along dy, which it is linear in.
        let still = Bed { held_m3: 0.0, ..bed };
        let water = total_water_kg(&still, &dy) + out.outflow_water_kg_s + out.vapour_kg_s - 0.015;
        assert!(water.abs() < 1e-14, "{water}");
        assert!(out.outflow_m3_s > 0.0);
    }
}
