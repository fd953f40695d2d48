//! The small problem against SciPy 1.17's `least_squares` and its (JᵀJ)⁻¹, as printed by
//! `tests/outside/pan_bundle.py`.

use super::small::{SQUARES, priors, small};
use crate::pan::adjustment::bundle::{Bundle, COMMON};
use crate::pan::adjustment::descend::descend;
use crate::pan::adjustment::motion_model::MotionModel;
use crate::pan::adjustment::normal::Task;
use crate::pan::adjustment::reduce::Reduced;
use crate::scene::rotation_vector;

struct Printed {
    model: MotionModel,
    cost: f64,
    value: &'static [f64],
    sd: &'static [f64],
    /// Covariance of ln focal length with the second turn, and with the last unknown.
    cross: [f64; 2],
}

const PRINTED: [Printed; 2] = [
    Printed {
        model: MotionModel::Turning,
        cost: 17.230_320_648,
        value: &[
            6.861_964_47,
            -0.054_263_330_9,
            -0.000_111_427_541,
            -0.005_604_834_73,
            0.000_323_675_311,
            -0.000_118_160_586,
            -0.011_689_676_3,
            -0.000_122_534_394,
        ],
        sd: &[
            0.034_272_8,
            0.021_455_76,
            0.000_117_344_7,
            0.004_364_112,
            0.000_619_302_4,
            0.000_175_515_4,
            0.009_097_455,
            0.000_683_674_7,
        ],
        cross: [0.000_149_501_074, -4.032_001_89e-07],
    },
    Printed {
        model: MotionModel::HandheldZooming,
        cost: 10.365_635_3,
        value: &[
            6.829_966_62,
            -0.076_402_173_2,
            -0.000_602_448_91,
            -0.011_774_869_1,
            -0.000_436_698_288,
            0.042_456_701_2,
            0.081_682_333_1,
            -0.026_966_094_6,
            0.034_814_833_3,
            0.000_886_017_299,
            -0.019_636_853_3,
            0.001_154_166_47,
            0.086_974_403_8,
            -0.070_288_534_5,
            0.048_816_551_1,
            -0.100_699_635,
        ],
        sd: &[
            0.035_010_2,
            0.022_231_49,
            0.000_555_658_1,
            0.004_892_884,
            0.000_718_834_4,
            0.001_591_811,
            0.054_863_34,
            0.018_297_83,
            0.028_912_06,
            0.000_965_987_8,
            0.009_770_923,
            0.000_809_639_4,
            0.002_576_541,
            0.047_312_1,
            0.032_895_31,
            0.069_281_27,
        ],
        cross: [0.000_163_140_324, -6.505529892e-05],
    },
];

/// Camera unknowns of `end`, turns against those of `start`.
fn values(model: MotionModel, start: &Bundle, end: &Bundle) -> Vec<f64> {
    let mut all = vec![end.log_focal, end.k1];
    for (from, to) in start.keys.iter().zip(&end.keys).skip(1) {
        let turn = rotation_vector(&(to.turn * from.turn.inverse()));
        let whole = [turn.x, turn.y, turn.z, to.log_zoom, to.shift.x, to.shift.y, to.shift.z];
        all.extend(model.unknowns().iter().map(|&place| whole[place]));
    }
    all
}

#[test]
fn values_and_covariance_are_those_of_scipy() {
    for printed in &PRINTED {
        let model = printed.model;
        let (start, points) = small(model);
        let priors = priors();
        let task = Task { model, points: &points, keys: 3, priors: &priors, weighing: SQUARES };
        let end = descend(&task, start.clone(), 200);
        assert!(end.settled && (end.cost - printed.cost).abs() < 1e-3, "{model}: {}", end.cost);
        let covariance = Reduced::of(&task.normal(&end.bundle), 0.0).unwrap().covariance();
        let found = values(model, &start, &end.bundle);
        for (i, (value, sd)) in printed.value.iter().zip(printed.sd).enumerate() {
            assert!((found[i] - value).abs() < 0.02 * sd, "{model} {i}: {} {value}", found[i]);
            let ours = covariance[(i, i)].sqrt();
            assert!((ours / sd - 1.0).abs() < 1e-3, "{model} {i}: {ours} {sd}");
        }
        let last = COMMON + 2 * model.count() - 1;
        for (column, exact) in [3, last].into_iter().zip(printed.cross) {
            let size = printed.sd[0] * printed.sd[column];
            assert!((covariance[(0, column)] - exact).abs() < 1e-3 * size, "{model} {column}");
        }
    }
}
