//! The wanted beer solved backwards: from volume, gravity, bitterness, colour and fermentability to
//! everything the brewer weighs, measures, lights and waits for on their own pots.
//!
//! Deliberately absent: priors and chances, a clock, and any physics of its own. Every number comes
//! from a simulated day.

pub mod error;
pub mod output;

mod choice;
mod liquor;
mod outcome;
mod procedure;
mod setting;
mod solve;

pub use error::PlanError;

/// Temporary look at a solved day.
pub fn look(brewhouse: &brewhouse::Brewhouse, brew: &brew::Brew) -> Result<String, PlanError> {
    use std::fmt::Write;
    let place = setting::Place::of(brewhouse)?;
    let ways = choice::Ways::of(&place, brew);
    let grist = setting::grist_of(brew, &setting::stated_shares(brew));
    let start = choice::Choice::start(&place, brew, &grist, ways);
    let t0 = std::time::Instant::now();
    let solved = solve::solve(&place, brew, start, &day::simulate::Options::default())?;
    let dt = t0.elapsed();
    let t1 = std::time::Instant::now();
    for _ in 0..20 {
        let _ =
            solve::run(&place, brew, solved.choice.clone(), &day::simulate::Options::default())?;
    }
    let dr = t1.elapsed() / 20;
    let t2 = std::time::Instant::now();
    for _ in 0..20 {
        let _ = day::simulate::simulate(
            &solved.setting,
            &solved.built.procedure,
            &day::simulate::Options::default(),
        )?;
    }
    let ds = t2.elapsed() / 20;
    let mut s = String::new();
    let _ = writeln!(
        s,
        "rounds {} miss {:.2e} in {:?}; run {:?} simulate {:?} work {:?}",
        solved.rounds, solved.miss, dt, dr, ds, solved.trace.work
    );
    let _ = writeln!(s, "{:#?}\nph {}", solved.outcome, solved.liquor.mash_ph);
    let c = &solved.choice;
    let _ = writeln!(
        s,
        "grist {:.3} shares {:?} strike {:.2} kg at {:.2}, sparge {:.2} at {:.1}, rests {:?} reach {:?}, runoff {:.3} L/min, preboil {:.2} L, hops {:?} tank {:.0} kettle {:.0}",
        c.grist_kg,
        c.shares,
        c.strike_kg,
        c.strike_c,
        c.sparge_kg,
        c.sparge_c,
        c.rest_c,
        c.reach,
        c.run_off_m3_s * 6e4,
        c.pre_boil_m3 * 1e3,
        c.hops_kg,
        c.tank_light_s / 60.,
        c.kettle_light_s / 60.
    );
    for (op, t) in solved.built.procedure.operations.iter().zip(&solved.trace.operations) {
        let _ = write!(s, "{:>7.1} {:>7.1} {:<22}", t.start_s / 60.0, t.end_s / 60.0, op.id);
        for p in &t.at_end.pots {
            let _ =
                write!(s, " | {:6.2} L {:6.2} C {:5.2} P", p.volume_m3 * 1e3, p.temp_c, p.plato);
        }
        let _ = writeln!(s, " under {:?} valve {:.2}", t.at_end.under_c, t.at_end.valve_plato);
    }
    let l = day::ledger::ledger(&solved.setting, &solved.trace);
    let _ = writeln!(
        s,
        "{:#?}\nclosure {:e} {:e} {:e}\ncaveats {:?} mash {:?} iodine {:?}",
        l,
        l.water.closure(),
        l.extract.closure(),
        l.energy.closure(),
        solved.trace.caveats,
        solved.trace.mash_end,
        solved.trace.iodine_normal_s
    );
    Ok(s)
}
