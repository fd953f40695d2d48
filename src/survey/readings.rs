//! Other readings of the same marks: ends of poles taken for each other.
//!
//! The likeliest slip of all is to mark left for right, on one pole or on all. Such marks fit no
//! scene, or only with good clicks left out; when they fit without that as soon as the ends are
//! exchanged, they are read so, and a doubt says it.

use std::collections::BTreeSet;

use super::adjust::survey_as_marked;
use super::doubt::SurveyDoubt;
use super::error::SurveyError;
use super::outcome::Survey;
use crate::marks::{MarkAddress, MarksFile, Motion, PoleEnd, ReferenceKind};
use crate::pan::{CameraMotion, MotionDoubt, MotionModel, RelativeMotion};
use crate::quantity::FrameNumber;

/// A suspect this far off, in standard deviations, is no rough click but a wrong point.
const WRONG_POINT_SDS: f64 = 8.0;

/// Adjusts all marks of a file jointly.
pub fn survey(file: &MarksFile) -> Result<Survey, SurveyError> {
    survey_with_motion(file, None)
}

/// The same with what is known of the camera's motion between the marked frames. It counts for a
/// camera that was turned; one that is said to be fixed has one pose whatever the motion says.
pub fn survey_with_motion(
    file: &MarksFile,
    motion: Option<&CameraMotion>,
) -> Result<Survey, SurveyError> {
    let motions = motion.map_or_else(Vec::new, |motion| motions_between_marks(file, motion));
    let mut survey = best_reading(file, &motions)?;
    survey.doubts.extend(motion.into_iter().flat_map(|motion| motion_doubts(file, motion)));
    Ok(survey)
}

/// What the motion says against what was stated, and against itself.
fn motion_doubts(file: &MarksFile, motion: &CameraMotion) -> Vec<SurveyDoubt> {
    let claimed = (file.camera.motion == Motion::Fixed).then_some(MotionModel::Fixed);
    let told = motion.doubts(claimed).into_iter().filter_map(|doubt| match doubt {
        MotionDoubt::CameraMoved { moved_px } => Some(SurveyDoubt::CameraMoved { moved_px }),
        MotionDoubt::Rough { median_px } if claimed.is_none() => {
            Some(SurveyDoubt::BackgroundRough { median_px })
        }
        // Frames that were not followed and are marked are told one by one.
        _ => None,
    });
    told.collect()
}

fn best_reading(file: &MarksFile, motions: &[RelativeMotion]) -> Result<Survey, SurveyError> {
    let as_marked = survey_as_marked(file, motions);
    let wrong = match &as_marked {
        Ok(survey) => wrong_points(survey),
        // A refusal gives way only to a reading against which nothing speaks.
        Err(_) => 1,
    };
    if wrong == 0 {
        return as_marked;
    }
    let mut best = (wrong, as_marked);
    for exchanged in readings(file, &best.1) {
        let Ok(mut survey) = survey_as_marked(&exchanged.apply(file), motions) else { continue };
        let wrong = wrong_points(&survey);
        if wrong < best.0 {
            survey.doubts.push(exchanged.doubt());
            best = (wrong, Ok(survey));
        }
    }
    best.1
}

/// The motion between the marked frames of each piece of the clip, the piece with the most first.
fn motions_between_marks(file: &MarksFile, motion: &CameraMotion) -> Vec<RelativeMotion> {
    if file.camera.motion == Motion::Fixed {
        return Vec::new();
    }
    let marked: BTreeSet<FrameNumber> =
        file.places().iter().flat_map(|(_, marks)| marks.iter().map(|mark| mark.frame)).collect();
    let mut groups: Vec<Vec<FrameNumber>> = motion
        .pieces
        .iter()
        .map(|piece| marked.iter().copied().filter(|f| piece.frame(*f).is_some()).collect())
        .filter(|frames: &Vec<FrameNumber>| frames.len() > 1)
        .collect();
    groups.sort_by_key(|frames| std::cmp::Reverse(frames.len()));
    // Frames of one piece always have a motion between them.
    groups.iter().filter_map(|frames| motion.between(frames).ok()).collect()
}

/// How much speaks against a survey: points far off, and a bad fit as a whole.
fn wrong_points(survey: &Survey) -> usize {
    let far = survey.suspects.iter().filter(|s| s.off_sds > WRONG_POINT_SDS).count();
    let bad = |doubt: &&SurveyDoubt| matches!(doubt, SurveyDoubt::MarksFitBadly { .. });
    far + survey.doubts.iter().filter(bad).count()
}

/// Ends to exchange: of one pole, or of all of a reference.
struct Exchanged {
    reference: String,
    pole: Option<u32>,
}

/// What is worth trying: each pole with a suspect end, then all poles of each reference.
fn readings(file: &MarksFile, as_marked: &Result<Survey, SurveyError>) -> Vec<Exchanged> {
    let mut poles = BTreeSet::new();
    if let Ok(survey) = as_marked {
        for suspect in &survey.suspects {
            if let MarkAddress::PoleEnd { reference, pole, .. } = &suspect.mark {
                poles.insert((reference.clone(), *pole));
            }
        }
    }
    let single =
        poles.into_iter().map(|(reference, pole)| Exchanged { reference, pole: Some(pole) });
    let whole = file
        .references
        .iter()
        .filter(|reference| matches!(reference.kind, ReferenceKind::Poles { .. }))
        .map(|reference| Exchanged { reference: reference.id.clone(), pole: None });
    single.chain(whole).collect()
}

impl Exchanged {
    fn apply(&self, file: &MarksFile) -> MarksFile {
        let mut file = file.clone();
        for reference in file.references.iter_mut().filter(|r| r.id == self.reference) {
            let ReferenceKind::Poles { ends, .. } = &mut reference.kind else { continue };
            for end in ends.iter_mut().filter(|end| self.pole.is_none_or(|pole| pole == end.pole)) {
                end.end = match end.end {
                    PoleEnd::Left => PoleEnd::Right,
                    PoleEnd::Right => PoleEnd::Left,
                };
            }
        }
        file
    }

    fn doubt(self) -> SurveyDoubt {
        SurveyDoubt::EndsExchanged { reference: self.reference, pole: self.pole }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::survey::outcome::Suspect;
    use crate::survey::tests::{marks, scene};

    #[test]
    fn ends_are_exchanged_of_the_poles_named_and_of_no_other() {
        let file = marks(&scene(20.0), 0.0, 0.0, 1);
        let sides = |file: &MarksFile| -> Vec<(u32, PoleEnd)> {
            let ReferenceKind::Poles { ends, .. } = &file.references[0].kind else {
                unreachable!()
            };
            ends.iter().map(|end| (end.pole, end.end)).collect()
        };
        let exchanged = |reference: &str, pole| {
            sides(&Exchanged { reference: reference.into(), pole }.apply(&file))
        };
        let as_marked = sides(&file);
        let turned = |which: fn(u32) -> bool| -> Vec<(u32, PoleEnd)> {
            let other = |end| if end == PoleEnd::Left { PoleEnd::Right } else { PoleEnd::Left };
            as_marked
                .iter()
                .map(|(pole, end)| (*pole, if which(*pole) { other(*end) } else { *end }))
                .collect()
        };
        assert_eq!(exchanged("poles", Some(2)), turned(|pole| pole == 2));
        assert_eq!(exchanged("poles", None), turned(|_| true));
        assert_eq!(exchanged("others", None), as_marked);
    }

    #[test]
    fn what_speaks_against_a_reading_is_a_wrong_point_or_a_bad_fit() {
        let mut survey = survey(&marks(&scene(20.0), 0.0, 0.0, 1)).unwrap();
        assert_eq!(wrong_points(&survey), 0);
        let suspect = |off_sds| Suspect {
            mark: MarkAddress::PoleEnd { reference: "poles".into(), pole: 1, end: PoleEnd::Left },
            frame: FrameNumber(0),
            off_px: 9.0,
            off_sds,
        };
        survey.suspects = vec![suspect(5.0), suspect(7.9), suspect(8.1)];
        assert_eq!(wrong_points(&survey), 1);
        survey.doubts.push(SurveyDoubt::MarksFitBadly { ratio: 2.0 });
        survey.doubts.push(SurveyDoubt::ReferencesOnOneLine { reference: "poles".into() });
        assert_eq!(wrong_points(&survey), 2);
    }
}
