//! A brewhouse in plain numbers for the tests: three pots and a fermenter.

use brewhouse::section::{BaseShape, Section};
use day::procedure::{Action, Operation, Procedure, Start};
use day::setting::{
    BedSetting, BitternessSetting, Chiller, Heater, HopSetting, LossSetting, Parts, Pot, Setting,
};
use matter::malt::{GristItem, grist};
use process::heat::{FlameInputs, OpenSurface, SideLoss, SideLossInputs, SurfaceInputs};
use process::mash::Kinetics;

pub(crate) const AIR_C: f64 = 20.0;

pub(crate) fn side() -> SideLoss {
    SideLoss::new(&SideLossInputs {
        wetted_height_m: 0.25,
        diameter_m: 0.4,
        emissivity: 0.2,
        insulation_m2_k_w: 0.0,
        air_c: AIR_C,
        wind_m_s: 0.0,
        multiplier: 1.0,
    })
}

pub(crate) fn flame(fuel_power_w: f64) -> Heater {
    Heater::Flame(FlameInputs {
        fuel_power_w,
        setting: 1.0,
        share_full: 0.45,
        turn_down_exponent: 0.2,
        flame_c: 1100.0,
        wind_m_s: 0.0,
        wind_sensitivity: 0.0,
    })
}

pub(crate) fn pot(key: &str, heater: Heater, under_m3: f64) -> Pot {
    Pot {
        key: key.into(),
        section: Section::round(0.4, 0.5, BaseShape::Flat { corner_m: 0.0 }),
        wall_j_k: 2000.0,
        base_j_k: 2500.0,
        base_w_k: 165.0,
        base_loss_w_k: 0.5,
        side: side(),
        side_fired: 0.3,
        surface: OpenSurface::new(&SurfaceInputs {
            air_c: AIR_C,
            humidity: 0.5,
            pressure_pa: 101_325.0,
            wind_factor: 1.0,
            multiplier: 1.0,
        }),
        lid_share: 0.1,
        lid_w_m2_k: 8.0,
        heater,
        least_level_m: 0.0,
        left_m3: 1e-3,
        under_m3,
        screen_m: if under_m3 > 0.0 { 0.04 } else { 0.0 },
        valve_m3_s: 1e-4,
        side_m2: 0.63,
        area_m2: 0.1257,
    }
}

pub(crate) fn setting() -> Setting {
    let malt = GristItem::of("pale malt", 5.0).unwrap();
    let tank = Heater::Element { power_w: 2800.0, share: 1.0 };
    Setting {
        pots: vec![
            pot("tank", tank, 0.0),
            pot("tun", flame(9500.0), 5e-3),
            pot("kettle", flame(9500.0), 0.0),
            pot("fermenter", Heater::None, 0.0),
        ],
        parts: Parts { liquor: 0, mash: 1, kettle: 2, fermenter: 3 },
        air_c: AIR_C,
        pressure_pa: 101_325.0,
        source_c: 12.0,
        grist: grist(&[malt]),
        grist_c: AIR_C,
        kinetics: Kinetics::default(),
        wetting_factor: 1.0,
        bed: BedSetting {
            per_kg_m3: 1.8e-3,
            mobile: 0.55,
            channel: 0.15,
            exchange_s: 300.0,
            late: 0.015,
            late_s: 3600.0,
            retained_m3_kg: 1e-3,
            flow_limit_m3_s: f64::INFINITY,
            seep_m3_s: 2e-7,
            plate_w_m2_k: 50.0,
        },
        hops: vec![hop(), hop()],
        bitterness: BitternessSetting { k1: 1.0, k2: 0.9 },
        chiller: Chiller::Coil { ua_w_k: 500.0, coolant_kg_s: 0.1, inlet_c: 12.0 },
        losses: LossSetting {
            trub: 0.02,
            cold_break: 0.01,
            trub_and_hops_m3: None,
            hoses_m3: 3e-4,
        },
        mash_ph: 5.4,
        wort_ph: 5.2,
    }
}

fn hop() -> HopSetting {
    HopSetting {
        mass_kg: 0.03,
        alpha: 0.07,
        extraction_per_s: 1.0 / 120.0,
        path: 1.0,
        held_m3_kg: 6e-3,
    }
}

pub(crate) fn add(procedure: &mut Procedure, id: &str, starts: Start, action: Action) -> usize {
    procedure.add(Operation { id: id.into(), starts, action })
}

/// Liquor heated to the strike and poured into the tun, the grist stirred in, one rest.
pub(crate) fn mash(p: &mut Procedure, grist_kg: f64, strike_kg: f64) -> usize {
    let fill = Action::Fill { pot: 0, mass_kg: 45.0, flow_kg_s: 0.2 };
    let filled = add(p, "fill", Start::at(0.0), fill);
    let heat = Action::Heat { pot: 0, setting: 1.0, to_c: 78.0, lid: true };
    let hot = add(p, "heat", Start::after(filled), heat);
    let pour = Action::Pour { from: 0, to: 1, mass_kg: strike_kg, flow_m3_s: 1.2e-4 };
    let poured = add(p, "strike", Start::after(hot), pour);
    let stir = Action::DoughIn { grist_kg, for_s: 240.0 };
    let doughed = add(p, "dough-in", Start::after(poured), stir);
    add(p, "rest", Start::after(doughed), Action::Rest { for_s: 2400.0 })
}

/// From a kettle of wort to the fermenter: boil with two hops, chill, run off.
pub(crate) fn finish(p: &mut Procedure, after: usize, boil_s: f64, late_s: f64) {
    let lit = add(p, "light", Start::after(after), Action::BringToBoil { setting: 1.0 });
    let boil = Action::Boil { setting: 0.8, for_s: boil_s };
    let boiled = add(p, "boil", Start::after(lit), boil);
    add(p, "hop-1", Start::after(lit), Action::Hop { addition: 0 });
    let late = Start::later(lit, day::procedure::Edge::End, late_s);
    add(p, "hop-2", late, Action::Hop { addition: 1 });
    let chilled = add(p, "chill", Start::after(boiled), Action::Chill { to_c: 20.0 });
    let away = Action::ToFermenter { flow_m3_s: 6e-5, chill: false };
    add(p, "to-fermenter", Start::after(chilled), away);
}

/// A whole day on three pots with a continuous sparge.
pub(crate) fn whole_day() -> Procedure {
    let mut p = Procedure::default();
    let rested = mash(&mut p, 5.0, 16.0);
    let run = Action::RunOff { flow_m3_s: 2.5e-5, until_m3: 0.026 };
    let ran = add(&mut p, "run-off", Start::after(rested), run);
    let later = Start::later(rested, day::procedure::Edge::End, 60.0);
    add(&mut p, "sparge", later, Action::Sparge { mass_kg: 18.0, flow_m3_s: 2.5e-5 });
    finish(&mut p, ran, 3600.0, 3000.0);
    p
}

/// The largest of the three gaps of a day's ledger.
pub(crate) fn gap(setting: &Setting, trace: &day::trace::Trace) -> f64 {
    let l = day::ledger::ledger(setting, trace);
    [l.water.closure(), l.extract.closure(), l.energy.closure()]
        .iter()
        .fold(0.0, |worst: f64, gap| worst.max(gap.abs()))
}
