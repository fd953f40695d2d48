//! One binary for all tests that look at the crate from outside.

#![expect(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout,
    reason = "helpers of tests stand outside #[test], where clippy.toml's exception does not reach"
)]

mod laid_out;
mod program;
mod reference_python;
mod refusal;
mod sample;
mod served;
mod support;

/// All footfall frames joined into one picture.
mod approach_picture;
/// Accuracy and honesty of the ± on a few scenes of known truth.
mod arena_accuracy;
/// Twelve small rendered clips through the whole program.
mod arena_clips;
/// A panned clip, rendered and followed.
mod arena_pan;
/// Clips that are none, or not the marked one.
mod cli_bad_clips;
/// Marks files that break a rule, are none, or hold too little.
mod cli_bad_marks;
/// Places that cannot be read or written.
mod cli_bad_places;
/// Typed numbers and names that cannot be used.
mod cli_bad_words;
/// The commands that look at a clip.
mod cli_clip;
/// Frames that are damaged in the clip, and marks on them.
mod cli_guessed;
/// The commands that change and check marks files, run as the real program.
mod cli_marks;
/// What `measure` prints.
mod cli_measure;
/// Distances for the next lesson, by command.
mod cli_poles;
/// What the numbers support, by command.
mod cli_reading;
/// `stand`: table, sentence, picture, refusals.
mod cli_stand;
/// The camera followed through a clip, by command.
mod cli_track;
/// Who may ask the desk, and for what.
mod desk_access;
/// The clips of the desk's folder.
mod desk_folder;
/// The next lesson on the desk.
mod desk_lesson;
/// What is marked on the desk, and what is wanted next.
mod desk_marking;
/// The page of the desk in a real browser.
mod desk_page;
/// What reaches the disk, and when the desk says so.
mod desk_saving;
/// The types that go between page and program.
mod desk_wire;
/// Small pictures held beside those that are kept.
mod golden;
/// What the phone wrote into the clip stays there.
mod no_tags;
/// The camera model against OpenCV.
mod outside_camera;
/// Real corners of a chessboard: calibrated on the outer ring, the inner ones predicted.
mod outside_chessboard;
/// A stride of 1878, read off the pictures.
mod outside_gallop_1878;
/// The draws and the 95 % interval against JCGM 101.
mod outside_jcgm;
/// The solver against certified values of NIST.
mod outside_nist;
/// Tracks of the background against warps of scikit-image.
mod outside_pan;
/// Taped lengths on real paving.
mod outside_paving;
/// The sheet's PDF as a reader program finds it, clause by clause of PDF/UA.
mod outside_pdf;
/// Published rows of canter and jump, through the whole measurement.
mod outside_published;
/// The solver against SciPy.
mod outside_scipy;
/// The tables against pandas and openpyxl, the JSON against jsonschema.
mod outside_tables;
/// Static markers from the side: the set-up of a published two-dimensional study.
mod outside_two_dimensional;
/// Feet and metres beside published tables.
mod outside_units;
/// Homography and undistortion against OpenCV, scikit-image and NumPy.
mod outside_warps;
/// A real clip followed by its background.
mod pan_real;
/// Readings of the arena's stories, and their sentences.
mod reading_stories;
/// The marks of a real clip, measured without it.
mod real_run;
/// The annotated approach as a clip.
mod reel;
/// Marks files on disk: reading, saving, undo lists, clips.
mod shown_in;
mod store;
/// Approaches whose numbers are worked out by hand.
mod stride_by_hand;
/// Lines of two fences, worked out by hand.
mod two_fences;
/// The same fence week after week.
mod weeks;

// The footage folder: opening, reading, awkward files, and agreement with another program.
mod footage_awkward;
mod footage_frames;
mod footage_open;
mod footage_outside;
mod footage_pixels;
mod footage_robust;
mod footage_write;
