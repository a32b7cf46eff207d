//! What a simulated day leaves behind: when each operation ran, what the vessels held at its
//! edges and in between, and the state at the end. It computes nothing further.

use crate::procedure::OperationIndex;
use crate::setting::PotIndex;
use crate::state::State;
use numerics::dopri::Work;

/// A simulated day.
#[derive(Debug, Clone)]
pub struct Trace {
    /// Start and end of each operation.
    pub operations: Vec<Times>,
    /// Everything seen in between, if asked for.
    pub samples: Vec<Sample>,
    /// The end of the day.
    pub end: State,
    /// What was looked at when the mash was settled, if it was.
    pub mash_end: Option<MashEnd>,
    /// Time from dough-in to the last moment iodine was not normal, s; absent if it never became
    /// normal.
    pub iodine_normal_s: Option<f64>,
    /// Where something did not go as the procedure asked.
    pub caveats: Vec<String>,
    /// Work of the integrator.
    pub work: Work,
}

/// When an operation ran, and what was seen at its edges.
#[derive(Debug, Clone)]
pub struct Times {
    /// Start, s from the day's start.
    pub start_s: f64,
    /// End, s.
    pub end_s: f64,
    /// What was seen at the start.
    pub at_start: Snapshot,
    /// What was seen at the end.
    pub at_end: Snapshot,
}

/// Everything seen at one moment.
#[derive(Debug, Clone, Default)]
pub struct Snapshot {
    /// Each pot.
    pub pots: Vec<Seen>,
    /// Liquid below the screen, °C, where there is one.
    pub under_c: Option<f64>,
    /// Strength of what the tun's valve would give now, °P, and of the stirred mash.
    pub valve_plato: f64,
    /// Free liquid and bed are in it: strength of the liquid of the mash, °P.
    pub mash_plato: f64,
}

/// One pot at one moment.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Seen {
    /// Volume of what it holds, m³, solids included.
    pub volume_m3: f64,
    /// Its temperature, °C.
    pub temp_c: f64,
    /// Its strength, °P.
    pub plato: f64,
    /// Its mass, kg.
    pub mass_kg: f64,
}

/// A moment of the day.
#[derive(Debug, Clone)]
pub struct Sample {
    /// Time, s.
    pub t_s: f64,
    /// Each pot.
    pub pots: Vec<Seen>,
}

/// The mash when it is settled for running off, or lifted out.
#[derive(Debug, Clone, Copy, Default)]
pub struct MashEnd {
    /// Share of the grist's extract that is dissolved.
    pub conversion: f64,
    /// Fermentable share of the dissolved extract.
    pub fermentable: f64,
    /// Uncut starch in the liquid over all starch.
    pub paste: f64,
    /// Depth of the settled bed, m.
    pub bed_m: f64,
    /// Temperature, °C.
    pub temp_c: f64,
    /// Strength of its liquid, °P.
    pub plato: f64,
}

impl Trace {
    /// When an operation ran.
    pub fn of(&self, operation: OperationIndex) -> &Times {
        &self.operations[operation]
    }

    /// One pot at the end of an operation.
    pub fn after(&self, operation: OperationIndex, pot: PotIndex) -> Seen {
        self.operations[operation].at_end.pots.get(pot).copied().unwrap_or_default()
    }

    /// One pot at the start of an operation.
    pub fn before(&self, operation: OperationIndex, pot: PotIndex) -> Seen {
        self.operations[operation].at_start.pots.get(pot).copied().unwrap_or_default()
    }
}
