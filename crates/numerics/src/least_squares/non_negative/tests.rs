//! Against SciPy 1.17.1, `scipy.optimize.nnls`, and what the optimum must satisfy.

use proptest::prelude::*;

use super::*;

#[track_caller]
fn check(columns: usize, a: &[f64], b: &[f64], x: &[f64], residual_norm: f64) {
    let a = Matrix::from_rows(b.len(), columns, a).unwrap();
    let answer = non_negative(&a, b).unwrap();
    for (own, other) in answer.x.iter().zip(x) {
        assert!((own - other).abs() < 1e-12, "{:?} {x:?}", answer.x);
    }
    assert!((answer.residual_norm - residual_norm).abs() < 1e-12, "{}", answer.residual_norm);
}

#[test]
fn answers_agree_with_scipy() {
    // Digits: `scipy.optimize.nnls`, SciPy 1.17.1.
    let a = [73.0, 71.0, 52.0, 87.0, 74.0, 46.0, 72.0, 2.0, 7.0, 80.0, 89.0, 71.0];
    let x = [0.649_538_436_402_254_6, 0.0, 0.0];
    check(3, &a, &[49.0, 67.0, 68.0, 20.0], &x, 39.812_558_123_428_16);
    #[rustfmt::skip]
    let a = [
        40.0, 0.0, 20.0, 0.0, 0.0,
        0.0, 10.0, 0.0, 23.0, 0.0,
        0.0, 0.0, 0.0, 0.0, 24.0,
        0.0, 80.0, 0.0, 0.0, 95.0,
        71.0, 0.0, 0.0, 61.0, 0.0,
    ];
    let x = [
        0.330_887_043_274_137_9,
        0.877_604_166_666_666_9,
        2.338_225_913_451_723_6,
        0.270_606_884_057_970_73,
        0.208_333_333_333_333_3,
    ];
    check(5, &a, &[60.0, 15.0, 5.0, 90.0, 40.0], &x, 0.0);
    #[rustfmt::skip]
    let a = [
        0.0, 0.3, -0.27, -0.89, -0.45,
        -0.99, 0.06, 1.34, -0.49, -0.62,
        0.49, 0.36, 0.11, -0.93, -0.03,
        0.7, -1.34, -0.46, -1.9, -1.29,
        -1.84, -0.24, -1.27, 0.27, 0.16,
        -0.19, -2.52, -0.54, -0.05, 0.11,
    ];
    let b = [-1.53, -0.48, -0.98, -0.81, 1.06, -0.81];
    let x = [0.0, 0.062_552_292_889_557_9, 0.0, 0.761_378_713_703_58, 0.0];
    check(5, &a, &b, &x, 1.584_344_744_058_602_3);
}

#[test]
fn what_only_negative_numbers_could_reach_stays_at_zero() {
    check(2, &[-1.0, -2.0, -3.0, -4.0], &[1.0, 1.0], &[0.0, 0.0], 2.0_f64.sqrt());
}

#[test]
fn twin_columns_and_empty_ones_do_no_harm() {
    let a = [1.0, 1.0, 0.0, 0.0, 1.0, 1.0, 0.0, 0.0, 0.0, 0.0, 1.0, 0.0];
    let a = Matrix::from_rows(3, 4, &a).unwrap();
    let answer = non_negative(&a, &[2.0, 2.0, 3.0]).unwrap();
    assert!((answer.x[0] + answer.x[1] - 2.0).abs() < 1e-14, "{:?}", answer.x);
    assert!((answer.x[2] - 3.0).abs() < 1e-14 && answer.x[3] == 0.0, "{:?}", answer.x);
    assert!(answer.residual_norm < 1e-14);
}

#[test]
fn a_wrong_right_hand_side_is_refused() {
    assert!(non_negative(&Matrix::zeros(2, 2), &[1.0]).is_err());
    assert!(non_negative(&Matrix::zeros(1, 1), &[f64::NAN]).is_err());
}

proptest! {
    /// The conditions of Karush, Kuhn and Tucker: no unknown can still make the residual fall.
    #[test]
    fn no_better_answer_lies_beside(
        a in prop::collection::vec(-5.0..5.0f64, 28),
        b in prop::collection::vec(-5.0..5.0f64, 7),
    ) {
        let a = Matrix::from_rows(7, 4, &a).unwrap();
        let x = non_negative(&a, &b).unwrap().x;
        let residual = residual(&a, &x, &b);
        for (column, &x) in x.iter().enumerate() {
            let fall = a.column_dot(column, &residual);
            prop_assert!(x >= 0.0);
            prop_assert!(fall <= 1e-9, "x[{column}] would rise: {fall}");
            prop_assert!(x == 0.0 || fall >= -1e-9, "x[{column}] would sink: {fall}");
        }
    }
}
