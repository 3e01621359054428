//! Bare: styles and scripts as they go over the wire, without what only their authors read.
//!
//! In: a shipped text. Out: the same without the lines that are nothing but comment, and without the blanks that
//! lines begin with. Never: a line that holds anything else, so that no string or pattern is taken for a comment.

/// A style or script without its comments.
pub(super) fn bare(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut inside = false;
    for line in text.lines().map(str::trim) {
        let begins = inside || line.starts_with("/*");
        inside = begins && !line.contains("*/");
        let only = begins && (inside || line.ends_with("*/") && line.matches("*/").count() == 1);
        if !only && !line.starts_with("//") && !line.is_empty() {
            out.push_str(line);
            out.push('\n');
        }
    }
    out
}
