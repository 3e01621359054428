//! The command line: one verb a file, the only printer, the only exit status.
//!
//! In: arguments and where to print. Out: text or JSON, and a status. Nothing below this module
//! prints or ends the program.

mod args;
mod ask;
mod console;
mod diagnose;
mod draw;
mod expect;
mod find;
mod inspect;
mod kept_index;
mod named;
mod order;
mod preview;
mod publish;
mod reckon;
mod record;
mod record_file;
mod report;
mod words;

pub use console::{Console, Look};

use args::{CommandLine, Verb};
use clap::Parser;
use console::Trouble;
use std::ffi::OsString;
use std::io;
use std::process::ExitCode;

/// Runs the program with these arguments on the real terminal.
pub fn run(args: impl IntoIterator<Item = OsString>) -> ExitCode {
    let (mut out, mut err) = (io::stdout(), io::stderr());
    let (out_look, err_look) = (Look::of(&out), Look::of(&err));
    let mut console = Console {
        input: &mut io::stdin().lock(),
        out: &mut out,
        err: &mut err,
        out_look,
        err_look,
    };
    ExitCode::from(run_to(args, &mut console))
}

/// Runs the program with these arguments, printing to `console`, and gives the exit status.
pub fn run_to(args: impl IntoIterator<Item = OsString>, console: &mut Console<'_>) -> u8 {
    let ended = obey(args, console);
    if let Err(Stop::Trouble(trouble)) = &ended {
        // Nothing is left to do when the complaint itself can't be printed.
        let _ = console.complain(trouble);
    }
    status(&ended)
}

fn obey(
    args: impl IntoIterator<Item = OsString>,
    console: &mut Console<'_>,
) -> Result<Ending, Stop> {
    let line = match CommandLine::try_parse_from(args) {
        Ok(line) => line,
        Err(answer) => return console.show_usage(&answer),
    };
    let ended = match line.verb {
        Verb::Inspect(asked) => inspect::inspect(&asked, console),
        Verb::Publish(asked) => publish::publish(&asked, console),
        Verb::Preview(asked) => preview::preview(&asked, console),
        Verb::Find(asked) => find::find(&asked, console),
        Verb::Expect(asked) => expect::expect(&asked, console),
        Verb::Diagnose(asked) => diagnose::diagnose(&asked, console),
        Verb::Order(asked) => order::order(&asked, console),
        Verb::Reckon(asked) => reckon::reckon(&asked, console),
        Verb::Record(asked) => record::record(&asked, console),
    }?;
    console.flush()?;
    Ok(ended)
}

/// How a verb ended that could do its work.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Ending {
    /// Nothing stands in the way.
    Fine,
    /// The deck has findings of severity error.
    Errors,
    /// Nothing goes by the name that was given.
    NoMatch,
    /// The arguments make no sense.
    Misused,
}

/// Why a verb could not do its work.
#[derive(Debug)]
enum Stop {
    /// Whoever read the answer has enough (`loomleaf inspect demo | head`).
    Closed,
    /// The machine refused.
    Trouble(Trouble),
}

impl From<io::Error> for Stop {
    fn from(error: io::Error) -> Self {
        match error.kind() {
            io::ErrorKind::BrokenPipe => Self::Closed,
            _ => Self::Trouble(Trouble {
                what: "could not print the answer".into(),
                cause: error.to_string(),
                hint: "check where the output goes to".into(),
            }),
        }
    }
}

impl From<Trouble> for Stop {
    fn from(trouble: Trouble) -> Self {
        Self::Trouble(trouble)
    }
}

/// The exit status: 0 fine, 1 findings or no match, 2 could not run.
fn status(ended: &Result<Ending, Stop>) -> u8 {
    match ended {
        Ok(Ending::Fine) | Err(Stop::Closed) => 0,
        Ok(Ending::Errors | Ending::NoMatch) => 1,
        Ok(Ending::Misused) | Err(Stop::Trouble(_)) => 2,
    }
}
