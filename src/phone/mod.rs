//! The engine in a phone: questions of a page in, the answers of the terminal out.
//!
//! In: a verb and its texts. Out: `{"answer":...}` with the same report, to the digit, as the
//! terminal's `--json`, or `{"refused":"..."}` with what is wrong in words. `exports` is the door for
//! script, to the bench or, built with the feature `search`, to search alone; everything else runs in the
//! program too, where the tests ask both. Never: files, the clock, the network.

mod diagnose;
#[cfg(target_arch = "wasm32")]
mod exports;
mod held;
mod question;
mod reckon;
#[cfg(any(not(target_arch = "wasm32"), feature = "search"))]
mod search;

#[cfg(any(not(target_arch = "wasm32"), feature = "search"))]
pub use search::Finder;

use held::Held;
use question::Question;
use serde::Serialize;

/// An engine. It keeps the last card it worked out, so that a second reading costs no second solving.
#[derive(Debug, Default)]
pub struct Engine {
    held: Held,
}

/// An answer as JSON, or why there is none.
type Answered = Result<String, String>;

impl Engine {
    /// Answers a question: its verb, then the verb's texts, each as `5:hello`.
    pub fn answer(&mut self, question: &str) -> String {
        told(self.answered(Question::of(question)))
    }

    fn answered(&mut self, mut question: Question<'_>) -> Answered {
        match question.text()? {
            "diagnose" => diagnose::diagnose(&mut self.held, question),
            "reckon" => reckon::reckon(question),
            verb => Err(format!("nothing is asked by the name `{verb}`")),
        }
    }
}

fn told(answered: Answered) -> String {
    match answered {
        Ok(answer) => format!("{{\"answer\":{answer}}}"),
        Err(says) => write(&says).map_or_else(
            |_| "{\"refused\":\"\"}".to_owned(),
            |says| format!("{{\"refused\":{says}}}"),
        ),
    }
}

fn write(value: &impl Serialize) -> Answered {
    let told = "the answer has no written form";
    serde_json::to_string(value).map_err(|_| told.to_owned())
}
