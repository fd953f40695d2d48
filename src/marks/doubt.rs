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
        /// The clip's name, as the marks file has it.
        clip: String,
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
            Self::OtherClip { clip } => format!(
                "the clip `{clip}` is not the file that the marks were placed on: the numbers are \
                 those of the clip that was marked"
            ),
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
        doubts
            .filter(|(_, marks)| *marks > 0)
            .map(|(frame, marks)| MarksDoubt::ConcealedFrame { frame, marks })
            .collect()
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
}
