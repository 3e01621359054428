//! Being asked to stop: Ctrl-C, or on Unix a polite kill.

use std::future::Future;
use std::io;

/// Calls `on_stop` once the program is asked to stop. From its return on, neither ends the program by itself.
pub(super) fn on_stop(on_stop: impl FnOnce() + Send + 'static) -> io::Result<()> {
    let runtime = tokio::runtime::Builder::new_current_thread()
        .enable_all()
        .build()?;
    let inside = runtime.enter();
    let asked = asked()?;
    drop(inside);
    std::thread::spawn(move || {
        runtime.block_on(asked);
        on_stop();
    });
    Ok(())
}

#[cfg(unix)]
fn asked() -> io::Result<impl Future<Output = ()> + Send> {
    use tokio::signal::unix::{SignalKind, signal};
    let mut interrupted = signal(SignalKind::interrupt())?;
    let mut terminated = signal(SignalKind::terminate())?;
    Ok(async move {
        tokio::select! {
            _ = interrupted.recv() => {}
            _ = terminated.recv() => {}
        }
    })
}

#[cfg(windows)]
fn asked() -> io::Result<impl Future<Output = ()> + Send> {
    let mut interrupted = tokio::signal::windows::ctrl_c()?;
    Ok(async move {
        interrupted.recv().await;
    })
}
