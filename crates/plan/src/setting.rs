//! Documents turned into a setting: these pots and these lots at the middle of what is known of
//! them. What nobody stated is assumed, and said. It solves nothing.

use crate::error::PlanError;
use crate::liquor::{FALL_TO_WORT, LiquorChoice};
use brew::{Brew, GristAmount, HopForm, When};
use brewhouse::material::sheet_heat_j_k;
use brewhouse::vessel::{Part, Screen, Vessel};
use brewhouse::{Brewhouse, ChillerKind, HeaterKind, Recirculate};
use day::setting::{
    BedSetting, BitternessSetting, Chiller, Heater, HopSetting, LossSetting, Parts, Pot, PotIndex,
    Setting,
};
use matter::hop::{self, HopForm as MatterForm};
use matter::malt::{self, Certificate, Grist, GristItem};
use process::heat::{self, FlameInputs, OpenSurface, SideLoss, SideLossInputs, SurfaceInputs};
use process::mash::Kinetics;

/// A kilogram of grist with these shares, in the order of the brew.
pub(crate) fn grist_of(brew: &Brew, shares: &[f64]) -> Grist {
    let items: Vec<GristItem<'static>> = brew
        .grist
        .iter()
        .zip(shares)
        .filter_map(|(item, &mass_kg)| {
            let class = malt::malt_class(&item.malt)?;
            let c = &item.certificate;
            let certificate = Certificate {
                moisture: c.moisture.as_ref().map(|v| v.value.fraction()),
                extract_fine_dry: c.extract.as_ref().map(|v| v.value.fraction()),
                fine_coarse_dry: c.fine_coarse.as_ref().map(|v| v.value.fraction()),
                colour_ebc: c.colour.as_ref().map(|v| v.value.ebc()),
                protein_dry: c.protein.as_ref().map(|v| v.value.fraction()),
                ..Certificate::default()
            };
            Some(GristItem { class, mass_kg, certificate })
        })
        .collect();
    malt::grist(&items)
}

/// Shares of the grist as the brew states them, adding up to 1.
pub(crate) fn stated_shares(brew: &Brew) -> Vec<f64> {
    let by_mass: f64 = brew
        .grist
        .iter()
        .map(|g| match &g.amount {
            GristAmount::Mass(m) => m.value.kilograms(),
            _ => 0.0,
        })
        .sum();
    if by_mass > 0.0 {
        return brew
            .grist
            .iter()
            .map(|g| match &g.amount {
                GristAmount::Mass(m) => m.value.kilograms() / by_mass,
                _ => 0.0,
            })
            .collect();
    }
    let stated = |g: &GristAmount| match g {
        GristAmount::Share(s) => s.value.fraction(),
        _ => 0.0,
    };
    let sum: f64 = brew.grist.iter().map(|g| stated(&g.amount)).sum();
    let rests = brew.grist.iter().filter(|g| matches!(g.amount, GristAmount::Rest)).count();
    let each = (1.0 - sum).max(0.0) / rests.max(1) as f64;
    let mut shares: Vec<f64> = brew
        .grist
        .iter()
        .map(|g| if matches!(g.amount, GristAmount::Rest) { each } else { stated(&g.amount) })
        .collect();
    let all: f64 = shares.iter().sum();
    for share in &mut shares {
        *share /= all.max(1e-9);
    }
    shares
}

/// Wind at pots in the open, m/s (from memory; a screen halves it).
const WIND_M_S: f64 = 1.5;
/// More vapour per m/s of wind over the rim (from memory).
const WIND_VAPOUR_S_M: f64 = 0.3;
/// Emissivity of dull stainless (handbook).
const DULL: f64 = 0.35;
/// Share of the side loss left while a flame washes the wall (no loss to full loss; from memory).
const SIDE_FIRED: f64 = 0.5;
/// Shortest time constant a base is given its own temperature for, s.
const BASE_LEAST_S: f64 = 5.0;

/// Everything of the brewhouse that does not depend on the brew's numbers.
pub(crate) struct Place<'a> {
    pub(crate) brewhouse: &'a Brewhouse,
    pub(crate) vessels: Vec<&'a Vessel>,
    pub(crate) parts: Parts,
    pub(crate) pressure_pa: f64,
    pub(crate) wind_m_s: f64,
    /// The pots as they are, made once: their tables cost as much as a simulated hour.
    pub(crate) pots: Vec<Pot>,
}

impl<'a> Place<'a> {
    pub(crate) fn of(brewhouse: &'a Brewhouse) -> Result<Place<'a>, PlanError> {
        let index = |part: Part| -> Result<PotIndex, PlanError> {
            brewhouse
                .vessels
                .iter()
                .position(|v| v.plays(part))
                .ok_or_else(|| PlanError::NoVessel { part: part.key().into() })
        };
        let kettle = index(Part::Kettle)?;
        let mash = index(Part::Mash)?;
        let parts = Parts {
            liquor: index(Part::Liquor).unwrap_or(kettle),
            mash,
            kettle,
            fermenter: index(Part::Fermenter)?,
        };
        let mut place = Place {
            brewhouse,
            vessels: brewhouse.vessels.iter().collect(),
            parts,
            pressure_pa: matter::water::air_pressure_pa(brewhouse.elevation_m()),
            wind_m_s: if brewhouse.place.is_windy() { WIND_M_S } else { 0.0 },
            pots: Vec::new(),
        };
        place.pots = (0..place.vessels.len()).map(|i| place.pot(i)).collect();
        Ok(place)
    }

    /// One pot with its heater, losses and outlet.
    fn pot(&self, i: PotIndex) -> Pot {
        let v = self.vessels[i];
        let air_c = self.brewhouse.air().celsius();
        let brim_m = v.section.brim_height_m();
        let side_m2 = v.section.wetted_side_m2(brim_m);
        let base_m2 = v.section.base_m2();
        let layers = |layers: &[brewhouse::Layer], area: f64| -> f64 {
            layers
                .iter()
                .map(|l| {
                    let m = l.material;
                    sheet_heat_j_k(area, l.thickness.metres(), m.rho_kg_m3, m.c_j_kgk)
                })
                .sum()
        };
        let mut wall_j_k = layers(std::slice::from_ref(&v.wall), side_m2);
        let base_j_k = layers(&v.base, base_m2);
        if let Some(metal) = &v.metal {
            let all = metal.value.joules_per_kelvin();
            wall_j_k = (all - base_j_k).max(0.1 * all);
        }
        let heated_below =
            v.heater.as_ref().is_some_and(|h| !matches!(h.kind, HeaterKind::Element));
        let base_w_k = heat::BASE_W_M2_K * base_m2;
        let own = heated_below && base_j_k / base_w_k > BASE_LEAST_S;
        let (side, base_loss_w_k, side_fired) = self.walls(v, side_m2, air_c);
        let under_m3 = match &v.screen {
            Some(Screen::FalseBottom { height, under }) => under.as_ref().map_or_else(
                || v.section.volume_m3(height.value.metres()),
                |u| u.value.cubic_metres(),
            ),
            Some(Screen::Manifold { height, .. }) => {
                v.section.volume_m3(height.value.metres()).min(1e-3)
            }
            _ => 0.0,
        };
        Pot {
            key: v.key.clone(),
            section: v.section.clone(),
            wall_j_k,
            base_j_k,
            base_w_k: if own { base_w_k } else { f64::INFINITY },
            base_loss_w_k,
            side,
            side_fired,
            surface: OpenSurface::new(&SurfaceInputs {
                air_c,
                humidity: self.brewhouse.humidity(),
                pressure_pa: self.pressure_pa,
                wind_factor: 1.0 + WIND_VAPOUR_S_M * self.wind_m_s,
                multiplier: 1.0,
            }),
            lid_share: if v.lid.is_some() { heat::LID_SHARE } else { 1.0 },
            lid_w_m2_k: LID_W_M2_K,
            heater: self.heater(v),
            least_level_m: self.least_level_m(v),
            left_m3: left_m3(v),
            under_m3,
            screen_m: v.screen.as_ref().map_or(0.0, |s| s.height().metres()),
            valve_m3_s: self.valve_m3_s(v),
            side_m2,
            area_m2: v.section.area_m2(0.5 * brim_m),
        }
    }

    /// Side loss of a wall: from geometry, or scaled to what was proved.
    fn walls(&self, v: &Vessel, side_m2: f64, air_c: f64) -> (SideLoss, f64, f64) {
        let insulation_m2_k_w =
            v.insulation.as_ref().map_or(0.0, |l| l.thickness.metres() / l.material.k_w_mk);
        let mut inputs = SideLossInputs {
            wetted_height_m: 0.7 * v.section.brim_height_m(),
            diameter_m: v.section.mean_diameter_m(),
            emissivity: if v.insulation.is_some() { 0.9 } else { DULL },
            insulation_m2_k_w,
            air_c,
            wind_m_s: self.wind_m_s,
            multiplier: 1.0,
        };
        if let Some(proved) = &v.walls {
            // proved lid on at rest near mash temperature: the wall's share of it is scaled to fit
            let wanted = proved.value.watts_per_kelvin();
            let flux = SideLoss::new(&inputs).flux_w_m2(65.0);
            let have = 0.7 * side_m2 * flux / (65.0 - air_c);
            inputs.multiplier = (wanted / have).clamp(0.05, 5.0);
        }
        let base_w_m2_k = if insulation_m2_k_w > 0.0 && v.heater.is_none() {
            1.0 / (1.0 / BASE_LOSS_W_M2_K + insulation_m2_k_w)
        } else {
            BASE_LOSS_W_M2_K
        };
        let fired = if v.insulation.is_some() { 1.0 } else { SIDE_FIRED };
        (SideLoss::new(&inputs), base_w_m2_k * v.section.base_m2(), fired)
    }

    fn heater(&self, v: &Vessel) -> Heater {
        let Some(h) = &v.heater else { return Heater::None };
        let power_w = h.power.value.watts();
        match h.kind {
            HeaterKind::Burner | HeaterKind::Hob => Heater::Flame(FlameInputs {
                fuel_power_w: power_w,
                setting: 1.0,
                share_full: h.share(),
                turn_down_exponent: 0.2,
                flame_c: 1300.0,
                wind_m_s: self.wind_m_s,
                // a share that was proved on the spot has its wind in it
                wind_sensitivity: if h.reaches_pot.is_some() { 0.0 } else { 0.05 },
            }),
            HeaterKind::Element => Heater::Element { power_w, share: h.share() },
            HeaterKind::Induction | HeaterKind::HotPlate => {
                Heater::Plate { power_w, share: h.share() }
            }
        }
    }

    fn least_level_m(&self, v: &Vessel) -> f64 {
        if let Some(level) = &v.least_level {
            return level.value.metres();
        }
        let element_m = v
            .heater
            .as_ref()
            .filter(|h| h.kind == HeaterKind::Element)
            .and_then(|h| h.height.as_ref())
            .map_or(0.0, |h| h.value.metres() + 0.05);
        element_m.max(0.06)
    }

    fn valve_m3_s(&self, v: &Vessel) -> f64 {
        if let Some(flow) = v.outlet().and_then(|valve| valve.flow.as_ref()) {
            return flow.value.cubic_metres_per_second();
        }
        let bore_m = v.outlet().map_or(0.0127, |valve| valve.bore.value.metres());
        // hose, fittings and half the head: a third of the sharp opening's flow (our choice)
        let open = brewhouse::flow::outlet_flow_m3_s(0.6, bore_m, 0.25);
        (open / 3.0).clamp(1e-5, 2e-4)
    }

    pub(crate) fn chiller(&self) -> Chiller {
        let Some(c) = &self.brewhouse.chiller else { return Chiller::None };
        let coolant_kg_s =
            c.water_flow.as_ref().map_or(0.1, |f| f.value.cubic_metres_per_second() * 1000.0);
        let inlet_c =
            c.water.as_ref().map_or(self.brewhouse.liquor_comes_at(), |t| t.value).celsius();
        let stated = c.conductance.as_ref().map(|u| u.value.watts_per_kelvin());
        let length_m = c.length.as_ref().map_or(9.0, |l| l.value.metres());
        let tube_m = c.tube.as_ref().map_or(0.0095, |t| t.value.metres());
        match c.kind {
            ChillerKind::Coil => Chiller::Coil {
                // film outside and inside, shortfall of a coil stirred now and then: 0.55
                ua_w_k: stated.unwrap_or(
                    COIL_STIRRED * COIL_U_W_M2_K * std::f64::consts::PI * tube_m * length_m,
                ),
                coolant_kg_s,
                inlet_c,
            },
            ChillerKind::CounterFlow => Chiller::Counterflow {
                ua_w_k: stated.unwrap_or(60.0 * length_m),
                coolant_kg_s,
                inlet_c,
                wort_kg_s: 0.05,
            },
            ChillerKind::Plate => Chiller::Counterflow {
                ua_w_k: stated.unwrap_or(900.0),
                coolant_kg_s,
                inlet_c,
                wort_kg_s: 0.05,
            },
            ChillerKind::Bath => {
                let kettle = self.vessels[self.parts.kettle];
                let wet_m2 = 0.6 * kettle.section.wetted_side_m2(kettle.section.brim_height_m())
                    + kettle.section.base_m2();
                Chiller::Bath {
                    ua_w_k: stated.unwrap_or(BATH_W_M2_K * wet_m2),
                    inlet_c,
                    coolant_kg_s,
                }
            }
            ChillerKind::Air => Chiller::None,
        }
    }
}

/// From wort to lid and on to the air, W/(m² K) (two still films; handbook).
const LID_W_M2_K: f64 = 4.0;
/// From a base to the air below with the fire out, W/(m² K) (from memory, 4 to 6).
const BASE_LOSS_W_M2_K: f64 = 5.0;
/// Film conductance of a coil in gently stirred wort, W/(m² K) (Churchill and Bernstein outside,
/// Gnielinski inside: 2000 to 2700).
const COIL_U_W_M2_K: f64 = 2000.0;
/// What turns that shade each other leave of it when stirred now and then (from memory).
const COIL_STIRRED: f64 = 0.55;
/// A pot in a cold bath, both sides stirred now and then, W/(m² K) (from memory, 150 to 300).
const BATH_W_M2_K: f64 = 150.0;

/// Stays behind when the valve gives no more, m³.
fn left_m3(v: &Vessel) -> f64 {
    if let Some(left) = &v.left_behind {
        return left.value.cubic_metres();
    }
    match v.outlet() {
        Some(valve) => v.section.volume_m3(valve.draws_from_m()),
        // no valve: tipped or siphoned, a finger's breadth stays (common practice)
        None => v.section.volume_m3(0.005),
    }
}

/// The setting of a day, its grist and hops still to be scaled.
pub(crate) fn setting(
    place: &Place<'_>,
    brew: &Brew,
    grist: &Grist,
    liquor: &LiquorChoice,
) -> Setting {
    let b = place.brewhouse;
    let pots = place.pots.clone();
    let retained = b.grain_holds_m3_kg.unwrap_or(1.0e-3);
    let bag = matches!(place.vessels[place.parts.mash].screen, Some(Screen::Bag { .. }));
    let kettle = place.vessels[place.parts.kettle];
    let hoses_m3 = b.hose_left_m3(&kettle.key, &place.vessels[place.parts.fermenter].key)
        + b.chiller
            .as_ref()
            .and_then(|c| c.left_behind.as_ref())
            .map_or(0.0, |v| v.value.cubic_metres())
        + SPILT_M3;
    Setting {
        parts: place.parts,
        air_c: b.air().celsius(),
        pressure_pa: place.pressure_pa,
        source_c: b.liquor_comes_at().celsius(),
        grist: *grist,
        grist_c: b.air().celsius(),
        // a home crush; `process` slows it for a malt that is ill modified
        kinetics: Kinetics::default(),
        wetting_factor: 1.0,
        bed: BedSetting {
            per_kg_m3: 1.8e-3,
            mobile: 0.55,
            channel: channel(0.2),
            exchange_s: 300.0,
            late: 0.015,
            late_s: 3600.0,
            // a bag that is left to drip keeps what a drained bed keeps (common practice)
            retained_m3_kg: if bag { retained.max(0.8e-3) } else { retained },
            flow_limit_m3_s: f64::INFINITY,
            seep_m3_s: 2e-7,
            plate_w_m2_k: 50.0,
        },
        hops: brew.hops.iter().map(hop_setting).collect(),
        bitterness: BITTERNESS,
        chiller: place.chiller(),
        losses: losses(kettle, hoses_m3),
        mash_ph: liquor.mash_ph,
        wort_ph: liquor.mash_ph - FALL_TO_WORT,
        pots,
    }
}

/// Share of the flow beside the bed: 0.15, and twice that where the bed is well under 100 mm (from
/// memory; a single outlet).
pub(crate) fn channel(bed_m: f64) -> f64 {
    let shallow = ((0.11 - bed_m) / 0.02).clamp(0.0, 1.0);
    0.15 * (1.0 + shallow * shallow * (3.0 - 2.0 * shallow))
}

/// Spilt and drawn as samples, m³ (common practice).
const SPILT_M3: f64 = 0.2e-3;

/// Rates and shares of isomerisation and losses at the middle of what is known.
const BITTERNESS: BitternessSetting = BitternessSetting { k1: 1.0, k2: 0.9 };

fn losses(kettle: &Vessel, hoses_m3: f64) -> LossSetting {
    // what was proved is for trub and hops together at an ordinary brew of this pot
    LossSetting {
        trub: 0.02,
        cold_break: 0.01,
        hoses_m3,
        trub_and_hops_m3: kettle.trub_and_hops.as_ref().map(|v| v.value.cubic_metres()),
    }
}

fn hop_setting(addition: &brew::HopAddition) -> HopSetting {
    let class = hop::hop_type(&addition.class);
    let labelled = addition
        .alpha
        .as_ref()
        .map_or_else(|| class.map_or(0.08, |c| c.alpha_mid()), |a| a.value.fraction());
    let form = match (addition.form, addition.in_bag) {
        (HopForm::Pellets, false) => MatterForm::Pellets,
        (HopForm::Pellets, true) => MatterForm::PelletsInBag,
        (HopForm::Cones, false) => MatterForm::Cones,
        (HopForm::Cones, true) => MatterForm::ConesInBag,
    };
    let left = addition.age.as_ref().map_or(1.0, |age| {
        let store_c = addition.kept_at.as_ref().map_or(4.0, |t| t.value.celsius());
        let days = age.value.seconds() / 86_400.0;
        let loss = class.map_or(0.35, |c| c.loss_6_months);
        hop::alpha_left(loss, store_c, hop::Packing::Sealed, days)
    });
    HopSetting {
        mass_kg: 0.0,
        alpha: labelled * left * form.extractable(),
        extraction_per_s: form.extraction_rate_per_s(),
        path: if matches!(addition.add, When::Mash) { hop::MASH_HOP_SHARE } else { 1.0 },
        held_m3_kg: hop::held_volume_m3(form, 1.0),
    }
}

/// How the mash is recirculated on this brewhouse, m³/s; none where it cannot be.
pub(crate) fn recirculation_m3_s(b: &Brewhouse) -> Option<f64> {
    match &b.recirculate {
        Recirculate::Pump => Some(b.pump.as_ref().map_or(2.0 / 60e3, |p| {
            p.through_bed.as_ref().map_or(2.0 / 60e3, |f| f.value.cubic_metres_per_second())
        })),
        // jugs of 1 to 2 L, about two a minute at the most (common practice)
        Recirculate::Jug { volume } => Some(volume.cubic_metres().min(2e-3) / 60.0),
        Recirculate::None => None,
    }
}

/// Draws the kettle's share of the flame toward a boil-off that was proved at the marked line.
///
/// Two findings of one number, the stated share and the share that the proved boil-off implies, are
/// weighed by their spreads; where neither spread is stated a tenth of the value is taken.
pub(crate) fn prove_boil_off(place: &Place<'_>, brew: &Brew, setting: &mut Setting) {
    let kettle = place.parts.kettle;
    let vessel = place.vessels[kettle];
    let (Some(proved), Some(heater)) = (&vessel.boil_off, &vessel.heater) else { return };
    let wanted_kg_s = proved.value.cubic_metres_per_second() * 998.2;
    let boil_c = matter::water::saturation_temperature_c(setting.pressure_pa);
    let pot = &setting.pots[kettle];
    let level_m = 0.55 * pot.section.brim_height_m();
    let wet_m2 = pot.section.wetted_side_m2(level_m);
    let air_c = setting.air_c;
    let mid_c = 0.5 * (boil_c + air_c);
    let wall_w = pot.side_fired
        * (wet_m2 * pot.side.flux_w_m2(boil_c)
            + 0.5 * (pot.side_m2 - wet_m2).max(0.0) * pot.side.flux_w_m2(mid_c));
    let open_m2 = pot.section.area_m2(level_m);
    let needed_w = wanted_kg_s * matter::water::evaporation_heat_j_kg(boil_c)
        + wall_w
        + open_m2 * pot.surface.sensible_w_m2(boil_c);
    let fire = crate::procedure::boil_fire(place, brew);
    let base_c = boil_c + needed_w / pot.base_w_k.min(1e6);
    let stated = heater.share();
    let (implied, relative) = match &pot.heater {
        Heater::Flame(inputs) => {
            let given_w =
                heat::Flame::new(&FlameInputs { setting: fire, ..*inputs }).heat_w(base_c);
            (stated * needed_w / given_w.max(1.0), 0.1)
        }
        Heater::Plate { power_w, .. } | Heater::Element { power_w, .. } => {
            (needed_w / (power_w * fire).max(1.0), 0.1)
        }
        Heater::None => return,
    };
    let spread =
        |s: Option<f64>, value: f64| s.map_or(relative, |w| w / value.max(1e-12)).max(1e-3);
    let of_share = spread(heater.reaches_pot.as_ref().and_then(|s| s.half_width), stated);
    let of_boil = spread(proved.half_width, proved.value.cubic_metres_per_second());
    let (a, b) = (1.0 / (of_share * stated).powi(2), 1.0 / (of_boil * implied).powi(2));
    let share = ((a * stated + b * implied) / (a + b)).clamp(0.02, 0.98);
    match &mut setting.pots[kettle].heater {
        Heater::Flame(inputs) => inputs.share_full = share,
        Heater::Plate { share: s, .. } | Heater::Element { share: s, .. } => *s = share,
        Heater::None => {}
    }
}
