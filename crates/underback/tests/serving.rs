//! The pages over a real socket: where to look, the store, stopping.
#![allow(clippy::unwrap_used, reason = "a test may stop at the first surprise")]

use std::io::{BufRead, BufReader, Read, Write};
use std::net::{TcpListener, TcpStream};
use std::path::Path;
use std::process::{Child, Command, Stdio};

struct Served {
    child: Child,
    address: String,
}

impl Served {
    fn start(folder: &Path, arguments: &[&str]) -> Self {
        let mut child = Command::new(env!("CARGO_BIN_EXE_underback"))
            .args(arguments)
            .env_clear()
            .env("UNDERBACK_DATA", folder)
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        let mut first = String::new();
        BufReader::new(child.stdout.take().unwrap()).read_line(&mut first).unwrap();
        let address = first
            .strip_prefix("Underback: http://")
            .and_then(|rest| rest.trim_end().strip_suffix('/'))
            .unwrap_or_else(|| panic!("first line: {first:?}"))
            .to_owned();
        Self { child, address }
    }

    fn get(&self, path: &str) -> String {
        let mut stream = TcpStream::connect(&self.address).unwrap();
        let host = &self.address;
        write!(stream, "GET {path} HTTP/1.1\r\nHost: {host}\r\nConnection: close\r\n\r\n").unwrap();
        let mut answer = String::new();
        stream.read_to_string(&mut answer).unwrap();
        answer
    }
}

impl Drop for Served {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

#[test]
fn it_says_where_to_look_and_the_demo_is_there() {
    let folder = tempfile::tempdir().unwrap();
    let served = Served::start(folder.path(), &["--port", "0"]);
    assert!(served.address.starts_with("127.0.0.1:"), "{}", served.address);
    let page = served.get("/");
    assert!(page.starts_with("HTTP/1.1 200"), "{page}");
    assert!(page.contains("Windfall Amber") && page.contains("Orchard Shed"));
    assert!(folder.path().join("underback.db").is_file());
}

#[test]
fn serve_is_the_same_with_its_name_and_the_store_is_found_again() {
    let folder = tempfile::tempdir().unwrap();
    for _ in 0..2 {
        let served = Served::start(folder.path(), &["serve", "--port", "0"]);
        assert!(served.get("/brews").contains("Cellar Lamp"));
    }
}

#[test]
fn a_port_that_is_taken_is_refused_with_a_way_out() {
    let folder = tempfile::tempdir().unwrap();
    let taken = TcpListener::bind("127.0.0.1:0").unwrap();
    let port = taken.local_addr().unwrap().port().to_string();
    let output = Command::new(env!("CARGO_BIN_EXE_underback"))
        .args(["serve", "--port", &port, "--data"])
        .arg(folder.path())
        .output()
        .unwrap();
    assert_eq!(output.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&output.stderr).contains("--port 0"));
}

#[test]
fn a_damaged_store_is_reported_and_kept() {
    let folder = tempfile::tempdir().unwrap();
    let store = folder.path().join("underback.db");
    std::fs::write(&store, "not a store").unwrap();
    let output = Command::new(env!("CARGO_BIN_EXE_underback"))
        .args(["--port", "0", "--data"])
        .arg(folder.path())
        .output()
        .unwrap();
    assert_eq!(output.status.code(), Some(2));
    let said = String::from_utf8_lossy(&output.stderr);
    assert!(said.contains("damaged") && said.contains("underback.db"), "{said}");
    assert_eq!(std::fs::read(&store).unwrap(), b"not a store");
}

/// Told to stop, it ends by itself and without complaint.
#[cfg(unix)]
#[test]
fn it_stops_when_it_is_told_to() {
    let folder = tempfile::tempdir().unwrap();
    for signal in ["-INT", "-TERM"] {
        let mut served = Served::start(folder.path(), &["--port", "0"]);
        served.get("/");
        let id = served.child.id().to_string();
        assert!(Command::new("kill").args([signal, &id]).status().unwrap().success());
        let status = served.child.wait().unwrap();
        assert_eq!(status.code(), Some(0), "{signal}");
    }
}
