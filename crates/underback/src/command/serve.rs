//! `underback serve`: the pages on the loopback address, until it is told to stop.

use crate::out;
use anyhow::{Context, Result};
use clap::Args;
use std::io::ErrorKind;
use std::net::{Ipv4Addr, SocketAddr};
use std::path::PathBuf;
use std::process::ExitCode;
use std::sync::Arc;
use std::time::{Duration, SystemTime, UNIX_EPOCH};
use tokio::net::TcpListener;

/// The port when none is asked for.
const USUAL_PORT: u16 = 8420;

/// How long open requests may take to end once it is told to stop.
const PATIENCE: Duration = Duration::from_secs(3);

/// Start the pages on this machine and say where to look.
#[derive(Debug, Args)]
#[command(after_help = "Example:\n  underback serve --port 0 --data ./my-brewing")]
pub(crate) struct Serve {
    /// Port on the loopback address; 0 takes a free one. By default 8420, or a free one when that
    /// is taken.
    #[arg(long, value_name = "N")]
    port: Option<u16>,
    /// Folder of the store; by default the data folder of this system.
    #[arg(long, value_name = "DIR", env = "UNDERBACK_DATA")]
    data: Option<PathBuf>,
    /// Print where to look as one JSON object.
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(asked: &Serve) -> Result<ExitCode> {
    tracing_subscriber::fmt()
        .with_writer(std::io::stderr)
        .with_max_level(tracing::Level::WARN)
        .init();
    let folder = match &asked.data {
        Some(folder) => folder.clone(),
        None => usual_folder()?,
    };
    anyhow::ensure!(!folder.is_file(), "{} is a file; name a folder with --data", folder.display());
    let store = folder.join("underback.db");
    let app = Arc::new(app::App::open(&store, Arc::new(now_ms))?);
    let runtime = tokio::runtime::Builder::new_multi_thread()
        .enable_all()
        .build()
        .context("no threads could be started")?;
    runtime.block_on(listen(asked, app, &store))?;
    runtime.shutdown_timeout(PATIENCE);
    Ok(ExitCode::SUCCESS)
}

async fn listen(asked: &Serve, app: Arc<app::App>, store: &std::path::Path) -> Result<()> {
    let (listener, usual_taken) = bind(asked.port).await?;
    let address = listener.local_addr()?;
    let page = format!("http://{address}/");
    if asked.json {
        out::print_json(&serde_json::json!({ "address": page, "store": store }))?;
    } else {
        out::print(&format!("Underback: {page}\n"))?;
    }
    if usual_taken {
        out::complain(&format!("Port {USUAL_PORT} is taken; a free one was taken instead."));
    }
    out::say(&format!("Kept in {}. Ctrl-C stops.", store.display()));
    let stop = Arc::new(tokio::sync::Notify::new());
    let told = Arc::clone(&stop);
    let serving = web::serve(listener, app, async move {
        told_to_stop().await;
        told.notify_one();
    });
    tokio::select! {
        result = serving => result.context("the pages stopped"),
        () = async { stop.notified().await; tokio::time::sleep(PATIENCE).await } => Ok(()),
    }
}

/// The asked port, or the usual one, or a free one where the usual one is taken.
async fn bind(port: Option<u16>) -> Result<(TcpListener, bool)> {
    let at = |port| SocketAddr::from((Ipv4Addr::LOCALHOST, port));
    match (TcpListener::bind(at(port.unwrap_or(USUAL_PORT))).await, port) {
        (Ok(listener), _) => Ok((listener, false)),
        (Err(error), None) if error.kind() == ErrorKind::AddrInUse => {
            Ok((TcpListener::bind(at(0)).await.context("no port is free")?, true))
        }
        (Err(error), Some(port)) => {
            let words = format!("port {port} cannot be used; --port 0 takes a free one");
            Err(anyhow::Error::new(error).context(words))
        }
        (Err(error), None) => Err(error).context(format!("port {USUAL_PORT} cannot be used")),
    }
}

/// Ctrl-C, or the system's word to end.
async fn told_to_stop() {
    let interrupt = async {
        if tokio::signal::ctrl_c().await.is_err() {
            std::future::pending::<()>().await;
        }
    };
    #[cfg(unix)]
    {
        use tokio::signal::unix::{SignalKind, signal};
        match signal(SignalKind::terminate()) {
            Ok(mut terminate) => tokio::select! {
                () = interrupt => {}
                _ = terminate.recv() => {}
            },
            Err(_) => interrupt.await,
        }
    }
    #[cfg(not(unix))]
    interrupt.await;
}

/// The one place that asks what time it is.
#[allow(clippy::disallowed_methods)] // the wiring: the clock is handed in from here
fn now_ms() -> i64 {
    let since = SystemTime::now().duration_since(UNIX_EPOCH).unwrap_or_default();
    i64::try_from(since.as_millis()).unwrap_or(i64::MAX)
}

/// The data folder of this system, as its own conventions have it.
fn usual_folder() -> Result<PathBuf> {
    let var = |name: &str| std::env::var_os(name).filter(|v| !v.is_empty()).map(PathBuf::from);
    let home = || var("HOME");
    let base = if cfg!(target_os = "macos") {
        home().map(|home| home.join("Library/Application Support"))
    } else if cfg!(windows) {
        var("LOCALAPPDATA").or_else(|| var("APPDATA"))
    } else {
        var("XDG_DATA_HOME")
            .filter(|path| path.is_absolute())
            .or_else(|| home().map(|home| home.join(".local/share")))
    };
    base.map(|base| base.join("underback"))
        .context("this system names no data folder; name one with --data")
}
