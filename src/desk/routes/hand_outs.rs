//! What is made of a round and handed out as a file.

use axum::Json;
use axum::extract::{Path, State};
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};

use super::{Answer, Shared, apart};
use crate::desk::answers::Refusal;
use crate::desk::open_round::marks_path;
use crate::desk::wire::{HandOutRequest, HandOutView};

pub(in crate::desk) async fn hand_out(
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

pub(in crate::desk) async fn hand_out_view(
    State(desk): Shared,
    Path(id): Path<u32>,
) -> Answer<HandOutView> {
    desk.hand_outs.view(id).map(Json).ok_or_else(no_such_job)
}

pub(in crate::desk) async fn hand_out_cancel(
    State(desk): Shared,
    Path(id): Path<u32>,
) -> Answer<HandOutView> {
    desk.hand_outs.cancel(id).map(Json).ok_or_else(no_such_job)
}

pub(in crate::desk) async fn hand_out_file(
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
