//! The folder, its clips and their frames.

use std::sync::Arc;

use axum::Json;
use axum::body::Body;
use axum::extract::{Path, Query, State};
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use serde::Deserialize;

use super::{Answer, Shared, apart};
use crate::desk::answers::Refusal;
use crate::desk::folder::clips;
use crate::desk::open_clip::OpenClip;
use crate::desk::state::Desk;
use crate::desk::wire::{ClipView, FolderView, Progress};
use crate::quantity::FrameNumber;

pub(in crate::desk) async fn folder(State(desk): Shared) -> Answer<FolderView> {
    apart(move || folder_view(&desk).map(Json)).await
}

pub(in crate::desk) fn folder_view(desk: &Desk) -> Result<FolderView, Refusal> {
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

pub(in crate::desk) async fn clip(
    State(desk): Shared,
    Path(name): Path<String>,
) -> Answer<ClipView> {
    let clip = opened(desk, name).await?;
    clip.view().map(Json).map_err(|error| Refusal::unreadable(&error))
}

pub(in crate::desk) async fn poster(
    State(desk): Shared,
    Path(name): Path<String>,
) -> Result<Response, Refusal> {
    let poster = apart(move || desk.poster(&name)).await?;
    Ok(([(header::CONTENT_TYPE, "image/jpeg")], Body::from(poster.as_ref().clone()))
        .into_response())
}

#[derive(Deserialize)]
pub(in crate::desk) struct FrameQuery {
    width: Option<u32>,
}

pub(in crate::desk) async fn frame(
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
