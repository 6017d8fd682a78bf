//! The bench page, by requests to its router: what it shows is what the library draws, and
//! nothing hostile comes in.

mod drawer;
mod languages;
mod orders;
mod printers;
mod strangers;

use crate::common::program::{folder_with, run};
use axum::body::{Body, to_bytes};
use axum::http::{HeaderMap, Request, StatusCode};
use base64::prelude::{BASE64_STANDARD, Engine};
use sha2::{Digest, Sha256};
use std::fs;
use std::io::Read;
use std::net::SocketAddr;
use std::path::Path;
use std::process::Command;
use strapwright::export::svg::svg;
use strapwright::fit::MeasurementUncertainty;
use strapwright::layout::MarkKind;
use strapwright::page::{Door, Workshop, router};
use strapwright::paginate::Paper;
use strapwright::print::{PrintOptions, paginate_job};
use strapwright::template::REGISTER;
use strapwright::words::Wording;
use tempfile::TempDir;
use tower::ServiceExt;

const HOST: &str = "127.0.0.1:8470";

/// What came back.
struct Shown {
    status: StatusCode,
    headers: HeaderMap,
    bytes: Vec<u8>,
}

impl Shown {
    fn text(&self) -> &str {
        std::str::from_utf8(&self.bytes).unwrap()
    }

    fn header(&self, name: &str) -> &str {
        self.headers.get(name).map(|v| v.to_str().unwrap()).unwrap_or_default()
    }
}

fn send(folder: &Path, door: &Door, request: Request<Body>) -> Shown {
    let workshop = Workshop::open(folder.to_owned()).unwrap();
    let runtime =
        tokio::runtime::Builder::new_multi_thread().enable_all().build().unwrap();
    runtime.block_on(async {
        let response = router(workshop, door.clone()).oneshot(request).await.unwrap();
        let (head, body) = response.into_parts();
        let bytes = to_bytes(body, 1 << 24).await.unwrap().to_vec();
        let shown = Shown { status: head.status, headers: head.headers, bytes };
        // The page has no flags of a command line.
        let (kind, packed) = ("content-type", "content-encoding");
        if shown.header(kind).starts_with("text/html") && shown.header(packed).is_empty()
        {
            let body = shown.text().split("</style>").nth(1).unwrap();
            let flag = body.split(" --").nth(1);
            assert_eq!(flag.map(|rest| rest.split('<').next().unwrap()), None);
        }
        shown
    })
}

/// A page that answers several requests.
struct Page(axum::Router);

impl Page {
    fn new(folder: &Path) -> Self {
        let workshop = Workshop::open(folder.to_owned()).unwrap();
        Self(router(workshop, door(HOST, None)))
    }

    fn get(&self, address: &str) -> String {
        let request = Request::get(address).header("host", HOST).body(Body::empty());
        let runtime = tokio::runtime::Runtime::new().unwrap();
        runtime.block_on(async {
            let response = self.0.clone().oneshot(request.unwrap()).await.unwrap();
            let bytes = to_bytes(response.into_body(), 1 << 24).await.unwrap();
            String::from_utf8(bytes.to_vec()).unwrap()
        })
    }
}

fn door(at: &str, token: Option<&str>) -> Door {
    let at: SocketAddr = at.parse().unwrap();
    Door { at, token: token.map(ToOwned::to_owned) }
}

fn get_in(folder: &Path, address: &str) -> Shown {
    let request = Request::get(address).header("host", HOST).body(Body::empty()).unwrap();
    send(folder, &door(HOST, None), request)
}

fn get(address: &str) -> Shown {
    get_in(Path::new("no-such-folder"), address)
}

fn post(folder: &Path, address: &str, origin: Option<&str>, body: &str) -> Shown {
    let request = Request::post(address).header("host", HOST);
    let request = match origin {
        Some(origin) => request.header("origin", origin),
        None => request,
    };
    send(folder, &door(HOST, None), request.body(Body::from(body.to_owned())).unwrap())
}

const BELT: &str =
    "/strap/belt?measure.value=34+1%2F2+in&buckle.bar=4+mm&buckle.reach=30+mm";

/// Whole jobs as a person does them, and every view by axe-core.
#[test]
#[ignore = "takes Chromium and the packages of .ci/browser; .ci/run installs both"]
fn in_a_browser() {
    let script = concat!(env!("CARGO_MANIFEST_DIR"), "/.ci/browser/run.mjs");
    let program = env!("CARGO_BIN_EXE_strapwright");
    let done = Command::new("node").args([script, program]).status().unwrap();
    assert!(done.success());
}

/// A file of the command line, without the line by which it knows its own files again.
fn written(folder: &Path, name: &str) -> Vec<u8> {
    const DIGEST: &[u8] = b"% strapwright-digest ";
    let mut bytes = fs::read(folder.join(name)).unwrap();
    let at = bytes.windows(DIGEST.len()).position(|part| part == DIGEST).unwrap();
    let long = bytes[at..].iter().position(|b| *b == b'\n').unwrap();
    bytes.drain(at..=at + long);
    bytes
}

/// The addresses of a view after each `part`, such as `href="`.
fn links<'a>(text: &'a str, part: &str) -> impl Iterator<Item = String> + use<'a> {
    let rests: Vec<&str> = text.split(part).skip(1).collect();
    rests.into_iter().map(|rest| rest.split('"').next().unwrap().replace("&amp;", "&"))
}

/// How often a text has a part.
fn count(text: &str, part: &str) -> usize {
    text.matches(part).count()
}

#[test]
fn every_strap_is_on_the_shelf_and_has_its_view() {
    let shelf = get("/");
    assert_eq!(shelf.status, StatusCode::OK);
    for template in REGISTER {
        let address = format!("/strap/{}", template.name);
        assert!(shelf.text().contains(&format!("href=\"{address}\"")), "{address}");
        let view = get(&address);
        assert_eq!(view.status, StatusCode::OK, "{address}");
        let text = view.text();
        let first = text.split("More, if yours differ").next().unwrap();
        let fields = count(first, "class=\"field\"");
        assert!(
            (2..=6).contains(&fields),
            "{address}: {fields} fields to the first drawing"
        );
        assert!(
            !text.contains("to mend, then it prints"),
            "{address}: its own values are sound"
        );
        // Every mark of one piece of each kind stands in the list, but stitches.
        let job = format!("template = \"{}\"\n", template.name);
        let (_, _, layout) = strapwright::prepare("job", &job, &[]).laid.unwrap();
        let pieces = layout.pieces.iter().filter(|p| p.copy.n == 1);
        let marks =
            pieces.flat_map(|p| &p.marks).filter(|m| m.kind != MarkKind::Stitch).count();
        let list = text.split("id=\"marks\"").nth(1).unwrap();
        assert_eq!(
            count(list.split("</details>").next().unwrap(), "scope=\"row\""),
            marks,
            "{address}"
        );
    }
}

/// Every view works as forms and links, and loads nothing but what it carries.
#[test]
fn views_need_no_script_and_nothing_from_outside() {
    for view in [
        "/",
        "/help",
        BELT,
        "/strap/belt/print",
        "/strap/belt/check",
        "/strap/belt/sizes",
    ] {
        let shown = get(view);
        assert_eq!(shown.status, StatusCode::OK, "{view}");
        let text = shown.text();
        for inline in [" style=", " onclick=", "javascript:", "http://", "https://"] {
            assert!(!text.contains(inline), "{view}: {inline}");
        }
        assert_eq!(count(text, "<script"), 1, "{view}");
        let policy = shown.header("content-security-policy");
        assert!(policy.contains("default-src 'none'"));
        // The one style sheet is let in by its hash.
        let style =
            text.split("<style>").nth(1).unwrap().split("</style>").next().unwrap();
        let hash = BASE64_STANDARD.encode(Sha256::digest(style));
        assert!(policy.contains(&format!("style-src 'sha256-{hash}';")), "{policy}");
        assert_eq!(shown.header("x-content-type-options"), "nosniff");
        // With `no-referrer` a browser names no origin with the page's own forms.
        assert_eq!(shown.header("referrer-policy"), "same-origin");
        for part in text.split("<form").skip(1) {
            let form = part.split("</form>").next().unwrap();
            assert!(
                form.contains("type=\"submit\""),
                "{view}: a form without its button"
            );
        }
        let script = links(text, "src=\"").find(|link| link.starts_with("/page-"));
        let script = get(&script.unwrap());
        assert!(script.header("cache-control").contains("immutable"), "{view}");
    }
}

/// The first answer of every strap, with its style sheet in it: at most 100 KB. That of the belt
/// is packed into what a browser gets in one round trip, ten segments of 1460 bytes (RFC 6928).
#[test]
fn the_first_view_is_small() {
    for template in REGISTER {
        let address = format!("/strap/{}", template.name);
        let plain = get(&address).bytes;
        assert!(plain.len() < 100_000, "{address}: {} bytes", plain.len());
        let request = Request::get(&address).header("host", HOST);
        let request = request.header("accept-encoding", "br, gzip").body(Body::empty());
        let packed = send(Path::new("none"), &door(HOST, None), request.unwrap());
        assert_eq!(packed.header("content-encoding"), "gzip");
        let most = if template.name == "belt" { 14_000 } else { 20_000 };
        assert!(packed.bytes.len() < most, "{address}: {} bytes", packed.bytes.len());
        let mut back = Vec::new();
        flate2::read::GzDecoder::new(packed.bytes.as_slice())
            .read_to_end(&mut back)
            .unwrap();
        assert_eq!(back, plain, "{address}");
    }
}

#[test]
fn a_bare_number_has_the_unit_of_the_page() {
    for (query, shown) in [
        ("strap.width=38", "= 38 mm, read as mm"),
        ("strap.width=1+1%2F2&unit=in", "= 38.1 mm, read as in"),
        ("strap.width=3%2C8&unit=cm", "= 38 mm, read as cm"),
    ] {
        let view = get(&format!("/strap/belt?{query}"));
        assert!(view.text().contains(shown), "{query}");
    }
    let view = get("/strap/belt?strap.width=wide");
    assert!(view.text().contains("has an unknown unit"));
    assert!(view.text().contains("value=\"wide\""), "what was typed stays");
    // A waist that no body has is offered in the unit in which one has it.
    let view = get("/strap/belt?measure.value=34+1%2F2");
    assert!(view.text().contains("Make it 34 1/2 in"));
}

/// Readings of the end that is folded back are negative, as on the ticket.
#[test]
fn the_list_of_marks_has_signs() {
    let view = get(BELT);
    let list = view.text().split("id=\"marks\"").nth(1).unwrap();
    for reading in ["−55.6", ">55.6", "−75.8"] {
        assert!(list.contains(reading), "{reading}");
    }
}

#[test]
fn a_sentence_has_one_end_mark() {
    let view = get("/strap/belt?size-holes.apart=8+mm");
    assert!(view.text().contains("Did you mean rows-apart?"));
    assert!(!view.text().contains("?."));
}

#[test]
fn a_button_mends_what_stops_the_print() {
    let view = get(&format!("{BELT}&strap.width=44"));
    let text = view.text();
    assert!(text.contains("1 thing to mend, then it prints"));
    let button = text.split("class=\"button black\" href=\"").nth(1).unwrap();
    let link = button.split('"').next().unwrap().replace("&amp;", "&");
    assert!(link.contains("strap.width=40+mm"), "{link}");
    let mended = get(link.split('#').next().unwrap());
    assert!(!mended.text().contains("to mend, then it prints"));
    assert!(text.contains("Set “Buckle inside” to 44 mm"));
}

#[test]
fn a_form_keeps_what_was_said_apart_from_what_is_assumed() {
    let form = "/strap/belt?form=1&said=buckle.bar&buckle.bar=4+mm&buckle.reach=30+mm&strap.width=40+mm&title=Belt";
    let answer = get(form);
    assert_eq!(answer.status, StatusCode::SEE_OTHER);
    assert_eq!(
        answer.header("location"),
        "/strap/belt?buckle.bar=4+mm&strap.width=40+mm"
    );
}

/// The same sheets as the library makes, and the same file as the command line draws of the
/// job that the page saves.
#[test]
fn the_page_shows_and_saves_what_is_drawn() {
    let folder = folder_with("belt.toml", &get(&BELT.replace('?', "/job.toml?")).bytes);
    let drawn = run(folder.path(), &["draw", "belt.toml", "-o", "belt.pdf"]);
    assert_eq!(drawn.code, Some(0), "{}", drawn.err);
    let saved = get(&BELT.replace('?', "/sheets.pdf?"));
    assert_eq!(saved.header("content-type"), "application/pdf");
    assert_eq!(written(folder.path(), "belt.pdf"), saved.bytes);
    let job = fs::read_to_string(folder.path().join("belt.toml")).unwrap();
    assert!(job.contains("[measure]\nvalue = \"34 1/2 in\"\n"), "{job}");
    let laid = strapwright::prepare("belt.toml", &job, &[]).laid.unwrap();
    let paper = Paper::default();
    let set = paginate_job(
        &laid,
        &PrintOptions {
            paper: &paper,
            correction: None,
            measuring: MeasurementUncertainty::default(),
            wording: Wording::default(),
            with_ticket: false,
        },
    )
    .unwrap();
    let view = get(&BELT.replace('?', "/print?"));
    assert_eq!(count(view.text(), "<img "), set.sheets.len());
    let sheets = svg(&set).unwrap();
    for (n, sheet) in (1..).zip(&sheets) {
        let shown = get(&BELT.replace('?', &format!("/sheet-{n}.svg?")));
        assert_eq!(&shown.bytes, sheet, "sheet {n}");
    }
    assert_eq!(get(&BELT.replace('?', "/sheet-9.svg?")).status, StatusCode::NOT_FOUND);
    let wrong = BELT.replace('?', "/sheets.pdf?") + "&strap.width=44";
    assert_eq!(
        get(&wrong).status,
        StatusCode::NOT_FOUND,
        "no print of what must be mended"
    );
}

/// Every link of the print view leads to a page, or to a file of the kind that its ending says.
#[test]
fn every_link_of_the_print_view_leads_somewhere() {
    let view = get(&BELT.replace('?', "/print?"));
    let own = links(view.text(), "href=\"").chain(links(view.text(), "src=\""));
    let own = own.filter(|link| link.starts_with('/'));
    let mut kinds: Vec<String> = Vec::new();
    for link in own {
        let shown = get(&link);
        assert_eq!(shown.status, StatusCode::OK, "{link}");
        let path = link.split('?').next().unwrap();
        let ending = path.rsplit_once('.').map_or("", |(_, ending)| ending);
        let is_right = match ending {
            "pdf" => shown.bytes.starts_with(b"%PDF-"),
            "png" => shown.bytes.starts_with(b"\x89PNG"),
            "svg" => {
                shown.text().starts_with("<svg") || shown.text().starts_with("<?xml")
            }
            "dxf" => shown.text().contains("AC1009") && shown.text().ends_with("EOF\n"),
            "toml" => shown.text().starts_with("template = \"belt\""),
            "txt" | "css" | "js" => shown.header("content-type").starts_with("text/"),
            _ => shown.header("content-type").starts_with("text/html"),
        };
        assert!(is_right, "{link}: {}", shown.header("content-type"));
        kinds.push(ending.to_owned());
    }
    for ending in strapwright::export::FORMATS.iter().map(|format| format.extension) {
        assert!(kinds.iter().any(|kind| kind == ending), "no link to a .{ending}");
    }
}

#[test]
fn a_print_is_judged_and_a_printer_kept() {
    let folder = tempfile::tempdir().unwrap();
    let check = BELT.replace('?', "/check?");
    let judged = |readings: &str| get_in(folder.path(), &format!("{check}&{readings}"));
    assert!(judged("").text().contains("Not read yet"));
    let blank = judged("");
    let drawn = |key: &str| -> f64 {
        let before = blank.text().split(&format!("id=\"{key}\"")).next().unwrap();
        let how = before.rsplit("class=\"how\">").next().unwrap();
        how.split(" mm").next().unwrap().parse().unwrap()
    };
    let (wide, tall, strip) = (drawn("wide"), drawn("tall"), drawn("strip"));
    let bars = |part: f64| format!("wide={:.1}&tall={:.1}", wide * part, tall * part);
    assert!(judged(&bars(1.0)).text().contains("Not proven yet."), "bars alone");
    let proven = judged(&format!("{}&strip={strip}", bars(1.0)));
    assert!(proven.text().contains("True. Punch."));
    // By 97 %, as a viewer that fits the page does.
    assert!(judged(&bars(0.97)).text().contains("was fitted to the page"));
    // A printer that is 0.8 % short.
    let short = format!("{check}&{}", bars(0.992));
    let own = format!("http://{HOST}");
    assert_eq!(
        post(folder.path(), &short, None, "name=desk").status,
        StatusCode::FORBIDDEN
    );
    let foreign = post(folder.path(), &short, Some("http://evil.example"), "name=desk");
    assert_eq!(foreign.status, StatusCode::FORBIDDEN);
    for name in ["..%2F..%2Fdesk", "a%2Fb", "", "a%00b"] {
        let refused = post(folder.path(), &short, Some(&own), &format!("name={name}"));
        assert!(refused.text().contains("Not kept."), "{name}");
    }
    assert!(!folder.path().join("printers").exists());
    let kept = post(folder.path(), &short, Some(&own), "name=desk");
    assert!(kept.text().contains("desk is kept"));
    // The command line draws for it.
    let drawn =
        run(folder.path(), &["draw", "-o", "a.pdf", "--printer", "printers/desk.toml"]);
    assert_eq!(drawn.code, Some(0), "{}", drawn.err);
    // The same reading again is refused, and the print view has the printer.
    let again = post(folder.path(), &short, Some(&own), "name=desk");
    assert!(again.text().contains("was added before"));
    let print = get_in(folder.path(), &BELT.replace('?', "/print?"));
    assert!(print.text().contains("<option value=\"desk\">"));
}

#[test]
fn another_size_keeps_sheets() {
    let sizes =
        "/strap/belt/sizes?stock.sizes=28+to+46+in+by+2+in&after=34+in&size=36+in";
    let view = get(sizes);
    let text = view.text();
    assert!(text.contains("36 in after 34 in: print 1 sheet, keep 1"));
    assert_eq!(count(text, "✓ keep"), 1);
    let swap = get(&sizes.replace("/sizes?", "/swap.pdf?"));
    assert_eq!(swap.header("content-type"), "application/pdf");
    // The command line prints the same sheets.
    let job = get(&sizes.replace("/sizes?", "/job.toml?"));
    let folder: TempDir = folder_with("belt.toml", &job.bytes);
    let args = [
        "reprint",
        "belt.toml",
        "--size",
        "36 in",
        "--against",
        "34 in",
        "-o",
        "swap.pdf",
    ];
    let reprinted = run(folder.path(), &args);
    assert_eq!(reprinted.code, Some(0), "{}", reprinted.err);
    assert_eq!(written(folder.path(), "swap.pdf"), swap.bytes);
}
