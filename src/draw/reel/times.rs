//! Which frame of which clip is shown when.
//!
//! One clip keeps its own clock: every time of the reel is a whole number of its ticks, so a
//! variable rate stays exactly as it was. Two clips are laid on one another at take-off and by the
//! time at the fence, at the pace of the one that plays slower.

use crate::quantity::time::{FrameNumber, TimeBase, TimeBaseError};

/// A frame that the reel may show.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ReelFrame {
    /// Its number in the clip.
    pub number: FrameNumber,
    /// Its time, ticks of the clip's clock.
    pub ticks: i64,
}

/// The part of a clip that is shown.
#[derive(Clone, Debug)]
pub struct ReelClip {
    /// The clip's clock.
    pub base: TimeBase,
    /// Seconds at the fence per second of playing time.
    pub capture_scale: f64,
    /// Its frames in the order of time, at least one.
    pub frames: Vec<ReelFrame>,
    /// Which of them is take-off: an index into `frames`.
    pub take_off: usize,
}

/// One picture of the reel.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ReelMoment {
    /// When it is shown, ticks of the reel's clock from its beginning.
    pub ticks: i64,
    /// Which frame of each clip it shows: indexes into their `frames`.
    pub shown: Vec<usize>,
}

/// All pictures of a reel.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ReelTimes {
    /// The reel's clock.
    pub base: TimeBase,
    /// The usual distance of two pictures, ticks.
    pub usual_gap: u32,
    /// The pictures in the order of time.
    pub moments: Vec<ReelMoment>,
}

/// A held picture is repeated that often a second: some players show nothing while they wait long
/// for the next one, and none can be stopped within one.
const REPEATS_PER_S: u32 = 10;
/// Ticks a second that a clock has at least, so that repeats find a tick.
const LEAST_TICKS_PER_S: u32 = 1000;
/// The clock of two clips together, ticks a second.
const JOINT_TICKS_PER_S: u32 = 90_000;

/// Plans a reel of one or several `clips` at `slow` times their playing time, that holds still for
/// `freeze_s` seconds at take-off. A clip that begins later holds its first frame, one that ends
/// earlier its last.
pub fn reel_times(
    clips: &[ReelClip],
    slow: u32,
    freeze_s: f64,
) -> Result<ReelTimes, TimeBaseError> {
    let (base, clocks) = match clips {
        [only] => {
            let (base, finer) = fine(only.base)?;
            let ticks = only.frames.iter().map(|frame| frame.ticks * finer * i64::from(slow));
            (base, vec![since(ticks.collect(), only.take_off)])
        }
        several => {
            let base = TimeBase::new(1, JOINT_TICKS_PER_S)?;
            let pace = several.iter().map(|clip| clip.capture_scale).fold(f64::INFINITY, f64::min);
            let clocks = several.iter().map(|clip| {
                let stretched = f64::from(slow) * clip.capture_scale / pace;
                let ticks = clip
                    .frames
                    .iter()
                    .map(|frame| base.ticks_near(clip.base.seconds(frame.ticks) * stretched));
                since(ticks.collect(), clip.take_off)
            });
            (base, clocks.collect())
        }
    };
    let instants = instants(&clocks);
    let start = instants.first().copied().unwrap_or(0);
    let freeze = base.ticks_near(freeze_s);
    let mut moments = Vec::with_capacity(instants.len() + 16);
    for at in instants {
        let shown = clocks.iter().map(|clock| shown_at(clock, at)).collect::<Vec<_>>();
        let held = if at > 0 { freeze } else { 0 };
        let mut add = |later: i64| {
            let ticks = at - start + held + later;
            moments.push(ReelMoment { ticks, shown: shown.clone() });
        };
        add(0);
        if at == 0 {
            let repeats = (freeze_s * f64::from(REPEATS_PER_S)).round().max(1.0) as i64;
            (1..=repeats).map(|i| freeze * i / repeats).filter(|later| *later > 0).for_each(add);
        }
    }
    let usual_gap = usual_gap(&moments);
    Ok(ReelTimes { base, usual_gap, moments })
}

/// The same clock with enough ticks a second, and how many of its ticks make one of the old.
fn fine(base: TimeBase) -> Result<(TimeBase, i64), TimeBaseError> {
    let enough = base.den() / base.num() >= LEAST_TICKS_PER_S;
    match base.den().checked_mul(LEAST_TICKS_PER_S).filter(|den| !enough && *den < 1 << 31) {
        Some(den) => Ok((TimeBase::new(base.num(), den)?, i64::from(LEAST_TICKS_PER_S))),
        None => Ok((base, 1)),
    }
}

/// Times from take-off on.
fn since(ticks: Vec<i64>, take_off: usize) -> Vec<i64> {
    let zero = ticks.get(take_off).copied().unwrap_or(0);
    ticks.into_iter().map(|at| at - zero).collect()
}

/// When pictures change: with every frame of the clip that has the most, and beyond its ends with
/// those of the others.
fn instants(clocks: &[Vec<i64>]) -> Vec<i64> {
    let density = |clock: &&Vec<i64>| {
        let span = clock.last().zip(clock.first()).map_or(1, |(last, first)| last - first);
        clock.len() as f64 / span.max(1) as f64
    };
    let mut order: Vec<&Vec<i64>> = clocks.iter().collect();
    order.sort_by(|a, b| density(b).total_cmp(&density(a)));
    let mut all: Vec<i64> = Vec::new();
    for clock in order {
        let ends = all.iter().min().copied().zip(all.iter().max().copied());
        let outside = |at: &&i64| ends.is_none_or(|(first, last)| **at < first || **at > last);
        let more: Vec<i64> = clock.iter().filter(outside).copied().collect();
        all.extend(more);
    }
    all.push(0);
    all.sort_unstable();
    all.dedup();
    all
}

/// The frame that is on screen at `at`: the last that had begun, or the first.
fn shown_at(clock: &[i64], at: i64) -> usize {
    clock.partition_point(|begins| *begins <= at).saturating_sub(1)
}

fn usual_gap(moments: &[ReelMoment]) -> u32 {
    let mut gaps: Vec<i64> = moments.windows(2).map(|pair| pair[1].ticks - pair[0].ticks).collect();
    gaps.sort_unstable();
    let middle = gaps.get(gaps.len() / 2).copied().unwrap_or(1);
    u32::try_from(middle.max(1)).unwrap_or(u32::MAX)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn clip(base: (u32, u32), ticks: &[i64], take_off: usize, capture_scale: f64) -> ReelClip {
        let frames = (40..).zip(ticks);
        ReelClip {
            base: TimeBase::new(base.0, base.1).unwrap(),
            capture_scale,
            frames: frames
                .map(|(number, ticks)| ReelFrame { number: FrameNumber(number), ticks: *ticks })
                .collect(),
            take_off,
        }
    }

    #[test]
    fn one_clip_keeps_its_uneven_times_and_holds_at_take_off() {
        let uneven = [9000, 12_000, 15_700, 18_000, 24_003];
        let times = reel_times(&[clip((1, 90_000), &uneven, 2, 1.0)], 3, 1.0).unwrap();
        let frames: Vec<(i64, usize)> =
            times.moments.iter().map(|moment| (moment.ticks, moment.shown[0])).collect();
        // Three times as long, and one second later after take-off.
        assert_eq!(frames[..3], [(0, 0), (9000, 1), (20_100, 2)]);
        assert_eq!(frames[frames.len() - 2..], [(117_000, 3), (135_009, 4)]);
        let held: Vec<i64> =
            frames.iter().filter(|(_, shown)| *shown == 2).map(|(at, _)| *at).collect();
        assert_eq!((held.len(), held[10] - held[0]), (11, 90_000));
    }

    #[test]
    fn a_coarse_clock_gets_finer_ticks_and_stays_exact() {
        let times = reel_times(&[clip((1, 24), &[5, 6, 7], 1, 1.0)], 1, 1.0).unwrap();
        assert_eq!(times.base, TimeBase::new(1, 24_000).unwrap());
        assert_eq!(times.moments[1].ticks, 1000);
        assert!(times.moments.windows(2).all(|pair| pair[0].ticks < pair[1].ticks));
    }

    #[test]
    fn two_clips_meet_at_take_off_and_the_shorter_holds_its_first_frame() {
        // 50 frames a second from 0.10 s before take-off; 25 from 0.04 s before.
        let one = clip((1, 50), &[0, 1, 2, 3, 4, 5, 6], 5, 1.0);
        let other = clip((1, 25), &[10, 11, 12, 13], 1, 1.0);
        let times = reel_times(&[one, other], 1, 1.0).unwrap();
        let take_off = times.moments.iter().find(|moment| moment.shown[0] == 5).unwrap();
        assert_eq!((take_off.ticks, take_off.shown.as_slice()), (9000, [5, 1].as_slice()));
        assert!(times.moments.iter().all(|m| (m.shown[0] >= 5) == (m.shown[1] >= 1)));
        assert_eq!(times.moments[0].shown, [0, 0]);
        assert_eq!(times.moments[2].shown, [2, 0]);
        // Beyond the end of the first only the second goes on.
        assert_eq!(times.moments.last().unwrap().shown, [6, 3]);
    }

    #[test]
    fn the_quicker_clip_waits_for_the_slowed_one() {
        // 240 frames a second that play at 30, beside 30 frames a second of life.
        let slowed = clip((1, 30), &[0, 1, 2, 3, 4, 5, 6, 7, 8], 8, 0.125);
        let life = clip((1, 30), &[0, 1], 1, 1.0);
        let times = reel_times(&[slowed, life], 1, 1.0).unwrap();
        assert_eq!(times.moments[0].shown, [0, 0]);
        let take_off = times.moments.iter().find(|moment| moment.shown == [8, 1]).unwrap();
        assert_eq!(take_off.ticks, 24_000);
    }
}
