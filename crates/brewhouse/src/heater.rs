//! What heats a vessel: burner, hob, element, induction, hot plate; fuel and marked settings.
//!
//! Knows no flow of heat inside the pot: how much of the power arrives is a number here, how it
//! changes with flame and wind is the business of the process.

use quantity::{Length, Power, Share, Stated};

/// How the heat is made.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum HeaterKind {
    /// A free-standing burner under the pot, fed from a bottle or the grid.
    Burner,
    /// A fixed gas hob with its hood.
    Hob,
    /// An electric element in the liquid.
    Element,
    /// An induction plate.
    Induction,
    /// An electric hot plate.
    HotPlate,
}

impl HeaterKind {
    /// Share of the nominal power that reaches the pot before it is proved: middle and standard
    /// deviation.
    ///
    /// From memory and common practice, inside the range published for kitchen stoves (LP gas
    /// 30 to 58 %, induction 74 to 85 %): outdoor ring burner at full flame 0.38 ± 0.08 of the
    /// net heat, hob 0.45 ± 0.08, induction 0.82 ± 0.05 and hot plate 0.68 ± 0.08 of the plug,
    /// element 0.99 ± 0.01.
    pub fn usual_share(self) -> (f64, f64) {
        match self {
            HeaterKind::Burner => (0.38, 0.08),
            HeaterKind::Hob => (0.45, 0.08),
            HeaterKind::Element => (0.99, 0.01),
            HeaterKind::Induction => (0.82, 0.05),
            HeaterKind::HotPlate => (0.68, 0.08),
        }
    }

    /// Whether it burns something.
    pub fn is_flame(self) -> bool {
        matches!(self, HeaterKind::Burner | HeaterKind::Hob)
    }

    /// The word for it in a sentence: "burner", "hob".
    pub fn word(self) -> &'static str {
        match self {
            HeaterKind::Burner => "burner",
            HeaterKind::Hob => "hob",
            HeaterKind::Element => "element",
            HeaterKind::Induction => "induction plate",
            HeaterKind::HotPlate => "hot plate",
        }
    }
}

/// What a flame burns.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fuel {
    /// Propane as sold, from a bottle.
    Propane,
    /// Butane, from a bottle.
    Butane,
    /// Natural gas from the grid.
    NaturalGas,
}

impl Fuel {
    /// The word for it.
    pub fn word(self) -> &'static str {
        match self {
            Fuel::Propane => "propane",
            Fuel::Butane => "butane",
            Fuel::NaturalGas => "natural gas",
        }
    }
}

/// A setting the person has marked on valve or knob, so that a flame can be named.
#[derive(Debug, Clone, PartialEq)]
pub struct FlameMark {
    /// What the person calls it: "mash line".
    pub name: String,
    /// Share of the full power at this mark.
    pub share: Stated<Share>,
}

/// A heater under or in one vessel.
#[derive(Debug, Clone, PartialEq)]
pub struct Heater {
    /// How the heat is made.
    pub kind: HeaterKind,
    /// The person's name for it. Two vessels whose heaters have the same name share one heater:
    /// it can be under one of them at a time.
    pub name: Option<String>,
    /// Full power: net heat of the gas burned, or what the plug gives. A rating stated as gross
    /// has been turned to net on reading.
    pub power: Stated<Power>,
    /// What it burns; none where it is electric.
    pub fuel: Option<Fuel>,
    /// Share of the power that reaches the pot, as proved; left out: [`HeaterKind::usual_share`].
    pub reaches_pot: Option<Stated<Share>>,
    /// Height of an element over the lowest point inside.
    pub height: Option<Stated<Length>>,
    /// The least share of full power it burns steadily at; left out: a third (outdoor ring
    /// burners turn down 1:3 to 1:5, common practice), nothing for electric heat.
    pub least: Option<Stated<Share>>,
    /// Marked settings, least first.
    pub marks: Vec<FlameMark>,
    /// The electric circuit it hangs on, by name.
    pub circuit: Option<String>,
    /// When the share was proved, as written: year-month-day.
    pub proved: Option<String>,
}

impl Heater {
    /// Share of the power that reaches the pot: as proved, or as usual for its kind.
    pub fn share(&self) -> f64 {
        self.reaches_pot.as_ref().map_or(self.kind.usual_share().0, |s| s.value.fraction())
    }

    /// Power into the pot at full setting, W.
    pub fn full_w(&self) -> f64 {
        self.power.value.watts() * self.share()
    }

    /// Least steady share of full power: as stated, a third for a flame, 0 for electric heat.
    pub fn least_share(&self) -> f64 {
        let usual = if self.kind.is_flame() { 1.0 / 3.0 } else { 0.0 };
        self.least.as_ref().map_or(usual, |s| s.value.fraction())
    }
}
