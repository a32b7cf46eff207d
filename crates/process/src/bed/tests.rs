//! Checks of the bed. They deliberately look at balances and limits, not at stored digits.

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

/// The bed of 5 kg at 0.7776 extract, 95 % converted, 15 kg liquor, water at 1 kg/L.
struct Wash {
    bed: Bed,
    y: [f64; BED_STATES],
    cover_m3: f64,
    flow_m3_s: f64,
}

impl Wash {
    fn standard() -> Self {
        let extract_kg = 5.0 * 0.7776 * 0.95;
        let solids_kg = 5.0 * (0.96 - 0.7776 * 0.95);
        let bed_m3 = 9e-3 - solids_kg / 1450.0;
        let bed = Bed {
            mobile_m3: 0.55 * bed_m3,
            held_m3: 0.45 * bed_m3,
            dead_m3: 1.5e-3,
            water_density_kg_m3: 1000.0,
            ..bed()
        };
        let liquid_m3 = 15.2e-3 + 0.61e-3 * extract_kg;
        Self::new(bed, liquid_m3, extract_kg, 0.9, 0.015 * 5.0 * 0.7776)
    }

    /// Settles so that the strength is `extract/liquid` wherever it is not under the plate.
    fn new(bed: Bed, liquid_m3: f64, mashed_kg: f64, under: f64, rest_kg: f64) -> Self {
        let missing = (1.0 - under) * bed.under_m3 / liquid_m3;
        let extract_kg = mashed_kg * (1.0 - missing);
        let water_kg = 1000.0 * (liquid_m3 - 0.61e-3 * (extract_kg + rest_kg));
        let mash = Settled {
            extract_kg,
            water_kg,
            rest_kg,
            under_strength: under,
            heat_j: 0.0,
            under_warmer_k: 0.0,
        };
        let y = settle(&bed, &mash).unwrap();
        Self { bed, y, cover_m3: 1e-3, flow_m3_s: 0.95e-3 / 60.0 }
    }

    /// Draws `volumes` in turn at constant flow, the sparge opening at the cover; after each the
    /// strength at the outlet (°P) and the extract drawn so far.
    fn run(&self, volumes_m3: &[f64]) -> Vec<(f64, f64)> {
        let mut y = [0.0; BED_STATES + 1];
        y[..BED_STATES].copy_from_slice(&self.y);
        let scales = [1.0; BED_STATES + 1];
        let mut options = numerics::dopri::Options::new(&scales);
        options.relative = 1e-8;
        options.max_step_s = 20.0;
        let mut stepper = numerics::dopri::Stepper::new(BED_STATES + 1);
        let (mut t, mut system) = (0.0, Washing(self));
        volumes_m3
            .iter()
            .map(|v| {
                let end = v / self.flow_m3_s;
                stepper.integrate(&mut system, &mut t, &mut y, end, &options, |_| {}).unwrap();
                let c = 1e-3 * extract_kg_m3(&self.bed, &y).2;
                (100.0 * c / (1.0 + c * (1.0 - 0.61)), y[BED_STATES])
            })
            .collect()
    }
}

struct Washing<'a>(&'a Wash);

impl numerics::dopri::System for Washing<'_> {
    fn rates(&mut self, _t: f64, y: &[f64], dy: &mut [f64]) {
        dy.fill(0.0);
        let wash = self.0;
        let over = (free_m3(&wash.bed, y) / wash.cover_m3 - 1.0) / 0.02;
        let sparge = 1000.0 * wash.flow_m3_s / (1.0 + over.min(500.0).exp());
        let flows = Flows { outflow_m3_s: wash.flow_m3_s, sparge_kg_s: sparge, ..Flows::default() };
        dy[BED_STATES] = bed_rates(&wash.bed, &flows, y, dy).outflow_extract_kg_s;
    }
}

/// Strength at the valve and share drawn, against SciPy's LSODA on an independent writing of the
/// same washing.
#[test]
fn washing_follows_an_independent_integration() {
    let wash = Wash::standard();
    let total_kg = total_extract_kg(&wash.y);
    let litres = [0.1, 3.0, 5.0, 8.0, 12.0, 16.0, 20.0, 24.0, 25.0, 27.0];
    let out = wash.run(&litres.map(|v| 1e-3 * v));
    let plato = [17.85, 19.31, 19.5, 18.84, 15.55, 9.599, 5.677, 3.441];
    for (i, expected) in plato.iter().enumerate() {
        assert!((out[i].0 - expected).abs() < 0.03, "{} L: {} °P", litres[i], out[i].0);
    }
    for (i, expected) in [(6, 0.8705), (8, 0.9281), (9, 0.9427)] {
        let share = out[i].1 / total_kg;
        assert!((share - expected).abs() < 0.001, "{} L: {share}", litres[i]);
    }
}

/// Without channel, with fast exchange and no free volumes, the bed is eight tanks in series:
/// outlet after a step, from the regularised upper gamma function.
#[test]
fn without_channel_and_holding_the_bed_is_tanks_in_series() {
    let full = Wash::standard().bed;
    let bed_m3 = full.mobile_m3 + full.held_m3;
    let bed = Bed { channel: 0.0, exchange_s: 0.5, under_m3: 0.03e-3, dead_m3: 0.03e-3, ..full };
    let extract_kg = 5.0 * 0.7776 * 0.95;
    let liquid_m3 = 15.2e-3 + 0.61e-3 * extract_kg;
    let mut wash = Wash::new(bed, liquid_m3, extract_kg, 1.0, 0.0);
    wash.cover_m3 = 0.03e-3;
    let first_m3 = free_m3(&wash.bed, &wash.y) - 0.03e-3;
    let first = extract_kg / liquid_m3;
    let cases = [(0.5, 0.9489), (1.0, 0.4530), (1.5, 0.0895), (2.0, 0.0100)];
    let volumes: Vec<f64> = cases.iter().map(|(pv, _)| first_m3 + pv * bed_m3).collect();
    for ((pv, expected), (plato, _)) in cases.iter().zip(wash.run(&volumes)) {
        let c = 1e3 * plato / (100.0 - plato * (1.0 - 0.61));
        assert!((c / first - expected).abs() < 0.01, "{pv} volumes: {}", c / first);
    }
}

/// The warm front lags the flow: half way after 1.9 mobile volumes.
#[test]
fn the_temperature_front_lags_the_flow() {
    let full = Wash::standard().bed;
    let solids_j_k = 0.912 * 0.38 * 4186.0;
    let bed = Bed { channel: 0.0, exchange_s: 60.0, solids_heat_j_k: solids_j_k, ..full };
    let heat_capacity = |y: &[f64]| total_heat_j(y) / lift_k(&bed, y).0;
    let mut warm = Wash::new(bed, 15.2e-3, 0.0, 1.0, 0.0);
    let mash = Settled {
        extract_kg: 0.0,
        water_kg: 15.2,
        heat_j: 1e5,
        rest_kg: 0.0,
        under_strength: 1.0,
        under_warmer_k: 0.0,
    };
    warm.y = settle(&bed, &mash).unwrap();
    assert!(heat_capacity(&warm.y) > 4187.0 * 15.2);
    // Heat of a cell over that of its mobile liquid is the lag.
    let cell = (bed.mobile_m3 + bed.held_m3) * 1000.0 * WATER_J_KG_K + solids_j_k;
    let lag = cell / (bed.mobile_m3 * 1000.0 * WATER_J_KG_K);
    assert!((lag - 1.893).abs() < 0.01, "{lag}");
}

/// Drains mixed fully recover what the mass balance says: 1 - R/V, then 1 - (R/V)².
#[test]
fn drains_recover_what_the_mass_balance_says() {
    let wash = Wash::standard();
    let bed = Bed { late_s: 1e12, dead_m3: 0.0, under_m3: 0.5e-3, ..wash.bed };
    let mash = Settled {
        extract_kg: 3.888,
        water_kg: 15.2,
        heat_j: 0.0,
        rest_kg: 0.0,
        under_strength: 1.0,
        under_warmer_k: 0.0,
    };
    let mut y = settle(&bed, &mash).unwrap();
    let volume_m3 = 15.2e-3 + 0.61e-3 * 3.888;
    let stays_m3 = bed.retained_m3 + bed.under_left_m3();
    let keep = stays_m3 / volume_m3;
    for expected in [keep, keep * keep] {
        y = drain(&bed, y);
        let left = total_extract_kg(&y) / 3.888;
        assert!((left - expected).abs() < 2e-3, "{left} for {expected}");
        let missing_kg = 1000.0 * (volume_m3 - stays_m3);
        y[FREE_WATER] += missing_kg;
        y = mix(&bed, &y).unwrap();
    }
}

/// Runs a bed empty in five-second steps of Euler: first the free liquid, then the bed itself.
fn drain(bed: &Bed, mut y: [f64; BED_STATES]) -> [f64; BED_STATES] {
    let total = |y: &[f64], out: f64| total_water_kg(bed, y) + total_extract_kg(y) + out;
    let before = total(&y, 0.0);
    let mut drawn = 0.0;
    for _ in 0..2000 {
        let free = free_m3(bed, &y).max(0.0);
        let valve = 3e-5_f64;
        let draining = free < 1e-9;
        let outflow_m3_s = if draining { valve } else { valve.min(free / 5.0) };
        let flows = Flows { outflow_m3_s, draining, ..Flows::default() };
        let mut dy = [0.0; BED_STATES];
        let out = bed_rates(bed, &flows, &y, &mut dy);
        for i in 0..BED_STATES {
            y[i] += 5.0 * dy[i];
        }
        drawn += 5.0 * (out.outflow_extract_kg_s + out.outflow_water_kg_s);
    }
    let closure = total(&y, drawn) / before - 1.0;
    assert!(closure.abs() < 1e-12, "{closure}");
    y
}

/// A mash that does not even fill the drained bed is refused, and says so.
#[test]
fn too_little_liquor_is_refused() {
    let error = settle(&bed(), &Settled { water_kg: 4.0, ..mash() }).unwrap_err();
    assert!(error.to_string().contains("liquid in the mash"), "{error}");
    assert!(settle(&bed(), &Settled { water_kg: f64::NAN, ..mash() }).is_err());
}

/// No flow, no exchange, no heat: nothing moves in a uniform bed.
#[test]
fn a_uniform_bed_at_rest_stays_as_it_is() {
    let uniform = Settled { under_strength: 1.0, under_warmer_k: 0.0, rest_kg: 0.0, ..mash() };
    let y = settle(&bed(), &uniform).unwrap();
    let mut dy = [0.0; BED_STATES];
    bed_rates(&bed(), &Flows::default(), &y, &mut dy);
    assert!(dy.iter().all(|d| d.abs() < 1e-15), "{dy:?}");
    let (free, cells, under) = lift_k(&bed(), &y);
    assert!(cells.iter().all(|t| (t - free).abs() < 1e-12) && (under - free).abs() < 1e-12);
}
