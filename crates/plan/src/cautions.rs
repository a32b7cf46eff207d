//! Cautions that need the whole day: hot metal, siphons, pots shut hot, heat on a pot that runs
//! low, stands that tip, the bottle, the breaker. Each goes to the step it belongs to, with the
//! day's own numbers; those of a single step are written where the step is. It moves no step and
//! solves nothing.

use crate::output::{CautionText, Operation, Plan, Step};
use crate::setting::Place;
use crate::solve::Solved;
use brewhouse::caution::{Caution, when};
use brewhouse::vessel::Vessel;
use brewhouse::{ChillerKind, Fuel, Recirculate, danger};
use quantity::UnitSystem;

/// Pots lower than this stand on no stand worth the name, m (our choice).
const STAND_M: f64 = 0.05;

/// Adds the cautions of the whole day to the steps of a plan.
pub(crate) fn add(place: &Place<'_>, solved: &Solved, plan: &mut Plan) {
    let mut found = Vec::new();
    found.extend(hot_metal(plan));
    found.extend(siphons(place, plan));
    found.extend(shut_hot(place, solved, plan));
    found.extend(dry_fires(place, plan));
    found.extend(tips(place, solved, plan));
    found.extend(bottle_low(place, plan));
    found.extend(breaker(place, plan));
    for (at, caution) in found {
        let step = &mut plan.steps[at];
        if step.cautions.iter().all(|known| known.id != caution.id()) {
            step.cautions.push(text(&caution));
        }
    }
}

/// A caution in both systems of units.
fn text(caution: &Caution) -> CautionText {
    CautionText {
        id: caution.id().into(),
        strength: caution.strength().word().into(),
        words: caution.text(UnitSystem::Metric),
        words_us: caution.text(UnitSystem::Us),
    }
}

/// Whether a heater is on in a step.
fn is_heated(step: &Step) -> bool {
    matches!(step.operation, Operation::Heat | Operation::Hold | Operation::Fire | Operation::Boil)
}

fn vessel<'a>(place: &'a Place<'_>, key: &str) -> Option<&'a Vessel> {
    place.vessels.iter().copied().find(|v| v.key == key)
}

/// What a vessel's exact thermometer shows at a minute, °C, and where the surface stands, m.
fn seen_at(plan: &Plan, key: &str, min: f64) -> (Option<f64>, f64) {
    let curve = plan.curves.iter().find(|c| c.vessel == key);
    let points = curve.map_or(&[][..], |c| &c.points);
    let nearest = points.iter().min_by(|a, b| (a.min - min).abs().total_cmp(&(b.min - min).abs()));
    nearest.map_or((None, 0.0), |p| (p.temperature_c, 1e-3 * p.level_mm))
}

/// Once a day, where the first pot becomes hot.
fn hot_metal(plan: &Plan) -> Option<(usize, Caution)> {
    plan.steps.iter().enumerate().filter(|(_, step)| is_heated(step)).find_map(|(at, step)| {
        let (temp_c, _) = seen_at(plan, &step.vessel, step.ends_min);
        when::hot_metal(temp_c?).map(|c| (at, c))
    })
}

/// A pot without a valve and without a pump is emptied over its rim: by a siphon, where not tipped.
fn siphons(place: &Place<'_>, plan: &Plan) -> Vec<(usize, Caution)> {
    let mut all = Vec::new();
    for pour in &plan.pours {
        let bare = vessel(place, &pour.from).is_some_and(|v| v.valves.is_empty());
        if !bare || place.brewhouse.pump.is_some() {
            continue;
        }
        let (temp_c, _) = seen_at(plan, &pour.from, pour.from_min);
        let step = plan.steps.iter().position(|s| {
            s.operation == Operation::Transfer && (s.starts_min - pour.from_min).abs() < 0.05
        });
        if let (Some(at), Some(caution)) = (step, temp_c.and_then(when::siphon)) {
            all.push((at, caution));
        }
    }
    all
}

/// A kettle that cools shut over night, and a fermenter filled hot.
fn shut_hot(place: &Place<'_>, solved: &Solved, plan: &Plan) -> Vec<(usize, Caution)> {
    let p = &place.parts;
    let by_itself = place.brewhouse.chiller.as_ref().is_some_and(|c| c.kind == ChillerKind::Air);
    let pull = |pot: usize, temp_c: Option<f64>| {
        let setting = &solved.setting;
        let cold_pa = matter::water::saturation_pressure_pa(setting.air_c);
        let lid_m2 = place.vessels[pot].section.mouth_m2();
        when::shut_hot(temp_c?, danger::pull_in_n(setting.pressure_pa, cold_pa, lid_m2))
    };
    let mut all = Vec::new();
    for (at, step) in plan.steps.iter().enumerate() {
        let caution = match step.operation {
            Operation::Chill if by_itself => {
                pull(p.kettle, seen_at(plan, &place.vessels[p.kettle].key, step.starts_min).0)
            }
            Operation::Transfer if step.id == "to-fermenter" => {
                pull(p.fermenter, seen_at(plan, &place.vessels[p.fermenter].key, step.ends_min).0)
            }
            _ => None,
        };
        all.extend(caution.map(|c| (at, c)));
    }
    all
}

/// Where a level that must be kept while a pot is heated is not kept.
fn dry_fires(place: &Place<'_>, plan: &Plan) -> Vec<(usize, Caution)> {
    let broken = plan.limits.iter().filter(|l| !l.kept && l.id.ends_with("_least_level"));
    let mut all = Vec::new();
    for limit in broken.filter(|l| vessel(place, &l.vessel).is_some_and(|v| v.heater.is_some())) {
        let heated = |s: &Step| s.vessel == limit.vessel && is_heated(s);
        let low = |s: &Step| 1e3 * seen_at(plan, &s.vessel, s.starts_min).1 < limit.bound;
        let lit_low = plan.steps.iter().position(|s| heated(s) && low(s));
        let put_out = plan
            .steps
            .iter()
            .position(|s| s.vessel == limit.vessel && (s.id == "tank-off" || s.id == "flame-out"));
        let last = plan.steps.iter().rposition(heated);
        let at = lit_low.or(put_out).or(last);
        let caution = when::dry_fire(1e-3 * limit.value, 1e-3 * limit.bound);
        all.extend(at.zip(caution));
    }
    all
}

/// Each pot on a stand when it is heaviest; its feet are taken to stand under the pot's wall, which
/// the documents do not say.
fn tips(place: &Place<'_>, solved: &Solved, plan: &Plan) -> Vec<(usize, Caution)> {
    let mut all = Vec::new();
    for (pot, vessel) in place.vessels.iter().enumerate() {
        let stand_m = vessel.stand.value.metres();
        let times = solved.trace.operations.iter();
        let heaviest =
            times.max_by(|a, b| a.at_end.pots[pot].mass_kg.total_cmp(&b.at_end.pots[pot].mass_kg));
        let Some(heaviest) = heaviest.filter(|_| stand_m > STAND_M) else { continue };
        let held = heaviest.at_end.pots[pot];
        let metal = &solved.setting.pots[pot];
        let metal_kg = (metal.wall_j_k + metal.base_j_k) / vessel.wall.material.c_j_kgk;
        let section = &vessel.section;
        let radius_m = (section.mouth_m2() / std::f64::consts::PI).sqrt();
        let half_base_m = radius_m + vessel.wall.thickness.metres();
        let centre_m = stand_m + 0.5 * section.height_m(held.volume_m3);
        let rim_m = stand_m + section.brim_height_m();
        let min = heaviest.end_s / 60.0;
        let at = plan.steps.iter().rposition(|s| s.vessel == vessel.key && s.starts_min <= min);
        all.extend(at.zip(when::tip(held.mass_kg + metal_kg, half_base_m, centre_m, rim_m)));
    }
    all
}

/// At the first flame of the day.
fn bottle_low(place: &Place<'_>, plan: &Plan) -> Option<(usize, Caution)> {
    let left = place.brewhouse.gas_left.as_ref()?;
    let (at, heater) =
        plan.steps.iter().enumerate().filter(|(_, s)| is_heated(s)).find_map(|(at, step)| {
            let heater = vessel(place, &step.vessel)?.heater.as_ref()?;
            heater.kind.is_flame().then_some((at, heater))
        })?;
    if heater.fuel == Some(Fuel::NaturalGas) {
        return None;
    }
    when::bottle_low(left.value.kilograms(), plan.fuel.gas_kg).map(|c| (at, c))
}

/// At the first step on mains, where no test of the breaker is written down. A plan knows no
/// calendar: how long ago a stated day was is not judged here.
fn breaker(place: &Place<'_>, plan: &Plan) -> Option<(usize, Caution)> {
    let b = place.brewhouse;
    let pumped = b.pump.is_some() && matches!(b.recirculate, Recirculate::Pump);
    let at = plan.steps.iter().position(|step| {
        let heater = vessel(place, &step.vessel).and_then(|v| v.heater.as_ref());
        let electric = is_heated(step) && heater.is_some_and(|h| !h.kind.is_flame());
        electric || pumped && step.operation == Operation::Recirculate
    })?;
    if b.breaker_tested.is_some() {
        return None;
    }
    when::breaker(None).map(|c| (at, c))
}
