//! Watching a deck's folder: calls back when something in it was made, changed or removed.

use notify::{EventKind, RecommendedWatcher, RecursiveMode, Watcher};
use std::path::Path;

/// Calls `changed` after each change under `folder`, until the watcher is dropped.
/// Reading is no change: a build reads every file, and would otherwise start the next one.
pub(super) fn watch(
    folder: &Path,
    changed: impl Fn() + Send + 'static,
) -> Result<RecommendedWatcher, String> {
    let on_event = move |event: notify::Result<notify::Event>| {
        // An error means that changes were lost: look again.
        if event.map_or(true, |event| !matches!(event.kind, EventKind::Access(_))) {
            changed();
        }
    };
    let mut watcher = notify::recommended_watcher(on_event).map_err(|e| e.to_string())?;
    watcher
        .watch(folder, RecursiveMode::Recursive)
        .map_err(|e| e.to_string())?;
    Ok(watcher)
}
