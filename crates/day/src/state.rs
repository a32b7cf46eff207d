//! Everything that changes during a day: what each pot holds, the mash, the hops, and running
//! totals of what crossed the boundary. It holds values and packs them; it knows no rate.

use crate::setting::{PotIndex, Setting};
use process::bed::{self, Bed};
use process::isomerise::{self, HOP};
use process::mash::{LIQUID, SOLID, Start};

/// Running totals of what crossed the boundary of the brewhouse.
pub mod total {
    /// Vapour, kg.
    pub const VAPOUR_KG: usize = 0;
    /// Its enthalpy, J.
    pub const VAPOUR_J: usize = 1;
    /// Heat through walls, lids and bases, J.
    pub const WALL_J: usize = 2;
    /// Heat from open surfaces without vapour, J.
    pub const SURFACE_J: usize = 3;
    /// Heat from flames into pots, J.
    pub const FLAME_J: usize = 4;
    /// Heat of the gas burnt, J.
    pub const FUEL_J: usize = 5;
    /// Heat from elements and plates into pots, J.
    pub const ELECTRIC_J: usize = 6;
    /// Electricity drawn, J.
    pub const DRAWN_J: usize = 7;
    /// Heat into chilling water, J.
    pub const CHILL_J: usize = 8;
    /// Chilling water, kg.
    pub const CHILL_KG: usize = 9;
    /// Colour made in the boil, EBC m³.
    pub const BROWNED_EBC_M3: usize = 10;
    /// Water bound by splitting starch, kg.
    pub const BOUND_KG: usize = 11;
    /// Liquor from the tap, kg.
    pub const TAP_KG: usize = 12;
    /// Its enthalpy, J.
    pub const TAP_J: usize = 13;
    /// How many there are.
    pub const COUNT: usize = 14;
}

/// Numbers of a day that change.
#[derive(Debug, Clone)]
pub struct State {
    /// Time from the day's start, s.
    pub t_s: f64,
    /// What each pot holds beside a mash.
    pub pots: Vec<PotState>,
    /// The mash.
    pub mash: Mash,
    /// For each addition: alpha in hops, alpha in wort, iso-alpha, degraded, all kg.
    pub hops: Vec<[f64; HOP]>,
    /// How many of them are in the kettle, from the front.
    pub hops_in: Vec<bool>,
    /// Running totals, see [`total`].
    pub totals: [f64; total::COUNT],
    /// Fermentable share of the extract that came from the mash.
    pub fermentable_share: f64,
    /// Extract added as sugar, kg.
    pub sugar_kg: f64,
    /// Its fermentable part, kg.
    pub sugar_fermentable_kg: f64,
    /// Colour brought by sugar, EBC m³.
    pub sugar_colour_ebc_m3: f64,
    /// Solids, liquid and heat that left with a lifted bag.
    pub lifted: Lifted,
    /// What stayed in hoses and chiller, was spilt or sampled.
    pub spilt: Lifted,
    /// What came in.
    pub came: Came,
}

/// What came into the brewhouse.
#[derive(Debug, Clone, Copy, Default)]
pub struct Came {
    /// The malt's own water and that of sugar, kg.
    pub water_kg: f64,
    /// Starch and other extract of the grist, and sugar, kg.
    pub extract_kg: f64,
    /// Heat of all that, J from 65 °C.
    pub heat_j: f64,
    /// Heat of wetting, J.
    pub wetting_j: f64,
    /// Heat of the metal at the start, J from 65 °C.
    pub metal_j: f64,
}

/// What one pot holds, and how warm its metal is.
#[derive(Debug, Clone, Copy, Default)]
pub struct PotState {
    /// Water, kg.
    pub water_kg: f64,
    /// Dissolved extract, kg.
    pub extract_kg: f64,
    /// Undissolved solids of a decoction, kg.
    pub solids_kg: f64,
    /// Heat of contents and wall, J from 65 °C.
    pub heat_j: f64,
    /// Heat of the base, J from 65 °C; 0 where it goes with the contents.
    pub base_j: f64,
    /// It boils.
    pub boils: bool,
    /// The base keeps its place beside the contents: the rates hold the heat of both in one number
    /// and work the base's temperature out. Off while it is being wetted.
    pub follows: bool,
}

/// What left with a lifted bag.
#[derive(Debug, Clone, Copy, Default)]
pub struct Lifted {
    /// Water, kg.
    pub water_kg: f64,
    /// Extract, kg.
    pub extract_kg: f64,
    /// Heat, J from 65 °C.
    pub heat_j: f64,
    /// Undissolved starch and other extract, kg.
    pub undissolved_kg: f64,
}

/// The mash through the day.
#[derive(Debug, Clone)]
pub enum Mash {
    /// Not doughed in yet, or lifted out.
    None,
    /// Converting: liquid below the screen and the mash above.
    Nodes(Box<Nodes>),
    /// Settled: a bed being run off.
    Bed(Box<BedState>),
}

/// A mash in two well mixed nodes.
#[derive(Debug, Clone)]
pub struct Nodes {
    /// Below the screen: liquid only.
    pub under: Node,
    /// Above it.
    pub over: Node,
    /// Undissolved pools, kg.
    pub solids: [f64; SOLID],
    /// What the grist started with.
    pub start: Start,
    /// Husk and other matter in the tun that never dissolves, kg.
    pub inert_kg: f64,
    /// Grist as weighed, kg.
    pub grist_kg: f64,
    /// Strength the mash would reach, °P.
    pub final_plato: f64,
    /// Whether there is a space below a screen at all.
    pub two: bool,
    /// Part of the mash away being boiled.
    pub drawn: Option<Box<Drawn>>,
    /// Dough-in, s from the day's start.
    pub doughed_s: f64,
}

/// Liquid of one node.
#[derive(Debug, Clone, Copy, Default)]
pub struct Node {
    /// Water, kg.
    pub water_kg: f64,
    /// Dissolved pools, kg, and enzymes.
    pub pools: [f64; LIQUID],
    /// Heat of liquid, undissolved matter and the metal counted with it, J from 65 °C.
    pub heat_j: f64,
}

/// A decoction in the kettle.
#[derive(Debug, Clone, Copy, Default)]
pub struct Drawn {
    /// Dissolved pools.
    pub pools: [f64; LIQUID],
    /// Undissolved pools, kg.
    pub solids: [f64; SOLID],
    /// Husk and protein, kg.
    pub inert_kg: f64,
}

/// A settled bed.
#[derive(Debug, Clone)]
pub struct BedState {
    /// Its constants.
    pub bed: Bed,
    /// Its numbers, laid out as in [`process::bed`].
    pub y: Vec<f64>,
    /// Matter that never dissolves, and what the mash left undissolved, kg.
    pub solids_kg: f64,
    /// No free liquid is left; the bed drains.
    pub drains: bool,
    /// Grist as weighed, kg.
    pub grist_kg: f64,
    /// Undissolved starch and other extract, kg.
    pub undissolved_kg: f64,
    /// Conversion at the end of the mash.
    pub conversion: f64,
}

impl State {
    /// The day before anything has been done: empty pots as warm as the air.
    pub fn start(setting: &Setting) -> State {
        let pots = setting.pots.iter().map(|pot| {
            let below_k = setting.air_c - 65.0;
            PotState {
                heat_j: pot.lumped_j_k() * below_k,
                base_j: pot.own_base_j_k() * below_k,
                ..PotState::default()
            }
        });
        let pots: Vec<PotState> = pots.collect();
        let metal_j = pots.iter().map(|p| p.heat_j + p.base_j).sum();
        State {
            t_s: 0.0,
            pots,
            mash: Mash::None,
            hops: vec![[0.0; HOP]; setting.hops.len()],
            hops_in: vec![false; setting.hops.len()],
            totals: [0.0; total::COUNT],
            fermentable_share: 0.0,
            sugar_kg: 0.0,
            sugar_fermentable_kg: 0.0,
            sugar_colour_ebc_m3: 0.0,
            lifted: Lifted::default(),
            spilt: Lifted::default(),
            came: Came { metal_j, ..Came::default() },
        }
    }
}

/// Where the blocks of a [`State`] lie in the vector that is integrated.
#[derive(Debug, Clone)]
pub struct Layout {
    /// First place of each pot that takes part.
    pub pots: Vec<Option<usize>>,
    /// First place of the mash or the bed.
    pub mash: usize,
    /// Kind of what lies there.
    pub mash_kind: MashKind,
    /// Base of the tun while it holds mash or bed.
    pub tun_base: usize,
    /// Pots whose base is counted with their contents.
    pub follows: Vec<bool>,
    /// First place of the hops: of each what was in them when the segment began, what is not yet
    /// turned in them or in the wort, iso-alpha, degraded.
    pub hops: usize,
    /// Which additions are in.
    pub hops_in: Vec<usize>,
    /// First place of the totals.
    pub totals: usize,
    /// Length.
    pub len: usize,
}

/// What lies in the mash's places.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MashKind {
    /// Nothing.
    None,
    /// One node.
    One,
    /// Two nodes.
    Two,
    /// A settled bed.
    Bed,
}

/// Places of a pot's numbers from its first.
pub mod pot {
    /// Water.
    pub const WATER: usize = 0;
    /// Extract.
    pub const EXTRACT: usize = 1;
    /// Heat.
    pub const HEAT: usize = 2;
    /// Heat of the base.
    pub const BASE: usize = 3;
    /// How many.
    pub const COUNT: usize = 4;
}

/// Places of the mash's numbers from its first.
pub mod mash {
    use process::mash::{LIQUID, SOLID};
    /// Water above the screen.
    pub const WATER: usize = 0;
    /// Pools above it.
    pub const POOLS: usize = 1;
    /// Heat above it.
    pub const HEAT: usize = POOLS + LIQUID;
    /// Undissolved pools.
    pub const SOLIDS: usize = HEAT + 1;
    /// Length of one node.
    pub const ONE: usize = SOLIDS + SOLID;
    /// Water below the screen.
    pub const UNDER_WATER: usize = ONE;
    /// Pools below it.
    pub const UNDER_POOLS: usize = UNDER_WATER + 1;
    /// Heat below it.
    pub const UNDER_HEAT: usize = UNDER_POOLS + LIQUID;
    /// Length of two nodes.
    pub const TWO: usize = UNDER_HEAT + 1;
}

/// Heat of a base that is counted with the contents, and of one that is not, J.
fn halves(held: &PotState) -> (f64, f64) {
    if held.follows { (held.base_j, 0.0) } else { (0.0, held.base_j) }
}

impl Layout {
    /// The places of what takes part now.
    pub fn of(state: &State, mash_too: bool, takes_part: impl Fn(PotIndex) -> bool) -> Layout {
        let mut len = 0;
        let pots = (0..state.pots.len())
            .map(|i| {
                takes_part(i).then(|| {
                    len += pot::COUNT;
                    len - pot::COUNT
                })
            })
            .collect();
        let mash = len;
        let mash_kind = match &state.mash {
            _ if !mash_too => MashKind::None,
            Mash::None => MashKind::None,
            Mash::Nodes(nodes) if nodes.two => MashKind::Two,
            Mash::Nodes(_) => MashKind::One,
            Mash::Bed(_) => MashKind::Bed,
        };
        len += match mash_kind {
            MashKind::None => 0,
            MashKind::One => mash::ONE,
            MashKind::Two => mash::TWO,
            MashKind::Bed => bed::BED_STATES,
        };
        let tun_base = len;
        len += usize::from(mash_kind != MashKind::None);
        let hops = len;
        let hops_in: Vec<usize> = (0..state.hops.len()).filter(|&i| state.hops_in[i]).collect();
        len += HOP * hops_in.len();
        let totals = len;
        len += total::COUNT;
        let follows = state.pots.iter().map(|p| p.follows).collect();
        Layout { pots, mash, mash_kind, tun_base, follows, hops, hops_in, totals, len }
    }

    /// Writes the state into `y`.
    pub fn pack(&self, state: &State, tun: PotIndex, y: &mut Vec<f64>) {
        y.clear();
        y.resize(self.len, 0.0);
        for (at, held) in self.pots.iter().zip(&state.pots) {
            if let Some(at) = *at {
                let (with_j, own_j) = halves(held);
                y[at + pot::WATER] = held.water_kg;
                y[at + pot::EXTRACT] = held.extract_kg;
                y[at + pot::HEAT] = held.heat_j + with_j;
                y[at + pot::BASE] = own_j;
            }
        }
        let (with_j, own_j) = halves(&state.pots[tun]);
        match &state.mash {
            _ if self.mash_kind == MashKind::None => {}
            Mash::None => {}
            Mash::Nodes(nodes) => {
                let m = &mut y[self.mash..];
                m[mash::WATER] = nodes.over.water_kg;
                m[mash::POOLS..mash::POOLS + LIQUID].copy_from_slice(&nodes.over.pools);
                m[mash::HEAT] = nodes.over.heat_j;
                m[mash::SOLIDS..mash::SOLIDS + SOLID].copy_from_slice(&nodes.solids);
                if nodes.two {
                    m[mash::UNDER_WATER] = nodes.under.water_kg;
                    m[mash::UNDER_POOLS..mash::UNDER_POOLS + LIQUID]
                        .copy_from_slice(&nodes.under.pools);
                    m[mash::UNDER_HEAT] = nodes.under.heat_j;
                }
                m[self.base_heat() - self.mash] += with_j;
                y[self.tun_base] = own_j;
            }
            Mash::Bed(held) => {
                y[self.mash..self.mash + bed::BED_STATES].copy_from_slice(&held.y);
                y[self.base_heat()] += with_j;
                y[self.tun_base] = own_j;
            }
        }
        for (k, &i) in self.hops_in.iter().enumerate() {
            let at = self.hops + HOP * k;
            y[at..at + HOP].copy_from_slice(&state.hops[i]);
            y[at + isomerise::ALPHA] += y[at + isomerise::IN_HOP];
        }
        y[self.totals..self.totals + total::COUNT].copy_from_slice(&state.totals);
    }

    /// Place of the heat of the liquid that touches the base of the tun.
    pub fn base_heat(&self) -> usize {
        self.mash
            + match self.mash_kind {
                MashKind::None | MashKind::One => mash::HEAT,
                MashKind::Two => mash::UNDER_HEAT,
                MashKind::Bed => bed::UNDER_HEAT,
            }
    }

    /// Reads the state back from `y`; heat of a base that follows stays with the contents.
    pub(crate) fn unpack(&self, y: &[f64], tun: PotIndex, state: &mut State) {
        for (at, held) in self.pots.iter().zip(&mut state.pots) {
            if let Some(at) = *at {
                held.water_kg = y[at + pot::WATER];
                held.extract_kg = y[at + pot::EXTRACT];
                held.heat_j = y[at + pot::HEAT];
                held.base_j = y[at + pot::BASE];
            }
        }
        match &mut state.mash {
            _ if self.mash_kind == MashKind::None => {}
            Mash::None => {}
            Mash::Nodes(nodes) => {
                let m = &y[self.mash..];
                nodes.over.water_kg = m[mash::WATER];
                nodes.over.pools.copy_from_slice(&m[mash::POOLS..mash::POOLS + LIQUID]);
                nodes.over.heat_j = m[mash::HEAT];
                nodes.solids.copy_from_slice(&m[mash::SOLIDS..mash::SOLIDS + SOLID]);
                if nodes.two {
                    nodes.under.water_kg = m[mash::UNDER_WATER];
                    nodes
                        .under
                        .pools
                        .copy_from_slice(&m[mash::UNDER_POOLS..mash::UNDER_POOLS + LIQUID]);
                    nodes.under.heat_j = m[mash::UNDER_HEAT];
                }
                state.pots[tun].base_j = y[self.tun_base];
            }
            Mash::Bed(held) => {
                held.y.copy_from_slice(&y[self.mash..self.mash + bed::BED_STATES]);
                state.pots[tun].base_j = y[self.tun_base];
            }
        }
        for (k, &i) in self.hops_in.iter().enumerate() {
            let at = self.hops + HOP * k;
            state.hops[i].copy_from_slice(&y[at..at + HOP]);
            state.hops[i][isomerise::ALPHA] -= y[at + isomerise::IN_HOP];
        }
        state.totals.copy_from_slice(&y[self.totals..self.totals + total::COUNT]);
    }
}
