//! Who is not let in, and what does no harm.

use super::{HOST, door, get, get_in, post, send};
use crate::common::program::folder_with;
use axum::body::Body;
use axum::http::{Request, StatusCode};
use std::path::Path;

#[test]
fn strangers_are_refused() {
    let from = |host: &str| {
        let request = Request::get("/").header("host", host).body(Body::empty()).unwrap();
        send(Path::new("none"), &door(HOST, None), request).status
    };
    for own in ["127.0.0.1:8470", "localhost:8470", "[::1]:8470"] {
        assert_eq!(from(own), StatusCode::OK, "{own}");
    }
    for other in [
        "evil.example:8470",
        "127.0.0.1:80",
        "127.0.0.1",
        "10.0.0.2:8470",
        "localhost.evil:8470",
    ] {
        assert_eq!(from(other), StatusCode::FORBIDDEN, "{other}");
    }
    // On the workshop's network: the token once, then its cookie.
    let open = door("0.0.0.0:8470", Some("0123"));
    let visit = |address: &str, cookie: &str| {
        let request = Request::get(address)
            .header("host", "10.0.0.2:8470")
            .header("cookie", cookie);
        send(Path::new("none"), &open, request.body(Body::empty()).unwrap())
    };
    assert_eq!(visit("/", "").status, StatusCode::FORBIDDEN);
    assert_eq!(visit("/?token=0124", "").status, StatusCode::FORBIDDEN);
    let first = visit("/?token=0123", "");
    assert_eq!(first.status, StatusCode::SEE_OTHER);
    let cookie = first.header("set-cookie").split(';').next().unwrap().to_owned();
    assert!(first.header("set-cookie").contains("HttpOnly; SameSite=Lax"));
    assert_eq!(visit("/", &cookie).status, StatusCode::OK);
    assert_eq!(visit("/", "strapwright=0124").status, StatusCode::FORBIDDEN);
}

#[test]
fn hostile_addresses_do_no_harm() {
    for path in [
        "/strap/..",
        "/strap/..%2F..%2Fetc%2Fpasswd",
        "/strap/belt/..%2Fx",
        "/strap/no-such",
        "/etc/passwd",
        "/strap/belt/sheets.exe",
        "//evil.example",
    ] {
        assert_eq!(get(path).status, StatusCode::NOT_FOUND, "{path}");
    }
    let script = get(
        "/strap/belt?title=%3Cscript%3Ealert(1)%3C%2Fscript%3E&strap.width=%22%3E%3Cb%3E",
    );
    assert_eq!(script.status, StatusCode::OK);
    assert!(
        !script.text().contains("<script>alert") && !script.text().contains("\"><b>")
    );
    let long = get(&format!("/strap/belt?strap.width={}", "9".repeat(9_000)));
    assert_eq!(long.status, StatusCode::UNPROCESSABLE_ENTITY);
    for query in [
        "strap.width=1e999+mm",
        "size-holes.inside=99999999",
        "a.b.c.d.e.f.g.h.i=1",
        "strap.width=%00%ff",
        "mark=%22%3E",
        "zoom=-1&unit=%3C",
        "set=strap.width%3D38+mm",
        "about.limits=1",
        "=1&.=2&..=3",
        "measure.value=100+km",
        "fittings.count=1000",
    ] {
        for view in ["", "/print", "/check", "/sizes", "/job.toml"] {
            let status = get(&format!("/strap/belt{view}?{query}")).status;
            assert!(!status.is_server_error(), "{view} {query}: {status}");
        }
    }
    // A key is not TOML: it names no template, and so reads no file.
    let folder = folder_with("inner.toml", "template = \"belt\"\n");
    let secret = "template = \"belt\"\nwearer = \"Secret Person\"\n";
    let outside = folder_with("secret.toml", secret);
    let path = outside.path().join("secret.toml");
    let path = path.to_str().unwrap().replace('/', "%2F");
    let query = format!("template+%3D+%22{path}%22+%23+a.b=v");
    for view in ["", "/ticket.txt", "/job.toml"] {
        let view = get_in(folder.path(), &format!("/strap/belt{view}?{query}"));
        assert_eq!(view.status, StatusCode::OK);
        assert!(!view.text().contains("Secret"), "{}", view.text());
    }
    let own = format!("http://{HOST}");
    let large =
        post(Path::new("none"), "/strap/belt/check", Some(&own), &"a".repeat(1_100_000));
    assert_eq!(large.status, StatusCode::PAYLOAD_TOO_LARGE);
}
