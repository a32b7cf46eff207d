//! What is done on the day: operations with vessel, start, end and set points, planned or as
//! done. ISA-88 calls the whole a procedure. It computes nothing.

use crate::setting::PotIndex;

/// Index of an operation in [`Procedure::operations`].
pub type OperationIndex = usize;

/// The ordered, partly parallel operations of a day.
#[derive(Debug, Clone, Default)]
pub struct Procedure {
    /// Every operation; one may only wait for an earlier one.
    pub operations: Vec<Operation>,
}

impl Procedure {
    /// Adds an operation and tells its index.
    pub fn add(&mut self, operation: Operation) -> OperationIndex {
        self.operations.push(operation);
        self.operations.len() - 1
    }
}

/// One thing done in one vessel.
#[derive(Debug, Clone)]
pub struct Operation {
    /// Short name, unique in the day.
    pub id: String,
    /// When it starts.
    pub starts: Start,
    /// What is done.
    pub action: Action,
}

/// When an operation starts.
#[derive(Debug, Clone)]
pub struct Start {
    /// Not before this time, s from the day's start.
    pub not_before_s: f64,
    /// After each of these has ended (or started), plus its delay.
    pub after: Vec<After>,
}

/// A tie to another operation.
#[derive(Debug, Clone, Copy)]
pub struct After {
    /// Which.
    pub operation: OperationIndex,
    /// From its start or its end.
    pub from: Edge,
    /// Time after that, s.
    pub delay_s: f64,
}

/// Start or end of an operation.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Edge {
    /// Its start.
    Start,
    /// Its end.
    End,
}

impl Start {
    /// At a time of the day.
    pub fn at(not_before_s: f64) -> Start {
        Start { not_before_s, after: Vec::new() }
    }

    /// When another operation has ended.
    pub fn after(operation: OperationIndex) -> Start {
        Start::later(operation, Edge::End, 0.0)
    }

    /// Some time after an edge of another operation.
    pub fn later(operation: OperationIndex, from: Edge, delay_s: f64) -> Start {
        Start { not_before_s: 0.0, after: vec![After { operation, from, delay_s }] }
    }

    /// Also after the end of another.
    #[must_use]
    pub fn and(mut self, operation: OperationIndex) -> Start {
        self.after.push(After { operation, from: Edge::End, delay_s: 0.0 });
        self
    }

    /// Also not before a time.
    #[must_use]
    pub fn not_before(mut self, time_s: f64) -> Start {
        self.not_before_s = time_s;
        self
    }
}

/// How hard a heater is turned on: a flame's share of its full power, or 1 for the electric ones.
pub type HeaterSetting = f64;

/// What is done.
#[derive(Debug, Clone)]
pub enum Action {
    /// Nothing but time; the brewer is busy or the vessel rests.
    Wait {
        /// How long, s.
        for_s: f64,
    },
    /// Cold liquor from the tap.
    Fill {
        /// Into which pot.
        pot: PotIndex,
        /// How much, kg.
        mass_kg: f64,
        /// How fast, kg/s.
        flow_kg_s: f64,
    },
    /// Heat a pot of liquid until its thermometer's place reaches a temperature.
    Heat {
        /// Which pot.
        pot: PotIndex,
        /// Setting of the heater.
        setting: HeaterSetting,
        /// Temperature at which the heater goes out, °C.
        to_c: f64,
        /// Lid on.
        lid: bool,
    },
    /// Keep a pot at its temperature until another operation starts.
    Keep {
        /// Which pot.
        pot: PotIndex,
        /// Temperature, °C.
        at_c: f64,
        /// The operation that ends it by starting.
        until: OperationIndex,
    },
    /// Run liquid from one pot into another.
    Pour {
        /// From.
        from: PotIndex,
        /// To.
        to: PotIndex,
        /// How much, kg.
        mass_kg: f64,
        /// How fast, m³/s.
        flow_m3_s: f64,
    },
    /// Stir the grist into the liquor that is in the mash tun.
    DoughIn {
        /// Grist as weighed, kg.
        grist_kg: f64,
        /// Stirring, lid off, s.
        for_s: f64,
    },
    /// Leave the mash with its lid on.
    Rest {
        /// How long, s.
        for_s: f64,
    },
    /// Draw from below the bed and return on top.
    Circulate {
        /// Flow, m³/s.
        flow_m3_s: f64,
        /// How long, s.
        for_s: f64,
    },
    /// Fire under the mash while its liquid is circulated or stirred.
    FireMash {
        /// Setting of the heater.
        setting: HeaterSetting,
        /// Temperature of the bed at which the flame goes out, °C.
        to_c: f64,
        /// Circulation through the bed, m³/s.
        flow_m3_s: f64,
    },
    /// Hot liquor from the tank into the mash, stirred in.
    Infuse {
        /// How much, kg.
        mass_kg: f64,
        /// Flow, m³/s.
        flow_m3_s: f64,
    },
    /// Take a part of the mash to the kettle.
    DrawDecoction {
        /// Share of the solids drawn.
        solids: f64,
        /// Share of the liquid drawn.
        liquid: f64,
        /// Time it takes, s.
        for_s: f64,
    },
    /// Boil the decoction; it gelatinises all and loses its enzymes.
    BoilDecoction {
        /// Setting of the kettle's heater.
        setting: HeaterSetting,
        /// Time at the boil, s.
        for_s: f64,
    },
    /// Return the decoction to the mash, stirred in.
    ReturnDecoction {
        /// Heat lost on the way, K.
        loss_k: f64,
        /// Time it takes, s.
        for_s: f64,
    },
    /// Run wort off through the bed into the kettle.
    RunOff {
        /// Wanted flow, m³/s.
        flow_m3_s: f64,
        /// Ends when the kettle holds this, m³ hot; or earlier when the bed has drained.
        until_m3: f64,
    },
    /// Liquor on the bed while wort runs off.
    Sparge {
        /// How much, kg.
        mass_kg: f64,
        /// Flow, m³/s.
        flow_m3_s: f64,
    },
    /// Liquor stirred into the drained bed at once.
    Refill {
        /// How much, kg.
        mass_kg: f64,
        /// Time for filling, stirring and settling, s.
        for_s: f64,
    },
    /// Lift the bag out of the pot and let it drip.
    LiftBag {
        /// Dripping, s.
        for_s: f64,
    },
    /// Heat a kettle of wort to the boil; ends when it boils. May begin while it fills.
    BringToBoil {
        /// Setting of the heater.
        setting: HeaterSetting,
    },
    /// Boil.
    Boil {
        /// Setting of the heater.
        setting: HeaterSetting,
        /// How long, s.
        for_s: f64,
    },
    /// A hop addition into the kettle.
    Hop {
        /// Which, in [`crate::setting::Setting::hops`].
        addition: usize,
    },
    /// Sugar or extract into the kettle.
    Sugar {
        /// Extract, kg.
        extract_kg: f64,
        /// Water with it, kg.
        water_kg: f64,
        /// Fermentable share of the extract.
        fermentable: f64,
        /// Colour it brings, EBC m³.
        colour_ebc_m3: f64,
    },
    /// Leave the hot kettle until it has cooled to a temperature or the time is over.
    Stand {
        /// Longest, s.
        for_s: f64,
        /// Ends earlier at this temperature, °C; -300 for never.
        to_c: f64,
        /// Lid on.
        lid: bool,
        /// Chill with the coil down to `to_c`.
        chill: bool,
    },
    /// Chill the kettle to a temperature.
    Chill {
        /// Temperature, °C.
        to_c: f64,
    },
    /// Run the kettle into the fermenter, leaving trub and hops.
    ToFermenter {
        /// Flow, m³/s.
        flow_m3_s: f64,
        /// Chill on the way with the counterflow chiller.
        chill: bool,
    },
}

impl Action {
    /// Which pots this needs, one bit each; the mash counts as the pot it is in.
    pub(crate) fn needs(&self, parts: &crate::setting::Parts) -> u64 {
        let bit = |pot: PotIndex| 1_u64 << pot.min(63);
        let (tank, tun, kettle) = (bit(parts.liquor), bit(parts.mash), bit(parts.kettle));
        match self {
            Action::Wait { .. } => 0,
            Action::Fill { pot, .. } | Action::Heat { pot, .. } | Action::Keep { pot, .. } => {
                bit(*pot)
            }
            Action::Pour { from, to, .. } => bit(*from) | bit(*to),
            Action::DoughIn { .. }
            | Action::Rest { .. }
            | Action::Circulate { .. }
            | Action::FireMash { .. }
            | Action::LiftBag { .. } => tun,
            Action::Infuse { .. } | Action::Sparge { .. } | Action::Refill { .. } => tank | tun,
            Action::DrawDecoction { .. }
            | Action::ReturnDecoction { .. }
            | Action::RunOff { .. } => tun | kettle,
            Action::BoilDecoction { .. }
            | Action::BringToBoil { .. }
            | Action::Boil { .. }
            | Action::Hop { .. }
            | Action::Sugar { .. }
            | Action::Stand { .. }
            | Action::Chill { .. } => kettle,
            Action::ToFermenter { .. } => kettle | bit(parts.fermenter),
        }
    }
}
