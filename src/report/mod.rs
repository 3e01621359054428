//! Reports: what is answered as data, the same for the terminal's `--json` and for the phone.
//!
//! In: sheets, verdicts, answers of calculators. Out: shapes that serialise: one a noun, SI units, bands
//! as `[low, high]`. Keys may be added; those here stay. Never: solving, reading, printing.

mod diagnose;
mod expect;
#[cfg(any(not(target_arch = "wasm32"), feature = "search"))]
mod find;
mod measured;
mod order;
mod reckon;
mod shares;
pub mod words;

pub use diagnose::DiagnoseReport;
pub use expect::ExpectReport;
#[cfg(any(not(target_arch = "wasm32"), feature = "search"))]
pub use find::FindReport;
pub use measured::{MeasuredReport, claim, measured_from, measured_lines, spread};
pub use order::OrderReport;
pub use reckon::{AnswerReport, CalculatorReport, CalculatorsReport, ReckonReport, RefusedReport};
pub use shares::in_percent;
