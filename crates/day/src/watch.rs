//! What ends a stretch of the day: functions of the state that cross zero upwards at the event.

use crate::plant::Plant;
use crate::setting::PotIndex;
use crate::state::MashKind;
use process::bed;

/// Free liquid that counts as gone, kg.
pub(crate) const FREE_GONE_KG: f64 = 0.02;
/// Sparge liquor on a bed that drains, from which on it is flooded again, kg (our choice: enough
/// that the two do not alternate all the time).
const FREE_BACK_KG: f64 = 0.5;

/// Something waited for.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Watch {
    /// A pot is as warm as this, °C.
    Warm { pot: PotIndex, c: f64 },
    /// A pot is as cold as this, °C.
    Cold { pot: PotIndex, c: f64 },
    /// The mash is as warm as this, °C.
    MashWarm { c: f64 },
    /// A pot holds as little as this, m³.
    Down { pot: PotIndex, m3: f64 },
    /// A pot holds as much as this, m³.
    Up { pot: PotIndex, m3: f64 },
    /// A pot holds as little mass as this, kg.
    MassDown { pot: PotIndex, kg: f64 },
    /// A pot holds as much mass as this, kg.
    MassUp { pot: PotIndex, kg: f64 },
    /// A pot reaches its boiling point.
    Boils { pot: PotIndex },
    /// A boiling pot has no more heat to spare for vapour than its surface gives anyway.
    Simmers { pot: PotIndex },
    /// A draining bed gives less than the valve would take.
    BedSlows,
    /// Bed and space under the plate together give less.
    ValveSlows,
    /// Some alpha acid is more than the wort dissolves, or all of it is in solution again.
    Clouds,
    /// The kettle begins to brown its wort, or stops.
    Browns,
    /// No free liquid is left on the bed.
    FreeGone,
    /// Sparge liquor stands on a draining bed again.
    FreeBack,
    /// The bed has given what it gives.
    Drained,
    /// The paste in the mash falls below the iodine limit, as a share of its starch.
    IodineNormal { starch_kg: f64, limit: f64 },
}

impl Watch {
    /// The event function: below zero before, zero or above from the event on.
    pub(crate) fn value(&self, plant: &Plant<'_>, t: f64, y: &[f64]) -> f64 {
        let held = |pot: PotIndex| plant.layout.pots[pot].map(|at| (y[at], y[at + 1]));
        match *self {
            Watch::Warm { pot, c } => plant.pots[pot].temp_c - c,
            Watch::Cold { pot, c } => c - plant.pots[pot].temp_c,
            Watch::MashWarm { c } => plant.mash_temperature_c(y) - c,
            Watch::Down { pot, m3 } => m3 - plant.pots[pot].volume_m3,
            Watch::Up { pot, m3 } => plant.pots[pot].volume_m3 - m3,
            Watch::MassDown { pot, kg } => kg - held(pot).map_or(0.0, |(w, x)| w + x),
            Watch::MassUp { pot, kg } => held(pot).map_or(0.0, |(w, x)| w + x) - kg,
            Watch::Boils { pot } if plant.pots[pot].boils => 1.0,
            Watch::Boils { pot } => match held(pot) {
                Some((w, x)) if w > 0.0 => plant.pots[pot].temp_c - plant.boiling_c(x / (w + x)),
                _ => -1.0,
            },
            Watch::Simmers { pot } => -plant.pots[pot].spare_w,
            Watch::BedSlows => plant.drain_shortfalls(y)[0],
            Watch::ValveSlows => plant.drain_shortfalls(y)[1],
            Watch::Clouds => plant.cloud_turns_kg(t, y),
            Watch::Browns => plant.browning_turns_k(),
            Watch::FreeGone if plant.layout.mash_kind == MashKind::Bed => {
                FREE_GONE_KG - y[plant.layout.mash + bed::FREE_WATER]
            }
            Watch::FreeBack if plant.layout.mash_kind == MashKind::Bed => {
                y[plant.layout.mash + bed::FREE_WATER] - FREE_BACK_KG
            }
            Watch::FreeGone | Watch::FreeBack => -1.0,
            Watch::Drained => match &plant.mash.bed {
                Some(bed) => DRAINED_M3 - bed::drainable_m3(bed, &y[plant.layout.mash..]),
                None => -1.0,
            },
            Watch::IodineNormal { starch_kg, limit } => limit - plant.paste_kg(y) / starch_kg,
        }
    }
}

/// Liquid still to drip that counts as drained, m³.
pub(crate) const DRAINED_M3: f64 = 1e-4;
