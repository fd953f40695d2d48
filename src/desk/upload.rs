//! A clip that was dropped on the page: copied into the folder, whole or not at all.

use std::sync::Arc;

use axum::Json;
use axum::body::Body;
use axum::extract::{Path, State};
use axum::http::StatusCode;
use tokio::io::AsyncWriteExt;

use super::answers::Refusal;
use super::folder::inside;
use super::routes::folder_view;
use super::state::Desk;
use super::wire::FolderView;
use crate::footage::{Clip, OpenOptions};

pub(super) async fn upload(
    State(desk): State<Arc<Desk>>,
    Path(name): Path<String>,
    body: Body,
) -> Result<Json<FolderView>, Refusal> {
    let Some(target) = inside(&desk.folder, &name) else {
        let error = format!("cannot copy `{name}` in: it is not called as a clip is");
        let hint = "clips end in .mp4, .mov, .m4v, .webm, .mkv, .avi, .3gp, .mts or .mpg";
        return Err(Refusal::new(StatusCode::UNSUPPORTED_MEDIA_TYPE, error, Some(hint.into())));
    };
    if target.symlink_metadata().is_ok() {
        return Err(taken(&name));
    }
    let aside = tempfile::Builder::new()
        .prefix(".groundline-")
        .suffix(".copying")
        .tempfile_in(&desk.folder)
        .map_err(|error| cannot_write(&name, &error))?;
    let (file, aside) = aside.into_parts();
    write_all(body, tokio::fs::File::from_std(file)).await.map_err(|why| {
        Refusal::new(
            StatusCode::INTERNAL_SERVER_ERROR,
            format!("cannot copy `{name}` in: {why}"),
            None,
        )
    })?;
    let view = tokio::task::spawn_blocking(move || {
        // Opened before it has its name: what is no clip never appears in the folder.
        let options = OpenOptions { without_hash: true, ..OpenOptions::default() };
        Clip::open(&aside, &options).map_err(|error| {
            let said = error.to_string().replace(&aside.display().to_string(), &name);
            Refusal::new(StatusCode::UNSUPPORTED_MEDIA_TYPE, said, error.hint())
        })?;
        aside.persist_noclobber(&target).map_err(|error| match error.error.kind() {
            std::io::ErrorKind::AlreadyExists => taken(&name),
            _ => cannot_write(&name, &error.error),
        })?;
        folder_view(&desk)
    });
    match view.await {
        Ok(view) => view.map(Json),
        Err(_) => Err(Refusal::failed("cannot copy the clip in: the program failed at it")),
    }
}

fn taken(name: &str) -> Refusal {
    let error = format!("cannot copy `{name}` in: the folder has a file of that name");
    Refusal::new(StatusCode::CONFLICT, error, Some("give the clip another name".into()))
}

fn cannot_write(name: &str, error: &std::io::Error) -> Refusal {
    let why = crate::footage::io_words(error);
    Refusal::failed(format!("cannot copy `{name}` in: {why}"))
}

async fn write_all(body: Body, mut file: tokio::fs::File) -> Result<(), String> {
    use axum::body::HttpBody;
    let mut body = std::pin::pin!(body);
    loop {
        let frame = std::future::poll_fn(|context| body.as_mut().poll_frame(context)).await;
        match frame {
            None => break,
            Some(Err(error)) => return Err(error.to_string()),
            Some(Ok(frame)) => {
                if let Ok(data) = frame.into_data() {
                    let written = file.write_all(&data).await;
                    written.map_err(|error| crate::footage::io_words(&error))?;
                }
            }
        }
    }
    let synced = match file.flush().await {
        Ok(()) => file.sync_all().await,
        Err(error) => Err(error),
    };
    synced.map_err(|error| crate::footage::io_words(&error))
}
