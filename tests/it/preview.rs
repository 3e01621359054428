//! The preview's server: a site in memory and a raw request in, status, headers and body out.

use loomleaf::preview::{Port, Server};
use loomleaf::publish::Files;
use std::io::{Read, Write};
use std::net::TcpStream;

fn server() -> Server {
    let server = Server::start(Port::Free).unwrap();
    let file = |(name, text): (&str, &str)| (name.to_string(), text.as_bytes().to_vec());
    let files = [
        ("index.html", "<h1>front</h1>"),
        ("card/ramp angle.html", "ramp"),
        ("learn/index.html", "lessons"),
        ("style.css", "p{}"),
        ("secret/../odd", "never"),
    ];
    server.show(files.into_iter().map(file).collect::<Files>());
    server
}

/// Sends one request as it is, closing the connection after it.
fn ask(server: &Server, head: &str) -> String {
    let address = server.address();
    let authority = address.trim_start_matches("http://").trim_end_matches('/');
    let mut stream = TcpStream::connect(authority).unwrap();
    let head = head.replace('\n', "\r\n");
    write!(stream, "{head}\r\nConnection: close\r\n\r\n").unwrap();
    let mut answer = String::new();
    stream.read_to_string(&mut answer).unwrap();
    answer
}

fn get(server: &Server, path: &str) -> String {
    ask(
        server,
        &format!("GET {path} HTTP/1.1\nHost: localhost:8040"),
    )
}

fn check(answer: &str, status: u16, contains: &[&str]) {
    assert!(
        answer.starts_with(&format!("HTTP/1.1 {status} ")),
        "{answer}"
    );
    for part in contains {
        assert!(answer.contains(part), "no {part} in:\n{answer}");
    }
}

#[test]
fn files_come_with_their_types_and_the_strict_policy() {
    let server = server();
    let policy = "content-security-policy: default-src 'none'";
    let page = "content-type: text/html; charset=utf-8";
    check(&get(&server, "/"), 200, &["<h1>front</h1>", page, policy]);
    check(
        &get(&server, "/card/ramp%20angle.html"),
        200,
        &["\r\n\r\nramp"],
    );
    check(
        &get(&server, "/style.css?v=1"),
        200,
        &["content-type: text/css", "nosniff"],
    );
    check(&get(&server, "/learn/"), 200, &["lessons"]);
    check(&get(&server, "/learn"), 308, &["location: /learn/"]);
    check(
        &get(&server, "/nothing.html"),
        404,
        &["No such page", policy],
    );
}

#[test]
fn a_page_already_known_is_not_sent_again() {
    let server = server();
    let first = get(&server, "/");
    let tag = first
        .lines()
        .find_map(|line| line.strip_prefix("etag: "))
        .unwrap();
    let again = format!("GET / HTTP/1.1\nHost: localhost\nIf-None-Match: \"old\", W/{tag}");
    let answer = ask(&server, &again);
    check(&answer, 304, &[tag, "cache-control: no-cache"]);
    assert!(answer.ends_with("\r\n\r\n"), "{answer}");
    server.show([("index.html".to_string(), b"new".to_vec())].into());
    check(&ask(&server, &again), 200, &["new"]);
}

#[test]
fn head_tells_the_size_and_sends_nothing() {
    let answer = ask(&server(), "HEAD / HTTP/1.1\nHost: 127.0.0.1:80");
    check(&answer, 200, &["content-length: 14"]);
    assert!(answer.ends_with("\r\n\r\n"), "{answer}");
}

#[test]
fn nothing_can_be_written() {
    let answer = ask(
        &server(),
        "POST / HTTP/1.1\nHost: localhost\nContent-Length: 0",
    );
    check(&answer, 405, &["allow: GET, HEAD"]);
}

#[test]
fn only_this_machine_is_answered() {
    let server = server();
    for host in [
        "ramp.example",
        "localhost.ramp.example",
        "127.0.0.1.ramp.example:8040",
        "",
        "localhost:8040:1",
    ] {
        let answer = ask(&server, &format!("GET / HTTP/1.1\nHost: {host}"));
        assert!(!answer.contains("front"), "answered to {host}:\n{answer}");
    }
    let answer = ask(
        &server,
        "GET http://ramp.example/ HTTP/1.1\nHost: localhost",
    );
    check(&answer, 421, &[]);
    let answer = ask(
        &server,
        "GET / HTTP/1.1\nHost: localhost\nHost: ramp.example",
    );
    assert!(!answer.contains("front"), "{answer}");
    check(
        &ask(&server, "GET / HTTP/1.1\nHost: [::1]:8040"),
        200,
        &["front"],
    );
}

#[test]
fn no_path_leads_out_of_the_site() {
    let server = server();
    for path in [
        "/../../etc/passwd",
        "/%2e%2e/%2e%2e/etc/passwd",
        "/..%2f..%2fetc%2fpasswd",
        "//etc/passwd",
        "/%00",
        "/%ff%fe",
        "/%",
        "/%2",
    ] {
        let answer = get(&server, path);
        check(&answer, 404, &[]);
        assert!(!answer.contains("root:"), "{path}");
    }
}

#[test]
fn before_the_first_good_site_a_page_says_why() {
    let server = Server::start(Port::Free).unwrap();
    check(&get(&server, "/"), 503, &["No site yet", "terminal"]);
}

#[test]
fn a_taken_port_is_named_and_the_usual_one_gives_way() {
    let first = Server::start(Port::Free).unwrap();
    let address = first.address();
    let taken = address.trim_end_matches('/').rsplit_once(':').unwrap().1;
    let refused = Server::start(Port::Only(taken.parse().unwrap())).unwrap_err();
    assert!(
        format!("{refused:?}").contains("another program uses it"),
        "{refused:?}"
    );
    let (one, two) = (
        Server::start(Port::Usual).unwrap(),
        Server::start(Port::Usual).unwrap(),
    );
    assert_ne!(one.address(), two.address());
}

#[test]
fn dropping_the_server_frees_its_port() {
    let server = server();
    let address = server.address();
    // An idle browser keeps its connection open.
    let authority = address
        .trim_start_matches("http://")
        .trim_end_matches('/')
        .to_string();
    let _idle = TcpStream::connect(&authority).unwrap();
    drop(server);
    assert!(TcpStream::connect(&authority).is_err());
}
