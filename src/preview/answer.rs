//! One answer to one request, from the files in memory: no path of this machine can be reached.
//!
//! In: the site and a request. Out: a response. Only this machine's own names are answered to, so
//! that a page of another site can't read the preview by giving itself our address.

use crate::publish::Files;
use axum::body::Body;
use axum::http::header::{
    ALLOW, CACHE_CONTROL, CONTENT_SECURITY_POLICY, CONTENT_TYPE, ETAG, HOST, IF_NONE_MATCH,
    LOCATION, REFERRER_POLICY, X_CONTENT_TYPE_OPTIONS,
};
use axum::http::{HeaderMap, Method, Request, Response, StatusCode, Uri};

/// Everything from this site, nothing inline, nothing from elsewhere, no framing.
pub(super) const POLICY: &str = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; \
     style-src 'self'; img-src 'self'; font-src 'self'; connect-src 'self'; manifest-src 'self'; \
     worker-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'";

const PAGE: &str = "text/html; charset=utf-8";

/// Content types by ending; anything else is handed over as plain bytes.
const TYPES: [(&str, &str); 15] = [
    ("html", PAGE),
    ("css", "text/css; charset=utf-8"),
    ("js", "text/javascript; charset=utf-8"),
    ("mjs", "text/javascript; charset=utf-8"),
    ("json", "application/json"),
    ("webmanifest", "application/manifest+json"),
    ("svg", "image/svg+xml"),
    ("png", "image/png"),
    ("ico", "image/x-icon"),
    ("txt", "text/plain; charset=utf-8"),
    ("csv", "text/csv; charset=utf-8"),
    ("xml", "application/xml"),
    ("woff2", "font/woff2"),
    ("wasm", "application/wasm"),
    ("pack", "application/octet-stream"),
];

/// Answers a request from the site; `None` while there is no good site yet.
pub(super) fn answer(site: Option<&Files>, request: &Request<Body>) -> Response<Body> {
    if !asks_this_machine(request.uri(), request.headers()) {
        let text = "This preview answers only to 127.0.0.1 and localhost.";
        return page(StatusCode::MISDIRECTED_REQUEST, "Not here", text);
    }
    if !matches!(*request.method(), Method::GET | Method::HEAD) {
        let text = "A preview can only be read.";
        let mut refusal = page(StatusCode::METHOD_NOT_ALLOWED, "Not allowed", text);
        set(&mut refusal, ALLOW, "GET, HEAD");
        return refusal;
    }
    let Some(site) = site else {
        let text = "The deck has errors, or is still being read. The terminal tells which; \
                    load this page again once they are mended.";
        return page(StatusCode::SERVICE_UNAVAILABLE, "No site yet", text);
    };
    find(site, request.uri().path(), request.headers())
}

fn find(site: &Files, path: &str, headers: &HeaderMap) -> Response<Body> {
    let path = decoded(path);
    let name = path.strip_prefix('/').unwrap_or(&path);
    let file = match name {
        "" => "index.html".to_string(),
        folder if folder.ends_with('/') => format!("{folder}index.html"),
        file => file.to_string(),
    };
    if let Some(bytes) = site.get(&file) {
        return found(&file, bytes, headers);
    }
    if site.contains_key(&format!("{file}/index.html")) {
        let mut moved = Response::new(Body::empty());
        *moved.status_mut() = StatusCode::PERMANENT_REDIRECT;
        // The name is one of the site's own, so nothing in it can lead elsewhere.
        set(&mut moved, LOCATION, &format!("/{file}/"));
        return moved;
    }
    let Some(bytes) = site.get("404.html") else {
        let text = "The site has no page of this name.";
        return page(StatusCode::NOT_FOUND, "No such page", text);
    };
    let mut missing = dressed(Body::from(bytes.clone()), PAGE);
    *missing.status_mut() = StatusCode::NOT_FOUND;
    missing
}

/// A file of the site. A browser may keep it, and asks each time whether it is still the same.
fn found(name: &str, bytes: &[u8], headers: &HeaderMap) -> Response<Body> {
    let tag = format!("\"{}\"", &blake3::hash(bytes).to_hex()[..32]);
    let known = headers
        .get_all(IF_NONE_MATCH)
        .iter()
        .filter_map(|value| value.to_str().ok())
        .flat_map(|value| value.split(','))
        .any(|known| known.trim().trim_start_matches("W/") == tag);
    let ending = name.rsplit_once('.').map_or("", |(_, ending)| ending);
    let kind = TYPES
        .iter()
        .find(|(known, _)| *known == ending)
        .map_or("application/octet-stream", |(_, kind)| kind);
    let body = if known {
        Body::empty()
    } else {
        Body::from(bytes.to_vec())
    };
    let mut response = dressed(body, kind);
    if known {
        *response.status_mut() = StatusCode::NOT_MODIFIED;
    }
    set(&mut response, ETAG, &tag);
    response
}

/// A page of the preview itself; its texts are constants, so nothing needs escaping.
fn page(status: StatusCode, title: &str, text: &str) -> Response<Body> {
    let html = format!(
        "<!doctype html>\n<html lang=\"en\">\n<meta charset=\"utf-8\">\n\
         <meta name=\"viewport\" content=\"width=device-width\">\n\
         <title>{title}</title>\n<h1>{title}</h1>\n<p>{text}</p>\n</html>\n"
    );
    let mut response = dressed(Body::from(html), PAGE);
    *response.status_mut() = status;
    response
}

fn dressed(body: Body, kind: &str) -> Response<Body> {
    let mut response = Response::new(body);
    set(&mut response, CONTENT_TYPE, kind);
    set(&mut response, CACHE_CONTROL, "no-cache");
    set(&mut response, CONTENT_SECURITY_POLICY, POLICY);
    set(&mut response, X_CONTENT_TYPE_OPTIONS, "nosniff");
    set(&mut response, REFERRER_POLICY, "no-referrer");
    response
}

/// Sets a header; a value that can't stand in one is left out.
fn set(response: &mut Response<Body>, name: axum::http::HeaderName, value: &str) {
    if let Ok(value) = value.parse() {
        response.headers_mut().insert(name, value);
    }
}

/// Whether the request names this machine, wherever HTTP lets it name a host.
fn asks_this_machine(uri: &Uri, headers: &HeaderMap) -> bool {
    let ours = |authority: &str| {
        let host = match authority.rsplit_once(':') {
            Some((host, port)) if port.bytes().all(|byte| byte.is_ascii_digit()) => host,
            _ => authority,
        };
        ["127.0.0.1", "localhost", "[::1]"].contains(&host)
    };
    let mut hosts = headers.get_all(HOST).iter();
    let named = hosts.next().and_then(|host| host.to_str().ok());
    named.is_some_and(ours)
        && hosts.next().is_none()
        && uri
            .authority()
            .is_none_or(|authority| ours(authority.as_str()))
}

/// Percent signs resolved; what is no text then matches no file.
fn decoded(path: &str) -> String {
    let mut bytes = Vec::with_capacity(path.len());
    let mut rest = path.as_bytes();
    while let Some((&byte, after)) = rest.split_first() {
        let escape = after.get(..2).and_then(hex_pair);
        match escape {
            Some(decoded) if byte == b'%' => {
                bytes.push(decoded);
                rest = &after[2..];
            }
            _ => {
                bytes.push(byte);
                rest = after;
            }
        }
    }
    String::from_utf8_lossy(&bytes).into_owned()
}

fn hex_pair(digits: &[u8]) -> Option<u8> {
    let digits = std::str::from_utf8(digits).ok()?;
    let plain = digits.bytes().all(|digit| digit.is_ascii_hexdigit());
    u8::from_str_radix(digits, 16).ok().filter(|_| plain)
}
