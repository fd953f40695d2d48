//! The desk's routes, asked without a socket: who may ask, what is answered, what reaches the disk.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use axum::Router;
use axum::body::{Body, to_bytes};
use axum::http::{HeaderMap, Method, Request, StatusCode, header};
use groundline::desk::wire::page_types;
use groundline::desk::{Access, Desk, Presence, router};
use groundline::footage::write::WriteOptions;
use groundline::marks::ReferenceKind;
use groundline::store::load;
use serde_json::{Value, json};
use tower::ServiceExt;

use crate::support::{folder, made, quick};

const SIZE: (u32, u32) = (320, 180);
const FRAMES: u32 = 30;
const PORT: u16 = 8765;

/// A folder with a clip, and its desk.
pub struct Served {
    folder: tempfile::TempDir,
    router: Router,
    cookie: String,
    runtime: tokio::runtime::Runtime,
}

pub struct Answer {
    pub status: StatusCode,
    heads: HeaderMap,
    pub body: Vec<u8>,
}

impl Answer {
    pub fn json(&self) -> Value {
        serde_json::from_slice(&self.body)
            .unwrap_or_else(|_| panic!("{}: {}", self.status, String::from_utf8_lossy(&self.body)))
    }
}

impl Served {
    fn new() -> Self {
        let folder = folder();
        made(&folder.path().join("ride.mp4"), SIZE, FRAMES, &quick(WriteOptions::default()));
        Self::of(folder)
    }

    pub fn of(folder: tempfile::TempDir) -> Self {
        let access = Access::new(PORT).unwrap();
        let key = access.url().split_once("key=").unwrap().1.to_owned();
        let program = PathBuf::from(env!("CARGO_BIN_EXE_groundline"));
        let mut presence = Presence::claim(folder.path());
        presence.announce(&access);
        let desk = Desk::new(folder.path().to_owned(), None, program, presence).unwrap();
        let router = router(Arc::new(desk), access);
        let runtime = tokio::runtime::Builder::new_multi_thread().enable_all().build().unwrap();
        Self { folder, router, cookie: format!("groundline_desk_{PORT}={key}"), runtime }
    }

    fn marks(&self) -> PathBuf {
        self.folder.path().join("ride.marks.json")
    }

    fn ask(&self, request: Request<Body>) -> Answer {
        self.runtime.block_on(async {
            let answer = self.router.clone().oneshot(request).await.unwrap();
            let (parts, body) = answer.into_parts();
            let body = to_bytes(body, usize::MAX).await.unwrap().to_vec();
            Answer { status: parts.status, heads: parts.headers, body }
        })
    }

    fn request(&self, method: Method, path: &str) -> axum::http::request::Builder {
        Request::builder()
            .method(method)
            .uri(path)
            .header(header::HOST, format!("127.0.0.1:{PORT}"))
            .header(header::ORIGIN, format!("http://127.0.0.1:{PORT}"))
            .header(header::COOKIE, &self.cookie)
    }

    pub fn get(&self, path: &str) -> Answer {
        self.ask(self.request(Method::GET, path).body(Body::empty()).unwrap())
    }

    pub fn send(&self, method: Method, path: &str, body: &Value) -> Answer {
        let request = self.request(method, path).header(header::CONTENT_TYPE, "application/json");
        self.ask(request.body(Body::from(body.to_string())).unwrap())
    }

    fn act(&self, revision: &str, key: &str, act: Value) -> Answer {
        let body = json!({ "revision": revision, "key": key, "act": act });
        self.send(Method::POST, "/api/rounds/ride.mp4/acts", &body)
    }

    /// Makes a change on the round as it is and gives the round after it.
    fn done(&self, key: &str, act: Value) -> Value {
        let revision = self.revision();
        let answer = self.act(&revision, key, act);
        assert_eq!(answer.status, StatusCode::OK, "{}", String::from_utf8_lossy(&answer.body));
        answer.json()
    }

    fn revision(&self) -> String {
        let round = self.send(Method::POST, "/api/rounds/ride.mp4", &json!(null)).json();
        round["revision"].as_str().unwrap().to_owned()
    }
}

#[test]
fn the_pages_types_are_those_of_the_program() {
    // GROUNDLINE_WIRE=write cargo test --test it desk takes them anew.
    let kept = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/desk/page/wire.d.ts");
    if std::env::var("GROUNDLINE_WIRE").is_ok_and(|value| value == "write") {
        std::fs::write(&kept, page_types()).unwrap();
    }
    assert_eq!(std::fs::read_to_string(kept).unwrap(), page_types());
}

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

#[test]
fn frames_are_exact_and_end_where_the_clip_does() {
    let served = Served::new();
    let clip = served.get("/api/clips/ride.mp4").json();
    assert_eq!(clip["times_s"].as_array().unwrap().len(), FRAMES as usize);
    assert_eq!((&clip["width"], &clip["height"]), (&json!(SIZE.0), &json!(SIZE.1)));
    let opened = crate::support::open(&served.folder.path().join("ride.mp4"));
    let mut reader = crate::support::reader(&opened);
    for number in [0, 7, 6, 29, 3] {
        let answer = served.get(&format!("/api/clips/ride.mp4/frames/{number}"));
        assert_eq!(answer.heads["x-frame"], number.to_string());
        let shown = image::load_from_memory(&answer.body).unwrap().to_rgb8();
        let exact = crate::support::rgb(&mut reader, number);
        let off = crate::support::mean_difference(shown.as_raw(), exact.as_raw());
        assert!(off < 3.0, "frame {number} is {off} levels off");
    }
    let small = served.get("/api/clips/ride.mp4/frames/3?width=80");
    assert_eq!(image::load_from_memory(&small.body).unwrap().width(), 80);
    let beyond = served.get("/api/clips/ride.mp4/frames/30");
    assert_eq!(beyond.status, StatusCode::NOT_FOUND);
    assert_eq!(beyond.json()["error"], "cannot show frame 30: the last one is 29");
}

#[test]
fn a_change_is_on_disk_before_it_is_answered_and_once() {
    let served = Served::new();
    assert_eq!(served.get("/api/folder").json()["clips"][0]["state"], "not begun");
    let poles =
        json!({ "act": "set_poles", "count": 4, "spacing_m": 3.0, "length_m": 3.5, "taped": true });
    // Looking begins nothing.
    assert_eq!(served.get("/api/rounds/ride.mp4").status, StatusCode::NOT_FOUND);
    assert!(!served.marks().exists());
    let before = served.revision();
    let done = served.act(&before, "k1", poles.clone()).json();
    let on_disk = || load(&served.marks()).unwrap();
    assert_eq!(on_disk().references.len(), 1);
    assert_eq!(done["round"]["poles"]["count"], 4);
    assert_eq!(done["round"]["steps"][0]["wanted"].as_array().unwrap().len(), 8);
    // The answer got lost and the page sends it once more: done once.
    let again = served.act(&before, "k1", poles);
    assert_eq!(again.status, StatusCode::OK);
    assert_eq!(again.json()["round"]["revision"], done["round"]["revision"]);
    // A place, moved by a tenth of a pixel, taken back step by step.
    let placed = served.done(
        "k2",
        json!({ "act": "place_pole_end", "pole": 1, "end": "left", "snap": false,
                "at": { "frame": 3, "x": 100.0, "y": 90.0 } }),
    );
    let spot = placed["selected"]["spot"].clone();
    assert_eq!(spot, json!({ "of": "pole_end", "pole": 1, "end": "left" }));
    let nudge = json!({ "act": "nudge", "spot": spot, "frame": 3, "dx": 0.1, "dy": -0.1 });
    let nudged = served.done("k3", nudge);
    let mark = &nudged["round"]["marks"][0];
    assert_eq!((&mark["x"], &mark["y"], &mark["frame"]), (&json!(100.1), &json!(89.9), &json!(3)));
    for (key, marks) in [("k4", 1), ("k5", 0), ("k6", 0)] {
        let undone = served.done(key, json!({ "act": "undo" }));
        assert_eq!(undone["round"]["marks"].as_array().unwrap().len(), marks);
    }
    assert!(on_disk().references.is_empty());
    let nothing = served.act(&served.revision(), "k7", json!({ "act": "undo" }));
    assert_eq!(nothing.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(nothing.json()["error"], "cannot undo: there is nothing to undo");
    for key in ["k8", "k9", "k10"] {
        served.done(key, json!({ "act": "redo" }));
    }
    assert_eq!(on_disk().places().len(), 1);
}

/// A step of a round by its name.
fn step<'a>(round: &'a Value, name: &str) -> &'a Value {
    round["steps"].as_array().unwrap().iter().find(|step| step["step"] == name).unwrap()
}

fn labels(targets: &Value) -> Vec<&str> {
    targets.as_array().unwrap().iter().map(|target| target["label"].as_str().unwrap()).collect()
}

#[test]
fn other_things_of_known_length_are_stated_marked_and_taken_away() {
    let served = Served::new();
    let stated = |kind: &str, length_m: f64, known_by: &str| {
        json!({ "act": "set_length", "reference": null, "kind": kind, "fence": null,
                "length_m": length_m, "known_by": known_by })
    };
    served.done("a", stated("upright", 1.6, "tape"));
    served.done("b", stated("distance", 10.0, "paces"));
    // The width is of a fence: where there is none yet, it is made.
    let round = served.done("c", stated("fence_width", 3.5, "eye"))["round"].clone();
    assert_eq!(round["fences"].as_array().unwrap().len(), 1);
    assert_eq!(
        step(&round, "lengths")["wanted"]
            .as_array()
            .map(|_| labels(&step(&round, "lengths")["wanted"])),
        Some(vec![
            "upright, foot",
            "upright, top",
            "distance, first point",
            "distance, second point"
        ])
    );
    let known: Vec<_> = round["lengths"]
        .as_array()
        .unwrap()
        .iter()
        .map(|known| (known["label"].as_str().unwrap(), known["known_by"].as_str().unwrap()))
        .collect();
    assert_eq!(known, [("upright", "tape"), ("distance", "paces"), ("width of the fence", "eye")]);

    let place = |end: &str, y: f64| {
        json!({ "act": "place_length_end", "reference": "upright", "end": end,
                "at": { "frame": 3, "x": 40.0, "y": y } })
    };
    served.done("d", place("foot", 100.0));
    let done = served.done("e", place("top", 40.0));
    assert_eq!(
        done["selected"]["spot"],
        json!({ "of": "length_end", "reference": "upright", "end": "top" })
    );
    assert_eq!(step(&done["round"], "lengths")["count"], "2 of 4 ends");
    let file = load(&served.marks()).unwrap();
    let ReferenceKind::Vertical { height_m, foot, top, .. } = &file.references[0].kind else {
        panic!("{:?}", file.references[0])
    };
    assert_eq!((height_m.value, height_m.sd), (1.6, 0.01));
    assert_eq!((foot[0].y, top[0].y), (100.0, 40.0));

    // Stated anew the marks stay; taken away they go, and come back with undo.
    let again = json!({ "act": "set_length", "reference": "upright", "kind": "upright",
                        "fence": null, "length_m": 1.5, "known_by": "eye" });
    let round = served.done("f", again)["round"].clone();
    assert_eq!(round["lengths"][0]["length_m"], 1.5);
    assert_eq!(round["marks"].as_array().unwrap().len(), 2);
    let round =
        served.done("g", json!({ "act": "remove_length", "reference": "upright" }))["round"]
            .clone();
    assert_eq!(round["marks"].as_array().unwrap().len(), 0);
    let round = served.done("h", json!({ "act": "undo" }))["round"].clone();
    assert_eq!(round["marks"].as_array().unwrap().len(), 2);

    // An end that such a thing has not, and a thing that is not there.
    let wrong = json!({ "act": "place_length_end", "reference": "upright", "end": "from",
                        "at": { "frame": 3, "x": 1.0, "y": 1.0 } });
    let refused = served.act(&served.revision(), "i", wrong);
    assert!(refused.json()["error"].as_str().unwrap().contains("thing of known length"));
}

#[test]
fn hooves_and_fence_need_nothing_stated_before() {
    let served = Served::new();
    let at = |frame: u32| json!({ "frame": frame, "x": 50.0 + 5.0 * f64::from(frame), "y": 120.0 });
    let footfall = |frame: u32, limb: &str, event: &str| {
        json!({ "act": "place_footfall", "approach": null, "limb": limb, "event": event,
                "at": at(frame), "hidden": false })
    };
    served.done("a", footfall(2, "leading_hind", "stride"));
    served.done("b", footfall(12, "leading_hind", "stride"));
    served.done("c", footfall(22, "leading_hind", "take_off"));
    let after = served.done(
        "d",
        json!({ "act": "place_base", "fence": "", "end": "take_off_left", "at": at(22) }),
    );
    let round = &after["round"];
    assert_eq!(round["fences"].as_array().unwrap().len(), 1);
    assert_eq!(round["approaches"][0]["id"], "fence-1");
    let hooves = step(round, "hooves");
    assert_eq!(hooves["count"], "2 strides");
    let wanted = labels(&hooves["wanted"]);
    assert_eq!(
        wanted,
        ["trailing hind, take-off", "trailing fore, landing", "leading fore, landing"]
    );
    // Without poles there is no number, and it is said what is wanting.
    let numbers = served.get("/api/rounds/ride.mp4/numbers").json();
    let cannot = numbers["cannot"].as_str().unwrap();
    assert!(cannot.contains("how many poles"), "{cannot}");
    let refused = served.act(
        &served.revision(),
        "e",
        json!({ "act": "place_pole_end", "pole": 1, "end": "left", "snap": false, "at": at(0) }),
    );
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(refused.json()["error"].as_str().unwrap().contains("no poles are stated"));
}

#[test]
fn a_lesson_is_planned_from_the_round_or_from_a_typed_stride() {
    let served = Served::new();
    served.revision();
    // Nothing is measured yet.
    let none = served.get("/api/rounds/ride.mp4/lesson").json();
    assert!(none["cannot"].as_str().unwrap().contains("Type a stride"), "{none}");
    let stand = served.get("/api/rounds/ride.mp4/stand");
    assert_eq!(stand.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(stand.json()["error"].as_str().unwrap().starts_with("cannot plan from these marks"));
    let typed = "/api/rounds/ride.mp4/lesson?stride_m=3.6576&height_m=1.0&dark=1";
    let lesson = served.get(typed).json();
    assert_eq!(lesson["cannot"], Value::Null);
    let distances = lesson["distances"].as_array().unwrap();
    let two = distances.iter().find(|one| one["name"] == "2 strides").unwrap();
    // 3 × 12 ft (R1, R4), 4 n + 4 walked paces (R2, R11).
    assert_eq!((&two["first"], &two["second"]), (&json!("10.97 m"), &json!("36 ft")));
    assert_eq!(two["walked"], "12 walked paces");
    assert!(
        two["rows"].as_array().unwrap().iter().any(|row| row.as_str().unwrap().contains("grade B"))
    );
    assert!(lesson["drawing"].as_str().unwrap().starts_with("<svg"));
    assert_eq!(lesson["cautions"].as_array().unwrap().len(), 7);
    assert_eq!(lesson["used"]["height"], "1.00");
    let pony = served.get(&format!(
        "{typed}&size=pony&gait=trot&going=deep&readiness=green&slope_percent=3&feet=1&strides=4"
    ));
    let pony = pony.json();
    assert_eq!(pony["distances"].as_array().unwrap().len(), 1);
    assert!(
        pony["notes"][0]
            .as_str()
            .unwrap()
            .contains("uphill, deep going, green horse: 4\u{a0}strides by "),
        "{pony}"
    );
    let refused = served.get("/api/rounds/ride.mp4/lesson?stride_m=9").json();
    assert!(refused["cannot"].as_str().unwrap().starts_with("Cannot plan for a stride of 9 m"));
    assert_eq!(
        served.get("/api/rounds/ride.mp4/lesson?size=donkey").status,
        StatusCode::BAD_REQUEST
    );
}

#[test]
fn nobodys_change_is_lost() {
    let served = Served::new();
    let both = served.revision();
    let note = |text: &str| {
        json!({ "act": "set_round", "about": { "rider": text, "horse": "", "place": "", "date": "",
                "surface": "", "note": "" } })
    };
    assert_eq!(served.act(&both, "mine", note("Ada")).status, StatusCode::OK);
    // The other window still shows the round as it was.
    let late = served.act(&both, "theirs", note("Berta"));
    assert_eq!(late.status, StatusCode::CONFLICT);
    assert_eq!(late.json()["round"]["about"]["rider"], "Ada");
    assert_eq!(load(&served.marks()).unwrap().round.rider, "Ada");
    // A command changes the file meanwhile.
    let shown = served.revision();
    let mut marking = crate::program::groundline();
    let marked =
        marking.args(["mark", "MARKS", "round", "--horse", "Copper"].map(|word| {
            if word == "MARKS" { served.marks().into_os_string() } else { word.into() }
        }));
    assert!(marked.output().unwrap().status.success());
    let stale = served.act(&shown, "stale", note("Clara"));
    assert_eq!(stale.status, StatusCode::CONFLICT);
    let now = stale.json()["round"].clone();
    assert_eq!((&now["about"]["rider"], &now["about"]["horse"]), (&json!("Ada"), &json!("Copper")));
    let again = served.act(now["revision"].as_str().unwrap(), "again", note("Clara"));
    assert_eq!(again.status, StatusCode::OK);
    // What the command did can still be undone, step by step.
    served.done("u1", json!({ "act": "undo" }));
    let before = served.done("u2", json!({ "act": "undo" }));
    assert_eq!(before["round"]["about"]["horse"], "");
}

#[test]
fn marks_that_were_taken_away_are_begun_anew() {
    let served = Served::new();
    let about =
        json!({ "rider": "Ada", "horse": "", "place": "", "date": "", "surface": "", "note": "" });
    served.done("a", json!({ "act": "set_round", "about": about }));
    std::fs::remove_file(served.marks()).unwrap();
    assert_eq!(served.get("/api/rounds/ride.mp4").status, StatusCode::NOT_FOUND);
    let anew = served.send(Method::POST, "/api/rounds/ride.mp4", &json!(null));
    assert_eq!((anew.status, &anew.json()["about"]["rider"]), (StatusCode::OK, &json!("")));
}

#[test]
fn what_cannot_be_saved_is_not_there() {
    let served = Served::new();
    let revision = served.revision();
    let path = served.marks();
    let mut permissions = std::fs::metadata(&path).unwrap().permissions();
    permissions.set_readonly(true);
    std::fs::set_permissions(&path, permissions).unwrap();
    let poles =
        json!({ "act": "set_poles", "count": 4, "spacing_m": 3.0, "length_m": 3.5, "taped": true });
    let refused = served.act(&revision, "k", poles);
    assert_eq!(refused.status, StatusCode::INTERNAL_SERVER_ERROR);
    assert!(refused.json()["error"].as_str().unwrap().starts_with("cannot save"));
    let round = served.get("/api/rounds/ride.mp4").json();
    assert_eq!((&round["poles"], &round["revision"]), (&Value::Null, &json!(revision)));
}

#[test]
fn bodies_too_large_or_not_understood_are_refused() {
    let served = Served::new();
    let revision = served.revision();
    let large = json!({ "act": "set_stride_note", "approach": "a", "stride": -1, "text": "x".repeat(400_000) });
    assert_eq!(served.act(&revision, "k", large).status, StatusCode::PAYLOAD_TOO_LARGE);
    let odd = served.act(&revision, "k", json!({ "act": "fly" }));
    assert_eq!(odd.status, StatusCode::UNPROCESSABLE_ENTITY);
    for act in [
        json!({ "act": "place_base", "fence": null, "end": "take_off_left", "at": { "frame": 99, "x": 1.0, "y": 1.0 } }),
        json!({ "act": "set_poles", "count": 0, "spacing_m": 3.0, "length_m": 3.5, "taped": true }),
        json!({ "act": "set_poles", "count": 4, "spacing_m": -3.0, "length_m": 3.5, "taped": true }),
        json!({ "act": "set_stride_note", "approach": "nobody", "stride": -1, "text": "x" }),
    ] {
        let refused = served.act(&revision, "k", act.clone());
        assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY, "{act}");
        assert!(refused.json()["error"].as_str().unwrap().starts_with("cannot"), "{act}");
    }
    assert_eq!(served.revision(), revision);
}

#[test]
fn a_dropped_clip_is_copied_whole_or_not_at_all() {
    let served = Served::new();
    let names = || {
        let mut names: Vec<String> = std::fs::read_dir(served.folder.path())
            .unwrap()
            .map(|entry| entry.unwrap().file_name().into_string().unwrap())
            .collect();
        names.sort();
        names
    };
    let put = |name: &str, bytes: Vec<u8>| {
        let request = served.request(Method::PUT, &format!("/api/clips/{name}"));
        served.ask(request.body(Body::from(bytes)).unwrap())
    };
    let clip = std::fs::read(served.folder.path().join("ride.mp4")).unwrap();
    let broken = put("broken.mp4", b"this is no clip".to_vec());
    assert_eq!(broken.status, StatusCode::UNSUPPORTED_MEDIA_TYPE);
    let error = broken.json()["error"].as_str().unwrap().to_owned();
    assert!(error.starts_with("cannot open broken.mp4: no video was found in it"), "{error}");
    assert_eq!(put("ride.mp4", clip.clone()).status, StatusCode::CONFLICT);
    assert_eq!(put("notes.txt", clip.clone()).status, StatusCode::UNSUPPORTED_MEDIA_TYPE);
    assert_eq!(names(), ["ride.mp4"]);
    let copied = put("Evening%20ride.mp4", clip.clone());
    assert_eq!(copied.status, StatusCode::OK);
    assert_eq!(copied.json()["clips"][0]["clip"], "Evening ride.mp4");
    assert_eq!(names(), ["Evening ride.mp4", "ride.mp4"]);
    assert_eq!(std::fs::read(served.folder.path().join("Evening ride.mp4")).unwrap(), clip);
}

#[test]
fn a_folder_says_what_each_clip_is_and_lacks() {
    let served = Served::new();
    let path = served.folder.path();
    std::fs::write(path.join("broken.mov"), "no clip").unwrap();
    std::fs::write(path.join("spoilt.mp4"), "x").unwrap();
    std::fs::write(path.join("spoilt.marks.json"), "{").unwrap();
    std::fs::write(path.join("notes.txt"), "no clip either").unwrap();
    let about = json!({ "rider": "Ada", "horse": "Copper", "place": "", "date": "2026-09-04", "surface": "", "note": "" });
    served.done("a", json!({ "act": "set_round", "about": about }));
    served.done("b", json!({ "act": "set_fence", "fence": null, "name": "Blue vertical", "kind": "vertical", "height_m": 1.0, "spread_m": null }));
    assert_eq!(served.get("/api/clips/broken.mov").status, StatusCode::UNSUPPORTED_MEDIA_TYPE);
    let view = served.get("/api/folder").json();
    let names: Vec<&str> = view["clips"]
        .as_array()
        .unwrap()
        .iter()
        .map(|card| card["clip"].as_str().unwrap())
        .collect();
    assert_eq!(names, ["broken.mov", "ride.mp4", "spoilt.mp4"]);
    let card = &view["clips"][1];
    let said = ["rider", "horse", "date", "fences", "state"].map(|key| card[key].as_str().unwrap());
    assert_eq!(said, ["Ada", "Copper", "2026-09-04", "Blue vertical", "begun, no poles yet"]);
    for broken in [0, 2] {
        assert_eq!(view["clips"][broken]["progress"], "unreadable");
        assert!(view["clips"][broken]["unreadable"].as_str().unwrap().starts_with("cannot"));
    }
}

#[test]
fn a_second_desk_on_a_folder_says_so() {
    let served = Served::new();
    let second = Presence::claim(served.folder.path());
    assert_eq!(second.elsewhere(), Some("http://127.0.0.1:8765"));
    assert_eq!(served.get("/api/folder").json()["open_elsewhere"], Value::Null);
}

#[test]
fn the_camera_is_followed_where_it_turned_and_marks_are_carried_to_other_frames() {
    let served = Served::new();
    // Looking at it begins to follow it; of a phone that stood still nobody need know.
    served.done("a", json!({ "act": "set_turning", "turning": false }));
    assert_eq!(served.get("/api/rounds/ride.mp4/motion").json()["words"], "");
    served.done("b", json!({ "act": "set_turning", "turning": true }));
    let mut motion = Value::Null;
    for _ in 0..600 {
        motion = served.get("/api/rounds/ride.mp4/motion").json();
        if motion["state"] != "following" {
            break;
        }
        std::thread::sleep(std::time::Duration::from_millis(100));
    }
    assert_eq!(motion["state"], "followed", "{motion}");
    assert!(served.folder.path().join("ride.motion").exists());
    // The made scene slides 3 px to the left a frame and 1 px up.
    let at = json!({ "frame": 3, "x": 120.0, "y": 90.0 });
    let round =
        served.done("c", json!({ "act": "place_tie", "tie": null, "at": at }))["round"].clone();
    assert_eq!(step(&round, "ties")["done"], true);
    let overlay = served.get("/api/rounds/ride.mp4/overlay/13").json();
    let carried = &overlay["carried"][0];
    assert_eq!(carried["spot"], json!({ "of": "tie", "tie": "1" }));
    let (x, y) = (carried["x"].as_f64().unwrap(), carried["y"].as_f64().unwrap());
    assert!((x - 90.0).hypot(y - 80.0) < 3.0, "{x} {y}");
    // Where it is marked it is not carried to.
    assert_eq!(served.get("/api/rounds/ride.mp4/overlay/3").json()["carried"], json!([]));
    // Frame 13 laid over frame 3 is shifted back.
    let steady = served.get("/api/rounds/ride.mp4/steady/3").json();
    let map: Vec<f64> = steady["maps"][13]
        .as_array()
        .unwrap()
        .iter()
        .map(|value| value.as_f64().unwrap())
        .collect();
    let carry = |x: f64, y: f64| {
        let w = map[6] * x + map[7] * y + map[8];
        ((map[0] * x + map[1] * y + map[2]) / w, (map[3] * x + map[4] * y + map[5]) / w)
    };
    let (x, y) = carry(90.0, 80.0);
    assert!((x - 120.0).hypot(y - 90.0) < 3.0, "{x} {y}");
}

#[test]
fn where_to_stand_is_told_without_a_clip_and_what_makes_no_sense_is_refused() {
    let served = Served::of(folder());
    let typed = |more: &str| {
        format!("/api/stand?poles=3&strides=1&nearest_m=13&farthest_m=14&dark=1&feet=1&{more}")
    };
    let answer = served.get(&typed("distance_m=14&along_m=6"));
    assert_eq!(answer.status, StatusCode::OK, "{}", String::from_utf8_lossy(&answer.body));
    let view = answer.json();
    // A stride, take-off, landing, tempo.
    assert_eq!(view["rows"].as_array().unwrap().len(), 4);
    assert!(view["now"].as_str().unwrap().starts_with("46 ft from the track"), "{}", view["now"]);
    assert!(view["svg"].as_str().unwrap().starts_with("<svg"));
    assert!(view["cautions"].as_array().unwrap().len() > 6);
    // Everything in feet, the safety distance and the empty fields, too: 18 m are 59 ft, 3 m 9.84 ft.
    assert!(view["cautions"][0].as_str().unwrap().contains("13 ft from the track"));
    assert_eq!((&view["used"]["spacing"], &view["used"]["field"]), (&"9.84".into(), &"66".into()));
    // No place, no "now".
    let view =
        served.get(&typed("pole_length_m=3&stride_m=3.4&field_deg=70&frames_per_s=30")).json();
    assert!(view["now"].is_null() && view["rows"][0]["now"].is_null(), "{view}");
    assert!(view["sentence"].as_str().unwrap().starts_with("Stand 4"), "{}", view["sentence"]);
    let refused = served.get(&typed("distance_m=2&along_m=6"));
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(refused.json()["error"].as_str().unwrap().contains("(13 ft 1 in to 196.9 ft needed)"));
    let half = served.get(&typed("distance_m=14"));
    assert!(half.json()["error"].as_str().unwrap().contains("where you stand now"));
    let typed = |distance: &str| typed(&format!("along_m=6&distance_m={distance}"));
    assert_eq!(served.get(&typed("near")).status, StatusCode::BAD_REQUEST);
}
