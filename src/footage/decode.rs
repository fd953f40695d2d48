//! A running decoder: packets in, numbered pictures out.
//!
//! Packets carry their own number where a time would be, and decoders hand it through to the picture, so pictures
//! are told apart without trusting any time in the file.
//!
//! There are two paces. *Fast* decodes several frames at once, and treats any damage as an error of its packet, which
//! comes out before every picture that refers to it. *Careful* decodes one frame at a time and lets the decoder fill
//! in damaged parts: with several threads the filling depends on which thread was first, so the same frame would not
//! always have the same pixels. Invariant: a careful decode starts with a fresh decoder, so what comes out depends on
//! its start packet alone; every call of `next` makes progress or ends, also on damaged data.

use ffmpeg_next as ff;
use ffmpeg_next::codec::threading;

use super::error::FootageError;
use super::ffmpeg;
use super::index::Index;
use super::source::Source;

/// A decoder that fails this often without a picture or a packet in between is not going to recover.
const FAILURES_IN_A_ROW: u32 = 4096;

/// One decoded picture, as the decoder gives it.
pub struct Decoded {
    pub packet: u32,
    pub picture: ff::frame::Video,
    /// Parts of the picture were damaged and are guessed.
    pub concealed: bool,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Pace {
    Fast,
    Careful,
}

pub struct Decode {
    source: Source,
    decoder: ff::decoder::Video,
    held_back: usize,
    threads: usize,
    pace: Pace,
    start: u32,
    waiting: Option<ff::Packet>,
    draining: bool,
    ended: bool,
    errors: u32,
}

impl Decode {
    /// A fast decoder for the source, at its first packet. 0 threads let ffmpeg choose.
    pub fn new(source: Source, held_back: usize, threads: usize) -> Result<Decode, FootageError> {
        let decoder = open_decoder(&source, held_back, threads, Pace::Fast)?;
        let start = source.next();
        Ok(Decode {
            source,
            decoder,
            held_back,
            threads,
            pace: Pace::Fast,
            start,
            waiting: None,
            draining: false,
            ended: false,
            errors: 0,
        })
    }

    /// Forgets all pictures in flight and goes on from `packet`.
    pub fn start_at(&mut self, packet: u32, pace: Pace, index: &Index) -> Result<(), FootageError> {
        self.waiting = None;
        self.draining = false;
        self.ended = true;
        if pace == self.pace && pace == Pace::Fast {
            self.decoder.flush();
        } else {
            self.decoder = open_decoder(&self.source, self.held_back, self.threads, pace)?;
            self.pace = pace;
        }
        self.source.position_at(packet, index)?;
        self.ended = false;
        self.start = packet;
        Ok(())
    }

    /// The packet this decode began with.
    pub fn start(&self) -> u32 {
        self.start
    }

    pub fn pace(&self) -> Pace {
        self.pace
    }

    /// The packet to be decoded next.
    pub fn fed(&self) -> u32 {
        self.source.next() - u32::from(self.waiting.is_some())
    }

    pub fn ended(&self) -> bool {
        self.ended
    }

    /// How often the decoder has complained so far.
    pub fn errors(&self) -> u32 {
        self.errors
    }

    /// The most packets between one that is decoded and the newest that was fed.
    pub fn depth(&self) -> u32 {
        // ffmpeg never runs more than 16 threads by itself, and takes one packet more than it has threads.
        (if self.threads == 0 { 16 } else { self.threads as u32 }) + 2
    }

    /// The next picture, or `None` at the end of the clip.
    pub fn next(&mut self) -> Option<Decoded> {
        let mut failures = 0;
        while !self.ended && failures < FAILURES_IN_A_ROW {
            let mut picture = ff::frame::Video::empty();
            match self.decoder.receive_frame(&mut picture) {
                Ok(()) => {
                    let Some(packet) = picture.pts().and_then(|pts| u32::try_from(pts).ok()) else {
                        continue;
                    };
                    let concealed = picture.is_corrupt() || picture.has_decode_errors();
                    return Some(Decoded { packet, picture, concealed });
                }
                Err(ff::Error::Other { errno }) if errno == ff::error::EAGAIN => {
                    if self.feed() {
                        failures = 0;
                    } else {
                        failures += 1;
                    }
                }
                Err(ff::Error::Eof) => self.ended = true,
                Err(_) => {
                    self.errors += 1;
                    failures += 1;
                }
            }
        }
        self.ended = true;
        None
    }

    /// Gives the decoder one more packet, or the news that there are no more. False if it took neither.
    fn feed(&mut self) -> bool {
        if self.draining {
            return false;
        }
        let packet = self.waiting.take().or_else(|| self.source.read().map(numbered));
        let Some(packet) = packet else {
            self.draining = true;
            return self.decoder.send_eof().is_ok();
        };
        match self.decoder.send_packet(&packet) {
            Ok(()) => true,
            Err(ff::Error::Other { errno }) if errno == ff::error::EAGAIN => {
                self.waiting = Some(packet);
                false
            }
            Err(_) => {
                self.errors += 1;
                true
            }
        }
    }

    pub fn into_source(self) -> Source {
        self.source
    }
}

/// Puts the packet's number where its times were.
fn numbered((number, mut packet): (u32, ff::Packet)) -> ff::Packet {
    packet.set_pts(Some(i64::from(number)));
    packet.set_dts(Some(i64::from(number)));
    packet
}

fn open_decoder(
    source: &Source,
    held_back: usize,
    threads: usize,
    pace: Pace,
) -> Result<ff::decoder::Video, FootageError> {
    let path = source.path();
    let parameters = source.stream().parameters();
    let codec = ff::decoder::find(parameters.id()).ok_or_else(|| FootageError::NoDecoder {
        path: path.to_owned(),
        codec: codec_name(&parameters),
    })?;
    let mut context = ff::codec::Context::from_parameters(parameters)
        .map_err(|cause| ffmpeg::error(path, "prepare the decoder for", cause))?;
    context.set_threading(threading::Config {
        kind: threading::Type::Frame,
        count: if pace == Pace::Fast { threads } else { 1 },
        ..threading::Config::default()
    });
    hold_back(&mut context, held_back);
    let mut decoder = context.decoder();
    if pace == Pace::Fast {
        decoder.check(ff::codec::decoder::Check::EXPLODE);
    }
    let opened = decoder.open_as(codec).and_then(|opened| opened.video());
    opened.map_err(|cause| ffmpeg::error(path, "start the decoder for", cause))
}

/// Tells the decoder how many frames it must hold back. Left to guess, an H.264 decoder drops the first frames that
/// turn out to be late, and does so differently after a seek.
fn hold_back(context: &mut ff::codec::Context, frames: usize) {
    // SAFETY: the context is ours and not open yet; `has_b_frames` is the documented place for this number, and
    // ffmpeg-next has no setter for it.
    unsafe {
        let raw = context.as_mut_ptr();
        (*raw).has_b_frames = (*raw).has_b_frames.max(frames.min(16) as i32);
    }
}

/// The codec's short name, or its four-letter tag where ffmpeg does not know it.
pub fn codec_name(parameters: &ff::codec::Parameters) -> String {
    if parameters.id() != ff::codec::Id::None {
        return parameters.id().name().to_owned();
    }
    // SAFETY: reads one plain number of parameters that we hold; ffmpeg-next has no getter for it.
    let tag = unsafe { (*parameters.as_ptr()).codec_tag };
    let letters = tag.to_le_bytes();
    match letters.iter().all(u8::is_ascii_graphic) {
        true => letters.iter().map(|letter| char::from(*letter)).collect(),
        false => format!("tag {tag:#010x}"),
    }
}
