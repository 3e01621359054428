//! Where the program prints: answers to `out`, findings and troubles to `err`, colours where they show.

use super::draw::visible;
use super::{Ending, Stop};
use crate::card::LoadError;
use crate::preview::PreviewError;
use crate::publish::output::OutputError;

use std::io::{self, BufRead, IsTerminal, Write};
use std::sync::mpsc;
use std::time::Duration;

/// Work longer than this is worth a word about what is going on.
const PATIENCE: Duration = Duration::from_millis(1_500);

/// Where the program reads and prints, and how.
pub struct Console<'a> {
    /// Readings typed one by one.
    pub input: &'a mut dyn BufRead,
    /// Answers.
    pub out: &'a mut dyn Write,
    /// Findings, troubles and progress.
    pub err: &'a mut (dyn Write + Send),
    /// How `out` looks.
    pub out_look: Look,
    /// How `err` looks.
    pub err_look: Look,
}

/// What reads the output.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Look {
    /// A file or another program: plain text.
    Plain,
    /// A person at a terminal without colours.
    Terminal,
    /// A person at a terminal with colours.
    Coloured,
}

impl Look {
    /// How output to this stream looks; `NO_COLOR` and a dumb terminal are heeded.
    pub fn of(stream: &impl IsTerminal) -> Self {
        let set = |name| std::env::var_os(name).filter(|value| !value.is_empty());
        if !stream.is_terminal() {
            Self::Plain
        } else if set("NO_COLOR").is_some() || set("TERM").is_none_or(|term| term == "dumb") {
            Self::Terminal
        } else {
            Self::Coloured
        }
    }
}

/// A refusal of the machine: what was tried and where, why not, what to try.
#[derive(Clone, Debug)]
pub(super) struct Trouble {
    /// `could not read the deck demo`.
    pub(super) what: String,
    /// Why.
    pub(super) cause: String,
    /// One thing to do.
    pub(super) hint: String,
}

impl Console<'_> {
    /// Prints a trouble.
    pub(super) fn complain(&mut self, trouble: &Trouble) -> io::Result<()> {
        let (bold, off) = match self.err_look {
            Look::Coloured => ("\u{1b}[1;31m", "\u{1b}[0m"),
            _ => ("", ""),
        };
        let Trouble { what, cause, hint } = trouble;
        writeln!(
            self.err,
            "{bold}error:{off} {}: {}\n  try: {}",
            visible(what),
            visible(cause),
            visible(hint)
        )
    }

    /// Prints what the argument reader has to say: help, version, or what it did not understand.
    pub(super) fn show_usage(&mut self, answer: &clap::Error) -> Result<Ending, Stop> {
        let (to, look, ending): (&mut dyn Write, _, _) = if answer.use_stderr() {
            (self.err, self.err_look, Ending::Misused)
        } else {
            (self.out, self.out_look, Ending::Fine)
        };
        let text = answer.render();
        match look {
            Look::Coloured => write!(to, "{}", text.ansi())?,
            _ => write!(to, "{text}")?,
        }
        to.flush()?;
        Ok(ending)
    }

    /// Does the work; a person who waits long at a terminal is told what for.
    pub(super) fn during<T>(&mut self, doing: &str, work: impl FnOnce() -> T) -> T {
        if self.err_look == Look::Plain {
            return work();
        }
        let (done, wait) = mpsc::channel::<()>();
        std::thread::scope(|scope| {
            let err = &mut *self.err;
            scope.spawn(move || {
                if wait.recv_timeout(PATIENCE) == Err(mpsc::RecvTimeoutError::Timeout) {
                    // A lost word of progress is no reason to stop the work.
                    let _ = writeln!(err, "{doing} ...");
                }
            });
            let result = work();
            drop(done);
            result
        })
    }

    /// Prints one answer as JSON.
    pub(super) fn answer_json(&mut self, answer: &impl serde::Serialize) -> Result<(), Stop> {
        serde_json::to_writer(&mut *self.out, answer).map_err(io::Error::from)?;
        Ok(writeln!(self.out)?)
    }

    pub(super) fn flush(&mut self) -> Result<(), Stop> {
        self.out.flush()?;
        Ok(self.err.flush()?)
    }
}

impl From<OutputError> for Stop {
    fn from(error: OutputError) -> Self {
        Self::Trouble(Trouble {
            what: format!("could not {} {}", error.tried, error.path.display()),
            cause: error.cause,
            hint: error.hint,
        })
    }
}

impl From<LoadError> for Stop {
    fn from(error: LoadError) -> Self {
        Self::Trouble(Trouble {
            what: format!("could not {} {}", error.tried, error.path.display()),
            cause: error.cause,
            hint: error.hint,
        })
    }
}

impl From<PreviewError> for Stop {
    fn from(error: PreviewError) -> Self {
        match error {
            PreviewError::Deck(error) => error.into(),
            PreviewError::Port { port, cause } => Self::Trouble(Trouble {
                what: format!("could not listen on port {port} of this machine"),
                cause,
                hint: "leave --port out, or give another one".into(),
            }),
        }
    }
}
