//! What was found wrong or worth a word in a file, each at its place.
//!
//! It collects; how it looks is in `render`.

use std::sync::Arc;

use crate::source::{Source, Span};

/// How grave a finding is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// The file can't be used as it is.
    Error,
    /// It can; a person should know.
    Note,
}

/// One finding at one place, perhaps with a second one.
#[derive(Debug, Clone, PartialEq)]
pub struct Finding {
    /// How grave.
    pub severity: Severity,
    /// The file.
    pub source: Arc<Source>,
    /// Where in it.
    pub span: Span,
    /// What is wrong.
    pub message: String,
    /// What was expected there.
    pub expected: Option<String>,
    /// What may have been meant.
    pub suggestion: Option<String>,
    /// Other places that take part, with a word on each.
    pub also: Vec<(Arc<Source>, Span, String)>,
}

impl Finding {
    /// Says what was expected.
    pub fn expected(&mut self, expected: impl Into<String>) -> &mut Self {
        self.expected = Some(expected.into());
        self
    }

    /// Says what may have been meant.
    pub fn perhaps(&mut self, suggestion: impl Into<String>) -> &mut Self {
        self.suggestion = Some(suggestion.into());
        self
    }

    /// Points at a second place of the same file.
    pub fn also(&mut self, span: Span, label: impl Into<String>) -> &mut Self {
        let source = Arc::clone(&self.source);
        self.also_in(&source, span, label)
    }

    /// Points at a place of another file.
    pub fn also_in(
        &mut self,
        source: &Arc<Source>,
        span: Span,
        label: impl Into<String>,
    ) -> &mut Self {
        self.also.push((Arc::clone(source), span, label.into()));
        self
    }
}

/// All findings about a file, or about several that belong together.
#[derive(Debug, Clone, PartialEq)]
pub struct Findings {
    source: Arc<Source>,
    list: Vec<Finding>,
}

impl Findings {
    /// No findings yet about this file.
    #[must_use]
    pub fn about(source: Arc<Source>) -> Self {
        Self { source, list: Vec::new() }
    }

    /// Adds an error at a place; expected and suggestion are chained on.
    pub fn error(&mut self, span: Span, message: impl Into<String>) -> &mut Finding {
        self.push(Severity::Error, span, message.into())
    }

    /// Adds a note at a place.
    pub fn note(&mut self, span: Span, message: impl Into<String>) -> &mut Finding {
        self.push(Severity::Note, span, message.into())
    }

    fn push(&mut self, severity: Severity, span: Span, message: String) -> &mut Finding {
        let source = Arc::clone(&self.source);
        let span = source.fitted(span);
        let at = self.list.len();
        self.list.push(Finding {
            severity,
            source,
            span,
            message,
            expected: None,
            suggestion: None,
            also: Vec::new(),
        });
        &mut self.list[at]
    }

    /// Takes over the findings about another file.
    pub fn merge(&mut self, other: Findings) {
        self.list.extend(other.list);
    }

    /// The file new findings are about.
    #[must_use]
    pub fn source(&self) -> &Arc<Source> {
        &self.source
    }

    /// In the order of the file, errors and notes mixed.
    pub fn iter(&self) -> impl Iterator<Item = &Finding> {
        self.list.iter()
    }

    /// Number of findings.
    #[must_use]
    pub fn len(&self) -> usize {
        self.list.len()
    }

    /// Nothing was found.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.list.is_empty()
    }

    /// At least one is an error.
    #[must_use]
    pub fn has_errors(&self) -> bool {
        self.list.iter().any(|finding| finding.severity == Severity::Error)
    }

    /// Puts them in the order of their places; files stay in the order they came in.
    pub fn sort(&mut self) {
        let mut files: Vec<Arc<Source>> = Vec::new();
        for finding in &self.list {
            if !files.iter().any(|f| Arc::ptr_eq(f, &finding.source)) {
                files.push(Arc::clone(&finding.source));
            }
        }
        let order = |f: &Finding| files.iter().position(|s| Arc::ptr_eq(s, &f.source));
        self.list.sort_by_key(|f| (order(f), f.span.start, f.span.end));
    }

    /// Keeps the first so many and says how many were left out.
    pub(crate) fn limit(&mut self, most: usize) {
        let more = self.list.len().saturating_sub(most);
        if more > 0 {
            self.list.truncate(most);
            let span = self.list.last().map_or(Span::default(), |last| last.span);
            self.error(span, format!("and {more} more mistakes from here on"));
        }
    }

    /// The value with the notes, unless an error was found.
    ///
    /// # Errors
    /// Itself, sorted, when one of the findings is an error.
    pub fn unless_errors<T>(mut self, value: Option<T>) -> Result<(T, Findings), Findings> {
        self.sort();
        match value {
            Some(value) if !self.has_errors() => Ok((value, self)),
            _ => Err(self),
        }
    }
}

impl std::fmt::Display for Findings {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.to_text(false))
    }
}

impl std::error::Error for Findings {}
