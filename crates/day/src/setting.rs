//! One draw of everything the physics needs: these pots, this air, these lots, as plain numbers
//! in SI. It knows no prior, no document and no person's unit.

use brewhouse::section::Section;
use matter::malt::Grist;
use process::heat::{FlameInputs, OpenSurface, SideLoss};
use process::mash::Kinetics;

/// Index of a pot in [`Setting::pots`].
pub type PotIndex = usize;

/// The brewhouse and the lots of one day.
#[derive(Debug, Clone)]
pub struct Setting {
    /// Every pot.
    pub pots: Vec<Pot>,
    /// Which pot plays which part; one pot may play several.
    pub parts: Parts,
    /// Room or outdoor air, °C.
    pub air_c: f64,
    /// Pressure of the air, Pa.
    pub pressure_pa: f64,
    /// Liquor as it comes from the tap, °C.
    pub source_c: f64,
    /// The malts of the day, a mass that is scaled to the grist of the operation.
    pub grist: Grist,
    /// Grist as it lies in the sack, °C.
    pub grist_c: f64,
    /// Constants of the mash kinetics.
    pub kinetics: Kinetics,
    /// Factor on the handbook's heat of wetting.
    pub wetting_factor: f64,
    /// Constants of the bed.
    pub bed: BedSetting,
    /// Hop additions, in the order of [`crate::state::State::hops`].
    pub hops: Vec<HopSetting>,
    /// What all hop additions share.
    pub bitterness: BitternessSetting,
    /// Chiller; none means that the wort cools by itself.
    pub chiller: Chiller,
    /// What stays in kettle and hoses.
    pub losses: LossSetting,
    /// Acidity of mash and wort, pH of a cooled sample.
    pub mash_ph: f64,
    /// Acidity of the boiling wort, pH of a cooled sample.
    pub wort_ph: f64,
}

/// Which pot plays which part.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Parts {
    /// Hot liquor tank.
    pub liquor: PotIndex,
    /// Mash tun.
    pub mash: PotIndex,
    /// Kettle.
    pub kettle: PotIndex,
    /// Fermenter.
    pub fermenter: PotIndex,
}

/// One pot.
#[derive(Debug, Clone)]
pub struct Pot {
    /// Key in the document.
    pub key: String,
    /// Height and volume.
    pub section: Section,
    /// Heat held by the wall, J/K; it is as warm as the contents.
    pub wall_j_k: f64,
    /// Heat held by the base, J/K.
    pub base_j_k: f64,
    /// From base to contents, W/K; not finite where the base is as warm as the contents.
    pub base_w_k: f64,
    /// From base to the air below with the fire out, W/K.
    pub base_loss_w_k: f64,
    /// Loss through the wall.
    pub side: SideLoss,
    /// Share of the side loss that remains while a flame washes the wall.
    pub side_fired: f64,
    /// Loss from the open surface.
    pub surface: OpenSurface,
    /// Share of the open surface's vapour that leaves past the lid; 1 where there is no lid.
    pub lid_share: f64,
    /// Heat through the lid, W/(m² K).
    pub lid_w_m2_k: f64,
    /// What heats it.
    pub heater: Heater,
    /// Lowest level at which it may be heated, m.
    pub least_level_m: f64,
    /// Stays behind when the valve no longer gives anything, m³.
    pub left_m3: f64,
    /// Below the false bottom or manifold, m³; 0 for a bag or a plain pot.
    pub under_m3: f64,
    /// Height of the false bottom, m; 0 without one.
    pub screen_m: f64,
    /// Flow at the wide open valve, m³/s.
    pub valve_m3_s: f64,
    /// Inside of the wall from base to brim, m².
    pub side_m2: f64,
    /// Free surface and bed area at the height of the mash, m².
    pub area_m2: f64,
}

/// What heats a pot.
#[derive(Debug, Clone)]
pub enum Heater {
    /// Nothing.
    None,
    /// A flame under the base; the setting is given by the operation.
    Flame(FlameInputs),
    /// An element in the liquid.
    Element {
        /// Electrical power, W.
        power_w: f64,
        /// Share into the liquid.
        share: f64,
    },
    /// Induction, hot plate: power into the base.
    Plate {
        /// Electrical power, W.
        power_w: f64,
        /// Share into the base.
        share: f64,
    },
}

/// How the wort is chilled.
#[derive(Debug, Clone, Copy)]
pub enum Chiller {
    /// Not at all.
    None,
    /// A coil in the stirred kettle.
    Coil {
        /// Conductance, W/K.
        ua_w_k: f64,
        /// Coolant, kg/s.
        coolant_kg_s: f64,
        /// Coolant inlet, °C.
        inlet_c: f64,
    },
    /// Counterflow or plates on the way to the fermenter.
    Counterflow {
        /// Conductance, W/K.
        ua_w_k: f64,
        /// Coolant, kg/s.
        coolant_kg_s: f64,
        /// Coolant inlet, °C.
        inlet_c: f64,
        /// Wort flow, kg/s.
        wort_kg_s: f64,
    },
    /// The pot in a bath of cold water that is kept cold.
    Bath {
        /// Conductance, W/K.
        ua_w_k: f64,
        /// Bath, °C.
        inlet_c: f64,
        /// Water through the bath, kg/s.
        coolant_kg_s: f64,
    },
}

/// Constants of bed and washing.
#[derive(Debug, Clone, Copy)]
pub struct BedSetting {
    /// Settled bed, m³ per kg grist.
    pub per_kg_m3: f64,
    /// Mobile share of the liquid in it.
    pub mobile: f64,
    /// Share of the flow beside the bed.
    pub channel: f64,
    /// Exchange of held liquid, s.
    pub exchange_s: f64,
    /// Share of the extract that dissolves late.
    pub late: f64,
    /// Its time constant, s.
    pub late_s: f64,
    /// Liquid kept by drained grain, m³ per kg grist.
    pub retained_m3_kg: f64,
    /// Highest flow the bed lets through, m³/s.
    pub flow_limit_m3_s: f64,
    /// Exchange between bed and the space below by itself, m³/s.
    pub seep_m3_s: f64,
    /// Heat through the plate between them, W/(m² K).
    pub plate_w_m2_k: f64,
}

/// One hop addition.
#[derive(Debug, Clone)]
pub struct HopSetting {
    /// Mass, kg.
    pub mass_kg: f64,
    /// Alpha acids that can leave the hop matter, mass share of the hops today.
    pub alpha: f64,
    /// Rate at which they leave it in hot wort, 1/s.
    pub extraction_per_s: f64,
    /// Factor on the whole path, below 1 for hops in the mash.
    pub path: f64,
    /// Wort held by the spent hops, m³/kg.
    pub held_m3_kg: f64,
}

/// Rates of isomerisation in this wort.
#[derive(Debug, Clone, Copy)]
pub struct BitternessSetting {
    /// Multiplier on the rate of isomerisation.
    pub k1: f64,
    /// Multiplier on the loss of iso-alpha.
    pub k2: f64,
}

/// What stays in kettle, hoses and chiller.
#[derive(Debug, Clone, Copy)]
pub struct LossSetting {
    /// Hot trub, m³ per m³ of wort at 12 °P.
    pub trub: f64,
    /// Cold break that settles in the kettle, m³ per m³; 0 if chilled after the kettle.
    pub cold_break: f64,
    /// Left in the kettle with trub and hops in all, where it was proved, m³.
    pub trub_and_hops_m3: Option<f64>,
    /// Left in hoses and chiller, spilt and sampled, m³.
    pub hoses_m3: f64,
}
