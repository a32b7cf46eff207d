//! The text of a file and places in it; the one function that opens a file.
//!
//! It does not parse.

use std::io::Read as _;
use std::path::Path;
use std::sync::Arc;

use crate::Findings;

/// The largest file that is read, 1 MiB; a brewhouse written by hand has a hundredth of it.
pub const LARGEST_BYTES: u64 = 1 << 20;

/// Bytes of a file from `start` up to `end`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub struct Span {
    /// First byte.
    pub start: usize,
    /// One past the last byte.
    pub end: usize,
}

impl From<std::ops::Range<usize>> for Span {
    fn from(range: std::ops::Range<usize>) -> Self {
        Self { start: range.start, end: range.end }
    }
}

/// A file's name and text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Source {
    /// As the person named it.
    pub name: String,
    /// All of its text; empty when it could not be read.
    pub text: String,
    /// The byte at which each line begins; kept in step with `text` by the one constructor.
    line_starts: Vec<usize>,
}

impl Source {
    /// A source from its parts, shared by all findings about it.
    #[must_use]
    pub fn new(name: &str, text: &str) -> Arc<Self> {
        let after_breaks = text.match_indices('\n').map(|(at, _)| at + 1);
        let line_starts = std::iter::once(0).chain(after_breaks).collect();
        Arc::new(Self { name: name.to_owned(), text: text.to_owned(), line_starts })
    }

    /// The span moved inside the text and onto borders of characters.
    #[must_use]
    pub fn fitted(&self, span: Span) -> Span {
        let mut start = span.start.min(self.text.len());
        while !self.text.is_char_boundary(start) {
            start -= 1;
        }
        let mut end = span.end.clamp(start, self.text.len());
        while !self.text.is_char_boundary(end) {
            end += 1;
        }
        Span { start, end }
    }

    /// The text at a span.
    #[must_use]
    pub fn slice(&self, span: Span) -> &str {
        let span = self.fitted(span);
        &self.text[span.start..span.end]
    }

    /// Line and column of the first character, both counted from 1, columns in characters.
    #[must_use]
    pub fn line_column(&self, span: Span) -> (usize, usize) {
        let at = self.fitted(span).start;
        let line = self.line_starts.partition_point(|start| *start <= at);
        let line_start = self.line_starts[line - 1];
        (line, self.text[line_start..at].chars().count() + 1)
    }
}

/// Reads a file's text, at most [`LARGEST_BYTES`] of it.
///
/// # Errors
/// [`Findings`] with one error when it is missing, no plain file, too large, or not UTF-8 text.
pub fn read_file(path: &Path) -> Result<String, Findings> {
    let name = path.display().to_string();
    let refuse = |message: String, expected: &str| {
        let mut findings = Findings::about(Source::new(&name, ""));
        findings.error(Span::default(), message).expected(expected);
        Err(findings)
    };
    let readable = "the name of a file that can be read";
    let meta = match std::fs::metadata(path) {
        Ok(meta) => meta,
        Err(error) => return refuse(format!("the file can't be opened: {error}"), readable),
    };
    if !meta.is_file() {
        return refuse("this is not a plain file".to_owned(), readable);
    }
    if meta.len() > LARGEST_BYTES {
        let message = format!("the file is too large ({} bytes)", meta.len());
        return refuse(message, "a file of at most 1 MiB, written by hand");
    }
    let mut bytes = Vec::new();
    let opened = std::fs::File::open(path);
    let read = opened.and_then(|file| file.take(LARGEST_BYTES + 1).read_to_end(&mut bytes));
    if let Err(error) = read {
        return refuse(format!("the file can't be read: {error}"), readable);
    }
    if bytes.len() as u64 > LARGEST_BYTES {
        return refuse("the file grew too large".to_owned(), "a file of at most 1 MiB");
    }
    text_of(bytes).or_else(|message| refuse(message, "text in UTF-8"))
}

/// Bytes as text, or what is wrong with them.
fn text_of(bytes: Vec<u8>) -> Result<String, String> {
    if bytes.contains(&0) {
        return Err("the file is binary, not text".to_owned());
    }
    String::from_utf8(bytes).map_err(|error| {
        let good = error.utf8_error().valid_up_to();
        let line = error.as_bytes()[..good].iter().filter(|b| **b == b'\n').count() + 1;
        format!("the file is not text in UTF-8 (line {line} has other bytes)")
    })
}
