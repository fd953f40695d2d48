//! `groundline frame`: one frame as a picture with rulers, to read coordinates off it.

use std::io::Write;
use std::path::{Path, PathBuf};

use super::Failure;
use super::args::FrameArgs;
use super::frame_times::{frame_time, open, open_marked};
use super::rulers::{RuledMark, Rulers};
use super::spots::Crop;
use crate::footage::Frame;
use crate::marks::{ClipNote, MarksFile};
use crate::quantity::FrameNumber;
use crate::store::{StoreError, clip_path, load, write_whole};

pub(super) fn run(args: FrameArgs, out: &mut dyn Write) -> Result<(), Failure> {
    let source = Source::find(&args.clip)?;
    let clip = match &source.marks {
        Some(file) => {
            let stream = args.stream.or(file.clip.stream);
            open_marked(&source.clip, &ClipNote { stream, ..file.clip.clone() })?
        }
        None => open(&source.clip, args.stream)?,
    };
    let number = FrameNumber(args.frame);
    let time = frame_time(&clip, number)?;
    let Frame { picture, concealed, .. } = clip.reader()?.frame(number)?;
    let crop = match args.crop {
        Some(crop) => within(crop, picture.dimensions())?,
        None => Crop { x: 0, y: 0, width: picture.width(), height: picture.height() },
    };
    let title = format!("frame {} of {}, at {:.3} s", number.0, clip.frame_count(), time.time_s);
    let marks = source.marks.map(|file| marks_on(&file, number)).unwrap_or_default();
    let rulers = Rulers { title, crop, enlarge: args.enlarge, marks };
    let png = rulers.draw(&picture).map_err(Failure::new)?;
    write_whole(&args.output, &png)
        .map_err(|source| StoreError::Unwritable { path: args.output.clone(), source })?;
    writeln!(out, "done: draw frame {} to `{}`", number.0, args.output.display())?;
    if concealed {
        writeln!(
            out,
            "doubt: frame {number} is damaged in the clip and parts of its picture are guessed"
        )?;
    }
    Ok(())
}

/// The clip, and the marks file if that was named.
struct Source {
    clip: PathBuf,
    marks: Option<MarksFile>,
}

impl Source {
    fn find(named: &Path) -> Result<Self, Failure> {
        if named.extension().is_none_or(|extension| extension != "json") {
            return Ok(Self { clip: named.to_owned(), marks: None });
        }
        let file = load(named)?;
        let clip = clip_path(named, &file.clip);
        Ok(Self { clip, marks: Some(file) })
    }
}

/// The part of `crop` that lies on the picture.
fn within(crop: Crop, (width, height): (u32, u32)) -> Result<Crop, Failure> {
    let Crop { x, y, .. } = crop;
    if x >= width || y >= height {
        return Err(Failure::new(format!(
            "cannot crop at {x},{y}: the picture has {width} × {height} px"
        )));
    }
    let (width, height) = (crop.width.min(width - x), crop.height.min(height - y));
    Ok(Crop { x, y, width, height })
}

fn marks_on(file: &MarksFile, frame: FrameNumber) -> Vec<RuledMark> {
    let places = file.places();
    let on_frame = places.iter().flat_map(|(place, marks)| {
        let of_frame = marks.iter().filter(move |mark| mark.frame == frame);
        of_frame.map(|mark| RuledMark { name: super::mark::path_of(place), x: mark.x, y: mark.y })
    });
    on_frame.collect()
}
