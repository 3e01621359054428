//! Being asked to stop: Ctrl-C, or on Unix a polite kill.

/// Calls `on_stop` once the program is asked to stop. From then on neither ends the program by itself.
pub(super) fn on_stop(on_stop: impl FnOnce() + Send + 'static) -> std::io::Result<()> {
    let runtime = tokio::runtime::Builder::new_current_thread()
        .enable_all()
        .build()?;
    std::thread::spawn(move || {
        runtime.block_on(asked());
        on_stop();
    });
    Ok(())
}

async fn asked() {
    let interrupted = async {
        if tokio::signal::ctrl_c().await.is_err() {
            std::future::pending::<()>().await;
        }
    };
    #[cfg(unix)]
    {
        use tokio::signal::unix::{SignalKind, signal};
        let Ok(mut terminated) = signal(SignalKind::terminate()) else {
            return interrupted.await;
        };
        tokio::select! {
            () = interrupted => {}
            _ = terminated.recv() => {}
        }
    }
    #[cfg(not(unix))]
    interrupted.await;
}
