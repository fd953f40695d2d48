//! Invented draws for the tests of this folder.

use rand_distr::{Distribution, StandardNormal};

use crate::quantity::sample::estimate;
use crate::quantity::seeded;
use crate::stride::{ApproachDraws, LineMeasurement, NeededStride};

/// Draws of strides and take-off about these values, each with its own normal error, metres.
pub(super) fn drawn(lengths: &[f64], sd: f64, take_off_m: f64, take_off_sd: f64) -> ApproachDraws {
    let mut random = seeded(5);
    let mut normal = || -> f64 { StandardNormal.sample(&mut random) };
    let count = lengths.len() as i32;
    let lengths_m =
        (0..1000).map(|_| lengths.iter().map(|length| length + sd * normal()).collect()).collect();
    ApproachDraws {
        stride_numbers: (-count..0).collect(),
        lengths_m,
        take_off_m: (0..1000).map(|_| take_off_m + take_off_sd * normal()).collect(),
        ..ApproachDraws::default()
    }
}

/// A line of that length, ridden in so many strides, with 1.95 m to land and 1.80 m to take off.
pub(super) fn line(distance_m: f64, strides: u32) -> LineMeasurement {
    let needed = |strides: u32| NeededStride {
        strides,
        stride_m: estimate((distance_m - 3.75) / f64::from(strides), 0.05),
    };
    LineMeasurement {
        first_approach: "A-1".into(),
        second_approach: "B-1".into(),
        first_fence: "Gate".into(),
        second_fence: "Planks".into(),
        distance_m: estimate(distance_m, 0.12),
        landing_m: estimate(1.95, 0.08),
        take_off_m: estimate(1.80, 0.06),
        strides_taken: strides,
        strides: (-(strides as i32)..0).collect(),
        mean_stride_m: Some(needed(strides).stride_m),
        needed: (strides - 1..=strides + 1).map(needed).collect(),
        doubts: Vec::new(),
    }
}
