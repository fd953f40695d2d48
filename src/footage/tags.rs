//! The few metadata tags that help a survey: at what rate the camera recorded, and with which lens.
//!
//! Tags are read by name, one by one, so that a position, a date or a person's name is never even looked at.
//! Invariant: no tag outside the lists below leaves this file.

use std::ffi::CStr;

use ffmpeg_next as ff;
use ffmpeg_next::ffi;

/// Endings of the names under which cameras store the rate of recording.
const CAPTURE_RATE_ENDINGS: [&str; 5] =
    ["capture.fps", "capturefps", "capture_fps", "captureframerate", "capture_frame_rate"];
/// Parts of names that say "slow motion" without a rate that can be used.
const SLOW_MOTION_PARTS: [&str; 3] = ["slowmotion", "slow_motion", "slow-motion"];
const MAKES: [&str; 3] = ["com.apple.quicktime.make", "com.android.manufacturer", "make"];
const MODELS: [&str; 3] = ["com.apple.quicktime.model", "com.android.model", "model"];
const FOCAL_LENGTH_ENDINGS: [&str; 2] = ["focal_length.35mm_equivalent", "focallengthin35mmformat"];
const LENS_MODELS: [&str; 1] = ["com.apple.quicktime.camera.lens_model"];

/// The tags found in one clip.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Tags {
    pub capture_rate: Option<f64>,
    pub says_slow_motion: bool,
    pub make: Option<String>,
    pub model: Option<String>,
    pub lens: Option<String>,
    pub focal_length_35mm_mm: Option<f64>,
}

impl Tags {
    /// Reads the tags of the file and of its video stream.
    pub fn read(input: &ff::format::context::Input, stream: &ff::Stream<'_>) -> Tags {
        let mut tags = Tags::default();
        for dictionary in [input.metadata(), stream.metadata()] {
            for_each_tag(&dictionary, |name, value| tags.take(name, value));
        }
        tags
    }

    fn take(&mut self, name: &str, value: &str) {
        let name = name.to_ascii_lowercase();
        let ends = |endings: &[&str]| endings.iter().any(|ending| name.ends_with(ending));
        let number = || {
            value.trim().parse::<f64>().ok().filter(|number| number.is_finite() && *number > 0.0)
        };
        let text = || Some(value.trim().to_owned()).filter(|text| !text.is_empty());
        if ends(&CAPTURE_RATE_ENDINGS) {
            self.capture_rate = self.capture_rate.or_else(number);
        } else if SLOW_MOTION_PARTS.iter().any(|part| name.contains(part)) {
            self.says_slow_motion = true;
        } else if ends(&FOCAL_LENGTH_ENDINGS) {
            self.focal_length_35mm_mm = self.focal_length_35mm_mm.or_else(number);
        } else if MAKES.contains(&name.as_str()) {
            self.make = self.make.take().or_else(text);
        } else if MODELS.contains(&name.as_str()) {
            self.model = self.model.take().or_else(text);
        } else if LENS_MODELS.contains(&name.as_str()) {
            self.lens = self.lens.take().or_else(text);
        }
    }
}

/// Visits every tag. Bytes that are not UTF-8 are replaced, which ffmpeg-next's own getter does not do.
fn for_each_tag(dictionary: &ff::DictionaryRef<'_>, mut visit: impl FnMut(&str, &str)) {
    let mut entry: *const ffi::AVDictionaryEntry = std::ptr::null();
    loop {
        // SAFETY: the dictionary lives as long as the borrowed wrapper; the empty key with IGNORE_SUFFIX walks all
        // entries, and each entry's key and value are NUL-terminated strings owned by the dictionary.
        let (name, value) = unsafe {
            entry = ffi::av_dict_get(
                dictionary.as_ptr(),
                c"".as_ptr(),
                entry,
                ffi::AV_DICT_IGNORE_SUFFIX,
            );
            if entry.is_null() {
                return;
            }
            (CStr::from_ptr((*entry).key), CStr::from_ptr((*entry).value))
        };
        visit(&name.to_string_lossy(), &value.to_string_lossy());
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rate_and_lens_are_read_and_a_position_is_not() {
        let mut tags = Tags::default();
        tags.take("com.android.capture.fps", "240.000000");
        tags.take("com.apple.quicktime.camera.focal_length.35mm_equivalent", "26");
        tags.take("com.apple.quicktime.location.ISO6709", "+12.5000+034.2500/");
        tags.take("com.apple.quicktime.model", " Phone 6 ");
        let expected = Tags {
            capture_rate: Some(240.0),
            focal_length_35mm_mm: Some(26.0),
            model: Some("Phone 6".to_owned()),
            ..Tags::default()
        };
        assert_eq!(tags, expected);
    }

    #[test]
    fn a_rate_that_is_no_number_is_no_rate() {
        let mut tags = Tags::default();
        tags.take("com.android.capture.fps", "fast");
        tags.take("SlowMotion_Data", "x");
        assert_eq!((tags.capture_rate, tags.says_slow_motion), (None, true));
    }
}
