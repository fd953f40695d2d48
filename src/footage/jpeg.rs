//! Pictures as JPEG files, by ffmpeg's own encoder.
//!
//! Invariant: one encoder for one size; a new one where the size changes. Baseline, 4:2:0, JFIF.

use ff::codec::encoder;
use ff::format::Pixel;
use ffmpeg_next as ff;

use super::jpeg_planes::JpegPlanes;

/// Coarseness of the numbers kept, 2 finest to 31: at 3 no block is seen at eight times the size.
const COARSENESS: i32 = 3;

/// Makes JPEG files.
#[derive(Default)]
pub struct JpegMaker {
    ready: Option<Ready>,
}

struct Ready {
    encoder: encoder::Video,
    picture: ff::frame::Video,
}

impl JpegMaker {
    /// The file of a picture.
    pub fn make(&mut self, planes: &JpegPlanes) -> Result<Vec<u8>, ff::Error> {
        let (width, height) = (planes.width as u32, planes.height as u32);
        let fits =
            |ready: &Ready| (ready.picture.width(), ready.picture.height()) == (width, height);
        let ready = match self.ready.take() {
            Some(ready) if fits(&ready) => ready,
            _ => Ready::new(width, height)?,
        };
        self.ready.insert(ready).encode(planes)
    }
}

impl Ready {
    fn new(width: u32, height: u32) -> Result<Self, ff::Error> {
        let codec = encoder::find(ff::codec::Id::MJPEG).ok_or(ff::Error::EncoderNotFound)?;
        let mut video = ff::codec::Context::new_with_codec(codec).encoder().video()?;
        video.set_width(width);
        video.set_height(height);
        video.set_format(Pixel::YUVJ420P);
        video.set_time_base(ff::Rational::new(1, 25));
        // With a pixel shape the encoder writes the JFIF header that says how to read the numbers.
        video.set_aspect_ratio(ff::Rational::new(1, 1));
        video.set_flags(ff::codec::Flags::QSCALE | ff::codec::Flags::BITEXACT);
        video.set_global_quality(COARSENESS * ff::ffi::FF_QP2LAMBDA);
        let mut threading = ff::codec::threading::Config::kind(ff::codec::threading::Type::Slice);
        threading.count = 1;
        video.set_threading(threading);
        Ok(Self {
            encoder: video.open()?,
            picture: ff::frame::Video::new(Pixel::YUVJ420P, width, height),
        })
    }

    fn encode(&mut self, planes: &JpegPlanes) -> Result<Vec<u8>, ff::Error> {
        let half = planes.width.div_ceil(2);
        for (plane, bytes, width) in
            [(0, &planes.luma, planes.width), (1, &planes.blue, half), (2, &planes.red, half)]
        {
            let stride = self.picture.stride(plane);
            let rows = self.picture.data_mut(plane).chunks_mut(stride);
            for (to, from) in rows.zip(bytes.chunks(width)) {
                to[..width].copy_from_slice(from);
            }
        }
        // SAFETY: a plain field of a picture that is ours; ffmpeg-next has no setter for it.
        unsafe { (*self.picture.as_mut_ptr()).quality = COARSENESS * ff::ffi::FF_QP2LAMBDA };
        self.encoder.send_frame(&self.picture)?;
        let mut packet = ff::Packet::empty();
        self.encoder.receive_packet(&mut packet)?;
        Ok(packet.data().unwrap_or_default().to_vec())
    }
}
