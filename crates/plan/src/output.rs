//! The plan as plain data: what `underback plan --json` prints and what every page, sheet and
//! drawing is made from. Units stand in the keys. It computes nothing.

use schemars::JsonSchema;
use serde::Serialize;

/// The day planned backwards from the wanted beer on one brewhouse.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Plan {
    /// Name of the brewhouse.
    pub brewhouse: String,
    /// Name of the brew.
    pub brew: String,
    /// What is wanted, within which tolerance, and what the plan gives.
    pub targets: Targets,
    /// What to do, in order of time.
    pub steps: Vec<Step>,
    /// All limits are kept and every expected value lies within its tolerance.
    pub fits: bool,
    /// What was held against the pots and the wishes, each with its verdict.
    pub limits: Vec<Limit>,
    /// Where fits is false: the smallest set of wishes and limits that exclude each other.
    pub conflict: Option<Conflict>,
    /// Wishes that nothing free in the brew can move, in words.
    pub unmoved: Vec<String>,
    /// Grist, liquor, hops and other amounts to weigh and measure.
    pub amounts: Amounts,
    /// Volumes, strengths and times that a brewer asks for by name.
    pub milestones: Milestones,
    /// Where extract, water and heat go; each closes.
    pub ledger: Ledger,
    /// Fuel and electricity.
    pub fuel: Fuel,
    /// Level, volume and temperature of each vessel through the day.
    pub curves: Vec<Curve>,
    /// Liquid that runs from one vessel to another.
    pub pours: Vec<Pour>,
    /// What was not stated and is assumed, in words.
    pub assumed: Vec<String>,
    /// Where the model leaves its trusted range on this day, in words.
    pub caveats: Vec<String>,
}

/// The five targets; one that is not wanted has no aim.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Targets {
    /// Volume in the fermenter at 20 °C, L.
    pub volume_l: Option<Aim>,
    /// Extract of the wort in the fermenter, °P.
    pub extract_plato: Option<Aim>,
    /// Bitterness of the finished beer, IBU, without dry hops.
    pub bitterness_ibu: Option<Aim>,
    /// Colour of the finished beer, EBC.
    pub colour_ebc: Option<Aim>,
    /// Limit of apparent attenuation of the wort, %.
    pub fermentability_percent: Option<Aim>,
}

/// One wish and what the plan gives.
#[derive(Debug, Clone, Copy, Serialize, JsonSchema)]
pub struct Aim {
    /// The wanted value.
    pub wanted: f64,
    /// Half width of what still counts as hit.
    pub tolerance: f64,
    /// What the plan gives.
    pub expected: f64,
}

/// One thing to do.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Step {
    /// Short name, unique in the plan, such as `strike`.
    pub id: String,
    /// Key of the vessel it is done at, or `brewhouse`.
    pub vessel: String,
    /// What is done.
    pub operation: Operation,
    /// Part of the day, for headings.
    pub part: DayPart,
    /// Minutes from the day's start.
    pub starts_min: f64,
    /// Steps that must be over before.
    pub after: Vec<String>,
    /// Steps that are under way when it begins.
    pub during: Vec<During>,
    /// Minutes to wait after all these: a burner cools, or nothing else is under way meanwhile.
    pub wait_min: f64,
    /// Amounts to set, the unit in the key.
    pub set: serde_json::Map<String, serde_json::Value>,
    /// What ends it.
    pub ends_when: EndsWhen,
    /// Minutes from the day's start at which it is expected to end.
    pub ends_min: f64,
    /// What the instruments are expected to show at its end.
    pub expected: Vec<Expected>,
    /// Cautions that stand in this step, with the day's own numbers.
    pub cautions: Vec<CautionText>,
    /// What to do, as a sentence in metric units.
    pub words: String,
    /// The same in US customary units.
    pub words_us: String,
}

/// A step that is under way when another begins.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct During {
    /// The step under way.
    pub id: String,
    /// Minutes after its start.
    pub min: f64,
}

/// What is done in a step.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Operation {
    /// Get pots, hoses and tools ready.
    SetUp,
    /// Weigh and mill the grist.
    Mill,
    /// Fill a vessel with cold liquor.
    Fill,
    /// Dissolve salts or acid.
    Treat,
    /// Heat a vessel to a temperature.
    Heat,
    /// Keep a temperature.
    Hold,
    /// Run liquor or wort from one vessel into another.
    Transfer,
    /// Stir the grist into the strike liquor.
    DoughIn,
    /// Leave the mash at a temperature.
    Rest,
    /// Stir.
    Stir,
    /// Fire under the mash to the next rest.
    Fire,
    /// Add hot liquor to reach the next rest.
    Infuse,
    /// Take a part out, boil it, return it.
    Decoct,
    /// Draw from below the bed and return on top.
    Recirculate,
    /// Run wort off to the kettle.
    RunOff,
    /// Put liquor on the bed while wort runs off.
    Sparge,
    /// Fill up, stir, and drain.
    Drain,
    /// Lift the bag and let it drip.
    LiftBag,
    /// Boil.
    Boil,
    /// Add hops.
    Hop,
    /// Add sugar, finings, nutrient, spice.
    Add,
    /// Leave hot wort standing.
    Stand,
    /// Chill.
    Chill,
    /// Let trub settle.
    Settle,
    /// Add yeast.
    Pitch,
    /// Take a reading.
    Read,
    /// Clean and pack up.
    Clean,
    /// Lid on or off, burner moved, valve or hose: a small doing.
    Handle,
}

/// Part of the day a step belongs to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum DayPart {
    /// Before anything is heated, and heating the liquor.
    BeforeHeating,
    /// From strike to mash-out.
    Mash,
    /// Recirculation, run-off, sparge.
    RunOff,
    /// Boil and hops.
    Boil,
    /// Chill, transfer, pitch.
    ChillAndPitch,
    /// Clean and pack up.
    Close,
}

/// What ends a step.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct EndsWhen {
    /// Kind of the condition.
    pub kind: EndKind,
    /// Key of the vessel whose temperature or volume it is; absent for a time or a word.
    pub vessel: Option<String>,
    /// Its value; absent for `word`.
    pub value: Option<f64>,
    /// Unit of the value; `min` counts from the step's start.
    pub unit: Option<String>,
}

/// Kind of an end condition.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum EndKind {
    /// After some minutes.
    Time,
    /// At a temperature.
    Temperature,
    /// At a volume in the vessel.
    Volume,
    /// At a strength.
    Gravity,
    /// When the brewer says so.
    Word,
}

/// What an instrument is expected to show.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Expected {
    /// Which instrument, such as `tun dial`.
    pub instrument: String,
    /// `temperature`, `dip`, `volume`, `gravity`, `ph`, `time`, `mass`.
    pub quantity: String,
    /// As the instrument would show it.
    pub value: f64,
    /// Its unit.
    pub unit: String,
}

/// A caution in words.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct CautionText {
    /// Which caution.
    pub id: String,
    /// `stop`, `caution` or `note`.
    pub strength: String,
    /// Metric words.
    pub words: String,
    /// Words in US customary units.
    pub words_us: String,
}

/// Something held against the pots or the wishes.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Limit {
    /// Short name, such as `kettle_head_space`.
    pub id: String,
    /// Vessel it concerns, or `brew`.
    pub vessel: String,
    /// What it says, with its numbers.
    pub words: String,
    /// The same in US customary units.
    pub words_us: String,
    /// The value reached.
    pub value: f64,
    /// The value allowed.
    pub bound: f64,
    /// Unit of both.
    pub unit: String,
    /// It is kept.
    pub kept: bool,
    /// It is kept with little to spare, or is only advised.
    pub care: bool,
}

/// Wishes and limits that cannot all hold.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Conflict {
    /// Ids of what excludes each other; where `smallest` is true the day solves without any one.
    pub set: Vec<String>,
    /// Each member left out alone, with all else held, was solved and fits.
    pub smallest: bool,
    /// What may be said of the set as a whole.
    pub claim: String,
    /// The set in words.
    pub words: Vec<String>,
    /// The same in US customary units.
    pub words_us: Vec<String>,
    /// What leaving each member out alone leads to, in the order of the set.
    pub without: Vec<Without>,
    /// Nearest plans that fit, each solved.
    pub nearest: Vec<Nearest>,
}

/// One wish or limit left out alone, all else held.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Without {
    /// The wish or limit.
    pub id: String,
    /// A day without it was solved and fits.
    pub solves: bool,
    /// What is still not kept where it does not solve.
    pub still: Vec<String>,
    /// In words.
    pub words: String,
    /// The same in US customary units.
    pub words_us: String,
}

/// A plan near the wanted one that fits.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Nearest {
    /// Short name, such as `smaller_brew`.
    pub id: String,
    /// What is changed, with its numbers.
    pub words: String,
    /// The same in US customary units.
    pub words_us: String,
    /// What it gives.
    pub targets: Targets,
}

/// Amounts to weigh and measure.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Amounts {
    /// Each malt.
    pub grist: Vec<GristAmount>,
    /// All malts together, kg.
    pub grist_kg: f64,
    /// Strike liquor, L as measured hot.
    pub strike_l: f64,
    /// Its temperature, °C.
    pub strike_c: f64,
    /// Sparge liquor, L as measured hot.
    pub sparge_l: f64,
    /// Its temperature, °C.
    pub sparge_c: f64,
    /// Cold liquor to fill into the tank, L.
    pub fill_l: f64,
    /// Liquor set aside for corrections, L.
    pub reserve_l: f64,
    /// Each hop addition.
    pub hops: Vec<HopAmount>,
    /// Salts, acids and other additions.
    pub others: Vec<OtherAmount>,
}

/// One malt of the grist.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct GristAmount {
    /// Its class.
    pub malt: String,
    /// Mass, kg.
    pub kg: f64,
    /// Share of the grist, %.
    pub share_percent: f64,
    /// Fine extract of the dry matter, %.
    pub extract_percent: f64,
    /// Colour, EBC.
    pub colour_ebc: f64,
}

/// One hop addition.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct HopAmount {
    /// Its kind.
    pub hop: String,
    /// Mass, g.
    pub g: f64,
    /// Alpha acids, %.
    pub alpha_percent: f64,
    /// When, in words.
    pub when: String,
    /// Bitterness it gives in the beer, IBU.
    pub gives_ibu: f64,
}

/// A salt, an acid or another addition.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct OtherAmount {
    /// What.
    pub what: String,
    /// How much, in `unit`.
    pub amount: f64,
    /// Its unit.
    pub unit: String,
    /// When or where, in words.
    pub when: String,
}

/// Figures a brewer asks for by name.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Milestones {
    /// Clock of the day's start, minutes after midnight.
    pub start_clock_min: f64,
    /// Dough-in, minutes from the day's start.
    pub dough_in_min: f64,
    /// Temperature of the mash after dough-in, °C.
    pub dough_in_c: f64,
    /// First runnings at the valve, °P.
    pub first_runnings_plato: f64,
    /// Last runnings, °P.
    pub last_runnings_plato: f64,
    /// Share of the grist's fine extract that dissolved, %.
    pub conversion_percent: f64,
    /// Minutes from dough-in until iodine stays normal; absent if it never does.
    pub iodine_normal_min: Option<f64>,
    /// Mash pH of a cooled sample.
    pub mash_ph: f64,
    /// Wort in the kettle before the boil, L hot.
    pub pre_boil_l: f64,
    /// Its strength, °P.
    pub pre_boil_plato: f64,
    /// Its temperature when that volume is read, °C.
    pub pre_boil_c: f64,
    /// Start of the boil, minutes from the day's start.
    pub boil_starts_min: f64,
    /// Length of the boil, min.
    pub boil_min: f64,
    /// Boiling point, °C.
    pub boil_c: f64,
    /// Vapour at the boil, kg/h.
    pub boil_off_kg_h: f64,
    /// Wort at flame-out, L hot.
    pub knock_out_l: f64,
    /// Its strength, °P.
    pub knock_out_plato: f64,
    /// Rate of the run-off, L/min.
    pub run_off_l_min: f64,
    /// Depth of the settled bed, mm.
    pub bed_mm: f64,
    /// Wort in the fermenter when the yeast goes in, °C.
    pub pitch_c: f64,
    /// Yeast goes in, minutes from the day's start.
    pub pitch_min: f64,
    /// Cleaned and packed up, minutes from the day's start.
    pub end_min: f64,
    /// Where a yeast that takes every sugar would end, °P apparent.
    pub final_limit_plato: f64,
    /// Alcohol there, % by volume.
    pub alcohol_limit_percent: f64,
    /// Chilling water used, L.
    pub chill_water_l: f64,
    /// Free height of the kettle above the wort at the start of the boil, mm.
    pub head_space_mm: f64,
    /// Height of the first foam, mm.
    pub foam_mm: f64,
}

/// Three closed balances.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Ledger {
    /// Water.
    pub water_kg: Balance,
    /// Extract.
    pub extract_kg: Balance,
    /// Heat, counted from 65 °C.
    pub energy_j: Balance,
}

/// One balance: what came in equals what went where.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Balance {
    /// What came in.
    pub came_in: Vec<Entry>,
    /// Where it went.
    pub went: Vec<Entry>,
    /// Difference over what came in.
    pub closure_relative: f64,
}

/// One part of a balance.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Entry {
    /// What.
    pub what: String,
    /// How much, in the balance's unit.
    pub amount: f64,
}

/// Fuel and electricity of the day.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Fuel {
    /// Gas, kg.
    pub gas_kg: f64,
    /// Heat of that gas (lower value), J.
    pub gas_j: f64,
    /// Electricity, kWh.
    pub electricity_kwh: f64,
}

/// One vessel through the day.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Curve {
    /// Key of the vessel.
    pub vessel: String,
    /// Points in order of time.
    pub points: Vec<Point>,
}

/// One vessel at one time.
#[derive(Debug, Clone, Copy, Serialize, JsonSchema)]
pub struct Point {
    /// Minutes from the day's start.
    pub min: f64,
    /// Volume of what it holds, L hot (grain included).
    pub volume_l: f64,
    /// Temperature an exact thermometer at its probe would show, °C; absent when empty.
    pub temperature_c: Option<f64>,
    /// Height of the surface above the base, mm.
    pub level_mm: f64,
}

/// Liquid that runs from one vessel to another.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Pour {
    /// From.
    pub from: String,
    /// To.
    pub to: String,
    /// First minute.
    pub from_min: f64,
    /// Last minute.
    pub to_min: f64,
    /// Litres in all, hot.
    pub litres: f64,
    /// `water` or `wort`.
    pub substance: String,
}
