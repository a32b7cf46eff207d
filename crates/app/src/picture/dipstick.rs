//! The scale of a vessel: volumes at their heights, from the pot's own section.

use super::units;
use crate::output::Plan;
use crate::show;
use brewhouse::{Brewhouse, Part, Vessel};
use drawing::{DipstickView, ScaleMark};
use quantity::{UnitSystem, Volume};

/// A dipstick with what stands in its head.
#[derive(Debug, Clone, PartialEq)]
pub struct Stick {
    /// Name of the vessel.
    pub vessel: String,
    /// Its inside: diameter and height.
    pub size: String,
    /// Name of the brewhouse.
    pub brewhouse: String,
    /// When the vessel was filled to marks, where that was done.
    pub proved: Option<String>,
    /// The scale.
    pub view: DipstickView,
}

/// Volumes between written marks that are tried, smallest first, in the person's unit.
const WRITTEN_STEPS_L: [f64; 6] = [0.5, 1.0, 2.0, 5.0, 10.0, 20.0];
const WRITTEN_STEPS_GAL: [f64; 6] = [0.25, 0.5, 1.0, 2.0, 5.0, 10.0];

/// How close marks may come, mm on the vessel's wall.
struct Apart {
    /// Written ones, so that their figures don't touch.
    written_mm: f64,
    /// Fine ones.
    fine_mm: f64,
}

/// At full size.
const FULL_SIZE: Apart = Apart { written_mm: 7.0, fine_mm: 1.2 };

/// On the sheet, where the whole height of the vessel is 165 mm long or shorter.
const STRIP: Apart = Apart { written_mm: 32.0, fine_mm: 6.0 };

/// The dipstick of one vessel; nothing when the brewhouse has no vessel of that key.
#[must_use]
pub fn dipstick(
    brewhouse: &Brewhouse,
    key: &str,
    plan: Option<&Plan>,
    system: UnitSystem,
) -> Option<Stick> {
    let vessel = brewhouse.vessel(key)?;
    Some(Stick {
        vessel: vessel.name.clone(),
        size: crate::rows::inside(vessel, system),
        brewhouse: brewhouse.name.clone(),
        proved: vessel
            .proved
            .iter()
            .find(|proved| proved.what.contains("mark"))
            .map(|proved| proved.date.clone()),
        view: scale(vessel, plan, system, &FULL_SIZE),
    })
}

/// The scale of the vessel that plays the kettle.
#[must_use]
pub fn stick_of_kettle(
    brewhouse: &Brewhouse,
    plan: &Plan,
    system: UnitSystem,
) -> Option<DipstickView> {
    Some(scale(brewhouse.playing(Part::Kettle)?, Some(plan), system, &STRIP))
}

fn scale(vessel: &Vessel, plan: Option<&Plan>, system: UnitSystem, apart: &Apart) -> DipstickView {
    let brim_m3 = vessel.section.brim_m3();
    let (steps, unit_m3) = match system {
        UnitSystem::Metric => (WRITTEN_STEPS_L, Volume::from_litres(1.0).cubic_metres()),
        UnitSystem::Us => (WRITTEN_STEPS_GAL, Volume::from_gallons(1.0).cubic_metres()),
    };
    let height_mm = |volume_m3: f64| 1000.0 * vessel.section.height_m(volume_m3);
    // The closest marks are where the pot is widest: near the brim a straight wall is.
    let apart_mm = |step_m3: f64| height_mm(brim_m3) - height_mm((brim_m3 - step_m3).max(0.0));
    let written = steps
        .into_iter()
        .find(|step| apart_mm(step * unit_m3) >= apart.written_mm)
        .unwrap_or(steps[steps.len() - 1]);
    let parts = [10_u32, 5, 4, 2]
        .into_iter()
        .find(|parts| apart_mm(written * unit_m3 / f64::from(*parts)) >= apart.fine_mm)
        .unwrap_or(1);
    let count = (brim_m3 / (written * unit_m3)).floor() as u32;
    let marks = (1..=count).map(|number| {
        let volume = f64::from(number) * written;
        ScaleMark { height_mm: height_mm(volume * unit_m3), label: trimmed(volume) }
    });
    let fine_m3 = written * unit_m3 / f64::from(parts);
    let fine_count = (brim_m3 / fine_m3).floor() as u32;
    let fine = (1..=fine_count)
        .filter(|number| number % parts != 0)
        .map(|number| height_mm(f64::from(number) * fine_m3));
    DipstickView {
        vessel: vessel.name.clone(),
        title: match system {
            UnitSystem::Metric => format!("{}, L", vessel.name),
            UnitSystem::Us => format!("{}, gal", vessel.name),
        },
        units: units(system),
        height_mm: 1000.0 * vessel.section.brim_height_m(),
        marks: marks.collect(),
        fine_mm: fine.collect(),
        notes: plan.map_or_else(Vec::new, |plan| notes(vessel, plan, system, height_mm)),
        check_line_mm: 100.0,
    }
}

/// A volume of the scale without needless zeros: `5`, `2.5`, `0.25`.
fn trimmed(volume: f64) -> String {
    let text = format!("{volume:.2}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// The levels of the day that are read in this vessel.
fn notes(
    vessel: &Vessel,
    plan: &Plan,
    system: UnitSystem,
    height_mm: impl Fn(f64) -> f64,
) -> Vec<ScaleMark> {
    let stones = &plan.milestones;
    let mut notes = Vec::new();
    let mut note = |word: &str, litres: f64| {
        let label = format!("{word}, {}", show::volume(litres, system));
        notes.push(ScaleMark { height_mm: height_mm(litres / 1000.0), label });
    };
    if vessel.plays(Part::Kettle) {
        note("pre-boil", stones.pre_boil_l);
        note("knock-out", stones.knock_out_l);
    }
    if vessel.plays(Part::Liquor) && !vessel.plays(Part::Mash) {
        note("fill", plan.amounts.fill_l);
    }
    notes
}
