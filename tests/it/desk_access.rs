//! Who may ask the desk, and for what.

use axum::body::Body;
use axum::http::{Method, Request, StatusCode, header};

use crate::served::{PORT, Served};

#[test]
fn only_the_page_with_its_key_may_ask() {
    let served = Served::new();
    let routes = [
        "/",
        "/page/main.js",
        "/api/folder",
        "/api/clips/ride.mp4",
        "/api/clips/ride.mp4/poster",
        "/api/clips/ride.mp4/frames/0",
        "/api/rounds/ride.mp4",
        "/api/rounds/ride.mp4/numbers",
        "/api/rounds/ride.mp4/lesson",
        "/api/rounds/ride.mp4/stand",
        "/api/rounds/ride.mp4/overlay/0",
        "/api/hand-outs/0",
        "/api/hand-outs/0/file",
        "/nowhere",
    ];
    let own_host = format!("127.0.0.1:{PORT}");
    let with = |path: &str, host: &str, origin: Option<&str>, cookie: Option<&str>| {
        let mut request = Request::builder().uri(path).header(header::HOST, host);
        if let Some(origin) = origin {
            request = request.header(header::ORIGIN, origin);
        }
        if let Some(cookie) = cookie {
            request = request.header(header::COOKIE, cookie);
        }
        served.ask(request.body(Body::empty()).unwrap()).status
    };
    let cookie = served.cookie.as_str();
    for path in routes {
        let own_origin = format!("http://localhost:{PORT}");
        assert_ne!(with(path, &own_host, None, Some(cookie)), StatusCode::UNAUTHORIZED, "{path}");
        let allowed = with(path, &own_host, Some(&own_origin), Some(cookie));
        assert!(allowed != StatusCode::FORBIDDEN && allowed != StatusCode::UNAUTHORIZED, "{path}");
        assert_eq!(with(path, &own_host, None, None), StatusCode::UNAUTHORIZED, "{path}");
        let wrong = format!("groundline_desk_{PORT}=0123456789abcdef0123456789abcdef");
        assert_eq!(with(path, &own_host, None, Some(&wrong)), StatusCode::UNAUTHORIZED, "{path}");
        for host in ["evil.example", "127.0.0.1", "127.0.0.1:1", "127.0.0.1:8765.evil.example"] {
            let refused = with(path, host, None, Some(cookie));
            assert_eq!(refused, StatusCode::MISDIRECTED_REQUEST, "{path} {host}");
        }
        for origin in
            ["http://evil.example", "null", "https://127.0.0.1:8765", "http://127.0.0.1:1"]
        {
            let refused = with(path, &own_host, Some(origin), Some(cookie));
            assert_eq!(refused, StatusCode::FORBIDDEN, "{path} {origin}");
        }
    }
    // A change must say where it comes from.
    let silent = Request::post("/api/rounds/ride.mp4")
        .header(header::HOST, &own_host)
        .header(header::COOKIE, cookie);
    let silent = served.ask(silent.body(Body::empty()).unwrap());
    assert_eq!(silent.status, StatusCode::FORBIDDEN);
    assert!(!served.marks().exists());
}

#[test]
fn the_key_becomes_a_cookie_that_other_sites_cannot_send() {
    let served = Served::new();
    let key = served.cookie.split_once('=').unwrap().1;
    let asked = |key: &str| {
        let request =
            Request::get(format!("/?key={key}")).header(header::HOST, format!("127.0.0.1:{PORT}"));
        served.ask(request.body(Body::empty()).unwrap())
    };
    let welcomed = asked(key);
    assert_eq!(welcomed.status, StatusCode::SEE_OTHER);
    assert_eq!(welcomed.heads[header::LOCATION], "/");
    let cookie = welcomed.heads[header::SET_COOKIE].to_str().unwrap();
    for part in ["HttpOnly", "SameSite=Strict", "Path=/"] {
        assert!(cookie.contains(part), "{cookie}");
    }
    assert_eq!(asked("0000").status, StatusCode::UNAUTHORIZED);
    let page = served.get("/");
    assert_eq!(page.status, StatusCode::OK);
    let policy = page.heads[header::CONTENT_SECURITY_POLICY].to_str().unwrap();
    assert!(policy.starts_with("default-src 'none'") && !policy.contains("unsafe"), "{policy}");
    assert!(!String::from_utf8_lossy(&page.body).contains(key));
}

#[test]
fn nothing_outside_the_folder_is_read() {
    let served = Served::new();
    let outside = served.folder.path().parent().unwrap().join("outside.mp4");
    assert!(!outside.exists());
    for name in [
        "..%2Foutside.mp4",
        "%2Fetc%2Fpasswd",
        "..",
        "%2e%2e%2foutside.mp4",
        "ride.marks.json",
        "a%00.mp4",
        "sub%2Fride.mp4",
        "..%5Coutside.mp4",
    ] {
        for path in [
            format!("/api/clips/{name}"),
            format!("/api/clips/{name}/frames/0"),
            format!("/api/rounds/{name}"),
        ] {
            assert_eq!(served.get(&path).status, StatusCode::NOT_FOUND, "{path}");
        }
        let upload = served.request(Method::PUT, &format!("/api/clips/{name}"));
        let refused = served.ask(upload.body(Body::from("x")).unwrap()).status;
        assert!(refused.is_client_error(), "{name}: {refused}");
    }
    for name in ["..%2Findex.html", "..%2F..%2Fmod.rs", "wire.d.ts"] {
        assert_eq!(served.get(&format!("/page/{name}")).status, StatusCode::NOT_FOUND, "{name}");
    }
    assert!(!outside.exists());
}
