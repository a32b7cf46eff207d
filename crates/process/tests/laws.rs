//! What every law here must keep, whatever its constants: balances, limits, direction. It holds no
//! table of outside numbers but three integrated vectors; the tables stand in `reference/checks`.

#![allow(clippy::unwrap_used, reason = "a test may stop at the first surprise")]

use process::boil;
use process::chill::{self, CoolDown, Stream};
use process::heat::{
    self, Flame, FlameInputs, HeatUp, OpenSurface, SideLoss, SideLossInputs, SurfaceInputs,
};
use process::isomerise::{self, ALPHA, HOP, IN_HOP, ISO};
use process::lauter::{BedFlow, BedInputs, Margins, Stop, orifice_flow_m3_s, settled_flow};
use process::strike::{self, DoughIn};

const POT: SideLossInputs = SideLossInputs {
    wetted_height_m: 0.40,
    diameter_m: 0.36,
    emissivity: 0.2,
    insulation_m2_k_w: 0.0,
    air_c: 20.0,
    wind_m_s: 0.0,
    multiplier: 1.0,
};

/// The table of a wall follows the law it is laid out from, bare, in wind and insulated.
#[test]
fn a_wall_loses_what_its_films_say() {
    for (insulation, wind) in [(0.0, 0.0), (0.0, 2.0), (0.35, 0.0), (0.35, 2.0)] {
        let inputs = SideLossInputs { insulation_m2_k_w: insulation, wind_m_s: wind, ..POT };
        let wall = SideLoss::new(&inputs);
        for temp_c in [23.0, 31.0, 50.0, 66.0, 78.0, 99.0, 104.0] {
            let flux = wall.flux_w_m2(temp_c);
            let face_c = temp_c - flux * insulation;
            let still = heat::still_air_w_m2_k(face_c, 20.0, 0.40);
            let windy = heat::wind_w_m2_k(wind, 0.36, face_c, 20.0);
            let film =
                (still.powi(3) + windy.powi(3)).cbrt() + heat::radiation_w_m2_k(face_c, 20.0, 0.2);
            let outer = film * (face_c - 20.0);
            assert!((flux / outer - 1.0).abs() < 3e-3, "{temp_c} °C, {insulation}: {flux}");
        }
    }
}

/// Warmer, barer, windier: each loses more; at air temperature nothing, below it the other way.
#[test]
fn losses_point_the_right_way() {
    let bare = SideLoss::new(&POT);
    let wrapped = SideLoss::new(&SideLossInputs { insulation_m2_k_w: 0.3, ..POT });
    let windy = SideLoss::new(&SideLossInputs { wind_m_s: 3.0, ..POT });
    let lid = SideLoss::lid(&POT);
    let base = SideLoss::base(&POT);
    let mut last = 0.0;
    for i in 1..90 {
        let temp_c = 20.0 + f64::from(i);
        let flux = bare.flux_w_m2(temp_c);
        assert!(flux > last && windy.flux_w_m2(temp_c) > flux, "{temp_c} °C");
        assert!(wrapped.flux_w_m2(temp_c) < 0.6 * flux, "{temp_c} °C");
        assert!(bare.dry_flux_w_m2(temp_c) < 0.5 * flux, "{temp_c} °C");
        assert!(lid.flux_w_m2(temp_c) > base.flux_w_m2(temp_c), "{temp_c} °C");
        last = flux;
    }
    assert_eq!(bare.flux_w_m2(20.0), 0.0);
    assert_eq!(bare.flux_w_m2(12.0), -bare.flux_w_m2(28.0));
}

/// The open surface gives more vapour the warmer it is and the drier the room, never dew, and
/// stays finite beyond the boil; a lid keeps back nine tenths.
#[test]
fn an_open_surface_behaves_up_to_the_boil() {
    let room = SurfaceInputs {
        air_c: 20.0,
        humidity: 0.5,
        pressure_pa: 101_325.0,
        wind_factor: 1.0,
        multiplier: 1.0,
    };
    let surface = OpenSurface::new(&room);
    let damp = OpenSurface::new(&SurfaceInputs { humidity: 0.9, ..room });
    let mut last = -1.0;
    for i in 20..=112 {
        let temp_c = f64::from(i);
        let vapour = surface.evaporation_kg_m2_s(temp_c);
        assert!(vapour >= last && vapour >= damp.evaporation_kg_m2_s(temp_c), "{temp_c} °C");
        assert!(vapour.is_finite() && vapour < 0.01, "{temp_c} °C: {vapour}");
        let law = heat::shah_kg_m2_h(temp_c, 20.0, 0.5, 101_325.0) / 3600.0;
        assert!((vapour - law).abs() < 1e-3 * law + 2e-6, "{temp_c} °C");
        last = vapour;
    }
    assert!(surface.evaporation_kg_m2_s(2.0) >= 0.0);
    assert_eq!(surface.sensible_w_m2(20.0), 0.0);
    // Still 60 °F air, 82.2 °C water: 5.489 kW/m² in a handbook table of open tanks, ±18 %.
    let handbook = SurfaceInputs { air_c: 15.6, ..room };
    let vapour = OpenSurface::new(&handbook).evaporation_kg_m2_s(82.2);
    let kw = vapour * matter::water::evaporation_heat_j_kg(82.2) / 1e3;
    assert!((kw / 5.489 - 1.0).abs() < 0.18, "{kw}");
}

/// A flame turned down gives less heat but a larger share; wind and a hot base take from it.
#[test]
fn a_flame_turned_down_wastes_less() {
    let full = FlameInputs {
        fuel_power_w: 9500.0,
        setting: 1.0,
        share_full: 0.45,
        turn_down_exponent: 0.2,
        flame_c: 1300.0,
        wind_m_s: 0.0,
        wind_sensitivity: 0.15,
    };
    let (mut heat_before, mut share_before) = (0.0, 1.0);
    for setting in [0.25, 0.4, 0.6, 0.8, 1.0] {
        let flame = Flame::new(&FlameInputs { setting, ..full });
        let share = flame.heat_w(60.0) / flame.fuel_w();
        assert!(flame.heat_w(60.0) > heat_before && share < share_before, "{setting}");
        assert!(flame.heat_w(110.0) < flame.heat_w(60.0));
        (heat_before, share_before) = (flame.heat_w(60.0), share);
    }
    let windy = Flame::new(&FlameInputs { wind_m_s: 2.0, ..full });
    assert!((windy.heat_w(60.0) / Flame::new(&full).heat_w(60.0) - 1.0 / 1.3).abs() < 1e-12);
    assert_eq!((Flame::off().heat_w(90.0), Flame::off().fuel_w()), (0.0, 0.0));
    assert_eq!(Flame::new(&FlameInputs { setting: 0.0, ..full }), Flame::off());
}

/// Heating up stops short where the loss eats the power, and without power it is Newton cooling.
#[test]
fn heating_up_knows_where_it_ends() {
    let pot = HeatUp { capacity_j_k: 1e5, ua_w_k: 10.0, power_w: 500.0, air_c: 20.0 };
    assert!(heat::heat_up_time_s(&pot, 20.0, 69.9).is_finite());
    assert!(heat::heat_up_time_s(&pot, 20.0, 70.1).is_infinite());
    let cooling = HeatUp { power_w: 0.0, ..pot };
    let time_s = heat::heat_up_time_s(&cooling, 80.0, 20.0 + 60.0 / std::f64::consts::E);
    assert!((time_s - 1e4).abs() < 1e-6, "{time_s}");
}

/// Strike and mash temperature undo each other, and a hotter strike makes a hotter mash.
#[test]
fn strike_and_mash_temperature_are_inverse() {
    let dough = DoughIn {
        grist_kg: 5.0,
        moisture: 0.04,
        grain_c: 18.0,
        liquor_kg: 14.0,
        vessel_j_k: 2500.0,
        vessel_c: 30.0,
        wetting_j_kg: strike::wetting_heat_j_kg(0.04),
        lost_j: 30e3,
    };
    for mash_c in [45.0, 63.0, 68.0] {
        let strike_c = strike::strike_c(&dough, mash_c);
        assert!((strike::mash_c(&dough, strike_c) - mash_c).abs() < 1e-9);
        let liquor_c = strike::strike_in_tun_c(&dough, mash_c);
        let in_tun = DoughIn { vessel_c: liquor_c, ..dough };
        assert!((strike::mash_c(&in_tun, liquor_c) - mash_c).abs() < 1e-9);
    }
    assert!(strike::step_liquor_kg(6e4, 52.0, 64.0, 64.0).is_infinite());
}

const BED: BedInputs = BedInputs {
    area_m2: 0.125_664,
    depth_m: 0.20,
    viscosity_pa_s: 0.829e-3,
    density_kg_m3: 977.76,
    permeability_m2: 5e-11,
    pressing_pa: 2500.0,
    pressing_exponent: 2.0,
    screen_per_m: 5e8,
    opening_m2: 1.266_77e-4,
    discharge: 0.6,
};

/// The settled flow is its own pressing's flow, continuous through the greatest, zero when shut.
#[test]
fn the_bed_passes_what_it_is_pressed_for() {
    let mut last: Option<f64> = None;
    for i in 1..=120 {
        let head_m = 0.005 * f64::from(i);
        let settled = settled_flow(&BED, head_m);
        let squeeze = 1.0 + settled.bed_pa / 2500.0;
        let k = 5e-11 / (squeeze * squeeze);
        let pa = BED.viscosity_pa_s * settled.flow_m3_s * 0.20 / (k * BED.area_m2);
        assert!((pa - settled.bed_pa).abs() < 1e-6 * (1.0 + pa), "{head_m} m");
        if let Some(before) = last {
            assert!((settled.flow_m3_s - before).abs() < 3e-6, "{head_m} m");
        }
        last = Some(settled.flow_m3_s);
    }
    assert_eq!(settled_flow(&BED, 0.0).flow_m3_s, 0.0);
    assert_eq!(settled_flow(&BedInputs { opening_m2: 0.0, ..BED }, 0.3).flow_m3_s, 0.0);
    // Where the bed offers nothing the valve rules.
    let open = BedInputs { permeability_m2: 1.0, screen_per_m: 0.0, ..BED };
    let valve = orifice_flow_m3_s(open.opening_m2, 0.6, 0.3);
    assert!((settled_flow(&open, 0.3).flow_m3_s / valve - 1.0).abs() < 1e-6);
}

/// The table of the bed follows the law, from a throttled to an open valve.
#[test]
fn the_table_of_a_bed_follows_the_law() {
    for opening_m2 in [2e-6, 1e-5, 1.27e-4] {
        let bed = BedInputs { opening_m2, depth_m: 0.072, ..BED };
        let table = BedFlow::new(&bed, 0.5);
        for i in 1..=100 {
            let head_m = 0.005 * f64::from(i);
            let flow = settled_flow(&bed, head_m).flow_m3_s;
            assert!((table.flow_m3_s(head_m) - flow).abs() < 2e-4 * flow + 1e-10, "{head_m} m");
        }
        assert_eq!(table.flow_m3_s(0.0), 0.0);
        assert_eq!(table.flow_m3_s(-0.1), 0.0);
    }
}

/// The run-off names the limit it met first.
#[test]
fn a_run_off_says_why_it_ends() {
    let going = Margins { volume_m3: 1e-3, plato: 3.0, ph: 0.2 };
    assert_eq!(going.stop(), None);
    assert_eq!(Margins { volume_m3: 0.0, ..going }.stop(), Some(Stop::Volume));
    assert_eq!(Margins { plato: -0.1, ..going }.stop(), Some(Stop::Strength));
    assert_eq!(Margins { ph: -0.1, ..going }.stop(), Some(Stop::Acidity));
}

/// Classical Runge-Kutta over `minutes`, one second a step.
fn integrate<const N: usize>(
    mut y: [f64; N],
    minutes: usize,
    rates: impl Fn(f64, &[f64; N]) -> [f64; N],
) -> [f64; N] {
    let shift = |y: &[f64; N], d: &[f64; N], h: f64| std::array::from_fn(|i| y[i] + h * d[i]);
    for step in 0..60 * minutes {
        let t = step as f64;
        let k1 = rates(t, &y);
        let k2 = rates(t + 0.5, &shift(&y, &k1, 0.5));
        let k3 = rates(t + 0.5, &shift(&y, &k2, 0.5));
        let k4 = rates(t + 1.0, &shift(&y, &k3, 1.0));
        for i in 0..N {
            y[i] += (k1[i] + 2.0 * (k2[i] + k3[i]) + k4[i]) / 6.0;
        }
    }
    y
}

/// Sulphide after an hour's boil of 27 kg at 4.6 kg/h and a covered stand, against SciPy.
#[test]
fn sulphide_follows_an_independent_integration() {
    let boil_kg_s = 4.6 / 3600.0;
    let boiled = integrate([1000.0, 0.0, 0.0], 60, |_, y| {
        let splitting = boil::precursor_rate_per_s(100.0, 5.4);
        let leaving = boil::stripping_rate_per_s(boil_kg_s, 27.0, 1.0);
        let mut out = [0.0; 2];
        boil::sulphide_rates(splitting, leaving, &[y[0], y[1]], &mut out);
        [out[0], out[1], leaving * y[1]]
    });
    assert!((boiled.iter().sum::<f64>() - 1000.0).abs() < 1e-6, "{boiled:?}");
    assert!((boiled[0] - 304.75).abs() < 1.0 && (boiled[1] - 37.6).abs() < 0.5, "{boiled:?}");
    let stood = integrate([boiled[0], boiled[1]], 20, |t, y| {
        let splitting = boil::precursor_rate_per_s(98.0 - 18.0 * t / 1200.0, 5.4);
        let mut out = [0.0; 2];
        boil::sulphide_rates(splitting, 0.0, y, &mut out);
        out
    });
    assert!((stood[1] - 75.36).abs() < 0.5, "{stood:?}");
}

/// More fire, more vapour; too little, none. More foam life, more headroom.
#[test]
fn vapour_needs_heat_left_over() {
    assert_eq!(boil::boil_off_kg_s(-500.0, 100.0), 0.0);
    assert!(boil::boil_off_kg_s(3000.0, 95.0) < boil::boil_off_kg_s(3000.0, 100.0));
    let speed = boil::vapour_speed_m_s(boil::boil_off_kg_s(2900.0, 100.0), 0.1018);
    let first = boil::foam_m(boil::FIRST_FOAM_S, speed);
    assert!(first > boil::foam_m(boil::LATER_FOAM_S, speed));
    assert!(boil::headroom_m(0.3, 1.04, first, boil::SURGE_M) > 0.1);
}

/// Hops boiled an hour: nothing lost from the books, yields as the rate constants of Malowicki and
/// Shellhammer give them through SciPy (slow extraction; solubility at a high hop rate).
#[test]
fn hops_keep_their_books_and_their_yield() {
    let temp_k = 373.15;
    let (k1, k2) =
        (matter::hop::isomerisation_rate_per_s(temp_k), matter::hop::iso_loss_rate_per_s(temp_k));
    // added mg/L, extraction 1/min, minutes, yield
    let cases = [
        (1.0, 0.5, 10, 0.09373),
        (1.0, 0.1, 60, 0.4218),
        (60.0, 0.5, 60, 0.4667),
        (548.0, 0.5, 60, 0.3231),
    ];
    for (added, per_min, minutes, expected) in cases {
        let mut start = [0.0; HOP];
        start[IN_HOP] = added;
        let end = integrate(start, minutes, |_, y| {
            let phi = isomerise::solubility_share(y[ALPHA], 5.2);
            let mut out = [0.0; HOP];
            isomerise::hop_rates(k1, k2, phi, per_min / 60.0, y, &mut out);
            out
        });
        assert!((end.iter().sum::<f64>() / added - 1.0).abs() < 1e-12);
        let share = end[ISO] / added;
        assert!((share - expected).abs() < 1e-3, "{added} mg/L: {share}");
    }
}

/// A coil integrated equals its closed form; it never takes more than its coolant can carry.
#[test]
fn a_coil_cools_as_its_closed_form() {
    let capacity_j_k = 20.9 * 3980.0;
    let end = integrate([100.0], 20, |_, y| {
        [-chill::coil_heat_w(300.0, 418.4, y[0], 15.0) / capacity_j_k]
    });
    let draw = chill::coil_effectiveness(300.0, 418.4) * 418.4;
    let closed = chill::cooled_c(capacity_j_k / draw, 100.0, 15.0, 1200.0);
    assert!((end[0] / closed - 1.0).abs() < 1e-9, "{} {closed}", end[0]);
    let path = CoolDown { from_c: 100.0, to_c: closed, inlet_c: 15.0 };
    assert!((chill::cool_down_time_s(capacity_j_k, draw, &path) - 1200.0).abs() < 1e-6);
    let mut last = 0.0;
    for ua_w_k in [0.0, 1.0, 50.0, 500.0, 5e3, 5e4] {
        let heat_w = chill::coil_heat_w(ua_w_k, 500.0, 80.0, 20.0);
        assert!(last <= heat_w && heat_w <= 500.0 * 60.0, "UA = {ua_w_k} W/K: {heat_w} W");
        last = heat_w;
    }
    let never = CoolDown { to_c: 15.0, ..path };
    assert!(chill::cool_down_time_s(capacity_j_k, draw, &never).is_infinite());
}

/// Heat out of the wort is heat into the water, no temperature crosses the other, and the two
/// forms of the effectiveness meet where the streams are equal.
#[test]
fn a_counterflow_chiller_keeps_its_heat() {
    for (hot, cold, ua) in [(199.0, 418.4, 400.0), (418.4, 199.0, 900.0), (300.0, 300.0, 600.0)] {
        let wort = Stream { capacity_w_k: hot, inlet_c: 95.0 };
        let water = Stream { capacity_w_k: cold, inlet_c: 15.0 };
        let out = chill::counterflow(ua, &wort, &water);
        let given = hot * (95.0 - out.wort_c);
        assert!((given - out.heat_w).abs() < 1e-9 * given);
        assert!((cold * (out.coolant_c - 15.0) - given).abs() < 1e-9 * given);
        assert!(out.wort_c > 15.0 && out.coolant_c < 95.0);
    }
    let even = chill::counterflow_effectiveness(600.0, 400.0, 400.0);
    let nearly = chill::counterflow_effectiveness(600.0, 400.0, 400.01);
    assert!((even - nearly).abs() < 1e-4);
}
