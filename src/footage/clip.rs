//! Opening a clip: file to stream, packets to frames, facts and doubts.
//!
//! Opening reads every packet once and decodes none, so a long clip opens as fast as the disk delivers it.
//! Only where the container does not even know the picture's format is one picture decoded, to tell a damaged file
//! from a readable one. Invariant: an open clip has at least one frame, and frame numbers and times never change.

use std::panic::resume_unwind;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, OnceLock, PoisonError};

use ffmpeg_next as ff;

use super::check::{self, CheckReport};
use super::colour::{Colour, ColourTags, first_component};
use super::decode::{Decode, Pace, codec_name};
use super::doubt::FootageDoubt;
use super::error::FootageError;
use super::facts::{Capture, ClipFacts, Lens, PixelAspect, Rate, Scan, StreamNumbers};
use super::findings;
use super::hash;
use super::index::{self, Index, ScanNotes};
use super::orientation::Orientation;
use super::picture::Geometry;
use super::reader::{Reader, ReaderOptions};
use super::scan;
use super::source::Source;
use super::tags::Tags;
use crate::quantity::time::{FrameNumber, FrameTime, TimeBase};

/// How to open a clip.
#[derive(Clone, Debug, Default)]
pub struct OpenOptions {
    /// The stream to use; the best one if absent.
    pub stream: Option<usize>,
    /// Frames per second at which the camera recorded, where the file does not say or is wrong.
    pub capture_rate: Option<f64>,
    /// Leave the content hash out of the facts; `Clip::content_hash` computes it when it is wanted.
    pub without_hash: bool,
}

/// An open clip.
pub struct Clip {
    path: PathBuf,
    index: Arc<Index>,
    facts: ClipFacts,
    doubts: Vec<FootageDoubt>,
    geometry: Geometry,
    hash: OnceLock<String>,
    /// The source that was used for opening, for the first reader.
    parked: Mutex<Option<Source>>,
}

impl Clip {
    /// Opens a file, reads every packet and decodes none, and says what it found.
    pub fn open(path: impl AsRef<Path>, options: &OpenOptions) -> Result<Clip, FootageError> {
        let path = path.as_ref();
        check_capture_rate(options.capture_rate)?;
        let mut source = Source::open(path, options.stream)?;
        let parameters = source.stream().parameters();
        if ff::decoder::find(parameters.id()).is_none() {
            return Err(FootageError::NoDecoder {
                path: path.to_owned(),
                codec: codec_name(&parameters),
            });
        }
        // Hashing and reading packets touch the same bytes at about the same time, so the disk delivers them once.
        let (hash, packets) = std::thread::scope(|scope| {
            let hash = (!options.without_hash).then(|| scope.spawn(|| hash::of_file(path)));
            let packets = scan::read_packets(&mut source);
            // A panic in the thread is ours as well, not an error of the clip.
            let hash = hash.map(|hash| hash.join().unwrap_or_else(|ours| resume_unwind(ours)));
            (hash, packets)
        });
        let base = time_base(&source)?;
        let (index, notes) = index::build(&source, &packets, base);
        let packet_count = packets.len();
        drop(packets);
        let opened = Opened { path, options, index: Arc::new(index), notes, packet_count };
        opened.into_clip(source, hash.transpose()?)
    }

    /// The file, as it was given.
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// What the file says of itself.
    pub fn facts(&self) -> &ClipFacts {
        &self.facts
    }

    /// Reasons to trust its frames or times less.
    pub fn doubts(&self) -> &[FootageDoubt] {
        &self.doubts
    }

    /// How many frames it has; at least one.
    pub fn frame_count(&self) -> u32 {
        self.index.frames.len() as u32
    }

    /// The number of its last frame.
    pub fn last_frame(&self) -> FrameNumber {
        FrameNumber(self.frame_count() - 1)
    }

    /// The time the container publishes for the frame.
    pub fn time(&self, number: FrameNumber) -> Result<FrameTime, FootageError> {
        row(&self.index, &self.path, number).map(|row| self.index.time(row))
    }

    /// How long the frame is shown: until the next one, or what the container says of the last one.
    pub fn duration(&self, number: FrameNumber) -> Result<Option<FrameTime>, FootageError> {
        row(&self.index, &self.path, number)?;
        Ok(self.index.duration(number).map(|ticks| FrameTime::new(ticks, self.index.base)))
    }

    /// Seconds at the fence from the first frame to this one, with slow motion taken out.
    pub fn capture_seconds(&self, number: FrameNumber) -> Result<f64, FootageError> {
        let (first, time) = (self.time(FrameNumber(0))?, self.time(number)?);
        Ok(time.seconds_since(first) * self.facts.capture.time_scale)
    }

    /// Whether the frame can be decoded without any frame before it.
    pub fn is_random_access(&self, number: FrameNumber) -> Result<bool, FootageError> {
        row(&self.index, &self.path, number).map(|row| row.random_access)
    }

    /// The last frame shown at or before a time of the container's clock; the first frame if none is.
    pub fn frame_at(&self, seconds: f64) -> FrameNumber {
        let after =
            self.index.frames.iter().position(|row| self.index.base.seconds(row.ticks) > seconds);
        let after = after.unwrap_or(self.index.frames.len());
        FrameNumber(after.saturating_sub(1) as u32)
    }

    /// BLAKE3 of the file, computed at most once.
    pub fn content_hash(&self) -> Result<&str, FootageError> {
        if let Some(hash) = self.hash.get() {
            return Ok(hash);
        }
        let hash = hash::of_file(&self.path)?;
        Ok(self.hash.get_or_init(|| hash))
    }

    /// A reader of its frames with the usual options.
    pub fn reader(&self) -> Result<Reader, FootageError> {
        self.reader_with(&ReaderOptions::default())
    }

    /// A reader of its frames.
    pub fn reader_with(&self, options: &ReaderOptions) -> Result<Reader, FootageError> {
        let parked = self.parked.lock().unwrap_or_else(PoisonError::into_inner).take();
        let source = match parked {
            Some(source) => source,
            None => Source::open(&self.path, Some(self.facts.stream))?,
        };
        Reader::new(source, Arc::clone(&self.index), self.geometry, self.facts.colour, options)
    }

    /// Decodes the whole clip once and reports which frames cannot be read.
    pub fn check(&self) -> Result<CheckReport, FootageError> {
        check::check(&mut self.reader_with(&ReaderOptions::without_cache())?)
    }
}

/// The row of a frame, or the error that says where the clip ends.
pub fn row<'a>(
    index: &'a Index,
    path: &Path,
    number: FrameNumber,
) -> Result<&'a index::FrameRow, FootageError> {
    index.frames.get(number.0 as usize).ok_or_else(|| {
        let last = index.frames.len().saturating_sub(1);
        FootageError::FrameOutOfRange {
            path: path.to_owned(),
            frame: number,
            last: FrameNumber(last as u32),
            last_s: index.frames.get(last).map_or(0.0, |row| index.time(row).seconds()),
        }
    })
}

/// What is known after the packets were read.
struct Opened<'a> {
    path: &'a Path,
    options: &'a OpenOptions,
    index: Arc<Index>,
    notes: ScanNotes,
    packet_count: usize,
}

impl Opened<'_> {
    fn into_clip(self, source: Source, hash: Option<String>) -> Result<Clip, FootageError> {
        let stream = source.stream();
        let numbers = StreamNumbers::read(&stream);
        let mut colour_tags = ColourTags::of_stream(&stream.parameters());
        let promised = u64::try_from(stream.frames()).ok().filter(|count| *count > 0);
        let mut stored = (numbers.width, numbers.height);
        let mut source = source;
        let format_unknown =
            colour_tags.format == ff::format::Pixel::None || stored.0 == 0 || stored.1 == 0;
        if self.index.frames.is_empty() && self.packet_count == 0 && promised.is_none() {
            return Err(FootageError::NoFrames { path: self.path.to_owned() });
        }
        if format_unknown || self.index.frames.is_empty() {
            let picture;
            (source, picture) = self.first_picture(source, promised)?;
            colour_tags = ColourTags::of_picture(&picture);
            stored = (picture.width(), picture.height());
        }
        self.assemble(source, hash, numbers, colour_tags, promised, stored)
    }

    /// Decodes until something can be seen; where nothing can, the file is damaged.
    fn first_picture(
        &self,
        source: Source,
        promised: Option<u64>,
    ) -> Result<(Source, ff::frame::Video), FootageError> {
        let mut decode = Decode::new(source, self.index.held_back, 0)?;
        decode.start_at(0, Pace::Careful, &self.index)?;
        while let Some(decoded) = decode.next() {
            if self.index.frame_of(decoded.packet).is_some() {
                return Ok((decode.into_source(), decoded.picture));
            }
        }
        let promised = promised.unwrap_or(self.packet_count as u64);
        Err(FootageError::NothingReadable { path: self.path.to_owned(), promised })
    }

    fn assemble(
        self,
        source: Source,
        hash: Option<String>,
        numbers: StreamNumbers,
        colour_tags: ColourTags,
        promised: Option<u64>,
        stored: (u32, u32),
    ) -> Result<Clip, FootageError> {
        let stream = source.stream();
        let tags = Tags::read(source.input(), &stream);
        let (orientation, exact_turn) = findings::orientation(&stream);
        let colour = Colour::read(colour_tags, stored.1);
        let (aspect, geometry) = geometry(numbers.aspect, stored, orientation);
        let rate = Rate::of(&self.index);
        let facts = ClipFacts {
            container: source.input().format().name().to_owned(),
            codec: codec_name(&stream.parameters()),
            stream: source.stream_index(),
            size_bytes: hash::size_of_file(self.path)?,
            content_hash: hash.clone(),
            stored_width_px: stored.0,
            stored_height_px: stored.1,
            upright_width_px: geometry.upright().0,
            upright_height_px: geometry.upright().1,
            pixel_aspect: aspect,
            orientation,
            frames: self.index.frames.len() as u32,
            frames_promised: promised,
            frames_hidden: self.notes.hidden,
            first_time_s: findings::first_time_s(&self.index),
            last_time_s: findings::last_time_s(&self.index),
            duration_s: findings::duration_s(&self.index, rate),
            rate,
            capture: Capture::of(
                rate.map(|rate| rate.usual_hz),
                tags.capture_rate,
                self.options.capture_rate,
            ),
            bit_depth: first_component(colour_tags.format).map_or(8, |component| component.depth),
            colour,
            scan: self.scan(numbers),
            lens: Lens::from(&tags),
        };
        let doubts = findings::doubts(&findings::Findings {
            source: &source,
            index: &self.index,
            notes: &self.notes,
            facts: &facts,
            tags: &tags,
            stated_aspect: numbers.aspect,
            exact_turn,
        });
        Ok(Clip {
            path: self.path.to_owned(),
            index: self.index,
            facts,
            doubts,
            geometry,
            hash: hash.map_or_else(OnceLock::new, OnceLock::from),
            parked: Mutex::new(Some(source)),
        })
    }

    fn scan(&self, numbers: StreamNumbers) -> Scan {
        if self.notes.field_pairs > 0 { Scan::Interlaced } else { numbers.field_order }
    }
}

/// An aspect that no camera makes is not believed; a doubt says so.
fn geometry(
    stated: Option<PixelAspect>,
    stored: (u32, u32),
    orientation: Orientation,
) -> (PixelAspect, Geometry) {
    let aspect = stated.filter(|aspect| aspect.is_usual()).unwrap_or(PixelAspect::SQUARE);
    (aspect, Geometry { stored, square: aspect.square_size(stored), orientation })
}

fn check_capture_rate(given: Option<f64>) -> Result<(), FootageError> {
    match given {
        Some(given) if !(given > 0.0 && given <= 100_000.0) => {
            Err(FootageError::BadCaptureRate { given })
        }
        _ => Ok(()),
    }
}

fn time_base(source: &Source) -> Result<TimeBase, FootageError> {
    let raw = source.stream().time_base();
    let part = |number: i32| u32::try_from(number).unwrap_or(0);
    TimeBase::new(part(raw.numerator()), part(raw.denominator())).map_err(|_| {
        FootageError::NotAVideo {
            path: source.path().to_owned(),
            found: "its clock does not tick".to_owned(),
        }
    })
}
