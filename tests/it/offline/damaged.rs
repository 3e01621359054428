//! A file that comes damaged: fetched once more by itself, and never called a site that changed.

use super::{Host, phone, small, wait_for};
use loomleaf::publish::Files;
use std::io::{BufRead, BufReader, Write};
use std::net::TcpListener;
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};

/// A server that turns a bit of one file the first time it is asked for it; how often it was. Ends with the test's process.
fn serve_once_damaged(site: Files, damaged: String) -> (String, Arc<AtomicUsize>) {
    let listener = TcpListener::bind("127.0.0.1:0").unwrap();
    let address = format!("http://{}/", listener.local_addr().unwrap());
    let (asked, site) = (Arc::new(AtomicUsize::new(0)), Arc::new(site));
    let count = asked.clone();
    std::thread::spawn(move || {
        for mut stream in listener.incoming().flatten() {
            let (site, damaged, count) = (site.clone(), damaged.clone(), count.clone());
            std::thread::spawn(move || {
                let mut reader = BufReader::new(stream.try_clone().unwrap());
                let (mut request, mut line) = (String::new(), String::new());
                let _ = reader.read_line(&mut request);
                while reader.read_line(&mut line).is_ok_and(|read| read > 2) {
                    line.clear();
                }
                let path = request.split(' ').nth(1).unwrap_or("/");
                let path = path.split('?').next().unwrap().trim_start_matches('/');
                let path = match path.is_empty() || path.ends_with('/') {
                    true => format!("{path}index.html"),
                    false => path.to_owned(),
                };
                let kind = match path.rsplit('.').next() {
                    Some("css") => "text/css",
                    Some("mjs" | "js") => "text/javascript",
                    Some("html") => "text/html",
                    _ => "application/octet-stream",
                };
                let (status, mut body) = match site.get(&path) {
                    Some(body) => ("200 OK", body.clone()),
                    None => ("404 Not Found", Vec::new()),
                };
                if path == damaged && count.fetch_add(1, Ordering::SeqCst) == 0 {
                    body[100] ^= 4;
                }
                let head = format!(
                    "HTTP/1.1 {status}\r\nContent-Type: {kind}\r\nCache-Control: max-age=9999\r\nConnection: close\r\nContent-Length: {}\r\n\r\n",
                    body.len()
                );
                let _ = stream
                    .write_all(head.as_bytes())
                    .and_then(|()| stream.write_all(&body));
            });
        }
    });
    (address, asked)
}

fn pack_of(site: &Files) -> String {
    let pack = site.keys().find(|path| path.ends_with(".pack"));
    pack.unwrap().clone()
}

#[test]
fn a_file_that_came_damaged_is_fetched_once_more() {
    let site = small("Shop");
    let pack = pack_of(&site);
    let (address, asked) = serve_once_damaged(site, pack);
    let mut chrome = phone();
    chrome.open(&format!("{address}about/"));
    wait_for(&mut chrome, "whole");
    assert_eq!(asked.load(Ordering::SeqCst), 2);
}

#[test]
fn a_file_that_stays_damaged_is_called_that_until_it_is_whole() {
    let site = small("Shop");
    let mut bad = site.clone();
    bad.get_mut(&pack_of(&site)).unwrap()[100] ^= 4;
    let host = &mut Host::of(&bad);
    let mut chrome = phone();
    chrome.open(&host.address("about/"));
    wait_for(&mut chrome, "damaged");
    host.show(&site);
    chrome.eval("document.querySelector('[data-when=damaged] button').click()");
    wait_for(&mut chrome, "whole");
}
