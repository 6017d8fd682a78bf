//! The server: guards, limits and headers round the page.

use super::turns::{Client, Turns};
use super::workshop::Current;
use super::{Answer, Door, Sent, Workshop, answer, door, say};
use axum::body::{Body, Bytes, HttpBody, to_bytes};
use axum::extract::{DefaultBodyLimit, FromRequest, Multipart, Request, State};
use axum::http::{HeaderMap, HeaderValue, Method, Response, StatusCode, header};
use axum::middleware::{Next, from_fn_with_state};
use axum::response::IntoResponse;
use axum::routing::any;
use axum::{Extension, Router};
use flate2::Compression;
use flate2::write::GzEncoder;
use hyper::server::conn::http1;
use hyper_util::rt::{TokioIo, TokioTimer};
use hyper_util::service::TowerToHyperService;
use std::future::poll_fn;
use std::io::{self, Write};
use std::num::NonZero;
use std::pin::{Pin, pin};
use std::sync::Arc;
use std::thread::available_parallelism;
use std::time::Duration;
use tokio::net::{TcpListener, TcpStream};
use tokio::sync::{OwnedSemaphorePermit, Semaphore, watch};
use tokio::time::{sleep, timeout};

/// Most clients that are connected; others wait.
const MOST_CLIENTS: usize = 2_000;
/// Open files that are left for the work, beside the clients.
const SPARE_FILES: usize = 64;
/// How long a client may say nothing, or may take to say what it asks for.
const MOST_IDLE: Duration = Duration::from_secs(30);
/// How long a client stays connected; a browser connects again.
const MOST_STAY: Duration = Duration::from_mins(2);
/// How long an answer may take, with waiting.
const MOST_TIME: Duration = Duration::from_secs(20);

/// The longest head of a request, in bytes.
const MOST_HEAD: usize = 16 << 10;
/// The longest form of fields, in bytes.
const MOST_FIELDS: usize = 64 << 10;
/// The longest form with files, in bytes: a table of orders.
const MOST_SENT: usize = 2 << 20;
/// The most that all forms and answers of one moment take, in bytes.
const MOST_HELD: usize = 32 << 20;
/// What is shorter is not counted, and not packed.
const SHORT: usize = 1 << 10;

struct Shared {
    workshop: Current,
    door: Door,
    /// Turns at drawings and other pages.
    pages: Arc<Turns>,
    /// Turns at files and tables of orders, which may take seconds.
    files: Arc<Turns>,
    /// The bytes that may still be held, in units of [`SHORT`].
    held: Arc<Semaphore>,
}

/// Bytes with the permit to hold them.
struct Held(Vec<u8>, #[expect(dead_code, reason = "held")] OwnedSemaphorePermit);

impl AsRef<[u8]> for Held {
    fn as_ref(&self) -> &[u8] {
        &self.0
    }
}

/// The page of a workshop behind its door.
pub fn router(workshop: Workshop, door: Door) -> Router {
    let processors = available_parallelism().map_or(2, NonZero::get).max(2);
    let (pages, files) = (Turns::new(processors), Turns::new(processors / 2));
    let held = Arc::new(Semaphore::new(MOST_HELD / SHORT));
    let workshop = Current::new(workshop);
    let shared = Arc::new(Shared { workshop, door, pages, files, held });
    Router::new()
        .fallback(any(respond))
        .layer(DefaultBodyLimit::max(MOST_SENT))
        .layer(from_fn_with_state(Arc::clone(&shared), guard))
        .with_state(shared)
}

/// Serves the page until Ctrl-C, and finishes what is being answered then.
///
/// # Errors
/// None: a client that cannot be taken has to come again.
pub async fn serve(
    listener: TcpListener,
    workshop: Workshop,
    door: Door,
) -> io::Result<()> {
    let app = router(workshop, door);
    let most = most_clients();
    let places = Arc::new(Semaphore::new(most));
    let (end, ended) = watch::channel(());
    // Without signals the process is ended by the system.
    let mut asked_to_end = pin!(tokio::signal::ctrl_c());
    loop {
        let client = async {
            let place = Arc::clone(&places).acquire_owned().await.ok()?;
            Some((listener.accept().await.ok()?.0, place))
        };
        let client = tokio::select! {
            client = client => client,
            _ = &mut asked_to_end => break,
        };
        match client {
            Some((stream, place)) => {
                tokio::spawn(converse(stream, place, app.clone(), ended.clone()));
            }
            // Such as too many open files.
            None => sleep(Duration::from_millis(50)).await,
        }
    }
    drop((listener, end));
    let all = u32::try_from(most).unwrap_or(u32::MAX);
    let _ = timeout(MOST_TIME, places.acquire_many(all)).await;
    Ok(())
}

/// Answers a client until it goes, is too slow or was there for long.
async fn converse(
    stream: TcpStream,
    _place: OwnedSemaphorePermit,
    app: Router,
    mut ended: watch::Receiver<()>,
) {
    let service = TowerToHyperService::new(app.layer(Extension(Client::new())));
    let mut http = http1::Builder::new();
    http.timer(TokioTimer::new()).header_read_timeout(MOST_IDLE).max_buf_size(MOST_HEAD);
    let mut connection = pin!(http.serve_connection(TokioIo::new(stream), service));
    tokio::select! {
        _ = connection.as_mut() => return,
        _ = ended.changed() => {}
        () = sleep(MOST_STAY) => {}
    }
    connection.as_mut().graceful_shutdown();
    let _ = timeout(MOST_TIME, connection).await;
}

/// How many clients may be connected, by the files that this process may open; it may open more
/// from here on, where the system lets it.
fn most_clients() -> usize {
    #[cfg(unix)]
    {
        use rustix::process::{Resource, Rlimit, getrlimit, setrlimit};
        let Rlimit { current, maximum } = getrlimit(Resource::Nofile);
        let wanted = (MOST_CLIENTS + SPARE_FILES) as u64;
        let more = maximum.map_or(wanted, |most| most.min(wanted));
        let own = current.filter(|own| *own < more);
        let raised = own.map(|own| {
            let raised = Rlimit { current: Some(more), maximum };
            setrlimit(Resource::Nofile, raised).map_or(own, |()| more)
        });
        let files = raised.or(current).map_or(wanted, |files| files.min(wanted));
        usize::try_from(files).unwrap_or(MOST_CLIENTS).saturating_sub(SPARE_FILES).max(1)
    }
    #[cfg(not(unix))]
    MOST_CLIENTS
}

/// Lets in who may come in, and puts the headers into every answer.
async fn guard(
    State(shared): State<Arc<Shared>>,
    request: Request,
    next: Next,
) -> Response<Body> {
    let (door, headers) = (&shared.door, request.headers());
    let mut response = if !door.lets_in(request.method(), headers) {
        plain(
            StatusCode::FORBIDDEN,
            "This page is for its own machine and its own forms alone.",
        )
    } else if door.knows(headers) {
        next.run(request).await
    } else {
        first_visit(door, &request)
    };
    door::close(response.headers_mut());
    response
}

/// The first visit brings the token in its address, and gets a cookie for it.
fn first_visit(door: &Door, request: &Request) -> Response<Body> {
    let query = request.uri().query().unwrap_or_default();
    let mut pairs = form_urlencoded::parse(query.as_bytes());
    let token = pairs.find(|(key, _)| key == "token").map(|(_, token)| token);
    let cookie =
        token.and_then(|token| HeaderValue::from_str(&door.cookie(&token)?).ok());
    let Some(cookie) = cookie else {
        return plain(
            StatusCode::FORBIDDEN,
            "Open the address with the token that `strapwright page` wrote.",
        );
    };
    let mut response = see("/");
    response.headers_mut().insert(header::SET_COOKIE, cookie);
    response
}

async fn respond(
    State(shared): State<Arc<Shared>>,
    client: Option<Extension<Client>>,
    request: Request,
) -> Response<Body> {
    let Extension(client) = client.unwrap_or_else(|| Extension(Client::new()));
    let path = request.uri().path().to_owned();
    let query = request.uri().query().unwrap_or_default().to_owned();
    let may_pack = may_pack(request.headers());
    let asked_for = say::asked_for(request.headers());
    let (sent, permit) = if request.method() == Method::POST {
        match timeout(MOST_TIME, form(&shared, request)).await {
            Ok(Ok((sent, permit))) => (Some(sent), permit),
            Ok(Err(refused)) => return refused,
            Err(_) => return too_large(),
        }
    } else {
        (None, None)
    };
    let is_of_strap = path.starts_with("/strap/") || path.starts_with("/job/");
    let is_file =
        is_of_strap && path.rsplit('/').next().is_some_and(|name| name.contains('.'));
    let is_long = is_file || matches!(sent, Some(Sent::Parts(_)));
    let turns = if is_long { &shared.files } else { &shared.pages };
    let work = async {
        let turn = turns.take(client.waits_since()).await;
        let shared = Arc::clone(&shared);
        let answered = move || {
            // The work goes on where nobody waits for it any more, and its turn with it.
            let _turn = turn;
            let workshop = shared.workshop.now();
            let profile = workshop.profile.language.as_ref().map(|given| given.value);
            let language = asked_for.language(profile);
            let answer = answer(&workshop, language, (&path, &query), sent.as_ref());
            drop((sent, permit));
            response(&shared, answer, may_pack)
        };
        tokio::task::spawn_blocking(answered).await
    };
    let answered = timeout(MOST_TIME, work).await;
    client.answered();
    match answered {
        Ok(Ok(response)) => response,
        Ok(Err(_)) => plain(
            StatusCode::INTERNAL_SERVER_ERROR,
            "A mistake of the program: please report it with the address of this page.",
        ),
        Err(_) => {
            plain(StatusCode::SERVICE_UNAVAILABLE, "This took too long. Try again.")
        }
    }
}

/// The form that a request brings, and the permit to hold its parts.
async fn form(
    shared: &Shared,
    request: Request,
) -> Result<(Sent, Option<OwnedSemaphorePermit>), Response<Body>> {
    let length = request.headers().get(header::CONTENT_LENGTH);
    let length = length.and_then(|length| length.to_str().ok()?.parse().ok());
    if length.is_some_and(|length: usize| length > MOST_SENT) {
        // A browser reads an answer when it has sent all: what it sends is not kept.
        let mut body = request.into_body();
        while let Some(Ok(_)) = poll_fn(|cx| Pin::new(&mut body).poll_frame(cx)).await {}
        return Err(too_large());
    }
    let kind = request.headers().get(header::CONTENT_TYPE);
    let has_parts =
        kind.is_some_and(|k| k.as_bytes().starts_with(b"multipart/form-data"));
    if !has_parts {
        let sent = to_bytes(request.into_body(), MOST_FIELDS).await;
        let sent = sent.map_err(|_| too_large())?;
        return Ok((Sent::Fields(String::from_utf8_lossy(&sent).into_owned()), None));
    }
    let broken = |status| match status {
        StatusCode::PAYLOAD_TOO_LARGE => too_large(),
        _ => plain(StatusCode::BAD_REQUEST, "The form is not whole. Send it again."),
    };
    let form = Multipart::from_request(request, &()).await;
    let mut form = form.map_err(|why| broken(why.status()))?;
    let (mut parts, mut held) = (Vec::new(), None::<OwnedSemaphorePermit>);
    while let Some(mut field) =
        form.next_field().await.map_err(|why| broken(why.status()))?
    {
        let name = field.name().unwrap_or_default().to_owned();
        let mut part = Vec::new();
        while let Some(chunk) = field.chunk().await.map_err(|why| broken(why.status()))? {
            let permit = permit(shared, chunk.len()).ok_or_else(busy)?;
            match &mut held {
                Some(held) => held.merge(permit),
                None => held = Some(permit),
            }
            part.extend_from_slice(&chunk);
        }
        parts.push((name, part));
    }
    Ok((Sent::Parts(parts), held))
}

/// The permit to hold some bytes; `None` while too much is held.
fn permit(shared: &Shared, bytes: usize) -> Option<OwnedSemaphorePermit> {
    let units = u32::try_from(bytes / SHORT + 1).ok()?;
    Arc::clone(&shared.held).try_acquire_many_owned(units).ok()
}

/// Whether a browser unpacks what comes.
fn may_pack(headers: &HeaderMap) -> bool {
    let accepted = headers.get(header::ACCEPT_ENCODING).and_then(|v| v.to_str().ok());
    accepted.is_some_and(|all| all.split(',').any(|one| one.trim() == "gzip"))
}

fn response(shared: &Shared, answer: Answer, may_pack: bool) -> Response<Body> {
    const HTML: &str = "text/html; charset=utf-8";
    let html =
        |status, markup: maud::Markup| (status, HTML, markup.into_string().into_bytes());
    let (mut kept, mut saved_as) = ("no-store", None);
    let (status, kind, mut bytes) = match answer {
        Answer::Page(markup) => html(StatusCode::OK, markup),
        Answer::Missing(markup) => html(StatusCode::NOT_FOUND, markup),
        Answer::Refused(markup) => html(StatusCode::UNPROCESSABLE_ENTITY, markup),
        Answer::See(address) => return see(&address),
        Answer::Speak(language, from) => {
            let mut response = see(&from);
            if let Ok(cookie) = HeaderValue::from_str(&say::cookie(language)) {
                response.headers_mut().insert(header::SET_COOKIE, cookie);
            }
            return response;
        }
        Answer::Asset(kind, text) => {
            kept = "public, max-age=31536000, immutable";
            (StatusCode::OK, kind, text.as_bytes().to_vec())
        }
        Answer::File(name, kind, bytes) => {
            saved_as = name;
            (StatusCode::OK, kind, bytes)
        }
    };
    let is_text = kind.starts_with("text/") || kind.ends_with("+xml");
    let mut headers = HeaderMap::new();
    if is_text && bytes.len() > SHORT {
        headers.insert(header::VARY, HeaderValue::from_static("accept-encoding"));
        let packed = may_pack.then(|| packed(&bytes)).and_then(Result::ok);
        if let Some(packed) = packed {
            headers.insert(header::CONTENT_ENCODING, HeaderValue::from_static("gzip"));
            bytes = packed;
        }
    }
    headers.insert(header::CONTENT_TYPE, HeaderValue::from_static(kind));
    headers.insert(header::CACHE_CONTROL, HeaderValue::from_static(kept));
    let name = saved_as.map(|name| {
        let bytes = name
            .bytes()
            .map(|b| form_urlencoded::byte_serialize(&[b]).collect::<String>());
        format!("attachment; filename*=UTF-8''{}", bytes.collect::<String>())
    });
    if let Some(Ok(value)) = name.map(|name| HeaderValue::from_str(&name)) {
        headers.insert(header::CONTENT_DISPOSITION, value);
    }
    let Some(permit) = permit(shared, bytes.len()) else { return busy() };
    (status, headers, Bytes::from_owner(Held(bytes, permit))).into_response()
}

fn packed(bytes: &[u8]) -> io::Result<Vec<u8>> {
    let mut packer = GzEncoder::new(Vec::new(), Compression::default());
    packer.write_all(bytes)?;
    packer.finish()
}

fn too_large() -> Response<Body> {
    plain(StatusCode::PAYLOAD_TOO_LARGE, "The form is too large or too slow.")
}

fn busy() -> Response<Body> {
    plain(
        StatusCode::SERVICE_UNAVAILABLE,
        "Too much is under way. Try again in a minute.",
    )
}

fn see(address: &str) -> Response<Body> {
    let mut response = StatusCode::SEE_OTHER.into_response();
    if let Ok(value) = HeaderValue::from_str(address) {
        response.headers_mut().insert(header::LOCATION, value);
    }
    response
}

fn plain(status: StatusCode, words: &'static str) -> Response<Body> {
    (status, [(header::CONTENT_TYPE, "text/plain; charset=utf-8")], words).into_response()
}
