//! One of the pan bench's own scenes, in smaller pictures: rendered, followed, measured without a
//! tie placed by hand. The whole set and every bar: `make bench-pan`.

#[path = "../bench/pan/follow.rs"]
#[expect(dead_code, reason = "the bench uses more of it")]
mod follow;
#[path = "../bench/pan/ways.rs"]
#[expect(dead_code, reason = "the bench uses more of it")]
mod ways;

use groundline::arena::marks;
use groundline::scene::PictureSize;

use crate::arena_accuracy::judge::{Run, run_with_motion};
use crate::arena_accuracy::score::{Datum, Quantity, Summary};
// The bench's own files look for these beside them.
use crate::arena_accuracy::{cases, design};
use ways::Way;

fn strides(run: &Run, from: i32) -> Summary {
    let wanted = |d: &&Datum| {
        d.quantity == Quantity::StrideLength && d.stride.is_some_and(|number| number >= from)
    };
    Summary::of(run.data.iter().filter(wanted)).unwrap()
}

#[test]
fn a_panned_clip_is_measured_as_well_as_with_the_true_camera() {
    let case = ways::case_of(Way::Steady, 1, PictureSize { width: 960, height: 540 });
    let followed = follow::follow(&case);
    println!("{:.3}° of {:.0}°", followed.end_off_deg, followed.turned_deg);
    assert!(followed.end_off_deg <= 0.05 && followed.turned_deg > 60.0);
    let file = marks(&case.scene, &case.truth, &case.clicking);
    assert!(file.ties.is_empty());
    let tracked = run_with_motion(&case, &file, followed.motion.as_ref(), 0);
    assert_eq!(tracked.refused, None);
    let truth = run_with_motion(&case, &file, Some(&follow::true_motion(&case)), 0);
    let (found, best) = (strides(&tracked, -7), strides(&truth, -7));
    println!("{:.1} cm beside {:.1} cm", 100.0 * found.rms, 100.0 * best.rms);
    assert!(found.count == 7 && found.rms <= 1.3 * best.rms.max(0.01));
    // Clicks of pixels twice as large as in the design scene: twice its bar.
    assert!(strides(&tracked, -5).rms <= 0.18);
}
