//! The section: every vessel with its numbers, and what stands in it at a moment of the day.

use super::{Holds, holds, in_order, units};
use crate::output::{Operation, Plan, Point};
use brewhouse::{Base, Brewhouse, HeaterKind, Inside, Part, Screen, Vessel};
use drawing::{
    BaseView, Carried, Contents, Heater, Lid, LinkView, SectionView, ShapeView, StandKind,
    Substance, ValveView, VesselView,
};
use quantity::UnitSystem;

/// The brewhouse in section; filled as it is at a minute of the day where a plan is given.
#[must_use]
pub fn section(
    brewhouse: &Brewhouse,
    moment: Option<(&Plan, f64)>,
    system: UnitSystem,
) -> SectionView {
    let order = in_order(brewhouse);
    let vessels = order.iter().map(|vessel| vessel_view(brewhouse, vessel, moment)).collect();
    let links = links(brewhouse, &order, moment);
    SectionView {
        id: "s".to_owned(),
        title: brewhouse.place.word().to_owned(),
        units: units(system),
        vessels,
        links,
        show_dimensions: moment.is_none(),
        label: format!("Section of {}", brewhouse.name),
    }
}

/// The moment worth looking at: the middle of the run-off, or of the last step that moves wort.
#[must_use]
pub fn moment_of_run_off(plan: &Plan) -> f64 {
    let moving = |wanted: &[Operation]| {
        plan.steps
            .iter()
            .find(|step| wanted.contains(&step.operation))
            .map(|step| 0.5 * (step.starts_min + step.ends_min))
    };
    moving(&[Operation::RunOff, Operation::Sparge])
        .or_else(|| moving(&[Operation::Drain, Operation::LiftBag, Operation::Boil]))
        .unwrap_or(0.0)
}

fn vessel_view(brewhouse: &Brewhouse, vessel: &Vessel, moment: Option<(&Plan, f64)>) -> VesselView {
    let point = moment.and_then(|(plan, min)| point_at(plan, &vessel.key, min));
    let filled = point.filter(|point| point.volume_l > 0.05);
    let lit = moment.is_some_and(|(plan, min)| is_heated(plan, &vessel.key, min));
    let height_mm = 1000.0 * vessel.section.brim_height_m();
    VesselView {
        name: vessel.name.clone(),
        plays: plays(vessel),
        shape: shape(vessel, height_mm),
        stand_mm: vessel.stand.value.millimetres(),
        stand_kind: stand_kind(vessel),
        valve: vessel.outlet().map(|valve| ValveView {
            height_mm: valve.height.value.millimetres(),
            bore_mm: valve.bore.value.millimetres(),
            open: moment.is_some_and(|(plan, min)| {
                plan.pours.iter().any(|pour| pour.from == vessel.key && runs(pour, min))
            }),
        }),
        false_bottom_mm: match &vessel.screen {
            Some(Screen::FalseBottom { height, .. }) => Some(height.value.millimetres()),
            _ => None,
        },
        manifold: matches!(vessel.screen, Some(Screen::Manifold { .. })),
        bag: matches!(vessel.screen, Some(Screen::Bag { .. })),
        thermometer_mm: vessel
            .thermometer
            .as_ref()
            .and_then(|dial| dial.height.as_ref())
            .map(|height| height.value.millimetres()),
        heater: heater(brewhouse, vessel, lit, moment),
        lid: lid(vessel, moment),
        insulated: vessel.insulation.is_some(),
        airlock: vessel.plays(Part::Fermenter),
        level_mm: filled.map(|point| point.level_mm),
        contents: contents(vessel, moment, filled),
        volume_l: filled.map(|point| point.volume_l),
        temp_c: filled.and_then(|point| point.temperature_c),
        captions: Vec::new(),
    }
}

/// The parts a vessel plays, as text.
pub(crate) fn plays(vessel: &Vessel) -> String {
    let words: Vec<&str> = vessel
        .plays
        .iter()
        .map(|part| match part {
            Part::Liquor => "liquor",
            Part::Mash => "mash",
            Part::Kettle => "boil",
            Part::Fermenter => "ferment",
        })
        .collect();
    words.join(", ")
}

fn shape(vessel: &Vessel, height_mm: f64) -> ShapeView {
    let inside_diameter_mm = match &vessel.inside {
        Inside::Straight { diameter, across, .. } => {
            let first = diameter.value.millimetres();
            across.as_ref().map_or(first, |second| 0.5 * (first + second.value.millimetres()))
        }
        // A measured pot is drawn as wide as a straight one of its volume and height.
        Inside::Table { .. } => {
            let area_m2 = vessel.section.brim_m3() / vessel.section.brim_height_m();
            2000.0 * (area_m2 / std::f64::consts::PI).sqrt()
        }
    };
    ShapeView {
        inside_diameter_mm,
        inside_height_mm: height_mm,
        wall_mm: vessel.wall.thickness.millimetres(),
        base_mm: vessel.base.iter().map(|layer| layer.thickness.millimetres()).sum(),
        clad: vessel.base.len() > 1,
        base: base(vessel),
    }
}

/// The shape of the base, with the depth its geometry gives it.
fn base(vessel: &Vessel) -> BaseView {
    let depth_mm = 1000.0 * vessel.section.base_top_m();
    match &vessel.inside {
        Inside::Straight { base: Base::Cone { .. }, .. } => BaseView::Cone { depth_mm },
        Inside::Straight { base: Base::Dished | Base::DomedDown { .. }, .. } => {
            BaseView::Round { depth_mm }
        }
        _ => BaseView::Flat,
    }
}

fn stand_kind(vessel: &Vessel) -> StandKind {
    let kind = vessel.heater.as_ref().map(|heater| heater.kind);
    match kind {
        Some(HeaterKind::Hob | HeaterKind::Induction | HeaterKind::HotPlate) => StandKind::Worktop,
        _ if vessel.stand.value.millimetres() < 60.0 => StandKind::Ground,
        Some(HeaterKind::Burner) => StandKind::Frame,
        _ if vessel.stand.value.millimetres() < 1000.0 => StandKind::Table,
        _ => StandKind::Frame,
    }
}

fn heater(
    brewhouse: &Brewhouse,
    vessel: &Vessel,
    lit: bool,
    moment: Option<(&Plan, f64)>,
) -> Heater {
    let Some(heater) = &vessel.heater else { return Heater::None };
    match heater.kind {
        HeaterKind::Element => Heater::Element {
            height_mm: heater.height.as_ref().map_or(40.0, |height| height.value.millimetres()),
            on: lit,
        },
        HeaterKind::Burner => {
            let elsewhere = !lit && is_under_another(brewhouse, vessel, moment);
            Heater::Burner { lit, elsewhere }
        }
        HeaterKind::Hob | HeaterKind::HotPlate => Heater::Hob,
        HeaterKind::Induction => Heater::Induction,
    }
}

/// A shared burner stands where it heats, or last heated; before that under the first vessel.
fn is_under_another(brewhouse: &Brewhouse, vessel: &Vessel, moment: Option<(&Plan, f64)>) -> bool {
    let sharing: Vec<&Vessel> = in_order(brewhouse)
        .into_iter()
        .filter(|other| other.key == vessel.key || brewhouse.share_a_heater(vessel, other))
        .collect();
    let last_heated = moment.and_then(|(plan, min)| {
        let heats = |key: &str, operation| {
            sharing.iter().any(|other| other.key == key)
                && matches!(operation, Operation::Heat | Operation::Fire | Operation::Boil)
        };
        plan.steps
            .iter()
            .filter(|step| step.starts_min <= min && heats(&step.vessel, step.operation))
            .max_by(|a, b| a.starts_min.total_cmp(&b.starts_min))
            .map(|step| step.vessel.as_str())
    });
    let there = last_heated.or_else(|| sharing.first().map(|first| first.key.as_str()));
    there.is_some_and(|key| key != vessel.key)
}

fn is_heated(plan: &Plan, key: &str, min: f64) -> bool {
    plan.steps.iter().any(|step| {
        step.vessel == key
            && step.starts_min <= min
            && min < step.ends_min
            && matches!(
                step.operation,
                Operation::Heat | Operation::Hold | Operation::Fire | Operation::Boil
            )
    })
}

fn lid(vessel: &Vessel, moment: Option<(&Plan, f64)>) -> Lid {
    let boils = moment.is_some_and(|(plan, min)| {
        plan.steps.iter().any(|step| {
            step.vessel == vessel.key
                && step.operation == Operation::Boil
                && (step.starts_min..step.ends_min).contains(&min)
        })
    });
    match (&vessel.lid, boils) {
        (None, _) => Lid::None,
        (Some(_), true) => Lid::Off,
        (Some(_), false) => Lid::On,
    }
}

fn contents(vessel: &Vessel, moment: Option<(&Plan, f64)>, filled: Option<Point>) -> Contents {
    let (Some((plan, min)), Some(_)) = (moment, filled) else { return Contents::Empty };
    match holds(plan, vessel, min) {
        Holds::Liquor => Contents::Water,
        Holds::Wort => Contents::Wort,
        Holds::Mash => Contents::Mash { bed_mm: plan.milestones.bed_mm },
    }
}

fn runs(pour: &crate::output::Pour, min: f64) -> bool {
    (pour.from_min..pour.to_min).contains(&min)
}

/// A curve at a minute, on the straight line between its points; nothing outside of them.
pub(crate) fn point_at(plan: &Plan, key: &str, min: f64) -> Option<Point> {
    let points = &plan.curves.iter().find(|curve| curve.vessel == key)?.points;
    let next = points.iter().position(|point| point.min >= min)?;
    let (Some(before), after) = (next.checked_sub(1).map(|i| points[i]), points[next]) else {
        return Some(points[next]);
    };
    let part = (min - before.min) / (after.min - before.min).max(1e-9);
    let between = |a: f64, b: f64| a + part * (b - a);
    Some(Point {
        min,
        volume_l: between(before.volume_l, after.volume_l),
        temperature_c: match (before.temperature_c, after.temperature_c) {
            (Some(a), Some(b)) => Some(between(a, b)),
            (a, b) => a.or(b),
        },
        level_mm: between(before.level_mm, after.level_mm),
    })
}

fn links(brewhouse: &Brewhouse, order: &[&Vessel], moment: Option<(&Plan, f64)>) -> Vec<LinkView> {
    let index = |key: &str| order.iter().position(|vessel| vessel.key == key);
    let mut links: Vec<LinkView> = Vec::new();
    let mut lay = |from: &str, to: &str, substance: Substance, flowing: bool| {
        let (Some(from_index), Some(to_index)) = (index(from), index(to)) else { return };
        let here = |link: &LinkView| link.from == from_index && link.to == to_index;
        if let Some(known) = links.iter_mut().find(|link| here(link)) {
            known.flowing |= flowing;
            return;
        }
        links.push(LinkView {
            from: from_index,
            to: to_index,
            carried: carried(brewhouse, order[from_index], order[to_index]),
            sprinkler: brewhouse
                .hoses
                .iter()
                .any(|hose| hose.sprinkler && hose.from == from && hose.to == to),
            substance,
            flowing,
            label: None,
        });
    };
    if let Some((plan, min)) = moment {
        for pour in &plan.pours {
            let wort = pour.substance == "wort";
            let substance = if wort { Substance::Wort } else { Substance::Water };
            lay(&pour.from, &pour.to, substance, runs(pour, min));
        }
    }
    for hose in &brewhouse.hoses {
        let from_tank = brewhouse.vessel(&hose.from).is_some_and(|from| from.plays(Part::Liquor));
        let substance = if from_tank { Substance::Water } else { Substance::Wort };
        lay(&hose.from, &hose.to, substance, false);
    }
    links
}

/// How liquid gets from one vessel to another: downhill by a hose or a pipe, uphill by the pump
/// where there is one, else by jug.
fn carried(brewhouse: &Brewhouse, from: &Vessel, to: &Vessel) -> Carried {
    let outlet_m = from.outlet().map_or(0.0, |valve| valve.height.value.metres());
    let downhill =
        from.stand.value.metres() + outlet_m > to.stand.value.metres() + to.section.brim_height_m();
    let hose = brewhouse.hoses.iter().any(|hose| hose.from == from.key && hose.to == to.key);
    match (downhill && from.outlet().is_some(), hose) {
        (true, true) => Carried::Hose,
        (true, false) => Carried::Pipe,
        (false, _) if brewhouse.pump.is_some() => Carried::Pump,
        (false, _) => Carried::Jug,
    }
}
