//! The integrator against closed forms: order, events, balances, work.

use numerics::dopri::{Dense, Options, StepError, Stepper, Stop, System, Work};
use numerics::math::{exp, ln};

/// A system from two closures.
struct With<R, E> {
    rates: R,
    count: usize,
    events: E,
}

impl<R, E> System for With<R, E>
where
    R: FnMut(f64, &[f64], &mut [f64]),
    E: FnMut(f64, &[f64], &mut [f64]),
{
    fn rates(&mut self, t: f64, y: &[f64], dy: &mut [f64]) {
        (self.rates)(t, y, dy);
    }
    fn event_count(&self) -> usize {
        self.count
    }
    fn events(&mut self, t: f64, y: &[f64], g: &mut [f64]) {
        (self.events)(t, y, g);
    }
}

/// A system without events.
fn smooth(rates: impl FnMut(f64, &[f64], &mut [f64])) -> impl System {
    With { rates, count: 0, events: |_: f64, _: &[f64], _: &mut [f64]| {} }
}

/// Runs to the end or the first event; gives where and why it stopped.
fn run(
    system: &mut impl System,
    y: &mut [f64],
    t_end: f64,
    options: &Options,
) -> (f64, Result<Stop, StepError>, Stepper) {
    let mut stepper = Stepper::new(y.len());
    let mut t = 0.0;
    let stop = stepper.integrate(system, &mut t, y, t_end, options, |_| {});
    (t, stop, stepper)
}

/// Steps of one fixed length: tolerances so wide that no step is refused.
fn fixed(scales: &[f64], h: f64) -> Options<'_> {
    let mut options = Options::new(scales);
    (options.relative, options.first_step_s, options.max_step_s) = (1e9, h, h);
    options
}

/// A pendulum's small swing: `y = (cos t, −sin t)`.
fn swing(_t: f64, y: &[f64], dy: &mut [f64]) {
    (dy[0], dy[1]) = (y[1], -y[0]);
}

/// A rate that depends on time and, curved, on state: `y = exp(sin t)`.
fn wave(t: f64, y: &[f64], dy: &mut [f64]) {
    dy[0] = y[0] * t.cos();
}

#[test]
fn halving_the_step_makes_the_error_fall_by_two_to_the_fifth() {
    let error = |h: f64| {
        let mut y = [1.0];
        run(&mut smooth(wave), &mut y, 3.0, &fixed(&[1.0], h)).1.unwrap();
        (y[0] - 3.0_f64.sin().exp()).abs()
    };
    for h in [0.25, 0.125, 0.0625] {
        let order = (error(h) / error(h / 2.0)).log2();
        assert!((4.6..5.8).contains(&order), "order {order} at a step of {h}");
    }
}

#[test]
fn the_curve_through_a_step_is_of_order_four() {
    let worst = |h: f64| {
        let (mut y, mut t, mut worst) = ([1.0], 0.0, 0.0_f64);
        let mut look = |dense: &Dense| {
            for i in 0..=10 {
                let t = dense.t0() + (dense.t1() - dense.t0()) * f64::from(i) / 10.0;
                worst = worst.max((dense.state(0, t) - t.sin().exp()).abs());
            }
        };
        Stepper::new(1)
            .integrate(&mut smooth(wave), &mut t, &mut y, 3.0, &fixed(&[1.0], h), &mut look)
            .unwrap();
        worst
    };
    for h in [0.25, 0.125] {
        // Inside one step the error falls by 2⁵, as the polynomial of degree 4 should.
        let order = (worst(h) / worst(h / 2.0)).log2();
        assert!((4.4..5.8).contains(&order), "order {order} at a step of {h}");
    }
}

#[test]
fn the_curve_meets_the_states_at_both_ends_and_leaves_no_gap() {
    let (mut y, mut t) = ([1.0, 0.0], 0.0);
    let (mut last_t, mut last) = (0.0, [1.0, 0.0]);
    let mut all = [0.0; 2];
    let options = Options::new(&[1.0, 1.0]);
    Stepper::new(2)
        .integrate(&mut smooth(swing), &mut t, &mut y, 10.0, &options, |dense| {
            assert_eq!(dense.t0(), last_t);
            dense.at(dense.t0(), &mut all);
            for i in 0..2 {
                assert!((all[i] - last[i]).abs() < 1e-15);
                assert_eq!(all[i], dense.state(i, dense.t0()));
            }
            last_t = dense.t1();
            dense.at(dense.t1(), &mut last);
        })
        .unwrap();
    assert_eq!((last_t, t), (10.0, 10.0));
    assert!((last[0] - y[0]).abs() < 1e-15 && (last[1] - y[1]).abs() < 1e-15);
}

#[test]
fn a_tighter_tolerance_gives_a_smaller_error() {
    let mut last = f64::INFINITY;
    for relative in [1e-3, 1e-5, 1e-7, 1e-9, 1e-11] {
        let mut options = Options::new(&[1.0, 1.0]);
        options.relative = relative;
        let mut y = [1.0, 0.0];
        let (t, stop, _) = run(&mut smooth(swing), &mut y, 20.0, &options);
        assert_eq!((t, stop), (20.0, Ok(Stop::EndTime)));
        let error = (y[0] - 20.0_f64.cos()).abs().max((y[1] + 20.0_f64.sin()).abs());
        assert!(error < last && error < 100.0 * relative, "{relative:e}: {error:e}");
        last = error;
    }
}

#[test]
fn a_well_known_orbit_comes_back_to_its_start() {
    // The restricted three-body orbit of Hairer, Nørsett, Wanner, Solving ODEs I, II.0: start
    // and period to 16 digits, as printed there.
    let mu = 0.012_277_471;
    let rates = move |_t: f64, y: &[f64], dy: &mut [f64]| {
        let d1 = ((y[0] + mu).powi(2) + y[1] * y[1]).powf(1.5);
        let d2 = ((y[0] - 1.0 + mu).powi(2) + y[1] * y[1]).powf(1.5);
        (dy[0], dy[1]) = (y[2], y[3]);
        dy[2] = y[0] + 2.0 * y[3] - (1.0 - mu) * (y[0] + mu) / d1 - mu * (y[0] - 1.0 + mu) / d2;
        dy[3] = y[1] - 2.0 * y[2] - (1.0 - mu) * y[1] / d1 - mu * y[1] / d2;
    };
    let start = [0.994, 0.0, 0.0, -2.001_585_106_379_082_5];
    let mut options = Options::new(&[1.0; 4]);
    (options.relative, options.first_step_s) = (1e-12, 1e-3);
    let mut y = start;
    run(&mut smooth(rates), &mut y, 17.065_216_560_157_963, &options).1.unwrap();
    assert!((y[0] - start[0]).abs() < 1e-5 && y[1].abs() < 1e-5, "{y:?}");
}

#[test]
fn what_the_rates_conserve_is_kept_to_rounding_through_events() {
    // Three tubs in a row, one emptying into the next at very different rates.
    let rates = |_t: f64, y: &[f64], dy: &mut [f64]| {
        let (a, b) = (y[0] * 0.02, y[1] * y[1] * 0.003);
        (dy[0], dy[1], dy[2]) = (-a, a - b, b);
    };
    let events = |_t: f64, y: &[f64], g: &mut [f64]| g[0] = y[2] - 3.0;
    for relative in [1e-2, 1e-5, 1e-8] {
        let mut options = Options::new(&[10.0; 3]);
        options.relative = relative;
        let mut y = [7.0, 3.0, 1.0];
        let (t, stop, _) = run(&mut With { rates, count: 1, events }, &mut y, 500.0, &options);
        assert_eq!(stop, Ok(Stop::Event { index: 0 }));
        assert!(t > 0.0 && t < 500.0);
        let balance = (y.iter().sum::<f64>() - 11.0).abs() / 11.0;
        assert!(balance < 1e-14, "{relative:e}: {balance:e}");
    }
}

/// A cooling pot: `y = 20 + 80·exp(−t/1000)`.
fn cooling(_t: f64, y: &[f64], dy: &mut [f64]) {
    dy[0] = -(y[0] - 20.0) / 1000.0;
}

/// When the pot has come down to `at`.
fn down_to(at: f64) -> f64 {
    -1000.0 * ((at - 20.0) / 80.0).ln()
}

/// Tight enough that only the search for the event can be at fault.
fn exact(scales: &[f64]) -> Options<'_> {
    let mut options = Options::new(scales);
    options.relative = 1e-10;
    options
}

#[test]
fn event_times_are_right_to_a_millisecond() {
    for at in [99.9, 80.0, 40.0, 21.0] {
        let events = |_t: f64, y: &[f64], g: &mut [f64]| g[0] = at - y[0];
        let mut y = [100.0];
        let mut system = With { rates: cooling, count: 1, events };
        let (t, stop, _) = run(&mut system, &mut y, 9000.0, &exact(&[100.0]));
        assert_eq!(stop, Ok(Stop::Event { index: 0 }));
        assert!((t - down_to(at)).abs() < 1e-3, "{at}: {t} for {}", down_to(at));
        assert!(y[0] <= at, "the event's function is zero or above where it stops");
    }
}

#[test]
fn of_several_crossings_in_one_step_the_earliest_counts() {
    let events = |_t: f64, y: &[f64], g: &mut [f64]| {
        (g[0], g[1], g[2]) = (60.0 - y[0], 60.5 - y[0], 60.2 - y[0]);
    };
    let mut y = [100.0];
    let mut system = With { rates: cooling, count: 3, events };
    let mut options = exact(&[100.0]);
    options.relative = 1e-6; // steps of a minute and more: all three fall into one
    let (t, stop, stepper) = run(&mut system, &mut y, 9000.0, &options);
    assert_eq!(stop, Ok(Stop::Event { index: 1 }));
    assert!((t - down_to(60.5)).abs() < 0.05, "{t}");
    assert_eq!(stepper.fired(), [1]);
    // Going on, the others fire in turn; the first, now above zero, does not fire again.
    let mut stepper = stepper;
    let mut t = t;
    for index in [2, 0] {
        let stop = stepper.integrate(&mut system, &mut t, &mut y, 9000.0, &options, |_| {});
        assert_eq!(stop, Ok(Stop::Event { index }));
    }
    let stop = stepper.integrate(&mut system, &mut t, &mut y, 9000.0, &options, |_| {});
    assert_eq!(stop, Ok(Stop::EndTime));
}

#[test]
fn events_at_one_time_are_all_named_or_follow_within_a_millisecond() {
    let events = |t: f64, y: &[f64], g: &mut [f64]| {
        (g[0], g[1], g[2]) = (t - 5000.0, 60.0 - y[0], 2.0 * (60.0 - y[0]));
    };
    let mut y = [100.0];
    let mut system = With { rates: cooling, count: 3, events };
    let (_, stop, stepper) = run(&mut system, &mut y, 9000.0, &exact(&[100.0]));
    assert_eq!(stop, Ok(Stop::Event { index: 1 }));
    assert_eq!(stepper.fired(), [1, 2]);

    // The same crossing written in a curved way: the searches end a little apart.
    let events = |_t: f64, y: &[f64], g: &mut [f64]| {
        (g[0], g[1]) = (60.0 - y[0], 1.0 / y[0] - 1.0 / 60.0);
    };
    let mut y = [100.0];
    let mut system = With { rates: cooling, count: 2, events };
    let (mut t, stop, mut stepper) = run(&mut system, &mut y, 9000.0, &exact(&[100.0]));
    assert!(matches!(stop, Ok(Stop::Event { .. })));
    let (first, mut fired) = (t, stepper.fired().to_vec());
    if fired.len() < 2 {
        let options = exact(&[100.0]);
        let stop = stepper.integrate(&mut system, &mut t, &mut y, 9000.0, &options, |_| {});
        assert!(matches!(stop, Ok(Stop::Event { .. })));
        fired.extend(stepper.fired());
    }
    fired.sort_unstable();
    assert_eq!(fired, [0, 1]);
    assert!(t - first < 1e-3, "{first} {t}");
}

#[test]
fn a_threshold_crossed_up_and_down_in_one_step_is_seen_by_a_probe() {
    // y = sin t, above 0.9 from 1.1198 to 2.0218; one step goes from 0 to 3.
    let rates = |t: f64, _y: &[f64], dy: &mut [f64]| dy[0] = t.cos();
    let events = |_t: f64, y: &[f64], g: &mut [f64]| g[0] = y[0] - 0.9;
    let mut options = fixed(&[1.0], 3.0);
    let mut y = [0.0];
    let (_, stop, _) = run(&mut With { rates, count: 1, events }, &mut y, 3.0, &options);
    assert_eq!(stop, Ok(Stop::EndTime), "unseen at the ends alone");
    options.event_probes = 1;
    let mut y = [0.0];
    let (t, stop, _) = run(&mut With { rates, count: 1, events }, &mut y, 3.0, &options);
    assert_eq!(stop, Ok(Stop::Event { index: 0 }));
    assert!((t - 0.9_f64.asin()).abs() < 0.05, "{t}");
    // With steps short enough neither is missed, and the fall fires nothing.
    options.event_probes = 0;
    options.max_step_s = 0.1;
    let mut y = [0.0];
    let mut system = With { rates, count: 1, events };
    let (mut t, stop, mut stepper) = run(&mut system, &mut y, 3.0, &options);
    assert_eq!(stop, Ok(Stop::Event { index: 0 }));
    assert!((t - 0.9_f64.asin()).abs() < 1e-3, "{t}");
    let stop = stepper.integrate(&mut system, &mut t, &mut y, 3.0, &options, |_| {});
    assert_eq!(stop, Ok(Stop::EndTime));
}

#[test]
fn an_event_already_past_fires_only_after_it_was_below_zero() {
    let rates = |t: f64, _y: &[f64], dy: &mut [f64]| dy[0] = -t.sin(); // y = cos t
    let events = |_t: f64, y: &[f64], g: &mut [f64]| g[0] = y[0];
    let mut options = exact(&[1.0]);
    (options.first_step_s, options.max_step_s) = (0.1, 0.5);
    let mut y = [1.0];
    let (t, stop, _) = run(&mut With { rates, count: 1, events }, &mut y, 20.0, &options);
    assert_eq!(stop, Ok(Stop::Event { index: 0 }));
    assert!((t - 1.5 * std::f64::consts::PI).abs() < 1e-3, "{t}");
}

#[test]
fn an_event_at_the_very_end_of_a_step_counts() {
    // A part in 1e12 before the end: far inside the last step's last millisecond, and far more than
    // the rounding of a step, so that no order of summing decides.
    let at = 8.0 * (1.0 - 1e-12);
    let rates = |_t: f64, _y: &[f64], dy: &mut [f64]| dy[0] = 1.0;
    let events = |_t: f64, y: &[f64], g: &mut [f64]| g[0] = y[0] - at;
    let mut y = [0.0];
    let mut system = With { rates, count: 1, events };
    let (t, stop, _) = run(&mut system, &mut y, 8.0, &fixed(&[1.0], 2.0));
    assert_eq!(stop, Ok(Stop::Event { index: 0 }));
    assert!((t - 8.0).abs() <= 1e-3 && (y[0] - t).abs() < 1e-12, "{t} {}", y[0]);
    // and just behind the end it does not
    let events = |_t: f64, y: &[f64], g: &mut [f64]| g[0] = y[0] - 8.0 * (1.0 + 1e-12);
    let mut y = [0.0];
    let mut system = With { rates, count: 1, events };
    let (t, stop, _) = run(&mut system, &mut y, 8.0, &fixed(&[1.0], 2.0));
    assert_eq!((t, stop), (8.0, Ok(Stop::EndTime)));
}

#[test]
fn the_curve_ends_at_the_event() {
    let events = |_t: f64, y: &[f64], g: &mut [f64]| g[0] = 50.0 - y[0];
    let (mut y, mut t, mut last) = ([100.0], 0.0, (0.0, 0.0));
    let mut system = With { rates: cooling, count: 1, events };
    Stepper::new(1)
        .integrate(&mut system, &mut t, &mut y, 9000.0, &exact(&[100.0]), |dense| {
            last = (dense.t1(), dense.state(0, dense.t1()));
        })
        .unwrap();
    assert_eq!(last, (t, y[0]));
}

#[test]
fn a_rate_that_is_not_finite_is_an_error_with_its_time_and_state() {
    let bad_from = |at: f64, state: usize| {
        move |t: f64, _y: &[f64], dy: &mut [f64]| {
            dy.fill(0.1);
            if t > at {
                dy[state] = f64::NAN;
            }
        }
    };
    let options = Options::new(&[1.0, 1.0]);
    let mut y = [0.0; 2];
    let (_, stop, _) = run(&mut smooth(bad_from(-1.0, 1)), &mut y, 100.0, &options);
    assert_eq!(stop, Err(StepError::NotFinite { t_s: 0.0, state: Some(1) }));
    let mut y = [0.0; 2];
    let (t, stop, stepper) = run(&mut smooth(bad_from(40.0, 0)), &mut y, 100.0, &options);
    let Err(StepError::NotFinite { t_s, state: Some(0) }) = stop else { panic!("{stop:?}") };
    assert!((t_s - 40.0).abs() < 1e-6 && t == t_s, "{t_s}");
    assert!((y[0] - 4.0).abs() < 1e-6, "the last good state is kept: {y:?}");
    assert!(stepper.work().rejected > 0);
}

#[test]
fn a_step_too_far_into_the_impossible_is_tried_again_shorter() {
    // y = (1 − t/2)², rate −√y: beyond y = 0 the root of a negative number. The end lies before.
    let rates = |_t: f64, y: &[f64], dy: &mut [f64]| dy[0] = -y[0].sqrt();
    let mut y = [1.0];
    let mut options = exact(&[1.0]);
    options.first_step_s = 10.0;
    let (_, stop, stepper) = run(&mut smooth(rates), &mut y, 1.9, &options);
    assert_eq!(stop, Ok(Stop::EndTime));
    assert!((y[0] - 0.0025).abs() < 1e-8, "{y:?}");
    assert!(stepper.work().rejected > 0);
}

#[test]
fn a_state_that_runs_away_stops_with_an_error_near_the_pole() {
    let rates = |_t: f64, y: &[f64], dy: &mut [f64]| dy[0] = y[0] * y[0]; // y = 1/(1 − t)
    let mut y = [1.0];
    let mut options = Options::new(&[1.0]);
    options.first_step_s = 0.01;
    let (t, stop, _) = run(&mut smooth(rates), &mut y, 2.0, &options);
    let at = match stop {
        Err(StepError::StepTooShort { t_s } | StepError::NotFinite { t_s, .. }) => t_s,
        other => panic!("{other:?}"),
    };
    assert!((at - 1.0).abs() < 1e-3 && at == t, "{at}");
}

#[test]
fn a_fast_state_betrays_itself_by_the_step_count_and_can_be_cut_off() {
    let rates = |_t: f64, y: &[f64], dy: &mut [f64]| dy[0] = -1e6 * (y[0] - 1.0);
    let mut options = Options::new(&[1.0]);
    options.steps_max = 500;
    let mut y = [0.0];
    let (t, stop, stepper) = run(&mut smooth(rates), &mut y, 3600.0, &options);
    assert_eq!(stop, Err(StepError::TooManySteps { t_s: t }));
    let Work { accepted, rejected, .. } = stepper.work();
    assert_eq!(accepted + rejected, 500);
}

#[test]
fn work_is_counted_as_it_is_done() {
    let mut calls = 0;
    let mut system = smooth(|t, y, dy| {
        calls += 1;
        swing(t, y, dy);
    });
    let mut y = [1.0, 0.0];
    let (_, _, mut stepper) = run(&mut system, &mut y, 50.0, &Options::new(&[1.0, 1.0]));
    drop(system);
    let work = stepper.work();
    assert_eq!(work.rate_calls, calls);
    assert_eq!(work.rate_calls, 1 + 6 * (work.accepted + work.rejected), "the last rate is reused");
    assert!(work.rejected * 5 < work.accepted, "{work:?}");
    // Eight swings at 1e-5: a method of order 5 needs some ten steps a swing, not hundreds.
    assert!((40..160).contains(&work.accepted), "{work:?}");
    stepper.reset_work();
    assert_eq!(stepper.work(), Work::default());
}

#[test]
fn one_stepper_serves_systems_of_any_size_with_the_same_bits() {
    let mut stepper = Stepper::new(1);
    let mut decay = |n: usize| {
        let mut y = vec![1.0; n];
        let scales = vec![1.0; n];
        let mut t = 0.0;
        let rates = |_t: f64, y: &[f64], dy: &mut [f64]| {
            for (dy, y) in dy.iter_mut().zip(y) {
                *dy = -0.01 * y;
            }
        };
        stepper
            .integrate(&mut smooth(rates), &mut t, &mut y, 100.0, &Options::new(&scales), |_| {})
            .unwrap();
        y
    };
    let first = decay(3);
    for n in [70, 1, 8, 3] {
        for value in decay(n) {
            assert!((value - exp(-1.0)).abs() < 1e-5);
        }
    }
    assert_eq!(decay(3), first);
    assert!(decay(0).is_empty(), "no states, nothing to do, no error");
}

#[test]
fn a_scale_without_end_leaves_a_state_out_of_the_step_control() {
    let rates = |t: f64, _y: &[f64], dy: &mut [f64]| (dy[0], dy[1]) = (0.01, (3.0 * t).cos());
    let steps = |scale: f64| {
        let mut y = [0.0; 2];
        run(&mut smooth(rates), &mut y, 100.0, &Options::new(&[1.0, scale])).2.work().accepted
    };
    assert!(3 * steps(f64::INFINITY) < steps(1.0), "{} {}", steps(f64::INFINITY), steps(1.0));
}

#[test]
fn nothing_happens_when_the_end_is_not_ahead() {
    let mut y = [1.0, 0.0];
    let options = Options::new(&[1.0, 1.0]);
    for t_end in [0.0, -5.0] {
        let (t, stop, _) = run(&mut smooth(swing), &mut y, t_end, &options);
        assert_eq!((t, stop, y), (0.0, Ok(Stop::EndTime), [1.0, 0.0]));
    }
}

#[test]
fn unusable_options_are_refused_by_name() {
    let refused = |change: fn(&mut Options)| {
        let mut options = Options::new(&[1.0]);
        change(&mut options);
        match run(&mut smooth(cooling), &mut [1.0], 1.0, &options).1 {
            Err(StepError::Option { option, .. }) => option,
            other => panic!("{other:?}"),
        }
    };
    assert_eq!(refused(|o| o.relative = 0.0), "relative");
    assert_eq!(refused(|o| o.first_step_s = f64::NAN), "first_step_s");
    assert_eq!(refused(|o| o.max_step_s = -1.0), "max_step_s");
    assert_eq!(refused(|o| o.event_tolerance_s = 0.0), "event_tolerance_s");
    assert_eq!(refused(|o| o.scales = &[-1.0]), "scales");
    let options = Options::new(&[1.0]);
    let stop = run(&mut smooth(swing), &mut [1.0, 0.0], 1.0, &options).1;
    assert_eq!(stop, Err(StepError::Length { states: 2, scales: 1 }));
    let stop = run(&mut smooth(cooling), &mut [1.0], f64::NAN, &options).1;
    assert!(matches!(stop, Err(StepError::Option { option: "t_end", .. })));
}

#[test]
fn own_logarithm_undoes_the_integrated_growth() {
    let rates = |_t: f64, y: &[f64], dy: &mut [f64]| dy[0] = 0.03 * y[0];
    let mut y = [1.0];
    run(&mut smooth(rates), &mut y, 100.0, &exact(&[1.0])).1.unwrap();
    assert!((ln(y[0]) - 3.0).abs() < 1e-9, "{}", ln(y[0]));
}
