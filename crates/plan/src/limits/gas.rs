//! Gas: what the bottle still holds against what the day burns. It refuses no plan; a bottle can be
//! changed before the day.

use super::{Day, Held, Verdict};
use brewhouse::Fuel;
use brewhouse::fuel::Combustion;
use day::state::total;

/// Gas in the bottle for each kilogram the day burns (common practice: wind, a cold bottle and a
/// second boil take half as much again).
const SPARE: f64 = 1.5;

impl Day<'_> {
    pub(super) fn gas(&mut self) {
        let Some(left) = &self.place.brewhouse.gas_left else { return };
        let heaters = self.place.vessels.iter().filter_map(|v| v.heater.as_ref());
        let Some(burner) = heaters.into_iter().find(|h| h.kind.is_flame()) else { return };
        let fuel = burner.fuel.unwrap_or(Fuel::Propane);
        if fuel == Fuel::NaturalGas {
            return;
        }
        let burned_kg = self.solved.trace.end.totals[total::FUEL_J] / Combustion::of(fuel).net_j_kg;
        let left_kg = left.value.kilograms();
        let held = Held {
            id: "gas_left",
            vessel: "brewhouse",
            value: left_kg,
            bound: SPARE * burned_kg,
            unit: "kg",
            verdict: Verdict::advice(left_kg < SPARE * burned_kg),
        };
        self.hold(&held, |say| {
            let care = if left_kg < burned_kg {
                "; it runs dry before the day is over: have a full one ready"
            } else if left_kg < SPARE * burned_kg {
                "; little is left for wind and cold: have a full one ready"
            } else {
                ""
            };
            format!(
                "the day burns {} of gas, the bottle holds {}{care}",
                say.mass(burned_kg),
                say.mass(left_kg)
            )
        });
    }
}
