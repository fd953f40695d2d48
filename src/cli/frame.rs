//! `groundline frame`: one frame as a picture with rulers, to read coordinates off it, or many as
//! a contact sheet, to find the one that is looked for.

use std::io::Write;
use std::path::{Path, PathBuf};

use image::{ImageFormat, RgbImage};

use super::Failure;
use super::clip_args::FrameArgs;
use super::contact_sheet::{Cell, ContactSheet};
use super::file_kind::FileKind;
use super::mark_cross::ShownMarks;
use super::pictures::jpeg;
use super::rulers::Rulers;
use super::spots::Crop;
use crate::footage::{Clip, Frame};
use crate::marks::{ClipNote, MarksFile};
use crate::quantity::{FrameNumber, Seconds, Unit, written_moment};
use crate::store::{StoreError, clip_path, frame_time, load, open, open_marked, write_whole};

/// More are not taken in at a glance.
const MOST_FRAMES: u32 = 120;

pub(super) fn run(args: FrameArgs, out: &mut dyn Write) -> Result<(), Failure> {
    let kind = FileKind::of(&args.output, &[FileKind::Png, FileKind::Jpeg])?;
    let source = Source::find(&args.clip, args.stream)?;
    let drawn = match args.frames.last {
        None => one(&args, &source)?,
        Some(last) => several(&args, &source, last)?,
    };
    let bytes = match kind {
        FileKind::Jpeg => jpeg(&drawn.picture)?,
        _ => {
            let mut png = std::io::Cursor::new(Vec::new());
            drawn.picture.write_to(&mut png, ImageFormat::Png).map_err(Failure::new)?;
            png.into_inner()
        }
    };
    write_whole(&args.output, &bytes)
        .map_err(|source| StoreError::Unwritable { path: args.output.clone(), source })?;
    writeln!(out, "drew {} → `{}`", drawn.what, args.output.display())?;
    if let Some(Crop { x, y, width, height }) = drawn.cut {
        writeln!(
            out,
            "note: the crop reaches past the picture; what lies on it was drawn: \
             {x},{y},{width},{height}"
        )?;
    }
    for number in drawn.guessed {
        writeln!(
            out,
            "doubt: frame {number} is damaged in the clip and parts of its picture are guessed"
        )?;
    }
    Ok(())
}

/// A drawing and what is to be said of it.
struct Drawn {
    what: String,
    picture: RgbImage,
    /// The part drawn, where more was asked for.
    cut: Option<Crop>,
    guessed: Vec<FrameNumber>,
}

fn one(args: &FrameArgs, source: &Source) -> Result<Drawn, Failure> {
    let (clip, number) = (&source.clip, FrameNumber(args.frames.first));
    let time = frame_time(clip, number)?;
    let Frame { picture, concealed, .. } = clip.reader()?.frame(number)?;
    let crop = within(args.crop, picture.dimensions())?;
    let title = format!(
        "frame {} of {}, at {}",
        number.0,
        clip.frame_count(),
        written_moment(Seconds::new(time.time_s))
    );
    let marks = source.marks_on(number);
    let rulers = Rulers { title, crop, enlarge: args.enlarge.unwrap_or(1), marks };
    Ok(Drawn {
        what: format!("frame {number}"),
        picture: rulers.draw(&picture).map_err(Failure::new)?,
        cut: args.crop.filter(|asked| *asked != crop).map(|_| crop),
        guessed: concealed.then_some(number).into_iter().collect(),
    })
}

fn several(args: &FrameArgs, source: &Source, last: u32) -> Result<Drawn, Failure> {
    let clip = &source.clip;
    let (first, every) = (args.frames.first, args.every);
    // The clip's own words, should it end before.
    frame_time(clip, FrameNumber(last))?;
    let count = (last - first) / every + 1;
    if count > MOST_FRAMES {
        let step = (last - first) / (MOST_FRAMES - 1) + 1;
        return Err(Failure::usage(format!(
            "cannot draw {count} frames on one contact sheet (at most {MOST_FRAMES} needed)"
        ))
        .hint(format!("leave some out with --every {step}, or take fewer")));
    }
    let facts = clip.facts();
    let size = (facts.upright_width_px, facts.upright_height_px);
    let crop = within(args.crop, size)?;
    let mut title = format!("frames {first} to {last} of {}", clip.frame_count());
    if every > 1 {
        title.push_str(&format!(", every {every}"));
    }
    if args.crop.is_some() {
        let Crop { x, y, width, height } = crop;
        title.push_str(&format!(": {width} × {height} px from {x},{y}"));
    }
    let sheet = ContactSheet { title, crop, enlarge: args.enlarge };
    let mut reader = clip.reader()?;
    let (mut cells, mut guessed) = (Vec::new(), Vec::new());
    for number in (first..=last).step_by(every as usize).map(FrameNumber) {
        let Frame { picture, concealed, .. } = reader.frame(number)?;
        cells.push(Cell {
            frame: format!("frame {number}"),
            time: written_moment(Seconds::new(frame_time(clip, number)?.time_s)),
            picture: sheet.shown(&picture),
            marks: source.marks_on(number),
            guessed: concealed,
        });
        guessed.extend(concealed.then_some(number));
    }
    Ok(Drawn {
        what: format!("{count} frames from {first} to {last}"),
        picture: sheet.draw(&cells).map_err(Failure::new)?,
        cut: args.crop.filter(|asked| *asked != crop).map(|_| crop),
        guessed,
    })
}

/// The clip, and the marks file if that was named.
struct Source {
    clip: Clip,
    marks: Option<MarksFile>,
}

impl Source {
    fn find(named: &Path, stream: Option<usize>) -> Result<Self, Failure> {
        if named.extension().is_none_or(|extension| extension != "json") {
            return Ok(Self { clip: open(named, stream)?, marks: None });
        }
        let file = load(named)?;
        let path: PathBuf = clip_path(named, &file.clip);
        let stream = stream.or(file.clip.stream);
        let clip = open_marked(&path, &ClipNote { stream, ..file.clip.clone() })?;
        Ok(Self { clip, marks: Some(file) })
    }

    fn marks_on(&self, frame: FrameNumber) -> ShownMarks {
        self.marks.as_ref().map(|file| ShownMarks::of(file, frame)).unwrap_or_default()
    }
}

/// The part of `crop` that lies on the picture; all of it when nobody said.
fn within(crop: Option<Crop>, (width, height): (u32, u32)) -> Result<Crop, Failure> {
    let Some(crop) = crop else { return Ok(Crop { x: 0, y: 0, width, height }) };
    let Crop { x, y, .. } = crop;
    if x >= width || y >= height {
        return Err(Failure::new(format!(
            "cannot crop at {x},{y}: the picture has {width} × {height} px"
        )));
    }
    let (width, height) = (crop.width.min(width - x), crop.height.min(height - y));
    Ok(Crop { x, y, width, height })
}
