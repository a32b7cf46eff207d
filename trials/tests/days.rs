//! Every demo brew on every demo brewhouse: balances close and nothing goes negative. It
//! deliberately compares no digit with an earlier run.

#![allow(clippy::unwrap_used, reason = "a test may stop at the first surprise")]
use std::path::{Path, PathBuf};

fn demo() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../demo")
}

const BREWHOUSES: [&str; 5] =
    ["orchard-shed", "three-step", "tiled-kitchen", "club-barn", "window-bench"];
const BREWS: [&str; 5] =
    ["windfall-amber", "cellar-lamp", "morning-slate", "sill-pale", "threshing-gold"];

fn text(name: &str) -> String {
    std::fs::read_to_string(demo().join(format!("{name}.toml"))).unwrap()
}

/// Extract, water and heat close to 1e-6 on every pair, fitting or not; volumes stay above zero.
#[test]
fn every_demo_pair_closes() {
    let mut closed = 0;
    for pots in BREWHOUSES {
        let brewhouse = brewhouse::read(pots, &text(pots)).unwrap();
        for wanted in BREWS {
            let brew = brew::read(wanted, &text(wanted)).unwrap();
            // a pair for which no day can be laid out has no balance
            let Ok(plan) = plan::solve(&brewhouse, &brew) else { continue };
            let ledger = &plan.ledger;
            for (name, b) in [
                ("water", &ledger.water_kg),
                ("extract", &ledger.extract_kg),
                ("energy", &ledger.energy_j),
            ] {
                let off = b.closure_relative;
                assert!(off.abs() < 1e-6, "{pots}, {wanted}: {name} off by {off:e}");
            }
            for curve in &plan.curves {
                for point in &curve.points {
                    assert!(point.volume_l > -1e-3, "{pots}, {wanted}: {}", curve.vessel);
                }
            }
            closed += 1;
        }
    }
    assert!(closed >= 20, "only {closed} of 25 pairs gave a day");
}

/// The pairs that belong together fit, and what is free meets its wish.
#[test]
fn pairs_that_belong_together_fit() {
    for (pots, wanted) in [
        ("orchard-shed", "windfall-amber"),
        ("orchard-shed", "cellar-lamp"),
        ("orchard-shed", "morning-slate"),
        ("three-step", "windfall-amber"),
        ("tiled-kitchen", "morning-slate"),
        ("window-bench", "sill-pale"),
        ("club-barn", "threshing-gold"),
    ] {
        let brewhouse = brewhouse::read(pots, &text(pots)).unwrap();
        let brew = brew::read(wanted, &text(wanted)).unwrap();
        let plan = plan::solve(&brewhouse, &brew).unwrap();
        let broken: Vec<_> = plan.limits.iter().filter(|l| !l.kept).map(|l| &l.words).collect();
        assert!(plan.fits, "{pots}, {wanted}: {broken:?}");
        for aim in [plan.targets.volume_l, plan.targets.extract_plato].into_iter().flatten() {
            let off = aim.expected / aim.wanted - 1.0;
            assert!(off.abs() < 1e-3, "{pots}, {wanted}: {aim:?}");
        }
    }
}
