//! Publishing: sheets to pages, drawings and files; computed in memory, swapped in whole.

pub mod output;
