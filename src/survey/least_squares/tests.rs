//! The solver on problems small enough to be worked out by hand; certified ones are in
//! `tests/it/outside_nist.rs`.

use super::*;

/// One residual a function: value and slope at x; `None` where it has no value.
struct Curve(fn(f64) -> Option<(f64, f64)>);

impl Problem for Curve {
    fn rows(&self, x: &DVector<f64>) -> Option<Rows> {
        let (value, slope) = (self.0)(x[0])?;
        let mut rows = Rows::default();
        rows.push(value, [(0, slope)]);
        Some(rows)
    }
}

/// The line through points: unknowns are its height at 0 and its slope.
struct Line(Vec<(f64, f64)>);

impl Problem for Line {
    fn rows(&self, x: &DVector<f64>) -> Option<Rows> {
        let mut rows = Rows::default();
        for &(at, y) in &self.0 {
            rows.push(x[0] + x[1] * at - y, [(0, 1.0), (1, at)]);
        }
        Some(rows)
    }
}

fn one(x: f64) -> DVector<f64> {
    DVector::from_vec(vec![x])
}

#[test]
fn rows_keep_what_was_pushed() {
    let mut rows = Rows::default();
    assert!(rows.is_empty());
    rows.push(3.0, [(2, 0.5), (0, -1.0)]);
    rows.push(-4.0, []);
    rows.push(2.0, [(1, 7.0)]);
    assert!(!rows.is_empty());
    assert_eq!((rows.len(), rows.residual(1)), (3, -4.0));
    assert_eq!(rows.derivatives(0).collect::<Vec<_>>(), [(2, 0.5), (0, -1.0)]);
    assert_eq!(rows.derivatives(1).count(), 0);
    assert_eq!(rows.derivatives(2).collect::<Vec<_>>(), [(1, 7.0)]);
    // (9 + 16 + 4) / 2, and what robust losses add.
    assert_eq!(rows.cost(), 14.5);
    rows.add_robust_cost(1.5);
    rows.add_robust_cost(2.0);
    assert_eq!(rows.cost(), 18.0);
}

#[test]
fn entries_of_one_column_add_up() {
    let mut rows = Rows::default();
    rows.push(2.0, [(0, 1.0), (1, 3.0), (0, 0.5)]);
    let (normal, gradient) = rows.normal_equations(2);
    assert_eq!(normal, DMatrix::from_row_slice(2, 2, &[2.25, 4.5, 4.5, 9.0]));
    assert_eq!(gradient, DVector::from_vec(vec![3.0, 6.0]));
    assert_eq!(rows.dense(2), DMatrix::from_row_slice(2, 2, &[1.5, 3.0, 0.0, 0.0]));
}

#[test]
fn a_line_is_that_of_the_textbook() {
    // x 0 1 2 3, y 1 3 4 4: about the middle (1.5, 3) Sxx = 5 and Sxy = 5, so slope 1, height 1.5.
    let line = Line(vec![(0.0, 1.0), (1.0, 3.0), (2.0, 4.0), (3.0, 4.0)]);
    for stop in [Stop::EXACT, Stop::SURVEY] {
        let found = solve(&line, DVector::from_vec(vec![40.0, -7.0]), stop).unwrap();
        assert!(found.converged);
        assert!((found.x - DVector::from_vec(vec![1.5, 1.0])).norm() < 1e-6);
        // Variances 1/5 of the slope and 1/4 + 1.5²/5 of the height; covariance −1.5/5.
        let expected = DMatrix::from_row_slice(2, 2, &[0.7, -0.3, -0.3, 0.2]);
        assert!((covariance(&found.rows, 2).unwrap() - expected).norm() < 1e-12);
    }
}

#[test]
fn a_covariance_keeps_its_digits_where_two_unknowns_are_nearly_one() {
    // J = [1 1; 1 1+e] has the inverse [1+e −1; −1 1] / e; the covariance is J⁻¹ J⁻ᵀ.
    for (e, allowed) in [(0.5f64, 1e-12), (1e-3, 1e-8), (1e-5, 1e-9), (1e-7, 1e-7)] {
        let mut rows = Rows::default();
        rows.push(0.0, [(0, 1.0), (1, 1.0)]);
        rows.push(0.0, [(0, 1.0), (1, 1.0 + e)]);
        let found = covariance(&rows, 2).unwrap() * (e * e);
        let with = 1.0 + e;
        let expected =
            DMatrix::from_row_slice(2, 2, &[with * with + 1.0, -with - 1.0, -with - 1.0, 2.0]);
        assert!((&found - expected).norm() < allowed, "{e}: {found}");
    }
}

#[test]
fn an_unknown_that_nothing_holds_is_named() {
    let mut rows = Rows::default();
    rows.push(0.0, [(0, 1.0), (2, 1.0)]);
    rows.push(0.0, [(2, 3.0)]);
    assert_eq!(covariance(&rows, 3).unwrap_err(), SolveError::Undetermined { column: 1 });
    // Two that only ever move together.
    let mut rows = Rows::default();
    rows.push(0.0, [(0, 1.0), (1, 2.0)]);
    rows.push(0.0, [(0, 3.0), (1, 6.0)]);
    assert_eq!(covariance(&rows, 2).unwrap_err(), SolveError::Undetermined { column: 1 });
}

#[test]
fn a_start_without_a_value_is_refused() {
    let logarithm = Curve(|x| (x > 0.0).then(|| (x.ln(), 1.0 / x)));
    assert_eq!(solve(&logarithm, one(-1.0), Stop::SURVEY).unwrap_err(), SolveError::NoStart);
    let endless = Curve(|_| Some((f64::INFINITY, 1.0)));
    assert_eq!(solve(&endless, one(0.0), Stop::SURVEY).unwrap_err(), SolveError::NoStart);
}

#[test]
fn a_step_beyond_where_the_model_has_a_value_is_shortened() {
    // Newton's first step from 10 to the root of ln at 1 would end at 10 − 10 ln 10 = −13.
    let logarithm = Curve(|x| (x > 0.0).then(|| (x.ln(), 1.0 / x)));
    for stop in [Stop::EXACT, Stop { fall: 0.0, ..Stop::SURVEY }] {
        let found = solve(&logarithm, one(10.0), stop).unwrap();
        assert!((found.x[0] - 1.0).abs() < 1e-8, "{}", found.x);
    }
}

#[test]
fn who_starts_at_the_bottom_stays_there() {
    let line = Line(vec![(0.0, 1.0), (1.0, 3.0), (2.0, 4.0), (3.0, 4.0)]);
    let found = solve(&line, DVector::from_vec(vec![1.5, 1.0]), Stop::SURVEY).unwrap();
    // To see that it is the bottom takes a step.
    assert!(found.converged && (1..=2).contains(&found.iterations), "{}", found.iterations);
    assert!((found.x - DVector::from_vec(vec![1.5, 1.0])).norm() < 1e-12);
}

#[test]
fn the_limit_of_iterations_is_kept_and_told() {
    // The root of eˣ − 1, from far above: each step takes about 1 off.
    let curve = Curve(|x| Some((x.exp() - 1.0, x.exp())));
    let found = solve(&curve, one(20.0), Stop { iterations: 3, ..Stop::SURVEY }).unwrap();
    assert_eq!((found.iterations, found.converged), (3, false));
    assert!(found.x[0] > 10.0);
    let found = solve(&curve, one(20.0), Stop::SURVEY).unwrap();
    assert!(found.converged && found.x[0].abs() < 1e-2, "{}", found.x);
    assert!((4..40).contains(&found.iterations), "{}", found.iterations);
    // No step is lower than the bottom of a parabola that does not reach nil.
    let above = Curve(|x| Some((x * x + 1.0, 2.0 * x)));
    let found = solve(&above, one(0.0), Stop { step: 0.0, ..Stop::SURVEY }).unwrap();
    assert_eq!((found.x[0], found.iterations, found.converged), (0.0, 1, true));
}

#[test]
fn a_small_fall_ends_the_search_where_it_is_allowed_to() {
    // In a double root each Newton step halves the way: the cost x⁴/2 falls sixteenfold.
    let double_root = Curve(|x| Some((x * x, 2.0 * x)));
    let stop = |fall| Stop { fall, step: 0.0, cost: 0.0, ..Stop::SURVEY };
    let (early, late) = (
        solve(&double_root, one(8.0), stop(1e-2)).unwrap(),
        solve(&double_root, one(8.0), stop(1e-8)).unwrap(),
    );
    assert!(early.converged && late.converged);
    assert!(early.rows.cost() > late.rows.cost() && early.iterations < late.iterations);
    assert!(late.rows.cost() < 1e-8);
}

#[test]
fn steps_are_stretched_twice_as_far_as_long_as_the_cost_falls() {
    let stretch = |problem: &Curve, times: f64| {
        let at = one(times);
        let rows = problem.rows(&at).unwrap();
        let cost = rows.cost();
        stretched(problem, &one(0.0), &one(1.0), (at, rows, cost))
    };
    // The bottom is at 10: 2, 4 and 8 fall, 16 rises.
    let near = Curve(|x| Some((x - 10.0, 1.0)));
    let (x, rows, cost) = stretch(&near, 1.0);
    assert_eq!((x[0], rows.residual(0), cost), (8.0, -2.0, 2.0));
    // Never more than 64 times.
    let far = Curve(|x| Some((x - 1000.0, 1.0)));
    assert_eq!(stretch(&far, 1.0).0[0], 64.0);
    // Nor to where the model has no value.
    let walled = Curve(|x| (x < 5.0).then_some((x - 1000.0, 1.0)));
    assert_eq!(stretch(&walled, 1.0).0[0], 4.0);
}

#[test]
fn a_damped_step_solves_its_equations() {
    let normal = DMatrix::from_row_slice(2, 2, &[4.0, 1.0, 1.0, 9.0]);
    let scale = DVector::from_vec(vec![2.0, 3.0]);
    let gradient = DVector::from_vec(vec![1.0, -2.0]);
    for damping in [0.0, 0.5] {
        let step = Damped::new(&normal, &scale, damping).unwrap().step(&gradient);
        let damped = &normal + DMatrix::from_diagonal(&scale.map(|s| damping * s * s));
        assert!((damped * step + &gradient).norm() < 1e-12);
    }
    // An unknown that nothing moves is damped, too, and stays.
    let flat = DMatrix::from_row_slice(2, 2, &[4.0, 0.0, 0.0, 0.0]);
    let step = Damped::new(&flat, &DVector::from_vec(vec![2.0, 0.0]), 0.5).unwrap();
    let step = step.step(&DVector::from_vec(vec![1.0, 0.0]));
    assert!((step[0] + 1.0 / 6.0).abs() < 1e-12 && step[1] == 0.0);
    assert!(Damped::new(&flat, &DVector::from_vec(vec![2.0, 0.0]), 0.0).is_none());
}

#[test]
fn curvature_bends_a_step_by_half_the_acceleration() {
    // r = x² − 4 at 3: r = 5, slope 6, step −5/6, second derivative along it 2 · 25/36; the
    // acceleration is that over the slope, backwards (Transtrum & Sethna 2012).
    let parabola = Curve(|x| Some((x * x - 4.0, 2.0 * x)));
    let bend = |x: f64| {
        let rows = parabola.rows(&one(x)).unwrap();
        let (normal, gradient) = rows.normal_equations(1);
        let scale = normal.diagonal().map(f64::sqrt);
        let damped = Damped::new(&normal, &scale, 0.0).unwrap();
        let step = damped.step(&gradient);
        correction(&parabola, &one(x), &rows, &step, &damped, &scale)
    };
    assert!((bend(3.0).unwrap()[0] + 25.0 / 36.0 / 6.0).abs() < 1e-9);
    // At 0.5 the step is 3.75 and the acceleration −28: beyond what the derivatives tell.
    assert!(bend(0.5).is_none());
    // The step (4 − x²)/2x and the acceleration −step²/x: the limit is reached where the step
    // is half of x, at √2.
    assert!(bend(1.43).is_some());
    assert!(bend(1.40).is_none());
}

#[test]
fn a_gradient_is_flat_against_its_unknowns_scales_and_the_cost() {
    // 1e-8 · √(2 · 8) · scale: 4e-8 and 8e-8.
    let scale = DVector::from_vec(vec![1.0, 2.0]);
    let flat = |a: f64, b: f64| gradient_is_flat(&DVector::from_vec(vec![a, b]), &scale, 8.0);
    assert!(flat(3.9e-8, -7.9e-8));
    assert!(!flat(-4.1e-8, 0.0) && !flat(0.0, 8.1e-8));
}
