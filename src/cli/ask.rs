//! Asking for readings one by one: the next best test, how to do it, what was read, who is left.
//!
//! In: a sheet, and lines from whoever types them. Out: the readings taken. Ends at `done`, at the end
//! of input, or when no further test tells more.

use super::Stop;
use super::console::Console;
use super::diagnose::{print_mistake, print_next, print_suspects};
use super::draw::visible;
use crate::sheet::{Sheet, Taken, next_test, take, take_at, tell_verdict};
use std::io::{BufRead, Read};

/// Suspects named after each reading.
const SHOWN: usize = 5;
/// Longest line taken, in bytes: no reading is longer, and a file without line ends must not fill memory.
const LONGEST: u64 = 4096;

/// What was done at one prompt.
enum Done {
    Read(Taken),
    Skipped(usize),
}

/// Asks until there is an end.
pub(super) fn ask(sheet: &Sheet, console: &mut Console<'_>) -> Result<Vec<Taken>, Stop> {
    writeln!(
        console.out,
        "Type each reading with its unit. Also: OL, floating, no change, cannot measure;\n\
         skip for another test, back to take the last one again, done for the verdict;\n\
         TEST=READING for a test of your own choice.\n"
    )?;
    let mut history: Vec<Done> = Vec::new();
    while let Some(next) = next_test(sheet, &taken(&history), &skipped(&history)) {
        print_next(sheet, &next, console.out)?;
        let Some(done) = prompt(sheet, next.probe, &mut history, console)? else {
            break;
        };
        history.extend(done);
        let told = tell_verdict(sheet, &taken(&history));
        writeln!(console.out)?;
        if !told.fits {
            // The verdict that follows says what conflicts.
            break;
        }
        if !taken(&history).is_empty() {
            print_suspects(&told, SHOWN, console.out)?;
            writeln!(console.out)?;
        }
    }
    writeln!(console.out)?;
    Ok(taken(&history))
}

/// One answer, asked for again until it can be taken; none at the end, nothing done after `back`.
fn prompt(
    sheet: &Sheet,
    probe: usize,
    history: &mut Vec<Done>,
    console: &mut Console<'_>,
) -> Result<Option<Option<Done>>, Stop> {
    loop {
        write!(console.out, "reading> ")?;
        console.out.flush()?;
        let Some(line) = line(console)? else {
            return Ok(None);
        };
        let typed = line.trim();
        let read = match typed.to_lowercase().as_str() {
            "" => continue,
            "done" | "quit" | "exit" => return Ok(None),
            "skip" => return Ok(Some(Some(Done::Skipped(probe)))),
            "back" => {
                if let Some(Done::Read(last)) = history.pop() {
                    writeln!(console.out, "taken back: {}", visible(&last.typed))?;
                }
                return Ok(Some(None));
            }
            _ if typed.contains('=') => take(sheet, typed),
            _ => take_at(sheet, probe, typed),
        };
        match read {
            Ok(one) => {
                let place = one.observation.probe;
                history.retain(
                    |done| !matches!(done, Done::Read(old) if old.observation.probe == place),
                );
                return Ok(Some(Some(Done::Read(one))));
            }
            Err(mistaken) => print_mistake(&mistaken, console.out)?,
        }
    }
}

/// A line of input; none at its end.
fn line(console: &mut Console<'_>) -> Result<Option<String>, Stop> {
    let mut bytes = Vec::new();
    let read = Read::take(&mut *console.input, LONGEST).read_until(b'\n', &mut bytes)?;
    Ok((read > 0).then(|| String::from_utf8_lossy(&bytes).into_owned()))
}

fn taken(history: &[Done]) -> Vec<Taken> {
    let read = history.iter().filter_map(|done| match done {
        Done::Read(one) => Some(one.clone()),
        Done::Skipped(_) => None,
    });
    read.collect()
}

fn skipped(history: &[Done]) -> Vec<usize> {
    let skipped = history.iter().filter_map(|done| match done {
        Done::Skipped(probe) => Some(*probe),
        Done::Read(_) => None,
    });
    skipped.collect()
}
