//! The server: guards, limits and headers round the page.

use super::{Answer, Door, Workshop, answer, door};
use axum::Router;
use axum::body::{Body, to_bytes};
use axum::extract::{Request, State};
use axum::http::{HeaderValue, Method, Response, StatusCode, header};
use axum::middleware::{Next, from_fn_with_state};
use axum::response::IntoResponse;
use axum::routing::any;
use std::io;
use std::sync::Arc;
use std::time::Duration;
use tokio::net::TcpListener;
use tokio::sync::Semaphore;
use tokio::time::timeout;

/// Most answers that are worked on at once; others wait.
const AT_ONCE: usize = 4;
/// How long an answer may take, with waiting.
const MOST_TIME: Duration = Duration::from_secs(20);

/// The largest form, in bytes: a table of orders.
const MOST_SENT: usize = 1 << 20;

struct Shared {
    workshop: Workshop,
    door: Door,
    work: Arc<Semaphore>,
}

/// The page of a workshop behind its door.
pub fn router(workshop: Workshop, door: Door) -> Router {
    let work = Arc::new(Semaphore::new(AT_ONCE));
    let shared = Arc::new(Shared { workshop, door, work });
    Router::new()
        .fallback(any(respond))
        .layer(from_fn_with_state(Arc::clone(&shared), guard))
        .with_state(shared)
}

/// Serves the page until Ctrl-C, and finishes what is being answered then.
///
/// # Errors
/// When the listener fails.
pub async fn serve(
    listener: TcpListener,
    workshop: Workshop,
    door: Door,
) -> io::Result<()> {
    let app = router(workshop, door);
    let ended = async {
        // Without signals the process is ended by the system.
        let _ = tokio::signal::ctrl_c().await;
    };
    axum::serve(listener, app).with_graceful_shutdown(ended).await
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

async fn respond(State(shared): State<Arc<Shared>>, request: Request) -> Response<Body> {
    let (head, body) = request.into_parts();
    let path = head.uri.path().to_owned();
    let query = head.uri.query().unwrap_or_default().to_owned();
    let sent = if head.method == Method::POST {
        match timeout(MOST_TIME, to_bytes(body, MOST_SENT)).await.map(Result::ok) {
            Ok(Some(sent)) => Some(String::from_utf8_lossy(&sent).into_owned()),
            _ => {
                return plain(
                    StatusCode::PAYLOAD_TOO_LARGE,
                    "The form is too large or too slow.",
                );
            }
        }
    } else {
        None
    };
    let work = async {
        let turn = Arc::clone(&shared.work).acquire_owned().await.ok()?;
        let shared = Arc::clone(&shared);
        let answered = move || {
            // The work goes on where nobody waits for it any more, and its turn with it.
            let _turn = turn;
            answer(&shared.workshop, &path, &query, sent.as_deref())
        };
        tokio::task::spawn_blocking(answered).await.ok()
    };
    match timeout(MOST_TIME, work).await {
        Ok(Some(answer)) => response(answer),
        Ok(None) => plain(
            StatusCode::INTERNAL_SERVER_ERROR,
            "A mistake of the program: please report it with the address of this page.",
        ),
        Err(_) => {
            plain(StatusCode::SERVICE_UNAVAILABLE, "This took too long. Try again.")
        }
    }
}

fn response(answer: Answer) -> Response<Body> {
    let html = |status, markup: maud::Markup| {
        let headers = [
            (header::CONTENT_TYPE, "text/html; charset=utf-8"),
            (header::CACHE_CONTROL, "no-store"),
        ];
        (status, headers, markup.into_string()).into_response()
    };
    match answer {
        Answer::Page(markup) => html(StatusCode::OK, markup),
        Answer::Missing(markup) => html(StatusCode::NOT_FOUND, markup),
        Answer::Refused(markup) => html(StatusCode::UNPROCESSABLE_ENTITY, markup),
        Answer::See(address) => see(&address),
        Answer::Asset(kind, text) => {
            let kept = "public, max-age=31536000, immutable";
            let headers = [(header::CONTENT_TYPE, kind), (header::CACHE_CONTROL, kept)];
            (headers, text).into_response()
        }
        Answer::File(name, kind, bytes) => {
            let headers =
                [(header::CONTENT_TYPE, kind), (header::CACHE_CONTROL, "no-store")];
            let mut response = (headers, bytes).into_response();
            let name = name.map(|name| {
                let bytes = name
                    .bytes()
                    .map(|b| form_urlencoded::byte_serialize(&[b]).collect::<String>());
                format!("attachment; filename*=UTF-8''{}", bytes.collect::<String>())
            });
            if let Some(Ok(value)) = name.map(|name| HeaderValue::from_str(&name)) {
                response.headers_mut().insert(header::CONTENT_DISPOSITION, value);
            }
            response
        }
    }
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
