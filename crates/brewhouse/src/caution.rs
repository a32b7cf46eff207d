//! Cautions: what can hurt at a step, how strongly it is said, and in which words.
//!
//! A caution is a function of the day's own numbers and is never typed into a procedure, so that
//! it changes when the numbers do. It replaces no law and no trained person. Here is no step and
//! no clock: who makes the steps asks [`when`] with plain numbers.

mod text;
pub mod when;

pub use text::OVER_EVERYTHING;

/// How strongly a caution speaks.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Strength {
    /// Once a day, or on the brewhouse's page.
    Note,
    /// Stands in the step before it can be ticked, and on the sheet.
    Caution,
    /// The plan is not made this way, or the person writes why it does not apply.
    Stop,
}

impl Strength {
    /// The word for it.
    pub fn word(self) -> &'static str {
        match self {
            Strength::Note => "note",
            Strength::Caution => "caution",
            Strength::Stop => "stop",
        }
    }
}

/// One caution with the day's own numbers.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Caution {
    /// A hot vessel moved, lifted or tipped by hand.
    Carry {
        /// Mass of what is moved, kg.
        mass_kg: f64,
        /// Temperature of the liquid, °C.
        temp_c: f64,
    },
    /// Hot liquid through an open jug, a hose or over a rim.
    Transfer {
        /// Temperature of the liquid, °C.
        temp_c: f64,
        /// Time to a deep burn, s.
        burn_s: f64,
    },
    /// A kettle that is full as the boil starts.
    BoilOver {
        /// Free height over the wort, m.
        head_m: f64,
        /// Boiling temperature of the wort, °C.
        boiling_c: f64,
    },
    /// Something stirred into wort that nearly boils.
    Flash,
    /// A lid about to be opened on a hot pot.
    Lid,
    /// Hot metal about.
    HotMetal,
    /// Grain poured into hot liquor.
    DoughIn,
    /// A siphon with hot liquid.
    Siphon,
    /// A hot vessel shut tight.
    ShutHot {
        /// Force on its lid as it cools, N.
        force_n: f64,
    },
    /// A pump on hot liquid.
    Pump {
        /// Temperature of the liquid, °C.
        temp_c: f64,
    },
    /// Heat on a vessel that runs low.
    DryFire {
        /// Least level, m.
        least_m: f64,
    },
    /// A hot sample.
    Sample,
    /// What to do with a burn.
    SkinBurn,
    /// Much hot liquid above the knee.
    Spillage,
    /// A load too heavy for one person.
    Lift {
        /// The load, kg.
        mass_kg: f64,
        /// Height of the hands at the start, m.
        from_m: f64,
        /// Height of the hands at the end, m.
        to_m: f64,
        /// What one person should lift at most there, kg.
        limit_kg: f64,
    },
    /// A load nobody lifts alone.
    LiftAlone {
        /// The load, kg.
        mass_kg: f64,
    },
    /// A stand that tips early.
    Tip {
        /// Angle at which it tips, degrees.
        angle_deg: f64,
        /// Push that begins to tip it, N.
        force_n: f64,
    },
    /// A stand whose load is near its limit or not known.
    Stand {
        /// What it will carry, kg.
        mass_kg: f64,
    },
    /// A bag of wet grain lifted.
    Hoist {
        /// Its wet mass, kg.
        mass_kg: f64,
    },
    /// Wet floors and hoses.
    WetFloor,
    /// Sacks, kegs, gas bottles.
    HeavyGoods,
    /// A burner where fumes stay.
    FlameIndoors,
    /// A gas hob for long.
    Hob,
    /// Signs of carbon monoxide.
    FumeSigns,
    /// The bottle is connected.
    HookUp,
    /// Smell of gas.
    GasSmell,
    /// A burner is lit.
    Lighting,
    /// A flame left alone.
    Unwatched,
    /// Wind, or a screen against it.
    Wind,
    /// What is under and over the flame.
    GroundAndCover,
    /// Clothes and the first beer.
    Clothes,
    /// Too little gas for the day.
    BottleLow {
        /// Gas left, kg.
        left_kg: f64,
        /// Gas planned, kg.
        planned_kg: f64,
    },
    /// Mains electricity without a tested breaker.
    Breaker,
    /// More load than a circuit carries.
    Circuit {
        /// Planned load, W.
        load_w: f64,
        /// What it carries, W.
        limit_w: f64,
    },
    /// An element in a vessel.
    Element,
    /// Leads near pots.
    Leads,
    /// Earthing.
    Earth,
    /// A tingle from a pot.
    Tingle,
    /// Acid measured out.
    Acid,
    /// Caustic cleaner.
    Caustic,
    /// Caustic on a light metal.
    CausticOnAluminium,
    /// Peracetic acid.
    Peracetic,
    /// Powders weighed.
    Powder,
    /// Milling.
    Mill,
    /// Wort that cools slowly.
    SlowCooling,
    /// Hops and dogs.
    Dogs,
    /// A long day, or one that ends late.
    LongDay,
    /// The first beer.
    FirstBeer,
    /// Glass over open wort.
    GlassOverWort,
    /// A shut fermenter.
    Sealed,
}

impl Caution {
    /// Its short name, the same in app, sheet and command line.
    pub fn id(&self) -> &'static str {
        match self {
            Caution::Carry { .. } => "H1",
            Caution::Transfer { .. } => "H2",
            Caution::BoilOver { .. } => "H3",
            Caution::Flash => "H4",
            Caution::Lid => "H5",
            Caution::HotMetal => "H6",
            Caution::DoughIn => "H7",
            Caution::Siphon => "H8",
            Caution::ShutHot { .. } => "H9",
            Caution::Pump { .. } => "H10",
            Caution::DryFire { .. } => "H11",
            Caution::Sample => "H12",
            Caution::SkinBurn => "H13",
            Caution::Spillage => "H14",
            Caution::Lift { .. } => "W1",
            Caution::LiftAlone { .. } => "W2",
            Caution::Tip { .. } => "W3",
            Caution::Stand { .. } => "W4",
            Caution::Hoist { .. } => "W5",
            Caution::WetFloor => "W6",
            Caution::HeavyGoods => "W7",
            Caution::FlameIndoors => "G1",
            Caution::Hob => "G2",
            Caution::FumeSigns => "G3",
            Caution::HookUp => "G4",
            Caution::GasSmell => "G5",
            Caution::Lighting => "G6",
            Caution::Unwatched => "G7",
            Caution::Wind => "G8",
            Caution::GroundAndCover => "G9",
            Caution::Clothes => "G10",
            Caution::BottleLow { .. } => "G11",
            Caution::Breaker => "E1",
            Caution::Circuit { .. } => "E2",
            Caution::Element => "E3",
            Caution::Leads => "E4",
            Caution::Earth => "E5",
            Caution::Tingle => "E6",
            Caution::CausticOnAluminium => "C1",
            Caution::Caustic => "C4",
            Caution::Acid => "C5",
            Caution::Peracetic => "C6",
            Caution::Powder => "C7",
            Caution::Mill => "F1",
            Caution::SlowCooling => "F2",
            Caution::Dogs => "F4",
            Caution::LongDay => "F6",
            Caution::FirstBeer => "F7",
            Caution::GlassOverWort => "L3",
            Caution::Sealed => "P3",
        }
    }

    /// How strongly it speaks.
    pub fn strength(&self) -> Strength {
        match self {
            Caution::Carry { .. }
            | Caution::Siphon
            | Caution::ShutHot { .. }
            | Caution::DryFire { .. }
            | Caution::LiftAlone { .. }
            | Caution::Stand { .. }
            | Caution::FlameIndoors
            | Caution::Unwatched
            | Caution::Breaker
            | Caution::Circuit { .. }
            | Caution::CausticOnAluminium
            | Caution::Sealed => Strength::Stop,
            Caution::Transfer { .. }
            | Caution::BoilOver { .. }
            | Caution::Flash
            | Caution::Lid
            | Caution::DoughIn
            | Caution::Pump { .. }
            | Caution::Lift { .. }
            | Caution::Tip { .. }
            | Caution::Hoist { .. }
            | Caution::Hob
            | Caution::HookUp
            | Caution::Lighting
            | Caution::Wind
            | Caution::Element
            | Caution::Earth
            | Caution::Acid
            | Caution::Caustic
            | Caution::Peracetic
            | Caution::Mill
            | Caution::GlassOverWort => Strength::Caution,
            Caution::HotMetal
            | Caution::Sample
            | Caution::SkinBurn
            | Caution::Spillage
            | Caution::WetFloor
            | Caution::HeavyGoods
            | Caution::FumeSigns
            | Caution::GasSmell
            | Caution::GroundAndCover
            | Caution::Clothes
            | Caution::BottleLow { .. }
            | Caution::Leads
            | Caution::Tingle
            | Caution::Powder
            | Caution::SlowCooling
            | Caution::Dogs
            | Caution::LongDay
            | Caution::FirstBeer => Strength::Note,
        }
    }
}

#[cfg(test)]
mod tests;
