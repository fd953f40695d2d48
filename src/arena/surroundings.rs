//! What stands around the track: the arena's rail, trees, the fence's wings; and those of its
//! points that a person could mark as ties.

use rand_chacha::ChaCha8Rng;

use super::chance::{Purpose, between, stream};
use super::filming::up;
use super::plan::Plan;
use super::scene::Scene;
use crate::scene::{Camera, ScenePoint};

/// Everything that stands still.
#[derive(Clone, Debug)]
pub(super) struct Surroundings {
    /// Feet of the rail's posts.
    pub(super) posts: Vec<ScenePoint>,
    /// Trees behind the rail.
    pub(super) trees: Vec<Tree>,
    /// Wings of the fence.
    pub(super) wings: Vec<Wing>,
    /// Up, by gravity.
    pub(super) up: nalgebra::Vector3<f64>,
    /// +1 when the far side of the arena is to the left of the way the horse goes.
    pub(super) away: f64,
}

/// A tree.
#[derive(Clone, Copy, Debug)]
pub(super) struct Tree {
    pub(super) foot: ScenePoint,
    pub(super) height_m: f64,
    pub(super) crown_m: f64,
    /// 0 round and light to 1 narrow and dark.
    pub(super) kind: f64,
    pub(super) seed: u32,
}

/// A wing: an upright panel beside the poles of the fence.
#[derive(Clone, Copy, Debug)]
pub(super) struct Wing {
    /// Its plane.
    pub(super) x: f64,
    /// Its inner edge.
    pub(super) inner_y: f64,
    /// Its outer edge.
    pub(super) outer_y: f64,
    /// Heights of inner and outer edge.
    pub(super) inner_m: f64,
    pub(super) outer_m: f64,
}

/// Distance between posts of the rail, metres.
pub(super) const POST_GAP_M: f64 = 3.0;
/// Height of the top rail, metres.
pub(super) const RAIL_M: f64 = 1.15;
/// Reach of a wing's feet to either side along x, metres.
pub(super) const FOOT_M: f64 = 0.32;
/// Width of an upright, metres.
pub(super) const UPRIGHT_M: f64 = 0.10;

impl Surroundings {
    /// Those of a checked scene.
    pub(super) fn of(scene: &Scene, plan: &Plan) -> Self {
        let mut random = stream(scene.seed, Purpose::Surroundings);
        let away = scene.filming.distance_m.signum();
        let ridden = (0..=(plan.end_s * 10.0) as u32)
            .map(|i| away * scene.track.at(plan.along.at(f64::from(i) / 10.0)).0.y)
            .fold(0.0, f64::max);
        let rail_y = (ridden + 3.5).max(10.5);
        let posts = (-30..=24)
            .map(|i| ScenePoint::new(f64::from(i) * POST_GAP_M + 1.2, away * rail_y, 0.0))
            .collect();
        let trees = trees(&mut random, away, rail_y);
        Self { posts, trees, wings: wings(scene), up: up(scene), away }
    }

    /// A point `height` metres above a foot, along gravity.
    pub(super) fn above(&self, foot: ScenePoint, height: f64) -> ScenePoint {
        ScenePoint::from(foot.vector() + self.up * height)
    }

    /// Fixed points that a person could mark, each with a name of its own.
    pub(super) fn fixed_points(&self) -> Vec<(String, ScenePoint)> {
        let mut points = Vec::new();
        for (number, post) in self.posts.iter().enumerate().step_by(2) {
            points.push((format!("post-{number}-top"), self.above(*post, RAIL_M + 0.12)));
            if number % 4 == 0 {
                points.push((format!("post-{number}-foot"), *post));
            }
        }
        for (number, wing) in self.wings.iter().enumerate() {
            let outward = (wing.outer_y - wing.inner_y).signum();
            let y = wing.inner_y + outward * UPRIGHT_M / 2.0;
            points.push((format!("wing-{number}-top"), ScenePoint::new(wing.x, y, wing.inner_m)));
            for (name, side) in [("front", -1.0), ("back", 1.0)] {
                let foot = ScenePoint::new(wing.x + side * FOOT_M, y, 0.0);
                points.push((format!("wing-{number}-{name}-foot"), foot));
            }
        }
        for (number, tree) in self.trees.iter().enumerate().step_by(4) {
            points.push((format!("tree-{number}"), self.above(tree.foot, tree.trunk_m())));
        }
        points
    }

    /// Whether a wing stands between the camera and `point`.
    pub(super) fn hides(&self, camera: &Camera, point: ScenePoint) -> bool {
        let eye = camera.pose.position.vector();
        let way = point.vector() - eye;
        self.wings.iter().any(|wing| {
            let share = (wing.x - eye.x) / way.x;
            let cut = eye + way * share;
            let across = (cut.y - wing.inner_y) / (wing.outer_y - wing.inner_y);
            let height = wing.inner_m + across * (wing.outer_m - wing.inner_m);
            (0.0..0.999).contains(&share)
                && (0.0..=1.0).contains(&across)
                && (0.0..=height).contains(&cut.z)
        })
    }
}

impl Tree {
    /// Height at which the trunk meets the crown.
    pub(super) fn trunk_m(&self) -> f64 {
        1.5 + 0.08 * self.height_m
    }
}

fn wings(scene: &Scene) -> Vec<Wing> {
    let fence = &scene.fence;
    let planes: &[f64] = if fence.far_x() > 0.0 { &[0.0, fence.far_x()] } else { &[0.0] };
    let inner_m = (fence.height_m + 0.35).max(1.35);
    let mut wings = Vec::new();
    for &x in planes {
        for side in [1.0, -1.0] {
            let inner_y = side * fence.width_m / 2.0;
            let wide = if fence.wings { 0.72 } else { UPRIGHT_M };
            let outer_m = if fence.wings { inner_m - 0.40 } else { inner_m };
            wings.push(Wing { x, inner_y, outer_y: inner_y + side * wide, inner_m, outer_m });
        }
    }
    wings
}

fn trees(random: &mut ChaCha8Rng, away: f64, rail_y: f64) -> Vec<Tree> {
    let mut trees: Vec<Tree> = (0..64)
        .map(|i| {
            let x = -130.0 + 4.0 * f64::from(i) + between(random, -2.5, 2.5);
            let back =
                if i % 3 == 0 { between(random, 7.0, 13.0) } else { between(random, 16.0, 40.0) };
            let height_m = between(random, 6.0, 11.5) + 0.09 * back;
            let foot = ScenePoint::new(x, away * (rail_y + back), 0.0);
            let crown_m = height_m * between(random, 0.24, 0.36);
            let kind = between(random, 0.0, 1.0);
            Tree { foot, height_m, crown_m, kind, seed: i as u32 }
        })
        .collect();
    // Far trees first: the renderer paints in this order.
    trees.sort_by(|a, b| b.foot.y.abs().total_cmp(&a.foot.y.abs()));
    trees
}
