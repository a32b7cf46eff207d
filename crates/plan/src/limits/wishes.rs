//! The wishes: volume, gravity, bitterness, colour, fermentability, and each rest where it is
//! wanted.

use super::{Day, Held, Verdict};
use crate::output::Aim;
use crate::say::Say;
use quantity::{Bitterness, Colour, Extract, write};

/// A wish this near to the edge of its gate has little to spare, share of the tolerance.
const EDGE: f64 = 0.8;
/// A rest this far from where it is wanted is missed, K (our choice), and is not quite met.
const REST_MISSED_K: f64 = 1.0;
const REST_NEAR_K: f64 = 0.4;
/// A rest that falls by more than this is worth a word, K (our choice).
const REST_FALLS_K: f64 = 2.0;

impl Day<'_> {
    pub(super) fn wishes(&mut self) {
        self.rests();
        let targets = crate::assemble::targets(self.brew, self.solved);
        let litres = |say: Say, v: f64| say.volume(1e-3 * v);
        self.wish("volume", "L", "in the fermenter", targets.volume_l, litres);
        let plato = |say: Say, v: f64| write(Extract::from_plato(v), say.0);
        self.wish("gravity", "°P", "of the wort", targets.extract_plato, plato);
        let ibu = |say: Say, v: f64| write(Bitterness::from_ibu(v), say.0);
        self.wish("bitterness", "IBU", "of the beer", targets.bitterness_ibu, ibu);
        let ebc = |say: Say, v: f64| write(Colour::from_ebc(v), say.0);
        self.wish("colour", "EBC", "of the beer", targets.colour_ebc, ebc);
        let percent = |_: Say, v: f64| format!("{v:.1} %");
        self.wish("fermentability", "%", "of the wort", targets.fermentability_percent, percent);
    }

    fn wish(
        &mut self,
        id: &str,
        unit: &str,
        of: &str,
        aim: Option<Aim>,
        number: impl Fn(Say, f64) -> String,
    ) {
        let Some(aim) = aim else { return };
        let off = aim.expected - aim.wanted;
        let side = if off < 0.0 { -aim.tolerance } else { aim.tolerance };
        // what is met to a thousandth is met
        let good = aim.tolerance.max(1e-3 * aim.wanted.abs());
        let held = Held {
            id,
            vessel: "brew",
            value: aim.expected,
            bound: aim.wanted + side,
            unit,
            verdict: Verdict::at_most(off.abs(), good, EDGE * good),
        };
        self.hold(&held, |say| {
            format!(
                "{id} {of} {}, wanted {}, good between {} and {}",
                number(say, aim.expected),
                number(say, aim.wanted),
                number(say, aim.wanted - aim.tolerance),
                number(say, aim.wanted + aim.tolerance)
            )
        });
    }

    fn rests(&mut self) {
        let pot = self.place.parts.mash;
        let wanted: Vec<f64> = self.solved.choice.rest_c.clone();
        for (i, wanted_c) in wanted.into_iter().enumerate() {
            let read = self.solved.built.marks.rests[i].read;
            let reached_c = self.solved.trace.after(read, pot).temp_c;
            let off_k = (reached_c - wanted_c).abs();
            let key = self.vessel(pot).key.clone();
            let id = format!("rest_{}", i + 1);
            let side = if reached_c < wanted_c { -REST_MISSED_K } else { REST_MISSED_K };
            let held = Held {
                id: &id,
                vessel: &key,
                value: reached_c,
                bound: wanted_c + side,
                unit: "°C",
                verdict: Verdict::at_most(off_k, REST_MISSED_K, REST_NEAR_K),
            };
            self.hold(&held, |say| {
                format!("rest {} is at {}, wanted {}", i + 1, say.temp(reached_c), {
                    say.temp(wanted_c)
                })
            });
            let end_c = self.solved.trace.after(self.solved.built.marks.rests[i].rest, pot).temp_c;
            let fall_k = reached_c - end_c;
            let falls = Held {
                id: &format!("{id}_falls"),
                vessel: &key,
                value: fall_k,
                bound: REST_FALLS_K,
                unit: "K",
                verdict: Verdict::advice(fall_k > REST_FALLS_K),
            };
            self.hold(&falls, |say| {
                let (n, fall) = (i + 1, say.rise(fall_k.max(0.0)));
                let end = say.temp(end_c);
                if fall_k > REST_FALLS_K {
                    format!("rest {n} falls by {fall}, to {end}: the plan counts with it, leave it")
                } else {
                    format!("rest {n} falls by {fall}, to {end}")
                }
            });
        }
    }
}
