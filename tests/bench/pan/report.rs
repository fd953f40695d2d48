//! What came of it, as text.

use std::fmt::Write;

use crate::Scene;
use crate::judge::Run;
use crate::peer::Peer;
use crate::score::{Datum, Quantity, Summary};
use crate::ways::Way;

/// One scene on one line.
pub fn line(scene: &Scene) -> String {
    let rms = |run: &Run| summary([run], |d| d.quantity == Quantity::StrideLength);
    let words = |run: &Run| match (&run.refused, rms(run)) {
        (Some(why), _) => format!("refused ({why})"),
        (None, Some(found)) => format!("{:.1} cm of {}", 100.0 * found.rms, found.count),
        (None, None) => "no stride".to_owned(),
    };
    let followed = &scene.followed;
    let model = followed.motion.as_ref().map_or("lost".to_owned(), |m| m.model.to_string());
    format!(
        "{model}, end off {:.3}° of {:.0}°, {:.1} ms a frame, adjusted in {:.1} s; strides {} \
         (true camera {}, hand ties {})",
        followed.end_off_deg,
        followed.turned_deg,
        followed.ms_a_frame,
        followed.adjust_s,
        words(&scene.tracked),
        words(&scene.with_truth),
        scene.hand_ties.as_ref().map_or("not tried".to_owned(), words),
    )
}

fn summary<'a>(
    runs: impl IntoIterator<Item = &'a Run>,
    which: impl Fn(&Datum) -> bool,
) -> Option<Summary> {
    Summary::of(runs.into_iter().flat_map(|run| &run.data).filter(|d| which(d)))
}

/// The page.
pub fn text(found: &[(Way, Vec<Scene>)], peers: Option<&[Peer]>) -> String {
    let mut text = String::from(
        "# Panned from the hand, no tie placed by hand\n\n\
         The design scene (phone 20 m away, 1.6 m up, 1080p, 60° field, four poles 3 m apart, seven \
         strides of 3.5 m), rendered at 30 frames a second, followed by the tracker, clicked as usual \
         (pole ends 0.4 px, hooves 1.5 px, base 1 px). Errors are RMS in cm; beside the tracker's \
         stand the same clicks with the true camera given, and with ties placed by hand (1 px).\n\n\
         | way | scenes | strides −5…−1 | all strides | true camera | ratio | hand ties | take-off | \
         coverage of lengths | end of the pan | ms a frame |\n\
         |---|---|---|---|---|---|---|---|---|---|---|\n",
    );
    for (way, scenes) in found {
        let _ = writeln!(text, "{}", row(*way, scenes));
    }
    let refused: usize =
        found.iter().flat_map(|(_, s)| s).filter(|s| s.tracked.refused.is_some()).count();
    let _ = writeln!(
        text,
        "\nRefused: {refused}. End of the pan: RMS of the angle between the found and the true turn \
         from the first frame to the last. Bars: strides −5…−1 ≤ 9 cm; all strides ≤ 1.3 × the true \
         camera's; coverage 93–97 %; take-off ≤ 10 cm; end of the pan ≤ 0.05°."
    );
    match peers {
        Some(peers) => beside_opencv(peers, &mut text),
        None => text.push_str("\nBeside OpenCV: not run, GROUNDLINE_PYTHON is not set.\n"),
    }
    text
}

fn beside_opencv(peers: &[Peer], text: &mut String) {
    text.push_str(
        "\n## Beside OpenCV\n\n\
         A camera that turns on a stand, the same pictures in the same run, two threads each: \
         `goodFeaturesToTrack`, `calcOpticalFlowPyrLK` there and back and a chain of \
         `findHomography`. Off at the end of the pan: RMS angle over the last picture, in pixels.\n\n\
         | picture | ours, ms a frame | OpenCV | ratio | ours, off px | OpenCV | ratio |\n\
         |---|---|---|---|---|---|---|\n",
    );
    for peer in peers {
        let _ = writeln!(
            text,
            "| {} × {} | {:.1} | {:.1} | {:.2} | {:.2} | {:.2} | {:.2} |",
            peer.picture.width,
            peer.picture.height,
            peer.ours_ms,
            peer.theirs_ms,
            peer.ours_ms / peer.theirs_ms,
            peer.ours_off_px,
            peer.theirs_off_px,
            peer.ours_off_px / peer.theirs_off_px
        );
    }
    let rms = |of: fn(&Peer) -> f64| {
        (peers.iter().map(|peer| of(peer).powi(2)).sum::<f64>() / peers.len() as f64).sqrt()
    };
    let (ours, theirs) = (rms(|peer| peer.ours_off_px), rms(|peer| peer.theirs_off_px));
    let _ = writeln!(text, "| RMS | | | | {ours:.2} | {theirs:.2} | {:.2} |", ours / theirs);
    text.push_str(
        "\nBars: at least as fast (ratio ≤ 1), at most half of its drift (ratio ≤ 0.5).\n",
    );
}

fn row(way: Way, scenes: &[Scene]) -> String {
    let tracked = || scenes.iter().map(|scene| &scene.tracked);
    let is_length = |d: &Datum| d.quantity == Quantity::StrideLength;
    let cm = |summary: Option<Summary>| {
        summary.map_or("–".to_owned(), |s| format!("{:.1}", 100.0 * s.rms))
    };
    let last = summary(tracked(), |d| is_length(d) && d.stride.is_some_and(|n| n >= -5));
    let all = summary(tracked(), is_length);
    let truth = summary(scenes.iter().map(|s| &s.with_truth), is_length);
    let tied = summary(scenes.iter().filter_map(|s| s.hand_ties.as_ref()), is_length);
    let ratio = match (&all, &truth) {
        (Some(all), Some(truth)) => format!("{:.2}", all.rms / truth.rms),
        _ => "–".to_owned(),
    };
    let take_off = summary(tracked(), |d| d.quantity == Quantity::TakeOff);
    // All strides of the scene are alike: their range is nil, which no interval of it can hold.
    let is_judged =
        |d: &Datum| Quantity::LENGTHS.contains(&d.quantity) && d.quantity != Quantity::Range;
    let lengths = summary(tracked(), is_judged);
    let coverage =
        lengths.map_or("–".to_owned(), |s| format!("{:.1} ± {:.1} %", s.coverage, s.coverage_sd));
    let count = scenes.len() as f64;
    let end = (scenes.iter().map(|s| s.followed.end_off_deg.powi(2)).sum::<f64>() / count).sqrt();
    let ms = scenes.iter().map(|s| s.followed.ms_a_frame).sum::<f64>() / count;
    format!(
        "| {} | {} | {} | {} | {} | {ratio} | {} | {} | {coverage} | {end:.3}° | {ms:.1} |",
        way.words(),
        scenes.len(),
        cm(last),
        cm(all),
        cm(truth),
        cm(tied),
        cm(take_off),
    )
}
