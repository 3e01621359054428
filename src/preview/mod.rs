//! The preview: a loopback server that publishes again when the deck changes.
//!
//! In: a deck's folder. Out: its site at an address of this machine, and an [`Event`] for each thing
//! worth telling. Nothing is written to disk. A deck with errors leaves the last good site standing.
//! Pages carry no script for this: the next load shows the new site.

mod answer;
mod server;
mod stop;
mod watch;

pub use server::{Port, Server};

use crate::card::LoadError;
use crate::finding::Finding;
use crate::publish::SiteOptions;
use crate::publish::pipeline::{Built, build};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, Sender, channel};
use std::time::Duration;

/// A save often comes as several changes; they count as one when no more follow within this time.
const QUIET: Duration = Duration::from_millis(150);

/// Something worth telling the person at the terminal.
#[derive(Debug)]
pub enum Event {
    /// The site is to be seen here.
    Listening(String),
    /// A new site is shown.
    Published {
        /// Pages it has.
        pages: usize,
        /// Warnings and advice.
        findings: Vec<Finding>,
        /// The texts they point into, by file.
        texts: BTreeMap<String, String>,
    },
    /// The deck has errors; the last good site, if any, stays.
    Kept {
        /// What is wrong.
        findings: Vec<Finding>,
        /// The texts it points into, by file.
        texts: BTreeMap<String, String>,
    },
    /// The folder can't be read any more; the last good site stays.
    Gone(LoadError),
    /// Changes can't be followed: why.
    Blind(String),
}

/// Why there is no preview.
#[derive(Debug)]
pub enum PreviewError {
    /// The folder is no deck.
    Deck(LoadError),
    /// The machine gives no address: port and cause.
    Port {
        /// As asked for.
        port: u16,
        /// The system's words.
        cause: String,
    },
}

/// What wakes the preview up.
enum Wake {
    Changed,
    Built(Result<Built, LoadError>),
    Stop,
}

/// Shows the deck in this folder until the program is asked to stop (Ctrl-C, or a polite kill).
///
/// # Errors
/// When there is no such folder, or the port can't be had.
pub fn preview(folder: &Path, port: Port, tell: &mut dyn FnMut(Event)) -> Result<(), PreviewError> {
    let (wake, woken) = channel();
    let server = Server::start(port)?;
    let changed = wake.clone();
    // Before the first build, so that no change falls between the two. The receiver is gone only when
    // the preview has ended already.
    let watching = watch::watch(folder, move || drop(changed.send(Wake::Changed)));
    let first = build(folder, &SiteOptions::default()).map_err(PreviewError::Deck)?;
    show(&server, first, tell);
    let asked = wake.clone();
    // Where signals can't be had, Ctrl-C ends the program in the system's own way.
    drop(stop::on_stop(move || drop(asked.send(Wake::Stop))));
    tell(Event::Listening(server.address()));
    if let Err(cause) = &watching {
        tell(Event::Blind(cause.clone()));
    }
    follow(folder, &server, &wake, &woken, tell);
    Ok(())
}

/// Builds again after each change. One build at a time; a change during a build asks for another.
fn follow(
    folder: &Path,
    server: &Server,
    wake: &Sender<Wake>,
    woken: &Receiver<Wake>,
    tell: &mut dyn FnMut(Event),
) {
    let (mut changed, mut building) = (false, false);
    loop {
        let next = if changed && !building {
            match woken.recv_timeout(QUIET) {
                Ok(next) => next,
                Err(_) => {
                    start_build(folder.to_path_buf(), wake.clone());
                    (changed, building) = (false, true);
                    continue;
                }
            }
        } else {
            woken.recv().unwrap_or(Wake::Stop)
        };
        match next {
            Wake::Changed => changed = true,
            Wake::Built(built) => {
                building = false;
                match built {
                    Ok(built) => show(server, built, tell),
                    Err(error) => tell(Event::Gone(error)),
                }
            }
            Wake::Stop => return,
        }
    }
}

/// Builds on a thread of its own, so that stopping never waits for a large deck.
fn start_build(folder: PathBuf, wake: Sender<Wake>) {
    std::thread::spawn(move || {
        // Nobody listens any more when the preview has been stopped.
        let _ = wake.send(Wake::Built(build(&folder, &SiteOptions::default())));
    });
}

fn show(server: &Server, built: Built, tell: &mut dyn FnMut(Event)) {
    let Built {
        files,
        findings,
        texts,
        ..
    } = built;
    if files.is_empty() {
        tell(Event::Kept { findings, texts });
        return;
    }
    let pages = files.keys().filter(|name| name.ends_with(".html")).count();
    server.show(files);
    tell(Event::Published {
        pages,
        findings,
        texts,
    });
}
