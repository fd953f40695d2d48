//! The yardstick: the same clicks through a plain homography fitted by OpenCV.
//!
//! One Python process for all scenes. A fixed camera gets one homography from all marked pole
//! ends to where their stated spacing and length put them; a turning one gets a homography for
//! each frame on which four ends or more are marked, and measures a stride only where both its
//! hooves fall on such frames.

use std::collections::BTreeMap;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use groundline::marks::{
    BaseCorner, Event, FenceKind, Mark, MarkAddress, MarksFile, Motion, PoleEnd, ReferenceKind,
};
use groundline::quantity::FrameNumber;
use groundline::scene::GroundPoint;
use serde_json::{Value, json};

use super::judge::{Evenness, Run};
use super::score::Quantity;

/// What the homography is to say beside one datum.
#[derive(Clone, Debug)]
pub struct Wanted {
    what: What,
    truth: f64,
}

type Pair = (String, String);

#[derive(Clone, Debug)]
enum What {
    Nothing,
    Length(Pair),
    Speed(Pair, f64),
    BeforeTakeOffBase(String),
    BehindLandingBase(String),
    Offset,
    Angle,
    Evenness(Quantity, Vec<(i32, Pair)>),
}

impl Wanted {
    fn new(what: What) -> Self {
        Self { what, truth: f64::NAN }
    }
    /// A homography says nothing about time.
    pub fn nothing() -> Self {
        Self::new(What::Nothing)
    }
    pub fn length(pair: Pair) -> Self {
        Self::new(What::Length(pair))
    }
    pub fn speed(pair: Pair, duration_s: f64) -> Self {
        Self::new(What::Speed(pair, duration_s))
    }
    pub fn before_take_off_base(footfall: String) -> Self {
        Self::new(What::BeforeTakeOffBase(footfall))
    }
    pub fn behind_landing_base(footfall: String) -> Self {
        Self::new(What::BehindLandingBase(footfall))
    }
    pub fn offset() -> Self {
        Self::new(What::Offset)
    }
    pub fn angle() -> Self {
        Self::new(What::Angle)
    }
    pub fn evenness(quantity: Quantity, strides: Vec<(i32, Pair)>) -> Self {
        Self::new(What::Evenness(quantity, strides))
    }
    pub fn with_truth(self, truth: f64) -> Self {
        Self { truth, ..self }
    }
}

/// One homography: pole ends to fit it to, and marks to put through it.
#[derive(Clone, Debug, Default)]
struct View {
    pairs: Vec<[f64; 4]>,
    points: Vec<(Point, [f64; 2])>,
}

#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Point {
    Hoof(String),
    Corner(BaseCorner),
}

/// What to do with one scene's clicks.
#[derive(Clone, Debug, Default)]
pub struct Job {
    views: Vec<View>,
    wanted: Vec<Wanted>,
    /// Hooves of the approach: the track is a straight line through them.
    track: Vec<String>,
    is_oxer: bool,
}

impl Job {
    pub fn new(file: &MarksFile, wanted: Vec<Wanted>) -> Self {
        let fixed = file.camera.motion == Motion::Fixed;
        let view_of = |mark: &Mark| if fixed { FrameNumber(0) } else { mark.frame };
        let mut views: BTreeMap<FrameNumber, View> = BTreeMap::new();
        for reference in &file.references {
            let ReferenceKind::Poles { spacing_m, length_m, ends, .. } = &reference.kind else {
                continue;
            };
            for end in ends {
                let x = f64::from(end.pole - 1) * spacing_m.value;
                let side = if end.end == PoleEnd::Left { 0.5 } else { -0.5 };
                for mark in &end.marks {
                    let pair = [mark.x, mark.y, x, side * length_m.value];
                    views.entry(view_of(mark)).or_default().pairs.push(pair);
                }
            }
        }
        let hidden = |id: &str| file.approaches[0].footfalls.iter().any(|f| f.id == id && f.hidden);
        for (address, marks) in file.places() {
            let point = match address {
                MarkAddress::FenceBase { corner, .. } => Point::Corner(corner),
                MarkAddress::Footfall { footfall, .. } if !hidden(&footfall) => {
                    Point::Hoof(footfall)
                }
                _ => continue,
            };
            for mark in marks {
                let view = views.entry(view_of(mark)).or_default();
                view.points.push((point.clone(), [mark.x, mark.y]));
            }
        }
        let track = file.approaches[0]
            .footfalls
            .iter()
            .filter(|f| !f.hidden && matches!(f.event, Event::Stride | Event::TakeOff))
            .map(|f| f.id.clone())
            .collect();
        let is_oxer = file.fences[0].kind == FenceKind::Oxer;
        Self { views: views.into_values().collect(), wanted, track, is_oxer }
    }
}

/// What OpenCV found: its version, or why it was not asked.
pub type Asked = Result<String, String>;

/// Puts all scenes' clicks through OpenCV and writes its errors beside ours.
pub fn fill(runs: &mut [&mut Run]) -> Asked {
    let views: Vec<Value> = runs
        .iter()
        .flat_map(|run| &run.job.views)
        .map(|view| {
            let points: Vec<_> = view.points.iter().map(|(_, at)| at).collect();
            json!({ "pairs": view.pairs, "points": points })
        })
        .collect();
    let answer = ask(&json!({ "views": views }))?;
    let version = answer["opencv"].as_str().unwrap_or("of unknown version").to_owned();
    let grounds = answer["grounds"].as_array().ok_or("it printed no ground points")?;
    let mut next = grounds.iter();
    for run in runs {
        let mut placed = Placed::default();
        for view in &run.job.views {
            placed.add(view, next.next().ok_or("it printed too few views")?);
        }
        for (datum, wanted) in run.data.iter_mut().zip(&run.job.wanted) {
            let measured = placed.measure(&run.job, &wanted.what);
            datum.plain = measured.map(|m| m - wanted.truth).filter(|error| error.is_finite());
        }
    }
    Ok(version)
}

/// The Python of the outside checks: the environment's word, else where `make test` puts it.
fn python() -> Option<PathBuf> {
    if let Some(told) = std::env::var_os("GROUNDLINE_PYTHON") {
        return Some(told.into());
    }
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/outside/python-path");
    let printed = Command::new("bash").arg(script).output().ok()?.stdout;
    let path = PathBuf::from(String::from_utf8(printed).ok()?.trim());
    path.exists().then_some(path)
}

fn ask(question: &Value) -> Result<Value, String> {
    let python = python().ok_or("the Python of the outside checks is not here (`make python`)")?;
    let mut file = tempfile::NamedTempFile::new().map_err(|error| error.to_string())?;
    file.write_all(question.to_string().as_bytes()).map_err(|error| error.to_string())?;
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/outside/homography.py");
    let output = Command::new(python)
        .arg(script)
        .arg(file.path())
        .stderr(Stdio::inherit())
        .output()
        .map_err(|error| error.to_string())?;
    if !output.status.success() {
        return Err(format!("tests/outside/homography.py stopped with {}", output.status));
    }
    serde_json::from_slice(&output.stdout).map_err(|error| error.to_string())
}

/// Ground points of one scene by the homography.
#[derive(Default)]
struct Placed {
    hooves: BTreeMap<String, GroundPoint>,
    /// Base points by the view that placed them, since each view has errors of its own.
    corners: Vec<BTreeMap<BaseCorner, GroundPoint>>,
    view_of_hoof: BTreeMap<String, usize>,
}

/// A base: its middle and the direction to the left along it.
struct Base {
    middle: GroundPoint,
    left: (f64, f64),
}

impl Base {
    fn ahead_of(&self, point: GroundPoint) -> f64 {
        (point.x - self.middle.x) * self.left.1 - (point.y - self.middle.y) * self.left.0
    }
}

impl Placed {
    fn add(&mut self, view: &View, grounds: &Value) {
        let number = self.corners.len();
        self.corners.push(BTreeMap::new());
        let Some(grounds) = grounds.as_array() else { return };
        for ((point, _), at) in view.points.iter().zip(grounds) {
            let (Some(x), Some(y)) = (at[0].as_f64(), at[1].as_f64()) else { continue };
            let place = GroundPoint::new(x, y);
            match point {
                Point::Hoof(id) => {
                    self.hooves.insert(id.clone(), place);
                    self.view_of_hoof.insert(id.clone(), number);
                }
                Point::Corner(corner) => {
                    self.corners[number].insert(*corner, place);
                }
            }
        }
    }

    fn measure(&self, job: &Job, what: &What) -> Option<f64> {
        match what {
            What::Nothing => None,
            What::Length(pair) => self.length(pair),
            What::Speed(pair, duration_s) => Some(self.length(pair)? / duration_s),
            What::BeforeTakeOffBase(hoof) => Some(-self.ahead(hoof, TAKE_OFF)?),
            What::BehindLandingBase(hoof) => {
                self.ahead(hoof, if job.is_oxer { LANDING } else { TAKE_OFF })
            }
            What::Offset => Some(self.crossing(&job.track)?.0),
            What::Angle => Some(self.crossing(&job.track)?.1),
            What::Evenness(quantity, strides) => {
                let lengths: Option<Vec<(i32, f64)>> = strides
                    .iter()
                    .map(|(number, pair)| Some((*number, self.length(pair)?)))
                    .collect();
                let evenness = Evenness::of(&lengths?)?;
                Some(match quantity {
                    Quantity::Variation => evenness.variation_percent,
                    Quantity::Range => evenness.range_m,
                    Quantity::Trend => evenness.trend_m,
                    _ => evenness.mean_m,
                })
            }
        }
    }

    fn length(&self, (from, to): &Pair) -> Option<f64> {
        Some(self.hooves.get(from)?.distance(*self.hooves.get(to)?))
    }

    fn base(&self, view: usize, (left, right): (BaseCorner, BaseCorner)) -> Option<Base> {
        let (left, right) = (self.corners[view].get(&left)?, self.corners[view].get(&right)?);
        let width = left.distance(*right);
        Some(Base {
            middle: GroundPoint::new(
                f64::midpoint(left.x, right.x),
                f64::midpoint(left.y, right.y),
            ),
            left: ((left.x - right.x) / width, (left.y - right.y) / width),
        })
    }

    fn ahead(&self, hoof: &str, corners: (BaseCorner, BaseCorner)) -> Option<f64> {
        let base = self.base(*self.view_of_hoof.get(hoof)?, corners)?;
        Some(base.ahead_of(*self.hooves.get(hoof)?))
    }

    /// Offset and angle (degrees) at which a straight line through the hooves meets the base, as
    /// the last view places it.
    fn crossing(&self, track: &[String]) -> Option<(f64, f64)> {
        let base = (0..self.corners.len()).rev().find_map(|view| self.base(view, TAKE_OFF))?;
        // Along and across the base's own axes, so that a track square to it fits without trouble.
        let hooves: Vec<(f64, f64)> = track
            .iter()
            .filter_map(|id| self.hooves.get(id))
            .map(|place| {
                let (x, y) = (place.x - base.middle.x, place.y - base.middle.y);
                (base.ahead_of(*place), x * base.left.0 + y * base.left.1)
            })
            .collect();
        let n = hooves.len() as f64;
        if hooves.len() < 3 {
            return None;
        }
        let (along, across) = hooves.iter().fold((0.0, 0.0), |sum, h| (sum.0 + h.0, sum.1 + h.1));
        let (along, across) = (along / n, across / n);
        let squares: f64 = hooves.iter().map(|h| (h.0 - along).powi(2)).sum();
        let cross: f64 = hooves.iter().map(|h| (h.0 - along) * (h.1 - across)).sum();
        let slope = cross / squares;
        Some((across - slope * along, slope.atan().to_degrees()))
    }
}

const TAKE_OFF: (BaseCorner, BaseCorner) = (BaseCorner::TakeOffLeft, BaseCorner::TakeOffRight);
const LANDING: (BaseCorner, BaseCorner) = (BaseCorner::LandingLeft, BaseCorner::LandingRight);
