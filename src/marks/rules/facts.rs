//! Rules of the version, the clip, the round and the camera.

use super::limits::{
    CAMERA_HEIGHT, CAPTURE, DISTORTION, FOCAL, FRAME_GAP, FRAME_TIME, PICTURE_SIDE, ROLL, SLOPE,
    SWAY,
};
use super::{Checker, Rule, Subject};
use crate::marks::camera_prior::Motion;
use crate::marks::file::VERSION;

impl Checker<'_> {
    pub(super) fn check_facts(&mut self) {
        let found = self.file.groundline_marks;
        if found != VERSION {
            self.breach(Subject::File, Rule::Version { found, needed: VERSION });
        }
        self.check_clip();
        self.check_known_frames();
        self.check_round();
        self.check_camera();
    }

    fn check_clip(&mut self) {
        let clip = &self.file.clip;
        for (what, is_empty) in [
            ("name of its file", clip.file.is_empty()),
            ("list of its frames", clip.frame_count == 0),
        ] {
            if is_empty {
                self.breach(Subject::Clip, Rule::Empty { what });
            }
        }
        let is_hash = clip.blake3.len() == 64 && clip.blake3.bytes().all(|b| b.is_ascii_hexdigit());
        if !clip.blake3.is_empty() && !is_hash {
            self.breach(Subject::Clip, Rule::NotAHash);
        }
        for side in [clip.picture.width, clip.picture.height] {
            self.number(&Subject::Clip, PICTURE_SIDE, f64::from(side));
        }
        self.number(&Subject::Clip, CAPTURE, clip.capture_seconds_per_second);
    }

    fn check_known_frames(&mut self) {
        let clip = &self.file.clip;
        let mut known: Vec<_> = clip.frames.iter().collect();
        known.sort_by_key(|known| known.frame);
        for frame in &known {
            let subject = Subject::KnownFrame(frame.frame);
            self.frame_in_clip(&subject, frame.frame);
            self.number(&subject, FRAME_TIME, frame.time_s);
            self.number(&subject, FRAME_GAP, frame.gap_s);
        }
        for frame in &self.file.concealed_frames {
            self.frame_in_clip(&Subject::KnownFrame(*frame), *frame);
        }
        for pair in known.windows(2) {
            let [earlier, later] = pair else { continue };
            let subject = Subject::KnownFrame(later.frame);
            if earlier.frame == later.frame {
                self.breach(subject, Rule::ListedTwice);
            } else if later.time_s <= earlier.time_s {
                self.breach(subject, Rule::TimeOrder { earlier: earlier.frame.0 });
            }
        }
    }

    fn check_round(&mut self) {
        let round = &self.file.round;
        if let Some(date) = &round.date
            && !is_calendar_day(date)
        {
            self.breach(Subject::Round, Rule::NotADate { found: date.clone() });
        }
        if let Some(slope) = round.slope_percent {
            self.number(&Subject::Round, SLOPE, slope);
        }
    }

    fn check_camera(&mut self) {
        let camera = &self.file.camera;
        if let Motion::Turning { sway_sd_m } = camera.motion {
            self.number(&Subject::Camera, SWAY, sway_sd_m);
        }
        self.size(&Subject::Camera, CAMERA_HEIGHT, camera.height_m);
        self.stated(&Subject::Camera, ROLL, camera.roll_deg);
        if let Some(focal) = camera.focal_px {
            self.size(&Subject::Camera, FOCAL, focal);
        }
        self.stated(&Subject::Camera, DISTORTION, camera.distortion_k1);
    }
}

/// `YYYY-MM-DD` and nothing else, and a day that the calendar has.
fn is_calendar_day(text: &str) -> bool {
    let shape = text.len() == 10 && text.bytes().all(|byte| byte.is_ascii_digit() || byte == b'-');
    shape && text.parse::<jiff::civil::Date>().is_ok()
}
