//! Falls: whether what is to run from vessel to vessel runs by itself. It refuses no plan: a pot
//! can be lifted, a fermenter lowered, liquid carried.

use super::{Day, Held, Verdict, lower};
use day::procedure::Action;
use day::setting::PotIndex;

impl Day<'_> {
    /// Every pour of the day downhill, or with the pump, or by hand.
    pub(super) fn falls(&mut self) {
        if self.place.brewhouse.pump.is_some() {
            return;
        }
        for (from, to) in self.pours() {
            let (source, target) = (self.vessel(from), self.vessel(to));
            let valve_m = source.outlet().map_or(0.0, |valve| valve.height.value.metres());
            let value_m = source.stand.value.metres() + valve_m;
            let bound_m = target.stand.value.metres() + target.section.brim_height_m();
            let has_valve = source.outlet().is_some();
            let carried = value_m <= bound_m || !has_valve;
            let (id, key) = (format!("fall_{}_{}", source.key, target.key), source.key.clone());
            let (source, target) = (lower(source), lower(target));
            let held = Held {
                id: &id,
                vessel: &key,
                value: 1e3 * value_m,
                bound: 1e3 * bound_m,
                unit: "mm",
                verdict: Verdict::advice(carried),
            };
            self.hold(&held, |say| {
                let stands = if has_valve {
                    let (valve, brim) = (say.length(value_m), say.length(bound_m));
                    format!("the valve of the {source} is {valve} up, the {target}'s brim {brim}")
                } else {
                    format!("the {source} has no valve")
                };
                let care = "; nothing runs there by itself: lift one, lower the other, or carry \
                            it in small jugs, gloves on while it is hot";
                format!("{stands}{}", if carried { care } else { "" })
            });
        }
    }

    /// From where to where the day pours, each once.
    fn pours(&self) -> Vec<(PotIndex, PotIndex)> {
        let p = &self.place.parts;
        let mut all = Vec::new();
        for (_, action, _) in self.operations() {
            let pour = match action {
                Action::Pour { from, to, .. } => (*from, *to),
                Action::Infuse { .. } | Action::Sparge { .. } => (p.liquor, p.mash),
                Action::RunOff { .. } => (p.mash, p.kettle),
                Action::ToFermenter { .. } => (p.kettle, p.fermenter),
                _ => continue,
            };
            if pour.0 != pour.1 && !all.contains(&pour) {
                all.push(pour);
            }
        }
        all
    }
}
