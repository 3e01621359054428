//! The door for script: room for a question, its answer, and where the answer lies.
//!
//! Script asks for `room`, writes a question there, calls `ask`, and reads as many bytes as that says
//! from where `answer` points. Both texts belong to the engine and are good until the next call.
// A symbol that keeps its name is all that is unsafe here: each name is exported once, and no pointer
// that script gave is ever followed.
#![allow(unsafe_code)]

#[cfg(not(feature = "search"))]
use super::Engine;
#[cfg(feature = "search")]
use super::Finder as Engine;
use std::cell::RefCell;

/// The engine and the two texts.
#[derive(Default)]
struct Door {
    engine: Engine,
    question: Vec<u8>,
    answer: String,
}

thread_local! {
    static DOOR: RefCell<Door> = RefCell::default();
}

/// Room for a question of so many bytes.
#[unsafe(no_mangle)]
pub(super) extern "C" fn room(bytes: usize) -> *mut u8 {
    DOOR.with_borrow_mut(|door| {
        // New memory is zero already; to fill it byte by byte would take a phone as long as to open the pack.
        door.question = vec![0; bytes];
        door.question.as_mut_ptr()
    })
}

/// Answers what was written into the room; how many bytes the answer has.
#[unsafe(no_mangle)]
pub(super) extern "C" fn ask() -> usize {
    DOOR.with_borrow_mut(|door| {
        let question = String::from_utf8_lossy(&door.question);
        door.answer = door.engine.answer(&question);
        door.answer.len()
    })
}

/// Opens the pack that was written into the room, which keeps it; 1 where it is whole.
#[cfg(feature = "search")]
#[unsafe(no_mangle)]
pub(super) extern "C" fn open() -> u32 {
    DOOR.with_borrow_mut(|door| {
        let pack = std::mem::take(&mut door.question);
        u32::from(door.engine.open(pack))
    })
}

/// Where the answer lies.
#[unsafe(no_mangle)]
pub(super) extern "C" fn answer() -> *const u8 {
    DOOR.with_borrow(|door| door.answer.as_ptr())
}
