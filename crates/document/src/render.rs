//! Findings as text in the manner of a compiler, and as JSON.
//!
//! It decides nothing about what is right or wrong.

use std::sync::Arc;

use annotate_snippets::renderer::DecorStyle;
use annotate_snippets::{AnnotationKind, Group, Level, Origin, Renderer, Snippet};
use serde_json::json;

use crate::finding::{Finding, Findings, Severity};
use crate::source::{Source, Span};

/// More than these are counted, not shown.
const SHOWN: usize = 50;
/// A longer line is not quoted whole.
const LONGEST_EXCERPT: usize = 4000;

impl Findings {
    /// As text with file, line, column and the offending text marked; in colour for a terminal.
    #[must_use]
    pub fn to_text(&self, colour: bool) -> String {
        let renderer = if colour { Renderer::styled() } else { Renderer::plain() };
        let renderer = renderer.decor_style(DecorStyle::Ascii);
        let shown = self.iter().take(SHOWN);
        let mut texts: Vec<_> = shown.map(|finding| renderer.render(&[group(finding)])).collect();
        if self.len() > SHOWN {
            texts.push(format!("and {} more", self.len() - SHOWN));
        }
        texts.iter_mut().for_each(|text| text.truncate(text.trim_end().len()));
        texts.join("\n\n")
    }

    /// As a list of objects: `file, line, column, text, message, expected, suggestion, severity`.
    #[must_use]
    pub fn to_json(&self) -> serde_json::Value {
        self.iter().map(one_json).collect()
    }
}

fn one_json(finding: &Finding) -> serde_json::Value {
    let (line, column) = finding.source.line_column(finding.span);
    let text: String = finding.source.slice(finding.span).chars().take(200).collect();
    json!({
        "file": finding.source.name,
        "line": line,
        "column": column,
        "text": text,
        "message": finding.message,
        "expected": finding.expected,
        "suggestion": finding.suggestion,
        "severity": match finding.severity {
            Severity::Error => "error",
            Severity::Note => "note",
        },
    })
}

fn group(finding: &Finding) -> Group<'_> {
    let level = match finding.severity {
        Severity::Error => Level::ERROR,
        Severity::Note => Level::NOTE,
    };
    let mut group = Group::with_title(level.primary_title(clean(&finding.message)));
    for source in files(finding) {
        group = if source.text.is_empty() {
            group.element(Origin::path(source.name.as_str()))
        } else {
            group.element(snippet(finding, source))
        };
    }
    if let Some(expected) = &finding.expected {
        group = group.element(Level::NOTE.with_name("expected").message(clean(expected)));
    }
    if let Some(suggestion) = &finding.suggestion {
        group = group.element(Level::HELP.with_name("perhaps").message(clean(suggestion)));
    }
    group
}

/// The files of a finding, its own first.
fn files(finding: &Finding) -> Vec<&Arc<Source>> {
    let mut files = vec![&finding.source];
    for (source, _, _) in &finding.also {
        if !files.iter().any(|known| Arc::ptr_eq(known, source)) {
            files.push(source);
        }
    }
    files
}

/// The lines of one file that a finding touches, with its marks.
fn snippet<'a>(
    finding: &'a Finding,
    source: &'a Arc<Source>,
) -> Snippet<'a, annotate_snippets::Annotation<'a>> {
    let mut marks: Vec<(Span, AnnotationKind, String)> = Vec::new();
    if Arc::ptr_eq(source, &finding.source) {
        marks.push((finding.span, AnnotationKind::Primary, String::new()));
    }
    for (other, span, label) in &finding.also {
        if Arc::ptr_eq(source, other) {
            marks.push((source.fitted(*span), AnnotationKind::Context, clean(label)));
        }
    }
    let first = marks.iter().map(|(span, _, _)| span.start).min().unwrap_or(0);
    let last = marks.iter().map(|(span, _, _)| first_line_end(source, *span)).max().unwrap_or(0);
    let text = &source.text;
    let mut from = text[..first].rfind('\n').map_or(0, |at| at + 1);
    let mut to = text[last..].find('\n').map_or(text.len(), |at| last + at);
    if first - from > LONGEST_EXCERPT {
        from = source.fitted(Span { start: first, end: first }).start;
    }
    if to - from > LONGEST_EXCERPT && marks.len() == 1 {
        to = source.fitted(Span { start: from, end: from + LONGEST_EXCERPT }).end;
    }
    let line = source.line_column(Span { start: from, end: from }).0;
    let mut snippet =
        Snippet::source(&text[from..to]).line_start(line).path(source.name.as_str()).fold(true);
    for (span, kind, label) in marks {
        let start = span.start.clamp(from, to) - from;
        let end = first_line_end(source, span).clamp(from + start, to) - from;
        let mark = kind.span(start..end);
        snippet = snippet.annotation(if label.is_empty() { mark } else { mark.label(label) });
    }
    snippet
}

/// A mark ends with its first line.
fn first_line_end(source: &Source, span: Span) -> usize {
    let slice = source.slice(span);
    span.start + slice.find(['\n', '\r']).unwrap_or(slice.len())
}

/// Text of a message without control characters.
fn clean(text: &str) -> String {
    text.chars().map(|c| if c.is_control() { ' ' } else { c }).collect()
}
