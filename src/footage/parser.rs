//! ffmpeg's parser for coded pictures: picture order, field or frame, predicted from both sides or not.
//!
//! Reading headers costs microseconds where decoding costs milliseconds, and gives the order in which pictures are
//! shown even where the container has lost it. Only codecs that reorder pictures need it.
//! Invariant: what the parser did not find for this very packet is `None`, never a leftover of the packet before.

use ffmpeg_next as ff;
use ffmpeg_next::ffi;

/// A picture may be coded as two fields in two packets.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Field {
    Whole,
    Top,
    Bottom,
}

/// What the headers of one coded picture say.
#[derive(Clone, Copy, Debug)]
pub struct Headers {
    /// Picture order count, counted from the last restart of the order.
    pub order: Option<i32>,
    /// A B picture of a codec with the classic I, P, B order.
    pub bidirectional: Option<bool>,
    pub field: Field,
}

pub struct PictureParser {
    parser: *mut ffi::AVCodecParserContext,
    context: ff::codec::Context,
}

impl PictureParser {
    /// A parser for the stream, or `None` where its codec never reorders pictures or has no parser.
    pub fn for_stream(parameters: &ff::codec::Parameters) -> Option<PictureParser> {
        if !reorders(parameters.id()) {
            return None;
        }
        let context = ff::codec::Context::from_parameters(parameters.clone()).ok()?;
        // SAFETY: `av_parser_init` takes any codec id and returns null where it has no parser.
        let parser = unsafe { ffi::av_parser_init(ffi::AVCodecID::from(parameters.id()) as i32) };
        if parser.is_null() {
            return None;
        }
        // SAFETY: the parser was just made and is ours alone.
        unsafe { (*parser).flags |= ffi::PARSER_FLAG_COMPLETE_FRAMES };
        Some(PictureParser { parser, context })
    }

    pub fn read(&mut self, packet: &ff::Packet) -> Headers {
        let data = packet.data().unwrap_or(&[]);
        let (mut out, mut out_size) = (std::ptr::null_mut(), 0);
        // SAFETY: parser and context live as long as `self`; packets from the demuxer are padded as the parser needs;
        // in complete-frames mode the parser keeps no pointer to the data. The three fields set before the call are
        // outputs only, so marking them makes a leftover visible.
        let (order, kind, structure) = unsafe {
            (*self.parser).output_picture_number = i32::MIN;
            (*self.parser).pict_type = 0;
            (*self.parser).picture_structure =
                ffi::AVPictureStructure::AV_PICTURE_STRUCTURE_UNKNOWN;
            ffi::av_parser_parse2(
                self.parser,
                self.context.as_mut_ptr(),
                &mut out,
                &mut out_size,
                data.as_ptr(),
                i32::try_from(data.len()).unwrap_or(0),
                packet.pts().unwrap_or(ffi::AV_NOPTS_VALUE),
                packet.dts().unwrap_or(ffi::AV_NOPTS_VALUE),
                packet.position() as i64,
            );
            let parser = &*self.parser;
            (parser.output_picture_number, parser.pict_type, parser.picture_structure)
        };
        Headers {
            order: Some(order).filter(|order| *order != i32::MIN),
            bidirectional: (kind != 0)
                .then_some(kind == ffi::AVPictureType::AV_PICTURE_TYPE_B as i32),
            field: match structure {
                ffi::AVPictureStructure::AV_PICTURE_STRUCTURE_TOP_FIELD => Field::Top,
                ffi::AVPictureStructure::AV_PICTURE_STRUCTURE_BOTTOM_FIELD => Field::Bottom,
                _ => Field::Whole,
            },
        }
    }
}

impl Drop for PictureParser {
    fn drop(&mut self) {
        // SAFETY: made by `av_parser_init` in `for_stream`, and closed nowhere else.
        unsafe { ffi::av_parser_close(self.parser) };
    }
}

/// Whether the codec can show pictures in another order than it codes them.
pub fn reorders(id: ff::codec::Id) -> bool {
    // SAFETY: the descriptor table is constant; null means an unknown codec, which is taken to reorder.
    unsafe {
        let descriptor = ffi::avcodec_descriptor_get(id.into());
        descriptor.is_null() || (*descriptor).props & ffi::AV_CODEC_PROP_REORDER != 0
    }
}
