//! The server: one loopback address, one site in memory, on a thread of its own.

use super::PreviewError;
use super::answer::answer;
use crate::publish::Files;
use axum::Router;
use axum::body::Body;
use axum::http::{Request, Response};
use std::io;
use std::net::{Ipv4Addr, SocketAddr, TcpListener};
use std::sync::{Arc, PoisonError, RwLock};
use std::thread::JoinHandle;
use tokio::sync::oneshot;

/// The port of the address.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Port {
    /// [`Port::USUAL`], or a free one where that is taken.
    Usual,
    /// This one or none.
    Only(u16),
    /// Any free one.
    Free,
}

impl Port {
    /// The port of a preview that nobody asked another of.
    pub const USUAL: u16 = 8040;
}

/// A running server. Dropping it ends it.
#[derive(Debug)]
pub struct Server {
    address: SocketAddr,
    site: Shown,
    stop: Option<oneshot::Sender<()>>,
    thread: Option<JoinHandle<()>>,
}

type Shown = Arc<RwLock<Option<Arc<Files>>>>;

impl Server {
    /// Listens on 127.0.0.1, with no site yet.
    ///
    /// # Errors
    /// When the port can't be had.
    pub fn start(port: Port) -> Result<Self, PreviewError> {
        let listener = listen(port)?;
        let broken = |error: io::Error| PreviewError::Port {
            port: Port::USUAL,
            cause: error.to_string(),
        };
        let address = listener.local_addr().map_err(broken)?;
        listener.set_nonblocking(true).map_err(broken)?;
        let runtime = tokio::runtime::Builder::new_current_thread()
            .enable_all()
            .build()
            .map_err(broken)?;
        let site = Shown::default();
        let (stop, stopped) = oneshot::channel();
        let shown = Arc::clone(&site);
        let thread = std::thread::spawn(move || {
            runtime.block_on(async {
                tokio::select! {
                    () = accept(listener, shown) => {}
                    _ = stopped => {}
                }
            });
            // Connections still open are cut: nobody waits for an idle browser.
            runtime.shutdown_background();
        });
        Ok(Self {
            address,
            site,
            stop: Some(stop),
            thread: Some(thread),
        })
    }

    /// Where the site is to be seen: `http://127.0.0.1:8040/`.
    pub fn address(&self) -> String {
        format!("http://{}/", self.address)
    }

    /// Shows this site from the next request on.
    pub fn show(&self, files: Files) {
        *self.site.write().unwrap_or_else(PoisonError::into_inner) = Some(Arc::new(files));
    }
}

impl Drop for Server {
    fn drop(&mut self) {
        if let Some(stop) = self.stop.take() {
            // The thread may have ended by itself.
            let _ = stop.send(());
        }
        if let Some(thread) = self.thread.take() {
            let _ = thread.join();
        }
    }
}

fn listen(port: Port) -> Result<TcpListener, PreviewError> {
    let bind = |port: u16| TcpListener::bind((Ipv4Addr::LOCALHOST, port));
    let (asked, listener) = match port {
        Port::Only(port) => (port, bind(port)),
        Port::Usual => (Port::USUAL, bind(Port::USUAL).or_else(|_| bind(0))),
        Port::Free => (0, bind(0)),
    };
    listener.map_err(|error| PreviewError::Port {
        port: asked,
        cause: match error.kind() {
            io::ErrorKind::AddrInUse => "another program uses it".into(),
            io::ErrorKind::PermissionDenied => "you may not use it".into(),
            _ => error.to_string(),
        },
    })
}

async fn accept(listener: TcpListener, shown: Shown) {
    let Ok(listener) = tokio::net::TcpListener::from_std(listener) else {
        return;
    };
    let router = Router::new().fallback(move |request: Request<Body>| {
        let response = respond(&shown, &request);
        std::future::ready(response)
    });
    // Ends only by being dropped.
    let _ = axum::serve(listener, router).await;
}

fn respond(shown: &Shown, request: &Request<Body>) -> Response<Body> {
    let site = shown.read().unwrap_or_else(PoisonError::into_inner).clone();
    answer(site.as_deref(), request)
}
