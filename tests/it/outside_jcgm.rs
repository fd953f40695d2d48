//! The draws and the 95 % interval against the worked examples of JCGM 101:2008, "Propagation of
//! distributions using a Monte Carlo method", section 9.2: the additive model Y = X1 + X2 + X3 + X4.
//!
//! Every figure of the standard here is from memory (its tables were not at hand); beside each
//! stands the arithmetic that it can be checked with.

use groundline::quantity::{Estimate, GaussianDraws, Metres, Percentile95, Unit, seeded};
use nalgebra::{DMatrix, DVector};
use rand_distr::{Distribution, Uniform};

/// The number of trials of the standard's own examples.
const TRIALS: usize = 1_000_000;
/// The standard prints two decimals (±0.005). An end of the interval from a million trials has a
/// standard error of √(0.025 · 0.975 / M) / density = 0.0027 sd, 0.005 for the sd of 2 here: three
/// of those.
const NEAR: f64 = 0.005 + 3.0 * 0.005;

fn check(draws: Vec<f64>, sd: f64, end: f64, near: (f64, f64)) {
    let mut sorted = draws.clone();
    let interval = Percentile95::of(&mut sorted).unwrap();
    let y: Estimate<Metres> = Estimate::from_draws(0.0, draws).unwrap();
    println!(
        "sd {:.4} (expected {sd}), 95 % {:.4} to {:.4} (expected ±{end})",
        y.sd.get(),
        interval.low,
        interval.high
    );
    assert!((y.sd.get() - sd).abs() < near.0, "sd {}", y.sd.get());
    assert!((interval.low + end).abs() < near.1, "{interval:?}");
    assert!((interval.high - end).abs() < near.1, "{interval:?}");
    assert_eq!((y.low95.get(), y.high95.get()), (interval.low, interval.high));
}

/// 9.2.2, four inputs N(0, 1): u(y) = 2.00, 95 % interval ±3.92 (from memory; 1.96 · √4).
#[test]
fn four_normal_inputs() {
    let inputs = GaussianDraws::new(DVector::zeros(4), &DMatrix::identity(4, 4)).unwrap();
    let trials = inputs.draw(TRIALS, &mut seeded(922));
    check(trials.row_sum().iter().copied().collect(), 2.0, 3.92, (0.01, NEAR));
}

/// Trials of a sum of rectangular inputs of these standard deviations. The library draws normal
/// distributions only, the one shape its posterior has: the rectangles come from `rand_distr` and
/// the library's generator, and the interval is the library's.
fn rectangular(sds: [f64; 4], seed: u64) -> Vec<f64> {
    let mut random = seeded(seed);
    // A rectangle of half-width a has the variance a²/3.
    let inputs = sds.map(|sd| Uniform::new(-sd * 3f64.sqrt(), sd * 3f64.sqrt()).unwrap());
    (0..TRIALS).map(|_| inputs.iter().map(|input| input.sample(&mut random)).sum()).collect()
}

/// 9.2.3, four rectangular inputs of the same sd 1: u(y) = 2.00, probabilistically symmetric 95 %
/// interval ±3.88 (from memory; exactly 2√3 (2 − (3/5)^¼) = 3.879 by the density of a sum of four
/// rectangles), where a normal distribution of the same sd has ±3.92.
#[test]
fn four_rectangular_inputs() {
    let exact = 2.0 * 3f64.sqrt() * (2.0 - 0.6f64.powf(0.25));
    assert!((exact - 3.88).abs() < 0.005, "{exact}");
    check(rectangular([1.0; 4], 923), 2.0, 3.88, (0.01, NEAR));
}

/// 9.2.4, rectangular inputs of different widths, sds 1, 1, 1 and 10: u(y) = 10.1 (√103), interval
/// ±17.0 (from memory), where a normal distribution of that sd has ±19.9. One decimal is printed.
#[test]
fn one_rectangular_input_that_dominates() {
    check(rectangular([1.0, 1.0, 1.0, 10.0], 924), 10.1, 17.0, (0.05 + 0.03, 0.05 + 0.03));
}

/// 7.7.2: of M sorted trials the interval holds q = 0.95 M (rounded) and starts at the trial
/// number r = (M − q)/2, or (M − q + 1)/2 where that is no whole number (from memory). On the
/// trials 1, 2, … M the ends are r and r + q themselves.
#[test]
fn the_ends_are_the_trials_that_the_standard_names() {
    for (trials, low, high) in [(1_000_000, 25_000.0, 975_000.0), (2_001, 50.0, 1951.0)] {
        let mut ramp: Vec<f64> = (1..=trials).rev().map(f64::from).collect();
        let interval = Percentile95::of(&mut ramp).unwrap();
        assert_eq!((interval.low, interval.high), (low, high), "{trials} trials");
    }
}
