//! The mash bed while it is run off: free liquid on top, eight cells with mobile and held liquid,
//! the space under the plate, the outlet. It deliberately knows no valve, no level and no clock:
//! the caller says how much flows, and adds the rates.
//!
//! Extract, water and heat are carried as masses and joules through volumes that add: every
//! region's water is `ρ_w (V - v_e x)` with one density for the whole run-off, so a flow of volume
//! takes extract and water in exact proportion and both close to rounding.

mod state;

pub use state::{
    Settled, drainable_m3, extract_kg_m3, free_m3, lift_k, mix, settle, total_extract_kg,
    total_heat_j, total_water_kg, under_m3,
};

/// Number of bed cells, top to bottom; the dispersion of a Péclet number of 16.
pub const CELLS: usize = 8;

/// Extract in the free liquid above the bed, kg.
pub const FREE_EXTRACT: usize = 0;
/// Water in the free liquid, kg.
pub const FREE_WATER: usize = 1;
/// Heat of the free liquid over [`REFERENCE_C`], J.
pub const FREE_HEAT: usize = 2;
/// Extract in the mobile liquid of each cell, kg; first of [`CELLS`].
pub const MOBILE: usize = 3;
/// Extract in the held liquid of each cell, kg; first of [`CELLS`].
pub const HELD: usize = MOBILE + CELLS;
/// Heat of each cell, liquid and solids, over [`REFERENCE_C`], J; first of [`CELLS`].
pub const CELL_HEAT: usize = HELD + CELLS;
/// Share of the mobile volume that holds liquid: 1 when flooded, less while the bed drains.
pub const MOBILE_SHARE: usize = CELL_HEAT + CELLS;
/// Extract under the plate, kg.
pub const UNDER_EXTRACT: usize = MOBILE_SHARE + 1;
/// Heat of the liquid under the plate over [`REFERENCE_C`], J.
pub const UNDER_HEAT: usize = UNDER_EXTRACT + 1;
/// Share of the space under the plate that holds liquid: 1 until the bed has drained.
pub const UNDER_SHARE: usize = UNDER_HEAT + 1;
/// Extract still inside particles, which dissolves late, kg.
pub const REST: usize = UNDER_SHARE + 1;
/// Number of states.
pub const BED_STATES: usize = REST + 1;

/// Temperature from which all heat of the bed is counted, °C: that of every enthalpy.
pub use matter::water::REFERENCE_C;

/// Heat capacity of water in the bed, J/(kg K): its value at [`REFERENCE_C`]; 0.2 % at most from
/// the full curve between 20 and 80 °C, and the same in every term, so heat closes exactly.
pub const WATER_J_KG_K: f64 = 4187.07;

/// Heat capacity of dissolved extract in the bed, J/(kg K): sugar-industry law at [`REFERENCE_C`].
pub const EXTRACT_J_KG_K: f64 = 2163.57;

/// Time constant with which the space under the plate empties once the bed gives less than the
/// valve takes, s (our choice: short against the bed's own).
const UNDER_DRAIN_S: f64 = 20.0;

/// The bed of one mash: constants of the whole run-off.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bed {
    /// Mobile liquid of the flooded bed, m³.
    pub mobile_m3: f64,
    /// Liquid held in particles and films, m³; the late extract's own volume is counted in it.
    pub held_m3: f64,
    /// Space under the plate, m³.
    pub under_m3: f64,
    /// Part of it that the outlet cannot reach, m³.
    pub dead_m3: f64,
    /// Time constant of exchange between mobile and held liquid, s.
    pub exchange_s: f64,
    /// Share of the flow that goes past the bed.
    pub channel: f64,
    /// Time constant with which the late extract dissolves, s.
    pub late_s: f64,
    /// Density of water, kg/m³, one for the whole run-off.
    pub water_density_kg_m3: f64,
    /// Volume of dissolved extract, m³/kg; see [`EXTRACT_M3_KG`](crate::strike::EXTRACT_M3_KG).
    pub extract_volume_m3_kg: f64,
    /// Heat capacity of the undissolved matter, J/K.
    pub solids_heat_j_k: f64,
    /// Time constant of draining, s; 240 (from memory).
    pub drain_s: f64,
    /// Liquid that the drained bed keeps, m³.
    pub retained_m3: f64,
}

impl Bed {
    /// Mobile volume that stays when the bed has drained, m³.
    ///
    /// A fiftieth of the mobile volume stays at least, so that a concentration is always defined.
    #[inline]
    pub fn mobile_left_m3(&self) -> f64 {
        (self.retained_m3 - self.held_m3).max(0.02 * self.mobile_m3).min(self.mobile_m3)
    }

    /// Volume that stays under the plate when the bed has drained, m³; a fiftieth at least.
    #[inline]
    pub fn under_left_m3(&self) -> f64 {
        self.dead_m3.max(0.02 * self.under_m3).min(self.under_m3)
    }
}

/// What crosses the bed's boundary now, as the caller sets it.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Flows {
    /// What the valve lets pass, m³/s.
    pub outflow_m3_s: f64,
    /// Sparge liquor onto the free liquid, kg/s.
    pub sparge_kg_s: f64,
    /// Its enthalpy over [`REFERENCE_C`], J/kg.
    pub sparge_enthalpy_j_kg: f64,
    /// Loss through the wall beside the bed, W, taken evenly from the cells.
    pub bed_loss_w: f64,
    /// Heat leaving the free surface, vapour's enthalpy included, W.
    pub surface_loss_w: f64,
    /// Vapour leaving the free surface, kg/s; none is taken while the bed drains.
    pub vapour_kg_s: f64,
    /// The free liquid is gone: the bed itself drains.
    pub draining: bool,
}

/// What leaves at the outlet, and what really happened of the flows asked for.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Out {
    /// Volume, m³/s; less than the valve's while the bed drains.
    pub outflow_m3_s: f64,
    /// Extract, kg/s.
    pub outflow_extract_kg_s: f64,
    /// Water, kg/s.
    pub outflow_water_kg_s: f64,
    /// Heat over [`REFERENCE_C`], W.
    pub outflow_heat_w: f64,
    /// Vapour taken from the free liquid, kg/s.
    pub vapour_kg_s: f64,
}

/// Washing, exchange, late dissolution, draining and heat: adds d/dt of all states to `dy`.
///
/// ```text
/// dx_mobile,i/dt = F_i c_(i-1) - F_(i+1) c_i + (V_held/N/τ)(c_held,i - c_i)      c = x/V
/// dx_held,i/dt   = -(same exchange) + rest/(N τ_late)      d rest/dt = -rest/τ_late
/// dx_under/dt    = F_N c_N + channel Q c_free - Q c_under   outlet: c_under
/// dH_i/dt        = F_i e_(i-1) - F_(i+1) e_i - loss/N       e: heat of the liquid per volume
/// flooded:  F_i = (1 - channel) Q + refill of what had drained, shared by the cells below
/// draining: F_i = Q_b i/N,  Q_b = min(Q, (V_mobile - V_left)/τ_drain), no channel
/// ```
///
/// Shape: upwind cells of constant volume while flooded; mobile and held liquid swap equal
/// volumes, so no volume changes. Each cell has one temperature for liquid and solids: its front
/// lags the flow by about 1.9. While the bed drains all cells lose mobile liquid alike; when they
/// give less than the valve takes, the space under the plate sinks to what the outlet cannot reach.
///
/// | symbol | argument | unit | holds for |
/// |--------|----------|------|-----------|
/// | volumes, times | `bed` | m³, s | positive |
/// | `Q`, loss | `flows` | m³/s, W | `Q >= 0` |
/// | states | `y`      | kg, J, 1 | [`BED_STATES`] from [`settle`] |
/// | rates  | `dy`     | kg/s, W, 1/s | added to |
///
/// The channel passes the bed from the free liquid straight to the space under the plate.
///
/// # Source
/// Mobile and immobile liquid with first-order exchange: Coats and Smith 1964, Soc. Petrol. Eng. J.
/// 4:73 (from memory), as cells in series; limits checked against Ogata and Banks 1961 and tanks
/// in series. Exchange time, channel and late share are our choice and prior.
pub fn bed_rates(bed: &Bed, flows: &Flows, y: &[f64], dy: &mut [f64]) -> Out {
    assert!(y.len() >= BED_STATES && dy.len() >= BED_STATES, "bed state too short");
    let paths = Paths::new(bed, flows, y);
    let cells = cells(bed, y);
    let free = Liquid::free(bed, y);
    let under = Liquid::under(bed, y);

    // Free liquid: sparge in, bed and channel out.
    let leaving = paths.face[0] + paths.channel;
    let water_share = |c: f64| bed.water_density_kg_m3 * (1.0 - bed.extract_volume_m3_kg * c);
    dy[FREE_EXTRACT] -= leaving * free.extract;
    dy[FREE_WATER] += flows.sparge_kg_s - paths.vapour - leaving * water_share(free.extract);
    dy[FREE_HEAT] += flows.sparge_kg_s * flows.sparge_enthalpy_j_kg - leaving * free.heat;
    let top = if flows.draining { CELL_HEAT } else { FREE_HEAT };
    dy[top] -= flows.surface_loss_w;

    // Bed, top to bottom.
    let late = y[REST] / bed.late_s;
    let mut above = free;
    for i in 0..CELLS {
        let cell = &cells[i];
        let (inlet, outlet) = (paths.face[i], paths.face[i + 1]);
        dy[MOBILE + i] += inlet * above.extract - outlet * cell.liquid.extract + cell.exchange;
        dy[HELD + i] += late / CELLS as f64 - cell.exchange;
        dy[CELL_HEAT + i] +=
            inlet * above.heat - outlet * cell.liquid.heat - flows.bed_loss_w / CELLS as f64;
        above = cell.liquid;
    }
    dy[REST] -= late;
    dy[MOBILE_SHARE] += (paths.face[0] - paths.face[CELLS]) / bed.mobile_m3;

    // Under the plate.
    let (from_bed, q) = (paths.face[CELLS], paths.outflow);
    dy[UNDER_EXTRACT] +=
        from_bed * above.extract + paths.channel * free.extract - q * under.extract;
    dy[UNDER_HEAT] += from_bed * above.heat + paths.channel * free.heat - q * under.heat;
    dy[UNDER_SHARE] += (from_bed + paths.channel - q) / bed.under_m3;

    Out {
        outflow_m3_s: q,
        outflow_extract_kg_s: q * under.extract,
        outflow_water_kg_s: q * water_share(under.extract),
        outflow_heat_w: q * under.heat,
        vapour_kg_s: paths.vapour,
    }
}

/// Volume flows through every face.
struct Paths {
    face: [f64; CELLS + 1], // into cell i from above; the last into the space under the plate
    channel: f64,
    outflow: f64,
    vapour: f64,
}

/// What a draining bed and the space under the plate can give, m³/s.
fn draining_flows(bed: &Bed, mobile_m3: f64, under_m3: f64) -> [f64; 2] {
    [
        (mobile_m3 - bed.mobile_left_m3()).max(0.0) / bed.drain_s,
        (under_m3 - bed.under_left_m3()).max(0.0) / UNDER_DRAIN_S,
    ]
}

/// How far a draining bed falls short of the flow wanted of it, and how far the valve does, m³/s:
/// each turns positive where the flow bends, so that a stepper can stop there.
///
/// ```text
/// Q - (V_mobile - V_left)/τ_drain      Q - (Q_b + (V_under - V_under,left)/τ_under)
/// ```
///
/// | symbol | argument     | unit | holds for |
/// |--------|--------------|------|-----------|
/// | volumes, times | `bed` | m³, s | positive |
/// | `Q`    | `flow_m3_s`  | m³/s | 0 or more |
/// | states | `y`          | kg, J, 1 | as in [`bed_rates`] |
///
/// # Source
/// The draining law of [`bed_rates`].
pub fn drain_shortfalls(bed: &Bed, flow_m3_s: f64, y: &[f64]) -> [f64; 2] {
    let (mobile_m3, under_m3) = (y[MOBILE_SHARE] * bed.mobile_m3, y[UNDER_SHARE] * bed.under_m3);
    let [bed_gives, reserve] = draining_flows(bed, mobile_m3, under_m3);
    [flow_m3_s - bed_gives, flow_m3_s - (bed_gives.min(flow_m3_s) + reserve)]
}

impl Paths {
    fn new(bed: &Bed, flows: &Flows, y: &[f64]) -> Self {
        let mobile = y[MOBILE_SHARE] * bed.mobile_m3;
        let under = y[UNDER_SHARE] * bed.under_m3;
        let wanted = flows.outflow_m3_s.max(0.0);
        let mut face = [0.0; CELLS + 1];
        let step = 1.0 / CELLS as f64;
        if flows.draining {
            let [bed_gives, reserve] = draining_flows(bed, mobile, under);
            let bed_flow = wanted.min(bed_gives);
            for (i, f) in face.iter_mut().enumerate() {
                *f = bed_flow * step * i as f64;
            }
            let outflow = wanted.min(bed_flow + reserve);
            return Self { face, channel: 0.0, outflow, vapour: 0.0 };
        }
        let channel = bed.channel * wanted;
        let refill_under = (bed.under_m3 - under) / bed.drain_s;
        let refill_mobile = (bed.mobile_m3 - mobile) / bed.drain_s;
        for (i, f) in face.iter_mut().enumerate() {
            *f = wanted - channel + refill_under + refill_mobile * step * (CELLS - i) as f64;
        }
        Self { face, channel, outflow: wanted, vapour: flows.vapour_kg_s }
    }
}

/// What a cubic metre of liquid carries: extract in kg, heat in J.
#[derive(Clone, Copy)]
struct Liquid {
    extract: f64,
    heat: f64,
}

impl Liquid {
    fn free(bed: &Bed, y: &[f64]) -> Self {
        let per_m3 = 1.0 / free_m3(bed, y).max(1e-9);
        Self { extract: y[FREE_EXTRACT] * per_m3, heat: y[FREE_HEAT] * per_m3 }
    }

    fn under(bed: &Bed, y: &[f64]) -> Self {
        let per_m3 = 1.0 / under_m3(bed, y).max(1e-9);
        Self { extract: y[UNDER_EXTRACT] * per_m3, heat: y[UNDER_HEAT] * per_m3 }
    }
}

#[derive(Clone, Copy)]
struct Cell {
    liquid: Liquid, // mobile
    exchange: f64,  // held to mobile, kg/s
}

fn cells(bed: &Bed, y: &[f64]) -> [Cell; CELLS] {
    let n = CELLS as f64;
    let (rho, v_e) = (bed.water_density_kg_m3, bed.extract_volume_m3_kg);
    let mobile_m3 = y[MOBILE_SHARE].max(1e-6) * bed.mobile_m3 / n;
    let held_m3 = bed.held_m3 / n;
    let (per_mobile, per_held) = (1.0 / mobile_m3, 1.0 / held_m3.max(1e-12));
    let swap = held_m3 / bed.exchange_s;
    // capacity = fixed + (c_x - c_w ρ v_e) x
    let wet_m3 = mobile_m3 + held_m3 - v_e * y[REST] / n;
    let fixed = WATER_J_KG_K * rho * wet_m3 + bed.solids_heat_j_k / n;
    let per_extract = EXTRACT_J_KG_K - WATER_J_KG_K * rho * v_e;
    std::array::from_fn(|i| {
        let (mobile, held) = (y[MOBILE + i], y[HELD + i]);
        let lift_k = y[CELL_HEAT + i] / (fixed + per_extract * (mobile + held));
        let extract = mobile * per_mobile;
        let heat = (WATER_J_KG_K * rho + per_extract * extract) * lift_k;
        Cell { liquid: Liquid { extract, heat }, exchange: swap * (held * per_held - extract) }
    })
}

#[cfg(test)]
mod tests;
