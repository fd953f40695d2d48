//! What the page can ask for.

use std::sync::Arc;
use std::time::Duration;

use axum::Json;
use axum::body::Body;
use axum::extract::{Path, Query, State};
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use serde::Deserialize;

use super::answers::Refusal;
use super::carried::steady_view;
use super::clip_motion::ClipMotion;
use super::folder::clips;
use super::lesson_view::lesson_view;
use super::measured::Measured;
use super::numbers_view::numbers_view;
use super::open_clip::OpenClip;
use super::open_round::{OpenRound, marks_path};
use super::overlay_view::{Shown, overlay_view};
use super::page_files::page_file;
use super::reading_view::Told;
use super::stand_view::{stand_view, stood_view};
use super::state::Desk;
use super::wire::{
    ActDone, ActRequest, ClipView, FolderView, HandOutRequest, HandOutView, LessonView, LessonWish,
    MotionView, NumbersView, OverlayView, Progress, RoundView, StandQuery, StandView, SteadyView,
};
use crate::draw::{Theme, Tolerance};
use crate::quantity::{FrameNumber, LengthUnits, Metres, Unit};
use crate::reading::{Audience, Settings, Zone};
use crate::stand::StandError;

type Shared = State<Arc<Desk>>;
type Answer<T> = Result<Json<T>, Refusal>;

pub(super) async fn index() -> Response {
    page_file("index.html").unwrap_or_else(|| StatusCode::NOT_FOUND.into_response())
}

pub(super) async fn page(Path(name): Path<String>) -> Response {
    page_file(&name).unwrap_or_else(|| StatusCode::NOT_FOUND.into_response())
}

/// Work that blocks, off the threads that answer.
async fn apart<T: Send + 'static>(
    work: impl FnOnce() -> Result<T, Refusal> + Send + 'static,
) -> Result<T, Refusal> {
    match tokio::task::spawn_blocking(work).await {
        Ok(done) => done,
        Err(_) => {
            Err(Refusal::failed("cannot answer: the program failed at it; this is our fault"))
        }
    }
}

pub(super) async fn folder(State(desk): Shared) -> Answer<FolderView> {
    apart(move || folder_view(&desk).map(Json)).await
}

pub(super) fn folder_view(desk: &Desk) -> Result<FolderView, Refusal> {
    let mut clips = clips(&desk.folder).map_err(|error| {
        Refusal::failed(format!("cannot read the folder: {}", crate::footage::io_words(&error)))
    })?;
    for card in &mut clips {
        if let Some(why) = desk.unreadable(&card.clip) {
            card.progress = Progress::Unreadable;
            card.unreadable = Some(why);
        }
    }
    let whole = desk.folder.canonicalize().unwrap_or_else(|_| desk.folder.clone());
    let name = whole.file_name().unwrap_or(whole.as_os_str()).to_string_lossy().into_owned();
    let open_elsewhere = desk.elsewhere().map(str::to_owned);
    Ok(FolderView { name, clips, open_elsewhere, first: desk.first.clone() })
}

async fn opened(desk: Arc<Desk>, name: String) -> Result<Arc<OpenClip>, Refusal> {
    apart(move || desk.clip(&name)).await
}

pub(super) async fn clip(State(desk): Shared, Path(name): Path<String>) -> Answer<ClipView> {
    let clip = opened(desk, name).await?;
    clip.view().map(Json).map_err(|error| Refusal::unreadable(&error))
}

pub(super) async fn poster(
    State(desk): Shared,
    Path(name): Path<String>,
) -> Result<Response, Refusal> {
    let poster = apart(move || desk.poster(&name)).await?;
    Ok(([(header::CONTENT_TYPE, "image/jpeg")], Body::from(poster.as_ref().clone()))
        .into_response())
}

#[derive(Deserialize)]
pub(super) struct FrameQuery {
    width: Option<u32>,
}

pub(super) async fn frame(
    State(desk): Shared,
    Path((name, number)): Path<(String, u32)>,
    Query(query): Query<FrameQuery>,
) -> Result<Response, Refusal> {
    let clip = opened(desk, name).await?;
    let number = FrameNumber(number);
    if number > clip.clip.last_frame() {
        let last = clip.clip.last_frame().0;
        let error = format!("cannot show frame {}: the last one is {last}", number.0);
        return Err(Refusal::new(StatusCode::NOT_FOUND, error, None));
    }
    picture(&clip, number, query.width.filter(|width| *width > 0)).await
}

/// Dropped while it waits when the page gives the request up: the thread then skips it.
async fn picture(
    clip: &OpenClip,
    frame: FrameNumber,
    width: Option<u32>,
) -> Result<Response, Refusal> {
    let made = clip.frames.picture(frame, width).await;
    let made = made.ok_or_else(|| Refusal::failed("cannot show the frame: its reader ended"))?;
    let bytes =
        made.map_err(|error| Refusal::new(StatusCode::UNPROCESSABLE_ENTITY, error, None))?;
    let number = frame.0.to_string();
    let heads = [
        (header::CONTENT_TYPE, "image/jpeg"),
        // A clip's frames never change under one name while the page is open.
        (header::CACHE_CONTROL, "private, max-age=3600"),
    ];
    Ok((heads, [("x-frame", number)], Body::from(bytes.as_ref().clone())).into_response())
}

async fn with_round<T: Send + 'static>(
    desk: Arc<Desk>,
    name: String,
    work: impl FnOnce(&OpenClip, &OpenRound) -> Result<T, Refusal> + Send + 'static,
) -> Answer<T> {
    begun_or_not(desk, name, false, work).await
}

async fn begun_or_not<T: Send + 'static>(
    desk: Arc<Desk>,
    name: String,
    begin: bool,
    work: impl FnOnce(&OpenClip, &OpenRound) -> Result<T, Refusal> + Send + 'static,
) -> Answer<T> {
    let done = apart(move || {
        let clip = desk.clip(&name)?;
        let round = desk.round(&clip, begin)?;
        work(&clip, &round)
    });
    done.await.map(Json)
}

pub(super) async fn round(State(desk): Shared, Path(name): Path<String>) -> Answer<RoundView> {
    with_round(desk, name, |clip, round| Ok(round.view(clip)?)).await
}

pub(super) async fn begin(State(desk): Shared, Path(name): Path<String>) -> Answer<RoundView> {
    begun_or_not(desk, name, true, |clip, round| Ok(round.view(clip)?)).await
}

pub(super) async fn act(
    State(desk): Shared,
    Path(name): Path<String>,
    Json(request): Json<ActRequest>,
) -> Answer<ActDone> {
    with_round(desk, name, |clip, round| Ok(round.act(clip, request)?)).await
}

/// How numbers and overlays are drawn.
#[derive(Deserialize)]
pub(super) struct LookQuery {
    #[serde(default)]
    feet: u8,
    #[serde(default)]
    dark: u8,
    /// What the coach calls level, metres to either side of the mean.
    within: Option<f64>,
    /// Where she wants take-off and landing, metres from the fence.
    zone: Option<f64>,
    /// How far that reaches either way, metres.
    zone_within: Option<f64>,
    /// Sentences are for the rider.
    #[serde(default)]
    rider: u8,
}

impl LookQuery {
    fn units(&self) -> LengthUnits {
        if self.feet == 1 { LengthUnits::Feet } else { LengthUnits::Metres }
    }

    fn tolerance(&self) -> Option<Tolerance> {
        let half = self.within.filter(|half| half.is_finite() && *half > 0.0)?;
        Some(Tolerance { middle: None, half: Metres::new(half) })
    }

    fn settings(&self) -> Settings {
        let usual = Settings::default();
        let metres = |stated: Option<f64>, usual: Metres| {
            let stated = stated.filter(|metres| metres.is_finite() && *metres > 0.0);
            stated.map_or(usual, Metres::new)
        };
        let zone = Zone {
            middle_m: metres(self.zone, usual.take_off_zone.middle_m),
            half_m: metres(self.zone_within, usual.take_off_zone.half_m),
        };
        Settings {
            level_within_m: metres(self.within, usual.level_within_m),
            take_off_zone: zone,
            landing_zone: zone,
            ..usual
        }
    }

    fn audience(&self) -> Audience {
        if self.rider == 1 { Audience::Rider } else { Audience::Coach }
    }

    fn theme(&self) -> Theme {
        if self.dark == 1 { Theme::DARK } else { Theme::LIGHT }
    }
}

pub(super) async fn numbers(
    State(desk): Shared,
    Path(name): Path<String>,
    Query(look): Query<LookQuery>,
) -> Answer<NumbersView> {
    with_round(desk, name, move |clip, round| {
        let measured: Arc<Measured> = round.measured()?;
        let shown = round.shown(clip, &measured, Duration::ZERO).strides;
        let told = Told::english(shown, look.settings(), look.audience(), look.units());
        let told = told.map_err(Refusal::failed)?;
        Ok(numbers_view(&measured, &told, look.theme(), look.tolerance()))
    })
    .await
}

/// How long a plan waits for the horse's other rounds to be measured.
const PATIENCE: Duration = Duration::from_secs(2);

pub(super) async fn lesson(
    State(desk): Shared,
    Path(name): Path<String>,
    Query(look): Query<LookQuery>,
    Query(wish): Query<LessonWish>,
) -> Answer<LessonView> {
    with_round(desk, name, move |clip, round| {
        let measured: Arc<Measured> = round.measured()?;
        let shown = round.shown(clip, &measured, PATIENCE);
        lesson_view(&measured, &shown, &wish, (look.units(), look.theme())).map_err(Refusal::failed)
    })
    .await
}

pub(super) async fn overlay(
    State(desk): Shared,
    Path((name, frame)): Path<(String, u32)>,
    Query(look): Query<LookQuery>,
) -> Answer<OverlayView> {
    with_round(desk, name, move |clip, round| {
        let measured = round.measured()?;
        let capture_s = |frame| clip.capture_s(frame);
        let shown = Shown { frame: FrameNumber(frame), capture_s: &capture_s };
        Ok(overlay_view(&measured, shown, look.units(), look.theme()))
    })
    .await
}

/// Where to stand; it needs no clip.
pub(super) async fn stand(
    Query(asked): Query<StandQuery>,
    Query(look): Query<LookQuery>,
) -> Answer<StandView> {
    apart(move || {
        let view = stand_view(&asked, look.units(), look.theme());
        view.map(Json).map_err(|error| not_planned(&error, look.units()))
    })
    .await
}

/// Which approach of a round.
#[derive(Deserialize)]
pub(super) struct ApproachQuery {
    approach: Option<String>,
}

/// Where to stand the next time.
pub(super) async fn stood(
    State(desk): Shared,
    Path(name): Path<String>,
    Query(asked): Query<ApproachQuery>,
    Query(look): Query<LookQuery>,
) -> Answer<StandView> {
    with_round(desk, name, move |_, round| {
        let measured = round.measured()?;
        stood_view(&measured, asked.approach.as_deref(), look.units(), look.theme())
            .map_err(|error| not_planned(&error, look.units()))
    })
    .await
}

fn not_planned(error: &StandError, units: LengthUnits) -> Refusal {
    let status = StatusCode::UNPROCESSABLE_ENTITY;
    Refusal::new(status, error.words(units), Some(error.hint()))
}

pub(super) async fn motion(State(desk): Shared, Path(name): Path<String>) -> Answer<MotionView> {
    with_round(desk, name, |clip, round| Ok(round.motion(clip, ClipMotion::view)?)).await
}

pub(super) async fn steady(
    State(desk): Shared,
    Path((name, onto)): Path<(String, u32)>,
) -> Answer<SteadyView> {
    with_round(desk, name, move |clip, round| {
        let motion = round.motion(clip, ClipMotion::motion)?;
        let frames = clip.clip.frame_count();
        Ok(steady_view(motion.as_deref(), FrameNumber(onto), frames))
    })
    .await
}

pub(super) async fn hand_out(
    State(desk): Shared,
    Path(name): Path<String>,
    Json(request): Json<HandOutRequest>,
) -> Answer<HandOutView> {
    let made = apart(move || {
        let clip = desk.clip(&name)?;
        let round = desk.round(&clip, false)?;
        let others = round.names_horse()?.then_some(desk.folder.as_path());
        desk.hand_outs.start(&marks_path(&clip), others, &request).map_err(Refusal::failed)
    });
    made.await.map(Json)
}

fn no_such_job() -> Refusal {
    Refusal::new(StatusCode::NOT_FOUND, "cannot find it: nothing of that number is made", None)
}

pub(super) async fn hand_out_view(State(desk): Shared, Path(id): Path<u32>) -> Answer<HandOutView> {
    desk.hand_outs.view(id).map(Json).ok_or_else(no_such_job)
}

pub(super) async fn hand_out_cancel(
    State(desk): Shared,
    Path(id): Path<u32>,
) -> Answer<HandOutView> {
    desk.hand_outs.cancel(id).map(Json).ok_or_else(no_such_job)
}

pub(super) async fn hand_out_file(
    State(desk): Shared,
    Path(id): Path<u32>,
) -> Result<Response, Refusal> {
    let path = desk.hand_outs.file(id).ok_or_else(no_such_job)?;
    let bytes = tokio::fs::read(&path).await.map_err(Refusal::failed)?;
    let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
    let kind = match path.extension().and_then(|ending| ending.to_str()) {
        Some("pdf") => "application/pdf",
        Some("jpg") => "image/jpeg",
        Some("csv") => "text/csv; charset=utf-8",
        Some("mp4") => "video/mp4",
        _ => "application/octet-stream",
    };
    let disposition = format!("attachment; filename*=UTF-8''{}", percent_encoded(&name));
    Ok((
        [(header::CONTENT_TYPE, kind.to_owned()), (header::CONTENT_DISPOSITION, disposition)],
        bytes,
    )
        .into_response())
}

/// RFC 5987's encoding of a name in a head.
fn percent_encoded(name: &str) -> String {
    name.bytes()
        .map(|byte| match byte {
            b'0'..=b'9' | b'A'..=b'Z' | b'a'..=b'z' | b'-' | b'.' | b'_' => {
                char::from(byte).to_string()
            }
            byte => format!("%{byte:02X}"),
        })
        .collect()
}
