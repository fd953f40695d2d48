//! `groundline stills`: each footfall's frame with hoof prints, lengths and ±.

use std::io::Write;

use super::Failure;
use super::file_kind::FileKind;
use super::measured_round::MeasuredRound;
use super::picture_args::StillsArgs;
use super::pictures::{Style, clip_of, encoded, full_still};
use crate::draw::Framing;
use crate::store::{StoreError, write_whole};

pub(super) fn run(args: StillsArgs, out: &mut dyn Write) -> Result<(), Failure> {
    let round = MeasuredRound::of(&args.measured)?;
    let clip = clip_of(&args.measured.marks, &round.file)?;
    let mut reader = clip.reader()?;
    let framing = if args.whole { Framing::Whole } else { Framing::Track };
    let style = Style { framing, ..Style::of(&args.measured, args.no_names) };
    let unwritable = |source| StoreError::Unwritable { path: args.output.clone(), source };
    std::fs::create_dir_all(&args.output).map_err(unwritable)?;
    let (kind, ending) = if args.jpeg { (FileKind::Jpeg, "jpg") } else { (FileKind::Png, "png") };
    let several = round.measurement.approaches.len() > 1;
    let mut count = 0;
    for (number, approach) in (1..).zip(&round.measurement.approaches) {
        for footfall in &approach.footfalls {
            let Some(picture) = full_still(&round, approach, footfall, &mut reader, style)? else {
                let (id, frame) = (&footfall.footfall, footfall.frame);
                writeln!(
                    out,
                    "note: no still of footfall `{id}`: nothing seen on frame {frame} is measured"
                )?;
                continue;
            };
            let part = if several { format!("approach{number}-") } else { String::new() };
            let name = format!(
                "{part}frame{:05}-{}.{ending}",
                footfall.frame.0,
                file_word(footfall.limb.words())
            );
            let path = args.output.join(name);
            write_whole(&path, &encoded(&picture, kind)?)
                .map_err(|source| StoreError::Unwritable { path, source })?;
            count += 1;
        }
    }
    writeln!(out, "drew {count} stills in `{}`", args.output.display())?;
    Ok(())
}

fn file_word(words: &str) -> String {
    words.replace(' ', "-")
}
