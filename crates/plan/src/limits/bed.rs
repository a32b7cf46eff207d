//! The bed: how deep it lies, how fast it lets wort through, how thick the mash is.

use super::{Day, Held, Verdict, lower};
use brewhouse::vessel::Screen;
use matter::wort;
use process::lauter::{BedInputs, settled_flow};

/// Depths between which a bed filters well, m (home practice: 100 mm at the least; above 450 mm it
/// packs).
const SHALLOW_M: f64 = 0.100;
const DEEP_M: f64 = 0.450;
/// Permeability of an unpressed bed, m² (back-calculated from usual flows, no published value of a
/// home bed was found; 1.8 times either way).
const PERMEABILITY_M2: f64 = 5e-11;
/// Spread of the permeability: below this share of what the bed gives a flow is at ease.
const AT_EASE: f64 = 1.0 / 1.8;
/// Pressure at which a bed has lost three quarters of its permeability, Pa (greatest flow at
/// 25 mbar: Hansen 2008, talk to the MBAA).
const PRESSING_PA: f64 = 2500.0;
/// Resistance of screen and top layer, 1/m (assumption).
const SCREEN_PER_M: f64 = 5e8;
/// Strike liquor per kg of grist below which a mash can hardly be stirred, kg, and where it is
/// stiff (common practice).
pub(crate) const STIFFEST: f64 = 1.7;
const STIFF: f64 = 2.2;

impl Day<'_> {
    pub(super) fn bed(&mut self) {
        self.thickness();
        if matches!(self.vessel(self.place.parts.mash).screen, Some(Screen::Bag { .. })) {
            return;
        }
        self.bed_depth();
        self.bed_flow();
    }

    fn thickness(&mut self) {
        let choice = &self.solved.choice;
        let kg_kg = choice.strike_kg / choice.grist_kg.max(1e-9);
        let tun = self.vessel(self.place.parts.mash);
        let (key, name) = (tun.key.clone(), lower(tun));
        let held = Held {
            id: "mash_stiffness",
            vessel: &key,
            value: kg_kg,
            bound: STIFFEST,
            unit: "kg/kg",
            verdict: Verdict::at_least(kg_kg, STIFFEST, STIFF),
        };
        self.hold(&held, |say| {
            let per = |kg: f64| {
                if say.us() {
                    // a US quart is 0.94635 L, a pound 0.45359 kg
                    format!("{:.2} qt/lb", kg / 0.976 * 0.453_59 / 0.946_35)
                } else {
                    format!("{:.2} L/kg", kg / 0.976)
                }
            };
            format!(
                "the mash in the {name} has {} of strike liquor, under {} it can hardly be stirred",
                per(kg_kg),
                per(STIFFEST)
            )
        });
    }

    fn bed_depth(&mut self) {
        let Some(end) = self.solved.trace.mash_end else { return };
        let tun = self.vessel(self.place.parts.mash);
        let (key, name) = (tun.key.clone(), lower(tun));
        let deep = end.bed_m > DEEP_M;
        let bound_m = if deep { DEEP_M } else { SHALLOW_M };
        let held = Held {
            id: "bed_depth",
            vessel: &key,
            value: 1e3 * end.bed_m,
            bound: 1e3 * bound_m,
            unit: "mm",
            verdict: Verdict::advice(deep || end.bed_m < SHALLOW_M),
        };
        self.hold(&held, |say| {
            let why = if deep {
                "it packs: run off slowly"
            } else if end.bed_m < SHALLOW_M {
                "liquor finds ways beside it: pour gently and level it"
            } else {
                "that filters well"
            };
            format!("the bed in the {name} is {} deep; {why}", say.length(end.bed_m))
        });
    }

    /// What bed, screen and wide open valve give, with the bed pressed by that very flow.
    fn bed_flow(&mut self) {
        let marks = &self.solved.built.marks;
        let (Some(end), Some(&first)) = (self.solved.trace.mash_end, marks.run_offs.first()) else {
            return;
        };
        let pot = self.place.parts.mash;
        let tun = self.vessel(pot);
        let Some(outlet_m2) = tun.outlet_area_m2(true) else { return };
        let seen = self.solved.trace.before(first, pot);
        let valve_m = tun.outlet().map_or(0.0, |v| v.height.value.metres());
        let head_m = (self.level_m(pot, seen) - valve_m).max(0.0);
        let flow = settled_flow(
            &BedInputs {
                area_m2: self.solved.setting.pots[pot].area_m2,
                depth_m: end.bed_m.max(1e-4),
                viscosity_pa_s: wort::viscosity_pa_s(end.plato, end.temp_c, 1.65),
                density_kg_m3: wort::density_kg_m3(end.plato / 100.0, end.temp_c),
                permeability_m2: PERMEABILITY_M2,
                pressing_pa: PRESSING_PA,
                pressing_exponent: 2.0,
                screen_per_m: SCREEN_PER_M,
                opening_m2: outlet_m2,
                discharge: 1.0,
            },
            head_m,
        );
        let gives = flow.flow_m3_s;
        let asked = self.solved.choice.run_off_m3_s;
        let (key, name) = (tun.key.clone(), lower(tun));
        let held = Held {
            id: "bed_flow",
            vessel: &key,
            value: 6e4 * asked,
            bound: 6e4 * gives,
            unit: "L/min",
            verdict: Verdict::at_most(asked, gives, AT_EASE * gives),
        };
        self.hold(&held, |say| {
            format!(
                "{} are to run off, bed and valve of the {name} let {} through",
                say.flow(asked),
                say.flow(gives)
            )
        });
    }
}
