//! A round: its steps, changes and numbers, the next lesson, the camera's motion.

use std::sync::Arc;
use std::time::Duration;

use axum::Json;
use axum::extract::{Path, Query, State};

use super::look_query::LookQuery;
use super::{Answer, Shared, apart};
use crate::desk::answers::Refusal;
use crate::desk::carried::steady_view;
use crate::desk::clip_motion::ClipMotion;
use crate::desk::lesson_view::lesson_view;
use crate::desk::measured::Measured;
use crate::desk::numbers_view::numbers_view;
use crate::desk::open_clip::OpenClip;
use crate::desk::open_round::OpenRound;
use crate::desk::overlay_view::{Shown, overlay_view};
use crate::desk::reading_view::Told;
use crate::desk::state::Desk;
use crate::desk::wire::{
    ActDone, ActRequest, LessonView, LessonWish, MotionView, NumbersView, OverlayView, RoundView,
    SteadyView,
};
use crate::quantity::FrameNumber;

pub(super) async fn with_round<T: Send + 'static>(
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

pub(in crate::desk) async fn round(
    State(desk): Shared,
    Path(name): Path<String>,
) -> Answer<RoundView> {
    with_round(desk, name, |clip, round| Ok(round.view(clip)?)).await
}

pub(in crate::desk) async fn begin(
    State(desk): Shared,
    Path(name): Path<String>,
) -> Answer<RoundView> {
    begun_or_not(desk, name, true, |clip, round| Ok(round.view(clip)?)).await
}

pub(in crate::desk) async fn act(
    State(desk): Shared,
    Path(name): Path<String>,
    Json(request): Json<ActRequest>,
) -> Answer<ActDone> {
    with_round(desk, name, |clip, round| Ok(round.act(clip, request)?)).await
}

pub(in crate::desk) async fn numbers(
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

pub(in crate::desk) async fn lesson(
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

pub(in crate::desk) async fn overlay(
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

pub(in crate::desk) async fn motion(
    State(desk): Shared,
    Path(name): Path<String>,
) -> Answer<MotionView> {
    with_round(desk, name, |clip, round| Ok(round.motion(clip, ClipMotion::view)?)).await
}

pub(in crate::desk) async fn steady(
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
