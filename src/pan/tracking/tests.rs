//! Whole clips of painted pictures: what the tracker keeps, drops, loses and finds again.

mod arena;

use super::testing::{Painted, painted, texture};
use super::*;
use crate::pan::{Held, TrackedFrame, Tracks};
use crate::quantity::FrameNumber;
use crate::scene::FramePoint;

const SIZE: (usize, usize) = (480, 270);

/// The world seen `shift` pixels farther to the right.
fn view(shift: f64) -> Painted {
    painted(SIZE, |x, y| (x + shift, y + 0.05 * shift))
}

fn tracked(frames: &[Painted]) -> Tracks {
    let mut tracker = Tracker::new(frames[0].size(), TrackerSettings::default());
    for (number, frame) in frames.iter().enumerate() {
        tracker.push(FrameNumber(number as u32), frame.view());
    }
    tracker.finish()
}

/// Root mean square of sightings against the point's mean place in the world.
fn scatter(tracks: &Tracks, shift: impl Fn(u32) -> f64) -> f64 {
    let mut places: Vec<Vec<FramePoint>> = vec![Vec::new(); tracks.points as usize];
    for frame in &tracks.frames {
        let shift = shift(frame.frame.0);
        for s in &frame.sightings {
            let place = FramePoint::new(s.at.x + shift, s.at.y + 0.05 * shift);
            places[s.point as usize].push(place);
        }
    }
    let (mut squares, mut count) = (0.0, 0.0);
    for places in &places {
        let n = places.len() as f64;
        let mean = FramePoint::new(
            places.iter().map(|p| p.x).sum::<f64>() / n,
            places.iter().map(|p| p.y).sum::<f64>() / n,
        );
        squares += places.iter().map(|p| p.distance(mean).powi(2)).sum::<f64>() / 2.0;
        count += n;
    }
    (squares / count).sqrt()
}

fn numbers(frame: &TrackedFrame) -> Vec<u32> {
    frame.sightings.iter().map(|s| s.point).collect()
}

fn shared(a: &TrackedFrame, b: &TrackedFrame) -> usize {
    let ours = numbers(a);
    numbers(b).iter().filter(|point| ours.contains(point)).count()
}

#[test]
fn a_pan_is_followed_to_hundredths_of_a_pixel() {
    let shift = |frame: u32| 7.3 * f64::from(frame);
    let frames: Vec<Painted> = (0..30).map(|i| view(shift(i))).collect();
    let tracks = tracked(&frames);
    assert!(tracks.frames.iter().all(|frame| frame.held == Held::Well && frame.piece == 0));
    let keys: Vec<&TrackedFrame> = tracks.frames.iter().filter(|frame| frame.key).collect();
    assert!((3..=6).contains(&keys.len()), "{}", keys.len());
    assert!(keys.windows(2).all(|pair| shared(pair[0], pair[1]) >= 60));
    let between = tracks.frames.iter().filter(|frame| !frame.key);
    assert!(between.clone().all(|frame| (15..=40).contains(&frame.sightings.len())));
    let scatter = scatter(&tracks, shift);
    assert!(scatter < 0.02, "{scatter}");
}

#[test]
fn what_moves_on_its_own_is_dropped() {
    // A patch as large as a horse keeps to the middle of the picture while the ground goes by.
    let (left, top, wide, high) = (180, 90, 110, 100);
    let horse = |mut frame: Painted, step: f64| {
        for y in top..top + high {
            for x in left..left + wide {
                let at = (x as f64 + 9000.0 + 0.7 * step.sin(), y as f64 - 4000.0 + step.cos());
                frame.pixels[y * SIZE.0 + x] = texture(at.0, at.1).clamp(0.0, 255.0) as u8;
            }
        }
        frame
    };
    let frames: Vec<Painted> =
        (0..24).map(|i| horse(view(6.0 * f64::from(i)), f64::from(i) / 3.0)).collect();
    let tracks = tracked(&frames);
    let inside = |p: FramePoint| {
        let (x, y) = (p.x as usize, p.y as usize);
        (left..left + wide).contains(&x) && (top..top + high).contains(&y)
    };
    let all = tracks.frames.iter().flat_map(|frame| &frame.sightings);
    assert_eq!(all.clone().filter(|s| inside(s.at)).count(), 0);
    assert!(all.count() > 500);
}

#[test]
fn a_cut_begins_a_new_piece() {
    let frames: Vec<Painted> =
        (0..12).map(|i| view(5.0 * f64::from(i) + if i < 6 { 0.0 } else { 70_000.0 })).collect();
    let tracks = tracked(&frames);
    let pieces: Vec<u32> = tracks.frames.iter().map(|frame| frame.piece).collect();
    assert_eq!(pieces, [0, 0, 0, 0, 0, 0, 1, 1, 1, 1, 1, 1]);
    let of = |piece: u32| {
        let frames = tracks.frames.iter().filter(move |frame| frame.piece == piece);
        frames.flat_map(numbers).collect::<Vec<u32>>()
    };
    assert!(of(0).iter().all(|point| !of(1).contains(point)));
    // The last look before the cut and the first after it are key frames: nothing else ties them.
    assert!(tracks.frames[5].key && tracks.frames[6].key);
}

#[test]
fn after_darkness_and_blur_the_same_points_are_found_again() {
    let dark = || Painted { wide: SIZE.0, high: SIZE.1, pixels: vec![17; SIZE.0 * SIZE.1] };
    // Nothing but the widest waves is left.
    let fog = |shift: f64| {
        let mut frame = painted(SIZE, |x, y| ((x + shift) / 12.0, y / 12.0));
        frame.pixels.iter_mut().for_each(|v| *v = 100 + *v / 16);
        frame
    };
    for unseen in [dark as fn() -> Painted, || Painted {
        pixels: vec![200; SIZE.0 * SIZE.1],
        wide: SIZE.0,
        high: SIZE.1,
    }] {
        let mut frames: Vec<Painted> = (0..8).map(|i| view(4.0 * f64::from(i))).collect();
        frames.extend((0..4).map(|_| unseen()));
        frames.extend((0..2).map(|i| fog(f64::from(i))));
        frames.extend((0..8).map(|i| view(60.0 + 4.0 * f64::from(i))));
        let tracks = tracked(&frames);
        let held: Vec<Held> = tracks.frames.iter().map(|frame| frame.held).collect();
        assert!(held[8..14].iter().all(|&held| held == Held::Lost), "{held:?}");
        assert!(tracks.frames[8..14].iter().all(|frame| frame.sightings.is_empty()));
        assert!(held[..8].iter().all(|&held| held == Held::Well), "{held:?}");
        assert!(held[15..].iter().all(|&held| held == Held::Well), "{held:?}");
        assert!(tracks.frames.iter().all(|frame| frame.piece == 0));
        assert!(shared(&tracks.frames[0], &tracks.frames[14]) >= 40);
    }
}

#[test]
fn a_pan_there_and_back_finds_the_first_points_again() {
    let shift = |frame: u32| 18.0 * f64::from(frame.min(60 - frame.min(60)));
    let frames: Vec<Painted> = (0..=60).map(|i| view(shift(i))).collect();
    let tracks = tracked(&frames);
    let (first, last) = (&tracks.frames[0], &tracks.frames[60]);
    // At the far end none of them was in the picture.
    assert_eq!(shared(first, &tracks.frames[30]), 0);
    assert!(first.key && last.key);
    assert!(shared(first, last) * 10 >= 6 * first.sightings.len(), "{}", shared(first, last));
    assert!(scatter(&tracks, shift) < 0.02);
}

#[test]
fn a_point_that_something_passes_over_is_not_seen_meanwhile_and_keeps_its_number() {
    let cover = |mut frame: Painted, i: usize| {
        let left = 24 * i;
        for y in 0..SIZE.1 {
            for x in left.min(SIZE.0)..(left + 50).min(SIZE.0) {
                frame.pixels[y * SIZE.0 + x] =
                    texture(x as f64 - 24.0 * i as f64 + 5000.0, y as f64).clamp(0.0, 255.0) as u8;
            }
        }
        frame
    };
    let frames: Vec<Painted> = (0..24).map(|i| cover(view(0.4 * i as f64), i)).collect();
    let tracks = tracked(&frames);
    let wrong = tracks.frames.iter().flat_map(|frame| {
        let left = 24.0 * f64::from(frame.frame.0);
        frame.sightings.iter().filter(move |s| (left + 3.0..left + 47.0).contains(&s.at.x))
    });
    assert_eq!(wrong.count(), 0);
    assert!(shared(&tracks.frames[0], &tracks.frames[23]) >= 60);
    assert!(scatter(&tracks, |frame| 0.4 * f64::from(frame)) < 0.03);
}

#[test]
fn one_thread_and_two_give_the_same_tracks() {
    let frames: Vec<Painted> = (0..14).map(|i| view(9.0 * f64::from(i))).collect();
    let with = |threads: usize| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
        pool.install(|| tracked(&frames))
    };
    let tracks = with(1);
    assert_eq!(tracks, with(2));
    let again: Tracks = serde_json::from_str(&serde_json::to_string(&tracks).unwrap()).unwrap();
    assert_eq!(again.frames.len(), 14);
}

#[test]
fn a_picture_of_another_size_or_too_small_is_lost() {
    let mut tracker = Tracker::new(view(0.0).size(), TrackerSettings::default());
    tracker.push(FrameNumber(0), painted((300, 200), |x, y| (x, y)).view());
    let tracks = tracker.finish();
    assert_eq!(tracks.frames[0].held, Held::Lost);
    let tiny = painted((20, 12), |x, y| (x, y));
    assert_eq!(tracked(&[tiny]).frames[0].held, Held::Lost);
    assert_eq!(tracked(&[view(0.0)]).points, 0);
}

#[test]
fn somebody_who_walks_past_the_lens_does_not_end_the_piece() {
    // The whole picture is hidden by a coat for six frames, and the last of it leaves slowly.
    let coat = |i: u32| {
        let mut frame = view(3.0 * f64::from(i));
        let end = match i {
            0..8 => 0,
            8..14 => SIZE.0,
            _ => SIZE.0.saturating_sub(40 * (i as usize - 14)),
        };
        for y in 0..SIZE.1 {
            for x in 0..end {
                let moved = x as f64 + 40.0 * f64::from(i) - 30_000.0;
                frame.pixels[y * SIZE.0 + x] = texture(moved, y as f64).clamp(0.0, 255.0) as u8;
            }
        }
        frame
    };
    let frames: Vec<Painted> = (0..48).map(coat).collect();
    let tracks = tracked(&frames);
    let (first, last) = (&tracks.frames[0], &tracks.frames[47]);
    assert_eq!((first.piece, last.piece), (0, 0));
    assert!(last.held == Held::Well && shared(first, last) >= 30, "{}", shared(first, last));
}
