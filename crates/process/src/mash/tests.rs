//! Checks of the mash kinetics against their laws and an independent integration.

use super::*;
use matter::malt::Grist;

/// The malt of the published behaviour: 81 % extract, 4 % moisture, reference enzymes.
fn malt(mass_kg: f64) -> Grist {
    let mut grist = Grist::default();
    grist.mass_kg = mass_kg;
    grist.moisture = 0.04;
    grist.dry_kg = 0.96 * mass_kg;
    grist.extract_fine_dry = 0.81;
    grist.other_dry = 0.165;
    grist.other_sugar_dry = 0.085;
    grist.starch_dry = (0.81 - 0.165) / 1.042;
    grist.fine_coarse_dry = 0.015;
    grist.alpha = 1.0;
    grist.beta = 1.0;
    grist
}

const STATES: usize = SOLID + LIQUID + 1; // and the water

fn rates(
    k: &Prepared,
    begin: &Start,
    temp_k: f64,
    total_kg: f64,
    y: &[f64; STATES],
) -> [f64; STATES] {
    let solids: &[f64; SOLID] = y.first_chunk().unwrap();
    let liquid: [f64; LIQUID] = y[SOLID..SOLID + LIQUID].try_into().unwrap();
    let water_kg = y[STATES - 1];
    let node =
        MashNode { temp_k, water_kg, dilution: 1.0, final_plato: begin.final_plato(total_kg) };
    let x = dissolved_kg(&liquid);
    let (mut ds, mut dl) = ([0.0; SOLID], [0.0; LIQUID]);
    let bound = liquid_rates(k, &node, &liquid, &mut dl);
    solid_rates(k, &node, 100.0 * x / (x + water_kg), &begin.release, solids, &mut ds, &mut dl);
    let mut dy = [0.0; STATES];
    dy[..SOLID].copy_from_slice(&ds);
    dy[SOLID..SOLID + LIQUID].copy_from_slice(&dl);
    dy[STATES - 1] = -bound;
    dy
}

struct Mash {
    begin: Start,
    prepared: Prepared,
    total_kg: f64,
    y: [f64; STATES],
}

impl Mash {
    fn new(k: &Kinetics, mass_kg: f64, liquor_kg_kg: f64) -> Self {
        let begin = start(&malt(mass_kg), k);
        let total_kg = begin.moisture_kg + liquor_kg_kg * mass_kg;
        let mut y = [0.0; STATES];
        y[..SOLID].copy_from_slice(&begin.solids);
        y[SOLID..SOLID + LIQUID].copy_from_slice(&begin.liquid);
        y[STATES - 1] = total_kg;
        let prepared = begin.kinetics.prepare(5.5);
        Self { begin, prepared, total_kg, y }
    }

    /// Classical Runge-Kutta of fourth order, one second a step.
    fn run(&mut self, minutes: usize, temp_c: impl Fn(f64) -> f64) {
        for step in 0..60 * minutes {
            let t = step as f64;
            let f = |t: f64, y: &[f64; STATES]| {
                rates(&self.prepared, &self.begin, temp_c(t) + 273.15, self.total_kg, y)
            };
            let move_by = |y: &[f64; STATES], d: &[f64; STATES], h: f64| {
                std::array::from_fn(|i| y[i] + h * d[i])
            };
            let k1 = f(t, &self.y);
            let k2 = f(t + 0.5, &move_by(&self.y, &k1, 0.5));
            let k3 = f(t + 0.5, &move_by(&self.y, &k2, 0.5));
            let k4 = f(t + 1.0, &move_by(&self.y, &k3, 1.0));
            for i in 0..STATES {
                self.y[i] += (k1[i] + 2.0 * (k2[i] + k3[i]) + k4[i]) / 6.0;
            }
        }
    }

    fn liquid(&self) -> [f64; LIQUID] {
        self.y[SOLID..SOLID + LIQUID].try_into().unwrap()
    }
}

/// Starch, sugars, other extract, water and husk add up to what was doughed in.
#[test]
fn mass_closes_through_a_whole_mash() {
    let mut mash = Mash::new(&Kinetics::default(), 5.0, 3.0);
    mash.run(60, |_| 66.0);
    let solids: f64 = mash.y[..SOLID].iter().sum();
    let liquid = dissolved_kg(&mash.liquid());
    let mass = solids + liquid + mash.y[STATES - 1] + mash.begin.inert_kg;
    assert!((mass / 20.0 - 1.0).abs() < 1e-12, "{mass}");
    assert!(mash.y.iter().all(|&x| x >= 0.0));
    let bound = mash.total_kg - mash.y[STATES - 1];
    assert!((bound - bound_water_kg(&mash.liquid())).abs() < 1e-12);
}

/// A mash twice as large does the same to each kilogram.
#[test]
fn size_changes_nothing() {
    let (mut small, mut large) =
        (Mash::new(&Kinetics::default(), 1.0, 3.0), Mash::new(&Kinetics::default(), 40.0, 3.0));
    small.run(30, |_| 65.0);
    large.run(30, |_| 65.0);
    for i in 0..SOLID + OTHER {
        assert!((40.0 * small.y[i] / large.y[i] - 1.0).abs() < 1e-9, "pool {i}");
    }
    assert!((small.liquid()[BETA] - large.liquid()[BETA]).abs() < 1e-12);
}

/// Two nodes of one temperature and strength react like the one they were split from.
#[test]
fn splitting_a_node_changes_nothing() {
    let mut mash = Mash::new(&Kinetics::default(), 5.0, 3.0);
    mash.run(10, |_| 64.0);
    let pools = mash.liquid();
    let water_kg = mash.y[STATES - 1];
    let node = |share: f64| MashNode {
        temp_k: 337.15,
        water_kg: share * water_kg,
        dilution: 1.0 / share,
        final_plato: mash.begin.final_plato(mash.total_kg),
    };
    let mut whole = [0.0; LIQUID];
    let bound = liquid_rates(&mash.prepared, &node(1.0), &pools, &mut whole);
    let mut parts = [0.0; LIQUID];
    let mut bound_parts = 0.0;
    for share in [0.3, 0.7] {
        let part = pools.map(|x| share * x);
        bound_parts += liquid_rates(&mash.prepared, &node(share), &part, &mut parts);
    }
    assert!((bound_parts / bound - 1.0).abs() < 1e-12);
    for i in 0..LIQUID {
        assert!((parts[i] - whole[i]).abs() <= 1e-12 * whole[i].abs(), "pool {i}");
    }
}

/// The tables of `prepare` follow the written laws.
#[test]
fn prepared_laws_follow_the_written_ones() {
    let k = Kinetics::default();
    let p = k.prepare(5.5);
    let (fa, fb) = (Kinetics::ph_factor(k.alpha_pk, 5.5), Kinetics::ph_factor(k.beta_pk, 5.5));
    for i in 0..600 {
        let temp_k = 318.15 + 0.071 * i as f64; // 45 to 88 °C
        let at = p.at_temperature(temp_k);
        let near = |got: f64, law: f64| (got / law - 1.0).abs() < 2e-5;
        assert!(near(at.alpha, fa * k.alpha.activity(temp_k)), "{temp_k}");
        assert!(near(at.beta, fb * k.beta.activity(temp_k)), "{temp_k}");
        assert!(near(at.alpha_loss_per_s, k.alpha_loss.rate_per_s(temp_k, 0.0)), "{temp_k}");
        assert!(near(at.beta_loss_per_s, k.beta_loss.rate_per_s(temp_k, 0.0)), "{temp_k}");
        let gel = p.gelatinisation_per_s(temp_k, 8.0, 0.0);
        let swelling = k.swelling_per_s;
        assert!(near(gel[0], k.large_granules.rate_per_s(temp_k, swelling)), "{temp_k}");
        assert!(near(gel[1], k.small_granules.rate_per_s(temp_k, swelling)), "{temp_k}");
        let plato = 0.05 * i as f64;
        let shelter = k.beta_loss.rate_per_s(338.15, plato) / k.beta_loss.per_s;
        assert!((p.at_plato(plato).beta / shelter - 1.0).abs() < 1e-6, "{plato}");
    }
}

/// Activity is positive at every temperature a vessel can have, and a cold mash stays raw.
#[test]
fn cold_starch_stays_raw_and_activity_stays_positive() {
    let p = Kinetics::default().prepare(5.4);
    for temp_c in 0..=110 {
        let at = p.at_temperature(f64::from(temp_c) + 273.15);
        assert!(at.alpha > 0.0 && at.beta > 0.0 && at.debranch > 0.0, "{temp_c} °C");
    }
    let mut mash = Mash::new(&Kinetics::laboratory(), 1.0, 3.0);
    mash.run(60, |_| 20.0);
    assert!(mash.y[SOLID + PASTE] < 0.05 * mash.begin.starch_kg);
}

/// Enzyme is only ever lost in a mash whose grist is wet through.
#[test]
fn conversion_rises_and_enzyme_falls_with_time() {
    let k = Kinetics { grit: 0.0, ..Kinetics::default() };
    let mut mash = Mash::new(&k, 1.0, 3.0);
    let (mut last, mut alpha) = (0.0, 1.0);
    for _ in 0..12 {
        mash.run(5, |t| 60.0 + t / 300.0);
        let now = conversion(&mash.liquid(), mash.begin.potential_kg);
        assert!(now >= last && mash.liquid()[ALPHA] <= alpha);
        (last, alpha) = (now, mash.liquid()[ALPHA]);
    }
}

/// Vectors integrated by SciPy's LSODA from an independent writing of the same equations:
/// conversion at 20 and 60 min, paste at 60 min, 3 kg/kg, pH 5.5.
#[test]
fn a_laboratory_and_a_home_mash_follow_an_independent_integration() {
    let cases = [
        // k, °C, conversion 20, conversion 60, paste 60
        (Kinetics::default(), 60.0, 0.603094, 0.804799, 0.00289741),
        (Kinetics::default(), 66.0, 0.680729, 0.884601, 0.00453434),
        (Kinetics::default(), 72.0, 0.691065, 0.884073, 0.0215103),
        (Kinetics::laboratory(), 72.0, 0.973774, 0.992354, 0.000451584),
    ];
    for (k, temp_c, at_20, at_60, paste) in cases {
        let mut mash = Mash::new(&k, 1.0, 3.0);
        mash.run(20, |_| temp_c);
        let x = conversion(&mash.liquid(), mash.begin.potential_kg);
        assert!((x / at_20 - 1.0).abs() < 1e-3, "{temp_c} °C: {x}");
        mash.run(40, |_| temp_c);
        let x = conversion(&mash.liquid(), mash.begin.potential_kg);
        assert!((x / at_60 - 1.0).abs() < 1e-3, "{temp_c} °C: {x}");
        let p = paste_share(&mash.liquid(), mash.begin.starch_kg);
        assert!((p / paste - 1.0).abs() < 1e-3, "{temp_c} °C: {p}");
    }
}
