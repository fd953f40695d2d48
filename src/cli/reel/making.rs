//! Reading, drawing and writing at the same time: one thread reads frames in order, one draws a few
//! side by side and keeps their order, and this one writes. Each waits for the next, so that only a
//! few pictures are held at once.

use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::{AtomicU32, Ordering};
use std::sync::mpsc::{Receiver, SyncSender, sync_channel};

use image::{Rgb, RgbImage};
use indicatif::{ProgressBar, ProgressStyle};
use rayon::prelude::*;

use super::shown::Shown;
use crate::cli::Failure;
use crate::cli::interrupt::Interrupt;
use crate::draw::{RasterError, ReelMoment, ReelTimes, StillError, Theme, paint_part};
use crate::footage::write::{ClipWriter, WriteOptions};
use crate::footage::{FootageError, Reader, ReaderOptions};
use crate::scene::PictureSize;

/// Pictures that may wait between two threads, and that are drawn side by side.
const WAITING: usize = 3;
const SIDE_BY_SIDE: usize = 4;

/// Why a picture of the reel cannot be made.
#[derive(Debug, thiserror::Error)]
#[error(transparent)]
pub(super) enum ReelError {
    Footage(#[from] FootageError),
    Raster(#[from] RasterError),
    Still(#[from] StillError),
}

impl From<ReelError> for Failure {
    fn from(error: ReelError) -> Self {
        match error {
            ReelError::Footage(error) => error.into(),
            ReelError::Raster(error) => Self::new(error),
            ReelError::Still(error) => Self::new(error),
        }
    }
}

/// What was made.
pub(super) struct Made {
    pub seconds: f64,
    /// Damaged frames in whose place the one before was shown.
    pub held: u32,
}

/// A moment with the frame of each clip.
type Read<'a> = (&'a ReelMoment, Vec<Arc<RgbImage>>);

/// Writes the reel to `target`, which appears complete or not at all.
pub(super) fn make(
    shown: &[Shown],
    times: &ReelTimes,
    canvas: PictureSize,
    target: &Path,
    interrupt: &Interrupt,
) -> Result<Made, Failure> {
    let size = (canvas.width, canvas.height);
    let options = WriteOptions { threads: 0, ..WriteOptions::default() };
    let mut writer = ClipWriter::with_ticks(target, size, times.base, times.usual_gap, &options)?;
    let style = ProgressStyle::with_template("{bar:30} {pos} of {len} pictures, {eta} to go")
        .map_err(Failure::new)?;
    let bar = ProgressBar::new(times.moments.len() as u64).with_style(style);
    let held = AtomicU32::new(0);
    std::thread::scope(|scope| {
        let (give_frames, frames) = sync_channel(WAITING);
        let (give_pictures, pictures) = sync_channel(WAITING);
        scope.spawn(|| read(shown, times, &held, give_frames));
        scope.spawn(move || draw(shown, canvas, frames, give_pictures));
        for (moment, picture) in times.moments.iter().zip(pictures) {
            // Leaving here drops the writer with its unfinished file, and ends both threads.
            if interrupt.asked() {
                bar.finish_and_clear();
                let shown = target.display();
                let why = format!("stopped: the reel was not made, and `{shown}` is as it was");
                return Err(Failure::cancelled(why));
            }
            writer.write_at(moment.ticks, &picture?)?;
            bar.inc(1);
        }
        Ok(())
    })?;
    bar.finish_and_clear();
    writer.finish()?;
    let last = times.moments.last().map_or(0, |moment| moment.ticks);
    let seconds = times.base.seconds(last + i64::from(times.usual_gap));
    Ok(Made { seconds, held: held.into_inner() })
}

/// Reads the frames of every moment, in order; ends early when nobody wants them any more.
fn read<'a>(
    shown: &[Shown],
    times: &'a ReelTimes,
    held: &AtomicU32,
    give: SyncSender<Result<Read<'a>, ReelError>>,
) {
    let mut reels: Vec<FramesOf> = Vec::new();
    for shown in shown {
        match shown.chosen.clip.reader_with(&ReaderOptions::without_cache()) {
            Ok(reader) => reels.push(FramesOf { shown, reader, newest: None }),
            Err(error) => return drop(give.send(Err(error.into()))),
        }
    }
    for moment in &times.moments {
        let frames: Result<Vec<_>, ReelError> = reels
            .iter_mut()
            .zip(&moment.shown)
            .map(|(reel, index)| reel.frame(*index, held))
            .collect();
        let failed = frames.is_err();
        if give.send(frames.map(|frames| (moment, frames))).is_err() || failed {
            return;
        }
    }
}

/// The frames of one clip, each read once.
struct FramesOf<'a> {
    shown: &'a Shown<'a>,
    reader: Reader,
    newest: Option<(usize, Arc<RgbImage>)>,
}

impl FramesOf<'_> {
    fn frame(&mut self, index: usize, held: &AtomicU32) -> Result<Arc<RgbImage>, ReelError> {
        if let Some((newest, picture)) = &self.newest
            && *newest == index
        {
            return Ok(Arc::clone(picture));
        }
        let number = self.shown.chosen.clip_part.frames[index].number;
        let picture = match (self.reader.frame(number), &self.newest) {
            (Ok(frame), _) => Arc::new(frame.picture),
            // A player would go on showing the frame before, too.
            (Err(FootageError::FrameDamaged { .. }), Some((_, before))) => {
                held.fetch_add(1, Ordering::Relaxed);
                Arc::clone(before)
            }
            (Err(error), _) => return Err(error.into()),
        };
        self.newest = Some((index, Arc::clone(&picture)));
        Ok(picture)
    }
}

/// Draws what was read, a few pictures side by side, and gives them on in their order.
fn draw(
    shown: &[Shown],
    canvas: PictureSize,
    frames: Receiver<Result<Read, ReelError>>,
    give: SyncSender<Result<RgbImage, ReelError>>,
) {
    let side_by_side = rayon::current_num_threads().clamp(1, SIDE_BY_SIDE);
    while let Ok(first) = frames.recv() {
        let mut batch = vec![first];
        batch.extend(frames.iter().take(side_by_side - 1));
        let drawn: Vec<Result<RgbImage, ReelError>> = batch
            .into_par_iter()
            .map(|read| read.and_then(|(moment, frames)| picture(shown, canvas, moment, &frames)))
            .collect();
        for picture in drawn {
            if give.send(picture).is_err() {
                return;
            }
        }
    }
}

fn picture(
    shown: &[Shown],
    canvas: PictureSize,
    moment: &ReelMoment,
    frames: &[Arc<RgbImage>],
) -> Result<RgbImage, ReelError> {
    let paper = Theme::LIGHT.paper;
    let paper = Rgb([paper.red, paper.green, paper.blue]);
    let mut picture = RgbImage::from_pixel(canvas.width, canvas.height, paper);
    for ((shown, index), frame) in shown.iter().zip(&moment.shown).zip(frames) {
        paint_part(&mut picture, frame, &shown.slot);
        shown.lay_on(&mut picture, *index)?;
    }
    Ok(picture)
}
