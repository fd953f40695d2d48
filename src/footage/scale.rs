//! Changing pixel format and size with ffmpeg's scaler, in several threads, into a picture that is used again.
//!
//! Invariant: a scaler does one fixed conversion; the caller makes a new one when anything about the input changes.
//! The result lives in memory of the scaler's own, with padded rows, because the scaler may write past a row's end.

use ffmpeg_next as ff;
use ffmpeg_next::ffi;
use ffmpeg_next::software::scaling::Flags;

use super::colour::{Matrix, plain_format};

/// More threads than this do not make one picture ready sooner.
const MOST_THREADS: usize = 8;

/// One conversion.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Conversion {
    pub from: ff::format::Pixel,
    pub from_size: (u32, u32),
    pub to: ff::format::Pixel,
    pub to_size: (u32, u32),
    pub matrix: Matrix,
    pub from_full_range: bool,
    pub to_full_range: bool,
}

pub struct Scaler {
    context: *mut ffi::SwsContext,
    conversion: Conversion,
    result: ff::frame::Video,
}

// SAFETY: the context is a heap object tied to no thread, owned by this value alone and only used through `&mut`.
unsafe impl Send for Scaler {}

impl Scaler {
    pub fn new(conversion: Conversion) -> Result<Scaler, ff::Error> {
        let (width, height) = conversion.to_size;
        // SAFETY: `sws_alloc_context` gives a context or null; it is handed to `Scaler` at once, which frees it.
        let context = unsafe { ffi::sws_alloc_context() };
        if context.is_null() {
            return Err(ff::Error::Other { errno: ff::error::ENOMEM });
        }
        let scaler = Scaler {
            context,
            conversion,
            result: ff::frame::Video::new(conversion.to, width, height),
        };
        // SAFETY: the picture was just made; a failed allocation leaves it without data.
        if unsafe { scaler.result.is_empty() } {
            return Err(ff::Error::Other { errno: ff::error::ENOMEM });
        }
        scaler.set_up()?;
        Ok(scaler)
    }

    pub fn conversion(&self) -> &Conversion {
        &self.conversion
    }

    /// Converts one picture; the result is valid until the next call.
    pub fn run(&mut self, picture: &ff::frame::Video) -> Result<&ff::frame::Video, ff::Error> {
        let found = (picture.format(), (picture.width(), picture.height()));
        if found != (self.conversion.from, self.conversion.from_size) {
            return Err(ff::Error::InputChanged);
        }
        // SAFETY: both pictures are allocated in the formats and sizes the context was set up for (checked above and
        // in `new`); the context is ours.
        let done = unsafe {
            ffi::sws_scale_frame(self.context, self.result.as_mut_ptr(), picture.as_ptr())
        };
        if done < 0 {
            return Err(ff::Error::from(done));
        }
        Ok(&self.result)
    }

    fn set_up(&self) -> Result<(), ff::Error> {
        let conversion = &self.conversion;
        let threads =
            std::thread::available_parallelism().map_or(1, |count| count.get().min(MOST_THREADS));
        let flags =
            Flags::BICUBIC | Flags::ACCURATE_RND | Flags::FULL_CHR_H_INT | Flags::FULL_CHR_H_INP;
        for (name, value) in [
            (c"srcw", i64::from(conversion.from_size.0)),
            (c"srch", i64::from(conversion.from_size.1)),
            (c"src_format", raw_format(plain_format(conversion.from))),
            (c"dstw", i64::from(conversion.to_size.0)),
            (c"dsth", i64::from(conversion.to_size.1)),
            (c"dst_format", raw_format(conversion.to)),
            (c"sws_flags", i64::from(flags.bits())),
            (c"threads", threads as i64),
        ] {
            // SAFETY: the context was allocated in `new` and starts with its option class; the names are constants.
            let set = unsafe { ffi::av_opt_set_int(self.context.cast(), name.as_ptr(), value, 0) };
            if set < 0 {
                return Err(ff::Error::from(set));
            }
        }
        // SAFETY: all sizes and formats are set; coefficient tables are constants inside the library.
        unsafe {
            let started =
                ffi::sws_init_context(self.context, std::ptr::null_mut(), std::ptr::null_mut());
            if started < 0 {
                return Err(ff::Error::from(started));
            }
            let table = ffi::sws_getCoefficients(coefficients(conversion.matrix));
            let (from_full, to_full) = (conversion.from_full_range, conversion.to_full_range);
            // Returns -1 where there is nothing to set (RGB to RGB); that is no failure.
            ffi::sws_setColorspaceDetails(
                self.context,
                table,
                i32::from(from_full),
                table,
                i32::from(to_full),
                0,
                1 << 16,
                1 << 16,
            );
        }
        Ok(())
    }
}

impl Drop for Scaler {
    fn drop(&mut self) {
        // SAFETY: allocated in `new`, freed nowhere else.
        unsafe { ffi::sws_freeContext(self.context) };
    }
}

fn raw_format(format: ff::format::Pixel) -> i64 {
    i64::from(ffi::AVPixelFormat::from(format) as i32)
}

fn coefficients(matrix: Matrix) -> i32 {
    match matrix {
        Matrix::Bt709 => ffi::SWS_CS_ITU709,
        Matrix::Bt601 | Matrix::Rgb => ffi::SWS_CS_ITU601,
        Matrix::Bt2020 => ffi::SWS_CS_BT2020,
        Matrix::Smpte240m => ffi::SWS_CS_SMPTE240M,
        Matrix::Fcc => ffi::SWS_CS_FCC,
    }
}
