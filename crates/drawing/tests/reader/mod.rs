//! Reads a drawing back as a strict XML reader would, for the tests of this crate.

use std::collections::BTreeMap;

/// One element with its attributes, and the text that follows its start tag.
#[derive(Clone, Debug, Default)]
pub(crate) struct Element {
    pub(crate) name: String,
    pub(crate) attributes: BTreeMap<String, String>,
    pub(crate) text: String,
}

#[allow(dead_code)] // each test file reads what it needs
impl Element {
    pub(crate) fn get(&self, name: &str) -> &str {
        self.attributes.get(name).map_or("", String::as_str)
    }

    pub(crate) fn number(&self, name: &str) -> f64 {
        self.get(name).parse().unwrap_or_else(|_| panic!("{name} of {self:?} is no number"))
    }

    pub(crate) fn has_class(&self, class: &str) -> bool {
        self.get("class").split(' ').any(|c| c == class)
    }

    /// Every number in the way of a path.
    pub(crate) fn way(&self) -> Vec<f64> {
        self.get("d")
            .split(|c: char| c.is_alphabetic() || c == ' ')
            .filter(|s| !s.is_empty())
            .map(|s| s.parse().expect("a number"))
            .collect()
    }
}

/// All elements in order. Panics where the markup is not well formed, or where it carries what a
/// strict content policy or an XML reader refuses.
pub(crate) fn read(svg: &str) -> Vec<Element> {
    let mut elements: Vec<Element> = Vec::new();
    let mut open: Vec<String> = Vec::new();
    let mut rest = svg;
    while let Some(at) = rest.find('<') {
        let before = &rest[..at];
        assert!(!before.contains('>'), "stray > in {before:?}");
        if let Some(last) = elements.last_mut() {
            last.text.push_str(&unescape(before));
        }
        let end = end_of_tag(&rest[at..]) + at;
        let tag = &rest[at + 1..end];
        rest = &rest[end + 1..];
        if let Some(name) = tag.strip_prefix('/') {
            assert_eq!(open.pop().as_deref(), Some(name), "closes what is not open");
            continue;
        }
        let closed = tag.ends_with('/');
        let element = element(tag.trim_end_matches('/'));
        if !closed {
            open.push(element.name.clone());
        }
        elements.push(element);
    }
    assert!(rest.trim().is_empty(), "text after the end: {rest:?}");
    assert!(open.is_empty(), "left open: {open:?}");
    for e in &elements {
        assert!(!e.attributes.contains_key("style"), "inline style in {e:?}");
        for (name, value) in &e.attributes {
            assert!(!name.starts_with("on"), "script in {e:?}");
            if name != "aria-label" {
                assert!(!value.contains("NaN") && !value.contains("inf"), "{name}={value:?}");
            }
        }
    }
    elements
}

fn end_of_tag(tag: &str) -> usize {
    let mut quoted = false;
    tag.char_indices()
        .find(|(_, c)| {
            quoted ^= *c == '"';
            *c == '>' && !quoted
        })
        .map(|(i, _)| i)
        .expect("a tag without end")
}

fn element(tag: &str) -> Element {
    let (name, mut rest) = tag.trim().split_once(' ').unwrap_or((tag.trim(), ""));
    let mut attributes = BTreeMap::new();
    while !rest.trim().is_empty() {
        let (key, after) = rest.trim_start().split_once("=\"").expect("an attribute with a value");
        let (value, left) = after.split_once('"').expect("an attribute that ends");
        assert!(!value.contains('<'), "unescaped < in {value:?}");
        let twice = attributes.insert(key.to_owned(), unescape(value));
        assert!(twice.is_none(), "{key} twice in {tag}");
        rest = left;
    }
    Element { name: name.to_owned(), attributes, text: String::new() }
}

fn unescape(text: &str) -> String {
    for (at, _) in text.match_indices('&') {
        let known = ["&amp;", "&lt;", "&gt;", "&quot;"];
        assert!(known.iter().any(|k| text[at..].starts_with(k)), "bare & in {text:?}");
    }
    text.replace("&lt;", "<").replace("&gt;", ">").replace("&quot;", "\"").replace("&amp;", "&")
}

/// The texts of a drawing.
#[allow(dead_code)] // not every test file reads texts
pub(crate) fn texts(elements: &[Element]) -> Vec<String> {
    let texts = elements.iter().filter(|e| e.name == "text" || e.name == "tspan");
    texts.map(|e| e.text.replace('\u{202f}', " ")).filter(|t| !t.is_empty()).collect()
}
