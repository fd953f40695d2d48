//! One open clip file, read packet by packet, where every packet of the video stream has a number.
//!
//! A packet's number is its place in the file's decode order, counted from 0. The decoder is later told that number
//! instead of a time, so a decoded picture can always be traced to its packet, however strange the file's times are.
//! After a seek the number is found again by comparing the packet with the index (place, size, times); where a
//! container cannot seek, or lands where nothing matches, the file is opened afresh and counted from its start.
//! Invariant: `next` is the number of the packet that `read` returns next. Other streams are never read.
//! ffmpeg gets bytes through us, not a name, so no file name or playlist can make it open something else.

use std::fs::File;
use std::path::{Path, PathBuf};

use ffmpeg_next as ff;
use ffmpeg_next::ffi;
use ffmpeg_next::format::context::{Input, StreamIo};

use super::error::FootageError;
use super::ffmpeg;
use super::index::Index;

/// How many packets ahead it is cheaper to read on than to seek.
const READ_ON: u32 = 8;
/// How many packets after a seek may be unknown (cut pieces in a transport stream) before the seek is given up.
const UNKNOWN_AFTER_SEEK: usize = 400;
/// How many reads in a row may fail before the file counts as ended.
const FAILED_READS: usize = 1000;
const BUFFER_BYTES: usize = 256 * 1024;

pub struct Source {
    path: PathBuf,
    input: Input,
    stream: usize,
    next: u32,
    held: Option<ff::Packet>,
}

impl Source {
    /// Opens the file and chooses its video stream: `asked`, or the one ffmpeg thinks best.
    pub fn open(path: &Path, asked: Option<usize>) -> Result<Source, FootageError> {
        ffmpeg::start();
        check_file(path)?;
        let mut input = open_input(path)?;
        let stream = choose_stream(path, &input, asked)?;
        read_only(&mut input, stream);
        Ok(Source { path: path.to_owned(), input, stream, next: 0, held: None })
    }

    pub fn path(&self) -> &Path {
        &self.path
    }

    pub fn input(&self) -> &Input {
        &self.input
    }

    pub fn stream_index(&self) -> usize {
        self.stream
    }

    #[expect(clippy::expect_used, reason = "`open` chose the stream from this very file")]
    pub fn stream(&self) -> ff::Stream<'_> {
        self.input.stream(self.stream).expect("the stream was chosen from this file")
    }

    /// The number of the packet that `read` gives next.
    pub fn next(&self) -> u32 {
        self.next
    }

    /// The next packet of the stream and its number; `None` at the end of the file.
    pub fn read(&mut self) -> Option<(u32, ff::Packet)> {
        let packet = match self.held.take() {
            Some(packet) => packet,
            None => self.read_raw()?,
        };
        let number = self.next;
        self.next = self.next.checked_add(1)?;
        Some((number, packet))
    }

    /// Makes packet `number` the next one to be read.
    pub fn position_at(&mut self, number: u32, index: &Index) -> Result<(), FootageError> {
        let ahead = self.next <= number && number - self.next <= READ_ON;
        if !ahead && !self.seek_near(number, index) {
            *self = Source::open(&self.path, Some(self.stream))?;
        }
        while self.next < number {
            if self.read().is_none() {
                return Err(FootageError::Changed { path: self.path.clone() });
            }
        }
        Ok(())
    }

    /// Tries ever earlier places until the packet found there is known and not after `number`.
    fn seek_near(&mut self, number: u32, index: &Index) -> bool {
        let Some(target) = index.packets.get(number as usize).and_then(|row| row.seek_ticks())
        else {
            return false;
        };
        for seconds_earlier in [0.0, 1.0, 4.0, 16.0] {
            let ticks = target.saturating_sub(index.base.ticks_near(seconds_earlier));
            if self.seek_to(ticks) && self.find_place(number, index) {
                return true;
            }
        }
        false
    }

    fn seek_to(&mut self, ticks: i64) -> bool {
        self.held = None;
        // SAFETY: the context is open and owned by `self`, and the stream index is one of its own. ffmpeg-next can
        // only seek on the clock of the whole file, which is too coarse to land on one packet.
        unsafe {
            ffi::av_seek_frame(
                self.input.as_mut_ptr(),
                self.stream as i32,
                ticks,
                ffi::AVSEEK_FLAG_BACKWARD,
            ) >= 0
        }
    }

    /// Reads until a packet is known from the index; keeps it as the next one.
    fn find_place(&mut self, number: u32, index: &Index) -> bool {
        for _ in 0..UNKNOWN_AFTER_SEEK {
            let Some(packet) = self.read_raw() else { return false };
            if let Some(found) = index.number_of(&packet) {
                self.next = found;
                self.held = Some(packet);
                return found <= number;
            }
        }
        false
    }

    fn read_raw(&mut self) -> Option<ff::Packet> {
        let mut failed = 0;
        while failed < FAILED_READS {
            let mut packet = ff::Packet::empty();
            match packet.read(&mut self.input) {
                Ok(()) if packet.stream() == self.stream && packet.size() > 0 => {
                    return Some(packet);
                }
                Ok(()) => {}
                Err(ff::Error::Eof) => return None,
                // A demuxer can step over a damaged part; an I/O error comes back until the count runs out.
                Err(_) => failed += 1,
            }
        }
        None
    }
}

fn check_file(path: &Path) -> Result<(), FootageError> {
    let path_buf = || path.to_owned();
    let facts = std::fs::metadata(path).map_err(|reason| match reason.kind() {
        std::io::ErrorKind::NotFound => FootageError::Missing { path: path_buf() },
        _ => FootageError::Unreadable { path: path_buf(), reason },
    })?;
    if facts.is_dir() {
        return Err(FootageError::Directory { path: path_buf() });
    }
    if !facts.is_file() {
        return Err(FootageError::NotAFile { path: path_buf() });
    }
    if facts.len() == 0 {
        return Err(FootageError::Empty { path: path_buf() });
    }
    Ok(())
}

fn open_input(path: &Path) -> Result<Input, FootageError> {
    let file = File::open(path)
        .map_err(|reason| FootageError::Unreadable { path: path.to_owned(), reason })?;
    let bytes = StreamIo::from_read_seek_with_capacity(file, BUFFER_BYTES)
        .map_err(|cause| ffmpeg::error(path, "open", cause))?;
    let mut options = ff::Dictionary::new();
    // No protocol has this name, so a playlist posing as a clip cannot reach other files or the network.
    options.set("protocol_whitelist", "none");
    ff::format::input_from_stream(bytes, None, Some(options)).map_err(|cause| match cause {
        ff::Error::InvalidData => FootageError::NotAVideo {
            path: path.to_owned(),
            found: "it is damaged or of an unknown kind".to_owned(),
        },
        other => ffmpeg::error(path, "open", other),
    })
}

fn choose_stream(path: &Path, input: &Input, asked: Option<usize>) -> Result<usize, FootageError> {
    let not_a_video = |found: String| FootageError::NotAVideo { path: path.to_owned(), found };
    if input.format().name().ends_with("_pipe") {
        return Err(not_a_video("it is a still picture".to_owned()));
    }
    let videos = video_streams(input);
    let Some(&first) = videos.first() else {
        return Err(not_a_video(describe_streams(input)));
    };
    if let Some(asked) = asked {
        return match videos.contains(&asked) {
            true => Ok(asked),
            false => Err(FootageError::NoSuchStream {
                path: path.to_owned(),
                asked,
                available: match videos.as_slice() {
                    [only] => format!("its only video stream is {only}"),
                    _ => {
                        let numbers: Vec<String> = videos.iter().map(usize::to_string).collect();
                        format!("its video streams are {}", numbers.join(", "))
                    }
                },
            }),
        };
    }
    let best = input.streams().best(ff::media::Type::Video).map(|stream| stream.index());
    Ok(best.filter(|index| videos.contains(index)).unwrap_or(first))
}

/// The streams that hold moving pictures; cover pictures are left out.
pub fn video_streams(input: &Input) -> Vec<usize> {
    use ff::format::stream::Disposition;
    input
        .streams()
        .filter(|stream| stream.parameters().medium() == ff::media::Type::Video)
        .filter(|stream| !stream.disposition().contains(Disposition::ATTACHED_PIC))
        .map(|stream| stream.index())
        .collect()
}

fn describe_streams(input: &Input) -> String {
    let kinds: Vec<&str> = input
        .streams()
        .map(|stream| match stream.parameters().medium() {
            ff::media::Type::Video => "a cover picture",
            ff::media::Type::Audio => "sound",
            ff::media::Type::Subtitle => "subtitles",
            _ => "data",
        })
        .collect();
    if kinds.is_empty() {
        return "it holds no streams".to_owned();
    }
    format!("it holds {}", kinds.join(", "))
}

/// Lets the demuxer skip every stream but one.
fn read_only(input: &mut Input, keep: usize) {
    for index in 0..input.nb_streams() as usize {
        let Some(mut stream) = input.stream_mut(index) else {
            continue;
        };
        if index != keep {
            // SAFETY: the stream belongs to the open context, and `discard` is the field the caller is meant to set;
            // ffmpeg-next can read it but not set it.
            unsafe { (*stream.as_mut_ptr()).discard = ffi::AVDiscard::AVDISCARD_ALL };
        }
    }
}
