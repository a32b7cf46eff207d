//! The program as its user meets it: how soon it answers, how long a page takes, and the memory it
//! had at its peak. Speaks plain HTTP over the loopback address and judges no page.

use super::memory;
use anyhow::{Context, Result, anyhow, bail};
use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

/// Rounds over all pages.
const ROUNDS: usize = 25;
/// Starts timed.
const STARTS: usize = 5;
/// Longest wait for an answer.
const PATIENCE: Duration = Duration::from_secs(30);

const PAGES: [&str; 7] = ["/", "/brewhouse", "/brew", "/brews", "/day", "/sheet", "/dipstick/tank"];

/// What was seen of the program.
#[derive(Debug, Clone, Copy)]
pub(super) struct Served {
    /// From the start of the process to the first whole page, ms: median.
    pub(super) startup_ms: f64,
    /// A page, ms: 99th percentile over all pages and rounds.
    pub(super) page_ms: f64,
    /// Peak resident memory after all rounds, MB.
    pub(super) peak_mb: Option<f64>,
}

/// A running program; ended when it goes out of scope.
struct Server {
    child: Child,
    address: String,
}

impl Drop for Server {
    fn drop(&mut self) {
        // both fail only if it has already ended
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

impl Server {
    fn start(program: &Path, data: &Path) -> Result<Server> {
        let mut child = Command::new(program)
            .args(["serve", "--port", "0", "--data"])
            .arg(data)
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .with_context(|| program.display().to_string())?;
        let mut line = String::new();
        if let Some(out) = child.stdout.take() {
            BufReader::new(out).read_line(&mut line)?;
        }
        let address = line
            .split_once("http://")
            .map(|(_, rest)| rest.trim().trim_end_matches('/').to_owned())
            .ok_or_else(|| anyhow!("no address in what the program printed: {line:?}"));
        match address {
            Ok(address) => Ok(Server { child, address }),
            Err(error) => {
                let _ = child.kill();
                let _ = child.wait();
                Err(error)
            }
        }
    }

    /// One page as a new visitor would ask for it.
    fn get(&self, page: &str) -> Result<()> {
        self.ask(&format!("GET {page} HTTP/1.1"), "", "200")
    }

    /// Chooses another brew, so that its plan is solved.
    fn choose(&self, brew: &str) -> Result<()> {
        self.ask("POST /choose HTTP/1.1", &format!("brew={brew}"), "303")
    }

    fn ask(&self, request: &str, form: &str, expected: &str) -> Result<()> {
        let mut stream = TcpStream::connect(&self.address)?;
        stream.set_read_timeout(Some(PATIENCE))?;
        let (host, length) = (&self.address, form.len());
        let kind = "Content-Type: application/x-www-form-urlencoded";
        write!(
            stream,
            "{request}\r\nHost: {host}\r\nOrigin: http://{host}\r\n{kind}\r\n\
             Content-Length: {length}\r\nConnection: close\r\n\r\n{form}"
        )?;
        let mut answer = Vec::new();
        stream.read_to_end(&mut answer)?;
        let head = String::from_utf8_lossy(&answer);
        let head = head.lines().next().unwrap_or_default();
        if head.split(' ').nth(1) != Some(expected) {
            bail!("{request}: {head:?}, expected {expected}");
        }
        Ok(())
    }
}

/// The brews whose plans are asked for besides the first one, as the store names them.
const OTHERS: [&str; 4] = ["cellar-lamp", "morning-slate", "sill-pale", "windfall-amber"];

/// Starts the program several times on fresh data, then asks one for every page in rounds.
///
/// # Errors
/// If the program does not start or a page is not answered.
pub(super) fn measure(program: &Path, scratch: &Path) -> Result<Served> {
    let mut starts_ms = Vec::new();
    for start in 0..STARTS {
        let data = scratch.join(format!("start-{start}"));
        let clock = now();
        let server = Server::start(program, &data)?;
        server.get("/")?;
        starts_ms.push(1e3 * clock.elapsed().as_secs_f64());
    }
    let server = Server::start(program, &scratch.join("round"))?;
    let mut pages_ms = Vec::new();
    for _ in 0..ROUNDS {
        for page in PAGES {
            let clock = now();
            server.get(page)?;
            pages_ms.push(1e3 * clock.elapsed().as_secs_f64());
        }
    }
    for brew in OTHERS {
        server.choose(brew)?;
        for page in PAGES {
            server.get(page)?;
        }
    }
    Ok(Served {
        startup_ms: super::quantile(&mut starts_ms, 0.5),
        page_ms: super::quantile(&mut pages_ms, 0.99),
        peak_mb: memory::peak_mb(server.child.id()),
    })
}

#[allow(clippy::disallowed_methods, reason = "a benchmark measures time")]
fn now() -> Instant {
    Instant::now()
}
