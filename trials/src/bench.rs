//! The benchmarks as one JSON object and as a table.
//!
//! Each figure is measured where its subject is; here they are only put together.

use crate::baseline;
use anyhow::Result;
use serde_json::Value;
use std::path::Path;

/// Runs every benchmark; one object with a key for each figure.
///
/// # Errors
/// When a benchmark cannot be run.
pub fn run() -> Result<Value> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("..");
    let scratch = std::env::temp_dir().join(format!("underback-bench-{}", std::process::id()));
    std::fs::create_dir_all(&scratch)?;
    let comparison = baseline::compare(&root, &scratch);
    std::fs::remove_dir_all(&scratch)?;
    Ok(comparison?.json())
}

/// The figures one under another, those of a group behind its name.
pub fn table(figures: &Value) -> String {
    let mut text = String::new();
    rows(&mut text, "", figures);
    text
}

fn rows(text: &mut String, group: &str, figures: &Value) {
    let Some(figures) = figures.as_object() else { return };
    for (key, figure) in figures {
        let name = if group.is_empty() { key.clone() } else { format!("{group}.{key}") };
        match figure {
            Value::Object(_) => rows(text, &name, figure),
            Value::String(words) => text.push_str(&format!("{name:<28} {words}\n")),
            other => text.push_str(&format!("{name:<28} {other}\n")),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_group_stands_behind_its_name() {
        let figures = serde_json::json!({ "plan_ms": 41.5, "own": { "solver": "ours" } });
        let text = table(&figures);
        assert!(text.contains("plan_ms                      41.5"), "{text}");
        assert!(text.contains("own.solver                   ours"), "{text}");
    }
}
