//! Hooves laid out on the ground and filmed by a camera that sees them all: marks files whose every
//! length and time is known, without the arena in between.

use groundline::marks::*;
use groundline::quantity::{FrameNumber, Given};
use groundline::scene::{Camera, FramePoint, GroundPoint, Lens, PictureSize, Pose, ScenePoint};
use serde_json::Map;

/// Clicks here are exact; the survey still wants to know how exact.
const CLICK_SD_PX: f64 = 0.01;

/// A contact: which limb, what it belongs to, how far along and aside, when.
#[derive(Clone, Copy)]
pub struct Hoof {
    pub limb: Limb,
    pub event: Event,
    pub place: GroundPoint,
    pub at_s: f64,
}

/// What is laid out: the hooves of one approach and the fence it leads to.
pub struct Approached {
    pub fence_x: f64,
    pub spread_m: Option<f64>,
    pub hooves: Vec<Hoof>,
}

/// The marks of a camera that sees everything, clicked without error. All beliefs about it are
/// right, so that the best scene is the true one.
pub fn filmed(approaches: &[Approached], gap_s: f64) -> MarksFile {
    let xs = || {
        let hooves = approaches.iter().flat_map(|a| a.hooves.iter().map(|hoof| hoof.place.x));
        hooves.chain(approaches.iter().map(|a| a.fence_x)).chain([0.0, 9.0])
    };
    let (from, to) = (xs().fold(f64::MAX, f64::min), xs().fold(f64::MIN, f64::max));
    let size = PictureSize { width: 3840, height: 2160 };
    let middle = f64::midpoint(from, to);
    let position = ScenePoint::new(middle, -(8.0 + 0.9 * (to - from)), 3.0);
    let pose = Pose::looking_at(position, ScenePoint::new(middle, 0.0, 0.5));
    let camera = Camera { lens: Lens::with_field(size, 70f64.to_radians()), pose };
    let mut belief = CameraPrior::usual(Motion::Fixed);
    belief.height_m = Given::new(3.0, 0.001);
    belief.focal_px = Some(Given::new(camera.lens.focal_px, 0.0002 * camera.lens.focal_px));
    let click = |place: ScenePoint, frame: u32| {
        let at = camera.project(place).unwrap();
        assert!((0.0..3840.0).contains(&at.x) && (0.0..2160.0).contains(&at.y), "{at:?}");
        Mark::new(FrameNumber(frame), FramePoint::new(at.x, at.y), CLICK_SD_PX)
    };
    let mut ends = Vec::new();
    for pole in 1..=4 {
        for (end, y) in [(PoleEnd::Left, 1.75), (PoleEnd::Right, -1.75)] {
            let place = ScenePoint::new(3.0 * f64::from(pole - 1), y, 0.05);
            ends.push(PoleEndMarks::new(pole, end, vec![click(place, 0)]));
        }
    }
    let mut frames = vec![MarkedFrame::new(FrameNumber(0), 0.0, gap_s)];
    let (mut fences, mut approached) = (Vec::new(), Vec::new());
    for (number, laid) in approaches.iter().enumerate() {
        let base = |x: f64| BaseMarks {
            left: vec![click(ScenePoint::new(x, 1.75, 0.0), 0)],
            right: vec![click(ScenePoint::new(x, -1.75, 0.0), 0)],
            other: Map::new(),
        };
        let mut fence = Fence::new(format!("fence {number}"));
        fence.take_off_base = base(laid.fence_x);
        if let Some(spread) = laid.spread_m {
            fence.kind = FenceKind::Oxer;
            fence.landing_base = base(laid.fence_x + spread);
        }
        let mut approach = Approach::new(format!("approach {number}"), fence.id.clone());
        for hoof in &laid.hooves {
            let frame = frames.len() as u32;
            // A contact is taken to fall in the middle of the gap before its frame.
            frames.push(MarkedFrame::new(FrameNumber(frame), hoof.at_s + gap_s / 2.0, gap_s));
            let mark = click(hoof.place.at_height(0.0), frame);
            let id = format!("hoof {frame}");
            approach.footfalls.push(Footfall::new(id, hoof.limb, hoof.event, mark));
        }
        fences.push(fence);
        approached.push(approach);
    }
    let clip = ClipNote {
        file: "laid-out.mp4".into(),
        size_bytes: 1,
        blake3: String::new(),
        picture: size,
        frame_count: frames.len() as u32,
        stream: None,
        capture_seconds_per_second: 1.0,
        frames,
        other: Map::new(),
    };
    let mut file = MarksFile::new(clip, belief);
    file.references.push(Reference {
        id: "poles".into(),
        kind: ReferenceKind::Poles {
            count: 4,
            spacing_m: Given::new(3.0, 0.0001),
            length_m: Given::new(3.5, 0.0001),
            diameter_m: 0.10,
            ends,
            other: Map::new(),
        },
    });
    file.fences = fences;
    file.approaches = approached;
    file
}

/// Contacts of one limb at these strides (metres, seconds), the last at x = 0; a hind ends them at
/// take-off.
pub fn strides(limb: Limb, rows: &[(f64, f64)]) -> Approached {
    let mut hooves = Vec::new();
    let (mut x, mut at_s) = (-rows.iter().map(|row| row.0).sum::<f64>(), 1.0);
    for (length, duration) in rows {
        hooves.push(Hoof { limb, event: Event::Stride, place: GroundPoint::new(x, 0.0), at_s });
        x += length;
        at_s += duration;
    }
    let event = if limb.is_hind() { Event::TakeOff } else { Event::Stride };
    hooves.push(Hoof { limb, event, place: GroundPoint::new(x, 0.0), at_s });
    Approached { fence_x: x + 2.0, spread_m: None, hooves }
}
