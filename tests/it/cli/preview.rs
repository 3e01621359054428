//! `preview`: a real program in a folder of its own, followed by its address and its words.

use super::{DECK, GOOD, Room};
use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::process::{Child, Command, Stdio};
use std::sync::mpsc::{Receiver, channel};
use std::time::Duration;

/// A build takes well under a second; machines that run tests are busy ones.
const PATIENCE: Duration = Duration::from_secs(60);

struct Preview {
    child: Child,
    address: String,
    said: Receiver<String>,
}

impl Drop for Preview {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

impl Preview {
    fn of(room: &Room) -> Self {
        let mut child = Command::new(env!("CARGO_BIN_EXE_loomleaf"))
            .args(["preview", "deck", "--port", "0"])
            .current_dir(room.0.path())
            .stdin(Stdio::null())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        let address = lines(child.stdout.take().unwrap());
        let said = lines(child.stderr.take().unwrap());
        let address = address.recv_timeout(PATIENCE).unwrap();
        Self {
            child,
            address,
            said,
        }
    }

    /// Waits until the program says a line with these words.
    fn wait_for(&self, words: &str) {
        while !self
            .said
            .recv_timeout(PATIENCE)
            .expect(words)
            .contains(words)
        {}
    }

    fn page(&self, path: &str) -> String {
        let host = self
            .address
            .trim_start_matches("http://")
            .trim_end_matches('/');
        let mut stream = TcpStream::connect(host).unwrap();
        write!(
            stream,
            "GET /{path} HTTP/1.1\r\nHost: {host}\r\nConnection: close\r\n\r\n"
        )
        .unwrap();
        let mut answer = String::new();
        stream.read_to_string(&mut answer).unwrap();
        answer
    }
}

fn lines(stream: impl Read + Send + 'static) -> Receiver<String> {
    let (tell, told) = channel();
    std::thread::spawn(move || {
        let lines = BufReader::new(stream).lines();
        lines
            .map_while(Result::ok)
            .try_for_each(|line| tell.send(line))
    });
    told
}

#[test]
fn a_save_shows_on_the_next_load_and_a_mistake_keeps_the_last_good_site() {
    let room = Room::with(&[DECK, GOOD]);
    let preview = Preview::of(&room);
    let page = "cards/lever/index.html";
    preview.wait_for("no findings");
    assert!(preview.page(page).contains("Winch lever"));
    room.put(GOOD.0, &GOOD.1.replace("Winch lever", "Anchor lever"));
    preview.wait_for("no findings");
    assert!(preview.page(page).contains("Anchor lever"));
    room.put(GOOD.0, &GOOD.1.replace("position-pot", "position-pod"));
    preview.wait_for("1 error; the pages stay as they were");
    assert!(preview.page(page).contains("Anchor lever"));
    room.put(GOOD.0, &GOOD.1.replace("Winch lever", "Capstan lever"));
    preview.wait_for("no findings");
    assert!(preview.page(page).contains("Capstan lever"));
}

#[test]
fn a_deck_with_errors_is_shown_once_they_are_mended() {
    let bad = GOOD.1.replace("position-pot", "position-pod");
    let room = Room::with(&[DECK, (GOOD.0, &bad)]);
    let preview = Preview::of(&room);
    preview.wait_for("1 error; ");
    assert!(preview.page("").contains("503 "), "{}", preview.page(""));
    room.put(GOOD.0, GOOD.1);
    preview.wait_for("no findings");
    assert!(preview.page("").contains("Winch lever"));
}

#[cfg(unix)]
#[test]
fn being_asked_to_stop_is_no_failure() {
    let room = Room::with(&[DECK, GOOD]);
    for signal in ["-INT", "-TERM"] {
        let mut preview = Preview::of(&room);
        let process = preview.child.id().to_string();
        let asked = Command::new("kill")
            .args([signal, &process])
            .status()
            .unwrap();
        assert!(asked.success());
        assert_eq!(preview.child.wait().unwrap().code(), Some(0), "{signal}");
    }
}

#[test]
fn a_port_that_is_taken_is_one_clear_message() {
    let room = Room::with(&[DECK, GOOD]);
    let other = std::net::TcpListener::bind("127.0.0.1:0").unwrap();
    let port = other.local_addr().unwrap().port();
    let complaint = format!(
        "error: could not listen on port {port} of this machine: another program uses it\n  \
         try: leave --port out, or give another one\n"
    );
    room.run(&format!("preview /deck --port {port}"))
        .check(2, "", &complaint);
}
