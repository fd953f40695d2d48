//! The camera's motion through a clip, kept beside the marks file: following it takes as long as
//! the clip plays.
//!
//! One line of JSON says what the motion is of (the clip's hash, its stream, how hard was looked),
//! the rest is the motion. Invariant: a motion is used only for that very clip, as this program
//! would find it; anything else is as if it were not there, and may be deleted at any time.

use std::io::{BufRead, BufReader, Read};
use std::path::Path;

use serde::{Deserialize, Serialize};

use super::paths::motion_path;
use super::save::write_whole;
use crate::marks::{ClipNote, MarksFile, Missing};
use crate::pan::CameraMotion;
use crate::quantity::FrameNumber;

/// Counts up whenever the same clip gives another motion, or it is written otherwise.
pub const MOTION_FORMAT: u32 = 1;

/// The first line is shorter than this.
const MOST_HEAD_BYTES: u64 = 1024;

/// The first line.
#[derive(Debug, PartialEq, Serialize, Deserialize)]
struct Head {
    groundline_motion: u32,
    clip_blake3: String,
    stream: Option<usize>,
    body_blake3: String,
}

/// The motion kept beside a marks file, when there is one of its clip.
pub fn kept_motion(marks: &Path, clip: &ClipNote) -> Option<CameraMotion> {
    let bytes = std::fs::read(motion_path(marks)).ok()?;
    let line_end = bytes.iter().position(|byte| *byte == b'\n')?;
    let (head, body) = (&bytes[..line_end], &bytes[line_end + 1..]);
    let head: Head = serde_json::from_slice(head).ok()?;
    if clip.blake3.is_empty() || head != head_of(clip, body) {
        return None;
    }
    postcard::from_bytes(body).ok()
}

/// What a file lacks where the camera's motion is known: frames that were followed need no fixed
/// point of their own.
pub fn missing_beside_motion(file: &MarksFile, motion: Option<&CameraMotion>) -> Vec<Missing> {
    let followed = |frame: &FrameNumber| motion.is_some_and(|motion| motion.find(*frame).is_ok());
    let left = |missing| match missing {
        Missing::Joints { mut frames } => {
            frames.retain(|frame| !followed(frame));
            (!frames.is_empty()).then_some(Missing::Joints { frames })
        }
        other => Some(other),
    };
    file.missing().into_iter().filter_map(left).collect()
}

/// Stands for the motion kept beside a marks file without reading it: its first line.
pub fn motion_stamp(marks: &Path) -> Option<String> {
    let mut line = String::new();
    let file = std::fs::File::open(motion_path(marks)).ok()?;
    BufReader::new(file.take(MOST_HEAD_BYTES)).read_line(&mut line).ok()?;
    Some(line)
}

/// Keeps a motion beside the marks file, in place of what was kept.
pub fn keep_motion(
    marks: &Path,
    clip: &ClipNote,
    motion: &CameraMotion,
) -> Result<(), std::io::Error> {
    let body = postcard::to_stdvec(motion).map_err(std::io::Error::other)?;
    let mut bytes = serde_json::to_vec(&head_of(clip, &body)).map_err(std::io::Error::other)?;
    bytes.push(b'\n');
    bytes.extend(body);
    write_whole(&motion_path(marks), &bytes)
}

fn head_of(clip: &ClipNote, body: &[u8]) -> Head {
    Head {
        groundline_motion: MOTION_FORMAT,
        clip_blake3: clip.blake3.clone(),
        stream: clip.stream,
        body_blake3: blake3::hash(body).to_hex().to_string(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::pan::MotionModel;
    use crate::scene::PictureSize;

    #[test]
    fn a_motion_is_used_for_its_own_clip_and_whole_only() {
        let folder = tempfile::tempdir().unwrap();
        let marks = folder.path().join("ride.marks.json");
        let picture = PictureSize { width: 640, height: 360 };
        let clip = ClipNote {
            file: "ride.mp4".into(),
            size_bytes: 1,
            blake3: "ab".repeat(32),
            picture,
            frame_count: 30,
            stream: None,
            capture_seconds_per_second: 1.0,
            frames: Vec::new(),
            other: serde_json::Map::new(),
        };
        assert_eq!(kept_motion(&marks, &clip), None);
        let motion = CameraMotion {
            model: MotionModel::Fixed,
            picture,
            pieces: Vec::new(),
            lost: vec![FrameNumber(3)],
        };
        keep_motion(&marks, &clip, &motion).unwrap();
        assert_eq!(kept_motion(&marks, &clip), Some(motion.clone()));

        let other = ClipNote { blake3: "cd".repeat(32), ..clip.clone() };
        assert_eq!(kept_motion(&marks, &other), None);
        let unknown = ClipNote { blake3: String::new(), ..clip.clone() };
        assert_eq!(kept_motion(&marks, &unknown), None);
        let path = motion_path(&marks);
        let whole = std::fs::read(&path).unwrap();
        std::fs::write(&path, &whole[..whole.len() - 1]).unwrap();
        assert_eq!(kept_motion(&marks, &clip), None);
    }
}
