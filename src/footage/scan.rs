//! Reads every packet of the clip once and notes what the index needs; no picture is decoded.
//!
//! Invariant: one `Coded` per packet, in decode order, so that a packet's number is its place in the list.

use ffmpeg_next as ff;
use ffmpeg_next::codec::Id;
use ffmpeg_next::ffi;
use ffmpeg_next::packet::Ref;

use super::bitstream::{self, Coding, Glimpse, Split};
use super::parser::{Field, Headers, PictureParser};
use super::source::Source;

/// One packet as the container and the picture headers describe it.
#[derive(Clone, Copy, Debug)]
pub struct Coded {
    pub pts: Option<i64>,
    pub dts: Option<i64>,
    pub duration: i64,
    pub position: i64,
    pub size: u32,
    pub key: bool,
    /// An edit list of the container hides the picture.
    pub hidden: bool,
    pub damaged: bool,
    pub glimpse: Glimpse,
    pub headers: Headers,
}

/// All packets of the chosen stream.
pub fn read_packets(source: &mut Source) -> Vec<Coded> {
    let parameters = source.stream().parameters();
    let coding = coding_of(&parameters);
    let mut parser = PictureParser::for_stream(&parameters);
    let mut packets = Vec::new();
    while let Some((_, packet)) = source.read() {
        packets.push(describe(&packet, coding, parser.as_mut()));
    }
    packets
}

fn describe(packet: &ff::Packet, coding: Coding, parser: Option<&mut PictureParser>) -> Coded {
    let glimpse = bitstream::look(coding, packet.data().unwrap_or(&[]));
    let headers = parser.map(|parser| parser.read(packet)).unwrap_or(Headers {
        order: None,
        bidirectional: None,
        field: Field::Whole,
    });
    Coded {
        pts: packet.pts(),
        dts: packet.dts(),
        duration: packet.duration(),
        position: packet.position() as i64,
        size: packet.size() as u32,
        key: packet.is_key(),
        hidden: is_hidden(packet),
        damaged: packet.is_corrupt() || glimpse.cut_short,
        glimpse,
        headers,
    }
}

/// Whether the demuxer asks for the picture to be decoded but not shown.
fn is_hidden(packet: &ff::Packet) -> bool {
    // SAFETY: reads one plain field of a packet we hold; ffmpeg-next has no name for this flag.
    unsafe { (*packet.as_ptr()).flags & ffi::AV_PKT_FLAG_DISCARD != 0 }
}

fn coding_of(parameters: &ff::codec::Parameters) -> Coding {
    match parameters.id() {
        Id::H264 => Coding::H264(Split::of_h264(config_bytes(parameters))),
        Id::HEVC => Coding::Hevc(Split::of_hevc(config_bytes(parameters))),
        Id::VP8 => Coding::Vp8,
        Id::VP9 => Coding::Vp9,
        _ => Coding::Other,
    }
}

/// The codec configuration that the container keeps beside the packets.
fn config_bytes(parameters: &ff::codec::Parameters) -> &[u8] {
    // SAFETY: `extradata` is null or points to `extradata_size` bytes owned by the parameters, which outlive the
    // returned slice; ffmpeg-next has no getter for them.
    unsafe {
        let raw = &*parameters.as_ptr();
        if raw.extradata.is_null() || raw.extradata_size <= 0 {
            return &[];
        }
        std::slice::from_raw_parts(raw.extradata, raw.extradata_size as usize)
    }
}
