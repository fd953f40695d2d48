//! Reasons to trust the marks themselves less, as data with a sentence.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::file::MarksFile;
use crate::quantity::FrameNumber;

/// A reason to trust marks less, whatever is measured from them.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "doubt", rename_all = "snake_case")]
pub enum MarksDoubt {
    /// Marks stand on a picture of which the decoder had to guess parts.
    ConcealedFrame {
        /// The frame.
        frame: FrameNumber,
        /// How many marks stand on it.
        marks: usize,
    },
    /// The clip beside the marks file is another one. Only who sees the disk can tell.
    OtherClip {
        /// The clip's name, as the marks file has it; empty where file names are left off.
        clip: String,
    },
    /// A note is on a stride that is not marked, so that it is shown nowhere.
    NoteOnNoStride {
        /// The approach.
        approach: String,
        /// The stride, counted back from the fence.
        stride: i32,
        /// How many strides there are.
        strides: usize,
    },
}

impl MarksDoubt {
    /// The doubt in a sentence for the coach.
    pub fn sentence(&self) -> String {
        match self {
            Self::ConcealedFrame { frame, marks } => {
                let marks = match marks {
                    1 => "the mark on it may stand".to_owned(),
                    many => format!("the {many} marks on it may stand"),
                };
                format!(
                    "frame {frame} is damaged in the clip and parts of its picture are guessed: \
                     {marks} on a guess"
                )
            }
            Self::OtherClip { clip } => {
                let name = if clip.is_empty() { String::new() } else { format!(" `{clip}`") };
                format!(
                    "the clip{name} is not the file that the marks were placed on: the numbers are \
                     those of the clip that was marked"
                )
            }
            Self::NoteOnNoStride { approach, stride, strides } => {
                let has = match strides {
                    1 => "1 stride".to_owned(),
                    many => format!("{many} strides"),
                };
                format!(
                    "the note on stride \u{2212}{} of approach `{approach}` is shown nowhere: it \
                     has {has}",
                    stride.unsigned_abs()
                )
            }
        }
    }
}

impl MarksFile {
    /// What the file itself gives reason to doubt.
    pub fn doubts(&self) -> Vec<MarksDoubt> {
        let places = self.places();
        let marks_on = |frame| {
            places.iter().flat_map(|(_, marks)| *marks).filter(|mark| mark.frame == frame).count()
        };
        let doubts = self.concealed_frames.iter().map(|frame| (*frame, marks_on(*frame)));
        let mut doubts: Vec<MarksDoubt> = doubts
            .filter(|(_, marks)| *marks > 0)
            .map(|(frame, marks)| MarksDoubt::ConcealedFrame { frame, marks })
            .collect();
        for approach in &self.approaches {
            // Before anything is marked a note may well come first.
            let strides = approach.most_strides();
            let beyond = |stride: i32| strides > 0 && stride.unsigned_abs() as usize > strides;
            let notes = approach.stride_notes.iter().filter(|note| beyond(note.stride));
            doubts.extend(notes.map(|note| MarksDoubt::NoteOnNoStride {
                approach: approach.id.clone(),
                stride: note.stride,
                strides,
            }));
        }
        doubts
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::marks::sample::sample;

    #[test]
    fn only_marked_frames_are_doubted() {
        let mut file = sample();
        assert_eq!(file.doubts(), []);
        file.concealed_frames.extend([41, 118, 137].map(FrameNumber));
        let [two, one] = file.doubts().try_into().unwrap();
        assert_eq!(two, MarksDoubt::ConcealedFrame { frame: FrameNumber(118), marks: 2 });
        assert_eq!(one, MarksDoubt::ConcealedFrame { frame: FrameNumber(137), marks: 1 });
        let of = "is damaged in the clip and parts of its picture are guessed";
        assert_eq!(
            two.sentence(),
            format!("frame 118 {of}: the 2 marks on it may stand on a guess")
        );
        assert_eq!(one.sentence(), format!("frame 137 {of}: the mark on it may stand on a guess"));
    }

    #[test]
    fn a_note_beyond_the_marked_strides_is_doubted() {
        let mut file = sample();
        let approach = &mut file.approaches[0];
        approach.stride_notes.push(crate::marks::StrideNote::new(-2, "fine"));
        assert_eq!(file.doubts(), []);
        file.approaches[0].stride_notes.push(crate::marks::StrideNote::new(-3, "late"));
        let [doubt] = file.doubts().try_into().unwrap();
        assert_eq!(
            doubt.sentence(),
            "the note on stride −3 of approach `a1` is shown nowhere: it has 2 strides"
        );
        file.approaches[0].footfalls.clear();
        assert_eq!(file.doubts(), []);
    }
}
