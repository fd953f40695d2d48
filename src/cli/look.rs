//! `groundline look`: what a clip is.

use std::io::Write;

use serde_json::{Value, json};

use super::Failure;
use super::clip_args::LookArgs;
use crate::footage::{CheckReport, Clip, ClipFacts, Lens, OpenOptions, PixelAspect};
use crate::quantity::{FrameNumber, Seconds, Unit, written_moment, written_plain};

pub(super) fn run(args: LookArgs, out: &mut dyn Write) -> Result<(), Failure> {
    let options = OpenOptions {
        stream: args.stream,
        capture_rate: args.capture_rate,
        ..OpenOptions::default()
    };
    let clip = Clip::open(&args.clip, &options)?;
    let check = if args.decode { Some(clip.check()?) } else { None };
    if args.json {
        let all = as_json(&clip, check.as_ref(), args.frames)?;
        writeln!(out, "{}", serde_json::to_string_pretty(&all).map_err(Failure::new)?)?;
        return Ok(());
    }
    for line in lines(&clip, check.as_ref()) {
        writeln!(out, "{line}")?;
    }
    if clip.doubts().is_empty() {
        writeln!(out, "doubts      none")?;
    }
    for doubt in clip.doubts() {
        writeln!(out, "doubt: {}", doubt.sentence())?;
    }
    Ok(())
}

fn as_json(clip: &Clip, check: Option<&CheckReport>, frames: bool) -> Result<Value, Failure> {
    let mut all = serde_json::to_value(clip.facts()).map_err(Failure::new)?;
    let doubts: Vec<Value> = clip
        .doubts()
        .iter()
        .map(|doubt| json!({ "doubt": doubt, "sentence": doubt.sentence() }))
        .collect();
    all["doubts"] = Value::Array(doubts);
    if let Some(check) = check {
        all["decoded"] = serde_json::to_value(check).map_err(Failure::new)?;
    }
    if frames {
        let mut times = Vec::with_capacity(clip.frame_count() as usize);
        for number in (0..clip.frame_count()).map(FrameNumber) {
            let time = clip.time(number)?;
            times.push(json!({ "frame": number, "time_s": time.seconds(), "exact": time }));
        }
        all["frame_times"] = Value::Array(times);
    }
    Ok(all)
}

fn lines(clip: &Clip, check: Option<&CheckReport>) -> Vec<String> {
    let facts = clip.facts();
    let mut lines = vec![
        format!("container   {}", facts.container),
        format!("codec       {}, {} bit", facts.codec, facts.bit_depth),
        format!(
            "picture     {} × {} px upright{}",
            facts.upright_width_px,
            facts.upright_height_px,
            stored(facts)
        ),
        format!("frames      {}", facts.frames),
        format!(
            "time        {} to {}",
            written_moment(Seconds::new(facts.first_time_s)),
            written_moment(Seconds::new(facts.last_time_s))
        ),
    ];
    if let Some(rate) = &facts.rate {
        let kind = if rate.constant { "constant" } else { "variable" };
        lines.push(format!(
            "rate        {kind}, {} frames/s, gaps {} to {} ms",
            written_plain(rate.mean_hz, 3),
            written_plain(1000.0 * rate.smallest_gap_s, 2),
            written_plain(1000.0 * rate.largest_gap_s, 2)
        ));
    }
    if facts.capture.time_scale != 1.0 {
        lines.push(format!(
            "capture     {} frames/s: plays {} times slower than life",
            written_plain(facts.capture.capture_hz.unwrap_or(f64::NAN), 1),
            written_plain(1.0 / facts.capture.time_scale, 2)
        ));
    }
    lines.push(lens_line(&facts.lens));
    if let Some(check) = check {
        lines.push(format!(
            "decoded     {} readable, {} damaged, the decoder complained {} times",
            check.readable,
            check.damaged.len(),
            check.decoder_errors
        ));
    }
    lines
}

fn stored(facts: &ClipFacts) -> String {
    let mut words = Vec::new();
    if facts.orientation.turn_clockwise_deg != 0 {
        words
            .push(format!("turned clockwise by {}° to view", facts.orientation.turn_clockwise_deg));
    }
    if facts.pixel_aspect != PixelAspect::SQUARE {
        words.push(format!("pixels {}:{}", facts.pixel_aspect.width, facts.pixel_aspect.height));
    }
    if words.is_empty() { String::new() } else { format!(" ({})", words.join(", ")) }
}

fn lens_line(lens: &Lens) -> String {
    let mut words: Vec<String> =
        [&lens.make, &lens.model, &lens.lens].into_iter().flatten().cloned().collect();
    words
        .extend(lens.focal_length_35mm_mm.map(|mm| format!("{mm} mm focal length in 35 mm terms")));
    let said = if words.is_empty() { "nothing in the file".to_owned() } else { words.join(", ") };
    format!("lens        {said}")
}
