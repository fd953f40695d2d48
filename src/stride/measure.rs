//! From a surveyed scene to the table of strides.

use super::approach::measure_approach;
use super::approach_draws::ApproachDraws;
use super::chance::Chance;
use super::outcome::Measurement;
use super::two_fences::measure_lines;
use crate::marks::{BaseCorner, MarkAddress, MarksFile};
use crate::pan::CameraMotion;
use crate::quantity::{DrawError, FrameNumber, seeded};
use crate::survey::{Survey, SurveyError, survey_with_motion};

/// How many draws, and from which seed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Draws {
    /// Number of draws of the joint posterior.
    pub count: usize,
    /// Seed of the generator.
    pub seed: u64,
}

impl Default for Draws {
    /// 2,000 draws hold the ends of a 95 % interval to about 5 % of its half-width.
    fn default() -> Self {
        Self { count: 2000, seed: 20_260_101 }
    }
}

/// Why nothing could be measured.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum MeasureError {
    /// The survey refused.
    #[error(transparent)]
    Survey(#[from] SurveyError),
    /// The marks file does not know when a frame was taken.
    #[error("cannot measure: the marks file holds no time for frame {}", frame.0)]
    NoTime {
        /// The frame.
        frame: FrameNumber,
    },
    /// An approach names a fence that the file does not hold.
    #[error(
        "cannot measure: approach `{approach}` names fence `{fence}`, which the file does not hold"
    )]
    NoFence {
        /// The approach.
        approach: String,
        /// The fence it names.
        fence: String,
    },
    /// The joint distribution could not be drawn from.
    #[error(transparent)]
    Draw(#[from] DrawError),
}

impl MeasureError {
    /// What to do about it.
    pub fn hint(&self) -> Option<String> {
        match self {
            Self::Survey(error) => error.hint(),
            Self::NoTime { .. } => {
                Some("place the mark again with the clip beside the file".into())
            }
            Self::NoFence { .. } => Some("add the fence, or name another".into()),
            Self::Draw(_) => None,
        }
    }
}

/// A scene surveyed and measured, with the draws behind the numbers.
#[derive(Clone, Debug)]
pub struct Drawn {
    /// The survey.
    pub survey: Survey,
    /// The numbers.
    pub measurement: Measurement,
    /// Their draws, an entry an approach in the same order.
    pub draws: Vec<ApproachDraws>,
}

/// Surveys the marks and measures every approach.
pub fn measure(file: &MarksFile, draws: Draws) -> Result<(Survey, Measurement), MeasureError> {
    measure_with_motion(file, None, draws)
}

/// The same with what is known of the camera's motion.
pub fn measure_with_motion(
    file: &MarksFile,
    motion: Option<&CameraMotion>,
    draws: Draws,
) -> Result<(Survey, Measurement), MeasureError> {
    let survey = survey_with_motion(file, motion)?;
    let measurement = measure_surveyed(file, &survey, draws)?;
    Ok((survey, measurement))
}

/// Surveys and measures, and keeps the draws.
pub fn measure_drawn(
    file: &MarksFile,
    motion: Option<&CameraMotion>,
    draws: Draws,
) -> Result<Drawn, MeasureError> {
    let survey = survey_with_motion(file, motion)?;
    let (measurement, draws) = surveyed_with_draws(file, &survey, draws)?;
    Ok(Drawn { survey, measurement, draws })
}

/// Measures every approach of a surveyed scene.
pub fn measure_surveyed(
    file: &MarksFile,
    survey: &Survey,
    draws: Draws,
) -> Result<Measurement, MeasureError> {
    surveyed_with_draws(file, survey, draws).map(|(measurement, _)| measurement)
}

fn surveyed_with_draws(
    file: &MarksFile,
    survey: &Survey,
    draws: Draws,
) -> Result<(Measurement, Vec<ApproachDraws>), MeasureError> {
    let (mut approaches, mut all_draws) = (Vec::new(), Vec::new());
    for (index, approach) in file.approaches.iter().enumerate() {
        let fence = file.fence(&approach.fence).ok_or_else(|| MeasureError::NoFence {
            approach: approach.id.clone(),
            fence: approach.fence.clone(),
        })?;
        let mut wanted: Vec<MarkAddress> = approach
            .footfalls
            .iter()
            .map(|footfall| MarkAddress::Footfall {
                approach: approach.id.clone(),
                footfall: footfall.id.clone(),
            })
            .collect();
        wanted.extend(
            BaseCorner::ALL
                .map(|corner| MarkAddress::FenceBase { fence: fence.id.clone(), corner }),
        );
        let seed = draws.seed.wrapping_add(index as u64);
        let places = survey.posterior.draws(&wanted, draws.count, seed)?;
        let [seed_of_times, seed_of_lengths] = seeds_beside(seed);
        let mut random = seeded(seed_of_times);
        let chances = Chance::draws(draws.count, approach.footfalls.len(), &mut random);
        let (measured, its_draws) =
            measure_approach(file, survey, approach, fence, &places, &chances, seed_of_lengths)?;
        approaches.push(measured);
        all_draws.push(its_draws);
    }
    let lines = measure_lines(file, survey, &approaches, draws)?;
    let measurement = Measurement {
        suspects: survey.suspects.clone(),
        residuals: survey.residuals.clone(),
        doubts: survey.doubts.clone(),
        approaches,
        lines,
    };
    Ok((measurement, all_draws))
}

/// Seeds of what is drawn beside the places: when contacts happened, and the true lengths. No two
/// seeds share one.
fn seeds_beside(seed: u64) -> [u64; 2] {
    [seed ^ 0x7469_6d65, seed ^ 0x6c65_6e67]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_two_seeds_share_a_stream() {
        let seeds: Vec<u64> = (0..64).map(|bit| 1 << bit).chain([0, u64::MAX]).collect();
        for (number, seed) in seeds.iter().enumerate() {
            let [times, lengths] = seeds_beside(*seed);
            assert!(times != *seed && lengths != *seed && times != lengths);
            for other in &seeds[..number] {
                let others = seeds_beside(*other);
                assert!(times != others[0] && lengths != others[1], "{seed} and {other}");
            }
        }
    }
}
